"""Find the one record a person means by an id or a unique name."""

import difflib
from collections.abc import Sequence
from typing import Protocol, TypeVar

from stringerlab.errors import Problem, StringerlabError
from stringerlab.project import Project
from stringerlab.project.planning import with_layout_in_use


class Named(Protocol):
    """A record with an id and a name."""

    @property
    def id(self) -> str: ...  # noqa: D102
    @property
    def name(self) -> str: ...  # noqa: D102


_LISTED = 8
Record = TypeVar("Record", bound=Named)


def one_named(records: Sequence[Record], wanted: str, kind: str) -> Record:
    """Return the record with this id, or else with this name.

    Raises
    ------
    StringerlabError
        When there is none, or when several share the name.
    """
    found = [record for record in records if record.id == wanted] or [
        record for record in records if record.name == wanted
    ]
    if len(found) == 1:
        return found[0]
    if found:
        ids = ", ".join(record.id for record in found)
        raise StringerlabError(
            Problem(f"{len(found)} {kind}s are called '{wanted}'.", remedy=f"Use an id: {ids}.")
        )
    if not records:
        raise StringerlabError(Problem(f"The project has no {kind}."))
    names = [name for record in records for name in (record.id, record.name)]
    near = difflib.get_close_matches(wanted, names, n=3)
    listed = near or [f"{record.id} ({record.name})" for record in records[:_LISTED]]
    more = 0 if near else len(records) - len(listed)
    there = f"{', '.join(listed)}, and {more} more" if more else ", ".join(listed)
    raise StringerlabError(
        Problem(
            f"No {kind} is called '{wanted}'.", remedy=f"{'The nearest' if near else 'There'} is: {there}."
        )
    )


def with_layout_named(project: Project, wanted: str | None) -> Project:
    """Return the project with the layout asked for in use; by default its own, or the only one.

    Raises
    ------
    StringerlabError
        When there is none, none of that id or name, or several of which none is in use.
    """
    if not project.layouts:
        raise StringerlabError(
            Problem("The project has no layout.", f"project '{project.name}'", "Draw one on its Plan page.")
        )
    if wanted is not None:
        return with_layout_in_use(project, one_named(project.layouts, wanted, "layout").id)
    if project.layout:
        return project
    first, *others = project.layouts
    if others:
        held = ", ".join(f"{layout.id} ({layout.name})" for layout in project.layouts)
        raise StringerlabError(
            Problem("No layout of the project is in use.", "--layout", f"Name one: {held}.")
        )
    return with_layout_in_use(project, first.id)
