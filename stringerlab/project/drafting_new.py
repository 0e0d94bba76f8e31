"""Drafting: walls and fills drawn anew, point by point. mm."""

from collections.abc import Sequence
from dataclasses import replace
from difflib import get_close_matches
from math import isfinite

import numpy as np

from stringerlab.geometry import construct
from stringerlab.geometry.construct import Step
from stringerlab.project.drafting_parts import MEETING, refusal, with_parts
from stringerlab.project.problems import book_of
from stringerlab.project.records import Project
from stringerlab.section.records import Fill, Point, Side, Wall


def wall_drawn(
    project: Project,
    section_id: str,
    start: Point,
    steps: Sequence[Step],
    laminate: str,
    side: Side = Side.RIGHT,
    *,
    closed: bool = False,
    name: str = "",
) -> Project:
    """Return the project with a wall drawn from a point in straight steps and arcs, under a new id.

    Arcs become corners with fillets of their radius. A step without length is left out.

    Parameters
    ----------
    project
        The project.
    section_id
        The section.
    start
        First point [mm].
    steps
        ``Leg(to)`` and ``Arc(through, to)``.
    laminate
        Its id.
    side
        Of the line as it is drawn, on which the laminate builds.
    closed
        Whether it ends on its first point; a last step back to it is the closing leg.
    name
        Of the wall.

    Raises
    ------
    StringerlabError
        When there is no such section or laminate, a point lies outside the drawing, or too few are left.
    """
    if laminate not in {each.id for each in project.laminates}:
        what = f"There is no laminate '{laminate}'."
        raise refusal(project, section_id, "", what, "Pick a laminate of this project.")
    given = [start, *(point for step in steps for point in _points_of(step))]
    if not all(isfinite(value) for point in given for value in point):
        raise refusal(project, section_id, "", "A drawn point is not a number.", "Draw it anew.")
    here, taken = start, list[Step]()
    for step in steps:
        if construct.distance(here, step.to) >= MEETING:
            taken.append(step)
            here = step.to
    points, radii = construct.flattened(start, taken)
    wall = Wall(id="", points=points, laminate=laminate, side=side, fillets=radii, closed=closed, name=name)
    if closed and len(points) > 1 and construct.distance(points[0], points[-1]) < MEETING:
        wall = replace(wall, points=points[:-1], fillets=radii[:-1])
    if not any(wall.fillets):
        wall = replace(wall, fillets=())
    return with_parts(project, section_id, {}, [wall])


def _points_of(step: Step) -> tuple[Point, ...]:
    return (step.through, step.to) if isinstance(step, construct.Arc) else (step.to,)


def fill_drawn(
    project: Project, section_id: str, points: Sequence[Point], material: str, *, name: str = ""
) -> Project:
    """Return the project with a fill drawn point by point, under a new id.

    Raises
    ------
    StringerlabError
        When there is no such section or solid material, or the points bound no area.
    """
    refuse_unknown_solid(project, section_id, material)
    from stringerlab.geometry import planar

    fill = Fill(id="", points=tuple(points), material=material, name=name)
    grown = with_parts(project, section_id, {}, [fill])
    if not planar.ring_is_sound(np.array(fill.points, float)):
        what = "The outline crosses or touches itself, or encloses nothing."
        raise refusal(project, section_id, "", what, "Draw it once around.")
    return grown


def refuse_unknown_solid(project: Project, section_id: str, material: str) -> None:
    """Raise when there is no solid material of an id, in the project or shipped."""
    book = book_of(project)
    if book.solid(material) is None:
        names = [each.id for each in project.materials.solids]
        near = get_close_matches(material, names, n=1)
        remedy = f"Did you mean '{near[0]}'?" if near else "Pick a foam, block or putty."
        raise refusal(project, section_id, "", f"There is no solid '{material}'.", remedy)
