"""Webs, crown and bonded flanges found from a section's geometry, whatever it was drawn as.

Every segment of a wall, a fillet's chords included, belongs by its slope: steeper than 45° to the shell it is
web, else crown, shelf or flange. mm; points are turned into the shell's axes, the real part along the shell,
the imaginary one inboard from its face.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from stringerlab.geometry.chords import Points
from stringerlab.section.bodies import Bodies
from stringerlab.section.contact import faces, in_shell_axes

Array = NDArray[np.float64]

CONTACT = 0.5
"""Faces nearer than this lie against each other [mm]: what a laminate on a laminate is drawn with."""
TIE = 1e-9
"""A chord within this part of 45° to the shell counts as flat, so that rounding never decides."""
LEAST_WEB = 0.25
"""Steep runs that rise less than this part of the highest one are lips and steps, not webs."""
KEPT = 512
"""Walls remembered."""
FULL_WEB = 0.9
"""A steep run lying against a higher one is a tab's leg; from this part of its rise it doubles the web."""


@dataclass(frozen=True, eq=False)
class Run:
    """Successive segments of one wall on one side of 45°."""

    wall: int
    """Index in the section."""
    near: Points
    """Vertices of the drawn line."""
    far: Points
    """The same of the laminate's far face."""
    drawn: Points
    """Vertices of the drawn line in the section's own axes."""
    chord: NDArray[np.bool_]
    """Of each segment, whether it is a fillet's chord."""
    steep: bool

    @cached_property
    def rise(self) -> float:
        """Height from the lowest to the highest vertex of the drawn line."""
        return float(np.ptp(self.near.imag))

    @cached_property
    def length(self) -> float:
        """Along the drawn line."""
        return float(np.abs(np.diff(self.near)).sum())

    @cached_property
    def climb(self) -> float:
        """Heights in the section's own axes of all its segments together."""
        return float(np.abs(np.diff(self.drawn.imag)).sum())

    @cached_property
    def bottom(self) -> float:
        """Height of its lowest vertex above the shell."""
        return float(self.near.imag.min())

    @cached_property
    def top(self) -> int:
        """Index of the highest vertex."""
        return int(np.argmax(self.near.imag))

    @cached_property
    def foot(self) -> int:
        """Index of the lowest vertex."""
        return int(np.argmin(self.near.imag))

    @cached_property
    def shell_face(self) -> Points:
        """Vertices of the face nearer the shell."""
        return self.near if self.near.imag.mean() <= self.far.imag.mean() else self.far


@dataclass(frozen=True, eq=False)
class Web:
    """Steep runs that go on from one another, lowest first."""

    runs: tuple[Run, ...]

    @cached_property
    def rise(self) -> float:
        """Height of all of it."""
        return sum(run.rise for run in self.runs)

    @cached_property
    def length(self) -> float:
        """Along the drawn line."""
        return sum(run.length for run in self.runs)

    @cached_property
    def bottom(self) -> float:
        """Height of its lowest point above the shell."""
        return self.runs[0].bottom

    @cached_property
    def height(self) -> float:
        """Height of its highest point above the shell."""
        return float(self.runs[-1].near.imag.max())

    @cached_property
    def head(self) -> tuple[float, float]:
        """Least and greatest place along the shell of its two faces at its top."""
        run = self.runs[-1]
        both = float(run.near[run.top].real), float(run.far[run.top].real)
        return min(both), max(both)

    @cached_property
    def base(self) -> tuple[float, float]:
        """Least and greatest place along the shell of its two faces at its foot."""
        run = self.runs[0]
        both = float(run.near[run.foot].real), float(run.far[run.foot].real)
        return min(both), max(both)

    @cached_property
    def extent(self) -> tuple[float, float]:
        """Least and greatest place along the shell of its two faces."""
        faces = [face.real for run in self.runs for face in (run.near, run.far)]
        return min(float(face.min()) for face in faces), max(float(face.max()) for face in faces)

    @cached_property
    def root(self) -> float:
        """Where its lowest straight piece, drawn on, meets the shell."""
        run = self.runs[0]
        upward = run.near[:: -1 if run.foot else 1]
        straight = np.flatnonzero(~run.chord[:: -1 if run.foot else 1])
        at = int(straight[0]) if len(straight) else 0
        low, high = complex(upward[at]), complex(upward[at + 1])
        return low.real - low.imag * (high.real - low.real) / (high.imag - low.imag)


def runs(built: Bodies, deadrise: float) -> list[Run]:
    """Return every wall's runs. A wall that is drawn as before keeps its very runs, whatever else moves."""
    drawing = built.drawing
    found: list[Run] = []
    for index, stroke in enumerate(drawing.strokes):
        if stroke.wall < 0 or drawing.lines is None:
            continue
        key = (stroke.wall, stroke.points, stroke.radii, stroke.closed, stroke.reach, deadrise)
        known = _RUNS.pop(key, None)
        if known is None:
            drawn, far = faces(drawing, drawing.lines, index)
            chord = drawing.lines.chord[drawing.lines.part(index)][:-1]
            known = tuple(
                _runs_of_wall(stroke.wall, drawn.copy(), far, chord.copy(), deadrise, closed=stroke.closed)
            )
            while len(_RUNS) >= KEPT:
                del _RUNS[next(iter(_RUNS))]
        _RUNS[key] = known
        found += known
    return found


_RUNS: dict[tuple[object, ...], tuple[Run, ...]] = {}
"""Of walls by value, the latest used last."""


def _runs_of_wall(
    wall: int, drawn: Points, far: Points, chord: NDArray[np.bool_], deadrise: float, *, closed: bool
) -> Iterator[Run]:
    kind = _kinds(in_shell_axes(drawn, deadrise))
    if closed:
        change = np.flatnonzero(kind != np.roll(kind, 1))
        shift = int(change[0]) if len(change) else 0
        kind, chord = np.roll(kind, -shift), np.roll(chord, -shift)
        drawn, far = (np.append(np.roll(face[:-1], -shift), face[shift]) for face in (drawn, far))
    near, away = in_shell_axes(drawn, deadrise), in_shell_axes(far, deadrise)
    bounds = [0, *(np.flatnonzero(np.diff(kind)) + 1).tolist(), len(kind)]
    for start, end in pairwise(bounds):
        part = slice(start, end + 1)
        yield Run(wall, near[part], away[part], drawn[part], chord[start:end], bool(kind[start]))


def _kinds(near: Points) -> NDArray[np.int64]:
    """Of each segment: 0 flat, +1 steep going up, −1 steep going down."""
    step = np.diff(near)
    steep = np.abs(step.imag) > np.abs(step.real) * (1 + TIE)
    return np.where(steep, np.sign(step.imag), 0).astype(np.int64)


def webs(found: Sequence[Run]) -> list[Web]:
    """Return the webs, by the place of their roots along the shell.

    Steep runs that go on from one another end to end are one web. Lips and tab legs are left out.
    """
    steep = sorted((run for run in found if run.steep), key=lambda run: run.bottom)
    follows = _follows(steep)
    begun = {int(index) for index in np.nonzero(follows)[1]}
    joined: list[list[int]] = []
    for index in range(len(steep)):
        web = next((web for web in joined if follows[web[-1], index]), None) if index in begun else None
        if web is None:
            joined.append([index])
        else:
            web.append(index)
    every = [_web(tuple(steep[index] for index in web)) for web in joined]
    highest = max((web.rise for web in every), default=0.0)
    kept = [web for web in every if web.rise >= LEAST_WEB * highest]
    legs = {one for one, other in _near(kept) if _is_leg(kept[one], kept[other])}
    return sorted((web for index, web in enumerate(kept) if index not in legs), key=lambda web: web.root)


_web = lru_cache(KEPT)(Web)
"""The same runs are the same web, and what it measures is taken once."""


def carrying(standing: Sequence[Web], found: Sequence[Run]) -> list[Web]:
    """Return the webs that carry shear down to the shell: all but upstands.

    An upstand is the end of a wall that goes on up from a crown or shelf after a web of the same wall: a
    coaming, or the flange of a landing up the hull's side. It may hold a crown's edge.
    """
    walls: dict[int, list[Run]] = {}
    for run in found:
        walls.setdefault(run.wall, []).append(run)
    ends = {id(end) for held in walls.values() for end in _upstands(held)}
    return [web for web in standing if not (len(web.runs) == 1 and id(web.runs[0]) in ends)]


def _upstands(held: Sequence[Run]) -> Iterator[Run]:
    """Yield the upstands at the two ends of a wall's runs."""
    if len(held) < 3 or held[0].near[0] == held[-1].near[-1]:
        return
    first, shelf, web = held[:3]
    if first.top == 0 == web.top and _stands_on(first, shelf, web):
        yield first
    web, shelf, last = held[-3:]
    if last.top == len(last.near) - 1 and web.top == len(web.near) - 1 and _stands_on(last, shelf, web):
        yield last


def _stands_on(leg: Run, shelf: Run, web: Run) -> bool:
    """Whether a leg stands on a shelf rather than going on from the web below it with a jog."""
    if not leg.steep or shelf.steep or not web.steep:
        return False
    return web.rise > leg.rise or shelf.length > web.rise / 2


def _follows(steep: Sequence[Run]) -> NDArray[np.bool_]:
    """Return (n, n) whether the second of two runs of different walls begins where the first ends."""
    heads = np.array([run.near[run.top] for run in steep], complex)
    feet = np.array([run.near[run.foot] for run in steep], complex)
    walls = np.array([run.wall for run in steep], np.intp)
    return np.asarray((np.abs(heads[:, None] - feet) <= CONTACT) & (walls[:, None] != walls))


def _near(standing: Sequence[Web]) -> Sequence[tuple[int, int]]:
    """Return each web with every higher one that it may be the leg of: not the shorter, not further off."""
    if len(standing) < 2:
        return ()
    rise = np.array([web.rise for web in standing])
    low, high = np.array([web.extent for web in standing]).T
    near = rise[:, None] < FULL_WEB * rise
    near &= np.maximum(low[:, None] - high, low - high[:, None]) <= CONTACT
    one, other = near.nonzero()
    return list(zip(one.tolist(), other.tolist(), strict=True))


def _is_leg(web: Web, other: Web) -> bool:
    """Whether a web is but a tab's leg lying against a higher one of another wall."""
    if web.rise >= FULL_WEB * other.rise:
        return False
    height = (web.bottom + web.height) / 2
    one, two = across(web, height), across(other, height)
    if one is None or two is None or {run.wall for run in web.runs} & {run.wall for run in other.runs}:
        return False
    return max(one[0] - two[1], two[0] - one[1]) <= CONTACT


def across(web: Web, height: float) -> tuple[float, float] | None:
    """Return where a web's two faces stand along the shell at a height."""
    for run in web.runs:
        if run.near.imag.min() <= height <= run.near.imag.max():
            places = [_at(face, height) for face in (run.near, run.far)]
            return min(places), max(places)
    return None


def _at(face: Points, height: float) -> float:
    order = np.argsort(face.imag)
    return float(np.interp(height, face.imag[order], face.real[order]))


def bonded(found: Sequence[Run], bead: float) -> list[tuple[float, float]]:
    """Return where along the shell a laminate's shell-side face lies within bead + 0.5 mm of it."""
    places: list[tuple[float, float]] = []
    for run in found:
        if run.steep:
            continue
        face = run.shell_face
        close = np.abs(face.imag) <= bead + CONTACT
        for start, end, on in zip(face[:-1], face[1:], close[:-1] & close[1:], strict=True):
            if on:
                places.append((float(min(start.real, end.real)), float(max(start.real, end.real))))
    return _merged(places)


def _merged(places: list[tuple[float, float]]) -> list[tuple[float, float]]:
    merged: list[tuple[float, float]] = []
    for start, end in sorted(places):
        if merged and start <= merged[-1][1] + 1e-9:
            merged[-1] = (merged[-1][0], max(merged[-1][1], end))
        else:
            merged.append((start, end))
    return merged
