"""Pressures on side, deck, watertight bulkhead and integral tank against numbers worked by hand."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stringerlab.layout import Surface
from stringerlab.methods import CraftRow
from stringerlab.methods.iso_12215_5_2008 import pressures
from stringerlab.methods.iso_12215_5_2008 import surface_pressures as off_bottom
from stringerlab.methods.iso_12215_5_2008.loading import Loading, panel_loading, stiffener_loading

DECK = 900.0
"""The deck's edge above the waterline [mm]."""


@pytest.fixture
def decked(craft: CraftRow) -> CraftRow:
    return replace(craft, deck_height=DECK)


def panel(craft: CraftRow, surface: Surface, *, x: float = 1800, **more: float | bool) -> Loading:
    """A panel of 400 × 800 mm at 0.3 of the waterline."""
    asked = {"b": 400.0, "l": 800.0, "sandwich": False, "height": np.nan, "head": np.nan} | more
    return panel_loading(
        craft,
        x=np.array([x]),
        b=np.array([asked["b"]]),
        l=np.array([asked["l"]]),
        sandwich=bool(asked["sandwich"]),
        surface=surface,
        height=np.array([asked["height"]]),
        head=np.array([asked["head"]]),
    )


def kpa(loading: Loading) -> float:
    return float(loading.P[0]) * 1000


def said(loading: Loading) -> set[str]:
    return {remark.text for remark in loading.remarks if remark.where is None or np.all(remark.where)}


def lacking(loading: Loading) -> list[str]:
    return [remark.text for remark in loading.lacking if remark.where is None or np.all(remark.where)]


def test_bases_by_hand() -> None:
    # 2000^0.33 = 12.2840: 2.4 · 12.2840 + 20
    assert off_bottom.displacement_base.clause(2000) == pytest.approx(49.4816, rel=1e-5)
    # 0.1 · 2000/(6 · 2) (1 + √0.6 · 2.94912) = 16.6667 · 3.284378
    assert off_bottom.planing_base.clause(2000, 6, 2, 0.6, 2.94912) == pytest.approx(54.7396, rel=1e-5)
    assert off_bottom.deck_base.clause(6) == pytest.approx(16.7)  # 0.35 · 6 + 14.6


mass, length = st.floats(300, 100_000), st.floats(2.5, 24)
factor = st.floats(0.05, 1)


@given(mass, length, st.floats(0.5, 6), factor, st.floats(0, 7), factor, factor)
def test_bases_are_the_bottoms_pressures_before_their_factors(
    m: float, L: float, B: float, k_DC: float, n: float, k_AR: float, k_L: float
) -> None:
    assert pressures.displacement_pressure.clause(m, k_AR, k_DC, k_L) == pytest.approx(
        off_bottom.displacement_base.clause(m) * k_AR * k_DC * k_L
    )
    assert pressures.planing_pressure.clause(m, L, B, k_DC, n, k_AR, k_L) == pytest.approx(
        off_bottom.planing_base.clause(m, L, B, k_DC, n) * k_AR * k_L
    )


@pytest.mark.parametrize(
    ("h", "k_Z"), [(0.0, 1.0), (0.3, 2 / 3), (0.45, 0.5), (0.9, 0.0), (1.2, 0.0), (-0.2, 1.0)]
)
def test_height_factor_by_hand(h: float, k_Z: float) -> None:
    assert off_bottom.height_factor.clause(0.9, h) == pytest.approx(k_Z)


def test_side_pressure_of_a_panel_by_hand(decked: CraftRow) -> None:
    # k_Z = (0.9 − 0.3)/0.9 = 2/3; displacement k_AR = (1.5 − 0.0003 · 400) 0.440159 = 0.607419, k_L 0.7505
    # displacement: (16.7 + 2/3 (49.4816 − 16.7)) · 0.607419 · 0.6 · 0.7505 = 38.5544 · 0.273521
    # planing: (16.7 + 2/3 (54.7396/4 − 16.7)) · 0.440159 · 0.6 · 0.7505 = 14.6899 · 0.198204 = 2.9116
    # least: 0.9 · 6 · 0.6 = 3.24
    loading = panel(decked, Surface.SIDE, height=300)
    assert kpa(loading) == pytest.approx(10.5454, rel=1e-4)
    assert "displacement mode governs the pressure" in said(loading)


def test_side_pressure_in_planing_mode_by_hand() -> None:
    by_hand = (16.7 + 2 / 3 * (0.25 * 54.7396 - 16.7)) * 0.440159 * 0.6 * 0.7505
    assert by_hand == pytest.approx(2.9116, rel=1e-4)
    assert off_bottom.side_planing_pressure.clause(
        16.7, 54.7396, 2 / 3, 0.440159, 0.6, 0.7505
    ) == pytest.approx(by_hand)


def test_least_side_pressure_governs_a_large_panel(decked: CraftRow) -> None:
    # over 2.5 · 2² = 10 m²: k_AR of either mode 0.1 · 3.12719/10^0.3 = 0.156730, held at 0.25;
    # displacement 0.25 · 0.6 · 0.7505 · 16.7 at the deck's edge = 1.88
    loading = panel(decked, Surface.SIDE, height=900, b=2000.0, l=6000.0)
    assert kpa(loading) == pytest.approx(3.24)
    assert "the least side pressure governs" in said(loading)


def test_side_pressure_of_a_stiffener_by_hand(decked: CraftRow) -> None:
    # A_D = 0.5, 0.1 · 3.12719/0.5^0.3 = 0.312719/0.812252 = 0.385002, k_R = 1 − 0.0002 · 1000 = 0.8
    # displacement: 38.5544 · 0.308002 · 0.6 · 0.7505 = 5.3472; planing: 14.6899 · 0.385002 · 0.4503 = 2.5467
    loading = stiffener_loading(
        decked,
        x=np.array([1800.0]),
        lu=np.array([1000.0]),
        s=np.array([500.0]),
        surface=Surface.SIDE,
        height=np.array([300.0]),
    )
    assert kpa(loading) == pytest.approx(5.3472, rel=1e-4)


def test_deck_pressure_by_hand(decked: CraftRow) -> None:
    # from 0.6 of the waterline k_L = 1: 16.7 · 0.607419 · 0.6; at 0.3 16.7 · 0.273521 = 4.57, below 5
    assert kpa(panel(decked, Surface.DECK, x=4000)) == pytest.approx(6.08634, rel=1e-4)
    aft = panel(decked, Surface.DECK)
    assert kpa(aft) == 5.0
    assert "the least deck pressure governs" in said(aft)


def test_deck_asks_for_no_deck_height(craft: CraftRow) -> None:
    assert np.isnan(craft.deck_height)
    assert kpa(panel(craft, Surface.DECK, x=4000)) == pytest.approx(6.08634, rel=1e-4)


@pytest.mark.parametrize(("surface", "P"), [(Surface.BULKHEAD, 8.4), (Surface.TANK, 12.0)])
def test_pressure_under_a_head_of_one_and_a_fifth_metres(craft: CraftRow, surface: Surface, P: float) -> None:
    assert kpa(panel(craft, surface, head=1200)) == pytest.approx(P)  # 7 · 1.2, 10 · 1.2


@pytest.mark.parametrize("surface", [Surface.BULKHEAD, Surface.TANK])
def test_a_head_of_water_knows_neither_place_nor_area_nor_category(craft: CraftRow, surface: Surface) -> None:
    whole = kpa(panel(craft, surface, head=800))
    other = replace(craft, category="A", V=3 * craft.V, LWL=2 * craft.LWL)
    assert kpa(panel(other, surface, head=800, x=5000, b=1500, l=4000, sandwich=True)) == whole


@given(st.floats(300, 3000), st.floats(0, 9000), st.booleans())
def test_side_meets_the_bottom_at_the_waterline_and_the_deck_at_its_edge(
    deck: float, x: float, sandwich: bool
) -> None:
    craft = CraftRow(
        category="B",
        LWL=8000.0,
        BC=2300.0,
        beta_04=np.radians(18.0),
        m_LDC=3500.0,
        V=3.0,
        waterline_aft=0.0,
        deck_height=deck,
    )
    # so slow that displacement mode governs the bottom: the side's modes meet it there
    bottom = panel(craft, Surface.BOTTOM, x=x, sandwich=sandwich)
    assert "displacement mode governs the pressure" in said(bottom)
    low, high = (panel(craft, Surface.SIDE, x=x, height=h, sandwich=sandwich) for h in (0.0, deck))
    assert kpa(low) == pytest.approx(kpa(bottom))
    least = 0.9 * 8 * 0.8  # the side's own
    assert kpa(high) == pytest.approx(max(least, kpa(panel(craft, Surface.DECK, x=x, sandwich=sandwich))))


@given(st.floats(0, 1000), st.floats(0, 1000))
def test_the_higher_up_the_side_the_less_is_asked(a: float, b: float) -> None:
    low, high = sorted((a, b))
    craft = CraftRow(
        category="C",
        LWL=6000.0,
        BC=2000.0,
        beta_04=np.radians(20.0),
        m_LDC=2000.0,
        V=10.0,
        waterline_aft=0.0,
        deck_height=900.0,
    )
    assert kpa(panel(craft, Surface.SIDE, height=high)) <= kpa(panel(craft, Surface.SIDE, height=low)) + 1e-9


def test_below_the_waterline_a_side_is_under_the_bottoms_pressure(decked: CraftRow) -> None:
    wet = panel(decked, Surface.SIDE, height=-50)
    assert kpa(wet) == kpa(panel(decked, Surface.BOTTOM))
    assert "its middle lies below the waterline: the bottom's pressure counts" in said(wet)
    assert "planing mode governs the pressure" in said(wet)


def test_above_the_decks_edge_is_said(decked: CraftRow) -> None:
    above = panel(decked, Surface.SIDE, height=1000)
    assert kpa(above) == kpa(panel(decked, Surface.SIDE, height=900))
    assert "its middle lies above the deck's edge: k_Z is held at 0" in said(above)


def test_what_a_side_lacks_is_said(craft: CraftRow, decked: CraftRow) -> None:
    height, deck_edge = (
        "the height of its middle above the waterline is not given",
        "the craft's deck height is not given: a side's pressure falls towards the deck's edge",
    )
    for loading, words in (
        (panel(craft, Surface.SIDE), [deck_edge, height]),
        (panel(craft, Surface.SIDE, height=300), [deck_edge]),
        (panel(decked, Surface.SIDE), [height]),
    ):
        assert np.isnan(loading.P).all()
        assert lacking(loading) == words
        assert not any("governs" in text for text in said(loading))
    assert lacking(panel(decked, Surface.SIDE, height=300)) == []


@pytest.mark.parametrize("surface", [Surface.BULKHEAD, Surface.TANK])
def test_what_a_head_of_water_lacks_is_said(craft: CraftRow, surface: Surface) -> None:
    loading = panel(craft, surface)
    assert np.isnan(loading.P).all()
    assert lacking(loading) == ["the head of water it is to hold is not given"]


def test_a_floor_of_the_area_factor_off_the_bottom_is_said_to_be_the_bottoms(decked: CraftRow) -> None:
    side = panel(decked, Surface.SIDE, height=10, b=2000.0, l=6000.0)
    assert "k_AR is at its floor of 0.25, taken as for the bottom" in said(side)


@pytest.mark.parametrize(
    ("formula", "given"),
    [
        (off_bottom.displacement_base, {"m_LDC": 2000.0}),
        (off_bottom.deck_base, {"L_WL": 6.0}),
        (off_bottom.height_factor, {"z_dk": 0.9, "h_m": 0.3}),
        (off_bottom.least_side_pressure, {"L_WL": 6.0, "k_DC": 0.6}),
        (off_bottom.bulkhead_pressure, {"h_B": 1.2}),
        (off_bottom.tank_pressure, {"h_B": 1.2}),
    ],
)
def test_formulas_take_metres_in_their_clause_and_millimetres_in_the_program(
    formula: off_bottom.deck_base.__class__, given: dict[str, float]
) -> None:
    metres = {"L_WL", "z_dk", "h_m", "h_B"}
    plain = formula(**{name: value * (1000 if name in metres else 1) for name, value in given.items()})
    per_program_unit = 1 if formula is off_bottom.height_factor else 1000  # kN/m² in an N/mm²
    assert plain * per_program_unit == pytest.approx(formula.clause(**given))


def test_rows_of_one_surface_are_each_their_own(decked: CraftRow) -> None:
    heights = np.array([-100.0, 0.0, 300.0, 900.0, np.nan])
    many = panel_loading(
        decked,
        x=np.full(5, 1800.0),
        b=np.full(5, 400.0),
        l=np.full(5, 800.0),
        sandwich=False,
        surface=Surface.SIDE,
        height=heights,
    )
    alone = [kpa(panel(decked, Surface.SIDE, height=height)) for height in heights]
    assert (many.P * 1000).tolist() == pytest.approx(alone, nan_ok=True)
