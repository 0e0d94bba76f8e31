"""Hollow sections of the catalogue by finite elements: EN 10210's torsional constant is by the middle line.

The standard's It leaves out what its corners, of radii 1.5 t and t, are thicker than the walls: the full
solution is to be the stiffer by a part of the wall's slenderness, 3 % where a wall is a tenth of the side.
"""

import tomllib
from typing import Any

import numpy as np
import pytest

from stringerlab.data import folder
from stringerlab.geometry import fillet
from stringerlab.section.torsion import Region, warping_of_regions

TABLE = tomllib.loads((folder("shared") / "published" / "hollow_sections_torsion.toml").read_text())["value"]
ROWS: list[dict[str, Any]] = TABLE[::5]


def ring(h: float, b: float, radius: float) -> list[tuple[float, float]]:
    corners = [(-b / 2, -h / 2), (b / 2, -h / 2), (b / 2, h / 2), (-b / 2, h / 2)]
    start = (0.0, -h / 2)
    line = fillet.rounded((start, *corners[1:], corners[0], start), (0.0, *[radius] * 4, 0.0), chords=12)
    return [(float(y), float(z)) for y, z in line[:-1]]


def torsional_constant(h: float, b: float, t: float) -> float:
    """In cm⁴, of a section with outer radii of 1.5 t and inner ones of t, as EN 10210-2 reckons them."""
    outer, inner = ring(h, b, 1.5 * t), ring(h - 2 * t, b - 2 * t, t)
    area = [[np.array(outer), np.array(inner)[::-1]]]
    tube = Region(owner="tube", stroke=-1, low=0.0, high=0.0, E=1.0, G=1.0, area=area)
    return warping_of_regions((tube,)).GJ / 1e4


@pytest.mark.parametrize("row", ROWS, ids=[str(row["quantity"]).rpartition(" of ")[2] for row in ROWS])
def test_torsional_constant_of_the_catalogue_is_near_the_full_solution(row: dict[str, Any]) -> None:
    given = row["given"]
    slenderness = given["t"] / min(given["h"], given["b"])
    ratio = torsional_constant(**given) / row["published"]
    assert 1.0 < ratio < 1.0 + 0.4 * slenderness
