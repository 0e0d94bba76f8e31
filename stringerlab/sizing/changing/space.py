"""All designs that a plan allows: counted exactly, numbered, sampled, and spelled in integer columns.

Genes are rows of integers, a column or several for each variable, every column with its own finite count. A
number has one column, its choice. A laminate of up to 65,536 sequences has one, its choice; of more it spells
its plies out: first how many plies more than the least, then the place in the menu of each ply up to the
most, those past its end 0. Nobody else needs to know: ``choices`` reads a row, ``repaired`` makes one that
spells no allowed sequence into one that does. Designs are numbered from 0, the last variable's choice
changing fastest.
"""

from collections.abc import Iterator, Sequence
from functools import cached_property
from itertools import pairwise
from math import prod

import numpy as np
from numpy.typing import NDArray

from stringerlab.project.records import Project
from stringerlab.project.wishes import Change
from stringerlab.sizing.changing.changes import Changes, changed
from stringerlab.sizing.changing.choices import NumberVariable, PliesVariable
from stringerlab.sizing.changing.redrawn import left_as_drawn
from stringerlab.sizing.changing.variables import Variable
from stringerlab.sizing.records import Genes

Row = Sequence[int] | NDArray[np.int64]


class Space:
    """The designs of some variables.

    Parameters
    ----------
    variables
        As `stringerlab.sizing.variables.variables_of` gives them.
    """

    def __init__(self, variables: Sequence[Variable]) -> None:
        self.variables = tuple(variables)
        self.count = prod(variable.count for variable in self.variables)
        """How many designs there are, exactly."""
        self.columns: tuple[int, ...] = tuple(
            count for variable in self.variables for count in variable.columns
        )
        """How many values each gene column has."""

    @cached_property
    def slices(self) -> tuple[slice, ...]:
        """The columns of each variable."""
        stops = np.cumsum([0, *(len(variable.columns) for variable in self.variables)]).tolist()
        return tuple(slice(start, stop) for start, stop in pairwise(stops))

    @property
    def spelled(self) -> bool:
        """Whether a laminate spells its plies out: then not every combination of columns is a design."""
        return len(self.columns) > len(self.variables)

    @property
    def names(self) -> tuple[str, ...]:
        """Of the variables, in words."""
        return tuple(variable.name for variable in self.variables)

    def notes(self, project: Project) -> tuple[str, ...]:
        """Return what a person should know of the designs: sections that do not follow their laminates."""
        laminates: set[str] = set()
        for variable in self.variables:
            if isinstance(variable, PliesVariable):
                laminates.add(variable.plies.laminate)
            elif isinstance(variable, NumberVariable) and variable.number.change is Change.REPEATS:
                laminates.update(variable.number.of)
        left = left_as_drawn(project, laminates) if laminates else ()
        if not left:
            return ()
        return (
            "Drawn neither as a hat nor as a plate floor, so their lines stay as drawn however thick their "
            f"laminates, but for walls and fills that lie on a laminate's face: {', '.join(left)}.",
        )

    def at(self, index: int) -> NDArray[np.int64]:
        """Return the row of genes (v,) of a design's number.

        Raises
        ------
        IndexError
            When there is no such design.
        """
        if not 0 <= index < self.count:
            raise IndexError(f"there is no design {index} of {self.count}")
        choices: list[int] = []
        for variable in reversed(self.variables):
            index, choice = divmod(index, variable.count)
            choices.append(choice)
        return self.genes_of(choices[::-1])

    def genes_of(self, choices: Sequence[int]) -> NDArray[np.int64]:
        """Return the row of genes (v,) of a choice of each variable."""
        row: list[int] = []
        for variable, choice in zip(self.variables, choices, strict=True):
            row += _spelled(variable, choice)
        return np.array(row, np.int64)

    def index_of(self, row: Row) -> int:
        """Return the number of the design that a row of genes spells."""
        index = 0
        for variable, choice in zip(self.variables, self.choices(row), strict=True):
            index = index * variable.count + choice
        return index

    def every(self) -> Genes:
        """Return all designs (count, v) in their order; for small spaces."""
        return np.stack([self.at(index) for index in range(self.count)])

    def sampled(self, n: int, seed: int) -> Genes:
        """Return so many designs (n, v), each as likely as any other; all of them where there are no more.

        The same seed gives the same designs.
        """
        if self.count <= n:
            return self.every()
        made = np.random.default_rng(seed)
        parts: list[Genes] = []
        for variable in self.variables:
            choices = _drawn(made, variable.count, n)
            if len(variable.columns) == 1:
                parts.append(np.array(choices, np.int64)[:, None])
            else:
                rows = [_spelled(variable, choice) for choice in choices]
                parts.append(np.array(rows, np.int64).reshape(n, len(variable.columns)))
        return np.concatenate(parts, axis=1)

    def repaired(self, genes: Genes) -> Genes:
        """Return rows (n, v) each of which spells a design: those that do stay as they are.

        Columns beyond their count are brought back into it; plies that may not lie where they are give way:
        see `Sequences.repaired`.
        """
        made = np.clip(genes, 0, np.array(self.columns, np.int64) - 1)
        for variable, columns in zip(self.variables, self.slices, strict=True):
            if isinstance(variable, PliesVariable) and variable.spelled:
                held = made[:, columns]
                least = variable.sequences.least
                lengths, slots = variable.sequences.repaired(held[:, 0] + least, held[:, 1:])
                made[:, columns] = np.concatenate([(lengths - least)[:, None], slots], axis=1)
        return made

    def choices(self, row: Row) -> tuple[int, ...]:
        """Return the choice of each variable that a row spells.

        Raises
        ------
        ValueError
            When it spells no design; see ``repaired``.
        """
        return tuple(self._choices(row))

    def _choices(self, row: Row) -> Iterator[int]:
        held = np.asarray(row, np.int64)
        for variable, columns in zip(self.variables, self.slices, strict=True):
            genes = held[columns].tolist()
            if isinstance(variable, PliesVariable) and variable.spelled:
                length = genes[0] + variable.sequences.least
                choice = variable.sequences.ranked(genes[1 : length + 1])
            else:
                choice = genes[0] if 0 <= genes[0] < variable.count else None
            if choice is None:
                raise ValueError(f"the genes {genes} spell no choice of {variable.name}")
            yield choice

    def words(self, row: Row, project: Project) -> tuple[str, ...]:
        """Return each variable's choice in words, in the project's units."""
        held = zip(self.variables, self.choices(row), strict=True)
        return tuple(variable.words(choice, project) for variable, choice in held)

    def applied(self, project: Project, row: Row) -> Project:
        """Return the project changed into a design; the very same where she is that already.

        Raises
        ------
        StringerlabError
            When it cannot be drawn so.
        """
        return changed(project, self.changes(project, row))

    def changes(self, project: Project, row: Row) -> Changes:
        """Return what a design changes of a project."""
        changes = Changes()
        for variable, choice in zip(self.variables, self.choices(row), strict=True):
            variable.gather(changes, project, choice)
        return changes

    def nearest(self, project: Project) -> tuple[NDArray[np.int64], bool]:
        """Return the row of genes (v,) nearest to a project, and whether she is that design."""
        held = [variable.nearest(project) for variable in self.variables]
        return self.genes_of([choice for choice, _ in held]), all(exact for _, exact in held)


def _spelled(variable: Variable, choice: int) -> list[int]:
    if isinstance(variable, PliesVariable) and variable.spelled:
        asked = variable.sequences
        places = asked.unranked(choice)
        return [len(places) - asked.least, *places, *[0] * (asked.most - len(places))]
    return [choice]


def _drawn(made: np.random.Generator, count: int, n: int) -> list[int]:
    """Return n whole numbers below a count, each as likely as any other, however large the count is."""
    if count < 2**62:
        return made.integers(0, count, n).tolist()
    size = count.bit_length()
    found: list[int] = []
    while len(found) < n:
        number = int.from_bytes(made.bytes((size + 7) // 8), "little") & ((1 << size) - 1)
        if number < count:
            found.append(number)
    return found
