"""The laminates page: one laminate's plies and their picture, what they amount to, where it is used."""

from collections.abc import Callable

from PySide6.QtCore import QModelIndex, Qt
from PySide6.QtGui import QAction, QKeySequence, QShowEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QGroupBox,
    QHBoxLayout,
    QLabel,
    QListView,
    QSplitter,
    QTabWidget,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from stringerlab.desktop.as_built import MeasuredTable
from stringerlab.desktop.models.known import mark_in_words
from stringerlab.desktop.models.laminate_list import LaminateList
from stringerlab.desktop.models.ply_rows import sound_plies
from stringerlab.desktop.pages.ply_editor import PlyEditor
from stringerlab.desktop.pages.ply_picture import PlyPicture, PolarPicture
from stringerlab.desktop.pages.readings import Reading, Readings
from stringerlab.desktop.pages.two_lines import TwoLines
from stringerlab.desktop.pages.users_list import UsersList
from stringerlab.desktop.session import Session
from stringerlab.errors import StringerlabError
from stringerlab.laminate import (
    Constants,
    Laminate,
    Ply,
    Stack,
    dry_mass,
    engineering_constants,
    flexural_constants,
    glass_content,
    mass,
    reinforced,
    thickness,
    thickness_with_gel,
)
from stringerlab.project import edits
from stringerlab.project.ply_edits import free_name, laminate_duplicated
from stringerlab.project.where_used import users
from stringerlab.units import Kind, format, rounded
from stringerlab.workings import weakest

_TOTALS = (
    Reading("Thickness", "Without gel coat: what counts for stiffness and strength"),
    Reading("With gel coat", "Thickness of everything laid in the mould"),
    Reading("Dry mass", "Mass of the dry fibre of all plies"),
    Reading("Mass", "Mass of everything: fibre, resin, core and gel coat"),
    Reading("Glass content", "Glass by mass of the reinforced plies together"),
)
_CONSTANTS = (
    Reading("E_x", "Modulus along the reference direction"),
    Reading("E_y", "Modulus across the reference direction"),
    Reading("G_xy", "Shear modulus; in bending, against twist"),
    Reading("Poisson ν_xy", "Contraction across while stretched along"),
    Reading("Poisson ν_yx", "Contraction along while stretched across"),
)
_NO_PICTURE = "No picture to scale\nuntil every ply is sound."
_STIFFNESS = ("E1", "E2", "G12", "nu12", "thickness")


class LaminatesPage(QWidget):
    """Everything about a project's laminates."""

    title = "Laminates"

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._current = ""
        self._ply: int | None = None
        """Row of the ply to be selected when the page is next seen."""
        self._stale = True
        self._showing = False
        self.laminates = LaminateList(session, self)
        self.list = QListView()
        self.editor = PlyEditor(session)
        self.picture = PlyPicture()
        self.polar = PolarPicture()
        self.measured = MeasuredTable(session)
        self.totals = Readings("Totals", _TOTALS)
        self.constants = Readings("Stiffness", _CONSTANTS, ("in plane", "in bending"))
        self.known = QLabel()
        self.users = UsersList(session)
        self._set_up_list()
        self._lay_out()
        self.editor.picked.connect(self.picture.select_plies)
        self.picture.picked.connect(self._pick)
        session.shown_changed.connect(self._refresh)
        session.selection_changed.connect(self._take)
        session.wanted.connect(self._take)  # a ply may be asked for again after another was chosen
        self._take(session.selected)

    @property
    def laminate(self) -> Laminate | None:
        """The laminate shown, None when there is none."""
        return next((one for one in self._session.shown.laminates if one.id == self._current), None)

    def showEvent(self, event: QShowEvent) -> None:
        """Catch up with what changed while the page was hidden."""
        super().showEvent(event)
        if self._stale:
            self._refresh()

    # -- laminates -------------------------------------------------------------------------------

    def add(self) -> None:
        """Add a laminate of one mat, and edit its name."""
        project = self._session.project
        name = free_name("New laminate", (one.name for one in project.laminates))
        fresh = Laminate(id="", name=name, plies=(Ply(material="csm450"),))
        if self._session.edit(f"Add laminate {name}", edits.added, fresh):
            self._select_last()
            self.list.edit(self.list.currentIndex())

    def duplicate(self) -> None:
        """Add a copy of the laminate shown."""
        if self.laminate is not None:
            label = f"Duplicate laminate {self.laminate.name}"
            if self._session.edit(label, laminate_duplicated, self._current):
                self._select_last()

    def delete(self) -> None:
        """Delete the laminate shown, unless something uses it: then its users are named."""
        if self.laminate is not None:
            self._session.edit(f"Delete laminate {self.laminate.name}", edits.removed, self._current)

    def rename(self) -> None:
        """Edit the name of the laminate shown, in the list."""
        if self.list.currentIndex().isValid():
            self.list.edit(self.list.currentIndex())

    # -- inside ----------------------------------------------------------------------------------

    def _select_last(self) -> None:
        row = self.laminates.rowCount() - 1
        self.list.setCurrentIndex(self.laminates.index(row))

    def _take(self, id: str) -> None:  # noqa: A002
        """Show the laminate that was selected elsewhere; ``laminate/3`` selects its third ply too."""
        laminate, _, ply = id.partition("/")
        if not any(one.id == laminate for one in self._session.shown.laminates):
            return
        self._ply = int(ply) - 1 if ply.isdecimal() else None
        if laminate != self._current or self._ply is not None:
            self._current = laminate
            self._refresh()

    def _chosen(self, index: QModelIndex) -> None:
        if not self._showing and index.isValid():
            self._current = self.laminates.id_at(index.row())
            self._show()
            self._session.select(self._current)

    def _pick(self, row: int, more: bool) -> None:
        held = set(self.editor.view.selected_rows()) if more else set[int]()
        self.editor.view.select_rows(sorted(held ^ {row}))
        self.editor.view.setFocus()

    def _refresh(self) -> None:
        self._stale = not self.isVisible()
        if self._stale:
            return
        before = self.laminates.row_of(self._current)
        self._showing = True
        self.laminates.refresh()
        row = self.laminates.row_of(self._current)
        if row < 0 and self.laminates.rowCount():
            row = min(max(before, 0), self.laminates.rowCount() - 1)
        self._current = self.laminates.id_at(row)
        if self.list.currentIndex().row() != row:
            self.list.setCurrentIndex(self.laminates.index(row) if row >= 0 else QModelIndex())
        self._showing = False
        self._show()

    def _show(self) -> None:
        session, laminate = self._session, self.laminate
        self.editor.show_laminate(laminate)
        self.measured.show_laminate(laminate)
        stack = session.resolved.stacks.get(laminate.id) if laminate else None
        rows = self.editor.model.rows
        pictured = stack
        if laminate and stack is None and rows and all(row.numbers is not None for row in rows):
            pictured = sound_plies(laminate.name, rows)
        self.picture.show_stack(pictured, session.units, _NO_PICTURE if rows else "")
        self.picture.select_plies(self.editor.view.selected_rows())
        self.polar.show_stack(stack if stack and reinforced(stack) else None, session.units)
        if self._ply is not None and 0 <= self._ply < len(rows):
            self.editor.view.select_rows([self._ply])
        self._ply = None
        self._show_readings(stack)
        self.users.show_users(users(session.shown, laminate.id, "laminate") if laminate else ())

    def _show_readings(self, stack: Stack | None) -> None:
        constants = _constants_of(stack)
        self.totals.show_values(self._totals_of(stack) if stack else None)
        if stack is None or constants is None:
            self.constants.show_values(None)
            self.known.setText("")
            return
        system = self._session.units
        plane, bending = constants
        self.constants.show_values(
            [
                [format(plane.Ex, Kind.STRESS, system), format(bending.Ex, Kind.STRESS, system)],
                [format(plane.Ey, Kind.STRESS, system), format(bending.Ey, Kind.STRESS, system)],
                [format(plane.Gxy, Kind.STRESS, system), format(bending.Gxy, Kind.STRESS, system)],
                [rounded(plane.nu_xy, 3), rounded(bending.nu_xy, 3)],
                [rounded(plane.nu_yx, 3), rounded(bending.nu_yx, 3)],
            ]
        )
        marks = [mark for ply in stack.plies for name, mark in ply.marks if name in _STIFFNESS]
        mark = weakest(marks)
        self.known.setText(f"Known: {mark.value}")
        self.known.setToolTip(f"The weakest of what the stiffness rests on: {mark_in_words(mark)}")

    def _totals_of(self, stack: Stack) -> list[list[str]]:
        system = self._session.units
        return [
            [format(thickness(stack), Kind.LENGTH, system)],
            [format(thickness_with_gel(stack), Kind.LENGTH, system)],
            [format(dry_mass(stack), Kind.AREAL_MASS, system)],
            [format(mass(stack), Kind.AREAL_MASS, system)],
            [rounded(glass_content(stack), 3) if reinforced(stack) else "—"],
        ]

    def _set_up_list(self) -> None:
        self.list.setModel(self.laminates)
        self.list.setItemDelegate(TwoLines(self.list))
        self.list.setAccessibleName("Laminates")
        self.list.setEditTriggers(
            QAbstractItemView.EditTrigger.DoubleClicked | QAbstractItemView.EditTrigger.EditKeyPressed
        )
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.list.selectionModel().currentChanged.connect(self._chosen)
        self.list.setContextMenuPolicy(Qt.ContextMenuPolicy.ActionsContextMenu)

    def _action(self, words: str, tip: str, keys: str, done: Callable[[], None]) -> QAction:
        action = QAction(words, self)
        action.setShortcut(QKeySequence(keys))
        action.setShortcutContext(Qt.ShortcutContext.WidgetShortcut)
        action.setToolTip(f"{tip} ({keys})")
        action.triggered.connect(lambda _checked=False: done())
        self.list.addAction(action)
        return action

    def _lay_out(self) -> None:
        buttons = QHBoxLayout()
        buttons.setSpacing(4)
        for action in (
            self._action("Add", "Add a laminate of one mat", "Ins", self.add),
            self._action("Duplicate", "Copy the laminate shown", "Ctrl+D", self.duplicate),
            self._action("Delete", "Delete the laminate shown, unless something uses it", "Del", self.delete),
        ):
            button = QToolButton()
            button.setDefaultAction(action)
            button.setAccessibleName(f"{action.text()} laminate")
            buttons.addWidget(button)
        buttons.addStretch(1)
        left, inner = _column((12, 12, 8, 12))
        inner.addWidget(self.list, 1)
        inner.addLayout(buttons)

        board = QSplitter(Qt.Orientation.Vertical)
        board.setChildrenCollapsible(False)
        board.addWidget(self.editor)
        below = QTabWidget()
        below.setAccessibleName("Charts and what was built")
        below.addTab(self.picture, "Picture")
        below.addTab(self.measured, "As built")
        below.setTabToolTip(1, "What the shop measured on the part: thickness, glass content, missing plies")
        board.addWidget(below)
        board.setSizes([420, 260])
        board.setHandleWidth(9)
        board.setStyleSheet("QSplitter::handle { background: transparent; }")
        middle, inner = _column((12, 12, 12, 12))
        inner.addWidget(board, 1)

        polar = QGroupBox("Modulus by direction")
        about = QVBoxLayout(polar)
        about.setContentsMargins(0, 2, 0, 0)
        about.addWidget(self.polar)
        self.known.setProperty("faint", True)
        right, inner = _column((8, 4, 12, 12))
        inner.setSpacing(4)
        inner.addWidget(self.totals)
        inner.addWidget(self.constants)
        inner.addWidget(self.known, 0, Qt.AlignmentFlag.AlignRight)
        inner.addWidget(polar, 4)
        inner.addWidget(self.users, 2)

        splitter = QSplitter()
        splitter.setChildrenCollapsible(False)
        for part, stretch in ((left, 0), (middle, 3), (right, 2)):
            splitter.addWidget(part)
            splitter.setStretchFactor(splitter.count() - 1, stretch)
        splitter.setSizes([185, 720, 260])
        layout = QHBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(splitter)


def _column(margins: tuple[int, int, int, int]) -> tuple[QWidget, QVBoxLayout]:
    column = QWidget()
    layout = QVBoxLayout(column)
    layout.setContentsMargins(*margins)
    layout.setSpacing(8)
    return column, layout


def _constants_of(stack: Stack | None) -> tuple[Constants, Constants] | None:
    """Return the constants in plane and in bending, None of what has no stiffness of its own."""
    if stack is None:
        return None
    try:
        return engineering_constants(stack), flexural_constants(stack)
    except StringerlabError:
        return None
