"""What a grid analysis of a project's layout in use begins with."""

from stringerlab.assess.grid.records import Ground
from stringerlab.project import Project, Resolved, book_of


def ground_of(project: Project, resolved: Resolved) -> Ground | None:
    """Return the layout in use with what is found in it; None where none is in use.

    Parameters
    ----------
    project
        The document.
    resolved
        The same with ids swapped for objects.
    """
    layout = next((one for one in project.layouts if one.id == project.layout), None)
    if layout is None or resolved.found is None:
        return None
    bays = {bay.id for bay in resolved.found.bays}
    spans = {span.id for span in resolved.found.spans}
    return Ground(
        layout=layout,
        found=resolved.found,
        craft=resolved.craft,
        panels={case.panel.id: case for case in resolved.panels if case.panel.id in bays},
        spans={case.span.id: case for case in resolved.spans if case.span.id in spans},
        shapes=resolved.shapes,
        stacks=resolved.stacks,
        book=book_of(project),
    )
