"""Sections: drawn walls and fills to ply polygons, exact stiffness, and the sizes a check asks for."""

from stringerlab.section.checks import faults, problems, repairs
from stringerlab.section.lying import lying_faults, lying_notes
from stringerlab.section.polygons import PlyPolygons, What, ply_polygons
from stringerlab.section.portions import Portion, portions
from stringerlab.section.records import (
    Fill,
    FillShape,
    OnHull,
    Plating,
    Reference,
    Section,
    SectionShape,
    Side,
    Wall,
    WallShape,
)
from stringerlab.section.sizes import Facts, enclosed_area, facts
from stringerlab.section.stiffness import Fibres, Properties, properties

__all__ = [
    "Facts",
    "Fibres",
    "Fill",
    "FillShape",
    "OnHull",
    "Plating",
    "PlyPolygons",
    "Portion",
    "Properties",
    "Reference",
    "Section",
    "SectionShape",
    "Side",
    "Wall",
    "WallShape",
    "What",
    "enclosed_area",
    "facts",
    "faults",
    "lying_faults",
    "lying_notes",
    "ply_polygons",
    "portions",
    "problems",
    "properties",
    "repairs",
]
