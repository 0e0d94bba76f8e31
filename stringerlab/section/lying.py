"""Walls that lie on the hull: whether they do, and what is said of how much of them counts. mm, rad."""

import numpy as np

from stringerlab.errors import Problem
from stringerlab.section.contact import CONTACT as TOUCHING
from stringerlab.section.contact import in_shell_axes
from stringerlab.section.drawn import drawn_walls
from stringerlab.section.records import Section, SectionShape
from stringerlab.section.webs import CONTACT
from stringerlab.units import Kind
from stringerlab.units import format as shown


def lying_faults(section: Section, shape: SectionShape, deadrise: float) -> tuple[Problem, ...]:
    """Return the faults of walls marked as lying on the hull which do not.

    Parameters
    ----------
    section
        As drawn, with its marks.
    shape
        The same, resolved.
    deadrise
        Slope of the shell it is drawn on [rad].
    """
    marked = {wall.id for wall in section.walls if wall.on_hull is not None}
    if not marked:
        return ()
    found: list[Problem] = []
    for wall in drawn_walls(shape):
        if wall.id not in marked:
            continue
        tool, far = (
            in_shell_axes(face[:, 0] + 1j * face[:, 1], deadrise).imag for face in (wall.tool, wall.face)
        )
        below = tool if tool.mean() <= far.mean() else far
        off = float(np.abs(below - np.clip(below, -TOUCHING, shape.bead + CONTACT)).max())
        if off > 0:
            on = "the shell or its bead" if shape.bead else "the shell"
            found.append(
                Problem(
                    f"It is marked as lying on the hull, but a part of it stands "
                    f"{shown(float(np.abs(below).max()), Kind.LENGTH, digits=3)} off the shell.",
                    f"section '{section.name}', wall '{wall.id}'",
                    f"Move it onto {on}, or take the mark away.",
                )
            )
    return tuple(found)


def lying_notes(section: Section) -> tuple[str, ...]:
    """Return what is said of the walls that lie on the hull, wherever a number of the section is used."""
    return tuple(
        dict.fromkeys(
            _note(wall.name or wall.id, wall.on_hull.counted, wall.on_hull.voids)
            for wall in section.walls
            if wall.on_hull is not None
        )
    )


def _note(name: str, counted: float, voids: float) -> str:
    if not counted:
        return f"pan on hull not counted: {name} is not marked fully bonded"
    share, allowed = f"{100 * counted:.3g} %", f"{100 * voids:.3g} %"
    return f"pan on hull counted at {share}: {name} is marked fully bonded, {allowed} voids allowed"
