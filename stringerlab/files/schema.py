"""The project file's JSON schema, each number with its unit and sensible range.

A range is a remark, not a limit of the schema: a file of the right shape opens, and what lies outside
its range is a problem the project lists.
"""

from typing import Any

from stringerlab.files.codec import FORMAT, Envelope, adapter
from stringerlab.files.fields import Wanted, annotations, records_below, wanted
from stringerlab.files.migrations import VERSION


def schema() -> dict[str, Any]:
    """Return the JSON schema of a project file; ``unit`` and ``range`` stand beside each number's type."""
    made = adapter().json_schema()
    definitions: dict[str, Any] = made["$defs"]
    for name, record in records_below(Envelope).items():
        properties = (definitions.get(name) or made)["properties"]
        for field, annotation in annotations(record).items():
            _add_range(properties[field], wanted(annotation))
    made["properties"]["format"]["const"] = FORMAT
    made["properties"]["version"]["const"] = VERSION
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **made}


def _add_range(stated: dict[str, Any], record: Wanted) -> None:
    if record.range is not None:
        stated["range"] = str(record.range)
    for part, inner in zip(_parts(stated), record.parts * (len(_parts(stated)) or 1), strict=False):
        _add_range(part, wanted(inner))


def _parts(stated: dict[str, Any]) -> list[dict[str, Any]]:
    return stated.get("prefixItems", [stated["items"]] if "items" in stated else [])
