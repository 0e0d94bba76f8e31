"""Spans as the grid loads them, for the mechanics: moments, shear and torque of the envelope.

At the end the worst moment that puts the crown in compression, with the greatest shear and torque of any
case; in the span the worst that puts it in tension, with that torque, and with the greatest shear of any case
at that place, unless it lies in the middle third. They need not come from one case: the safe side.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from stringerlab.assess.grid.beams import widths
from stringerlab.assess.grid.patches import pressures
from stringerlab.assess.grid.records import Array, GridResults, SpanExtremes
from stringerlab.assess.sections import section_facts, section_properties
from stringerlab.laminate import Moduli
from stringerlab.layout import End, SpanCase
from stringerlab.layout.plan import Participation
from stringerlab.methods import CraftRow, Method
from stringerlab.methods.mechanics import Carried, LoadedSpan
from stringerlab.section import Plating
from stringerlab.section.loads import SectionLoads

_HELD = (End.HELD, End.HELD)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class GridLoaded:
    """A span as the grid loads it, and as single topics take it."""

    span: LoadedSpan
    moments: tuple[LoadedSpan, LoadedSpan]
    """With the crossings in its first and in its last half, held at both ends under the even load that gives
    the grid's moment at that end, all crowns through: for cut crowns."""
    shear: LoadedSpan
    """Under the even load that gives the grid's greatest shear as the end's share: for landings."""


def grid_loaded(results: GridResults, method: Method, craft: CraftRow) -> tuple[GridLoaded, ...]:
    """Return every judged span as the grid loads it, in the order found.

    Parameters
    ----------
    results
        With an envelope.
    method, craft
        Whose pressure and width of plating count.

    Raises
    ------
    StringerlabError
        When a section has no number to give.
    """
    ground = results.ground
    P: Mapping[str, float] = {
        case.span.id: value for case, value in pressures(ground, method, craft) if isinstance(case, SpanCase)
    }
    cases = [
        ground.spans[span.id]
        for span in ground.found.spans
        if span.id in ground.spans and span.id in results.spans
    ]
    numbers = {span.id: number for number, span in enumerate(ground.found.spans)}
    rule = ground.layout.rules.participation
    counted = widths(Participation.METHOD if rule is Participation.NONE else rule, method, cases)
    return tuple(
        _loaded(results, case, numbers[case.span.id], width, P.get(case.span.id, float("nan")))
        for case, width in zip(cases, counted.tolist(), strict=True)
    )


def _loaded(results: GridResults, case: SpanCase, number: int, width: float, P: float) -> GridLoaded:
    of = results.spans[case.span.id]
    outboards = results.transoms.get(case.span.id)
    if outboards is not None and case.span.transom is None:
        case = replace(case, span=replace(case.span, transom=outboards))
    plating = Plating(stack=case.plating, width=width, deadrise=case.drawn_deadrise)
    carried = _carried(results, case, number)
    span = LoadedSpan(
        case=case,
        plating=plating,
        properties=section_properties(case.section, plating, Moduli.CONTRACTED),
        facts=section_facts(case.section, case.drawn_deadrise),
        P=P,
        end=SectionLoads(V_z=of.V.value, M_y=of.M_min.value, T=of.T),
        middle=SectionLoads(V_z=_beside(of, carried, case.span.lu), M_y=of.M_max.value, T=of.T),
        carried=carried,
    )
    s, l_u = case.span.s, case.span.lu
    uncut = results.uncut.get(case.span.id, of)
    M_ends = tuple(max(pair) for pair in zip(of.M_ends, uncut.M_ends, strict=True))
    held = replace(case, span=replace(case.span, ends=_HELD))
    return GridLoaded(
        span=span,
        moments=(
            _crossed(span, held, M_ends[0], last=False),
            _crossed(span, held, M_ends[1], last=True),
        ),
        shear=replace(span, case=held, P=2 * of.V.value / (s * l_u)),
    )


MIDDLE = (1 / 3, 2 / 3)
"""Parts of a span between which its greatest moment with the crown in tension is judged without shear."""


def _beside(of: SpanExtremes, carried: Carried | None, l_u: float) -> float:
    """Return the greatest shear of any case where a span's moment puts the crown most in tension [N]."""
    along = of.M_max.along
    if MIDDLE[0] <= along <= MIDDLE[1]:
        return 0.0
    if carried is None:
        return of.V.value
    x = along * of.length - (of.length - l_u) / 2
    here = np.abs(carried.x - x) < _SAME
    # where beams of a span meet there are two shears at one place
    return float(carried.V[here].max()) if here.any() else carried.shear(x)


_SAME = 1e-3
"""Nearer to one another [mm], places are the same."""


def _crossed(span: LoadedSpan, held: SpanCase, M: float, *, last: bool) -> LoadedSpan:
    """Return a span with the crossings of one half, under the load that gives a moment at its ends."""
    l_u = held.span.lu
    here = tuple(each for each in held.span.crossings if (each.x > l_u / 2) is last)
    case = replace(held, span=replace(held.span, crossings=here))
    return replace(span, case=case, P=12 * M / (held.span.s * l_u**2))


def _carried(results: GridResults, case: SpanCase, number: int) -> Carried | None:
    """Return what a span carries along it, of it and its mirror image the more.

    A span ends at the roots of what supports it: what its nodes are farther apart is taken as half at either
    end.
    """
    beams, envelope = results.beams, results.envelope
    if beams is None or envelope is None:
        return None
    mine = np.flatnonzero(beams.span == number)
    length, l_u = results.spans[case.span.id].length, case.span.lu
    places: list[Array] = []
    shears: list[Array] = []
    moments: list[Array] = []
    for image in np.unique(beams.image[mine]).tolist():
        rows = mine[beams.image[mine] == image]
        low, high = beams.part[rows].T
        at = (low[:, None] + envelope.places * (high - low)[:, None]).ravel() * length - (length - l_u) / 2
        order = np.argsort(at, kind="stable")
        moment = np.maximum(np.abs(envelope.M_max[rows]), np.abs(envelope.M_min[rows])).ravel()
        places.append(at[order])
        shears.append(envelope.V_abs[rows].ravel()[order])
        moments.append(moment[order])
    x = places[0]
    return Carried(x=x, V=_greatest(x, places, shears), M=_greatest(x, places, moments))


def _greatest(x: Array, places: Sequence[Array], values: Sequence[Array]) -> Array:
    """Return the greatest at x of values known at places."""
    own = values[0]  # as it is: where two beams of a span meet it has two values at one place
    return np.max(
        [own, *(np.interp(x, at, each) for at, each in zip(places[1:], values[1:], strict=True))], axis=0
    )
