"""Methods: each one way to get demands and capacities, a standard's form or first principles.

A method is a module or package of this room that states ``METHOD``; nothing else need know of it.
"""

from stringerlab.methods.discovery import available, method_named
from stringerlab.methods.ends import EndFactors, end_factors
from stringerlab.methods.evaluation import Evaluation, Level
from stringerlab.methods.judging import findings, not_judged
from stringerlab.methods.records import (
    NOTICE,
    SHORT_ABOVE,
    TIGHT_ABOVE,
    Aspect,
    CraftRow,
    Finding,
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
    Verdict,
    utilisation_text,
    verdict_of,
)
from stringerlab.methods.rows import craft_row, panel_rows, plating_rows, sandwich_rows, span_rows

__all__ = [
    "NOTICE",
    "SHORT_ABOVE",
    "TIGHT_ABOVE",
    "Aspect",
    "CraftRow",
    "EndFactors",
    "Evaluation",
    "Finding",
    "Governing",
    "Judged",
    "Level",
    "Method",
    "PanelRows",
    "Part",
    "PlatingRows",
    "Plies",
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
    "panel_rows",
    "plating_rows",
    "sandwich_rows",
    "span_rows",
    "utilisation_text",
    "verdict_of",
]
