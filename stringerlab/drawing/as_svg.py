"""Pictures played as SVG: one file that stands alone, at true scale, the same bytes for the same picture.

The view box is in the picture's own mm with z turned down; its size on paper is that times the scale.
"""

from collections.abc import Iterator, Sequence

import numpy as np

from stringerlab.drawing.display import Area, Label, Line, Mark, Picture, Points, Shape, Ticks
from stringerlab.drawing.fitting import Frame, frame, place
from stringerlab.drawing.marks import mark_outline, unit_vectors
from stringerlab.drawing.options import LegendRow, Swatch
from stringerlab.drawing.palette import LIGHT, MARK, PAPER, SMALL, TEXT, Brush, Hatch, Pen, Theme

FONT = "'DejaVu Sans', Arial, Helvetica, sans-serif"
MARGIN = 5.0
"""Around the picture on paper [mm]."""
DIGITS = 7
"""Decimals of a coordinate: 1e-7 mm."""
_LETTER = 0.6
"""Mean width of a letter over its height, on the safe side."""
_ROW_LETTER = 0.54
"""The same of a legend's longer rows, small letters almost all."""
_LINE = 1.25
"""Height of a line of words over that of its letters."""
_ROW = 5.2
"""Height of a legend's row on paper [mm]."""
_SWATCH = 9.0
_UNPRINTABLE = dict.fromkeys(
    (*range(32), 0x7F, *range(0x80, 0xA0), *range(0xD800, 0xE000), 0xFFFE, 0xFFFF), " "
)
USUAL_SCALES = (1, 2, 5, 10, 20, 25, 50, 100, 200, 500, 1000)


def svg(
    picture: Picture,
    theme: Theme = LIGHT,
    *,
    title: str = "",
    legend: tuple[LegendRow, ...] = (),
    scale: float = 1.0,
    room: float = 0.0,
) -> str:
    """Return a picture as an SVG document.

    Parameters
    ----------
    picture
        The picture.
    theme
        Its colours.
    title
        What it is, for readers who cannot see it.
    legend
        Rows written under the picture, or beside it where the paper has room.
    scale
        Millimetres on paper of one drawn: 1 true scale, 0.1 one to ten. Words and pens keep their size.
    room
        Width of the paper [mm]: the legend stands beside the picture where both fit in it.
    """
    return _Writer(picture, theme, title, legend, scale, room).text()


def paper_scale(
    picture: Picture, width: float, height: float, *, parts: Sequence[int] = USUAL_SCALES
) -> float:
    """Return the greatest drawing scale (1, 1:2, 1:5, …) of these at which a picture fits a paper [mm]."""
    bounds = picture.bounds()
    if bounds is None:
        return 1.0
    for part in parts:
        needed = covered(picture, 1 / part)
        if needed.width / part <= width and needed.height / part <= height:
            return 1 / part
    return 1 / parts[-1]


def covered(picture: Picture, scale: float = 1.0) -> Frame:
    """Return what a picture covers at a drawing scale, words and marks included [mm of the picture]."""
    return frame(picture, _measure, scale, _GAP)


_GAP = 1.3
"""Between a point and words beside it on paper [mm]."""


def _height(label: Label) -> float:
    return TEXT * (SMALL if label.small else 1.0)


def _measure(label: Label) -> tuple[float, float]:
    lines = label.text.split("\n")
    height = _height(label)
    return max(map(len, lines)) * height * _LETTER, len(lines) * height * _LINE


class _Writer:
    def __init__(
        self,
        picture: Picture,
        theme: Theme,
        title: str,
        legend: tuple[LegendRow, ...],
        scale: float,
        room: float,
    ) -> None:
        self.picture, self.theme, self.title, self.legend = picture, theme, title, legend
        self.unit = 1 / scale
        """Picture mm of a paper mm."""
        needed = covered(picture, scale)
        margin = MARGIN * self.unit
        self.frame = Frame(
            needed.left - margin, needed.bottom - margin, needed.right + margin, needed.top + margin
        )
        self.scale = scale
        self.beside = bool(legend) and (self.frame.width + self._legend_width() - margin) * scale <= room
        self.room = max(self.frame.width, room * self.unit)
        self.definitions: dict[str, str] = {}

    def text(self) -> str:
        body = [line for item in self.picture for line in self._item(item)]
        wide, high, rows = self.frame.width, self.frame.height, list(self._legend())
        if self.beside:
            wide += self._legend_width() - MARGIN * self.unit
            high = max(high, (len(self.legend) * _ROW + 2 * MARGIN) * self.unit)
        elif self.legend:
            high += (self._legend_shape()[1] * _ROW + MARGIN) * self.unit
            wide = max(wide, self._legend_shape()[0] * self._legend_width() + MARGIN * self.unit)
        left, top = _number(self.frame.left), _number(-self.frame.top)
        box = f"{left} {top} {_number(wide)} {_number(high)}"
        size = f'width="{_number(wide * self.scale)}mm" height="{_number(high * self.scale)}mm"'
        words = _escaped(self.title or "Drawing")
        return "\n".join(
            [
                '<?xml version="1.0" encoding="UTF-8"?>',
                f'<svg xmlns="http://www.w3.org/2000/svg" version="1.1" {size} viewBox="{box}" '
                f'role="img" font-family="{FONT}">',
                f"<title>{words}</title>",
                *(["<defs>", *self.definitions.values(), "</defs>"] if self.definitions else []),
                f'<rect x="{left}" y="{top}" width="{_number(wide)}" height="{_number(high)}" '
                f'fill="{self.theme.background}"/>',
                *body,
                *rows,
                "</svg>",
                "",
            ]
        )

    # -- items -----------------------------------------------------------------------------------

    def _item(self, item: Area | Line | Label | Mark | Ticks) -> Iterator[str]:
        match item:
            case Area():
                yield from self._area(item)
            case Line():
                path = _path([item.points], closed=item.closed)
                yield f'<path d="{path}" fill="none" {self._stroke(self.theme.pen(item.role))}>' + _tip(
                    item.tip, "path"
                )
            case Ticks():
                path = " ".join(_path([pair], closed=False) for pair in self._ticks(item))
                yield f'<path d="{path}" fill="none" {self._stroke(self.theme.pen(item.role))}/>'
            case Mark():
                yield from self._mark(item.at, item.shape, self.theme.pen(item.role), item.tip)
            case Label():
                yield self._words(item)

    def _area(self, area: Area) -> Iterator[str]:
        brush = self.theme.fill(area)
        path = _path(area.rings, closed=True)
        edge = self._stroke(self.theme.pen(area.edge)) if area.edge else ""
        subject = f' data-subject="{_escaped(area.subject)}"' if area.subject else ""
        fill = f'fill="{brush.colour}"'
        if area.shade is not None:
            fill = f'fill="url(#{self._gradient(area)})"'
        elif brush.opacity < 1:
            fill += f' fill-opacity="{_number(brush.opacity)}"'
        yield f'<path d="{path}" fill-rule="evenodd" {fill} {edge}{subject}>' + _tip(area.tip, "path")
        if area.shade is None and brush.hatch is not None:
            yield f'<path d="{path}" fill-rule="evenodd" fill="url(#{self._pattern(brush)})"/>'

    def _words(self, label: Label) -> str:
        theme, height = self.theme, _height(label) * self.unit
        size = _measure(label)
        right, up = place(label, size, _GAP)
        anchor = {-1: "end", 0: "middle", 1: "start"}[label.align]
        across = label.at[0] + (right + {-1: size[0], 0: size[0] / 2, 1: 0.0}[label.align]) * self.unit
        top = -label.at[1] - (up + size[1]) * self.unit
        words = [
            f'x="{_number(across)}" y="{_number(top + (index * _LINE + 0.98) * height)}">'
            f"{_escaped(line)}</text>"
            for index, line in enumerate(label.text.split("\n"))
        ]
        look = f'<text font-size="{_number(height)}" text-anchor="{anchor}"'
        halo = (
            f'{look} aria-hidden="true" fill="none" stroke="{theme.background}" '
            f'stroke-width="{_number(0.3 * height)}" stroke-linejoin="round" stroke-opacity="0.85" '
        )
        ink = f'{look} fill="{theme.pen(label.role).colour}" '
        return "\n".join([halo + line for line in words if theme.halo] + [ink + line for line in words])

    def _mark(self, at: tuple[float, float], shape: Shape, pen: Pen, tip: str) -> Iterator[str]:
        r = MARK * PAPER * 1.2 * self.unit
        y, z = at[0], -at[1]
        stroke, ground = self._stroke(pen), self.theme.background
        if shape is Shape.CIRCLE:
            yield (
                f'<circle cx="{_number(y)}" cy="{_number(z)}" r="{_number(r)}" fill="{ground}" {stroke}>'
                + _tip(tip, "circle")
            )
            return
        rings = mark_outline(shape) * r * [1, -1] + [y, z]
        if shape is Shape.CROSS:
            path = " ".join(_path([rings[i : i + 2] * [1, -1]], closed=False) for i in (0, 2))
            yield f'<path d="{path}" fill="none" {stroke}>' + _tip(tip, "path")
        else:
            path = _path([rings * [1, -1]], closed=True)
            yield f'<path d="{path}" fill="{ground}" {stroke}>' + _tip(tip, "path")

    def _ticks(self, ticks: Ticks) -> Points:
        ends = ticks.ends
        if ticks.size is not None:
            ends = ticks.starts + unit_vectors(ticks) * (ticks.size * 1.2 * MARK * PAPER * self.unit)
        return np.stack([ticks.starts, ends], axis=1)

    def _stroke(self, pen: Pen) -> str:
        unit = PAPER * self.unit
        dash = ""
        if pen.dash:
            dash = f' stroke-dasharray="{" ".join(_number(part * unit) for part in pen.dash)}"'
        opacity = f' stroke-opacity="{_number(pen.opacity)}"' if pen.opacity < 1 else ""
        return (
            f'stroke="{pen.colour}" stroke-width="{_number(pen.width * unit)}" '
            f'stroke-linejoin="round" stroke-linecap="butt"{dash}{opacity}'
        )

    # -- definitions -----------------------------------------------------------------------------

    def _gradient(self, area: Area) -> str:
        shade = area.shade
        if shade is None:
            return ""
        low, high = shade.z
        stops = "".join(
            f'<stop offset="{_number(at)}" stop-color="{colour}"/>' for at, colour in self.theme.stops(shade)
        )
        body = (
            f'gradientUnits="userSpaceOnUse" x1="0" x2="0" y1="{_number(-low)}" y2="{_number(-high)}">{stops}'
        )
        return self._defined("shade", body, "linearGradient")

    def _pattern(self, brush: Brush) -> str:
        step = 1.9 * self.unit
        pen = f'stroke="{brush.hatch_colour}" stroke-width="{_number(0.16 * self.unit)}"'
        match brush.hatch:
            case Hatch.DOTS:
                drawn = (
                    f'<circle cx="{_number(step / 2)}" cy="{_number(step / 2)}" r="{_number(step / 9)}" '
                    f'fill="{brush.hatch_colour}"/>'
                )
            case Hatch.CROSS:
                drawn = f'<path d="M0 0H{_number(step)}M0 0V{_number(step)}" {pen}/>'
            case _:
                drawn = f'<path d="M0 0H{_number(step)}" {pen}/>'
        body = (
            f'patternUnits="userSpaceOnUse" width="{_number(step)}" height="{_number(step)}" '
            f'patternTransform="rotate(-45)">{drawn}'
        )
        return self._defined("hatch", body, "pattern")

    def _defined(self, word: str, body: str, element: str) -> str:
        if body not in self.definitions:
            name = f"{word}{len(self.definitions) + 1}"
            self.definitions[body] = f'<{element} id="{name}" {body}</{element}>'
        return self.definitions[body].split('"', 2)[1]

    # -- legend ----------------------------------------------------------------------------------

    def _legend_width(self) -> float:
        longest = max(len(row.text + " ".join(row.ends)) for row in self.legend)
        return (MARGIN + _SWATCH + 2 + longest * TEXT * _ROW_LETTER) * self.unit

    def _legend_shape(self) -> tuple[int, int]:
        """Return how many columns of the legend the picture has room for, and the rows of each."""
        room = self.room - MARGIN * self.unit
        columns = max(min(int(room / self._legend_width()), len(self.legend)), 1)
        rows = -(-len(self.legend) // columns)
        return columns, rows

    def _legend(self) -> Iterator[str]:
        if not self.legend:
            return
        rows = len(self.legend) if self.beside else self._legend_shape()[1]
        across = self.frame.right if self.beside else self.frame.left + MARGIN * self.unit
        begins = self.frame.top - MARGIN * self.unit if self.beside else self.frame.bottom
        for index, row in enumerate(self.legend):
            column, line = divmod(index, rows)
            left = across + column * self._legend_width()
            middle = begins - (line + 0.5) * _ROW * self.unit
            yield from self._swatch(row, left, middle)
            words = f"{row.text}: {row.ends[0]} to {row.ends[1]}" if row.swatch is Swatch.RAMP else row.text
            at = (left + (_SWATCH + 0.5) * self.unit, middle)
            yield self._words(Label(at=at, text=words, align=1))

    def _swatch(self, row: LegendRow, left: float, middle: float) -> Iterator[str]:
        wide, half = _SWATCH * self.unit, 1.6 * self.unit
        box = np.array([left, middle]) + np.array([[0, -half], [wide, -half], [wide, half], [0, half]])
        match row.swatch:
            case Swatch.AREA:
                yield from self._area(Area(rings=(box,), role=row.role, tint=row.tint, edge=row.role))
            case Swatch.LINE:
                yield from self._item(
                    Line(points=np.array([[left, middle], [left + wide, middle]]), role=row.role)
                )
            case Swatch.MARK:
                at = (left + wide / 2, middle)
                yield from self._mark(at, row.shape or Shape.CIRCLE, self.theme.pen(row.role), "")
            case Swatch.RAMP:
                stops = "".join(
                    f'<stop offset="{part}" stop-color="{self.theme.value_colour(2 * part - 1)}"/>'
                    for part in (0.0, 0.5, 1.0)
                )
                name = self._defined("ramp", f">{stops}", "linearGradient")
                yield f'<path d="{_path([box], closed=True)}" fill="url(#{name})"/>'


def _path(lines: tuple[Points, ...] | list[Points], *, closed: bool) -> str:
    parts = (
        "M" + "L".join(f"{_number(y)} {_number(-z)}" for y, z in line.tolist()) + ("Z" if closed else "")
        for line in lines
        if len(line)
    )
    return " ".join(parts)


def _number(value: float) -> str:
    text = f"{value:.{DIGITS}f}".rstrip("0").rstrip(".")
    return "0" if text in {"-0", ""} else text


def _tip(tip: str, element: str) -> str:
    return f"<title>{_escaped(tip)}</title></{element}>" if tip else f"</{element}>"


def _escaped(text: str) -> str:
    """Return text that can stand in an element or an attribute; what XML cannot hold becomes a space."""
    safe = text.translate(_UNPRINTABLE)
    for letter, name in (("&", "&amp;"), ("<", "&lt;"), (">", "&gt;"), ('"', "&quot;"), ("'", "&#39;")):
        safe = safe.replace(letter, name)
    return safe
