"""Panels and spans: what a panel check and a stiffener check judge. mm and deg as typed; b and s in the skin.

A panel runs from web root to web root, b its short side, l its long; a span's s is centre to centre.
``x`` is from the transom to the middle; ``camber`` is the rise in mm.
"""

from dataclasses import dataclass, field
from enum import StrEnum
from typing import Annotated

from stringerlab.laminate.records import Stack
from stringerlab.layout.bonding import Bonding
from stringerlab.layout.openings import Crossing, Landing, Opening, TransomLoad
from stringerlab.materials.records import Adhesive
from stringerlab.section.records import SectionShape
from stringerlab.units import Deg, Mm, Range, Ratio

Length = Annotated[Mm, Range(20, 20_000)]
Place = Annotated[Mm, Range(-5000, 60_000)]
Deadrise = Annotated[Deg, Range(0, 60)]
Camber = Annotated[Mm, Range(0, 5000)]
Breadth = Annotated[Mm, Range(0, 10_000)]
Height = Annotated[Mm, Range(-5000, 10_000)]
Head = Annotated[Mm, Range(0, 20_000, above=True)]
Voids = Annotated[Ratio, Range(0, 0.9)]


class End(StrEnum):
    """How an end of a span is held."""

    HELD = "held"
    SIMPLE = "simple"
    FREE = "free"


class Duty(StrEnum):
    """What a member carries besides the sea: a load that comes again and again asks for less strain."""

    NORMAL = "normal"
    ENGINE_BED = "engine bed"
    GYRO = "gyro bed"


class Surface(StrEnum):
    """What a panel is part of, or a span stiffens: it decides which pressure is asked of it."""

    BOTTOM = "bottom"
    SIDE = "side"
    DECK = "deck"
    BULKHEAD = "watertight bulkhead"
    TANK = "integral tank"


@dataclass(frozen=True, slots=True, kw_only=True)
class LyingPan:
    """A pan that lies on the hull over a panel: it counts only where fully bonded, less its voids."""

    laminate: str
    fully_bonded: bool = False
    voids: Voids = 0.1


@dataclass(frozen=True, slots=True, kw_only=True)
class Zone:
    """Where a hull laminate lies: plating by place. Later zones lie inboard of earlier ones they overlap.

    ``aft`` and ``forward`` bound it in x, ``inboard`` and ``outboard`` in distance from the centreline,
    where they are given. Within ``taper`` of its ends in x its plies drop off one after another, the
    last-laid first: a ply's own drop is the taper by the number of plies.
    """

    id: str
    name: str
    laminate: str
    surface: Surface = Surface.BOTTOM
    aft: Place
    forward: Place
    inboard: Breadth | None = None
    outboard: Breadth | None = None
    taper: Annotated[Mm, Range(0, 2000)] = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """A piece of the hull between web roots and hull edges; no laminate named: that of the zones there.

    ``y`` is its middle's distance from the centreline, for zones; ``height`` its middle's above the
    waterline, for sides; ``head`` the head of water it is to hold, for bulkheads and tanks.
    """

    id: str
    name: str
    b: Length
    l: Length
    x: Place
    deadrise: Deadrise
    camber: Camber = 0.0
    laminate: str = ""
    surface: Surface = Surface.BOTTOM
    y: Breadth | None = None
    height: Height | None = None
    head: Head | None = None
    pan: LyingPan | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """A member between two supports; ``plating`` is the hull laminate under it, else that of the zones there.

    ``count`` is how many alike the boat has, for the take-off; ``y``, ``height``, ``head`` as for a panel.
    Ends and landings are aft and forward, of a transverse inboard and outboard.
    """

    id: str
    name: str
    section: str
    plating: str = ""
    lu: Length
    s: Length
    x: Place
    deadrise: Deadrise
    camber: Camber = 0.0
    ends: tuple[End, End] = (End.HELD, End.HELD)
    attached: bool = True
    surface: Surface = Surface.BOTTOM
    y: Breadth | None = None
    height: Height | None = None
    head: Head | None = None
    count: Annotated[int, Range(1, 200)] = 1
    landings: tuple[Landing, Landing] = (Landing(), Landing())
    openings: tuple[Opening, ...] = ()
    crossings: tuple[Crossing, ...] = ()
    transom: TransomLoad | None = None
    duty: Duty = Duty.NORMAL


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelCase:
    """A panel with its laminate resolved, a fully bonded pan counted in.

    ``hull`` is the hull's laminate alone where a pan is counted; ``notes`` go with every finding.
    """

    panel: Panel
    stack: Stack
    hull: Stack | None = None
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class SpanCase:
    """A span with its section and plating resolved; the deadrise its section is drawn at in rad.

    ``notes`` go with every finding.
    """

    span: Span
    section: SectionShape
    plating: Stack
    drawn_deadrise: float = 0.0
    notes: tuple[str, ...] = ()
    adhesive: Adhesive | None = None
    """Of its bead; None for a part laminated in place."""
    adhesive_named: bool = True
    """Whether the section names it; else it is the book's usual one."""
    bonding: Bonding | None = field(default_factory=Bonding)
    """None where the project's own is out of its ranges."""
