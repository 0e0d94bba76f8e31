"""Where the pieces of a bottom stand: each bay and its mirror image, what bounds it, and who is beside whom.

Plan coordinates [mm]. A stand is one bay on one side of the boat: ``(bay's index, 0)``, or 1 for its image.
"""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from stringerlab.layout.found import Found
from stringerlab.layout.hollows import Array, opened, within
from stringerlab.layout.plan import Layout, Member, PlanPoint
from stringerlab.layout.plan_lines import EDGES, KEEL

Stand = tuple[int, int]
NEAR = 2.0
"""How far a thing drawn may lie from a line to be on it [mm]."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Bound:
    """A straight piece of a stand's outline, and what stands there: a member's or line's id, or an edge."""

    stand: Stand
    of: str
    span: str
    start: Array
    end: Array

    @property
    def line(self) -> Array:
        """Its ends (2, 2)."""
        return np.stack([self.start, self.end])


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Beside:
    """Two stands with no member between them, and the piece of outline they share (2, 2)."""

    one: Stand
    other: Stand
    line: Array
    across: str
    """``keel``, or the line's id."""


class Standing:
    """Every stand of a found layout."""

    def __init__(self, layout: Layout, found: Found) -> None:
        self.layout, self.found = layout, found
        self.members: dict[str, Member] = {member.id: member for member in layout.members}
        self.stands: list[Stand] = [
            (index, image) for index, bay in enumerate(found.bays) for image in range(len(bay.rings))
        ]

    @cached_property
    def bounds(self) -> dict[Stand, tuple[Bound, ...]]:
        """What bounds each stand, in the order of its bay's first ring."""
        return {stand: self._bounds(stand) for stand in self.stands}

    @cached_property
    def by_what(self) -> dict[str, list[Bound]]:
        """Bounds by what stands there."""
        found: defaultdict[str, list[Bound]] = defaultdict(list)
        for bounds in self.bounds.values():
            for bound in bounds:
                found[bound.of].append(bound)
        return found

    @cached_property
    def rings(self) -> dict[Stand, Array]:
        """Outlines, from member middle to middle."""
        return {(bay, image): opened(self.found.bays[bay].rings[image]) for bay, image in self.stands}

    @cached_property
    def _boxes(self) -> tuple[Array, Array]:
        """Least and greatest x and y of every stand (n, 2), a little wider."""
        rings = [self.rings[stand] for stand in self.stands]
        low = np.array([ring.min(axis=0) for ring in rings]).reshape(-1, 2)
        high = np.array([ring.max(axis=0) for ring in rings]).reshape(-1, 2)
        return low - NEAR, high + NEAR

    def clear(self, stand: Stand) -> Array:
        """Return a stand's clear outline, from web root to web root; empty where nothing is left."""
        bay, image = stand
        clear = self.found.bays[bay].clear
        return opened(clear[image]) if image < len(clear) else np.empty((0, 2))

    def name(self, stand: Stand) -> str:
        """Return a stand as a person knows it: its panel's name and id, and its side of the boat."""
        bay = self.found.bays[stand[0]]
        name = f"bay '{bay.panel.name}' ({bay.id})" if bay.panel and bay.panel.name else f"bay {bay.id}"
        if len(bay.rings) == 1:
            return name
        return f"{name}, {'port' if float(self.rings[stand][:, 1].mean()) > 0 else 'starboard'}"

    def at(self, point: PlanPoint) -> tuple[Stand, ...]:
        """Return the stands a point lies in; several where it is on the line between them."""
        place = np.array([point])
        low, high = self._boxes
        near = [
            self.stands[index] for index in np.flatnonzero(np.all((low <= place) & (place <= high), axis=1))
        ]
        return tuple(
            stand
            for stand in near
            if bool(within(self.rings[stand], place)[0]) or self.on(self.bounds[stand], place[0])
        )

    def on(self, bounds: Sequence[Bound], place: Array) -> tuple[Bound, ...]:
        """Return which of the bounds a place lies on."""
        if not bounds:
            return ()
        lines = np.array([(bound.start, bound.end) for bound in bounds])
        return _chosen(bounds, _distances(lines, place) <= NEAR)

    def on_member(self, member: str, place: Array) -> tuple[Bound, ...]:
        """Return which bounds made by a member a place lies on."""
        if member not in self._lines:
            return ()
        bounds = self.by_what[member]
        return tuple(
            bounds[index] for index in np.flatnonzero(_distances(self._lines[member], place) <= NEAR)
        )

    @cached_property
    def _lines(self) -> dict[str, Array]:
        return {
            of: np.array([(bound.start, bound.end) for bound in bounds])
            for of, bounds in self.by_what.items()
        }

    def is_member(self, bound: Bound) -> bool:
        """Whether a member stands there, rather than an edge, the keel or a line."""
        return bound.of in self.members

    @cached_property
    def beside(self) -> tuple[Beside, ...]:
        """Every two stands with the keel or a drawn line between them, and no member."""
        found: list[Beside] = []
        for of, bounds in self.by_what.items():
            if of in self.members or of in EDGES:
                continue
            low = np.array([bound.line.min(axis=0) for bound in bounds]) - NEAR
            high = np.array([bound.line.max(axis=0) for bound in bounds]) + NEAR
            meet = np.all((low[:, None] <= high) & (low <= high[:, None]), axis=2)
            for first, second in np.argwhere(np.triu(meet, 1)).tolist():
                one, other = bounds[first], bounds[second]
                if one.stand != other.stand and (shared := _shared(one, other)) is not None:
                    found.append(Beside(one=one.stand, other=other.stand, line=shared, across=of))
        return tuple(found)

    def rooms(self, stands: Iterable[Stand]) -> list[list[Stand]]:
        """Return stands in groups that no member parts: each open to another of its group."""
        groups: list[list[Stand]] = []
        for stand in sorted(stands):
            open_to = [
                group for group in groups if any(frozenset((stand, each)) in self._open for each in group)
            ]
            groups = [group for group in groups if group not in open_to]
            groups.append([*(each for group in open_to for each in group), stand])
        return groups

    def over_lines(self, stands: Iterable[Stand]) -> tuple[Stand, ...]:
        """Return stands with all that only drawn lines part from them, not the keel."""
        found = dict.fromkeys(stands)
        reached = list(found)
        while reached:
            stand = reached.pop()
            for beside in self.beside:
                if beside.across != KEEL and stand in (beside.one, beside.other):
                    other = beside.other if beside.one == stand else beside.one
                    if other not in found:
                        found[other] = None
                        reached.append(other)
        return tuple(found)

    @cached_property
    def _open(self) -> set[frozenset[Stand]]:
        return {frozenset((beside.one, beside.other)) for beside in self.beside}

    def between(self, stands: Iterable[Stand]) -> tuple[Bound, ...]:
        """Return the members' bounds round several stands together: not those between two of them."""
        chosen = list(stands)
        bounds = [bound for stand in chosen for bound in self.bounds[stand] if self.is_member(bound)]
        return tuple(
            bound
            for bound in bounds
            if not any(
                other.stand != bound.stand and other.of == bound.of and _shared(bound, other) is not None
                for other in bounds
            )
        )

    def _bounds(self, stand: Stand) -> tuple[Bound, ...]:
        bay, image = self.found.bays[stand[0]], stand[1]
        ring = opened(bay.rings[0])
        flip = np.array([1.0, -1.0 if image else 1.0])
        found: list[Bound] = []
        place = _corner(ring, bay.sides[0].start) if bay.sides else 0
        for side in bay.sides:
            last = place + 1
            while last < place + len(ring) and not _same(ring[last % len(ring)], side.end):
                last += 1
            path = ring[np.arange(place, last + 1) % len(ring)] * flip
            found += [
                Bound(stand=stand, of=side.of, span=side.span, start=start, end=end)
                for start, end in pairwise(path)
            ]
            place = last
        return tuple(found)


def _corner(ring: Array, point: PlanPoint) -> int:
    return int(np.argmin(np.hypot(*(ring - np.array(point)).T)))


def _same(corner: Array, point: PlanPoint) -> bool:
    return abs(corner[0] - point[0]) + abs(corner[1] - point[1]) < 1e-6


def _chosen(bounds: Sequence[Bound], mask: NDArray[np.bool_]) -> tuple[Bound, ...]:
    return tuple(bounds[index] for index in np.flatnonzero(mask).tolist())


def _distances(lines: Array, place: Array) -> Array:
    """Return how far a place lies from each of several pieces of line (n, 2, 2)."""
    start, along = lines[:, 0], lines[:, 1] - lines[:, 0]
    size = np.einsum("ij,ij->i", along, along)
    part = np.einsum("ij,ij->i", place - start, along) / np.where(size > 0, size, 1.0)
    away = start + np.clip(part, 0.0, 1.0)[:, None] * along - place
    return np.hypot(away[:, 0], away[:, 1])


def _shared(one: Bound, other: Bound) -> Array | None:
    """Return the piece of line two bounds share (2, 2); None where they share less than a point's width."""
    along = one.end - one.start
    size = float(np.hypot(*along))
    if size <= NEAR:
        return None
    along = along / size
    away = other.line - one.start
    if np.max(np.abs(away @ np.array([-along[1], along[0]]))) > NEAR:
        return None
    low, high = sorted((away @ along).tolist())
    low, high = max(low, 0.0), min(high, size)
    return None if high - low <= NEAR else one.start + np.outer([low, high], along)


__all__ = ["NEAR", "Beside", "Bound", "Stand", "Standing"]
