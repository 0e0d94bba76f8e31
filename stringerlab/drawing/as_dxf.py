"""Pictures played as DXF for other drawing programs: mm, a layer a role, closed outlines at full precision.

Outlines lie on ``mat``, ``tool surface``, …; fills, which may be frozen, on ``mat fill``. What an outline
shows (``w6/3``, the third ply of wall w6) goes with it as extended data of the application `APPLICATION`.
"""

import io
from collections.abc import Generator, Mapping
from contextlib import contextmanager
from importlib import import_module
from typing import Any

import numpy as np

from stringerlab.drawing.display import Area, Item, Label, Line, Mark, Picture, Points, Role, Ticks
from stringerlab.drawing.palette import PRINT, SMALL, TEXT, Pen, Theme, lightness, mixed
from stringerlab.errors import Problem, StringerlabError

VERSION = "R2010"
"""Read by everything current."""
MILLIMETRES = 4
"""How the header says them."""
APPLICATION = "STRINGERLAB"
"""Under which what is drawn says what it shows: the subject's id, then words."""
MARKED = 1.6
"""Half the size of a mark in the drawing [mm], before the scale."""
_DASHES = 6.0
"""Length on paper of a unit of a line type [mm]."""
_FILL = " fill"
_PAPER = "#ffffff"
_DARK = 30.0
"""Lightness below which a line takes the colour that is black on white and white on black."""
_PALER = 0.3
"""How much white other colours take, to be seen on both grounds."""
_WORDS = 240
"""Bytes of extended data in a string: a little less than the form allows."""
_LINETYPES = {Role.AXIS: "DASHDOT", Role.CAVITY: "DASHED", Role.OPENING: "DASHED"}


def dxf(
    picture: Picture,
    theme: Theme = PRINT,
    *,
    scale: float = 1.0,
    layers: Mapping[Role, str] | None = None,
    fills: bool = True,
) -> bytes:
    """Return a picture as a DXF file, one unit a millimetre.

    Parameters
    ----------
    picture
        The picture.
    theme
        Colours of layers; the print theme's where none is given.
    scale
        At which it will be plotted; words, marks and ticks are sized for it.
    layers
        Names of layers by role, for what a role means in this picture; the role's own otherwise.
    fills
        Whether fills are seen when it is opened; their layers are frozen otherwise.

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
        document.header["$LTSCALE"] = _DASHES / scale
        document.appids.add(APPLICATION)
        _show_all(document, picture)
        writer = _Writer(document, theme, scale, layers or {})
        for item in picture:
            writer.write(item)
        for layer in document.layers:
            if not fills and layer.dxf.name.endswith(_FILL):
                layer.freeze()
        audit = document.audit()
        if audit.has_errors:
            raise StringerlabError(
                [Problem(f"The drawing is not sound DXF: {error.message}") for error in audit.errors]
            )
        stream = io.StringIO(newline="\n")
        document.write(stream)
    return stream.getvalue().encode("utf-8")


def _show_all(document: Any, picture: Picture) -> None:
    """Have the drawing open with all of the picture seen."""
    bounds = picture.bounds()
    if bounds is None:
        return
    left, bottom, right, top = bounds
    document.header["$EXTMIN"], document.header["$EXTMAX"] = (left, bottom, 0.0), (right, top, 0.0)
    height = 1.15 * max(top - bottom, (right - left) / 1.6, 1.0)
    document.set_modelspace_vport(height, ((left + right) / 2, (bottom + top) / 2))


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
    def __init__(self, document: Any, theme: Theme, scale: float, names: Mapping[Role, str]) -> None:
        self.document, self.theme, self.unit, self.names = document, theme, 1 / scale, names
        self.space: Any = document.modelspace()

    def write(self, item: Item) -> None:
        match item:
            case Area():
                self._area(item)
            case Line():
                attributes = {"layer": self._layer(item.role, self.theme.pen(item.role))}
                line = self.space.add_lwpolyline(
                    _pairs(item.points), close=item.closed, dxfattribs=attributes
                )
                _told(line, item.subject, item.tip)
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
            outline = self.space.add_lwpolyline(_pairs(ring), close=True, dxfattribs={"layer": layer})
            _told(outline, area.subject, area.tip)
        seen = mixed(_PAPER, brush.colour, brush.opacity)
        filled = self._layer_named(f"{self._name(area.role)}{_FILL}", seen)
        hatch = self.space.add_hatch(dxfattribs={"layer": filled})
        hatch.rgb = _rgb(seen)
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
        return self._layer_named(self._name(role), pen.colour, _LINETYPES.get(role, "CONTINUOUS"), pen.width)

    def _name(self, role: Role) -> str:
        return self.names.get(role, str(role))

    def _layer_named(self, name: str, colour: str, linetype: str = "CONTINUOUS", width: float = 0.6) -> str:
        layers = self.document.layers
        if not layers.has_entry(name):
            layer = layers.add(name, linetype=linetype)
            if lightness(colour) >= _DARK:
                layer.rgb = _rgb(mixed(colour, _PAPER, _PALER))
            layer.dxf.lineweight = min((13, 18, 25, 35, 50), key=lambda known: abs(known - 21 * width))
        return name


def _pairs(points: Points) -> list[tuple[float, float]]:
    return [(y, z) for y, z in points.tolist()]


def _rgb(colour: str) -> tuple[int, int, int]:
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


def _told(outline: Any, subject: str, tip: str) -> None:
    """Have an outline say what it shows."""
    if subject or tip:
        outline.set_xdata(APPLICATION, [(1000, _cut(subject)), (1000, _cut(tip))])


def _cut(text: str) -> str:
    return "".join(map(_visible, text)).encode()[:_WORDS].decode(errors="ignore")


def _visible(letter: str) -> str:
    """Return a letter that text in a DXF may hold, a blank for any other."""
    return " " if ord(letter) < 32 or "\ud800" <= letter <= "\udfff" else letter


def _plain(text: str) -> str:
    """Return words without format codes: backslash, braces and caret stand for themselves."""
    shown = "".join(map(_visible, text))
    for letter in ("\\", "{", "}"):
        shown = shown.replace(letter, f"\\{letter}" if letter != "\\" else "\\\\")
    return shown.replace("^", "^ ")
