"""Drawn transverses set out anew: as many as are wanted, evenly between the first and the last. mm in plan.

First and last stay as they are. Each between takes after the nearest of the old ones: its section, ends,
openings and side; the old ones' ids stay with the new ones in their order, as many as there are. Limber holes
of the members they cross go with them: see `drains`.
"""

from dataclasses import replace

from stringerlab.layout import plan_geometry
from stringerlab.layout.plan import Member
from stringerlab.project import edits
from stringerlab.project.marking import reconciled
from stringerlab.project.planning_lines import Line, fitted, settled
from stringerlab.project.planning_parts import layout_of, member_of, renumbered
from stringerlab.project.records import Project
from stringerlab.sizing.changing.drains import with_drains_moved

PLACED = 0.05
"""A member this near to where it is wanted is there [mm]."""


def in_order(project: Project, members: tuple[str, ...]) -> tuple[Member, ...]:
    """Return members from aft forward."""
    return tuple(sorted((member_of(project, one) for one in members), key=lambda one: (middle(one), one.id)))


def middle(member: Member) -> float:
    """Return where along the boat a member stands: the mean of its points' x."""
    return sum(x for x, _ in member.points) / len(member.points)


def evenly(project: Project, members: tuple[str, ...]) -> bool:
    """Return whether members stand where they would be set out."""
    held = in_order(project, members)
    if len(held) < 3:
        return True
    gap = (middle(held[-1]) - middle(held[0])) / (len(held) - 1)
    return all(abs(middle(one) - middle(held[0]) - k * gap) <= PLACED for k, one in enumerate(held))


def set_out(project: Project, members: tuple[str, ...], count: int) -> Project:
    """Return the project with so many transverses, first and last among them, in place of some.

    Raises
    ------
    StringerlabError
        When there is no such member.
    """
    held = in_order(project, members)
    if count == len(held) and evenly(project, members):
        return project
    layout = layout_of(project, held[0].id)
    first, *inner, last = held
    lines = plan_geometry.between(first, last, count - 2) if count > 2 else []
    kept = _kept([middle(one) for one in inner], [_place(line) for line in lines])
    now = project
    came = {first.id: first.id, last.id: last.id}
    for number, line in enumerate(lines):
        place = _place(line)
        like = min(held, key=lambda one: (abs(middle(one) - place), middle(one)))
        points = _points(project, line, first, like)
        number_kept = kept[number]
        if number_kept is None:
            fresh = renumbered(layout_of(now, layout.id), replace(like, points=points))
            now = edits.added(now, fresh, to=layout.id)
            came[layout_of(now, first.id).members[-1].id] = like.id
        else:
            old = inner[number_kept]
            came[old.id] = old.id
            there = abs(middle(old) - place) <= PLACED
            made = old if there else replace(like, id=old.id, name=old.name, points=points)
            now = now if made == old else edits.replaced(now, made)
    for number, old in enumerate(inner):
        if number not in kept:
            now = edits.removed(now, old.id)
    now = with_drains_moved(now, project, held, came)
    return reconciled(now, layout.id, before=project)


def _points(project: Project, line: Line, first: Member, like: Member) -> Line:
    """Return where a transverse is drawn: on the line, its ends on the chine where those of its like lie."""
    on = fitted(fitted(line, first.points, project.craft), like.points, project.craft)
    return tuple(settled(at) for at in on)


def _place(line: Line) -> float:
    return sum(x for x, _ in line) / len(line)


def _kept(old: list[float], new: list[float]) -> list[int | None]:
    """Return which old one each new one is, in their order and as near as can be; None for one more."""
    fewer, more = (old, new) if len(old) <= len(new) else (new, old)
    # the least sum of distances that pairs all of the fewer with some of the more, in order
    best: list[list[tuple[float, tuple[int, ...]]]] = [[(0.0, ())] * (len(more) + 1)]
    for i, one in enumerate(fewer, start=1):
        row: list[tuple[float, tuple[int, ...]]] = [(float("inf"), ())]
        for j, other in enumerate(more, start=1):
            taken = best[i - 1][j - 1]
            with_it = (taken[0] + abs(one - other), (*taken[1], j - 1))
            row.append(min(row[j - 1], with_it, key=lambda each: each[0]))
        best.append(row)
    pairs = best[-1][-1][1]
    found: list[int | None] = [None] * len(new)
    for i, j in enumerate(pairs):
        if fewer is old:
            found[j] = i
        else:
            found[i] = j
    return found
