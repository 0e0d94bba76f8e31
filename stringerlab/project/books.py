"""A project's own materials and a book: what goes out, what comes in, and which laminates that changes."""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, replace

from stringerlab.errors import Problem, StringerlabError
from stringerlab.materials import Book, shipped
from stringerlab.materials.book import every
from stringerlab.materials.differences import word
from stringerlab.materials.merging import Choice, Merge, merge, settled, with_needs
from stringerlab.materials.records import Materials, Reinforcement
from stringerlab.project.contents import LISTS, things, uses
from stringerlab.project.places import SINGULAR, place
from stringerlab.project.records import Project
from stringerlab.project.where_used import User, users

_KINDS = {cls: SINGULAR[str(path[-1])] for cls, path in LISTS.items() if path[0] == "materials"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """A laminate, or a section by a fill of it, that has other materials after a merge than before."""

    user: User
    materials: tuple[str, ...]
    """Names of the materials that are other ones now."""


def in_use(project: Project) -> tuple[str, ...]:
    """Return the ids of the project's own materials that its laminates and sections name.

    A fibre or resin is in use when a reinforcement in use names it.
    """
    book = Book.of(project.materials, shipped())
    named = {use.id for use in uses(project) if use.path[0] in ("laminates", "sections")}
    fabrics = [found for id_ in named if isinstance(found := book.find(id_), Reinforcement)]
    named |= {id_ for fabric in fabrics for id_ in (fabric.fibre, fabric.resin)}
    return tuple(one.id for one in every(project.materials) if one.id in named)


def own_book(
    project: Project, ids: Collection[str] | None = None, *, with_shipped: bool = False
) -> Materials:
    """Return the materials a book for others is made of: each with the fibre and resin it needs.

    Parameters
    ----------
    project
        The project.
    ids
        Which materials, shipped ones too; None for all of the project's own.
    with_shipped
        Put all shipped materials in as well, own ones in front.

    Raises
    ------
    StringerlabError
        When there is no material of an id, one needs what is not there, or nothing is wanted.
    """
    wanted = tuple(one.id for one in every(project.materials)) if ids is None else tuple(ids)
    if with_shipped:
        wanted = (*wanted, *(one.id for one in every(shipped())))
    if not wanted:
        what = "The project has no materials of its own." if ids is None else "No material is chosen."
        raise StringerlabError(Problem(what, "project", "Choose some, or take the shipped ones too."))
    return with_needs(wanted, project.materials, shipped())


def merge_with(project: Project, theirs: Materials) -> Merge:
    """Return what a book would bring into a project's own materials, the shipped ones standing behind.

    Raises
    ------
    StringerlabError
        When an id stands twice in the project's materials or in the book.
    """
    others = {thing.record.id for thing in things(project) if thing.path[0] != "materials"}
    return merge(project.materials, theirs, shipped(), taken=others)


def with_book(project: Project, theirs: Materials, choices: Mapping[str, Choice]) -> Project:
    """Return the project with a book merged into its own materials.

    Parameters
    ----------
    project
        The project.
    theirs
        The book's materials.
    choices
        How each conflict is settled, by id.

    Raises
    ------
    StringerlabError
        When a conflict is not settled, or a ply, fill, fibre or resin would name what is no longer there.
    """
    materials = settled(merge_with(project, theirs), choices)
    if materials == project.materials:
        return project
    changed = replace(project, materials=materials)
    broken = list(_broken(project, changed))
    if broken:
        raise StringerlabError(broken)
    return changed


def changes(before: Project, after: Project) -> tuple[Change, ...]:
    """Return the laminates and sections of a project that name a material which is another one after.

    A reinforcement counts as another one when its fibre or resin is.
    """
    held, now = (Book.of(one.materials, shipped()) for one in (before, after))
    names: dict[User, list[str]] = {}
    for id_ in {use.id: None for use in uses(before)}:
        old, new = held.find(id_), now.find(id_)
        if old is None or new is None or (old == new and not _laid_with_another(old, held, now)):
            continue
        for user in users(before, id_, word(old)):
            if user.kind in ("laminate", "section"):
                names.setdefault(user, []).append(old.name)
    return tuple(Change(user=user, materials=tuple(found)) for user, found in names.items())


def _laid_with_another(material: object, held: Book, now: Book) -> bool:
    return isinstance(material, Reinforcement) and (
        held.fibre(material.fibre) != now.fibre(material.fibre)
        or held.resin(material.resin) != now.resin(material.resin)
    )


def _broken(before: Project, after: Project) -> Iterator[Problem]:
    """Yield the places that named a material of their kind before and would name none after."""
    held, now = (Book.of(one.materials, shipped()) for one in (before, after))
    for use in uses(after):
        old, new = held.find(use.id), now.find(use.id)
        if use.path[0] == "materials" or old is None or _KINDS[type(old)] not in use.kinds:
            continue
        if new is None or _KINDS[type(new)] not in use.kinds:
            what = f"'{use.id}' would be a {word(new)} there, no longer a {word(old)}." if new else ""
            what = what or f"'{use.id}' would be there no more."
            yield Problem(what, place(after, use.path), "Keep mine, or both.")
