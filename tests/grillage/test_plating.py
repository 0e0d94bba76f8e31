"""One bay of stringers on a plate, against the beam grid: what a grid of beams leaves out, in figures."""

from dataclasses import replace

import numpy as np
import pytest

from stringerlab.grillage import Grid, Loads, solve

from .conftest import PIN, grid, spread
from .stiffened_plate import Bent, Stiffened, bent

P = 0.05
HEIGHT = 128.0
"""Of a stringer, its crown's top above the plate."""


def bay(L: float, t: float) -> Stiffened:
    """Five hats 120 mm high, 400 mm apart, webs of 4 and crowns of 8 mm, laminate of 10 GPa throughout."""
    web, crown = 2 * 4.0 * 120.0, 100.0 * 8.0
    middle = (web * 60 + crown * 124) / (web + crown)
    second = 2 * 4.0 * 120.0**3 / 12 + web * (60 - middle) ** 2 + crown * (124 - middle) ** 2
    return Stiffened(
        L=L,
        spacing=400.0,
        stringers=5,
        t=t,
        E=1e4,
        EA=1e4 * (web + crown),
        EI=1e4 * second,
        GJ=2e8,
        e=middle + t / 2,
    )


def beams(of: Stiffened, width: float) -> Grid:
    """The same stringers as a beam grid without transverses, each with this width of plating."""
    EI, _ = of.beam_EI(width)
    n = of.stringers
    nodes = [(x, of.spacing * (j + 1)) for j in range(n) for x in (0.0, of.L / 2, of.L)]
    pairs = [(3 * j + i, 3 * j + i + 1) for j in range(n) for i in (0, 1)]
    ends = {3 * j: (np.inf, np.inf, 0.0) for j in range(n)} | {3 * j + 2: PIN for j in range(n)}
    return grid(nodes, pairs, ends, EI=EI, GJ=of.GJ)


def yield_line(of: Stiffened, g: Grid) -> Loads:
    """Each point of a bay to its nearest side."""
    loads = spread(g, P, n=60)
    x = g.nodes[g.beams[loads.beam, 0], 0] + loads.along * of.L / 2
    share = 2 * np.minimum(np.minimum(x, of.L - x), of.spacing / 2)
    return replace(loads, amount=np.asarray(loads.amount) * share[:, None])


def under_pressure(of: Stiffened) -> Bent:
    return bent(of, (0, of.L, 0, of.width), P)


def on_one(of: Stiffened) -> Bent:
    return bent(of, (0, of.L, 2.5 * of.spacing, 3.5 * of.spacing), P)


BAYS = [(L, t) for L in (800.0, 1200.0, 2000.0) for t in (6.0, 10.0, 16.0)]


def test_the_plate_alone_is_timoshenkos_square_plate() -> None:
    of = Stiffened(L=1.0, spacing=0.5, stringers=1, t=0.01, E=1e6)
    assert bent(of, (0, 1, 0, 1), 1.0).w[0] * 1e6 * 1e-6 / 12 / 0.91 == pytest.approx(0.004062, abs=5e-7)


def test_a_narrow_plate_with_a_stringer_is_the_beam_with_its_whole_plating() -> None:
    of = replace(bay(4000.0, 10.0), stringers=1, spacing=20.0, nu=0.0, held=False)
    EI, axis = of.beam_EI(of.width)
    found = under_pressure(of)
    q = P * of.width
    assert found.w[0] == pytest.approx(5 * q * of.L**4 / (384 * EI), rel=1e-3)
    assert found.axial[0] / found.curvature[0] == pytest.approx(-axis, rel=1e-3)


@pytest.mark.parametrize(("L", "t"), BAYS)
def test_under_even_pressure_a_middle_stringer_carries_its_strip(L: float, t: float) -> None:
    """And the yield-line share, that leaves the bay's ends to the transverses, is up to 9 % short of it."""
    of = bay(L, t)
    plate = under_pressure(of).moment[2]
    g = beams(of, of.spacing)
    strip = solve(g, spread(g, P * of.spacing)).M[4, -1, 0]
    assert plate == pytest.approx(strip, rel=0.012)
    short = 1 - solve(g, yield_line(of, g)).M[4, -1, 0] / plate
    assert 0 < short < 0.09
    assert short == pytest.approx((of.spacing / L) ** 2 / 3, abs=0.015)


@pytest.mark.parametrize(("L", "t"), BAYS)
def test_crown_strain_lies_between_plating_of_the_whole_spacing_and_of_half(L: float, t: float) -> None:
    of = bay(L, t)
    plate = under_pressure(of)
    top = HEIGHT + t / 2
    ratios: list[float] = []
    for width in (of.spacing, of.spacing / 2):
        g = beams(of, width)
        EI, axis = of.beam_EI(width)
        M = solve(g, spread(g, P * of.spacing)).M[4, -1, 0]
        ratios.append(float(M / EI * (top - axis) / plate.strain(top)[2]))
    assert 0.97 < ratios[0] < 1.0
    assert 1.0 < ratios[1] < 1.05
    assert 0.7 < plate.width[2] / of.spacing < 0.93


@pytest.mark.parametrize(("L", "t"), BAYS)
def test_a_load_on_one_stringer_is_shared_by_plating_where_beams_share_nothing(L: float, t: float) -> None:
    of = bay(L, t)
    found = on_one(of)
    g = beams(of, of.spacing)
    alone = solve(g, spread(g, P * of.spacing, [4, 5])).M
    assert alone[[0, 2, 6, 8], -1, 0] == pytest.approx(0.0, abs=1e-9)
    shares = found.moment / alone[4, -1, 0]
    assert 0.6 < shares[2] < 0.84
    assert np.all((shares[[1, 3]] > 0.09) & (shares[[1, 3]] < 0.22))
    assert np.all(np.abs(shares[[0, 4]]) < 0.03)
