"""A DXF taken in: looked at, its unit and size agreed, then walls of a section or laid under the sheet."""

from collections import Counter
from collections.abc import Sequence
from pathlib import Path

import numpy as np
from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QCloseEvent
from PySide6.QtWidgets import (
    QFileDialog,
    QFormLayout,
    QHBoxLayout,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QProgressBar,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from stringerlab.desktop.choice import Choice
from stringerlab.desktop.dxf_reading import DxfReader
from stringerlab.desktop.player import PictureView
from stringerlab.desktop.session import Session
from stringerlab.drawing.display import Item, Line, Mark, Picture, Role, Shape
from stringerlab.errors import StringerlabError
from stringerlab.files.outlines import MOST_POINTS, UNITS, Outlines, outlines_to_walls
from stringerlab.project.importing import with_walls
from stringerlab.section import Side, Wall
from stringerlab.units import Kind, format

FILTER = "Drawings (*.dxf);;All files (*)"
_MOST_SHOWN = MOST_POINTS
_LAYER = Qt.ItemDataRole.UserRole
_UNKNOWN = ""
_NEW_SECTION = ""
_PROGRESS_STEPS = 1000
_SIDES = (
    ("Right: below, or outside a closed line", Side.RIGHT),
    ("Left: above, or inside a closed line", Side.LEFT),
)


class DxfImport(QWidget):
    """The panel for one drawing."""

    title = "Import a DXF"
    underlay_chosen = Signal(object)
    """Lines (n, 2) in mm, a tuple, to be laid under the sheet."""
    walls_added = Signal(str)
    """The id of the section that has the walls now."""
    closed = Signal()
    """A person is done with the panel."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("dxf_import")
        self.setAccessibleName(self.title)
        self._session = session
        self._path: Path | None = None
        self._chosen: str | None = None
        self._outlines: Outlines | None = None
        self.reader = DxfReader(self)
        self.reader.finished.connect(self._read)
        self.reader.failed.connect(self._failed)
        self.reader.progress.connect(self._progress)
        self.reader.busy_changed.connect(self._busy)
        self._make()
        self._lay_out()
        self._busy(False)
        self.message.hide()
        session.shown_changed.connect(self._offer)
        self._offer()
        self._update()

    # -- what others call ------------------------------------------------------------------------

    def open(self, path: Path | str, unit: str | None = None) -> None:
        """Read a drawing; ``unit`` in place of the one it states."""
        if Path(path) != self._path:
            self.layers.clear()
        self._path, self._chosen = Path(path), unit
        self._outlines = None
        self.file.setText(self._path.name)
        self.file.setToolTip(str(self._path))
        self._say("")
        self.reader.read(self._path, unit)
        self._update()

    def choose_place(self, *, as_drawn: bool) -> None:
        """Leave the drawing where it is drawn, as a plan, or set it on the shell, as a section."""
        self.place.setCurrentIndex(1 if as_drawn else 0)
        self._update()

    @property
    def outlines(self) -> Outlines | None:
        """What was read, on the layers chosen and at the place chosen; None before."""
        chosen = self._on_layers()
        return None if chosen is None else chosen.moved(*self._shift(chosen))

    def stop(self) -> None:
        """End a reading under way."""
        self.reader.stop()

    def closeEvent(self, event: QCloseEvent) -> None:
        """End a reading under way."""
        self.stop()
        super().closeEvent(event)

    # -- making ----------------------------------------------------------------------------------

    def _make(self) -> None:
        self.choose_button = QPushButton("Choose a DXF…", self)
        self.choose_button.clicked.connect(self._choose)
        self.file = QLabel("No drawing yet", self)
        self.file.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.preview = PictureView("The drawing", self)
        self.preview.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.bar = QProgressBar(self)
        self.bar.setRange(0, _PROGRESS_STEPS)
        self.bar.setTextVisible(False)
        self.bar.setAccessibleName("Progress of the reading")
        self.cancel_button = QPushButton("Cancel", self)
        self.cancel_button.setToolTip("Stop reading this drawing")
        self.cancel_button.clicked.connect(self.reader.cancel)
        self.message = QLabel(self)
        self.message.setAccessibleName("What is wrong with the drawing")
        self.message.setWordWrap(True)
        self.unit = Choice("Unit of the drawing", "What one unit of the drawing is", self)
        self.unit.offer([("Choose its unit…", _UNKNOWN), *((symbol, symbol) for symbol in UNITS)])
        self.unit.activated.connect(self._unit_chosen)
        self.overall = QLabel(self)
        self.overall.setAccessibleName("Overall size")
        self.overall.setWordWrap(True)
        self.layers = QListWidget(self)
        self.layers.setAccessibleName("Layers to take")
        self.layers.setToolTip("Space takes a layer in or leaves it out")
        self.layers.setMinimumHeight(60)
        self.layers.itemChanged.connect(self._update)
        self.place = Choice("Place in the section", "Where the drawing comes to lie in the section", self)
        self.place.addItems(["Lowest point on the shell, centred", "As drawn"])
        self.place.activated.connect(self._update)
        self.section = Choice("Section", "Which section the walls go into", self)
        self.laminate = Choice("Laminate", "What the walls are laid up with", self)
        self.side = Choice("Laminate builds to the", "The line is the tool surface", self)
        self.side.offer([(words, side.value) for words, side in _SIDES])
        for box in (self.section, self.laminate, self.side):
            box.activated.connect(self._update)
        self.says = QLabel(self)
        self.says.setAccessibleName("What will be made")
        self.says.setWordWrap(True)
        self.says.setProperty("faint", True)
        self.walls_button = QPushButton("Add as walls", self)
        self.walls_button.setToolTip("Lines that meet end to end become one wall; one step to undo")
        self.walls_button.clicked.connect(self._add_walls)
        self.underlay_button = QPushButton("Lay under the sheet", self)
        self.underlay_button.setToolTip("Seen and snapped to while drawing; not kept in the project")
        self.underlay_button.clicked.connect(self._lay_under)
        self.close_button = QPushButton("Close", self)
        self.close_button.clicked.connect(self._done)

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        head.addWidget(self.choose_button)
        head.addWidget(self.file, 1)
        reading = QHBoxLayout()
        reading.addWidget(self.bar, 1)
        reading.addWidget(self.cancel_button)
        form = QFormLayout()
        form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
        form.setVerticalSpacing(6)
        form.addRow("Unit", self.unit)
        form.addRow("Size", self.overall)
        form.addRow("Layers", self.layers)
        form.addRow("Place", self.place)
        form.addRow("Section", self.section)
        form.addRow("Laminate", self.laminate)
        form.addRow("Builds to the", self.side)
        buttons = QHBoxLayout()
        buttons.addWidget(self.walls_button)
        buttons.addWidget(self.underlay_button)
        buttons.addStretch(1)
        buttons.addWidget(self.close_button)
        controls = QWidget(self)
        controls.setFixedWidth(390)
        column = QVBoxLayout(controls)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(head)
        column.addLayout(reading)
        column.addWidget(self.message)
        column.addLayout(form, 1)
        column.addWidget(self.says)
        column.addLayout(buttons)
        across = QHBoxLayout(self)
        across.setContentsMargins(12, 10, 12, 12)
        across.setSpacing(14)
        across.addWidget(self.preview, 1)
        across.addWidget(controls)

    # -- reading ---------------------------------------------------------------------------------

    def _choose(self) -> None:
        path, _ = QFileDialog.getOpenFileName(self, self.title, "", FILTER)
        if path:
            self.open(path)

    def _unit_chosen(self) -> None:
        unit = self.unit.value
        if self._path is not None and unit:
            self.open(self._path, unit)

    def _read(self, outlines: Outlines) -> None:
        self._outlines = outlines
        self.unit.show_value(outlines.read_as if self._unit_known else _UNKNOWN)
        known = {str(self.layers.item(i).data(_LAYER)) for i in range(self.layers.count())}
        left_out = known - self._layers()
        self.layers.blockSignals(True)
        self.layers.clear()
        for layer, count in sorted(Counter(outlines.layers).items()):
            item = QListWidgetItem(f"{layer}  ({count} line{'' if count == 1 else 's'})")
            item.setData(_LAYER, layer)
            item.setFlags(item.flags() | Qt.ItemFlag.ItemIsUserCheckable)
            item.setCheckState(Qt.CheckState.Unchecked if layer in left_out else Qt.CheckState.Checked)
            self.layers.addItem(item)
        self.layers.blockSignals(False)
        self._update()

    def _failed(self, error: StringerlabError) -> None:
        problem = error.problems[0]
        self._say(f"! {problem.what} {problem.remedy}".strip())
        self._update()

    def _progress(self, fraction: float, what: str) -> None:
        if self.reader.busy:
            self.bar.setValue(round(fraction * _PROGRESS_STEPS))
            self.says.setText(f"{what}…")

    def _busy(self, busy: bool) -> None:
        self.bar.setValue(0)
        self.bar.setVisible(busy)
        self.cancel_button.setVisible(busy)
        if not busy:
            self._update()

    # -- showing ---------------------------------------------------------------------------------

    @property
    def _unit_known(self) -> bool:
        """Whether the file states its unit, or a person has."""
        return self._outlines is not None and (self._chosen is not None or self._outlines.unit is not None)

    def _layers(self) -> set[str]:
        items = [self.layers.item(i) for i in range(self.layers.count())]
        return {str(item.data(_LAYER)) for item in items if item.checkState() == Qt.CheckState.Checked}

    def _on_layers(self) -> Outlines | None:
        """Return what was read on the layers chosen, where the drawing has it."""
        layers = self._layers()
        if self._outlines is None or len(layers) == self.layers.count():
            return self._outlines
        return self._outlines.on(layers)

    def _shift(self, chosen: Outlines) -> tuple[float, float]:
        """Return how far the drawing moves to the place chosen."""
        as_drawn = not chosen.lines or self.place.currentIndex() == 1
        return (0.0, 0.0) if as_drawn else chosen.to_the_shell

    def _offer(self) -> None:
        """Offer the project's sections and laminates; what is chosen stays chosen."""
        shown = self._session.shown
        sections = [("A new section", _NEW_SECTION)]
        sections += [(section.name or section.id, section.id) for section in shown.sections]
        self.section.offer(sections, self._session.selected)
        self.laminate.offer([(laminate.name or laminate.id, laminate.id) for laminate in shown.laminates])
        self._update()

    def _update(self) -> None:
        outlines = self._on_layers()
        usable = outlines is not None and bool(outlines.lines)
        ready = usable and self._unit_known and not self.reader.busy
        self.unit.setEnabled(self._path is not None and not self.reader.busy)
        for widget in (self.layers, self.place):
            widget.setEnabled(self._outlines is not None and not self.reader.busy)
        self.underlay_button.setEnabled(ready)
        self.overall.setText(self._size(outlines) if outlines is not None and usable else "")
        if not ready and not self.reader.busy:
            self.says.setText("")
        walls = self._walls(outlines) if outlines is not None and ready else ()
        self.walls_button.setEnabled(bool(walls))
        self._draw(outlines if usable else None)

    def _size(self, outlines: Outlines) -> str:
        if not self._unit_known:
            return "The file states no unit: choose what it is drawn in."
        width, height = (format(each, Kind.LENGTH, self._session.units) for each in outlines.size)
        stated = self._outlines.unit if self._outlines else None
        says = f"The file says {stated}." if stated else "The file states no unit."
        return f"{width} wide, {height} high. Right? {says}"

    def _walls(self, outlines: Outlines) -> Sequence[Wall]:
        """Return the walls there would be, and say how many, or why there are none."""
        laminate = self.laminate.value
        if not laminate:
            self.says.setText("The project has no laminate yet: walls need one.")
            return ()
        try:
            side = Side(self.side.value)
            few = outlines if len(outlines.lines) > _MOST_SHOWN else outlines.moved(*self._shift(outlines))
            walls = outlines_to_walls(few, laminate=laminate, side=side)
        except StringerlabError as error:
            self.says.setText(" ".join(f"{problem.what} {problem.remedy}" for problem in error.problems))
            return ()
        points = sum(len(wall.points) for wall in walls)
        words = [f"Makes {_counted(len(walls), 'wall')} of {_counted(points, 'point')} in all."]
        words.append(f"Curves are chords within {format(outlines.tolerance, Kind.LENGTH)}.")
        if outlines.skipped:
            left_out = ", ".join(f"{count} {what}" for what, count in outlines.skipped[:6])
            words.append(f"Left out: {left_out}{' and more' if len(outlines.skipped) > 6 else ''}.")
        self.says.setText(" ".join(words))
        return walls

    def _draw(self, outlines: Outlines | None) -> None:
        if outlines is None:
            self.preview.show_picture(Picture())
            return
        outlines = outlines.longest(_MOST_SHOWN)
        outlines = outlines.moved(*self._shift(outlines))
        lines = outlines.lines
        width, height = outlines.size
        left, _, right, _ = outlines.bounds
        items: list[Item] = [Line(points=line, role=Role.TOOL, tip="outline") for line in lines]
        if max(map(abs, outlines.bounds)) < 3 * max(width, height):
            shell = np.array([[min(left, 0.0), 0.0], [max(right, 0.0), 0.0]])
            items += [
                Line(points=shell, role=Role.SHELL, tip="the shell, z = 0"),
                Mark(at=(0.0, 0.0), shape=Shape.CROSS, role=Role.CENTROID, tip="the section's origin"),
            ]
        self.preview.show_picture(Picture(items=tuple(items)))

    def _say(self, words: str) -> None:
        self.message.setText(words)
        self.message.setVisible(bool(words))
        if words:
            self.says.setText("")
            self._session.said.emit(words.removeprefix("! "))

    # -- doing -----------------------------------------------------------------------------------

    def _add_walls(self) -> None:
        outlines = self._on_layers()
        walls = self._walls(outlines) if outlines is not None else ()
        if outlines is None or not walls:
            return
        into = self.section.value
        name = Path(outlines.name).stem
        if self._session.edit("Import walls", with_walls, walls, to=into, name=name):
            section = into or self._session.project.sections[-1].id
            self._session.said.emit(f"{_counted(len(walls), 'wall')} imported from {outlines.name}.")
            self._session.take_to(section)
            self.walls_added.emit(section)

    def _lay_under(self) -> None:
        outlines = self.outlines
        if outlines is not None:
            self.underlay_chosen.emit(outlines.lines)

    def _done(self) -> None:
        self.reader.cancel()
        self.closed.emit()


def _counted(count: int, word: str) -> str:
    return f"{count} {word}{'' if count == 1 else 's'}"
