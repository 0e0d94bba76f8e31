"""Panels and spans of every surface judged: same requirements, each surface's own pressure and minima."""

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
    Method,
    PanelRows,
    SandwichRows,
    SpanRows,
    findings,
    method_named,
)
from stringerlab.methods.iso_12215_5_2008 import dry_mass, panels
from stringerlab.methods.iso_12215_5_2008.loading import panel_loading, stiffener_loading
from stringerlab.workings import workings

METHODS = ("iso_12215_5_2008", "iso_12215_5_2019")
OFF_BOTTOM = tuple(surface for surface in Surface if surface is not Surface.BOTTOM)
LOADED = {
    "panel": (Aspect.THICKNESS, Aspect.PLY_STRENGTH, Aspect.INTERLAMINAR_SHEAR),
    "sandwich": (
        Aspect.OUTER_SKIN,
        Aspect.INNER_SKIN,
        Aspect.STIFFNESS,
        Aspect.CORE_SHEAR,
        Aspect.SKIN_WRINKLING,
    ),
    "span": (Aspect.MODULUS, Aspect.WEB_AREA, Aspect.STIFFNESS),
}
OWN = {
    Surface.BOTTOM: {"P", "P_D", "P_P", "P_min"},
    Surface.SIDE: {"P", "k_Z", "P_s_D", "P_s_P", "P_s_min", "P_dk_base", "P_D_base", "P_P_base"},
    Surface.DECK: {"P", "P_dk_D", "P_dk_P", "P_dk_min", "P_dk_base"},
    Surface.BULKHEAD: {"P"},
    Surface.TANK: {"P"},
}
"""Symbols of each surface's own formulas."""


@pytest.fixture
def decked(craft: CraftRow) -> CraftRow:
    return replace(craft, deck_height=900.0, BC_transom=1800.0)


def on(rows: Any, surface: Surface) -> Any:
    """The rows as a part of that surface, 300 mm up, under 1200 mm of water."""
    return replace(rows, surface=surface, height=np.array([300.0]), head=np.array([1200.0]))


def judge(method: Method, kind: str) -> Callable[[CraftRow, Any], Sequence[Judged]]:
    return {"panel": method.judge_panels, "sandwich": method.judge_sandwiches, "span": method.judge_spans}[
        kind
    ]


def found(method: Method, kind: str, craft: CraftRow, rows: Any) -> dict[Aspect, Finding]:
    with workings() as recording:
        aspects = judge(method, kind)(craft, rows)
    return {one.aspect: one for one in findings(method, aspects, [("p1", "One")], recording)}


@pytest.mark.parametrize("id", METHODS)
@pytest.mark.parametrize("kind", LOADED)
@pytest.mark.parametrize("surface", Surface)
def test_every_surface_is_judged_by_its_own_formulas(
    id: str,  # noqa: A002
    kind: str,
    surface: Surface,
    decked: CraftRow,
    request: pytest.FixtureRequest,
) -> None:
    method = method_named(id)
    rows = on(request.getfixturevalue(kind), surface)
    every = found(method, kind, decked, rows)
    for aspect in LOADED[kind]:
        finding = every[aspect]
        assert finding.utilisation is not None
        assert finding.utilisation > 0
        symbols = {step.formula.symbol for step in finding.steps}
        assert OWN[surface] <= symbols
        for other in (Surface.SIDE, Surface.DECK):
            assert not (OWN[other] - OWN[surface]) & symbols
    if kind == "span":
        assert every[Aspect.BOND].verdict.value == "not judged"
        assert Aspect.HARD_SPOT not in every


@pytest.mark.parametrize("surface", Surface)
def test_requirements_go_with_each_surfaces_pressure(
    surface: Surface, decked: CraftRow, panel: PanelRows, sandwich: SandwichRows, span: SpanRows
) -> None:
    method = method_named(METHODS[0])
    height, head = np.array([300.0]), np.array([1200.0])
    single, cored = (
        panel_loading(
            decked,
            x=rows.x,
            b=rows.b,
            l=rows.l,
            sandwich=isinstance(rows, SandwichRows),
            surface=surface,
            height=height,
            head=head,
        )
        for rows in (panel, sandwich)
    )
    stiffened = stiffener_loading(
        decked, x=span.x, lu=span.lu, s=span.s, surface=surface, height=height, head=head
    )
    P, P_cored, P_beam = (float(loading.P[0]) * 1000 for loading in (single, cored, stiffened))
    thickness = found(method, "panel", decked, on(panel, surface))[Aspect.THICKNESS]
    # k2(2) = 0.497354, σd = 80: 400 √(P · 0.497354/80 000)
    assert thickness.demand == pytest.approx(400 * (P * 0.497354 / 80_000) ** 0.5, rel=1e-5)
    core = found(method, "sandwich", decked, on(sandwich, surface))[Aspect.CORE_SHEAR]
    # kSHC = 0.5, τd = 0.5: 0.5 P · 400/500, k_C = 1
    assert core.demand == pytest.approx(0.4 * P_cored, rel=1e-6)
    web = found(method, "span", decked, on(span, surface))[Aspect.WEB_AREA]
    # 5 P · 500 · 1000e-6/30 cm² = 100/12 P mm²
    assert web.demand == pytest.approx(100 / 12 * P_beam, rel=1e-6)


def test_side_thickness_by_hand(decked: CraftRow, panel: PanelRows) -> None:
    # P = 10.5454 kN/m² (its own test): 400 √(10.5454 · 0.497354/80 000) = 400 · 0.00809691
    thickness = found(method_named(METHODS[0]), "panel", decked, on(panel, Surface.SIDE))[Aspect.THICKNESS]
    assert thickness.demand == pytest.approx(3.23876, rel=1e-4)
    assert thickness.utilisation == pytest.approx((3.23876 / 6) ** 2, rel=1e-4)
    assert thickness.known.value == "memory M"


@pytest.mark.parametrize("kind", LOADED)
@pytest.mark.parametrize("surface", [Surface.SIDE, Surface.BULKHEAD, Surface.TANK])
def test_without_a_pressure_nothing_under_it_is_judged_and_the_first_note_says_why(
    kind: str, surface: Surface, craft: CraftRow, request: pytest.FixtureRequest
) -> None:
    rows = replace(request.getfixturevalue(kind), surface=surface)
    every = found(method_named(METHODS[0]), kind, craft, rows)
    for aspect in LOADED[kind]:
        finding = every[aspect]
        assert (finding.verdict.value, finding.demand, finding.utilisation) == ("not judged", None, None)
        assert "not given" in finding.notes[0]


def test_row_with_a_pressure_and_no_strength_says_that_it_is_the_strength(
    decked: CraftRow, panel: PanelRows
) -> None:
    rows = replace(
        panel,
        surface=Surface.SIDE,
        height=np.array([300.0, np.nan]),
        **{name: np.repeat(getattr(panel, name), 2) for name in ("b", "l", "x", "deadrise", "camber", "t")},
        sigma_uf=np.array([np.nan, np.nan]),
        sigma_uf_marks=np.repeat(panel.sigma_uf_marks, 2),
    )
    method = method_named(METHODS[0])
    with workings() as recording:
        aspects = method.judge_panels(decked, rows)
    both = findings(method, aspects[:1], [("p1", "One"), ("p2", "Two")], recording)
    assert "no flexural strength is known" in both[0].notes[0]
    assert both[1].notes[0] == "the height of its middle above the waterline is not given"


def test_least_dry_mass_of_side_and_deck_by_hand(decked: CraftRow, panel: PanelRows) -> None:
    method = method_named(METHODS[0])
    # side: 0.43 (1.5 + 0.15 · 12.2840) = 0.43 · 3.34260; deck: 0.43 (1.45 + 0.14 · 6) = 0.43 · 2.29
    assert dry_mass.side_thickness.clause(1, 2000) == pytest.approx(3.34260, rel=1e-5)
    assert dry_mass.deck_thickness.clause(1, 6) == pytest.approx(2.29)
    for surface, least in ((Surface.SIDE, 1.43732), (Surface.DECK, 0.9847)):
        mass = found(method, "panel", decked, on(panel, surface))[Aspect.DRY_MASS]
        assert mass.demand == pytest.approx(1000 * least, rel=1e-4)
        assert mass.utilisation == pytest.approx(least / 3.6, rel=1e-4)


@pytest.mark.parametrize(
    ("surface", "k_4"), [(Surface.BOTTOM, 1.0), (Surface.SIDE, 0.9), (Surface.DECK, 0.7)]
)
def test_least_skins_by_place_by_hand(
    decked: CraftRow, sandwich: SandwichRows, surface: Surface, k_4: float
) -> None:
    # 0.6 · k4 (0.1 · 6 + 0.15) = 0.45 k4 outside, 0.7 of it inside, the worse of the two
    mass = found(method_named(METHODS[0]), "sandwich", decked, on(sandwich, surface))[Aspect.DRY_MASS]
    assert mass.demand == pytest.approx(315 * k_4)
    assert mass.governs == "inner skin"


@pytest.mark.parametrize("surface", [Surface.BULKHEAD, Surface.TANK])
@pytest.mark.parametrize("kind", ["panel", "sandwich"])
def test_least_dry_mass_of_bulkhead_and_tank_is_not_known(
    kind: str, surface: Surface, decked: CraftRow, request: pytest.FixtureRequest
) -> None:
    rows = on(request.getfixturevalue(kind), surface)
    mass = found(method_named(METHODS[0]), kind, decked, rows)[Aspect.DRY_MASS]
    assert mass.verdict.value == "not judged"
    assert mass.notes[0] == f"no least dry fibre mass is known for {surface.value}s"


def test_least_core_strength_is_asked_of_bottom_and_side_only(
    decked: CraftRow, sandwich: SandwichRows
) -> None:
    method = method_named(METHODS[0])
    for surface in (Surface.BOTTOM, Surface.SIDE):
        core = found(method, "sandwich", decked, on(sandwich, surface))[Aspect.CORE_STRENGTH]
        assert core.demand == float(panels.least_core_strength.clause(6)) == 0.25
        assert "the waterline's length stands for the hull's, which above 10 m asks for more" in core.notes
    for surface in (Surface.DECK, Surface.BULKHEAD, Surface.TANK):
        core = found(method, "sandwich", decked, on(sandwich, surface))[Aspect.CORE_STRENGTH]
        assert core.verdict.value == "not judged"
        assert core.notes[0].startswith("whether a least core strength is asked of")


@pytest.mark.parametrize("surface", OFF_BOTTOM)
def test_a_dying_end_is_a_hard_spot_on_every_surface(
    surface: Surface, decked: CraftRow, span: SpanRows
) -> None:
    rows = replace(on(span, surface), moment_factor=np.array([1.5]))
    every = found(method_named(METHODS[0]), "span", decked, rows)
    assert every[Aspect.HARD_SPOT].verdict.value == "not judged"
    held = found(method_named(METHODS[0]), "span", decked, on(span, surface))
    assert every[Aspect.MODULUS].demand == pytest.approx(1.5 * (held[Aspect.MODULUS].demand or 0))


@pytest.mark.parametrize("kind", LOADED)
@pytest.mark.parametrize("surface", [Surface.BULKHEAD, Surface.TANK])
def test_utilisation_goes_with_the_head(
    kind: str, surface: Surface, decked: CraftRow, request: pytest.FixtureRequest
) -> None:
    rows = on(request.getfixturevalue(kind), surface)
    once = found(method_named(METHODS[0]), kind, decked, rows)
    twice = found(method_named(METHODS[0]), kind, decked, replace(rows, head=2 * rows.head))
    for aspect in LOADED[kind]:
        assert twice[aspect].utilisation == pytest.approx(2 * (once[aspect].utilisation or 0))
