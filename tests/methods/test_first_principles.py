"""First principles: pressures, averages, cyclic loads, plating by shear lag."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import pytest

from stringerlab.layout.records import Duty, Surface
from stringerlab.methods import (
    Aspect,
    CraftRow,
    Judged,
    PanelRows,
    PlatingRows,
    SpanRows,
    available,
    method_named,
)
from stringerlab.methods.first_principles import METHOD, Average, judge_panels, judge_spans, pressures
from stringerlab.methods.first_principles import plating as lag
from stringerlab.methods.first_principles.loading import acceleration, panel_loading


@pytest.fixture
def sea(craft: CraftRow) -> CraftRow:
    """The craft in half a metre of waves, with a draught and a trim."""
    return replace(craft, wave_height=500.0, draught=500.0, trim=np.radians(4))


def of(judged: Sequence[Judged], aspect: Aspect) -> Judged:
    return next(one for one in judged if one.aspect is aspect)


def test_it_stands_beside_the_other_methods() -> None:
    assert "first_principles" in available()
    assert method_named("first_principles") is METHOD


def test_without_waves_nothing_is_judged_and_it_says_so(craft: CraftRow, panel: PanelRows) -> None:
    judged = judge_panels(replace(craft, wave_height=np.nan), panel)
    assert all(np.isnan(one.utilisation).all() for one in judged)
    assert all("wave height" in one.missing for one in judged)


def test_rarer_impacts_are_harder_by_one_plus_the_logarithm(sea: CraftRow) -> None:
    mean = acceleration(sea, Average.ALL)
    assert acceleration(sea, Average.TENTH) / mean == pytest.approx(1 + np.log(10))
    assert acceleration(sea, Average.HUNDREDTH) / acceleration(sea, Average.TENTH) == pytest.approx(
        1.697, abs=1e-3
    )


def test_a_larger_area_feels_less_of_the_greatest_pressure(sea: CraftRow, panel: PanelRows) -> None:
    small, large = (
        panel_loading(sea, replace(panel, b=panel.b * k, l=panel.l * k), Average.TENTH).P for k in (1, 2)
    )
    assert large < small


def test_without_a_draught_heller_and_jasper_hold_whatever_the_area(sea: CraftRow, panel: PanelRows) -> None:
    dry = replace(sea, draught=np.nan)
    small, large = (
        panel_loading(dry, replace(panel, b=panel.b * k, l=panel.l * k), Average.TENTH) for k in (1, 2)
    )
    assert small.P == large.P
    assert "Heller and Jasper" in small.remarks[0].text


def test_a_tank_lands_heavier_than_a_bulkhead_stands(sea: CraftRow, panel: PanelRows) -> None:
    under = {
        surface: panel_loading(
            sea, replace(panel, surface=surface, head=np.array([1000.0])), Average.TENTH
        ).P.item()
        for surface in (Surface.BULKHEAD, Surface.TANK)
    }
    assert under[Surface.BULKHEAD] == pytest.approx(1025.9 * 9.80665e-6, rel=1e-4)
    assert under[Surface.TANK] / under[Surface.BULKHEAD] == pytest.approx(1 + acceleration(sea).item())


def test_a_deck_has_no_pressure_here(sea: CraftRow, panel: PanelRows) -> None:
    loaded = panel_loading(sea, replace(panel, surface=Surface.DECK), Average.TENTH)
    assert np.isnan(loaded.P).all()
    assert loaded.missing


def test_the_crown_fails_in_compression_at_the_end(sea: CraftRow, span: SpanRows) -> None:
    """Fibre 1: 10 000 MPa at 80 mm, 60 MPa in compression; at the end twice the moment of mid-span."""
    modulus = of(judge_spans(sea, span), Aspect.MODULUS)
    assert modulus.governing is not None
    assert modulus.governing.name(0) == "crown ply 1, at the end"
    assert modulus.capacity == pytest.approx(2e10 / (10000 * 80))
    assert modulus.demand * 60 / 1.5 == pytest.approx(_moment(sea, span) / 12)


def test_a_simple_span_fails_in_tension_within(sea: CraftRow, span: SpanRows) -> None:
    simple = replace(
        span, end_factor=np.array([0.0]), middle_factor=np.array([1.5]), moment_factor=np.array([1.5])
    )
    modulus = of(judge_spans(sea, simple), Aspect.MODULUS)
    assert modulus.governing is not None
    assert modulus.governing.name(0) == "crown ply 1, within the span"
    assert modulus.demand * 100 / 1.5 == pytest.approx(_moment(sea, span) / 8)


def _moment(sea: CraftRow, span: SpanRows) -> float:
    """P s l², the pressure from the web's shear at held ends."""
    web = of(judge_spans(sea, span), Aspect.WEB_AREA)
    return (web.demand * 60 / 1.5 * 2 * span.lu).item()


def test_beds_under_machinery_are_held_to_a_strain_and_others_are_not(sea: CraftRow, span: SpanRows) -> None:
    plain = of(judge_spans(sea, replace(span, duties=(Duty.NORMAL,))), Aspect.CYCLIC_STRAIN)
    assert not np.any(plain.applies)
    bed = of(judge_spans(sea, replace(span, duties=(Duty.ENGINE_BED,))), Aspect.CYCLIC_STRAIN)
    gyro = of(judge_spans(sea, replace(span, duties=(Duty.GYRO,))), Aspect.CYCLIC_STRAIN)
    assert np.all(bed.applies)
    assert gyro.utilisation > bed.utilisation
    assert bed.demand == pytest.approx(_moment(sea, span) / 12 * 80 / 2e10)


@pytest.mark.parametrize(("n", "m_LDC", "T"), [(3.0, 6000.0, 0.5), (5.0, 1200.0, 0.3), (1.0, 20_000.0, 0.9)])
def test_pressure_over_the_whole_reference_area_carries_the_craft_at_its_acceleration(
    n: float, m_LDC: float, T: float
) -> None:
    A_R = pressures.reference_area.clause(m_LDC=m_LDC, T=T)
    K_D = pressures.area_factor.clause(A_D=A_R, A_R=A_R)
    P = pressures.impact_pressure.clause(n_N=n, m_LDC=m_LDC, A_R=A_R, K_D=K_D, F_L=1.0)
    assert float(P * A_R) * 1000 == pytest.approx(n * m_LDC * 9.80665, rel=1e-3)


def test_narrow_plating_works_whole_and_wide_plating_less_at_supports() -> None:
    rows = PlatingRows(
        s=np.array([20.0, 500.0]),
        lu=np.array([1000.0, 1000.0]),
        base_width=np.zeros(2),
        t=np.full(2, 6.0),
        sandwich=np.zeros(2, bool),
    )
    narrow, wide = METHOD.plating(rows)
    assert narrow == pytest.approx(20)
    assert wide == pytest.approx(500 * lag.part_at_support(kappa=0.5))
    assert lag.part_at_support(kappa=0.5) < lag.part_at_middle(kappa=0.5) < 1


def test_shear_soft_plating_works_less() -> None:
    rows = PlatingRows(
        s=np.array([500.0]), lu=np.array([1000.0]), base_width=np.zeros(1), t=np.full(1, 6.0),
        sandwich=np.zeros(1, bool),
    )  # fmt: skip
    stiff = METHOD.plating(replace(rows, E_G=np.array([1.0])))
    soft = METHOD.plating(replace(rows, E_G=np.array([6.0])))
    assert soft < METHOD.plating(rows) < stiff
