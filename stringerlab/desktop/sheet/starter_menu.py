"""The menu of starting shapes, each with a small picture: its own walls and fills, as begun, on the shell."""

from collections.abc import Callable
from functools import lru_cache

from PySide6.QtCore import QPointF, QSize, Qt
from PySide6.QtGui import QAction, QColor, QIcon, QPainter, QPen, QPixmap, QPolygonF
from PySide6.QtWidgets import QMenu, QWidget

from stringerlab.geometry.fillet import rounded
from stringerlab.section.shapes import STARTERS, Asked, Drawn, Laid, hat, plate_floor

WIDE, HIGH = 32, 22
_THICK = 5.0
"""Laminate of a shape as it is pictured [mm]."""
_ROOMY = (
    f"QMenu {{ icon-size: {WIDE}px; }} QMenu::item {{ padding: 4px 18px 4px 10px; min-height: {HIGH}px; }} "
    "QMenu::item:selected { background: palette(highlight); color: palette(highlighted-text); } "
    "QMenu::icon { left: 6px; }"
)
"""So that the pictures have room."""
HAT, FLOOR = "hat", "plate_floor"
"""Of the shapes with live handles, which the catalogue does not hold."""


class PicturedMenu(QMenu):
    """A menu whose entries have a picture, drawn in the colour of its words."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setToolTipsVisible(True)
        self.setStyleSheet(_ROOMY)
        self._pictured: list[tuple[str, QAction]] = []
        self.aboutToShow.connect(self._dress)

    def offer(self, id_: str, name: str, tip: str, do: Callable[[], object]) -> None:
        """Add an entry; without a picture where the id is no shape's."""
        action = self.addAction(name)
        action.setToolTip(tip)
        action.setIconVisibleInMenu(True)
        action.triggered.connect(lambda: do())
        if id_:
            self._pictured.append((id_, action))

    def _dress(self) -> None:
        ink = self.palette().text().color()
        for id_, action in self._pictured:
            action.setIcon(starter_icon(id_, ink))


def starter_icon(id_: str, ink: QColor) -> QIcon:
    """Return a shape's picture in a colour; an empty one for an id that is no shape's."""
    made = QIcon()
    for ratio in (1, 2):
        made.addPixmap(_pixmap(id_, ink, ratio))
    return made


def _pixmap(id_: str, ink: QColor, ratio: int) -> QPixmap:
    pixmap = QPixmap(QSize(WIDE, HIGH) * ratio)
    pixmap.fill(Qt.GlobalColor.transparent)
    pixmap.setDevicePixelRatio(ratio)
    lines, fills = _lines(id_)
    if not lines:
        return pixmap
    ys = [y for line in lines for y, _ in line]
    top = max(z for line in lines for _, z in line)
    middle, scale = (min(ys) + max(ys)) / 2, min((WIDE - 3) / (max(ys) - min(ys)), (HIGH - 5) / top)

    def placed(points: tuple[tuple[float, float], ...]) -> QPolygonF:
        return QPolygonF([QPointF(WIDE / 2 + (y - middle) * scale, HIGH - 3 - z * scale) for y, z in points])

    painter = QPainter(pixmap)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    faint = QColor(ink)
    faint.setAlphaF(0.45)
    painter.setPen(QPen(faint, 1.0))
    painter.drawLine(QPointF(0, HIGH - 1.5), QPointF(WIDE, HIGH - 1.5))
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(faint)
    for fill in fills:
        painter.drawPolygon(placed(fill))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(ink, 1.5, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap, Qt.PenJoinStyle.RoundJoin))
    for line in lines:
        painter.drawPolyline(placed(line))
    painter.end()
    return pixmap


_Line = tuple[tuple[float, float], ...]


@lru_cache
def _lines(id_: str) -> tuple[tuple[_Line, ...], tuple[_Line, ...]]:
    """Return the drawn lines and the outlines of the fills of a shape [mm]."""
    drawn = _drawn(id_)
    lines = tuple(
        tuple(
            (float(y), float(z)) for y, z in rounded(wall.points, wall.fillets or (0.0,) * len(wall.points))
        )
        for wall in drawn.walls
    )
    return lines, tuple(fill.points for fill in drawn.fills)


def _drawn(id_: str) -> Drawn:
    if id_ == HAT:
        return Drawn(
            hat(
                height=110,
                crown_width=80,
                flange_width=55,
                draft=6,
                crown_radius=15,
                root_radius=12,
                laminate="",
                thickness=_THICK,
            )
        )
    if id_ == FLOOR:
        return Drawn(
            *plate_floor(
                depth=150,
                plate_laminate="",
                plate_thickness=2 * _THICK,
                tab_laminate="",
                tab_thickness=_THICK,
                tab_height=55,
                tab_width=65,
                putty="",
                root_radius=15,
            )
        )
    for shape in STARTERS:
        if shape.id == id_:
            laid = {each.key: Laid("", _THICK) for each in shape.asks(Asked.LAMINATE)}
            return shape.drawn(laid, shape.begins(), shape.solids())
    return Drawn(())
