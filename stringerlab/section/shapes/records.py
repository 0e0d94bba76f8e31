"""What a starting shape is given and gives: laminates with their thickness, walls, fills and laps. mm."""

from typing import NamedTuple

from stringerlab.section.records import Fill, Wall


class Laid(NamedTuple):
    """A laminate to draw with."""

    laminate: str
    """Id."""
    thickness: float
    """With any gel coat [mm]."""


class Drawn(NamedTuple):
    """A shape as ordinary parts of a section."""

    walls: tuple[Wall, ...]
    fills: tuple[Fill, ...] = ()
    laps: tuple[tuple[str, str], ...] = ()
    """Pairs of wall ids that lie on each other as coats do: they keep their real plies however redrawn."""
