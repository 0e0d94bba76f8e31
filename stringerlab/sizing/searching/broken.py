"""Where nothing holds: which demands make it so, and by how much, in words."""

from collections.abc import Sequence
from math import isfinite

from stringerlab.project import Project
from stringerlab.project.wish_words import demand_words
from stringerlab.project.wishes import Demand, Holds
from stringerlab.sizing.judging.standing import Fast
from stringerlab.sizing.records import Broken
from stringerlab.sizing.searching.nearest import Nearest
from stringerlab.units import Kind, format, rounded, trimmed


def broken_of(
    project: Project,
    demands: Sequence[Demand],
    fast: Sequence[Fast | None],
    nearest: Nearest | None,
    *,
    proven: bool,
) -> tuple[Broken, ...]:
    """Return every demand that cannot hold on its own; where each can, those that do not hold together.

    Parameters
    ----------
    project
        Gives units and names.
    demands, fast
        What must hold, in the order of the ratios of ``nearest``; the most that each asks of what nothing in
        the space changes.
    nearest
        How near the designs judged come to holding; None where some hold.
    proven
        Whether they are all there are.
    """
    if nearest is None:
        return ()
    alone = [
        one
        for demand, stands, least in zip(demands, fast, nearest.least.tolist(), strict=True)
        if (one := _on_its_own(project, demand, stands, least, proven)) is not None
    ]
    if alone or not len(nearest.ratios):
        return tuple(alone)
    return tuple(
        Broken(demand=demand, words=_together(project, demand, ratio, proven), least=ratio, alone=False)
        for demand, ratio in zip(demands, nearest.ratios[0].tolist(), strict=True)
        if ratio > 1
    )


def _on_its_own(
    project: Project, demand: Demand, fast: Fast | None, least: float, proven: bool
) -> Broken | None:
    """Return a demand that cannot hold on its own; None where it can."""
    if fast is not None and fast.ratio > 1:
        stands = float(fast.ratio)
        # Of all designs the nearest is known exactly: something that changes may break it the more.
        nearest = max(stands, least) if proven and isfinite(least) else stands
        words = (
            f"Nothing that may change here changes what breaks it: {fast.words} comes to "
            f"{_value(project, demand, stands)} in every design, {_times(stands)} times the limit "
            f"({_asked(project, demand)}). Let something change that reaches it, or ask less."
        )
        return Broken(demand=demand, words=words, least=nearest, alone=True)
    if least <= 1 or not isfinite(least):
        return None
    return Broken(demand=demand, words=_alone(project, demand, least, proven), least=least, alone=True)


def _asked(project: Project, demand: Demand) -> str:
    """Return what a demand asks, in words within a sentence."""
    words = demand_words(project, demand, project.units)
    return f"{words[0].lower()}{words[1:]}"


def _alone(project: Project, demand: Demand, least: float, proven: bool) -> str:
    seen = "Whatever is chosen" if proven else "In every design judged"
    return (
        f"{seen}, it is broken: {_asked(project, demand)}. "
        f"The nearest comes to {_value(project, demand, least)}, {_times(least)} times the limit."
    )


def _together(project: Project, demand: Demand, ratio: float, proven: bool) -> str:
    seen = "in any design" if proven else "in any design judged"
    return (
        f"Holds alone, but not together with the other demands {seen}: {_asked(project, demand)}. "
        f"In the design nearest to holding all it comes to {_value(project, demand, ratio)}, "
        f"{_times(ratio)} times the limit."
    )


def _value(project: Project, demand: Demand, ratio: float) -> str:
    value = ratio * demand.limit
    if demand.holds is Holds.HEIGHT:
        return format(value, Kind.LENGTH, project.units)
    if demand.holds is Holds.DEFLECTION:
        return f"1/{trimmed(1 / value, 4)} of its length"
    return rounded(value)


def _times(ratio: float) -> str:
    """Return how many times the limit, never so short that it reads as held."""
    return next(
        (text for text in (rounded(ratio, digits) for digits in (3, 4, 6, 8)) if float(text) > 1),
        "a little over 1",
    )
