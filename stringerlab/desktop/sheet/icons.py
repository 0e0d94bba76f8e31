"""Icons of the tools, drawn with one pen on a 24 × 24 board in the colour of the text beside them."""

from functools import lru_cache

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QIcon, QPainter, QPainterPath, QPen, QPixmap

_Stroke = tuple[tuple[float, float], ...]

_STROKES: dict[str, tuple[_Stroke, ...]] = {
    "select": (((6, 3), (6, 18), (10, 14), (13, 20), (15.5, 19), (12.7, 13), (18, 13), (6, 3)),),
    "wall": (((3, 19), (8, 19), (11, 6), (20, 6)),),
    "corner": (((4, 20), (4, 13)), ((11, 4), (20, 4))),
    "move": (
        ((12, 3), (12, 21)),
        ((3, 12), (21, 12)),
        ((9.5, 5.5), (12, 3), (14.5, 5.5)),
        ((9.5, 18.5), (12, 21), (14.5, 18.5)),
        ((5.5, 9.5), (3, 12), (5.5, 14.5)),
        ((18.5, 9.5), (21, 12), (18.5, 14.5)),
    ),
    "copy": (
        ((3, 15), (3, 4), (14, 4)),
        ((8, 9), (20, 9), (20, 20), (8, 20), (8, 9)),
    ),
    "rotate": (((17.5, 3), (18.5, 8), (13.5, 8.7)), ((12, 12), (12, 12.6))),
    "mirror": (
        ((12, 2), (12, 6)),
        ((12, 9), (12, 14)),
        ((12, 17), (12, 22)),
        ((9, 6), (3, 18), (9, 18), (9, 6)),
        ((15, 6), (21, 18), (15, 18)),
    ),
    "align": (
        ((4, 2), (4, 22)),
        ((7, 5), (19, 5), (19, 10), (7, 10), (7, 5)),
        ((7, 14), (14, 14), (14, 19), (7, 19), (7, 14)),
    ),
    "offset": (((3, 14), (9, 14), (13, 4), (21, 4)), ((3, 20), (13, 20), (17, 10), (21, 10))),
    "split": (((2, 15), (9, 15)), ((15, 15), (22, 15)), ((9, 8), (15, 21)), ((15, 8), (9, 21))),
    "join": (
        ((2, 12), (10, 12)),
        ((22, 12), (14, 12)),
        ((8, 9), (11, 12), (8, 15)),
        ((16, 9), (13, 12), (16, 15)),
    ),
    "fill": (
        ((4, 20), (7, 6), (17, 6), (20, 20), (4, 20)),
        ((7, 17), (14, 10)),
        ((10, 18), (16, 12)),
        ((14, 18), (17, 15)),
    ),
    "block": (
        ((3, 4), (3, 21)),
        ((7, 8), (20, 8), (20, 17), (7, 17), (7, 8)),
        ((7, 17), (16, 8)),
        ((11, 17), (20, 8)),
    ),
    "measure": (
        ((3, 16), (21, 16)),
        ((3, 12), (3, 20)),
        ((21, 12), (21, 20)),
        ((6.5, 13), (3, 16), (6.5, 19)),
        ((17.5, 13), (21, 16), (17.5, 19)),
    ),
    "longitudinal": (((2, 10), (22, 10)), ((2, 14), (22, 14)), ((5, 4), (5, 20)), ((19, 4), (19, 20))),
    "transverse": (((10, 2), (10, 22)), ((14, 2), (14, 22)), ((4, 5), (20, 5)), ((4, 19), (20, 19))),
    "bulkhead": (
        ((9, 3), (15, 3), (15, 21), (9, 21), (9, 3)),
        ((9, 9), (15, 3)),
        ((9, 15), (15, 9)),
        ((9, 21), (15, 15)),
    ),
    "line": (((2, 18), (8, 14), (15, 9), (22, 7)), ((2, 21), (9, 17))),
    "between": (((4, 3), (4, 21)), ((20, 3), (20, 21)), ((9.3, 7), (9.3, 17)), ((14.7, 7), (14.7, 17))),
    "every": (((4, 3), (4, 21)), ((11, 6), (11, 18)), ((18, 6), (18, 18)), ((5, 21), (21, 21))),
    "trim": (((2, 12), (8, 12)), ((10, 3), (10, 21)), ((13, 12), (15, 12)), ((18, 12), (20, 12))),
    "extend": (((2, 12), (16, 12)), ((13, 9), (16, 12), (13, 15)), ((20, 3), (20, 21))),
    "stretch": (((2, 9), (11, 9), (13, 6), (22, 6)), ((2, 15), (11, 15), (13, 18), (22, 18))),
    "opening": (
        ((2, 6), (22, 6)),
        ((2, 19), (8, 19), (8, 14), (16, 14), (16, 19), (22, 19)),
    ),
    "equipment": (
        ((5, 8), (19, 8), (19, 16), (5, 16), (5, 8)),
        ((8, 16), (8, 20)),
        ((16, 16), (16, 20)),
        ((9, 12), (15, 12)),
    ),
    "cavity": (
        ((4, 4), (20, 4), (20, 20), (4, 20), (4, 4)),
        ((8, 13), (10, 11), (12, 13), (14, 11), (16, 13)),
    ),
}
_SIZES = (20, 40)


def icon(name: str, colour: QColor, chosen: QColor) -> QIcon:
    """Return a tool's icon in a colour, and in another where it is in the hand."""
    return _icon(name, colour.rgba(), chosen.rgba())


@lru_cache(maxsize=64)
def _icon(name: str, colour: int, chosen: int) -> QIcon:
    made = QIcon()
    for state, ink in ((QIcon.State.Off, colour), (QIcon.State.On, chosen)):
        for ratio in (1, 2):
            made.addPixmap(_pixmap(name, QColor.fromRgba(ink), ratio), QIcon.Mode.Normal, state)
    return made


def _pixmap(name: str, ink: QColor, ratio: int) -> QPixmap:
    pixmap = QPixmap(QSize(20, 20) * ratio)
    pixmap.fill(Qt.GlobalColor.transparent)
    pixmap.setDevicePixelRatio(ratio)
    painter = QPainter(pixmap)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.scale(20 / 24, 20 / 24)
    pen = QPen(ink, 1.6)
    pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    painter.setPen(pen)
    painter.drawPath(_path(name))
    painter.end()
    return pixmap


@lru_cache
def _path(name: str) -> QPainterPath:
    path = QPainterPath()
    for first, *rest in _STROKES[name]:
        path.moveTo(QPointF(*first))
        for point in rest:
            path.lineTo(QPointF(*point))
    if name == "corner":
        path.moveTo(4, 13)
        path.arcTo(QRectF(4, 4, 18, 18), 180, -90)
    elif name == "rotate":
        path.arcMoveTo(QRectF(4, 4, 16, 16), 50)
        path.arcTo(QRectF(4, 4, 16, 16), 50, 290)
    elif name == "wall":
        for at in ((3, 19), (8, 19), (11, 6), (20, 6)):
            path.addEllipse(QPointF(*at), 1.4, 1.4)
    return path
