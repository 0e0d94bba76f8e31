"""The layout in use in plan, panels and spans numbered by their ids; tables of all panels and spans."""

from collections.abc import Iterator
from dataclasses import replace

from stringerlab.drawing import PRINT, paper_scale, svg
from stringerlab.drawing.display import Item, Label, Picture
from stringerlab.drawing.palette import TEXT
from stringerlab.drawing.plan_options import PlanOptions, widths_of
from stringerlab.drawing.plans import plan_picture
from stringerlab.layout import Panel, PanelCase, Span, SpanCase
from stringerlab.layout.found import Found
from stringerlab.layout.plan import Layout
from stringerlab.project.finding import layout_in_use
from stringerlab.report.calculation.told import NONE, PLAN_SCALES, Told, named
from stringerlab.report.markup import drawing, heading, note, said, shares, sideways, table
from stringerlab.report.paper import Sheet

_WIDE, _HIGH = 258.0, 140.0

_MARKS = (
    "An id stands on the side that is judged; its mirror image has the same. Ends of members: circle free, "
    "triangle simply held, diamond elastic, square clamped."
)


def plan(told: Told) -> Sheet:
    """Return the plan with panels and spans numbered, and the tables of what is judged."""
    layout, found = layout_in_use(told.project), told.results.resolved.found
    parts = [heading("Layout, panels and spans")]
    pictures: dict[str, bytes] = {}
    if layout is None or found is None:
        parts.append(said("No layout is in use: panels and spans are given by hand."))
    else:
        drawn, pictures = _plans(told, layout, found)
        parts += drawn
    parts += [*_panels(told), *_spans(told)]
    return Sheet(markup="\n\n".join(part for part in parts if part), pictures=pictures)


def _plans(told: Told, layout: Layout, found: Found) -> tuple[list[str], dict[str, bytes]]:
    widths = widths_of(told.results.resolved, layout)
    plain = PlanOptions(
        units=told.system, widths=widths, crowns=False, cavities=False, equipment=False, nodes=False
    )
    views = {
        "plan_members.svg": ("members", replace(plain, member_names=True, panels=False)),
        "plan_panels.svg": ("panels by their ids", replace(plain, panel_names=True, supports=False)),
        "plan_spans.svg": ("spans by their ids", replace(plain, span_names=True, panels=False)),
    }
    if layout.cavities or layout.equipment:
        views["plan_equipment.svg"] = (
            "cavities and equipment",
            replace(plain, cavities=True, equipment=True, supports=False, panels=False),
        )
    pictures: dict[str, bytes] = {}
    parts = [said(f"Layout {named(layout.name, layout.id)}. {layout.notes}".strip())]
    for file, (words, options) in views.items():
        picture = plan_picture(found, layout, told.results.resolved.craft, options=options)
        scale = paper_scale(picture, _WIDE, _HIGH, parts=PLAN_SCALES)
        picture = _apart(picture, scale) if options.equipment else picture
        title = f"Plan of {layout.name}: {words}"
        pictures[file] = svg(picture, PRINT, title=title, scale=scale).encode()
        parts.append(
            sideways(drawing(file, f"Plan, {words}. Scale 1 : {1 / scale:g}", alt=title), note(_MARKS))
        )
    return parts, pictures


def _apart(picture: Picture, scale: float) -> Picture:
    """Return a picture whose words stand clear of one another: the later ones move down, a line at a time."""
    line, letter = 1.3 * TEXT / scale, 0.55 * TEXT / scale
    taken: list[tuple[float, float, float]] = []
    items: list[Item] = []
    for item in picture:
        if isinstance(item, Label) and "\n" not in item.text:
            wide = len(item.text) * letter
            left = item.at[0] - (1 - item.align) / 2 * wide
            lift = item.level * line
            height = item.at[1]
            while any(
                left < end and begin < left + wide and abs(height + lift - other) < 0.95 * line
                for begin, end, other in taken
            ):
                height -= line
            taken.append((left, left + wide, height + lift))
            items.append(replace(item, at=(item.at[0], height)))
        else:
            items.append(item)
    return Picture(items=tuple(items))


def _panels(told: Told) -> Iterator[str]:
    resolved = told.results.resolved
    cases = {case.panel.id: case for case in resolved.panels}
    rows = [_panel(told, each, cases.get(each.id)) for each in resolved.subjects if isinstance(each, Panel)]
    if not rows:
        return
    yield heading("Panels", 2)
    yield table(
        ["Id", "Panel", "Surface", "b", "l", "x", "Deadrise", "Camber", "Laminate"],
        rows,
        shares(9, 48, 17, 16, 16, 16, 16, 15, 30),
        right=range(3, 8),
        size=7.4,
    )
    yield note("b short side, l long side in the skin between web roots; x from the transom to the middle.")


def _panel(told: Told, panel: Panel, case: PanelCase | None) -> list[str]:
    return [
        panel.id,
        panel.name,
        panel.surface.value,
        *map(told.length, (panel.b, panel.l, panel.x)),
        told.degrees(panel.deadrise),
        told.length(panel.camber) if panel.camber else NONE,
        (case.hull or case.stack).name if case else NONE,
    ]


def _spans(told: Told) -> Iterator[str]:
    resolved = told.results.resolved
    cases = {case.span.id: case for case in resolved.spans}
    rows = [_span(told, each, cases.get(each.id)) for each in resolved.subjects if isinstance(each, Span)]
    if not rows:
        return
    yield heading("Spans", 2)
    yield table(
        ["Id", "Span", "Surface", "Section", "Plating", "lu", "s", "x", "Ends", "No."],
        rows,
        shares(9, 40, 15, 26, 22, 17, 17, 17, 14, 6),
        right=(5, 6, 7, 9),
        size=7.4,
    )
    yield note(
        "lu length between supports, s spacing centre to centre, both in the skin; ends aft and forward, "
        "of a transverse inboard and outboard; No. is how many alike the boat has."
    )


def _span(told: Told, span: Span, case: SpanCase | None) -> list[str]:
    return [
        span.id,
        span.name,
        span.surface.value,
        told.section_names.get(span.section, span.section or NONE),
        case.plating.name if case else NONE,
        *map(told.length, (span.lu, span.s, span.x)),
        ", ".join(end.value for end in span.ends),
        str(span.count),
    ]
