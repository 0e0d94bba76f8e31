"""Documents and exports as bytes, made off the window's thread from what the window had when asked.

Nothing here is Qt. Everything is a function of frozen records and a watch that may end it by raising.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from importlib import import_module
from pathlib import Path

from stringerlab.assess import Relative, Results, check, relative
from stringerlab.compare import FEWEST, MOST, Chosen, Comparison, compare
from stringerlab.desktop.jobs import Watch
from stringerlab.errors import Problem, StringerlabError
from stringerlab.files import load_parent
from stringerlab.project import Project, Resolved, resolve
from stringerlab.report.calculation import TITLE, Workings, calculation_pages, calculation_sheet
from stringerlab.report.comparison import comparison_png, comparison_sheet
from stringerlab.report.exports import What, exported, form_of, nothing_judged
from stringerlab.report.paper import Sheet, pdf
from stringerlab.report.shop import shop_pages, shop_sheets

PPI = 120.0
"""Dots an inch of a preview's pages."""
_CHECKED = 0.3
"""Part of the work that the check is, where it is part of it."""


class Kind(StrEnum):
    """The documents there are."""

    REPORT = "report"
    SHOP = "shop"
    COMPARISON = "comparison"


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """A document, and what it is to hold."""

    kind: Kind = Kind.REPORT
    workings: Workings = "governing"
    second_opinion: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Given:
    """What a document is made from: the project, its file, and its results where they are fresh."""

    project: Project
    path: Path | None = None
    results: Results | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """One page as a picture, and the document it is a page of."""

    png: bytes
    document: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Made:
    """A document as pages, and what its file is made from without doing it all again."""

    wanted: Wanted
    given: Given
    pages: tuple[Page, ...]
    problems: tuple[Problem, ...] = ()
    """What keeps things from being in it."""
    kept: "tuple[Sheet, Results] | Comparison | None" = field(default=None, repr=False)


def load_libraries() -> None:
    """Load what sets pages and writes drawings, in the window's thread.

    Qt's import hook fails on a library that another thread has loaded half.
    """
    for name in ("typst", "ezdxf", "ezdxf.filemanagement", "ezdxf.audit"):
        import_module(name)


def preview(wanted: Wanted, given: Given, watch: Watch) -> Made:
    """Return a document's pages.

    Raises
    ------
    StringerlabError
        When there is nothing to show, or the pages cannot be set.
    """
    match wanted.kind:
        case Kind.REPORT:
            sheet, results, problems = _report(wanted, given, _part(watch, 0.0, 0.6))
            watch(0.6, "Setting the pages")
            pages = _pages(TITLE, calculation_pages(sheet, results, ppi=PPI))
            kept = (sheet, results)
        case Kind.SHOP:
            read = _resolved(given)
            found = shop_pages(given.project, read, ppi=PPI, watch=watch)
            pages = tuple(page for title, pngs in found.items() for page in _pages(title, pngs))
            kept, problems = None, read.problems
        case Kind.COMPARISON:
            kept, problems = _compared(given, watch)
            pages = _pages("Comparison", comparison_png(kept, system=given.project.units, ppi=PPI))
    watch(1.0, "Done")
    return Made(wanted=wanted, given=given, pages=pages, problems=_once(problems), kept=kept)


def documents(wanted: Wanted, given: Given, made: Made | None, watch: Watch) -> Mapping[str, bytes]:
    """Return a document as PDF by the name of its file: shop sheets are several, the others one.

    Parameters
    ----------
    wanted, given
        Which, and from what.
    made
        Its pages, where they are those of the same: what they were set from is used again.
    watch
        Told of progress, and asked to stop.

    Raises
    ------
    StringerlabError
        As for `preview`.
    """
    kept = made.kept if made is not None and made.wanted == wanted and _same(made.given, given) else None
    match wanted.kind:
        case Kind.REPORT:
            sheet, results = kept if isinstance(kept, tuple) else _report(wanted, given, watch)[:2]
            watch(0.7, "Setting the pages")
            data = pdf(
                sheet.markup, sheet.pictures, project=results.project, what=TITLE, method=results.method
            )
            return {"report.pdf": data}
        case Kind.SHOP:
            return shop_sheets(given.project, _resolved(given), watch=watch)
        case Kind.COMPARISON:
            found = kept if isinstance(kept, Comparison) else _compared(given, watch)[0]
            return {"comparison.pdf": comparison_sheet(found, system=given.project.units, watch=watch)}


def export(what: What, path: Path, given: Given, watch: Watch) -> tuple[bytes, tuple[Problem, ...]]:
    """Return a drawing or table as bytes in the form of a file's ending, and what is not in it.

    Raises
    ------
    StringerlabError
        When there is nothing of it, or it is not written in that form.
    """
    form = form_of(path, what)
    resolved = given.results.resolved if given.results is not None else None
    made = exported(given.project, what, form, resolved=resolved, results=given.results, watch=watch)
    return made.data, made.left_out


def chosen_for(given: Given) -> tuple[tuple[Chosen, ...], tuple[Problem, ...]]:
    """Return what a comparison sets side by side: the boat's layouts and those of its parent boat."""
    own, problems = given.project, ()
    found = [Chosen(project=own, layout=layout.id) for layout in own.layouts] or [Chosen(project=own)]
    if own.parent is not None:
        try:
            kin = load_parent(given.path, own)
        except StringerlabError as error:
            problems = error.problems
        else:
            file, service = own.parent.file, own.parent.service
            found += [
                Chosen(project=kin, layout=layout, parent=True, service=service, file=file)
                for layout in [layout.id for layout in kin.layouts] or [""]
            ]
    return tuple(found[:MOST]), tuple(problems)


def _report(wanted: Wanted, given: Given, watch: Watch) -> tuple[Sheet, Results, tuple[Problem, ...]]:
    results = given.results or check(given.project, watch=_part(watch, 0.0, _CHECKED))
    if not results.findings:
        raise StringerlabError([nothing_judged(given.project), *results.problems])
    kin, wrong = _kin(results, given.path)
    sheet = calculation_sheet(
        results,
        workings=wanted.workings,
        parent=kin,
        second_opinion=wanted.second_opinion,
        watch=_part(watch, _CHECKED, 1.0),
    )
    return sheet, results, (*results.problems, *wrong)


def _kin(results: Results, path: Path | None) -> tuple[Relative | None, tuple[Problem, ...]]:
    project = results.project
    if project.parent is None:
        return None, ()
    try:
        parent = load_parent(path, project)
    except StringerlabError as error:
        return None, error.problems
    found = relative(results, check(parent, results.method), project.parent)
    return found, found.problems


def _compared(given: Given, watch: Watch) -> tuple[Comparison, tuple[Problem, ...]]:
    chosen, problems = chosen_for(given)
    if len(chosen) < FEWEST:
        one = Problem(
            "There is nothing to set side by side: it has one layout or none, and no parent boat.",
            f"project '{given.project.name}'",
            "Draw a second layout on the page Plan, or name its parent boat on the page Boat.",
        )
        raise StringerlabError([one, *problems])
    found = compare(chosen, watch, system=given.project.units)
    return found, (*problems, *(problem for item in found.items for problem in item.problems))


def _resolved(given: Given) -> Resolved:
    return given.results.resolved if given.results is not None else resolve(given.project)


def _same(one: Given, other: Given) -> bool:
    return one.project is other.project and one.path == other.path


def _pages(document: str, pngs: tuple[bytes, ...]) -> tuple[Page, ...]:
    return tuple(Page(png=png, document=document) for png in pngs)


def _once(problems: tuple[Problem, ...]) -> tuple[Problem, ...]:
    return tuple(dict.fromkeys(problems))


def _part(watch: Callable[[float, str], None], begins: float, ends: float) -> Watch:
    return lambda done, what: watch(begins + (ends - begins) * done, what)
