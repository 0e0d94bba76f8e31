import math
from collections.abc import Callable
from dataclasses import is_dataclass, replace
from enum import Enum
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from stringerlab.errors import StringerlabError
from stringerlab.files import dumps, loads
from stringerlab.files.fields import annotations, wanted
from stringerlab.project import Project


def anything(annotation: Any) -> st.SearchStrategy[Any]:
    """Whatever a field's annotation allows, sensible or not."""
    record = wanted(annotation)
    kind: Any = record.type
    make: Callable[..., Any] = record.type
    made: st.SearchStrategy[Any]
    if is_dataclass(kind):
        made = st.builds(make, **{name: anything(a) for name, a in annotations(kind).items()})
    elif kind is tuple and record.repeated:
        made = st.lists(anything(record.parts[0]), max_size=2).map(tuple)
    elif kind is tuple:
        made = st.tuples(*(anything(part) for part in record.parts))
    elif issubclass(kind, Enum):
        made = st.sampled_from(kind)
    else:
        plain: dict[Any, st.SearchStrategy[Any]] = {
            float: st.floats(allow_nan=False, allow_infinity=False) | st.integers(-1000, 1000).map(float),
            int: st.integers(-10, 10**9),
            bool: st.booleans(),
            str: st.text(max_size=12),
        }
        made = plain[kind]
    return st.none() | made if record.optional else made


@settings(
    max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large]
)
@given(anything(Project))
def test_any_project_of_the_right_shape_reads_back_the_same(project: Project):
    data = dumps(project)
    assert loads(data) == project
    assert dumps(loads(data)) == data


def test_file_ends_with_a_newline_and_is_plain_text_with_two_spaces(boat: Project):
    text = dumps(boat).decode("utf-8")
    assert text.endswith("}\n")
    assert '\n  "project": {\n    "name": "Saltmere 6",' in text
    assert "breiter Träger" in text


def test_fields_stand_in_declared_order_with_defaults_written(boat: Project):
    text = dumps(replace(boat, laminates=(), sections=(), panels=(), spans=())).decode()
    order = [text.index(f'\n    "{name}": ') for name in annotations(Project)]
    assert order == sorted(order)


def test_equal_projects_give_equal_bytes_be_their_numbers_whole_or_not(boat: Project):
    panel = boat.panels[0]
    whole = replace(boat, panels=(replace(panel, b=420),))
    decimal = replace(boat, panels=(replace(panel, b=420.0),))
    assert whole == decimal
    assert dumps(whole) == dumps(decimal)
    assert b'"b": 420,' in dumps(whole)


def test_number_keeps_every_digit(boat: Project):
    third = replace(boat.panels[0], b=1000 / 3, l=0.1 + 0.2, x=1e-300)
    back = loads(dumps(replace(boat, panels=(third,)))).panels[0]
    assert (back.b, back.l, back.x) == (1000 / 3, 0.1 + 0.2, 1e-300)


@pytest.mark.parametrize("number", [math.nan, math.inf, -math.inf])
def test_number_that_is_not_finite_is_never_written(boat: Project, number: float):
    with pytest.raises(StringerlabError) as raised:
        dumps(replace(boat, panels=(replace(boat.panels[0], b=number),)))
    [problem] = raised.value.problems
    assert problem.where == "panel 'Aft bottom, port' (p7), b"


def test_half_a_character_is_never_written(boat: Project):
    with pytest.raises(StringerlabError, match="half a character"):
        dumps(replace(boat, notes="bow \ud800"))
