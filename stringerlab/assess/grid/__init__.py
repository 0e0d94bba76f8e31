"""A layout's grid: its beams, supports and loads, the envelope of these, and what it says of every span."""

from stringerlab.assess.grid.analysing import analysed
from stringerlab.assess.grid.extremes import case_field
from stringerlab.assess.grid.ground import ground_of
from stringerlab.assess.grid.records import (
    Acts,
    Case,
    Field,
    Foot,
    GridResults,
    Ground,
    Most,
    Reaction,
    SpanExtremes,
    Tally,
)

__all__ = [
    "Acts",
    "Case",
    "Field",
    "Foot",
    "GridResults",
    "Ground",
    "Most",
    "Reaction",
    "SpanExtremes",
    "Tally",
    "analysed",
    "case_field",
    "ground_of",
]
