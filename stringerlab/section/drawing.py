"""Walls and plating as drawn lines with the laminate's levels on them, and every fault that forbids a number.

A fault belongs to one wall and is found for every wall at once; the sound walls go on. mm; y right, z up.
"""

from collections.abc import Container, Sequence
from dataclasses import dataclass, replace
from math import cos, isfinite, pi, sin

import numpy as np
from numpy.typing import NDArray

from stringerlab.errors import Problem
from stringerlab.geometry.chords import as_pairs
from stringerlab.geometry.cleaning import without_repeats
from stringerlab.geometry.lines import TOUCH, Corners, Lines, corners_of, lines_of
from stringerlab.section.plies import StackSizes, stack_sizes
from stringerlab.section.records import Plating, Section, SectionShape, Side, Wall, WallShape
from stringerlab.units import Kind
from stringerlab.units import format as shown

Array = NDArray[np.float64]
Point = tuple[float, float]

BARE = np.zeros(1)
"""Levels of a wall whose laminate is not known yet."""


@dataclass(frozen=True, slots=True, eq=False)
class Stroke:
    """One line to build on: a wall's, or the plating's inboard face."""

    where: str
    """For a person: section and wall."""
    wall: int
    """Index of the wall in its section, −1 for plating."""
    points: tuple[Point, ...]
    radii: tuple[float, ...]
    closed: bool
    levels: Array
    """Offsets of the ply faces to the left of the line."""
    side: float
    """+1 where the levels rise away from the mould, −1 where they fall."""
    sizes: StackSizes | None
    """Of the laminate; None where it is not known yet."""
    numbers: tuple[int, ...] = ()
    """Numbers of the points as drawn, where some were left out."""

    @property
    def reach(self) -> float:
        """Offset of the face furthest from the line."""
        return float(self.levels[-1] if self.wall >= 0 else self.levels[0])

    def number(self, index: int) -> int:
        """Number from 1, as drawn, of a point."""
        return self.numbers[index] if self.numbers else index + 1


@dataclass(frozen=True, slots=True, eq=False)
class Drawing:
    """The strokes that can be drawn, their lines, and what is wrong with the others."""

    strokes: tuple[Stroke, ...]
    lines: Lines | None
    """Of the strokes, in their order; None when there are none."""
    faults: tuple[Problem, ...]
    repairs: tuple[Problem, ...]


def wall_strokes(shape: SectionShape | Section) -> list[Stroke]:
    """Return a stroke a wall; a section whose laminates are not resolved has none on its lines."""
    return [_wall_stroke(shape.name, index, wall) for index, wall in enumerate(shape.walls)]


def _wall_stroke(section: str, index: int, wall: Wall | WallShape) -> Stroke:
    side = 1.0 if wall.side is Side.LEFT else -1.0
    sizes = stack_sizes(wall.stack) if isinstance(wall, WallShape) else None
    return Stroke(
        f"section '{section}', wall '{wall.id}'",
        index,
        wall.points,
        wall.fillets or (0.0,) * len(wall.points),
        wall.closed,
        side * sizes.levels if sizes else BARE,
        side,
        sizes,
    )


def plating_stroke(plating: Plating) -> Stroke:
    """Return the plating's inboard face through the origin, laminate below: the last ply lies at the face."""
    y, z = plating.width / 2 * cos(plating.deadrise), plating.width / 2 * sin(plating.deadrise)
    sizes = stack_sizes(plating.stack)
    return Stroke(
        "plating", -1, ((-y, -z), (y, z)), (0.0, 0.0), False, sizes.levels - sizes.levels[-1], 1.0, sizes
    )


def plating_faults(plating: Plating) -> list[Problem]:
    """Return what is wrong with a strip of plating."""
    faults: list[Problem] = []
    if not (isfinite(plating.width) and plating.width > 0):
        faults.append(
            Problem(f"The counted width is {plating.width:g} mm.", "plating", "Give a width above 0 mm.")
        )
    if not abs(plating.deadrise) < pi / 2:
        faults.append(
            Problem(
                "The deadrise is not below 90°.", "plating", "Give the slope of the hull bottom, 0° to 60°."
            )
        )
    return faults + _laminate_faults("plating", stack_sizes(plating.stack))


def draw(strokes: Sequence[Stroke]) -> Drawing:
    """Return the lines of every stroke that can be drawn, and the faults of the rest."""
    faults: list[Problem] = []
    repairs: list[Problem] = []
    sound: list[Stroke] = []
    for stroke in strokes:
        found = _plain_faults(stroke)
        faults += found
        if not found:
            sound.append(stroke)
    while sound:
        corners = _corners(sound)
        if not corners.sound:
            sound = _bad_corners(sound, corners, faults, repairs)
            continue
        _open_end_fillets(sound, repairs)
        lines = lines_of(corners)
        bad = _folds(sound, lines)
        bad |= _meetings(sound, corners, lines, bad)
        if not bad:
            return Drawing(tuple(sound), lines, tuple(faults), tuple(repairs))
        faults += bad.values()
        repairs = [repair for repair in repairs if repair.where not in {sound[index].where for index in bad}]
        sound = [stroke for index, stroke in enumerate(sound) if index not in bad]
    return Drawing((), None, tuple(faults), tuple(repairs))


def _corners(strokes: Sequence[Stroke]) -> Corners:
    counts = np.array([len(stroke.points) for stroke in strokes])
    return corners_of(
        np.array([complex(*point) for stroke in strokes for point in stroke.points]),
        np.array([radius for stroke in strokes for radius in stroke.radii], float),
        np.cumsum(counts) - counts,
        np.array([stroke.closed for stroke in strokes], bool),
    )


def _plain_faults(stroke: Stroke) -> list[Problem]:
    """Return what forbids even corners: numbers that are none, too few points, no laminate."""
    faults: list[Problem] = []
    least = 3 if stroke.closed else 2
    count = len(stroke.points)
    if count < least:
        kind = "closed wall" if stroke.closed else "wall"
        points = "1 point" if count == 1 else f"{count} points"
        faults.append(
            Problem(f"A {kind} of {points} has no length.", stroke.where, f"Draw at least {least}.")
        )
    if not isfinite(sum(map(sum, stroke.points))):
        faults.append(Problem("A point is not a number.", stroke.where, "Give every point as two lengths."))
    if len(stroke.radii) != count:
        faults.append(
            Problem(
                f"There are {len(stroke.radii)} fillets for {count} points.",
                stroke.where,
                "Give one a point.",
            )
        )
    elif count and not (isfinite(sum(stroke.radii)) and min(stroke.radii) >= 0):
        faults.append(
            Problem(
                "A fillet's radius is not a length.", stroke.where, "Give 0 for sharp, or a radius above 0."
            )
        )
    if stroke.sizes is not None:
        faults += _laminate_faults(stroke.where, stroke.sizes)
    return faults


def _laminate_faults(where: str, sizes: StackSizes) -> list[Problem]:
    if not sizes.labels:
        return [Problem("The laminate has no plies.", where, "Add at least one ply.")]
    return [
        Problem(f"The laminate's ply {number} has no thickness.", where, "Give it a thickness above 0 mm.")
        for number in sizes.without_thickness
    ]


def _bad_corners(
    strokes: Sequence[Stroke], corners: Corners, faults: list[Problem], repairs: list[Problem]
) -> list[Stroke]:
    """Return the strokes without repeated points and without those whose fillets or corners are at fault."""
    kept: list[Stroke] = []
    for stroke, start, end in zip(strokes, corners.starts, corners.ends, strict=True):
        part = slice(int(start), int(end) + 1)
        if corners.repeated[part].any():
            cleaned = _cleaned(stroke, faults, repairs)
            kept += [cleaned] if cleaned else []
            continue
        found = [
            Problem(
                f"The line doubles back at point {stroke.number(index)}.",
                stroke.where,
                "Move the point, or draw the way back as a wall of its own.",
            )
            for index in map(int, np.flatnonzero(corners.doubling[part]))
        ]
        for index in map(int, np.flatnonzero((corners.overrun[part] > TOUCH) & ~corners.doubling[part])):
            length = float(corners.length[part][index])
            needed = length + float(corners.overrun[part][index])
            one, other = stroke.number(index), stroke.number((index + 1) % len(stroke.points))
            found.append(
                Problem(
                    f"The fillets at points {one} and {other} need {shown(needed, Kind.LENGTH)}, "
                    f"the leg between them has {shown(length, Kind.LENGTH)}.",
                    stroke.where,
                    "Make the radius smaller or the leg longer.",
                )
            )
        faults += found
        kept += [] if found else [stroke]
    return kept


def _cleaned(stroke: Stroke, faults: list[Problem], repairs: list[Problem]) -> Stroke | None:
    line = without_repeats(stroke.points, stroke.radii, closed=stroke.closed)
    if len(line.points) < (3 if stroke.closed else 2):
        faults.append(
            Problem("All its points lie on one another: it has no length.", stroke.where, "Draw it anew.")
        )
        return None
    dropped = ", ".join(map(str, line.dropped))
    plural = "Points" if len(line.dropped) > 1 else "Point"
    repeats = "repeat their neighbours and are" if len(line.dropped) > 1 else "repeats its neighbour and is"
    repairs.append(Problem(f"{plural} {dropped} {repeats} left out.", stroke.where, "Delete them."))
    gone = set(line.dropped)
    numbers = tuple(number for number in range(1, len(stroke.points) + 1) if number not in gone)
    return replace(stroke, points=line.points, radii=line.radii, numbers=numbers)


def _open_end_fillets(strokes: Sequence[Stroke], repairs: list[Problem]) -> None:
    """Report fillets at open ends, where there is no corner to round."""
    for stroke in strokes:
        for index in (0, -1):
            if not stroke.closed and stroke.radii[index] > 0:
                number = stroke.number(len(stroke.points) - 1 if index else 0)
                repair = Problem(
                    f"Point {number} is an open end: its fillet is left out.",
                    stroke.where,
                    "Set its radius to 0.",
                )
                if repair not in repairs:
                    repairs.append(repair)


def _folds(strokes: Sequence[Stroke], lines: Lines) -> dict[int, Problem]:
    """Return the strokes whose laminate is thicker than the inside of a bend."""
    lengths = lines.offset_lengths(np.array([stroke.reach for stroke in strokes]))
    if lengths.min() >= -TOUCH:
        return {}
    found: dict[int, Problem] = {}
    for index, stroke in enumerate(strokes):
        part = lines.part(index)
        worst = int(np.argmin(lengths[part]))
        if lengths[part][worst] >= -TOUCH:
            continue
        bend = complex(lines.points[part.start + worst])
        found[index] = Problem(
            f"The laminate ({shown(abs(stroke.reach), Kind.LENGTH)}) is thicker than the inside of the bend "
            f"at y {shown(bend.real, Kind.LENGTH)}, z {shown(bend.imag, Kind.LENGTH)} allows: it folds.",
            stroke.where,
            "Make the fillet larger than the laminate is thick, or 0 for a sharp corner, or the leg longer.",
        )
    return found


def _meetings(
    strokes: Sequence[Stroke], corners: Corners, lines: Lines, folded: Container[int]
) -> dict[int, Problem]:
    """Return the strokes, of those not folded, whose line crosses or whose laminate runs into itself."""
    found: dict[int, Problem] = {}
    for index in map(int, (~corners.one_way).nonzero()[0]):
        if index in folded:
            continue
        from stringerlab.geometry import planar

        stroke = strokes[index]
        part = lines.part(index)
        points = as_pairs(lines.points[part])
        if not planar.line_is_simple(points):
            found[index] = Problem(
                "The line crosses or touches itself.",
                stroke.where,
                "Move its points apart, split the wall, or mark it closed where its ends meet.",
            )
            continue
        if not stroke.reach:
            continue
        far = points + stroke.reach * as_pairs(lines.mitres[part])
        quads = np.stack([points[:-1], points[1:], far[1:], far[:-1]], axis=1)
        built = abs(_shoelace(points) - _shoelace(far) + _caps(points, far))
        if planar.covered_area(quads) < built * (1 - 1e-9):
            found[index] = Problem(
                f"The laminate ({shown(abs(stroke.reach), Kind.LENGTH)}) runs into itself.",
                stroke.where,
                "Open the gap between its legs, or build on the other side of the line.",
            )
    return found


def _shoelace(path: Array) -> float:
    """Area under a path as its boundary integral sees it."""
    y, z = path[:, 0], path[:, 1]
    return float((y[:-1] * z[1:] - y[1:] * z[:-1]).sum() / 2)


def _caps(near: Array, far: Array) -> float:
    return _shoelace(np.stack([near[-1], far[-1]])) + _shoelace(np.stack([far[0], near[0]]))
