"""Where a finding governs: the wall or fill of a span's section, the ply of a panel's laminate."""

from stringerlab.methods import Finding
from stringerlab.project import Project, Resolved
from stringerlab.section.plies import stack_sizes


def drawn_place(finding: Finding, project: Project, resolved: Resolved) -> str:
    """Return the id of what is drawn where a finding governs.

    A wall's or fill's id where one governs, else the section's; a laminate's id with ``/3`` for its third
    ply where a ply governs; empty where the subject has gone.
    """
    for span in project.spans:
        if span.id == finding.subject:
            return _part(finding.governs, span.section, resolved) or span.section
    for panel in project.panels:
        if panel.id == finding.subject:
            ply = _ply(finding.governs, panel.laminate, resolved)
            return f"{panel.laminate}/{ply}" if ply else panel.laminate
    return ""


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
    labels = stack_sizes(stack).labels if stack is not None else ()
    return labels.index(governs) + 1 if governs in labels else 0
