"""Failure criteria, strengths along a member, first plies to fail, interlaminar shear."""

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from stringerlab import laminate as lam
from stringerlab.errors import StringerlabError
from stringerlab.laminate import Criterion, Face, Laminate, Moduli, Ply, Resultants, failure, resolve
from stringerlab.materials import Book, records, shipped
from stringerlab.materials.records import Materials, PlyKind, Sourced
from stringerlab.workings import Array, Known

from .conftest import Lay

BOOK = Book.of(shipped())
STRENGTHS = np.array([500.0, 300.0, 30.0, 90.0, 40.0])
stresses = st.lists(st.floats(-100, 100), min_size=3, max_size=3).map(np.array)


@pytest.mark.parametrize("criterion", [failure.maximum_stress, failure.tsai_wu, failure.tsai_hill_signed])
@pytest.mark.parametrize(
    ("stress", "strength"),
    [
        ((1, 0, 0), 500),
        ((-1, 0, 0), 300),
        ((0, 1, 0), 30),
        ((0, -1, 0), 90),
        ((0, 0, 1), 40),
        ((0, 0, -1), 40),
    ],
)
def test_one_stress_alone_fails_at_its_strength(
    criterion: failure.StressCriterion, stress: tuple[float, ...], strength: float
) -> None:
    assert criterion(np.array(stress, dtype=float), STRENGTHS) == pytest.approx(strength)


@given(stresses)
def test_tsai_wu_index_is_one_at_the_factor(stress: Array) -> None:
    assume(np.abs(stress).max() > 1e-3)
    factor = failure.tsai_wu(stress, STRENGTHS)
    s1, s2, s12 = factor * stress
    Xt, Xc, Yt, Yc, S = STRENGTHS
    index = s1 * (1 / Xt - 1 / Xc) + s2 * (1 / Yt - 1 / Yc)
    index += s1**2 / (Xt * Xc) + s2**2 / (Yt * Yc) + (s12 / S) ** 2 - s1 * s2 / math.sqrt(Xt * Xc * Yt * Yc)
    assert index == pytest.approx(1)
    assert factor > 0


@given(stresses, st.floats(0.1, 10))
def test_factor_is_inverse_to_the_load(stress: Array, more: float) -> None:
    assume(np.abs(stress).max() > 1e-3)
    for criterion in (failure.maximum_stress, failure.tsai_wu, failure.tsai_hill, failure.tsai_hill_signed):
        assert criterion(more * stress, STRENGTHS) == pytest.approx(criterion(stress, STRENGTHS) / more)


def test_unloaded_ply_never_fails_and_missing_strength_judges_nothing() -> None:
    partly = STRENGTHS.copy()
    partly[2] = np.nan
    for criterion in (failure.maximum_stress, failure.tsai_wu, failure.tsai_hill, failure.tsai_hill_signed):
        assert criterion(np.zeros(3), STRENGTHS) == np.inf
        assert np.isnan(criterion(np.array([1.0, 1.0, 1.0]), partly))


def test_strengths_along_a_member_follow_the_fibres(lay: Lay) -> None:
    stack = lay("csm450", "ud300", ("ud300", 90.0))
    found = lam.uniaxial_strengths(stack)
    ud = stack.plies[1]
    assert found.tension == pytest.approx([85.0, ud.tension_1, ud.tension_2])
    assert found.compression == pytest.approx([117.0, ud.compression_1, ud.compression_2])
    assert [Known.ranked(int(mark)) for mark in found.marks] == [Known.PROVED, Known.ESTIMATE, Known.ESTIMATE]


def test_marks_are_those_of_the_direction_used() -> None:
    mat = BOOK.reinforcement("csm450")
    assert mat is not None
    guess = Sourced(value=90.0, source="a guess", known=Known.MEMORY_L)
    own = replace(mat, kind=PlyKind.WOVEN_ROVING, tested=records.Tested(tension_1=guess))
    book = Book.of(Materials(reinforcements=(own,)), shipped())

    def mark(angle: float) -> Known:
        plies = (Ply(material="csm450", angle=angle),)
        found = lam.uniaxial_strengths(resolve(Laminate(id="l1", name="own", plies=plies), book))
        return Known.ranked(int(found.marks[0]))

    assert mark(0.0) is Known.MEMORY_L
    assert mark(90.0) is Known.PROVED
    assert mark(45.0) is Known.MEMORY_L


def test_strength_along_a_member_falls_steadily_with_the_fibre_angle(lay: Lay) -> None:
    angles = [0.0, 1e-6, 5.0, 15.0, 30.0, 45.0, 60.0, 90.0]
    found = [lam.uniaxial_strengths(lay(("ud300", angle))).tension[0] for angle in angles]
    assert found[1] == pytest.approx(found[0])
    assert all(later < earlier for earlier, later in pairwise(found[1:]))


@pytest.mark.parametrize("angle", [0.0, 20.0, 45.0, 73.0])
def test_mirrored_ply_is_as_strong_along_the_member(lay: Lay, angle: float) -> None:
    one = lam.uniaxial_strengths(lay(("ud300", angle)))
    other = lam.uniaxial_strengths(lay(("ud300", -angle)))
    assert one.tension == pytest.approx(other.tension)
    assert one.compression == pytest.approx(other.compression)


def test_core_and_gel_coat_have_no_strength_along_a_member(lay: Lay) -> None:
    stack = lay(
        Ply(material="gelcoat", thickness=0.5), "csm450", Ply(material="pvc80", thickness=10.0), "csm450"
    )
    found = lam.uniaxial_strengths(stack)
    assert np.isnan(found.tension[[0, 2]]).all()
    assert np.isnan(found.compression[[0, 2]]).all()
    assert np.isnan(found.interlaminar[[0, 2]]).all()
    assert found.interlaminar[1] == pytest.approx(22.5 - 17.5 * 0.3)


def test_shear_strength_of_one_kind_of_ply_is_that_ply_s(lay: Lay) -> None:
    value, known = lam.shear_strength(lay("csm450", "csm600"))
    assert value == pytest.approx(80 * 0.3 + 38)
    assert known is Known.MEMORY_M  # Poisson's ratio goes in


def test_shear_strength_of_mat_and_roving_is_where_the_stiffer_share_first_fails(lay: Lay) -> None:
    stack = lay("csm450", "wr800")
    mat, roving = stack.plies
    mean = (mat.G12 * mat.thickness + roving.G12 * roving.thickness) / (mat.thickness + roving.thickness)
    expected = min(62.0 * mean / mat.G12, 76.4 * mean / roving.G12)
    assert lam.shear_strength(stack)[0] == pytest.approx(expected)


def test_double_bias_is_stronger_in_shear_than_the_same_fabric_laid_square(lay: Lay) -> None:
    assert lam.shear_strength(lay("db600"))[0] > 2 * lam.shear_strength(lay(("db600", 45.0)))[0]


def test_shear_strength_is_that_of_the_worse_sign(lay: Lay) -> None:
    """Shear that opens a turned ply across its fibres fails it far sooner than shear that closes it."""
    rising, falling = lay(("ud300", 45.0)), lay(("ud300", -45.0))
    assert lam.shear_strength(rising)[0] == pytest.approx(lam.shear_strength(falling)[0])
    ply = rising.plies[0]
    local = np.array([-1.0, 1.0, 0.0])  # of a unit shear that opens it
    strengths = np.array(
        [ply.tension_1, ply.compression_1, ply.tension_2, ply.compression_2, ply.shear], float
    )
    assert lam.shear_strength(rising)[0] == pytest.approx(failure.tsai_wu(local, strengths))


def test_flexural_strength_follows_the_glass_content_of_the_whole(lay: Lay) -> None:
    g = (450 + 800) / (450 / 0.3 + 800 / 0.48)
    value, known = lam.flexural_strength(lay(Ply(material="gelcoat", thickness=0.5), "csm450", "wr800"))
    assert value == pytest.approx(502 * g**2 + 107)
    assert known is Known.MEMORY_H


@pytest.mark.parametrize(
    "plies",
    [
        ("csm450", "db600"),
        ("csm450", "ud300"),
        ("csm450", ("wr800", 45.0)),
        ("csm450", Ply(material="pvc80", thickness=10.0), "csm450"),
    ],
)
def test_flexural_strength_is_not_guessed_where_the_fit_does_not_hold(
    lay: Lay, plies: tuple[str | Ply, ...]
) -> None:
    assert np.isnan(lam.flexural_strength(lay(*plies))[0])


def test_tested_flexural_strength_overrides_the_fit() -> None:
    mat = BOOK.reinforcement("csm450")
    assert mat is not None
    tested = records.Tested(flexural=Sourced(value=180.0, source="bending tests", known=Known.TESTED))
    book = Book.of(Materials(reinforcements=(replace(mat, tested=tested),)), shipped())
    stack = resolve(Laminate(id="l1", name="own", plies=(Ply(material="csm450"),)), book)
    assert lam.flexural_strength(stack) == (180.0, Known.TESTED)


@pytest.mark.parametrize("criterion", Criterion)
def test_pulled_mat_fails_at_its_strength_in_both_directions(lay: Lay, criterion: Criterion) -> None:
    stack = lay("csm450")
    pull, push = lam.first_failure(stack, Resultants(N=(1.0, 0.0, 0.0)), criterion)
    t = lam.thickness(stack)
    assert pull.factor == pytest.approx(85.0 * t)
    assert push.factor == pytest.approx(117.0 * t)
    assert (pull.ply, pull.name, pull.criterion) == (1, stack.plies[0].name, criterion)


@pytest.mark.parametrize("criterion", Criterion)
def test_bent_strip_fails_at_the_face_in_tension(lay: Lay, criterion: Criterion) -> None:
    """Mats are weaker in tension: which face fails turns with the sign of the moment."""
    stack = lay(Ply(material="gelcoat", thickness=0.5), "csm450", "csm450", "csm450")
    sagging, hogging = lam.first_failure(stack, Resultants(M=(10.0, 0.0, 0.0)), criterion)
    assert (sagging.ply, sagging.face) == (4, Face.FREE)
    assert (hogging.ply, hogging.face) == (2, Face.MOULD)
    assert sagging.factor == pytest.approx(hogging.factor)


def test_cross_ply_fails_across_the_fibres_first(lay: Lay) -> None:
    stack = lay("ud300", ("ud300", 90.0), "ud300")
    for criterion in (Criterion.MAXIMUM_STRAIN, Criterion.TSAI_WU):
        order = lam.successive_failures(stack, Resultants(N=(1.0, 0.0, 0.0)), criterion)
        assert order[0].ply == 2
        assert {one.ply for one in order} == {1, 2, 3}
        ud = stack.plies[0]
        assert ud.tension_1 is not None
        assert order[1].factor == pytest.approx(2 * ud.thickness * ud.tension_1, rel=1e-6)


def test_core_is_not_discounted_with_failed_skins(lay: Lay) -> None:
    stack = lay("csm450", Ply(material="pvc80", thickness=20.0), "wr800")
    order = lam.successive_failures(stack, Resultants(N=(1.0, 0.0, 0.0)))
    assert [one.ply for one in order] == [1, 3]
    bending = Resultants(M=(10.0, 0.0, 0.0))
    first, _ = lam.first_failure(stack, bending)
    assert lam.successive_failures(stack, bending)[0] == first


def test_failure_is_refused_when_strengths_are_missing() -> None:
    glass = BOOK.fibre("e_glass")
    assert glass is not None
    book = Book.of(Materials(fibres=(replace(glass, tension_strain=None),)), shipped())
    stack = resolve(
        Laminate(id="l1", name="bare", plies=(Ply(material="csm300"), Ply(material="ud300"))), book
    )
    with pytest.raises(StringerlabError) as caught:
        lam.first_failure(stack, Resultants(N=(1.0, 0.0, 0.0)))
    (problem,) = caught.value.problems
    assert problem.where == "laminate 'bare', ply 2"
    assert "tension 1" in problem.what


def test_interlaminar_shear_of_one_material_is_the_parabola(lay: Lay) -> None:
    stack = lay("csm450", "csm450", "csm450", "csm450", "csm450")
    h, V = lam.thickness(stack), 20.0
    found = lam.interlaminar_shear(stack, V, Moduli.PLAIN)
    parabola = 1.5 * V / h * (1 - (2 * found.z / h) ** 2)
    assert np.abs(found.tau) == pytest.approx(parabola, abs=1e-10)
    assert found.peak.max() == pytest.approx(1.5 * V / h)
    assert pytest.approx(6_400 * h**3 / 12) == found.EI


@given(st.lists(st.sampled_from(["csm450", "wr800", "ud300", "db600"]), min_size=1, max_size=7))
def test_interlaminar_shear_carries_the_whole_force(materials: list[str]) -> None:
    stack = resolve(Laminate(id="l1", name="any", plies=tuple(Ply(material=one) for one in materials)), BOOK)
    found = lam.interlaminar_shear(stack, 7.0)
    E = lam.axial_moduli(stack, Moduli.CONTRACTED)
    force = 0.0
    for place, modulus in enumerate(E):
        z = np.linspace(found.z[place], found.z[place + 1], 2001)
        ES = found.ES[place + 1] + modulus / 2 * (
            (found.z[place + 1] - found.z_neutral) ** 2 - (z - found.z_neutral) ** 2
        )
        force += float(np.trapezoid(7.0 * ES / found.EI, z))
    assert force == pytest.approx(7.0, rel=1e-6)
