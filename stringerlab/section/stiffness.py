"""A section's stiffness, exact of its ply polygons: area and moments weighted by modulus, every ply's fibres.

y to the right, z up, from the section's origin on the shell's inboard face; N, mm, MPa, rad. Plane sections,
every ply bonded to its neighbours, uniaxial stress along the member. A wall lying on the hull counts for the
share of its moduli that is bonded to it; with none of it bonded it is mass, and no ply of it is a fibre.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from functools import cached_property, lru_cache
from itertools import accumulate, compress
from math import atan2, hypot, nan

import numpy as np
from numpy.typing import NDArray

from stringerlab.errors import Problem, StringerlabError
from stringerlab.laminate import part_of_weaker
from stringerlab.laminate.records import Moduli, Stack
from stringerlab.section.bodies import KEPT, Bodies, bodies
from stringerlab.section.parts import Part
from stringerlab.section.plies import stack_sizes, stack_strength
from stringerlab.section.records import FillShape, Plating, SectionShape

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Fibres:
    """Every ply or fill that carries load along the member, k in all; heights from the neutral axis, up."""

    names: tuple[str, ...]
    """Wall and ply, plating and ply, or fill."""
    E: Array
    """MPa."""
    z_top: Array
    z_bottom: Array
    """Highest and lowest point of what is left of the ply."""
    tension: Array
    """Strength along the member, positive; nan when missing."""
    compression: Array
    factor: Array
    """Of the weaker of both: as carried over as resolved; 1 where nothing is made of strengths."""
    marks: NDArray[np.int8]
    """Rank of how well the strengths are known."""

    @property
    def z(self) -> Array:
        """(k,) the height of the fibre furthest from the neutral axis."""
        return np.where(self.z_top >= -self.z_bottom, self.z_top, self.z_bottom)


@dataclass(frozen=True, kw_only=True, eq=False)
class Properties:
    """What a section is worth along the member. EI_y bends in the vertical plane, about the horizontal axis.

    With a sloping shell EI_yz is not 0: EI_y then supposes that the hull holds the member to that plane.
    """

    moduli: Moduli
    area: float
    """Of all that carries load [mm²]."""
    EA: float
    y_na: float
    z_na: float
    """Neutral point from the section's origin."""
    EI_y: float
    EI_z: float
    EI_yz: float
    """About the axes through the neutral point: ∫E z², ∫E y², ∫E y z."""
    EI_1: float
    EI_2: float
    """Greatest and least."""
    principal_angle: float
    """From the y axis to the axis of ``EI_1``, within ±π/2."""
    fibres: Fibres
    repairs: tuple[Problem, ...]
    """What was put right in the drawing and counted so."""
    parts: tuple[tuple[Part, Array], ...] = field(repr=False)
    """The regions, and the modulus of each."""

    @cached_property
    def ES(self) -> float:
        """First moment of E above the neutral axis, about it: horizontal shear is reckoned with it [N·mm]."""
        z = self.z_na
        reaching = [(part, E) for part, E in self.parts if part.heights[1].max() > z]
        return sum(part.regions.first_moment_above(E, z) for part, E in reaching)

    def modulus(self) -> Array:
        """Return the section modulus at every fibre of ``fibres``: EI_y/(E·abs(z)) (k,) [mm³]."""
        return self.EI_y / (self.fibres.E * np.abs(self.fibres.z))


def properties(
    shape: SectionShape,
    plating: Plating | None,
    moduli: Moduli,
    judged: Callable[[Stack], Stack] | None = None,
) -> Properties:
    """Return a section's stiffness, with a strip of plating under it or without.

    Parameters
    ----------
    shape
        The section.
    plating
        The strip counted, centred on the section's origin; None for the section alone, without any shell.
    moduli
        Which modulus of a ply counts.
    judged
        A laminate with its strengths as the fibres are to carry them; as resolved by default.

    Raises
    ------
    StringerlabError
        With everything that forbids a number: see `stringerlab.section.problems`.
    """
    built = _sound(shape, plating)
    fibres = _Plies.of(shape, plating, built, moduli, judged)
    E, area, heights = fibres.E, built.area, [part.heights for part in built.parts]
    about, weights = built.parts[0].about, _split(E, built.parts)
    EA, ESy, ESz, EIyy, EIzz, EIyz = map(
        sum, zip(*(_moved(*pair, about) for pair in zip(built.parts, weights, strict=True)), strict=True)
    )
    carries = (E > 0) & (area > 0)
    if not EA > 0:
        raise StringerlabError(_nothing(shape))
    y, z = ESy / EA, ESz / EA
    EI_y, EI_z, EI_yz = EIzz - EA * z * z, EIyy - EA * y * y, EIyz - EA * y * z
    middle, radius = (EI_y + EI_z) / 2, hypot((EI_y - EI_z) / 2, EI_yz)
    y_na, z_na = y + about[0], z + about[1]
    low, high = (np.concatenate(ends) - z_na for ends in zip(*heights, strict=True))
    return Properties(
        moduli=moduli,
        area=float(area[carries].sum()),
        EA=EA,
        y_na=y_na,
        z_na=z_na,
        EI_y=EI_y,
        EI_z=EI_z,
        EI_yz=EI_yz,
        EI_1=middle + radius,
        EI_2=middle - radius,
        principal_angle=atan2(-2 * EI_yz, EI_y - EI_z) / 2,
        fibres=fibres.carrying(carries, low, high),
        repairs=built.repairs,
        parts=tuple(zip(built.parts, weights, strict=True)),
    )


def _moved(part: Part, weights: Array, about: tuple[float, float]) -> tuple[float, ...]:
    """Return the weighted sums of a part's moments about another point."""
    A, Sy, Sz, Iyy, Izz, Iyz = (part.moments @ weights).tolist()
    y, z = part.about[0] - about[0], part.about[1] - about[1]
    return (
        A,
        Sy + A * y,
        Sz + A * z,
        Iyy + (2 * Sy + A * y) * y,
        Izz + (2 * Sz + A * z) * z,
        Iyz + Sy * z + Sz * y + A * y * z,
    )


def _split(values: Array, parts: Sequence[Part]) -> list[Array]:
    """Return what belongs to each part's regions."""
    counts = [len(part.moments[0]) for part in parts]
    return [values[end - count : end] for end, count in zip(accumulate(counts), counts, strict=True)]


@dataclass(frozen=True, slots=True, eq=False)
class _Plies:
    """Numbers of every region, in the order of the regions."""

    names: tuple[str, ...]
    E: Array
    """As counted: of a wall that counts in part, that part."""
    own: Array
    """As it is: what a ply's stress comes of, where it counts in part too."""
    tension: Array
    compression: Array
    factor: Array
    marks: NDArray[np.int8]

    def carrying(self, carries: NDArray[np.bool_], low: Array, high: Array) -> Fibres:
        """Return those that carry, with their heights; what is remembered is shared where all do."""
        every = bool(carries.all())
        kept = slice(None) if every else carries
        return Fibres(
            names=self.names if every else tuple(compress(self.names, carries.tolist())),
            E=self.own[kept],
            z_top=high[kept],
            z_bottom=low[kept],
            tension=self.tension[kept],
            compression=self.compression[kept],
            factor=self.factor[kept],
            marks=self.marks[kept],
        )

    @classmethod
    def of(
        cls,
        shape: SectionShape,
        plating: Plating | None,
        built: Bodies,
        moduli: Moduli,
        judged: Callable[[Stack], Stack] | None = None,
    ) -> "_Plies":
        walls = (shape.walls[stroke.wall] for stroke in built.walls.strokes)
        owners = tuple((wall.id, wall.stack, wall.counted) for wall in walls)
        if plating is not None:
            owners += (("plating", plating.stack, 1.0),)
        return _plies(owners, built.fills, moduli, judged)


@lru_cache(KEPT)
def _plies(
    owners: tuple[tuple[str, Stack, float], ...],
    fills: tuple[FillShape, ...],
    moduli: Moduli,
    judged: Callable[[Stack], Stack] | None,
) -> _Plies:
    """Return the numbers of plies and fills; of a wall that counts in part, that part of its moduli."""
    names = [f"{owner} {label}" for owner, stack, _ in owners for label in stack_sizes(stack).labels]
    resolved = [stack_strength(stack, moduli) for _, stack, _ in owners]
    strengths = (
        resolved if judged is None else [stack_strength(judged(stack), moduli) for _, stack, _ in owners]
    )
    shares = [counted for _, _, counted in owners]
    names += [f"{fill.id}: {fill.name}" for fill in fills]
    of_fills = np.array([nan if fill.strength is None else fill.strength for fill in fills], float)
    own = np.concatenate([*(each.E for each in strengths), np.array([fill.modulus for fill in fills], float)])
    counts = [len(each.E) for each in strengths]
    share = np.concatenate([np.repeat(shares, counts), np.ones(len(fills))])
    found = _Plies(
        tuple(names),
        own * share,
        own,
        np.concatenate([*(each.tension for each in strengths), of_fills]),
        np.concatenate([*(each.compression for each in strengths), of_fills]),
        np.concatenate(
            [
                *(
                    part_of_weaker(each.tension, each.compression, before.tension, before.compression)
                    for each, before in zip(strengths, resolved, strict=True)
                ),
                np.ones(len(fills)),
            ]
        ),
        np.concatenate(
            [*(each.marks for each in strengths), np.array([fill.known.rank for fill in fills], np.int8)]
        ),
    )
    for shared in (found.E, found.own, found.tension, found.compression, found.factor, found.marks):
        shared.flags.writeable = False
    return found


def weighted(shape: SectionShape, plating: Plating | None, moduli: Moduli) -> tuple[Bodies, Array]:
    """Return a section's regions with each one's modulus [MPa], 0 where it carries nothing.

    Raises
    ------
    StringerlabError
        As `properties` does.
    """
    built = _sound(shape, plating)
    return built, _Plies.of(shape, plating, built, moduli).E


def _sound(shape: SectionShape, plating: Plating | None) -> Bodies:
    built = bodies(shape, plating)
    if built.faults:
        raise StringerlabError(built.faults)
    if not len(built.area):
        raise StringerlabError(_nothing(shape))
    return built


def _nothing(shape: SectionShape) -> Problem:
    return Problem(
        "Nothing in it carries load along the member.",
        f"section '{shape.name}'",
        "Draw a wall with a reinforced ply.",
    )
