"""Why a file of the wrong shape is refused: every fault in our own words, with its place and what to do."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import is_dataclass
from difflib import get_close_matches
from enum import Enum
from typing import Any

from pydantic import ValidationError

from stringerlab.errors import Problem
from stringerlab.files.fields import Wanted, annotations, needed, wanted_at
from stringerlab.project.places import Path, place, shortened

WORDED = 5000
"""Faults that get their place and remedy; those beyond are only counted, as nobody reads so far."""


def problems_of_file(
    twice: Sequence[tuple[Path, str]],
    error: ValidationError | None,
    document: Mapping[str, Any],
    envelope: Any,
    file: str,
) -> list[Problem]:
    """Return a problem for every key given twice and every fault of shape.

    Parameters
    ----------
    twice
        Paths of records with a key given twice, and the key.
    error
        What the validator found, None when the shape is right.
    document
        The whole file as bare JSON.
    envelope
        Record type of the whole file.
    file
        Name of the file, said first in every place.
    """
    faults = error.errors(include_url=False, include_context=False) if error else []
    problems = [
        Problem(
            f"The key '{shortened(key)}' is given twice.",
            said(document, path, file),
            "Keep the one that is meant.",
        )
        for path, key in twice[:WORDED]
    ]
    problems += [
        _shape_problem(fault["type"], fault["loc"], fault["input"], document, envelope, file)
        for fault in faults[:WORDED]
    ]
    unworded = max(len(twice) - WORDED, 0) + max(len(faults) - WORDED, 0)
    return [*dict.fromkeys(problems), *[Problem("One fault more of shape.", file)] * unworded]


def _shape_problem(
    fault: str, path: Path, given: Any, document: Mapping[str, Any], envelope: Any, file: str
) -> Problem:
    match fault:
        case "unexpected_keyword_argument":
            return _unknown_key(document, envelope, path, file)
        case "missing":
            return _missing(document, envelope, path, file)
        case "too_long":
            return _too_long(document, envelope, path, file, given)
        case _:
            return _other_thing(document, envelope, path, file, given)


def said(document: Mapping[str, Any], path: Path, file: str) -> str:
    """Return the words for a place in a file."""
    inside = place(document.get("project"), path[1:]) if path[:1] == ("project",) else place(document, path)
    return ", ".join(part for part in (file, inside) if part)


def _unknown_key(document: Mapping[str, Any], envelope: Any, path: Path, file: str) -> Problem:
    *above, key = path
    record = wanted_at(envelope, tuple(above))
    known = list(annotations(record.type)) if record and is_dataclass(record.type) else []
    key = shortened(str(key))
    near = get_close_matches(key, known, n=1)
    remedy = f"Did you mean '{near[0]}'?" if near else f"Take it out; the keys here are {', '.join(known)}."
    return Problem(f"There is no key '{key}' here.", said(document, tuple(above), file), remedy)


def _missing(document: Mapping[str, Any], envelope: Any, path: Path, file: str) -> Problem:
    *above, key = path
    where = said(document, tuple(above), file)
    if isinstance(key, int):
        record = wanted_at(envelope, tuple(above))
        return Problem(f"{key} given, {record} is wanted.", where, "Add what is missing.")
    return Problem(f"'{key}' is missing.", where, f"Add it: {_example(key, wanted_at(envelope, path))}.")


def _too_long(document: Mapping[str, Any], envelope: Any, path: Path, file: str, given: Any) -> Problem:
    what = f"{len(given)} given, {wanted_at(envelope, path)} is wanted."
    return Problem(what, said(document, path, file), "Take out what is too many.")


def _other_thing(document: Mapping[str, Any], envelope: Any, path: Path, file: str, given: Any) -> Problem:
    record = wanted_at(envelope, path)
    what = f"{_shown(given)} stands where {record or 'something else'} is wanted."
    return Problem(what, said(document, path, file), _remedy(record, given, _may_be_left_out(envelope, path)))


def _remedy(record: Wanted | None, given: Any, may_be_left_out: bool) -> str:
    if record is None:
        return "Take it out."
    if given is None:
        return "Take the key out, or give a value." if may_be_left_out else "Give a value."
    if record.type in (float, int):
        return _remedy_for_number(record, given)
    if is_dataclass(record.type):
        keys = ", ".join(f'"{key}": …' for key in needed(record.type) or annotations(record.type))
        return f"Write {{{keys}}}."
    if issubclass(record.type, Enum):
        known = [str(member.value) for member in record.type]
        near = get_close_matches(shortened(given), known, n=1) if isinstance(given, str) else []
        return f"Did you mean '{near[0]}'?" if near else "Use one of these."
    if record.type is str and not isinstance(given, (list, dict)):
        return "Put it in double quotes."
    return f"Give {record}."


def _remedy_for_number(record: Wanted, given: Any) -> str:
    if isinstance(given, str):
        text = given.strip().replace(",", ".")
        try:
            number = float(text)
        except ValueError:
            return f"Write {record} without unit or quotes."
        return f"Write {shortened(text)} without quotes." if math.isfinite(number) else f"Give {record}."
    if isinstance(given, float) and math.isfinite(given) and record.type is int:
        return "Write it without a decimal point."
    return f"Give {record}."


def _may_be_left_out(envelope: Any, path: Path) -> bool:
    above = wanted_at(envelope, path[:-1]) if path else None
    return above is not None and is_dataclass(above.type) and path[-1] not in needed(above.type)


def _example(key: str, record: Wanted | None) -> str:
    return f'"{key}": {record or "…"}'


def _shown(given: Any) -> str:
    match given:
        case None:
            return "null"
        case bool():
            return "true" if given else "false"
        case str():
            return f"The text '{shortened(given)}'"
        case list():
            return "A list"
        case dict():
            return "A record"
        case float() if not math.isfinite(given):
            return (
                "NaN" if math.isnan(given) else f"{'−' if given < 0 else ''}Infinity, or a number too large,"
            )
        case _:
            return shortened(str(given)) if not _huge(given) else "A number too large"


def _huge(given: Any) -> bool:
    return isinstance(given, int) and given.bit_length() > 1024
