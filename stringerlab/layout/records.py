"""Panels and spans: what a panel check and a stiffener check judge. mm and deg as typed; b and s in the skin.

A panel runs from web root to web root, b its short side, l its long; a span's s is centre to centre.
``x`` is from the transom to the middle; ``camber`` is the rise in mm.
"""

from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated

from stringerlab.laminate.records import Stack
from stringerlab.section.records import SectionShape
from stringerlab.units import Deg, Mm, Range

Length = Annotated[Mm, Range(20, 20_000)]
Place = Annotated[Mm, Range(-5000, 60_000)]
Deadrise = Annotated[Deg, Range(0, 60)]
Camber = Annotated[Mm, Range(0, 5000)]


class End(StrEnum):
    """How an end of a span is held."""

    HELD = "held"
    SIMPLE = "simple"
    FREE = "free"


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """A piece of hull bottom between web roots and hull edges."""

    id: str
    name: str
    b: Length
    l: Length
    x: Place
    deadrise: Deadrise
    camber: Camber = 0.0
    laminate: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """A member between two supports; ``plating`` is the hull laminate under it."""

    id: str
    name: str
    section: str
    plating: str
    lu: Length
    s: Length
    x: Place
    deadrise: Deadrise
    camber: Camber = 0.0
    ends: tuple[End, End] = (End.HELD, End.HELD)
    attached: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelCase:
    """A panel with its laminate resolved."""

    panel: Panel
    stack: Stack


@dataclass(frozen=True, slots=True, kw_only=True)
class SpanCase:
    """A span with its section and plating resolved; the deadrise its section is drawn at in rad."""

    span: Span
    section: SectionShape
    plating: Stack
    drawn_deadrise: float = 0.0
