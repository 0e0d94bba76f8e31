"""A project resolved again after a change to sections alone: what did not change is taken over. For drags.

The answer equals that of ``resolve``; where it might not, as when the changed section has a fault or a repair
to tell of, ``resolve`` itself gives it.
"""

import math
from collections.abc import Mapping
from dataclasses import replace

from stringerlab.laminate.records import Stack
from stringerlab.project.records import Project
from stringerlab.project.resolving import Resolved, resolve
from stringerlab.section.bodies import bodies
from stringerlab.section.lying import lying_faults
from stringerlab.section.records import FillShape, Section, SectionShape, WallShape
from stringerlab.units.ranges import range_problems


def resolved_again(project: Project, earlier: Project, resolved: Resolved) -> Resolved:
    """Return a project with ids swapped for objects.

    Parameters
    ----------
    project
        The project as it is now.
    earlier, resolved
        An earlier one, and what ``resolve`` or this function made of it.
    """
    if project is earlier:
        return resolved
    if not _alike(project, earlier):
        return resolve(project)
    shapes = dict(resolved.shapes)
    for section, before in zip(project.sections, earlier.sections, strict=True):
        if section is before:
            continue
        shape = _sound(section, before, resolved)
        if shape is None:
            return resolve(project)
        shapes[section.id] = shape
    slopes = {section.id: _deadrise(section) for section in project.sections}
    return replace(
        resolved,
        shapes=shapes,
        spans=tuple(
            replace(case, section=shapes[case.span.section], drawn_deadrise=slopes[case.span.section])
            for case in resolved.spans
        ),
    )


def _alike(one: Project, other: Project) -> bool:
    """Whether two projects may differ in what their sections are drawn like, and in nothing else."""
    same = ("craft", "materials", "laminates", "zones", "panels", "spans", "bonding")
    return (
        all(getattr(one, name) is getattr(other, name) for name in same)
        and one.method == other.method
        and [section.id for section in one.sections] == [section.id for section in other.sections]
    )


def _sound(section: Section, before: Section, resolved: Resolved) -> SectionShape | None:
    """Return the shape of a changed section; None where anything is to be said about it."""
    shape = resolved.shapes.get(before.id)
    if (
        shape is None
        or section.reference is not before.reference
        or (section.laps, section.bead, section.name, section.adhesive)
        != (before.laps, before.bead, before.name, before.adhesive)
        or [(wall.id, wall.on_hull) for wall in section.walls]
        != [(wall.id, wall.on_hull) for wall in before.walls]
        or [(fill.id, fill.material, fill.name) for fill in section.fills]
        != [(fill.id, fill.material, fill.name) for fill in before.fills]
        or any(f"({section.id})" in problem.where for problem in (*resolved.problems, *resolved.repairs))
    ):
        return None
    changed = (
        [wall for wall, was in zip(section.walls, before.walls, strict=True) if wall != was],
        [fill for fill, was in zip(section.fills, before.fills, strict=True) if fill != was],
    )
    if any(range_problems(part) for part in (*changed[0], *changed[1])):
        return None
    if any(wall.laminate not in resolved.stacks for wall in changed[0]):
        return None
    shape = _redrawn(section, before, shape, resolved.stacks)
    built = bodies(shape, deadrise=_deadrise(section))
    wrong = built.faults or built.repairs or lying_faults(section, shape, _deadrise(section))
    return None if wrong else shape


def _redrawn(
    section: Section, before: Section, shape: SectionShape, stacks: Mapping[str, Stack]
) -> SectionShape:
    walls = tuple(
        drawn
        if wall == was
        else WallShape(
            id=wall.id,
            points=wall.points,
            fillets=wall.fillets,
            side=wall.side,
            closed=wall.closed,
            stack=stacks[wall.laminate],
            counted=wall.on_hull.counted if wall.on_hull else 1.0,
        )
        for wall, was, drawn in zip(section.walls, before.walls, shape.walls, strict=True)
    )
    fills: tuple[FillShape, ...] = tuple(
        replace(drawn, points=fill.points) for fill, drawn in zip(section.fills, shape.fills, strict=True)
    )
    return replace(shape, walls=walls, fills=fills)


def _deadrise(section: Section) -> float:
    return math.radians(section.reference.deadrise) if section.reference else 0.0
