"""What the numbers of a section count, in a sentence or two."""

from collections.abc import Sequence
from math import degrees

from stringerlab.assess.live import Live
from stringerlab.errors import Problem
from stringerlab.laminate import Laminate
from stringerlab.units import Kind, System, format


def basis(live: Live, laminates: Sequence[Laminate], system: System, notes: Sequence[Problem] = ()) -> str:
    """Say on what plating the numbers are, what of the section they leave out, and what was noted of them."""
    said = [_plating(live, laminates, system)]
    said += [f"{note[0].upper()}{note[1:]}." for note in live.notes]
    said += [f"{note.what} {note.remedy}".strip() for note in notes]
    return " ".join(said)


def _plating(live: Live, laminates: Sequence[Laminate], system: System) -> str:
    strip, reference = live.plating, live.section.reference
    if strip is None:
        return "The section alone, without plating: it names no sound reference."
    name = next((one.name for one in laminates if reference and one.id == reference.laminate), "")
    slope = f" at {format(strip.deadrise, Kind.ANGLE, system)}" if degrees(strip.deadrise) else ""
    return (
        f"On {format(strip.width, Kind.LENGTH, system)} of plating, {name}{slope}; "
        "first-principles moduli. Findings count plating and moduli as their method does."
    )
