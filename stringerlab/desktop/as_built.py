"""What was measured on a laminate, to be typed in; and what it changes, in a window beside the page."""

from PySide6.QtCore import QModelIndex, Qt
from PySide6.QtGui import QCloseEvent, QGuiApplication
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from stringerlab.assess.as_built import AsBuiltResults, check_as_built
from stringerlab.desktop.choice import Choice
from stringerlab.desktop.fields import QuantityField
from stringerlab.desktop.jobs import Job
from stringerlab.desktop.models.as_built import MEASURED, ChangesModel, Column, MeasuredModel
from stringerlab.desktop.rows_table import RowsTable
from stringerlab.desktop.session import Session
from stringerlab.errors import StringerlabError
from stringerlab.laminate import Laminate
from stringerlab.project.measuring import measured_bead, with_bead_measured, without_measurements
from stringerlab.units import Kind


class MeasuredTable(QWidget):
    """One laminate's measurements, blank to be filled, and the way to what they change."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._changes: ChangesPane | None = None
        self.model = MeasuredModel(session, self)
        self.view = RowsTable("As built")
        self.view.setModel(self.model)
        self.view.setEditTriggers(
            QAbstractItemView.EditTrigger.DoubleClicked
            | QAbstractItemView.EditTrigger.EditKeyPressed
            | QAbstractItemView.EditTrigger.AnyKeyPressed
            | QAbstractItemView.EditTrigger.SelectedClicked
        )
        self.view.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectItems)
        header = self.view.horizontalHeader()
        header.setStretchLastSection(False)
        for cells, wide in (
            (Column.DRAWN, 96),
            (Column.THICKNESS, 96),
            (Column.GLASS, 76),
            (Column.MISSING, 76),
        ):
            header.resizeSection(cells, wide)
        header.setSectionResizeMode(Column.PLY, QHeaderView.ResizeMode.Stretch)
        self.changes_button = QPushButton("What it changes")
        self.changes_button.setToolTip("Check the boat as measured, and show what differs from as drawn")
        self.changes_button.clicked.connect(self.show_changes)
        self.clear_button = QPushButton("Clear all")
        self.clear_button.setToolTip("Take out everything measured, of all laminates; undo brings it back")
        self.clear_button.clicked.connect(self._clear)
        self.section = Choice("Section of the measured bead", "The section whose bead was measured")
        self.section.activated.connect(self._show_bead)
        self.bead = QuantityField(Kind.LENGTH, "Measured bead", optional=True)
        self.bead.setToolTip("Gap of the bead as measured; blank where it was not")
        self.bead.setFixedWidth(84)
        self.bead.committed.connect(self._measure_bead)
        self.bead.emptied.connect(lambda: self._measure_bead(None))
        row = QHBoxLayout()
        row.addWidget(QLabel("Bead of"))
        row.addWidget(self.section)
        row.addWidget(self.bead)
        row.addStretch(1)
        row.addWidget(self.clear_button)
        row.addWidget(self.changes_button)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.view, 1)
        column.addLayout(row)

    def show_laminate(self, laminate: Laminate | None) -> None:
        """Show a laminate as it is now; the cell in hand stays so."""
        at = self.view.currentIndex()
        self.model.show_laminate(laminate)
        again = self.model.index(at.row(), at.column())
        if again.isValid():
            self.view.setCurrentIndex(again)
        shown = self._session.shown
        beads = [
            (f"{MEASURED} {one.name}" if measured_bead(shown, one.id) is not None else one.name, one.id)
            for one in shown.sections
            if one.bead > 0 or measured_bead(shown, one.id) is not None
        ]
        self.section.offer(beads)
        self.section.setEnabled(bool(beads))
        self.bead.setEnabled(bool(beads))
        self._show_bead()
        measured = self._session.shown.as_built is not None
        self.clear_button.setEnabled(measured)
        self.changes_button.setEnabled(measured)

    def show_changes(self) -> None:
        """Show what the measurements change."""
        if self._changes is None:
            self._changes = ChangesPane(self._session, self)
        self._changes.show()
        self._changes.ask()

    def _show_bead(self) -> None:
        self.bead.show_value(measured_bead(self._session.shown, self.section.value), self._session.units)

    def _measure_bead(self, bead: float | None) -> None:
        label = f"Measure bead of {self.section.currentText().removeprefix(f'{MEASURED} ')}"
        self._session.edit(label, with_bead_measured, self.section.value, bead)

    def _clear(self) -> None:
        self._session.edit("Clear measurements", without_measurements)


class ChangesPane(QWidget):
    """Findings that differ between the boat as drawn and as built; it follows each edit while it is seen."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.setWindowFlag(Qt.WindowType.Dialog)
        self.setWindowTitle("As built: what changed")
        self.setAccessibleName("What the measurements change")
        self.resize(760, 480)
        self.job = Job(self)
        self.state = QLabel()
        self.state.setWordWrap(True)
        self.state.setAccessibleName("State of the check as built")
        self.rows = ChangesModel(self)
        self.table = RowsTable("What changed")
        self.table.setModel(self.rows)
        header = self.table.horizontalHeader()
        header.setStretchLastSection(False)
        for place, wide in ((1, 200), (2, 116), (3, 116)):
            header.resizeSection(place, wide)
        header.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        self.stop_button = QPushButton("Stop")
        self.copy_button = QPushButton("Copy")
        self.copy_button.setToolTip("Copy what changed as tab-separated text")
        row = QHBoxLayout()
        row.addWidget(self.state, 1)
        row.addWidget(self.stop_button)
        row.addWidget(self.copy_button)
        column = QVBoxLayout(self)
        column.addLayout(row)
        column.addWidget(self.table, 1)
        self.stop_button.clicked.connect(self.stop)
        self.copy_button.clicked.connect(self.copy)
        self.table.copy_wanted.connect(self.copy)
        self.table.opened.connect(self._open)
        self.job.finished.connect(self._take)
        self.job.failed.connect(self._refused)
        self.job.progress.connect(self._going_on)
        self.job.busy_changed.connect(self.stop_button.setEnabled)
        self.stop_button.setEnabled(False)
        session.project_changed.connect(self._follow)
        QGuiApplication.instance().aboutToQuit.connect(self.stop)  # pyright: ignore

    def ask(self) -> None:
        """Check the project as drawn and as built."""
        project = self._session.project
        self.state.setText("Checking.")
        self.job.start(lambda watch: check_as_built(project, watch=watch))

    def stop(self) -> None:
        """End the check under way."""
        if self.job.busy:
            self.job.cancel()
            self.state.setText("Stopped.")

    def copy(self) -> None:
        """Put what changed on the clipboard."""
        QGuiApplication.clipboard().setText(self.rows.text())
        self._session.said.emit("What changed is copied.")

    def closeEvent(self, event: QCloseEvent) -> None:
        """End what is under way when nobody looks any more."""
        self.stop()
        super().closeEvent(event)

    def _follow(self) -> None:
        if self.isVisible():
            self.ask()

    def _going_on(self, fraction: float, words: str) -> None:
        self.state.setText(f"{words}, {fraction:.0%}.")

    def _take(self, found: AsBuiltResults) -> None:
        self.rows.show(found.changes)
        worse = sum(change.worse for change in found.changes)
        turned = sum(change.verdict_changed for change in found.changes)
        self.state.setText(
            f"{len(found.changes)} of {len(found.built.findings)} findings changed, {turned} of them to "
            f"another verdict, {worse} to a worse one."
        )

    def _refused(self, error: StringerlabError) -> None:
        self.rows.show(())
        self.state.setText(str(error))

    def _open(self, index: QModelIndex) -> None:
        self._session.take_to(self.rows.change(index.row()).subject)
