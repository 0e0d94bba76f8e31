"""The line above the pages: what they are, how far the work is, which page is seen, how large it is."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QProgressBar,
    QPushButton,
    QSizePolicy,
    QToolButton,
    QWidget,
)

_THOUSAND = 1000


class PagesBar(QWidget):
    """It tells what is pressed on it."""

    refresh_wanted = Signal()
    stop_wanted = Signal()
    smaller = Signal()
    larger = Signal()
    fitting = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.says = QLabel(self)
        self.says.setAccessibleName("State of the pages")
        self.says.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.progress = QProgressBar(self)
        self.progress.setAccessibleName("Progress")
        self.progress.setRange(0, _THOUSAND)
        self.progress.setTextVisible(False)
        self.progress.setFixedWidth(120)
        self.stop = QPushButton("Stop", self)
        self.stop.setToolTip("End what is under way; no file is left half written")
        self.stop.clicked.connect(self.stop_wanted)
        self.refresh = QPushButton("Refresh", self)
        self.refresh.setToolTip("Set the pages of the project as it is now")
        self.refresh.clicked.connect(self.refresh_wanted)
        self.place = QLabel(self)
        self.place.setAccessibleName("Page shown")
        self.size_shown = QLabel(self)
        self.size_shown.setAccessibleName("Size of the pages")
        self.size_shown.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.size_shown.setMinimumWidth(46)
        self.minus = self._button("−", "Show pages smaller", "Show pages smaller (−)")
        self.minus.clicked.connect(self.smaller)
        self.plus = self._button("+", "Show pages larger", "Show pages larger (+)")
        self.plus.clicked.connect(self.larger)
        self.fit = self._button("Fit width", "Fit width", "Fit pages to the width (W)")
        self.fit.setCheckable(True)
        self.fit.clicked.connect(self._fit)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(6)
        for widget in (self.refresh, self.progress, self.stop):
            row.addWidget(widget)
        row.addWidget(self.says, 1)
        row.addWidget(self.place)
        row.addSpacing(10)
        for widget in (self.minus, self.size_shown, self.plus, self.fit):
            row.addWidget(widget)
        self.show_busy(False)

    def show_busy(self, busy: bool) -> None:
        """Show progress and an end to it while something is under way, else a way to set the pages anew."""
        self.progress.setVisible(busy)
        self.stop.setVisible(busy)
        self.refresh.setVisible(not busy)
        if not busy:
            self.progress.setValue(0)

    def show_progress(self, part: float, doing: str) -> None:
        """Show how far the work is."""
        self.progress.setValue(round(part * _THOUSAND))
        if doing:
            self.say(f"{doing} …")

    def say(self, words: str) -> None:
        """Say what the pages are."""
        self.says.setText(words)
        self.says.setToolTip(words)

    def show_place(self, page: int, count: int) -> None:
        """Show which page is seen, from 0, of how many."""
        self.place.setText(f"Page {page + 1} of {count}" if count else "")

    def show_zoom(self, zoom: float, fits: bool, shown: bool) -> None:
        """Show how large pages are, 1 for the size of the paper, and whether they are fitted."""
        self.size_shown.setText(f"{100 * zoom:.0f} %" if shown else "")
        self.fit.setChecked(fits)
        for button in (self.minus, self.plus, self.fit):
            button.setEnabled(shown)

    def _fit(self) -> None:
        self.fit.setChecked(True)
        self.fitting.emit()

    def _button(self, words: str, name: str, tip: str) -> QToolButton:
        button = QToolButton(self)
        button.setText(words)
        button.setAccessibleName(name)
        button.setToolTip(tip)
        button.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        return button


__all__ = ["PagesBar"]
