"""A project resolved again after a change to sections or layouts alone: the rest is taken over. For drags.

The answer equals that of ``resolve``; where it might not, as when the changed section has a fault or a repair
to tell of, ``resolve`` itself gives it.
"""

from collections.abc import Mapping
from dataclasses import replace

from stringerlab.laminate.records import Stack
from stringerlab.layout.plan import Layout
from stringerlab.project.contents import LayoutPart, things, uses
from stringerlab.project.doubts import doubts
from stringerlab.project.finding import layout_in_use
from stringerlab.project.layout_cases import laid_in_use
from stringerlab.project.layout_problems import layout_problems
from stringerlab.project.marking import reconciled
from stringerlab.project.places import Path
from stringerlab.project.problems import Faults, book_of
from stringerlab.project.records import Project
from stringerlab.project.resolving import Resolved, cases_of, resolve
from stringerlab.project.section_shapes import drawn_deadrise, member_sizes
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
    slopes = {section.id: drawn_deadrise(section) for section in project.sections}
    fresh = replace(
        resolved,
        shapes=shapes,
        spans=tuple(
            replace(case, section=shapes[case.span.section], drawn_deadrise=slopes[case.span.section])
            for case in resolved.spans
        ),
    )
    if _same_plan(project, earlier):
        return fresh
    return _laid_again(project, fresh) or resolve(project)


def _alike(one: Project, other: Project) -> bool:
    """Whether two projects may differ in how their sections and layouts are drawn, and in nothing else."""
    same = ("craft", "materials", "laminates", "zones", "panels", "spans", "bonding")
    return (
        all(getattr(one, name) is getattr(other, name) for name in same)
        and one.method == other.method
        and [section.id for section in one.sections] == [section.id for section in other.sections]
    )


def _same_plan(project: Project, earlier: Project) -> bool:
    """Whether the layouts are as they were, and the sections of the one in use as high and as wide."""
    if project.layouts is not earlier.layouts or project.layout != earlier.layout:
        return False
    layout = layout_in_use(project)
    return layout is None or member_sizes(project, layout) == member_sizes(earlier, layout)


def _laid_again(project: Project, resolved: Resolved) -> Resolved | None:
    """Return a project with its layout looked through again; None where anything else is wrong with it."""
    told = {placed.problem for placed in resolved.amiss}
    if any(problem not in told for problem in resolved.problems) or not _soundly_drawn(project):
        return None
    marked = reconciled(project)
    book = book_of(marked)
    paths: dict[tuple[str, str], Path] = {}
    for thing in things(marked):
        paths.setdefault((thing.kind, thing.record.id), thing.path)
    wrong = Faults(paths)
    made = laid_in_use(marked, wrong, cases_of(marked, book, resolved.stacks, resolved.shapes))
    return replace(
        resolved,
        panels=resolved.panels[: len(project.panels)] + made.panels,
        spans=resolved.spans[: len(project.spans)] + made.spans,
        blocked=made.blocked,
        problems=wrong.every(marked),
        doubts=(*doubts(marked, book), *made.doubts),
        found=made.found,
        amiss=made.amiss,
        subjects=(*project.panels, *project.spans, *made.subjects),
    )


def _soundly_drawn(project: Project) -> bool:
    """Whether nothing is wrong with the records of layouts, each alone, and with what they name."""
    ids: set[str] = set()
    known: set[tuple[str, str]] = set()
    for thing in things(project):
        record = thing.record
        if isinstance(record, Layout | LayoutPart) and any(layout_problems(record, "")):
            return False
        if thing.path[0] != "materials" and record.id in ids:
            return False
        ids.add(record.id)
        known.add((thing.kind, record.id))
    book = book_of(project)
    for use in uses(project):
        if use.path[0] != "layouts":
            continue
        [kind] = use.kinds
        if (kind, use.id) not in known and not (kind == "solid" and book.solid(use.id) is not None):
            return False
    return not project.layout or layout_in_use(project) is not None


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
    built = bodies(shape, deadrise=drawn_deadrise(section))
    wrong = built.faults or built.repairs or lying_faults(section, shape, drawn_deadrise(section))
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
