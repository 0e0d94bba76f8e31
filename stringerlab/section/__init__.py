"""Sections: drawn walls and fills to ply polygons, exact stiffness, and the sizes a check asks for."""

from stringerlab.section.checks import faults, problems, repairs
from stringerlab.section.polygons import PlyPolygons, What, ply_polygons
from stringerlab.section.records import (
    Fill,
    FillShape,
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
    "Plating",
    "PlyPolygons",
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
    "ply_polygons",
    "problems",
    "properties",
    "repairs",
]
