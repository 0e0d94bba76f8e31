"""Sheet 4: the dry fit: boxes to write the gap in, station by station along every member."""

from stringerlab.project import Project, Resolved
from stringerlab.report.markup import heading, points, quoted, said
from stringerlab.report.shop.gaps import GapLine, gap_lines
from stringerlab.report.shop.measures import bare, length_unit, size, typed
from stringerlab.report.shop.practice import Practice
from stringerlab.report.shop.setting import input_line, kept, listed
from stringerlab.units import System

_ACROSS = 7
"""Stations in one row of boxes."""


def fit_pages(project: Project, resolved: Resolved, practice: Practice) -> list[str]:
    """Return the parts of the dry-fit sheet."""
    units, found = project.units, gap_lines(project, resolved, practice)
    parts = [
        points(
            [
                "Set the part in place dry, on its spacers. Measure the gap under the middle of every "
                "bonded flange, "
                "with a feeler or a lump of putty in film.",
                "Write the gap in the box. Ring what is outside the range: tell the designer before "
                "bonding, do not "
                "fill it with a thicker bead unasked.",
                "Where a flange stops at a crossing, strike the box out.",
                input_line("Stations every", size(practice.station_step.value, units), practice.station_step),
            ]
        )
    ]
    if not found:
        parts.append(said("No member stands on a bead: there is no gap to measure."))
    last = ""
    for line in found:
        title = f"{line.name}, {line.section}"
        title_of = [] if title == last else [heading(title, 2)]
        last = title
        first, *others = _boxes(line, units)
        parts += [kept(*title_of, said(_target(line, units)), first), *others]
    return parts


def _target(line: GapLine, units: System) -> str:
    low, high = max(line.bead - line.tolerance, 0.0), line.bead + line.tolerance
    return f"{line.hand}: gap {typed(line.bead, units)}, from {typed(low, units)} to {typed(high, units)}."


def _boxes(line: GapLine, units: System) -> list[str]:
    made: list[str] = []
    for first in range(0, len(line.stations), _ACROSS):
        part = slice(first, first + _ACROSS)
        stations = listed(quoted(bare(station, units)) for station in line.stations[part])
        places: list[str] = []
        if line.places:
            if any(abs(x - along) > 1 for (x, _), along in zip(line.places, line.stations, strict=True)):
                places.append(_row("From transom", [bare(x, units) for x, _ in line.places[part]]))
            if any(abs(y) > 1 for _, y in line.places):
                places.append(_row("Off centre", [bare(abs(y), units) for _, y in line.places[part]]))
        rows = listed(quoted(f"Flange {number}") for number in range(1, line.flanges + 1))
        made.append(f"#gap-boxes({quoted(length_unit(units))}, {stations}, {listed(places)}, {rows})")
    return made


def _row(what: str, cells: list[str]) -> str:
    return f"({quoted(what)}, {listed(map(quoted, cells))})"
