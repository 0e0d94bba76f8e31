"""Holes, cut crowns, ends on skin and outboards, by hand."""

from cmath import exp
from collections.abc import Callable
from math import cos, log, pi, sqrt

import numpy as np
import pytest

from stringerlab.laminate import Stack
from stringerlab.section import Side, WallShape, openings

Lay = Callable[..., Stack]
HELD = {"f_V": 1 / 2, "f_A": -1 / 12}
PROPPED = {"f_V": 5 / 8, "f_A": -1 / 8}


def test_held_span_has_its_moments_where_the_textbooks_put_them():
    at = np.array([0, 500, 1000, 1000 * (1 - 1 / sqrt(3)) / 2])
    moments = openings.moment_along(**HELD, p_l=12, l_u=1000, x_s=at)
    assert moments == pytest.approx([-1e6, 0.5e6, -1e6, 0], abs=1e-6)


def test_propped_span_has_nine_128ths_at_five_eighths():
    assert openings.moment_along(**PROPPED, p_l=12.8, l_u=1000, x_s=625) == pytest.approx(0.9e6)
    assert openings.shear_along(f_V=5 / 8, p_l=12.8, l_u=1000, x_s=625) == pytest.approx(0)
    assert openings.shear_along(f_V=5 / 8, p_l=12.8, l_u=1000, x_s=1000) == pytest.approx(-4800)


def test_moment_is_what_shear_adds_up_to():
    x = np.linspace(0, 1000, 2001)
    shear = openings.shear_along(f_V=5 / 8, p_l=7, l_u=1000, x_s=x)
    moment = openings.moment_along(**PROPPED, p_l=7, l_u=1000, x_s=x)
    gained = np.concatenate([[0], np.cumsum((shear[1:] + shear[:-1]) / 2 * np.diff(x))])
    assert moment - moment[0] == pytest.approx(gained, abs=1e-3)


def test_a_hole_of_a_third_leaves_two_thirds_of_the_web():
    left = openings.net_web_area(A_W=600, h_o=50, h_W=150)
    assert left == pytest.approx(400)
    assert openings.net_shear(V_x=-4000, A_net=left) == pytest.approx(10)


def test_a_hole_at_half_height_gives_the_tee_above_a_quarter_of_shear_times_width():
    half = openings.tee_shear(V_x=4000, d_a=50, d_b=50)
    assert openings.tee_moment(V_tee=half, w_o=60) == pytest.approx(4000 * 60 / 4)


def test_a_hole_on_the_shell_gives_the_tee_above_all_the_shear():
    assert openings.tee_shear(V_x=-4000, d_a=70, d_b=0) == pytest.approx(4000)


def test_tee_without_a_crown_is_a_rectangle():
    assert openings.tee_modulus(t_W=10, d_a=40, b_c=0, t_cr=0) == pytest.approx(10 * 40**2 / 6)


def test_tee_with_a_crown_by_hand():
    # web 10 × 40, crown 60 × 5: neutral axis at (400·20 + 300·42.5)/700 = 29.6429, I = 140 744 mm⁴
    assert openings.tee_modulus(t_W=10, d_a=40, b_c=60, t_cr=5) == pytest.approx(4748.0, rel=1e-5)


def test_edge_of_a_hole_carries_both_bendings():
    stress = openings.edge_stress(M_x=-1e6, E_W=10e3, z_o=-50, EI=1e10, M_tee=6e4, Z_tee=4000)
    assert stress == pytest.approx(50 + 15)


def test_patch_on_a_clamped_plate_by_hand():
    stress = openings.patch_stress(R_e=1000, t=10, r_p_b=0.05, beta_1=0.067, beta_2=1.008)
    assert stress == pytest.approx(4.774648 * (1.3 * log(40 / pi) + 0.067), rel=1e-6)
    assert stress == pytest.approx(16.11, abs=0.005)


def test_a_wide_patch_is_worst_at_the_plates_edges():
    assert openings.patch_stress(R_e=1000, t=10, r_p_b=0.4, beta_1=0.067, beta_2=1.008) == pytest.approx(
        10.08
    )


def test_small_patch_is_reckoned_wider_for_the_plates_thickness():
    assert openings.equivalent_radius(r_o=2, t=10) == pytest.approx(sqrt(106.4) - 6.75)
    assert openings.equivalent_radius(r_o=5, t=10) == 5
    # the two halves meet within 2 % where half the thickness parts them
    assert openings.equivalent_radius(r_o=4.999999, t=10) == pytest.approx(5, rel=0.02)


def test_patch_is_as_large_as_its_circle():
    assert pi * openings.patch_radius(b_base=80, l_p=200) ** 2 == pytest.approx(16000)


def test_cut_crown_pushes_a_web_half_way_up():
    force = openings.kick(M_x=-1e6, h_c=125)
    assert force == pytest.approx(8000)
    # a strip 60 + 2·100 wide under 8000·100·100/200 N·mm
    pushed = openings.web_push(C_k=force, a_k=100, h_x=200, b_k=60, t_k=5)
    assert pushed == pytest.approx(6 * 4e5 / (260 * 25))


def test_crown_level_with_the_one_it_meets_bends_no_web():
    assert openings.web_push(C_k=8000, a_k=200, h_x=200, b_k=60, t_k=5) == 0


def test_two_tabs_share_what_one_diaphragm_bears():
    assert openings.tab_shear(C_k=8000, t_t=4, l_bond=100) == pytest.approx(10)
    assert openings.diaphragm_bearing(C_k=8000, t_t=4, l_bond=100) == pytest.approx(20)


def test_thrust_below_and_weight_behind_add():
    load = {"f_s": 0.5, "T_o": 6000, "n_W": 3, "W_o": 3500}
    moment = openings.transom_moment(**load, e_T=500, e_W=300)
    assert moment == pytest.approx(0.5 * (3.0e6 + 3.15e6))
    assert moment > openings.transom_moment(**{**load, "W_o": 0}, e_T=500, e_W=300)
    assert openings.transom_shear(f_s=0.5, n_W=3, W_o=3500) == pytest.approx(5250)
    assert openings.transom_push(f_s=0.5, T_o=6000) == pytest.approx(3000)


def test_fibre_under_moment_and_push():
    given = {"E": 10e3, "EI": 1e10, "EA": 3e7, "M_tr": 3.075e6, "N_tr": 3000}
    assert openings.fibre_stress(z=100, **given) == pytest.approx(10e3 * (0.03075 - 0.0001))
    assert openings.fibre_stress(z=-100, **given) == pytest.approx(10e3 * (0.03075 + 0.0001))


def test_knee_carries_the_moment_of_simple_ends():
    moment = openings.simple_moment(P=0.02, s=400, l_u=1000)
    assert moment == pytest.approx(1e6)
    assert openings.bending_stress(M_s=moment, E=10e3, z=-50, EI=1e10) == pytest.approx(50)


def test_taper_falls_one_in_three():
    assert openings.taper_slope(h_W=150, h_e=30, l_t=360) == pytest.approx(1 / 3)


@pytest.mark.parametrize("deadrise", [0.0, 0.3, -0.2])
def test_crowns_height_is_square_to_the_shell(lay: Lay, deadrise: float):
    drawn = [point * exp(1j * deadrise) for point in (-80 + 2j, -50 + 140j, 50 + 140j, 80 + 2j)]
    wall = WallShape(
        id="w1",
        points=tuple((point.real, point.imag) for point in drawn),
        fillets=(),
        side=Side.RIGHT,
        closed=False,
        stack=lay((2.0, 9000.0)),
    )
    assert openings.crown_height([wall], deadrise) == pytest.approx(140)
    assert openings.crown_height([]) == 0


def test_a_level_crown_over_a_slope_is_as_high_as_its_middle(lay: Lay):
    points = ((-80.0, -20.0), (-50.0, 140.0), (50.0, 140.0), (80.0, 30.0))
    wall = WallShape(
        id="w1", points=points, fillets=(), side=Side.RIGHT, closed=False, stack=lay((2.0, 9000.0))
    )
    assert openings.crown_height([wall], 0.3) == pytest.approx(140 * cos(0.3))


def test_laminate_as_one_fails_with_its_stiffest_ply(lay: Lay):
    # strains at failure 100/10 000 and 100/20 000: the second fails first, at 0.005 × 15 000 MPa
    E, tension, compression, _ = openings.along_member(lay((1.0, 10e3), (1.0, 20e3), gel=0.5))
    assert (E, tension, compression) == pytest.approx((15e3, 75, 75))


def test_cored_laminate_counts_over_its_skins(lay: Lay):
    E, tension, _, _ = openings.along_member(lay((2.0, 10e3), (2.0, 10e3), core=20.0))
    assert pytest.approx(10e3, rel=0.05) == E  # 80 MPa of core lie along with it
    assert tension == pytest.approx(0.01 * E)
