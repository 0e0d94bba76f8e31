"""The materials page: shipped and own materials, each value with unit, source and mark; two side by side."""

from dataclasses import replace

from PySide6.QtCore import QModelIndex, QSignalBlocker, Qt
from PySide6.QtGui import QAction, QKeySequence, QShowEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QComboBox,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QListView,
    QSplitter,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from stringerlab.desktop.models.material_list import MaterialList, MaterialRow
from stringerlab.desktop.models.material_values import KINDS
from stringerlab.desktop.models.value_table import ValueTable, in_full
from stringerlab.desktop.pages.books import Books
from stringerlab.desktop.pages.coupons import CouponPanel
from stringerlab.desktop.pages.problem_strip import ProblemStrip
from stringerlab.desktop.pages.two_lines import TwoLines
from stringerlab.desktop.pages.users_list import UsersList
from stringerlab.desktop.pages.value_view import ValueView
from stringerlab.desktop.session import Session
from stringerlab.errors import Problem
from stringerlab.materials import AnyMaterial, shipped
from stringerlab.materials.book import every
from stringerlab.materials.records import GelCoat, Reinforcement
from stringerlab.project import edits
from stringerlab.project.ply_edits import free_name
from stringerlab.project.where_used import users

_NOBODY = "compare with …"
_HOW_TO = {
    True: "Type a value, its source, its mark. A value typed counts as stated until a source is named.",
    False: "A shipped material is read only: copy it to the project's own to change it.",
}


class MaterialsPage(QWidget):
    """Everything about materials."""

    title = "Materials"

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._current: tuple[str, bool] = ("", False)
        """Id of the material shown, and whether it is the project's own."""
        self._stale = True
        self._showing = False
        self.materials = MaterialList(session, self)
        self.values = ValueTable(session, self)
        self.search = QLineEdit()
        self.kinds = QComboBox()
        self.list = QListView()
        self.name = QLineEdit()
        self.about = QLabel()
        self.compare = QComboBox()
        self.view = ValueView(session, self.values)
        self.coupons = CouponPanel(session)
        self.detail = QLabel()
        self.problems = ProblemStrip("What is wrong with this material")
        self.users = UsersList(session)
        self.books = Books(session, self._chosen_ids)
        self._set_up()
        self._lay_out()
        session.shown_changed.connect(self._refresh)
        session.selection_changed.connect(self._take)
        self._take(session.selected)

    @property
    def material(self) -> AnyMaterial | None:
        """The material shown, None when there is none."""
        wanted, own = self._current
        held = self._session.shown.materials if own else shipped()
        return next((one for one in every(held) if one.id == wanted), None)

    def showEvent(self, event: QShowEvent) -> None:
        """Catch up with what changed while the page was hidden."""
        super().showEvent(event)
        if self._stale:
            self._refresh()

    # -- own materials ---------------------------------------------------------------------------

    def copy_to_own(self) -> None:
        """Add a copy of the material shown to the project's own, under an id of its own, to change it."""
        if (material := self.material) is None:
            return
        name = free_name(
            f"{material.name}, own", (one.name for one in every(self._session.project.materials))
        )
        self._added(f"Copy {material.name} to own materials", replace(material, id="", name=name))

    def stand_in(self) -> None:
        """Put an own material in place of the shipped one: all that names it has the own one from then."""
        material, (_, own) = self.material, self._current
        if material is not None and not own:
            self._added(f"Put an own {material.name} in place of the shipped", material)

    def delete(self) -> None:
        """Delete the own material shown, unless something uses it: then its users are named."""
        material, (wanted, own) = self.material, self._current
        if material is not None and own:
            before = self.list.currentIndex().row()
            if self._session.edit(f"Delete material {material.name}", edits.removed, wanted):
                self._select_row(min(before, self.materials.rowCount() - 1))

    # -- inside ----------------------------------------------------------------------------------

    def _added(self, label: str, material: AnyMaterial) -> None:
        before = {id(one) for one in every(self._session.project.materials)}
        if not self._session.edit(label, edits.added, material):
            return
        [fresh] = [one for one in every(self._session.project.materials) if id(one) not in before]
        self.search.clear()
        self.kinds.setCurrentIndex(0)
        self._go(fresh.id, own=True)
        self._session.said.emit(f"{fresh.name} is the project's own now: change what is another's.")

    def _chosen_ids(self) -> list[str]:
        return [str(index.data(Qt.ItemDataRole.UserRole)) for index in self.list.selectedIndexes()]

    def _arrived(self, id: str) -> None:  # noqa: A002
        """Show a material that a book brought."""
        self._go(id, own=True)
        self.list.setFocus()

    def _take(self, id: str) -> None:  # noqa: A002
        """Show the material that was selected elsewhere; the project's own before the shipped one."""
        for own, held in ((True, self._session.shown.materials), (False, shipped())):
            if any(one.id == id for one in every(held)):
                if id != self._current[0]:
                    self._go(id, own)
                return

    def _go(self, id: str, own: bool) -> None:  # noqa: A002
        self._current = (id, own)
        if self.materials.row_of(id, own) < 0:
            with QSignalBlocker(self.search), QSignalBlocker(self.kinds):
                self.search.clear()
                self.kinds.setCurrentIndex(0)
            self.materials.narrow("")
        self._refresh()

    def _narrow(self) -> None:
        self._showing = True
        self.materials.narrow(self.search.text(), str(self.kinds.currentData()))
        self._showing = False
        self._show_current_row()
        self._none.setVisible(self.materials.rowCount() == 0)

    def _chosen(self, index: QModelIndex) -> None:
        row = self.materials.at(index.row()) if index.isValid() else None
        if not self._showing and row is not None and row.material is not None:
            self._current = (row.material.id, row.own)
            self._show()
            self._session.select(row.material.id)

    def _select_row(self, row: int) -> None:
        while row >= 0 and self.materials.at(row) is None:
            row -= 1
        if row < 0:
            row = self.materials.first()
        if row >= 0:
            self.list.setCurrentIndex(self.materials.index(row))

    def _refresh(self) -> None:
        self._stale = not self.isVisible()
        if self._stale:
            return
        self._showing = True
        self.materials.refresh()
        self._showing = False
        if self.material is None:
            held: MaterialRow | None = self.materials.at(self.list.currentIndex().row())
            held = held or self.materials.at(self.materials.first())
            if held is not None and held.material is not None:
                self._current = (held.material.id, held.own)
        self._show_current_row()
        self._show()

    def _show_current_row(self) -> None:
        row = self.materials.row_of(*self._current)
        if self.list.currentIndex().row() != row:
            self._showing = True
            self.list.setCurrentIndex(self.materials.index(row) if row >= 0 else QModelIndex())
            self._showing = False

    def _show(self) -> None:
        material, own = self.material, self._current[1]
        project = self._session.shown
        if not self.name.isModified() or not self.name.hasFocus():
            self.name.setText(material.name if material else "")
            self.name.setCursorPosition(0)
        self.name.setReadOnly(not own)
        self._offer_others(material)
        self.values.show_material(material, own, self._other())
        self.coupons.show_material(material if isinstance(material, Reinforcement) else None, own)
        fronted = material is not None and not own and self._own_in_front(material)
        whose = "the project's own" if own else "shipped, read only"
        words = [KINDS[type(material)], whose, f"id {material.id}"] if material else []
        if fronted:
            words.append("your own stands in its place")
        self.about.setText(" · ".join(words))
        self.problems.show_problems([(str(p), "") for p in self._wrong(material)] if own and material else [])
        wanted = users(project, material.id, _word(material)) if material and not fronted else ()
        self.users.show_users(wanted)
        self._copy.setEnabled(material is not None)
        self._front.setEnabled(material is not None and not own and not fronted)
        self._delete.setEnabled(own and material is not None)

    def _tell(self) -> None:
        """Say the current line in full under the table."""
        row = self.view.currentIndex().row()
        rows = self.values.rows
        self.detail.setText(in_full(rows[row]) if 0 <= row < len(rows) else _HOW_TO[self._current[1]])

    def _own_in_front(self, material: AnyMaterial) -> bool:
        return any(
            one.id == material.id and type(one) is type(material)
            for one in every(self._session.shown.materials)
        )

    def _wrong(self, material: AnyMaterial) -> list[Problem]:
        head = f"{_word(material)} '"
        return [
            Problem(problem.what, problem.where.partition(f"({material.id})")[2].lstrip(", "), problem.remedy)
            for problem in self._session.resolved.problems
            if problem.where.startswith(head) and f"({material.id})" in problem.where
        ]

    def _offer_others(self, material: AnyMaterial | None) -> None:
        """Offer the other materials of the kind; the one compared with stays where it still can."""
        wanted: list[tuple[str, tuple[str, bool] | None]] = [(_NOBODY, None)]
        for own, held in ((True, self._session.shown.materials), (False, shipped())):
            wanted += [
                (f"{one.name} (own)" if own else one.name, (one.id, own))
                for one in every(held)
                if type(one) is type(material) and (one.id, own) != self._current
            ]
        held_now = [(self.compare.itemText(i), self.compare.itemData(i)) for i in range(self.compare.count())]
        if held_now == wanted:
            return
        before = self.compare.currentData()
        with QSignalBlocker(self.compare):
            self.compare.clear()
            for words, key in wanted:
                self.compare.addItem(words, key)
            places = [i for i, (_, key) in enumerate(wanted) if key is not None and key == before]
            self.compare.setCurrentIndex(places[0] if places else 0)

    def _other(self) -> AnyMaterial | None:
        key: tuple[str, bool] | None = self.compare.currentData()
        if key is None:
            return None
        held = self._session.shown.materials if key[1] else shipped()
        return next((one for one in every(held) if one.id == key[0]), None)

    def _rename(self) -> None:
        material = self.material
        if material is None or not self.name.isModified() or not self._current[1]:
            return
        self.name.setModified(False)
        name = self.name.text().strip()
        if name and name != material.name:
            label = f"Rename material {material.name}"
            self._session.edit(label, edits.replaced, replace(material, name=name))
        else:
            self.name.setText(material.name)

    def _set_up(self) -> None:
        self.search.setPlaceholderText("Search by name, kind, own")
        self.search.setAccessibleName("Search materials")
        self.search.setClearButtonEnabled(True)
        self.search.textChanged.connect(self._narrow)
        self.kinds.setAccessibleName("Kind of material")
        self.kinds.addItem("All kinds", "")
        for kind in KINDS.values():
            self.kinds.addItem(kind, kind)
        self.kinds.currentIndexChanged.connect(self._narrow)
        self.list.setModel(self.materials)
        self.list.setItemDelegate(TwoLines(self.list))
        self.list.setAccessibleName("Materials")
        self.list.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self.books.arrived.connect(self._arrived)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.list.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.list.selectionModel().currentChanged.connect(self._chosen)
        self.list.setContextMenuPolicy(Qt.ContextMenuPolicy.ActionsContextMenu)
        self.name.setAccessibleName("Name of the material")
        self.name.setProperty("heading", True)
        self.name.editingFinished.connect(self._rename)
        self.about.setProperty("faint", True)
        self.about.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.detail.setWordWrap(True)
        self.detail.setProperty("faint", True)
        self.detail.setAccessibleName("The line in full")
        self.detail.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.detail.setFixedHeight(3 * self.fontMetrics().lineSpacing() + 4)
        self.view.selectionModel().currentChanged.connect(self._tell)
        self.values.dataChanged.connect(self._tell)
        self.values.modelReset.connect(self._tell)
        self.coupons.copy_wanted.connect(self.copy_to_own)
        self.compare.setAccessibleName("Material to compare with")
        self.compare.setToolTip("Show another material of this kind beside it")
        self.compare.addItem(_NOBODY, None)
        self.compare.setMinimumContentsLength(20)
        self.compare.currentIndexChanged.connect(self._show)

    def _lay_out(self) -> None:
        tools = QHBoxLayout()
        tools.setSpacing(4)
        self._copy = self._action(
            tools, "Copy to own", "Add a copy to the project's own materials, to change it", "Ctrl+D"
        )
        self._copy.triggered.connect(self.copy_to_own)
        self._front = self._action(
            tools, "Own in its place", "All that names this material has an own one of its id from then", ""
        )
        self._front.triggered.connect(self.stand_in)
        self._delete = self._action(
            tools, "Delete", "Delete this own material, unless something uses it", "Del"
        )
        self._delete.triggered.connect(self.delete)
        tools.addStretch(1)
        tools.addWidget(self.compare)
        self._none = QLabel("No material has all these words.")
        self._none.setProperty("faint", True)
        self._none.setWordWrap(True)
        self._none.hide()
        left = _column((12, 12, 8, 12), self.search, self.kinds, self._none, self.list, self.books.tools)
        middle = _column((12, 12, 12, 12), self.name, self.about)
        inner = middle.layout()
        assert isinstance(inner, QVBoxLayout)
        inner.addLayout(tools)
        inner.addWidget(self.problems)
        inner.addWidget(self.view, 1)
        inner.addWidget(self.detail)
        inner.addWidget(self.coupons)
        right = _column((8, 12, 12, 12), self.users)
        splitter = QSplitter()
        splitter.setChildrenCollapsible(False)
        for part, stretch in ((left, 0), (middle, 3), (right, 1)):
            splitter.addWidget(part)
            splitter.setStretchFactor(splitter.count() - 1, stretch)
        splitter.setSizes([262, 700, 180])
        layout = QHBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.books)
        self.books.show_page(splitter)

    def _action(self, tools: QHBoxLayout, words: str, tip: str, keys: str) -> QAction:
        action = QAction(words, self)
        action.setShortcut(QKeySequence(keys))
        action.setShortcutContext(Qt.ShortcutContext.WidgetShortcut)
        action.setToolTip(f"{tip} ({keys})" if keys else tip)
        self.list.addAction(action)
        button = QToolButton()
        button.setDefaultAction(action)
        button.setAccessibleName(f"{words}: material")
        tools.addWidget(button)
        return action


def _column(margins: tuple[int, int, int, int], *parts: QWidget) -> QWidget:
    column = QWidget()
    layout = QVBoxLayout(column)
    layout.setContentsMargins(*margins)
    layout.setSpacing(6)
    for part in parts:
        layout.addWidget(part)
    return column


def _word(material: AnyMaterial) -> str:
    return "gel coat" if isinstance(material, GelCoat) else type(material).__name__.lower()
