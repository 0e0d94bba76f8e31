"""Bars of what would help, of chances to be short, and of what drives them. mm; y to the right, z up.

A picture is made for a space it is to fill. Bars of verdicts take the verdicts' looks, so that they stay
apart without colour; every bar says itself in its tip and is picked by its number, ``step/2``.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import isnan

import numpy as np

from stringerlab.drawing.axes import shortened
from stringerlab.drawing.display import Area, Item, Label, Line, Picture, Role
from stringerlab.drawing.studying_spread import spread_items
from stringerlab.methods import SHORT_ABOVE, TIGHT_ABOVE, utilisation_text
from stringerlab.sizing.records import Chance, Helped, Scattering, Step
from stringerlab.units import Kind, System, format, rounded

ROW = 6.2
"""From bar to bar."""
_THICK = 0.6
"""Of a bar, in parts of that."""
_HEAD = 6.5
_SMALL = 1.42
"""About the width of a small letter."""
_VALUE = 30.0
"""For figures at the right."""
MOST_STEPS = 14
_CURVE = 0.44
"""Of the width, for the cumulative curve; what drives it lies beside."""
_NARROW = 100.0
"""Below it there is no room for the curve [mm]."""


def role_of(use: float) -> Role:
    """Return the role of a utilisation's verdict."""
    return Role.SHORT if use > SHORT_ABOVE else Role.TIGHT if use > TIGHT_ABOVE else Role.HOLDS


def change_words(step: Step, system: System) -> str:
    """Return what a step does to the mass."""
    if isnan(step.mass_change):
        return "not known"
    return signed(format(step.mass_change, Kind.MASS, system, digits=3), step.mass_change)


def signed(words: str, value: float) -> str:
    """Return a change with its sign."""
    return f"+{words}" if value > 0 else words


def part_words(part: float) -> str:
    """Return a chance in per cent."""
    return f"{rounded(part * 100, 3)} %"


# -- what would help -----------------------------------------------------------------------------


def helps_picture(helped: Helped, *, size: tuple[float, float], units: System = System.METRIC) -> Picture:
    """Return steps as bars of the change in a finding's utilisation, to the left what lowers it.

    Parameters
    ----------
    helped
        The finding and its steps.
    size
        Width and height to fill [mm].
    units
        Of the masses.
    """
    width, height = size
    fit = max(int((height - _HEAD) / ROW), 1)
    steps = helped.steps[: min(fit, MOST_STEPS)]
    names = min(max((len(step.name) for step in steps), default=10) * _SMALL, width * 0.42)
    left, right = names + 3, width - 2 * _VALUE + 6
    least = min([step.use_change for step in steps] + [0.0])
    most = max([step.use_change for step in steps] + [0.0])
    span = max(most - least, 1e-9)
    zero = left + (0.0 - least) / span * (right - left)
    items: list[Item] = [
        Label(at=(0.0, -_HEAD / 2), text="step", align=1, small=True, role=Role.DIMENSION),
        Label(
            at=((left + right) / 2, -_HEAD / 2),
            text=f"change from utilisation {utilisation_text(helped.use)}",
            small=True,
            role=Role.DIMENSION,
        ),
        Label(at=(width - _VALUE + 4, -_HEAD / 2), text="after", align=-1, small=True, role=Role.DIMENSION),
        Label(at=(width, -_HEAD / 2), text="mass", align=-1, small=True, role=Role.DIMENSION),
    ]
    for number, step in enumerate(steps):
        middle = -_HEAD - ROW * (number + 0.5)
        subject = f"step/{number}"
        mass = change_words(step, units)
        tip = (
            f"{step.name}\nutilisation {utilisation_text(helped.use)} → {utilisation_text(step.use)}, "
            f"mass {mass}; "
            f"highest of any finding then {utilisation_text(step.worst_after)}"
        )
        bar = _Bar(0.0, step.use_change, role_of(step.use), tip, subject)
        items += _bar(bar, middle, zero, (right - left) / span)
        items += [
            Label(at=(0.0, middle), text=_middled(step.name, names), align=1, small=True, subject=subject),
            Label(
                at=(width - _VALUE + 4, middle),
                text=utilisation_text(step.use),
                align=-1,
                small=True,
                subject=subject,
            ),
            Label(at=(width, middle), text=mass, align=-1, small=True, subject=subject),
        ]
    bottom = -_HEAD - ROW * len(steps)
    items.append(Line(points=np.array([(zero, bottom), (zero, -_HEAD)]), role=Role.DIMENSION))
    if len(helped.steps) > len(steps):
        words = f"and {len(helped.steps) - len(steps)} more in the table"
        items.append(Label(at=(0.0, bottom - 3), text=words, align=1, small=True, role=Role.DIMENSION))
    return Picture(items=tuple(items))


# -- chances -------------------------------------------------------------------------------------


def chances_picture(found: Scattering, *, size: tuple[float, float], picked: int = -1) -> Picture:
    """Return each finding's chance to be short as a bar with its interval, the likeliest first.

    Parameters
    ----------
    found
        What scatter does.
    size
        Width and height to fill [mm]; what does not fit is counted.
    picked
        Which of the chances is marked as chosen, from 0; −1 for none.
    """
    width, height = size
    fit = max(int((height - _HEAD) / ROW) - 1, 1)
    rows: list[tuple[str, float, float, float, str]] = [
        ("any finding", *found.any_short, ""),
        *(
            (chance_words(each), each.short, each.low, each.high, f"chance/{number}")
            for number, each in enumerate(found.chances[: fit - 1])
        ),
    ]
    names = min(max(len(words) for words, *_ in rows) * _SMALL, width * 0.5)
    left, right = names + 3, width - _VALUE - 12
    most = max([top for _, _, _, top, _ in rows] + [1e-6])
    scale = (right - left) / most
    items: list[Item] = [
        Label(at=(0.0, -_HEAD / 2), text="finding", align=1, small=True, role=Role.DIMENSION),
        Label(
            at=(width, -_HEAD / 2),
            text="chance to be short, 95 % interval",
            align=-1,
            small=True,
            role=Role.DIMENSION,
        ),
    ]
    for number, (words, short, least, top, subject) in enumerate(rows):
        middle = -_HEAD - ROW * (number + 0.5)
        figures = f"{part_words(short)}  ({interval_words(least, top)})"
        tip = f"{words}: {figures}"
        if subject and picked == number - 1:
            low, high = middle - ROW / 2, middle + ROW / 2
            edge = np.array([(0.0, low), (width, low), (width, high), (0.0, high)])
            items.append(Area(rings=(edge,), role=Role.SELECTED))
        role = Role.PLATING if not subject else Role.SHORT if short > 0 else Role.HOLDS
        items += _bar(_Bar(0.0, short, role, tip, subject), middle, left, scale)
        items += _interval(left + least * scale, left + top * scale, middle, tip, subject)
        items += [
            Label(at=(0.0, middle), text=_fitting(words, names), align=1, small=True, subject=subject),
            Label(at=(width, middle), text=figures, align=-1, small=True, subject=subject),
        ]
    bottom = -_HEAD - ROW * len(rows)
    items.append(Line(points=np.array([(left, bottom), (left, -_HEAD)]), role=Role.DIMENSION))
    hidden = len(found.chances) + 1 - len(rows)
    if hidden > 0:
        text = f"and {hidden} more in the table"
        items.append(Label(at=(0.0, bottom - 3), text=text, align=1, small=True, role=Role.DIMENSION))
    return Picture(items=tuple(items))


def _middled(words: str, room: float) -> str:
    """Return words that fit into so many mm, cut short in the middle: a step's numbers stand at its end."""
    most = max(int(room / _SMALL), 12)
    if len(words) <= most:
        return words
    end = most // 2
    return f"{words[: most - end - 1].rstrip()}…{words[-end:].lstrip()}"


def _fitting(words: str, room: float) -> str:
    """Return words that fit into so many mm; of what is cut short its last part, the aspect, stays whole."""
    most = max(int(room / _SMALL), 12)
    if len(words) <= most:
        return words
    name, comma, aspect = words.rpartition(", ")
    kept = most - len(comma) - len(aspect) - 1
    return f"{name[:kept].rstrip(' ,')}…{comma}{aspect}" if kept > 6 else f"{words[: most - 1].rstrip()}…"


def chance_words(chance: Chance) -> str:
    """Return what a chance is of."""
    return f"{chance.name}, {chance.aspect}"


def interval_words(low: float, high: float) -> str:
    """Return an interval in per cent."""
    return f"{rounded(low * 100, 3)} to {rounded(high * 100, 3)}"


def drivers_picture(chance: Chance, *, size: tuple[float, float]) -> Picture:
    """Return how one finding's utilisation scatters, and beside it what drives it, as a tornado.

    Parameters
    ----------
    chance
        Of the finding.
    size
        Width and height to fill [mm].
    """
    width, height = size
    title = shortened(chance_words(chance), width)
    items: list[Item] = [Label(at=(0.0, -3.0), text=title, align=1, small=True)]
    beside = width * _CURVE if width > _NARROW else 0.0
    if beside:
        items += spread_items(chance, size=(beside, height - _HEAD), top=-_HEAD)
    start = beside + _HEAD if beside else 0.0
    top = -_HEAD
    fit = max(int((height + top - _HEAD) / ROW), 1)
    drivers = chance.drivers[:fit]
    names = min(max((len(each.name) for each in drivers), default=10) * _SMALL, (width - start) * 0.6)
    left, right = start + names + 3, width - 11
    zero, scale = (left + right) / 2, (right - left) / 2
    items += [
        Label(
            at=(start, top - _HEAD / 2),
            text="what drives it: rank correlation, −1 to 1",
            align=1,
            small=True,
            role=Role.DIMENSION,
        )
    ]
    for number, driver in enumerate(drivers):
        middle = top - _HEAD - ROW * (number + 0.5)
        figure = f"{driver.correlation:+.2f}".replace("-", "−")
        way = "more of it, more used" if driver.correlation > 0 else "more of it, less used"
        role = Role.TENSION if driver.correlation > 0 else Role.COMPRESSION
        bar = _Bar(0.0, driver.correlation, role, f"{driver.name}: {figure}, {way}", f"driver/{number}")
        items += _bar(bar, middle, zero, scale)
        items += [
            Label(at=(start, middle), text=_fitting(driver.name, names), align=1, small=True),
            Label(at=(width, middle), text=figure, align=-1, small=True),
        ]
    bottom = top - _HEAD - ROW * max(len(drivers), 1)
    items.append(Line(points=np.array([(zero, bottom), (zero, top - _HEAD)]), role=Role.DIMENSION))
    return Picture(items=tuple(items))


# -- bars ----------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Bar:
    """From one value to another, with what it says and is picked by."""

    start: float
    end: float
    role: Role
    tip: str
    subject: str


def _bar(bar: _Bar, middle: float, zero: float, scale: float) -> Sequence[Item]:
    a, b = sorted((zero + bar.start * scale, zero + bar.end * scale))
    if b - a < 1e-6:
        return ()
    low, high = middle - ROW * _THICK / 2, middle + ROW * _THICK / 2
    ring = np.array([(a, low), (b, low), (b, high), (a, high)])
    return (Area(rings=(ring,), role=bar.role, edge=Role.PLY_EDGE, subject=bar.subject, tip=bar.tip),)


def _interval(a: float, b: float, middle: float, tip: str, subject: str) -> Iterator[Item]:
    """Yield a line with an end stroke at either end."""
    lines = (
        [(a, middle), (b, middle)],
        [(a, middle - 1.1), (a, middle + 1.1)],
        [(b, middle - 1.1), (b, middle + 1.1)],
    )
    for line in lines:
        yield Line(points=np.array(line), role=Role.TOOL, tip=tip, subject=subject)


__all__ = [
    "MOST_STEPS",
    "chance_words",
    "chances_picture",
    "change_words",
    "drivers_picture",
    "helps_picture",
    "interval_words",
    "part_words",
    "role_of",
    "signed",
]
