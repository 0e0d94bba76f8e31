"""Of what a demand is: everything, the spans of one section, or those ticked in a list that unfolds."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QListWidget, QListWidgetItem, QVBoxLayout, QWidget

from stringerlab.desktop.choice import Choice
from stringerlab.desktop.session import Session
from stringerlab.layout import Panel
from stringerlab.project.wishes import Holds

_ALL = {
    Holds.USE: "of every panel and span",
    Holds.DEFLECTION: "of every span",
    Holds.HEIGHT: "of every section",
}
_CHOSEN = "of those ticked:"
_TICKED = "*"
"""The value of that row."""
_ROWS = 6
_ID = Qt.ItemDataRole.UserRole


class OfWhat(QWidget):
    """A choice, and under it the list to tick."""

    wanted = Signal(object)
    """Ids a person wants it to be of, a tuple; empty for all."""

    def __init__(self, session: Session, holds: Holds, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session, self._holds = session, holds
        self._of: tuple[str, ...] = ()
        self._unfolded = False
        """Whether a person asked for the list before anything is ticked in it."""
        self.choice = Choice("Of which", "All of them, those of one section, or those ticked in a list")
        self.choice.setSizeAdjustPolicy(Choice.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.choice.setMinimumContentsLength(14)
        self.choice.activated.connect(self._chosen)
        self.list = QListWidget()
        self.list.setToolTip("Space or a click takes one in or out")
        self.list.setAlternatingRowColors(False)
        self.list.itemChanged.connect(self._ticked)
        self.list.hide()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addWidget(self.choice)
        column.addWidget(self.list)

    def show_of(self, name: str, of: tuple[str, ...]) -> None:
        """Show of what a demand called ``name`` is."""
        self._of = of
        self.choice.setAccessibleName(f"{name}, of which")
        self.list.setAccessibleName(f"{name}, of those ticked")
        rows = self._rows()
        sections = {one.id for one in self._session.project.sections}
        several = len(of) > 1 or (bool(of) and of[0] not in sections)
        words = dict(self._sections())
        each = [(said, section) for section, said in words.items()]
        self.choice.offer([(_ALL[self._holds], ""), *each, (_CHOSEN, _TICKED)])
        unfolded = several or self._unfolded
        self.choice.show_value(_TICKED if unfolded else of[0] if of else "")
        self._fill([*rows, *((one, one) for one in of if one not in dict(rows))])
        self.list.setVisible(unfolded)

    # -- inside ----------------------------------------------------------------------------------

    def _sections(self) -> list[tuple[str, str]]:
        """Return sections that have spans, and for a height all, by id, in words."""
        used = {one.section for one in self._session.resolved.subjects if not isinstance(one, Panel)}
        every = self._holds is Holds.HEIGHT
        sections = [one for one in self._session.project.sections if every or one.id in used]
        return [(one.id, f"of {one.name}" if every else f"of spans of {one.name}") for one in sections]

    def _rows(self) -> list[tuple[str, str]]:
        """Return what can be ticked, by id: sections, then spans, then panels."""
        rows = [(id, words.removeprefix("of ")) for id, words in self._sections()]  # noqa: A001
        if self._holds is Holds.HEIGHT:
            return rows
        subjects = self._session.resolved.subjects
        rows += [(one.id, one.name) for one in subjects if not isinstance(one, Panel)]
        if self._holds is Holds.USE:
            rows += [(one.id, one.name) for one in subjects if isinstance(one, Panel)]
        return rows

    def _fill(self, rows: list[tuple[str, str]]) -> None:
        items = [self.list.item(row) for row in range(self.list.count())]
        self.list.blockSignals(True)
        if rows != [(item.data(_ID), item.text()) for item in items]:
            self.list.clear()
            for id, words in rows:  # noqa: A001
                item = QListWidgetItem(words)
                item.setData(_ID, id)
                item.setToolTip(words)
                item.setFlags(item.flags() | Qt.ItemFlag.ItemIsUserCheckable)
                self.list.addItem(item)
            high = self.list.sizeHintForRow(0) if rows else 18
            self.list.setFixedHeight(high * min(_ROWS, max(len(rows), 1)) + 4)
        for row in range(self.list.count()):
            item = self.list.item(row)
            within = item.data(_ID) in self._of
            item.setCheckState(Qt.CheckState.Checked if within else Qt.CheckState.Unchecked)
        self.list.blockSignals(False)

    def _chosen(self) -> None:
        value = self.choice.value
        self._unfolded = value == _TICKED
        if value == _TICKED:
            self.list.show()
            return
        self.list.hide()
        self.wanted.emit((value,) if value else ())

    def _ticked(self) -> None:
        items = [self.list.item(row) for row in range(self.list.count())]
        self._unfolded = True
        self.wanted.emit(tuple(i.data(_ID) for i in items if i.checkState() is Qt.CheckState.Checked))
