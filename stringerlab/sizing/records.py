"""What search, sensitivity, scatter and studies hand to one another and to who shows them. kg, h, mm.

A design is a row of genes: for every variable of a space, which of its choices it takes, from 0.
"""

from collections.abc import Callable
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from stringerlab.errors import Problem
from stringerlab.project.wishes import Aim, Demand, ScatterPlan, SizingPlan, Study
from stringerlab.workings import Array

Genes = NDArray[np.int64]
"""(n, v): which choice of each variable."""
Mask = NDArray[np.bool_]
Watch = Callable[[float, str], None]
"""Told the part done and what is being done; ends a run by raising, as ``assess.check.Cancelled``."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Outcome:
    """What n designs, or the same part of n designs, come to."""

    sound: Mask
    """(n,) whether it can be built at all; every number of one that cannot is inf."""
    ratios: Array
    """(n, d) what each demand asks over its limit, of all it reads, what nothing changes too: above 1 it does
    not hold; 0 where it asks nothing here."""
    use: Array
    """(n,) highest utilisation of the rule findings judged that something in the space changes."""
    mass: Array
    """(n,) of members as the take-off counts them, and of the plating of the panels judged [kg]."""
    cost: Array
    """(n,) in the project's own currency; nan where nothing is priced."""
    hours: Array
    """(n,) nan where no rate is set."""

    @property
    def holds(self) -> Mask:
        """Whether every demand holds."""
        return self.sound & (self.ratios <= 1).all(axis=1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Design:
    """One design, judged."""

    genes: tuple[int, ...]
    values: tuple[str, ...]
    """Of each variable, in words with units of the project: ``140 mm``, ``csm450, wr600, csm450``."""
    ratios: tuple[float, ...]
    use: float
    """Highest utilisation of rule findings that something in the space changes."""
    mass: float
    cost: float | None
    hours: float | None
    governing: str = ""
    """Which of these findings is highest used, in words; empty where none is judged."""
    mechanics: float | None = None
    """Highest utilisation that the mechanics and the grid find; None where they were not asked."""
    mechanics_governing: str = ""

    def value(self, aim: Aim, mix: float) -> float:
        """Return what an aim lowers; ``mix`` is its weighted mix."""
        match aim:
            case Aim.MASS:
                return self.mass
            case Aim.COST:
                return float("nan") if self.cost is None else self.cost
            case Aim.LABOUR:
                return float("nan") if self.hours is None else self.hours
            case Aim.MIX:
                return mix
            case Aim.USE:
                return self.use


@dataclass(frozen=True, slots=True, kw_only=True)
class Broken:
    """A demand that no design judged holds: the nearest came to ``least`` times its limit."""

    demand: Demand
    words: str
    least: float
    alone: bool
    """Whether it cannot hold whatever else does; otherwise only not together with the others."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sized:
    """What a search for lighter designs found."""

    plan: SizingPlan
    names: tuple[str, ...]
    """Of the variables, in the order of a design's genes."""
    front: tuple[Design, ...]
    """Designs that hold and no other judged beats in every aim, by the first aim."""
    present: Design
    """The boat as she is, at the nearest choices when she is none of them; see ``present_exact``."""
    present_exact: bool
    """Whether the boat is one of the designs."""
    space: int
    """How many designs there are, exactly."""
    judged: int
    """How many of them were judged."""
    ruled_out: int
    """How many a bound ruled out without judging them."""
    proven: bool
    """Whether every design was judged or ruled out, so that no better one is there."""
    broken: tuple[Broken, ...] = ()
    """Where nothing holds: which demands make it so."""
    notes: tuple[str, ...] = ()
    boat: Design | None = None
    """The boat as she truly is where she is none of the designs: her own numbers, and values in words; her
    genes are those of ``present``."""

    @property
    def now(self) -> Design:
        """The boat as she truly is, one of the designs or not."""
        return self.boat or self.present


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One step in one variable, and what it does to one finding and to the mass."""

    name: str
    """Of the variable and the step: ``hat height of Main stringer 135 → 145 mm``."""
    variable: str
    before: str
    after: str
    use: float
    """Utilisation of the finding after it."""
    use_change: float
    mass_change: float
    """[kg]."""
    worst_after: float
    """Highest utilisation of any finding after it: what it may spoil."""
    spoils: str = ""
    """The highest used finding that is short after it and was not before, in words; empty without one."""
    words: str = ""
    """The step and what it does, as a sentence."""

    @property
    def per_kilogram(self) -> float:
        """What it takes off the utilisation by the kilogram it adds: inf where it adds none."""
        if self.use_change >= 0:
            return 0.0
        return -self.use_change / self.mass_change if self.mass_change > 0 else float("inf")


@dataclass(frozen=True, slots=True, kw_only=True)
class Helped:
    """One short or tight finding and the steps that would help it, the most helpful first."""

    subject: str
    name: str
    aspect: str
    kind: str
    use: float
    steps: tuple[Step, ...]
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Sensitivity:
    """What would help most."""

    helped: tuple[Helped, ...]
    tried: int
    """How many steps were tried."""
    problems: tuple[Problem, ...] = ()
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Driver:
    """How a scattered input goes with a finding's utilisation: Spearman's rank correlation."""

    name: str
    correlation: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Chance:
    """Of one finding: the chance that it is short, and what drives it."""

    subject: str
    name: str
    aspect: str
    nominal: float
    """Utilisation without scatter."""
    short: float
    low: float
    high: float
    """Interval of the chance at 95 %."""
    mean: float
    percentiles: tuple[float, float, float]
    """Of the utilisation: 5, 50, 95 %."""
    drivers: tuple[Driver, ...]
    """The strongest first."""
    curve: tuple[tuple[float, float], ...] = ()
    """Of the utilisation: how many per cent of the samples lie below, and below what; ascending."""
    kind: str = "rule"
    """Of the finding: a rule's, or of the mechanics."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Scattering:
    """What scatter does to every finding."""

    plan: ScatterPlan
    inputs: tuple[str, ...]
    """In words, each with its law, middle and spread."""
    samples: int
    chances: tuple[Chance, ...]
    """The likeliest to be short first."""
    any_short: tuple[float, float, float]
    """Chance that any finding judged is short, and its interval."""
    left_out: tuple[str, ...] = ()
    """Findings that are not sampled, and why."""
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Studied:
    """A study worked through: readings on the grid of one or two numbers."""

    study: Study
    axes: tuple[tuple[float, ...], ...]
    """Values along each number, as typed."""
    axis_names: tuple[str, ...]
    axis_units: tuple[str, ...]
    """Symbols."""
    reading_names: tuple[str, ...]
    reading_units: tuple[str, ...]
    values: Array
    """(readings, n) or (readings, n, m); nan where the step could not be judged."""
    present: tuple[float, ...]
    """The boat's own place along each number."""
    problems: tuple[tuple[tuple[int, ...], str], ...] = field(default=())
    """Steps that could not be judged, by their indices, and why."""
    notes: tuple[str, ...] = ()
