"""The plan as a picture, and what is painted over it: problems where they are, where to begin. mm."""

from collections.abc import Sequence

import numpy as np
from PySide6.QtCore import QPointF, QRectF, QSizeF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPolygonF

from stringerlab.desktop.plan.hits import points_of
from stringerlab.desktop.plan.scene import Scene, instances
from stringerlab.desktop.sheet.painting import RULER, note, pen
from stringerlab.desktop.sheet.view import View
from stringerlab.drawing.display import Picture, Role
from stringerlab.drawing.palette import Theme
from stringerlab.drawing.plan_options import PlanOptions
from stringerlab.drawing.plans import plan_picture
from stringerlab.errors import Problem
from stringerlab.layout.found import Placed

NOWHERE = (-500.0, -1500.0, 8000.0, 1500.0)
"""What is shown where there is no bottom: x, y, x, y [mm]."""
_BEYOND = 1500.0
"""Members are shown so far beyond the bottom when all is fitted [mm]."""
_WIDEST = 300.0
"""Pixels that a problem's words take at most on the plan; resting on them tells all."""
_MOST = 400
"""So many problems are marked; the problems panel lists all."""


def picture(scene: Scene, options: PlanOptions) -> Picture:
    """Return hull, members, lines, cavities, equipment, bays and nodes as far as options say."""
    return plan_picture(scene.found, scene.layout, scene.project.craft, options=options)


def bounds(scene: Scene) -> tuple[float, float, float, float]:
    """Return least x, least y, greatest x, greatest y of what is to be seen [mm]."""
    if scene.hull is not None:
        least, most = scene.hull.outline.min(axis=0), scene.hull.outline.max(axis=0)
        drawn = [line for each in scene.layout.members for line, _ in instances(each) if len(line)]
        points = np.concatenate([scene.hull.outline, *drawn])
        points = np.clip(points[np.isfinite(points).all(axis=1)], least - _BEYOND, most + _BEYOND)
        low, high = points.min(axis=0), points.max(axis=0)
        return float(low[0]), float(low[1]), float(high[0]), float(high[1])
    return picture(scene, PlanOptions()).bounds() or NOWHERE


# -- over the picture ----------------------------------------------------------------------------


def grips(painter: QPainter, view: View, theme: Theme, scene: Scene, chosen: tuple[str, int] | None) -> None:
    """Paint the points of what is selected."""
    for id_ in scene.selected:
        for grip in points_of(scene, id_):
            x, y = view.to_screen(grip.at)
            full = chosen == (grip.id, grip.index)
            painter.setPen(pen(theme, Role.SELECTED, width=1.6))
            painter.setBrush(QColor(theme.pen(Role.SELECTED).colour if full else theme.background))
            painter.drawRect(QRectF(x - 4, y - 4, 8, 8))


def problem_marks(
    painter: QPainter, view: View, theme: Theme, size: QSizeF, amiss: Sequence[Placed]
) -> list[tuple[str, QRectF]]:
    """Paint a triangle at each problem's place, near ones as one, and the first one's words beside it.

    Returns what each mark tells, and where it can be rested on.
    """
    heaps: list[tuple[QPointF, list[Problem]]] = []
    for placed in amiss[:_MOST]:
        x, y = view.to_screen(placed.at)
        at = QPointF(min(max(x, 34.0), size.width() - 14), min(max(y, 36.0), size.height() - 14))
        near = next((held for there, held in heaps if (there - at).manhattanLength() < 24), None)
        if near is None:
            heaps.append((at, [placed.problem]))
        else:
            near.append(placed.problem)
    marks = [QRectF(at.x() - 9, at.y() - 9, 18, 18) for at, _ in heaps]
    taken, found = list(marks), list[tuple[str, QRectF]]()
    said = set[str]()
    for (at, problems), mark in zip(heaps, marks, strict=True):
        told = "\n".join(map(str, problems[:6])) + ("\n…" if len(problems) > 6 else "")
        found.append((told, mark))
        words = problems[0].what + (f" (and {len(problems) - 1} more)" if len(problems) > 1 else "")
        words = QFontMetricsF(painter.font()).elidedText(words, Qt.TextElideMode.ElideRight, _WIDEST)
        patch = None if words in said else _room(painter, at, words, size, taken)
        if patch is not None:
            said.add(words)
            taken.append(note(painter, theme, QPointF(patch.x(), patch.center().y()), words, Role.WARNING))
            found.append((told, patch))
        _triangle(painter, theme, at)
    return found


def _room(painter: QPainter, at: QPointF, words: str, size: QSizeF, taken: Sequence[QRectF]) -> QRectF | None:
    metrics = QFontMetricsF(painter.font())
    width, height = metrics.horizontalAdvance(words) + 8, metrics.height() + 2
    for left in (at.x() + 12, at.x() - 12 - width):
        for middle in (at.y(), at.y() - 1.6 * height, at.y() + 1.6 * height):
            patch = QRectF(left, middle - height / 2, width, height)
            inside = patch.left() > RULER and patch.right() < size.width()
            if inside and not any(patch.intersects(each) for each in taken):
                return patch
    return None


def _triangle(painter: QPainter, theme: Theme, at: QPointF) -> None:
    x, y = at.x(), at.y()
    painter.setPen(pen(theme, Role.WARNING, width=1.8))
    painter.setBrush(QColor(theme.background))
    painter.drawPolygon(QPolygonF([QPointF(x, y - 8), QPointF(x + 8, y + 6), QPointF(x - 8, y + 6)]))
    painter.setPen(pen(theme, Role.WARNING, width=1.0))
    painter.drawText(QRectF(x - 8, y - 6, 16, 14), Qt.AlignmentFlag.AlignCenter, "!")


def beginning(painter: QPainter, theme: Theme, size: QSizeF, lines: Sequence[str]) -> None:
    """Paint where to begin, in the middle of an empty plan."""
    metrics = QFontMetricsF(painter.font())
    y = size.height() / 2 + 40
    for words in lines:
        at = QPointF(size.width() / 2 - metrics.horizontalAdvance(words) / 2, y)
        note(painter, theme, at, words, Role.TEXT)
        y += metrics.lineSpacing() + 6
