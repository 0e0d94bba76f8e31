"""Torsion and transverse shear of any section: by finite elements, and quickly by thin-wall theory."""

from stringerlab.section.torsion.bredt import Cell, CellWall, cell_flows
from stringerlab.section.torsion.comparing import Comparison, compared
from stringerlab.section.torsion.field import ShearField, WallFlow, shear_field, stresses_at, wall_flows
from stringerlab.section.torsion.regions import Region, regions
from stringerlab.section.torsion.solving import Warping
from stringerlab.section.torsion.thin_walls import ThinWalls, thin_walls
from stringerlab.section.torsion.warping import warping, warping_of_regions

__all__ = [
    "Cell",
    "CellWall",
    "Comparison",
    "Region",
    "ShearField",
    "ThinWalls",
    "WallFlow",
    "Warping",
    "cell_flows",
    "compared",
    "regions",
    "shear_field",
    "stresses_at",
    "thin_walls",
    "wall_flows",
    "warping",
    "warping_of_regions",
]
