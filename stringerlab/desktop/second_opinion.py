"""The second opinion on a section: asked for off the window's thread, its numbers, mesh and stresses."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QCloseEvent, QGuiApplication
from PySide6.QtWidgets import (
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QProgressBar,
    QPushButton,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from stringerlab.assess.second_opinion import SecondOpinion, second_opinion
from stringerlab.assess.sections import reference_plating, sound_shape
from stringerlab.desktop.choice import Choice
from stringerlab.desktop.jobs import Job
from stringerlab.desktop.models.second_opinion import NAME, OFF, OURS, THEIRS, DifferencesModel
from stringerlab.desktop.player import PictureView
from stringerlab.desktop.rows_table import RowsTable
from stringerlab.desktop.session import Session
from stringerlab.drawing import Picture
from stringerlab.drawing.second_opinion import Shown, greatest, stress_picture
from stringerlab.errors import StringerlabError
from stringerlab.project import Project
from stringerlab.units import Kind, format

_LOADS = {
    Shown.BENDING: (1e6, Kind.MOMENT, "σ", "of the crown in tension"),
    Shown.SHEAR: (1e3, Kind.FORCE, "τ", "by its own weighting"),
    Shown.TORSION: (1e6, Kind.MOMENT, "τ", ""),
}
"""Load shown, in N·mm or N, its kind, the stress, and what is to be said with it."""


class SecondOpinionPane(QWidget):
    """One section by both; the other library runs in a process of its own, which Stop ends."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._section = ""
        self._asked_of: Project | None = None
        self._found: SecondOpinion | None = None
        self.setAccessibleName("Second opinion")
        self.job = Job(self)
        self.heading = _label("Section")
        self.state = _label("State of the second opinion")
        self.notes = _label("Why the two differ")
        self.notes.setProperty("faint", True)
        self.progress = QProgressBar()
        self.progress.setRange(0, 100)
        self.progress.setTextVisible(False)
        policy = self.progress.sizePolicy()
        policy.setRetainSizeWhenHidden(True)
        self.progress.setSizePolicy(policy)
        self.progress.setAccessibleName("Time used of the time allowed")
        self.stop_button = QPushButton("Stop")
        self.stop_button.setToolTip("End the other library's process")
        self.again_button = QPushButton("Ask again")
        self.again_button.setToolTip("Ask for the second opinion on the section as it is now")
        self.copy_button = QPushButton("Copy")
        self.copy_button.setToolTip("Copy the numbers as tab-separated text")
        self.rows = DifferencesModel(self)
        self.table = RowsTable("Numbers by both")
        self.table.setModel(self.rows)
        header = self.table.horizontalHeader()
        header.setStretchLastSection(False)
        for column, wide in ((OURS, 118), (THEIRS, 138), (OFF, 92)):
            header.resizeSection(column, wide)
        header.setSectionResizeMode(NAME, QHeaderView.ResizeMode.Stretch)
        self.what = Choice("Picture", "What is drawn of the other library's answer")
        self.what.offer([(shown.value, shown.name) for shown in Shown])
        self.what.show_value(Shown.BENDING.name)
        self.caption = _label("What the colours mean")
        self.picture = PictureView("The other library's mesh and stresses")
        self._lay_out()
        self.stop_button.clicked.connect(self.stop)
        self.again_button.clicked.connect(self._again)
        self.copy_button.clicked.connect(self.copy)
        self.table.copy_wanted.connect(self.copy)
        self.what.activated.connect(self._draw)
        self.job.progress.connect(self._going_on)
        self.job.finished.connect(self._take)
        self.job.failed.connect(self._refused)
        self.job.busy_changed.connect(self._busy)
        session.project_changed.connect(self._went)
        QGuiApplication.instance().aboutToQuit.connect(self.stop)  # pyright: ignore
        self._busy(False)

    def ask(self, section_id: str) -> None:
        """Ask for the second opinion on a section as it is now; one under way is ended."""
        project, resolved = self._session.project, self._session.resolved
        section = next((one for one in project.sections if one.id == section_id), None)
        if section is None:
            return
        self._section, self._asked_of, self._found = section_id, project, None
        self.heading.setText(f"{section.name}, on its reference plating")
        self.setWindowTitle(f"Second opinion: {section.name}")
        self.notes.setText("")
        self._show_rows()
        self._draw()
        try:
            shape = sound_shape(resolved, section)
        except StringerlabError as error:
            self.job.cancel()
            self._refused(error)
            return
        plating = reference_plating(resolved, section)
        self.state.setText("Asked; it takes some seconds.")
        self.job.start(lambda watch: second_opinion(shape, plating, watch=watch))

    def stop(self) -> None:
        """End what is under way, with its process."""
        if self.job.busy:
            self.job.cancel()
            self.state.setText("Stopped.")

    def copy(self) -> None:
        """Put the numbers on the clipboard."""
        parts = [self.heading.text(), self.rows.text(), self.notes.text()]
        QGuiApplication.clipboard().setText("\n\n".join(part for part in parts if part))
        self._session.said.emit("The second opinion is copied.")

    def closeEvent(self, event: QCloseEvent) -> None:
        """End what is under way when nobody looks any more."""
        self.stop()
        super().closeEvent(event)

    def _lay_out(self) -> None:
        working = QHBoxLayout()
        working.addWidget(self.progress, 1)
        for button in (self.stop_button, self.again_button, self.copy_button):
            working.addWidget(button)
        lower = QWidget()
        below = QVBoxLayout(lower)
        below.setContentsMargins(0, 4, 0, 0)
        head = QHBoxLayout()
        head.addWidget(self.what)
        head.addWidget(self.caption, 1)
        below.addLayout(head)
        below.addWidget(self.picture, 1)
        parts = QSplitter(Qt.Orientation.Vertical)
        parts.setChildrenCollapsible(False)
        parts.addWidget(self.table)
        parts.addWidget(lower)
        parts.setSizes([300, 300])
        parts.setStretchFactor(1, 1)
        column = QVBoxLayout(self)
        for widget in (self.heading, self.state):
            column.addWidget(widget)
        column.addLayout(working)
        column.addWidget(parts, 1)
        column.addWidget(self.notes)

    def _busy(self, busy: bool) -> None:
        self.stop_button.setEnabled(busy)
        self.again_button.setEnabled(not busy and bool(self._section))
        self.copy_button.setEnabled(self._found is not None)
        self.progress.setVisible(busy)
        if not busy:
            self.progress.setValue(0)

    def _going_on(self, fraction: float, words: str) -> None:
        self.progress.setValue(round(100 * fraction))
        self.state.setText(f"{words}.")

    def _take(self, found: SecondOpinion) -> None:
        self._found = found
        self.copy_button.setEnabled(True)
        self.notes.setText("\n".join(found.notes))
        self._show_rows()
        self._draw()
        self._went()

    def _refused(self, error: StringerlabError) -> None:
        self.state.setText(str(error))

    def _again(self) -> None:
        self.ask(self._section)

    def _went(self) -> None:
        if self._found is None:
            return
        self._show_rows()
        same = self._session.project is self._asked_of
        why = any(row.why for row in self._found.rows)
        by_both = "By both; a star marks a difference that has a reason, below." if why else "By both."
        self.state.setText(by_both if same else "Of an earlier drawing: ask again for the present one.")

    def _show_rows(self) -> None:
        self.rows.show(() if self._found is None else self._found.rows, self._session.units)

    def _draw(self) -> None:
        stresses = None if self._found is None else self._found.stresses
        if stresses is None:
            self.picture.show_picture(Picture())
            self.caption.setText("")
            return
        what = Shown[self.what.value]
        self.picture.show_picture(stress_picture(stresses, what))
        if what is Shown.MESH:
            self.caption.setText(f"{len(stresses.triangles)} triangles")
            return
        load, kind, sign, more = _LOADS[what]
        units = self._session.units
        full = format(greatest(stresses, what) * load, Kind.STRESS, units)
        words = f"{sign} under {format(load, kind, units)}; full colour {full}"
        self.caption.setText(f"{words}, {more}" if more else words)


def _label(name: str) -> QLabel:
    label = QLabel()
    label.setWordWrap(True)
    label.setAccessibleName(name)
    label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
    return label
