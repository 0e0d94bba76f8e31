"""Things of a layout as an editable table: members, equipment; an edit is one step of the history."""

from collections.abc import Callable, Sequence
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QObject, Qt, Signal

from stringerlab.desktop.models.rows import NOWHERE, Index, show_rows
from stringerlab.desktop.models.subject_field import Field
from stringerlab.desktop.session import Session
from stringerlab.errors import StringerlabError
from stringerlab.layout.plan import Cavity, Combination, Equipment, Hand, Layout, Member
from stringerlab.project import Project, planning

Thing = Member | Equipment | Cavity | Combination
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter


def layout_shown(project: Project) -> Layout | None:
    """Return the layout that panes are about: the one in use, else the first."""
    held = {layout.id: layout for layout in project.layouts}
    return held.get(project.layout) or next(iter(held.values()), None)


def changed(session: Session, thing: Thing, field: Field, value: Any) -> bool:
    """Change one value of a thing, with a label in words; return whether it was done.

    A quantity is given in the program's unit. Another hand turns over what is drawn on the other side.
    """
    fresh = field.put(thing, value)
    if fresh == thing:
        return True
    label = f"Rename {thing.name}" if field.key == "name" else f"Change {field.title} of {thing.name}"
    if field.key == "hand":
        return session.edit(label, planning.with_hand, [thing.id], Hand(value))
    return session.edit(label, planning.with_part_replaced, fresh)


class ThingsModel(QAbstractTableModel):
    """The things of one kind in the layout shown."""

    refused = Signal(str)
    """Why what was typed in a cell is not taken."""

    def __init__(
        self,
        session: Session,
        word: str,
        fields: Sequence[Field],
        held: Callable[[Layout], Sequence[Thing]],
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self._session = session
        self.word = word
        self.fields = tuple(fields)
        self._held = held
        self._rows: list[Thing] = []
        self._shown: tuple[object, ...] = ()
        session.project_changed.connect(self.refresh)
        self.refresh()

    @property
    def records(self) -> Sequence[Thing]:
        """What is shown."""
        return self._rows

    def refresh(self) -> None:
        """Show what the committed project has."""
        project = self._session.project
        layout = layout_shown(project)
        shown = (project.units, project.sections, project.materials)
        repaint, self._shown = shown != self._shown, shown
        show_rows(
            self, self._rows, self._held(layout) if layout else (), lambda one: one.id, len(self.fields)
        )
        if repaint and self._rows:
            self.dataChanged.emit(self.index(0, 0), self.index(len(self._rows) - 1, len(self.fields) - 1))

    def field(self, index: Index) -> Field | None:
        """Return a cell's field."""
        return self.fields[index.column()] if 0 <= index.column() < len(self.fields) else None

    def put(self, index: Index, value: Any) -> bool:
        """Change what a cell holds, a quantity given in the program's unit; return whether it was done."""
        field = self.field(index)
        return field is not None and changed(self._session, self._rows[index.row()], field, value)

    def as_text(self, rows: Sequence[int]) -> str:
        """Return rows as lines with tabs between, a head first."""
        project = self._session.project
        lines = ["\t".join(field.title for field in self.fields)]
        lines += ["\t".join(field.typed(self._rows[row], project) for field in self.fields) for row in rows]
        return "\n".join(lines)

    # -- as Qt asks ------------------------------------------------------------------------------

    def rowCount(self, parent: Index = NOWHERE) -> int:
        """Return how many there are."""
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = NOWHERE) -> int:
        """Return how many columns there are."""
        return 0 if parent.isValid() else len(self.fields)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        """Return a column's name and meaning."""
        if orientation is not Qt.Orientation.Horizontal or not 0 <= section < len(self.fields):
            return None
        field = self.fields[section]
        if role == Qt.ItemDataRole.DisplayRole:
            return field.title
        if role == Qt.ItemDataRole.TextAlignmentRole and field.kind is not None:
            return _RIGHT
        return field.meaning if role == Qt.ItemDataRole.ToolTipRole else None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return a cell's text."""
        field = self.field(index)
        if not index.isValid() or field is None or index.row() >= len(self._rows):
            return None
        thing, project = self._rows[index.row()], self._session.project
        match role:
            case Qt.ItemDataRole.DisplayRole:
                return field.shown(thing, project)
            case Qt.ItemDataRole.EditRole:
                return field.typed(thing, project)
            case Qt.ItemDataRole.ToolTipRole:
                return f"{field.shown(thing, project)}\n{field.meaning}".strip()
            case Qt.ItemDataRole.AccessibleTextRole:
                return f"{thing.name}, {field.title}: {field.shown(thing, project) or 'none'}"
            case Qt.ItemDataRole.TextAlignmentRole if field.kind is not None:
                return _RIGHT
            case _:
                return None

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Return every cell as one to edit."""
        held = super().flags(index)
        return held | Qt.ItemFlag.ItemIsEditable if index.isValid() else held

    def setData(self, index: Index, value: Any, role: int = Qt.ItemDataRole.EditRole) -> bool:
        """Take what was typed, in any unit; what does not read is refused with the reason."""
        field = self.field(index)
        if role != Qt.ItemDataRole.EditRole or not index.isValid() or field is None:
            return False
        try:
            return self.put(index, field.read(str(value), self._session.project))
        except StringerlabError as error:
            self.refused.emit(f"{self._rows[index.row()].name}, {field.title}: {error}")
            return False
