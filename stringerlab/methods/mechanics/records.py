"""What the mechanics judge: spans and panels under a method's pressure, and what is allowed of them.

A span is loaded as the method's own beam: P s l²/12 at held ends, half of it at mid-span, P s l/2 in shear,
by the factors of its ends. N, mm, MPa.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from stringerlab.layout import PanelCase, SpanCase
from stringerlab.methods.records import Judged
from stringerlab.section import Facts, Plating, Properties
from stringerlab.section.loads import SectionLoads
from stringerlab.workings import Array, Known, Source

OWN_CHOICE = Source(
    title="stringerlab", clause="own allowances, for the reviewer to agree", known=Known.STATED
)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Carried:
    """Greatest shear and moment, either way, that a span carries from place to place: N, N·mm."""

    x: Array
    """(n,) from the aft end of its span [mm], ascending."""
    V: Array
    M: Array

    def shear(self, x: float) -> float:
        """Return the greatest shear at a place."""
        return float(np.interp(x, self.x, self.V))

    def moment(self, x: float) -> float:
        """Return the greatest moment at a place."""
        return float(np.interp(x, self.x, self.M))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LoadedSpan:
    """A span under a pressure, with its section as first principles count it."""

    case: SpanCase
    plating: Plating
    """The strip counted: of the method's width."""
    properties: Properties
    """By moduli free to contract, on that strip."""
    facts: Facts
    P: float
    """Design pressure [MPa]."""
    end: SectionLoads
    """At the end that carries most: the crown in compression (M_y < 0), with the greatest shear."""
    middle: SectionLoads
    """At mid-span: the crown in tension (M_y > 0), no shear."""
    carried: Carried | None = None
    """What it carries along it, where that is known otherwise than by its ends."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LoadedPanel:
    """A panel under a pressure."""

    case: PanelCase
    P: float
    """Design pressure [MPa]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Allowances:
    """The part of a failure load that is allowed, by how it fails: our own choice unless a method says."""

    ply: float = 0.5
    """Of first-ply failure."""
    buckling: float = 0.67
    """Of a part's buckling load."""
    local: float = 0.5
    """Of crippling, crushing, core shear."""
    bond: float = 0.33
    """Of the bond's static strength; what fatigue takes is the bond's own."""
    source: Source = OWN_CHOICE


OURS = Allowances()

JudgeSpans = Callable[[Sequence[LoadedSpan], Allowances], tuple[Judged, ...]]
"""One row a span, in the order given."""
JudgePanels = Callable[[Sequence[LoadedPanel], Allowances], tuple[Judged, ...]]
