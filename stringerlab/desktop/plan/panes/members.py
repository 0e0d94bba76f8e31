"""The pane of members: every member of the layout in a row, changed in place."""

from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from stringerlab.desktop.plan.panes.tables import PaneTable
from stringerlab.desktop.plan.panes.thing_fields import MEMBER
from stringerlab.desktop.plan.panes.things import ThingsModel
from stringerlab.desktop.session import Session
from stringerlab.project import planning

_HINT = (
    "Members are drawn on the plan: L, T. Type over a cell, or choose; what is selected is selected there."
)


class MembersPane(QWidget):
    """Every member: what it is, its section, how it crosses, ends and is bonded."""

    title = "Members"
    under = True
    """Whether it stands below the plan rather than beside it."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.model = ThingsModel(session, "member", MEMBER, lambda layout: layout.members)
        self.table = PaneTable(session, "Members", self.model, self._id)
        self.table.add_deed("Duplicate", "Ctrl+D", "Add a copy of each, a little forward", self.duplicate)
        self.table.add_deed(
            "Delete", "Del", "Delete the selected members; undo brings them back", self.delete
        )
        session.selection_changed.connect(self._follow)
        hint = QLabel(_HINT)
        hint.setWordWrap(True)
        hint.setProperty("faint", True)
        column = QVBoxLayout(self)
        column.setContentsMargins(8, 8, 8, 8)
        column.addWidget(self.table, 1)
        column.addWidget(hint)

    def delete(self) -> None:
        """Delete the selected members."""
        if ids := self.table.ids:
            self._session.edit(f"Delete {self._named(ids)}", planning.without_parts, ids)

    def duplicate(self) -> None:
        """Add a copy of each selected member 200 mm forward of it."""
        if ids := self.table.ids:
            self._session.edit(f"Duplicate {self._named(ids)}", planning.copied, ids, _FORWARD, 0.0)

    def _follow(self, id_: str) -> None:
        """Choose the member of a span that is selected elsewhere."""
        found = self._session.resolved.found
        spans = {span.id: span.member for span in found.spans} if found else {}
        if id_ in spans:
            self.table.follow(spans[id_])

    def _id(self, row: int) -> str:
        return self.model.records[row].id

    def _named(self, ids: list[str]) -> str:
        names = {one.id: one.name for one in self.model.records}
        return names[ids[0]] if len(ids) == 1 else f"{len(ids)} members"


_FORWARD = 200.0
"""How far forward a copy is put [mm]."""
