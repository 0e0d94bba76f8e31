"""Which beam carries what of the bottom: each piece of a bay goes to its nearest side, by yield lines.

What goes to chine, transom, forward edge or a bulkhead goes to the hull and is tallied. What goes to the keel
or a drawn line that is no member is carried along it to the members it ends on, as by a simple beam. Places
on the unfolded bottom [mm].
"""

from dataclasses import dataclass
from typing import Any

import numpy as np
from scipy import sparse

from stringerlab.assess.grid.pieces import COARSE, FINE, Pieces, pieces_of
from stringerlab.assess.grid.records import Array, Beams, Ground, Index, Tally, unfolded_each
from stringerlab.assess.grid.sides import LABELS, LINES, MEMBERS, Sides, sides_of
from stringerlab.craft import Bottom

PARTS, FEW_PARTS = 4, 2
"""Equal parts of a beam. The forces on each act at two stations of it, in sum and first moment the same, so
that shear and moment where parts meet are exact."""
_GAUSS = 0.5 - 0.5 / 3**0.5
"""Where in a part its first station stands, and from its end the second: as uniform loads would have it."""
_TIED = 1e-6
"""Squares of distances, of themselves, and places, of a beam's part, that differ by no more are the same."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Shares:
    """Pieces of the bottom, c of them, and to which of k stations of the beams their forces go."""

    pieces: Pieces
    beam: Index
    """(k,) of stations."""
    along: Array
    """(k,)."""
    to: Any
    """(k, c) sparse: parts of a piece's force that go to stations; what is missing goes to the hull."""
    tally: Tally


def shares_of(ground: Ground, bottom: Bottom, beams: Beams, *, coarse: bool = False) -> Shares:
    """Return the pieces of the bottom, and the beams' stations that carry them.

    Parameters
    ----------
    ground, bottom
        The layout, and the hull's bottom.
    beams
        The grid.
    coarse
        Fewer pieces and stations, for dragging.
    """
    rings = unfolded_each(bottom, [ring for bay in ground.found.bays for ring in bay.rings])
    pieces = pieces_of(rings, COARSE if coarse else FINE)
    parts, m = FEW_PARTS if coarse else PARTS, len(beams.span)
    within = (np.arange(parts)[:, None] + (_GAUSS, 1 - _GAUSS)).ravel() / parts
    stations = m * len(within)
    if rings:
        sides = sides_of(bottom, beams, rings)
        pieces = pieces if coarse else _cut(pieces, sides)
        near = _nearest_of(pieces, sides).near
        shared = _shared(pieces, near, sides)
        to = _to_stations(shared, parts, stations, len(pieces.area))
        tally = _tally(pieces, near, sides, shared)
    else:
        to, tally = sparse.csr_matrix((stations, 0)), Tally(beams=0.0, hull={}, total=0.0)
    return Shares(
        pieces=pieces,
        beam=np.repeat(np.arange(m), len(within)),
        along=np.tile(within, m),
        to=to,
        tally=tally,
    )


@dataclass(frozen=True, slots=True, eq=False)
class _Shared:
    """Parts of pieces that go to beams."""

    piece: Index
    beam: Index
    along: Array
    part: Array


@dataclass(frozen=True, slots=True, eq=False)
class _Nearest:
    """Pieces' nearest sides; a piece as near to two is there twice, a half to each."""

    piece: Index
    side: Index
    foot: Array
    """Where on the side (0 to 1)."""
    part: Array


def _cut(pieces: Pieces, sides: Sides) -> Pieces:
    """Return the pieces with those quartered, and quartered again, of which not all is nearest to one side.

    A subject's patch ends where its share of a bay does: coarse pieces there would carry some of a member's
    load to its neighbour, always to the unsafe side.
    """
    kept: list[Index] = []
    at, area, half, ring = pieces.at, pieces.area, pieces.half, pieces.ring
    order = np.arange(len(area))
    made: list[tuple[Array, Array, Array, Index]] = []
    for _ in range(CUTS):
        here = Pieces(at=at, area=area, half=half, ring=ring, bounds=pieces.bounds)
        lead = _nearest_of(here, sides).lead
        # a quarter's middle is half of half a piece's size away: either distance changes by that at the most
        doubt = lead <= np.hypot(*half.T)
        kept.append(order[~doubt])
        made.append((at[~doubt], area[~doubt], half[~doubt], ring[~doubt]))
        order, ring = np.repeat(order[doubt], 4), np.repeat(ring[doubt], 4)
        half = np.repeat(half[doubt] / 2, 4, axis=0)
        at = np.repeat(at[doubt], 4, axis=0) + np.tile(_QUARTERS, (int(doubt.sum()), 1)) * half
        area = np.repeat(area[doubt] / 4, 4)
    made.append((at, area, half, ring))
    sorted_ = np.argsort(np.concatenate([*kept, order]), kind="stable")
    at, area, half, ring = (np.concatenate(each)[sorted_] for each in zip(*made, strict=True))
    return Pieces(at=at, area=area, half=half, ring=ring, bounds=pieces.bounds)


CUTS = 2
"""How often pieces are quartered where yield lines cross them."""
_QUARTERS = np.array([(-1, -1), (1, -1), (-1, 1), (1, 1)], float)


@dataclass(frozen=True, slots=True, eq=False)
class _Led:
    near: _Nearest
    lead: Array
    """By how much the second nearest side is farther than the nearest [mm]."""


def _nearest_of(pieces: Pieces, sides: Sides) -> _Led:
    """Return the sides of their bays nearest to pieces' middles."""
    count = len(pieces.ring)
    at_once = max(_AT_ONCE // max(sides.real.shape[1], 1), 1)
    each = [_two_nearest(pieces, sides, slice(k, k + at_once)) for k in range(0, max(count, 1), at_once)]
    (best, second), (least, next_least), (foot, next_foot) = (
        np.concatenate(arrays, axis=1) for arrays in zip(*each, strict=True)
    )
    tied = np.flatnonzero(next_least <= least * (1 + _TIED))
    part = np.ones(count)
    part[tied] /= 2
    near = _Nearest(
        np.concatenate([np.arange(count), tied]),
        np.concatenate([best, second[tied]]),
        np.concatenate([foot, next_foot[tied]]),
        np.concatenate([part, part[tied]]),
    )
    return _Led(near, np.sqrt(next_least) - np.sqrt(least))


_AT_ONCE = 2_000_000
"""Pairs of pieces and sides that are looked at at once: it bounds the memory that takes."""


def _two_nearest(pieces: Pieces, sides: Sides, which: slice) -> tuple[Index, Array, Array]:
    """Return the two nearest sides (2, k) of some pieces, their distances squared, and where on them."""
    ring = pieces.ring[which]
    x, y = np.ascontiguousarray(pieces.at[which].T)
    a, step = sides.edges[:, :, 0], sides.edges[:, :, 1] - sides.edges[:, :, 0]
    long = np.maximum((step * step).sum(axis=2), 1e-12)
    each = np.stack([a[..., 0], a[..., 1], step[..., 0], step[..., 1], long])
    side, gone, foot = (
        np.zeros((2, len(ring)), np.intp),
        np.full((2, len(ring)), np.inf),
        np.zeros((2, len(ring))),
    )
    for number in range(sides.real.shape[1]):
        a_x, a_y, way_x, way_y, square = each[:, :, number][:, ring]
        off_x, off_y = x - a_x, y - a_y
        t = np.clip((off_x * way_x + off_y * way_y) / square, 0, 1)
        off_x -= t * way_x
        off_y -= t * way_y
        here = np.where(sides.real[ring, number], off_x * off_x + off_y * off_y, np.inf)
        first = here < gone[0]
        second = ~first & (here < gone[1])
        for held, new in ((side, number), (gone, here), (foot, t)):
            held[1] = np.where(first, held[0], np.where(second, new, held[1]))
            held[0] = np.where(first, new, held[0])
    return side, gone, foot


def _shared(pieces: Pieces, near: _Nearest, sides: Sides) -> _Shared:
    ring = pieces.ring[near.piece]
    label, beam, along = (
        sides.label[ring, near.side],
        sides.beam[ring, near.side],
        sides.along[ring, near.side],
    )
    own, line = np.flatnonzero(label == MEMBERS), np.flatnonzero(label == LINES)
    at = along[own, 0] + near.foot[own] * (along[own, 1] - along[own, 0])
    found = [(near.piece[own], beam[own, 0], at, near.part[own])]
    for end, part in ((0, 1 - near.foot), (1, near.foot)):
        kept = line[beam[line, end] >= 0]
        found.append((near.piece[kept], beam[kept, end], along[kept, end], (near.part * part)[kept]))
    piece, beams, places, parts = (np.concatenate(each) for each in zip(*found, strict=True))
    return _Shared(piece, beams, np.clip(places, 0, 1), parts)


def _to_stations(shared: _Shared, parts: int, stations: int, pieces: int) -> Any:
    place = shared.along * parts
    number = np.minimum(np.floor(place).astype(np.intp), parts - 1)
    low, high = np.abs(place - number) < _TIED, np.abs(place - number - 1) < _TIED
    before, after = np.flatnonzero(low & (number > 0)), np.flatnonzero(high & (number < parts - 1))
    half = np.ones(len(place))
    half[before], half[after] = 0.5, 0.5  # where two parts meet: a half to each
    every = np.concatenate([np.arange(len(place)), before, after])
    number = np.concatenate([number, number[before] - 1, number[after] + 1])
    up = (place[every] - number - _GAUSS) / (1 - 2 * _GAUSS)
    row = 2 * (shared.beam[every] * parts + number)
    part, piece = (shared.part * half)[every], shared.piece[every]
    return sparse.csr_matrix(
        (np.concatenate([part * (1 - up), part * up]), (np.concatenate([row, row + 1]), np.tile(piece, 2))),
        shape=(stations, pieces),
    )


def _tally(pieces: Pieces, near: _Nearest, sides: Sides, shared: _Shared) -> Tally:
    label = sides.label[pieces.ring[near.piece], near.side]
    carried = np.bincount(shared.piece, weights=shared.part, minlength=len(pieces.area))
    went = np.bincount(label, weights=near.part * pieces.area[near.piece], minlength=len(LABELS))
    members = float(pieces.area @ carried)
    went[LINES] -= members - went[MEMBERS]
    return Tally(
        beams=members,
        hull={
            name: float(went[row])
            for row, name in enumerate(LABELS)
            if row != MEMBERS and went[row] > 1e-9 * pieces.area.sum()
        },
        total=float(pieces.area.sum()),
    )
