"""What is asked of a search, in the words a person reads: what may change and by how much, what must hold.

Numbers come as typed (mm, kn, kg) and are said in the units of a system.
"""

from stringerlab.layout.plan import Member
from stringerlab.project.contents import things
from stringerlab.project.finding import found_in
from stringerlab.project.records import Project
from stringerlab.project.wishes import Change, Demand, Holds, Number, Plies
from stringerlab.units import System, Unit, display_unit, format, own_unit, trimmed, unit_named
from stringerlab.units.kinds import Kind

FEW = 2
"""How many names are listed before the rest is counted."""
COUNTED = (Change.REPEATS, Change.TRANSVERSES)
"""Changes of a whole number."""
_ROUGH_DIGITS = 3
"""A number typed in one system is not said to the last digit of the other."""


# -- what may change -----------------------------------------------------------------------------


def names_of(project: Project, ids: tuple[str, ...]) -> str:
    """Return the names of things by their ids: two of them, the rest counted; an unknown id as it is.

    What is found in a layout and was given no name has the name it is found by.
    """
    names = {thing.record.id: thing.record.name for thing in things(project)}
    shown = [names.get(one) or one for one in ids]
    if any(one in names and not names[one] for one in ids):
        found = _found_names(project)
        shown = [names.get(one) or found.get(one) or one for one in ids]
    if len(shown) <= FEW:
        return " and ".join(shown)
    return f"{shown[0]} and {len(shown) - 1} more"


def _found_names(project: Project) -> dict[str, str]:
    """Return the names of panels and spans that are found in layouts, by the ids of their marks."""
    found = [found_in(project, layout) for layout in project.layouts]
    judged = [bay.panel for each in found for bay in each.bays] + [
        span.span for each in found for span in each.spans
    ]
    return {one.id: one.name for one in judged if one is not None}


def wish_name(project: Project, wish: Number | Plies) -> str:
    """Return what may change, as a line begins with it: ``Hat height of Main stringer``."""
    words = wish_words(project, wish)
    return f"{words[0].upper()}{words[1:]}"


def wish_words(project: Project, wish: Number | Plies) -> str:
    """Return what may change, in words: ``hat height of Main stringer``; what is unknown by its id."""
    if isinstance(wish, Plies):
        return f"plies of {names_of(project, (wish.laminate,))}"
    if wish.change is Change.TRANSVERSES and (ends := _ends_of(project, wish.of)):
        return f"{wish.change.value}, {ends[0].name} to {ends[1].name}"
    if wish.change is Change.REPEATS:
        material = _material(project, wish)
        layers = f"layers of ply {wish.ply}{f' ({material})' if material else ''}"
        return f"{layers} in {names_of(project, wish.of)}"
    return f"{wish.change.value} of {names_of(project, wish.of)}" if wish.of else wish.change.value


def _ends_of(project: Project, ids: tuple[str, ...]) -> tuple[Member, Member] | None:
    """Return the aftmost and the foremost of some members; None where there are no two."""
    held = [one for layout in project.layouts for one in layout.members if one.id in ids and one.points]
    held.sort(key=lambda one: (sum(x for x, _ in one.points) / len(one.points), one.id))
    return (held[0], held[-1]) if len(held) > 1 else None


def _material(project: Project, number: Number) -> str:
    """Return the material of the ply a number is of, in the first of its laminates; empty where none is."""
    held = next((one for one in project.laminates if one.id in number.of[:1]), None)
    if held is None or not 1 <= number.ply <= len(held.plies):
        return ""
    return held.plies[number.ply - 1].material


# -- its values ----------------------------------------------------------------------------------


def kind_of(change: Change) -> Kind:
    """Return what kind of quantity changes."""
    match change:
        case Change.REPEATS | Change.TRANSVERSES:
            return Kind.COUNT
        case Change.SPEED:
            return Kind.SPEED
        case Change.MASS:
            return Kind.MASS
        case _:
            return Kind.LENGTH


def typed_unit(change: Change) -> Unit:
    """Return the unit a number is typed in; that of a ratio for whole numbers."""
    match kind_of(change):
        case Kind.COUNT:
            return unit_named("")
        case Kind.SPEED:
            return unit_named("kn")
        case kind:
            return own_unit(kind)


def value_words(change: Change, value: float, system: System) -> str:
    """Return a value as typed in words, with the unit it is shown in: ``11.8 in``."""
    return _said(change, value, system, 6)


def amount_words(change: Change, amount: float, system: System) -> str:
    """Return a value or change of it as typed, roughly, in words with the unit it is shown in."""
    return _said(change, amount, system, _ROUGH_DIGITS)


def length_words(value: float, system: System) -> str:
    """Return a length as typed in words, with the unit it is shown in."""
    return _said(Change.HEIGHT, value, system, 4)


def _said(change: Change, value: float, system: System, digits: int) -> str:
    typed = typed_unit(change)
    shown = display_unit(typed.kind, system)
    return f"{trimmed(value * typed.factor / shown.factor, digits)} {shown.symbol}".rstrip()


# -- what must hold ------------------------------------------------------------------------------


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
