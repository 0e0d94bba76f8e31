"""What is found in a drawn layout: nodes, spans between them, bays they enclose, what is amiss and where.

Plan coordinates [mm]; deadrise in rad here, in deg in the `Panel` and `Span` records. Everything is of the
whole bottom, port and starboard; a thing and its mirror image are judged once.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stringerlab.errors import Problem
from stringerlab.layout.plan import PlanPoint
from stringerlab.layout.records import Panel, Span

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class MemberSize:
    """What the plan needs to know of a section."""

    base_width: float
    """Between its outermost web roots [mm]; 0 for one web."""
    height: float
    """Of its crown above the shell [mm]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A problem, and where on the plan it is."""

    problem: Problem
    at: PlanPoint


@dataclass(frozen=True, slots=True, kw_only=True)
class Node:
    """Where members meet, end, change height, or reach an edge of the bottom.

    ``key`` is made of the ids of what meets: ``m3×m7``, ``m3:0`` (first end) and ``m3:1``,
    ``m3@chine``, ``m3@transom``, ``m3@keel``, ``m3/1`` (first stretch); a mirrored or repeated meeting adds
    ``'s`` or ``#2``.
    """

    key: str
    at: PlanPoint
    members: tuple[str, ...]
    edge: str = ""
    """``transom``, ``chine``, ``forward`` or ``keel`` where it stands at an edge; empty within."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FoundSpan:
    """A member between two nodes: one that is judged, and where each of its alikes lies."""

    id: str
    key: tuple[str, tuple[str, str]]
    """Member, and its nodes' keys."""
    member: str
    section: str
    nodes: tuple[tuple[int, int], ...]
    """Indices of its nodes, of it and of its mirror image."""
    lines: tuple[Array, ...]
    """(n, 2) plan line, of it and of its mirror image."""
    length: float
    """Node to node, in the skin [mm]."""
    slope: float
    """Of its line against the horizontal [rad]; its cross-section's deadrise is in ``span``."""
    span: Span | None
    """As it is judged; None for a bulkhead."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """A side of a bay: what bounds it, and between which of its corners."""

    of: str
    """A member's id, a line's, or ``transom``, ``chine``, ``forward``, ``keel``."""
    span: str
    """The found span's id; empty for what is no span."""
    start: PlanPoint
    end: PlanPoint


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FoundBay:
    """A piece of the bottom between members: one that is judged, and its alikes."""

    id: str
    rings: tuple[Array, ...]
    """(n, 2) from member middle to middle, of it and of its mirror image; they tile the bottom."""
    clear: tuple[Array, ...]
    """(n, 2) from web root to web root; empty arrays where nothing is left."""
    sides: tuple[Side, ...]
    """Of the first ring, in its order."""
    area: float
    """Between middles, in the skin [mm²]."""
    panel: Panel | None
    """As it is judged; None where it is under 20 mm wide or has no clear area."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Found:
    """Everything found in a layout."""

    layout: str
    nodes: tuple[Node, ...]
    spans: tuple[FoundSpan, ...]
    bays: tuple[FoundBay, ...]
    outline: Array
    """(n, 2) of the bottom, counter-clockwise."""
    amiss: tuple[Placed, ...] = ()
    """Almost meeting, doubled, outside, of no length, leaking, too small: each with its place."""

    @property
    def problems(self) -> tuple[Problem, ...]:
        """What is amiss, without its places."""
        return tuple(placed.problem for placed in self.amiss)


__all__ = ["Array", "Found", "FoundBay", "FoundSpan", "MemberSize", "Node", "Placed", "Side"]
