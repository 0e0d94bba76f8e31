"""Where the gap between part and hull is measured at the dry fit, and what it is to be. mm."""

from dataclasses import dataclass
from math import floor

import numpy as np

from stringerlab.assess import section_facts
from stringerlab.assess.sections import sound_shape
from stringerlab.drawing.plan_shapes import at_parts, distances
from stringerlab.errors import StringerlabError
from stringerlab.project import Project, Resolved
from stringerlab.project.section_shapes import drawn_deadrise
from stringerlab.report.shop.members import Array, Run, hands, runs_of
from stringerlab.report.shop.practice import Practice
from stringerlab.units.ranges import range_problems

_NEAR = 0.25
"""A station nearer to the end than this part of a step is left out."""


@dataclass(frozen=True, slots=True, kw_only=True)
class GapLine:
    """The stations of one piece of a member, at which every bonded flange is measured."""

    name: str
    hand: str
    section: str
    flanges: int
    bead: float
    tolerance: float
    stations: tuple[float, ...]
    """From the member's first point [mm], in plan where it is drawn."""
    places: tuple[tuple[float, float], ...]
    """x, y of every station; none of a span given by hand."""


def gap_lines(project: Project, resolved: Resolved, practice: Practice) -> tuple[GapLine, ...]:
    """Return the stations of every member that is bonded on a bead.

    Parameters
    ----------
    project, resolved
        The document, and the same with ids swapped for objects.
    practice
        The step from station to station.
    """
    tolerance = 0.0 if range_problems(project.bonding) else project.bonding.gap_tolerance.value
    found: list[GapLine] = []
    for run in runs_of(project):
        flanges = flange_count(resolved, run)
        if run.section.bead <= 0 or not flanges:
            continue
        for number, hand in enumerate(hands(run)):
            line = run.lines[number] if run.lines else None
            stations, places = _stations(run, line, practice.station_step.value)
            found.append(
                GapLine(
                    name=run.name,
                    hand=hand,
                    section=run.section.name,
                    flanges=flanges,
                    bead=run.section.bead,
                    tolerance=tolerance,
                    stations=stations,
                    places=places,
                )
            )
    return tuple(found)


def flange_count(resolved: Resolved, run: Run) -> int:
    """Return how many flanges of a run's section lie on the shell or its bead; 0 for one with faults."""
    try:
        shape = sound_shape(resolved, run.section)
        return len(section_facts(shape, drawn_deadrise(run.section)).bonded)
    except StringerlabError:
        return 0


def _stations(
    run: Run, line: Array | None, step: float
) -> tuple[tuple[float, ...], tuple[tuple[float, float], ...]]:
    whole = run.length if line is None else float(distances(line)[-1])
    count = max(floor(whole / step - _NEAR) + 1, 1)
    along = np.array([*(step * np.arange(count)), whole])
    if line is None:
        return tuple(along.tolist()), ()
    places = at_parts(line, along / whole)
    return tuple((run.start + along).tolist()), tuple((float(x), float(y)) for x, y in places)
