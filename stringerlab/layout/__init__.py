"""Panels and spans: given by hand in the project, later found from a drawn layout as the same records."""

from stringerlab.layout.rates import Price, Rates
from stringerlab.layout.records import End, LyingPan, Panel, PanelCase, Span, SpanCase, Surface, Zone

__all__ = [
    "End",
    "LyingPan",
    "Panel",
    "PanelCase",
    "Price",
    "Rates",
    "Span",
    "SpanCase",
    "Surface",
    "Zone",
]
