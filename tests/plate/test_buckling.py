"""Closed forms of buckling against the strip's Ritz solution, and both against what is known."""

from typing import Any

import numpy as np
import pytest

from stringerlab.errors import StringerlabError
from stringerlab.plate import buckling
from stringerlab.plate.strip import EdgeLoads, Strip, buckling_factor

COMPRESSION, BENDING, SHEAR = (EdgeLoads(**{name: 1.0}) for name in ("compression", "bending", "shear"))
PLATES = [
    {"D_11": 1.0, "D_22": 1.0, "D_12": 0.3, "D_66": 0.35},
    {"D_11": 1.0, "D_22": 0.5, "D_12": 0.15, "D_66": 0.2},
    {"D_11": 1.0, "D_22": 0.3, "D_12": 0.1, "D_66": 0.1},
    {"D_11": 1.0, "D_22": 3.0, "D_12": 0.3, "D_66": 0.5},
    {"D_11": 2.0, "D_22": 1.0, "D_12": 0.3, "D_66": 0.8},
    {"D_11": 1.0, "D_22": 1.0, "D_12": 0.7, "D_66": 0.8},
]
every_plate = pytest.mark.parametrize("D", PLATES)
B = 250.0


def strip(D: dict[str, float], **change: float) -> Strip:
    given: dict[str, Any] = {**D, "b": B, **change}
    return Strip(**given)


@every_plate
def test_compression_matches_ritz(D: dict[str, float]) -> None:
    assert buckling.compression(**D, b_p=B) == pytest.approx(buckling_factor(strip(D), COMPRESSION), rel=1e-5)


@every_plate
def test_shear_matches_ritz_within_one_and_three_tenths_percent(D: dict[str, float]) -> None:
    K_s = buckling.shear_ratio(**D)
    closed = buckling.shear_of(
        K_s,
        buckling.shear_stiff(D["D_11"], D["D_22"], K_s, B),
        buckling.shear_twisty(D["D_22"], D["D_12"], D["D_66"], K_s, B),
    )
    assert closed == pytest.approx(buckling_factor(strip(D), SHEAR), rel=0.013)


@every_plate
def test_bending_in_the_plane_matches_ritz(D: dict[str, float]) -> None:
    assert buckling.bending(**D, b_p=B) == pytest.approx(buckling_factor(strip(D), BENDING), rel=0.005)


@every_plate
@pytest.mark.parametrize("kappa", [0.0, 0.5, 2.0, 8.0, 40.0, 300.0, 1e6])
def test_elastic_restraint_matches_ritz(D: dict[str, float], kappa: float) -> None:
    spring = kappa * D["D_22"] / B
    xi_r = buckling.restraint(D["D_22"], B, spring)
    closed = buckling.compression_restrained(**D, b_p=B, xi_r=xi_r)
    held = buckling_factor(strip(D, spring_1=spring, spring_2=spring), COMPRESSION)
    assert closed == pytest.approx(held, rel=0.006 if buckling.shear_ratio(**D) < 2 else 0.014)


@every_plate
def test_free_edge_closed_form_is_on_the_safe_side_of_ritz(D: dict[str, float]) -> None:
    ritz = buckling_factor(strip(D, free=True, length=4 * B), COMPRESSION)
    closed = buckling.compression_one_free(D["D_11"], D["D_66"], B, 4 * B)
    assert 0.9 * ritz < closed < 1.02 * ritz


def test_shear_and_its_opposite_buckle_alike_and_two_loads_need_less() -> None:
    D = PLATES[1]
    alone = buckling_factor(strip(D), SHEAR)
    assert buckling_factor(strip(D), EdgeLoads(shear=-1.0)) == pytest.approx(alone, rel=1e-6)
    assert buckling_factor(strip(D), EdgeLoads(shear=1.0, compression=0.5)) < alone
    assert buckling_factor(strip(D), EdgeLoads(shear=1.0, compression=-0.5)) > alone


def test_tension_never_buckles() -> None:
    assert buckling_factor(strip(PLATES[0]), EdgeLoads(compression=-1.0)) == np.inf


@pytest.mark.parametrize(
    ("R_c", "R_b", "R_s"), [(0.4, 0.3, 0.5), (0.0, 0.6, 0.6), (0.9, 0.0, 0.1), (-0.3, 0.5, 0.8)]
)
def test_interaction_is_one_where_the_loads_together_buckle(R_c: float, R_b: float, R_s: float) -> None:
    used = float(buckling.interaction(R_c, R_b, R_s))
    factor = 1 / used
    assert factor * R_c + factor**2 * (R_b**2 + R_s**2) == pytest.approx(1.0)


@pytest.mark.parametrize("parts", [(1.0, 0.0, 0.5), (0.0, 1.0, 0.5), (1.0, 0.0, 1.5), (0.0, 1.0, 1.5)])
def test_interaction_is_near_ritz_under_loads_together(parts: tuple[float, float, float]) -> None:
    D = PLATES[0]
    compression, bend, shear = parts
    together = EdgeLoads(compression=compression, bending=bend, shear=shear)
    used = buckling.interaction(
        compression / buckling_factor(strip(D), COMPRESSION),
        bend / buckling_factor(strip(D), BENDING),
        shear / buckling_factor(strip(D), SHEAR),
    )
    assert float(used) == pytest.approx(1 / buckling_factor(strip(D), together), rel=0.05)


@pytest.mark.parametrize("name", ["D_11", "D_22", "D_66", "b"])
@pytest.mark.parametrize("value", [0.0, -1.0, np.nan])
def test_no_stiffness_is_refused(name: str, value: float) -> None:
    given: dict[str, Any] = {**PLATES[0], "b": B, name: value}
    with pytest.raises(StringerlabError, match="above 0"):
        buckling_factor(Strip(**given), COMPRESSION)


def test_closed_forms_take_arrays() -> None:
    widths = np.array([100.0, 200.0, 400.0])
    found = buckling.compression(**PLATES[1], b_p=widths)
    assert found * widths**2 == pytest.approx(np.full(3, found[0] * widths[0] ** 2))
