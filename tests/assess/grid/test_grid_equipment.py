"""Equipment on the grid: statics of feet, tanks and outboards; what adds and what never relieves."""

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest

from stringerlab.assess.grid import Acts, analysed
from stringerlab.assess.grid.beams import beams_of
from stringerlab.assess.grid.standing import on_feet, standing
from stringerlab.craft import bottom
from stringerlab.grillage import solve
from stringerlab.layout.plan import Combination, Equipment, EquipmentKind, Hand, Part, Source
from stringerlab.methods import method_named

if TYPE_CHECKING:
    from tests.assess.grid.conftest import Laid

METHOD = method_named("iso_12215_5_2008")
FEET = ((-300.0, -200.0), (300.0, -200.0), (-300.0, 200.0), (300.0, 200.0))


def thing(kind: EquipmentKind, **more: object) -> Equipment:
    return Equipment(**({"id": "e1", "name": "It", "kind": kind, "at": (3000.0, 0.0)} | more))  # pyright: ignore


def ground_with(laid: "Laid", *equipment: Equipment, combinations: tuple[Combination, ...] = ()):
    girders = [laid.girder(f"g{y}", (0, y), (6000, y)) for y in (200, 600)]
    floors = [laid.floor(f"f{x}", (x, 0), (x, 1000)) for x in (1500, 3000, 4500)]
    ground = laid.ground(laid.flat, *girders, *floors, equipment=equipment)
    return replace(ground, layout=replace(ground.layout, combinations=combinations))


def reactions(results, name: str) -> float:  # pyright: ignore
    (case,) = [number for number, one in enumerate(results.cases) if one.name == name]
    return float(solve(results.factored, results.cases.of([case])).reactions[:, 0].sum())


def test_feet_balance_force_and_couples(laid: "Laid") -> None:
    ground = ground_with(laid)
    hull = bottom(ground.craft)
    (stands,) = standing(thing(EquipmentKind.ENGINE, feet=FEET), hull, beams_of(ground, hull, METHOD))
    force, left = on_feet(stands, -4000.0, 2e5, 3e5)
    dx, dy = (stands.feet - stands.middle).T
    assert force.sum() == pytest.approx(-4000)
    assert (force * dy).sum() == pytest.approx(2e5)
    assert -(force * dx).sum() == pytest.approx(3e5)
    assert not left.any()


def test_one_foot_leaves_couples_to_its_node(laid: "Laid") -> None:
    ground = ground_with(laid)
    hull = bottom(ground.craft)
    (stands,) = standing(thing(EquipmentKind.ENGINE), hull, beams_of(ground, hull, METHOD))
    force, left = on_feet(stands, -4000.0, 2e5, 3e5)
    assert force == pytest.approx([-4000])
    assert left == pytest.approx([2e5, 3e5])


def test_a_tank_presses_with_its_head_and_acceleration(laid: "Laid") -> None:
    tank = thing(EquipmentKind.TANK, length=900.0, breadth=600.0, head=500.0, acceleration=2.0)
    results = analysed(ground_with(laid, tank), METHOD)
    # 1025 kg/m³ × 9.80665 × 0.5 m × 0.54 m² × 3, less what goes to the hull's edges directly: nothing here
    assert reactions(results, "It: head") == pytest.approx(1025 * 9.80665 * 0.5 * 0.54 * 3, rel=1e-6)


def test_a_weight_counts_one_g_and_the_methods_acceleration(laid: "Laid") -> None:
    entered = analysed(ground_with(laid, thing(EquipmentKind.POINT, mass=100.0, acceleration=0.0)), METHOD)
    assert reactions(entered, "It: weight") == pytest.approx(980.665, rel=1e-9)
    by_method = analysed(ground_with(laid, thing(EquipmentKind.POINT, mass=100.0)), METHOD)
    assert reactions(by_method, "It: weight") > 2 * 980.665
    assert any("acceleration" in note for note in by_method.notes)


@pytest.mark.parametrize(("hand", "side"), [(Hand.PORT, 1), (Hand.STARBOARD, -1)])
def test_a_knees_load_stands_outboard_of_its_member_by_its_arm(laid: "Laid", hand: Hand, side: int) -> None:
    knee = thing(
        EquipmentKind.KNEE, at=(2200.0, 600.0), hand=hand, mass=100.0, overhang=450.0, acceleration=1.0
    )
    results = analysed(ground_with(laid, knee), METHOD)
    assert results.factored is not None
    assert results.beams is not None
    (case,) = [number for number, one in enumerate(results.cases) if one.name == "It: weight"]
    held = solve(results.factored, results.cases.of([case])).reactions[:, :, 0]  # pyright: ignore
    W = 2 * 100 * 9.80665
    assert held[:, 0].sum() == pytest.approx(W)
    about_keel = float((held[:, 0] * results.beams.grid.nodes[:, 1] + held[:, 1]).sum())
    assert about_keel == pytest.approx(side * W * (600 + 450))


def test_outboard_thrust_and_weight_add(laid: "Laid") -> None:
    def worst(**more: float) -> float:
        motor = thing(
            EquipmentKind.OUTBOARD, at=(0.0, 0.0), height=-500.0, overhang=400.0, acceleration=0.0, **more
        )
        results = analysed(ground_with(laid, motor), METHOD)
        (case,) = [n for n, one in enumerate(results.cases) if one.name == "It: thrust and weight"]
        assert results.factored is not None
        assert results.loads is not None
        return float(np.abs(solve(results.factored, results.loads.of([case])).M).max())

    thrust, weight = worst(thrust=5000.0), worst(mass=300.0)
    assert worst(thrust=5000.0, mass=300.0) == pytest.approx(thrust + weight, rel=1e-6)
    # 5000 N × 0.5 m on two longitudinals that share it
    assert thrust == pytest.approx(5000 * 500 / 2, rel=1e-3)


def test_a_gyro_turns_both_ways(laid: "Laid") -> None:
    gyro = thing(EquipmentKind.GYRO, mass=200.0, feet=FEET, torque=2e6)
    names = [one.name for one in analysed(ground_with(laid, gyro), METHOD).cases]
    assert "It: torque" in names
    assert "It: torque, the other way" in names


def test_equipment_never_relieves_slam(laid: "Laid") -> None:
    heavy = thing(EquipmentKind.TANK, mass=800.0, length=1500.0, breadth=1200.0)
    bare, loaded = (analysed(ground_with(laid, *each), METHOD) for each in ((), (heavy,)))
    assert bare.envelope is not None
    assert loaded.envelope is not None
    assert (loaded.envelope.M_max >= bare.envelope.M_max - 1e-6).all()
    assert (loaded.envelope.M_min <= bare.envelope.M_min + 1e-6).all()
    assert (loaded.envelope.V_abs >= bare.envelope.V_abs - 1e-6).all()


def test_slam_with_weights_at_rest_is_the_sum_of_both(laid: "Laid") -> None:
    heavy = thing(EquipmentKind.POINT, mass=800.0, acceleration=1.0)
    results = analysed(ground_with(laid, heavy), METHOD)
    assert results.factored is not None
    assert results.loads is not None
    both = [n for n, one in enumerate(results.cases) if one.name.endswith("with all weights at rest")]
    last = results.cases[both[-1]]
    assert last.acts is Acts.COMBINED
    name = last.name.removesuffix("; with all weights at rest")
    (slam,) = [n for n, one in enumerate(results.cases) if one.name == name]
    (rest,) = [n for n, one in enumerate(results.cases) if one.name == "all weights at rest"]
    M = solve(results.factored, results.loads.of([slam, rest, both[-1]])).M
    assert M[:, :, 2] == pytest.approx(M[:, :, 0] + M[:, :, 1], abs=1e-3)


def test_combinations_are_as_named(laid: "Laid") -> None:
    heavy = thing(EquipmentKind.POINT, mass=100.0, acceleration=0.0)
    only = Combination(id="c1", name="Half of it", parts=(Part(of="e1", factor=0.5),))
    slam = Combination(id="c2", name="Both", parts=(Part(of=Source.SLAM), Part(of=Source.DECK, factor=2.0)))
    wrong = Combination(id="c3", name="Gone", parts=(Part(of="e9"),))
    results = analysed(ground_with(laid, heavy, combinations=(only, slam, wrong)), METHOD)
    assert reactions(results, "Half of it") == pytest.approx(980.665 / 2)
    assert any(one.name.endswith("; Both") for one in results.cases)
    assert any("'Gone' names 'e9'" in note for note in results.notes)


def test_what_stands_off_the_bottom_is_said_with_its_place(laid: "Laid") -> None:
    off = thing(EquipmentKind.POINT, at=(3000.0, 4000.0), mass=100.0, hand=Hand.PORT)
    results = analysed(ground_with(laid, off), METHOD)
    (placed,) = results.problems
    assert "off the bottom" in str(placed.problem)
    assert placed.at == (3000.0, 4000.0)
