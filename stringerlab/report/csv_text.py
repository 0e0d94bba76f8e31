"""Tables as CSV for spreadsheets and scripts: RFC 4180, UTF-8 with its mark, units in the heads.

Numbers stand in full with a decimal point, so that nothing is lost; an empty cell is not known. Words that a
spreadsheet would take for a formula begin with an apostrophe.
"""

import csv
import io
from collections.abc import Sequence
from dataclasses import dataclass
from math import isnan
from unicodedata import category

MARK = b"\xef\xbb\xbf"
"""At the head of the file: by it spreadsheets know UTF-8."""
GUARD = "'"
FORMULA = frozenset("=+-@\t\n\r\uff1d\uff0b\uff0d\uff20")
"""Letters by which spreadsheets know a formula, wide ones too."""
_UNFIT = ("Cc", "Cs")
"""Control letters, and halves of letters: no cell holds them."""
_UNSEEN = ("Zs", "Cf")
"""Blanks and marks without width, which spreadsheets pass over."""
_DIGITS = 15
"""Of a number: all that any double holds for sure."""

Cell = str | float | int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A table: heads with their units, and rows as long as the heads; None and nan are empty cells."""

    heads: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]


def csv_bytes(table: Table) -> bytes:
    """Return a table as a CSV file.

    Parameters
    ----------
    table
        What is written.
    """
    stream = io.StringIO(newline="")
    writer = csv.writer(stream, quoting=csv.QUOTE_MINIMAL, lineterminator="\r\n")
    writer.writerow([_words(head) for head in table.heads])
    for row in table.rows:
        if len(row) != len(table.heads):
            raise ValueError(f"a row of {len(row)} cells under {len(table.heads)} heads")
        writer.writerow([_cell(cell) for cell in row])
    return MARK + stream.getvalue().encode("utf-8")


def headed(name: str, unit: str = "") -> str:
    """Return a head with its unit."""
    return f"{name} [{unit}]" if unit else name


def joined(many: Sequence[str]) -> str:
    """Return several things said as one cell."""
    return "; ".join(one.rstrip(".") for one in many)


def _cell(cell: Cell) -> str:
    if cell is None:
        return ""
    if isinstance(cell, str):
        return _words(cell)
    if isinstance(cell, int):
        return str(cell)
    return "" if isnan(cell) else f"{cell:.{_DIGITS}g}"


def _words(text: str) -> str:
    """Return words without what no cell can hold, and guarded where they look like a formula."""
    safe = "".join(" " if category(letter) in _UNFIT and letter not in "\t\n" else letter for letter in text)
    begins = next((letter for letter in safe if category(letter) not in _UNSEEN), "")
    return GUARD + safe if begins in FORMULA else safe


__all__ = ["FORMULA", "GUARD", "MARK", "Cell", "Table", "csv_bytes", "headed", "joined"]
