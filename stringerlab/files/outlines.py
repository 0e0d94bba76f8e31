"""Outlines read from another program's drawing, and the walls that they become. y to the right, z up; mm.

Lines that meet end to end are one wall; where three or more meet, each ends. Arcs stay the chords they were
read as: a wall of them has sharp points, no fillets.
"""

from collections import defaultdict
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, field, replace
from math import floor, hypot

import numpy as np
from numpy.typing import NDArray

from stringerlab.errors import Problem, StringerlabError
from stringerlab.section.records import Side, Wall

Points = NDArray[np.float64]
"""(n, 2) y and z in mm."""

UNITS = {"mm": 1.0, "cm": 10.0, "dm": 100.0, "m": 1000.0, "in": 25.4, "ft": 304.8, "yd": 914.4}
"""Units a drawing may be in, and how many mm each is."""
JOIN = 0.1
"""How far apart two ends may lie and still meet [mm]."""
STRAIGHT = 0.01
"""How far a point may lie off the line through its neighbours and still be left out [mm]."""
MOST_WALLS = 300
MOST_POINTS = 5000
FARTHEST = 10_000.0
"""How far from its origin a section may be drawn [mm]."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Outlines:
    """Lines of a drawing, flattened.

    ``unit`` is the one the file states, None where it states none; the lines are mm by ``read_as``.
    """

    name: str
    lines: tuple[Points, ...]
    layers: tuple[str, ...]
    """Of each line."""
    unit: str | None
    read_as: str
    tolerance: float
    """Greatest distance between a curve and its chords [mm]."""
    entities: int
    """How many things the drawing holds, blocks taken apart."""
    skipped: tuple[tuple[str, int], ...] = ()
    """What was left out, in words, and how often; most first."""
    low: Points = field(init=False, repr=False)
    """(k, 2) least y and z of each line."""
    high: Points = field(init=False, repr=False)

    def __post_init__(self) -> None:
        if not self.lines:
            low = high = np.empty((0, 2))
        else:
            points = np.concatenate(self.lines)
            starts = np.cumsum([0, *(len(line) for line in self.lines[:-1])])
            low, high = np.minimum.reduceat(points, starts), np.maximum.reduceat(points, starts)
        object.__setattr__(self, "low", low)
        object.__setattr__(self, "high", high)

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """Least y, least z, greatest y, greatest z of all lines."""
        low, high = self.low.min(axis=0), self.high.max(axis=0)
        return float(low[0]), float(low[1]), float(high[0]), float(high[1])

    @property
    def size(self) -> tuple[float, float]:
        """Overall width and height."""
        left, low, right, high = self.bounds
        return right - left, high - low

    def on(self, layers: Collection[str]) -> "Outlines":
        """Return the outlines on some layers only."""
        kept = [i for i, layer in enumerate(self.layers) if layer in layers]
        return replace(
            self, lines=tuple(self.lines[i] for i in kept), layers=tuple(self.layers[i] for i in kept)
        )

    def longest(self, count: int) -> "Outlines":
        """Return so many lines that reach farthest, in the drawing's order."""
        if len(self.lines) <= count:
            return self
        reach = (self.high - self.low).max(axis=1)
        kept = sorted(int(i) for i in np.argpartition(-reach, count)[:count])
        return replace(
            self, lines=tuple(self.lines[i] for i in kept), layers=tuple(self.layers[i] for i in kept)
        )

    def moved(self, dy: float, dz: float) -> "Outlines":
        """Return the outlines elsewhere."""
        return replace(self, lines=tuple(line + np.array([dy, dz]) for line in self.lines))

    def on_the_shell(self) -> "Outlines":
        """Return the outlines with their lowest point on the shell, z = 0, and their middle at y = 0."""
        return self.moved(*self.to_the_shell)

    @property
    def to_the_shell(self) -> tuple[float, float]:
        """How far the outlines move to rest on the shell, centred."""
        left, low, right, _ = self.bounds
        return -(left + right) / 2, -low


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Chain:
    """Lines joined end to end; a closed chain does not repeat its first point."""

    points: Points
    closed: bool
    layer: str


def outlines_to_walls(
    outlines: Outlines, *, laminate: str, side: Side, join: float = JOIN, straight: float = STRAIGHT
) -> tuple[Wall, ...]:
    """Return the walls that outlines become, without ids, each named after its layer.

    An open wall is drawn left to right (upward where it is upright), a closed one counter-clockwise, so that
    a side means the same for each: right is below or outside, left above or inside.

    Parameters
    ----------
    outlines
        The lines.
    laminate
        Id of the laminate of each wall.
    side
        On which the laminate builds.
    join
        How far apart two ends may lie and still meet [mm].
    straight
        How far a point may lie off the line through its neighbours and still be left out [mm].

    Raises
    ------
    StringerlabError
        When there is no line, or they are too many, too large or too far away for a section.
    """
    if not outlines.lines:
        raise StringerlabError(
            Problem("There is no line to make a wall of.", outlines.name, "Choose a layer with lines.")
        )
    _refuse_many(outlines.name, len(outlines.lines), MOST_POINTS, "lines")
    _refuse_far(outlines)
    made = chains(outlines, join=join, straight=straight)
    if not made:
        raise StringerlabError(
            Problem(f"No line is longer than {join:g} mm.", outlines.name, "Check the drawing's unit.")
        )
    _refuse_many(outlines.name, len(made), MOST_WALLS, "walls")
    _refuse_many(outlines.name, sum(len(chain.points) for chain in made), MOST_POINTS, "points")
    return tuple(
        Wall(
            id="",
            name=chain.layer if chain.layer != "0" else "",
            points=tuple((float(y), float(z)) for y, z in chain.points),
            laminate=laminate,
            side=side,
            closed=chain.closed,
        )
        for chain in made
    )


def chains(outlines: Outlines, *, join: float = JOIN, straight: float = STRAIGHT) -> tuple[Chain, ...]:
    """Return lines joined end to end, points on straight runs left out, lines drawn twice taken once.

    Parameters
    ----------
    outlines
        The lines.
    join, straight
        See ``outlines_to_walls`` [mm].
    """
    lines, layers = _once(outlines, join)
    knots = _Knots(join)
    ends = [(knots.at(line[0]), knots.at(line[-1])) for line in lines]
    meeting: defaultdict[int, list[int]] = defaultdict(list)
    for number, (first, last) in enumerate(ends):
        meeting[first].append(number)
        meeting[last].append(number)
    taken = [False] * len(lines)
    made: list[Chain] = []
    for number in range(len(lines)):
        if taken[number]:
            continue
        taken[number] = True
        fore = _followed(number, ends[number][1], ends, meeting, taken)
        aft = _followed(number, ends[number][0], ends, meeting, taken)
        order = [(n, not along) for n, along in reversed(aft)] + [(number, True)] + fore
        run = [lines[n] if along else lines[n][::-1] for n, along in order]
        points = np.concatenate([run[0], *(line[1:] for line in run[1:])])
        closed = len(points) > 3 and hypot(*(points[-1] - points[0])) <= join
        points = _reduced(points[:-1] if closed else points, straight, closed)
        made.append(Chain(points=_directed(points, closed), closed=closed, layer=layers[number]))
    return tuple(made)


class _Knots:
    """Ends that meet, numbered: an end takes the number of the first within reach."""

    def __init__(self, reach: float) -> None:
        self._reach = reach
        self._cells: defaultdict[tuple[int, int], list[tuple[int, float, float]]] = defaultdict(list)
        self._next = 0

    def at(self, point: Points) -> int:
        y, z = float(point[0]), float(point[1])
        column, row = floor(y / self._reach), floor(z / self._reach)
        for i in (column - 1, column, column + 1):
            for j in (row - 1, row, row + 1):
                for number, y_0, z_0 in self._cells.get((i, j), ()):
                    if hypot(y - y_0, z - z_0) <= self._reach:
                        return number
        number, self._next = self._next, self._next + 1
        self._cells[column, row].append((number, y, z))
        return number


def _once(outlines: Outlines, join: float) -> tuple[list[Points], list[str]]:
    """Return lines long enough to count, those that lie on one another taken once."""
    seen: set[bytes] = set()
    lines: list[Points] = []
    layers: list[str] = []
    for line, layer in zip(outlines.lines, outlines.layers, strict=True):
        if float(np.ptp(line, axis=0).max()) <= join:
            continue
        cells = np.round(line / join).astype(np.int64)
        keys = (cells.tobytes(), np.ascontiguousarray(cells[::-1]).tobytes())
        if seen.isdisjoint(keys):
            lines.append(line)
            layers.append(layer)
        seen.update(keys)
    return lines, layers


def _followed(
    number: int,
    knot: int,
    ends: Sequence[tuple[int, int]],
    meeting: dict[int, list[int]],
    taken: list[bool],
) -> list[tuple[int, bool]]:
    """Return the lines that follow one another from a knot, and whether each runs along or against."""
    found: list[tuple[int, bool]] = []
    while len(meeting[knot]) == 2:
        here = meeting[knot]
        following = here[0] if here[1] == number else here[1]
        if taken[following]:
            break
        taken[following] = True
        along = ends[following][0] == knot
        found.append((following, along))
        number, knot = following, ends[following][1 if along else 0]
    return found


def _reduced(points: Points, straight: float, closed: bool) -> Points:
    """Return a line without the points that lie on straight runs, none farther off than ``straight``."""
    if closed:  # begin at a point that is surely a corner: the one farthest from the middle
        begin = int(np.argmax(np.hypot(*(points - points.mean(axis=0)).T)))
        points = np.concatenate([points[begin:], points[: begin + 1]])
        half = int(np.argmax(np.hypot(*(points - points[0]).T)))
        waiting = [(0, half), (half, len(points) - 1)]
        keep = {0, half, len(points) - 1}
    else:
        waiting, keep = [(0, len(points) - 1)], {0, len(points) - 1}
    while waiting:
        first, last = waiting.pop()
        if last - first < 2:
            continue
        off = _distances(points[first + 1 : last], points[first], points[last])
        worst = int(np.argmax(off))
        if off[worst] > straight:
            middle = first + 1 + worst
            keep.add(middle)
            waiting += [(first, middle), (middle, last)]
    kept = points[sorted(keep)]
    return kept[:-1] if closed else kept


def _distances(points: Points, start: Points, end: Points) -> NDArray[np.float64]:
    """Return how far points (n, 2) lie from a straight piece."""
    along = end - start
    length = hypot(*along)
    if length == 0:
        return np.hypot(*(points - start).T)
    part = np.clip((points - start) @ along / length**2, 0, 1)
    return np.hypot(*(points - start - part[:, None] * along).T)


def _directed(points: Points, closed: bool) -> Points:
    """Return an open line left to right, or upward where it is upright; a closed one counter-clockwise."""
    if closed:
        y, z = points.T
        area = float(np.sum(y * np.roll(z, -1) - np.roll(y, -1) * z))
        return points if area >= 0 else points[::-1]
    run = points[-1] - points[0]
    backward = run[0] < -JOIN or (abs(run[0]) <= JOIN and run[1] < 0)
    return points[::-1] if backward else points


def _refuse_far(outlines: Outlines) -> None:
    far = max(abs(bound) for bound in outlines.bounds)
    if far > FARTHEST:
        width, height = outlines.size
        raise StringerlabError(
            Problem(
                f"It reaches {far / 1000:.4g} m from its origin; a section is drawn within "
                f"{FARTHEST / 1000:g} m.",
                outlines.name,
                "Rest it on the shell, or choose fewer layers."
                if max(width / 2, height) <= FARTHEST
                else f"It is {width / 1000:.4g} m wide and {height / 1000:.4g} m high: check its unit.",
            )
        )


def _refuse_many(name: str, count: int, most: int, what: str) -> None:
    if count > most:
        raise StringerlabError(
            Problem(
                f"It would make {count:,} {what}; a section takes {most:,} at once.".replace(",", " "),
                name,
                "Choose the layers with the outline only, or lay it under the sheet and draw on it.",
            )
        )


def counted(words: Sequence[str]) -> Iterator[tuple[str, int]]:
    """Yield each word and how often it stands, most first."""
    counts: defaultdict[str, int] = defaultdict(int)
    for word in words:
        counts[word] += 1
    yield from sorted(counts.items(), key=lambda item: (-item[1], item[0]))
