"""Bolts and blocks under a foot, by hand: M12 bolts, a block of 150 × 60 × 12 mm under 6 mm of laminate."""

from dataclasses import replace
from math import pi, sqrt

import numpy as np
import pytest

from stringerlab.laminate import PlyNumbers, Role, Stack
from stringerlab.layout import Bonding
from stringerlab.layout.plan import Insert
from stringerlab.materials.records import Adhesive, Solid, Sourced
from stringerlab.methods import Aspect, Judged
from stringerlab.methods.mechanics import OURS, inserts
from stringerlab.methods.mechanics.inserts import LoadedInsert
from stringerlab.workings import Known, workings

COMPRESSION, INTERLAMINAR, METAL = 120.0, 18.0, 125.0
INSERT = Insert(
    material="metal",
    bolts=2,
    diameter=12.0,
    edge=30.0,
    thickness=12.0,
    embedded=6.0,
    length=150.0,
    width=60.0,
)


def sourced(value: float, known: Known = Known.STATED) -> Sourced:
    return Sourced(value=value, source="by hand", known=known)


BLOCK = Solid(id="metal", name="Block", density=sourced(2660), strength=sourced(METAL), structural=True)
GLUE = Adhesive(
    id="glue", name="Glue", density=sourced(1000), modulus=sourced(400), shear_strength=sourced(10.0)
)
BONDING = Bonding(
    static=sourced(0.5),
    fatigue=sourced(0.6),
    environment=sourced(0.8),
    through_thickness=sourced(7.0),
    voids=sourced(0.1),
)


def laminate(interlaminar: float | None = INTERLAMINAR) -> Stack:
    ply = PlyNumbers(
        name="ply",
        role=Role.REINFORCED,
        kind=None,
        angle=0.0,
        thickness=6.0,
        mass=9000.0,
        dry_weight=3000.0,
        glass=0.3,
        E1=10e3,
        E2=10e3,
        G12=10e3 / 2.6,
        nu12=0.3,
        tension_1=100.0,
        compression_1=COMPRESSION,
        tension_2=100.0,
        compression_2=COMPRESSION,
        shear=60.0,
        flexural=150.0,
        interlaminar=interlaminar,
        marks=(),
    )
    return Stack(name="laminate", plies=(ply,))


def foot(
    *cases: tuple[float, float, float],
    insert: Insert = INSERT,
    block: Solid | None = BLOCK,
    stack: Stack | None = None,
    adhesive: Adhesive | None = None,
) -> LoadedInsert:
    shear, pull, moment = np.array(cases, float).T
    return LoadedInsert(
        name="foot",
        insert=insert,
        block=block,
        laminate=stack or laminate(),
        shear=shear,
        pull=pull,
        moment=moment,
        adhesive=adhesive,
        bonding=BONDING,
    )


def judged(*feet: LoadedInsert, row: int = 0) -> Judged:
    found = inserts.judge(feet, OURS)
    return next(each for each in found if each.applies is not None and each.applies[row])


def value(of: Judged, what: str, row: int = 0) -> float:
    return float(np.broadcast_to(getattr(of, what), of.applies.shape if of.applies is not None else ())[row])


def all_ways(one: LoadedInsert) -> dict[str, tuple[float, float]]:
    """Demand and capacity of each way of failing that applies."""
    [case, *_] = inserts.cases_of(0, one)
    ways = inserts.judge_ways([case], OURS)
    return {
        name: (float(np.ravel(each.demand)[0]), float(np.ravel(each.capacity)[0]))
        for name, each in zip(inserts.WAYS, ways, strict=True)
        if each.applies is None or each.applies[0]
    }


def test_a_block_s_stresses_by_hand() -> None:
    ways = all_ways(foot((8000.0, 9000.0, 120e3)))
    local = OURS.local
    assert ways["bearing"] == pytest.approx((8000 / (2 * 12 * 12), local * METAL))
    assert ways["tearing out of the block"] == pytest.approx(
        (8000 / (2 * 2 * 30 * 12), local * METAL / sqrt(3))
    )
    # threads of two bolts, half of a cylinder of 12 by 12 each
    assert ways["pull-out of the threads"] == pytest.approx(
        (9000 / (2 * pi * 12 * 12 / 2), local * METAL / sqrt(3))
    )
    # round 420 mm of block, 6 mm thick; the middle of a section carries half more than the mean
    assert ways["pull-through of the block"] == pytest.approx((1.5 * 9000 / (420 * 6), local * INTERLAMINAR))
    assert "pull-through of washers" not in ways
    assert "tearing out of the laminate" not in ways


def test_a_block_s_bond_by_hand() -> None:
    ways = all_ways(foot((8000.0, 9000.0, 120e3), adhesive=GLUE))
    left = 0.6 * 0.8 * OURS.bond
    # 5 MPa of the glue is less than the laminate's 18 and its 7 across
    assert ways["block's bond in shear"] == pytest.approx((8000 / (9000 * 0.9), 5.0 * left))
    # under laminate the moment alone lifts an edge: 6 M/(l w²)
    assert ways["block's bond in peel"] == pytest.approx((6 * 120e3 / (150 * 60**2) / 0.9, 5.0 * left))
    bare = all_ways(foot((0.0, 9000.0, 0.0), insert=replace(INSERT, embedded=0.0), adhesive=GLUE))
    assert bare["block's bond in peel"] == pytest.approx((9000 / 9000 / 0.9, 5.0 * left))
    assert "pull-through of the block" not in bare


def test_a_block_laid_across_peels_as_one_laid_along() -> None:
    along = all_ways(foot((0.0, 0.0, 1e5)))
    across = all_ways(foot((0.0, 0.0, 1e5), insert=replace(INSERT, length=60.0, width=150.0)))
    assert along["block's bond in peel"] == across["block's bond in peel"]


def test_bolts_through_laminate_alone_bear_in_it_and_pull_washers_through() -> None:
    ways = all_ways(foot((3000.0, 2000.0, 0.0), block=None))
    assert ways["bearing"] == pytest.approx((3000 / (2 * 12 * 6), OURS.local * COMPRESSION))
    assert ways["pull-through of washers"] == pytest.approx(
        (1.5 * 2000 / (2 * pi * 24 * 6), OURS.local * INTERLAMINAR)
    )
    assert ways["edge distance"] == pytest.approx((36.0, 30.0))
    assert set(ways) == {
        "bearing",
        "tearing out of the laminate",
        "pull-through of washers",
        "edge distance",
    }


def test_bolts_too_near_the_edge_govern_whatever_the_load() -> None:
    result = judged(foot((1.0, 1.0, 0.0), insert=replace(INSERT, edge=16.0)))
    assert result.unit.symbol == "mm"
    assert value(result, "utilisation") == pytest.approx(24 / 16)
    assert result.aspect is Aspect.INSERT


def test_bolts_on_the_very_edge_are_short_not_unjudged() -> None:
    result = judged(foot((100.0, 0.0, 0.0), insert=replace(INSERT, edge=0.0)))
    assert value(result, "utilisation") > 10


def test_of_several_load_cases_the_worst_governs_and_is_named() -> None:
    gentle, torn = (1000.0, 500.0, 0.0), (40e3, 500.0, 0.0)
    result = judged(foot(gentle, torn, gentle))
    assert result.governing is not None
    assert "load case 2" in result.governing.name(0)
    alone = judged(foot(torn))
    assert value(result, "utilisation") == value(alone, "utilisation")


@pytest.mark.parametrize("times", [0.5, 3.0])
def test_utilisation_goes_with_the_load(times: float) -> None:
    load = np.array((20e3, 15e3, 200e3))
    once, more = (judged(foot(tuple(load * each))) for each in (1.0, times))  # type: ignore[arg-type]
    assert value(more, "utilisation") == pytest.approx(times * value(once, "utilisation"))


def test_a_push_pulls_nothing_through() -> None:
    ways = all_ways(foot((0.0, -50e3, 0.0)))
    assert ways["pull-through of the block"][0] == 0.0
    assert ways["pull-out of the threads"][0] == 0.0


def test_two_feet_are_two_rows_each_with_its_own() -> None:
    found = inserts.judge([foot((1e3, 0.0, 0.0)), foot((80e3, 0.0, 0.0), block=None)], OURS)
    said = [sum(bool(np.broadcast_to(each.applies, 2)[row]) for each in found) for row in (0, 1)]  # type: ignore[arg-type]
    assert said == [1, 1]


def test_a_block_of_foam_is_not_judged_and_says_why() -> None:
    foam = replace(BLOCK, structural=False)
    result = judged(foot((100.0, 100.0, 0.0), block=foam))
    assert np.isnan(value(result, "utilisation"))
    assert "not structural" in " ".join([result.missing, *(each.text for each in result.lacking)])


def test_a_laminate_without_interlaminar_strength_is_not_judged() -> None:
    result = judged(foot((100.0, 100.0, 0.0), stack=laminate(None)))
    assert np.isnan(value(result, "utilisation"))
    assert "interlaminar" in result.missing


def test_the_weakest_mark_of_block_and_bond_is_kept() -> None:
    soft = replace(GLUE, shear_strength=sourced(0.1, Known.MEMORY_L))
    result = judged(foot((8000.0, 0.0, 0.0), adhesive=soft))
    assert result.marks is not None
    assert Known.ranked(int(result.marks[0])) is Known.MEMORY_L


def test_forces_of_unlike_numbers_of_cases_are_refused() -> None:
    one = replace(foot((1.0, 1.0, 1.0)), pull=np.zeros(3))
    with pytest.raises(ValueError, match="a number a load case each"):
        inserts.judge([one], OURS)


def test_the_workings_lead_to_the_foot_s_force() -> None:
    with workings() as recorded:
        result = judged(foot((60e3, 0.0, 0.0), adhesive=GLUE))
    steps = recorded.behind(result.demand, result.capacity)
    assert {step.formula.symbol for step in steps} == {"tau_bk", "tau_b"}
