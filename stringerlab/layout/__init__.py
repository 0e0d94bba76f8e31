"""Panels and spans: given by hand in the project, later found from a drawn layout as the same records."""

from stringerlab.layout.records import End, Panel, PanelCase, Span, SpanCase

__all__ = ["End", "Panel", "PanelCase", "Span", "SpanCase"]
