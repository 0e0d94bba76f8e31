"""The first screen: open a file, go on with a recent one, begin a boat, or look at a sample."""

import json
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QItemSelectionModel, QSize, Qt, QTimer, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QShowEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QFrame,
    QHBoxLayout,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QScrollArea,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from stringerlab.assess import reference_plating, section_properties
from stringerlab.data import folder
from stringerlab.desktop.models.rows import SECOND_LINE
from stringerlab.desktop.pages.two_lines import TwoLines
from stringerlab.desktop.player import PictureView
from stringerlab.drawing.sections import section_picture
from stringerlab.files import samples
from stringerlab.laminate import Moduli
from stringerlab.project import resolve
from stringerlab.project.beginning import new_boat

_MOST_RECENT = 8
_PATH = Qt.ItemDataRole.UserRole
_ROOM = 4


@dataclass(frozen=True, slots=True)
class Sample:
    """A sample project: its id, its name, what it shows."""

    id: str
    name: str
    notes: str


def sample_cards() -> tuple[Sample, ...]:
    """Return the samples, as their own files name and describe them: the smallest, easiest to read, first."""
    found: list[tuple[int, Sample]] = []
    for name in samples():
        text = (folder("sample_projects") / f"{name}.json").read_text(encoding="utf-8")
        project = json.loads(text)["project"]
        found.append((len(text), Sample(name, project["name"], project["notes"])))
    return tuple(sample for _, sample in sorted(found, key=lambda each: each[0]))


class Card(QPushButton):
    """A button of two lines: what it does, and a line about it."""

    def __init__(self, name: str, about: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self.setAccessibleDescription(about)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        self.heading = _passive(QLabel(name, self))
        bold = self.heading.font()
        bold.setBold(True)
        self.heading.setFont(bold)
        self.about = _passive(QLabel(about, self))
        self.about.setProperty("faint", True)
        self.about.setWordWrap(True)
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 9, 14, 10)
        column.setSpacing(2)
        column.addWidget(self.heading)
        column.addWidget(self.about)

    def hasHeightForWidth(self) -> bool:
        """Words wrap, so the height follows the width."""
        return True

    def heightForWidth(self, width: int) -> int:
        """Return the height that the words need."""
        layout = self.layout()
        return layout.totalHeightForWidth(width) if layout is not None else super().heightForWidth(width)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Press on Enter as on the space bar."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.click()
        else:
            super().keyPressEvent(event)


class RecentList(QListWidget):
    """Recent files; Enter or a click opens one."""

    chosen = Signal(str)
    """The path a person wants to open."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName("Recent projects")
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setTextElideMode(Qt.TextElideMode.ElideMiddle)
        self.setItemDelegate(TwoLines(self))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Maximum)
        self.itemClicked.connect(self._choose)

    def show_paths(self, paths: Sequence[str]) -> None:
        """Show these paths; a file that is gone stands greyed."""
        self.clear()
        for path in paths[:_MOST_RECENT]:
            file = Path(path)
            there = file.is_file()
            gone = "" if there else "   (not there now)"
            item = QListWidgetItem(f"{file.stem}{gone}")
            item.setData(SECOND_LINE, _short(file.parent))
            item.setData(_PATH, path)
            item.setToolTip(path)
            if not there:
                item.setFlags(Qt.ItemFlag.NoItemFlags)
                item.setToolTip(f"{path}\nThere is no such file now.")
            self.addItem(item)
        self.updateGeometry()

    def sizeHint(self) -> QSize:
        """Return room for all its lines."""
        height = sum(self.sizeHintForRow(row) for row in range(self.count()))
        return QSize(super().sizeHint().width(), height + _ROOM)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Open on Enter."""
        chosen = self.selectedItems()
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and chosen:
            self._choose(chosen[0])
        else:
            super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Show what the keys act on."""
        super().focusInEvent(event)
        if not self.selectedItems():
            self.setCurrentRow(max(self.currentRow(), 0), QItemSelectionModel.SelectionFlag.ClearAndSelect)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Show that the keys act elsewhere."""
        super().focusOutEvent(event)
        self.clearSelection()

    def _choose(self, item: QListWidgetItem) -> None:
        if item.flags() & Qt.ItemFlag.ItemIsEnabled:
            self.chosen.emit(str(item.data(_PATH)))


class WelcomePage(QWidget):
    """What a person sees first."""

    title = "Welcome"
    open_requested = Signal(str)
    """A project file, by its path."""
    file_requested = Signal()
    """A file that is still to be chosen."""
    sample_requested = Signal(str)
    """A sample project, by its id."""
    new_requested = Signal()

    def __init__(self, recent: Sequence[str] = (), parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("welcome")
        self.setAccessibleName("Welcome")
        self.new_button = Card(
            "Begin a new boat", "A small sound project to put your own figures into.", self
        )
        self.new_button.setToolTip("Ctrl+N")
        self.new_button.clicked.connect(self.new_requested)
        self.open_button = Card(
            "Open a project…", "A file from this computer; it can be dragged in, too.", self
        )
        self.open_button.setToolTip("Ctrl+O")
        self.open_button.clicked.connect(self.file_requested)
        self.recent = RecentList(self)
        self.recent.chosen.connect(self.open_requested)
        self.no_recent = QLabel("Projects you open or save are listed here.", self)
        self.no_recent.setProperty("faint", True)
        self.sample_buttons = tuple(self._sample_button(sample) for sample in sample_cards())
        self.figure = PictureView("The hat that a new boat begins with, in section", self)
        self.figure.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Ignored)
        self.figure.setMinimumHeight(120)
        self.figure.setMaximumHeight(340)
        self.caption = QLabel("The hat that a new boat begins with, its plies at true thickness.", self)
        self.caption.setProperty("faint", True)
        self._lay_out()
        self.show_recent(recent)

    def show_recent(self, paths: Sequence[str]) -> None:
        """Show these recent files, the latest first."""
        self.recent.show_paths(paths)
        self.recent.setVisible(bool(paths))
        self.no_recent.setVisible(not paths)

    def showEvent(self, event: QShowEvent) -> None:
        """Draw the figure once the window stands."""
        super().showEvent(event)
        if not self.figure.picture.items:
            QTimer.singleShot(0, self, self._draw)

    def _draw(self) -> None:
        project = new_boat()
        resolved = resolve(project)
        [section] = project.sections
        plating = reference_plating(resolved, section)
        shape = resolved.shapes[section.id]
        properties = section_properties(shape, plating, Moduli.CONTRACTED)
        self.figure.show_picture(section_picture(shape, plating, properties=properties))

    def _sample_button(self, sample: Sample) -> Card:
        button = Card(sample.name, sample.notes, self)
        button.setObjectName(f"sample_{sample.id}")
        button.setToolTip("Opens a copy: the sample itself stays as it is.")
        button.clicked.connect(lambda: self.sample_requested.emit(sample.id))
        return button

    def _lay_out(self) -> None:
        heading = QLabel("Stringers, drawn and reckoned", self)
        heading.setProperty("heading", True)
        line = QLabel(
            "Draw a stringer or floor section with its laminates; watch stiffness, weight and findings move.",
            self,
        )
        line.setProperty("faint", True)
        line.setWordWrap(True)
        left, right = QVBoxLayout(), QVBoxLayout()
        for column in (left, right):
            column.setSpacing(8)
        left.addWidget(_section("Begin", self))
        left.addWidget(self.new_button)
        left.addWidget(self.open_button)
        left.addSpacing(10)
        left.addWidget(_section("Recent", self))
        left.addWidget(self.no_recent)
        left.addWidget(self.recent)
        left.addSpacing(10)
        left.addWidget(self.figure, 1)
        left.addWidget(self.caption)
        left.addStretch(0)
        right.addWidget(_section("Samples", self))
        for button in self.sample_buttons:
            right.addWidget(button)
        right.addStretch(1)
        columns = QHBoxLayout()
        columns.setSpacing(36)
        columns.addLayout(left, 1)
        columns.addLayout(right, 1)
        sheet = QWidget(self)
        inside = QVBoxLayout(sheet)
        inside.setContentsMargins(32, 32, 32, 12)
        inside.setSpacing(8)
        inside.addWidget(heading)
        inside.addWidget(line)
        inside.addSpacing(22)
        inside.addLayout(columns, 1)
        area = QScrollArea(self)
        area.setWidgetResizable(True)
        area.setFrameShape(QFrame.Shape.NoFrame)
        area.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        area.setWidget(_middle(sheet, self))
        outside = QVBoxLayout(self)
        outside.setContentsMargins(0, 0, 0, 0)
        outside.setSpacing(0)
        outside.addWidget(area, 1)


def _middle(content: QWidget, parent: QWidget) -> QWidget:
    """Keep what is read at a width that reads well, in the middle."""
    content.setMaximumWidth(1040)
    middle = QWidget(parent)
    across = QHBoxLayout(middle)
    across.setContentsMargins(0, 0, 0, 0)
    across.addStretch(1)
    across.addWidget(content, 100)
    across.addStretch(1)
    return middle


def _section(words: str, parent: QWidget) -> QLabel:
    label = QLabel(words, parent)
    bold = label.font()
    bold.setBold(True)
    label.setFont(bold)
    return label


def _passive(label: QLabel) -> QLabel:
    label.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
    return label


def _short(place: Path) -> str:
    home = Path.home()
    return f"~/{place.relative_to(home)}" if place.is_relative_to(home) and place != home else str(place)
