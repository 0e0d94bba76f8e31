"""Panel formulas by hand, and single-skin panels judged."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stringerlab.methods import Aspect, CraftRow, Judged, PanelRows, findings, method_named
from stringerlab.methods.iso_12215_5_2008 import dry_mass, panels, stacks
from stringerlab.methods.iso_12215_5_2008.loading import panel_loading
from stringerlab.methods.iso_12215_5_2008.strip import strip
from stringerlab.workings import workings

METHOD = method_named("iso_12215_5_2008")


def judged(craft: CraftRow, rows: PanelRows) -> dict[Aspect, Judged]:
    return {one.aspect: one for one in METHOD.judge_panels(craft, rows)}


def pressure(craft: CraftRow, rows: PanelRows) -> float:
    return float(panel_loading(craft, x=rows.x, b=rows.b, l=rows.l, sandwich=False).P[0])


def test_single_skin_thickness_by_hand() -> None:
    # 400 √(26 · 0.5/(1000 · 76.09)) = 400 · √1.7085e-4
    assert panels.single_skin_thickness.clause(400, 1, 26, 0.5, 76.09) == pytest.approx(5.2284, rel=1e-4)


def test_thickness_takes_the_programs_pressure() -> None:
    plain = panels.single_skin_thickness(400.0, 1.0, 0.026, 0.5, 76.09)
    assert plain == pytest.approx(panels.single_skin_thickness.clause(400, 1, 26, 0.5, 76.09))


def test_strength_factor_above_2_does_not_fall_again() -> None:
    # the fraction itself gives 0.490 at 3 and 0.363 at 10
    assert list(panels.k_2.clause(np.array([2.0001, 3, 10]))) == [0.5, 0.5, 0.5]


@pytest.mark.parametrize("formula", [panels.k_2, panels.k_3, panels.core_shear_factor])
def test_below_a_square_panel_the_factor_is_held_and_said(formula: panels.k_2.__class__) -> None:
    assert formula.clause(0.5) == formula.clause(1.0)
    assert "r" in formula.outside({"r": 0.5})
    assert not formula.outside({"r": 1.0})


def test_core_shear_factor_by_hand() -> None:
    assert panels.core_shear_factor.clause(1.5) == pytest.approx(0.4235)  # 0.035 + 0.591 − 0.2025
    assert panels.core_shear_factor.clause(2.0) == 0.5


@given(st.floats(0, 0.5), st.floats(0, 0.5))
def test_more_camber_never_asks_for_more(a: float, b: float) -> None:
    low, high = sorted((a, b))
    # 1.1 − 3.33 · 0.03 = 1.0001: the printed line starts a hair above 1
    assert panels.curvature_factor.clause(high, 1) <= panels.curvature_factor.clause(low, 1) + 1e-4


@given(st.floats(5, 200), st.floats(1, 2))
def test_more_pressure_asks_for_more_thickness(P: float, more: float) -> None:
    def thickness(P: float) -> float:
        return float(panels.single_skin_thickness.clause(400, 1, P, 0.5, 80))

    assert thickness(P * more) == pytest.approx(thickness(P) * more**0.5)


def test_panel_thickness_utilisation_is_in_load(craft: CraftRow, panel: PanelRows) -> None:
    thickness = judged(craft, panel)[Aspect.THICKNESS]
    # 18.0827 kN/m², k2(2) = 2.35/4.725 = 0.497354, σd = 80: 400 √(18.0827 · 0.497354/80 000) = 4.24108
    assert thickness.demand[0] == pytest.approx(4.24108, rel=1e-4)
    assert thickness.utilisation[0] == pytest.approx((4.24108 / 6) ** 2, rel=1e-4)


def test_panel_ten_per_cent_too_thin_is_at_1_23(craft: CraftRow, panel: PanelRows) -> None:
    required = judged(craft, panel)[Aspect.THICKNESS].demand
    thin = judged(craft, replace(panel, t=required * 0.9))[Aspect.THICKNESS]
    assert thin.utilisation[0] == pytest.approx(1.23, abs=0.005)


def test_unknown_flexural_strength_is_not_judged(craft: CraftRow, panel: PanelRows) -> None:
    rows = replace(panel, sigma_uf=np.array([np.nan]))
    with workings() as recording:
        aspects = METHOD.judge_panels(craft, rows)
    thickness, strength, *_ = findings(METHOD, aspects, [("p1", "Aft")], recording)
    assert (thickness.verdict.value, thickness.demand, thickness.utilisation) == ("not judged", None, None)
    assert "read its ply strength instead" in thickness.notes[0]
    assert strength.verdict.value != "not judged"


def test_like_plies_carry_as_a_solid_plate(craft: CraftRow, panel: PanelRows) -> None:
    t, E = np.array([[2.0, 1.0, 3.0]]), np.full((1, 3), 7000.0)
    of = strip(t, E)
    assert of.EI[0] == pytest.approx(7000 * 6**3 / 12)
    assert of.z_na[0] == pytest.approx(3.0)
    assert of.greatest_first_moment[0] == pytest.approx(7000 * 6**2 / 8)
    same = replace(panel.plies, E=E, tension=np.full((1, 3), 90.0), compression=np.full((1, 3), 90.0))
    strength = judged(craft, replace(panel, plies=same))[Aspect.PLY_STRENGTH]
    # 6 M/t² at the face, M = P k2 b²/6
    sigma = pressure(craft, panel) * 0.497354 * 400**2 / 6**2
    assert strength.demand[0] == pytest.approx(sigma, rel=1e-5)
    assert strength.capacity[0] == 45


def test_shear_at_the_neutral_axis_of_like_plies_is_one_and_a_half_times_the_mean(
    craft: CraftRow, panel: PanelRows
) -> None:
    same = replace(
        panel.plies,
        t=np.array([[1.0, 4.0, 1.0]]),
        E=np.full((1, 3), 7000.0),
        interlaminar=np.full((1, 3), 15.0),
    )
    shear = judged(craft, replace(panel, plies=same))[Aspect.INTERLAMINAR_SHEAR]
    F = pressure(craft, panel) * 400 * 0.5
    assert shear.demand[0] == pytest.approx(1.5 * F / 6)
    assert shear.governing is not None
    assert shear.governing.name(0) == "at the neutral axis, in ply 2: roving"


def test_weaker_ply_on_either_side_of_an_interface_counts(craft: CraftRow, panel: PanelRows) -> None:
    weak = replace(panel.plies, interlaminar=np.array([[17.0, 14.0, 2.0]]))
    shear = judged(craft, replace(panel, plies=weak))[Aspect.INTERLAMINAR_SHEAR]
    assert shear.capacity[0] == 1.0
    assert shear.governing is not None
    assert shear.governing.name(0) in {
        "on the inner face of ply 2: roving",
        "at the neutral axis, in ply 3: mat",
    }


@pytest.mark.parametrize(("weak", "sign"), [("tension", "tension"), ("compression", "compression")])
def test_either_sign_of_the_moment_counts_at_either_face(
    craft: CraftRow, panel: PanelRows, weak: str, sign: str
) -> None:
    for ply in (0, 2):
        strengths = {name: np.full((1, 3), 200.0) for name in ("tension", "compression")}
        strengths[weak][0, ply] = 20.0
        strength = judged(craft, replace(panel, plies=replace(panel.plies, **strengths)))[Aspect.PLY_STRENGTH]
        assert strength.capacity[0] == 10.0
        assert strength.governing is not None
        assert strength.governing.name(0) == f"{panel.plies.names[0][ply]}, in {sign}"


def test_ply_of_unknown_strength_is_not_judged_but_padding_is_no_ply(
    craft: CraftRow, panel: PanelRows
) -> None:
    plies = panel.plies
    padded = replace(
        plies,
        **{
            name: np.column_stack((getattr(plies, name), [np.nan]))
            for name in ("t", "E", "tension", "compression", "interlaminar")
        },
    )
    same, whole = judged(craft, replace(panel, plies=padded)), judged(craft, panel)
    for aspect in (Aspect.PLY_STRENGTH, Aspect.INTERLAMINAR_SHEAR):
        assert same[aspect].utilisation[0] == pytest.approx(whole[aspect].utilisation[0])
    unknown = replace(plies, tension=np.array([[85.0, np.nan, 85.0]]))
    assert np.isnan(judged(craft, replace(panel, plies=unknown))[Aspect.PLY_STRENGTH].utilisation[0])


def test_least_dry_mass_by_hand(craft: CraftRow, panel: PanelRows) -> None:
    # 0.43 (1.5 + 0.03 · 20 + 0.15 · 12.2840) = 0.43 · 3.94260
    assert dry_mass.bottom_thickness.clause(1.0, 20, 2000) == pytest.approx(3.94260, rel=1e-4)
    assert dry_mass.single_skin_dry_mass.clause(3.94260) == pytest.approx(1.69532, rel=1e-5)
    mass = judged(craft, panel)[Aspect.DRY_MASS]
    assert mass.utilisation[0] == pytest.approx(1.69532 / 3.6, rel=1e-4)


def test_bending_stress_has_no_sign() -> None:
    assert stacks.bending_stress.clause(7000, 300, -2, 150000) == pytest.approx(28.0)
