"""What of a boat a study can sweep: what may change in a search, and beside it speed and displacement."""

from dataclasses import replace
from functools import lru_cache

from stringerlab.project import Project
from stringerlab.project.wish_offers import offers
from stringerlab.project.wish_words import typed_unit, wish_name
from stringerlab.project.wishes import Change, Number, Wishes
from stringerlab.units import System, display_unit


def key_of(number: Number) -> str:
    """Return what tells one number from another, whatever its range."""
    return "|".join((number.change.value, str(number.ply), *number.of))


def sweeps(project: Project) -> dict[str, tuple[str, Number]]:
    """Return what can be swept, by its key: its words, and the number with a range about the present."""
    return _sweeps(replace(project, wishes=Wishes()))


def found_by(project: Project, key: str) -> Number | None:
    """Return the number of a key with a range about the present, still without id."""
    found = sweeps(project).get(key)
    return None if found is None else found[1]


@lru_cache(4)
def _sweeps(project: Project) -> dict[str, tuple[str, Number]]:
    numbers = [offer.wish for offer in offers(project) if isinstance(offer.wish, Number)]
    numbers += [
        _about(Change.SPEED, project.craft.speed, 12, project.units),
        _about(Change.MASS, project.craft.mass, 10, project.units),
    ]
    return {key_of(one): (wish_name(project, one), one) for one in numbers}


def _about(change: Change, now: float, steps: int, units: System) -> Number:
    """Return a range of the boat's own number: from 30 % less to 30 % more, in steps round as shown."""
    typed = typed_unit(change)
    shown = display_unit(typed.kind, units).factor / typed.factor
    rough = 0.6 * now / steps / shown
    size = 10.0 ** (len(str(int(rough))) - 1) if rough >= 1 else 0.1
    step = max(round(rough / size), 1) * size * shown
    half = max(round(0.3 * now / step), 1)
    return Number(
        id="", change=change, least=round(now - half * step, 6), most=round(now + half * step, 6), step=step
    )
