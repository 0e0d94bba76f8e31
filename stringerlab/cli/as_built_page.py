"""``check --as-built``: the boat as the shop measured it, and what changed from the boat as drawn."""

from collections.abc import Sequence
from typing import Any

from stringerlab.assess.as_built import AsBuiltResults, Change
from stringerlab.cli.table import Column, coloured, paragraph, table
from stringerlab.methods import NOTICE, Finding, utilisation_text

_COLUMNS = (
    Column("subject", 30),
    Column("aspect", 26),
    Column("as drawn", 17),
    Column("as built", 17),
)


def page(found: AsBuiltResults) -> list[str]:
    """Return the lines of what changed, verdicts first."""
    text = [
        *paragraph(NOTICE),
        "",
        *paragraph(f"Project  {found.drawn.project.name}, as drawn against as built"),
        *paragraph(f"Method   {found.built.method.name}"),
        "",
    ]
    turned = [change for change in found.changes if change.verdict_changed]
    others = [change for change in found.changes if not change.verdict_changed]
    if not found.changes:
        return [*text, "Nothing changed: what was measured changes no finding."]
    if turned:
        text += ["Verdicts that changed", *_table(turned), ""]
    if others:
        text += ["Utilisations that changed", *_table(others), ""]
    return [*text, *paragraph(_summary(found))]


def _table(changes: Sequence[Change]) -> list[str]:
    lines = table(_COLUMNS, [])
    for change in changes:
        row = (
            f"{change.name} ({change.subject})",
            change.aspect.value,
            _said(change.before),
            _said(change.after),
        )
        verdict = change.after.verdict.value if change.after is not None else ""
        made = table(_COLUMNS, [row])[2:]
        lines += [coloured(line, verdict) for line in made] if verdict and change.worse else made
    return lines


def _said(finding: Finding | None) -> str:
    if finding is None:
        return "not asked"
    if finding.utilisation is None:
        return finding.verdict.value
    return f"{utilisation_text(finding.utilisation)} {finding.verdict.value}"


def _summary(found: AsBuiltResults) -> str:
    worse = sum(change.worse for change in found.changes)
    turned = sum(change.verdict_changed for change in found.changes)
    return (
        f"{len(found.changes)} of {len(found.built.findings)} findings changed, "
        f"{turned} of them to another verdict, {worse} to a worse one."
    )


def as_json(found: AsBuiltResults) -> dict[str, Any]:
    """Return what changed, each finding as drawn and as built."""
    return {
        "notice": NOTICE,
        "project": found.drawn.project.name,
        "method": found.built.method.id,
        "changes": [
            {
                "subject": change.subject,
                "name": change.name,
                "aspect": change.aspect.value,
                "as_drawn": _finding(change.before),
                "as_built": _finding(change.after),
                "verdict_changed": change.verdict_changed,
                "worse": change.worse,
            }
            for change in found.changes
        ],
    }


def _finding(finding: Finding | None) -> dict[str, Any] | None:
    if finding is None:
        return None
    return {
        "demand": finding.demand,
        "capacity": finding.capacity,
        "utilisation": finding.utilisation,
        "verdict": finding.verdict.value,
    }
