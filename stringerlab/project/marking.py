"""Lasting names for what is found in a layout: marks kept, given, split, merged and dropped after an edit.

What is unmarked gets an id of the project's counter; a span cut in two gives both halves new ids that name it
as their parent, and a panel's halves its laminate; one whose end lands elsewhere stays itself; of several
that became one the oldest stays.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

import numpy as np

from stringerlab.errors import Problem
from stringerlab.geometry.faces import enclosing, place_within
from stringerlab.layout.find import unmarked
from stringerlab.layout.found import Found, FoundBay, FoundSpan
from stringerlab.layout.plan import BayMark, Layout, PlanPoint, SpanMark
from stringerlab.project.counting import LETTERS, Counter
from stringerlab.project.finding import found_in
from stringerlab.project.records import Project


def reconciled(project: Project, *edited: str, before: Project | None = None) -> Project:
    """Return the project with a mark for everything found in the layout in use, and in edited ones.

    Parameters
    ----------
    project
        The project.
    edited
        Ids of layouts besides the one in use.
    before
        The project before the edit, where it is at hand: panels then keep their ids across a member that is
        moved over them, and the halves of one that is parted have its laminate.

    Returns
    -------
    Project
        The very same where nothing was to be marked.
    """
    counter: Counter | None = None
    layouts = list(project.layouts)
    for number, layout in enumerate(layouts):
        if layout.id != project.layout and layout.id not in edited:
            continue
        former = _former(before, layout)
        if former is not None and before is not None:
            layout = _anchored(project, layout, found_in(before, former))
        found = found_in(project, layout)
        if _is_marked(found, layout):
            layouts[number] = layout
            continue
        counter = counter or Counter(project)
        parted = found_in(before, former) if former is not None and before is not None else None
        layouts[number] = _marked(found, layout, parted, former, counter)
    if all(one is other for one, other in zip(layouts, project.layouts, strict=True)):
        return project
    return replace(
        project, layouts=tuple(layouts), counter=project.counter if counter is None else counter.next
    )


def is_reconciled(project: Project, layout: Layout) -> bool:
    """Return whether everything found in a layout has a mark, and every mark stands for something."""
    return _is_marked(found_in(project, layout), layout)


def merges(found: Found, layout: Layout) -> Iterator[tuple[BayMark, BayMark]]:
    """Yield panels that became one though they say different things: the one that is kept, and the other."""
    ids = {bay.id for bay in found.bays}
    gone = [mark for mark in layout.bays if mark.id not in ids]
    if not gone:
        return
    marks = {mark.id: mark for mark in layout.bays}
    for mark, bay in _lying_in(found, gone):
        kept = marks.get(bay.id)
        if kept is not None and _says_more(mark, kept):
            yield kept, mark


def merge_problem(kept: BayMark, where: str) -> Problem:
    """Return the question that two panels which became one ask."""
    return Problem(
        f"It has become one with panel {kept.id}, whose laminate or pan differs: {kept.id}'s counts.",
        where,
        f"Remove it, or part them again; {kept.id} is the older.",
    )


def _former(before: Project | None, layout: Layout) -> Layout | None:
    if before is None:
        return None
    return next((one for one in before.layouts if one.id == layout.id and one is not layout), None)


def _is_marked(found: Found, layout: Layout) -> bool:
    if not found.bays and not found.spans:
        return True  # no bottom to look at, or too much drawn: nothing is known to have gone
    spans, bays = {span.id for span in found.spans}, {bay.id for bay in found.bays}
    gone_bays = [mark for mark in layout.bays if mark.id not in bays]
    return (
        spans == {mark.id for mark in layout.spans}
        and len(layout.spans) == len(spans)
        and bays <= {mark.id for mark in layout.bays}
        and (not gone_bays or len(list(merges(found, layout))) == len(gone_bays))
    )


# -- panels --------------------------------------------------------------------------------------


def _anchored(project: Project, layout: Layout, former: Found) -> Layout:
    """Return a layout with marks in the panels between the same things as before, wherever they went."""
    now = _by_bounds(found_in(project, layout).bays)
    was = {bay.id: bounds for bounds, bay in _by_bounds(former.bays).items()}
    bays: list[BayMark] = []
    for mark in layout.bays:
        bay = now.get(was.get(mark.id, frozenset()))
        bays.append(mark if bay is None or bay.id == mark.id else replace(mark, at=_inside(bay)))
    if all(one is other for one, other in zip(bays, layout.bays, strict=True)):
        return layout
    return replace(layout, bays=tuple(bays))


def _by_bounds(bays: Iterable[FoundBay]) -> dict[frozenset[str], FoundBay]:
    """Return the bays by what bounds them, without those bounded alike."""
    found: dict[frozenset[str], FoundBay] = {}
    twice: set[frozenset[str]] = set()
    for bay in bays:
        bounds = frozenset(side.of for side in bay.sides)
        if bounds in found:
            twice.add(bounds)
        found[bounds] = bay
    return {bounds: bay for bounds, bay in found.items() if bounds not in twice}


def _inside(bay: FoundBay) -> PlanPoint:
    return _settled(place_within(bay.clear[0] if len(bay.clear[0]) >= 3 else bay.rings[0]))


def _settled(at: PlanPoint) -> PlanPoint:
    return round(at[0], 1), round(at[1], 1)


def _lying_in(found: Found, marks: Sequence[BayMark]) -> Iterator[tuple[BayMark, FoundBay]]:
    """Yield each mark with the bay it lies in, on either side of the boat."""
    rings = [ring for bay in found.bays for ring in bay.rings]
    owner = [bay for bay in found.bays for _ in bay.rings]
    done: set[int] = set()
    places = np.array([mark.at for mark in marks], float).reshape(-1, 2)
    for ring, number in enclosing(rings, places):
        if number not in done:
            done.add(number)
            yield marks[number], owner[ring]


def _says_more(mark: BayMark, kept: BayMark) -> bool:
    return (mark.laminate, mark.pan) != (kept.laminate, kept.pan) and (
        bool(mark.laminate) or mark.pan is not None
    )


# -- both ----------------------------------------------------------------------------------------


def _marked(
    found: Found, layout: Layout, parted: Found | None, former: Layout | None, counter: Counter
) -> Layout:
    wanting = unmarked(found, layout)
    spans = _span_marks(found, layout, counter)
    kept_gone = {mark.id for _, mark in merges(found, layout)}
    gone = {mark.id for mark in wanting.gone_bays} - kept_gone
    bays = [mark for mark in layout.bays if mark.id not in gone]
    places = sorted((_settled(at) for _, at in wanting.bays), key=lambda at: (round(at[0], -2), abs(at[1])))
    fresh = [BayMark(id=counter.id(LETTERS[BayMark]), at=at) for at in places]
    if parted is not None and former is not None and fresh:
        fresh = _inheriting(fresh, parted, former)
    return replace(layout, spans=spans, bays=(*bays, *fresh))


def _inheriting(fresh: Sequence[BayMark], parted: Found, former: Layout) -> list[BayMark]:
    marks = {mark.id: mark for mark in former.bays}
    from_ = {mark.id: marks.get(bay.id) for mark, bay in _lying_in(parted, fresh)}
    return [
        mark
        if (parent := from_.get(mark.id)) is None
        else replace(mark, laminate=parent.laminate, pan=parent.pan)
        for mark in fresh
    ]


# -- spans ---------------------------------------------------------------------------------------


def _span_marks(found: Found, layout: Layout, counter: Counter) -> tuple[SpanMark, ...]:
    """Return the marks of all spans: those that stay in their order, then the new ones."""
    wanting = unmarked(found, layout)
    gone = list(wanting.gone_spans)
    age = {mark.id: number for number, mark in enumerate(layout.spans)}
    fresh = [span for span, _ in wanting.spans]
    suggested = {span.id: parent for span, parent in wanting.spans}
    came = {span.id: [mark for mark in gone if _shares(mark, span)] for span in fresh}
    went = {mark.id: [span for span in fresh if _shares(mark, span)] for mark in gone}
    now: dict[str, SpanMark] = {}
    given: list[SpanMark] = []
    for span in fresh:
        whole = [mark for mark in came[span.id] if len(went[mark.id]) == 1]
        if whole:
            oldest = min(whole, key=lambda mark: age[mark.id])
            now[oldest.id] = replace(oldest, between=span.key[1])
            continue
        given.append(
            SpanMark(
                id=counter.id(LETTERS[SpanMark]),
                member=span.member,
                between=span.key[1],
                parent=suggested[span.id],
            )
        )
    standing = {span.id for span in found.spans}
    kept: dict[str, SpanMark] = {}
    for mark in layout.spans:
        if mark.id in now:
            kept[mark.id] = now[mark.id]
        elif mark.id in standing:
            kept.setdefault(mark.id, mark)
    return (*kept.values(), *given)


def _shares(mark: SpanMark, span: FoundSpan) -> bool:
    return mark.member == span.member and bool(set(mark.between) & set(span.key[1]))
