"""The boat page's parent boat: its project file, what it has been through, and which part is like which."""

from pathlib import Path

from PySide6.QtWidgets import (
    QFileDialog,
    QFormLayout,
    QGroupBox,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QSizePolicy,
    QWidget,
)

from stringerlab.assess import Results
from stringerlab.assess.relative import NO_COMPLIANCE, kind_of
from stringerlab.desktop.choice import Choice
from stringerlab.desktop.kinship import Kinship
from stringerlab.desktop.pages.problem_strip import ProblemStrip
from stringerlab.desktop.session import Session
from stringerlab.project import Project
from stringerlab.project.parenthood import with_likeness, with_parent, with_service

NEAREST = "nearest of its kind"


class ParentBoat(QGroupBox):
    """Fields of the project's parent boat."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__("Parent boat", parent)
        self._session = session
        self._kinship = Kinship.of_session(session)
        self.file = _line("Parent boat's file", "Project file of a boat that has held up, beside this one")
        self.file.setPlaceholderText("none")
        self.file.editingFinished.connect(self._set_file)
        self.browse = QPushButton("Browse…")
        self.browse.setToolTip("Choose the parent boat's project file")
        self.browse.clicked.connect(self._ask)
        self.service = _line("Service of the parent boat", "What it has been through, as findings tell it")
        self.service.setPlaceholderText("ten years of …")
        self.service.editingFinished.connect(self._set_service)
        self.own = Choice("Part of this boat", "A panel or span that is to be held against another")
        self.own.activated.connect(self._show_likeness)
        self.like = Choice("Its like in the parent boat", "The parent's panel or span it is held against")
        self.like.activated.connect(self._set_likeness)
        for choice in (self.own, self.like):
            choice.setSizeAdjustPolicy(Choice.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
            choice.setMinimumContentsLength(16)
        self.says = QLabel()
        self.says.setWordWrap(True)
        self.says.setProperty("faint", True)
        self.says.setAccessibleName("About the parent boat")
        self.says.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        self.strip = ProblemStrip("Problems with the parent boat", self)
        form = QFormLayout(self)
        form.setContentsMargins(0, 4, 0, 4)
        form.setHorizontalSpacing(10)
        form.setVerticalSpacing(6)
        form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
        files = QHBoxLayout()
        files.addWidget(self.file, 1)
        files.addWidget(self.browse)
        _row(form, "File", files, self.file)
        _row(form, "Service", self.service, self.service)
        _row(form, "This boat's", self.own, self.own)
        _row(form, "is like", self.like, self.like)
        form.addRow(self.says)
        form.addRow(self.strip)
        self._form = form
        session.shown_changed.connect(self.refresh)
        session.selection_changed.connect(self._follow)
        self._kinship.changed.connect(self.refresh)
        self.refresh()

    def refresh(self) -> None:
        """Show what the project says of its parent, and what is known of it."""
        project = self._session.shown
        held = project.parent
        _show(self.file, held.file if held else "")
        _show(self.service, held.service if held else "")
        for row in range(1, self._form.rowCount() - 1):
            self._form.setRowVisible(row, held is not None)
        theirs = self._kinship.parent_results
        subjects = self._session.resolved.subjects
        self.own.offer([(f"{one.name} ({one.id})", one.id) for one in subjects])
        self._form.setRowVisible(self.own, bool(held and theirs and subjects))
        self._form.setRowVisible(self.like, bool(held and theirs and subjects))
        self.says.setText(_about(theirs))
        self.strip.show_problems([(str(problem), "") for problem in self._kinship.problems] if held else [])
        self._show_likeness()

    def _show_likeness(self) -> None:
        theirs = self._kinship.parent_results
        if theirs is not None:
            self.like.offer(likeness_choices(self._session, theirs, self.own.value))
            self.like.show_value(likeness_of(self._session.shown, self.own.value))

    def _follow(self, id: str) -> None:  # noqa: A002
        if self.own.findData(id) >= 0:
            self.own.show_value(id)
            self._show_likeness()

    def _set_file(self) -> None:
        held = self._session.project.parent
        if self.file.text().strip() != (held.file if held else ""):
            self._session.edit("Change parent boat", with_parent, self.file.text())

    def _set_service(self) -> None:
        held = self._session.project.parent
        if held is not None and self.service.text() != held.service:
            self._session.edit("Change the parent's service", with_service, self.service.text())

    def _set_likeness(self) -> None:
        set_likeness(self._session, self.own.value, self.like.value)

    def _ask(self) -> None:
        path = self._session.path
        start = path.parent if path else Path.home()
        dialog = QFileDialog(self, "The parent boat's project", str(start), "stringerlab projects (*.json)")
        dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
        dialog.finished.connect(dialog.deleteLater)
        dialog.fileSelected.connect(self._named)
        dialog.open()

    def _named(self, name: str) -> None:
        """Name a file, relative to the project's folder where it lies in or below it."""
        chosen, path = Path(name), self._session.path
        folder = path.parent if path else None
        if folder is not None and chosen.is_relative_to(folder):
            name = chosen.relative_to(folder).as_posix()
        self._session.edit("Change parent boat", with_parent, name)


def likeness_of(project: Project, own: str) -> str:
    """Return the id of the parent's subject that one is held against by name, empty for the nearest."""
    likenesses = project.parent.likenesses if project.parent else ()
    return next((each.parent for each in likenesses if each.own == own), "")


def likeness_choices(session: Session, theirs: Results, own: str) -> list[tuple[str, str]]:
    """Return the parent's subjects of a subject's kind, with their ids; first the nearest, id empty."""
    subjects = {one.id: one for one in session.resolved.subjects}
    if own not in subjects:
        return [(NEAREST, "")]
    kind = kind_of(subjects[own], session.resolved)
    named = likeness_of(session.shown, own)
    alike = [
        (f"{one.name} ({one.id})", one.id)
        for one in theirs.resolved.subjects
        if kind_of(one, theirs.resolved) == kind or one.id == named
    ]
    unknown = bool(named) and all(named != other for _, other in alike)
    lost = [(f"{named}, not in the parent", named)] if unknown else []
    return [(NEAREST, ""), *alike, *lost]


def set_likeness(session: Session, own: str, parent: str) -> None:
    """Let a subject be held against one of the parent's, or against the nearest of its kind."""
    if parent != likeness_of(session.project, own):
        session.edit("Change likeness", with_likeness, own, parent)


def _about(theirs: Results | None) -> str:
    return "" if theirs is None else f"{theirs.project.name}. {NO_COMPLIANCE}"


def _line(name: str, tip: str) -> QLineEdit:
    line = QLineEdit()
    line.setAccessibleName(name)
    line.setToolTip(tip)
    return line


def _row(form: QFormLayout, words: str, field: QWidget | QHBoxLayout, buddy: QWidget) -> None:
    label = QLabel(words)
    label.setBuddy(buddy)
    label.setToolTip(buddy.toolTip())
    if isinstance(field, QWidget):
        form.addRow(label, field)
    else:
        form.addRow(label, field)


def _show(line: QLineEdit, text: str) -> None:
    if line.text() != text:
        line.setText(text)
        line.setCursorPosition(0)
