"""Edits of members' plan lines: trimmed, extended, split, spaced, snapped, mirrored. Pure; x, y in mm.

What is measured along a member (stretches, openings) stays where it lies on the bottom when its first point
moves; what lies beyond a new end is left out.
"""

from collections.abc import Callable, Sequence
from dataclasses import replace
from itertools import pairwise

import numpy as np

from stringerlab.errors import Problem, StringerlabError
from stringerlab.geometry.graph import SNAP, Array, floats
from stringerlab.layout.network import ALMOST
from stringerlab.layout.openings import LandsOn
from stringerlab.layout.plan import Hand, Member, PlanPoint


def crossings(member: Member, lines: Sequence[Array]) -> list[float]:
    """Return where along a member, from its first point in plan, polylines (n, 2) cross or touch it [mm]."""
    points = np.array(member.points, float)
    run = _run(points)
    found: list[float] = []
    for line in lines:
        for c, d in pairwise(np.asarray(line, float)):
            for k, (a, b) in enumerate(pairwise(points)):
                met = _met(a, b, c, d)
                if met is not None:
                    found.append(float(run[k]) + met * float(np.hypot(*(b - a))))
    apart: list[float] = []
    for place in sorted(found):
        if not apart or place - apart[-1] > SNAP:
            apart.append(place)
    return apart


def trimmed(member: Member, end: int, lines: Sequence[Array]) -> Member:
    """Return a member cut back at its first end (0) or its last (1) to the nearest line that crosses it.

    Raises
    ------
    StringerlabError
        When none crosses it.
    """
    whole = _length(member)
    places = [at for at in crossings(member, lines) if SNAP < at < whole - SNAP]
    if not places:
        raise _none(member, "Nothing crosses it to trim it to.", "Pick a line that crosses it.")
    return _part(member, places[0], whole) if end == 0 else _part(member, 0.0, places[-1])


def extended(member: Member, end: int, lines: Sequence[Array]) -> Member:
    """Return a member carried on straight at its first end (0) or last (1) to the first line it meets.

    Raises
    ------
    StringerlabError
        When it meets none.
    """
    points = np.array(member.points, float)
    tip, before = (points[0], points[1]) if end == 0 else (points[-1], points[-2])
    way = (tip - before) / np.hypot(*(tip - before))
    far = tip + 1e6 * way
    reach = [
        met * 1e6
        for line in lines
        for c, d in pairwise(np.asarray(line, float))
        if (met := _met(tip, far, c, d)) is not None and met * 1e6 > SNAP
    ]
    if not reach:
        raise _none(member, "It meets nothing when carried on.", "Pick a line that lies ahead of its end.")
    more = min(reach)
    return _with_end(member, end, _place(tip + more * way), more if end == 0 else 0.0)


def split(member: Member, lines: Sequence[Array], new_id: Callable[[], str]) -> tuple[Member, ...]:
    """Return a member parted where lines cross it; the first part keeps its id, each part lands as drawn."""
    whole = _length(member)
    places = [0.0, *(at for at in crossings(member, lines) if SNAP < at < whole - SNAP), whole]
    parts: list[Member] = []
    for number, (start, stop) in enumerate(pairwise(places), 1):
        part = _part(member, start, stop)
        if number > 1:
            part = replace(part, id=new_id(), name=f"{member.name}, part {number}")
        parts.append(part)
    return tuple(parts)


def between(one: Member, other: Member, count: int) -> list[tuple[PlanPoint, ...]]:
    """Return the plan lines of members evenly spaced between two: each as far along it as the two are."""
    a, b = np.array(one.points, float), np.array(other.points, float)
    if one.hand is Hand.PAIR and other.hand is Hand.PAIR and a[:, 1].sum() * b[:, 1].sum() < 0:
        b = b * (1, -1)
    if _apart(a, b[::-1]) < _apart(a, b):
        b = b[::-1]
    parts = np.union1d(_run(a) / _run(a)[-1], _run(b) / _run(b)[-1])
    one_line, other_line = _at(a, parts * _run(a)[-1]), _at(b, parts * _run(b)[-1])
    shares = [number / (count + 1) for number in range(1, count + 1)]
    return [_points(one_line + share * (other_line - one_line)) for share in shares]


def every(member: Member, pitch: float, *, count: int, way: PlanPoint) -> list[tuple[PlanPoint, ...]]:
    """Return the plan lines of ``count`` copies of a member, each a pitch farther along a way.

    Raises
    ------
    StringerlabError
        When the pitch or the way is nothing.
    """
    size = float(np.hypot(*way))
    if pitch <= SNAP or size == 0:
        raise _none(member, f"A pitch of {pitch:g} mm leads nowhere.", "Give a pitch above 0.5 mm and a way.")
    step = np.array(way, float) / size * pitch
    points = np.array(member.points, float)
    return [_points(points + number * step) for number in range(1, count + 1)]


def snapped(member: Member, lines: Sequence[Array], reach: float = ALMOST) -> Member:
    """Return a member with each end within reach of a line moved onto the nearest; others are left alone."""
    for end in (0, 1):
        tip = np.array(member.points[0 if end == 0 else -1], float)
        feet = [foot for line in lines for foot in _feet(tip, np.asarray(line, float))]
        if not feet:
            continue
        nearest = min(feet, key=lambda foot: float(np.hypot(*(foot - tip))))
        if np.hypot(*(nearest - tip)) <= reach:
            before = _length(member)
            moved = _with_end(member, end, _place(nearest), 0.0)
            member = _shifted(moved, _length(moved) - before) if end == 0 else moved
    return member


def mirrored(member: Member) -> Member:
    """Return a member at its mirror image in the centreline: port becomes starboard, its sections stay."""
    hand = {Hand.PORT: Hand.STARBOARD, Hand.STARBOARD: Hand.PORT}.get(member.hand, member.hand)
    return replace(member, points=tuple((x, -y) for x, y in member.points), hand=hand)


def _part(member: Member, start: float, stop: float) -> Member:
    """Return what of a member lies between two places along it."""
    points = np.array(member.points, float)
    run = _run(points)
    inner = run[(run > start + SNAP) & (run < stop - SNAP)]
    places = np.concatenate([[start], inner, [stop]])
    first = member.ends[0] if start <= SNAP else LandsOn.AS_END
    last = member.ends[1] if stop >= run[-1] - SNAP else LandsOn.AS_END
    tapers = (member.tapers[0] if start <= SNAP else 0.0, member.tapers[1] if stop >= run[-1] - SNAP else 0.0)
    kept = replace(member, points=_points(_at(points, places)), ends=(first, last), tapers=tapers)
    kept = replace(kept, openings=tuple(one for one in kept.openings if start <= one.x < stop))
    return _shifted(_begun(kept, start, stop), -start)


def _begun(member: Member, start: float, stop: float) -> Member:
    """Return a member with the section of its new first point, and the stretches between its ends."""
    section = member.section
    for stretch in sorted(member.stretches, key=lambda each: each.start):
        if stretch.start <= start + SNAP:
            section = stretch.section
    inner = tuple(one for one in member.stretches if start + SNAP < one.start < stop - SNAP)
    return replace(member, section=section, stretches=inner)


def _shifted(member: Member, by: float) -> Member:
    """Return a member with what is measured along it moved on."""
    if by == 0:
        return member
    return replace(
        member,
        stretches=tuple(replace(one, start=max(one.start + by, 0.0)) for one in member.stretches),
        openings=tuple(replace(one, x=max(one.x + by, 0.0)) for one in member.openings),
    )


def _with_end(member: Member, end: int, at: PlanPoint, by: float) -> Member:
    points = (at, *member.points[1:]) if end == 0 else (*member.points[:-1], at)
    return _shifted(replace(member, points=points), by)


def _met(a: Array, b: Array, c: Array, d: Array) -> float | None:
    """Return which part of the way from a to b it meets c to d; None when it does not, or runs along it."""
    u, v, w = b - a, d - c, c - a
    turn = float(u[0] * v[1] - u[1] * v[0])
    if abs(turn) <= 1e-12 * float(np.hypot(*u) * np.hypot(*v)):
        return None
    s, t = float(w[0] * v[1] - w[1] * v[0]) / turn, float(w[0] * u[1] - w[1] * u[0]) / turn
    near, close = SNAP / float(np.hypot(*u)), SNAP / float(np.hypot(*v))
    if not (-near <= s <= 1 + near and -close <= t <= 1 + close):
        return None
    return min(max(s, 0.0), 1.0)


def _feet(at: Array, line: Array) -> list[Array]:
    """Return the nearest point of every leg of a line."""
    feet: list[Array] = []
    for c, d in pairwise(line):
        way = d - c
        size = float(way @ way)
        part = min(max(float((at - c) @ way) / size, 0.0), 1.0) if size else 0.0
        feet.append(c + part * way)
    return feet


def _run(points: Array) -> Array:
    return np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(points, axis=0).T))])


def _length(member: Member) -> float:
    return float(_run(np.array(member.points, float))[-1])


def _at(points: Array, places: Array) -> Array:
    """Return the points at places along a line."""
    run = _run(points)
    return np.stack([np.interp(places, run, points[:, 0]), np.interp(places, run, points[:, 1])], axis=1)


def _apart(a: Array, b: Array) -> float:
    return float(np.hypot(*(a[0] - b[0])) + np.hypot(*(a[-1] - b[-1])))


def _place(at: Array) -> PlanPoint:
    x, y = floats(at)
    return x, y


def _points(points: Array) -> tuple[PlanPoint, ...]:
    return tuple(_place(each) for each in points)


def _none(member: Member, what: str, remedy: str) -> StringerlabError:
    return StringerlabError(Problem(what, f"member '{member.name}' ({member.id})", remedy))
