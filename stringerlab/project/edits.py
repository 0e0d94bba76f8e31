"""Edits: pure functions from a project to a new one, which fail as a whole or not at all.

A record goes by its id wherever it stands. New ids are a kind letter and the project's counter, never
used again; a material may keep an id of its own, such as that of the shipped one it stands in front of.
"""

from collections.abc import Callable, Iterator
from dataclasses import replace
from difflib import get_close_matches
from typing import Any, TypeVar, cast

from stringerlab.craft.records import Craft
from stringerlab.errors import Problem, StringerlabError
from stringerlab.laminate.records import Laminate, Ply
from stringerlab.layout.plan import Layout
from stringerlab.materials import Book, shipped
from stringerlab.project.contents import LISTS, PARTS, Held, LayoutPart, Record, Thing, owner, things, uses
from stringerlab.project.counting import LETTERS, MATERIAL_LETTER, Counter
from stringerlab.project.layout_ids import with_ids_in_layout
from stringerlab.project.measuring import with_plies_renumbered, without_measured
from stringerlab.project.places import SINGULAR, Path, place
from stringerlab.project.records import Project
from stringerlab.section.records import Fill, Point, Section, Wall

_T = TypeVar("_T")


def added(project: Project, record: Record | Held, *, to: str = "") -> Project:
    """Return the project with a record at the end of its list, under a new id.

    Parameters
    ----------
    project
        The project.
    record
        What to add. Its id is replaced, and so are those of a section's walls and fills and of all that is
        in a layout, references among them following; a material keeps an id that no other has.
    to
        The section that a wall or fill is added to, or the layout of what stands in one.

    Raises
    ------
    StringerlabError
        When there is no such section or layout.
    """
    counter = Counter(project)
    fresh = _with_new_ids(record, project, counter)
    if isinstance(fresh, Held):
        kind = "layout" if isinstance(fresh, LayoutPart) else "section"
        path = (*_found(project, to, kind).path, PARTS[type(fresh)])
    else:
        path = LISTS[type(fresh)]
    grown = _changed(project, path, lambda held: (*cast(tuple[Any, ...], held), fresh))
    return replace(grown, counter=counter.next)


def replaced(project: Project, record: Record | Held) -> Project:
    """Return the project with the record of the same id and kind replaced.

    A section's walls and fills, and what is in a layout, are given an id where they have none.

    Raises
    ------
    StringerlabError
        When there is none of that id, or it is of another kind.
    """
    counter = Counter(project)
    thing = _found(project, record.id, _kind_of(record))
    if isinstance(record, Section):
        record = _with_ids_of_parts(record, counter, only_blank=True)
    elif isinstance(record, Layout):
        record = with_ids_in_layout(record, counter, only_blank=True)
    return replace(_changed(project, thing.path, lambda _: record), counter=counter.next)


def renamed(project: Project, id: str, name: str) -> Project:  # noqa: A002
    """Return the project with a thing renamed.

    Raises
    ------
    StringerlabError
        When nothing has that id.
    """
    thing = _found(project, id)
    return _changed(project, thing.path, lambda record: replace(cast(Any, record), name=name))


def removed(project: Project, id: str) -> Project:  # noqa: A002
    """Return the project without a thing and what was measured of it; its id is never used again.

    Raises
    ------
    StringerlabError
        When nothing has that id, or something needs it: every user is listed. A material that stands in
        front of a shipped one may go, and its users then have the shipped one.
    """
    thing = _found(project, id)
    users = list(_users(project, thing))
    if users:
        what = f"{place(project, thing.path)} is in use and cannot be removed."
        raise StringerlabError(
            Problem(what, user, "Let it name another, or remove it first.") for user in users
        )
    counter = Counter(project)
    *above, number = thing.path
    shrunk = _changed(project, tuple(above), lambda held: _without(cast(tuple[Any, ...], held), int(number)))
    shrunk = replace(shrunk, counter=counter.next)
    if isinstance(thing.record, Layout) and project.layout == id:
        shrunk = replace(shrunk, layout="")
    return without_measured(shrunk, id) if isinstance(thing.record, Laminate | Section) else shrunk


def with_craft(project: Project, craft: Craft) -> Project:
    """Return the project with another craft."""
    return replace(project, craft=craft)


def with_ply(project: Project, laminate: str, number: int, ply: Ply) -> Project:
    """Return the project with a ply put before the one of this number from 0; at the end when there is none.

    Raises
    ------
    StringerlabError
        When there is no such laminate, or no such place in it.
    """
    thing = _found(project, laminate, "laminate")
    plies = cast(Laminate, thing.record).plies
    _refuse_outside(project, thing, "ply", number, len(plies) + 1)
    grown = _changed(project, (*thing.path, "plies"), lambda _: (*plies[:number], ply, *plies[number:]))
    return with_plies_renumbered(grown, laminate, (*range(number), None, *range(number, len(plies))))


def with_ply_replaced(project: Project, laminate: str, number: int, ply: Ply) -> Project:
    """Return the project with the ply of this number, from 0, replaced.

    Raises
    ------
    StringerlabError
        When there is no such laminate or ply.
    """
    thing = _found(project, laminate, "laminate")
    _refuse_outside(project, thing, "ply", number, len(cast(Laminate, thing.record).plies))
    return _changed(project, (*thing.path, "plies", number), lambda _: ply)


def without_ply(project: Project, laminate: str, number: int) -> Project:
    """Return the project without the ply of this number, from 0.

    Raises
    ------
    StringerlabError
        When there is no such laminate or ply.
    """
    thing = _found(project, laminate, "laminate")
    plies = cast(Laminate, thing.record).plies
    _refuse_outside(project, thing, "ply", number, len(plies))
    shrunk = _changed(project, (*thing.path, "plies"), lambda _: _without(plies, number))
    return with_plies_renumbered(shrunk, laminate, _without(tuple(range(len(plies))), number))


def with_point(project: Project, id: str, number: int, point: Point, fillet: float = 0.0) -> Project:  # noqa: A002
    """Return the project with a point put into a wall or fill before the one of this number, from 0.

    Raises
    ------
    StringerlabError
        When there is no such wall or fill, or no such place in it.
    """
    thing, points, fillets = _line(project, id)
    _refuse_outside(project, thing, "point", number, len(points) + 1)
    radii = (*fillets[:number], fillet, *fillets[number:]) if fillets or fillet else ()
    if fillet and not fillets:
        radii = tuple(fillet if i == number else 0.0 for i in range(len(points) + 1))
    return _with_line(project, thing, (*points[:number], point, *points[number:]), radii)


def with_point_moved(project: Project, id: str, number: int, point: Point) -> Project:  # noqa: A002
    """Return the project with a point of a wall or fill, numbered from 0, elsewhere.

    Raises
    ------
    StringerlabError
        When there is no such wall or fill, or no such point.
    """
    thing, points, fillets = _line(project, id)
    _refuse_outside(project, thing, "point", number, len(points))
    return _with_line(project, thing, (*points[:number], point, *points[number + 1 :]), fillets)


def without_point(project: Project, id: str, number: int) -> Project:  # noqa: A002
    """Return the project without a point of a wall or fill, numbered from 0, and without its fillet.

    Raises
    ------
    StringerlabError
        When there is no such wall or fill, or no such point.
    """
    thing, points, fillets = _line(project, id)
    _refuse_outside(project, thing, "point", number, len(points))
    return _with_line(project, thing, _without(points, number), _without(fillets, number))


def with_fillet(project: Project, wall: str, number: int, radius: float) -> Project:
    """Return the project with the fillet at a wall's point, numbered from 0, of another radius.

    Raises
    ------
    StringerlabError
        When there is no such wall, or no such point.
    """
    thing = _found(project, wall, "wall")
    _, points, fillets = _line(project, wall)
    _refuse_outside(project, thing, "point", number, len(points))
    radii = fillets or (0.0,) * len(points)
    return _with_line(project, thing, points, (*radii[:number], radius, *radii[number + 1 :]))


def _with_new_ids(record: Record | Held, project: Project, counter: Counter) -> Record | Held:
    if type(record) not in LETTERS:
        taken = {thing.record.id for thing in things(project)}
        kept = record.id if record.id.strip() and record.id not in taken else counter.id(MATERIAL_LETTER)
        return replace(record, id=kept)
    fresh = replace(record, id=counter.id(LETTERS[type(record)]))
    if isinstance(fresh, Layout):
        return with_ids_in_layout(fresh, counter)
    return _with_ids_of_parts(fresh, counter) if isinstance(fresh, Section) else fresh


def _with_ids_of_parts(section: Section, counter: Counter, *, only_blank: bool = False) -> Section:
    def fresh(part: Wall | Fill) -> str:
        return part.id if only_blank and part.id.strip() else counter.id(LETTERS[type(part)])

    walls = tuple(replace(wall, id=fresh(wall)) for wall in section.walls)
    fills = tuple(replace(fill, id=fresh(fill)) for fill in section.fills)
    now = {before.id: after.id for before, after in zip(section.walls, walls, strict=True)}
    laps = tuple((now.get(first, first), now.get(second, second)) for first, second in section.laps)
    return replace(section, walls=walls, fills=fills, laps=laps)


def _found(project: Project, id: str, kind: str = "") -> Thing:  # noqa: A002
    """Return the thing of an id, which must be of a kind when one is given."""
    held = list(things(project))
    found = [thing for thing in held if thing.record.id == id]
    fitting = [thing for thing in found if kind in ("", thing.kind)]
    if fitting:
        return fitting[0]
    if found:
        raise StringerlabError(
            Problem(f"'{id}' is a {found[0].kind}, not a {kind}.", place(project, found[0].path))
        )
    near = get_close_matches(id, [thing.record.id for thing in held if kind in ("", thing.kind)], n=1)
    remedy = f"Did you mean '{near[0]}'?" if near else ""
    raise StringerlabError(Problem(f"There is no {kind or 'thing'} '{id}'.", "project", remedy))


def _kind_of(record: Record | Held) -> str:
    listed = PARTS[type(record)] if isinstance(record, Held) else LISTS[type(record)][-1]
    return SINGULAR[str(listed)]


def _users(project: Project, thing: Thing) -> Iterator[str]:
    """Yield the places that name a thing and would name nothing without it."""
    behind = Book.of(shipped()).find(thing.record.id)
    if type(behind) is type(thing.record):
        return
    for use in uses(project):
        if use.id == thing.record.id and thing.kind in use.kinds:
            if isinstance(thing.record, Wall) and owner(use.path) != owner(thing.path):
                continue  # a lap names walls of its own section
            yield place(project, use.path)


def _line(project: Project, id: str) -> tuple[Thing, tuple[Point, ...], tuple[float, ...]]:  # noqa: A002
    thing = _found(project, id)
    record = thing.record
    if isinstance(record, Wall):
        return thing, record.points, record.fillets
    if isinstance(record, Fill):
        return thing, record.points, ()
    raise StringerlabError(
        Problem(f"'{id}' is a {thing.kind}; it has no points.", place(project, thing.path))
    )


def _with_line(
    project: Project, thing: Thing, points: tuple[Point, ...], fillets: tuple[float, ...]
) -> Project:
    if isinstance(thing.record, Wall):
        fresh: Wall | Fill = replace(thing.record, points=points, fillets=fillets)
    else:
        fresh = replace(cast(Fill, thing.record), points=points)
    return _changed(project, thing.path, lambda _: fresh)


def _refuse_outside(project: Project, thing: Thing, word: str, number: int, count: int) -> None:
    if not 0 <= number < count:
        what = f"There is no {word} {number + 1}."
        raise StringerlabError(Problem(what, place(project, thing.path), f"It has {count}."))


def _without(held: tuple[_T, ...], number: int) -> tuple[_T, ...]:
    return (*held[:number], *held[number + 1 :])


def _changed(here: Any, path: Path, change: Callable[[object], object]) -> Any:
    """Return a copy of a record or list with what lies at a path changed, and all else shared."""
    if not path:
        return change(here)
    step, *rest = path
    if isinstance(step, int):
        items = cast(tuple[Any, ...], here)
        return (*items[:step], _changed(items[step], tuple(rest), change), *items[step + 1 :])
    return replace(here, **{step: _changed(getattr(here, step), tuple(rest), change)})
