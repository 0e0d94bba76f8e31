"""Where a thing is used: every record that names it, in words, with the id to go to."""

from collections.abc import Iterator
from dataclasses import dataclass

from stringerlab.laminate.records import Laminate
from stringerlab.project.contents import Use, owner, things, uses
from stringerlab.project.places import Path, child
from stringerlab.project.records import Project
from stringerlab.section.records import Section


@dataclass(frozen=True, slots=True)
class User:
    """One use of a thing: the id of what uses it, and words for it: ``Main stringer``, ``wall 2 (w4)``."""

    id: str
    owner: str
    kind: str
    part: str = ""


def users(project: Project, id: str, kind: str) -> tuple[User, ...]:  # noqa: A002
    """Return the uses of a thing of a kind (``laminate``, ``resin``) in the order of the file.

    A laminate's uses of a material are one, with its plies counted; a wall is gone to by its own id.
    """
    found: dict[Path, list[Use]] = {}
    for use in uses(project):
        if use.id == id and kind in use.kinds:
            found.setdefault(owner(use.path), []).append(use)
    kinds = {thing.path: thing.kind for thing in things(project)}
    return tuple(
        user
        for path, held in found.items()
        for user in _users_in(project, path, held, kinds.get(path, "record"))
    )


def _users_in(project: Project, path: Path, held: list[Use], kind: str) -> Iterator[User]:
    record: object = project
    for step in path:
        record = child(record, step)
    name, identity = str(getattr(record, "name", "")), str(getattr(record, "id", ""))
    if isinstance(record, Laminate):
        numbers = [int(use.path[3]) + 1 for use in held]
        yield User(identity, name, kind, _plies(numbers))
        return
    for use in held:
        if isinstance(record, Section) and "walls" in use.path:
            number = int(use.path[3])
            wall = record.walls[number]
            yield User(wall.id, name, kind, f"wall '{wall.name}'" if wall.name else f"wall {number + 1}")
        elif isinstance(record, Section) and "fills" in use.path:
            number = int(use.path[3])
            fill = record.fills[number]
            yield User(fill.id, name, kind, f"fill '{fill.name}'" if fill.name else f"fill {number + 1}")
        elif isinstance(record, Section):
            yield User(identity, name, kind, "adhesive" if "adhesive" in use.path else "reference")
        else:
            yield User(identity, name, kind, _part(use.path))


def _part(path: Path) -> str:
    """Return the words for where in a record a use stands; none where that is plain."""
    if "stretches" in path:
        return f"stretch {int(path[5]) + 1}"
    part = str(path[-1]).replace("_", " ")
    return "" if part in ("laminate", "plating", "of") else part


def _plies(numbers: list[int]) -> str:
    if len(numbers) == 1:
        return f"ply {numbers[0]}"
    return f"plies {', '.join(map(str, numbers[:-1]))} and {numbers[-1]}"
