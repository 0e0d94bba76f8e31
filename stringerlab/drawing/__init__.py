"""Display lists in millimetres, drawn once and played by screen, SVG and DXF."""

from stringerlab.drawing.as_dxf import dxf
from stringerlab.drawing.as_svg import paper_scale, svg
from stringerlab.drawing.dimensions import dimension
from stringerlab.drawing.display import (
    Area,
    Item,
    Label,
    Line,
    Mark,
    Picture,
    Role,
    Shade,
    Shape,
    Ticks,
    area_of,
)
from stringerlab.drawing.hulls import stations_picture
from stringerlab.drawing.laminates import laminate_picture, moduli_round, polar_picture
from stringerlab.drawing.options import LegendRow, Options, Swatch, legend
from stringerlab.drawing.palette import DARK, LIGHT, PRINT, THEMES, Brush, Hatch, Pen, Theme
from stringerlab.drawing.sections import outline_picture, section_picture

__all__ = [
    "DARK",
    "LIGHT",
    "PRINT",
    "THEMES",
    "Area",
    "Brush",
    "Hatch",
    "Item",
    "Label",
    "LegendRow",
    "Line",
    "Mark",
    "Options",
    "Pen",
    "Picture",
    "Role",
    "Shade",
    "Shape",
    "Swatch",
    "Theme",
    "Ticks",
    "area_of",
    "dimension",
    "dxf",
    "laminate_picture",
    "legend",
    "moduli_round",
    "outline_picture",
    "paper_scale",
    "polar_picture",
    "section_picture",
    "stations_picture",
    "svg",
]
