"""From a file's bytes to bare JSON, and why not: size, encoding, syntax, depth, keys given twice.

Numbers and shapes are no matter here; NaN and Infinity pass, to be refused with their place later.
"""

import json
import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil
from typing import Any, cast

from stringerlab.errors import Problem, StringerlabError
from stringerlab.project.places import Path

LARGEST = 50_000_000
"""Bytes; a larger file is refused unread."""
DEEPEST = 100
"""Levels of brackets; a project has 9."""

_SAID = {
    "Expecting value": "a value is missing",
    "Expecting ',' delimiter": "a comma is missing",
    "Expecting ':' delimiter": "a colon is missing",
    "Expecting property name enclosed in double quotes": "a key in double quotes is missing",
    "Illegal trailing comma before end of object": "a comma stands before a closing bracket",
    "Illegal trailing comma before end of array": "a comma stands before a closing bracket",
    "Unterminated string starting at": "a text begins here and never ends",
    "Invalid control character at": "a text runs over the end of its line",
    "Invalid \\escape": "a backslash stands before a letter that takes none",
    "Invalid \\uXXXX escape": "a \\u code is not four hexadecimal digits",
    "Extra data": "something follows after the end",
}
_TOKENS = re.compile(r'"(?:[^"\\]|\\.)*"?|[\[\]{}]', re.DOTALL)
_LONG_NUMBER = re.compile(r"\d{4300,}")
_SURROGATES = re.compile(
    r"\\(?:[^u]|u[dD][89abAB]..\\u[dD][c-fC-F]..|(?P<half>u[dD][89a-fA-F]..))", re.DOTALL
)
"""Escapes in order, so that an escaped backslash before a u is none; ``half`` is half of a pair."""
_MEND = "Mend it there, or take the file again from where it came."


@dataclass(frozen=True, slots=True, kw_only=True)
class Parsed:
    """A file as text and as bare JSON, with the keys given twice and the path of the object they stand in."""

    text: str
    tree: Any
    twice: tuple[tuple[Path, str], ...] = ()


class _Doubled(dict[str, Any]):
    """A JSON object in which keys were given more than once; ``keys_twice`` names them."""

    keys_twice: tuple[str, ...] = ()


def parsed(data: bytes, where: str = "") -> Parsed:
    """Return a file's bytes as bare JSON.

    Raises
    ------
    StringerlabError
        When the bytes are too many, not UTF-8, not whole JSON, or nested too deep; with line and column.
    """
    refuse_too_large(len(data), where)
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line, column = _line_and_column(data[: error.start].decode("utf-8", "replace"))
        raise _refused(
            f"The file is not UTF-8 text: line {line}, column {column} does not read.",
            where,
            "Save it as UTF-8.",
        ) from error
    if not text.strip():
        raise _refused("The file is empty.", where, "Take it again from where it came.")
    doubled = False

    def made(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
        nonlocal doubled
        plain = dict(pairs)
        if len(plain) == len(pairs):
            return plain
        doubled = True
        return _doubled(pairs)

    try:
        tree = json.loads(text, object_pairs_hook=made)
    except json.JSONDecodeError as error:
        raise _not_json(error, where) from error
    except RecursionError as error:
        raise too_deep(text, where) from error
    except ValueError as error:
        found = _LONG_NUMBER.search(text)
        line, column = _line_and_column(text[: found.start()] if found else "")
        raise _refused(
            f"The number at line {line}, column {column} has thousands of digits.", where, _MEND
        ) from error
    _refuse_half_characters(text, where)
    return Parsed(text=text, tree=tree, twice=tuple(_given_twice(tree)) if doubled else ())


def refuse_too_large(size: int, where: str) -> None:
    """Raise when a file has more bytes than any project needs."""
    if size > LARGEST:
        raise _refused(
            f"The file has {ceil(size / 1e5) / 10:g} MB; above {LARGEST / 1e6:g} MB it is not read.",
            where,
            "Is it a project? Split it into several, or take out what is not used.",
        )


def too_deep(text: str, where: str) -> StringerlabError:
    """Return the refusal of a text whose brackets nest deeper than ``DEEPEST``, with the place."""
    depth, at = 0, 0
    for token in _TOKENS.finditer(text):
        depth += (token[0] in "[{") - (token[0] in "]}") if len(token[0]) == 1 else 0
        if depth > DEEPEST:
            at = token.start()
            break
    line, column = _line_and_column(text[:at])
    return _refused(
        f"Brackets nest more than {DEEPEST} deep at line {line}, column {column}; a project has 9 levels.",
        where,
        "Is it a project? " + _MEND,
    )


def _doubled(pairs: list[tuple[str, Any]]) -> _Doubled:
    made = _Doubled(pairs)
    made.keys_twice = tuple(key for key, times in Counter(key for key, _ in pairs).items() if times > 1)
    return made


def _given_twice(tree: Any) -> Iterator[tuple[Path, str]]:
    stack: list[tuple[Path, Any]] = [((), tree)]
    while stack:
        here, value = stack.pop()
        if isinstance(value, _Doubled):
            for key in value.keys_twice:
                yield here, key
        if isinstance(value, dict):
            inside = cast(dict[str, Any], value)
            stack.extend(((*here, key), part) for key, part in reversed(inside.items()))
        elif isinstance(value, list):
            items = cast(list[Any], value)
            stack.extend(((*here, i), items[i]) for i in reversed(range(len(items))))


def _refuse_half_characters(text: str, where: str) -> None:
    for code in _SURROGATES.finditer(text):
        if code["half"]:
            line, column = _line_and_column(text[: code.start("half")])
            raise _refused(
                f"The code {code['half']} at line {line}, column {column} is half a character.", where, _MEND
            )


def _not_json(error: json.JSONDecodeError, where: str) -> StringerlabError:
    place = f"line {error.lineno}, column {error.colno}"
    cut_off = error.pos >= len(error.doc.rstrip()) or error.msg.startswith("Unterminated")
    if cut_off:
        return _refused(
            f"The file breaks off at {place}: its end is missing.",
            where,
            "Take it again from where it came, or open a former version.",
        )
    if error.doc.lstrip()[:1] not in "{[":
        return _refused(
            f"The file is not JSON: it begins with '{_visible(error.doc.lstrip()[:12])}' (at {place}).",
            where,
            "Give a project file of this program.",
        )
    said = _SAID.get(error.msg, "it does not read")
    return _refused(f"The file is not JSON at {place}: {said}.", where, _MEND)


def _refused(what: str, where: str, remedy: str) -> StringerlabError:
    return StringerlabError(Problem(what, where, remedy))


def _line_and_column(before: str) -> tuple[int, int]:
    return before.count("\n") + 1, len(before) - (before.rfind("\n") + 1) + 1


def _visible(text: str) -> str:
    return "".join(c if c.isprintable() else "·" for c in text)
