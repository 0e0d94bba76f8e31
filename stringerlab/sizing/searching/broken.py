"""Where nothing holds: which demands make it so, and by how much, in words."""

from collections.abc import Sequence

import numpy as np

from stringerlab.project import Project
from stringerlab.project.wishes import Demand, Holds
from stringerlab.sizing.judging.standing import Fast
from stringerlab.sizing.records import Broken
from stringerlab.sizing.searching.nearest import Nearest
from stringerlab.units import Kind, format, rounded, trimmed


def broken_of(
    project: Project, demands: Sequence[Demand], nearest: Nearest, *, proven: bool
) -> tuple[Broken, ...]:
    """Return the demands that cannot hold, or not together.

    Parameters
    ----------
    project
        Gives units and names.
    demands
        What must hold, in the order of the ratios of ``nearest``.
    nearest
        How near the designs judged come to holding.
    proven
        Whether they are all there are.
    """
    alone = [
        Broken(
            demand=demand, words=_alone(project, demand, float(least), proven), least=float(least), alone=True
        )
        for demand, least in zip(demands, nearest.least, strict=True)
        if least > 1 and np.isfinite(least)
    ]
    if alone or not len(nearest.ratios):
        return tuple(alone)
    return tuple(
        Broken(
            demand=demand,
            words=_together(project, demand, float(ratio), proven),
            least=float(ratio),
            alone=False,
        )
        for demand, ratio in zip(demands, nearest.ratios[0], strict=True)
        if ratio > 1
    )


def held_fast(project: Project, demands: Sequence[Demand], fast: Sequence[Fast | None]) -> tuple[Broken, ...]:
    """Return the demands that something breaks which nothing in the space changes.

    Parameters
    ----------
    project
        Gives units and names.
    demands, fast
        What must hold; the most that each asks of what nothing changes.
    """
    return tuple(
        Broken(
            demand=demand,
            words=(
                f"Nothing that may change here changes what breaks it: {one.words} comes to "
                f"{_value(project, demand, one.ratio)} in every design, {_times(one.ratio)} times the limit "
                f"({demand_words(project, demand)}). Let something change that reaches it, or ask less."
            ),
            least=one.ratio,
            alone=True,
        )
        for demand, one in zip(demands, fast, strict=True)
        if one is not None and one.ratio > 1
    )


def demand_words(project: Project, demand: Demand) -> str:
    """Return what a demand asks, in words: ``utilisation no more than 0.9``."""
    if demand.holds is Holds.HEIGHT:
        limit = format(demand.limit, Kind.LENGTH, project.units)
    elif demand.holds is Holds.DEFLECTION:
        limit = f"{trimmed(demand.limit)} of the span"
    else:
        limit = trimmed(demand.limit)
    what = demand.aspect or str(demand.holds)
    of = _names(project, demand)
    return f"{what}{f' of {of}' if of else ''} no more than {limit}"


def _names(project: Project, demand: Demand) -> str:
    known = {one.id: one.name for one in (*project.sections, *project.panels, *project.spans)}
    return ", ".join(known.get(one, one) for one in demand.of)


def _alone(project: Project, demand: Demand, least: float, proven: bool) -> str:
    seen = "Whatever is chosen" if proven else "In every design judged"
    return (
        f"{seen}, it is broken: {demand_words(project, demand)}. "
        f"The nearest comes to {_value(project, demand, least)}, {_times(least)} times the limit."
    )


def _together(project: Project, demand: Demand, ratio: float, proven: bool) -> str:
    seen = "in any design" if proven else "in any design judged"
    return (
        f"Holds alone, but not together with the other demands {seen}: {demand_words(project, demand)}. "
        f"In the design nearest to holding all it comes to {_value(project, demand, ratio)}, "
        f"{_times(ratio)} times the limit."
    )


def _value(project: Project, demand: Demand, ratio: float) -> str:
    value = ratio * demand.limit
    if demand.holds is Holds.HEIGHT:
        return format(value, Kind.LENGTH, project.units)
    return f"{rounded(value)} of the span" if demand.holds is Holds.DEFLECTION else rounded(value)


def _times(ratio: float) -> str:
    """Return how many times the limit, never so short that it reads as held."""
    return next(
        (text for text in (rounded(ratio, digits) for digits in (3, 4, 6, 8)) if float(text) > 1),
        "a little over 1",
    )
