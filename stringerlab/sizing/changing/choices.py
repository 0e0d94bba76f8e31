"""Numbers and laminates that may change, as choices from 0. Values as typed: mm, kn, kg.

A choice is put among `Changes`, which are done at once; what is already there changes nothing.
"""

from dataclasses import dataclass
from typing import cast

import numpy as np

from stringerlab.laminate import resolve as resolved_laminate
from stringerlab.laminate import thickness
from stringerlab.laminate.records import Laminate, Ply
from stringerlab.layout.plan import Hand, Member
from stringerlab.layout.records import Panel, Span
from stringerlab.materials import Book
from stringerlab.materials.records import Core, PlyKind, Reinforcement
from stringerlab.project.drafting_shapes import hat_parameters
from stringerlab.project.planning_parts import member_of
from stringerlab.project.problems import book_of
from stringerlab.project.records import Project
from stringerlab.project.wish_words import value_words
from stringerlab.project.wishes import Change, Number, Plies
from stringerlab.sizing.changing.changes import Changes, Run, changed
from stringerlab.sizing.changing.ply_sequences import Laid, Sequences
from stringerlab.sizing.changing.transverses import evenly

HAT_FIELDS = {
    Change.HEIGHT: "height",
    Change.CROWN_WIDTH: "crown_width",
    Change.FLANGE_WIDTH: "flange_width",
}
"""Which parameter of a hat a change is of."""
CRAFT_FIELDS = {Change.SPEED: "speed", Change.MASS: "mass"}
SAME = 1e-6
"""Values that differ by less are the same."""


@dataclass(frozen=True)
class NumberVariable:
    """A number that may change, of a project."""

    id: str
    name: str
    number: Number
    values: tuple[float, ...]
    """As typed, of each choice."""
    present: float
    """Of the project, of the first of what it belongs to."""
    exact: bool
    """Whether everything it belongs to has that value, in the very same way."""

    @property
    def count(self) -> int:
        """How many choices there are."""
        return len(self.values)

    @property
    def columns(self) -> tuple[int, ...]:
        """How many values each of its gene columns has: one column, the choice."""
        return (self.count,)

    def words(self, choice: int, project: Project) -> str:
        """Return a choice in the project's units."""
        return value_words(self.number.change, self.values[choice], project.units)

    def applied(self, project: Project, choice: int) -> Project:
        """Return the project with this choice taken.

        Raises
        ------
        StringerlabError
            When it cannot be drawn so.
        """
        changes = Changes()
        self.gather(changes, project, choice)
        return changed(project, changes)

    def nearest(self, project: Project) -> tuple[int, bool]:
        """Return the choice nearest to the project's own value, and whether it is that."""
        present, alike = present_of(project, self.number)
        choice = min(range(self.count), key=lambda one: (abs(self.values[one] - present), one))
        return choice, alike and abs(self.values[choice] - present) <= SAME

    def gather(self, changes: Changes, project: Project, choice: int) -> None:
        """Put what a choice changes of a project among other changes."""
        value, change = self.values[choice], self.number.change
        if self.nearest(project) == (choice, True):
            return
        match change:
            case Change.HEIGHT | Change.CROWN_WIDTH | Change.FLANGE_WIDTH:
                for section in self.number.of:
                    changes.hats.setdefault(section, {})[HAT_FIELDS[change]] = value
            case Change.BEAD:
                changes.beads.update(dict.fromkeys(self.number.of, value))
            case Change.REPEATS:
                for laminate in self.number.of:
                    first, stop = run_of(laminate_of(project, laminate), self.number.ply - 1)
                    changes.runs.setdefault(laminate, []).append(Run(first, stop, round(value)))
            case Change.PLACE:
                for one in self.number.of:
                    member = member_of(project, one)
                    outward = -1.0 if _drawn_to_starboard(member) else 1.0
                    changes.moves[one] = round(outward * (value - distance_of(member)), 9)
            case Change.TRANSVERSES:
                changes.transverses.append((self.number.of, round(value)))
            case Change.SPACING | Change.LENGTH:
                self._gather_subjects(changes, project, value)
            case Change.SPEED | Change.MASS:
                changes.craft[CRAFT_FIELDS[change]] = value

    def _gather_subjects(self, changes: Changes, project: Project, value: float) -> None:
        grown = value - present_of(project, self.number)[0]
        of_span, of_panel = ("s", "b") if self.number.change is Change.SPACING else ("lu", "l")
        for one in self.number.of:
            record = subject_of(project, one)
            held = changes.subjects.setdefault(one, {})
            if isinstance(record, Span):
                held[of_span] = value
            else:
                held[of_panel] = round(getattr(record, of_panel) + grown, 9)


@dataclass(frozen=True)
class PliesVariable:
    """A laminate whose plies may change, of a project."""

    id: str
    name: str
    plies: Plies
    sequences: Sequences
    letters: tuple[str, ...]
    """Materials of the menu by id."""

    SPELLED = 2**16
    """With more choices than this its genes spell its plies out."""

    @property
    def count(self) -> int:
        """How many choices there are, exactly."""
        return self.sequences.count

    @property
    def spelled(self) -> bool:
        """Whether its genes are the number of plies and each of them, rather than the choice."""
        return self.count > self.SPELLED

    @property
    def columns(self) -> tuple[int, ...]:
        """How many values each of its gene columns has.

        One column, the choice; or where it is spelled out the number of plies above the least, then each
        ply's place in the menu.
        """
        if not self.spelled:
            return (self.count,)
        asked = self.sequences
        return (asked.most - asked.least + 1, *[len(asked.menu)] * asked.most)

    def ranked(self, plies: tuple[str, ...]) -> int | None:
        """Return the choice that has these materials between what stays; None where it is not allowed."""
        if any(one not in self.letters for one in plies):
            return None
        return self.sequences.ranked([self.letters.index(one) for one in plies])

    def unranked(self, choice: int) -> tuple[str, ...]:
        """Return the materials of a choice, between what stays, away from the mould."""
        return tuple(self.letters[place] for place in self.sequences.unranked(choice))

    def words(self, choice: int, project: Project) -> str:
        """Return a choice's materials, those that stay left out: ``csm450, wr600, csm450``."""
        del project
        return ", ".join(self.unranked(choice)) or "none"

    def applied(self, project: Project, choice: int) -> Project:
        """Return the project with this choice taken.

        Raises
        ------
        StringerlabError
            When a section cannot be drawn so.
        """
        changes = Changes()
        self.gather(changes, project, choice)
        return changed(project, changes)

    def nearest(self, project: Project) -> tuple[int, bool]:
        """Return the choice nearest to the project's own plies, and whether it is them."""
        held = laminate_of(project, self.plies.laminate).plies
        between = held[self.plies.kept : len(held) - self.plies.ended]
        names = tuple(ply.material for ply in between)
        choice = self.ranked(names)
        if choice is not None:
            return choice, all(ply == Ply(material=ply.material) for ply in between)
        return self.repaired(names), False

    def repaired(self, plies: tuple[str, ...]) -> int:
        """Return the choice that these materials come to when put right: see `Sequences.repaired`."""
        asked = self.sequences
        places = [self.letters.index(one) for one in plies if one in self.letters][: asked.most]
        slots = np.zeros((1, asked.most), np.int64)
        slots[0, : len(places)] = places
        held, made = asked.repaired(np.array([len(places)], np.int64), slots)
        choice = asked.ranked(made[0, : held[0]].tolist())
        assert choice is not None
        return choice

    def gather(self, changes: Changes, project: Project, choice: int) -> None:
        """Put what a choice changes of a project among other changes."""
        held = laminate_of(project, self.plies.laminate).plies
        plies = tuple(Ply(material=one) for one in self.unranked(choice))
        first, stop = self.plies.kept, len(held) - self.plies.ended
        if held[first:stop] != plies:
            changes.plies[self.plies.laminate] = (first, stop, plies)


# -- what a project has now ----------------------------------------------------------------------


def present_of(project: Project, number: Number) -> tuple[float, bool]:
    """Return the value that the first of what a number belongs to has, and whether all have it."""
    match number.change:
        case Change.HEIGHT | Change.CROWN_WIDTH | Change.FLANGE_WIDTH:
            hats = [hat_parameters(project, section) for section in number.of]
            held = [getattr(hat, HAT_FIELDS[number.change]) for hat in hats if hat is not None]
        case Change.BEAD:
            held = [section.bead for one in number.of for section in project.sections if section.id == one]
        case Change.REPEATS:
            runs = [run_of(laminate_of(project, one), number.ply - 1) for one in number.of]
            held = [float(stop - first) for first, stop in runs]
        case Change.PLACE:
            held = [distance_of(member_of(project, one)) for one in number.of]
        case Change.TRANSVERSES:
            return float(len(number.of)), evenly(project, number.of)
        case Change.SPACING | Change.LENGTH:
            records = [subject_of(project, one) for one in number.of]
            of_span, of_panel = ("s", "b") if number.change is Change.SPACING else ("lu", "l")
            spans = [getattr(one, of_span) for one in records if isinstance(one, Span)]
            held = spans or [getattr(one, of_panel) for one in records[:1]]
        case Change.SPEED | Change.MASS:
            held = [cast(float, getattr(project.craft, CRAFT_FIELDS[number.change]))]
    return held[0], all(abs(one - held[0]) <= SAME for one in held)


def laminate_of(project: Project, id: str) -> Laminate:  # noqa: A002
    """Return a laminate that is there."""
    return next(one for one in project.laminates if one.id == id)


def subject_of(project: Project, id: str) -> Panel | Span:  # noqa: A002
    """Return a panel or span given by hand that is there."""
    return next(one for one in (*project.spans, *project.panels) if one.id == id)


def run_of(laminate: Laminate, ply: int) -> tuple[int, int]:
    """Return the run of plies alike that a ply, from 0, is in: its first, and past its last."""
    first = stop = ply
    while first > 0 and laminate.plies[first - 1] == laminate.plies[ply]:
        first -= 1
    while stop < len(laminate.plies) and laminate.plies[stop] == laminate.plies[ply]:
        stop += 1
    return first, stop


def distance_of(member: Member) -> float:
    """Return how far from the centreline a member begins [mm]."""
    return abs(member.points[0][1])


def _drawn_to_starboard(member: Member) -> bool:
    return member.points[0][1] < 0 or (member.points[0][1] == 0 and member.hand is Hand.STARBOARD)


# -- what a laminate may be of -------------------------------------------------------------------


def laid(book: Book, ply: Ply) -> Laid:
    """Return how a ply lies: which of its faces are mat, and its thickness without gel coat.

    A plain fabric shows itself on both faces: a mat is mat on both, a roving or a stitched fabric on none. A
    fabric of several layers shows its first layer to the mould and its last away from it: 1808, laid with its
    mat to the mould, is mat on that face alone, so that it may lie on a roving, but no roving on it. A core
    and gel coat are no fabric and ask for no mat: both their faces count as mat.

    Raises
    ------
    StringerlabError
        When its thickness cannot be told.
    """
    material = book.find(ply.material)
    if not isinstance(material, Reinforcement):
        thick = (ply.thickness or 0.0) if isinstance(material, Core) else 0.0
        return Laid(ply.material, True, True, thick)
    kinds = [layer.kind for layer in material.layers] or [material.kind]
    stack = resolved_laminate(Laminate(id="", name=material.name, plies=(ply,)), book)
    return Laid(ply.material, kinds[0] is PlyKind.MAT, kinds[-1] is PlyKind.MAT, thickness(stack))


def sequences_of(project: Project, plies: Plies) -> Sequences:
    """Return the sequences that a laminate's wish allows.

    Raises
    ------
    StringerlabError
        When a material's thickness cannot be told.
    """
    book = book_of(project)
    held = laminate_of(project, plies.laminate).plies
    before = [laid(book, ply) for ply in held[: plies.kept]]
    after = [laid(book, ply) for ply in held[len(held) - plies.ended :]]
    staying = sum(one.thickness for one in (*before, *after))
    return Sequences(
        menu=tuple(laid(book, Ply(material=one)) for one in plies.menu),
        least=plies.least,
        most=plies.most,
        mat_between=plies.mat_between,
        before=before[-1].mat_last if before else None,
        after=after[0].mat_first if after else None,
        needed=(plies.gauge or 0.0) - staying,
    )
