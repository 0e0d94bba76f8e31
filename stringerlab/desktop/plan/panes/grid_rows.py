"""Columns of the grid's tables: what each span carries, and what each support takes. No Qt."""

from dataclasses import dataclass

from stringerlab.assess.grid import GridResults, Most, Reaction, SpanExtremes
from stringerlab.desktop.plan.panes.readings import Column
from stringerlab.units import Kind, System
from stringerlab.units import format as shown


@dataclass(frozen=True, slots=True, kw_only=True)
class SpanRow:
    """A span's extremes, and the names of the cases that give them."""

    span: SpanExtremes
    governs: str
    """What gives the greater of its moments."""


def span_rows(grid: GridResults) -> list[SpanRow]:
    """Return a row for every span, in the order found."""

    def name(most: Most) -> str:
        return grid.cases[most.case].name if 0 <= most.case < len(grid.cases) else ""

    return [
        SpanRow(span=span, governs=name(max((span.M_max, span.M_min), key=lambda most: abs(most.value))))
        for span in grid.spans.values()
    ]


def _shown(value: float, kind: Kind, system: System) -> str:
    return shown(value, kind, system, digits=3)


def _of_length(row: SpanRow) -> str:
    sag = abs(row.span.sag.value)
    return f"1/{row.span.length / sag:.0f}" if sag > 1e-6 * row.span.length else "—"


SPANS: tuple[Column[SpanRow], ...] = (
    Column(
        title="span",
        meaning="A member between two nodes",
        width=150,
        right=False,
        text=lambda row, _: row.span.name,
    ),
    Column(title="id", meaning="As on the plan", width=64, right=False, text=lambda row, _: row.span.id),
    Column(
        title="M+",
        meaning="Greatest moment with the crown in tension, over all load cases",
        width=100,
        text=lambda row, system: _shown(row.span.M_max.value, Kind.MOMENT, system),
    ),
    Column(
        title="M−",
        meaning="Greatest moment with the crown in compression",
        width=100,
        text=lambda row, system: _shown(row.span.M_min.value, Kind.MOMENT, system),
    ),
    Column(
        title="V",
        meaning="Greatest shear force, of either sign",
        width=86,
        text=lambda row, system: _shown(row.span.V.value, Kind.FORCE, system),
    ),
    Column(
        title="T",
        meaning="Greatest torque, of either sign",
        width=86,
        text=lambda row, system: _shown(row.span.T, Kind.MOMENT, system),
    ),
    Column(
        title="moves",
        meaning="Greatest deflection of its nodes, inboard or outboard",
        width=86,
        text=lambda row, system: _shown(max(row.span.w_max, row.span.w_min, key=abs), Kind.LENGTH, system),
    ),
    Column(
        title="bends",
        meaning="Greatest deflection from the straight line between its nodes, in its governing case",
        width=86,
        text=lambda row, system: _shown(row.span.sag.value, Kind.LENGTH, system),
    ),
    Column(
        title="of its length",
        meaning="That, as a part of its length",
        width=104,
        text=lambda row, _: _of_length(row),
    ),
    Column(
        title="governing case",
        meaning="The load case of the greater moment",
        width=260,
        right=False,
        text=lambda row, _: row.governs,
    ),
)
REACTIONS: tuple[Column[Reaction], ...] = (
    Column(title="support", meaning="What stands there", width=200, right=False, text=lambda one, _: one.key),
    Column(
        title="x",
        meaning="From the transom",
        width=76,
        text=lambda one, system: _shown(one.at[0], Kind.LENGTH, system),
    ),
    Column(
        title="y",
        meaning="To port",
        width=76,
        text=lambda one, system: _shown(one.at[1], Kind.LENGTH, system),
    ),
    Column(
        title="up",
        meaning="Greatest force upwards on the grid over all load cases",
        width=84,
        text=lambda one, system: _shown(max(one.most, 0.0), Kind.FORCE, system),
    ),
    Column(
        title="down",
        meaning="Greatest force downwards on the grid: it is held down against slam",
        width=84,
        text=lambda one, system: _shown(min(one.least, 0.0), Kind.FORCE, system),
    ),
)


def frequency_words(grid: GridResults | None) -> str:
    """Return natural frequencies line by line, and what turns in the boat."""
    if grid is None or not grid.frequencies:
        return "No natural frequencies are known."
    rows = [
        f"{number}.  {each:.1f} Hz,  {60 * each:.0f} a minute"
        for number, each in enumerate(grid.frequencies, 1)
    ]
    turning = [
        f"{thing.name} turns at {thing.speed / 60:.1f} Hz"
        for thing in grid.ground.layout.equipment
        if thing.speed > 0
    ]
    return "\n".join(["Natural frequencies in air; water that moves along lowers them.", *rows, *turning])


def note_words(grid: GridResults | None) -> str:
    """Return what the analysis rests on, and where the bottom's load goes."""
    if grid is None:
        return ""
    said = list(grid.notes)
    if grid.tally is not None and grid.tally.total > 0:
        whole = grid.tally.total
        parts = [f"{100 * grid.tally.beams / whole:.0f} % to members"]
        parts += [f"{100 * area / whole:.0f} % to the {name}" for name, area in grid.tally.hull.items()]
        said.append(f"by yield lines the bottom's load goes: {', '.join(parts)}")
    return "\n".join(f"{note[:1].upper()}{note[1:]}." for note in said)
