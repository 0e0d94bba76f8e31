"""Every row of the shipped book does what it is for, and comes out as such a thing does."""

import math
from dataclasses import replace

import numpy as np
import pytest

from stringerlab import laminate as lam
from stringerlab.assess.takeoff import Sort, take_off
from stringerlab.data import folder
from stringerlab.files import load
from stringerlab.laminate import Laminate, Moduli, Ply, Role, Stack
from stringerlab.materials import Book, estimated, shipped
from stringerlab.materials import estimates as fits
from stringerlab.materials.estimating import Number, is_e_glass
from stringerlab.materials.records import (
    Adhesive,
    Core,
    Fibre,
    GelCoat,
    Materials,
    PlyKind,
    Reinforcement,
    Resin,
    Solid,
)
from stringerlab.project import resolve
from stringerlab.project.records import Project
from stringerlab.section import Fill, Section, Side, Wall, facts, properties
from stringerlab.workings import Known

BOOK = Book.of(shipped())
SOUND = shipped()
ALONG = {
    PlyKind.MAT: (5_500, 7_500),
    PlyKind.WOVEN_ROVING: (11_000, 15_500),
    PlyKind.BIAXIAL: (12_000, 18_000),
    PlyKind.DOUBLE_BIAS: (5_500, 11_000),
    PlyKind.UNIDIRECTIONAL: (19_000, 30_000),
    PlyKind.TRIAXIAL: (8_000, 19_000),
    PlyKind.QUADRIAXIAL: (10_000, 16_000),
    PlyKind.MAT_STITCHED: (6_000, 13_000),
}
"""Modulus along the roll that glass laid by hand has, MPa."""
ALONG_CARBON = {
    PlyKind.BIAXIAL: (40_000, 65_000),
    PlyKind.DOUBLE_BIAS: (8_000, 18_000),
    PlyKind.UNIDIRECTIONAL: (90_000, 125_000),
}


def stack(*plies: Ply | str, book: Book = BOOK) -> Stack:
    laid = tuple(Ply(material=ply) if isinstance(ply, str) else ply for ply in plies)
    return lam.resolve(Laminate(id="l1", name="one", plies=laid), book)


@pytest.mark.parametrize("material", SOUND.reinforcements, ids=lambda each: each.id)
def test_a_reinforcement_makes_a_laminate_as_stiff_and_heavy_as_its_kind(material: Reinforcement) -> None:
    fibre, resin = BOOK.fibre(material.fibre), BOOK.resin(material.resin)
    assert fibre is not None
    assert resin is not None
    one = stack(material.id)
    assert len(one.plies) == max(1, len(material.layers))
    assert lam.dry_mass(one) == pytest.approx(material.weight, rel=0.01)
    assert lam.mass(one) == pytest.approx(material.weight / material.glass, rel=0.03)
    density = lam.mass(one) / lam.thickness(one)
    assert resin.density.value < density < fibre.density.value
    # two turned face to face, so that a fabric of several layers does not twist
    there, back = stack(material.id), stack(material.id)
    both = Stack(name="both", plies=there.plies + back.plies[::-1])
    constants = lam.engineering_constants(both)
    low, high = (ALONG if is_e_glass(fibre) else ALONG_CARBON)[material.kind]
    assert low < constants.Ex < high or material.id.startswith("tri90")
    assert resin.modulus.value < constants.Ey < fibre.modulus.value
    assert 1_500 < constants.Gxy < 0.3 * fibre.modulus.value
    for ply in one.plies:
        assert ply.E1 >= ply.E2 > ply.G12 > 0
        assert None not in (ply.tension_1, ply.compression_1, ply.tension_2, ply.compression_2, ply.shear)
        assert set(dict(ply.marks)) >= {"thickness", "E1", "E2", "G12", "nu12", "tension_1", "shear"}
    strengths = lam.uniaxial_strengths(both)
    assert np.all(np.isfinite(strengths.tension))
    assert np.all(strengths.tension > 5)


def test_a_triaxial_is_stiffer_along_its_straight_layer() -> None:
    for weight in (600, 800, 1200):
        along = [stack(f"{name}_{weight}") for name in ("tri0", "tri90")]
        both = [lam.engineering_constants(Stack(name="", plies=one.plies + one.plies[::-1])) for one in along]
        assert both[0].Ex == pytest.approx(both[1].Ey, rel=1e-9)
        assert both[0].Ex > 1.3 * both[0].Ey


def test_a_quadriaxial_is_as_stiff_every_way() -> None:
    layers = stack("quad800").plies
    membrane = lam.abd(Stack(name="", plies=layers))[:3, :3]
    assert membrane[0, 0] == pytest.approx(membrane[1, 1])
    assert membrane[2, 2] == pytest.approx((membrane[0, 0] - membrane[0, 1]) / 2)


@pytest.mark.parametrize("identity", ["m1708", "m1808", "m2408"])
def test_the_mat_of_a_combination_lies_towards_the_mould(identity: str) -> None:
    mat, fabric = stack(identity).plies
    assert (mat.kind, mat.glass) == (PlyKind.MAT, 0.3)
    assert mat.dry_weight == pytest.approx(228.86, abs=0.005)
    assert fabric.glass == 0.5


def test_1708_resists_shear_and_1808_pulls_along() -> None:
    bias, straight = (lam.engineering_constants(stack(name)) for name in ("m1708", "m1808"))
    assert bias.Gxy > 1.5 * straight.Gxy
    assert straight.Ex > 1.2 * bias.Ex


@pytest.mark.parametrize("core", SOUND.cores, ids=lambda each: each.id)
def test_a_core_makes_a_sandwich_stiffer_than_its_skins(core: Core) -> None:
    sandwich = stack("csm450", Ply(material=core.id, thickness=20.0), "csm450")
    placed = next(ply for ply in sandwich.plies if ply.role is Role.CORE)
    assert lam.is_sandwich(sandwich)
    assert placed.mass == pytest.approx(core.density.value * 20.0)
    assert lam.mass(sandwich) == pytest.approx(3000 + placed.mass)
    bending = float(lam.abd(sandwich)[3, 3])
    assert bending > 50 * float(lam.abd(stack("csm450", "csm450"))[3, 3])
    assert 45 < core.density.value < 260
    # through the thickness a foam is some two to five times as stiff as in shear, and weaker than it is stiff
    assert 2 < core.modulus.value / core.shear_modulus.value < 5
    assert 0.01 < core.shear_strength.value / core.shear_modulus.value < 0.1
    assert 0.005 < core.compressive_strength.value / core.modulus.value < 0.06


@pytest.mark.parametrize("coat", SOUND.gel_coats, ids=lambda each: each.id)
def test_a_coat_adds_mass_and_no_stiffness(coat: GelCoat) -> None:
    bare, coated = stack("csm450"), stack(Ply(material=coat.id, thickness=0.6), "csm450")
    assert lam.mass(coated) - lam.mass(bare) == pytest.approx(0.6 * coat.density.value)
    assert 1000 < coat.density.value < 1600
    assert lam.thickness(coated) == lam.thickness(bare)
    assert lam.abd(coated) == pytest.approx(lam.abd(bare))


def test_a_barrier_coat_may_follow_a_gel_coat() -> None:
    both = stack(Ply(material="gelcoat", thickness=0.5), Ply(material="barrier_ve", thickness=0.5), "skin300")
    assert lam.thickness_with_gel(both) == pytest.approx(lam.thickness(both) + 1.0)


@pytest.mark.parametrize("resin", SOUND.resins, ids=lambda each: each.id)
def test_a_resin_lays_every_glass(resin: Resin) -> None:
    for base in ("csm450", "wr800", "ud300"):
        shipped_one = BOOK.reinforcement(base)
        assert shipped_one is not None
        own = replace(shipped_one, id="own", resin=resin.id)
        (ply,) = stack("own", book=Book.of(Materials(reinforcements=(own,)), SOUND)).plies
        assert resin.modulus.value < ply.E2
        assert resin.density.value < ply.mass / ply.thickness < 2000
    assert 2_000 < resin.modulus.value < 5_000


@pytest.mark.parametrize("fibre", SOUND.fibres, ids=lambda each: each.id)
def test_a_fibre_stiffens_an_aligned_ply_by_its_share(fibre: Fibre) -> None:
    base, resin = BOOK.reinforcement("ud300"), BOOK.resin("epoxy")
    assert base is not None
    assert resin is not None
    numbers, problems = estimated(
        replace(base, fibre=fibre.id), fibre, resin, 300.0, Number(0.6, Known.STATED)
    )
    assert problems == []
    volume = float(fits.fibre_volume(0.6, fibre.density.value, resin.density.value))
    mean = volume * fibre.modulus.value + (1 - volume) * resin.modulus.value
    assert numbers["E1"].value == pytest.approx(mean)
    assert resin.modulus.value < numbers["E2"].value < fibre.transverse_modulus.value
    assert numbers["tension_1"].value > numbers["tension_2"].value


def test_what_only_glass_fits_give_is_not_said_of_carbon() -> None:
    (carbon,) = stack("cbx400").plies
    (glass,) = stack("bx600_ep").plies
    assert (carbon.interlaminar, carbon.flexural) == (None, None)
    assert glass.interlaminar is not None
    assert glass.flexural is not None


SQUARE = ((0.0, 0.0), (40.0, 0.0), (40.0, 50.0), (0.0, 50.0))


def block(material: str, *, filled: bool) -> Project:
    """Return a project with one box of mat, its inside filled with a material or not."""
    wall = Wall(id="w1", points=SQUARE, laminate="l1", side=Side.RIGHT, closed=True)
    fill = Fill(id="f1", points=SQUARE, material=material)
    box = Section(id="s1", name="Box", walls=(wall,), fills=(fill,) if filled else ())
    plies = Laminate(id="l1", name="Mat", plies=(Ply(material="csm450"),))
    lesson = load(folder("sample_projects") / "first_hat_lesson.json")
    return Project(name="Box", craft=lesson.craft, laminates=(plies,), sections=(box,))


@pytest.mark.parametrize("solid", SOUND.solids, ids=lambda each: each.id)
def test_a_solid_fills_a_section_with_its_mass_and_its_stiffness_if_it_counts(solid: Solid) -> None:
    empty, filled = (resolve(block(solid.id, filled=one)) for one in (False, True))
    assert filled.problems == ()
    hollow, full = (properties(one.shapes["s1"], None, Moduli.PLAIN) for one in (empty, filled))
    area = 40.0 * 50.0
    added = full.EA - hollow.EA
    if solid.structural:
        assert solid.modulus is not None
        assert solid.strength is not None
        assert added == pytest.approx(solid.modulus.value * area, rel=1e-6)
        assert full.EI_y - hollow.EI_y == pytest.approx(solid.modulus.value * 40.0 * 50.0**3 / 12, rel=1e-6)
        assert 0.0001 < solid.strength.value / solid.modulus.value < 0.05
    else:
        assert added == pytest.approx(0, abs=1e-9 * hollow.EA)
    masses = [facts(one.shapes["s1"]).mass_per_length for one in (empty, filled)]
    assert masses[1] - masses[0] == pytest.approx(solid.density.value * area * 1e-6)
    assert 30 < solid.density.value < 8100


def test_foam_fills_never_count() -> None:
    foams = [solid for solid in SOUND.solids if "foam" in solid.id]
    assert len(foams) >= 5
    assert not any(solid.structural for solid in foams)


@pytest.mark.parametrize("adhesive", SOUND.adhesives, ids=lambda each: each.id)
def test_an_adhesive_weighs_in_the_take_off_and_carries_a_bond_line(adhesive: Adhesive) -> None:
    lesson = load(folder("sample_projects") / "first_hat_lesson.json")
    (hat,) = lesson.sections
    bonded = replace(lesson, sections=(replace(hat, bead=3.0, adhesive=adhesive.id),))
    (bead,) = [one for one in take_off(bonded).total.amounts if one.sort is Sort.ADHESIVE]
    assert bead.material == adhesive.id
    assert bead.volume == pytest.approx(3.0 * bead.area)
    assert bead.mass == pytest.approx(adhesive.density.value * bead.volume * 1e-9)
    assert 900 < adhesive.density.value < 1500
    # balanced shear lag of two 6 mm skins of 14 GPa lapped by 60 mm with that bead
    G = adhesive.modulus.value / (2 * (1 + 0.35))
    omega = math.sqrt(G / 3 * 2 / (14_000 * 6))
    peak = omega * 60 / 2 / math.tanh(omega * 60 / 2)
    assert 1 <= peak < 5
    assert 1.5 < adhesive.shear_strength.value / peak < 25
