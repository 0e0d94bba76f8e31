"""Layouts and boats side by side on one page: their plans to one scale, then bars measure by measure. mm.

The page is 277 mm wide; y to the right, z up. All bars begin at nothing, and those of one measure are to one
scale; a value that is not known has no bar and says so.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate, pairwise

import numpy as np

from stringerlab.compare import Compared, Comparison, Measure
from stringerlab.compare.measures import LAMINATE
from stringerlab.compare.sentences import titled
from stringerlab.compare.shown import NOT_KNOWN, cell, shown
from stringerlab.drawing.display import Area, Item, Label, Line, Mark, Picture, Points, Role, Ticks
from stringerlab.drawing.options import LegendRow, Swatch
from stringerlab.drawing.plan_options import PlanOptions, widths_of
from stringerlab.drawing.plans import hull_items, plan_picture
from stringerlab.methods import SHORT_ABOVE, TIGHT_ABOVE
from stringerlab.units import System

WIDTH = 277.0
HEIGHT = 172.0
"""Of plans and bars: with legend and margins they fill an A4 page on its side."""
_GAP = 7.0
_HEAD = 7.0
"""For a title above a plan or bars."""
_ROW, _CLOSE = 6.6, 4.8
"""From bar to bar, where there are few and where there are many."""
_THICK = 0.64
"""Of a bar, in parts of that."""
_WORDS = 31.0
"""For a value beside the longest bar."""
_FOLDED = 11.0
"""For the titles above plans where one of them is folded."""
_LETTERS = 34
"""Of a title above a plan: more are cut off."""
_FEW = 3
"""So many and fewer stand at ease."""
_TALLEST, _LOWEST = 62.0, 12.0
"""Of a plan."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """How wide and high a page is [mm], and how many plans or measures stand in a row."""

    width: float = WIDTH
    height: float = HEIGHT
    across: int = 3


PAPER = Page()
WIDE = Page(width=330.0, height=130.0, across=4)
"""For a screen, where the page lies over a table."""
_PARTS = (
    ("members", Role.MAT, "laminates"),
    ("fills", Role.FOAM, "fills drawn in"),
    ("foam", Role.CORE, "foam in cavities"),
    ("adhesive", Role.BONDED, "adhesive"),
    ("inserts", Role.BLOCK, "inserts"),
)
LEGEND = tuple(LegendRow(swatch=Swatch.AREA, role=role, text=words) for _, role, words in _PARTS)
"""What the parts of a mass bar are."""


def comparison_picture(found: Comparison, *, units: System = System.METRIC, page: Page = PAPER) -> Picture:
    """Return a comparison as one page.

    The subject of a plan and of its bars is ``compared/A``.

    Parameters
    ----------
    found
        What is side by side.
    units
        Units of the figures.
    page
        What it is laid out for.
    """
    items: list[Item] = []
    top = 0.0
    plotted = [one for one in found.measures if one.plotted]
    below = -(-len(plotted) // page.across) * _bars_height(len(found.items))
    plans, top = _plans(found.items, top, page.height - below, page)
    items += plans
    items += _bars(found, plotted, top, units, page)
    return Picture(items=tuple(items))


# -- plans ---------------------------------------------------------------------------------------


def _plans(compared: Sequence[Compared], top: float, room: float, page: Page) -> tuple[list[Item], float]:
    """Return the plans, all to one scale, and where what comes below them begins."""
    across = min(len(compared), page.across)
    width = (page.width - (across - 1) * _GAP) / across
    titles = [_folded(one) for one in compared]
    head = _FOLDED if any("\n" in title for title in titles) else _HEAD
    drawn = [_plan(one) for one in compared]
    boxes = [picture.bounds() or (0.0, 0.0, 1.0, 1.0) for picture in drawn]
    tallest = min(max(room / -(-len(compared) // across) - head - _GAP / 2, _LOWEST), _TALLEST)
    scale = min(
        min(width / max(box[2] - box[0], 1.0) for box in boxes),
        min(tallest / max(box[3] - box[1], 1.0) for box in boxes),
    )
    items: list[Item] = []
    for start in range(0, len(compared), across):
        row = range(start, min(start + across, len(compared)))
        height = max((boxes[number][3] - boxes[number][1]) * scale for number in row)
        for place, number in enumerate(row):
            above = head / 2 if "\n" in titles[number] else head - _HEAD / 2
            left, box, one = place * (width + _GAP), boxes[number], compared[number]
            items.append(
                Label(
                    at=(left, top - above),
                    text=titles[number],
                    align=1,
                    small=True,
                    subject=_of(one),
                )
            )
            at = (left - box[0] * scale, top - head - height / 2 - (box[1] + box[3]) / 2 * scale)
            items += (_scaled(item, scale, at, _of(one)) for item in drawn[number])
            if one.layout is None:
                middle = (left + (box[2] - box[0]) * scale / 2, top - head - height / 2)
                items.append(Label(at=middle, text="no layout is drawn", small=True, subject=_of(one)))
        top -= head + height + _GAP / 2
    return items, top


def headed(one: Compared) -> str:
    """Return the words over a plan."""
    return titled(one) if one.name == one.boat else f"{titled(one)}, {one.boat}"


def _folded(one: Compared) -> str:
    """Return what stands over a plan: on two lines where one would run into the next plan's."""
    whole = f"{one.letter}  {headed(one)}"
    lines = (
        (whole,)
        if len(whole) <= _LETTERS or one.name == one.boat
        else (f"{one.letter}  {titled(one)}", one.boat)
    )
    return "\n".join(line if len(line) <= _LETTERS else f"{line[: _LETTERS - 1]}…" for line in lines)


def _plan(one: Compared) -> Picture:
    """Return the plan of one of them without words and marks, which would be larger than it."""
    options = PlanOptions(stations=False, nodes=False, supports=False, panels=False, other_names=False)
    if one.layout is None or one.found is None:
        found = Picture(items=tuple(hull_items(one.bottom, options)) if one.bottom is not None else ())
    else:
        widths = widths_of(one.resolved, one.layout)
        craft = one.resolved.craft
        found = plan_picture(one.found, one.layout, craft, options=replace(options, widths=widths))
    return Picture(items=tuple(item for item in found if not isinstance(item, Label | Mark | Ticks)))


def _scaled(item: Item, scale: float, at: tuple[float, float], subject: str) -> Item:
    """Return an item of a plan at its place on the page."""

    def moved(points: Points) -> Points:
        return points * scale + np.array(at)

    match item:
        case Area():
            return replace(item, rings=tuple(moved(ring) for ring in item.rings), subject=subject)
        case Line():
            return replace(item, points=moved(item.points), subject=subject)
        case Ticks():
            return replace(item, starts=moved(item.starts), ends=moved(item.ends), subject=subject)
        case Label() | Mark():
            y, z = item.at
            return replace(item, at=(y * scale + at[0], z * scale + at[1]), subject=subject)


# -- bars ----------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class _Bar:
    """Parts of a bar one after another, and what is written beside it."""

    parts: tuple[tuple[float, Role, str], ...]
    """How long each is, its role, and its tip."""
    words: str
    subject: str
    letter: str

    @property
    def whole(self) -> float:
        return sum(part for part, _, _ in self.parts)


def _bars(
    found: Comparison, plotted: Sequence[Measure], top: float, units: System, page: Page
) -> Iterator[Item]:
    """Yield bars of every measure that is plotted, some measures in a row."""
    width = (page.width - (page.across - 1) * _GAP) / page.across
    height = _bars_height(len(found.items))
    for number, measure in enumerate(plotted):
        row, column = divmod(number, page.across)
        at = (column * (width + _GAP), top - row * height)
        bars = [_bar(measure, one, units) for one in found.items]
        yield from _multiple(_headed(measure), bars, at, width, one=_is_use(measure))


def _bars_height(count: int) -> float:
    """Return how high the bars of one measure stand, with their title."""
    return _HEAD + _row(count) * count + _GAP / 2


def _row(count: int) -> float:
    return _ROW if count <= _FEW else _CLOSE


def _headed(measure: Measure) -> str:
    return measure.name[0].upper() + measure.name[1:]


def _is_use(measure: Measure) -> bool:
    return measure.id.startswith("worst:")


def _bar(measure: Measure, one: Compared, units: System) -> _Bar:
    measured = one.measured[measure.id]
    words = cell(measure, measured, units)
    if measured.value is None:
        parts: tuple[tuple[float, Role, str], ...] = ()
    elif measure.id == "part":
        parts = _mass_parts(one, measure, units)
    else:
        parts = ((measured.value, _role(measure, measured.value), f"{one.letter}, {measure.name}: {words}"),)
    return _Bar(parts=parts, words=words, subject=_of(one), letter=one.letter)


def _role(measure: Measure, value: float) -> Role:
    if not _is_use(measure):
        return Role.PLATING
    return Role.SHORT if value > SHORT_ABOVE else Role.TIGHT if value > TIGHT_ABOVE else Role.HOLDS


def _mass_parts(one: Compared, of: Measure, units: System) -> tuple[tuple[float, Role, str], ...]:
    """Return the masses of the stringer part's parts."""
    laminates = sum(held.value or 0.0 for key, held in one.measured.items() if key.startswith(LAMINATE))
    masses = {"members": laminates} | {key: one.value(key) or 0.0 for key, _, _ in _PARTS[1:]}
    return tuple(
        (masses[key], role, f"{one.letter}, {words}: {shown(of, masses[key], units)}")
        for key, role, words in _PARTS
        if masses[key] > 0
    )


def _multiple(
    title: str, bars: Sequence[_Bar], at: tuple[float, float], width: float, *, one: bool
) -> Iterator[Item]:
    """Yield the bars of one measure under its title; ``one`` draws a line where all is used."""
    left, top = at
    step = _row(len(bars))
    start, room = left + 6.0, width - 6.0 - _WORDS
    yield Label(at=(left, top - _HEAD / 2), text=title, align=1)
    most = max([bar.whole for bar in bars] + ([SHORT_ABOVE] if one else []), default=0.0)
    scale = room / most if most > 0 else 0.0
    bottom = top - _HEAD - step * len(bars)
    for row, bar in enumerate(bars):
        middle = top - _HEAD - step * (row + 0.5)
        low, high = middle - step * _THICK / 2, middle + step * _THICK / 2
        yield Label(at=(start, middle), text=bar.letter, align=-1, small=True, subject=bar.subject)
        ends = [start, *(start + scale * part for part in accumulate(part for part, _, _ in bar.parts))]
        for (a, b), (_, role, tip) in zip(pairwise(ends), bar.parts, strict=True):
            ring = np.array([(a, low), (b, low), (b, high), (a, high)])
            yield Area(rings=(ring,), role=role, edge=Role.PLY_EDGE, subject=bar.subject, tip=tip)
        known = bar.words != NOT_KNOWN
        full = start + scale * SHORT_ABOVE if one else 0.0
        beside = full if known and ends[-1] < full < ends[-1] + _WORDS else ends[-1]
        yield Label(
            at=(beside, middle),
            text=bar.words,
            role=Role.TEXT if known else Role.NOT_JUDGED,
            align=1,
            small=True,
            subject=bar.subject,
        )
    yield Line(points=np.array([(start, bottom), (start, top - _HEAD)]), role=Role.DIMENSION)
    if one:
        full = start + scale * SHORT_ABOVE
        line = np.array([(full, bottom), (full, top - _HEAD)])
        yield Line(points=line, role=Role.GOVERNING, tip="1.00: demand is capacity")


def _of(one: Compared) -> str:
    return f"compared/{one.letter}"


__all__ = ["LEGEND", "WIDE", "WIDTH", "Page", "comparison_picture", "headed"]
