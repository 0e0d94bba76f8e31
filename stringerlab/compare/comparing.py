"""Two to six layouts or boats put side by side, the others held against the first."""

from collections.abc import Callable, Sequence
from dataclasses import replace

from stringerlab.compare.common_load import load_words
from stringerlab.compare.measures import measures_of
from stringerlab.compare.measuring import in_use, measured
from stringerlab.compare.records import FEWEST, MOST, Chosen, Compared, Comparison, Measure, Measured
from stringerlab.compare.sentences import called, not_known, sentences
from stringerlab.errors import Problem, StringerlabError
from stringerlab.layout.rates import Rates
from stringerlab.project import Project
from stringerlab.project.kept import Kept
from stringerlab.units import System

Watch = Callable[[float, str], None]
NOTICE_OF_COMPARISON = (
    "Numbers of a roughing-out aid side by side: more or less of something is no claim that either complies."
)
_LETTERS = "ABCDEF"
_OF = ("craft", "materials", "laminates", "zones", "sections", "panels", "spans", "bonding")
"""What of a project its measures depend on, besides layout, rates, name and method."""
_KEPT: Kept[Compared] = Kept(2 * MOST)


def compare(
    chosen: Sequence[Chosen], watch: Watch | None = None, *, system: System = System.METRIC
) -> Comparison:
    """Return layouts or boats side by side.

    Parameters
    ----------
    chosen
        Two to six, the first the one that the others are held against.
    watch
        Told of progress; what it raises stops the work.
    system
        Units of the sentences.

    Raises
    ------
    StringerlabError
        When there are too few or too many, or a layout that is asked for is not there.
    Cancelled
        When the watch raises it.
    """
    wrong: list[Problem] = []
    if not FEWEST <= len(chosen) <= MOST:
        stand = "1 stands" if len(chosen) == 1 else f"{len(chosen)} stand"
        what = f"{stand} side by side; it takes {FEWEST} to {MOST}."
        wrong.append(Problem(what, "comparison", "Name project files, or FILE#LAYOUT."))
    for one in chosen:
        try:
            in_use(one)
        except StringerlabError as error:
            wrong += error.problems
    if wrong:
        raise StringerlabError(wrong)
    rated = next((one.project for one in chosen if one.project.rates != Rates()), chosen[0].project)
    items = tuple(
        _measured(one, letter, rated.rates, _part(watch, number, len(chosen), one))
        for number, (one, letter) in enumerate(zip(chosen, _LETTERS, strict=False))
    )
    measures = measures_of(items)
    items = tuple(_filled(one, measures) for one in items)
    return Comparison(
        items=items,
        measures=measures,
        sentences=sentences(items, measures, system),
        missing=tuple(not_known(items, measures)),
        notes=tuple(_notes(items, rated, system)),
        by_id={one.id: one for one in measures},
    )


def _measured(one: Chosen, letter: str, rates: Rates, watch: Watch | None) -> Compared:
    """Return one measured at the rates, kept for as long as nothing it depends on changes."""
    project, layout = in_use(one)
    found = _KEPT.get(
        (*(getattr(project, name) for name in _OF), layout, rates),
        lambda: measured(one, replace(one.project, rates=rates), watch),
        (project.name, project.method, project.layout),
    )
    return replace(found, letter=letter, chosen=one)


def _filled(one: Compared, measures: Sequence[Measure]) -> Compared:
    """Return one with a value of every measure: of a laminate that others have it holds none."""
    part = one.measured["part"]
    none = Measured(value=0.0) if part.value is not None else part
    return replace(one, measured={each.id: one.measured.get(each.id, none) for each in measures})


def _part(watch: Watch | None, number: int, count: int, one: Chosen) -> Watch | None:
    """Return a watch that tells of a part of the whole."""
    if watch is None:
        return None

    def tell(done: float, what: str) -> None:
        watch((number + done) / count, f"{one.project.name}: {what}")

    return tell


def _notes(items: Sequence[Compared], rated: Project, system: System) -> list[str]:
    found = [
        NOTICE_OF_COMPARISON,
        "Compared is what bounds and stiffens the bottom; sides, deck and bulkheads given by hand are not.",
        f"The common load is {load_words(system)}, shared by the grid: first principles, no rule's load.",
        "Where members meet, one goes through and the other stops at its web root; laps, tabs and end caps "
        "that are not drawn are not counted.",
    ]
    for one in items:
        if one.chosen.parent:
            told = one.chosen.service.strip().rstrip(".") or "nothing is told of its service"
            found.append(f"{called(one)} has held up in service: {told}.")
    if any(one.chosen.project.rates != rated.rates for one in items):
        found.append(f"All are priced and timed at the rates of '{rated.name}'.")
    methods = {one.chosen.project.method for one in items}
    if len(methods) > 1:
        found.append(f"They are judged by different methods: {', '.join(sorted(methods))}.")
    drawn = [(one, one.layout.supports) for one in items if one.layout is not None]
    if any(held != drawn[0][1] for _, held in drawn):
        told = "; ".join(
            f"{called(one)} transom {held.transom.value}, chine {held.chine.value}, "
            f"forward {held.forward.value}, keel {held.keel.value}"
            for one, held in drawn
        )
        found.append(f"They are not held alike, so that stiffness and the grid compare that too: {told}.")
    return found


__all__ = ["NOTICE_OF_COMPARISON", "compare"]
