"""A step in the layers of a ply, taken as a shop lays it: where a laminate has mat between its fabrics, so it
has after the step.

One more layer of a fabric is laid on a layer of the mat that it lies beside. A step that takes the mat from
between two fabrics has no such way.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from stringerlab.errors import StringerlabError
from stringerlab.laminate.records import Laminate, Ply
from stringerlab.materials import Book
from stringerlab.materials.records import Reinforcement
from stringerlab.project.problems import book_of
from stringerlab.project.records import Project
from stringerlab.project.wishes import Change
from stringerlab.sizing.changing.changes import Changes, changed
from stringerlab.sizing.changing.choices import NumberVariable, laid, laminate_of, run_of


@dataclass(frozen=True, slots=True)
class Taken:
    """A choice taken of a number."""

    boat: Project
    mats: tuple[str, ...] = ()
    """Materials of the mats laid with it, by id; none where none was needed."""


def taken(project: Project, variable: NumberVariable, choice: int) -> Taken | None:
    """Return the boat with a choice taken, with mat laid between where it is needed; None where that fails.

    Raises
    ------
    StringerlabError
        When it cannot be drawn so.
    """
    plain = variable.applied(project, choice)
    if variable.number.change is not Change.REPEATS or plain == project:
        return Taken(plain)
    book = book_of(project)
    broken = [
        one
        for one in variable.number.of
        if _keeps(book, laminate_of(project, one)) and _bare(book, laminate_of(plain, one).plies)
    ]
    if not broken:
        return Taken(plain)
    changes, mats = Changes(), dict[str, None]()
    variable.gather(changes, project, choice)
    for one in broken:
        held = laminate_of(project, one)
        first, stop = run_of(held, variable.number.ply - 1)
        more = round(variable.values[choice]) - (stop - first)
        mat = _mat_beside(book, held, first, stop)
        if more <= 0 or mat is None:
            return None
        layers = (mat, held.plies[first]) * more
        if _bare(book, (*held.plies[:stop], *layers, *held.plies[stop:])):
            return None
        changes.runs.pop(one, None)
        changes.plies[one] = stop, stop, layers
        mats[mat.material] = None
    return Taken(changed(project, changes), tuple(mats))


def _keeps(book: Book, laminate: Laminate) -> bool:
    """Whether a laminate has mat and other fabric, and mat wherever two fabrics meet."""
    faces = _faces(book, laminate.plies)
    fabrics = [one for one, ply in zip(faces, laminate.plies, strict=True) if _is_fabric(book, ply)]
    mixed = any(all(one) for one in fabrics) and any(not all(one) for one in fabrics)
    return mixed and not _bare(book, laminate.plies)


def _bare(book: Book, plies: Sequence[Ply]) -> bool:
    """Whether two plies meet without mat on either side."""
    return any(not below[1] and not above[0] for below, above in pairwise(_faces(book, plies)))


def _faces(book: Book, plies: Sequence[Ply]) -> list[tuple[bool, bool]]:
    """Return whether each ply shows mat to the mould and away from it; one that cannot be told does."""
    found: list[tuple[bool, bool]] = []
    for ply in plies:
        try:
            one = laid(book, ply)
        except StringerlabError:
            found.append((True, True))
        else:
            found.append((one.mat_first, one.mat_last))
    return found


def _mat_beside(book: Book, laminate: Laminate, first: int, stop: int) -> Ply | None:
    """Return the mat that a run of plies lies on, or the one on it."""
    beside = [*laminate.plies[max(first - 1, 0) : first], *laminate.plies[stop : stop + 1]]
    return next((ply for ply in beside if _is_fabric(book, ply) and all(_faces(book, [ply])[0])), None)


def _is_fabric(book: Book, ply: Ply) -> bool:
    return isinstance(book.find(ply.material), Reinforcement)
