"""Pictures played as DXF for other drawing programs: mm, a layer a role, closed outlines at full precision.

Outlines lie on ``mat``, ``tool surface``, …; fills, which may be frozen, on ``mat fill``.
"""

import io
from collections.abc import Generator
from contextlib import contextmanager
from importlib import import_module
from typing import Any

import numpy as np

from stringerlab.drawing.display import Area, Item, Label, Line, Mark, Picture, Points, Role, Ticks
from stringerlab.drawing.palette import PRINT, SMALL, TEXT, Pen, Theme
from stringerlab.errors import Problem, StringerlabError

VERSION = "R2010"
"""Read by everything current."""
MILLIMETRES = 4
"""How the header says them."""
MARKED = 1.6
"""Half the size of a mark in the drawing [mm], before the scale."""
_LINETYPES = {Role.AXIS: "DASHDOT", Role.CAVITY: "DASHED", Role.OPENING: "DASHED"}


def dxf(picture: Picture, theme: Theme = PRINT, *, scale: float = 1.0) -> bytes:
    """Return a picture as a DXF file, one unit a millimetre.

    Parameters
    ----------
    picture
        The picture.
    theme
        Colours of layers; the print theme's where none is given.
    scale
        At which it will be plotted; words, marks and ticks are sized for it.

    Raises
    ------
    StringerlabError
        When the finished file does not pass its audit.
    """
    with _dateless():
        document = _library().new(VERSION, setup=["linetypes"])
        document.units = MILLIMETRES
        document.header["$MEASUREMENT"] = 1
        document.header["$LUNITS"] = 2
        document.header["$LUPREC"] = 6
        writer = _Writer(document, theme, scale)
        for item in picture:
            writer.write(item)
        audit = document.audit()
        if audit.has_errors:
            raise StringerlabError(
                [Problem(f"The drawing is not sound DXF: {error.message}") for error in audit.errors]
            )
        stream = io.StringIO(newline="\n")
        document.write(stream)
    return stream.getvalue().encode("utf-8")


def _library() -> Any:
    """Return the library, loaded when first asked; its own annotations are not complete."""
    return import_module("ezdxf")


@contextmanager
def _dateless() -> Generator[None]:
    """Have dates and identities fixed, so that the same picture gives the same file."""
    options = _library().options
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before


class _Writer:
    def __init__(self, document: Any, theme: Theme, scale: float) -> None:
        self.document, self.theme, self.unit = document, theme, 1 / scale
        self.space: Any = document.modelspace()

    def write(self, item: Item) -> None:
        match item:
            case Area():
                self._area(item)
            case Line():
                attributes = {"layer": self._layer(item.role, self.theme.pen(item.role))}
                self.space.add_lwpolyline(_pairs(item.points), close=item.closed, dxfattribs=attributes)
            case Ticks():
                self._ticks(item)
            case Mark():
                layer = {"layer": self._layer(item.role, self.theme.pen(item.role))}
                self.space.add_circle(item.at, radius=MARKED * self.unit, dxfattribs=layer)
                self.space.add_point(item.at, dxfattribs=layer)
            case Label():
                self._label(item)

    def _area(self, area: Area) -> None:
        pen, brush = self.theme.pen(area.edge or Role.PLY_EDGE), self.theme.fill(area)
        layer = self._layer(area.role, pen)
        for ring in area.rings:
            self.space.add_lwpolyline(_pairs(ring), close=True, dxfattribs={"layer": layer})
        filled = self._layer_named(f"{area.role} fill", brush.colour)
        hatch = self.space.add_hatch(dxfattribs={"layer": filled})
        hatch.rgb = _rgb(brush.colour)
        for ring in area.rings:
            hatch.paths.add_polyline_path(_pairs(ring), is_closed=True)

    def _ticks(self, ticks: Ticks) -> None:
        ends = ticks.ends
        if ticks.size is not None:
            step = ticks.ends - ticks.starts
            length = np.maximum(np.hypot(step[:, 0], step[:, 1]), 1e-300)
            ends = ticks.starts + step / length[:, None] * (ticks.size * self.unit)
        layer = {"layer": self._layer(ticks.role, self.theme.pen(ticks.role))}
        for start, end in zip(_pairs(ticks.starts), _pairs(ends), strict=True):
            self.space.add_line(start, end, dxfattribs=layer)

    def _label(self, label: Label) -> None:
        """Write plain words: what a format code would be is broken up."""
        height = TEXT * (SMALL if label.small else 1.0) * self.unit
        layer = self._layer(label.role, self.theme.pen(label.role))
        attachment = {-1: 3, 0: 2, 1: 1}[label.align] + {-1: 0, 0: 3, 1: 6}[label.level]
        text = self.space.add_mtext(
            "\\P".join(map(_plain, label.text.split("\n"))),
            dxfattribs={"layer": layer, "char_height": height, "attachment_point": attachment},
        )
        gap = 0.45 * height
        text.set_location((label.at[0] + label.align * gap, label.at[1] + label.level * gap))

    def _layer(self, role: Role, pen: Pen) -> str:
        return self._layer_named(str(role), pen.colour, _LINETYPES.get(role, "CONTINUOUS"), pen.width)

    def _layer_named(self, name: str, colour: str, linetype: str = "CONTINUOUS", width: float = 0.6) -> str:
        layers = self.document.layers
        if not layers.has_entry(name):
            layer = layers.add(name, linetype=linetype, true_color=_true_colour(colour))
            layer.dxf.lineweight = min((13, 18, 25, 35, 50), key=lambda known: abs(known - 21 * width))
        return name


def _pairs(points: Points) -> list[tuple[float, float]]:
    return [(y, z) for y, z in points.tolist()]


def _rgb(colour: str) -> tuple[int, int, int]:
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


def _true_colour(colour: str) -> int:
    return int(colour[1:], 16)


def _plain(text: str) -> str:
    """Return words without format codes: backslash, braces and caret stand for themselves."""
    shown = "".join(" " if ord(letter) < 32 or "\ud800" <= letter <= "\udfff" else letter for letter in text)
    for letter in ("\\", "{", "}"):
        shown = shown.replace(letter, f"\\{letter}" if letter != "\\" else "\\\\")
    return shown.replace("^", "^ ")
