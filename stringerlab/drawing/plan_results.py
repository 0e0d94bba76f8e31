"""What a check found, laid over a plan: how much of each panel and member is used, and what the grid carries.

Every overlay is a picture for `plan_picture` to lie under, with its legend. x forward, y to port, mm.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

import numpy as np

from stringerlab.assess.grid import GridResults, case_field
from stringerlab.drawing.display import Area, Item, Label, Line, Mark, Picture, Points, Role, Shape
from stringerlab.drawing.options import LegendRow, Swatch
from stringerlab.drawing.plan_diagrams import Diagram, diagrams
from stringerlab.drawing.plan_options import PlanOptions, Width
from stringerlab.drawing.plan_shapes import at_parts, clean, middle, ribbon
from stringerlab.layout.found import Found, FoundSpan
from stringerlab.methods import Finding, Verdict, utilisation_text
from stringerlab.units import Kind
from stringerlab.units import format as shown


class Overlay(StrEnum):
    """What is laid over a plan."""

    USE = "utilisation"
    MOMENT = "bending moment"
    SHEAR = "shear force"
    DEFLECTION = "deflection"
    REACTIONS = "reactions"
    PATCH = "slam patch"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Overlaid:
    """An overlay, its legend, and what is to be said of it or why there is none."""

    picture: Picture
    legend: tuple[LegendRow, ...] = ()
    note: str = ""


_NOTHING = "The grid has not been analysed yet."
_MARKS = {
    Verdict.HOLDS: (Role.HOLDS, Shape.CIRCLE),
    Verdict.TIGHT: (Role.TIGHT, Shape.TRIANGLE),
    Verdict.SHORT: (Role.SHORT, Shape.SQUARE),
    Verdict.NOT_JUDGED: (Role.NOT_JUDGED, Shape.DIAMOND),
}
_SMALL = 0.02
"""Reactions below this part of the greatest are not drawn."""
_AT_EDGE = 5.0
"""A node so near the bottom's edge stands on it [mm]."""
_THIN = 36.0
"""Half of the width a member without one is coloured at [mm]."""


def plan_results(
    overlay: Overlay,
    found: Found,
    *,
    findings: Sequence[Finding] = (),
    grid: GridResults | None = None,
    subject: str = "",
    options: PlanOptions | None = None,
) -> Overlaid:
    """Return an overlay on a plan.

    Parameters
    ----------
    overlay
        Which.
    found
        What was found in the layout.
    findings
        Of a check, for the utilisation map: each subject's worst aspect.
    grid
        The layout's grid analysed, for all others.
    subject
        A panel's or span's id: its governing load case is shown, else that of the worst span.
    options
        Units, and widths of sections.
    """
    chosen = options or PlanOptions()
    over = _over(overlay, found, findings, grid, subject, chosen)
    if not chosen.veil or not over.picture.items:
        return over
    veil = Area(rings=(found.outline,), role=Role.VEIL)
    return replace(over, picture=Picture(items=(veil, *over.picture.items)))


def _over(
    overlay: Overlay,
    found: Found,
    findings: Sequence[Finding],
    grid: GridResults | None,
    subject: str,
    chosen: PlanOptions,
) -> Overlaid:
    if overlay is Overlay.USE:
        return _use(found, findings, chosen)
    if grid is None:
        return Overlaid(picture=Picture(), note=_NOTHING)
    if not grid.is_solved or grid.beams is None:
        why = "; ".join(str(placed.problem) for placed in grid.problems)
        return Overlaid(picture=Picture(), note=why or "The grid could not be analysed.")
    match overlay:
        case Overlay.MOMENT:
            return _moments(grid, chosen)
        case Overlay.SHEAR:
            return _shears(grid, chosen)
        case Overlay.DEFLECTION:
            return _deflection(grid, governing_case(grid, subject), chosen)
        case Overlay.REACTIONS:
            return _reactions(grid, chosen)
        case Overlay.PATCH:
            return _patch(grid, governing_case(grid, subject), chosen)


# -- utilisation ---------------------------------------------------------------------------------


def worst_of(findings: Sequence[Finding]) -> Mapping[str, Finding]:
    """Return each subject's finding with the greatest utilisation; one not judged only where none is."""
    worst: dict[str, Finding] = {}
    for finding in findings:
        if finding.verdict is Verdict.ADVICE:
            continue
        known = worst.get(finding.subject)
        if known is None or _rank(finding) > _rank(known):
            worst[finding.subject] = finding
    return worst


def _rank(finding: Finding) -> float:
    return -1.0 if finding.utilisation is None else finding.utilisation


def _use(found: Found, findings: Sequence[Finding], options: PlanOptions) -> Overlaid:
    worst = worst_of(findings)
    bays: list[Item] = []
    marks: list[Item] = []
    for bay in found.bays:
        finding = worst.get(bay.id)
        if finding is None:
            continue
        role, tip = _MARKS[finding.verdict][0], use_words(finding)
        rings = [ring for ring in bay.clear if len(ring) > 2]
        bays += [Area(rings=(ring,), role=role, edge=role, subject=bay.id, tip=tip) for ring in rings]
        marks += _verdict_mark(middle(bay.rings[0]), finding, bay.id)
    for span in found.spans:
        finding = worst.get(span.id)
        if finding is None:
            continue
        role, tip = _MARKS[finding.verdict][0], use_words(finding)
        half = options.widths.get(span.section, Width()).base / 2 or _THIN
        for points in span.lines:
            line = clean(points)
            if len(line) > 1:
                ring = ribbon(line, half)
                bays.append(Area(rings=(ring,), role=role, edge=role, subject=span.id, tip=tip))
        marks += _verdict_mark(_middle_of(span), finding, span.id)
    verdicts = {worst[id_].verdict for id_ in _ids(found) if id_ in worst}
    legend = tuple(
        LegendRow(text=verdict.value, swatch=Swatch.AREA, role=_MARKS[verdict][0])
        for verdict in Verdict
        if verdict in verdicts
    )
    return Overlaid(
        picture=Picture(items=(*bays, *marks)),
        legend=legend,
        note="Worst aspect of each panel and span" if legend else "Nothing has been judged yet.",
    )


def _ids(found: Found) -> Iterator[str]:
    yield from (bay.id for bay in found.bays)
    yield from (span.id for span in found.spans)


def _verdict_mark(at: tuple[float, float], finding: Finding, id_: str) -> Iterator[Item]:
    role, shape = _MARKS[finding.verdict]
    words = utilisation_text(finding.utilisation)
    if finding.verdict is Verdict.SHORT:
        words = f"{words} {finding.verdict}"
    yield Mark(at=at, shape=shape, role=role, subject=id_, tip=use_words(finding))
    yield Label(at=at, text=words, role=role, align=1, small=True, subject=id_)


def use_words(finding: Finding) -> str:
    """Return a finding in a line: ``Floor 1, first: section modulus 0.83, holds``."""
    return f"{finding.name}: {finding.aspect} {utilisation_text(finding.utilisation)}, {finding.verdict}"


def _middle_of(span: FoundSpan) -> tuple[float, float]:
    x, y = at_parts(span.lines[0], np.array([0.5]))[0].tolist()
    return x, y


# -- along members -------------------------------------------------------------------------------


def _moments(grid: GridResults, options: PlanOptions) -> Overlaid:
    assert grid.envelope is not None
    envelope, units = grid.envelope, options.units
    diagram = Diagram(
        places=envelope.places,
        upper=np.maximum(envelope.M_max, 0.0),
        lower=np.minimum(envelope.M_min, 0.0),
        roles=(Role.MOMENT_UP, Role.MOMENT_DOWN),
        words=lambda value: shown(value, Kind.MOMENT, units, digits=3),
    )
    legend = (
        LegendRow(text="crown in tension, worst of all load cases", swatch=Swatch.AREA, role=Role.MOMENT_UP),
        LegendRow(
            text="crown in compression, worst of all load cases", swatch=Swatch.AREA, role=Role.MOMENT_DOWN
        ),
    )
    return _drawn(grid, diagram, legend, "Bending moment")


def _shears(grid: GridResults, options: PlanOptions) -> Overlaid:
    assert grid.envelope is not None
    envelope, units = grid.envelope, options.units
    diagram = Diagram(
        places=envelope.places,
        upper=envelope.V_abs,
        lower=np.zeros_like(envelope.V_abs),
        roles=(Role.SHEAR_FORCE, Role.SHEAR_FORCE),
        words=lambda value: shown(value, Kind.FORCE, units, digits=3),
    )
    text = "shear force of either sign, worst of all load cases"
    return _drawn(
        grid, diagram, (LegendRow(text=text, swatch=Swatch.AREA, role=Role.SHEAR_FORCE),), "Shear force"
    )


def _drawn(grid: GridResults, diagram: Diagram, legend: tuple[LegendRow, ...], name: str) -> Overlaid:
    items, greatest = diagrams(grid, diagram)
    note = f"{name}: the widest is {diagram.words(greatest)}"
    return Overlaid(picture=Picture(items=tuple(items)), legend=legend, note=note)


# -- one case ------------------------------------------------------------------------------------


def governing_case(grid: GridResults, subject: str = "") -> int:
    """Return the load case that bends a span most; of a panel, a slam patch on it; else that of the worst."""
    if subject in grid.spans:
        return _bends_most(grid, subject)
    if subject:
        own = (number for number, case in enumerate(grid.cases) if case.subject == subject)
        first = next(own, None)
        if first is not None:
            return first
    worst = max(grid.spans, key=lambda id_: abs(grid.spans[id_].sag.value), default="")
    return _bends_most(grid, worst) if worst else 0


def _bends_most(grid: GridResults, span: str) -> int:
    extremes = grid.spans[span]
    return max((extremes.M_max, extremes.M_min), key=lambda most: abs(most.value)).case


def _deflection(grid: GridResults, case: int, options: PlanOptions) -> Overlaid:
    field = case_field(grid, case)
    units = options.units
    diagram = Diagram(
        places=np.linspace(0.0, 1.0, field.w.shape[1]),
        upper=np.maximum(field.w, 0.0),
        lower=np.minimum(field.w, 0.0),
        roles=(Role.DEFLECTED, Role.DEFLECTED),
        words=lambda value: shown(value, Kind.LENGTH, units, digits=3),
        filled=False,
    )
    items, greatest = diagrams(grid, diagram)
    text = "deflected line, inboard to the left of a member's way"
    return Overlaid(
        picture=Picture(items=(*items, *patch_items(grid, case, options))),
        legend=(LegendRow(text=text, swatch=Swatch.LINE, role=Role.DEFLECTED),),
        note=f"Under {field.case.name}: the greatest deflection is {diagram.words(greatest)}",
    )


def _patch(grid: GridResults, case: int, options: PlanOptions) -> Overlaid:
    items = tuple(patch_items(grid, case, options))
    name = grid.cases[case].name
    if not items:
        return Overlaid(picture=Picture(), note=f"Governs: {name}, which has no patch")
    row = LegendRow(text="governing slam patch", swatch=Swatch.AREA, role=Role.PATCH)
    return Overlaid(picture=Picture(items=items), legend=(row,), note=f"Governs: {name}")


def patch_items(grid: GridResults, case: int, options: PlanOptions) -> Iterator[Item]:
    """Yield a load case's slam patch with its pressure; nothing where it has none."""
    one = grid.cases[case]
    if len(one.patch) < 3:
        return
    ring = np.array(one.patch, float)
    words = shown(one.pressure, Kind.PRESSURE, options.units, digits=3)
    yield Area(rings=(ring,), role=Role.PATCH, edge=Role.PATCH, subject=one.subject, tip=one.name)
    yield Label(
        at=middle(ring), text=f"slam {words}", role=Role.PATCH, small=True, level=-1, subject=one.subject
    )


# -- reactions -----------------------------------------------------------------------------------


def _reactions(grid: GridResults, options: PlanOptions) -> Overlaid:
    greatest = max((max(abs(each.most), abs(each.least)) for each in grid.reactions), default=0.0)
    if not greatest > 0:
        return Overlaid(picture=Picture(), note="Nothing holds the grid.")
    outline = grid.ground.found.outline
    full = 0.1 * float(np.ptp(outline[:, 0]))
    items: list[Item] = []
    for reaction in grid.reactions:
        at = np.array(reaction.at)
        way = _outwards(at, outline)
        said: list[str] = []
        reach = 0.0
        for value in (reaction.most, reaction.least):
            if abs(value) < _SMALL * greatest or (value == reaction.least and value > 0):
                continue
            length = full * abs(value) / greatest
            tip, reach = at + way * length, max(reach, length)
            items += _arrow(tip, at, full) if value > 0 else _arrow(at, tip, full)
            said.append(shown(value, Kind.FORCE, options.units, digits=3))
        if not said:
            continue
        x, y = (at + way * reach).tolist()
        align = 1 if way[0] > 0.7 else -1 if way[0] < -0.7 else 0
        level = 0 if align else 1 if way[1] > 0 else -1
        words = "\n".join(said)
        items.append(Label(at=(x, y), text=words, role=Role.REACTION, align=align, level=level, small=True))
    rows = (
        LegendRow(text="towards the hull: held up", swatch=Swatch.LINE, role=Role.REACTION),
        LegendRow(text="away from it: held down", swatch=Swatch.LINE, role=Role.REACTION),
    )
    words = shown(greatest, Kind.FORCE, options.units, digits=3)
    note = f"Reactions, worst of all load cases: the greatest is {words}"
    return Overlaid(picture=Picture(items=tuple(items)), legend=rows, note=note)


def _outwards(at: Points, outline: Points) -> Points:
    """Return the way out of the bottom at a place on its edge (2,), unit; aft for one within it."""
    starts, ends = outline, np.roll(outline, -1, axis=0)
    legs = ends - starts
    size = np.maximum((legs * legs).sum(axis=1), 1e-12)
    part = np.clip(((at - starts) * legs).sum(axis=1) / size, 0.0, 1.0)
    away = starts + part[:, None] * legs - at
    distance = np.hypot(away[:, 0], away[:, 1])
    near = int(distance.argmin())
    if distance[near] > _AT_EDGE:
        return np.array([-1.0, 0.0])
    return np.array([legs[near, 1], -legs[near, 0]]) / np.sqrt(size[near])


def _arrow(start: Points, end: Points, full: float) -> Iterator[Item]:
    way = end - start
    length = float(np.hypot(*way))
    along = way / max(length, 1e-12)
    across = np.array([-along[1], along[0]])
    head = min(0.14 * full, 0.6 * length)
    barbs = np.stack(
        [end - head * along + 0.4 * head * across, end, end - head * along - 0.4 * head * across]
    )
    yield Line(points=np.stack([start, end]), role=Role.REACTION)
    yield Line(points=barbs, role=Role.REACTION)


__all__ = [
    "Overlaid",
    "Overlay",
    "governing_case",
    "patch_items",
    "plan_results",
    "use_words",
    "worst_of",
]
