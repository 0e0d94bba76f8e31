"""Computations behind the published values of torsion and shear; each returns the unit its table states.

Lengths and moduli need only agree: G = E = 1 where a table asks for neither.
"""

from collections.abc import Callable, Sequence
from functools import lru_cache
from math import cos, pi, sin, tan

import numpy as np

from stringerlab.geometry import fillet
from stringerlab.section.loads import SectionLoads
from stringerlab.section.torsion import (
    Cell,
    CellWall,
    Region,
    Warping,
    cell_flows,
    shear_field,
    warping_of_regions,
)
from stringerlab.section.torsion.thin_graph import Graph, GraphAnswer, graph_answer

Ring = Sequence[tuple[float, float]]
_CHORDS = 400
"""Of a full circle."""
_LARGE = 1000.0
"""Unit shapes are made a metre large: meshing closes gaps of a hundredth of a millimetre."""


def rectangle(quantity: str, ratio: float) -> float:
    """k, k1 or k2 of a bar ``ratio`` times as long as wide: τ = k G θ b, GJ = k1 a b³ G, T = k2 a b² τ."""
    solution = _solved(
        ((0.0, 0.0), (ratio, 0.0), (ratio, 1.0), (0.0, 1.0)), size=1 / 48 if ratio <= 2 else 1 / 16
    )
    stress, J = _twisted(solution), _constant(solution)
    return {"k": stress * J, "k1": J / ratio, "k2": 1 / (stress * ratio)}[quantity]


def regular_polygon(quantity: str, sides: int) -> float:
    """GJ over G A d², or T over τ A d, of a regular polygon about a circle of diameter d."""
    reach = 0.5 / cos(pi / sides)
    ring = _turned(sides, reach)
    solution = _solved(ring, size=1 / 20)
    area = sides * tan(pi / sides) / 4
    if quantity == "GJ":
        return _constant(solution) / area
    return 1 / (_twisted(solution) * area)


def triangle(quantity: str) -> float:
    """GJ over G s⁴, or τ s³ over T, of an equilateral triangle of side s."""
    solution = _solved(_turned(3, 1 / 3**0.5), size=1 / 60)
    return _constant(solution) if quantity == "GJ" else _twisted(solution)


def sector(angle: float) -> float:
    """GJ over G r⁴ of a sector of a circle [deg]."""
    turn = angle * pi / 180
    count = max(round(_CHORDS * angle / 360), 8)
    arc = [(cos(turn * at / count), sin(turn * at / count)) for at in range(count + 1)]
    return _constant(_solved(((0.0, 0.0), *arc), size=1 / 30))


def shear_coefficient(shape: str) -> float:
    """GA of the shear's energy over G A at Poisson's ratio 0."""
    if shape == "thin round tube":
        answer = _graph(_turned(_CHORDS, 1.0), closed=True, t=1.0)
        return answer.GA_z / (2 * _CHORDS * sin(pi / _CHORDS))
    if shape == "thin square tube":
        return _graph(((0, 0), (1, 0), (1, 1), (0, 1)), closed=True, t=1.0).GA_z / 4
    ring: Ring = ((0.0, 0.0), (1.0, 0.0), (1.0, 2.0), (0.0, 2.0))
    if shape == "circle":
        ring = _turned(_CHORDS, 1.0)
    solution = _solved(ring, size=0.06)
    return solution.GA_z / float(solution.mesh.sizes.sum())


def megson_three_cells(cell: int) -> float:
    """Shear flow [N/mm] round a cell of the three-cell section under 11.3 kN·m."""
    walls = [
        CellWall(length=1650, thickness=1.22, G=24_200, cell=0),
        CellWall(length=508, thickness=2.03, G=27_600, cell=0, other=1),
        CellWall(length=775, thickness=1.22, G=24_200, cell=1),
        CellWall(length=775, thickness=1.22, G=24_200, cell=1),
        CellWall(length=380, thickness=1.63, G=27_600, cell=1, other=2),
        CellWall(length=508, thickness=0.92, G=20_700, cell=2),
        CellWall(length=508, thickness=0.92, G=20_700, cell=2),
        CellWall(length=254, thickness=0.92, G=20_700, cell=2),
    ]
    cells = [Cell(area=area) for area in (258_000, 355_000, 161_000)]
    return float(cell_flows(cells, walls, 11.3e6)[0][cell - 1])


def hollow_section(h: float, b: float, t: float) -> float:
    """Torsional constant [cm⁴] of a hot finished hollow section of h × b × t mm, by its middle line."""
    box = [(float(y), float(z)) for y, z in ((0, 0), (b - t, 0), (b - t, h - t), (0, h - t))]
    start = (b / 2, 0.0)
    line = fillet.rounded((start, *box[1:], box[0], start), (0.0, *[1.25 * t] * 4, 0.0), chords=60)
    return _graph([(float(y), float(z)) for y, z in line[:-1]], closed=True, t=t).GJ / 1e4


def rectangular_tube(quantity: str) -> float:
    """Flow [kip/in] or stress [ksi] in a tube of 4 × 2.5 in under 24 kip·in; walls 0.16, or 0.12 and 0.2."""
    width, height = 4 - 0.16, 2.5 - 0.16
    thickness = (0.16,) * 4 if quantity in ("flow", "uniform") else (0.2, 0.2, 0.12, 0.12)
    answer = _graph(((0, 0), (width, 0), (width, height), (0, height)), closed=True, t=thickness, strip=False)
    flow = abs(float(answer.flow[0, 0, 0])) * 24
    return flow / {"flow": 1.0, "uniform": 0.16, "thin": 0.12, "thick": 0.2}[quantity]


def channel(quantity: str) -> float:
    """Shear centre [in] from the web, or stress [ksi] of 2.5 kip, of a channel 6 × 4 × 0.15 in."""
    answer = _graph(((4, 0), (0, 0), (0, 3), (0, 6), (4, 6)), closed=False, t=0.15)
    if quantity == "e":
        return -answer.y_s
    wall = {"corner": 0, "middle": 1}[quantity]
    return abs(float(answer.flow[wall, 1, 2])) * 2.5 / 0.15


def arc_centre(half_angle: float) -> float:
    """Distance of the shear centre from the centre of a thin arc, over its radius."""
    turn = half_angle * pi / 180
    ring = [(cos(turn * (at / 200 - 1)), sin(turn * (at / 200 - 1))) for at in range(401)]
    return _graph(ring, closed=False, t=1.0).y_s


def _turned(sides: int, reach: float) -> list[tuple[float, float]]:
    """A regular polygon, its first side level below."""
    first = -pi / 2 + pi / sides
    turns = [first + 2 * pi * at / sides for at in range(sides)]
    return [(reach * cos(turn), reach * sin(turn)) for turn in turns]


def _solved(ring: Ring, size: float) -> Warping:
    return _remembered(tuple(ring), size)


@lru_cache(16)
def _remembered(ring: tuple[tuple[float, float], ...], size: float) -> Warping:
    area = [[np.array(ring) * _LARGE]]
    region = Region(owner="bar", stroke=-1, low=0.0, high=0.0, E=1.0, G=1.0, area=area)
    return warping_of_regions((region,), size=size * _LARGE)


def _constant(solution: Warping) -> float:
    return solution.GJ / _LARGE**4


def _twisted(solution: Warping) -> float:
    """Greatest stress under a unit torque."""
    return shear_field(solution, SectionLoads(T=1.0)).greatest * _LARGE**3


def _graph(ring: Ring, *, closed: bool, t: float | Sequence[float], strip: bool = True) -> GraphAnswer:
    points = np.array(ring, float)
    count = len(points)
    ends = np.array([(at, (at + 1) % count) for at in range(count if closed else count - 1)])
    thickness = np.broadcast_to(np.asarray(t, float), (len(ends),))
    own = thickness**3 / 3 if strip else np.zeros(len(ends))
    return graph_answer(Graph(nodes=points, ends=ends, Gt=thickness, Et=thickness, strip=own))


COMPUTATIONS: dict[str, Callable[..., float]] = {
    "torsion.rectangle": rectangle,
    "torsion.regular_polygon": regular_polygon,
    "torsion.triangle": triangle,
    "torsion.sector": sector,
    "torsion.shear_coefficient": shear_coefficient,
    "torsion.megson_three_cells": megson_three_cells,
    "torsion.hollow_section": hollow_section,
    "torsion.rectangular_tube": rectangular_tube,
    "torsion.channel": channel,
    "torsion.arc_centre": arc_centre,
}
