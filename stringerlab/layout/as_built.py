"""What the shop measured on a part as built: laminates by ply or as a whole, and beads. mm, parts of 1."""

from dataclasses import dataclass
from typing import Annotated

from stringerlab.materials.records import GlassContent, Thickness
from stringerlab.units import Mm, Range

Gap = Annotated[Mm, Range(0, 40, above=True)]


@dataclass(frozen=True, slots=True, kw_only=True)
class PlyAsBuilt:
    """One ply of a laminate, numbered from 1 away from the mould: what was measured, or its absence."""

    ply: int
    thickness: Thickness | None = None
    glass: GlassContent | None = None
    missing: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class LaminateAsBuilt:
    """A laminate by id: its whole thickness without gel coat, its whole glass content, and its plies.

    What was measured of the whole is shared by the reinforced plies not measured themselves.
    """

    laminate: str
    thickness: Thickness | None = None
    glass: GlassContent | None = None
    plies: tuple[PlyAsBuilt, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionAsBuilt:
    """A section by id: the bead's gap as measured."""

    section: str
    bead: Gap


@dataclass(frozen=True, slots=True, kw_only=True)
class AsBuilt:
    """Everything measured on a part; what is not named is as drawn up."""

    notes: str = ""
    laminates: tuple[LaminateAsBuilt, ...] = ()
    sections: tuple[SectionAsBuilt, ...] = ()
