"""Numbers to read, not to type: a small grid of names and values, each name with its meaning as tip."""

from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QGroupBox, QLabel, QWidget

NOTHING = "—"


@dataclass(frozen=True, slots=True)
class Reading:
    """One line: what it is, an index after ``_``, and what that means."""

    name: str
    tip: str


class Readings(QGroupBox):
    """Lines of readings under a title, with one column of values or several."""

    def __init__(
        self, title: str, lines: Sequence[Reading], columns: Sequence[str] = (), parent: QWidget | None = None
    ) -> None:
        super().__init__(title, parent)
        self.setAccessibleName(title)
        self._lines = tuple(lines)
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 2, 0, 0)
        grid.setHorizontalSpacing(14)
        grid.setVerticalSpacing(3)
        grid.setColumnStretch(0, 1)
        count = max(len(columns), 1)
        for column, head in enumerate(columns, 1):
            grid.addWidget(_label(head, faint=True), 0, column, Qt.AlignmentFlag.AlignRight)
        self._values: list[list[QLabel]] = []
        for row, line in enumerate(self._lines, 1):
            name = _label(line.name, faint=True)
            symbol, _, below = line.name.partition("_")
            if below:
                name.setTextFormat(Qt.TextFormat.RichText)
                name.setText(f"{escape(symbol)}<sub>{escape(below)}</sub>")
            name.setToolTip(line.tip)
            grid.addWidget(name, row, 0)
            values = [_label(NOTHING) for _ in range(count)]
            for column, value in enumerate(values, 1):
                value.setToolTip(line.tip)
                value.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
                head = f", {columns[column - 1]}" if columns else ""
                value.setAccessibleName(f"{line.name}{head}")
                grid.addWidget(value, row, column, Qt.AlignmentFlag.AlignRight)
            self._values.append(values)
        grid.setRowStretch(len(self._lines) + 1, 1)

    def show_values(self, values: Sequence[Sequence[str]] | None) -> None:
        """Show a line's values for each line, or that there are none."""
        for i, labels in enumerate(self._values):
            for j, label in enumerate(labels):
                label.setText(values[i][j] if values is not None else NOTHING)

    def value(self, name: str, column: int = 0) -> str:
        """Return what a line shows."""
        row = next(i for i, line in enumerate(self._lines) if line.name == name)
        return self._values[row][column].text()


def _label(text: str, *, faint: bool = False) -> QLabel:
    label = QLabel(text)
    label.setTextFormat(Qt.TextFormat.PlainText)
    if faint:
        label.setProperty("faint", True)
    return label
