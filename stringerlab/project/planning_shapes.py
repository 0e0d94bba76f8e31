"""Edits of members as lines in plan: split, trimmed, extended, joined, spaced. Pure, whole or not at all.

What lies along a member, stretches and openings, stays where it is on the boat. An end is 0 for the first
point, 1 for the last.
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from math import copysign, inf

from stringerlab.errors import Problem, StringerlabError
from stringerlab.geometry.construct import nearest
from stringerlab.layout import plan_geometry
from stringerlab.layout.openings import Opening
from stringerlab.layout.plan import Member, MemberKind, PlanPoint, Stretch
from stringerlab.project.edits import added, removed, replaced
from stringerlab.project.finding import found_in
from stringerlab.project.layout_ids import mark_renamed
from stringerlab.project.marking import reconciled
from stringerlab.project.planning_lines import (
    Line,
    across,
    along_of,
    barriers,
    drawn_as,
    edges,
    fitted,
    length,
    settled,
)
from stringerlab.project.planning_parts import layout_of, member_of, numbered, renumbered
from stringerlab.project.records import Project

_SHORTEST = 1.0
"""Nothing shorter is left of a member [mm]."""
_OFF_EDGE = 1.0
"""What is repeated to the bottom's end stays so far off it: on the edge it would stiffen nothing [mm]."""
_MOST = 200
"""Members set in one step."""


def split(project: Project, id: str, at: PlanPoint | None = None) -> Project:  # noqa: A002
    """Return the project with a member parted at its place nearest to a point; at all its crossings without.

    Raises
    ------
    StringerlabError
        When there is no such member, the place is its end, or nothing crosses it.
    """
    member = member_of(project, id)
    if at is None:
        layout = layout_of(project, id)
        others = [each.id for each in layout.members if each.id != id]
        cuts = [line for other in others for line in drawn_as(layout, other)]
    else:
        along = along_of(member.points, at)
        if not _SHORTEST <= along <= length(member.points) - _SHORTEST:
            raise _refusal(member, "It is not parted at its end.", "Choose a place between its ends.")
        cuts = [across(member.points, along)]
    parts = plan_geometry.split(member, cuts, str)
    if len(parts) < 2:
        raise _refusal(member, "No member crosses it.", "Choose the place to part it at.")
    return _in_parts(project, member, parts)


def trimmed(project: Project, id: str, at: PlanPoint) -> Project:  # noqa: A002
    """Return the project without the piece of a member round a point, from what it meets to what it meets.

    A piece between two crossings parts the member.

    Raises
    ------
    StringerlabError
        When there is no such member, or it meets nothing it could be trimmed at.
    """
    member = member_of(project, id)
    layout = layout_of(project, id)
    whole, along = length(member.points), along_of(member.points, at)
    met = [
        place
        for place in plan_geometry.crossings(member, barriers(layout, project.craft, member.id))
        if _SHORTEST < place < whole - _SHORTEST
    ]
    low = max((place for place in met if place <= along), default=0.0)
    high = min((place for place in met if place > along), default=whole)
    if low == 0.0 and high == whole:
        raise _refusal(member, "It crosses nothing it could be trimmed at.", "Remove it, or move its point.")
    cuts = [across(member.points, place) for place in (low, high) if 0.0 < place < whole]
    parts = plan_geometry.split(member, cuts, str)
    gone = 0 if low == 0.0 else 1
    return _in_parts(project, member, [part for number, part in enumerate(parts) if number != gone])


def extended(project: Project, id: str, end: int, to: str = "") -> Project:  # noqa: A002
    """Return the project with an end of a member carried on to what it next meets.

    Parameters
    ----------
    project
        The project.
    id
        The member.
    end
        0 for its first point, 1 for its last.
    to
        Id of the member or line to carry it on to; empty for whatever comes first, the bottom's edges too.

    Raises
    ------
    StringerlabError
        When there is no such member, or nothing lies beyond that end.
    """
    member = member_of(project, id)
    layout = layout_of(project, id)
    others = drawn_as(layout, to) if to else barriers(layout, project.craft, member.id)
    if to and not others:
        raise StringerlabError(Problem(f"There is no member or line '{to}' in the layout.", "project"))
    return _with(project, plan_geometry.extended(member, end, others))


def joined(project: Project, one: str, other: str) -> Project:
    """Return the project with two members made one, by their ends that are nearest; the first's values stay.

    Raises
    ------
    StringerlabError
        When there are no such members, or they stand on different sides or in different layouts.
    """
    first, second = member_of(project, one), member_of(project, other)
    if first.id == second.id or first.hand is not second.hand or first.kind is not second.kind:
        raise _refusal(first, f"It cannot be joined with '{second.name}' ({other}).", "Join two alike.")
    if layout_of(project, one).id != layout_of(project, other).id:
        raise _refusal(first, f"'{second.name}' ({other}) is of another layout.", "Join two of one layout.")
    gaps = {(a, b): length((first.points[-a], second.points[-b])) for a in (0, 1) for b in (0, 1)}
    near = min(gaps, key=lambda pair: gaps[pair])
    second = second if near[1] == 0 else _reversed(second)
    if near[0] == 0:
        second = _reversed(second)
        aft, forward = second, first
    else:
        aft, forward = first, second
    whole = _joined(aft, forward)
    kept = replace(
        first,
        points=whole.points,
        section=whole.section,
        stretches=whole.stretches,
        openings=whole.openings,
        ends=whole.ends,
    )
    layout = layout_of(project, one)
    marks = tuple(
        mark_renamed(mark, {other: one}, mark.id) if mark.member == other else mark for mark in layout.spans
    )
    grown = removed(replaced(replaced(project, replace(layout, spans=marks)), kept), other)
    return reconciled(grown, layout.id, before=project)


def spaced_between(project: Project, first: str, second: str, count: int) -> Project:
    """Return the project with so many members like the first set evenly between two.

    Raises
    ------
    StringerlabError
        When there are no such members, or the count is none or too many.
    """
    one, other = member_of(project, first), member_of(project, second)
    _refuse_count(one, count)
    return _set_out(project, one, plan_geometry.between(one, other, count))


def spaced_every(
    project: Project,
    id: str,  # noqa: A002
    pitch: float,
    count: int | None = None,
    until: float | None = None,
) -> Project:
    """Return the project with members like one set at a pitch from it.

    Parameters
    ----------
    project
        The project.
    id
        The member to start from.
    pitch
        Forward for transverses and bulkheads, to port for longitudinals; backwards when negative [mm].
    count
        How many; as many as fit before ``until`` when it is left out.
    until
        x, or y of a longitudinal, not to go beyond [mm]; short of the bottom's end or of the chine when
        left out.

    Raises
    ------
    StringerlabError
        When there is no such member, the pitch is none, or nothing or too much would come of it.
    """
    member = member_of(project, id)
    if not pitch:
        raise _refusal(member, "A pitch of nothing sets all on one place.", "Give a pitch.")
    lengthwise = member.kind is MemberKind.LONGITUDINAL
    axis = 1 if lengthwise else 0
    start = sum(point[axis] for point in member.points) / len(member.points)
    if count is None:
        limit = until if until is not None else _limit(project, axis, pitch) - copysign(_OFF_EDGE, pitch)
        count = int((limit - start) / pitch + 1e-9)
    _refuse_count(member, count)
    way = (0.0, pitch) if lengthwise else (pitch, 0.0)
    lines = plan_geometry.every(member, abs(pitch), count=count, way=way)
    return _set_out(project, member, lines)


# -- pieces --------------------------------------------------------------------------------------


def _with(project: Project, member: Member) -> Project:
    return reconciled(replaced(project, member), layout_of(project, member.id).id, before=project)


def _in_parts(project: Project, member: Member, parts: Iterable[Member]) -> Project:
    """Return the project with a member's parts in its place: the first is it, the others are new."""
    layout = layout_of(project, member.id)
    first, *others = parts
    grown = replaced(project, replace(first, id=member.id, name=member.name))
    ids = [member.id]
    for part in others:
        names = [one.name for one in layout_of(grown, layout.id).members]
        grown = added(grown, replace(part, name=numbered(member.name, names)), to=layout.id)
        ids.append(layout_of(grown, layout.id).members[-1].id)
    lines = [first.points, *(part.points for part in others)]
    of: dict[str, str] = {}
    for span in found_in(project, layout).spans:
        if span.member == member.id:
            x, y = span.lines[0][[0, -1]].mean(axis=0).tolist()
            of[span.id] = min(zip(lines, ids, strict=True), key=lambda one: _away(one[0], (x, y)))[1]
    marks = tuple(
        mark_renamed(mark, {member.id: of[mark.id]}, mark.id) if mark.id in of else mark
        for mark in layout.spans
    )
    grown = replaced(grown, replace(layout_of(grown, layout.id), spans=marks))
    return reconciled(grown, layout.id, before=project)


def _away(points: Line, at: PlanPoint) -> float:
    """Return how far a place lies from a line, on whichever side of the boat it was drawn."""
    found = [nearest(points, (at[0], side * at[1])) for side in (1, -1)]
    return min((one.distance for one in found if one is not None), default=inf)


def _reversed(member: Member) -> Member:
    """Return a member drawn the other way."""
    whole = length(member.points)
    sections = [member.section, *(each.section for each in member.stretches)]
    starts = [each.start for each in member.stretches]
    return replace(
        member,
        points=member.points[::-1],
        section=sections[-1],
        stretches=tuple(
            replace(each, start=_round(whole - start), section=section)
            for each, start, section in zip(
                reversed(member.stretches), reversed(starts), reversed(sections[:-1]), strict=True
            )
        ),
        openings=tuple(replace(hole, x=_round(whole - hole.x)) for hole in reversed(member.openings)),
        ends=member.ends[::-1],
        tapers=member.tapers[::-1],
    )


def _joined(aft: Member, forward: Member) -> Member:
    gap = length((aft.points[-1], forward.points[0]))
    points = (*aft.points, *(forward.points if gap > _SHORTEST else forward.points[1:]))
    by = length(points) - length(forward.points)
    stretches: list[Stretch] = [*aft.stretches]
    last = stretches[-1].section if stretches else aft.section
    if forward.section != last:
        stretches.append(Stretch(start=_round(by), section=forward.section))
    stretches += [replace(each, start=_round(each.start + by)) for each in forward.stretches]
    openings: tuple[Opening, ...] = (
        *aft.openings,
        *(replace(hole, x=_round(hole.x + by)) for hole in forward.openings),
    )
    return replace(
        aft,
        points=points,
        stretches=tuple(stretches),
        openings=openings,
        ends=(aft.ends[0], forward.ends[1]),
        tapers=(aft.tapers[0], forward.tapers[1]),
    )


def _set_out(project: Project, like: Member, lines: Sequence[Line]) -> Project:
    layout = layout_of(project, like.id)
    grown = project
    for line in lines:
        points = tuple(settled(at) for at in fitted(line, like.points, project.craft))
        fresh = renumbered(layout_of(grown, layout.id), replace(like, points=points))
        grown = added(grown, fresh, to=layout.id)
    return reconciled(grown, layout.id, before=project)


def _limit(project: Project, axis: int, pitch: float) -> float:
    found = [float(point[axis]) for edge in edges(project.craft) for point in edge]
    return (max(found) if pitch > 0 else min(found)) if found else 0.0


def _refuse_count(member: Member, count: int) -> None:
    if not 1 <= count <= _MOST:
        raise _refusal(
            member, f"That sets {count} members more; 1 to {_MOST} are set at once.", "Choose another pitch."
        )


def _refusal(member: Member, what: str, remedy: str) -> StringerlabError:
    return StringerlabError(Problem(what, f"member '{member.name}' ({member.id})", remedy))


def _round(along: float) -> float:
    return round(along, 6) + 0.0
