"""Limber holes of members that a row of transverses crosses, where the row is set out anew. mm along in plan.

A hole beside a transverse drains what stands against it, so it belongs to that one: it moves as far as the
transverse does, is cut again beside one more, and goes with one that goes. Beside one is nearer than a
quarter of the way to the next crossing. Where the next crossing is then too near, it stands against that one.
All other holes stay where they are.
"""

from bisect import bisect
from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from stringerlab.layout.openings import Hole, Opening
from stringerlab.layout.plan import Layout, Member
from stringerlab.layout.plan_geometry import crossings
from stringerlab.project import edits
from stringerlab.project.planning_parts import layout_of
from stringerlab.project.records import Project

_BESIDE = 0.25
"""Of the way to the next crossing."""
_CLEAR = 1.0
"""Between a hole and a crossing it stands against [mm]."""
_STAYED = 1e-9
"""A crossing that moves by less has not moved [mm]."""


def with_drains_moved(
    project: Project, before: Project, row: Sequence[Member], came: Mapping[str, str]
) -> Project:
    """Return a project in which limber holes stand beside transverses as they did.

    Parameters
    ----------
    project
        The row is set out anew.
    before
        The row stands as it was.
    row
        Its transverses as they were.
    came
        Of every transverse that now stands in the row the id, and the id of the old one it takes after.
    """
    old = layout_of(before, row[0].id)
    new = next(one for one in project.layouts if one.id == old.id)
    now = project
    for member in old.members:
        if member.id in came or not _drained(member):
            continue
        fresh = _moved(member, old, new, {one.id for one in row}, came)
        if fresh != member.openings:
            now = edits.replaced(now, replace(member, openings=fresh))
    return now


def _drained(member: Member) -> bool:
    return any(one.kind is Hole.LIMBER for one in member.openings)


def _moved(
    member: Member, old: Layout, new: Layout, row: set[str], came: Mapping[str, str]
) -> tuple[Opening, ...]:
    """Return a member's openings beside the transverses as they now stand."""
    was, others = _crossed(member, old, row), _crossed(member, old, None)
    now = _crossed(member, new, set(came))
    stayed = {id_ for id_, place in now.items() if abs(place - was.get(id_, np.inf)) <= _STAYED}
    if set(was) == stayed and set(now) == stayed:
        return member.openings
    places = sorted({0.0, *others.values(), _length(member)})
    held: list[Opening] = []
    beside: dict[str, list[Opening]] = {}
    for one in member.openings:
        own = _own(one, was, places)
        if own is None:
            held.append(one)
        else:
            beside.setdefault(own, []).append(one)
    crossed = sorted({0.0, *_crossed(member, new, None).values(), _length(member)})
    for id_, place in now.items():
        like = id_ if id_ in was else came[id_]
        held += [
            one if id_ in stayed else _beside(one, place, one.x - was[like], crossed)
            for one in beside.get(like, ())
        ]
    return tuple(sorted(held, key=lambda one: one.x))


def _beside(opening: Opening, place: float, by: float, crossed: Sequence[float]) -> Opening:
    """Return an opening so far beside a transverse's place, or as far as the next crossing lets it."""
    half = opening.width / 2 + _CLEAR
    x = place + by
    if by > 0:
        x = min(x, min((one for one in crossed if one > place), default=x + half) - half)
    else:
        x = max(x, max((one for one in crossed if one < place), default=x - half) + half)
    return replace(opening, x=round(max(x, 0.0), 6))


def _own(opening: Opening, was: Mapping[str, float], places: Sequence[float]) -> str | None:
    """Return the transverse of the row that an opening belongs to; None for another's, or none's."""
    if opening.kind is not Hole.LIMBER:
        return None
    after = bisect(places, opening.x)
    if not 0 < after < len(places):
        return None
    low, high = places[after - 1], places[after]
    near = low if opening.x - low <= high - opening.x else high
    if abs(opening.x - near) > _BESIDE * (high - low):
        return None
    return next((id_ for id_, place in was.items() if place == near), None)


def _crossed(member: Member, layout: Layout, some: set[str] | None) -> dict[str, float]:
    """Return where other members of a layout, or some of them, cross a member, by their ids."""
    found = {
        one.id: crossings(member, [np.array(one.points, float)])
        for one in layout.members
        if one.id != member.id and (some is None or one.id in some)
    }
    return {id_: places[0] for id_, places in found.items() if places}


def _length(member: Member) -> float:
    return float(np.hypot(*np.diff(np.array(member.points, float), axis=0).T).sum())
