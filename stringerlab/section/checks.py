"""Everything wrong with a section's drawing, at once."""

from stringerlab.errors import Problem
from stringerlab.section.bodies import bodies, fill_faults, lap_faults
from stringerlab.section.drawing import draw, wall_strokes
from stringerlab.section.records import Section, SectionShape


def problems(shape: SectionShape | Section, deadrise: float | None = None) -> tuple[Problem, ...]:
    """Return all that is wrong: what forbids a number (`faults`) and what is put right (`repairs`).

    Parameters
    ----------
    shape
        A section, resolved or as drawn; without laminates only its lines and outlines can be looked at.
    deadrise
        Slope of the shell it is drawn on [rad]; None to look at it without any shell.
    """
    return faults(shape, deadrise) + repairs(shape, deadrise)


def faults(shape: SectionShape | Section, deadrise: float | None = None) -> tuple[Problem, ...]:
    """Return what forbids a number."""
    if isinstance(shape, SectionShape):
        return bodies(shape, deadrise=deadrise).faults
    found = [*lap_faults(shape), *draw(wall_strokes(shape)).faults]
    for fill in shape.fills:
        found += fill_faults(shape.name, fill)
    return tuple(found)


def repairs(shape: SectionShape | Section, deadrise: float | None = None) -> tuple[Problem, ...]:
    """Return what was put right and counted so: repeated points, overlaps, what reaches into the plating."""
    if isinstance(shape, SectionShape):
        return bodies(shape, deadrise=deadrise).repairs
    return draw(wall_strokes(shape)).repairs
