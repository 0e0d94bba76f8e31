import pytest

from stringerlab.assess import check
from stringerlab.files import dumps, loads
from stringerlab.layout.plan import Layout
from stringerlab.methods import Verdict
from stringerlab.project import planning, resolve
from stringerlab.project.beginning import new_boat
from stringerlab.units import System


def test_a_new_boat_is_sound() -> None:
    resolved = resolve(new_boat())
    assert resolved.problems == ()
    assert resolved.repairs == ()
    assert (len(resolved.panels), len(resolved.spans), len(resolved.shapes)) == (1, 1, 1)


def test_a_new_boat_holds_and_its_numbers_are_all_there() -> None:
    findings = check(new_boat(), topics=()).findings
    missing = [finding.aspect for finding in findings if finding.utilisation is None]
    assert missing == ["bond"]  # left to the mechanics
    assert {finding.verdict for finding in findings} == {Verdict.HOLDS, Verdict.NOT_JUDGED}


def test_a_layout_begun_on_a_new_boat_has_plating_everywhere() -> None:
    boat = planning.with_layout(new_boat(), Layout(id="", name="First"))
    resolved = resolve(boat)
    assert resolved.amiss == ()
    assert resolved.problems == ()
    (panel,) = (case for case in resolved.panels if case.panel.id not in {one.id for one in boat.panels})
    assert panel.stack == resolved.stacks[boat.zones[0].laminate]


@pytest.mark.parametrize("units", list(System))
def test_a_new_boat_is_saved_and_read_again(units: System) -> None:
    boat = new_boat(units)
    assert boat.units is units
    assert loads(dumps(boat)) == boat


def test_ids_are_the_projects_own() -> None:
    boat = new_boat()
    ids = [each.id for each in (*boat.laminates, *boat.sections, *boat.panels, *boat.spans)]
    assert len(set(ids)) == len(ids)
    assert all(int(each[1:]) < boat.counter for each in ids)
