"""A section's stiffness, exact of its ply polygons: area and moments weighted by modulus, every ply's fibres.

y to the right, z up, from the section's origin on the shell's inboard face; N, mm, MPa, rad. Plane sections,
every ply bonded to its neighbours, uniaxial stress along the member.
"""

from dataclasses import dataclass
from itertools import compress
from math import atan2, hypot, nan

import numpy as np
from numpy.typing import NDArray

from stringerlab.errors import Problem, StringerlabError
from stringerlab.laminate.records import Moduli
from stringerlab.section.bodies import Bodies, bodies
from stringerlab.section.plies import stack_sizes, stack_strength
from stringerlab.section.records import Plating, SectionShape

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
    marks: NDArray[np.int8]
    """Rank of how well the strengths are known."""

    @property
    def z(self) -> Array:
        """(k,) the height of the fibre furthest from the neutral axis."""
        return np.where(self.z_top >= -self.z_bottom, self.z_top, self.z_bottom)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
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
    ES: float
    """First moment of E above the neutral axis, about it: what horizontal shear is reckoned with [N·mm]."""
    fibres: Fibres
    repairs: tuple[Problem, ...]
    """What was put right in the drawing and counted so."""

    def modulus(self) -> Array:
        """Return the section modulus at every fibre of ``fibres``: EI_y/(E·abs(z)) (k,) [mm³]."""
        return self.EI_y / (self.fibres.E * np.abs(self.fibres.z))


def properties(shape: SectionShape, plating: Plating | None, moduli: Moduli) -> Properties:
    """Return a section's stiffness, with a strip of plating under it or without.

    Parameters
    ----------
    shape
        The section.
    plating
        The strip counted, centred on the section's origin; None for the section alone, without any shell.
    moduli
        Which modulus of a ply counts.

    Raises
    ------
    StringerlabError
        With everything that forbids a number: see `stringerlab.section.problems`.
    """
    built = _sound(shape, plating)
    regions = built.regions
    fibres = _Plies.of(shape, plating, built, moduli)
    E = fibres.E
    about = regions.points.mean(axis=1)
    moments = regions.moments(about)
    area = moments[0]
    EA, ESy, ESz, EIyy, EIzz, EIyz = (moments @ E).tolist()
    carries = (E > 0) & (area > 0)
    if not EA > 0:
        raise StringerlabError(_nothing(shape))
    y, z = ESy / EA, ESz / EA
    EI_y, EI_z, EI_yz = EIzz - EA * z * z, EIyy - EA * y * y, EIyz - EA * y * z
    middle, radius = (EI_y + EI_z) / 2, hypot((EI_y - EI_z) / 2, EI_yz)
    y_na, z_na = y + float(about[0]), z + float(about[1])
    low, high = regions.extremes(regions.points[1] - z_na)
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
        ES=regions.first_moment_above(E, z_na),
        fibres=Fibres(
            names=tuple(compress(fibres.names, carries.tolist())),
            E=E[carries],
            z_top=high[carries],
            z_bottom=low[carries],
            tension=fibres.tension[carries],
            compression=fibres.compression[carries],
            marks=fibres.marks[carries],
        ),
        repairs=built.repairs,
    )


@dataclass(frozen=True, slots=True, eq=False)
class _Plies:
    """Numbers of every region, in the order of the regions."""

    names: list[str]
    E: Array
    tension: Array
    compression: Array
    marks: NDArray[np.int8]

    @classmethod
    def of(cls, shape: SectionShape, plating: Plating | None, built: Bodies, moduli: Moduli) -> "_Plies":
        names: list[str] = []
        E: list[Array] = []
        tension: list[Array] = []
        compression: list[Array] = []
        marks: list[NDArray[np.int8]] = []
        for stroke in built.drawing.strokes:
            if stroke.wall >= 0:
                wall = shape.walls[stroke.wall]
                stack, owner = wall.stack, wall.id
            elif plating is not None:
                stack, owner = plating.stack, "plating"
            else:
                continue
            names += [f"{owner} {label}" for label in stack_sizes(stack).labels]
            strength = stack_strength(stack, moduli)
            E.append(strength.E)
            tension.append(strength.tension)
            compression.append(strength.compression)
            marks.append(strength.marks)
        if built.fills:
            names += [f"{fill.id}: {fill.name}" for fill in built.fills]
            strengths = np.array([nan if fill.strength is None else fill.strength for fill in built.fills])
            E.append(np.array([fill.modulus for fill in built.fills], float))
            tension.append(strengths)
            compression.append(strengths)
            marks.append(np.array([fill.known.rank for fill in built.fills], np.int8))
        return cls(
            names,
            np.concatenate(E),
            np.concatenate(tension),
            np.concatenate(compression),
            np.concatenate(marks),
        )


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
    if not built.regions.count:
        raise StringerlabError(_nothing(shape))
    return built


def _nothing(shape: SectionShape) -> Problem:
    return Problem(
        "Nothing in it carries load along the member.",
        f"section '{shape.name}'",
        "Draw a wall with a reinforced ply.",
    )
