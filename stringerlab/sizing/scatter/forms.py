"""A section over the thickness of its laminates: stiffness and fibres on plating, sizes. N, mm, MPa.

Walls grow from their drawn line. Where one would grow into the shell the section stands higher by as much;
where one grows into another both keep their plies, as if the lap were declared. Fills that carry load give
way to walls as the program cuts them.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from stringerlab.errors import StringerlabError
from stringerlab.laminate import Moduli
from stringerlab.section import Facts, facts
from stringerlab.section.bodies import bodies
from stringerlab.section.contact import CONTACT
from stringerlab.section.records import SectionShape
from stringerlab.sizing.scatter.laid import Laid
from stringerlab.sizing.scatter.sizes import Sizes, sizes_of, thicker_whole
from stringerlab.sizing.scatter.walls import WallForm, wall_forms
from stringerlab.workings import Array

_TABLE = (
    0.6,
    0.7,
    0.8,
    0.85,
    0.9,
    0.925,
    0.95,
    0.975,
    1.0,
    1.025,
    1.05,
    1.075,
    1.1,
    1.15,
    1.2,
    1.3,
    1.4,
    1.5,
    1.6,
    1.8,
)
"""Parts of a wall's thickness at which what it takes of fills is worked out: near the drawn one densely."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FillForm:
    """A fill that carries load: (5,) ∫dA, ∫z dA, ∫z² dA, lowest and highest z; what walls change of them."""

    modulus: float
    strength: float
    nominal: Array
    changes: tuple[Array, ...]
    """Of each wall (parts, 5)."""

    def at(self, parts: Sequence[Array]) -> Array:
        """Return (n, 5) at parts (n,) of every wall's thickness."""
        found = np.tile(self.nominal, (len(parts[0]), 1))
        for change, part in zip(self.changes, parts, strict=True):
            if change.any():
                for place, column in enumerate(change.T):
                    found[:, place] += np.interp(part, _TABLE, column)
        return found


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SectionForm:
    """A section as drawn on a shell of a slope."""

    shape: SectionShape
    deadrise: float
    facts: Facts
    walls: tuple[WallForm, ...]
    fills: tuple[FillForm, ...]
    sizes: Sizes
    cut: bool
    """Whether walls are cut as drawn: its numbers are then none of ours."""
    error: float
    """Greatest error of polynomials and sizes measured, as a part of each."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Standing:
    """n samples of a section's walls, before any plating counts."""

    EA: Array
    ES: Array
    EI: Array
    """About the section's origin."""
    E: Array
    low: Array
    high: Array
    tension: Array
    compression: Array
    """(n, f) of every ply and fill that carries, walls first; fills as from ``fills`` on."""
    fills: int
    lift: Array
    """(n,) by how much it stands higher, square to the shell."""
    folded: NDArray[np.bool_]


def section_form(shape: SectionShape, deadrise: float) -> SectionForm:
    """Return a section over the thickness of its laminates.

    Raises
    ------
    StringerlabError
        With everything that forbids a number of it.
    """
    known = facts(shape, deadrise)
    built = bodies(shape, deadrise=deadrise)
    sizes, off = sizes_of(shape, deadrise, known)
    walls = wall_forms(shape, deadrise)
    return SectionForm(
        shape=shape,
        deadrise=deadrise,
        facts=known,
        walls=walls,
        fills=_fills(shape, deadrise),
        sizes=sizes,
        cut=built.cut is not None and bool(built.cut.walls),
        error=max(off, *(wall.error for wall in walls)),
    )


def standing(form: SectionForm, laid: Sequence[Laid], moduli: Moduli) -> Standing:
    """Return n samples of a section's walls and fills.

    Parameters
    ----------
    form
        The section.
    laid
        n samples of the laminate of every wall.
    moduli
        Which modulus of a ply counts.
    """
    count = len(laid[0].t)
    sums = np.zeros((3, count))
    columns: list[tuple[Array, Array, Array, Array, Array]] = []
    depth, folded = np.full(count, -np.inf), np.zeros(count, bool)
    nominal = -math.inf
    for wall, drawn, of in zip(form.walls, form.shape.walls, laid, strict=True):
        own = of.moduli(moduli)
        for total, moments in zip(sums, wall.moments(of.levels), strict=True):
            total += drawn.counted * (own * moments).sum(axis=1)
        depth = np.maximum(depth, wall.depth(of.levels[:, -1]))
        nominal = max(nominal, float(wall.depth(np.array([wall.thick]))[0]))
        folded |= of.levels[:, -1] > wall.folds
        if drawn.counted > 0:
            low, high = wall.heights(of.levels)
            carries = of.reinforced
            columns.append((own[:, carries], low[:, carries], high[:, carries], *_kept(of, carries)))
    ahead = sum(column[0].shape[1] for column in columns)
    parts = [of.levels[:, -1] / wall.thick for wall, of in zip(form.walls, laid, strict=True)]
    for fill in form.fills:
        of_fill, same = fill.at(parts), np.ones((count, 1))
        sums += fill.modulus * of_fill[:, :3].T
        strength = fill.strength * same
        columns.append((fill.modulus * same, of_fill[:, 3:4], of_fill[:, 4:5], strength, strength))
    square = np.maximum(depth - max(nominal, CONTACT), 0.0)
    lift = square * math.cos(form.deadrise)
    EA, ES, EI = sums
    E, low, high, tension, compression = (np.concatenate(each, axis=1) for each in zip(*columns, strict=True))
    return Standing(
        EA=EA,
        ES=ES + EA * lift,
        EI=EI + 2 * ES * lift + EA * lift**2,
        E=E,
        low=low + lift[:, None],
        high=high + lift[:, None],
        tension=tension,
        compression=compression,
        fills=ahead,
        lift=square,
        folded=folded,
    )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Stiff:
    """n samples of a section on its strip: stiffness and fibres in the order of the program's own."""

    EI: Array
    E: Array
    z: Array
    tension: Array
    compression: Array


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Bedded:
    """n samples of a section on plating, whatever the width that counts of it."""

    stands: Standing
    slope: float
    strip: tuple[Array, Array, Array, Array]
    """(n,) of a strip a millimetre wide: Σ E t, Σ E ∫z, Σ E ∫z², and Σ E t over 12."""
    E: Array
    low: Array
    high: Array
    tension: Array
    compression: Array
    """(n, f) of all fibres, heights in the middle of the strip."""
    of_strip: slice

    def counted(self, width: Array) -> Stiff:
        """Return the section with so much of its plating (n,)."""
        c, s = math.cos(self.slope), math.sin(self.slope)
        Et, first, second, along = self.strip
        EA = self.stands.EA + width * Et
        z = (self.stands.ES + width * c * first) / EA
        EI = self.stands.EI + width * (c * c * second + width**2 * s * s * along) - EA * z**2
        low, high = self.low - z[:, None], self.high - z[:, None]
        if s:
            rise = (abs(s) * width / 2)[:, None]
            low[:, self.of_strip] -= rise
            high[:, self.of_strip] += rise
        return Stiff(
            EI=EI,
            E=self.E,
            z=np.where(high >= -low, high, low),
            tension=self.tension,
            compression=self.compression,
        )


def bedded(stands: Standing, plating: Laid, slope: float, moduli: Moduli) -> Bedded:
    """Return n samples of a section on plating of a slope [rad]."""
    E, carries, c = plating.moduli(moduli), plating.reinforced, math.cos(slope)
    levels = c * (plating.levels - plating.levels[:, -1:])
    t, first, second = ((E * each).sum(axis=1) for each in plating.moments)
    tension, compression = _kept(plating, carries)
    at = stands.fills

    def between(walls: Array, strip: Array) -> Array:
        return np.concatenate([walls[:, :at], strip, walls[:, at:]], axis=1)

    return Bedded(
        stands=stands,
        slope=slope,
        strip=(t, first, second, t / 12),
        E=between(stands.E, E[:, carries]),
        low=between(stands.low, levels[:, :-1][:, carries]),
        high=between(stands.high, levels[:, 1:][:, carries]),
        tension=between(stands.tension, tension),
        compression=between(stands.compression, compression),
        of_strip=slice(at, at + int(carries.sum())),
    )


def _kept(of: Laid, carries: NDArray[np.bool_]) -> tuple[Array, Array]:
    tension, compression = of.direct
    return tension[:, carries], compression[:, carries]


def _fills(shape: SectionShape, deadrise: float) -> tuple[FillForm, ...]:
    if not any(fill.modulus > 0 for fill in shape.fills):
        return ()
    built = bodies(shape, deadrise=deadrise)
    nominal = _of_fills(shape, deadrise)
    changes: list[Array] = []
    for place in range(len(shape.walls)):
        rows: list[Array] = []
        for part in _TABLE:
            parts = [1.0] * len(shape.walls)
            parts[place] = part
            try:
                rows.append(_of_fills(thicker_whole(shape, parts), deadrise) - nominal)
            except StringerlabError:
                rows.append(np.zeros_like(nominal))
        changes.append(np.stack(rows))
    return tuple(
        FillForm(
            modulus=fill.modulus,
            strength=math.nan if fill.strength is None else fill.strength,
            nominal=nominal[place],
            changes=tuple(change[:, place] for change in changes),
        )
        for place, fill in enumerate(built.fills)
        if fill.modulus > 0
    )


def _of_fills(shape: SectionShape, deadrise: float) -> Array:
    """Return (fills, 5) of a section: ∫dA, ∫z dA, ∫z² dA, lowest and highest z.

    Raises
    ------
    StringerlabError
        Where nothing of one is left.
    """
    laps = tuple(
        (one.id, other.id) for place, one in enumerate(shape.walls) for other in shape.walls[place + 1 :]
    )
    built = bodies(replace(shape, laps=laps), deadrise=deadrise)
    if built.faults:
        raise StringerlabError(built.faults)
    (part,) = built.parts
    A, _, S, _, second, _ = part.moments[:, -len(built.fills) :]
    z = part.about[1]
    low, high = (each[-len(built.fills) :] for each in part.heights)
    return np.stack([A, S + A * z, second + 2 * S * z + A * z * z, low, high], axis=1)
