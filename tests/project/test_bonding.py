"""Allowances of the bond in the document: edited, out of range, and carried to the spans."""

import json
from dataclasses import replace
from typing import Any

import pytest

from stringerlab.errors import StringerlabError
from stringerlab.files import dumps, loads
from stringerlab.layout import Bonding
from stringerlab.materials.records import Sourced
from stringerlab.project import book_of, resolve
from stringerlab.project.again import resolved_again
from stringerlab.project.beginning import new_boat
from stringerlab.project.bonding import adhesive_of, with_bonding
from stringerlab.workings import Known


def test_a_value_entered_is_the_users_own() -> None:
    boat = with_bonding(new_boat(), "voids", 0.2)
    assert boat.bonding.voids.value == 0.2
    assert boat.bonding.voids.known is Known.STATED
    assert replace(boat.bonding, voids=Bonding().voids) == Bonding()
    assert loads(dumps(boat)) == boat


def test_a_value_that_is_there_already_changes_nothing() -> None:
    boat = new_boat()
    assert with_bonding(boat, "fatigue", boat.bonding.fatigue.value) is boat


@pytest.mark.parametrize(
    ("field", "value"), [("static", 0.0), ("fatigue", 1.2), ("voids", 0.95), ("gap_tolerance", -1)]
)
def test_a_value_out_of_range_is_refused(field: str, value: float) -> None:
    with pytest.raises(StringerlabError) as refused:
        with_bonding(new_boat(), field, value)
    assert refused.value.problems[0].where == f"bonding, {field.replace('_', ' ')}"


def test_a_file_with_a_value_out_of_range_opens_and_its_bond_is_not_judged() -> None:
    document: dict[str, Any] = json.loads(dumps(new_boat()))
    document["project"]["bonding"]["environment"]["value"] = 3
    boat = loads(json.dumps(document).encode())
    resolved = resolve(boat)
    assert [problem.where for problem in resolved.problems] == ["bonding, environment"]
    assert len(resolved.spans) == 1
    assert resolved.spans[0].bonding is None


def test_a_file_written_before_there_were_allowances_has_the_usual_ones() -> None:
    document: dict[str, Any] = json.loads(dumps(new_boat()))
    del document["project"]["bonding"]
    assert loads(json.dumps(document).encode()).bonding == Bonding()


def test_spans_know_their_adhesive_and_the_allowances() -> None:
    boat = new_boat()
    on_bead = replace(
        boat, sections=tuple(replace(section, bead=5.0, adhesive="") for section in boat.sections)
    )
    case = resolve(with_bonding(on_bead, "voids", 0.3)).spans[0]
    assert case.adhesive is not None
    assert (case.adhesive.id, case.adhesive_named) == ("mma", False)
    assert case.bonding is not None
    assert case.bonding.voids.value == 0.3
    named = replace(
        boat, sections=tuple(replace(section, bead=5.0, adhesive="epoxy_paste") for section in boat.sections)
    )
    case = resolve(named).spans[0]
    assert case.adhesive is not None
    assert (case.adhesive.id, case.adhesive_named) == ("epoxy_paste", True)


def test_what_is_laminated_in_place_has_no_adhesive() -> None:
    boat = new_boat()
    assert adhesive_of(replace(boat.sections[0], bead=0.0), book_of(boat)) is None


def test_a_change_of_allowances_reaches_a_project_resolved_again() -> None:
    boat = new_boat()
    changed = with_bonding(boat, "rebound", 0.5)
    again = resolved_again(changed, boat, resolve(boat))
    assert again.spans[0].bonding == changed.bonding


def test_defaults_say_where_they_come_from() -> None:
    for name in Bonding.__dataclass_fields__:
        held = getattr(Bonding(), name)
        assert isinstance(held, Sourced)
        assert held.source.strip()
        assert held.known in (Known.ESTIMATE, Known.MEMORY_L)
