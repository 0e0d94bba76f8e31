"""Display lists in millimetres, drawn once and played by screen, SVG and DXF."""

from stringerlab.drawing.display import Area, Item, Label, Line, Mark, Picture, Role, Shape

__all__ = ["Area", "Item", "Label", "Line", "Mark", "Picture", "Role", "Shape"]
