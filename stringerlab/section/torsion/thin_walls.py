"""A section as thin walls on their middle lines: torsion and shear flow, the quick answer while dragging.

Each wall lies where its G t does; walls whose faces touch, or are joined by a bead, are linked across the
joint at every station along it. Fills are left out. N, mm, MPa; places from the section's origin.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from stringerlab.errors import Problem, StringerlabError
from stringerlab.geometry.chords import as_pairs
from stringerlab.section.drawing import Drawing, draw, plating_stroke, wall_strokes
from stringerlab.section.loads import SectionLoads
from stringerlab.section.records import Plating, SectionShape
from stringerlab.section.torsion.regions import BEAD_G, PLATING, runs
from stringerlab.section.torsion.thin_graph import Graph, GraphAnswer, graph_answer

Array = NDArray[np.float64]
Index = NDArray[np.intp]
Points = NDArray[np.complex128]

STATION = 25.0
"""Longest piece of a middle line [mm]."""
TOUCH = 0.02
"""Part of their distance, and mm, by which faces may miss one another and still touch."""
KEPT = 64


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ThinWalls:
    """What a section is worth as thin walls, and the pieces of its middle lines."""

    graph: Graph
    answer: GraphAnswer
    owners: tuple[str, ...]
    """(m,) wall id, ``plating``, or empty for a link between walls."""

    @property
    def GJ(self) -> float:
        """Torque over twist per length [N·mm²]."""
        return self.answer.GJ

    @property
    def y_s(self) -> float:
        """Shear centre [mm]."""
        return self.answer.y_s

    @property
    def z_s(self) -> float:
        """Shear centre [mm]."""
        return self.answer.z_s

    @property
    def GA_y(self) -> float:
        """Force over mean shear strain along y [N]."""
        return self.answer.GA_y

    @property
    def GA_z(self) -> float:
        """Force over mean shear strain along z [N]."""
        return self.answer.GA_z

    def flows(self, loads: SectionLoads) -> Array:
        """Return the flow at the start and end of every piece (m, 2) under V_y, V_z and T [N/mm].

        Loads act at the neutral point.
        """
        found = self.answer
        arm = (found.y_s - found.y_na) * loads.V_z - (found.z_s - found.z_na) * loads.V_y
        return np.asarray(found.flow @ np.array([loads.T - arm, loads.V_y, loads.V_z]))

    def greatest(self, loads: SectionLoads) -> dict[str, float]:
        """Return of every wall and the plating the greatest flow either way [N/mm]."""
        flows = np.abs(self.flows(loads)).max(axis=1)
        found: dict[str, float] = {}
        for owner, flow in zip(self.owners, flows.tolist(), strict=True):
            if owner:
                found[owner] = max(found.get(owner, 0.0), flow)
        return found


@dataclass(frozen=True, slots=True, eq=False)
class _Middle:
    """A stroke's middle line: v vertices, and what it carries."""

    owner: str
    points: Points
    below: float
    above: float
    """From the middle line to both faces."""
    G: float
    Gt: float
    Et: float
    strip: float
    closed: bool

    @property
    def thickness(self) -> float:
        """From face to face."""
        return self.below + self.above

    def to_face(self, side: Array) -> Array:
        """Return how far the face is on the left (side > 0) or the right."""
        return np.where(side > 0, self.above, self.below)


@lru_cache(KEPT)
def thin_walls(shape: SectionShape, plating: Plating | None = None) -> ThinWalls:
    """Return a section's torsion and shear by thin-wall theory, remembered by value.

    Parameters
    ----------
    shape
        The section.
    plating
        Strip of hull counted with it; None for the section alone.

    Raises
    ------
    StringerlabError
        With everything that forbids an outline; when walls do not hang together or carry nothing.
    """
    where = f"section '{shape.name}'"
    strokes = wall_strokes(shape) + ([plating_stroke(plating)] if plating is not None else [])
    drawing = draw(strokes)
    if drawing.faults:
        raise StringerlabError(drawing.faults)
    middles = _middles(shape, plating, drawing)
    if not middles:
        raise StringerlabError(
            Problem("Nothing in it carries shear.", where, "Draw a wall of reinforced plies.")
        )
    graph, owners = _graph(middles, shape.bead if plating is not None else 0.0)
    return ThinWalls(graph=graph, answer=graph_answer(graph, where), owners=owners)


def _middles(shape: SectionShape, plating: Plating | None, drawing: Drawing) -> list[_Middle]:
    found: list[_Middle] = []
    lines = drawing.lines
    for index, stroke in enumerate(drawing.strokes):
        if lines is None:
            break
        if stroke.wall >= 0:
            wall = shape.walls[stroke.wall]
            owner, stack, counted = wall.id, wall.stack, wall.counted
        elif plating is not None:
            owner, stack, counted = PLATING, plating.stack, 1.0
        else:
            continue
        made = runs(stack)
        if not made or not counted:
            continue
        low = np.array([stroke.levels[run.first] for run in made])
        high = np.array([stroke.levels[run.last] for run in made])
        low, high = np.minimum(low, high), np.maximum(low, high)
        G = np.array([run.G for run in made]) * counted
        Gt = G * (high - low)
        level = float(Gt @ (low + high) / 2 / Gt.sum())
        part = lines.part(index)
        found.append(
            _Middle(
                owner=owner,
                points=lines.points[part] + level * lines.mitres[part],
                below=level - float(low.min()),
                above=float(high.max()) - level,
                G=float(G.max()),
                Gt=float(Gt.sum()),
                Et=counted * sum(run.E * run.thickness for run in made),
                strip=float(4 * (G @ ((high - level) ** 3 - (low - level) ** 3)) / 3),
                closed=stroke.closed,
            )
        )
    return found


def _graph(middles: list[_Middle], bead: float) -> tuple[Graph, tuple[str, ...]]:
    """Return the graph of all middle lines, cut where others are linked to them."""
    stations = [_stations(each.points) for each in middles]
    links: list[tuple[int, float, int, float, float]] = []
    for a, one in enumerate(middles):
        for b, other in enumerate(middles):
            if a != b:
                links += _contacts(a, one, stations[a], b, other, bead)
    along = [
        np.unique(
            np.round(
                [
                    *each.tolist(),
                    *(s for a, s, _, _, _ in links if a == m),
                    *(s for _, _, b, s, _ in links if b == m),
                ],
                9,
            )
        )
        for m, each in enumerate(stations)
    ]
    nodes: list[Points] = []
    ends: list[Index] = []
    first = 0
    places: list[int] = []
    for middle, at in zip(middles, along, strict=True):
        points = _at(middle.points, at)
        number = np.arange(first, first + len(at))
        places.append(first)
        if middle.closed:
            number[-1], points = first, points[:-1]
        ends.append(np.stack([number[:-1], number[1:]], axis=1))
        nodes.append(points)
        first += len(points)
    counts = [len(each) for each in ends]
    weights = [
        np.repeat([getattr(middle, name) for middle in middles], counts) for name in ("Gt", "Et", "strip")
    ]
    owners = [
        owner for middle, count in zip(middles, counts, strict=True) for owner in [middle.owner] * count
    ]
    every = np.concatenate(nodes)

    def node(m: int, s: float) -> int:
        at = int(np.abs(along[m] - s).argmin())
        return places[m] if middles[m].closed and at == len(along[m]) - 1 else places[m] + at

    pairs = np.array([(node(a, s), node(b, r)) for a, s, b, r, _ in links], np.intp).reshape(-1, 2)
    width = np.array([each[4] for each in links])
    apart = np.abs(every[pairs[:, 1]] - every[pairs[:, 0]]) > 1e-9
    pairs, width = pairs[apart], width[apart]
    none = np.zeros(len(pairs))
    graph = Graph(
        nodes=as_pairs(every),
        ends=np.concatenate([*ends, pairs]),
        Gt=np.concatenate([weights[0], width]),
        Et=np.concatenate([weights[1], none]),
        strip=np.concatenate([weights[2], none]),
    )
    return graph, (*owners, *([""] * len(pairs)))


def _lengths(points: Points) -> Array:
    return np.concatenate([[0.0], np.cumsum(np.abs(np.diff(points)))])


def _at(points: Points, along: Array) -> Points:
    length = _lengths(points)
    found = np.interp(along, length, points.real) + 1j * np.interp(along, length, points.imag)
    return np.asarray(found, np.complex128)


def _stations(points: Points) -> Array:
    """Return where along a line (from its start) its vertices are, and stations between them."""
    length = _lengths(points)
    pieces = np.ceil(np.diff(length) / STATION).astype(np.intp)
    owner = np.repeat(np.arange(len(pieces)), pieces)
    part = (np.arange(len(owner)) - np.repeat(np.cumsum(pieces) - pieces, pieces)) / pieces[owner]
    return np.append(length[owner] + part * np.diff(length)[owner], length[-1])


def _contacts(
    a: int, one: _Middle, stations: Array, b: int, other: _Middle, bead: float
) -> list[tuple[int, float, int, float, float]]:
    """Return links (line, where along it, other line, where along it, G × width) from stations of one line.

    A station on the run of a wall is linked where faces touch, an end also where it stands on the other.
    """
    here = _at(one.points, stations)
    start, way = other.points[:-1], np.diff(other.points)
    length = np.abs(way)
    local = (here[:, None] - start) * way.conj() / length
    foot = np.clip(local.real, 0.0, length)
    distance = np.abs(local - foot)
    near = distance.argmin(axis=1)
    row = np.arange(len(here))
    gap = distance[row, near]
    across = start[near] + foot[row, near] * way[near] / length[near] - here
    tangent = np.gradient(here) if len(here) > 1 else way[:1]
    # Of the wall the station is on only what points at the other wall reaches towards it.
    turned = (across * tangent.conj()).imag / np.abs(tangent)
    part = np.divide(np.abs(turned), gap, out=np.zeros(len(here)), where=gap > 0)
    faces = one.to_face(turned) * part + other.to_face(local[row, near].imag)
    touching = gap <= faces * (1 + TOUCH) + TOUCH
    if bead and PLATING in (one.owner, other.owner):
        touching |= np.abs(gap - faces - bead) <= TOUCH * faces + TOUCH
    ends = np.zeros(len(here), bool)
    if not one.closed:
        ends[[0, -1]] = True
    spans = np.gradient(stations) if len(stations) > 1 else np.ones(1)
    spans[[0, -1]] /= 2
    offset = _lengths(other.points)[near] + foot[row, near]
    found: list[tuple[int, float, int, float, float]] = []
    for at in np.flatnonzero(touching).tolist():
        apart = float(gap[at])
        G = min(one.G, other.G)
        soft = max(apart - float(faces[at]), 0.0) if bead else 0.0
        mean = apart / (soft / BEAD_G + (apart - soft) / G) if apart > 0 else G
        width = max(float(spans[at]), one.thickness if ends[at] else 0.0)
        found.append((a, float(stations[at]), b, float(offset[at]), mean * width))
    return found
