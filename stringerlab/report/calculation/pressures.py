"""Design pressures subject by subject, as the findings' own workings have them."""

from collections.abc import Iterator, Mapping

import numpy as np

from stringerlab.methods import Finding, FindingKind, Part
from stringerlab.report.calculation.told import NONE, Told
from stringerlab.report.markup import heading, note, said, shares, table
from stringerlab.report.paper import Sheet
from stringerlab.units import Kind, rounded
from stringerlab.workings import Step
from stringerlab.workings.recording import row_of

_PARTS = (Part.PRESSURE, Part.AREA_FACTOR, Part.LENGTH_FACTOR, Part.ACCELERATION)
_GOVERNS = "governs the pressure"


def pressures(told: Told) -> Sheet:
    """Return the design pressure of every subject with the factors behind it."""
    method = told.results.method
    rows = [row for finding in _first_ruled(told) if (row := _row(told, finding, method.parts)) is not None]
    parts = [heading("Design pressures")]
    if not rows:
        parts.append(note("No finding rests on a design pressure of this method."))
        return Sheet(markup="\n\n".join(parts))
    symbols = [method.parts.get(part, "") for part in _PARTS]
    head = ["Id", "Subject", "Surface", "x", *_titles(symbols), "Governed by"]
    parts += [
        said(
            f"By {method.name}. Each stands clause by clause in the workings; here beside one another, from "
            "the same run."
        ),
        table(head, rows, shares(9, 50, 17, 16, 20, 15, 15, 18, 21), right=range(3, 8), size=7.4),
        note(f"{NONE}: the method has no such factor for the subject."),
    ]
    return Sheet(markup="\n\n".join(parts))


def _titles(symbols: list[str]) -> list[str]:
    words = ("Pressure", "Area factor", "Length factor", "Acceleration")
    return [f"{word} {symbol}".strip() for word, symbol in zip(words, symbols, strict=True)]


def _first_ruled(told: Told) -> Iterator[Finding]:
    """Yield of every subject the rule's finding that rests on a pressure, the first that does."""
    pressure = told.results.method.parts.get(Part.PRESSURE)
    seen: set[str] = set()
    for finding in told.results.findings:
        if finding.kind is FindingKind.RULE and finding.subject not in seen and _step(finding, pressure):
            seen.add(finding.subject)
            yield finding


def _step(finding: Finding, symbol: str | None) -> Step | None:
    """Return the last step that gives a symbol: the one that all others go into."""
    if not symbol:
        return None
    return next((step for step in reversed(finding.steps) if step.formula.symbol == symbol), None)


def _row(told: Told, finding: Finding, parts: Mapping[Part, str]) -> list[str] | None:
    subject = told.subjects.get(finding.subject)
    if subject is None:
        return None
    governs = next((each for each in finding.notes if each.endswith(_GOVERNS)), "")
    return [
        finding.subject,
        finding.name,
        subject.surface.value,
        told.length(subject.x),
        *(_value(told, finding, parts.get(part)) for part in _PARTS),
        governs.removesuffix(_GOVERNS).strip() or NONE,
    ]


def _value(told: Told, finding: Finding, symbol: str | None) -> str:
    step = _step(finding, symbol)
    if step is None or np.ndim(step.result) > 1:
        return NONE
    value, kind = row_of(step.result, finding.row), step.formula.unit.kind
    if np.isnan(value):
        return NONE
    return rounded(value, 3) if kind is Kind.RATIO else told.show(value, kind)
