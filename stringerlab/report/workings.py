"""A finding's workings as a page: what was asked and what is there, then formula by formula, as they ran."""

import re
from dataclasses import dataclass
from typing import Literal

from stringerlab.methods import Finding, utilisation_text
from stringerlab.report.setting import escaped, page_of, template
from stringerlab.units import System, format
from stringerlab.workings.shown import lines, typst_lines

WorkingsFormat = Literal["svg", "png"]
NO_WORKINGS = "Not judged, so there are no workings."
_HEADING = re.compile(r"\*\d+\. ")


@dataclass(frozen=True, slots=True)
class _Look:
    ink: str
    faint: str
    paper: str


_LOOKS = {False: _Look("#1d2730", "#565e67", "#fcfbf8"), True: _Look("#e7eaec", "#a9b3bb", "#181e24")}


def workings_page(
    finding: Finding,
    system: System,
    *,
    dark: bool = False,
    width_pt: float = 480.0,
    form: WorkingsFormat = "svg",
    ppi: float = 144.0,
    paper: bool = False,
    head: bool = True,
) -> bytes:
    """Return a finding's workings as one page, as tall as it needs.

    Parameters
    ----------
    finding
        The finding, as a check gave it.
    system
        Units of the project, in which inputs and results are repeated.
    dark
        Light ink for a dark ground.
    width_pt
        Width of the page [pt]; an equation that is wider is made smaller.
    form
        ``svg`` or ``png``.
    ppi
        Dots an inch of a PNG.
    paper
        Fill the page's ground, for a picture that goes elsewhere; else it is left clear.
    head
        Begin with the finding itself and its notes; without it the page is the formulas alone.

    Raises
    ------
    StringerlabError
        When the page cannot be set.
    """
    look = _LOOKS[dark]
    inputs = {
        "ink": look.ink,
        "faint": look.faint,
        "paper": look.paper if paper else "",
        "width": f"{max(width_pt, 120.0):.2f}",
    }
    what = f"workings of {finding.name} ({finding.subject}), {finding.aspect.value}"
    return page_of(_markup(finding, system, head=head), inputs, what=what, form=form, ppi=ppi)


def workings_text(finding: Finding, system: System) -> str:
    """Return the same page as plain text, at most 100 columns wide."""
    head = [_title(finding), *_said(finding, system), *finding.notes]
    page = lines(finding.steps, finding.row, system) if finding.steps else [NO_WORKINGS]
    return "\n".join([*head, "", *page])


def _markup(finding: Finding, system: System, *, head: bool) -> str:
    blocks = [template("workings")]
    if head:
        blocks.append(f"#title[{escaped(_title(finding))}]")
        blocks += [f"#said[{escaped(line)}]" for line in _said(finding, system)]
        blocks += [f"#remark[{escaped(note)}]" for note in finding.notes]
    if finding.steps:
        blocks += [_styled(block) for block in typst_lines(finding.steps, finding.row, system)]
    else:
        blocks.append(f"#said[{escaped(NO_WORKINGS)}]")
    return "\n\n".join(blocks)


def _styled(block: str) -> str:
    if _HEADING.match(block):
        return f"#step[{block}]"
    return f"#remark[{block}]" if block.startswith('#"Source: ') else block


def _title(finding: Finding) -> str:
    return f"{finding.name} ({finding.subject}): {finding.aspect.value}"


def _said(finding: Finding, system: System) -> list[str]:
    said: list[str] = []
    if finding.demand is not None and finding.capacity is not None and finding.utilisation is not None:
        kind = finding.unit.kind
        demand, capacity = (format(value, kind, system) for value in (finding.demand, finding.capacity))
        said.append(
            f"Demand {demand}, capacity {capacity}, "
            f"utilisation {utilisation_text(finding.utilisation)}: {finding.verdict.value}"
        )
    else:
        said.append(f"Verdict: {finding.verdict.value}")
    said.append(f"{finding.source}; known: {finding.known.value}")
    return said
