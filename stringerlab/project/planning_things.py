"""Edits of layouts and of what stands in them: pure, whole or not at all, and what is found keeps its ids.

Things go by id. Points are x forward and y to port in plan [mm]. Every edit ends in `reconciled`.
"""

from collections.abc import Iterable, Sequence
from dataclasses import fields, replace
from typing import Any

from stringerlab.errors import Problem, StringerlabError
from stringerlab.layout.plan import (
    Combination,
    Equipment,
    FlotationInputs,
    GridRules,
    Hand,
    Layout,
    Member,
    PlanLine,
    PlanPoint,
    Supports,
)
from stringerlab.project.contents import LayoutPart
from stringerlab.project.edits import added, removed, replaced
from stringerlab.project.marking import reconciled
from stringerlab.project.planning_lines import fitted, length
from stringerlab.project.planning_parts import (
    at_places,
    fresh_name,
    layout_of,
    numbered,
    part_of,
    places_of,
    refuse_outside,
    renumbered,
)
from stringerlab.project.records import Project

_OTHER = {Hand.PORT: Hand.STARBOARD, Hand.STARBOARD: Hand.PORT}


# -- layouts -------------------------------------------------------------------------------------


def with_layout(project: Project, layout: Layout | None = None) -> Project:
    """Return the project with a layout more, in use where none was; an empty one by default."""
    fresh = layout or Layout(id="", name=numbered("Layout", [one.name for one in project.layouts]))
    grown = added(project, fresh)
    if not project.layout:
        grown = replace(grown, layout=grown.layouts[-1].id)
    return reconciled(grown, grown.layouts[-1].id)


def duplicated_layout(project: Project, id: str, name: str = "") -> Project:  # noqa: A002
    """Return the project with a layout like another: everything in it under new ids.

    Raises
    ------
    StringerlabError
        When there is no such layout.
    """
    layout = layout_of(project, id)
    taken = [one.name for one in project.layouts]
    return with_layout(project, replace(layout, name=name or numbered(f"{layout.name} 2", taken)))


def without_layout(project: Project, id: str) -> Project:  # noqa: A002
    """Return the project without a layout and all that is in it; none is in use where this was.

    Raises
    ------
    StringerlabError
        When there is no such layout.
    """
    return removed(project, layout_of(project, id).id)


def with_layout_in_use(project: Project, id: str) -> Project:  # noqa: A002
    """Return the project with another layout judged; none for an empty id.

    Raises
    ------
    StringerlabError
        When there is no such layout.
    """
    if id and all(layout.id != id for layout in project.layouts):
        raise StringerlabError(Problem(f"There is no layout '{id}'.", "project", _offered(project)))
    return project if id == project.layout else reconciled(replace(project, layout=id))


def with_layout_values(project: Project, id: str, **values: Any) -> Project:  # noqa: A002
    """Return the project with another name, notes, supports or rules of a layout.

    Raises
    ------
    StringerlabError
        When there is no such layout.
    """
    return _with(project, replace(layout_of(project, id), **values))


def with_supports(project: Project, id: str, **values: Any) -> Project:  # noqa: A002
    """Return the project with other values in what holds a layout: see `Supports`.

    Raises
    ------
    StringerlabError
        When there is no such layout.
    """
    supports: Supports = replace(layout_of(project, id).supports, **values)
    return with_layout_values(project, id, supports=supports)


def with_rules(project: Project, id: str, **values: Any) -> Project:  # noqa: A002
    """Return the project with other values in how a layout is analysed: see `GridRules`.

    Raises
    ------
    StringerlabError
        When there is no such layout.
    """
    rules: GridRules = replace(layout_of(project, id).rules, **values)
    return with_layout_values(project, id, rules=rules)


def with_flotation(project: Project, id: str, **values: Any) -> Project:  # noqa: A002
    """Return the project with other values in what a layout's flotation is reckoned from.

    Values go by the names of `FlotationInputs`; None is not known.

    Raises
    ------
    StringerlabError
        When there is no such layout.
    """
    flotation: FlotationInputs = replace(layout_of(project, id).flotation, **values)
    return with_layout_values(project, id, flotation=flotation)


# -- things in a layout --------------------------------------------------------------------------


def with_part(project: Project, layout: str, part: LayoutPart) -> Project:
    """Return the project with a member, line, cavity, equipment or combination more, under a new id.

    One without a name is given one of its kind.

    Raises
    ------
    StringerlabError
        When there is no such layout.
    """
    return with_parts(project, layout, [part])


def with_parts(project: Project, layout: str, parts: Iterable[LayoutPart]) -> Project:
    """Return the project with several things more in a layout, under new ids.

    Raises
    ------
    StringerlabError
        When there is no such layout.
    """
    layout_of(project, layout)
    grown = project
    for part in parts:
        if not part.name:
            part = replace(part, name=fresh_name(layout_of(grown, layout), part))
        grown = added(grown, part, to=layout)
    return reconciled(grown, layout, before=project)


def with_part_replaced(project: Project, part: LayoutPart) -> Project:
    """Return the project with the thing of the same id replaced.

    Raises
    ------
    StringerlabError
        When there is none of that id, or it is of another kind.
    """
    return with_parts_replaced(project, [part])


def with_parts_replaced(project: Project, parts: Iterable[LayoutPart]) -> Project:
    """Return the project with the things of the same ids replaced, as one step.

    Raises
    ------
    StringerlabError
        When there is none of an id, or it is of another kind.
    """
    grown = project
    edited: list[str] = []
    for part in parts:
        edited.append(layout_of(project, part.id).id)
        grown = replaced(grown, part)
    return reconciled(grown, *edited, before=project)


def with_part_values(project: Project, ids: Sequence[str], **values: Any) -> Project:
    """Return the project with other values in things of a layout, by field name.

    A value that is already there gives the same project back.

    Raises
    ------
    StringerlabError
        When there is nothing of an id, or it has no such value.
    """
    fresh: list[LayoutPart] = []
    for id_ in ids:
        part = part_of(project, id_)
        unknown = set(values) - {each.name for each in fields(part)}
        if unknown:
            raise StringerlabError(
                Problem(f"It has no {', '.join(sorted(unknown))}.", f"'{part.name}' ({id_})")
            )
        changed: LayoutPart = replace(part, **values)
        if changed != part:
            fresh.append(changed)
    return with_parts_replaced(project, fresh) if fresh else project


def without_parts(project: Project, ids: Sequence[str]) -> Project:
    """Return the project without things of layouts; combinations go before the equipment they name.

    Raises
    ------
    StringerlabError
        When there is nothing of an id, or another thing needs it: every user is listed.
    """
    edited = [layout_of(project, id_).id for id_ in ids]
    combined = {id_ for id_ in ids if isinstance(part_of(project, id_), Combination)}
    shrunk = project
    for id_ in sorted(ids, key=lambda each: each not in combined):
        shrunk = removed(shrunk, id_)
    return reconciled(shrunk, *edited, before=project)


def moved(project: Project, ids: Sequence[str], dx: float, dy: float) -> Project:
    """Return the project with members, lines, cavities and equipment moved in plan [mm].

    A member's end on the chine stays on it. What stands on the centreline stays there.

    Raises
    ------
    StringerlabError
        When there is nothing of an id.
    """
    return with_parts_replaced(project, [_moved(project, part_of(project, id_), dx, dy) for id_ in ids])


def copied(project: Project, ids: Sequence[str], dx: float, dy: float) -> Project:
    """Return the project with copies of things of a layout, moved in plan [mm], under new ids.

    Raises
    ------
    StringerlabError
        When there is nothing of an id.
    """
    grown = project
    for id_ in ids:
        layout = layout_of(grown, id_)
        part = _moved(grown, part_of(grown, id_), dx, dy)
        grown = added(grown, renumbered(layout, part), to=layout.id)
    return reconciled(grown, *(layout_of(project, id_).id for id_ in ids), before=project)


def mirrored(project: Project, ids: Sequence[str]) -> Project:
    """Return the project with things of one side on the other; a pair or what is central stays.

    Raises
    ------
    StringerlabError
        When there is nothing of an id.
    """
    fresh: list[LayoutPart] = []
    for id_ in ids:
        part = part_of(project, id_)
        if isinstance(part, Combination) or part.hand not in _OTHER:
            continue
        fresh.append(_turned(replace(part, hand=_OTHER[part.hand])))
    return with_parts_replaced(project, fresh) if fresh else project


def with_hand(project: Project, ids: Sequence[str], hand: Hand) -> Project:
    """Return the project with things standing elsewhere: a pair, to port, to starboard, on the centreline.

    What is drawn on the other side than it now stands is turned over.

    Raises
    ------
    StringerlabError
        When there is nothing of an id.
    """
    fresh: list[LayoutPart] = []
    for id_ in ids:
        part = part_of(project, id_)
        if isinstance(part, Combination) or part.hand is hand:
            continue
        part = replace(part, hand=hand)
        side = sum(y for _, y in places_of(part))
        over = (hand is Hand.STARBOARD and side > 0) or (hand in (Hand.PORT, Hand.PAIR) and side < 0)
        fresh.append(_turned(part) if over else part)
    return with_parts_replaced(project, fresh) if fresh else project


# -- points --------------------------------------------------------------------------------------


def with_plan_point_moved(project: Project, id: str, number: int, at: PlanPoint) -> Project:  # noqa: A002
    """Return the project with a point of a member, line, cavity or equipment, numbered from 0, elsewhere.

    A cavity's points are its anchors; an equipment has one.

    Raises
    ------
    StringerlabError
        When there is nothing of that id, or no such point.
    """
    part = part_of(project, id)
    places = places_of(part)
    refuse_outside(part, number, len(places))
    return with_part_replaced(project, at_places(part, (*places[:number], at, *places[number + 1 :])))


def with_plan_point(project: Project, id: str, number: int, at: PlanPoint) -> Project:  # noqa: A002
    """Return the project with a point put into a member, line or cavity before the one of this number.

    Raises
    ------
    StringerlabError
        When there is nothing of that id, or no such place.
    """
    part = part_of(project, id)
    places = places_of(part)
    refuse_outside(part, number, len(places) + 1)
    return with_part_replaced(project, at_places(part, (*places[:number], at, *places[number:])))


def without_plan_points(project: Project, id: str, numbers: Sequence[int]) -> Project:  # noqa: A002
    """Return the project without points of a member, line or cavity, numbered from 0.

    Raises
    ------
    StringerlabError
        When there is nothing of that id, no such point, or too few would be left.
    """
    part = part_of(project, id)
    places = places_of(part)
    for number in numbers:
        refuse_outside(part, number, len(places))
    kept = tuple(at for number, at in enumerate(places) if number not in numbers)
    least = 2 if isinstance(part, Member | PlanLine) else 1
    if len(kept) < least:
        raise StringerlabError(
            Problem(f"It needs {least} points.", f"'{part.name}' ({id})", "Remove the whole instead.")
        )
    return with_part_replaced(project, at_places(part, kept))


def _turned(part: LayoutPart) -> LayoutPart:
    over = at_places(part, [(x, -y) for x, y in places_of(part)])
    if isinstance(over, Equipment):
        return replace(over, feet=tuple((dx, -dy) for dx, dy in over.feet))
    return over


def _moved(project: Project, part: LayoutPart, dx: float, dy: float) -> LayoutPart:
    if isinstance(part, Combination):
        raise StringerlabError(Problem("A combination stands nowhere.", f"'{part.name}' ({part.id})"))
    across = 0.0 if part.hand is Hand.CENTRELINE and all(y == 0 for _, y in places_of(part)) else dy
    places = tuple((x + dx, y + across) for x, y in places_of(part))
    if isinstance(part, Member) and length(part.points):
        places = fitted(places, part.points, project.craft)
    return at_places(part, places)


def _offered(project: Project) -> str:
    held = ", ".join(f"'{layout.name}' ({layout.id})" for layout in project.layouts)
    return f"There is {held}." if held else "Draw one first."


def _with(project: Project, layout: Layout) -> Project:
    if any(one == layout for one in project.layouts):
        return project
    return reconciled(replaced(project, layout), layout.id, before=project)
