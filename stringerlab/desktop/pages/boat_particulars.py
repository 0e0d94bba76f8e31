"""The numbers the boat page asks for, their words and units; what a design category means."""

from dataclasses import dataclass

from stringerlab.craft import Category
from stringerlab.units import Kind, System, trimmed, unit_named


@dataclass(frozen=True, slots=True)
class Particular:
    """A number of the craft: its field, kind, the record's unit, words and a one-line meaning."""

    field: str
    kind: Kind
    unit: str
    name: str
    tip: str
    label: str


PARTICULARS = (
    Particular(
        "waterline_length",
        Kind.LENGTH,
        "mm",
        "Waterline length",
        "Length of the waterline at rest, loaded",
        "Change waterline length",
    ),
    Particular(
        "waterline_aft",
        Kind.LENGTH,
        "mm",
        "Its aft end at x",
        "Where the waterline ends aft, from the transom forward",
        "Change aft end of the waterline",
    ),
    Particular(
        "mass",
        Kind.MASS,
        "kg",
        "Loaded mass",
        "Mass of the boat with everything and everyone aboard",
        "Change loaded mass",
    ),
    Particular(
        "speed", Kind.SPEED, "kn", "Speed", "Greatest speed in smooth water, loaded", "Change boat speed"
    ),
)

FOR_SOME = (
    Particular(
        "wave_height",
        Kind.LENGTH,
        "mm",
        "Wave height",
        "Significant wave height the boat is driven in; class forms take their own least where it is empty",
        "Change wave height",
    ),
    Particular(
        "running_trim", Kind.ANGLE, "deg", "Running trim", "Trim by the stern at speed", "Change running trim"
    ),
    Particular(
        "draught",
        Kind.LENGTH,
        "mm",
        "Draught",
        "Of the hull at rest, loaded, without drives",
        "Change draught",
    ),
    Particular(
        "deck_height",
        Kind.LENGTH,
        "mm",
        "Deck edge above water",
        "Height of the deck's edge above the waterline, for the pressure on sides",
        "Change height of the deck's edge",
    ),
)
"""What only some methods ask for: may be left empty."""

SEAS = {
    Category.A: ("ocean", 8, 4.0),
    Category.B: ("offshore", 8, 4.0),
    Category.C: ("inshore", 6, 2.0),
    Category.D: ("sheltered", 4, 0.3),
}
"""Word, wind in Beaufort, significant wave in m."""


def category_meaning(category: Category, units: System) -> str:
    """Return a design category in one line. From memory (H): the limits of the recreational craft rules."""
    word, force, height = SEAS[category]
    unit = unit_named("m" if units is System.METRIC else "ft")
    wave = f"{trimmed(1000 * height / unit.factor, 2)} {unit.symbol}"
    if category is Category.A:
        return f"{word}: wind above force {force} and significant waves above {wave} may be met"
    return f"{word}: wind to force {force}, significant waves to {wave}"
