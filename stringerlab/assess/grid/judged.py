"""What the grid's envelope says of every span: mechanics, deflection, frequency, feet and inserts.

First principles, load shared by the grid; never rule compliance. What cannot be judged is a finding that says
why, never an error.
"""

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial
from math import isfinite

from stringerlab.assess.grid.limits import deflection, frequency
from stringerlab.assess.grid.loaded import GridLoaded, grid_loaded
from stringerlab.assess.grid.machinery import feet_on, insert_cases
from stringerlab.assess.grid.records import GridResults, SpanExtremes
from stringerlab.errors import Problem, StringerlabError
from stringerlab.layout.plan import Participation
from stringerlab.methods import (
    Aspect,
    Finding,
    FindingKey,
    FindingKind,
    Judged,
    Method,
    Verdict,
    craft_row,
    findings,
    not_judged,
)
from stringerlab.methods.mechanics import OURS, LoadedSpan
from stringerlab.methods.verdicts import SHORT_ABOVE
from stringerlab.units import Kind, format
from stringerlab.workings import workings

Tell = Callable[[float, str], None]
AT_ONCE = 12
_BASIS = "load shared by the grid, by first principles; no rule compliance"
_APART = "worst moments, shear and torque of all load cases taken together; they need not come from one case"


def grid_findings(results: GridResults, method: Method, tell: Tell | None = None) -> tuple[Finding, ...]:
    """Return the grid's findings of every span, in the order found.

    Parameters
    ----------
    results
        The grid analysed.
    method
        Whose pressure loads it.
    tell
        Told of progress; what it raises stops the work.
    """
    named = replace(method, name=f"{method.name}: grid")
    if results.envelope is None:
        return tuple(
            not_judged(
                named,
                case.span.id,
                case.span.name,
                Aspect.PLY_FAILURE,
                [placed.problem for placed in results.problems] or [Problem("The grid has no solution.")],
                kind=FindingKind.GRID,
            )
            for case in results.ground.spans.values()
        )
    try:
        loaded = grid_loaded(results, method, craft_row(results.ground.craft))
    except StringerlabError as error:
        return tuple(
            not_judged(
                named, case.span.id, case.span.name, Aspect.PLY_FAILURE, error.problems, kind=FindingKind.GRID
            )
            for case in results.ground.spans.values()
        )
    found: list[Finding] = []
    told: dict[str, tuple[str, ...]] = {}
    batches = [loaded[start : start + AT_ONCE] for start in range(0, len(loaded), AT_ONCE)]
    for number, batch in enumerate(batches):
        if tell is not None:
            tell(
                number / len(batches),
                f"grid, spans {number * AT_ONCE + 1} to {number * AT_ONCE + len(batch)}",
            )
        for aspect, judge in _TOPICS:
            found += _judged(named, results, batch, aspect, judge, told)
    problems = [placed.problem for placed in results.problems]
    found += [
        not_judged(
            named,
            case.span.id,
            case.span.name,
            Aspect.PLY_FAILURE,
            problems or [Problem("It is no part of the grid.")],
            kind=FindingKind.GRID,
        )
        for case in results.ground.spans.values()
        if case.span.id not in results.spans
    ]
    order = {one.span.case.span.id: number for number, one in enumerate(loaded)}
    worst: dict[FindingKey, Finding] = {}
    for one in found:
        if one.aspect not in _LEFT and (one.key not in worst or _severity(one) > _severity(worst[one.key])):
            worst[one.key] = one
    bare = {one.span.case.span.id for one in loaded if not isfinite(one.span.P)}
    kept = [_slammed(named, one) if one.subject in bare else one for one in worst.values()]
    return tuple(sorted(kept, key=lambda one: order.get(one.subject, len(order))))


_WITHOUT_SLAM = frozenset({Aspect.FREQUENCY, Aspect.INSERT, Aspect.FEET})


def _slammed(named: Method, one: Finding) -> Finding:
    """Return what is found of a span without slam: short stays short, but nothing holds."""
    if one.aspect in _WITHOUT_SLAM or one.verdict in (Verdict.SHORT, Verdict.NOT_JUDGED, Verdict.ADVICE):
        return one
    problem = Problem(
        "No slam is on it: the method gives no pressure here.",
        f"span '{one.name}' ({one.subject})",
        "Give what the method asks for, or choose one that states a pressure.",
    )
    return not_judged(named, one.subject, one.name, one.aspect, [problem], kind=FindingKind.GRID)


_LEFT = frozenset({Aspect.PRINT_THROUGH, Aspect.TRANSOM_PLATE})
"""What hangs on no load of the grid: said by the mechanics alone."""


def _severity(one: Finding) -> tuple[int, float]:
    """Return in which order findings of one aspect count: what is short, what is not judged, what holds."""
    use = one.utilisation
    if use is None:
        return 1, 0.0
    return (2, use) if use > SHORT_ABOVE else (0, use)


_Judge = Callable[[GridResults, Sequence[GridLoaded]], tuple[Judged, ...]]


def _judged(
    named: Method,
    results: GridResults,
    batch: Sequence[GridLoaded],
    aspect: Aspect,
    judge: _Judge,
    told: dict[str, tuple[str, ...]],
) -> list[Finding]:
    """Return what a topic finds of spans; where it fails on several, one at a time.

    ``told`` keeps by span what governs it, said in many findings.
    """
    subjects = [(one.span.case.span.id, one.span.case.span.name) for one in batch]
    try:
        with workings() as recording:
            judged = judge(results, batch)
    except StringerlabError as error:
        if len(batch) > 1:
            return [one for each in batch for one in _judged(named, results, [each], aspect, judge, told)]
        return [not_judged(named, *subjects[0], aspect, error.problems, kind=FindingKind.GRID)]
    found = findings(named, judged, subjects, recording, kind=FindingKind.GRID)
    cases = {one.span.case.span.id: one.span.case.notes for one in batch}
    return [
        replace(
            one,
            notes=(
                *one.notes,
                *_governed(results, results.spans[one.subject], one.aspect, told),
                *cases[one.subject],
            ),
        )
        for one in found
    ]


def _governed(
    results: GridResults, of: SpanExtremes, aspect: Aspect, told: dict[str, tuple[str, ...]]
) -> tuple[str, ...]:
    """Return which load cases gave a span's extremes."""
    if aspect in (Aspect.FREQUENCY, Aspect.INSERT, Aspect.FEET):
        return (_BASIS,)
    if aspect is Aspect.DEFLECTION:
        return (_BASIS, f"in: {results.cases[of.sag.case].name}")
    if of.id not in told:
        told[of.id] = _extremes_told(results, of)
    return told[of.id]


def _extremes_told(results: GridResults, of: SpanExtremes) -> tuple[str, ...]:
    said = (
        f"crown in compression {format(of.M_min.value, Kind.MOMENT)}: {results.cases[of.M_min.case].name}",
        f"crown in tension {format(of.M_max.value, Kind.MOMENT)}: {results.cases[of.M_max.case].name}",
        f"shear {format(of.V.value, Kind.FORCE)}: {results.cases[of.V.case].name}",
        f"torque {format(of.T if of.T > _NONE else 0.0, Kind.MOMENT)}",
    )
    more = (_OWN_STRIP,) if results.ground.layout.rules.participation is Participation.NONE else ()
    return (_BASIS, _APART, *said, *more)


_NONE = 1.0
"""Less torque is none [N·mm]."""
_OWN_STRIP = "the grid counts no plating in its stiffness; the section is judged with what the method counts"


def _spans(batch: Sequence[GridLoaded]) -> list[LoadedSpan]:
    return [one.span for one in batch]


def _plies(results: GridResults, batch: Sequence[GridLoaded]) -> tuple[Judged, ...]:
    from stringerlab.methods.mechanics import plies

    del results
    return plies.judge(_spans(batch), OURS)


def _local(results: GridResults, batch: Sequence[GridLoaded]) -> tuple[Judged, ...]:
    from stringerlab.methods.mechanics import local

    del results
    return local.judge(_spans(batch), OURS)


def _holes(results: GridResults, batch: Sequence[GridLoaded]) -> tuple[Judged, ...]:
    from stringerlab.methods.mechanics import holes

    del results
    return holes.judge(_spans(batch), OURS)


def _bond_ends(results: GridResults, batch: Sequence[GridLoaded]) -> tuple[Judged, ...]:
    from stringerlab.methods.mechanics import bond_ends
    from stringerlab.methods.mechanics.bond_rows import Rows, row_of_span

    del results
    return bond_ends.judge(Rows([row_of_span(one.shear) for one in batch]), OURS)


def _bonds(results: GridResults, batch: Sequence[GridLoaded]) -> tuple[Judged, ...]:
    from stringerlab.methods.mechanics import bonds
    from stringerlab.methods.mechanics.bond_rows import Rows, row_of_span

    del results
    return bonds.between_ends(Rows([row_of_span(one) for one in _spans(batch)]), OURS)


def _landings(results: GridResults, batch: Sequence[GridLoaded]) -> tuple[Judged, ...]:
    from stringerlab.methods.mechanics import landings

    del results
    return landings.judge([one.shear for one in batch], OURS)


def _crossings(results: GridResults, batch: Sequence[GridLoaded], end: int) -> tuple[Judged, ...]:
    from stringerlab.methods.mechanics import crossings

    del results
    return crossings.judge([one.moments[end] for one in batch], OURS)


def _transoms(results: GridResults, batch: Sequence[GridLoaded]) -> tuple[Judged, ...]:
    from stringerlab.methods.mechanics import transoms

    del results
    return transoms.judge(_spans(batch), OURS)


def _feet(results: GridResults, batch: Sequence[GridLoaded]) -> tuple[Judged, ...]:
    from stringerlab.methods.mechanics import feet

    return feet.judge(_spans(batch), OURS, feet=feet_on(results))


def _inserts(results: GridResults, batch: Sequence[GridLoaded]) -> tuple[Judged, ...]:
    from stringerlab.methods.mechanics import inserts
    from stringerlab.methods.mechanics.choosing import governing

    cases = insert_cases(results, _spans(batch))
    return governing(len(batch), cases, lambda held: inserts.judge_ways(held, OURS), inserts.WAYS)


def _deflection(results: GridResults, batch: Sequence[GridLoaded]) -> tuple[Judged, ...]:
    return deflection(results, [one.span.case for one in batch])


def _frequency(results: GridResults, batch: Sequence[GridLoaded]) -> tuple[Judged, ...]:
    return frequency(results, [one.span.case for one in batch])


_TOPICS: tuple[tuple[Aspect, _Judge], ...] = (
    (Aspect.PLY_FAILURE, _plies),
    (Aspect.WEB_BUCKLING, _local),
    (Aspect.BOND, _bonds),
    (Aspect.BOND_END, _bond_ends),
    (Aspect.OPENING, _holes),
    (Aspect.HARD_SPOT, _landings),
    (Aspect.CROSSING, partial(_crossings, end=0)),
    (Aspect.CROSSING, partial(_crossings, end=1)),
    (Aspect.TRANSOM, _transoms),
    (Aspect.FEET, _feet),
    (Aspect.INSERT, _inserts),
    (Aspect.DEFLECTION, _deflection),
    (Aspect.FREQUENCY, _frequency),
)
