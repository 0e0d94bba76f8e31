"""A step that was tried, found again in the boat: where its number is edited, and the boat with it taken."""

from dataclasses import dataclass

from stringerlab.errors import Problem, StringerlabError
from stringerlab.project import Project
from stringerlab.project.wishes import Change, Number
from stringerlab.sizing.records import Step


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Of a step: the number it changes, and which of its values it takes."""

    number: Number
    choice: int

    @property
    def id(self) -> str:
        """Id of what the number is edited on: a section, laminate, member, span, or the boat."""
        if self.number.change in (Change.SPEED, Change.MASS) or not self.number.of:
            return "craft"
        return self.number.of[0]


def place_of(project: Project, step: Step) -> Place | None:
    """Return where a step is taken in a project; None where there is no such step any more."""
    from stringerlab.sizing.changing.variables import all_steps, variable_of

    for number in all_steps(project):
        try:
            variable = variable_of(project, number)
        except StringerlabError:  # its own steps are tried without it, so none of them is this one
            continue
        if variable.name != step.variable:
            continue
        for choice in range(variable.count):
            if variable.words(choice, project) == step.after:
                return Place(number=number, choice=choice)
    return None


def with_step(project: Project, step: Step) -> Project:
    """Return the project with a step taken.

    Raises
    ------
    StringerlabError
        When there is no such step any more, or it cannot be built.
    """
    from stringerlab.sizing.changing.mat_between import taken
    from stringerlab.sizing.changing.variables import variable_of

    place = place_of(project, step)
    found = None if place is None else taken(project, variable_of(project, place.number), place.choice)
    if found is None:
        raise StringerlabError(
            Problem(f"{step.name}: the boat has changed, there is no such step now.", "", "Look again.")
        )
    return found.boat
