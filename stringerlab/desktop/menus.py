"""The menu bar, made from the table of actions; it also keeps what can be done and what undo takes back."""

from collections.abc import Callable, Mapping
from pathlib import Path

from PySide6.QtCore import QObject
from PySide6.QtGui import QAction, QActionGroup, QKeySequence
from PySide6.QtWidgets import QMainWindow, QMenu

from stringerlab.desktop.actions import ACTIONS, MENUS, Action, Needs, page_actions
from stringerlab.files import samples


class Menus(QObject):
    """The actions of a window by their ids, in its menu bar."""

    def __init__(
        self,
        window: QMainWindow,
        does: Mapping[str, Callable[[], object]],
        *,
        recent: Callable[[], tuple[str, ...]],
        open_file: Callable[[Path], object],
        open_sample: Callable[[str], object],
    ) -> None:
        super().__init__(window)
        self.actions: dict[str, QAction] = {}
        self._needs: dict[str, Needs] = {}
        self._recent, self._open_file, self._open_sample = recent, open_file, open_sample
        self._groups: dict[str, QActionGroup] = {}
        bar = window.menuBar()
        self.menus = {key: bar.addMenu(title) for key, title in MENUS.items()}
        for menu in self.menus.values():
            menu.setToolTipsVisible(True)
        go = [action for action in page_actions() if action.menu == "go"]
        rest = [action for action in page_actions() if action.menu != "go"]
        for action in (*go, *rest, *ACTIONS):
            self._add(window, action, does[action.id])
            if action.id == "open":
                self.recent_menu = self._submenu("Open &recent", self._fill_recent)
                self.samples_menu = self._submenu("New from sa&mple", self._fill_samples)

    def allow(self, *, project: bool, selection: bool, undo: str | None, redo: str | None) -> None:
        """Enable what can be done now; name what undo and redo would do."""
        met = {
            Needs.NOTHING: True,
            Needs.PROJECT: project,
            Needs.SELECTION: project and selection,
            Needs.UNDO: project and undo is not None,
            Needs.REDO: project and redo is not None,
        }
        for name, needs in self._needs.items():
            self.actions[name].setEnabled(met[needs])
        self.actions["undo"].setText(f"&Undo {undo}" if undo else "&Undo")
        self.actions["redo"].setText(f"&Redo {redo}" if redo else "&Redo")

    def check(self, name: str, on: bool = True) -> None:
        """Show a switch as on or off."""
        self.actions[name].setChecked(on)

    def _add(self, window: QMainWindow, action: Action, does: Callable[[], object]) -> None:
        made = QAction(action.name, window)
        made.setObjectName(action.id)
        made.setShortcuts([QKeySequence(keys) for keys in action.shortcuts])
        keys = f" ({', '.join(action.shortcuts)})" if action.shortcuts else ""
        made.setToolTip(f"{action.tip}{keys}")
        made.setStatusTip(action.tip)
        if action.checked:
            made.setCheckable(True)
        if action.group:
            group = self._groups.setdefault(action.group, QActionGroup(window))
            group.addAction(made)
        made.triggered.connect(lambda _=False: does())
        self.actions[action.id] = made
        self._needs[action.id] = action.needs
        menu = self.menus[action.menu]
        if action.apart:
            menu.addSeparator()
        menu.addAction(made)

    def _submenu(self, title: str, fill: Callable[[QMenu], None]) -> QMenu:
        menu = self.menus["file"].addMenu(title)
        menu.aboutToShow.connect(lambda: fill(menu))
        return menu

    def _fill_recent(self, menu: QMenu) -> None:
        menu.clear()
        for number, name in enumerate(self._recent(), 1):
            path = Path(name)
            action = menu.addAction(f"&{number % 10}  {path.name}")
            action.setToolTip(name)
            action.setEnabled(path.exists())
            action.triggered.connect(lambda _=False, p=path: self._open_file(p))
        if menu.isEmpty():
            menu.addAction("Nothing opened yet").setEnabled(False)

    def _fill_samples(self, menu: QMenu) -> None:
        menu.clear()
        for name in samples():
            action = menu.addAction(name.replace("_", " ").capitalize())
            action.triggered.connect(lambda _=False, n=name: self._open_sample(n))
