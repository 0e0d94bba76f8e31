"""Webs pressed on, roots opened and cores crushed, against numbers worked out by hand."""

from collections.abc import Callable
from dataclasses import replace
from math import isnan, log, pi, sqrt

import numpy as np
import pytest

from stringerlab.laminate import Role, Stack
from stringerlab.section import SectionShape, Side, WallShape, crippling

Lay = Callable[..., Stack]
E = 10_000.0


def hat(stack: Stack, *, root: float = 12.0, side: Side = Side.RIGHT, bead: float = 0.0) -> SectionShape:
    z = 5.0 + bead if side is Side.RIGHT else bead
    wall = WallShape(
        id="w1",
        points=((-120.0, z), (-60.0, z), (-60.0, 100.0), (60.0, 100.0), (60.0, z), (120.0, z)),
        fillets=(0.0, root, 10.0, 10.0, root, 0.0),
        side=side,
        closed=False,
        stack=stack,
    )
    return SectionShape(name="hat", walls=(wall,), bead=bead)


@pytest.mark.parametrize("side", [Side.RIGHT, Side.LEFT])
def test_root_of_a_hat_has_the_drawn_radius_on_its_inner_face(lay: Lay, side: Side) -> None:
    """The tool line is the inner face of the root whichever way a hat is laid: outside it, below it."""
    found = crippling.roots(hat(lay((5.0, E)), side=side))
    inner = 12.0 if side is Side.RIGHT else 12.0 - 5.0
    assert [root.R_i for root in found] == pytest.approx([inner, inner], rel=0.01)
    assert all(root.on_shell for root in found)
    assert [root.flange for root in found] == [5.0, 5.0]


def test_sharp_root_has_no_radius(lay: Lay) -> None:
    assert all(isnan(root.R_i) for root in crippling.roots(hat(lay((5.0, E)), root=0.0)))


def test_crushing_of_one_ply_is_its_strength_times_its_thickness(lay: Lay) -> None:
    """Tsai–Wu under one stress alone gives that strength back: 100 MPa."""
    assert crippling.crushing(lay((5.0, E))) == pytest.approx(500, rel=1e-6)


def test_missing_strength_leaves_crushing_unknown(lay: Lay) -> None:
    stack = lay((5.0, E))
    bare = replace(stack, plies=tuple(replace(ply, compression_2=None) for ply in stack.plies))
    assert isnan(crippling.crushing(bare))


def test_web_bows_out_as_euler_says() -> None:
    D = E * 125 / 12 / 0.91
    assert crippling.column_load(D_22=D, d_W=100.0) == pytest.approx(pi**2 * D / 1e4, rel=1e-12)


def test_force_spreads_at_45_degrees_to_half_depth() -> None:
    assert crippling.spread_force(F_W=3000.0, l_B=50.0, d_W=100.0) == pytest.approx(20, rel=1e-12)
    assert crippling.spread_force(F_W=3000.0, l_B=0.0, d_W=100.0) == pytest.approx(30, rel=1e-12)


def test_pressure_comes_up_from_a_field_no_longer_than_the_span() -> None:
    assert crippling.line_force(P=0.05, s=400.0, l_u=900.0, n_r=2.0) == pytest.approx(10, rel=1e-12)
    assert crippling.line_force(P=0.05, s=900.0, l_u=400.0, n_r=1.0) == pytest.approx(20, rel=1e-12)


@pytest.mark.parametrize(("R_i", "t"), [(12.0, 5.0), (20.0, 4.0), (8.0, 2.0)])
def test_radial_tension_against_the_exact_curved_bar(R_i: float, t: float) -> None:
    """Golovin's solution of a circular bar in pure bending (Timoshenko & Goodier, article 29)."""
    m, a, b = 100.0, R_i, R_i + t
    r = np.linspace(a, b, 4001)
    N = (b**2 - a**2) ** 2 - 4 * a**2 * b**2 * log(b / a) ** 2
    exact = 4 * m / N * (a**2 * b**2 / r**2 * log(b / a) + b**2 * np.log(r / b) + a**2 * np.log(a / r))
    found = float(crippling.radial_tension(m_r=m, t=t, R_i=R_i, R_o=R_i + t))
    assert found == pytest.approx(float(np.abs(exact).max()), rel=0.01)
    assert found == pytest.approx(3 * m / (2 * t * sqrt(a * b)), rel=1e-12)


def test_root_is_opened_at_the_arm_of_its_bend() -> None:
    assert crippling.root_moment(f_r=0.2, N_y=10.0, R_m=14.5) == pytest.approx(29, rel=1e-12)


def test_core_is_pressed_over_45_degrees_or_the_flange() -> None:
    sizes = {"t_web": 5.0, "t_F": 5.0, "t_B": 4.0, "t_i": 3.0}
    assert crippling.bearing_width(**sizes, w_F=60.0) == pytest.approx(29, rel=1e-12)
    assert crippling.bearing_width(**sizes, w_F=20.0) == pytest.approx(20, rel=1e-12)
    assert crippling.bearing_pressure(N_y=14.5, w_B=29.0) == pytest.approx(0.5, rel=1e-12)


def test_cored_bottom_names_its_weakest_core_and_the_skin_towards_the_webs(lay: Lay) -> None:
    stack = lay((2.0, E), (3.0, E), core=20.0)
    plies = tuple(replace(ply, compression_1=0.9) if ply.role is Role.CORE else ply for ply in stack.plies)
    found = crippling.cored(replace(stack, plies=plies))
    assert found is not None
    assert found.strength == 0.9
    first = next(index for index, ply in enumerate(plies) if ply.role is Role.CORE)
    assert found.t_i == sum(ply.thickness for ply in plies[first + 1 :])
    assert crippling.cored(lay((5.0, E))) is None
    missing = crippling.cored(stack)
    assert missing is not None
    assert isnan(missing.strength)


def test_print_through_is_flange_and_bead_over_the_hull(lay: Lay) -> None:
    flange, hull = crippling.flange_over(hat(lay((5.0, E)), bead=4.0), 0.0, lay((12.0, E), gel=0.6))
    assert (flange, hull) == (5.0, 12.0)
    assert crippling.print_through(t_F=flange, t_B=4.0, t_hull=hull) == pytest.approx(0.75)
    assert crippling.print_through(t_F=flange, t_B=4.0, t_hull=8.0) == pytest.approx(9 / 8)
    wall = WallShape(
        id="w1", points=((0, 0), (0, 100)), fillets=(), side=Side.RIGHT, closed=False, stack=lay((5.0, E))
    )
    assert crippling.flange_over(SectionShape(name="bare", walls=(wall,)), 0.0, lay((8.0, E))) == (0.0, 8.0)
