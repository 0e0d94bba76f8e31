"""Laminates over the glass content against the same laminates resolved there."""

from dataclasses import replace

import numpy as np
import pytest

from stringerlab.laminate import Laminate, Ply, Stack, resolve
from stringerlab.materials import Book, shipped
from stringerlab.materials.records import CouponSet, Materials, Property
from stringerlab.methods import method_named
from stringerlab.sizing.scatter.cloth import Factors, cloth

_BOOK = Book.of(shipped())
_EVALUATION = method_named("iso_12215_5_2008").evaluation
_LAID = Laminate(
    id="l1",
    name="Bottom",
    plies=(
        Ply(material="gelcoat", thickness=0.6),
        Ply(material="csm450"),
        Ply(material="m1808", angle=30.0),
        Ply(material="pvc80", thickness=15.0),
        Ply(material="ud500"),
    ),
)


def _factors(count: int, **given: np.ndarray) -> Factors:
    same = {name: np.ones(count) for name in ("thickness", "glass", "modulus", "strength")}
    return Factors(**{**same, **given})


def _resolved(glass: float) -> Stack:
    nominal = resolve(_LAID, _BOOK)
    whole = {
        number: sum(ply.dry_weight for ply in nominal.plies if ply.number == number)
        / sum(ply.mass for ply in nominal.plies if ply.number == number)
        for number in (2, 3, 5)
    }
    plies = tuple(
        replace(ply, glass=whole[number] * glass) if number in whole else ply
        for number, ply in enumerate(_LAID.plies, 1)
    )
    return resolve(replace(_LAID, plies=plies), _BOOK)


def test_between_the_glass_contents_worked_out_plies_are_as_resolved_there() -> None:
    stack = resolve(_LAID, _BOOK)
    made = cloth(_LAID, _BOOK, stack, _EVALUATION, (0.8, 1.2))
    at = np.array([0.8, 0.8371, 0.93, 1.0, 1.0421, 1.13, 1.2])
    found = made.sampled(_factors(len(at), glass=at))
    assert made.error < 1e-8
    for row, glass in enumerate(at):
        there = _resolved(float(glass))
        for name, column in (("thickness", found.thickness), ("E1", found.E1), ("G12", found.G12)):
            exact = [getattr(ply, name) for ply in there.plies]
            assert column[row] == pytest.approx(exact, rel=1e-8), name
        taken = [_EVALUATION.judged(stack).plies[i].tension_1 for i in range(len(stack.plies))]
        if glass == 1:
            assert found.strengths[row, 1, 0] == pytest.approx(taken[1], rel=1e-12)


def test_factors_multiply_what_is_laid_and_leave_core_and_gel_coat() -> None:
    stack = resolve(_LAID, _BOOK)
    made = cloth(_LAID, _BOOK, stack, _EVALUATION, None)
    plain = made.sampled(_factors(1))
    laid = made.sampled(
        _factors(1, thickness=np.full(1, 1.1), modulus=np.full(1, 0.9), strength=np.full(1, 0.8))
    )
    core = [ply.name for ply in stack.plies].index(_BOOK.core("pvc80").name)  # type: ignore[union-attr]
    for place in range(len(stack.plies)):
        bare = place in (0, core)
        assert laid.thickness[0, place] == pytest.approx(plain.thickness[0, place] * (1 if bare else 1.1))
        assert laid.E1[0, place] == pytest.approx(plain.E1[0, place] * (1 if bare else 0.9))
    assert laid.strengths[0, 1] == pytest.approx(plain.strengths[0, 1] * 0.8)
    assert laid.mass == pytest.approx(plain.mass)


def test_beyond_what_an_estimate_holds_for_the_nearest_end_counts() -> None:
    stack = resolve(_LAID, _BOOK)
    made = cloth(_LAID, _BOOK, stack, _EVALUATION, (0.2, 1.2))
    assert 0.2 < made.low < 0.9  # the fit begins at a glass content of 0.2
    ends = made.sampled(_factors(2, glass=np.array([made.low, 0.1])))
    assert (ends.thickness[0] == ends.thickness[1]).all()


def test_an_estimate_that_jumps_where_coupons_end_is_said_to_be_uncertain() -> None:
    material = _BOOK.reinforcement("csm450")
    assert material is not None
    coupons = CouponSet(
        property=Property.TENSION_1, mean=150.0, deviation=6.0, count=8, glass=material.glass, source="lab"
    )
    own = replace(material, id="own", coupons=(coupons,))
    book = Book.of(Materials(reinforcements=(own,)), shipped())
    laminate = Laminate(id="l1", name="Tested", plies=(Ply(material="own"),))
    made = cloth(laminate, book, resolve(laminate, book), _EVALUATION, (0.7, 1.3))
    assert made.error > 0.01
