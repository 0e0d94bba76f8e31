"""The class guide's form by hand: acceleration, pressures, plating, internals, and what is not judged."""

import math
from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stringerlab.layout import Surface
from stringerlab.methods import (
    Aspect,
    CraftRow,
    Finding,
    Judged,
    PanelRows,
    Part,
    PlatingRows,
    SandwichRows,
    SpanRows,
    findings,
    method_named,
)
from stringerlab.methods.class_guide_planing import pressures, scantlings
from stringerlab.methods.class_guide_planing.loading import acceleration, panel_loading, stiffener_loading
from stringerlab.workings import Known, workings

METHOD = method_named("class_guide_planing")
KPA = 1e-3
Rows = PanelRows | SandwichRows | SpanRows


def judge(craft: CraftRow, rows: Rows) -> Sequence[Judged]:
    asked: Callable[[CraftRow, Any], Sequence[Judged]] = {
        PanelRows: METHOD.judge_panels,
        SandwichRows: METHOD.judge_sandwiches,
        SpanRows: METHOD.judge_spans,
    }[type(rows)]
    return asked(craft, rows)


def judged(craft: CraftRow, rows: Rows) -> dict[Aspect, Judged]:
    return {one.aspect: one for one in judge(craft, rows)}


def found(craft: CraftRow, rows: Rows) -> dict[Aspect, Finding]:
    with workings() as recording:
        aspects = judge(craft, rows)
    return {one.aspect: one for one in findings(METHOD, aspects, [("p1", "Aft")], recording)}


@pytest.fixture
def known_craft(craft: CraftRow) -> CraftRow:
    """The craft with wave height 0.8 m, trim 5°, draught 0.4 m."""
    return replace(craft, wave_height=800.0, trim=np.radians(5.0), draught=400.0)


def test_acceleration_by_hand() -> None:
    # 0.0078 (12 · 0.8/2 + 1) 5 · (50 − 20) · 20² · 2²/2000 = 0.0078 · 5.8 · 5 · 30 · 0.8
    assert pressures.acceleration.clause(0.8, 2, 5, 20, 20, 2000) == pytest.approx(5.42880)


@pytest.mark.parametrize(("beta", "held"), [(4, 10), (36, 30)])
def test_deadrise_is_held_between_10_and_30(beta: float, held: float) -> None:
    by = [pressures.acceleration.clause(0.8, 2, 5, b, 20, 2000) for b in (beta, held)]
    assert by[0] == by[1]
    p = [pressures.slamming_pressure.clause(2000, 6, 2, 3, b, 20, 1) for b in (beta, held)]
    assert p[0] == p[1]


@pytest.mark.parametrize(("x_L", "K_V"), [(-0.1, 1), (0.5, 1), (0.75, 1.5), (1, 2), (1.2, 2)])
def test_acceleration_rises_from_midships_to_the_bow(x_L: float, K_V: float) -> None:
    assert pressures.length_factor.clause(x_L) == pytest.approx(K_V)


def test_slamming_pressure_by_hand() -> None:
    # 0.1 · 2000/(6 · 2) (1 + 5) (70 − 25)/(70 − 20) · 0.8 = 16.667 · 6 · 0.9 · 0.8
    assert pressures.slamming_pressure.clause(2000, 6, 2, 5, 25, 20, 0.8) == pytest.approx(72.0)


def test_hydrostatic_pressure_by_hand() -> None:
    # 9.8 (0.64 (0.0172 · 6 + 3.653) + 0.4) = 9.8 (0.64 · 3.7562 + 0.4) = 9.8 · 2.803968
    H = pressures.wave_parameter.clause(6)
    assert pressures.hydrostatic_pressure.clause(H, 0.4) == pytest.approx(27.478886)


@pytest.mark.parametrize(
    ("s", "least"),
    [(100, 0.85), (250, 0.85), (500, 0.75), (625, 0.675), (750, 0.60), (1250, 0.40), (3000, 0.4)],
)
def test_least_area_factor_by_spacing(s: float, least: float) -> None:
    assert pressures.least_area_factor.clause(s, 10) == pytest.approx(least)
    assert pressures.least_area_factor.clause(s, 30) == pytest.approx(0.40)


def test_area_factor_by_hand() -> None:
    # u = 100 · 3475/34 750 = 10, u^0.75 = 5.62341; (0.455 − 0.35 · 3.92341/7.32341)/0.805 = 0.267492/0.805
    assert pressures.area_factor.clause(3475, 34_750, 0.0) == pytest.approx(0.332288, rel=1e-5)
    assert pressures.area_factor.clause(3475, 34_750, 0.6) == 0.6


def test_area_factor_is_1_at_no_area_and_nowhere_below_the_fit() -> None:
    u = np.geomspace(1e-9, 1e3, 200)
    scaled = pressures.area_factor.clause(u, 100.0, 0.0)
    assert scaled[0] == pytest.approx(1, abs=1e-6)
    assert np.all(np.diff(scaled) <= 0)
    q = u**0.75
    assert np.all(scaled >= 0.455 - 0.35 * (q - 1.7) / (q + 1.7))


def test_design_areas_by_hand() -> None:
    assert pressures.panel_area.clause(800, 400) == pytest.approx(3200)  # cm²
    assert pressures.panel_area.clause(2000, 400) == pytest.approx(4000)  # 2.5 · 400²
    assert pressures.stiffener_area.clause(1000, 500) == pytest.approx(5000)
    assert pressures.stiffener_area.clause(2000, 500) == pytest.approx(13_200)  # 0.33 · 2000²


def test_pressure_of_a_panel_by_hand(known_craft: CraftRow, panel: PanelRows) -> None:
    # n_cg 5.4288, x/L 0.3: K_V 1; b 400: F_D at its least, 0.85 − 0.10 · 0.6 = 0.79
    # 0.1 · 2000/12 · 6.4288 · 0.79 = 84.646; hydrostatic 27.479
    loading = panel_loading(known_craft, panel)
    assert loading.P[0] / KPA == pytest.approx(84.6459, rel=1e-5)


def test_missing_wave_height_trim_and_draught_are_the_guides_least_and_said(
    craft: CraftRow, panel: PanelRows
) -> None:
    # 6/12 = 0.5 m, 4 deg: 0.0078 (12 · 0.5/2 + 1) 4 · 30 · 0.8 = 2.9952; F_D 1: 16.667 · 3.9952
    assert panel_loading(craft, panel).P[0] / KPA == pytest.approx(66.5867, rel=1e-5)
    notes = found(craft, panel)[Aspect.THICKNESS].notes
    assert "wave height not given: the guide's least as remembered, 0.50 m" in notes
    assert "running trim not given: the guide's least as remembered, 4 deg" in notes
    assert any("draught not given: F_D is taken as 1" in note for note in notes)


def test_given_numbers_below_the_least_are_held_and_said(known_craft: CraftRow, panel: PanelRows) -> None:
    low = replace(known_craft, wave_height=100.0, trim=np.radians(2.0))
    least = replace(known_craft, wave_height=500.0, trim=np.radians(4.0))
    held, own = panel_loading(low, panel), panel_loading(least, panel)
    assert held.P[0] == pytest.approx(own.P[0])
    notes = found(low, panel)[Aspect.THICKNESS].notes
    assert any("wave height given is below" in note for note in notes)
    assert any("running trim given is below" in note for note in notes)
    assert not any("given is below" in note for note in found(least, panel)[Aspect.THICKNESS].notes)


def test_least_trim_is_3_deg_for_a_long_craft() -> None:
    assert [float(pressures.least_trim.clause(L)) for L in (49, 51)] == [4, 3]


def test_slow_heavy_craft_is_under_the_hydrostatic_pressure(known_craft: CraftRow, panel: PanelRows) -> None:
    slow = replace(known_craft, V=1.0, LWL=12_000.0)
    P_h = 9.8 * (0.64 * (0.0172 * 12 + 3.653) + 0.4)
    assert panel_loading(slow, panel).P[0] / KPA == pytest.approx(P_h)
    assert "the hydrostatic pressure governs" in found(slow, panel)[Aspect.THICKNESS].notes
    assert "bottom slamming governs the pressure" in found(known_craft, panel)[Aspect.THICKNESS].notes


def test_thickness_for_strength_by_hand(known_craft: CraftRow, panel: PanelRows) -> None:
    # P 84.646, k 0.497 at l/b 2 (printed table), σ 0.33 · 160 = 52.8: 400 √(84.646 · 0.497/52 800) = 11.291
    thickness = judged(known_craft, panel)[Aspect.THICKNESS]
    assert thickness.demand[0] == pytest.approx(11.291, rel=1e-3)
    assert thickness.utilisation[0] == pytest.approx((11.291 / 6) ** 2, rel=2e-3)


def test_thickness_for_stiffness_by_hand(known_craft: CraftRow, panel: PanelRows) -> None:
    # one modulus of 8000: E_F = 8000; 400 ∛(84.646 · 0.028/(15 · 8000)) = 400 · 0.0270258
    alike = replace(panel, plies=replace(panel.plies, E=np.full((1, 3), 8000.0)), t=np.array([6.0]))
    stiffness = judged(known_craft, alike)[Aspect.STIFFNESS]
    assert stiffness.demand[0] == pytest.approx(10.810, rel=1e-3)
    assert stiffness.power == 3


def test_ply_strength_by_hand(known_craft: CraftRow, panel: PanelRows) -> None:
    # one material: σ = 6 M/t², M = P k b²/6 per width, so σ = P k b²/t² = 0.084646 · 0.497 · 400²/36
    one = replace(
        panel.plies,
        E=np.full((1, 3), 8000.0),
        tension=np.full((1, 3), 100.0),
        compression=np.full((1, 3), 90.0),
    )
    ply = judged(known_craft, replace(panel, plies=one))[Aspect.PLY_STRENGTH]
    assert ply.demand[0] == pytest.approx(186.97, rel=1e-3)
    assert ply.capacity[0] == pytest.approx(29.7)  # 0.33 · 90


@pytest.mark.parametrize(("rise", "factor"), [(0, 1), (40, 0.9), (120, 0.7), (300, 0.7)])
def test_curved_panel(rise: float, factor: float) -> None:
    assert scantlings.curvature_factor.clause(rise, 400) == pytest.approx(factor)


def test_modulus_and_web_area_by_hand(known_craft: CraftRow, span: SpanRows) -> None:
    pressure = stiffener_loading(known_craft, span).P[0]
    # s 500: F_D at its least of 0.75: 16.667 · 6.4288 · 0.75 = 80.36
    assert pressure / KPA == pytest.approx(80.36)
    aspects = judged(known_craft, span)
    # crown governs in compression: 0.33 · 60 = 19.8; 83.3 · 80.36 · 0.5 · 1²/19.8 = 169.04 cm³
    assert aspects[Aspect.MODULUS].demand[0] / 1e3 == pytest.approx(169.04, rel=1e-4)
    assert aspects[Aspect.MODULUS].capacity[0] == pytest.approx(25_000)
    # 5 · 80.36 · 0.5 · 1/(0.33 · 60) = 10.146 cm²
    assert aspects[Aspect.WEB_AREA].demand[0] / 100 == pytest.approx(10.1465, rel=1e-4)


def test_ends_that_are_not_held_ask_for_more(known_craft: CraftRow, span: SpanRows) -> None:
    simple = replace(span, moment_factor=np.array([1.5]))
    held = judged(known_craft, span)[Aspect.MODULUS].utilisation[0]
    assert judged(known_craft, simple)[Aspect.MODULUS].utilisation[0] == pytest.approx(1.5 * held)
    assert Aspect.HARD_SPOT in found(known_craft, simple)
    assert Aspect.HARD_SPOT not in found(known_craft, span)


def test_proportions_of_hats(known_craft: CraftRow, span: SpanRows) -> None:
    aspects = found(known_craft, span)
    assert aspects[Aspect.WEB_SLENDERNESS].utilisation == pytest.approx(90 / 4 / 30)
    assert aspects[Aspect.CROWN_SLENDERNESS].utilisation == pytest.approx(60 / 5 / 20)
    free = found(known_craft, replace(span, free_edge=np.array([True])))[Aspect.CROWN_SLENDERNESS]
    assert free.verdict.value == "not judged"
    assert "free edge" in free.notes[0]


@pytest.mark.parametrize(
    ("t", "base", "s", "counted"), [(5, 60, 500, 150), (5, 200, 500, 180), (5, 60, 120, 120)]
)
def test_effective_plating_by_hand(t: float, base: float, s: float, counted: float) -> None:
    rows = PlatingRows(
        s=np.array([s]),
        lu=np.array([1000.0]),
        base_width=np.array([base]),
        t=np.array([t]),
        sandwich=np.array([False]),
    )
    assert METHOD.plating(rows)[0] == pytest.approx(counted)  # 18 t and the base, itself to 18 t


def test_sandwich_by_hand(known_craft: CraftRow, sandwich: SandwichRows) -> None:
    aspects = judged(known_craft, sandwich)
    # M = P k b²/6 = 0.084646 · 0.497 · 160 000/6 = 1121.8 N; outer skin 0.33 · 120: 1121.8/39.6 mm³/mm
    assert aspects[Aspect.OUTER_SKIN].demand[0] == pytest.approx(28.33, rel=1e-3)
    # q b/2 = 0.084646 · 200 = 16.929 N/mm over 0.33 · 1.0
    assert aspects[Aspect.CORE_SHEAR].demand[0] == pytest.approx(51.30, rel=1e-3)
    assert aspects[Aspect.CORE_SHEAR].capacity[0] == pytest.approx(22.5)
    # I = b³ P k3/(12 000 · 0.015 · E): 64e6 · 84.646 · 0.028/(180 · 11 000) mm⁴/mm
    assert aspects[Aspect.STIFFNESS].demand[0] == pytest.approx(76.61, rel=2e-3)


@pytest.mark.parametrize("surface", [Surface.SIDE, Surface.DECK, Surface.BULKHEAD, Surface.TANK])
@pytest.mark.parametrize("kind", ["panel", "sandwich", "span"])
def test_other_surfaces_are_not_judged_for_strength_and_say_so(
    known_craft: CraftRow, kind: str, surface: Surface, request: pytest.FixtureRequest
) -> None:
    rows = replace(request.getfixturevalue(kind), surface=surface)
    open_now = [one for one in found(known_craft, rows).values() if one.verdict.value == "not judged"]
    assert any(f"has no {surface.value} pressure" in one.notes[0] for one in open_now)
    loaded = {Aspect.THICKNESS, Aspect.PLY_STRENGTH, Aspect.OUTER_SKIN, Aspect.CORE_SHEAR, Aspect.MODULUS}
    judged_now = {a for a, one in found(known_craft, rows).items() if one.utilisation is not None}
    assert not loaded & judged_now


def test_every_finding_under_load_says_what_was_assumed(known_craft: CraftRow, panel: PanelRows) -> None:
    for finding in found(known_craft, panel).values():
        said = " ".join(finding.notes)
        for words in ("fit of other rules", "weak memory", "chine beam", "edition is not known"):
            assert words in said
        assert finding.known is Known.MEMORY_L


def test_parts_are_symbols_of_the_workings(known_craft: CraftRow, panel: PanelRows, span: SpanRows) -> None:
    panel_steps = {step.formula.symbol for step in found(known_craft, panel)[Aspect.THICKNESS].steps}
    span_steps = {step.formula.symbol for step in found(known_craft, span)[Aspect.WEB_AREA].steps}
    assert set(METHOD.parts.values()) <= panel_steps | span_steps
    assert {METHOD.parts[part] for part in Part if part is not Part.DESIGN_SHEAR} <= panel_steps


@given(st.floats(5, 45), st.floats(0.1, 2), st.floats(0.2, 2), st.floats(1.0, 1.5))
def test_more_speed_wave_or_trim_never_asks_for_less(
    V: float, wave: float, draught: float, more: float
) -> None:
    places = np.array([0.0, 3000.0, 6000.0])
    base = CraftRow(
        category="C",
        LWL=6000.0,
        BC=2000.0,
        beta_04=math.radians(18),
        m_LDC=2000.0,
        V=V * 1852 / 3600,
        waterline_aft=0.0,
        wave_height=wave * 1000,
        trim=math.radians(4),
        draught=draught * 1000,
    )

    def P(craft: CraftRow) -> np.ndarray:
        n_cg, _ = acceleration(craft)
        K_V = pressures.length_factor.clause(places / 6000)
        return pressures.slamming_pressure.clause(2000, 6, 2, n_cg * K_V, 18, 18, 0.8)

    for changed in (
        replace(base, V=base.V * more),
        replace(base, wave_height=base.wave_height * more),
        replace(base, trim=base.trim * more),
    ):
        assert np.all(P(changed) >= P(base))
    assert np.all(np.diff(P(base)) >= 0)


def test_a_million_spans_are_one_batch(known_craft: CraftRow, span: SpanRows) -> None:
    count = 1_000_000
    lengths = np.linspace(500, 2000, count)

    def many(value: np.ndarray) -> np.ndarray:
        return np.broadcast_to(value, (count, *value.shape[1:]))

    changed = {name: many(getattr(span, name)) for name in span.__slots__ if _is_array(getattr(span, name))}
    batch = METHOD.judge_spans(known_craft, replace(span, **changed | {"lu": lengths}))
    alone = METHOD.judge_spans(known_craft, replace(span, lu=lengths[-1:]))
    for one, single in zip(batch, alone, strict=True):
        last = np.broadcast_to(one.utilisation, count)[-1]
        assert last == pytest.approx(np.broadcast_to(single.utilisation, 1)[0], nan_ok=True)
    assert np.all(np.diff(batch[0].utilisation) > 0)


def _is_array(value: Any) -> bool:
    return isinstance(value, np.ndarray)
