"""The members as the shop meets them: runs of one section, how long, how many, where.

Those of the layout in use run through their crossings from end to end; spans given by hand are runs of their
own. Lengths in mm, in the skin.
"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stringerlab.craft import Bottom, bottom
from stringerlab.drawing.plan_shapes import clean
from stringerlab.drawing.plans import pieces_of
from stringerlab.errors import StringerlabError
from stringerlab.layout.plan import Layout, Member
from stringerlab.layout.plan_lines import standing
from stringerlab.project import Project
from stringerlab.project.finding import layout_in_use
from stringerlab.section import Section

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Run:
    """A stretch of a member with one section, and how many alike the boat has."""

    id: str
    """Of the member, or of the span given by hand."""
    name: str
    section: Section
    length: float
    """Of one, in the skin [mm]."""
    count: int
    lines: tuple[Array, ...] = ()
    """(n, 2) in plan, port first, from the member's first point; none of a span given by hand."""
    start: float = 0.0
    """Where it begins along its member, in plan [mm]."""
    member: Member | None = None
    """None of a span given by hand."""


def hull_bottom(project: Project) -> Bottom | None:
    """Return the craft's bottom; None where its stations make none."""
    try:
        return bottom(project.craft)
    except StringerlabError:
        return None


def runs_of(project: Project) -> tuple[Run, ...]:
    """Return the runs of the layout in use, then the spans given by hand; all of them with a section."""
    sections = {section.id: section for section in project.sections}
    hull, layout = hull_bottom(project), layout_in_use(project)
    runs: list[Run] = []
    if layout is not None and hull is not None:
        runs += _drawn(layout, hull, sections)
    for span in project.spans:
        if span.section in sections:
            section = sections[span.section]
            runs.append(Run(id=span.id, name=span.name, section=section, length=span.lu, count=span.count))
    return tuple(runs)


def _drawn(layout: Layout, hull: Bottom, sections: dict[str, Section]) -> Iterator[Run]:
    for member in layout.members:
        lines = [line for line in map(clean, standing(member)) if len(line) > 1]
        if not lines:
            continue
        start = 0.0
        for number, (section, piece) in enumerate(pieces_of(member, lines[0])):
            mirrored = [list(pieces_of(member, line))[number][1] for line in lines[1:]]
            if section in sections:
                yield Run(
                    id=member.id,
                    name=member.name,
                    section=sections[section],
                    length=hull.length(piece),
                    count=len(lines),
                    lines=(piece, *mirrored),
                    start=start,
                    member=member,
                )
            start += float(np.hypot(*np.diff(piece, axis=0).T).sum())


def in_use(project: Project) -> tuple[Section, ...]:
    """Return the sections that any member has, in the order of the file."""
    used = {run.section.id for run in runs_of(project)}
    return tuple(section for section in project.sections if section.id in used)


def hands(run: Run) -> tuple[str, ...]:
    """Return what each of a run's pieces is called on the shop floor."""
    if len(run.lines) == 2:
        return ("port", "starboard")
    if run.lines and run.member is not None:
        return (str(run.member.hand),)
    return tuple(f"no. {number} of {run.count}" for number in range(1, run.count + 1))
