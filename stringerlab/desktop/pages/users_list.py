"""Where a thing is used, as a list: a click, or Enter, takes there."""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGroupBox, QLabel, QListWidget, QListWidgetItem, QVBoxLayout, QWidget

from stringerlab.desktop.session import Session
from stringerlab.project.where_used import User


class UsersList(QGroupBox):
    """The users of one thing."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__("Where used", parent)
        self._session = session
        self._users: tuple[User, ...] = ()
        self._none = QLabel("Nowhere yet.")
        self._none.setProperty("faint", True)
        self._list = QListWidget()
        self._list.setAccessibleName("Where used")
        self._list.setToolTip("Click, or press Enter, to go there")
        self._list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._list.setTextElideMode(Qt.TextElideMode.ElideRight)
        self._list.itemClicked.connect(self._go)
        self._list.itemActivated.connect(self._go)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 2, 0, 0)
        layout.addWidget(self._none)
        layout.addWidget(self._list, 1)
        layout.addStretch(0)
        self._list.hide()

    @property
    def list(self) -> QListWidget:
        """The list itself."""
        return self._list

    def show_users(self, users: Sequence[User]) -> None:
        """Show the users; the same ones as before leave the list as it is."""
        if tuple(users) == self._users:
            return
        self._users = tuple(users)
        row, place = self._list.currentRow(), self._list.verticalScrollBar().value()
        self._list.clear()
        for user in users:
            words = f"{user.owner}, {user.part}" if user.part else user.owner
            item = QListWidgetItem(f"{user.kind.capitalize()} {words}", self._list)
            item.setData(Qt.ItemDataRole.UserRole, user.id)
            item.setToolTip(f"{item.text()} ({user.id}): go there")
        if 0 <= row < len(users):
            self._list.setCurrentRow(row)
        self._list.verticalScrollBar().setValue(place)
        self._list.setVisible(bool(users))
        self._none.setVisible(not users)

    def _go(self, item: QListWidgetItem) -> None:
        self._session.take_to(str(item.data(Qt.ItemDataRole.UserRole)))
