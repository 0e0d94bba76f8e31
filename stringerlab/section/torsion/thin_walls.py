"""A section as thin walls on their middle lines: torsion and shear flow, the quick answer while dragging.

Each wall lies where its G t does; walls whose faces touch, or are joined by a bead, are linked across the
joint at every station along it; walls drawn end to end are one. Left out, and said so: fills that carry, and
that walls which share a place lose there what the other has. N, mm, MPa; places from the section's origin.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from stringerlab.errors import Problem, StringerlabError
from stringerlab.geometry.chords import as_pairs
from stringerlab.section.bodies import Bodies, bodies
from stringerlab.section.drawing import Drawing
from stringerlab.section.loads import SectionLoads
from stringerlab.section.records import Plating, SectionShape
from stringerlab.section.torsion.regions import PLATING, bead_G, bead_notes, runs, without_shear
from stringerlab.section.torsion.thin_graph import Graph, GraphAnswer, graph_answer
from stringerlab.section.torsion.thin_joints import Joints, Middle, joints

Array = NDArray[np.float64]
Index = NDArray[np.intp]
Points = NDArray[np.complex128]

SAME = 1e-6
"""Places nearer to one another are one [mm]."""
KEPT = 64


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ThinWalls:
    """What a section is worth as thin walls, and the pieces of its middle lines."""

    graph: Graph
    answer: GraphAnswer
    owners: tuple[str, ...]
    """(m,) wall id, ``plating``, or empty for a link between walls."""
    remarks: tuple[Problem, ...] = ()
    """What thin walls leave out of the section, or count twice."""

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

    def bends(self, loads: SectionLoads) -> Array:
        """Return what the flow of every piece (m,) bends by [N/mm].

        Axial stress varies straight along a piece, so its flow is a parabola: at a part t of it,
        bend·t(1 − t)/2 below the straight line between its ends.
        """
        way = self.graph.nodes[self.graph.ends[:, 1]] - self.graph.nodes[self.graph.ends[:, 0]]
        rise = np.linalg.pinv(self.answer.EI, rcond=1e-12, hermitian=True) @ [loads.V_y, loads.V_z]
        return np.asarray(-self.graph.Et * np.hypot(way[:, 0], way[:, 1]) * (way @ rise))

    def greatest(self, loads: SectionLoads) -> dict[str, float]:
        """Return of every wall and the plating the greatest flow either way [N/mm]."""
        flows = np.abs(self.flows(loads)).max(axis=1)
        found: dict[str, float] = {}
        for owner, flow in zip(self.owners, flows.tolist(), strict=True):
            if owner:
                found[owner] = max(found.get(owner, 0.0), flow)
        return found


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
    built = bodies(shape, plating)
    if built.faults:
        raise StringerlabError(built.faults)
    middles = _middles(shape, plating, built.drawing)
    if not middles:
        raise StringerlabError(
            Problem("Nothing in it carries shear.", where, "Draw a wall of reinforced plies.")
        )
    graph, owners = _graph(
        middles, joints(middles, shape.bead if plating is not None else 0.0, bead_G(shape))
    )
    return ThinWalls(
        graph=graph,
        answer=graph_answer(graph, where),
        owners=owners,
        remarks=(*bead_notes(shape, plating), *_remarks(shape, built, where)),
    )


def _remarks(shape: SectionShape, built: Bodies, where: str) -> Iterator[Problem]:
    """Yield what thin walls leave out of a section, or count twice."""
    for fill in built.fills:
        if fill.modulus > 0:
            yield Problem(
                f"Thin-wall theory leaves out the fill '{fill.id}' ({fill.name}).",
                where,
                "Go by the full solution.",
            )
    if built.cut is None:
        return
    for index, takes in built.cut.walls.items():
        stroke = built.drawing.strokes[index]
        if stroke.wall >= 0 and takes:
            yield Problem(
                f"Thin-wall theory counts wall '{shape.walls[stroke.wall].id}' whole where others share its "
                "place.",
                where,
                "Go by the full solution, or draw the walls so that they touch.",
            )


def _middles(shape: SectionShape, plating: Plating | None, drawing: Drawing) -> list[Middle]:
    found: list[Middle] = []
    lines = drawing.lines
    if lines is None:
        return found
    for index, stroke in enumerate(drawing.strokes):
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
        if not (np.isfinite(G).all() and (G > 0).all()):
            raise StringerlabError(without_shear(stroke.where))
        Gt = G * (high - low)
        level = float(Gt @ (low + high) / 2 / Gt.sum())
        part = lines.part(index)
        found.append(
            Middle(
                owner=owner,
                points=lines.points[part] + level * lines.mitres[part],
                below=level - float(low.min()),
                above=float(high.max()) - level,
                G=float(G.max()),
                Gt=float(Gt.sum()),
                Et=counted * sum(run.E * run.thickness for run in made),
                strip=float(4 * (G @ ((high - level) ** 3 - (low - level) ** 3)) / 3),
                closed=stroke.closed,
                on_bead=owner == PLATING,
            )
        )
    return found


def _graph(middles: list[Middle], joined: Joints) -> tuple[Graph, tuple[str, ...]]:
    """Return the graph of all middle lines, cut where others are linked to them."""
    nodes: list[Points] = []
    ends: list[Index] = []
    pairs = np.zeros(joined.lines.shape, np.intp)
    first = 0
    for m, middle in enumerate(middles):
        mine = joined.lines == m
        at = np.unique(np.round(np.concatenate([middle.stations, joined.along[mine]]), 9))
        points = middle.at(at)
        number = np.arange(first, first + len(at))
        if middle.closed:
            number[-1], points = first, points[:-1]
        # A joint's place is one of those, but for its rounding.
        asked = joined.along[mine]
        after = np.clip(np.searchsorted(at, asked), 1, len(at) - 1)
        pairs[mine] = number[np.where(asked - at[after - 1] < at[after] - asked, after - 1, after)]
        ends.append(np.stack([number[:-1], number[1:]], axis=1))
        nodes.append(points)
        first += len(points)
    counts = [len(each) for each in ends]
    every = np.concatenate(nodes)
    apart = np.abs(every[pairs[:, 1]] - every[pairs[:, 0]]) > SAME
    used, place = _merged(len(every), pairs[~apart])
    links = place[pairs[apart]]
    walls = place[np.concatenate(ends)]
    none = np.zeros(len(links))
    Gt, Et, strip = (
        np.repeat([getattr(middle, name) for middle in middles], counts) for name in ("Gt", "Et", "strip")
    )
    graph = Graph(
        nodes=as_pairs(every[used]),
        ends=np.concatenate([walls, links]),
        Gt=np.concatenate([Gt, joined.stiffness[apart]]),
        Et=np.concatenate([Et, none]),
        strip=np.concatenate([strip, none]),
    )
    owners = [
        owner for middle, count in zip(middles, counts, strict=True) for owner in [middle.owner] * count
    ]
    return graph, (*owners, *([""] * len(links)))


def _merged(count: int, same: Index) -> tuple[Index, Index]:
    """Return which nodes stay where pairs of them are the same, and every node's place among these."""
    if not len(same):
        every = np.arange(count)
        return every, every
    label = np.arange(count)
    low, high = same.min(axis=1), same.max(axis=1)
    while (label[low] != label[high]).any():
        np.minimum.at(label, high, label[low])
        np.minimum.at(label, low, label[high])
    return np.unique(label, return_inverse=True)
