"""What tools of the plan work on: the committed project, the layout drawn, what is found and selected. No Qt.

x forward from the transom, to the right on the screen; y to port, up. mm.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from stringerlab.craft import Bottom, bottom
from stringerlab.errors import StringerlabError
from stringerlab.layout.found import Found, FoundBay, FoundSpan, MemberSize
from stringerlab.layout.openings import Hole
from stringerlab.layout.plan import (
    Cavity,
    Equipment,
    EquipmentKind,
    Hand,
    Layout,
    LineKind,
    Member,
    MemberKind,
    PlanLine,
    PlanPoint,
    Use,
)
from stringerlab.layout.plan_lines import standing
from stringerlab.project import Project
from stringerlab.project.kept import Kept
from stringerlab.units import Kind, System
from stringerlab.units import format as shown

Array = NDArray[np.float64]
Thing = Member | PlanLine | Equipment | Cavity
"""What is drawn in a layout and has an id."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fresh:
    """What the next thing drawn is made like."""

    hand: Hand = Hand.PAIR
    sections: Mapping[MemberKind, str] = field(default_factory=dict[MemberKind, str])
    """Ids by kind of member."""
    equipment: EquipmentKind = EquipmentKind.TANK
    use: Use = Use.STORAGE
    line: LineKind = LineKind.SPRAY_STEP
    hole: Hole = Hole.LIMBER


@dataclass(frozen=True, kw_only=True)
class Scene:
    """A layout under the hand."""

    project: Project
    layout: Layout
    found: Found
    sizes: Mapping[str, MemberSize] = field(default_factory=dict[str, MemberSize])
    """By section id."""
    selected: tuple[str, ...] = ()
    reach: float = 30.0
    """How near is near [mm]."""
    grid: float = 100.0
    """Step of the grid [mm]."""
    fresh: Fresh = field(default_factory=Fresh)

    @property
    def system(self) -> System:
        """Units a person reads."""
        return self.project.units

    def length(self, value: float) -> str:
        """Return a length as a person reads it."""
        return shown(value, Kind.LENGTH, self.system)

    @cached_property
    def things(self) -> dict[str, Thing]:
        """Everything drawn, by id."""
        layout = self.layout
        every = (*layout.members, *layout.lines, *layout.equipment, *layout.cavities)
        return {thing.id: thing for thing in every}

    @cached_property
    def spans(self) -> dict[str, FoundSpan]:
        """Found spans by id."""
        return {span.id: span for span in self.found.spans}

    @cached_property
    def bays(self) -> dict[str, FoundBay]:
        """Found bays by id."""
        return {bay.id: bay for bay in self.found.bays}

    @cached_property
    def hull(self) -> Bottom | None:
        """The bottom; None where the stations give none."""
        try:
            return bottom(self.project.craft)
        except StringerlabError:
            return None

    @cached_property
    def rings(self) -> tuple[tuple[str, Array], ...]:
        """Every piece of the bottom with its bay's id."""
        return tuple((bay.id, ring) for bay in self.found.bays for ring in bay.rings)

    @property
    def members(self) -> tuple[Member, ...]:
        """The members among what is selected, a span's by its member."""
        ids = [self.spans[each].member if each in self.spans else each for each in self.selected]
        held = (self.things.get(each) for each in dict.fromkeys(ids))
        return tuple(thing for thing in held if isinstance(thing, Member))

    def half_base(self, member: Member) -> float:
        """Return half of a member's base width, of its first section [mm]."""
        size = self.sizes.get(member.section)
        return size.base_width / 2 if size else 0.0


def instances(drawn: Member | PlanLine) -> tuple[tuple[Array, float], ...]:
    """Return where a thing stands, (n, 2) each, and −1 where that is its mirror image, else 1."""
    points = np.array(drawn.points, float).reshape(-1, 2)
    return tuple((line, 1.0 if np.array_equal(line, points) else -1.0) for line in standing(drawn))


@dataclass(frozen=True, slots=True, eq=False)
class Stands:
    """Every member and line where it stands, with the boxes around them, as arrays."""

    things: tuple[Member | PlanLine, ...]
    lines: tuple[Array, ...]
    flips: tuple[float, ...]
    low: Array
    """(n, 2) …"""
    high: Array

    def near(self, at: PlanPoint, reach: float) -> Iterator[tuple[Member | PlanLine, Array, float]]:
        """Yield what has its box within reach of a place, in the order drawn."""
        found = ((self.low - reach <= at) & (self.high + reach >= at)).all(axis=1)
        for number in np.flatnonzero(found).tolist():
            yield self.things[number], self.lines[number], self.flips[number]


_STANDS: Kept[Stands] = Kept(4)


def stands_of(layout: Layout) -> Stands:
    """Return where the members and lines of a layout stand; kept for as long as it is the same."""
    return _STANDS.get((layout,), lambda: _stands(layout))


def _stands(layout: Layout) -> Stands:
    found = [
        (drawn, line, flip)
        for drawn in (*layout.members, *layout.lines)
        for line, flip in instances(drawn)
        if len(line) > 1
    ]
    return Stands(
        things=tuple(drawn for drawn, _, _ in found),
        lines=tuple(line for _, line, _ in found),
        flips=tuple(flip for _, _, flip in found),
        low=np.array([line.min(axis=0) for _, line, _ in found]).reshape(-1, 2),
        high=np.array([line.max(axis=0) for _, line, _ in found]).reshape(-1, 2),
    )


def places(thing: Equipment) -> tuple[PlanPoint, ...]:
    """Return where an equipment stands."""
    x, y = thing.at
    match thing.hand:
        case Hand.CENTRELINE:
            return ((x, y),)
        case Hand.PORT:
            return ((x, abs(y)),)
        case Hand.STARBOARD:
            return ((x, -abs(y)),)
        case Hand.PAIR:
            return ((x, abs(y)), (x, -abs(y)))


def footprint(thing: Equipment, at: PlanPoint) -> Array:
    """Return the outline (4, 2) of what an equipment stands on; its feet's box where it has no size."""
    half = np.array([thing.length, thing.breadth]) / 2
    if not half.all() and thing.feet:
        half = np.maximum(np.abs(np.array(thing.feet)).max(axis=0), half)
    corners = np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)], float)
    return np.array(at) + corners * half
