"""Formulas of the bond held against what solves the same equations another way, and against their limits."""

import numpy as np
import pytest

from stringerlab.section import bond_forms as forms


def lap_by_differences(
    w: float, k: float, S_1: float, S_2: float, f_in: float = 0, f_out: float = 1, steps: int = 1000
) -> float:
    """Peak over mean shear of a lap whose bead gives 1/k: side 1 loaded at its start, side 2 by its parts.

    Of side 2's flow come ``f_in`` at the start and ``f_out`` at the end, the rest evenly between.
    """
    x, h = np.linspace(0, w, steps + 1, retstep=True)
    omega_2 = k * (1 / S_1 + 1 / S_2)
    A = np.zeros((steps + 1, steps + 1))
    rows = np.arange(1, steps)
    A[rows, rows - 1] = A[rows, rows + 1] = 1 / h**2
    A[rows, rows] = -2 / h**2 - omega_2
    A[0, :3] = np.array([-1.5, 2, -0.5]) / h
    A[-1, -3:] = np.array([0.5, -2, 1.5]) / h
    right = np.zeros(steps + 1)
    right[1:-1] = -k * (1 - f_in - f_out) / w / S_2
    right[0], right[-1] = -k * (1 / S_1 + f_in / S_2), k * f_out / S_2
    tau = np.linalg.solve(A, right)
    return float(tau.max() / np.trapezoid(tau, x) * w)


@pytest.mark.parametrize(("S_1", "S_2"), [(84_000, 84_000), (13_000, 23_000), (30_000, 9_000)])
def test_peak_of_a_lap_is_that_of_finite_differences(S_1: float, S_2: float) -> None:
    number = forms.lap_number(w_b=52, G_a=147.5, t_a=4, S_1=S_1, S_2=S_2)
    peak = forms.peak_factor(lambda_s=number, S_1=S_1, S_2=S_2, f_in=0, f_out=1)
    assert peak == pytest.approx(lap_by_differences(52, 147.5 / 4, S_1, S_2), rel=3e-4)


@pytest.mark.parametrize(("f_in", "f_out"), [(1, 0), (0.84, 0), (0.44, 0.16), (0.1, 0.7)])
def test_peak_of_a_flange_on_a_hull_that_carries_on_both_sides(f_in: float, f_out: float) -> None:
    S_1, S_2 = 17_300.0, 27_700.0
    number = forms.lap_number(w_b=60, G_a=147.5, t_a=4, S_1=S_1, S_2=S_2)
    peak = forms.peak_factor(lambda_s=number, S_1=S_1, S_2=S_2, f_in=f_in, f_out=f_out)
    assert peak == pytest.approx(lap_by_differences(60, 147.5 / 4, S_1, S_2, f_in, f_out), rel=3e-4)


def test_peak_of_a_coupon_is_that_of_finite_differences() -> None:
    peak = forms.coupon_peak(w_J=25.4, t_J=0.76, S_J=30_000, G_a=147.5)
    assert peak == pytest.approx(lap_by_differences(25.4, 147.5 / 0.76, 30_000, 30_000), rel=3e-4)


def test_a_coupon_on_stiff_plates_has_no_peak() -> None:
    assert forms.coupon_peak(w_J=12.7, t_J=0.76, S_J=1e9, G_a=147.5) == pytest.approx(1, abs=1e-3)


def test_a_lap_much_shorter_than_its_decay_has_no_peak() -> None:
    assert forms.peak_factor(lambda_s=1e-3, S_1=9000, S_2=30_000, f_in=0, f_out=1) == (
        pytest.approx(1, abs=1e-3)
    )


def test_flow_of_a_rectangle_cut_at_its_middle_is_one_and_a_half_times_the_mean() -> None:
    b, h, V, E = 20.0, 60.0, 900.0, 7000.0
    flow = forms.shear_flow(V_e=V, ES_b=E * b * (h / 2) ** 2 / 2, EI=E * b * h**3 / 12)
    assert flow / b == pytest.approx(1.5 * V / (b * h))


def on_foundation(lam: float, w: float, ends: list[tuple[int, float]], far: list[int]) -> np.ndarray:
    """Coefficients of a beam on a foundation: derivatives given at its start, vanishing ones at its end."""
    roots = lam * np.array([1 + 1j, 1 - 1j, -1 + 1j, -1 - 1j])

    def rows(orders: list[int], at: float) -> np.ndarray:
        return np.array([roots**order * np.exp(roots * at) for order in orders])

    A = np.vstack([rows([order for order, _ in ends], 0), rows(far, w)])
    return np.linalg.solve(A, np.array([value for _, value in ends] + [0, 0], complex))


def stiffness(lam: float, D: float) -> float:
    return 4 * lam**4 * D


@pytest.mark.parametrize("lambda_L", [0.3, 1.0, 2.5, 8.0])
@pytest.mark.parametrize("e", [0.0, 9.0])
def test_peel_at_a_root_free_to_turn_is_that_of_a_beam_on_a_foundation(lambda_L: float, e: float) -> None:
    w, D, q = 50.0, 65_000.0, 3.0
    lam = lambda_L / w
    # pulled up by q at its start, with the moment q e of the arm
    c = on_foundation(lam, w, [(3, q / D), (2, q * e / D)], [2, 3])
    expected = stiffness(lam, D) * c.sum().real
    assert forms.root_peel(q_p=q, w_b=w, f_v=0, e_b=e, lambda_L=lambda_L) == pytest.approx(
        abs(expected), rel=1e-9
    )


@pytest.mark.parametrize("lambda_L", [0.3, 1.0, 2.5, 8.0])
def test_moment_at_a_root_held_against_turning_is_that_of_a_beam_on_a_foundation(lambda_L: float) -> None:
    w, D, q = 50.0, 65_000.0, 3.0
    lam = lambda_L / w
    c = on_foundation(lam, w, [(3, q / D), (1, 0.0)], [2, 3])
    roots = lam * np.array([1 + 1j, 1 - 1j, -1 + 1j, -1 - 1j])
    moment = D * (roots**2 * c).sum().real
    assert forms.root_moment(q_p=q, w_b=w, e_b=0, lambda_L=lambda_L) == pytest.approx(abs(moment), rel=1e-9)


def test_a_narrow_stiff_flange_is_a_rigid_strip() -> None:
    # pulled at one edge a rigid strip has four times the mean there; held level, half the width as arm
    assert forms.root_peel(q_p=2, w_b=40, f_v=0, e_b=0, lambda_L=0.06) == pytest.approx(4 * 2 / 40, rel=1e-3)
    assert forms.root_moment(q_p=2, w_b=40, e_b=0, lambda_L=0.06) == pytest.approx(2 * 40 / 2, rel=1e-3)
    # with the whole pull at an arm e: 4 q/w + 6 q e/w²
    assert forms.root_peel(q_p=2, w_b=40, f_v=0, e_b=10, lambda_L=0.06) == pytest.approx(
        4 * 2 / 40 + 6 * 20 / 1600, rel=1e-3
    )


def test_voids_leave_less_width_to_pull_at() -> None:
    whole = forms.root_peel(q_p=2, w_b=40, f_v=0, e_b=4, lambda_L=3)
    assert forms.root_peel(q_p=2, w_b=40, f_v=0.2, e_b=4, lambda_L=3) == pytest.approx(whole / 0.8)


def test_peel_at_a_toe_is_that_of_two_beams_on_one_bead() -> None:
    D_1, D_2, t_1, t_2, t_a, E_a, nu, E_3, m = 53e3, 427e3, 4.0, 8.0, 6.0, 413.0, 0.4, 3500.0, 400.0
    k = 1 / (t_a * (1 - nu**2) / E_a + (t_1 + t_2) / (2 * E_3))
    lam = (k * (1 / D_1 + 1 / D_2) / 4) ** 0.25
    # the opening w of the bead: its curvature at the toe is that of the hull alone, its shear none
    w = 20 / lam
    c = on_foundation(lam, w, [(2, m / D_2), (3, 0.0)], [0, 1])
    found = forms.toe_peel(
        f_p=1, m_p=m, f_v=0, t_a=t_a, E_a=E_a, nu_a=nu, t_1=t_1, t_2=t_2, E_3=E_3, D_1=D_1, D_2=D_2
    )
    assert found == pytest.approx(abs(k * c.sum().real), rel=1e-9)
    # further in it turns to the other sign
    x = np.linspace(0, 6 / lam, 20_000)
    roots = lam * np.array([1 + 1j, 1 - 1j, -1 + 1j, -1 - 1j])
    along = (c[:, None] * np.exp(roots[:, None] * x)).sum(axis=0).real
    assert -along.min() / along[0] == pytest.approx(forms.within_toe(), rel=1e-6)


def test_a_member_without_torsion_takes_none_of_a_panels_moment_and_a_stiff_one_all() -> None:
    given = {"m_p": 600.0, "D_2": 340_000.0, "b": 366.0, "l_u": 900.0}
    assert forms.unbalanced_moment(GJ=1.0, **given) < 1e-6
    assert forms.unbalanced_moment(GJ=1e15, **given) == pytest.approx(600, rel=1e-6)
    # a member as stiff as both panels together: π² GJ/l² = 8 D/b
    even = 8 * 340_000 / 366 * 900**2 / np.pi**2
    assert forms.unbalanced_moment(GJ=even, **given) == pytest.approx(300)


def test_bead_laid_fills_the_widest_gap_and_shows_at_its_edges() -> None:
    # 60 mm wide, 4 mm drawn and 2 more, 15 % pressed out: 360 mm² and 54
    assert forms.laid_bead(w_b=60, t_a=4, c_a=2, f_o=0.15) == pytest.approx(414)


def test_throat_of_a_bend_is_filled_as_far_as_the_gap_it_is_laid_for() -> None:
    # a bend of 18 mm outside rises 1 mm in 6 mm: 6²/(2 · 18)
    assert forms.throat(e_r=10, R_o=18, c_a=1) == pytest.approx(4)
    assert forms.throat(e_r=5, R_o=18, c_a=1) == 0


def test_panel_beside_a_member_is_taken_from_web_root_to_web_root() -> None:
    assert forms.panel_side(s=480, b_base=114, l_u=900) == 366
    assert forms.panel_side(s=480, b_base=114, l_u=300) == 300
    assert forms.panel_moment(P=0.03, b=400) == pytest.approx(400)


def test_allowed_shear_is_that_of_the_weaker_of_joint_and_laminate() -> None:
    knocked = {"f_f": 0.6, "f_env": 0.8, "f_a": 0.33}
    joint = forms.allowed_shear(tau_a=13.8, f_J=0.7, k_J=1.5, tau_il=17, **knocked)
    assert joint == pytest.approx(9.66 * 1.5 * 0.6 * 0.8 * 0.33)
    laminate = forms.allowed_shear(tau_a=13.8, f_J=0.7, k_J=1.5, tau_il=8, **knocked)
    assert laminate == pytest.approx(8 * 0.6 * 0.8 * 0.33)


@pytest.mark.parametrize(("weight", "least"), [(900, 38), (3600, 38), (3900, 44.5), (4500, 57.5)])
def test_overlap_grows_beyond_3600_grams(weight: float, least: float) -> None:
    assert forms.overlap(w_d=weight, w_u=300) == pytest.approx(least)


def turned_foot(y_r: float, e: float, w: float, lam: float, D: float) -> tuple[float, float]:
    """Peak peel under a flange, and moment at its root, of a rigid foot that a moment of 2 turns.

    The flange leaves the foot at ``y_r`` from its middle, is free over ``e`` and on its bead over ``w``.
    """
    roots = lam * np.array([1 + 1j, 1 - 1j, -1 + 1j, -1 - 1j])
    fading = np.where(roots.real > 0, np.exp(-roots * w), 1.0)  # each at most 1 within the flange
    A, right = np.zeros((9, 9), complex), np.zeros(9, complex)
    A[0, [0, 1]], A[1, [0, 2]] = [-y_r, 1], [-1, 1]  # it moves and turns with the foot
    for order in range(4):
        cubic = [np.polynomial.polynomial.polyder(np.eye(4)[j], order) for j in range(4)]
        A[2 + order, 1:5] = [np.polynomial.polynomial.polyval(e, each) for each in cubic]
        A[2 + order, 5:] = -(roots**order) * fading
    A[6, 5:], A[7, 5:] = (roots**n * np.exp(roots * w) * fading for n in (2, 3))
    y = np.linspace(0, w, 20_001)
    lifts = 4 * lam**4 * D * np.exp(roots[:, None] * y) * fading[:, None]
    A[8, 5:], right[8] = np.trapezoid(lifts * (y_r + e + y), y, axis=1), 1
    found = np.linalg.solve(A, right)
    return float((found[5:, None] * lifts).sum(axis=0).real.max()), float(abs(2 * D * found[3]))


@pytest.mark.parametrize("y_r", [0.0, 5.4, 15.0])
@pytest.mark.parametrize("e", [0.0, 2.0, 8.6])
def test_a_foot_that_a_moment_turns_peels_as_two_beams_held_by_it(y_r: float, e: float) -> None:
    w, D, lam = 45.0, 89_000.0, 0.129
    given = {"m_u": 2.0, "f_u": 0.5, "b_base": 2 * y_r, "e_b": e, "w_b": w, "lambda_L": lam * w}
    peel, moment = turned_foot(y_r, e, w, lam, D)
    assert 0.999 < forms.foot_peel(f_v=0, **given) / peel < 1.08
    assert forms.foot_moment(**given) == pytest.approx(moment, rel=2e-3)


def test_stiff_flanges_of_a_foot_turn_as_rigid_strips() -> None:
    # a strip from the middle on: pressure as y, its moment w³/3 of the pressure's slope
    given = {"m_u": 2.0, "f_u": 0.5, "b_base": 0.0, "e_b": 0.0, "w_b": 40.0, "lambda_L": 0.06}
    peel, moment = turned_foot(0, 0, 40, 0.06 / 40, 89_000)
    assert peel == pytest.approx(3 / 40**2, rel=1e-3)
    assert forms.foot_peel(f_v=0, **given) == pytest.approx(peel, rel=1e-3)
    assert forms.foot_moment(**given) == pytest.approx(moment, rel=1e-3)


def test_force_is_handed_over_as_in_a_beam_whose_parts_slip() -> None:
    EA_1, EA_2, EI_p, h, k, M, V = 9e6, 14e6, 6e9, 60.0, 900.0, 4e6, 5e3
    # N' = k s, s' = N (1/EA_1 + 1/EA_2) − κ h, κ = (M − N h)/EI_p: no force at the end, no slip far away
    n, length = 1000, 500.0
    x, step = np.linspace(0, length, n + 1, retstep=True)
    give = 1 / EA_1 + 1 / EA_2 + h**2 / EI_p
    A = np.zeros((n + 1, n + 1))
    rows = np.arange(1, n)
    A[rows, rows - 1] = A[rows, rows + 1] = 1 / step**2
    A[rows, rows] = -2 / step**2 - k * give
    A[0, 0] = A[n, n] = 1
    right = -k * h / EI_p * (M + V * x)
    right[0], right[-1] = 0, h / EI_p * (M + V * length) / give
    N = np.linalg.solve(A, right)
    flow = (-1.5 * N[0] + 2 * N[1] - 0.5 * N[2]) / step
    EA_r = forms.shared_stiffness(EA_1=EA_1, EA_2=EA_2)
    beam = {"EI": EI_p + EA_r * h**2, "ES_b": EA_r * h}
    assert forms.parted_stiffness(EA_r=EA_r, **beam) == pytest.approx(EI_p)
    l_e = forms.handing_length(k_b=k, EI=beam["EI"], EI_p=EI_p, EA_r=EA_r)
    assert forms.end_flow(V_x=V, M_x=M, l_e=l_e, **beam) == pytest.approx(flow, rel=1e-3)
    # without a moment there the flow is the shear's alone
    assert forms.end_flow(V_x=V, M_x=0, l_e=l_e, **beam) == pytest.approx(forms.shear_flow(V_e=V, **beam))


def test_beads_resist_slip_over_their_width_less_their_voids() -> None:
    assert forms.slip_stiffness(G_a=150, w_t=100, f_v=0.1, t_a=3) == pytest.approx(4500)


def test_edge_across_a_rigid_end_peels_as_a_skin_that_bends_on_its_bead() -> None:
    D, t_1, t_2, t_a, E_a, nu, E_3, m = 427e3, 4.0, 8.0, 6.0, 413.0, 0.4, 3500.0, 400.0
    k = 1 / (t_a * (1 - nu**2) / E_a + (t_1 + t_2) / (2 * E_3))
    lam = (k / D / 4) ** 0.25
    c = on_foundation(lam, 20 / lam, [(2, m / D), (3, 0.0)], [0, 1])
    found = forms.end_peel(f_p=1, m_e=m, f_v=0, t_a=t_a, E_a=E_a, nu_a=nu, t_1=t_1, t_2=t_2, E_3=E_3, D_x=D)
    assert found == pytest.approx(abs(k * c.sum().real), rel=1e-9)


def test_moment_of_a_skin_is_that_of_its_outer_fibre() -> None:
    assert forms.patch_moment(sigma_p=60, t=5) == pytest.approx(250)
