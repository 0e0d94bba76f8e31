"""Torsion and shear of bars with closed solutions, their convergence, and what must not change a result."""

from cmath import exp
from collections.abc import Sequence
from itertools import pairwise
from math import pi, sqrt, tanh

import numpy as np
import pytest

from stringerlab.errors import StringerlabError
from stringerlab.section.loads import SectionLoads
from stringerlab.section.torsion import Region, Warping, shear_field, warping_of_regions

Ring = Sequence[tuple[float, float]]


def region(ring: Ring, *, E: float = 1.0, G: float = 1.0, owner: str = "bar") -> Region:
    return Region(owner=owner, stroke=-1, low=0.0, high=0.0, E=E, G=G, area=[[np.array(ring, float)]])


def rectangle(width: float, height: float, y: float = 0.0, z: float = 0.0) -> list[tuple[float, float]]:
    return [(y, z), (y + width, z), (y + width, z + height), (y, z + height)]


def ellipse(a: float, b: float, count: int) -> list[tuple[float, float]]:
    return [(a * np.cos(t), b * np.sin(t)) for t in np.arange(count) * 2 * pi / count]


def torsion_of_rectangle(width: float, height: float, terms: int = 400) -> float:
    """J of a bar as its series: width × height³ (1/3 − …)."""
    odd = np.arange(1, 2 * terms, 2)
    a, b = max(width, height), min(width, height)
    return (
        a * b**3 / 3 * (1 - 192 * b / (pi**5 * a) * float((np.tanh(odd * pi * a / (2 * b)) / odd**5).sum()))
    )


def polygon(points: Ring) -> float:
    y, z = np.array(points).T
    return abs(float((y * np.roll(z, -1) - np.roll(y, -1) * z).sum())) / 2


@pytest.mark.parametrize(("a", "b"), [(40.0, 40.0), (40.0, 25.0), (60.0, 15.0)])
def test_ellipse_twists_by_its_closed_solution(a: float, b: float) -> None:
    ring = ellipse(a, b, 240)
    found = warping_of_regions((region(ring),), size=3.0)
    assert pytest.approx(pi * a**3 * b**3 / (a * a + b * b), rel=1e-3) == found.GJ
    stress = shear_field(found, SectionLoads(T=1e5))
    assert stress.greatest == pytest.approx(2e5 / (pi * a * b * b), rel=0.01)


@pytest.mark.parametrize("ratio", [1.0, 1.5, 3.0, 8.0])
def test_rectangle_meets_its_series(ratio: float) -> None:
    found = warping_of_regions((region(rectangle(100 * ratio, 100)),), size=6.0)
    assert pytest.approx(torsion_of_rectangle(100 * ratio, 100), rel=1e-4) == found.GJ


def test_torsion_converges_from_above_with_the_fourth_power_of_the_size() -> None:
    exact = torsion_of_rectangle(60, 40)
    bar = (region(rectangle(60, 40)),)
    found = [_halved(bar, halvings) for halvings in range(4)]
    errors = [each.GJ / exact - 1 for each in found]
    assert all(error > 0 for error in errors)
    rates = [np.log2(one / other) for one, other in pairwise(errors[1:])]
    assert rates == pytest.approx([4.0] * len(rates), abs=0.35)


def test_shear_of_a_rectangle_converges_from_above_to_five_sixths() -> None:
    bar = (region(rectangle(60, 40)),)
    errors = [_halved(bar, halvings).GA_z / (5 / 6 * 2400) - 1 for halvings in range(4)]
    assert errors[0] > errors[1] > errors[2] > errors[3] > 0
    assert errors[3] < 1e-4
    assert np.log2(errors[2] / errors[3]) > 3.5


def _halved(regions: tuple[Region, ...], halvings: int) -> Warping:
    from stringerlab.geometry import meshing
    from stringerlab.section.torsion.solving import solved

    mesh = meshing.meshed([each.area for each in regions], 20.0, halvings=halvings)
    return solved(regions, mesh, size=20.0 / 2**halvings, where="")


@pytest.mark.parametrize("size", [30.0, 15.0, 8.0])
@pytest.mark.parametrize("shape", ["square", "angle"])
def test_estimated_error_bounds_the_true_one_and_is_near_it(size: float, shape: str) -> None:
    ring = (
        rectangle(100, 100) if shape == "square" else [(0, 0), (90, 0), (90, 20), (20, 20), (20, 90), (0, 90)]
    )
    bar = (region(ring),)
    found, fine = warping_of_regions(bar, size=size), warping_of_regions(bar, size=2.0)
    true = max(found.GJ / fine.GJ - 1, found.GA_y / fine.GA_y - 1, found.GA_z / fine.GA_z - 1)
    assert true < found.error < 10 * true


def test_a_chosen_mesh_meets_the_error_asked() -> None:
    bar = (region(rectangle(100, 60)),)
    exact = torsion_of_rectangle(100, 60)
    for error in (0.02, 0.005, 1e-4):
        found = warping_of_regions(bar, error=error)
        assert found.error <= error
        assert 0 < found.GJ / exact - 1 < 2 * error


def test_bar_of_two_materials_side_by_side_meets_its_series() -> None:
    h, b = 10.0, 200.0
    G1, G2 = 3000.0, 9000.0
    bar = (region(rectangle(b, h), G=G1, owner="a"), region(rectangle(b, h, y=b), G=G2, owner="b"))
    found = warping_of_regions(bar, size=2.0)
    assert pytest.approx(_joined(G1, b, G2, b, h), rel=2e-4) == found.GJ


def _joined(G1: float, b1: float, G2: float, b2: float, h: float, terms: int = 200) -> float:
    """GJ of two rectangles b1 × h and b2 × h joined along h, by Prandtl's function in sines across h.

    In each ∇²φ = −2 G; φ is one and ∂φ/∂y / G the same on both sides of the joint; GJ = 2 ∫φ.
    """
    total = 0.0
    for n in range(1, 2 * terms, 2):
        k = n * pi / h
        load = 4 / (n * pi)
        p1, p2 = 2 * G1 * load / k**2, 2 * G2 * load / k**2
        # φ = p (1 − sinh-shaped parts) + joint value; slope at the joint, from each side.
        t1, t2 = tanh(k * b1), tanh(k * b2)
        s1, s2 = tanh(k * b1 / 2), tanh(k * b2 / 2)
        joint = (p1 * s1 / G1 + p2 * s2 / G2) / (1 / (G1 * t1) + 1 / (G2 * t2))
        one = p1 * (b1 - 2 * s1 / k) + joint * s1 / k
        other = p2 * (b2 - 2 * s2 / k) + joint * s2 / k
        total += 2 * (one + other) * 2 * h / (n * pi)
    return total


def test_the_series_of_joined_bars_is_that_of_one_bar_where_moduli_agree() -> None:
    assert _joined(5.0, 30, 5.0, 50, 20) == pytest.approx(5 * torsion_of_rectangle(80, 20), rel=1e-6)


def test_laminate_of_layers_meets_the_series_of_stacked_rectangles() -> None:
    width, low, high = 40.0, 10.0, 20.0
    bar = (
        region(rectangle(width, low), G=2000.0, owner="a"),
        region(rectangle(width, high, z=low), G=7000.0, owner="b"),
    )
    found = warping_of_regions(bar, size=1.5)
    assert pytest.approx(_joined(2000.0, low, 7000.0, high, width), rel=2e-4) == found.GJ


def test_shear_of_a_sandwich_is_that_of_its_jourawski_flow() -> None:
    """Skins of E on a core of G alone: the core carries V/(b d), and its energy all but governs."""
    b, t, c = 200.0, 2.0, 40.0
    skin, core = 20_000.0, 50.0
    bar = (
        region(rectangle(b, t), E=skin, G=8000.0, owner="lower"),
        region(rectangle(b, c, z=t), E=0.0, G=core, owner="core"),
        region(rectangle(b, t, z=t + c), E=skin, G=8000.0, owner="upper"),
    )
    found = warping_of_regions(bar, size=4.0)
    d = c + t
    I = b * (c + 2 * t) ** 3 / 12 - b * c**3 / 12
    flow = b * t * d / 2 / I
    of_core = flow**2 * c / (core * b)
    of_skins = 2 * b * _squared(t, c) / 8000.0 / I**2
    assert 1 / found.GA_z == pytest.approx(of_core + of_skins, rel=1e-3)


def _squared(t: float, c: float) -> float:
    """∫ over a skin's thickness of its first moment per width squared."""
    z = np.linspace(c / 2, c / 2 + t, 2001)
    S = ((c / 2 + t) ** 2 - z**2) / 2
    return float(np.trapezoid(S**2, z))


def channel(G: float = 4000.0) -> tuple[Region, ...]:
    ring = [(0, 0), (60, 0), (60, 4), (6, 4), (6, 96), (45, 96), (45, 100), (0, 100)]
    return (region(ring, E=10_000.0, G=G),)


def test_turning_a_section_turns_its_shear_centre_and_keeps_its_torsion() -> None:
    turn = exp(0.7j)
    found = warping_of_regions(channel(), size=5.0)
    ring = [
        ((complex(*point) * turn).real, (complex(*point) * turn).imag)
        for point in channel()[0].area[0][0].tolist()
    ]
    turned = warping_of_regions((region(ring, E=10_000.0, G=4000.0),), size=5.0)
    assert pytest.approx(found.GJ, rel=1e-6) == turned.GJ
    centre = complex(found.y_s, found.z_s) * turn
    assert (turned.y_s, turned.z_s) == pytest.approx((centre.real, centre.imag), abs=1e-4)
    c, s = turn.real, turn.imag
    matrix = np.array([[c, -s], [s, c]])
    assert turned.compliance == pytest.approx(matrix @ found.compliance @ matrix.T, rel=1e-5, abs=1e-12)


def test_a_mirrored_section_has_a_mirrored_shear_centre() -> None:
    found = warping_of_regions(channel(), size=5.0)
    ring = [(-y, z) for y, z in channel()[0].area[0][0][::-1].tolist()]
    mirrored = warping_of_regions((region(ring, E=10_000.0, G=4000.0),), size=5.0)
    assert pytest.approx(found.GJ, rel=1e-5) == mirrored.GJ
    assert (-mirrored.y_s, mirrored.z_s) == pytest.approx((found.y_s, found.z_s), abs=0.01)
    assert mirrored.compliance[0, 1] == pytest.approx(-found.compliance[0, 1], rel=1e-3)


def test_torsion_grows_with_the_fourth_power_of_length_and_with_G() -> None:
    found = warping_of_regions(channel(), size=5.0)
    ring = (3 * channel()[0].area[0][0]).tolist()
    larger = warping_of_regions((region(ring, E=10_000.0, G=8000.0),), size=15.0)
    assert pytest.approx(2 * 81 * found.GJ, rel=1e-9) == larger.GJ
    assert larger.GA_y == pytest.approx(2 * 9 * found.GA_y, rel=1e-9)
    assert (larger.y_s, larger.z_s) == pytest.approx((3 * found.y_s, 3 * found.z_s), rel=1e-9)


def test_a_bar_cut_in_two_regions_is_still_one_bar() -> None:
    whole = warping_of_regions((region(rectangle(40, 20)),), size=2.0)
    parts = (region(rectangle(15, 20)), region(rectangle(25, 20, y=15), owner="other"))
    assert pytest.approx(whole.GJ, rel=1e-4) == warping_of_regions(parts, size=2.0).GJ


@pytest.mark.parametrize(
    "loads", [(1000.0, 0.0, 0.0), (0.0, -800.0, 0.0), (0.0, 0.0, 5e4), (300.0, 700.0, -2e4)]
)
def test_the_field_integrates_back_to_its_resultants(loads: tuple[float, float, float]) -> None:
    V_y, V_z, T = loads
    field = shear_field(warping_of_regions(channel(), size=8.0), SectionLoads(V_y=V_y, V_z=V_z, T=T))
    assert (field.V_y, field.V_z) == pytest.approx((V_y, V_z), rel=1e-6, abs=1e-6)
    assert pytest.approx(T, rel=1e-6, abs=1e-3) == field.T


def test_peak_of_shear_in_a_rectangle_is_three_halves_of_the_mean() -> None:
    field = shear_field(warping_of_regions((region(rectangle(10, 120)),), size=2.0), SectionLoads(V_z=1200.0))
    assert field.greatest == pytest.approx(1.5, rel=2e-3)
    assert field.place[1] == pytest.approx(60.0, abs=2.0)


def test_a_tube_of_circles_twists_with_its_polar_moment() -> None:
    outer, inner = ellipse(50, 50, 180), ellipse(42, 42, 180)
    tube = Region(
        owner="tube",
        stroke=-1,
        low=0.0,
        high=0.0,
        E=1.0,
        G=1.0,
        area=[[np.array(outer), np.array(inner)[::-1]]],
    )
    found = warping_of_regions((tube,), size=4.0)
    assert pytest.approx(pi / 2 * (50**4 - 42**4), rel=1e-3) == found.GJ
    m = 42 / 50
    # Cowper, Poisson's ratio 0.
    coefficient = 6 * (1 + m * m) ** 2 / (7 * (1 + m * m) ** 2 + 20 * m * m)
    assert found.GA_y / (polygon(outer) - polygon(inner)) == pytest.approx(coefficient, rel=2e-3)


def test_equilateral_triangle() -> None:
    side = 100.0
    ring = [(0.0, 0.0), (side, 0.0), (side / 2, side * sqrt(3) / 2)]
    assert pytest.approx(sqrt(3) / 80 * side**4, rel=1e-4) == warping_of_regions((region(ring),), size=8.0).GJ


def test_unbalanced_solution_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    from stringerlab.section.torsion import solving

    monkeypatch.setattr(solving, "RESIDUAL", 0.0)
    with pytest.raises(StringerlabError, match="left unbalanced"):
        warping_of_regions((region(rectangle(40, 20)),), size=5.0)


@pytest.mark.parametrize(("E", "G"), [(0.0, 1.0), (1.0, 0.0), (1.0, -5.0), (float("nan"), 1.0)])
def test_no_stiffness_is_refused(E: float, G: float) -> None:
    with pytest.raises(StringerlabError, match="zero or negative stiffness"):
        warping_of_regions((region(rectangle(40, 20), E=E, G=G),), size=5.0)


def test_parts_that_do_not_touch_are_named() -> None:
    apart = (region(rectangle(40, 20)), region(rectangle(40, 20, z=21.0), owner="plating"))
    with pytest.raises(StringerlabError, match=r"do not touch along an edge.*'bar'; 'plating'"):
        warping_of_regions(apart, size=5.0)


def test_parts_that_touch_at_a_corner_do_not_hang_together() -> None:
    apart = (region(rectangle(40, 20)), region(rectangle(40, 20, y=40.0, z=20.0), owner="other"))
    with pytest.raises(StringerlabError, match="do not touch along an edge"):
        warping_of_regions(apart, size=5.0)


def test_a_loose_crumb_is_left_out_and_said() -> None:
    crumb = (region(rectangle(100, 100)), region(rectangle(1, 1, y=120.0), owner="f1"))
    found = warping_of_regions(crumb, size=10.0)
    assert pytest.approx(warping_of_regions(crumb[:1], size=10.0).GJ, rel=1e-9) == found.GJ
    assert [str(note) for note in found.notes if "Loose pieces" in note.what and "'f1'" in note.what]


def test_a_sliver_is_left_out_and_said() -> None:
    sliver = (region(rectangle(100, 100)), region(rectangle(90, 0.0005, y=5, z=100.0), owner="f1"))
    found = warping_of_regions(sliver, size=10.0)
    assert ["sliver" in note.what and "'f1'" in note.what for note in found.notes] == [True]
