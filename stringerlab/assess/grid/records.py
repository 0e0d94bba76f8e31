"""What a grid analysis begins with, and what it gives. x, y in plan [mm]; N, mm, MPa, kg.

The grid lies on the bottom unfolded about the keel: y is measured in the skin, so that members and patches
have their true lengths across; w is square to the skin, inboard.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from stringerlab.craft import Bottom, Craft
from stringerlab.grillage import Envelope, Factored, Grid, Loads
from stringerlab.laminate import Stack
from stringerlab.layout import PanelCase, SpanCase, TransomLoad
from stringerlab.layout.found import Found, Placed
from stringerlab.layout.plan import Layout, PlanPoint
from stringerlab.materials import Book
from stringerlab.section import SectionShape

Array = NDArray[np.float64]
Index = NDArray[np.intp]
Mask = NDArray[np.bool_]

G_EARTH = 9.80665
"""N/kg."""
NO_BEAM = -1


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Ground:
    """A layout with what is found in it, and the objects its ids name."""

    layout: Layout
    found: Found
    craft: Craft
    panels: Mapping[str, PanelCase]
    """Of the found bays that can be judged, by id."""
    spans: Mapping[str, SpanCase]
    """Of the found spans that can be judged, by id."""
    shapes: Mapping[str, SectionShape]
    stacks: Mapping[str, Stack]
    book: Book | None = None
    """Of materials, for inserts' blocks."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Beams:
    """A layout's grid: beams and nodes, and what each is of."""

    grid: Grid
    """On the unfolded bottom; its springs are those of `supports`."""
    at: Array
    """(n, 2) places of nodes in plan."""
    keys: tuple[str, ...]
    """(n,) of the found nodes; a corner of a member has its member's id and number."""
    edges: tuple[str, ...]
    """(n,) ``transom``, ``chine``, ``forward``, ``keel`` or empty."""
    span: Index
    """(m,) which found span each beam is a part of."""
    image: Index
    """(m,) 0 for the span as drawn, 1 for its mirror image."""
    part: Array
    """(m, 2) from and to which part of the span's length it runs."""
    width: Array
    """(m,) of plating counted [mm]."""
    held: tuple[tuple[PlanPoint, PlanPoint], ...]
    """Pieces of bulkheads, in plan: what lies on them is held."""
    notes: tuple[str, ...]

    @property
    def length(self) -> Array:
        """(m,) mm, unfolded."""
        ends = self.grid.nodes[self.grid.beams]
        return np.hypot(*(ends[:, 1] - ends[:, 0]).T)


class Acts(StrEnum):
    """What a load case is of."""

    SLAM = "slam patch"
    EQUIPMENT = "equipment"
    COMBINED = "combined"


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """One load case: what it is of, and where."""

    name: str
    acts: Acts
    subject: str = ""
    """Whose patch, or the equipment's id."""
    at: PlanPoint = (0.0, 0.0)
    """Middle of the patch, in plan."""
    patch: tuple[PlanPoint, ...] = ()
    """Its corners, in plan."""
    pressure: float = 0.0
    """Of the patch [MPa]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Most:
    """An extreme of a span: its value, the case that gave it, and where along the span in parts of it."""

    value: float
    case: int
    along: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SpanExtremes:
    """The worst of a span and its mirror image over all cases: N, N·mm, mm."""

    id: str
    name: str
    M_max: Most
    """Crown in tension."""
    M_min: Most
    """Crown in compression; 0 where it never is."""
    V: Most
    T: float
    M_ends: tuple[float, float]
    """Greatest moment either way at its first and its last node."""
    w_max: float
    """Greatest deflection inboard of its nodes [mm]."""
    w_min: float
    sag: Most
    """Greatest deflection from the straight line between its nodes, in its governing case; nan of a
    coarse analysis."""
    length: float
    """Node to node, unfolded."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Foot:
    """A foot of equipment on a span, in its worst case of those it stands in: N, N·mm."""

    equipment: str
    name: str
    span: str
    at: PlanPoint
    off: float
    """How far from the member's middle line [mm]."""
    push: float
    """Greatest push on the crown."""
    shear: tuple[float, ...]
    """Along the laminate, case by case."""
    pull: tuple[float, ...]
    """Away from the laminate."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reaction:
    """What a support takes at a node [N], up on the grid positive; greatest and least over all cases."""

    key: str
    at: PlanPoint
    most: float
    least: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Tally:
    """Where the whole bottom's area goes by yield lines [mm²]."""

    beams: float
    hull: Mapping[str, float]
    """By edge or bulkhead it goes to directly."""
    total: float


class CaseLoads(Protocol):
    """The loads of all cases, some of them made when asked for."""

    def of(self, cases: Sequence[int]) -> Loads:
        """Return the loads of some cases."""
        ...


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class GridResults:
    """A grid analysed; ``envelope`` is None, and ``problems`` say why, where it could not be."""

    ground: Ground
    beams: Beams | None
    factored: Factored | None
    loads: CaseLoads | None
    cases: Sequence[Case]
    envelope: Envelope | None
    spans: Mapping[str, SpanExtremes]
    feet: tuple[Foot, ...]
    reactions: tuple[Reaction, ...]
    frequencies: tuple[float, ...]
    """Lowest first [Hz], in air."""
    tally: Tally | None
    residual: float
    imbalance: float
    coarse: bool
    notes: tuple[str, ...]
    problems: tuple[Placed, ...] = ()
    transoms: Mapping[str, TransomLoad] = field(default_factory=dict[str, TransomLoad])
    """What outboards put on spans, by id."""
    uncut: Mapping[str, SpanExtremes] = field(default_factory=dict[str, SpanExtremes])
    """With every cut crown through, by id; empty where none is cut, or it was not asked for."""

    @property
    def is_solved(self) -> bool:
        """Whether there is an envelope."""
        return self.envelope is not None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Field:
    """One case: arrays over m beams and s places along each."""

    case: Case
    at: Array
    """(m, s, 2) in plan."""
    w: Array
    """(m, s) deflection inboard [mm]."""
    M: Array
    V: Array
    T: Array
    """(m,)."""
    reactions: Array
    """(n,) N, up on the grid."""


def unfolded(bottom_deadrise: Array, points: Array) -> Array:
    """Return plan places (…, 2) on the bottom unfolded about the keel.

    Parameters
    ----------
    bottom_deadrise
        (…,) at each place [rad].
    points
        (…, 2) plan places [mm].
    """
    flat = np.array(points, float)
    flat[..., 1] = points[..., 1] / np.cos(bottom_deadrise)
    return flat


def unfolded_each(bottom: Bottom, lines: Sequence[Array]) -> list[Array]:
    """Return plan lines (n, 2) unfolded about the keel, all of them at once."""
    if not lines:
        return []
    every = np.concatenate(lines)
    flat = unfolded(bottom.deadrise(every[:, 0]), every)
    stops = np.cumsum([len(line) for line in lines]).tolist()
    return [flat[first:last] for first, last in zip([0, *stops[:-1]], stops, strict=True)]


def names_of(beams: Beams, members: Mapping[str, str], within: Sequence[Sequence[str]]) -> tuple[str, ...]:
    """Return nodes in words: the members that meet there, and the edge they meet at.

    Parameters
    ----------
    beams
        The grid.
    members
        Names by id.
    within
        (n,) ids of the members at each node.
    """
    said: list[str] = []
    for ids, edge in zip(within, beams.edges, strict=True):
        words = " with ".join(members.get(each, each) for each in ids)
        said.append(f"{words} at the {edge}" if edge else words)
    return tuple(said)
