"""Estimates of ply properties: bounds, conservation, agreement between independent ways."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stringerlab.laminate import theory
from stringerlab.materials import Book, Number, estimated, shipped
from stringerlab.materials import estimates as fits
from stringerlab.materials.records import LAYERED, Estimate, Fibre, PlyKind, Reinforcement, Resin
from stringerlab.workings import Known

BOOK = Book.of(shipped())
glasses = st.floats(0.2, 0.7)
weights = st.floats(100, 2000)


def made(identity: str) -> tuple[Reinforcement, Fibre, Resin]:
    material = BOOK.reinforcement(identity)
    assert material is not None
    fibre, resin = BOOK.fibre(material.fibre), BOOK.resin(material.resin)
    assert fibre is not None
    assert resin is not None
    return material, fibre, resin


def numbers(identity: str, glass: float = 0.5, weight: float = 600.0) -> dict[str, float]:
    material, fibre, resin = made(identity)
    found, problems = estimated(material, fibre, resin, weight, Number(glass, Known.STATED))
    assert problems == []
    return {name: number.value for name, number in found.items()}


@given(weights, glasses)
def test_thickness_fit_is_the_volume_of_glass_and_polyester(w: float, g: float) -> None:
    densities = fits.solid_thickness(w, g, rho_f=2560, rho_m=1200)
    assert fits.fit_thickness(w, g) == pytest.approx(densities, rel=1e-3)


@given(weights, glasses)
def test_solid_thickness_conserves_mass(w: float, g: float) -> None:
    t = fits.solid_thickness(w, g, 2560, 1150)
    V_f = fits.fibre_volume(g, 2560, 1150)
    assert t * (V_f * 2560 + (1 - V_f) * 1150) == pytest.approx(w / g)
    assert t * V_f * 2560 == pytest.approx(w)


@given(st.floats(0.1, 0.8))
def test_aligned_ply_lies_between_the_bounds_of_reuss_and_voigt(g: float) -> None:
    _, fibre, resin = made("ud300")
    ply = numbers("ud300", g)
    V_f = float(fits.fibre_volume(g, fibre.density.value, resin.density.value))
    E_f, E_m = fibre.modulus.value, resin.modulus.value
    voigt, reuss = E_f * V_f + E_m * (1 - V_f), 1 / (V_f / E_f + (1 - V_f) / E_m)
    assert ply["E1"] == pytest.approx(voigt)
    assert reuss < ply["E2"] < voigt
    G_f, G_m = fibre.shear_modulus.value, E_m / (2 * (1 + resin.poisson.value))
    assert 1 / (V_f / G_f + (1 - V_f) / G_m) < ply["G12"] < G_f * V_f + G_m * (1 - V_f)


@given(st.floats(0.05, 0.75))
def test_shares_by_mass_and_by_volume_are_each_others_way_back(V_f: float) -> None:
    g = fits.fibre_mass(V_f, 2560, 1200)
    assert fits.fibre_volume(g, 2560, 1200) == pytest.approx(V_f)
    assert fits.ply_density(V_f, 2560, 1200) * g == pytest.approx(2560 * V_f)


def test_no_fibre_gives_the_resin_and_all_fibre_the_fibre() -> None:
    assert fits.modulus_across(0.0, 72_400, 3400) == pytest.approx(3400)
    assert fits.modulus_across(1.0, 72_400, 3400) == pytest.approx(72_400)
    assert fits.shear_modulus(0.0, 29_700, 1250) == pytest.approx(1250)
    assert fits.shear_modulus(1.0, 29_700, 1250) == pytest.approx(29_700)


@given(st.floats(0.1, 0.8))
def test_balanced_ply_is_two_half_plies_by_lamination_theory(g: float) -> None:
    ud, db = numbers("ud300", g), numbers("db600", g)
    q = theory.q_matrix(ud["E1"], ud["E2"], ud["G12"], ud["nu12"])
    compliance = np.linalg.inv((theory.q_bar(q, 0.0) + theory.q_bar(q, math.pi / 2)) / 2)
    assert db["E1"] == pytest.approx(1 / compliance[0, 0])
    assert db["E2"] == pytest.approx(1 / compliance[1, 1])
    assert db["nu12"] == pytest.approx(-compliance[0, 1] / compliance[0, 0])
    assert db["G12"] == pytest.approx(1 / compliance[2, 2])


def test_double_bias_is_the_stitched_fabric_of_straight_fibres() -> None:
    material, fibre, resin = made("bx600")
    straight = replace(material, estimate=Estimate.MICROMECHANICS)
    found, _ = estimated(straight, fibre, resin, 600.0, Number(0.5, Known.STATED))
    bias = numbers("db600")
    assert {name: found[name].value for name in bias if name != "flexural"} == {
        name: value for name, value in bias.items() if name != "flexural"
    }


def test_all_fit_constants_by_hand_at_glass_content_one_half() -> None:
    ply = numbers("wr800", 0.5)
    assert ply["E1"] == pytest.approx(38_000 / 2 - 5_000)
    assert ply["tension_1"] == pytest.approx(200 - 40 + 37)
    assert ply["compression_1"] == pytest.approx(75 + 72)
    assert ply["interlaminar"] == pytest.approx(22.5 - 8.75)
    assert ply["flexural"] == pytest.approx(125.5 + 107)
    assert ply["shear"] == pytest.approx(40 + 38)
    assert ply["G12"] == pytest.approx(850 + 2240)


@pytest.mark.parametrize("kind", PlyKind)
@pytest.mark.parametrize("estimate", Estimate)
def test_each_estimate_takes_its_kinds_and_refuses_the_others(kind: PlyKind, estimate: Estimate) -> None:
    material, fibre, resin = made("bx600")
    asked = replace(material, kind=kind, estimate=estimate)
    found, problems = estimated(asked, fibre, resin, 600.0, Number(0.5, Known.READ), "ply 1")
    takes = {
        (PlyKind.MAT, Estimate.PUBLISHED_FIT),
        (PlyKind.WOVEN_ROVING, Estimate.PUBLISHED_FIT),
        (PlyKind.BIAXIAL, Estimate.PUBLISHED_FIT),
        (PlyKind.BIAXIAL, Estimate.MICROMECHANICS),
        (PlyKind.DOUBLE_BIAS, Estimate.MICROMECHANICS),
        (PlyKind.UNIDIRECTIONAL, Estimate.MICROMECHANICS),
    }
    if (kind, estimate) in takes:
        assert problems == []
        assert found["E1"].value > 0
    else:
        assert found == {}
        assert "does not know" in problems[0].what
        if kind in LAYERED:
            assert "its layers" in problems[0].remedy
            return
        other = Estimate.MICROMECHANICS if estimate is Estimate.PUBLISHED_FIT else Estimate.PUBLISHED_FIT
        assert f"'{other}'" in problems[0].remedy


def test_fits_refuse_what_is_no_e_glass_and_glass_contents_beyond_their_use() -> None:
    material, fibre, resin = made("csm450")
    carbon = replace(fibre, name="Carbon", modulus=replace(fibre.modulus, value=230_000))
    found, problems = estimated(material, carbon, resin, 450.0, Number(0.15, Known.STATED), "ply 1")
    assert found == {}
    assert [problem.where for problem in problems] == ["ply 1", "ply 1"]
    assert "E-glass, not for Carbon" in problems[0].what
    assert "0.15" in problems[1].what


def test_marks_are_the_weakest_of_what_went_in() -> None:
    material, fibre, resin = made("csm450")
    read, _ = estimated(material, fibre, resin, 450.0, Number(0.3, Known.READ))
    assert read["E1"].known is Known.PROVED
    assert read["G12"].known is Known.MEMORY_H
    entered, _ = estimated(material, fibre, resin, 450.0, Number(0.3, Known.STATED))
    assert entered["E1"].known is Known.STATED
    vinylester = BOOK.resin("vinylester")
    assert vinylester is not None
    other, _ = estimated(material, fibre, vinylester, 450.0, Number(0.3, Known.READ))
    assert other["E1"].known is Known.PRACTICE
    isophthalic = BOOK.resin("isophthalic")
    assert isophthalic is not None
    sister, _ = estimated(material, fibre, isophthalic, 450.0, Number(0.3, Known.READ))
    assert sister["E1"].known is Known.PROVED
    ud, fibre, resin = made("ud300")
    aligned, _ = estimated(ud, fibre, resin, 300.0, Number(0.5, Known.READ))
    assert aligned["tension_1"].known is Known.ESTIMATE
    assert aligned["E1"].known is Known.MEMORY_M


def test_fibre_without_failing_strains_gives_stiffness_but_no_strength() -> None:
    material, fibre, resin = made("ud300")
    bare = replace(fibre, tension_strain=None, compression_strain=None)
    found, problems = estimated(material, bare, resin, 300.0, Number(0.5, Known.STATED))
    assert problems == []
    assert found["E1"].value > 0
    assert math.isnan(found["tension_1"].value)
    assert found["tension_2"].value > 0
