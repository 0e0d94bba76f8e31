"""Thickness, mass and stiffness of stacks of real plies."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stringerlab import laminate as lam
from stringerlab.errors import StringerlabError
from stringerlab.laminate import Laminate, Moduli, Ply, Stack, resolve
from stringerlab.laminate.stiffness import deformation
from stringerlab.materials import Book, shipped

from .conftest import Lay

BOOK = Book.of(shipped())
GEL = Ply(material="gelcoat", thickness=0.6)


def laid(ids: list[str]) -> st.SearchStrategy[Ply]:
    """Draw a ply of one of these materials at any angle."""
    return st.tuples(st.sampled_from(ids), st.floats(-90, 90)).map(
        lambda pair: Ply(material=pair[0], angle=pair[1])
    )


fabrics = laid([record.id for record in shipped().reinforcements])
plain_fabrics = laid([record.id for record in shipped().reinforcements if not record.layers])
stacks = st.lists(fabrics, min_size=1, max_size=8).map(
    lambda plies: resolve(Laminate(id="l1", name="any", plies=tuple(plies)), BOOK)
)


def sandwich(lay: Lay) -> Stack:
    return lay(GEL, "csm450", "wr800", Ply(material="pvc80", thickness=20.0), "csm450")


def test_thickness_and_mass_add_up(lay: Lay) -> None:
    stack = sandwich(lay)
    assert lam.thickness(stack) == pytest.approx(2 * 1.05078 + 1.03472 + 20.0, abs=1e-4)
    assert lam.thickness_with_gel(stack) == pytest.approx(lam.thickness(stack) + 0.6)
    assert lam.dry_mass(stack) == 1700.0
    laminated = 2 * 450 / 0.30 + 800 / 0.48
    assert lam.mass(stack) == pytest.approx(laminated + 1300 * 0.6 + 80 * 20)
    assert lam.glass_content(stack) == pytest.approx(1700 / laminated)
    assert lam.ply_thicknesses(stack).sum() == pytest.approx(lam.thickness_with_gel(stack))


def test_skins_are_counted_from_the_mould(lay: Lay) -> None:
    stack = sandwich(lay)
    outer, cores, inner = lam.skins(stack)
    assert lam.is_sandwich(stack)
    assert [ply.name for ply in outer.plies] == [ply.name for ply in stack.plies[:3]]
    assert [ply.thickness for ply in cores] == [20.0]
    assert lam.dry_mass(inner) == 450.0
    assert lam.thickness(outer) + 20.0 + lam.thickness(inner) == pytest.approx(lam.thickness(stack))
    with pytest.raises(StringerlabError, match="no core"):
        lam.skins(outer)


def test_gel_coat_stiffens_nothing(lay: Lay) -> None:
    bare, coated = lay("csm450", "wr800"), lay(GEL, "csm450", "wr800")
    assert np.allclose(lam.abd(coated), lam.abd(bare), rtol=1e-14)
    assert lam.axial_moduli(coated, Moduli.PLAIN)[0] == 0
    assert lam.axial_moduli(coated, Moduli.CONTRACTED)[0] == 0


def test_core_carries_nothing_along_a_member(lay: Lay) -> None:
    for moduli in Moduli:
        found = lam.axial_moduli(sandwich(lay), moduli)
        assert found[3] == 0
        assert np.all(found[[1, 2, 4]] > 0)


@given(stacks)
def test_contracted_moduli_sum_to_the_free_stiffness(stack: Stack) -> None:
    pull = lam.axial_moduli(stack, Moduli.CONTRACTED) @ lam.ply_thicknesses(stack)
    free = np.linalg.inv(lam.abd(stack)[:3, :3])
    assert pull == pytest.approx(1 / free[0, 0])
    assert lam.engineering_constants(stack).Ex * lam.thickness(stack) == pytest.approx(pull)


@given(plain_fabrics)
def test_one_ply_alone_has_its_plain_modulus_either_way(ply: Ply) -> None:
    stack = resolve(Laminate(id="l1", name="one", plies=(ply,)), BOOK)
    plain = lam.axial_moduli(stack, Moduli.PLAIN)
    assert lam.axial_moduli(stack, Moduli.CONTRACTED) == pytest.approx(plain)
    assert lam.engineering_constants(stack).Ex == pytest.approx(plain[0])
    assert lam.flexural_constants(stack).Ex == pytest.approx(plain[0])


def test_plain_modulus_of_a_mat_and_a_square_roving_is_that_of_the_fit(lay: Lay) -> None:
    assert lam.axial_moduli(lay("csm450", "wr800", ("wr800", 90.0)), Moduli.PLAIN) == pytest.approx(
        [6_400, 13_240, 13_240]
    )


@given(stacks)
def test_constants_obey_reciprocity(stack: Stack) -> None:
    for constants in (lam.engineering_constants(stack), lam.flexural_constants(stack)):
        assert constants.nu_xy / constants.Ex == pytest.approx(constants.nu_yx / constants.Ey)
        assert min(constants.Ex, constants.Ey, constants.Gxy) > 0


def test_sandwich_bends_like_two_skins_apart(lay: Lay) -> None:
    stack = lay("wr800", Ply(material="pvc80", thickness=30.0), "wr800")
    t, c, E = lam.ply_thicknesses(stack)[0], 30.0, 13_240.0
    skins_only = 2 * (E * t * ((c + t) / 2) ** 2 + E * t**3 / 12)
    core = 90.0 * c**3 / 12
    bending = 1 / np.linalg.inv(lam.abd(stack))[3, 3]
    assert bending == pytest.approx(skins_only + core, rel=1e-3)


def test_double_bias_equals_the_same_half_plies_laid_by_hand(lay: Lay) -> None:
    """A ±45 ply is a homogeneous one: its A is that of two unidirectional half plies at +45 and −45."""
    double = lay(Ply(material="db600"))
    halves = lay(
        Ply(material="ud300", angle=45, weight=300.0), Ply(material="ud300", angle=-45, weight=300.0)
    )
    assert np.allclose(lam.abd(double)[:3, :3], lam.abd(halves)[:3, :3], atol=1e-6)


def test_kept_arrays_cannot_be_written(lay: Lay) -> None:
    stack = lay("csm450", "wr800")
    assert lam.abd(stack) is lam.abd(lay("csm450", "wr800"))
    with pytest.raises(ValueError, match="read-only"):
        lam.abd(stack)[0, 0] = 1.0


@given(stacks, st.lists(st.floats(-100, 100), min_size=6, max_size=6))
def test_ply_stresses_add_up_to_the_load(stack: Stack, load: list[float]) -> None:
    states = lam.ply_states(
        stack, lam.Resultants(N=(load[0], load[1], load[2]), M=(load[3], load[4], load[5]))
    )
    low, high = states.stress[:, 0], states.stress[:, 1]
    z0, z1 = states.z[:-1, None], states.z[1:, None]
    force = ((low + high) / 2 * (z1 - z0)).sum(axis=0)
    # a linear stress times z, integrated exactly by Simpson's rule
    middle = (low + high) / 2 * (z0 + z1) / 2
    moment = ((z1 - z0) / 6 * (low * z0 + 4 * middle + high * z1)).sum(axis=0)
    assert np.concatenate([force, moment]) == pytest.approx(np.array(load), abs=1e-7)


def test_many_stacks_as_arrays_equal_each_alone(lay: Lay) -> None:
    several = [sandwich(lay), lay("csm300"), lay("wr800", ("ud300", 30.0), "db600")]
    together = lam.layers(several)
    assert together.t.shape == (3, 5)
    assert together.strengths.shape == (3, 5, 5)
    for matrix, stack in zip(together.abd, several, strict=True):
        assert np.allclose(matrix, lam.abd(stack), rtol=1e-13, atol=1e-8)


def test_laminate_without_stiffness_gives_no_deformation() -> None:
    with pytest.raises(StringerlabError, match="no stiffness"):
        deformation(np.zeros((6, 6)), np.ones(6))
