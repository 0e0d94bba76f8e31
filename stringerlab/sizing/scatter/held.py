"""A few samples held against the program's own way: laminates, sections and cases really made of them.

Nothing of the sampling is used here but the factors: plies are estimated anew at their glass content, drawn
sections built of them ply by ply, and judged as a check does.
"""

import dataclasses
from collections.abc import Iterator, Mapping

import numpy as np

from stringerlab.assess.sections import section_facts, section_properties
from stringerlab.geometry.chords import as_points
from stringerlab.laminate import Role, Stack, is_sandwich
from stringerlab.laminate.records import PlyNumbers
from stringerlab.layout import PanelCase, SpanCase
from stringerlab.methods import CraftRow, Judged, panel_rows, plating_rows, sandwich_rows, span_rows
from stringerlab.project.plating import plated
from stringerlab.project.problems import book_of
from stringerlab.project.wishes import Scattered
from stringerlab.section import Plating, ply_polygons, webs
from stringerlab.section.contact import CONTACT, in_shell_axes
from stringerlab.section.records import SectionShape
from stringerlab.sizing.scatter.cloth import laid_at
from stringerlab.sizing.scatter.model import Key, Model
from stringerlab.sizing.scatter.sizes import raised
from stringerlab.workings import Array

_STRENGTHS = ("tension_1", "compression_1", "tension_2", "compression_2", "shear", "flexural", "interlaminar")
By = Mapping[tuple[Scattered, str], Array]


def really(model: Model, by: By, sample: int) -> tuple[dict[Key, float], tuple[str, ...]]:
    """Return the utilisation of every rule finding of one sample, the long way; and spans that come apart.

    A drawing stands still while its laminates grow and shrink. Where several are drawn on one another and one
    changes by more than the drawing's tolerance, a tab may be taken for a web of its own; in the boat it lies
    on what it is laid on. Such spans are not held against the drawing, and named.

    Parameters
    ----------
    model
        The project made ready.
    by
        Factors (n,) on every scattered value.
    sample
        Which of them.

    Raises
    ------
    StringerlabError
        Where a sample has a number that the program refuses, as a laminate that folds.
    """
    factor = {key: float(values[sample]) for key, values in by.items()}
    stacks = {**model.resolved.stacks, **dict(_stacks(model, factor))}
    craft = dataclasses.replace(model.craft, V=model.craft.V * factor.get((Scattered.SPEED, ""), 1.0))
    found: dict[Key, float] = {}
    apart: list[str] = []
    for panel in model.panels:
        under = plated(model.project, stacks, panel.case.panel)
        case = dataclasses.replace(panel.case, stack=under.counted)
        strength = _mean_strength(model, panel.case.panel.id, case, factor)
        found |= _used(case.panel.id, _judged_panel(model, craft, case, strength))
    for span in model.spans:
        shape = _grown(span.form.shape, span.walls, stacks, span.case.drawn_deadrise)
        under = plated(model.project, stacks, span.case.span)
        case = dataclasses.replace(span.case, section=shape, plating=under.hull)
        if _parts(span.form.shape, shape):
            apart.append(case.span.id)
            continue
        found |= _used(case.span.id, _judged_span(model, craft, case))
    return found, tuple(apart)


def _parts(drawn: SectionShape, sampled: SectionShape) -> bool:
    """Whether laminates drawn on one another may part or meet by more than the drawing's tolerance."""
    return len(drawn.walls) > 1 and any(
        abs(sum(ply.thickness for ply in wall.stack.plies) - sum(ply.thickness for ply in other.stack.plies))
        > webs.CONTACT / 2
        for wall, other in zip(drawn.walls, sampled.walls, strict=True)
    )


def _stacks(model: Model, factor: Mapping[tuple[Scattered, str], float]) -> Iterator[tuple[str, Stack]]:
    book = book_of(model.project)
    for laminate in model.project.laminates:
        cloth = model.cloths.get(laminate.id)
        if cloth is None:
            continue
        t, g, e, s = (
            factor.get((what, laminate.id), 1.0)
            for what in (Scattered.THICKNESS, Scattered.GLASS, Scattered.MODULUS, Scattered.STRENGTH)
        )
        g = min(max(g, cloth.low), cloth.high)
        stack = laid_at(laminate, book, cloth.stack, g) if g != 1 else cloth.stack
        yield laminate.id, Stack(name=stack.name, plies=tuple(_changed(ply, t, e, s) for ply in stack.plies))


def _changed(ply: PlyNumbers, t: float, e: float, s: float) -> PlyNumbers:
    if ply.role is not Role.REINFORCED:
        return ply
    changed = {name: None if (held := getattr(ply, name)) is None else held * s for name in _STRENGTHS}
    return dataclasses.replace(
        ply,
        thickness=ply.thickness * t,
        E1=ply.E1 * e,
        E2=ply.E2 * e,
        G12=ply.G12 * e,
        coupons=tuple(
            dataclasses.replace(one, mean=one.mean * s, deviation=one.deviation * s, value=one.value * s)
            if one.name in _STRENGTHS
            else one
            for one in ply.coupons
        ),
        **changed,
    )


def _mean_strength(
    model: Model, panel: str, case: PanelCase, factor: Mapping[tuple[Scattered, str], float]
) -> float:
    """Return the factor on the fitted flexural strength, which no ply has: the plies' mean by thickness."""
    come = next(one.come for one in model.panels if one.case.panel.id == panel)
    pairs = [
        (ply.thickness, factor.get((Scattered.STRENGTH, origin.laminate), 1.0))
        for ply, origin in zip(case.stack.plies, come, strict=True)
        if ply.role is Role.REINFORCED
    ]
    if any("flexural" in ply.tested for ply in case.stack.plies):
        return 1.0
    return sum(t * s for t, s in pairs) / sum(t for t, _ in pairs)


def _judged_panel(model: Model, craft: CraftRow, case: PanelCase, strength: float) -> tuple[Judged, ...]:
    method = model.method
    if is_sandwich(case.stack):
        return tuple(method.judge_sandwiches(craft, sandwich_rows([case], method.evaluation)))
    rows = panel_rows([case], method.evaluation)
    return tuple(method.judge_panels(craft, dataclasses.replace(rows, sigma_uf=rows.sigma_uf * strength)))


def _judged_span(model: Model, craft: CraftRow, case: SpanCase) -> tuple[Judged, ...]:
    method, slope = model.method, case.drawn_deadrise
    facts = section_facts(case.section, slope)
    width = float(method.plating(plating_rows([case], [facts]))[0])
    found = section_properties(
        case.section,
        Plating(stack=case.plating, width=width, deadrise=slope),
        method.moduli,
        None if method.evaluation.bare else method.evaluation,
    )
    return tuple(method.judge_spans(craft, span_rows([case], [found], [facts], method.evaluation)))


def _grown(
    shape: SectionShape, laminates: tuple[str, ...], stacks: Mapping[str, Stack], deadrise: float
) -> SectionShape:
    """Return a section of other laminates: laps declared, and stood higher where it would enter the shell."""
    ids = [wall.id for wall in shape.walls]
    laps = tuple((one, other) for place, one in enumerate(ids) for other in ids[place + 1 :])
    grown = dataclasses.replace(
        shape,
        walls=tuple(
            dataclasses.replace(wall, stack=stacks[name])
            for wall, name in zip(shape.walls, laminates, strict=True)
        ),
        laps=laps,
    )
    lift = _depth(grown, deadrise) - max(_depth(shape, deadrise), CONTACT)
    if lift <= 0:
        return grown
    return raised(grown, deadrise, lift)


def _depth(shape: SectionShape, deadrise: float) -> float:
    """Return how far a section's walls reach below the shell's face."""
    bare = dataclasses.replace(shape, fills=())
    return -float(in_shell_axes(as_points(ply_polygons(bare).points), deadrise).imag.min())


def _used(subject: str, judged: tuple[Judged, ...]) -> dict[Key, float]:
    with np.errstate(divide="ignore", invalid="ignore"):
        return {
            (subject, one.aspect): float(np.broadcast_to(one.utilisation, 1)[0])
            for one in judged
            if not one.advice and np.broadcast_to(True if one.applies is None else one.applies, 1)[0]
        }
