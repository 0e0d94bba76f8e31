"""What each variable touches, and so which columns all stand on and which belong to one section's spans."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from stringerlab.errors import Problem, StringerlabError
from stringerlab.layout import Panel, Span
from stringerlab.layout.found import MemberSize
from stringerlab.layout.plan import Layout
from stringerlab.project import Project
from stringerlab.project.finding import layout_in_use
from stringerlab.project.plating import named_laminate, zones_under
from stringerlab.project.section_shapes import member_sizes, sections_of
from stringerlab.project.wishes import Change
from stringerlab.sizing.changing.changes import Changes, changed
from stringerlab.sizing.changing.choices import CRAFT_FIELDS, NumberVariable, PliesVariable
from stringerlab.sizing.changing.space import Space
from stringerlab.sizing.changing.variables import Variable

_PLAN = (Change.PLACE, Change.TRANSVERSES)
_DRAWN = (Change.HEIGHT, Change.CROWN_WIDTH, Change.FLANGE_WIDTH, Change.BEAD)
_GIVEN = (Change.SPACING, Change.LENGTH)


@dataclass(frozen=True, slots=True)
class Touch:
    """What a variable touches, by ids."""

    sections: frozenset[str] = frozenset()
    """Drawn otherwise, or of another laminate."""
    laminates: frozenset[str] = frozenset()
    subjects: frozenset[str] = frozenset()
    """Panels and spans given by hand."""
    craft: bool = False
    plan: bool = False
    """Whether panels and spans of the layout lie or measure otherwise."""


class Touching:
    """What the variables of a space touch in a boat."""

    def __init__(self, project: Project, space: Space) -> None:
        self.project, self.space = project, space
        self.layout = layout_in_use(project)
        self.touches = tuple(self._touch(one) for one in space.variables)

    def columns(self, variables: Iterable[int]) -> tuple[int, ...]:
        """Return the columns of some variables, in their order."""
        slices = self.space.slices
        return tuple(
            column for one in sorted(variables) for column in range(slices[one].start, slices[one].stop)
        )

    def of_section(self, section: str) -> tuple[int, ...]:
        """Return the variables that touch a section."""
        return tuple(i for i, one in enumerate(self.touches) if section in one.sections)

    def of_laminates(self, laminates: Iterable[str]) -> tuple[int, ...]:
        """Return the variables that touch any of some laminates."""
        asked = set(laminates)
        return tuple(i for i, one in enumerate(self.touches) if not asked.isdisjoint(one.laminates))

    @property
    def of_plan(self) -> tuple[int, ...]:
        """The variables by which the layout's panels and spans become others."""
        return tuple(i for i, one in enumerate(self.touches) if one.plan)

    @property
    def of_craft(self) -> tuple[int, ...]:
        """The variables of the craft."""
        return tuple(i for i, one in enumerate(self.touches) if one.craft)

    def applied(self, base: Project, variables: Sequence[int], values: Sequence[int]) -> Project:
        """Return a project with some variables' columns at these values.

        Raises
        ------
        StringerlabError
            When it cannot be drawn so, or they spell no choice.
        """
        return changed(base, self.gathered(base, variables, values))

    def gathered(self, base: Project, variables: Sequence[int], values: Sequence[int]) -> Changes:
        """Return what some variables' columns at these values change of a project.

        Raises
        ------
        StringerlabError
            When they spell no choice.
        """
        changes, at = Changes(), 0
        for number in sorted(variables):
            variable = self.space.variables[number]
            width = len(variable.columns)
            variable.gather(changes, base, choice_of(variable, values[at : at + width]))
            at += width
        return changes

    def split(self, subjects: Sequence[Panel | Span]) -> tuple[tuple[int, ...], tuple[tuple[int, ...], ...]]:
        """Return the columns all stand on, and those that are private to one section's spans, by section.

        Those that decide the plan come first: designs of one plan then lie together.

        Parameters
        ----------
        subjects
            Panels and spans of the boat as she is.
        """
        at_panels = self._hull_laminates([one for one in subjects if isinstance(one, Panel)])
        if self.layout is not None:
            at_panels |= {zone.laminate for zone in self.project.zones}
            at_panels |= {mark.laminate for mark in self.layout.bays if mark.laminate}
        under: dict[str, set[str]] = {}
        sections: dict[str, str] = {}
        panels = {one.id for one in subjects if isinstance(one, Panel)}
        for one in subjects:
            if isinstance(one, Span):
                sections[one.id] = one.section
                for laminate in self._hull_laminates([one]):
                    under.setdefault(laminate, set()).add(one.section)
        first: list[int] = []
        outer: list[int] = []
        groups: dict[str, list[int]] = {}
        for number, touch in enumerate(self.touches):
            reached = set(touch.sections)
            reached |= {section for one in touch.laminates for section in under.get(one, ())}
            reached |= {sections[one] for one in touch.subjects if one in sections}
            shared = touch.craft or len(reached) > 1
            shared |= not at_panels.isdisjoint(touch.laminates) or not panels.isdisjoint(touch.subjects)
            if touch.plan:
                first += self.columns([number])
            elif shared:
                outer += self.columns([number])
            elif reached:
                groups.setdefault(reached.pop(), []).extend(self.columns([number]))
        return (*first, *outer), tuple(tuple(one) for one in groups.values())

    def _hull_laminates(self, subjects: Sequence[Panel | Span]) -> set[str]:
        found: set[str] = set()
        for one in subjects:
            named = named_laminate(one)
            found |= {named} if named else {zone.laminate for zone in zones_under(self.project, one)}
            if isinstance(one, Panel) and one.pan is not None:
                found.add(one.pan.laminate)
        return found

    def _touch(self, variable: Variable) -> Touch:
        if isinstance(variable, PliesVariable):
            return self._of_laminates(variable, frozenset({variable.plies.laminate}))
        assert isinstance(variable, NumberVariable)
        number = variable.number
        of = frozenset(number.of)
        if number.change in CRAFT_FIELDS:
            return Touch(craft=True)
        if number.change in _PLAN:
            return Touch(plan=True)
        if number.change in _GIVEN:
            return Touch(subjects=of)
        if number.change in _DRAWN:
            return Touch(sections=of, plan=self._moves_plan(variable, of))
        return self._of_laminates(variable, of)

    def _of_laminates(self, variable: Variable, laminates: frozenset[str]) -> Touch:
        sections = frozenset(
            section.id
            for section in self.project.sections
            if any(wall.laminate in laminates for wall in section.walls)
        )
        return Touch(sections=sections, laminates=laminates, plan=self._moves_plan(variable, sections))

    def _moves_plan(self, variable: Variable, sections: frozenset[str]) -> bool:
        """Whether the layout's members become wider or higher at any of a variable's outermost choices."""
        layout = self.layout
        if layout is None:
            return False
        used = {section for member in layout.members for section in sections_of(member)}
        if used.isdisjoint(sections):
            return False
        before = member_sizes(self.project, layout)
        return any(
            self._resized(variable, choice, before, layout)
            for choice in dict.fromkeys((0, variable.count // 2, variable.count - 1))
        )

    def _resized(
        self, variable: Variable, choice: int, before: Mapping[str, MemberSize], layout: Layout
    ) -> bool:
        lean = replace(self.project, as_built=None, parent=None)
        try:
            after = member_sizes(variable.applied(lean, choice), layout)
        except StringerlabError:
            return True
        return any(
            max(abs(size.base_width - before[name].base_width), abs(size.height - before[name].height))
            > _SAME
            for name, size in after.items()
        )


_SAME = 1e-9


def choice_of(variable: Variable, values: Sequence[int]) -> int:
    """Return the choice that a variable's columns spell.

    Raises
    ------
    StringerlabError
        When they spell none.
    """
    choice: int | None = values[0] if 0 <= values[0] < variable.count else None
    if isinstance(variable, PliesVariable) and variable.spelled:
        length = values[0] + variable.sequences.least
        choice = variable.sequences.ranked(values[1 : length + 1])
    if choice is None:
        raise StringerlabError(Problem("These plies are not allowed.", variable.name, "Repair the genes."))
    return choice


__all__ = ["Touch", "Touching", "choice_of"]
