"""What a design changes, gathered first and then done at once. Numbers as typed: mm, kn, kg.

Gathering makes the answer one and the same whatever the order of the variables: a hat whose height and
laminate both change is drawn once, for both.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from stringerlab.laminate.records import Ply
from stringerlab.project import edits, planning
from stringerlab.project.measuring import with_plies_renumbered
from stringerlab.project.records import Project
from stringerlab.sizing.changing.redrawn import redrawn
from stringerlab.sizing.changing.transverses import set_out


@dataclass(frozen=True, slots=True)
class Run:
    """A run of plies alike in a laminate, first and past its last from 0, that becomes so many layers."""

    first: int
    stop: int
    layers: int


@dataclass(slots=True)
class Changes:
    """What is to be changed, by what it belongs to."""

    hats: dict[str, dict[str, float]] = field(default_factory=dict[str, dict[str, float]])
    """By section: parameters of its hats, by field name."""
    beads: dict[str, float] = field(default_factory=dict[str, float])
    """By section."""
    runs: dict[str, list[Run]] = field(default_factory=dict[str, list[Run]])
    """By laminate."""
    plies: dict[str, tuple[int, int, tuple[Ply, ...]]] = field(
        default_factory=dict[str, tuple[int, int, tuple[Ply, ...]]]
    )
    """By laminate: the plies that give way, first and past the last from 0, and those in their place."""
    craft: dict[str, Any] = field(default_factory=dict[str, Any])
    """By field name."""
    subjects: dict[str, dict[str, Any]] = field(default_factory=dict[str, dict[str, Any]])
    """By id of a panel or span given by hand: fields by name."""
    moves: dict[str, float] = field(default_factory=dict[str, float])
    """By member: how far it moves to port as drawn."""
    transverses: list[tuple[tuple[str, ...], int]] = field(default_factory=list[tuple[tuple[str, ...], int]])
    """Members, and how many they become."""


def changed(project: Project, changes: Changes) -> Project:
    """Return the project with everything changed; the very same where nothing was to be.

    Raises
    ------
    StringerlabError
        When it cannot be drawn so: every problem of the sections, or the first of the layout.
    """
    now = project
    for laminate, runs in changes.runs.items():
        now = _repeated(now, laminate, runs)
    for laminate, (first, stop, plies) in changes.plies.items():
        now = _exchanged(now, laminate, first, stop, plies)
    for section in project.sections:
        bead = changes.beads.get(section.id, section.bead)
        if bead != section.bead:
            now = edits.replaced(now, replace(section, bead=bead))
    if now is not project or changes.hats:
        now = redrawn(project, now, changes.hats)
    if changes.craft:
        now = edits.with_craft(now, replace(now.craft, **changes.craft))
    for record in (*project.panels, *project.spans):
        values = changes.subjects.get(record.id)
        if values:
            now = edits.replaced(now, replace(record, **values))
    for by in dict.fromkeys(changes.moves.values()):
        if by:
            now = planning.moved(now, [one for one, dy in changes.moves.items() if dy == by], 0.0, by)
    for members, count in changes.transverses:
        now = set_out(now, members, count)
    return now


def _repeated(project: Project, laminate: str, runs: Sequence[Run]) -> Project:
    record = next(one for one in project.laminates if one.id == laminate)
    came: list[int | None] = []
    stop = 0
    for run in sorted(runs, key=lambda one: one.first):
        came += range(stop, run.first)
        held = run.stop - run.first
        came += [run.first + min(number, held - 1) for number in range(run.layers)]
        stop = run.stop
    came += range(stop, len(record.plies))
    plies = tuple(record.plies[number] for number in came if number is not None)
    if plies == record.plies:
        return project
    return with_plies_renumbered(edits.replaced(project, replace(record, plies=plies)), laminate, came)


def _exchanged(project: Project, laminate: str, first: int, stop: int, plies: tuple[Ply, ...]) -> Project:
    record = next(one for one in project.laminates if one.id == laminate)
    if record.plies[first:stop] == plies:
        return project
    whole = (*record.plies[:first], *plies, *record.plies[stop:])
    came = (*range(first), *[None] * len(plies), *range(stop, len(record.plies)))
    return with_plies_renumbered(edits.replaced(project, replace(record, plies=whole)), laminate, came)
