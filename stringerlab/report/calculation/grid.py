"""The grid of the layout in use: envelopes by span, reactions, frequencies, checks, with pictures."""

from collections.abc import Iterator
from dataclasses import replace

from stringerlab.assess.grid import GridResults, Most, SpanExtremes
from stringerlab.drawing import PRINT, Picture, paper_scale, svg
from stringerlab.drawing.plan_options import PlanOptions, widths_of
from stringerlab.drawing.plan_results import Overlay, plan_results
from stringerlab.drawing.plans import plan_picture
from stringerlab.report.calculation.told import PLAN_SCALES, Told, named
from stringerlab.report.markup import drawing, heading, note, points, said, shares, table
from stringerlab.report.paper import Sheet
from stringerlab.units import Kind, rounded

_WIDE, _HIGH = 172.0, 92.0
_SHOWN = (Overlay.USE, Overlay.MOMENT, Overlay.SHEAR, Overlay.DEFLECTION)


def grid(told: Told) -> Sheet | None:
    """Return the envelopes of the grid; None where no layout is in use."""
    found = told.results.grid
    if found is None:
        return None
    parts = [
        heading("Envelopes of the grid"),
        said(
            "First principles, never rule compliance: the load that the members share, the method's pressure "
            "on one patch a judged subject, equipment besides. Extremes over all load cases of a span and "
            "its mirror image."
        ),
    ]
    pictures: dict[str, bytes] = {}
    if not found.is_solved:
        parts.append(points(["It could not be analysed.", *(str(each.problem) for each in found.problems)]))
        return Sheet(markup="\n\n".join(parts))
    drawn, pictures = _pictures(told, found)
    parts += [*drawn, *_tables(told, found), *_checks(found)]
    return Sheet(markup="\n\n".join(parts), pictures=pictures)


def _pictures(told: Told, found: GridResults) -> tuple[list[str], dict[str, bytes]]:
    ground, resolved = found.ground, told.results.resolved
    options = PlanOptions(
        units=told.system,
        widths=widths_of(resolved, ground.layout),
        cavities=False,
        equipment=False,
        nodes=False,
        stations=False,
        supports=False,
        other_names=False,
    )
    plan = plan_picture(ground.found, ground.layout, ground.craft, options=options)
    parts: list[str] = []
    pictures: dict[str, bytes] = {}
    for overlay in _SHOWN:
        over = plan_results(
            overlay,
            ground.found,
            findings=told.results.findings,
            grid=found,
            options=replace(options, veil=True),
        )
        if not over.picture.items:
            continue
        whole = Picture(items=(*plan.items, *over.picture.items))
        scale = paper_scale(whole, _WIDE, _HIGH, parts=PLAN_SCALES)
        file = f"grid_{overlay.name.lower()}.svg"
        title = f"{overlay.value[0].upper()}{overlay.value[1:]} on the plan"
        pictures[file] = svg(whole, PRINT, title=title, legend=over.legend, scale=scale).encode()
        parts.append(drawing(file, f"{title}. Scale 1 : {1 / scale:g}"))
        if over.note:
            parts.append(note(over.note))
    return parts, pictures


def _tables(told: Told, found: GridResults) -> Iterator[str]:
    yield heading("Spans", 2)
    yield table(
        [
            "Span",
            "M, crown in tension",
            "M, crown in compression",
            "Shear",
            "Torque",
            "Bends",
            "Case of the greatest M",
        ],
        [_span(told, found, one) for one in found.spans.values()],
        shares(40, 18, 18, 16, 16, 14, 54),
        right=range(1, 6),
        size=7,
    )
    yield note(
        "Bends: greatest deflection from the straight line between the span's nodes, in its own worst case."
    )
    yield heading("Reactions", 2)
    yield table(
        ["Support", "x", "y", "Greatest", "Least"],
        [
            [
                one.key,
                *map(told.length, one.at),
                told.show(one.most, Kind.FORCE),
                told.show(one.least, Kind.FORCE),
            ]
            for one in found.reactions
        ],
        shares(84, 22, 22, 24, 24),
        right=range(1, 5),
        size=7.2,
    )
    if found.frequencies:
        words = ", ".join(rounded(each, 3) for each in found.frequencies[:8])
        yield said(f"Natural frequencies in air: {words} Hz.")


def _span(told: Told, found: GridResults, one: SpanExtremes) -> list[str]:
    def moment(value: float) -> str:
        return told.show(value if abs(value) > 1 else 0.0, Kind.MOMENT)

    most: Most = max(one.M_max, one.M_min, key=lambda each: abs(each.value))
    case = found.cases[most.case]
    place = told.length(most.along * one.length)
    return [
        named(one.name, one.id),
        moment(one.M_max.value),
        moment(one.M_min.value),
        told.show(one.V.value, Kind.FORCE),
        moment(one.T),
        told.length(one.sag.value),
        f"{case.name}; {place} from its first node",
    ]


def _checks(found: GridResults) -> Iterator[str]:
    lines = [
        f"{len(found.cases)} load cases. Forces left unbalanced: {found.residual:.0e} of the load at nodes, "
        f"{found.imbalance:.0e} in all."
        if max(found.residual, found.imbalance) > _ROUNDING
        else f"{len(found.cases)} load cases. Forces balance at every node and in all to {_ROUNDING:.0e} "
        "of the load."
    ]
    tally = found.tally
    if tally is not None and tally.total > 0:
        hull = ", ".join(f"{area / tally.total:.1%} to {name}" for name, area in tally.hull.items())
        lines.append(f"Of the bottom {tally.beams / tally.total:.1%} is carried by members, {hull} directly.")
    yield heading("What it rests on", 2)
    yield points([*lines, *(f"{each[0].upper()}{each[1:]}." for each in found.notes)])
    if found.problems:
        yield points(str(each.problem) for each in found.problems)


_ROUNDING = 1e-6
"""Part of the load below which an imbalance is rounding, and differs from machine to machine."""
