"""Lines lying under the drawing, seen and snapped to: one set a section, kept for the session. mm."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QObject, QPointF, Signal
from PySide6.QtGui import QPainter, QPainterPath, QPolygonF, QTransform

from stringerlab.desktop.session import Session
from stringerlab.desktop.sheet.painting import pen
from stringerlab.drawing import Theme
from stringerlab.drawing.display import Role
from stringerlab.geometry.typed import FARTHEST

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Underlay:
    """Lines (n, 2); one underlay equals only itself."""

    lines: tuple[Array, ...]

    @cached_property
    def bounds(self) -> tuple[float, float, float, float]:
        """Least y, least z, greatest y, greatest z [mm]."""
        points = np.concatenate(self.lines)
        low, high = points.min(axis=0), points.max(axis=0)
        return float(low[0]), float(low[1]), float(high[0]), float(high[1])

    @cached_property
    def _path(self) -> QPainterPath:
        path = QPainterPath()
        for line in self.lines:
            path.addPolygon(QPolygonF([QPointF(y, z) for y, z in line.tolist()]))
        return path

    def paint(self, painter: QPainter, to_screen: QTransform, theme: Theme) -> None:
        """Paint the lines."""
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        line = pen(theme, Role.UNDERLAY, width=1.2)
        line.setCosmetic(True)
        painter.setTransform(to_screen * painter.transform())
        painter.strokePath(self._path, line)
        painter.restore()


def both(
    drawn: tuple[float, float, float, float] | None, underlay: Underlay | None
) -> tuple[float, float, float, float] | None:
    """Return the box around a drawing and what lies under it [mm]."""
    if underlay is None or drawn is None:
        return underlay.bounds if underlay else drawn
    one, other = drawn, underlay.bounds
    return min(one[0], other[0]), min(one[1], other[1]), max(one[2], other[2]), max(one[3], other[3])


class Underlays(QObject):
    """The underlays of a session's sections; another project begins without any."""

    changed = Signal()

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._held: dict[str, Underlay] = {}
        self.visible = True
        session.project_changed.connect(self._another_project)

    def of(self, section: str) -> Underlay | None:
        """Return a section's underlay as it is seen: None where there is none, or it is hidden."""
        return self._held.get(section) if self.visible else None

    def has(self, section: str) -> bool:
        """Whether a section has one, seen or hidden."""
        return section in self._held

    def lay(self, section: str, lines: Sequence[Array]) -> None:
        """Lay lines (n, 2) under a section, in place of those there; of no lines at all, clear it."""
        kept = tuple(
            line
            for each in lines
            if len(line := np.asarray(each, np.float64)) > 1 and float(np.abs(line).max()) <= 10 * FARTHEST
        )
        if kept:
            self._held[section] = Underlay(kept)
        else:
            self._held.pop(section, None)
        self.changed.emit()

    def show(self, *, visible: bool) -> None:
        """Show or hide all of them."""
        if visible != self.visible:
            self.visible = visible
            self.changed.emit()

    def _another_project(self) -> None:
        if self._held and self._session.undo_label is None and self._session.redo_label is None:
            self._held.clear()
            self.changed.emit()
