"""Named undo and redo over frozen projects: a history is a value too, and a step makes a new one."""

from dataclasses import dataclass, replace
from typing import Self

from stringerlab.errors import Problem, StringerlabError
from stringerlab.project.records import Project


@dataclass(frozen=True, slots=True, kw_only=True)
class Snapshot:
    """A project, and the label of the edit that led to it; the first has none."""

    label: str
    project: Project


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class History:
    """Snapshots from the first to the latest, and which of them is shown."""

    snapshots: tuple[Snapshot, ...]
    at: int = 0

    @classmethod
    def of(cls, project: Project) -> Self:
        """Return a history that begins with a project."""
        return cls(snapshots=(Snapshot(label="", project=project),))

    @property
    def project(self) -> Project:
        """The project shown."""
        return self.snapshots[self.at].project

    @property
    def undo_label(self) -> str | None:
        """The label of the edit that undo would take back, None when there is none."""
        return self.snapshots[self.at].label if self.at else None

    @property
    def redo_label(self) -> str | None:
        """The label of the edit that redo would do again, None when there is none."""
        return self.snapshots[self.at + 1].label if self.at + 1 < len(self.snapshots) else None

    def did(self, label: str, project: Project) -> Self:
        """Return the history after an edit; what was undone before it is given up. No change is no step."""
        if project is self.project:
            return self
        kept = self.snapshots[: self.at + 1]
        return replace(self, snapshots=(*kept, Snapshot(label=label, project=project)), at=self.at + 1)

    def undo(self) -> Self:
        """Return the history one edit earlier.

        Raises
        ------
        StringerlabError
            When there is nothing to undo.
        """
        if self.undo_label is None:
            raise StringerlabError(Problem("There is nothing to undo.", "history"))
        return replace(self, at=self.at - 1)

    def redo(self) -> Self:
        """Return the history one edit later.

        Raises
        ------
        StringerlabError
            When there is nothing to redo.
        """
        if self.redo_label is None:
            raise StringerlabError(Problem("There is nothing to redo.", "history"))
        return replace(self, at=self.at + 1)
