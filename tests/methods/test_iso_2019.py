"""The 2019 edition as far as known: what differs from 2008 by hand, what is carried over and said to be."""

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from stringerlab.craft import Category, Craft, Station
from stringerlab.layout import Surface
from stringerlab.methods import (
    Aspect,
    CraftRow,
    Finding,
    PanelRows,
    Part,
    SandwichRows,
    SpanRows,
    craft_row,
    findings,
    iso_12215_5_2019,
    method_named,
)
from stringerlab.methods.iso_12215_5_2008 import pressures
from stringerlab.methods.iso_12215_5_2008.form import FORM as EARLIER_FORM
from stringerlab.methods.iso_12215_5_2008.loading import load_factor, panel_loading
from stringerlab.workings import workings

METHOD = method_named("iso_12215_5_2019")
FORM = iso_12215_5_2019.FORM
OWN = "ISO 12215-5:2019"


@pytest.fixture
def beamy(craft: CraftRow) -> CraftRow:
    """1.8 m over the chines at the transom, 2 m at 0.4 of the waterline."""
    return replace(craft, BC_transom=1800.0, deck_height=900.0)


def pressure(craft: CraftRow, *, b: float = 400, x: float = 1800, sandwich: bool = False, form: Any) -> float:
    loading = panel_loading(
        craft, x=np.array([x]), b=np.array([b]), l=np.array([2 * b]), sandwich=sandwich, form=form
    )
    return float(loading.P[0]) * 1000


def judged(craft: CraftRow, rows: PanelRows | SandwichRows | SpanRows) -> tuple[Finding, ...]:
    with workings() as recording:
        if isinstance(rows, PanelRows):
            aspects = METHOD.judge_panels(craft, rows)
        elif isinstance(rows, SandwichRows):
            aspects = METHOD.judge_sandwiches(craft, rows)
        else:
            aspects = METHOD.judge_spans(craft, rows)
    return findings(METHOD, aspects, [("p1", "One")], recording)


def of(found: tuple[Finding, ...], aspect: Aspect) -> Finding:
    return next(each for each in found if each.aspect is aspect)


def test_load_factor_takes_the_chine_beam_at_the_transom_by_hand(beamy: CraftRow) -> None:
    # 0.32 (6/18 + 0.084)(50 − 20) 20² 1.8²/2000 = 0.1335467 · 30 · 0.648
    assert load_factor(beamy, form=FORM)[0] == pytest.approx(2.596147, rel=1e-6)
    assert load_factor(beamy)[0] == pytest.approx(2.94912)  # 2008's, with 2 m


def test_chine_beam_at_the_transom_comes_from_the_stations() -> None:
    craft = Craft(
        name="Wedge",
        category=Category.C,
        waterline_length=6000,
        waterline_aft=200,
        mass=2000,
        speed=20,
        stations=(
            Station(x=-100, keel_z=0, chine_y=800, chine_z=300),
            Station(x=6300, keel_z=0, chine_y=1440, chine_z=500),
        ),
    )
    # 800 + 640/6400 · 100 to either side at x = 0, + 0.1 · (2600 + 100) at 0.4 of the waterline
    row = craft_row(craft)
    assert (row.BC_transom, row.BC) == pytest.approx((2 * 810, 2 * 1070))


def test_planing_pressure_by_hand(beamy: CraftRow) -> None:
    # 0.1 · 2000/(6 · 1.8) (1 + √0.6 · 2.596147) · 0.440159 · 0.7505 = 18.51852 · 3.010967 · 0.330339
    assert pressure(beamy, form=FORM) == pytest.approx(18.4193, rel=1e-5)


def test_area_factor_has_no_floor_by_hand() -> None:
    # 0.1 · 2000^0.15/32^0.3 = 0.312719/2.828427, where 2008 holds at 0.25 and 0.4
    assert FORM.area_factor.clause(1.0, 2000, 32.0) == pytest.approx(0.110563, rel=1e-5)
    assert FORM.area_factor.clause(1.0, 2000, 0.001) == 1
    assert pressures.area_factor.clause(1.0, 2000, 32.0) == 0.25


def test_a_large_sandwich_panel_is_under_less_than_in_2008(beamy: CraftRow) -> None:
    same = replace(beamy, BC_transom=beamy.BC)
    small, large = (
        pressure(same, b=b, sandwich=True, form=FORM) / pressure(same, b=b, sandwich=True, form=EARLIER_FORM)
        for b in (400.0, 900.0)
    )
    assert small == pytest.approx(1)
    # A_D = 2 · 0.9² = 1.62: 0.312719/1.62^0.3 = 0.270587 against the floor of 0.4
    assert large == pytest.approx(0.270587 / 0.4, rel=1e-4)


def test_design_stress_by_hand(beamy: CraftRow, panel: PanelRows) -> None:
    # σd = 0.5 · 160 · 0.9 = 72: 400 √(18.4193 · 0.497354/72 000)
    thickness = of(judged(beamy, panel), Aspect.THICKNESS)
    assert thickness.demand == pytest.approx(4.51193, rel=1e-4)
    assert thickness.known.value == "memory L"


def test_every_design_stress_takes_the_factor(
    beamy: CraftRow, sandwich: SandwichRows, span: SpanRows
) -> None:
    core = of(judged(beamy, sandwich), Aspect.CORE_STRENGTH)
    assert core.capacity == pytest.approx(0.45)  # 0.5 · 1.0 · 0.9
    wrinkling = of(judged(beamy, sandwich), Aspect.SKIN_WRINKLING)
    assert wrinkling.capacity == pytest.approx(0.9 * 0.3 * 28.8e6 ** (1 / 3))
    for rows, aspects in (
        (sandwich, (Aspect.OUTER_SKIN, Aspect.INNER_SKIN, Aspect.CORE_SHEAR)),
        (span, (Aspect.MODULUS, Aspect.WEB_AREA)),
    ):
        for aspect in aspects:
            symbols = [step.formula.symbol for step in of(judged(beamy, rows), aspect).steps]
            assert "k_AM" in symbols


def test_curvature_of_unknown_worth_asks_for_no_less_than_a_flat_panel(
    beamy: CraftRow, panel: PanelRows, span: SpanRows
) -> None:
    words = "2019 counts curvature both ways by a factor not known here"
    for rows, rise, aspect in ((panel, 60.0, Aspect.THICKNESS), (span, 100.0, Aspect.MODULUS)):
        flat = of(judged(beamy, rows), aspect)
        curved = of(judged(beamy, replace(rows, camber=np.array([rise]))), aspect)
        assert curved.demand == flat.demand
        assert any(note.startswith(words) for note in curved.notes)
        assert not any(note.startswith(words) for note in flat.notes)


def test_factor_along_the_length_is_2008s_and_said_so_aft_of_its_full_place(
    beamy: CraftRow, panel: PanelRows
) -> None:
    assert FORM.length_factor.clause(0.3, 2.0) == pressures.length_factor.clause(0.3, 2.0)
    aft, fore = (
        of(judged(beamy, replace(panel, x=np.array([x]))), Aspect.THICKNESS) for x in (1800.0, 3600.0)
    )
    assert any(note.startswith("k_L is 2008's: 2019's is lower aft") for note in aft.notes)
    assert not any(note.startswith("k_L is 2008's") for note in fore.notes)


@pytest.mark.parametrize("surface", Surface)
def test_every_finding_says_what_is_2019s_and_what_is_carried_over(
    surface: Surface, beamy: CraftRow, panel: PanelRows, sandwich: SandwichRows, span: SpanRows
) -> None:
    for rows in (panel, sandwich, span):
        placed = replace(rows, surface=surface, height=np.array([300.0]), head=np.array([1200.0]))
        for finding in judged(beamy, placed):
            if finding.aspect is Aspect.BOND:
                continue
            assert any("carried over" in note for note in finding.notes), finding.aspect
            assert finding.method == "ISO 12215-5:2019 form, as far as known"
            stresses = {step.formula.symbol for step in finding.steps} & {"sigma_d", "tau_d", "sigma_w"}
            said = any(note.startswith("2019's own in the design stress: k_AM") for note in finding.notes)
            if stresses and finding.aspect is not Aspect.WEB_SLENDERNESS:
                assert said, finding.aspect


def test_sources_of_steps_name_the_edition_each_comes_from(beamy: CraftRow, panel: PanelRows) -> None:
    steps = of(judged(beamy, panel), Aspect.THICKNESS).steps
    titles = {step.formula.symbol: step.formula.source.title for step in steps}
    own = {symbol for symbol, title in titles.items() if title == OWN}
    assert own == {"k_DYN1", "k_DYN2", "k_DYN", "k_AR", "k_AM", "sigma_d"}
    assert titles["t_req"] == titles["k_L"] == titles["P_P"] == "ISO 12215-5:2008"
    assert titles["k_C"] == "stringerlab"
    assert {"n_CG", "B_C"}.isdisjoint(titles)


def test_parts_are_symbols_of_its_workings(beamy: CraftRow, panel: PanelRows, span: SpanRows) -> None:
    seen = {
        step.formula.symbol
        for rows in (panel, span)
        for finding in judged(beamy, rows)
        for step in finding.steps
    }
    assert METHOD.parts[Part.ACCELERATION] == "k_DYN"
    assert set(METHOD.parts.values()) <= seen


def test_without_the_beam_at_the_transom_nothing_under_slamming_is_judged(
    craft: CraftRow, panel: PanelRows
) -> None:
    thickness = of(judged(craft, panel), Aspect.THICKNESS)
    assert thickness.verdict.value == "not judged"
    assert thickness.notes[0] == "the chine beam this edition takes is not known"


def test_minima_are_2008s(beamy: CraftRow, panel: PanelRows) -> None:
    mass = of(judged(beamy, panel), Aspect.DRY_MASS)
    assert mass.demand == pytest.approx(1695.32, rel=1e-5)
    assert "this minimum or proportion is 2008's, carried over: 2019's is not known here" in mass.notes


def test_edition_is_said_to_be_known_in_part() -> None:
    assert METHOD.superseded.startswith("ISO 12215-5:2019 is known here in part")
    assert "2021" in METHOD.superseded
    assert METHOD.edition.startswith("2019")
