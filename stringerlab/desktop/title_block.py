"""The strip along the foot of the window, ruled like a drawing's title block.

What the next click does, how far a check is, how many findings hold or fall short, problems, units, notice.
"""

from collections import Counter

from PySide6.QtCore import QEvent, Qt, QTimer, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QProgressBar,
    QPushButton,
    QSizePolicy,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from stringerlab.desktop.theme import Tokens
from stringerlab.desktop.verdicts import SIGNS
from stringerlab.methods import NOTICE, Verdict
from stringerlab.units import System

_NOTICE_MARGINS = 40
"""Pixels of the strip's width that the notice leaves free."""
SLOW = 250
"""Milliseconds a check may take before its progress is shown."""


class Elided(QLabel):
    """A one-line label that shortens its text to its width, the whole in its tip."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._whole = ""
        self.setAccessibleName(name)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)

    @property
    def whole(self) -> str:
        """The text unshortened."""
        return self._whole

    def say(self, text: str) -> None:
        """Show a text."""
        self._whole = text
        self.setAccessibleDescription(text)
        self._fit()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Shorten anew."""
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        shown = self.fontMetrics().elidedText(self._whole, Qt.TextElideMode.ElideRight, self.width())
        self.setText(shown)
        self.setToolTip(self._whole if shown != self._whole else "")


class TitleBlock(QFrame):
    """The strip; it tells what is pressed on it."""

    problems_wanted = Signal()
    findings_wanted = Signal()
    notice_wanted = Signal()
    stop_wanted = Signal()
    units_wanted = Signal(System)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("title_block")
        self.setAccessibleName("Status")
        self.hint = Elided("What the next click does", self)
        self.tally = self._button("Findings by verdict", "How many findings have each verdict")
        self._counts = QLabel(self.tally)
        self._counts.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        inside = QHBoxLayout(self.tally)
        inside.setContentsMargins(8, 0, 8, 0)
        inside.addWidget(self._counts)
        self.problems = self._button("Problems", "What is wrong in the project (F8)")
        self.notice = QPushButton(self)
        self.notice.setAccessibleName("Notice")
        self.notice.setToolTip(NOTICE)
        self.notice.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.stop = self._button("Stop the check", "Stop the check; results stay as they were")
        self.stop.setText("Stop")
        self._bar = QProgressBar(self)
        self._bar.setAccessibleName("Progress of the check")
        self._bar.setTextVisible(False)
        self._bar.setRange(0, 1000)
        self._bar.setFixedWidth(110)
        self._doing = QLabel(self)
        self._units = {
            System.METRIC: self._button("Metric units", "Show mm, kg, N/mm²; kept in the project"),
            System.US: self._button("US units", "Show in, lb, psi; kept in the project"),
        }
        self._units[System.METRIC].setText("Metric")
        self._units[System.US].setText("US")
        for button in self._units.values():
            button.setCheckable(True)

        self._check = self._cell(self._doing, self._bar, self.stop)
        self._check.hide()
        self._project_cells = (
            self._cell(self.tally),
            self._cell(self.problems),
            self._cell(*self._units.values()),
        )
        row = QHBoxLayout()
        row.setContentsMargins(12, 0, 0, 0)
        row.setSpacing(0)
        row.addWidget(self.hint, 1)
        for cell in (self._check, *self._project_cells):
            row.addWidget(cell)
        foot = QFrame(self)
        foot.setObjectName("notice")
        under = QHBoxLayout(foot)
        under.setContentsMargins(6, 0, 6, 0)
        under.addWidget(self.notice, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(row)
        column.addWidget(foot)

        self._slow = QTimer(self, singleShot=True, interval=SLOW)
        self._slow.timeout.connect(self._check.show)
        self.problems.clicked.connect(self.problems_wanted)
        self.tally.clicked.connect(self.findings_wanted)
        self.notice.clicked.connect(self.notice_wanted)
        self.stop.clicked.connect(self.stop_wanted)
        for system, button in self._units.items():
            button.clicked.connect(lambda _=False, s=system: self.units_wanted.emit(s))
        self._set_notice()

    def show_project(self, shown: bool) -> None:
        """Show the cells that speak of a project only when there is one."""
        for cell in self._project_cells:
            cell.setVisible(shown)

    def show_units(self, system: System) -> None:
        """Mark the units shown."""
        for each, button in self._units.items():
            button.setChecked(each is system)

    def show_verdicts(self, verdicts: Counter[Verdict], tokens: Tokens, *, fresh: bool) -> None:
        """Show how many findings there are of each verdict; faint while they are being judged anew."""
        colours = {
            Verdict.HOLDS: tokens.holds,
            Verdict.TIGHT: tokens.tight,
            Verdict.SHORT: tokens.short,
            Verdict.NOT_JUDGED: tokens.unknown,
            Verdict.ADVICE: tokens.accent,
        }
        shown = [verdict for verdict in Verdict if verdicts[verdict]]
        parts = [
            f'<span style="color: {colours[verdict] if fresh else tokens.faint};">'
            f"{SIGNS[verdict]} {verdicts[verdict]} {verdict.value}</span>"
            for verdict in shown
        ]
        self._counts.setText("&nbsp;&nbsp;&nbsp;".join(parts) or "nothing judged yet")
        words = ", ".join(f"{verdicts[verdict]} {verdict.value}" for verdict in shown)
        self.tally.setAccessibleDescription(words + ("" if fresh else ", being judged anew"))
        self.tally.setMinimumWidth(self._counts.sizeHint().width() + 16)

    def show_problems(self, count: int, asked: int, put_right: int, shown: bool) -> None:
        """Show how many problems there are, what is asked and was put right, whether their panel is open."""
        said = [f"{count} problem{'s' if count > 1 else ''}"] if count else []
        said += [f"{asked} to check"] if asked else []
        said += [f"{put_right} put right"] if put_right else []
        words = ", ".join(said) or "No problems"
        self.problems.setText(f"{words} {'▾' if shown else '▸'}")

    def show_busy(self, busy: bool) -> None:
        """Show progress when a check takes long enough for a person to wonder."""
        if busy:
            self._slow.start()
        else:
            self._slow.stop()
            self._check.hide()

    def show_progress(self, part: float, doing: str) -> None:
        """Show how far the check is."""
        self._bar.setValue(round(part * 1000))
        self._doing.setText(doing)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Break the notice to the width."""
        super().resizeEvent(event)
        self._set_notice()

    def changeEvent(self, event: QEvent) -> None:
        """Break the notice to another font."""
        super().changeEvent(event)
        if event.type() in (QEvent.Type.FontChange, QEvent.Type.StyleChange):
            self._set_notice()

    def _set_notice(self) -> None:
        """Show the notice whole, on as many lines as it takes."""
        measure, lines = self.notice.fontMetrics().horizontalAdvance, [""]
        for word in f"Notice. {NOTICE}".split():
            longer = f"{lines[-1]} {word}".lstrip()
            if measure(longer) <= self.width() - _NOTICE_MARGINS:
                lines[-1] = longer
            else:
                lines.append(word)
        self.notice.setText("\n".join(line for line in lines if line))

    def _button(self, name: str, tip: str) -> QToolButton:
        button = QToolButton(self)
        button.setAccessibleName(name)
        button.setToolTip(tip)
        button.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        button.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Preferred)
        return button

    def _cell(self, *widgets: QWidget) -> QFrame:
        cell = QFrame(self)
        cell.setProperty("cell", True)
        row = QHBoxLayout(cell)
        row.setContentsMargins(7, 3, 7, 3)
        row.setSpacing(4)
        for widget in widgets:
            row.addWidget(widget)
        return cell
