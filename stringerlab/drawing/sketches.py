"""What every picture of plies starts from: the outline of each ply with its owner, number and kind. mm."""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from stringerlab.drawing.display import Points, Role
from stringerlab.errors import Problem, StringerlabError
from stringerlab.geometry.chords import as_pairs
from stringerlab.geometry.lines import Lines
from stringerlab.geometry.regions import Regions
from stringerlab.laminate.records import PlyNumbers
from stringerlab.laminate.records import Role as Does
from stringerlab.materials.records import PlyKind
from stringerlab.section import Plating, SectionShape, WallShape, What
from stringerlab.section.bodies import Bodies, bodies
from stringerlab.section.drawing import Drawing
from stringerlab.section.plies import stack_sizes

PLATING = "plating"
"""Subject of the hull's plating."""
FOAM_BELOW = 400.0
"""A fill lighter than this is drawn as foam [kg/m³]."""

_ROLES = {
    PlyKind.MAT: Role.MAT,
    PlyKind.WOVEN_ROVING: Role.ROVING,
    PlyKind.BIAXIAL: Role.STITCHED,
    PlyKind.DOUBLE_BIAS: Role.STITCHED,
    PlyKind.UNIDIRECTIONAL: Role.UNIDIRECTIONAL,
}


def ply_role(ply: PlyNumbers) -> Role:
    """Return how a ply is drawn; a reinforced one of no stated kind as a roving."""
    if ply.role is Does.REINFORCED:
        return Role.ROVING if ply.kind is None else _ROLES[ply.kind]
    return Role.CORE if ply.role is Does.CORE else Role.GEL_COAT


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Drawn:
    """Outlines of r plies and fills, in the engine's order."""

    owners: tuple[str, ...]
    names: tuple[str, ...]
    whats: tuple[What, ...]
    numbers: tuple[int, ...]
    """(r,) number of the ply in its laminate from 0; of a fill 0."""
    rings: tuple[tuple[Points, ...], ...]
    """(r,) rings (n, 2) of each, filled even-odd."""
    tools: tuple[tuple[int, float, Points], ...]
    """Of every wall its index, +1 where the laminate builds on the left, and its drawn line (n, 2)."""
    low: Points
    high: Points
    """(2,) corners of the box around all of it."""

    def find(self, name: str) -> int | None:
        """Return the index of a ply by its name among a section's fibres: owner, then ply or fill."""
        for index, (owner, label) in enumerate(zip(self.owners, self.names, strict=True)):
            if name in (f"{owner} {label}", f"{owner}: {label}"):
                return index
        return None


def drawn_of(shape: SectionShape, plating: Plating | None) -> Drawn:
    """Return the outlines of a section's plies and fills.

    A wall that nothing cuts keeps its very arrays from one call to the next, whatever else moves.

    Raises
    ------
    StringerlabError
        With everything that forbids an outline.
    """
    built = bodies(shape, plating)
    if built.faults:
        raise StringerlabError(built.faults)
    lines, regions = built.drawing.lines, built.regions
    if not regions.count:
        raise StringerlabError(
            Problem("There is nothing to draw.", f"section '{shape.name}'", "Draw a wall.")
        )
    cut = _cut(built)
    owners: list[str] = []
    names: list[str] = []
    whats: list[What] = []
    numbers: list[int] = []
    rings: list[tuple[Points, ...]] = []
    for index, stroke in enumerate(built.drawing.strokes):
        body = shape.walls[stroke.wall] if stroke.wall >= 0 else plating
        if body is None or lines is None:
            continue
        plies, first = len(body.stack.plies), len(owners)
        owners += [body.id if isinstance(body, WallShape) else PLATING] * plies
        names += stack_sizes(body.stack).labels
        whats += [_WHAT[ply.role] for ply in body.stack.plies]
        numbers += range(plies)
        if cut[first : first + plies].any():
            rings += [_boundary(regions, region) for region in range(first, first + plies)]
        else:
            rings += _KEPT.rings(built.drawing, lines, index)
    fills = len(built.fills)
    owners += [fill.id for fill in built.fills]
    names += [fill.name for fill in built.fills]
    whats += [What.FILL] * fills
    numbers += [0] * fills
    rings += [_boundary(regions, region) for region in range(len(rings), regions.count)]
    points = np.concatenate([ring for group in rings for ring in group])
    return Drawn(
        owners=tuple(owners),
        names=tuple(names),
        whats=tuple(whats),
        numbers=tuple(numbers),
        rings=tuple(rings),
        tools=tuple(
            (stroke.wall, stroke.side, as_pairs(lines.points[lines.part(index)]))
            for index, stroke in enumerate(built.drawing.strokes)
            if stroke.wall >= 0 and lines is not None
        ),
        low=np.array([column.min() for column in points.T]),
        high=np.array([column.max() for column in points.T]),
    )


def _cut(built: Bodies) -> NDArray[np.bool_]:
    """Return of each region whether it is bounded otherwise than by its wall's own ply faces."""
    drawing, regions = built.drawing, built.regions
    faces = sum(len(stroke.levels) for stroke in drawing.strokes)
    own = faces + 2 * (faces - len(drawing.strokes))
    uses = np.bincount(regions.region[regions.path < own], minlength=regions.count)
    return np.asarray(uses != 4)


def _boundary(regions: Regions, region: int) -> tuple[Points, ...]:
    """Return the rings of a region that is bounded by closed paths, first vertex not repeated."""
    ends = np.append(regions.starts[1:], regions.points.shape[1])
    paths = regions.path[regions.region == region].tolist()
    return tuple(regions.points[:, regions.starts[path] : ends[path] - 1].T.copy() for path in paths)


def _bands(drawing: Drawing, lines: Lines, index: int) -> list[tuple[Points, ...]]:
    """Return the rings of every ply of a stroke that nothing cuts."""
    part, stroke = lines.part(index), drawing.strokes[index]
    points, mitres = as_pairs(lines.points[part]), as_pairs(lines.mitres[part])
    runs = points + stroke.levels[:, None, None] * mitres
    if stroke.closed:
        return [(near, far) for near, far in pairwise(runs[:, :-1])]
    both = np.concatenate([runs[:-1], runs[1:, ::-1]], axis=1)
    return [(ring,) for ring in both]


class _Kept:
    """Rings of strokes by value, the latest used kept; equal laminates share their record of sizes."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._rings: dict[tuple[object, ...], list[tuple[Points, ...]]] = {}

    def rings(self, drawing: Drawing, lines: Lines, index: int) -> list[tuple[Points, ...]]:
        stroke = drawing.strokes[index]
        key = (stroke.points, stroke.radii, stroke.closed, stroke.side, stroke.wall >= 0, stroke.sizes)
        found = self._rings.pop(key, None)
        if found is None:
            found = _bands(drawing, lines, index)
            while len(self._rings) >= self._most:
                del self._rings[next(iter(self._rings))]
        self._rings[key] = found
        return found


_KEPT = _Kept(512)
_WHAT = {Does.REINFORCED: What.REINFORCED, Does.CORE: What.CORE, Does.GEL_COAT: What.GEL_COAT}
