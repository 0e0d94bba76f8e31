"""A section's numbers with their names, meanings and groups: one list for every reader."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import nan, pi

import numpy as np

from stringerlab.assess.live import Live
from stringerlab.assess.torsion import Torsional
from stringerlab.section import Facts, Properties
from stringerlab.units import Kind, own_unit, unit_named

_PER_M = own_unit(Kind.MASS_PER_LENGTH).factor * unit_named("kg/m").factor
_UNEVEN = 1e-4
"""Part of a section's size below which a shear centre's place is 0."""
_M2_PER_M = unit_named("m²/m").factor


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """A number a person reads: ``value`` in the program's unit of ``kind``, nan where there is none."""

    key: str
    """Stands for the number whatever it is called: ``EI_y``."""
    group: str
    name: str
    meaning: str
    value: float
    kind: Kind
    detail: str = ""
    """Where it is, such as the ply it holds for, or by what theory."""
    rough: bool = False
    """Whether it is a quick answer, to be replaced when the section rests."""


STIFFNESS, STRENGTH, WEBS, SIZES = "Stiffness", "Section moduli", "Web and crown", "Sizes and mass"
TORSION = "Torsion and shear"


def readings(live: Live, *, enclosed: float | None = None) -> tuple[Reading, ...]:
    """Return a section's numbers in the order in which they are read; none where problems forbid them.

    Parameters
    ----------
    live
        The section's numbers.
    enclosed
        Its enclosed area [mm²], where it is known already or not wanted now (nan); computed when None.
    """
    if live.properties is None or live.facts is None:
        return ()
    area = live.facts.enclosed_area if enclosed is None else enclosed
    return (
        *_stiffness(live.properties),
        *_moduli(live.properties),
        *_torsion(live.torsion, live.properties),
        *_webs(live.facts),
        *_sizes(live.facts, area),
    )


def _stiffness(of: Properties) -> Iterator[Reading]:
    bending, length = Kind.BENDING_STIFFNESS, Kind.LENGTH
    size, stiff = abs(of.z_na) + of.area**0.5, abs(of.EI_1)
    rows = (
        ("z_na", "Neutral axis, z", "Height of the neutral axis above the shell's inboard face",
         of.z_na, length),
        ("y_na", "Neutral axis, y", "Place of the neutral axis across, from the origin",
         _settled(of.y_na, size), length),
        ("EI_y", "EI, horizontal axis", "Bending stiffness in the vertical plane", of.EI_y, bending),
        ("EI_z", "EI, vertical axis", "Bending stiffness sideways", of.EI_z, bending),
        ("EI_yz", "EI, product", "Coupling of the two planes; 0 for a symmetric section",
         _settled(of.EI_yz, stiff), bending),
        ("EI_1", "EI, greatest", "Greatest bending stiffness about any axis", of.EI_1, bending),
        ("EI_2", "EI, least", "Least bending stiffness about any axis", of.EI_2, bending),
        ("angle", "Principal angle", "From the horizontal to the axis of the greatest EI",
         abs(of.principal_angle) if _upright(of.principal_angle) else _settled(of.principal_angle, 1.0),
         Kind.ANGLE),
        ("EA", "EA", "Stiffness against pull along the member: Σ modulus × area", of.EA, Kind.FORCE),
        ("area", "Area carrying", "Cross-section of all that carries load along the member",
         of.area, Kind.AREA),
        ("ES", "ES", "First moment of E above the neutral axis: shear flow is reckoned with it",
         of.ES, Kind.MOMENT),
    )  # fmt: skip
    for key, name, meaning, value, kind in rows:
        yield Reading(key=key, group=STIFFNESS, name=name, meaning=meaning, value=value, kind=kind)


def _torsion(of: Torsional | None, beside: Properties) -> Iterator[Reading]:
    size = abs(beside.z_na) + beside.area**0.5
    rows = (
        ("GJ", "GJ", "Torsional stiffness: torque ÷ twist per length",
         of.GJ if of else nan, Kind.BENDING_STIFFNESS),
        ("z_s", "Shear centre, z", "A force through the shear centre does not twist the member",
         of.z_s if of else nan, Kind.LENGTH),
        ("y_s", "Shear centre, y", "A force through the shear centre does not twist the member",
         _still(of.y_s, size) if of else nan, Kind.LENGTH),
        ("GA_z", "GA, vertical", "Shear stiffness: vertical force ÷ mean shear strain",
         of.GA_z if of else nan, Kind.FORCE),
        ("GA_y", "GA, sideways", "Shear stiffness: sideways force ÷ mean shear strain",
         of.GA_y if of else nan, Kind.FORCE),
    )  # fmt: skip
    for key, name, meaning, value, kind in rows:
        yield Reading(
            key=key,
            group=TORSION,
            name=name,
            meaning=meaning,
            value=value,
            kind=kind,
            detail=of.basis if of else "the walls' middle lines do not hang together",
            rough=of is not None and of.quick,
        )


def _moduli(of: Properties) -> Iterator[Reading]:
    """Give the least section modulus on either side of the neutral axis, with the ply it holds for."""
    fibres = of.fibres
    sides = (
        ("SM_top", "Crown side", "above", fibres.z_top),
        ("SM_bottom", "Shell side", "below", -fibres.z_bottom),
    )
    for key, name, side, reach in sides:
        severity = fibres.E * reach
        worst = int(np.argmax(severity))
        found = bool(severity[worst] > 0)
        yield Reading(
            key=key,
            group=STRENGTH,
            name=name,
            meaning=f"EI ÷ (E × distance) of the ply most stressed {side} the neutral axis",
            value=of.EI_y / float(severity[worst]) if found else nan,
            kind=Kind.SECTION_MODULUS,
            detail=fibres.names[worst] if found else "",
        )


def _webs(of: Facts) -> Iterator[Reading]:
    crown = "Outstand of the free flange" if of.free_edge else "Clear width of the crown between the webs"
    rows = (
        ("web_area", "Web area", "Reinforced thickness square to the web × its height, all webs",
         of.web_area, Kind.AREA),
        ("web_depth", "Web depth", "Length of the deepest web along its drawn line",
         of.web_depth, Kind.LENGTH),
        ("web_thickness", "Web thickness", "Of the thinnest web, gel coat left out",
         of.web_thickness, Kind.LENGTH),
        ("web_slenderness", "Web slenderness", "Depth ÷ thickness: the greater, the sooner the web buckles",
         _ratio(of.web_depth, of.web_thickness), Kind.RATIO),
        ("crown_width", "Crown width", crown, of.crown_width, Kind.LENGTH),
        ("crown_thickness", "Crown thickness", "At its middle, gel coat left out",
         of.crown_thickness, Kind.LENGTH),
        ("crown_slenderness", "Crown slenderness",
         "Width ÷ thickness: the greater, the sooner the crown buckles",
         _ratio(of.crown_width, of.crown_thickness), Kind.RATIO),
    )  # fmt: skip
    for key, name, meaning, value, kind in rows:
        yield Reading(key=key, group=WEBS, name=name, meaning=meaning, value=value, kind=kind)


def _sizes(of: Facts, enclosed: float) -> Iterator[Reading]:
    rows = (
        ("mass", "Mass", "Per metre of member, gel coat, cores and fills included, hull plating left out",
         of.mass_per_length * _PER_M, Kind.MASS_PER_LENGTH),
        ("fabric", "Fabric", "Area of all reinforced plies per metre of member",
         of.fabric_area_per_length * _M2_PER_M, Kind.AREA_PER_LENGTH),
        ("girth", "Girth", "Length of all drawn lines", of.girth, Kind.LENGTH),
        ("base_width", "Base width", "Between the roots of the outermost webs", of.base_width, Kind.LENGTH),
        ("bonded_width", "Bonded width", "Of the flanges that lie on the shell or on its bead",
         of.bonded_width, Kind.LENGTH),
        ("enclosed", "Enclosed area", "Of the cells that laminates and shell close off, fills included",
         enclosed, Kind.AREA),
    )  # fmt: skip
    for key, name, meaning, value, kind in rows:
        yield Reading(key=key, group=SIZES, name=name, meaning=meaning, value=value, kind=kind)


def _ratio(width: float, thickness: float) -> float:
    return width / thickness if thickness > 0 else nan


def _settled(value: float, size: float) -> float:
    """Return 0 for what is only the rounding of a computation among numbers of that size."""
    return value if abs(value) > 1e-12 * size else 0.0


def _still(place: float, size: float) -> float:
    """Return 0 for a place that a symmetric section has only by its mesh not being symmetric."""
    return place if abs(place) > _UNEVEN * size else 0.0


def _upright(angle: float) -> bool:
    """Whether an axis stands upright, where +90° and −90° are the same."""
    return abs(abs(angle) - pi / 2) < 1e-9
