"""The markup of shop sheets: tables with columns to write in, blanks, cautions. Words are never markup."""

from collections.abc import Iterable, Mapping, Sequence

from stringerlab.materials.records import Sourced
from stringerlab.project import PageSize, Project
from stringerlab.report.markup import quoted
from stringerlab.report.paper import Sheet, Watch, pdf
from stringerlab.report.setting import template
from stringerlab.report.shop.cautions import CAUTIONS, FIRST, Hazard

UNBROKEN = 9
"""A table of no more rows …"""
LETTERS = 1200
"""… and letters stays on one sheet."""


class Code(str):
    """Markup of ours, put in a cell as it is."""

    __slots__ = ()


TICK_BOX = Code("box-to-tick")


def listed(parts: Iterable[str]) -> str:
    """Return a Typst array."""
    found = list(parts)
    return f"({', '.join(found)}{',' if len(found) == 1 else ''})"


def cell(words: str) -> str:
    """Return a cell: words as they are, or our own markup."""
    return str(words) if isinstance(words, Code) else quoted(words)


def shop_table(
    head: Sequence[str],
    rows: Sequence[Sequence[str]],
    widths: Sequence[str],
    *,
    right: Iterable[int] = (),
    write: Iterable[int] = (),
) -> str:
    """Return a table; ``write`` are the columns left blank to write in, ``right`` those of numbers."""
    if not rows:
        return ""
    sides = set(right)
    aligned = listed(f"{'right' if n in sides else 'left'} + horizon" for n in range(len(head)))
    body = listed(listed(map(cell, row)) for row in rows)
    short = len(rows) <= UNBROKEN and sum(len(words) for row in rows for words in row) <= LETTERS
    return (
        f"#shop-table({listed(widths)}, {listed(map(quoted, head))}, {body}, align: {aligned}, "
        f"write: {listed(map(str, write))}, hold: {str(short).lower()})"
    )


def kept(*parts: str) -> str:
    """Return parts that stay on one sheet."""
    body = "\n\n".join(filter(None, parts))
    return f"#v(7mm, weak: true)\n#kept[\n{body}\n]"


def fill_in(*words: str) -> str:
    """Return lines to write on, each after its words."""
    return f"#fill-in({', '.join(map(quoted, words))})"


def input_line(what: str, value: str, given: Sourced) -> str:
    """Return a named input with where it comes from."""
    return f"{what}: {value} ({given.source}; {given.known})"


def sheet_head(title: str, project: Project) -> str:
    """Return a sheet's title and the blanks for hull number, date and name."""
    paper = project.paper
    rows = [
        ("Craft", project.craft.name),
        ("Drawing, revision", " ".join(part for part in (paper.number, paper.revision) if part)),
        ("Hull no.", ""),
        ("Date", ""),
        ("Done by", ""),
        ("Checked by", ""),
    ]
    cells = listed(f"({quoted(what)}, {quoted(value)})" for what, value in rows)
    return f"#sheet-head({quoted(title)}, {quoted(project.name)}, {cells})"


def cautions(*hazards: Hazard) -> str:
    """Return the usual cautions; all of them where none is named."""
    rows = ", ".join(f"({quoted(each)}, {quoted(CAUTIONS[each])})" for each in (hazards or tuple(Hazard)))
    return f"#cautions({quoted('Cautions')}, {quoted(FIRST)}, {rows})"


def document(
    title: str,
    parts: Sequence[str],
    pictures: Mapping[str, bytes],
    *,
    project: Project,
    size: PageSize,
    watch: Watch | None = None,
) -> bytes:
    """Return a shop sheet as PDF: its head, all cautions, its parts."""
    sheet = whole(title, parts, pictures, project=project)
    return pdf(sheet.markup, sheet.pictures, project=project, what=title, size=size, watch=watch)


def whole(title: str, parts: Sequence[str], pictures: Mapping[str, bytes], *, project: Project) -> Sheet:
    """Return a shop sheet before it is set: its head, all cautions, its parts."""
    body = "\n\n".join([template("shop"), sheet_head(title, project), cautions(), *filter(None, parts)])
    return Sheet(markup=body, pictures=pictures)
