"""Typst markup of a document's parts. Every word a person wrote goes through `quoted`: it is never markup."""

import re
from collections.abc import Iterable, Sequence

_LONG = re.compile(r"\S{30,}")
_PART = 12
NEW_LINE = "\n\n"
_BREAK = "\u200b"
_TIE = "\u00a0"
"""A space that keeps a figure and its unit on one line."""


def quoted(text: str) -> str:
    """Return words as a Typst string, letter by letter; a word longer than a column may break within."""
    plain = "".join(sign if sign.isprintable() or sign == _TIE else " " for sign in text)
    plain = _LONG.sub(_breakable, plain)
    return '"' + plain.replace("\\", "\\\\").replace('"', '\\"') + '"'


def said(text: str) -> str:
    """Return a paragraph."""
    return f"#par({quoted(text)})"


def heading(text: str, level: int = 1) -> str:
    """Return a numbered heading."""
    return f"#heading(level: {level}, {quoted(text)})"


def note(text: str) -> str:
    """Return a remark in small letters."""
    return f"#note({quoted(text)})"


def points(lines: Iterable[str]) -> str:
    """Return a list of short lines, nothing where there are none."""
    items = ", ".join(map(quoted, lines))
    return f"#points({items})" if items else ""


def callout(title: str, *lines: str) -> str:
    """Return words that must not be passed over, in a box under a title."""
    return f"#callout({', '.join(map(quoted, (title, *lines)))})"


def particulars(rows: Iterable[tuple[str, str]]) -> str:
    """Return what and its value in two columns; an empty value leaves a blank."""
    return f"#particulars({_tuple(_tuple(map(quoted, row)) for row in rows)})"


def table(
    head: Sequence[str],
    rows: Sequence[Sequence[str]],
    widths: Sequence[str] = (),
    *,
    right: Iterable[int] = (),
    bold: Iterable[int] = (),
    size: float = 8.0,
) -> str:
    """Return a table whose head stands on every sheet it reaches; nothing without rows.

    Parameters
    ----------
    head
        Words of the head, one a column.
    rows
        Cells, as many a row as there are columns.
    widths
        Typst widths, one a column, such as ``auto``, ``1fr``, ``22mm``; all ``auto`` by default.
    right
        Columns set to the right, as numbers are.
    bold
        Rows set in heavier letters.
    size
        Height of the letters [pt].
    """
    if not rows:
        return ""
    sides = set(right)
    aligned = ("right" if column in sides else "left" for column in range(len(head)))
    columns = widths or ["auto"] * len(head)
    body = _tuple(_tuple(map(quoted, row)) for row in rows)
    return (
        f"#records({_tuple(columns)}, {_tuple(map(quoted, head))}, {body}, "
        f"align: {_tuple(f'{side} + top' for side in aligned)}, size: {size:g}pt, "
        f"bold: {_tuple(map(str, bold))})"
    )


def halved(
    head: Sequence[str],
    rows: Sequence[Sequence[str]],
    widths: Sequence[str] = (),
    *,
    at: int | None = None,
    right: Iterable[int] = (),
    size: float = 8.0,
) -> str:
    """Return a long narrow table as two side by side; the words are those of `table`.

    Parameters
    ----------
    head, rows, widths, right, size
        As of `table`.
    at
        The row the second begins with; the middle one by default.
    """
    middle = (len(rows) + 1) // 2 if at is None else at
    sides = tuple(right)
    first, second = (
        table(head, part, widths, right=sides, size=size) for part in (rows[:middle], rows[middle:])
    )
    return f"#side-by-side([{first}], [{second}])" if first and second else first or second


def shares(*parts: float) -> tuple[str, ...]:
    """Return widths of columns as parts of the sheet's, whatever its size."""
    return tuple(f"{part:g}fr" for part in parts)


def sideways(*parts: str) -> str:
    """Return parts on a sheet of its own that lies on its side."""
    return f"#sideways[{NEW_LINE.join(parts)}]"


def contents() -> str:
    """Return a list of the document's parts with their pages."""
    return "#contents()"


def drawing(file: str, caption: str, *, width: str = "auto", height: str = "auto", alt: str = "") -> str:
    """Return a picture of the document under its caption, by its name among the document's pictures."""
    return (
        f"#drawing({quoted(file)}, {quoted(caption)}, width: {width}, height: {height}, "
        f"alt: {quoted(alt or caption)})"
    )


def signatures(*who: tuple[str, str]) -> str:
    """Return boxes to sign in: role and name, the name empty where it is to be filled in."""
    return f"#signatures({', '.join(_tuple(map(quoted, one)) for one in who)})"


def new_page() -> str:
    """Return the end of a sheet; none follows where it is empty."""
    return "#pagebreak(weak: true)"


def _tuple(parts: Iterable[str]) -> str:
    listed = list(parts)
    return f"({', '.join(listed)}{',' if len(listed) == 1 else ''})"


def _breakable(match: re.Match[str]) -> str:
    word = match.group()
    return _BREAK.join(word[at : at + _PART] for at in range(0, len(word), _PART))
