"""Where middle lines of thin walls are joined: faces that touch, a bead between them, ends on ends. N, mm."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Points = NDArray[np.complex128]

STATION = 25.0
"""Longest piece of a middle line [mm]."""
TOUCH = 0.02
"""Part of their distance, and mm, by which faces may miss one another and still touch."""


@dataclass(frozen=True, kw_only=True, eq=False)
class Middle:
    """A wall's middle line: v vertices, what it carries, and stations along it."""

    owner: str
    points: Points
    below: float
    above: float
    """From the middle line to both faces."""
    G: float
    Gt: float
    Et: float
    strip: float
    closed: bool
    on_bead: bool
    """Whether it is the shell's, on which others stand on a bead."""

    @cached_property
    def way(self) -> Points:
        """(v − 1,) from each vertex to the next."""
        return np.diff(self.points)

    @cached_property
    def length(self) -> Array:
        """(v − 1,) of the pieces between vertices."""
        return np.abs(self.way)

    @cached_property
    def along(self) -> Array:
        """(v,) where along the line its vertices are."""
        return np.concatenate([[0.0], np.cumsum(self.length)])

    @cached_property
    def stations(self) -> Array:
        """(s,) where along the line its vertices are, and stations between them."""
        pieces = np.ceil(self.length / STATION).astype(np.intp)
        owner = np.repeat(np.arange(len(pieces)), pieces)
        part = (np.arange(len(owner)) - np.repeat(np.cumsum(pieces) - pieces, pieces)) / pieces[owner]
        return np.append(self.along[:-1][owner] + part * self.length[owner], self.along[-1])

    @cached_property
    def here(self) -> Points:
        """(s,) the stations' places."""
        return self.at(self.stations)

    @cached_property
    def tangent(self) -> Points:
        """(s,) the line's way at its stations, of size 1."""
        found = np.gradient(self.here) if len(self.here) > 1 else self.way[:1]
        return found / np.abs(found)

    @cached_property
    def spans(self) -> Array:
        """(s,) the length that each station stands for."""
        between = np.diff(self.stations) / 2
        return np.concatenate([[0.0], between]) + np.concatenate([between, [0.0]])

    @cached_property
    def box(self) -> tuple[float, float, float, float]:
        """Least y and z, greatest y and z, of its faces."""
        y, z, out = self.points.real, self.points.imag, max(self.below, self.above)
        return float(y.min()) - out, float(z.min()) - out, float(y.max()) + out, float(z.max()) + out

    def at(self, along: Array) -> Points:
        """Return the places so far along the line."""
        found = np.interp(along, self.along, self.points.real) + 1j * np.interp(
            along, self.along, self.points.imag
        )
        return np.asarray(found, np.complex128)

    def to_face(self, side: Array) -> Array:
        """Return how far the face is on the left (side > 0) or the right."""
        return np.where(side > 0, self.above, self.below)


@dataclass(frozen=True, slots=True, eq=False)
class Joints:
    """k links, each from a place on one line to a place on another."""

    lines: NDArray[np.intp]
    """(k, 2)"""
    along: Array
    """(k, 2)"""
    stiffness: Array
    """(k,) G × width of what joins them."""


def joints(middles: Sequence[Middle], bead: float, bead_G: float) -> Joints:
    """Return every joint between lines; the bead's thickness is 0 where there is none."""
    found: list[tuple[int, int, Array, Array, Array]] = []
    for a, one in enumerate(middles):
        for b, other in enumerate(middles):
            if a != b and _near(one, other, bead):
                found.append((a, b, *_contacts(one, other, bead, bead_G)))
    if not found:
        return Joints(np.zeros((0, 2), np.intp), np.zeros((0, 2)), np.zeros(0))
    return Joints(
        np.repeat([[a, b] for a, b, *_ in found], [len(each[2]) for each in found], axis=0),
        np.concatenate([np.stack([here, there], axis=1) for _, _, here, there, _ in found]),
        np.concatenate([each[4] for each in found]),
    )


def _near(one: Middle, other: Middle, bead: float) -> bool:
    low_y, low_z, high_y, high_z = one.box
    least_y, least_z, most_y, most_z = other.box
    gap = bead + 1.0 + TOUCH * (one.below + one.above + other.below + other.above)
    return (
        low_y <= most_y + gap
        and least_y <= high_y + gap
        and low_z <= most_z + gap
        and least_z <= high_z + gap
    )


def _contacts(one: Middle, other: Middle, bead: float, bead_G: float) -> tuple[Array, Array, Array]:
    """Return links (where along, where along the other, G × width) from stations of one line.

    A station on the run of a wall is linked where faces touch, an end also where it stands on the other.
    """
    here, length = one.here, other.length
    local = (here[:, None] - other.points[:-1]) * (other.way.conj() / length)
    foot = np.minimum(np.maximum(local.real, 0.0), length)
    off = local - foot
    distance = np.abs(off)
    near = distance.argmin(axis=1)
    row = np.arange(len(here))
    gap = distance[row, near]
    across = -off[row, near] * (other.way / length)[near]
    # Of the wall the station is on only what points at the other wall reaches towards it.
    turned = (across * one.tangent.conj()).imag
    part = np.divide(np.abs(turned), gap, out=np.zeros(len(here)), where=gap > 0)
    faces = one.to_face(turned) * part + other.to_face(local.imag[row, near])
    touching = gap <= faces * (1 + TOUCH) + TOUCH
    if bead and (one.on_bead or other.on_bead):
        touching |= gap - faces - bead <= TOUCH * faces + TOUCH  # a bead fills less than its thickness too
    on_other = other.along[near] + foot[row, near]
    if not other.closed:  # an end of the other that stands on this run is linked from there, once
        run = (row > 0) & (row < len(here) - 1) if not one.closed else np.ones(len(here), bool)
        touching &= ~(run & ((on_other <= 0) | (on_other >= other.along[-1])))
    at = np.flatnonzero(touching)
    width = one.spans[at]
    if not one.closed:
        ends = (at == 0) | (at == len(here) - 1)
        width = np.where(ends, np.maximum(width, one.below + one.above), width)
    G, apart = min(one.G, other.G), gap[at]
    soft = np.maximum(apart - faces[at], 0.0) if bead else np.zeros(len(at))
    flexible = soft / bead_G + (apart - soft) / G
    mean = np.divide(apart, flexible, out=np.full(len(at), G), where=apart > 0)
    return one.stations[at], on_other[at], mean * width
