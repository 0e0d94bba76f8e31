"""A design that was found, opened: the boat changed into it, or a layout of its own beside the present one.

Each is one edit, so one step to undo. Genes are those of the plan's space on the same project.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from stringerlab.errors import Problem, StringerlabError
from stringerlab.laminate.records import Laminate
from stringerlab.layout.plan import Layout
from stringerlab.project import edits, planning
from stringerlab.project.counting import Counter
from stringerlab.project.finding import layout_in_use
from stringerlab.project.planning_parts import numbered
from stringerlab.project.ply_edits import free_name
from stringerlab.project.records import Project
from stringerlab.project.wish_edits import boat_alone
from stringerlab.project.wishes import SizingPlan
from stringerlab.section.records import Section
from stringerlab.sizing.changing.changes import changed
from stringerlab.sizing.changing.following import with_wishes_followed
from stringerlab.sizing.changing.space import Row, Space
from stringerlab.sizing.changing.variables import variables_of

BOAT = "Open it as a boat of its own instead."
_CHANGED = Problem(
    "The boat was changed since the design was found, so that it is no longer the one that was judged.",
    "design",
    "Undo what was changed, or run the search again.",
)


def applied(project: Project, plan: SizingPlan, genes: Row, *, found_of: Sequence[Project] = ()) -> Project:
    """Return the project changed into a design; the very same where she is that already.

    Her wishes then name the members and plies that are there, so that a search goes on from her.

    Parameters
    ----------
    project, plan, genes
        The design.
    found_of
        The boat it was found of, and others that count as her; none: this one.

    Raises
    ------
    StringerlabError
        When the plan is wrong, the design cannot be drawn, or this boat, so changed, is another than the
        design that was found; which ids are new ones' makes no difference.
    """
    if not found_of or boat_alone(project) in map(boat_alone, found_of):
        return _applied(project, plan, genes)
    try:
        made = _applied(project, plan, genes)
        first = max(Counter(one).next for one in (project, *found_of))
        ours, *theirs = (
            boat_alone(_applied(replace(one, counter=first), plan, genes)) for one in (project, *found_of)
        )
        if ours in theirs:
            return made
    except StringerlabError as error:
        raise StringerlabError([_CHANGED, *error.problems]) from error
    raise StringerlabError(_CHANGED)


def _applied(project: Project, plan: SizingPlan, genes: Row) -> Project:
    changes = Space(variables_of(project, plan, tried=False)).changes(project, genes)
    made = changed(project, changes)
    return made if made is project else with_wishes_followed(project, made, changes)


def as_boat(
    project: Project, plan: SizingPlan, genes: Row, name: str = "", *, found_of: Sequence[Project] = ()
) -> Project:
    """Return a design as a project to save as a file of its own, under another name where one is given.

    Raises
    ------
    StringerlabError
        As by ``applied``.
    """
    made = applied(project, plan, genes, found_of=found_of)
    return replace(made, name=name) if name.strip() else made


def as_layout(
    project: Project,
    plan: SizingPlan,
    genes: Row,
    name: str,
    *,
    in_use: bool = False,
    found_of: Sequence[Project] = (),
) -> Project:
    """Return the project with a design as a layout beside the present one.

    Sections and laminates that the design changes are copied, their copies named after the layout: ``Main
    stringer (lighter 3)``; only the new layout uses them. What is given by hand stands beside every layout
    and stays as it is: see ``left_as_is``.

    Parameters
    ----------
    project, plan, genes
        The design.
    name
        Of the layout; it is given a number where there is one of that name.
    in_use
        Whether it is put in use; the present one stays in use otherwise.
    found_of
        As of ``applied``.

    Raises
    ------
    StringerlabError
        As by ``applied``; when no layout is in use, or the design changes what all layouts share: the
        boat's speed or displacement, panels and spans given by hand, a laminate of the hull's zones (under
        a member found in a layout its plating is always that of the zones); everything of it is told.
    """
    present = layout_in_use(project)
    if present is None:
        what = "No layout is in use, so there is none to stand beside."
        raise StringerlabError(Problem(what, "layout", BOAT))
    design = applied(project, plan, genes, found_of=found_of)
    shared = list(_shared(project, design))
    if shared:
        raise StringerlabError(shared)
    made = next(one for one in design.layouts if one.id == present.id)
    called = numbered(name.strip() or f"{present.name} 2", [one.name for one in project.layouts])
    grown = project
    laminates: dict[str, str] = {}
    sections: dict[str, str] = {}
    changed_laminates = {one.id: one for one in _changed(project.laminates, design.laminates)}
    wanted = _sections_of(made)
    renewed = [
        section
        for section in design.sections
        if section.id in wanted and _renewed(project, section, changed_laminates)
    ]
    needed = {wall.laminate for section in renewed for wall in section.walls} | _laminates_of(made)
    if design is not project and made == present and not renewed and not needed & set(changed_laminates):
        what = f"The design changes nothing of the layout in use, '{present.name}'."
        raise StringerlabError(Problem(what, "layout", "Put the layout in use that it was found for."))
    for laminate in design.laminates:
        if laminate.id in changed_laminates and laminate.id in needed:
            fresh = free_name(f"{laminate.name} ({called})", [one.name for one in grown.laminates])
            grown = edits.added(grown, replace(laminate, name=fresh))
            laminates[laminate.id] = grown.laminates[-1].id
    for section in renewed:
        fresh = free_name(f"{section.name} ({called})", [one.name for one in grown.sections])
        grown = edits.added(grown, _section_of(section, laminates, fresh))
        sections[section.id] = grown.sections[-1].id
    grown = planning.with_layout(grown, _layout_of(made, sections, laminates, called))
    return planning.with_layout_in_use(grown, grown.layouts[-1].id) if in_use else grown


def left_as_is(project: Project, plan: SizingPlan, genes: Row) -> tuple[str, ...]:
    """Return which spans given by hand a layout made of a design leaves as they are, though it changes them.

    Raises
    ------
    StringerlabError
        When the plan is wrong, or the design cannot be drawn.
    """
    design = applied(project, plan, genes)
    others = {one.id: one for one in _changed(project.laminates, design.laminates)}
    renewed = {one.id for one in design.sections if _renewed(project, one, others)}
    return tuple(span.name for span in project.spans if span.section in renewed or span.plating in others)


# -- what changed --------------------------------------------------------------------------------


def _changed(before: Iterable[Laminate], after: Iterable[Laminate]) -> list[Laminate]:
    held = {one.id: one for one in before}
    return [one for one in after if one != held.get(one.id)]


def _renewed(project: Project, section: Section, changed: Mapping[str, Laminate]) -> bool:
    """Whether a section is drawn otherwise than in a project, or of laminates that are others."""
    old = next(one for one in project.sections if one.id == section.id)
    return old != section or any(wall.laminate in changed for wall in section.walls)


def _shared(project: Project, design: Project) -> Iterable[Problem]:
    """Yield what a design changes that every layout shares."""
    craft = f"craft '{project.craft.name}'"
    for field, words in (("speed", "speed"), ("mass", "displacement")):
        if getattr(project.craft, field) != getattr(design.craft, field):
            what = f"The design changes the {words}, which is the boat's whatever her layout."
            yield Problem(what, craft, BOAT)
    for old, new in zip((*project.panels, *project.spans), (*design.panels, *design.spans), strict=True):
        if old != new:
            what = f"The design changes '{old.name}', which is given by hand and stands beside every layout."
            yield Problem(what, f"'{old.name}' ({old.id})", BOAT)
    changed = {one.id: one.name for one in _changed(project.laminates, design.laminates)}
    for zone in project.zones:
        if zone.laminate in changed:
            what = (
                f"The design changes the laminate '{changed[zone.laminate]}', which lies in the hull's zone "
                f"'{zone.name}' and is the plating of every layout's members."
            )
            yield Problem(what, f"zone '{zone.name}' ({zone.id})", BOAT)


# -- copies --------------------------------------------------------------------------------------


def _sections_of(layout: Layout) -> set[str]:
    held = {member.section for member in layout.members}
    return held | {stretch.section for member in layout.members for stretch in member.stretches}


def _laminates_of(layout: Layout) -> set[str]:
    held = {mark.laminate for mark in layout.bays} | {layout.supports.side_laminate}
    return held | {mark.pan.laminate for mark in layout.bays if mark.pan is not None}


def _section_of(section: Section, laminates: Mapping[str, str], name: str) -> Section:
    """Return a section with copied laminates in place of those it had."""
    reference = section.reference
    if reference is not None:
        reference = replace(reference, laminate=laminates.get(reference.laminate, reference.laminate))
    walls = tuple(
        replace(wall, laminate=laminates.get(wall.laminate, wall.laminate)) for wall in section.walls
    )
    return replace(section, name=name, walls=walls, reference=reference)


def _layout_of(
    layout: Layout, sections: Mapping[str, str], laminates: Mapping[str, str], name: str
) -> Layout:
    """Return a layout whose members have copied sections, its panels copied laminates."""

    def section(one: str) -> str:
        return sections.get(one, one)

    def laminate(one: str) -> str:
        return laminates.get(one, one)

    members = tuple(
        replace(
            member,
            section=section(member.section),
            stretches=tuple(replace(each, section=section(each.section)) for each in member.stretches),
        )
        for member in layout.members
    )
    bays = tuple(
        replace(
            mark,
            laminate=laminate(mark.laminate),
            pan=None if mark.pan is None else replace(mark.pan, laminate=laminate(mark.pan.laminate)),
        )
        for mark in layout.bays
    )
    supports = replace(layout.supports, side_laminate=laminate(layout.supports.side_laminate))
    return replace(layout, name=name, members=members, bays=bays, supports=supports)
