"""Edits on several plies of a laminate at once; plies are numbered from 0 away from the mould.

Pure functions from a project to a new one, which fail as a whole or not at all.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from enum import StrEnum
from itertools import takewhile

from stringerlab.errors import Problem, StringerlabError
from stringerlab.laminate.records import Laminate, Ply
from stringerlab.materials import Book
from stringerlab.materials.records import Core, GelCoat
from stringerlab.project import edits
from stringerlab.project.measuring import with_plies_renumbered
from stringerlab.project.problems import book_of
from stringerlab.project.records import Project

MOST = 500
"""Plies that a laminate may be grown to by these edits; no boat's has as many."""


class Middle(StrEnum):
    """Where a laminate's plane of symmetry lies once it is mirrored."""

    PLY = "the last ply"
    """The last ply stays single, in the middle."""
    FACE = "the face of the last ply"
    """The last ply comes twice."""


def with_plies(project: Project, laminate: str, number: int, plies: Sequence[Ply]) -> Project:
    """Return the project with plies put before the one of this number; at the end when there is none.

    Raises
    ------
    StringerlabError
        When there is no such laminate or place, or it would have more than ``MOST`` plies.
    """
    record = _laminate(project, laminate)
    if not 0 <= number <= len(record.plies):
        raise StringerlabError(_absent(record, number))
    before, after = range(number), range(number, len(record.plies))
    return _with(
        project,
        record,
        (*record.plies[:number], *plies, *record.plies[number:]),
        (*before, *[None] * len(plies), *after),
    )


def without_plies(project: Project, laminate: str, numbers: Iterable[int]) -> Project:
    """Return the project without these plies.

    Raises
    ------
    StringerlabError
        When there is no such laminate or ply.
    """
    record = _laminate(project, laminate)
    gone = set(_chosen(record, numbers))
    return _ordered(project, record, [i for i in range(len(record.plies)) if i not in gone])


def plies_changed(
    project: Project, laminate: str, numbers: Iterable[int], change: Callable[[Ply], Ply]
) -> Project:
    """Return the project with each of these plies changed.

    Raises
    ------
    StringerlabError
        When there is no such laminate or ply.
    """
    record = _laminate(project, laminate)
    chosen = set(_chosen(record, numbers))
    plies = tuple(change(ply) if i in chosen else ply for i, ply in enumerate(record.plies))
    return project if plies == record.plies else _with(project, record, plies, range(len(plies)))


def plies_moved(project: Project, laminate: str, numbers: Iterable[int], to: int) -> Project:
    """Return the project with these plies, together and in their order, before the ply numbered ``to``.

    ``to`` counts in the laminate as it was; the number of plies means the end.

    Raises
    ------
    StringerlabError
        When there is no such laminate, ply or place.
    """
    record = _laminate(project, laminate)
    chosen = _chosen(record, numbers)
    if not 0 <= to <= len(record.plies):
        raise StringerlabError(_absent(record, to))
    taken = set(chosen)
    before = [i for i in range(to) if i not in taken]
    after = [i for i in range(to, len(record.plies)) if i not in taken]
    order = [*before, *chosen, *after]
    changed = _ordered(project, record, order)
    same = changed.laminates == project.laminates and changed.as_built == project.as_built
    return project if same else changed


def plies_repeated(project: Project, laminate: str, numbers: Iterable[int], times: int) -> Project:
    """Return the project with these plies, as one sequence, there so many times; twice duplicates them.

    The copies follow the last of the plies.

    Raises
    ------
    StringerlabError
        When there is no such laminate or ply, ``times`` is less than 1, or it would have too many plies.
    """
    record = _laminate(project, laminate)
    chosen = _chosen(record, numbers)
    if times < 1:
        what = f"Plies cannot be there {times} times."
        raise StringerlabError(Problem(what, _label(record), "Repeat them two times or more."))
    if len(record.plies) + (times - 1) * len(chosen) > MOST:
        raise StringerlabError(_too_many(record))
    after = chosen[-1] + 1
    copies = chosen * (times - 1)
    return _ordered(project, record, [*range(after), *copies, *range(after, len(record.plies))])


def made_symmetric(project: Project, laminate: str, middle: Middle = Middle.PLY) -> Project:
    """Return the project with a laminate's plies mirrored, gel coat left out.

    A single skin is mirrored about its last ply or that ply's face. A sandwich keeps its outer skin and
    core and is given an inner skin that mirrors the outer one. Angles are mirrored through the thickness,
    which leaves them as they are.

    Raises
    ------
    StringerlabError
        When there is no such laminate, it has no plies to mirror, it is symmetric already, what lies
        between its first and last core is not symmetric itself, or it would have too many plies.
    """
    record = _laminate(project, laminate)
    book = book_of(project)
    first = next(
        (i for i, ply in enumerate(record.plies) if not isinstance(book.find(ply.material), GelCoat)), None
    )
    if first is None:
        raise StringerlabError(Problem("It has no ply to mirror.", _label(record), "Add one."))
    gel, laid = record.plies[:first], record.plies[first:]
    if len(laid) > 1 and laid == laid[::-1]:
        raise StringerlabError(Problem("It is symmetric already.", _label(record)))
    plies = (*gel, *_mirrored(record, laid, book, middle))
    kept = sum(1 for _ in takewhile(lambda pair: pair[0] == pair[1], zip(plies, record.plies, strict=False)))
    return _with(project, record, plies, (*range(kept), *[None] * (len(plies) - kept)))


def laminate_duplicated(project: Project, laminate: str) -> Project:
    """Return the project with a copy of a laminate at the end of the list, its name marked as a copy.

    Raises
    ------
    StringerlabError
        When there is no such laminate.
    """
    record = _laminate(project, laminate)
    name = free_name(f"{record.name}, copy", (other.name for other in project.laminates))
    return edits.added(project, replace(record, name=name))


def free_name(name: str, taken: Iterable[str]) -> str:
    """Return a name that is not taken: itself, or with the first free number from 2 after it."""
    used = set(taken)
    number, fresh = 1, name
    while fresh in used:
        number += 1
        fresh = f"{name} {number}"
    return fresh


def _mirrored(record: Laminate, laid: tuple[Ply, ...], book: Book, middle: Middle) -> tuple[Ply, ...]:
    cores = [i for i, ply in enumerate(laid) if isinstance(book.find(ply.material), Core)]
    if not cores:
        return laid + (laid[::-1] if middle is Middle.FACE else laid[-2::-1] if len(laid) > 1 else ())
    outer, between = laid[: cores[0]], laid[cores[0] : cores[-1] + 1]
    if between != between[::-1]:
        what = "Its cores, and what lies between them, are not symmetric themselves."
        raise StringerlabError(Problem(what, _label(record), "Make them symmetric first."))
    return (*outer, *between, *outer[::-1])


def _ordered(project: Project, record: Laminate, order: Sequence[int]) -> Project:
    """Return the project with a laminate's plies, by their numbers, in another order, fewer or more."""
    return _with(project, record, tuple(record.plies[i] for i in order), order)


def _with(project: Project, record: Laminate, plies: tuple[Ply, ...], came: Sequence[int | None]) -> Project:
    """Return the project with a laminate's plies; of each the number it had, None for a new one."""
    if len(plies) > max(MOST, len(record.plies)):
        raise StringerlabError(_too_many(record))
    return with_plies_renumbered(edits.replaced(project, replace(record, plies=plies)), record.id, came)


def _laminate(project: Project, id: str) -> Laminate:  # noqa: A002
    for laminate in project.laminates:
        if laminate.id == id:
            return laminate
    raise StringerlabError(Problem(f"There is no laminate '{id}'.", "project"))


def _chosen(record: Laminate, numbers: Iterable[int]) -> list[int]:
    chosen = sorted(set(numbers))
    absent = [number for number in chosen if not 0 <= number < len(record.plies)]
    if absent:
        raise StringerlabError(_absent(record, number) for number in absent)
    if not chosen:
        raise StringerlabError(Problem("No ply is chosen.", _label(record), "Choose one or more."))
    return chosen


def _absent(record: Laminate, number: int) -> Problem:
    return Problem(f"There is no ply {number + 1}.", _label(record), f"It has {len(record.plies)}.")


def _too_many(record: Laminate) -> Problem:
    return Problem(f"It would have more than {MOST} plies.", _label(record), "Repeat fewer.")


def _label(record: Laminate) -> str:
    return f"laminate '{record.name}' ({record.id})"
