"""What a method is, what it takes (structs of arrays) and what it gives (judged arrays, findings).

Rows are in the program's units: N, mm, MPa, rad, m/s, kg. n rows; k plies or fibres a row, padded with
``nan``. A missing number is ``nan`` and its verdict *not judged*.
"""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from stringerlab.laminate.records import Moduli
from stringerlab.layout.records import Duty, Surface
from stringerlab.methods.evaluation import AS_RESOLVED, Evaluation
from stringerlab.methods.pressed import PressureRows
from stringerlab.methods.verdicts import Verdict
from stringerlab.units import Unit
from stringerlab.workings import Array, Known, Recording, Source, Step

Mask = NDArray[np.bool_]
Marks = NDArray[np.int8]
"""Rank of ``Known``, row by row."""
Names = tuple[tuple[str, ...], ...]
"""Names of plies or fibres, row by row; a single row of names is common to all, none at all is allowed."""

NOTICE = (
    "A roughing-out aid, not a class or conformity assessment. The forms are simplified and the edition is "
    "named; where an edition is superseded, that is said. A naval architect and the applicable rules decide. "
    "Test your laminates. Local codes and licensed practice govern."
)


class Aspect(StrEnum):
    """What is judged about a subject: a closed list."""

    THICKNESS = "thickness"
    PLY_STRENGTH = "ply strength"
    INTERLAMINAR_SHEAR = "interlaminar shear"
    OUTER_SKIN = "outer skin modulus"
    INNER_SKIN = "inner skin modulus"
    STIFFNESS = "stiffness"
    CORE_SHEAR = "core shear"
    CORE_STRENGTH = "least core shear strength"
    SKIN_WRINKLING = "skin wrinkling"
    DRY_MASS = "dry fibre mass"
    MODULUS = "section modulus"
    WEB_AREA = "web area"
    WEB_SLENDERNESS = "web slenderness"
    CROWN_SLENDERNESS = "crown slenderness"
    BOND = "bond"
    HARD_SPOT = "hard spot"
    PLY_FAILURE = "ply failure"
    CROWN_BUCKLING = "crown buckling"
    WEB_BUCKLING = "web buckling"
    FLANGE_BUCKLING = "flange buckling"
    PLATING_BUCKLING = "plating buckling"
    WEB_CRIPPLING = "web crippling"
    CORE_CRUSHING = "core crushing"
    PRINT_THROUGH = "print-through"
    PEEL = "bond peel"
    BOND_END = "bond where it stops"
    OPENING = "opening in the web"
    CROSSING = "crossing"
    TRANSOM = "transom connection"
    TRANSOM_PLATE = "transom plate"
    FEET = "feet of machinery"
    INSERT = "bolts and block"
    DEFLECTION = "deflection"
    FREQUENCY = "natural frequency"
    KNEE = "knee"
    CYCLIC_STRAIN = "cyclic strain"


@dataclass(frozen=True, slots=True, eq=False)
class Remark:
    """A note for the rows where its mask holds (None: all)."""

    text: str
    where: Mask | None = None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class CraftRow:
    """The craft as numbers: mm, kg, m/s, rad; ``category`` is a letter."""

    category: str
    LWL: float
    BC: float
    """Chine beam at 0.4 of the waterline length from aft."""
    beta_04: float
    """Deadrise there."""
    m_LDC: float
    V: float
    waterline_aft: float
    wave_height: float = math.nan
    """Significant wave height; this and what follows are nan where not given."""
    trim: float = math.nan
    """Running trim, rad."""
    draught: float = math.nan
    deck_height: float = math.nan
    """Of the deck's edge above the waterline."""
    BC_transom: float = math.nan
    """Chine beam at the transom."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Plies:
    """Plies of n laminates as (n, k) arrays from the mould on, padded with nan: mm, MPa, g/m².

    ``E`` is the plain modulus along the strip or member, strengths along it too; gel coats are left out.
    """

    t: Array
    E: Array
    tension: Array
    compression: Array
    interlaminar: Array
    marks: Marks
    """(n,) weakest mark of these numbers."""
    names: Names
    remarks: tuple[Remark, ...] = ()
    """What tension and compression rest on, to be said of findings that rest on them."""
    interlaminar_remarks: tuple[Remark, ...] = ()
    factor: Array | None = None
    """Of the weaker of tension and compression: what the evaluation made of it; None without one."""
    interlaminar_factor: Array | None = None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PanelRows:
    """Single-skin panels, n rows."""

    b: Array
    l: Array
    x: Array
    deadrise: Array
    camber: Array
    surface: Surface = Surface.BOTTOM
    """Of all rows: what each surface is asked for is a batch of its own."""
    height: Array | float = math.nan
    """Of the panel's middle above the waterline."""
    head: Array | float = math.nan
    """Of water that it is to hold."""
    t: Array
    """Laminate thickness without gel coat."""
    dry_mass: Array
    """Dry fibre mass, g/m²."""
    sigma_uf: Array
    """Flexural strength; nan where the laminate's kind has no published fit."""
    sigma_uf_marks: Marks
    sigma_uf_remarks: tuple[Remark, ...] = ()
    """What it rests on, to be said of findings that rest on it."""
    sigma_uf_factor: Array | None = None
    """What the evaluation made of it; None without one."""
    plies: Plies


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SandwichRows:
    """Sandwich panels, n rows; outer is the skin towards the water; per mm of width."""

    b: Array
    l: Array
    x: Array
    deadrise: Array
    camber: Array
    surface: Surface = Surface.BOTTOM
    height: Array | float = math.nan
    head: Array | float = math.nan
    t_o: Array
    t_i: Array
    t_c: Array
    E_o: Array
    E_i: Array
    dry_mass_o: Array
    """Dry fibre mass of the outer skin, g/m²."""
    dry_mass_i: Array
    sigma_ut_o: Array
    """Mean stress in the outer skin, in tension, at which its first ply fails."""
    sigma_uc_o: Array
    sigma_ut_i: Array
    sigma_uc_i: Array
    E_c: Array
    G_c: Array
    tau_c: Array
    ductile: Mask
    skin_marks: Marks
    skin_remarks: tuple[Remark, ...] = ()
    """What the skins' strengths rest on, to be said of findings that rest on them."""
    factor_o: Array | None = None
    """Of the weaker of the outer skin's strengths: what the evaluation made of it; None without one."""
    factor_i: Array | None = None
    core_marks: Marks


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SpanRows:
    """Spans with their section's properties under the method's own counted plating, n rows.

    Fibres (n, k): every ply at its extreme fibre, by its axial modulus, distance from the neutral axis
    (positive towards the crown), and strengths along the member.
    """

    lu: Array
    s: Array
    x: Array
    deadrise: Array
    camber: Array
    surface: Surface = Surface.BOTTOM
    height: Array | float = math.nan
    head: Array | float = math.nan
    moment_factor: Array
    """Required modulus over that of held ends: 1 held, 1.5 simple, 6 cantilever; ours."""
    shear_factor: Array
    deflection_factor: Array
    end_factor: Array
    """Moment at the end that carries most over that of held ends; ours, as the next."""
    middle_factor: Array
    """Greatest moment within the span over that at held ends."""
    attached: Mask
    EI: Array
    fibre_E: Array
    fibre_z: Array
    fibre_tension: Array
    fibre_compression: Array
    fibre_marks: Marks
    fibre_remarks: tuple[Remark, ...] = ()
    """What the strengths rest on, to be said of findings that rest on them."""
    fibre_factor: Array | None = None
    """Of the weaker of tension and compression: what the evaluation made of it; None without one."""
    fibre_names: Names
    web_area: Array
    """Σ thickness normal to the web × vertical height."""
    web_tau: Array
    """Shear strength of the web laminate, the least of the webs."""
    web_marks: Marks
    web_remarks: tuple[Remark, ...] = ()
    """What the shear strength rests on, to be said of findings that rest on it."""
    web_factor: Array | None = None
    """What the evaluation made of it; None without one."""
    web_depth: Array
    web_thickness: Array
    crown_width: Array
    """nan where there is no crown."""
    crown_thickness: Array
    free_edge: Mask
    """Whether the crown is a free flange rather than a closed one."""
    dies: Mask | None = None
    """Whether an end that is not held may die on bare skin; None: all such may."""

    @property
    def may_die(self) -> Mask:
        """Whether an end may be a hard spot."""
        return self.moment_factor != 1 if self.dies is None else self.dies

    duties: tuple[Duty, ...] = ()
    """What each carries besides the sea; none at all: nothing else."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PlatingRows:
    """What decides how wide plating counts: n spans; mm."""

    s: Array
    """Mean of the adjacent spacings: the cap."""
    lu: Array
    base_width: Array
    t: Array
    """Single-skin thickness, or both skins of a sandwich added."""
    sandwich: Mask
    E_G: Array | None = None
    """Modulus along the member over shear modulus of the plating; nan where it has none to tell."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Governing:
    """What governs, row by row: the index (n,) of a ply, fibre or place into its names."""

    index: NDArray[np.intp]
    names: Names
    texts: tuple[str, ...] = ("{}",)
    """What is said of it, the name standing in for ``{}``."""
    text: NDArray[np.intp] | None = None
    """Which of the texts, row by row; None: the first."""

    def bare(self, row: int) -> str:
        """Return the name of what governs in a row, alone; empty when it has none."""
        if not self.names:
            return ""
        names = self.names[0] if len(self.names) == 1 else self.names[row]
        index = int(self.index[row])
        return names[index] if index < len(names) else ""

    def name(self, row: int) -> str:
        """Return what governs in a row, in its words; empty when it has no name."""
        bare = self.bare(row)
        if not bare:
            return ""
        return self.texts[0 if self.text is None else int(self.text[row])].replace("{}", bare)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Judged:
    """One aspect judged over n rows. ``demand`` and ``capacity`` in the program's units of ``unit``'s kind.

    Either is (n,), or a number common to all rows. A ``nan`` in either leaves the row not judged; ``missing``
    says why. Rows where ``applies`` is false have no such aspect and give no finding.
    """

    aspect: Aspect
    demand: Array
    capacity: Array
    unit: Unit
    power: float
    source: Source
    marks: Marks | None = None
    """Weakest mark of the row's given inputs (materials)."""
    remarks: tuple[Remark, ...] = ()
    missing: str = ""
    lacking: tuple[Remark, ...] = ()
    """Why rows are not judged, where it is known row by row: said in place of ``missing``."""
    governing: Governing | None = None
    applies: Mask | None = None
    advice: bool = False
    """Whether it is only a reading, as by a rule of thumb: said with its numbers, never judged."""

    @property
    def utilisation(self) -> Array:
        """(demand ÷ capacity)ⁿ, in load; nan where a number is missing or no capacity is there."""
        capacity = np.where(self.capacity > 0, self.capacity, np.nan)
        with np.errstate(over="ignore"):
            return (self.demand / capacity) ** self.power


class FindingKind(StrEnum):
    """Which part of a check a finding is of."""

    RULE = "rule"
    """What the method itself asks for."""
    MECHANICS = "mechanics"
    """How the part fails under the method's pressure, by mechanics that are no part of the method."""
    GRID = "grid (first principles)"
    """The same under load that the grid shares; never rule compliance."""


class Part(StrEnum):
    """What most methods have in some form, in words; a method says under which symbol of its workings."""

    PRESSURE = "design pressure"
    ACCELERATION = "vertical acceleration"
    AREA_FACTOR = "area factor"
    LENGTH_FACTOR = "factor along the length"
    DESIGN_STRESS = "design stress"
    DESIGN_SHEAR = "design shear stress"


@dataclass(frozen=True, slots=True, kw_only=True)
class Method:
    """A published method: pure functions over rows. A second method is one new file in this room."""

    id: str
    name: str
    edition: str
    superseded: str
    """What to say of a superseded edition, empty when current."""
    title: str = ""
    """Title of the source, as its findings' sources begin with it."""
    moduli: Moduli
    plating: Callable[[PlatingRows], Array]
    """Counted width of plating, mm, capped at the spacing."""
    judge_panels: Callable[[CraftRow, PanelRows], Sequence[Judged]]
    judge_sandwiches: Callable[[CraftRow, SandwichRows], Sequence[Judged]]
    judge_spans: Callable[[CraftRow, SpanRows], Sequence[Judged]]
    pressure: Callable[[CraftRow, PressureRows], Array] | None = None
    """Design pressure row by row [MPa], nan where there is none; None: the method states none."""
    evaluation: Evaluation = AS_RESOLVED
    """How it takes strengths by what they rest on."""
    parts: Mapping[Part, str] = field(default_factory=dict[Part, str])
    """Symbols of its formulas for what every method has in some form: what methods are held against by."""


FindingKey = tuple[str, FindingKind, Aspect]
"""What tells a finding from the others of a check: its subject, kind and aspect."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One subject and one aspect, judged. Numbers in the program's units of ``unit``'s kind."""

    subject: str
    name: str
    aspect: Aspect
    demand: float | None
    capacity: float | None
    unit: Unit
    utilisation: float | None
    verdict: Verdict
    method: str
    source: str
    known: Known
    notes: tuple[str, ...]
    kind: FindingKind = FindingKind.RULE
    power: float = 1.0
    """Power of load of demand over capacity, as in the utilisation."""
    governs: str = ""
    """Name of the ply, fibre or place that governs, as the rows name it; empty where none is named."""
    steps: tuple[Step, ...] = field(default=(), compare=False, repr=False)
    """The workings, all rows at once, and this finding's row in them."""
    row: int = field(default=0, compare=False, repr=False)
    recording: Recording | None = field(default=None, compare=False, repr=False)

    @property
    def key(self) -> FindingKey:
        """What tells it from the others of a check."""
        return self.subject, self.kind, self.aspect
