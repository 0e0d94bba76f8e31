"""The launch drawn in plan, as shipped: her full grid drains and holds, her plain stringers nearly."""

from dataclasses import replace

import pytest

from stringerlab.assess import Results, check
from stringerlab.assess.cavities import cavity_readings, flotation_reading
from stringerlab.assess.takeoff import take_off
from stringerlab.data import folder
from stringerlab.files import load
from stringerlab.layout.plan import EquipmentKind, Layout, MemberKind, Use
from stringerlab.methods import Aspect, FindingKind, Verdict
from stringerlab.project import Project, resolve


@pytest.fixture(scope="module")
def boat() -> Project:
    return load(folder("sample_projects") / "tidewrack_layout.json")


@pytest.fixture(scope="module")
def plain(boat: Project) -> Project:
    return replace(boat, layout=layout(boat, "Plain stringers").id)


@pytest.fixture(scope="module")
def judged(boat: Project) -> Results:
    return check(boat)


@pytest.fixture(scope="module")
def plain_judged(plain: Project) -> Results:
    return check(plain)


def layout(boat: Project, name: str) -> Layout:
    return next(one for one in boat.layouts if one.name == name)


def short(results: Results) -> list[str]:
    return [f"{one.name}: {one.aspect}" for one in results.findings if one.verdict is Verdict.SHORT]


@pytest.mark.parametrize("name", ["Full grid", "Plain stringers"])
def test_all_that_water_can_get_into_runs_to_the_bilge(boat: Project, name: str) -> None:
    project = replace(boat, layout=layout(boat, name).id)
    read = cavity_readings(project, resolve(project))
    assert read.amiss == ()
    assert all(each.drained for each in read.readings)
    assert {each.use for each in read.readings} >= {Use.BILGE, Use.MACHINERY, Use.TANK_BAY, Use.RODE_LOCKER}
    lowest = [each.stands or 0 for one in read.readings for each in one.drains]
    assert max(lowest) <= 5


def test_the_foam_voids_are_sealed_and_a_boat_of_30_ft_is_outside_the_flotation_form(boat: Project) -> None:
    found = resolve(boat)
    (void,) = [each for each in cavity_readings(boat, found).readings if each.use is Use.VOID]
    assert void.sealed
    assert void.count == 2
    assert void.wet_mass == 0
    flotation = flotation_reading(boat, found)
    assert flotation is not None
    assert not flotation.covered
    assert "30.8 ft" in flotation.outside[0].what
    assert flotation.present == pytest.approx(2 * void.foam_volume)


def test_the_full_grid_is_short_of_nothing_by_rule_mechanics_or_grid(judged: Results) -> None:
    assert (judged.problems, judged.doubts, judged.repairs) == ((), (), ())
    assert short(judged) == []
    for kind in (FindingKind.RULE, FindingKind.MECHANICS, FindingKind.GRID):
        assert any(one.kind is kind and one.verdict is Verdict.HOLDS for one in judged.findings)


def test_the_plain_boat_is_short_only_of_distance_from_the_engine_at_idle(plain_judged: Results) -> None:
    assert (plain_judged.problems, plain_judged.doubts) == ((), ())
    assert plain_judged.grid is not None
    assert plain_judged.grid.is_solved
    close = [one for one in plain_judged.findings if one.verdict is Verdict.SHORT]
    assert close
    assert {one.aspect for one in close} == {Aspect.FREQUENCY}
    assert all("Engine at 10 Hz" in one.notes[0] for one in close)


def test_the_speeds_of_engine_and_gyro_are_judged_or_said_to_be_beyond_what_is_known(judged: Results) -> None:
    about = [one for one in judged.findings if one.aspect is Aspect.FREQUENCY]
    assert {one.verdict for one in about} == {Verdict.HOLDS, Verdict.NOT_JUDGED}
    assert any("Engine at 10 Hz" in one.notes[0] for one in about)
    assert any("too far below a speed to tell" in one.notes[0] for one in about)


def test_every_kind_of_equipment_but_the_outboard_and_every_load_stand_in_both(boat: Project) -> None:
    # an inboard boat: no outboard hangs on her, and nothing of hers is a bare point load
    kinds = set(EquipmentKind) - {EquipmentKind.OUTBOARD, EquipmentKind.POINT}
    for name in ("Full grid", "Plain stringers"):
        assert {one.kind for one in layout(boat, name).equipment} == kinds
        engine = next(one for one in layout(boat, name).equipment if one.kind is EquipmentKind.ENGINE)
        assert engine.insert is not None
        assert engine.speed == 600
    full, plain = (
        [(one.name, len(one.parts)) for one in layout(boat, name).combinations]
        for name in ("Full grid", "Plain stringers")
    )
    assert full == plain


def test_the_lifted_weight_is_the_boats_own(boat: Project) -> None:
    for one in boat.layouts:
        eyes = [each for each in one.equipment if each.kind is EquipmentKind.LIFTING]
        assert sum(each.mass * (2 if each.hand.value == "pair" else 1) for each in eyes) == boat.craft.mass


def test_the_take_off_is_that_of_the_drawn_members_and_names_the_bulkheads_left_out(boat: Project) -> None:
    sheet = take_off(boat)
    assert sheet.not_counted == ()
    found = resolve(boat).found
    assert found is not None
    judged = {one.id for one in found.spans if one.span is not None}
    assert {one.id for one in sheet.members} == judged | {span.id for span in boat.spans}
    bulkheads = [one.name for one in layout(boat, "Full grid").members if one.kind is MemberKind.BULKHEAD]
    assert f"Bulkheads of the layout are not counted: {', '.join(bulkheads)}." in sheet.notes
