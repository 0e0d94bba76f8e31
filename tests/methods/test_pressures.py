"""Bottom pressure against numbers worked by hand, and its choices."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stringerlab.errors import StringerlabError
from stringerlab.methods import CraftRow
from stringerlab.methods.iso_12215_5_2008 import pressures
from stringerlab.methods.iso_12215_5_2008.loading import (
    SWITCH,
    Switch,
    category_factor,
    load_factor,
    panel_loading,
    stiffener_loading,
)

KNOT = 1852 / 3600
LENGTH = np.array([1000.0])


def panel_pressure(
    craft: CraftRow, *, x: float = 1800, switch: Switch = SWITCH, sandwich: bool = False
) -> float:
    """kN/m² on a panel of 400 × 800 mm."""
    loading = panel_loading(
        craft,
        x=np.array([x]),
        b=np.array([400.0]),
        l=np.array([800.0]),
        sandwich=sandwich,
        switch=switch,
    )
    return float(loading.P[0]) * 1000


def said(craft: CraftRow, *, x: float = 1800, b: float = 400) -> set[str]:
    loading = panel_loading(craft, x=np.array([x]), b=np.array([b]), l=np.array([2 * b]), sandwich=False)
    return {remark.text for remark in loading.remarks if remark.where is None or np.all(remark.where)}


def test_first_load_factor_by_hand() -> None:
    # 0.32 (6/20 + 0.084)(50 − 20) 20² 2²/2000 = 0.12288 · 30 · 0.8
    assert pressures.first_load_factor.clause(6, 2, 20, 20, 2000) == pytest.approx(2.94912)


def test_first_load_factor_takes_the_programs_units() -> None:
    plain = pressures.first_load_factor(6000.0, 2000.0, np.radians(20), 20 * KNOT, 2000.0)
    assert plain == pytest.approx(2.94912)


@pytest.mark.parametrize(("beta", "held"), [(0, 10), (9.9, 10), (31, 30), (45, 30)])
def test_deadrise_is_held_within_10_and_30(beta: float, held: float) -> None:
    assert pressures.first_load_factor.clause(6, 2, beta, 20, 2000) == pytest.approx(
        pressures.first_load_factor.clause(6, 2, held, 20, 2000)
    )


def test_fast_load_factor_by_hand() -> None:
    # 0.5 · 30/2000^0.17, ln 2000 = 7.6009, 2000^0.17 = e^1.29215 = 3.6406
    assert pressures.fast_load_factor.clause(30, 2000) == pytest.approx(4.1202, rel=1e-4)


@pytest.mark.parametrize(
    ("n_1", "n_2", "greater", "lesser"),
    [
        (2.9, 6.0, 2.9, 2.9),  # the first form holds to 3
        (6.6, 4.1, 6.6, 4.1),
        (3.5, 5.0, 5.0, 3.5),
        (3.5, 2.0, 3.5, 3.0),  # never below 3 once above it
        (9.0, 8.0, 7.0, 7.0),  # never above 7
    ],
)
def test_both_readings_of_the_switch(n_1: float, n_2: float, greater: float, lesser: float) -> None:
    assert pressures.greater_load_factor.clause(n_1, n_2) == greater
    assert pressures.lesser_load_factor.clause(n_1, n_2) == lesser


def test_conservative_reading_is_the_default(craft: CraftRow) -> None:
    fast = replace(craft, V=30 * KNOT)
    assert SWITCH is Switch.GREATER
    assert load_factor(fast)[0] == pytest.approx(6.63552)  # 0.12288 · 30 · 1.8
    assert load_factor(fast, Switch.LESSER)[0] == pytest.approx(4.1202, rel=1e-4)
    assert panel_pressure(fast) > panel_pressure(fast, switch=Switch.LESSER)


def test_choice_of_reading_is_said_only_where_it_matters(craft: CraftRow) -> None:
    choice = f"n_CG is {Switch.GREATER.value}: a choice, the edition's wording is not sure here"
    assert choice not in said(craft)
    assert choice in said(replace(craft, V=30 * KNOT))


def test_cap_of_the_load_factor_is_said(craft: CraftRow) -> None:
    assert "n_CG is capped at 7" not in said(replace(craft, V=30 * KNOT))
    assert "n_CG is capped at 7" in said(replace(craft, V=40 * KNOT))


@pytest.mark.parametrize(
    ("x", "n", "k_L"),
    [
        (0.6, 4, 1.0),
        (1.0, 4, 1.0),
        (0.0, 4, 0.668),  # 0.167 · 4
        (-0.1, 4, 0.668),
        (0.3, 3, 0.7505),  # (1 − 0.501)/0.6 · 0.3 + 0.501
        (0.3, 2, 0.7505),  # held at 3
        (0.0, 9, 1.002),  # held at 6
    ],
)
def test_length_factor_by_hand(x: float, n: float, k_L: float) -> None:
    assert pressures.length_factor.clause(x, n) == pytest.approx(k_L)


def test_design_areas_by_hand() -> None:
    assert pressures.panel_design_area.clause(0.8, 0.4) == pytest.approx(0.32)
    assert pressures.panel_design_area.clause(2.0, 0.4) == pytest.approx(0.4)  # 2.5 b²
    assert pressures.stiffener_design_area.clause(1.0, 0.5) == pytest.approx(0.5)
    assert pressures.stiffener_design_area.clause(1.0, 0.2) == pytest.approx(0.33)  # 0.33 lu²


def test_area_factor_by_hand_and_its_bounds() -> None:
    # 0.1 · 2000^0.15/0.32^0.3 = 0.1 · 3.12719/0.710468
    assert pressures.area_factor.clause(1.0, 2000, 0.32) == pytest.approx(0.440159, rel=1e-5)
    assert pressures.area_factor.clause(1.0, 2000, 50) == 0.25
    assert pressures.sandwich_area_factor.clause(1.0, 2000, 50) == 0.4
    assert pressures.area_factor.clause(1.0, 2000, 0.001) == 1


def test_floor_of_the_area_factor_is_said(craft: CraftRow) -> None:
    assert "k_AR is at its floor of 0.25" not in said(craft)
    assert "k_AR is at its floor of 0.25" in said(craft, b=4000)


def test_planing_pressure_of_a_panel_by_hand(craft: CraftRow) -> None:
    # 0.1 · 2000/(6 · 2) · (1 + √0.6 · 2.94912) · 0.440159 · 0.7505 = 16.6667 · 3.284378 · 0.330339
    assert panel_pressure(craft) == pytest.approx(18.0827, rel=1e-4)
    assert "planing mode governs the pressure" in said(craft)


def test_displacement_pressure_governs_a_slow_craft_by_hand(craft: CraftRow) -> None:
    # (2.4 · 2000^0.33 + 20) k_AR 0.6 · 0.7505, 2000^0.33 = 12.2840, k_AR = (1.5 − 0.12) · 0.440159 = 0.607419
    slow = replace(craft, V=5 * KNOT)
    assert panel_pressure(slow) == pytest.approx(13.5343, rel=1e-4)
    assert "displacement mode governs the pressure" in said(slow)


def test_least_pressure_by_hand(craft: CraftRow) -> None:
    # 0.45 · 12.2840 + 0.9 · 6 · 0.6
    assert pressures.minimum_pressure.clause(2000, 6, 0.6) == pytest.approx(8.7678, rel=1e-4)
    assert "the least bottom pressure governs" in said(replace(craft, V=2 * KNOT), b=4000)


@given(st.tuples(*[st.floats(1, 100)] * 3))
def test_greatest_of_three_governs(three: tuple[float, float, float]) -> None:
    assert pressures.bottom_pressure.clause(*three) == max(three)


def test_stiffener_pressure_is_over_its_own_design_area(craft: CraftRow) -> None:
    def pressure(lu: float, s: float) -> float:
        loading = stiffener_loading(craft, x=np.array([1800.0]), lu=np.array([lu]), s=np.array([s]))
        return float(loading.P[0])

    assert pressure(1000, 200) == pytest.approx(pressure(1000, 330))  # both 0.33 m²
    assert pressure(1000, 600) < pressure(1000, 330)


@pytest.mark.parametrize(("category", "factor"), [("A", 1.0), ("B", 0.8), ("C", 0.6), ("D", 0.4)])
def test_category_factor(craft: CraftRow, category: str, factor: float) -> None:
    assert category_factor(replace(craft, category=category)) == pytest.approx(factor)


def test_unknown_category_is_refused(craft: CraftRow) -> None:
    with pytest.raises(StringerlabError, match="no design category 'E'"):
        category_factor(replace(craft, category="E"))


def test_place_is_measured_from_where_the_waterline_ends(craft: CraftRow) -> None:
    moved = replace(craft, waterline_aft=600.0)
    assert panel_pressure(moved, x=2400) == pytest.approx(panel_pressure(craft, x=1800))


@given(st.floats(1, 1.5))
def test_a_faster_craft_is_pressed_harder(more: float) -> None:
    craft = CraftRow(category="C", LWL=6000, BC=2000, beta_04=0.35, m_LDC=2000, V=20 * KNOT, waterline_aft=0)
    assert panel_pressure(replace(craft, V=craft.V * more)) >= panel_pressure(craft) * (1 - 1e-12)
