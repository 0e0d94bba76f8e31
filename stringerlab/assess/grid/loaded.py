"""Spans as the grid loads them, for the mechanics: moments, shear and torque of the envelope.

At the end the worst moment that puts the crown in compression, with the greatest shear and torque of any
case; at mid-span the worst that puts it in tension, with that torque. They need not come from one case: the
safe side.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from stringerlab.assess.grid.beams import widths
from stringerlab.assess.grid.patches import pressures
from stringerlab.assess.grid.records import GridResults
from stringerlab.assess.sections import section_facts, section_properties
from stringerlab.laminate import Moduli
from stringerlab.layout import End, SpanCase
from stringerlab.layout.plan import Participation
from stringerlab.methods import CraftRow, Method
from stringerlab.methods.mechanics import LoadedSpan
from stringerlab.section import Plating
from stringerlab.section.loads import SectionLoads

_HELD = (End.HELD, End.HELD)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class GridLoaded:
    """A span as the grid loads it, and as single topics take it."""

    span: LoadedSpan
    moments: tuple[LoadedSpan, LoadedSpan]
    """With the crossings in its first and in its last half, held at both ends under the even load that gives
    the grid's moment at that end: for cut crowns."""
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
    rule = ground.layout.rules.participation
    counted = widths(Participation.METHOD if rule is Participation.NONE else rule, method, cases)
    return tuple(
        _loaded(results, case, width, P.get(case.span.id, float("nan")))
        for case, width in zip(cases, counted.tolist(), strict=True)
    )


def _loaded(results: GridResults, case: SpanCase, width: float, P: float) -> GridLoaded:
    of = results.spans[case.span.id]
    outboards = results.transoms.get(case.span.id)
    if outboards is not None and case.span.transom is None:
        case = replace(case, span=replace(case.span, transom=outboards))
    plating = Plating(stack=case.plating, width=width, deadrise=case.drawn_deadrise)
    span = LoadedSpan(
        case=case,
        plating=plating,
        properties=section_properties(case.section, plating, Moduli.CONTRACTED),
        facts=section_facts(case.section, case.drawn_deadrise),
        P=P,
        end=SectionLoads(V_z=of.V.value, M_y=of.M_min.value, T=of.T),
        middle=SectionLoads(M_y=of.M_max.value, T=of.T),
    )
    s, l_u = case.span.s, case.span.lu
    held = replace(case, span=replace(case.span, ends=_HELD))
    return GridLoaded(
        span=span,
        moments=(
            _crossed(span, held, of.M_ends[0], last=False),
            _crossed(span, held, of.M_ends[1], last=True),
        ),
        shear=replace(span, case=held, P=2 * of.V.value / (s * l_u)),
    )


def _crossed(span: LoadedSpan, held: SpanCase, M: float, *, last: bool) -> LoadedSpan:
    """Return a span with the crossings of one half, under the load that gives a moment at its ends."""
    l_u = held.span.lu
    here = tuple(each for each in held.span.crossings if (each.x > l_u / 2) is last)
    case = replace(held, span=replace(held.span, crossings=here))
    return replace(span, case=case, P=12 * M / (held.span.s * l_u**2))
