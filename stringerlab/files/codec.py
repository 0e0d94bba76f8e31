"""Projects to bytes and back: ``{"format", "version", "project"}`` as UTF-8 JSON, strict in keys and numbers.

The same project gives the same bytes. A file of the right shape always reads, whatever its meaning.
"""

import json
from collections.abc import Iterable
from dataclasses import dataclass, fields, is_dataclass
from functools import cache
from typing import Any, cast

from pydantic import ConfigDict, TypeAdapter, ValidationError, with_config

from stringerlab.errors import Problem, StringerlabError
from stringerlab.files.migrations import VERSION, migrated
from stringerlab.files.reading import parsed, too_deep
from stringerlab.files.refusals import problems_of_file
from stringerlab.project.records import Project

FORMAT = "stringerlab project"
_WIDTH = 100
_EXACT = 2**53


@with_config(ConfigDict(strict=True, extra="forbid", allow_inf_nan=False, title="stringerlab project file"))
@dataclass(frozen=True, slots=True, kw_only=True)
class Envelope:
    """A project file: what it is, in which version, and the project."""

    format: str
    version: int
    project: Project


@cache
def adapter() -> TypeAdapter[Envelope]:
    """Return the validator of whole files, built when first asked for."""
    return TypeAdapter(Envelope)


def loads(data: bytes, file: str = "") -> Project:
    """Return the project that bytes hold.

    Parameters
    ----------
    data
        A whole file.
    file
        Its name, for messages.

    Raises
    ------
    StringerlabError
        With every fault of shape, or the one for which the file cannot be read at all.
    """
    read = parsed(data, file)
    document = _checked_format(read.tree, file)
    today = migrated(document, file)
    text = read.text if today is document else json.dumps(today)
    try:
        envelope = adapter().validate_json(text)
    except ValidationError as error:
        if error.error_count() == 1 and error.errors(include_url=False)[0]["type"] == "json_invalid":
            raise too_deep(read.text, file) from error
        raise StringerlabError(problems_of_file(read.twice, error, today, Envelope, file)) from error
    if read.twice:
        raise StringerlabError(problems_of_file(read.twice, None, document, Envelope, file))
    return envelope.project


def dumps(project: Project) -> bytes:
    """Return a project as a file's bytes: every field in declared order, short records on one line.

    Raises
    ------
    StringerlabError
        When it could not be read back, as with a number that is not finite: that is never written.
    """
    text = _written({"format": FORMAT, "version": VERSION, "project": _bare(project)}, "") + "\n"
    try:
        data = text.encode("utf-8")
    except UnicodeEncodeError as error:
        what = f"The text '{error.object[error.start : error.end]!a}' is half a character."
        raise StringerlabError(Problem(what, f"project {project.name!a}", "Type it again.")) from error
    loads(data)
    return data


def _checked_format(tree: Any, file: str) -> dict[str, Any]:
    remedy = f'A project file begins with {{"format": "{FORMAT}", "version": {VERSION}, "project": …}}.'
    if not isinstance(tree, dict):
        raise StringerlabError(Problem("The file is JSON but no project.", file, remedy))
    document = cast(dict[str, Any], tree)
    if document.get("format") != FORMAT:
        what = (
            "The file does not say that it is a project."
            if "format" not in document
            else ("The file says it is something else than a project.")
        )
        raise StringerlabError(Problem(what, file, remedy))
    return document


def _bare(value: Any) -> Any:
    """Return a record as bare JSON; a whole number is written without decimals, be it int or float."""
    if isinstance(value, float):
        return int(value) if value.is_integer() and abs(value) < _EXACT else value
    if isinstance(value, tuple):
        return [_bare(part) for part in cast(tuple[Any, ...], value)]
    if is_dataclass(value):
        return {field.name: _bare(getattr(value, field.name)) for field in fields(value)}
    return value


def _written(given: Any, indent: str) -> str:
    if not isinstance(given, (dict, list)):
        return json.dumps(given, ensure_ascii=False)
    value = cast(dict[str, Any] | list[Any], given)
    if _is_flat(value):
        line = json.dumps(value, ensure_ascii=False)
        if len(indent) + len(line) <= _WIDTH:
            return line
    inner = indent + "  "
    if isinstance(value, list):
        parts = [_written(part, inner) for part in value]
    else:
        parts = [f"{json.dumps(key)}: {_written(part, inner)}" for key, part in value.items()]
    opening, closing = "[]" if isinstance(value, list) else "{}"
    return f"{opening}\n{inner}" + f",\n{inner}".join(parts) + f"\n{indent}{closing}"


def _is_flat(value: dict[str, Any] | list[Any]) -> bool:
    parts: Iterable[Any] = value.values() if isinstance(value, dict) else value
    return all(not isinstance(part, (dict, list)) or part in ({}, []) for part in parts)
