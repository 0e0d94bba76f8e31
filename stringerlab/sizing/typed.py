"""In which unit a number that may change is typed, and how much of it is said."""

from stringerlab.project.wishes import Change
from stringerlab.sizing.changing.choices import COUNTED
from stringerlab.units import System, Unit, display_unit, trimmed, unit_named

_DIGITS = 3
"""Of a change: a step typed in one system is not said to the last digit of the other."""


def typed_unit(change: Change) -> Unit:
    """Return the unit a number is typed in; that of a ratio for whole numbers."""
    if change in COUNTED:
        return unit_named("")
    match change:
        case Change.SPEED:
            return unit_named("kn")
        case Change.MASS:
            return unit_named("kg")
        case _:
            return unit_named("mm")


def amount_words(change: Change, amount: float, system: System) -> str:
    """Return by how much a number changes, as typed, in words with the unit it is shown in."""
    typed = typed_unit(change)
    shown = display_unit(typed.kind, system)
    return f"{trimmed(amount * typed.factor / shown.factor, _DIGITS)} {shown.symbol}".rstrip()
