"""What a section's picture shows besides its plies, and the legend of a picture as data."""

from dataclasses import dataclass
from enum import StrEnum

from stringerlab.drawing.display import Area, Item, Label, Line, Mark, Picture, Role, Shape, Ticks
from stringerlab.layout import Opening
from stringerlab.methods import Finding
from stringerlab.units import Kind, System, in_unit, unit_named
from stringerlab.units import format as shown


@dataclass(frozen=True, slots=True, kw_only=True)
class Options:
    """Overlays, each a switch. N·mm and N; a positive moment puts the crown in tension."""

    units: System = System.METRIC
    ply_edges: bool = True
    mould_face: bool = True
    axes: bool = True
    cavity: bool = False
    bonded: bool = False
    strain: bool = False
    stress: bool = False
    """Along the member, by the moduli of the properties given; in place of strain on the plies when both."""
    shear_flow: bool = False
    moment: float = 0.0
    shear: float = 0.0
    openings: tuple[tuple[str, Opening], ...] = ()
    """Holes through the webs of members of this section, each with its span's name."""
    findings: tuple[Finding, ...] = ()
    """Findings on members of this section: the place that governs each is marked, of an aspect the worst."""


class Swatch(StrEnum):
    """What stands before a legend's words."""

    AREA = "area"
    LINE = "line"
    MARK = "mark"
    RAMP = "ramp"
    """From full compression over 0 to full tension."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LegendRow:
    """One line of a legend."""

    text: str
    swatch: Swatch
    role: Role
    tint: Role | None = None
    shape: Shape | None = None
    ends: tuple[str, str] = ("", "")
    """Of a ramp: the values at its two ends, with unit."""


_WORDS = {
    Role.PLATING: "hull plating, not the section's",
    Role.UNCOUNTED: "not counted: lies on the hull, not fully bonded",
    Role.TOOL: "tool surface, ticks on the mould's side",
    Role.SHELL: "shell, inboard face",
    Role.FOAM: "foam: mass only, no strength",
    Role.CAVITY: "cavity",
    Role.BONDED: "bonded width",
    Role.OPENING: "hole through the webs, of a span of this section",
    Role.TENSION: "tension",
    Role.COMPRESSION: "compression",
    Role.SHEAR: "shear flow",
    Role.HOLDS: "governing place: holds",
    Role.TIGHT: "governing place: tight",
    Role.SHORT: "governing place: short",
    Role.NOT_JUDGED: "not judged",
    Role.CENTROID: "neutral point",
}
ALONG_WALLS = "shear flow along walls, width to scale"
_SILENT = {Role.PLY_EDGE, Role.MOULD_FACE, Role.DIMENSION, Role.TEXT, Role.GRID, Role.SELECTED, Role.UNDERLAY}
_ORDER = {role: place for place, role in enumerate(Role)}


def legend(options: Options, picture: Picture) -> tuple[LegendRow, ...]:
    """Return the legend of a picture: one row for every role seen in it, and the scale of what is shaded.

    Parameters
    ----------
    options
        What the picture was made with: they say what its shading means, and the units.
    picture
        The picture.
    """
    rows: dict[tuple[Role, Role | None, Swatch], LegendRow] = {}
    limit = 0.0
    for item in picture:
        if isinstance(item, Area) and item.shade is not None:
            limit = max(limit, item.shade.limit)
        row = _row(item)
        if row is not None:
            rows.setdefault((row.role, row.tint, row.swatch), row)
    areas = {row.role for row in rows.values() if row.swatch is Swatch.AREA}
    kept = [row for row in rows.values() if row.swatch is not Swatch.LINE or row.role not in areas]
    kept.sort(key=lambda row: (list(Swatch).index(row.swatch), _ORDER[row.role]))
    if limit > 0:
        kept.append(_ramp(options, limit))
    return tuple(kept)


def strain_text(strain: float) -> str:
    """Return a strain as a person reads it."""
    return in_unit(strain, unit_named("%", Kind.RATIO), digits=3)


def stress_text(stress: float, units: System) -> str:
    """Return a stress as a person reads it."""
    return shown(stress, Kind.STRESS, units, digits=3)


def _row(item: Item) -> LegendRow | None:
    if isinstance(item, (Label, Ticks)) or item.role in _SILENT:
        return None
    words = _WORDS.get(item.role, str(item.role))
    if item.role is Role.SHEAR:
        words = (
            ALONG_WALLS
            if item.subject.startswith("shear flow: ")
            else f"{words} of all webs, not wall by wall"
        )
    match item:
        case Area():
            return LegendRow(text=words, swatch=Swatch.AREA, role=item.role)
        case Line():
            return LegendRow(text=words, swatch=Swatch.LINE, role=item.role)
        case Mark():
            return LegendRow(text=words, swatch=Swatch.MARK, role=item.role, shape=item.shape)


def _ramp(options: Options, limit: float) -> LegendRow:
    def words(value: float) -> str:
        return stress_text(value, options.units) if options.stress else strain_text(value)

    name = "stress along the member" if options.stress else "strain along the member"
    return LegendRow(
        text=f"{name}, M = {shown(options.moment, Kind.MOMENT, options.units)}",
        swatch=Swatch.RAMP,
        role=Role.TENSION,
        ends=(words(-limit), words(limit)),
    )
