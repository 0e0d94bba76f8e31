"""Sandwich formulas by hand, and sandwich panels judged."""

from dataclasses import replace

import numpy as np
import pytest

from stringerlab.methods import Aspect, CraftRow, Judged, SandwichRows, findings, method_named
from stringerlab.methods.iso_12215_5_2008 import dry_mass, panels, stacks
from stringerlab.methods.iso_12215_5_2008.loading import panel_loading
from stringerlab.workings import workings

METHOD = method_named("iso_12215_5_2008")


def judged(craft: CraftRow, rows: SandwichRows) -> dict[Aspect, Judged]:
    return {one.aspect: one for one in METHOD.judge_sandwiches(craft, rows)}


def moment(craft: CraftRow, rows: SandwichRows) -> float:
    """P k2 b²/6 per mm, k2(2) = 0.497354."""
    P = panel_loading(craft, x=rows.x, b=rows.b, l=rows.l, sandwich=True).P[0]
    return float(P) * 0.497354 * 400**2 / 6


def test_modulus_by_hand() -> None:
    # 500² · 20 · 0.5/(6e5 · 60) = 2.5e6/3.6e7 cm³/cm
    assert panels.sandwich_modulus.clause(500, 1, 20, 0.5, 60) == pytest.approx(0.0694444)
    assert panels.sandwich_modulus(500.0, 1.0, 0.020, 0.5, 60.0) == pytest.approx(6.94444)  # mm³/mm


def test_second_moment_by_hand() -> None:
    # 500³ · 20 · 0.028/(12e6 · 0.017 · 10 000) = 7e7/2.04e9 cm⁴/cm
    assert panels.sandwich_second_moment.clause(500, 1, 20, 0.028, 10000) == pytest.approx(
        0.0343137, rel=1e-5
    )
    assert panels.sandwich_second_moment(500.0, 1.0, 0.020, 0.028, 10000.0) == pytest.approx(
        34.3137, rel=1e-5
    )


def test_core_shear_thickness_by_hand() -> None:
    assert panels.core_shear_thickness.clause(1, 0.5, 20, 500, 0.5) == pytest.approx(10.0)
    assert panels.core_shear_thickness.clause(0.25, 0.5, 20, 500, 0.5) == pytest.approx(5.0)  # √kC


def test_wrinkling_stress_by_hand() -> None:
    assert panels.wrinkling_stress.clause(10000, 80, 30) == pytest.approx(86.535, rel=1e-4)  # 0.3 ∛2.4e7


def test_core_design_stress_of_brittle_and_ductile_cores() -> None:
    stresses = panels.core_design_shear_stress.clause(np.array([1.0, 1.0]), np.array([False, True]))
    assert list(stresses) == [0.5, 0.55]


@pytest.mark.parametrize(("length", "least"), [(6, 0.25), (10, 0.25), (12, 0.31), (15, 0.40), (20, 0.40)])
def test_least_core_strength(length: float, least: float) -> None:
    assert panels.least_core_strength.clause(length) == pytest.approx(least)


def test_two_unlike_skins_by_hand() -> None:
    # outer 10 000 · 3 at 1.5, inner 12 000 · 2 at 24: z = (45 000 + 576 000)/54 000 = 11.5
    z_na = stacks.sandwich_neutral_axis.clause(10000, 3, 12000, 2, 20)
    assert z_na == pytest.approx(11.5)
    # 30 000 (0.75 + 100) + 24 000 (1/3 + 156.25)
    assert stacks.sandwich_stiffness.clause(10000, 3, 12000, 2, 20, z_na) == pytest.approx(6_780_500)


def test_skins_judged_at_their_faces(craft: CraftRow, sandwich: SandwichRows) -> None:
    found = judged(craft, sandwich)
    M = moment(craft, sandwich)
    # outer: E z = 10 000 · 11.5, half of 120; inner: 12 000 · 13.5, half of 140, the weaker in compression
    outer, inner = M * 115_000 / 6_780_500 / 60, M * 162_000 / 6_780_500 / 70
    assert found[Aspect.OUTER_SKIN].utilisation[0] == pytest.approx(outer, rel=1e-5)
    assert found[Aspect.INNER_SKIN].utilisation[0] == pytest.approx(inner, rel=1e-5)


def test_skin_of_weaker_compression_says_so(craft: CraftRow, sandwich: SandwichRows) -> None:
    found = judged(craft, sandwich)
    outer, inner = found[Aspect.OUTER_SKIN].governing, found[Aspect.INNER_SKIN].governing
    assert outer is not None
    assert inner is not None
    assert (outer.name(0), inner.name(0)) == (
        "the first ply to fail, in tension",
        "the first ply to fail, in compression",
    )


def test_stiffness_does_not_depend_on_which_modulus_it_is_told_in(
    craft: CraftRow, sandwich: SandwichRows
) -> None:
    stiffness = judged(craft, sandwich)[Aspect.STIFFNESS]
    P = float(panel_loading(craft, x=sandwich.x, b=sandwich.b, l=sandwich.l, sandwich=True).P[0])
    k_3 = (0.027 * 4 - 0.029 * 2 + 0.011) / (4 - 1.463 * 2 + 1.108)
    # deflection k3 P b⁴/12EI over 0.017 b
    expected = k_3 * P * 400**3 / (12 * 6_780_500) / 0.017
    assert stiffness.utilisation[0] == pytest.approx(expected, rel=1e-6)


def test_wrinkling_names_the_worse_skin(craft: CraftRow, sandwich: SandwichRows) -> None:
    wrinkling = judged(craft, sandwich)[Aspect.SKIN_WRINKLING]
    M = moment(craft, sandwich)
    # inner: σ = M 162 000/EI against 0.3 ∛(12 000 · 2400); outer: M 115 000/EI against 0.3 ∛(10 000 · 2400)
    assert wrinkling.demand[0] == pytest.approx(M * 162_000 / 6_780_500, rel=1e-5)
    assert wrinkling.capacity[0] == pytest.approx(0.3 * 28.8e6 ** (1 / 3))
    assert wrinkling.governing is not None
    assert wrinkling.governing.name(0) == "inner skin"


@pytest.mark.parametrize("missing", ["E_o", "E_i"])
def test_skin_of_unknown_modulus_leaves_wrinkling_unjudged(
    craft: CraftRow, sandwich: SandwichRows, missing: str
) -> None:
    rows = replace(sandwich, **{missing: np.array([np.nan])})
    assert np.isnan(judged(craft, rows)[Aspect.SKIN_WRINKLING].utilisation[0])


def test_core_shear_is_force_over_depth(craft: CraftRow, sandwich: SandwichRows) -> None:
    P = float(panel_loading(craft, x=sandwich.x, b=sandwich.b, l=sandwich.l, sandwich=True).P[0])
    core = judged(craft, sandwich)[Aspect.CORE_SHEAR]
    assert core.utilisation[0] == pytest.approx(0.5 * P * 400 / 22.5 / 0.5)  # ts = 20 + (3 + 2)/2


def test_unknown_core_strength_is_not_judged(craft: CraftRow, sandwich: SandwichRows) -> None:
    with workings() as recording:
        aspects = METHOD.judge_sandwiches(craft, replace(sandwich, tau_c=np.array([np.nan])))
    found = {one.aspect: one for one in findings(METHOD, aspects, [("p1", "Aft")], recording)}
    for aspect in (Aspect.CORE_SHEAR, Aspect.CORE_STRENGTH):
        assert found[aspect].verdict.value == "not judged"
        assert "core's shear strength is missing" in found[aspect].notes[0]


def test_dry_mass_is_asked_of_each_skin(craft: CraftRow, sandwich: SandwichRows) -> None:
    # 0.6 (0.1 · 6 + 0.15) = 0.45 kg/m² outside, 0.7 · 0.45 = 0.315 inside
    assert dry_mass.outer_skin_dry_mass.clause(0.6, 1, 6, 1) == pytest.approx(0.45)
    assert dry_mass.inner_skin_dry_mass.clause(0.45) == pytest.approx(0.315)
    mass = judged(craft, sandwich)[Aspect.DRY_MASS]
    assert mass.utilisation[0] == pytest.approx(0.315 / 1.0)
    assert mass.governing is not None
    assert mass.governing.name(0) == "inner skin"


def test_sandwich_floor_of_the_area_factor_raises_its_pressure(
    craft: CraftRow, sandwich: SandwichRows
) -> None:
    b, l = np.array([2000.0]), np.array([4000.0])
    floored = panel_loading(craft, x=sandwich.x, b=b, l=l, sandwich=True)
    assert floored.P > panel_loading(craft, x=sandwich.x, b=b, l=l, sandwich=False).P
