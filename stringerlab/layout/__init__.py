"""Panels and spans: given by hand in the project, later found from a drawn layout as the same records."""

from stringerlab.layout.bonding import Bonding
from stringerlab.layout.openings import (
    Backed,
    Crossing,
    Cut,
    Hole,
    Landing,
    LandsOn,
    Opening,
    TransomLoad,
)
from stringerlab.layout.rates import Price, Rates
from stringerlab.layout.records import Duty, End, LyingPan, Panel, PanelCase, Span, SpanCase, Surface, Zone

__all__ = [
    "Backed",
    "Bonding",
    "Crossing",
    "Cut",
    "Duty",
    "End",
    "Hole",
    "Landing",
    "LandsOn",
    "LyingPan",
    "Opening",
    "Panel",
    "PanelCase",
    "Price",
    "Rates",
    "Span",
    "SpanCase",
    "Surface",
    "TransomLoad",
    "Zone",
]
