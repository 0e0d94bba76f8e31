"""An underlay of a layout: a drawing's lines kept as traces, to snap to and draw over; nothing ends there."""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from stringerlab.errors import Problem, StringerlabError
from stringerlab.layout.plan import Hand, LineKind, PlanLine, PlanPoint
from stringerlab.project.edits import replaced
from stringerlab.project.planning_lines import settled
from stringerlab.project.planning_parts import layout_of
from stringerlab.project.records import Project

MOST = 5_000
"""Traces in a layout."""


def with_traces(
    project: Project, layout: str, lines: Iterable[Sequence[PlanPoint]], name: str = "Underlay"
) -> Project:
    """Return the project with the lines of a drawing as traces in a layout, each where it was drawn.

    Parameters
    ----------
    project
        The project.
    layout
        The layout's id.
    lines
        (x, y) forward of the transom and to port of the centreline [mm]; what has no two points is left out.
    name
        Of every trace.

    Raises
    ------
    StringerlabError
        When there is no such layout, no line, or more than a layout takes.
    """
    drawn = layout_of(project, layout)
    traces = tuple(
        PlanLine(
            id="",
            name=name,
            kind=LineKind.TRACE,
            hand=Hand.CENTRELINE,
            points=tuple(settled(point) for point in line),
        )
        for line in lines
        if len(line) > 1
    )
    where = f"layout '{drawn.name}' ({drawn.id})"
    if not traces:
        raise StringerlabError(Problem("The drawing holds no line.", where, "Choose another."))
    if len(traces) > MOST:
        raise StringerlabError(
            Problem(
                f"The drawing holds {len(traces)} lines; a layout takes {MOST}.",
                where,
                "Save only the layers you need as a drawing of its own.",
            )
        )
    return replaced(project, replace(drawn, lines=(*drawn.lines, *traces)))


def without_traces(project: Project, layout: str) -> Project:
    """Return the project without any trace in a layout.

    Raises
    ------
    StringerlabError
        When there is no such layout.
    """
    drawn = layout_of(project, layout)
    kept = tuple(line for line in drawn.lines if line.kind is not LineKind.TRACE)
    return replaced(project, replace(drawn, lines=kept))
