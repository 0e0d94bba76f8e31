"""What the sheet paints around the drawing: paper, grid, rulers, handles, snaps, the rubber band. Pixels."""

from collections.abc import Iterable, Sequence
from math import atan2, degrees, hypot

from PySide6.QtCore import QLineF, QPointF, QRectF, QSizeF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPainterPath, QPen, QPolygonF

from stringerlab.desktop.legends import legend_size, paint_legend
from stringerlab.desktop.sheet.dimensions import Dimension
from stringerlab.desktop.sheet.hits import Array, Hit, What
from stringerlab.desktop.sheet.moulding import ROLES, Moulded
from stringerlab.desktop.sheet.rulers import step
from stringerlab.desktop.sheet.tool import Sketch, Touch
from stringerlab.desktop.sheet.view import View
from stringerlab.drawing.display import Label, Role
from stringerlab.drawing.options import LegendRow
from stringerlab.drawing.palette import Theme
from stringerlab.section.mouldability import Severity
from stringerlab.units import System

RULER = 22
"""Width of a ruler."""


def pen(theme: Theme, role: Role, *, width: float | None = None, alpha: float | None = None) -> QPen:
    """Return a role's pen, one screen unit a pixel."""
    given = theme.pen(role)
    colour = QColor(given.colour)
    colour.setAlphaF(given.opacity if alpha is None else alpha)
    made = QPen(colour, given.width if width is None else width)
    if given.dash:
        made.setDashPattern([each / max(made.widthF(), 0.1) for each in given.dash])
    return made


def grid(painter: QPainter, view: View, size: QSizeF, theme: Theme, system: System) -> None:
    """Paint paper and grid: fine lines, every fifth or tenth stronger, the axes strongest."""
    painter.fillRect(QRectF(QPointF(), size), QColor(theme.background))
    low_y, low_z, high_y, high_z = view.window((size.width(), size.height()))
    fine, coarse = step(view.scale, system, 9.0), step(view.scale, system, 45.0)
    for each, alpha in ((fine, 0.13), (coarse, 0.26)):
        ink = pen(theme, Role.GRID, alpha=alpha).color()  # rectangles: in half the time of lines
        for number in range(int(low_y // each), int(high_y // each) + 2):
            x = round(view.to_screen((number * each, 0.0))[0])
            painter.fillRect(QRectF(x, 0, 1, size.height()), ink)
        for number in range(int(low_z // each), int(high_z // each) + 2):
            y = round(view.to_screen((0.0, number * each))[1])
            painter.fillRect(QRectF(0, y, size.width(), 1), ink)
    x, y = view.to_screen((0.0, 0.0))
    painter.setPen(pen(theme, Role.GRID, width=1.0, alpha=0.6))
    painter.drawLines([QLineF(x, 0, x, size.height()), QLineF(0, y, size.width(), y)])


def crosshair(painter: QPainter, view: View, size: QSizeF, theme: Theme, touch: Touch) -> None:
    """Paint the lines through the pointer."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, on=False)
    x, y = view.to_screen(touch.at)
    painter.setPen(pen(theme, Role.DIMENSION, width=1.0, alpha=0.28))
    painter.drawLines([QLineF(x, RULER, x, size.height()), QLineF(RULER, y, size.width(), y)])


def outlines(
    painter: QPainter, view: View, theme: Theme, lines: Iterable[Array], *, hover: bool = False
) -> None:
    """Paint what is selected, or what the pointer is over."""
    painter.setPen(pen(theme, Role.SELECTED, width=1.4 if hover else 2.4, alpha=0.75 if hover else 1.0))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for line in lines:
        painter.drawPolyline(_polygon(view, line))


def handles(
    painter: QPainter, view: View, theme: Theme, hits: Sequence[Hit], chosen: tuple[str, int] | None
) -> None:
    """Paint what can be gripped: points square, fillets round, a hat's live handles as diamonds."""
    live = {(hit.id, hit.at) for hit in hits if hit.what is What.HANDLE}
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    for hit in hits:
        if hit.what is What.POINT and (hit.id, hit.at) in live:
            continue
        x, y = view.to_screen(hit.at)
        full = chosen == (hit.id, hit.index) and hit.what is What.POINT
        painter.setPen(pen(theme, Role.SELECTED, width=1.6))
        painter.setBrush(QColor(theme.pen(Role.SELECTED).colour if full else theme.background))
        match hit.what:
            case What.HANDLE:
                painter.drawPolygon(
                    QPolygonF([QPointF(x, y - 6), QPointF(x + 6, y), QPointF(x, y + 6), QPointF(x - 6, y)])
                )
            case What.FILLET:
                painter.drawEllipse(QPointF(x, y), 3.6, 3.6)
            case _:
                painter.drawRect(QRectF(x - 4, y - 4, 8, 8))


def snap_mark(painter: QPainter, view: View, theme: Theme, touch: Touch) -> None:
    """Paint what caught the pointer, and its name."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    if touch.snap is None:
        return
    x, y = view.to_screen(touch.snap.at)
    painter.setPen(pen(theme, Role.SELECTED, width=1.8))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    kind = str(touch.snap.kind)
    match kind:
        case "grid":
            painter.drawLines([QLineF(x - 5, y, x + 5, y), QLineF(x, y - 5, x, y + 5)])
            return
        case "end":
            painter.drawRect(QRectF(x - 6, y - 6, 12, 12))
        case "middle":
            painter.drawPolygon(QPolygonF([QPointF(x, y - 7), QPointF(x + 7, y + 5), QPointF(x - 7, y + 5)]))
        case "intersection":
            painter.drawLines([QLineF(x - 6, y - 6, x + 6, y + 6), QLineF(x - 6, y + 6, x + 6, y - 6)])
        case "centre":
            painter.drawEllipse(QPointF(x, y), 6, 6)
        case "perpendicular":
            painter.drawPolyline(
                QPolygonF([QPointF(x - 6, y - 7), QPointF(x - 6, y + 6), QPointF(x + 7, y + 6)])
            )
        case _:
            painter.drawPolygon(
                QPolygonF([QPointF(x, y - 7), QPointF(x + 7, y), QPointF(x, y + 7), QPointF(x - 7, y)])
            )
    note(painter, theme, QPointF(x + 10, y - 12), kind, Role.SELECTED)


def sketch(painter: QPainter, view: View, theme: Theme, drawn: Sketch) -> None:
    """Paint what the tool draws over the sheet."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    if drawn.box is not None:
        (x0, y0), (x1, y1) = (view.to_screen(corner) for corner in drawn.box)
        colour = QColor(theme.pen(Role.SELECTED).colour)
        colour.setAlphaF(0.12)
        line = pen(theme, Role.SELECTED, width=1.2)
        if drawn.crossing:
            line.setStyle(Qt.PenStyle.DashLine)
        painter.setPen(line)
        painter.setBrush(colour)
        painter.drawRect(QRectF(QPointF(x0, y0), QPointF(x1, y1)).normalized())
    painter.setPen(pen(theme, Role.SELECTED, width=1.6))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for line in drawn.lines:
        painter.drawPolyline(QPolygonF([QPointF(*view.to_screen(place)) for place in line]))
    painter.setBrush(QColor(theme.background))
    for place in drawn.marks:
        painter.drawEllipse(QPointF(*view.to_screen(place)), 3.4, 3.4)
    if drawn.note and drawn.at is not None:
        x, y = view.to_screen(drawn.at)
        note(painter, theme, QPointF(x + 14, y + 20), drawn.note, Role.TEXT)


def note(painter: QPainter, theme: Theme, at: QPointF, text: str, role: Role) -> QRectF:
    """Paint words on a patch of paper, and return the patch; ``at`` is its left middle."""
    metrics = QFontMetricsF(painter.font())
    patch = QRectF(
        at.x(), at.y() - metrics.height() / 2 - 1, metrics.horizontalAdvance(text) + 8, metrics.height() + 2
    )
    ground = QColor(theme.background)
    ground.setAlphaF(0.86)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(ground)
    painter.drawRoundedRect(patch, 3, 3)
    painter.setPen(pen(theme, role))
    painter.drawText(patch, Qt.AlignmentFlag.AlignCenter, text)
    return patch


def dimension(
    painter: QPainter,
    view: View,
    theme: Theme,
    drawn: Dimension,
    system: System,
    taken: Sequence[QRectF],
    *,
    words: Sequence[QRectF] = (),
    hover: bool = False,
) -> QRectF | None:
    """Paint a number with its lines and return its patch; None where there is no room for it.

    It stands in the middle of its line, or where it covers none of the drawing's ``words`` on it.
    """
    text = drawn.text(system)
    metrics = QFontMetricsF(painter.font())
    width = metrics.horizontalAdvance(text) + 8
    one, other = view.to_screen(drawn.start), view.to_screen(drawn.end)
    way = other[0] - one[0], other[1] - one[1]
    size = hypot(*way)
    role = Role.SELECTED if hover else Role.DIMENSION
    if not drawn.measured:
        at = QPointF(one[0] + drawn.away, one[1] - abs(drawn.away) / 2)
        if drawn.away < 0:
            at.setX(at.x() - width)
        patch = QRectF(at.x(), at.y() - 9, width, 18)
        if any(patch.intersects(each) for each in taken):
            return None
        return note(painter, theme, at, text, role)
    if size < 18:
        return None
    # To the left of the way in mm is to the left on the screen too, whose y runs down.
    aside = way[1] / size * drawn.away, -way[0] / size * drawn.away
    ends = [QPointF(x + aside[0], y + aside[1]) for x, y in (one, other)]
    places = [ends[0] * (1 - part) + ends[1] * part for part in (0.5, 0.65, 0.35, 0.8, 0.2)]
    patches = [QRectF(each.x() - width / 2, each.y() - 9, width, 18) for each in places]
    free = (each for each in patches if not any(each.intersects(word) for word in (*words, *taken)))
    patch = next(free, patches[0])
    if any(patch.intersects(each) for each in taken):
        return None
    painter.setPen(pen(theme, role))
    over = aside[0] * 0.2, aside[1] * 0.2
    for (x, y), end in zip((one, other), ends, strict=True):
        painter.drawLine(
            QLineF(QPointF(x + over[0], y + over[1]), QPointF(end.x() + over[0], end.y() + over[1]))
        )
    painter.drawLine(QLineF(ends[0], ends[1]))
    slope = atan2(way[1], way[0])
    for end in ends:
        painter.save()
        painter.translate(end)
        painter.rotate(degrees(slope) - 45)
        painter.drawLine(QLineF(-5, 0, 5, 0))
        painter.restore()
    return note(painter, theme, QPointF(patch.x(), patch.center().y()), text, role)


def mark_patch(view: View, drawn: Moulded) -> QRectF:
    """Return where the mark of a reading stands."""
    x, y = view.to_screen(drawn.at)
    return QRectF(x - 7, y - 7, 14, 14)


def label_patch(painter: QPainter, view: View, label: Label) -> QRectF:
    """Return about where a label of the drawing stands."""
    metrics = QFontMetricsF(painter.font())
    lines = label.text.split("\n")
    width = max(metrics.horizontalAdvance(line) for line in lines)
    height = metrics.height() * len(lines)
    x, y = view.to_screen(label.at)
    return QRectF(x + (label.align - 1) * width / 2, y - (label.level + 1) * height / 2, width, height)


def reading(
    painter: QPainter, view: View, theme: Theme, drawn: Moulded, taken: Sequence[QRectF]
) -> QRectF | None:
    """Paint a reading's mark and its words beside it; return their patch, None where there is no room."""
    role, at = ROLES[drawn.severity], mark_patch(view, drawn)
    middle = at.center()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(QPen(QColor(theme.background), 1.5))
    painter.setBrush(QColor(theme.pen(role).colour))
    match drawn.severity:
        case Severity.FINE:
            painter.drawEllipse(middle, 5.5, 5.5)
        case Severity.WATCH:
            low = middle.y() + 5.5
            painter.drawPolygon(
                QPolygonF([QPointF(middle.x(), at.top()), QPointF(at.right(), low), QPointF(at.left(), low)])
            )
        case Severity.LOCKED:
            painter.drawRect(at.adjusted(1, 1, -1, -1))
    metrics = QFontMetricsF(painter.font())
    width, height = metrics.horizontalAdvance(drawn.words) + 8, metrics.height() + 2
    for patch in _beside(middle, drawn.away, width, height):
        if not any(patch.intersects(each) for each in taken):
            return note(painter, theme, QPointF(patch.x(), patch.center().y()), drawn.words, role)
    return None


def _beside(at: QPointF, away: tuple[float, float], width: float, height: float) -> list[QRectF]:
    """Patches beside a mark, those on the side there is room first, then the other, above and below."""
    right = QRectF(at.x() + 10, at.y() - height / 2, width, height)
    left = QRectF(at.x() - 10 - width, at.y() - height / 2, width, height)
    sides = [right, left] if away[0] >= 0 else [left, right]
    above = QRectF(at.x() - width / 2, at.y() - 10 - height, width, height)
    below = QRectF(at.x() - width / 2, at.y() + 10, width, height)
    ends = [above, below] if away[1] >= 0 else [below, above]
    first = [*sides[:1], *ends] if abs(away[0]) > 0.5 else [*ends, *sides[:1]]
    steps = [side.translated(0, by * height) for by in (1, -1, 2, -2) for side in sides]
    return [*first, sides[1], *steps]


def clip_circle(at: QPointF, radius: float) -> QPainterPath:
    """Return the path of a lens."""
    path = QPainterPath()
    path.addEllipse(at, radius, radius)
    return path


def lens_rim(painter: QPainter, theme: Theme, at: QPointF, radius: float, words: str) -> None:
    """Paint a lens's rim and how much it enlarges."""
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(pen(theme, Role.DIMENSION, width=2.0))
    painter.drawEllipse(at, radius, radius)
    note(painter, theme, QPointF(at.x() - 18, at.y() + radius - 12), words, Role.DIMENSION)


def _polygon(view: View, line: Array) -> QPolygonF:
    return QPolygonF([QPointF(*view.to_screen((y, z))) for y, z in line.tolist()])


def legend(
    painter: QPainter, rows: tuple[LegendRow, ...], size: QSizeF, theme: Theme, view: View, drawn: Array
) -> None:
    """Paint a legend in the corner where it covers least of what is drawn, at points (n, 2) in mm."""
    if not rows:
        return
    room = legend_size(rows, painter.font())
    low, high = size.height() - room.height() - 10, RULER + 10.0
    near, far = RULER + 10.0, size.width() - room.width() - 10
    x, y = view.left + view.scale * drawn[:, 0], view.down - view.scale * drawn[:, 1]

    def covered(at: QPointF) -> int:
        inside = (x > at.x()) & (x < at.x() + room.width()) & (y > at.y()) & (y < at.y() + room.height())
        return int(inside.sum())

    corners = [QPointF(near, low), QPointF(near, high), QPointF(far, low), QPointF(far, high)]
    paint_legend(painter, rows, min(corners, key=covered), theme)


def focus_rim(painter: QPainter, size: QSizeF, theme: Theme) -> None:
    """Paint the frame that shows where keys go."""
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(pen(theme, Role.SELECTED, width=1.5))
    painter.drawRect(QRectF(0.75, 0.75, size.width() - 1.5, size.height() - 1.5))
