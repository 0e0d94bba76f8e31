"""What a boat that is none of the designs has of her own, in words, where each variable stands."""

from stringerlab.laminate.records import Ply
from stringerlab.project import Project
from stringerlab.project.wish_words import value_words
from stringerlab.project.wishes import Change
from stringerlab.sizing.changing.choices import NumberVariable, PliesVariable, laminate_of
from stringerlab.sizing.changing.space import Space
from stringerlab.sizing.changing.variables import Variable


def own_values(space: Space, project: Project) -> tuple[str, ...]:
    """Return the boat's own value of every variable, in words with units of the project."""
    return tuple(_own(variable, project) for variable in space.variables)


def _own(variable: Variable, project: Project) -> str:
    if isinstance(variable, NumberVariable):
        change = variable.number.change
        words = value_words(change, variable.present, project.units)
        if variable.exact:
            return words
        return f"{words}, not evenly" if change is Change.TRANSVERSES else f"{words} and others"
    if isinstance(variable, PliesVariable):
        held = laminate_of(project, variable.plies.laminate).plies
        between = held[variable.plies.kept : len(held) - variable.plies.ended]
        words = ", ".join(ply.material for ply in between) or "none"
        plain = all(ply == Ply(material=ply.material) for ply in between)
        return words if plain else f"{words}, with angles or thicknesses of their own"
    return variable.words(variable.nearest(project)[0], project)


__all__ = ["own_values"]
