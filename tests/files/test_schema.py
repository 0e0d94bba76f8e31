import json
from collections.abc import Iterator
from dataclasses import is_dataclass
from typing import Any

from stringerlab.files import FORMAT, VERSION, schema
from stringerlab.files.codec import Envelope
from stringerlab.files.fields import Wanted, annotations, records_below, wanted


def properties_of(stated: dict[str, Any], name: str) -> dict[str, Any]:
    return (stated if name == "Envelope" else stated["$defs"][name])["properties"]


def parts_of(stated: Any) -> Iterator[dict[str, Any]]:
    """Every schema inside one, itself included."""
    if isinstance(stated, dict):
        yield stated
        for part in stated.values():
            yield from parts_of(part)
    elif isinstance(stated, list):
        for part in stated:
            yield from parts_of(part)


def numbers_of(record: Wanted) -> Iterator[Wanted]:
    """Every number with a unit or range that a field holds."""
    if record.range is not None or record.type is float:
        yield record
    for part in record.parts:
        yield from numbers_of(wanted(part))


def test_schema_is_json_and_says_format_and_version():
    stated = json.loads(json.dumps(schema()))
    assert stated["properties"]["format"]["const"] == FORMAT
    assert stated["properties"]["version"]["const"] == VERSION
    assert stated["$schema"].startswith("https://json-schema.org/")


def test_every_field_of_every_record_is_in_the_schema_and_no_other_is_allowed():
    stated = schema()
    for name, record in records_below(Envelope).items():
        assert set(properties_of(stated, name)) == set(annotations(record))
        assert (stated if name == "Envelope" else stated["$defs"][name])["additionalProperties"] is False
        assert is_dataclass(record)


def test_every_number_states_its_unit_and_range():
    stated = schema()
    seen = 0
    for name, record in records_below(Envelope).items():
        for field, annotation in annotations(record).items():
            inside = list(parts_of(properties_of(stated, name)[field]))
            for number in numbers_of(wanted(annotation)):
                seen += 1
                if number.unit is not None:
                    assert any(part.get("unit") == number.unit.symbol for part in inside), (name, field)
                if number.range is not None:
                    assert any(part.get("range") == str(number.range) for part in inside), (name, field)
    assert seen > 50


def test_panel_width_is_in_mm_with_its_range():
    width = schema()["$defs"]["Panel"]["properties"]["b"]
    assert (width["type"], width["unit"], width["range"]) == ("number", "mm", "20 to 20000")


def test_range_is_a_remark_and_no_limit_of_shape():
    assert not any({"minimum", "maximum", "exclusiveMinimum"} & set(part) for part in parts_of(schema()))
