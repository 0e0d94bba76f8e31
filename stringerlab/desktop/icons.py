"""The window's few icons, drawn with one pen on a 24 × 24 board in the colour of the text beside them."""

from functools import lru_cache

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QIcon, QPainter, QPainterPath, QPen, QPixmap

Stroke = tuple[tuple[float, float], ...]
"""Points from the upper left; the first again at the end closes the stroke."""

_STROKES: dict[str, tuple[Stroke, ...]] = {
    "boat": (
        ((3, 5.5), (4.5, 13), (12, 18.5), (19.5, 13), (21, 5.5), (3, 5.5)),
        ((4.5, 13), (19.5, 13)),
        ((9, 13), (9, 16.2)),
        ((15, 13), (15, 16.2)),
        ((2, 21), (22, 21)),
    ),
    "laminates": (
        ((12, 3.5), (21.5, 8), (12, 12.5), (2.5, 8), (12, 3.5)),
        ((2.5, 12), (12, 16.5), (21.5, 12)),
        ((2.5, 16), (12, 20.5), (21.5, 16)),
    ),
    "materials": (
        ((6.5, 12.5), (20.5, 12.5), (20.5, 20.5), (6.5, 20.5)),
        ((10.5, 15), (18, 15)),
        ((10.5, 18), (18, 18)),
    ),
    "sections": (
        ((1.5, 18), (6, 18), (9, 6.5), (15, 6.5), (18, 18), (22.5, 18)),
        ((1.5, 20.5), (7.7, 20.5), (10.7, 9), (13.3, 9), (16.3, 20.5), (22.5, 20.5)),
    ),
    "plan": (
        ((2.5, 5), (15, 5), (22, 12), (15, 19), (2.5, 19), (2.5, 5)),
        ((2.5, 9.5), (18.5, 9.5)),
        ((2.5, 14.5), (18.5, 14.5)),
        ((7.5, 5), (7.5, 19)),
        ((13, 5), (13, 19)),
    ),
    "subjects": (
        ((2.5, 5), (21.5, 5), (21.5, 19), (2.5, 19), (2.5, 5)),
        ((8.5, 5), (8.5, 19)),
        ((15.5, 5), (15.5, 19)),
        ((2.5, 12), (8.5, 12)),
    ),
    "findings": (
        ((3, 6.5), (12, 6.5)),
        ((3, 12), (15.5, 12)),
        ((3, 17.5), (9, 17.5)),
        ((18.5, 3), (18.5, 6)),
        ((18.5, 8.5), (18.5, 11.5)),
        ((18.5, 14), (18.5, 21)),
    ),
    "takeoff": (
        ((12, 4), (12, 20)),
        ((4, 7), (20, 7)),
        ((1.5, 14), (4, 7), (6.5, 14), (1.5, 14)),
        ((17.5, 14), (20, 7), (22.5, 14), (17.5, 14)),
        ((8, 20), (16, 20)),
    ),
    "compare": (
        ((3, 3.5), (3, 20.5)),
        ((3, 6), (19, 6), (19, 9), (3, 9)),
        ((3, 12), (12, 12), (12, 15), (3, 15)),
        ((3, 18), (21.5, 18)),
    ),
    "paper": (
        ((5, 2.5), (14.5, 2.5), (19, 7), (19, 21.5), (5, 21.5), (5, 2.5)),
        ((14.5, 2.5), (14.5, 7), (19, 7)),
        ((8, 11), (16, 11)),
        ((8, 14), (16, 14)),
        ((8, 17), (13, 17)),
    ),
    "size": (
        ((3, 3), (3, 21), (21.5, 21)),
        ((6, 5), (7.5, 11), (12, 15.5), (20, 17.5)),
        ((7.5, 9.5), (7.5, 12.5)),
        ((6, 11), (9, 11)),
        ((12, 14), (12, 17)),
        ((10.5, 15.5), (13.5, 15.5)),
    ),
    "helps": (
        ((12, 3), (12, 21)),
        ((12, 5), (3, 5), (3, 8), (12, 8)),
        ((12, 10.5), (6.5, 10.5), (6.5, 13.5), (12, 13.5)),
        ((12, 16), (18, 16), (18, 19), (12, 19)),
    ),
    "scatter": (
        ((2.5, 20), (21.5, 20)),
        (
            (2.5, 18.5),
            (6, 17.5),
            (8.5, 13),
            (10.5, 7),
            (12, 5),
            (13.5, 7),
            (15.5, 13),
            (18, 17.5),
            (21.5, 18.5),
        ),
        ((17, 3), (17, 20)),
    ),
    "studies": (
        ((3, 3), (3, 21), (21.5, 21)),
        ((3, 15), (8, 13), (13, 14), (21, 9)),
        ((3, 10), (8, 8.5), (14, 9), (20, 4)),
        ((8, 21), (13, 18.5), (21, 15.5)),
    ),
    "help": (((12, 17.2), (12, 17.8)),),
    "close": (((6.5, 6.5), (17.5, 17.5)), ((17.5, 6.5), (6.5, 17.5))),
}
_SIZES = (16, 24, 32)


def icon(name: str, colour: str, chosen: str) -> QIcon:
    """Return an icon in a colour, and in another where it is chosen."""
    made = QIcon()
    for state, ink in ((QIcon.State.Off, colour), (QIcon.State.On, chosen)):
        for size in _SIZES:
            for ratio in (1, 2):
                made.addPixmap(_pixmap(name, ink, size, ratio), QIcon.Mode.Normal, state)
    return made


def _pixmap(name: str, ink: str, size: int, ratio: int) -> QPixmap:
    pixmap = QPixmap(QSize(size, size) * ratio)
    pixmap.fill(Qt.GlobalColor.transparent)
    pixmap.setDevicePixelRatio(ratio)
    painter = QPainter(pixmap)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.scale(size / 24, size / 24)
    pen = QPen(QColor(ink), 1.5)
    pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    painter.setPen(pen)
    painter.drawPath(_path(name))
    painter.end()
    return pixmap


@lru_cache
def _path(name: str) -> QPainterPath:
    path = QPainterPath()
    for stroke in _STROKES[name]:
        first, *rest = stroke
        path.moveTo(QPointF(*first))
        for point in rest:
            path.lineTo(QPointF(*point))
    if name == "materials":  # a roll of cloth
        path.addEllipse(QPointF(6.5, 16.5), 4, 4)
        path.addEllipse(QPointF(6.5, 16.5), 1, 1)
    elif name == "help":
        path.addEllipse(QPointF(12, 12), 9.5, 9.5)
        path.moveTo(9.2, 9.6)
        path.arcTo(QRectF(9.2, 6.6, 5.6, 5.6), 180, -230)
        path.quadTo(12, 12.8, 12, 14.4)
    return path
