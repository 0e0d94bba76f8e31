"""A layout drawn in plan: members on the hull bottom, what holds it, what stands on it, what lies between.

x forward from the transom, y to port from the centreline, both in plan; mm, deg, kg, N, N·mm as typed. A
member of a pair is drawn once, to port. Sections, laminates and materials are named by id.
"""

from dataclasses import dataclass, field
from enum import StrEnum
from typing import Annotated

from stringerlab.layout.openings import Along, Backed, Cut, LandsOn, Opening, Size, Thickness
from stringerlab.layout.records import Duty, LyingPan, Place
from stringerlab.units import Count, Kg, KgPerM3, Mm, N, NMm, Range, Ratio

PlanPoint = tuple[Place, Place]
"""x, y [mm]."""
Force = Annotated[N, Range(0, 1_000_000)]
Turning = Annotated[NMm, Range(-1e9, 1e9)]
Share = Annotated[Ratio, Range(0, 1)]


class Hand(StrEnum):
    """On which side of the centreline a thing stands; a pair is drawn to port and stands on both."""

    CENTRELINE = "centreline"
    PORT = "port"
    STARBOARD = "starboard"
    PAIR = "pair"


class MemberKind(StrEnum):
    """What a member is: it decides which way its section is looked at, and the words for it."""

    LONGITUDINAL = "longitudinal"
    TRANSVERSE = "transverse"
    BULKHEAD = "bulkhead"
    """Holds the grid; it is no span that is judged."""


class Contact(StrEnum):
    """Which edges of a member are bonded: its flanges to the bottom, or its ends up the hull's side too."""

    BOTTOM = "bottom only"
    ALL_ROUND = "all round"


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """From where along a member, measured in plan from its first point, another section runs.

    ``taper`` is the length over which the heights run into one another.
    """

    start: Along
    section: str
    taper: Along = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Member:
    """A stiffener drawn in plan, at its middle line; from aft forward, a transverse from inboard outboard.

    ``section`` runs from its first point on until the first stretch. ``crown`` says whether its crown goes
    through where an equally high or higher member crosses, ``backed`` what takes a cut crown's force on:
    ``tab_thickness`` and ``tab_length`` are of one tab, or of the diaphragm: of its laminate, and along what
    it is bonded. ``ends`` are how it lands first and last; `AS_END` means as drawn: on the member, transom or
    chine it meets. ``tapers`` are the lengths over which its crown falls to the shell where an end is tapered
    out. Openings are measured along it in plan.
    """

    id: str
    name: str
    kind: MemberKind
    hand: Hand = Hand.PAIR
    points: tuple[PlanPoint, ...]
    section: str = ""
    stretches: tuple[Stretch, ...] = ()
    crown: Cut = Cut.CUT
    backed: Backed = Backed.NONE
    tab_thickness: Thickness | None = None
    tab_length: Size | None = None
    ends: tuple[LandsOn, LandsOn] = (LandsOn.AS_END, LandsOn.AS_END)
    tapers: tuple[Along, Along] = (0.0, 0.0)
    contact: Contact = Contact.BOTTOM
    openings: tuple[Opening, ...] = ()
    duty: Duty = Duty.NORMAL
    attached: bool = True


class LineKind(StrEnum):
    """What a drawn line of the hull is."""

    SPRAY_STEP = "spray step"
    HULL_STEP = "hull step"
    TRACE = "trace"
    """Only to snap to."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanLine:
    """A line on the hull bottom that is no member; ``bounds`` where panels end at it."""

    id: str
    name: str
    kind: LineKind = LineKind.SPRAY_STEP
    hand: Hand = Hand.PAIR
    points: tuple[PlanPoint, ...]
    bounds: bool = False


class Use(StrEnum):
    """What a cavity is for."""

    BILGE = "bilge"
    TANK_BAY = "tank bay"
    RODE_LOCKER = "rode locker"
    STORAGE = "storage"
    BOX = "in-floor box"
    VOID = "foam void"
    MACHINERY = "machinery"


@dataclass(frozen=True, slots=True, kw_only=True)
class Cavity:
    """A named space between members: the bays its points lie in, up to ``depth`` or the lowest crown round.

    ``foam`` is a solid of the book that fills the ``filled`` part of it; a sealed one holds its foam dry and
    has no drain; ``wet`` is the water taken up, in parts of the foam's volume. ``insulation`` is the
    thickness of the box's walls. ``access``, how a tank comes out and is looked at, reaches the report.
    """

    id: str
    name: str
    use: Use
    hand: Hand = Hand.CENTRELINE
    anchors: tuple[PlanPoint, ...]
    depth: Annotated[Mm, Range(20, 3000)] | None = None
    foam: str = ""
    filled: Share = 1.0
    sealed: bool = False
    wet: Annotated[Ratio, Range(0, 0.5)] = 0.05
    insulation: Annotated[Mm, Range(0, 300)] = 0.0
    access: str = ""


class EquipmentKind(StrEnum):
    """What stands on, hangs on or pushes at the grid."""

    TANK = "tank"
    ENGINE = "engine"
    OUTBOARD = "outboard"
    GYRO = "gyro stabiliser"
    DECK = "deck load"
    POINT = "point load"
    KNEE = "side-door knee"
    LIFTING = "lifting point"
    BLOCKING = "blocking point"


@dataclass(frozen=True, slots=True, kw_only=True)
class Insert:
    """The block and bolts at each foot: a metal block laminated in, where machinery bolts down.

    ``edge`` is from a bolt's middle to the nearest edge of the block or laminate; ``embedded`` how thick the
    laminate over the block is; ``bonded`` the block's bonded area at one foot in mm².
    """

    material: str = ""
    bolts: Annotated[int, Range(1, 12)] = 2
    diameter: Annotated[Mm, Range(4, 40)] = 12.0
    edge: Annotated[Mm, Range(0, 300)] = 30.0
    thickness: Annotated[Mm, Range(1, 100)] = 12.0
    embedded: Annotated[Mm, Range(0, 60)] = 6.0
    length: Size = 150.0
    width: Size = 60.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Equipment:
    """One thing that loads the grid: ``at`` the middle of its feet, or of its footprint.

    ``length`` (along x) and ``breadth`` bound a tank's or deck load's footprint; ``feet`` are offsets from
    ``at``, one pair (x, y) a foot; none at all: one foot at ``at``. ``height`` is the centre of mass, or of
    the thrust, above the shell there (below it for an outboard's propeller). ``head`` is the water over a
    tank's bottom. ``torque`` turns about x, ``pitching`` about y. ``speed`` is that of its shaft or rotor in
    turns a minute.
    ``acceleration`` in g adds to the 1 g of its weight; left out, the method's vertical one at its place.
    """

    id: str
    name: str
    kind: EquipmentKind
    hand: Hand = Hand.CENTRELINE
    at: PlanPoint
    mass: Annotated[Kg, Range(0, 50_000)] = 0.0
    length: Annotated[Mm, Range(0, 20_000)] = 0.0
    breadth: Annotated[Mm, Range(0, 10_000)] = 0.0
    feet: tuple[PlanPoint, ...] = ()
    height: Annotated[Mm, Range(-3000, 5000)] = 0.0
    head: Annotated[Mm, Range(0, 5000)] = 0.0
    thrust: Force = 0.0
    overhang: Annotated[Mm, Range(0, 3000)] = 0.0
    torque: Turning = 0.0
    pitching: Turning = 0.0
    speed: Annotated[Count, Range(0, 30_000)] = 0.0
    acceleration: Annotated[Ratio, Range(0, 20)] | None = None
    insert: Insert | None = None


class Held(StrEnum):
    """How an edge of the hull bottom holds the members that end at it."""

    FREE = "free"
    SIMPLE = "simple"
    ELASTIC = "elastic"
    CLAMPED = "clamped"


@dataclass(frozen=True, slots=True, kw_only=True)
class Supports:
    """What holds the grid at the edges of the bottom.

    ``side_laminate`` and ``side_height`` (chine to deck edge, over which the side bends) give the spring of
    elastic chines.
    """

    transom: Held = Held.SIMPLE
    chine: Held = Held.SIMPLE
    forward: Held = Held.SIMPLE
    keel: Held = Held.FREE
    """Of members that end at the keel without meeting another."""
    side_laminate: str = ""
    side_height: Annotated[Mm, Range(50, 5000)] = 600.0


class Participation(StrEnum):
    """How much plating a member takes along in the grid."""

    METHOD = "as the method counts"
    SHEAR_LAG = "shear lag"
    NONE = "none"


@dataclass(frozen=True, slots=True, kw_only=True)
class GridRules:
    """How the grid is analysed, and what bounds a panel.

    ``step`` is a slam patch's step along its subject, in parts of the patch's length; beside the patches that
    govern it is halved twice.
    """

    participation: Participation = Participation.METHOD
    step: Annotated[Ratio, Range(0.02, 1)] = 0.25
    keel_bounds: bool = True
    """Whether the keel's knuckle ends a panel, as a natural stiffener does."""
    deflection: Annotated[Ratio, Range(0.0005, 0.05)] = 0.005
    """Of a span's length, that is allowed."""


class Source(StrEnum):
    """What a combination is made of besides equipment named by id."""

    SLAM = "slam"
    TANKS = "tank heads"
    MACHINERY = "engines and thrust"
    GYRO = "gyro"
    DECK = "deck and points"
    LIFTING = "lifting"
    BLOCKING = "blocking"


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A load of a combination: a source or the id of an equipment, and its factor."""

    of: str
    factor: Annotated[Ratio, Range(-5, 5)] = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Combination:
    """Loads that act together."""

    id: str
    name: str
    parts: tuple[Part, ...]


class Drive(StrEnum):
    """What drives the boat: it decides which load a swamped boat must keep afloat."""

    INBOARD = "inboard or inboard-outdrive"
    OUTBOARD = "outboard over 2 hp"
    SMALL = "outboard of 2 hp or less, or none"


@dataclass(frozen=True, slots=True, kw_only=True)
class FlotationInputs:
    """What a flotation estimate needs to know of the boat besides her cavities; None is not known.

    ``length`` is overall. ``hull`` is all that is under water when she is swamped, of ``hull_density``;
    ``deck`` what is above it. ``machinery_part`` is the part of the machinery's weight left under water.
    ``persons`` and ``capacity`` are as marked on the boat: the weight of persons, and the greatest of persons
    and gear, of an outboard less its motor and what belongs to it. ``exempt`` names what she is that the
    regulation leaves out, as a sailboat or a canoe; empty otherwise.
    """

    length: Annotated[Mm, Range(1000, 60_000)] | None = None
    drive: Drive | None = None
    hull: Annotated[Kg, Range(0, 100_000)] | None = None
    hull_density: Annotated[KgPerM3, Range(100, 12_000)] = 1500.0
    deck: Annotated[Kg, Range(0, 100_000)] | None = None
    machinery: Annotated[Kg, Range(0, 20_000)] | None = None
    machinery_part: Annotated[Ratio, Range(0, 1)] = 0.75
    persons: Annotated[Kg, Range(0, 20_000)] | None = None
    capacity: Annotated[Kg, Range(0, 50_000)] | None = None
    monohull: bool = True
    exempt: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class BayMark:
    """A found panel's lasting name: the bay ``at`` lies in; a laminate named is its own, else the zones'."""

    id: str
    name: str = ""
    at: PlanPoint
    laminate: str = ""
    pan: LyingPan | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SpanMark:
    """The lasting name of a found span: the member, and the keys of the nodes it runs between.

    ``parent`` is the span it was split from.
    """

    id: str
    name: str = ""
    member: str
    between: tuple[str, str]
    parent: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """A plan of members, what lies between and stands on them; marks keep the ids of what is found in it."""

    id: str
    name: str
    notes: str = ""
    members: tuple[Member, ...] = ()
    lines: tuple[PlanLine, ...] = ()
    cavities: tuple[Cavity, ...] = ()
    equipment: tuple[Equipment, ...] = ()
    supports: Supports = field(default_factory=Supports)
    rules: GridRules = field(default_factory=GridRules)
    flotation: FlotationInputs = field(default_factory=FlotationInputs)
    combinations: tuple[Combination, ...] = ()
    bays: tuple[BayMark, ...] = ()
    spans: tuple[SpanMark, ...] = ()
