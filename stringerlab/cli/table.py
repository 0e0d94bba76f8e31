"""Tables for a terminal, at most 100 columns wide; colour only where a person looks at a terminal."""

import os
import sys
import textwrap
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

WIDTH = 100
NOTHING_TO_JUDGE = "Nothing to judge: no panel and no span is declared."
_COLOURS = {"holds": "32", "tight": "33", "short": "1;31", "not judged": "35", "advice": "36"}


@dataclass(frozen=True, slots=True)
class Column:
    """A column: its heading, width, and whether its entries are numbers, set to the right."""

    heading: str
    width: int
    right: bool = False


def table(columns: Sequence[Column], rows: Sequence[Sequence[str]]) -> list[str]:
    """Return the lines of a table; an entry too long for its column goes on below."""
    lines = [_line(columns, [column.heading for column in columns])]
    lines.append("  ".join("─" * column.width for column in columns))
    for row in rows:
        wrapped = [
            textwrap.wrap(entry, column.width) or [""] for column, entry in zip(columns, row, strict=True)
        ]
        lines += [
            _line(columns, [parts[index] if index < len(parts) else "" for parts in wrapped])
            for index in range(max(map(len, wrapped)))
        ]
    return lines


def paragraph(text: str, indent: str = "") -> list[str]:
    """Return a text as lines of at most 100 columns."""
    return textwrap.wrap(text, WIDTH, initial_indent=indent, subsequent_indent=indent)


def bullets(texts: Iterable[str]) -> list[str]:
    """Return texts as lines of at most 100 columns, each after a dot of its own."""
    return [
        line
        for text in texts
        for line in textwrap.wrap(text, WIDTH, initial_indent="· ", subsequent_indent="  ")
    ]


def coloured(line: str, verdict: str) -> str:
    """Return the line with the verdict's word in its colour when a terminal shows it."""
    if not sys.stdout.isatty() or os.environ.get("NO_COLOR"):
        return line
    return line.replace(verdict, f"\x1b[{_COLOURS[verdict]}m{verdict}\x1b[0m", 1)


def _line(columns: Sequence[Column], entries: Sequence[str]) -> str:
    cells = [
        entry.rjust(column.width) if column.right else entry.ljust(column.width)
        for column, entry in zip(columns, entries, strict=True)
    ]
    return "  ".join(cells).rstrip()


def letter(number: int) -> str:
    """Return the letter that stands for a column or row, from 0: a to z, then aa."""
    more, last = divmod(number, 26)
    return (letter(more - 1) if more else "") + chr(ord("a") + last)


def pairs(rows: Sequence[tuple[str, str]]) -> list[str]:
    """Return names and values as two aligned columns."""
    width = max((len(name) for name, _ in rows), default=0)
    return [f"  {name.ljust(width)}  {value}" for name, value in rows]
