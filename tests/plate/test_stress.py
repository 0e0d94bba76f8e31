"""What breaks first in a bent plate, worked by hand."""

from dataclasses import replace
from math import pi

import numpy as np
import pytest

from stringerlab.errors import StringerlabError
from stringerlab.laminate import PlyNumbers, Role, Stack
from stringerlab.plate.bending import bent
from stringerlab.plate.records import CLAMPED, plates, shear_stiffness
from stringerlab.plate.stress import PLACES, core_shear, first_ply

E, NU = 8000.0, 0.3
TENSION, COMPRESSION, SHEAR = 90.0, 150.0, 60.0
SKIN = PlyNumbers(
    name="mat", role=Role.REINFORCED, kind=None, angle=0.0, thickness=6.0, mass=9000.0, dry_weight=2700.0,
    glass=0.3, E1=E, E2=E, G12=E / 2 / (1 + NU), nu12=NU, tension_1=TENSION, compression_1=COMPRESSION,
    tension_2=TENSION, compression_2=COMPRESSION, shear=SHEAR, flexural=None, interlaminar=None, marks=(),
)  # fmt: skip
CORE = replace(SKIN, name="foam", role=Role.CORE, thickness=20.0, E1=60.0, E2=60.0, G12=20.0, shear=0.8)
ONE = np.ones(1)
ONE_WAY, BOTH_WAYS = np.zeros(1, np.bool_), np.ones(1, np.bool_)


def stack(*plies: PlyNumbers) -> Stack:
    return Stack(name="laminate", plies=plies)


SINGLE = stack(SKIN)
SANDWICH = stack(replace(SKIN, thickness=2.0), CORE, replace(SKIN, thickness=2.0))


def test_long_clamped_plate_breaks_at_its_long_edge_where_the_mould_face_is_pulled() -> None:
    b, q = 400.0, 0.02
    found = bent(plates([SINGLE], b * ONE, 8 * b * ONE), q * ONE)
    first = first_ply([SINGLE], found, ONE_WAY)
    stress = 6 * (q * b**2 / 12) / 6.0**2
    # across b the stress is σ, along it ν σ: strain by σ (1 − ν²)/E, Tsai–Wu by its quadratic
    s1, s2 = stress, NU * stress
    f1, f11, f12 = 1 / TENSION - 1 / COMPRESSION, 1 / TENSION / COMPRESSION, -0.5 / TENSION / COMPRESSION
    a, lin = f11 * (s1**2 + s2**2) + 2 * f12 * s1 * s2, f1 * (s1 + s2)
    tsai_wu = (-lin + np.sqrt(lin**2 + 4 * a)) / (2 * a)
    strain = TENSION / (stress * (1 - NU**2))
    assert first.factor[0] == pytest.approx(min(tsai_wu, strain), rel=3e-3)
    assert PLACES[first.place[0]] == "at the middle of a long edge"
    assert first.face[0] == 0


def test_simple_plate_breaks_in_its_middle_on_the_face_away_from_the_pressure() -> None:
    found = bent(plates([SINGLE], 400.0 * ONE, 600.0 * ONE, spring_x=0.0, spring_y=0.0), 0.02 * ONE)
    first = first_ply([SINGLE], found, ONE_WAY)
    assert (PLACES[first.place[0]], first.face[0]) == ("in the middle", 1)


def test_multiple_goes_with_the_pressure_and_the_opposite_can_only_lower_it() -> None:
    weak = stack(replace(SKIN, thickness=1.0, tension_1=30.0, tension_2=30.0), replace(SKIN, thickness=5.0))
    given = plates([weak], 400.0 * ONE, 500.0 * ONE)
    once, twice = (first_ply([weak], bent(given, q * ONE), ONE_WAY).factor[0] for q in (0.01, 0.02))
    assert once == pytest.approx(2 * twice, rel=1e-9)
    both = first_ply([weak], bent(given, 0.01 * ONE), BOTH_WAYS).factor[0]
    other = first_ply([weak], bent(given, -0.01 * ONE), ONE_WAY).factor[0]
    assert both == pytest.approx(min(once, other), rel=1e-9)


def test_missing_strength_is_not_a_number() -> None:
    lacking = stack(replace(SKIN, shear=None))
    found = bent(plates([lacking, SINGLE], np.full(2, 400.0), np.full(2, 500.0)), np.full(2, 0.02))
    factors = first_ply([lacking, SINGLE], found, np.zeros(2, np.bool_)).factor
    assert np.isnan(factors[0])
    assert factors[1] > 0


def test_core_shears_at_the_long_edge() -> None:
    b, q = 500.0, 0.02
    found = bent(plates([SANDWICH], b * ONE, 8 * b * ONE, spring_x=0.0, spring_y=0.0), q * ONE)
    assert core_shear([SANDWICH], found)[0] == pytest.approx(0.8 * 22.0 / (q * b / 2), rel=2e-3)
    assert core_shear([SINGLE], found)[0] == np.inf
    assert np.isnan(core_shear([stack(SKIN, replace(CORE, shear=None), SKIN)], found)[0])


def test_shear_stiffness_of_a_sandwich_is_its_cores() -> None:
    assert shear_stiffness(SANDWICH)[0] == pytest.approx(20.0 * 22.0**2 / 20.0)
    two = stack(replace(SKIN, thickness=2.0), replace(CORE, thickness=10.0), replace(CORE, thickness=10.0),
                replace(SKIN, thickness=2.0))  # fmt: skip
    assert shear_stiffness(two)[0] == pytest.approx(shear_stiffness(SANDWICH)[0])
    assert shear_stiffness(SINGLE)[0] == pytest.approx(5 / 6 * SKIN.G12 * 6.0)


def test_long_simple_sandwich_deflects_by_bending_and_shear() -> None:
    b, q = 500.0, 0.02
    given = plates([SANDWICH], b * ONE, 8 * b * ONE, spring_x=0.0, spring_y=0.0)
    D, S = given.D[0, 0, 0], given.S[0, 0]
    expected = 5 * q * b**4 / 384 / D + q * b**2 / 8 / S
    assert bent(given, q * ONE).w[0] == pytest.approx(expected, rel=2e-3)


def test_unsymmetric_laminate_bends_by_its_own_neutral_plane() -> None:
    # steel-stiff ply under a soft one: a long simple plate is a strip of E/(1 − ν²) about its neutral axis
    soft, hard = (
        replace(SKIN, thickness=4.0),
        replace(SKIN, thickness=2.0, E1=4 * E, E2=4 * E, G12=4 * SKIN.G12),
    )
    pair = stack(soft, hard)
    z = (4.0 * 2.0 + 4 * 2.0 * 5.0) / (4.0 + 4 * 2.0)
    inertia = (4.0**3 / 12 + 4.0 * (z - 2.0) ** 2) + 4 * (2.0**3 / 12 + 2.0 * (5.0 - z) ** 2)
    given = plates([pair], 400.0 * ONE, 3200.0 * ONE, spring_x=0.0, spring_y=0.0)
    assert given.D[0, 0, 0] == pytest.approx(E / (1 - NU**2) * inertia, rel=1e-9)


def test_core_without_stiffness_is_refused() -> None:
    hollow = stack(SKIN, replace(CORE, G12=0.0), SKIN)
    with pytest.raises(StringerlabError, match="shear stiffness"):
        bent(plates([hollow], 400.0 * ONE, 500.0 * ONE), ONE)


def test_ply_angle_turns_the_short_side_to_the_fibres() -> None:
    along = replace(SKIN, E1=40_000.0, E2=10_000.0, G12=4_000.0)
    fibres = [stack(replace(along, angle=angle)) for angle in (0.0, pi / 2)]
    found = bent(plates(fibres, np.full(2, 400.0), np.full(2, 1600.0), spring_x=CLAMPED), np.full(2, 0.02))
    assert found.w[1] == pytest.approx(4 * found.w[0], rel=0.02)
