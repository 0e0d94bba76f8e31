"""Notes of a run, folded away under one line until a person wants them."""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QToolButton, QVBoxLayout, QWidget


class FoldedNotes(QWidget):
    """A line that is always read, and a button that unfolds the rest."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.first = _faint(name)
        self.rest = _faint(f"{name}, at length")
        self.rest.setTextInteractionFlags(
            Qt.TextInteractionFlag.TextSelectableByMouse | Qt.TextInteractionFlag.TextSelectableByKeyboard
        )
        self.fold = QToolButton()
        self.fold.setCheckable(True)
        self.fold.setAutoRaise(True)
        self.fold.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        self.fold.setToolTip("How the samples were taken, what was left out and why")
        self.fold.toggled.connect(self._unfold)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addWidget(self.first)
        column.addWidget(self.fold, 0, Qt.AlignmentFlag.AlignLeft)
        column.addWidget(self.rest)
        self.say("", ())

    def say(self, first: str, rest: Sequence[str]) -> None:
        """Show other notes, folded or unfolded as they are now."""
        self.first.setText(first)
        self.first.setVisible(bool(first))
        self.rest.setText("\n".join(rest))
        self.fold.setText(f"Notes ({len(rest)})")
        self.fold.setVisible(bool(rest))
        self._unfold(self.fold.isChecked())

    def _unfold(self, open_: bool) -> None:
        self.fold.setArrowType(Qt.ArrowType.DownArrow if open_ else Qt.ArrowType.RightArrow)
        self.rest.setVisible(open_ and bool(self.rest.text()))


def _faint(name: str) -> QLabel:
    label = QLabel()
    label.setAccessibleName(name)
    label.setProperty("faint", True)
    label.setWordWrap(True)
    label.setTextFormat(Qt.TextFormat.PlainText)
    return label
