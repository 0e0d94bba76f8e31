"""Where a finding governs: the wall or fill of a span's section, the ply of a panel's laminate or zone."""

from stringerlab.layout import Panel
from stringerlab.methods import Finding
from stringerlab.project import Project, Resolved
from stringerlab.project.plating import zones_under
from stringerlab.section.plies import stack_sizes


def drawn_place(finding: Finding, project: Project, resolved: Resolved) -> str:
    """Return the id of what is drawn where a finding governs.

    A wall's or fill's id where one governs, else the section's; a laminate's id with ``/3`` for its third
    ply where a ply governs; empty where the subject has gone.
    """
    subject = next((each for each in resolved.subjects if each.id == finding.subject), None)
    if subject is None:
        return ""
    if isinstance(subject, Panel):
        return _of_panel(finding.governs, subject, project, resolved)
    return _part(finding.governs, subject.section, resolved) or subject.section


def _of_panel(governs: str, panel: Panel, project: Project, resolved: Resolved) -> str:
    """Return where the ply that governs is drawn: in the panel's laminate, a zone's, or its pan's."""
    zones = zones_under(project, panel)
    pan = [("", panel.pan.laminate)] if panel.pan is not None else []
    drawn = [(zone.name, zone.laminate) for zone in zones] or [("", panel.laminate)]
    for name, laminate in (*drawn, *pan):
        for known in (governs, governs.removesuffix(f", of {name}")) if name else (governs,):
            if ply := _ply(known, laminate, resolved):
                return f"{laminate}/{ply}"
    return zones[0].id if zones else panel.laminate


def _part(governs: str, section: str, resolved: Resolved) -> str:
    """Return the id of the wall or fill that a fibre is of; empty where it is of none, as of the plating."""
    shape = resolved.shapes.get(section)
    if shape is None or not governs:
        return ""
    for wall in shape.walls:
        if any(governs == f"{wall.id} {label}" for label in stack_sizes(wall.stack).labels):
            return wall.id
    return next((fill.id for fill in shape.fills if governs == f"{fill.id}: {fill.name}"), "")


def _ply(governs: str, laminate: str, resolved: Resolved) -> int:
    """Return the number of the ply that governs, from 1; 0 where none is named."""
    stack = resolved.stacks.get(laminate)
    if stack is None or governs not in stack.labels:
        return 0
    return stack.numbers[stack.labels.index(governs)]
