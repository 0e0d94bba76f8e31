"""Mouldability on the sheet: which readings stand there, with which mark and few words. No Qt; mm."""

from dataclasses import dataclass
from math import hypot, radians

from stringerlab.desktop.sheet.tool import Place
from stringerlab.drawing import LegendRow, Picture
from stringerlab.drawing.display import Item, Label, Mark, Role, Shape
from stringerlab.drawing.options import Swatch
from stringerlab.section import SectionShape, Side, WallShape
from stringerlab.section.mouldability import (
    NO_DRAFT,
    Aspect,
    Reading,
    Severity,
    mouldability,
    summary,
    worst,
)
from stringerlab.units import Kind, System
from stringerlab.units import format as shown

STEEP = radians(60.0)
"""A leg with more draft is no web: nothing is said of it while it is fine."""
ROLES = {Severity.FINE: Role.HOLDS, Severity.WATCH: Role.TIGHT, Severity.LOCKED: Role.SHORT}
SHAPES = {Severity.FINE: Shape.CIRCLE, Severity.WATCH: Shape.TRIANGLE, Severity.LOCKED: Shape.SQUARE}
SIGNS = {Severity.FINE: "●", Severity.WATCH: "▲", Severity.LOCKED: "■"}
_WORDS = {
    Severity.FINE: "moulding (filled): comes off its tool",
    Severity.WATCH: "moulding (filled): watch",
    Severity.LOCKED: "moulding (filled): locked, or bridged",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Moulded:
    """One reading as it stands on the sheet."""

    reading: Reading
    words: str
    """A few, beside the mark."""
    at: Place
    """Where the mark stands: of a wall that does not come off, on the middle of its first leg."""
    away: Place
    """Unit direction from the laminate to where there is room for words."""

    @property
    def severity(self) -> Severity:
        """How bad it is."""
        return self.reading.severity

    @property
    def tip(self) -> str:
        """All of it, for the pointer that rests on it."""
        return f"{self.severity.capitalize()}. {self.reading.words}\n{self.reading.source.title.capitalize()}"


def moulded(shape: SectionShape, system: System) -> tuple[Moulded, ...]:
    """Return what stands on the sheet: the draft of every web, and every place that is not fine."""
    walls = {wall.id: wall for wall in shape.walls}
    return tuple(
        Moulded(
            reading=reading,
            words=_words(reading, system),
            at=_at(walls[reading.wall], reading),
            away=_away(walls[reading.wall], reading),
        )
        for reading in mouldability(shape)
        if reading.severity is not Severity.FINE
        or (reading.aspect is Aspect.DRAFT and abs(reading.value) < STEEP)
    )


def line(shape: SectionShape, ids: tuple[str, ...] = ()) -> tuple[str, str]:
    """Return one line on a section, or on some of its walls, and every place that is not fine in full.

    Both are empty where nothing is to be read.
    """
    readings = tuple(each for each in mouldability(shape) if not ids or each.wall in ids)
    if not readings:
        return "", ""
    apart = {each.wall for each in readings if each.aspect is Aspect.FACING}
    said = [summary(readings)] if {each.aspect for each in readings} & {Aspect.DRAFT, Aspect.UNDERCUT} else []
    if not said and any(each.severity is not Severity.FINE for each in readings if each.wall not in apart):
        said = [summary(readings)]
    if apart:
        counted = f"{len(apart)} wall" if len(apart) == 1 else f"{len(apart)} walls"
        said.append(f"{counted} laid up in place or on another tool")
    found = worst(readings)
    words = f"{SIGNS[found]} {found.capitalize()}: {', '.join(said) or 'its corners are wide enough'}."
    return words, "\n".join(each.words for each in readings if each.severity is not Severity.FINE)


def items(found: tuple[Moulded, ...]) -> Picture:
    """Return the marks and words as they go with an exported drawing."""
    made: list[Item] = []
    for each in found:
        role = ROLES[each.severity]
        made.append(Mark(at=each.at, shape=SHAPES[each.severity], role=role, tip=each.tip))
        align = (each.away[0] > 0.3) - (each.away[0] < -0.3)
        level = 0 if align else (1 if each.away[1] >= 0 else -1)
        words = f"  {each.words}  " if align else each.words
        made.append(Label(at=each.at, text=words, role=role, align=align, level=level, small=True))
    return Picture(items=tuple(made))


def rows(found: tuple[Moulded, ...]) -> tuple[LegendRow, ...]:
    """Return the legend of the marks that stand on the sheet."""
    seen = {each.severity for each in found}
    return tuple(
        LegendRow(text=_WORDS[each], swatch=Swatch.MARK, role=ROLES[each], shape=SHAPES[each])
        for each in Severity
        if each in seen
    )


def _words(reading: Reading, system: System) -> str:
    match reading.aspect:
        case Aspect.FACING:
            return "not off this tool"
        case Aspect.RADIUS:
            bend = shown(reading.value, Kind.LENGTH, system, digits=2)
            least = shown(reading.limit, Kind.LENGTH, system, digits=2)
            return f"{'tight' if reading.severity is Severity.WATCH else 'too tight'}: {bend}, least {least}"
        case Aspect.UNDERCUT:
            return f"undercut {_degrees(-reading.value)}"
        case Aspect.DRAFT:
            if reading.severity is Severity.FINE:
                return f"{_degrees(reading.value)} of draft"
            little = reading.value >= NO_DRAFT
            return f"little draft: {_degrees(reading.value)}" if little else "no draft"


def _degrees(angle: float) -> str:
    return shown(angle, Kind.ANGLE, digits=2).replace(" deg", "°")


def _at(wall: WallShape, reading: Reading) -> Place:
    if reading.aspect is not Aspect.FACING:
        return reading.at
    one, other = wall.points[:2]
    return (one[0] + other[0]) / 2, (one[1] + other[1]) / 2


def _away(wall: WallShape, reading: Reading) -> Place:
    """Direction off the tool face of a leg, or out of a corner's bend."""
    points, count, index = wall.points, len(wall.points), reading.index
    here, after = points[index], points[(index + 1) % count]
    if reading.aspect is Aspect.RADIUS:
        before = points[index - 1]
        y, z = 0.0, 0.0
        for other in (before, after):
            size = max(hypot(here[0] - other[0], here[1] - other[1]), 1e-9)
            y, z = y + (here[0] - other[0]) / size, z + (here[1] - other[1]) / size
    else:
        left = 1.0 if wall.side is Side.LEFT else -1.0
        y, z = left * (after[1] - here[1]), -left * (after[0] - here[0])
    size = max(hypot(y, z), 1e-9)
    return y / size, z / size
