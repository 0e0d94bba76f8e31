"""Where each member section is trimmed: how far round from edge to edge, flange by flange. mm."""

from dataclasses import dataclass

import numpy as np

from stringerlab.assess import section_facts
from stringerlab.assess.sections import sound_shape
from stringerlab.errors import StringerlabError
from stringerlab.geometry.chords import as_pairs
from stringerlab.layout.plan import MemberKind
from stringerlab.project import Project, Resolved
from stringerlab.project.section_shapes import drawn_deadrise
from stringerlab.report.shop.members import in_use, runs_of
from stringerlab.section import Section, SectionShape
from stringerlab.section.bodies import bodies


@dataclass(frozen=True, slots=True, kw_only=True)
class TrimmedWall:
    """A wall from one trim line to the other, measured on its tool surface."""

    name: str
    laminate: str
    girth: float
    """Round every fillet [mm]."""
    edges: tuple[tuple[float, float], tuple[float, float]]
    """Where its two trim lines lie (y, z) in the section's own axes; equal for a closed wall."""
    closed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Trim:
    """The trim lines of one section in use."""

    section: Section
    shape: SectionShape
    walls: tuple[TrimmedWall, ...]
    flanges: tuple[float, ...]
    """Width bonded to the hull of every flange, left first."""
    crown_width: float
    """nan where there is no crown."""
    web_depth: float
    girth: float
    """Of all its walls."""
    seen: str
    """Which way it is looked at, and what is on the right."""


def trims(project: Project, resolved: Resolved) -> tuple[tuple[Trim, ...], tuple[str, ...]]:
    """Return the trim lines of every section in use, and what is wrong with those that have none."""
    found: list[Trim] = []
    left_out: list[str] = []
    for section in in_use(project):
        try:
            found.append(_trim(project, resolved, section))
        except StringerlabError as error:
            left_out += [f"section '{section.name}': {problem.what}" for problem in error.problems]
    return tuple(found), tuple(left_out)


def _trim(project: Project, resolved: Resolved, section: Section) -> Trim:
    shape, slope = sound_shape(resolved, section), drawn_deadrise(section)
    measured = section_facts(shape, slope)
    names = {laminate.id: laminate.name for laminate in project.laminates}
    drawn = bodies(shape, deadrise=slope).drawing
    walls: list[TrimmedWall] = []
    for index, stroke in enumerate(drawn.strokes):
        if drawn.lines is None or stroke.wall < 0:
            continue
        wall = section.walls[stroke.wall]
        line = as_pairs(drawn.lines.points[drawn.lines.part(index)])
        first, last = (float(line[0, 0]), float(line[0, 1])), (float(line[-1, 0]), float(line[-1, 1]))
        walls.append(
            TrimmedWall(
                name=wall.name or f"wall {wall.id}",
                laminate=names.get(wall.laminate, wall.laminate),
                girth=float(np.hypot(*np.diff(line, axis=0).T).sum()),
                edges=(first, last),
                closed=wall.closed,
            )
        )
    return Trim(
        section=section,
        shape=shape,
        walls=tuple(walls),
        flanges=tuple(end - start for start, end in sorted(measured.bonded)),
        crown_width=measured.crown_width,
        web_depth=measured.web_depth,
        girth=measured.girth,
        seen=_seen(project, section),
    )


def _seen(project: Project, section: Section) -> str:
    """Return how a section is looked at: aft in a longitudinal, to starboard in what runs across."""
    kinds = {
        run.member.kind is MemberKind.LONGITUDINAL
        for run in runs_of(project)
        if run.section.id == section.id and run.member is not None
    }
    if kinds == {True}:
        return "Looking aft, port on the right"
    return "Looking to starboard, aft on the right" if kinds == {False} else "As drawn"
