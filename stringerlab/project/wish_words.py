"""What is asked of a search, in the words a person reads: of what may change and of what must hold."""

from stringerlab.project.contents import things
from stringerlab.project.records import Project
from stringerlab.project.wishes import Change, Demand, Holds, Number, Plies
from stringerlab.units import System, format, trimmed
from stringerlab.units.kinds import Kind

FEW = 2
"""How many names are listed before the rest is counted."""


def names_of(project: Project, ids: tuple[str, ...]) -> str:
    """Return the names of things by their ids: two of them, the rest counted; an unknown id as it is."""
    names = {thing.record.id: thing.record.name for thing in things(project)}
    shown = [names.get(one) or one for one in ids]
    if len(shown) <= FEW:
        return " and ".join(shown)
    return f"{shown[0]} and {len(shown) - 1} more"


def wish_name(project: Project, wish: Number | Plies) -> str:
    """Return what may change, in words: ``Hat height of Main stringer``."""
    if isinstance(wish, Plies):
        return f"Plies of {names_of(project, (wish.laminate,))}"
    if wish.change is Change.REPEATS:
        return f"Layers of ply {wish.ply} of {names_of(project, wish.of)}"
    change = wish.change.value
    begun = f"{change[0].upper()}{change[1:]}"
    return f"{begun} of {names_of(project, wish.of)}" if wish.of else begun


def demand_words(project: Project, demand: Demand, system: System) -> str:
    """Return what must hold, in words with its limit."""
    of = names_of(project, demand.of)
    match demand.holds:
        case Holds.USE:
            checks = demand.aspect or "every rule check"
            return f"Utilisation of {checks}{f' of {of}' if of else ''} at most {trimmed(demand.limit, 4)}"
        case Holds.DEFLECTION:
            part = trimmed(1.0 / demand.limit, 4)
            return f"Deflection of {of or 'every span'} at most 1/{part} of its length"
        case Holds.HEIGHT:
            limit = format(demand.limit, Kind.LENGTH, system)
            return f"Height above the shell of {of or 'every section'} at most {limit}"
