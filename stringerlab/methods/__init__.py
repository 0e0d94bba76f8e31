"""Methods: each one way to get demands and capacities, a standard's form or first principles.

A method is a module or package of this room that states ``METHOD``; nothing else need know of it.
"""

from stringerlab.methods.discovery import available, method_named
from stringerlab.methods.ends import EndFactors, end_factors
from stringerlab.methods.evaluation import Evaluation, Level
from stringerlab.methods.judging import findings, not_judged
from stringerlab.methods.pressed import PressureRows, panel_pressure_rows, span_pressure_rows
from stringerlab.methods.records import (
    NOTICE,
    Aspect,
    CraftRow,
    Finding,
    FindingKey,
    FindingKind,
    Governing,
    Judged,
    Method,
    PanelRows,
    Part,
    PlatingRows,
    Plies,
    Remark,
    SandwichRows,
    SpanRows,
)
from stringerlab.methods.rows import (
    craft_row,
    panel_rows,
    plating_rows,
    sandwich_rows,
    span_rows,
)
from stringerlab.methods.verdicts import SHORT_ABOVE, TIGHT_ABOVE, Verdict, utilisation_text, verdict_of

__all__ = [
    "NOTICE",
    "SHORT_ABOVE",
    "TIGHT_ABOVE",
    "Aspect",
    "CraftRow",
    "EndFactors",
    "Evaluation",
    "Finding",
    "FindingKey",
    "FindingKind",
    "Governing",
    "Judged",
    "Level",
    "Method",
    "PanelRows",
    "Part",
    "PlatingRows",
    "Plies",
    "PressureRows",
    "Remark",
    "SandwichRows",
    "SpanRows",
    "Verdict",
    "available",
    "craft_row",
    "end_factors",
    "findings",
    "method_named",
    "not_judged",
    "panel_pressure_rows",
    "panel_rows",
    "plating_rows",
    "sandwich_rows",
    "span_pressure_rows",
    "span_rows",
    "utilisation_text",
    "verdict_of",
]
