"""Pictures played on a QPainter: shapes in mm through one transform, words and marks at screen size."""

from math import hypot

import numpy as np
from PySide6.QtCore import QEvent, QLineF, QMarginsF, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import (
    QBrush,
    QColor,
    QFont,
    QFontMetricsF,
    QHelpEvent,
    QImage,
    QLinearGradient,
    QPainter,
    QPainterPath,
    QPaintEvent,
    QPen,
    QTransform,
)
from PySide6.QtWidgets import QToolTip, QWidget

from stringerlab.desktop.legends import legend_size, paint_legend
from stringerlab.desktop.pens import brushes_of, colour_of, draw_mark, pen_of, sized, theme_of
from stringerlab.desktop.played import Played, path_of, polygon_of
from stringerlab.drawing import Area, Label, LegendRow, Line, Mark, Picture, Role, Shape, Ticks
from stringerlab.drawing.display import Points
from stringerlab.drawing.fitting import Frame, Measure, fit, place
from stringerlab.drawing.marks import unit_vectors
from stringerlab.drawing.palette import MARK, Theme

__all__ = [
    "PictureView",
    "Played",
    "fitted",
    "image",
    "legend_size",
    "measure_in",
    "paint",
    "paint_legend",
    "path_of",
    "pen_of",
    "polygon_of",
    "theme_of",
]

MARGIN = 14.0
"""Around a picture fitted into a widget."""
FINE = 0.22
"""A ply's edge is at most so wide, in millimetres drawn: fine plies are not lost under their edges."""
NEAR = 4.0
"""How near to a line or a mark the pointer shows its tip."""


def paint(painter: QPainter, picture: Picture | Played, to_screen: QTransform, theme: Theme) -> None:
    """Paint a picture.

    Parameters
    ----------
    painter
        On the screen or page; what it is set to is left as it was.
    picture
        The picture, with its paths made or not.
    to_screen
        From mm, z up, to the painter's units: its vertical scale is negative.
    theme
        Colours. The background is not painted.
    """
    played = picture if isinstance(picture, Played) else Played(picture)
    painter.save()
    _Painting(painter, to_screen, theme).all(played)
    painter.restore()


def fitted(picture: Picture, measure: Measure, area: QRectF) -> QTransform:
    """Return the transform by which a picture with its words fits an area, in its middle."""
    scale, covered = fit(picture, measure, max(area.width(), 1.0), max(area.height(), 1.0))
    return _placed(covered, scale, area)


def _placed(covered: Frame, scale: float, area: QRectF) -> QTransform:
    middle = area.center()
    return QTransform(
        scale,
        0.0,
        0.0,
        -scale,
        middle.x() - scale * (covered.left + covered.right) / 2,
        middle.y() + scale * (covered.bottom + covered.top) / 2,
    )


def measure_in(font: QFont) -> Measure:
    """Return how large words are in a font, small ones in a smaller."""
    sizes = {small: QFontMetricsF(sized(font, small=small)) for small in (False, True)}

    def measure(label: Label) -> tuple[float, float]:
        metrics = sizes[label.small]
        lines = label.text.split("\n")
        return max(map(metrics.horizontalAdvance, lines)), len(lines) * metrics.lineSpacing()

    return measure


def image(picture: Picture, theme: Theme, size: QSize, font: QFont, ratio: float = 1.0) -> QImage:
    """Return a picture fitted into an image, on the theme's background.

    Parameters
    ----------
    picture, theme
        The picture and its colours.
    size
        In screen units.
    font
        For its words.
    ratio
        Pixels a screen unit.
    """
    made = QImage(size * ratio, QImage.Format.Format_ARGB32_Premultiplied)
    made.setDevicePixelRatio(ratio)
    made.fill(QColor(theme.background))
    painter = QPainter(made)
    painter.setFont(font)
    area = QRectF(0, 0, size.width(), size.height()).marginsRemoved(_margins())
    paint(painter, picture, fitted(picture, measure_in(font), area), theme)
    painter.end()
    return made


class _Painting:
    """One painting of a picture."""

    def __init__(self, painter: QPainter, to_screen: QTransform, theme: Theme) -> None:
        self.painter, self.to_screen, self.theme = painter, to_screen, theme
        self.base = painter.transform()
        self.scale = hypot(to_screen.m11(), to_screen.m12())
        self.fonts = {small: sized(painter.font(), small=small) for small in (False, True)}
        self.metrics = {small: QFontMetricsF(font) for small, font in self.fonts.items()}
        self.pens: dict[Role | None, QPen] = {None: QPen(Qt.PenStyle.NoPen)}
        self.brushes: dict[tuple[Role, Role | None], tuple[QBrush, QBrush | None]] = {}
        self.in_mm = to_screen * self.base
        turned, _ = self.in_mm.inverted()
        self.unscaled = turned

    def all(self, played: Played) -> None:
        painter = self.painter
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setRenderHint(QPainter.RenderHint.TextAntialiasing)
        mapped = True
        painter.setTransform(self.in_mm)
        for item, path in played.items:
            if (path is not None) is not mapped:
                mapped = path is not None
                painter.setTransform(self.in_mm if mapped else self.base)
            match item:
                case Area():
                    if path is not None:
                        self._area(item, path)
                case Line():
                    if path is not None:
                        painter.strokePath(path, self._pen(item.role))
                case Ticks():
                    if path is not None:
                        painter.strokePath(path, self._pen(item.role))
                    else:
                        self._ticks(item)
                case Mark():
                    self._mark(item.at, item.shape, item.role)
                case Label():
                    self._words(item)

    def _area(self, area: Area, path: QPainterPath) -> None:
        painter = self.painter
        brush, hatch = self._brush(area.role, area.tint)
        if area.shade is not None:
            brush, hatch = self._shaded(area), None
        painter.setPen(self._pen(area.edge))
        painter.setBrush(brush)
        painter.drawPath(path)
        if hatch is not None:
            painter.fillPath(path, hatch)

    def _shaded(self, area: Area) -> QBrush:
        if area.shade is None:
            return QBrush()
        low, high = area.shade.z
        gradient = QLinearGradient(0.0, low, 0.0, max(high, low + 1e-9))
        for at, colour in self.theme.stops(area.shade):
            gradient.setColorAt(at, QColor(colour))
        return QBrush(gradient)

    def _ticks(self, ticks: Ticks) -> None:
        if not len(ticks.starts):
            return
        length = MARK * (ticks.size or 1.0) * 1.15
        starts = self._mapped(ticks.starts)
        ways = unit_vectors(ticks) @ self._turn()
        ends = starts + length * ways
        self.painter.setPen(self._pen(ticks.role))
        self.painter.drawLines([QLineF(*pair) for pair in np.concatenate([starts, ends], axis=1).tolist()])

    def _mapped(self, points: Points) -> Points:
        to = self.to_screen
        matrix = np.array([[to.m11(), to.m12()], [to.m21(), to.m22()]])
        return np.asarray(points @ matrix + [to.dx(), to.dy()])

    def _turn(self) -> Points:
        to = self.to_screen
        return np.array([[to.m11(), to.m12()], [to.m21(), to.m22()]]) / max(self.scale, 1e-300)

    def _mark(self, at: tuple[float, float], shape: Shape, role: Role) -> None:
        draw_mark(self.painter, self.to_screen.map(QPointF(*at)), shape, self.theme, role)

    def _words(self, label: Label) -> None:
        point = self.to_screen.map(QPointF(*label.at))
        metrics = self.metrics[label.small]
        lines = label.text.split("\n")
        widths = [metrics.horizontalAdvance(line) for line in lines]
        size = max(widths), len(lines) * metrics.lineSpacing()
        right, up = place(label, size)
        path = QPainterPath()
        top = point.y() - up - size[1]
        for index, (line, width) in enumerate(zip(lines, widths, strict=True)):
            spare = size[0] - width
            left = point.x() + right + {-1: spare, 0: spare / 2, 1: 0.0}[label.align]
            self._line_of_words(
                path, left, top + index * metrics.lineSpacing() + metrics.ascent(), line, label
            )

    def _line_of_words(self, path: QPainterPath, x: float, y: float, line: str, label: Label) -> None:
        painter, theme, font = self.painter, self.theme, self.fonts[label.small]
        colour = QColor(theme.pen(label.role).colour)
        if theme.halo:
            path.addText(x, y, font, line)
            halo = QPen(colour_of(theme.background, 0.85), 3.0)
            halo.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
            painter.strokePath(path, halo)
            path.clear()
        painter.setFont(font)
        painter.setPen(colour)
        painter.drawText(QPointF(x, y), line)

    def _pen(self, role: Role | None) -> QPen:
        made = self.pens.get(role)
        if made is None and role is not None:
            widest = max(FINE * self.scale, 0.08) if role is Role.PLY_EDGE else None
            made = self.pens[role] = pen_of(self.theme.pen(role), widest)
        return made or QPen(Qt.PenStyle.NoPen)

    def _brush(self, role: Role, tint: Role | None) -> tuple[QBrush, QBrush | None]:
        made = self.brushes.get((role, tint))
        if made is None:
            made = self.brushes[role, tint] = brushes_of(self.theme.brush(role, tint), self.unscaled)
        return made


class PictureView(QWidget):
    """A picture fitted into a widget; resting the pointer on a thing tells what it is."""

    def __init__(self, name: str = "Picture", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self.setMinimumSize(120, 90)
        self._played = Played(Picture())
        self._legend: tuple[LegendRow, ...] = ()
        self._theme: Theme | None = None
        self._to_screen: QTransform | None = None

    @property
    def picture(self) -> Picture:
        """The picture shown."""
        return self._played.picture

    @property
    def theme(self) -> Theme:
        """The theme in use: the one set, else the one that suits the widget's palette."""
        return self._theme or theme_of(self.palette())

    def set_theme(self, theme: Theme | None) -> None:
        """Use a theme; None for the one that suits the widget's palette."""
        self._theme = theme
        self.update()

    def show_picture(self, picture: Picture, legend: tuple[LegendRow, ...] = ()) -> None:
        """Show a picture, with a legend in its upper left corner or none."""
        self._played = self._played.updated(picture)
        self._legend = legend
        self._to_screen = None
        words = (item.text.replace("\n", " ") for item in picture if isinstance(item, Label))
        self.setAccessibleDescription("; ".join(words))
        self.update()

    def sizeHint(self) -> QSize:
        """Return a size for a picture among other things."""
        return QSize(420, 300)

    @property
    def to_screen(self) -> QTransform:
        """From mm to the widget's units."""
        if self._to_screen is None:
            area = QRectF(self.rect()).marginsRemoved(_margins())
            if self._legend:
                beside = legend_size(self._legend, self.font()).width() + MARGIN
                area.setLeft(area.left() + min(beside, area.width() / 2))
            self._to_screen = fitted(self.picture, measure_in(self.font()), area)
        return self._to_screen

    def item_at(self, at: QPointF) -> Area | Line | Mark | None:
        """Return the foremost item that tells what it is, under or near a place in the widget."""
        inverse, sound = self.to_screen.inverted()
        if not sound:
            return None
        point = inverse.map(at)
        reach = NEAR / max(abs(self.to_screen.m11()), 1e-300)
        box = QRectF(point.x() - reach, point.y() - reach, 2 * reach, 2 * reach)
        for item, path in reversed(self._played.items):
            match item:
                case Area():
                    if item.tip and path is not None and path.contains(point):
                        return item
                case Line():
                    if item.tip and _distance(item, point) <= reach:
                        return item
                case Mark():
                    if item.tip and box.contains(QPointF(*item.at)):
                        return item
                case _:
                    continue
        return None

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint ground, picture, legend."""
        painter = QPainter(self)
        painter.fillRect(event.rect(), QColor(self.theme.background))
        painter.setFont(self.font())
        paint(painter, self._played, self.to_screen, self.theme)
        if self._legend:
            paint_legend(painter, self._legend, QPointF(MARGIN, MARGIN), self.theme)
        painter.end()

    def event(self, event: QEvent) -> bool:
        """Tell what is under the pointer when it rests; fit anew when size or font change."""
        if event.type() == QEvent.Type.ToolTip and isinstance(event, QHelpEvent):
            item = self.item_at(QPointF(event.pos()))
            if item is None:
                QToolTip.hideText()
            else:
                QToolTip.showText(event.globalPos(), item.tip, self)
            return True
        if event.type() in (QEvent.Type.Resize, QEvent.Type.FontChange, QEvent.Type.StyleChange):
            self._to_screen = None
        if event.type() == QEvent.Type.PaletteChange:
            self.update()
        return super().event(event)


def _distance(line: Line, point: QPointF) -> float:
    """Return how far a point lies from a line's nearest segment [mm]."""
    points = np.concatenate([line.points, line.points[:1]]) if line.closed else line.points
    starts, steps = points[:-1], np.diff(points, axis=0)
    from_start = np.array([point.x(), point.y()]) - starts
    size = np.maximum((steps * steps).sum(axis=1), 1e-300)
    part = np.clip((from_start * steps).sum(axis=1) / size, 0.0, 1.0)[:, None]
    return float(np.hypot(*(from_start - part * steps).T).min())


def _margins() -> QMarginsF:
    return QMarginsF(MARGIN, MARGIN, MARGIN, MARGIN)
