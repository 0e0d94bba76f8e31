"""What a demand reads of one boat measured by the plain path: nothing here is done in batches. mm, MPa."""

import numpy as np

from stringerlab.assess.sections import section_facts, section_properties
from stringerlab.layout import Span, SpanCase
from stringerlab.methods import (
    FindingKind,
    Method,
    craft_row,
    end_factors,
    plating_rows,
    span_pressure_rows,
)
from stringerlab.methods.mechanics.beams import greatest_deflection
from stringerlab.project import Project
from stringerlab.project.span_problems import member_height
from stringerlab.project.wishes import Demand, Holds
from stringerlab.section import Plating
from stringerlab.sizing.plain import Measured, highest


def reading(project: Project, found: Measured, method: Method, demand: Demand) -> float:
    """Return what a demand reads of a boat, before its limit; 0 where it reads nothing.

    Parameters
    ----------
    project, found
        The boat, and the same measured.
    method
        That she was measured by.
    demand
        A utilisation, a deflection in parts of the span, or a height [mm].
    """
    spans = [one for one in found.resolved.subjects if isinstance(one, Span)]
    match demand.holds:
        case Holds.USE:
            return _use(found, demand, {one.id: one.section for one in spans})
        case Holds.HEIGHT:
            sections = {one.section for one in spans} if not demand.of else set(demand.of)
            of = [one for one in project.sections if one.id in sections]
            return max((member_height(one) or 0.0 for one in of), default=0.0)
        case Holds.DEFLECTION:
            cases = [
                one
                for one in found.resolved.spans
                if not demand.of or not {one.span.id, one.span.section}.isdisjoint(demand.of)
            ]
            return max((deflection(found, one, method) for one in cases), default=0.0)


def deflection(found: Measured, case: SpanCase, method: Method) -> float:
    """Return a span's greatest deflection as a single beam under the method's pressure, over its length.

    Its section is drawn with the plating that counts; 0 where the method states no pressure on it.
    """
    if method.pressure is None:
        return 0.0
    [pressure] = np.broadcast_to(
        method.pressure(craft_row(found.resolved.craft), span_pressure_rows([case])), 1
    )
    [width] = method.plating(plating_rows([case], [section_facts(case.section, case.drawn_deadrise)]))
    strip = Plating(stack=case.plating, width=float(width), deadrise=case.drawn_deadrise)
    EI = section_properties(case.section, strip, method.moduli).EI_y
    span = case.span
    [factor] = end_factors([span.ends]).deflection
    w = greatest_deflection(f_w=factor, P=pressure, s=span.s, l_u=span.lu, EI=EI)
    return float(np.nan_to_num(w / span.lu, nan=0.0))


def _use(found: Measured, demand: Demand, sections: dict[str, str]) -> float:
    worst = highest(
        one
        for one in found.findings.values()
        if one.kind is FindingKind.RULE
        and demand.aspect in ("", one.aspect)
        and (not demand.of or not {one.subject, sections.get(one.subject, "")}.isdisjoint(demand.of))
    )
    return 0.0 if worst is None or worst.utilisation is None else worst.utilisation


__all__ = ["deflection", "reading"]
