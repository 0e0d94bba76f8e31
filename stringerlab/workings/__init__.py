"""One function per published formula: computed, recorded and displayed from the same syntax tree."""

from stringerlab.workings.formula import Array, Formula, Value, formula
from stringerlab.workings.recording import Recording, Step, traced, workings
from stringerlab.workings.source import Known, Source, weakest

__all__ = [
    "Array",
    "Formula",
    "Known",
    "Recording",
    "Source",
    "Step",
    "Value",
    "formula",
    "traced",
    "weakest",
    "workings",
]
