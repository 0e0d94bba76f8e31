"""Stiffener formulas by hand, ends, and spans judged."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stringerlab.layout import End
from stringerlab.methods import (
    Aspect,
    CraftRow,
    Finding,
    Judged,
    PlatingRows,
    SpanRows,
    end_factors,
    findings,
    method_named,
)
from stringerlab.methods.iso_12215_5_2008 import stiffeners
from stringerlab.methods.iso_12215_5_2008.loading import stiffener_loading
from stringerlab.workings import workings

METHOD = method_named("iso_12215_5_2008")
HELD, SIMPLE, FREE = End.HELD, End.SIMPLE, End.FREE


def judged(craft: CraftRow, rows: SpanRows) -> dict[Aspect, Judged]:
    return {one.aspect: one for one in METHOD.judge_spans(craft, rows)}


def found(craft: CraftRow, rows: SpanRows) -> dict[Aspect, Finding]:
    with workings() as recording:
        aspects = METHOD.judge_spans(craft, rows)
    return {one.aspect: one for one in findings(METHOD, aspects, [("s1", "Aft")], recording)}


def ended(rows: SpanRows, *ends: End) -> SpanRows:
    factors = end_factors([(ends[0], ends[1])])
    return replace(
        rows,
        moment_factor=factors.moment,
        shear_factor=factors.shear,
        deflection_factor=factors.deflection,
    )


def pressure(craft: CraftRow, rows: SpanRows) -> float:
    return float(stiffener_loading(craft, x=rows.x, lu=rows.lu, s=rows.s).P[0])


def test_required_modulus_by_hand() -> None:
    # 83.33 · 20 · 500 · 1000² · 1e-9/50
    assert stiffeners.held_modulus.clause(1, 20, 500, 1000, 50) == pytest.approx(16.666)
    assert stiffeners.held_modulus(1.0, 0.020, 500.0, 1000.0, 50.0) == pytest.approx(16_666.0)  # mm³


def test_required_web_area_by_hand() -> None:
    assert stiffeners.held_web_area.clause(5, 20, 500, 1000, 25) == pytest.approx(2.0)
    assert stiffeners.held_web_area(5.0, 0.020, 500.0, 1000.0, 25.0) == pytest.approx(200.0)  # mm²


def test_required_stiffness_by_hand() -> None:
    # 26 · 20 · 500 · 1000³ · 1e-11/0.05
    assert stiffeners.held_stiffness.clause(1, 20, 500, 1000) == pytest.approx(52_000)
    assert stiffeners.held_stiffness(1.0, 0.020, 500.0, 1000.0) == pytest.approx(5.2e8)  # N·mm²


def test_floating_stiffener_needs_half_as_much_web_again() -> None:
    assert list(stiffeners.shear_area_factor.clause(np.array([True, False]))) == [5, 7.5]


@pytest.mark.parametrize(("camber", "factor"), [(20, 1), (100, 0.767), (300, 0.5)])
def test_curved_stiffener(camber: float, factor: float) -> None:
    assert stiffeners.curvature_factor.clause(camber, 1000) == pytest.approx(factor)  # 1.1 − 0.333


def test_modulus_is_judged_at_the_governing_ply(craft: CraftRow, span: SpanRows) -> None:
    modulus = judged(craft, span)[Aspect.MODULUS]
    # crown: E z = 800 000, half of 60; shell 240 000, half of 40; EI 2e10
    M = pressure(craft, span) * 500 * 1000**2 / 12
    assert modulus.capacity[0] == pytest.approx(25_000)
    assert modulus.utilisation[0] == pytest.approx(M * 800_000 / 2e10 / 30, rel=1e-4)
    assert modulus.governing is not None
    assert modulus.governing.name(0) == "crown ply 1, in compression"


def test_both_signs_count_at_every_ply(craft: CraftRow, span: SpanRows) -> None:
    weak = replace(span, fibre_tension=np.array([[100.0, 4.0, np.nan]]))
    governing = judged(craft, weak)[Aspect.MODULUS].governing
    assert governing is not None
    assert governing.name(0) == "shell ply 1, in tension"


def test_ply_without_stiffness_does_not_govern_nor_hide_a_missing_one(
    craft: CraftRow, span: SpanRows
) -> None:
    foam = replace(span, fibre_E=np.array([[10000.0, 8000.0, 0.0]]), fibre_z=np.array([[80.0, -30.0, 70.0]]))
    assert judged(craft, foam)[Aspect.MODULUS].utilisation == judged(craft, span)[Aspect.MODULUS].utilisation
    unknown = replace(span, fibre_tension=np.array([[100.0, np.nan, np.nan]]))
    finding = found(craft, unknown)[Aspect.MODULUS]
    assert (finding.verdict.value, finding.utilisation) == ("not judged", None)
    assert "strength is missing" in finding.notes[0]


@pytest.mark.parametrize(
    ("ends", "moment", "shear", "deflection"),
    [
        ((HELD, HELD), 1, 1, 1),
        ((HELD, SIMPLE), 1.5, 1.25, 384 / 185),
        ((SIMPLE, SIMPLE), 1.5, 1, 5),
        ((FREE, HELD), 6, 2, 48),
    ],
)
def test_ends_change_what_is_asked(
    craft: CraftRow,
    span: SpanRows,
    ends: tuple[End, End],
    moment: float,
    shear: float,
    deflection: float,
) -> None:
    for pair in (ends, ends[::-1]):
        now, held = judged(craft, ended(span, *pair)), judged(craft, span)
        for aspect, factor in (
            (Aspect.MODULUS, moment),
            (Aspect.WEB_AREA, shear),
            (Aspect.STIFFNESS, deflection),
        ):
            assert now[aspect].utilisation[0] == pytest.approx(factor * held[aspect].utilisation[0])


@pytest.mark.parametrize("ends", [(FREE, SIMPLE), (FREE, FREE)])
def test_mechanism_is_not_judged_and_says_so(craft: CraftRow, span: SpanRows, ends: tuple[End, End]) -> None:
    finding = found(craft, ended(span, *ends))[Aspect.MODULUS]
    assert finding.verdict.value == "not judged"
    assert any("mechanism" in note for note in finding.notes)


def test_own_factor_is_called_so_only_where_an_end_is_not_held(craft: CraftRow, span: SpanRows) -> None:
    note = "an end is not held: our own factor on the standard's form"
    assert note not in found(craft, span)[Aspect.MODULUS].notes
    assert note in found(craft, ended(span, HELD, SIMPLE))[Aspect.MODULUS].notes


def test_hard_spot_is_found_only_where_an_end_is_not_held(craft: CraftRow, span: SpanRows) -> None:
    assert Aspect.HARD_SPOT not in found(craft, span)
    for ends in ((HELD, SIMPLE), (SIMPLE, SIMPLE), (HELD, FREE), (FREE, FREE)):
        finding = found(craft, ended(span, *ends))[Aspect.HARD_SPOT]
        assert finding.verdict.value == "not judged"
        assert "hard spot" in finding.notes[0]


def test_bond_is_not_judged_and_says_so(craft: CraftRow, span: SpanRows) -> None:
    finding = found(craft, span)[Aspect.BOND]
    assert (finding.verdict.value, finding.demand, finding.capacity) == ("not judged", None, None)
    assert finding.notes[0].startswith("the method has no bond check here")


def test_web_limit_is_relaxed_by_spare_shear_capacity_only() -> None:
    # 30 √(A/A_req), never below 30
    limits = stiffeners.web_limit.clause(np.array([4.0, 1.0, 0.25]), np.array([1.0, 1.0, 1.0]))
    assert list(limits) == [60, 30, 30]


def test_web_area_and_slenderness_by_hand(craft: CraftRow, span: SpanRows) -> None:
    aspects = judged(craft, span)
    required = 5 * pressure(craft, span) * 500 * 1000 / 30 / 10  # k_SA P s lu/τd, P in N/mm²: V = ½ P s lu
    assert aspects[Aspect.WEB_AREA].demand[0] == pytest.approx(required)
    limit = 30 * (600 / required) ** 0.5
    assert aspects[Aspect.WEB_SLENDERNESS].utilisation[0] == pytest.approx(90 / 4 / limit)


@pytest.mark.parametrize(("free", "limit"), [(False, 20), (True, 7)])
def test_crown_proportion(craft: CraftRow, span: SpanRows, free: bool, limit: float) -> None:
    crown = judged(craft, replace(span, free_edge=np.array([free])))[Aspect.CROWN_SLENDERNESS]
    assert crown.utilisation[0] == pytest.approx(60 / 5 / limit)


def test_section_without_crown_has_no_crown_finding(craft: CraftRow, span: SpanRows) -> None:
    bare = replace(span, crown_width=np.array([np.nan]), crown_thickness=np.array([np.nan]))
    assert Aspect.CROWN_SLENDERNESS not in found(craft, bare)
    assert Aspect.CROWN_SLENDERNESS in found(craft, span)


def test_no_web_is_not_judged(craft: CraftRow, span: SpanRows) -> None:
    bare = replace(span, web_area=np.array([0.0]))
    assert found(craft, bare)[Aspect.WEB_AREA].verdict.value == "not judged"


@pytest.mark.parametrize(
    ("t", "base", "s", "counted"),
    [(5, 100, 500, 200), (5, 0, 500, 100), (5, 100, 180, 180)],
)
def test_counted_plating_by_hand(t: float, base: float, s: float, counted: float) -> None:
    rows = PlatingRows(
        s=np.array([s]),
        lu=np.array([1000.0]),
        base_width=np.array([base]),
        t=np.array([t]),
        sandwich=np.array([False]),
    )
    assert METHOD.plating(rows)[0] == counted  # 20 t and the base, no more than the spacing


@given(st.floats(1, 3))
def test_twice_the_spacing_asks_for_more(more: float) -> None:
    def demand(s: float) -> float:
        return float(stiffeners.held_modulus.clause(1, 20, s, 1000, 50))

    assert demand(500 * more) == pytest.approx(more * demand(500))
