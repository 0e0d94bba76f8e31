"""A second opinion on a section's stiffness from sectionproperties, on the same ply polygons.

Its mesher can crash, hang or leak, so it runs in a process of its own under a time limit: this module is that
process's program too. Polygons are noded and checked first; fills and plies without stiffness along the
member stay out. The geometric analysis of six-node triangles is exact for straight edges. N, mm, MPa.
"""

import json
import subprocess
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from time import perf_counter
from typing import Any, cast

import numpy as np
from numpy.typing import NDArray

from stringerlab.errors import Problem, StringerlabError
from stringerlab.geometry import planar
from stringerlab.geometry.noding import noded
from stringerlab.laminate.records import Moduli
from stringerlab.section.polygons import rings_of
from stringerlab.section.records import Plating, SectionShape
from stringerlab.section.stiffness import weighted

Array = NDArray[np.float64]
Case = tuple[SectionShape, Plating | None, Moduli]

LIMIT = 60.0
"""Seconds the other process may take a section."""
OVERLAP = 1e-7
"""Part of the area by which polygons may overlap and still be meshed."""
MODULE = "stringerlab.section.second_opinion"


@dataclass(frozen=True, slots=True, kw_only=True)
class Opinion:
    """What the other library finds; axes and signs as in `stringerlab.section.Properties`."""

    area: float
    EA: float
    y_na: float
    z_na: float
    EI_y: float
    EI_z: float
    EI_yz: float
    meshing: float
    """Seconds it took to mesh."""
    analysis: float
    """Seconds of its geometric analysis alone."""


def second_opinion(
    shape: SectionShape, plating: Plating | None, moduli: Moduli, *, limit: float = LIMIT
) -> Opinion:
    """Return the other library's opinion on one section; see `second_opinions`."""
    return second_opinions([(shape, plating, moduli)], limit=limit)[0]


def second_opinions(cases: Sequence[Case], *, limit: float = LIMIT) -> list[Opinion]:
    """Return the other library's opinion on sections, all in one process.

    Parameters
    ----------
    cases
        Section, plating and moduli of each.
    limit
        Seconds allowed a section; the process is killed after that many for all of them.

    Raises
    ------
    StringerlabError
        When a section cannot be drawn, its polygons overlap (a declared lap), or the other process crashes,
        takes too long or gives no numbers.
    """
    where = ", ".join(f"section '{shape.name}'" for shape, _, _ in cases)
    given = json.dumps([_polygons(*case) for case in cases])
    answer = asked([sys.executable, "-m", MODULE], given, limit * len(cases), where)
    return opinions(answer, len(cases), where)


def asked(command: Sequence[str], given: str, limit: float, where: str) -> str:
    """Return what another process prints for what it is given.

    Raises
    ------
    StringerlabError
        When it cannot be started, takes longer than ``limit`` seconds (it is killed), or ends with an error.
    """
    try:
        done = subprocess.run(
            command, input=given, capture_output=True, text=True, encoding="utf-8", timeout=limit, check=False
        )
    except subprocess.TimeoutExpired:
        raise StringerlabError(
            Problem(
                f"The second opinion took longer than {limit:g} s and was stopped.",
                where,
                "Give it more time, or look for hairline overlaps in the drawing.",
            )
        ) from None
    except OSError as error:
        raise StringerlabError(
            Problem(f"The second opinion could not be started: {error}.", where, "Install stringerlab again.")
        ) from None
    if done.returncode:
        last = done.stderr.strip().splitlines()[-1:] or ["it said nothing"]
        raise StringerlabError(
            Problem(
                f"The second opinion's process ended with status {done.returncode}: {last[0]}.",
                where,
                "Look for hairline overlaps in the drawing.",
            )
        )
    return done.stdout


def opinions(answer: str, count: int, where: str) -> list[Opinion]:
    """Return the opinions that an answer holds.

    Raises
    ------
    StringerlabError
        When it does not hold ``count`` of them, or a value that is no number.
    """
    garbage = Problem(
        "The second opinion's answer is not a list of numbers.", where, "Install sectionproperties again."
    )
    try:
        found = [Opinion(**values) for values in json.loads(answer)]
        sound = all(np.isfinite(getattr(one, name)) for one in found for name in Opinion.__slots__)
    except (ValueError, TypeError):
        raise StringerlabError(garbage) from None
    if len(found) != count or not sound:
        raise StringerlabError(garbage)
    return found


def _polygons(shape: SectionShape, plating: Plating | None, moduli: Moduli) -> list[tuple[float, list[Any]]]:
    """Return modulus and rings (outer, holes …) of every polygon, noded and checked."""
    built, E = weighted(shape, plating, moduli)
    rings: list[Array] = []
    region: list[int] = []
    for index, found in enumerate(rings_of(built)):
        if E[index] > 0:
            rings += found
            region += [index] * len(found)
    rings = noded(rings)
    areas = [
        planar.area_of_rings([ring for ring, owner in zip(rings, region, strict=True) if owner == index])
        for index in dict.fromkeys(region)
    ]
    whole, together = planar.sizes(areas)
    if abs(whole - together) > OVERLAP * together:
        raise StringerlabError(
            Problem(
                f"Its polygons overlap by {whole - together:.3g} mm², which a mesh would count once.",
                f"section '{shape.name}'",
                "There is no second opinion on laps that share their place.",
            )
        )
    return [
        (float(E[index]), [ring.tolist() for ring in polygon])
        for index, area in zip(dict.fromkeys(region), areas, strict=True)
        for polygon in area
    ]


def _analysed(polygons: list[tuple[float, list[Any]]]) -> dict[str, float]:
    """Return one section's numbers, in the process of its own."""
    from sectionproperties.analysis.section import Section
    from sectionproperties.pre.geometry import CompoundGeometry, Geometry
    from sectionproperties.pre.pre import Material

    begun = perf_counter()
    compound: Any = CompoundGeometry(
        [
            Geometry(
                planar.shape_of([[np.array(ring) for ring in rings]]),
                Material(f"E {E!r}", E, 0.0, 1.0, 1.0, "w"),
            )
            for E, rings in polygons
        ]
    )
    compound.create_mesh(mesh_sizes=[0], coarse=True)
    section: Any = Section(compound)
    meshed = perf_counter()
    section.calculate_geometric_properties()
    ended = perf_counter()
    y_na, z_na = section.get_c()
    EI_y, EI_z, EI_yz = section.get_eic()
    values = (
        section.get_area(),
        section.get_ea(),
        y_na,
        z_na,
        EI_y,
        EI_z,
        EI_yz,
        meshed - begun,
        ended - meshed,
    )
    return dict(zip(Opinion.__slots__, map(float, values), strict=True))


def _answer() -> None:
    given = cast(list[list[tuple[float, list[Any]]]], json.load(sys.stdin))
    print(json.dumps([_analysed(polygons) for polygons in given]))


if __name__ == "__main__":
    _answer()
