"""The class form of limiting fractions by hand: impact pressure, ply stress, wrinkling, what is left open."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

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
from stringerlab.methods.class_limits import Service, judge_panels, judge_spans, limits, pressures
from stringerlab.methods.class_limits.loading import loading
from stringerlab.workings import Known, workings

METHOD = method_named("class_limits")
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
    """The craft with wave height 0.5 m and trim 4°."""
    return replace(craft, wave_height=500.0, trim=np.radians(4.0))


def alike(panel: PanelRows) -> PanelRows:
    """The panel of one material, 6 mm: 100 in tension, 80 in compression."""
    plies = replace(
        panel.plies,
        E=np.full((1, 3), 8000.0),
        tension=np.full((1, 3), 100.0),
        compression=np.full((1, 3), 80.0),
    )
    return replace(panel, plies=plies)


def test_acceleration_by_hand() -> None:
    # L1 = 6 · 2²/2 = 12; Γ² = 20²/6 = 66.667
    assert pressures.loading_parameter.clause(6, 2, 2000) == pytest.approx(12)
    Gamma = pressures.speed_length_ratio.clause(20, 6)
    assert Gamma**2 == pytest.approx(400 / 6)
    # 0.0015 · 4 · 12 (0.25 + 0.084)(5 − 2) 66.667
    assert pressures.acceleration.clause(4, 12, 0.5, 2, 20, Gamma) == pytest.approx(4.8096)


def test_impact_pressure_by_hand() -> None:
    # girth 2/cos 20° = 2.128355; 54 · 2 (1 + 4.8096)/(6 · 2.128355)
    assert pressures.support_girth.clause(2, 20) == pytest.approx(2.128355, rel=1e-6)
    assert pressures.impact_pressure.clause(2000, 4.8096, 6, 2.128355) == pytest.approx(49.1332, rel=1e-5)


def test_impact_pressure_is_near_heller_and_jaspers() -> None:
    # p0 = 3 W (1 + n)/(L G) over the half girth: 3 · 9.80665 · 2 = 58.84 kN/m² to 54
    W = 2.0 * 9.80665
    p0 = 3 * W * (1 + 4) / (6 * 1.0)
    assert pressures.impact_pressure.clause(2000, 4, 6, 2.0) == pytest.approx(p0, rel=0.1)


def test_pressure_of_the_craft_by_hand(known_craft: CraftRow) -> None:
    loaded = loading(known_craft, Surface.BOTTOM, 2, Service.HEAVIER)
    assert pytest.approx([49.1332, 49.1332], rel=1e-5) == loaded.P / KPA


def test_ply_stress_by_hand(known_craft: CraftRow, panel: PanelRows) -> None:
    # M = P b²/12 = 0.0491332 · 160 000/12 = 655.11; σ = 6 M/t² = 109.19; limit 0.25 · 80
    strength = judged(known_craft, alike(panel))[Aspect.PLY_STRENGTH]
    assert strength.demand[0] == pytest.approx(109.185, rel=1e-4)
    assert strength.capacity[0] == pytest.approx(20.0)
    assert strength.governing is not None
    assert strength.governing.name(0).endswith("in compression")


def test_lighter_service_allows_more(known_craft: CraftRow, panel: PanelRows, span: SpanRows) -> None:
    # 0.28 · 80 for plating; crown in compression 60: 0.30 and 0.33 for stiffening
    light = judge_panels(known_craft, alike(panel), Service.LIGHTER)[0]
    assert light.capacity[0] == pytest.approx(22.4)
    heavy, lighter = (judge_spans(known_craft, span, one)[0] for one in (Service.HEAVIER, Service.LIGHTER))
    assert lighter.utilisation[0] == pytest.approx(heavy.utilisation[0] * 0.30 / 0.33)
    notes = found(known_craft, panel)[Aspect.PLY_STRENGTH].notes
    assert any("limiting fractions of heavier service: a choice" in note for note in notes)


def test_least_interlaminar_strength(known_craft: CraftRow, panel: PanelRows) -> None:
    finding = found(known_craft, panel)[Aspect.INTERLAMINAR_SHEAR]
    assert finding.utilisation == pytest.approx(13.8 / 14)  # the roving's 14
    assert finding.governs == "ply 2: roving"
    unknown = replace(panel, plies=replace(panel.plies, interlaminar=np.array([[17.0, np.nan, 17.0]])))
    assert found(known_craft, unknown)[Aspect.INTERLAMINAR_SHEAR].verdict.value == "not judged"


def test_modulus_and_web_area_by_hand(known_craft: CraftRow, span: SpanRows) -> None:
    aspects = judged(known_craft, span)
    # P s l²/12 = 0.0491332 · 500 · 1e6/12 = 2.047217e6; over 0.30 · 60: 113.734 cm³
    assert aspects[Aspect.MODULUS].demand[0] / 1e3 == pytest.approx(113.734, rel=1e-4)
    # P s l/2 = 12 283.3 N over 0.30 · 60 = 682.4 mm²
    assert aspects[Aspect.WEB_AREA].demand[0] == pytest.approx(682.405, rel=1e-4)


def test_modulus_is_the_stress_in_the_ply_over_its_limit(known_craft: CraftRow, span: SpanRows) -> None:
    M = loading(known_craft, Surface.BOTTOM, 1, Service.HEAVIER).P[0] * 500 * 1000**2 / 12
    stress = 10_000 * M * 80 / 2e10
    assert judged(known_craft, span)[Aspect.MODULUS].utilisation[0] == pytest.approx(stress / (0.30 * 60))


def test_sandwich_by_hand(known_craft: CraftRow, sandwich: SandwichRows) -> None:
    aspects = judged(known_craft, sandwich)
    # M = 655.11; outer 0.25 · 120 = 30, inner 0.25 · 140 = 35
    assert aspects[Aspect.OUTER_SKIN].demand[0] == pytest.approx(655.109 / 30, rel=1e-4)
    assert aspects[Aspect.INNER_SKIN].demand[0] == pytest.approx(655.109 / 35, rel=1e-4)
    # q b/2 = 9.82664 N/mm over 0.25 · 1.0
    assert aspects[Aspect.CORE_SHEAR].demand[0] == pytest.approx(39.3066, rel=1e-4)


def test_wrinkling_by_hand(known_craft: CraftRow, sandwich: SandwichRows) -> None:
    # skins alike, 3 mm at 10 000: d = 23 between middles; I = 2 (3³/12 + 3 · 11.5²) = 798; σ = M · 13/798
    both = replace(sandwich, t_i=np.array([3.0]), E_i=np.array([10_000.0]))
    one = judged(known_craft, both)[Aspect.SKIN_WRINKLING]
    assert one.demand[0] == pytest.approx(655.109 * 13 / 798, rel=1e-4)
    # 0.25 · 0.5 (10 000 · 80 · 30)^⅓ = 0.125 · 288.450
    assert one.capacity[0] == pytest.approx(36.0562, rel=1e-5)


@pytest.mark.parametrize(
    ("t", "base", "s", "counted"), [(9.132, 120, 900, 302.64), (9.132, 120, 250, 250), (5, 0, 500, 100)]
)
def test_attached_plating_by_hand(t: float, base: float, s: float, counted: float) -> None:
    rows = PlatingRows(
        s=np.array([s]),
        lu=np.array([1000.0]),
        base_width=np.array([base]),
        t=np.array([t]),
        sandwich=np.array([False]),
    )
    assert METHOD.plating(rows)[0] == pytest.approx(counted)  # each side 0.5 · 120 + 10 · 9.132 = 151.32


@pytest.mark.parametrize("kind", ["panel", "sandwich", "span"])
def test_without_a_wave_height_nothing_under_load_is_judged(
    craft: CraftRow, kind: str, request: pytest.FixtureRequest
) -> None:
    rows = request.getfixturevalue(kind)
    named = {
        a for a, one in found(craft, rows).items() if any("wave height is not given" in n for n in one.notes)
    }
    under_load = {
        "panel": {Aspect.PLY_STRENGTH},
        "sandwich": {Aspect.OUTER_SKIN, Aspect.INNER_SKIN, Aspect.CORE_SHEAR, Aspect.SKIN_WRINKLING},
        "span": {Aspect.MODULUS, Aspect.WEB_AREA},
    }[kind]
    assert named == under_load
    for aspect in under_load:
        assert found(craft, rows)[aspect].verdict.value == "not judged"


@pytest.mark.parametrize("surface", [Surface.SIDE, Surface.DECK, Surface.BULKHEAD, Surface.TANK])
@pytest.mark.parametrize("kind", ["panel", "sandwich", "span"])
def test_other_surfaces_have_no_pressure_and_say_so(
    known_craft: CraftRow, kind: str, surface: Surface, request: pytest.FixtureRequest
) -> None:
    rows = replace(request.getfixturevalue(kind), surface=surface)
    judged_now = {a for a, one in found(known_craft, rows).items() if one.utilisation is not None}
    assert judged_now <= {Aspect.INTERLAMINAR_SHEAR}
    assert any(
        one.notes[0].endswith(f"has no {surface.value} pressure") for one in found(known_craft, rows).values()
    )


def test_missing_trim_is_the_least_and_said(known_craft: CraftRow, panel: PanelRows) -> None:
    unknown, least = replace(known_craft, trim=np.nan), replace(known_craft, trim=np.radians(3.0))
    by = [judged(one, panel)[Aspect.PLY_STRENGTH].demand[0] for one in (unknown, least)]
    assert by[0] == pytest.approx(by[1])
    assert (
        "running trim not given: the rules' least, 3 deg" in found(unknown, panel)[Aspect.PLY_STRENGTH].notes
    )


def test_every_finding_under_load_says_where_its_pressure_comes_from(
    known_craft: CraftRow, panel: PanelRows, span: SpanRows
) -> None:
    for rows, aspect in ((panel, Aspect.PLY_STRENGTH), (span, Aspect.MODULUS), (span, Aspect.WEB_AREA)):
        finding = found(known_craft, rows)[aspect]
        said = " ".join(finding.notes)
        for words in ("pressure is from weak memory", "own ply moduli", "edition is not known"):
            assert words in said
        assert finding.known is Known.MEMORY_L


def test_slow_craft_is_said_to_be_outside(known_craft: CraftRow, panel: PanelRows) -> None:
    notes = found(replace(known_craft, V=3.0), panel)[Aspect.PLY_STRENGTH].notes
    assert any("is outside at least 3" in note and "displacement craft" in note for note in notes)


def test_more_sea_or_speed_asks_for_more(known_craft: CraftRow, panel: PanelRows) -> None:
    def use(craft: CraftRow) -> float:
        return float(judged(craft, panel)[Aspect.PLY_STRENGTH].utilisation[0])

    for changed in ({"wave_height": 700.0}, {"V": 12.0}, {"trim": np.radians(5.0)}):
        assert use(replace(known_craft, **changed)) > use(known_craft)


def test_limiting_stress_is_the_fraction_of_the_ultimate() -> None:
    assert limits.limiting_stress.clause(limits.bottom_fraction.clause(1.0), 100) == 25
    assert limits.limiting_stress.clause(limits.stiffening_fraction.clause(1.0), 100) == 30


def test_parts_are_symbols_of_the_workings(known_craft: CraftRow, panel: PanelRows, span: SpanRows) -> None:
    of_panel = {step.formula.symbol for step in found(known_craft, panel)[Aspect.PLY_STRENGTH].steps}
    of_span = {step.formula.symbol for step in found(known_craft, span)[Aspect.WEB_AREA].steps}
    assert set(METHOD.parts.values()) <= of_panel | of_span
    assert METHOD.parts[Part.PRESSURE] in of_panel & of_span


def test_a_million_panels_are_one_batch(known_craft: CraftRow, panel: PanelRows) -> None:
    count = 1_000_000
    widths = np.linspace(200, 800, count)

    def many(value: np.ndarray) -> np.ndarray:
        return np.broadcast_to(value, (count, *value.shape[1:]))

    plies = {
        name: many(getattr(panel.plies, name))
        for name in ("t", "E", "tension", "compression", "interlaminar")
    }
    rows = replace(
        panel, b=widths, camber=many(panel.camber), t=many(panel.t), plies=replace(panel.plies, **plies)
    )
    batch = METHOD.judge_panels(known_craft, rows)
    alone = METHOD.judge_panels(known_craft, replace(panel, b=widths[-1:]))
    assert batch[0].utilisation[-1] == pytest.approx(alone[0].utilisation[0])
    assert np.all(np.diff(batch[0].utilisation) > 0)
