"""A picture's legend as a widget of its own."""

from PySide6.QtCore import QPointF, QSize
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from stringerlab.desktop.legends import legend_size, paint_legend
from stringerlab.desktop.pens import theme_of
from stringerlab.drawing import LegendRow


class LegendView(QWidget):
    """Rows of a legend; no room at all while there are none."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._rows: tuple[LegendRow, ...] = ()
        self.setAccessibleName("Legend")
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)

    def show_rows(self, rows: tuple[LegendRow, ...]) -> None:
        """Show rows."""
        self._rows = rows
        self.setAccessibleDescription("; ".join(row.text for row in rows))
        self.setVisible(bool(rows))
        self.updateGeometry()
        self.update()

    def sizeHint(self) -> QSize:
        """Return the room the rows need."""
        return legend_size(self._rows, self.font()).toSize() if self._rows else QSize(0, 0)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the rows."""
        painter = QPainter(self)
        painter.setFont(self.font())
        painter.setClipRect(event.rect())
        paint_legend(painter, self._rows, QPointF(0, 0), theme_of(self.palette()))
        painter.end()
