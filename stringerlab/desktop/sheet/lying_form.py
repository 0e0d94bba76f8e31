"""Marks of walls that lie on the hull: whether they do, whether fully bonded, the voids allowed."""

from collections.abc import Callable, Sequence
from dataclasses import replace

from PySide6.QtCore import QSignalBlocker
from PySide6.QtWidgets import QCheckBox, QFormLayout

from stringerlab.desktop.fields import QuantityField
from stringerlab.project import Project, edits
from stringerlab.section import OnHull, Wall
from stringerlab.units import Kind, System


class LyingRows:
    """Three rows in the form of a wall."""

    def __init__(self, form: QFormLayout, do: Callable[[str, Callable[[Project], Project]], None]) -> None:
        self._do = do
        self._walls: tuple[Wall, ...] = ()
        self.lies = QCheckBox("Lies on the hull")
        self.lies.setToolTip("A pan on the hull: its stiffness counts only where it is fully bonded")
        self.bonded = QCheckBox("Fully bonded")
        self.bonded.setToolTip("Adhesive laid, and looked at, over its whole face; else it is mass alone")
        self.voids = QuantityField(Kind.RATIO, "Voids")
        self.voids.setToolTip("Part of the face allowed to be without bond, 0 to 0.9: so much counts less")
        for box in (self.lies, self.bonded):
            box.setAccessibleName(box.text())
            form.addRow("", box)
        form.addRow("Voids", self.voids)
        self.lies.clicked.connect(self._lies_chosen)
        self.bonded.clicked.connect(self._bonded_chosen)
        self.voids.committed.connect(self._voids_typed)

    def show(self, walls: Sequence[Wall], units: System) -> None:
        """Show the marks of walls: those that all of them have."""
        self._walls = tuple(walls)
        marks = [wall.on_hull for wall in walls]
        lying = [mark for mark in marks if mark is not None]
        every = bool(marks) and len(lying) == len(marks)
        with QSignalBlocker(self.lies), QSignalBlocker(self.bonded):
            self.lies.setChecked(every)
            self.bonded.setChecked(every and all(mark.fully_bonded for mark in lying))
        self.bonded.setEnabled(every)
        voids = {mark.voids for mark in lying}
        self.voids.show_value(voids.pop() if every and len(voids) == 1 else None, units)
        self.voids.setEnabled(every and all(mark.fully_bonded for mark in lying))

    def _lies_chosen(self, on: bool) -> None:
        label = "Mark as lying on the hull" if on else "Take mark of lying on the hull away"
        self._mark(label, lambda mark: (mark or OnHull()) if on else None)

    def _bonded_chosen(self, on: bool) -> None:
        label = "Mark as fully bonded" if on else "Mark as not fully bonded"
        self._mark(label, lambda mark: replace(mark or OnHull(), fully_bonded=on))

    def _voids_typed(self, value: float) -> None:
        self._mark("Change voids", lambda mark: replace(mark or OnHull(), voids=value))

    def _mark(self, label: str, change: Callable[[OnHull | None], OnHull | None]) -> None:
        walls = self._walls

        def marked(project: Project) -> Project:
            for wall in walls:
                project = edits.replaced(project, replace(wall, on_hull=change(wall.on_hull)))
            return project

        self._do(label, marked)
