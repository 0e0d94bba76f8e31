"""The palette as Qt's own pens, brushes and fonts; marks of one size."""

from PySide6.QtCore import QLineF, QPointF, Qt
from PySide6.QtGui import QBrush, QColor, QFont, QPainter, QPalette, QPen, QTransform

from stringerlab.desktop.played import polygon_of
from stringerlab.drawing import DARK, LIGHT, Role, Shape
from stringerlab.drawing.marks import mark_outline
from stringerlab.drawing.palette import MARK, SMALL, Brush, Hatch, Pen, Theme

_HATCHES = {
    Hatch.DIAGONAL: Qt.BrushStyle.BDiagPattern,
    Hatch.CROSS: Qt.BrushStyle.DiagCrossPattern,
    Hatch.DOTS: Qt.BrushStyle.Dense6Pattern,
}


def theme_of(palette: QPalette) -> Theme:
    """Return the dark theme for a dark palette, else the light one."""
    return DARK if palette.color(QPalette.ColorRole.Window).lightness() < 128 else LIGHT


def pen_of(pen: Pen, widest: float | None = None) -> QPen:
    """Return a pen of one width on screen whatever the scale."""
    width = pen.width if widest is None else min(pen.width, widest)
    made = QPen(colour_of(pen.colour, pen.opacity), width)
    made.setCosmetic(True)
    made.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    made.setCapStyle(Qt.PenCapStyle.FlatCap)
    if pen.dash:
        made.setDashPattern([part / width for part in pen.dash])
    return made


def brushes_of(brush: Brush, unscaled: QTransform) -> tuple[QBrush, QBrush | None]:
    """Return a brush and, where it has one, the hatch over it, which keeps its size on screen."""
    hatch = None
    if brush.hatch is not None:
        hatch = QBrush(QColor(brush.hatch_colour), _HATCHES[brush.hatch])
        hatch.setTransform(unscaled)
    return QBrush(colour_of(brush.colour, brush.opacity)), hatch


def draw_mark(painter: QPainter, at: QPointF, shape: Shape, theme: Theme, role: Role) -> None:
    """Draw a mark at a point on screen."""
    painter.setPen(pen_of(theme.pen(role)))
    painter.setBrush(QColor(theme.background))
    corners = mark_outline(shape) * [MARK, -MARK] + [at.x(), at.y()]
    if shape is Shape.CIRCLE:
        painter.drawEllipse(at, MARK, MARK)
    elif shape is Shape.CROSS:
        painter.drawLines([QLineF(*pair) for pair in corners.reshape(2, 4).tolist()])
    else:
        painter.drawPolygon(polygon_of(corners))


def sized(font: QFont, *, small: bool) -> QFont:
    """Return a font as it is, or that of small words."""
    made = QFont(font)
    if small:
        if font.pixelSize() > 0:
            made.setPixelSize(max(round(SMALL * font.pixelSize()), 1))
        else:
            made.setPointSizeF(SMALL * font.pointSizeF())
    return made


def colour_of(name: str, opacity: float) -> QColor:
    """Return a colour that lets so much through."""
    colour = QColor(name)
    colour.setAlphaF(opacity)
    return colour
