"""The sections page: the list of sections, the sheet with its tools, what is selected, and the numbers."""

from dataclasses import replace
from functools import partial
from math import ceil, cos, radians

from PySide6.QtCore import QModelIndex, Qt
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QListView,
    QScrollArea,
    QSplitter,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from stringerlab.desktop.facts import FactsPane
from stringerlab.desktop.pages.two_lines import TwoLines
from stringerlab.desktop.session import Session
from stringerlab.desktop.sheet import Sheet
from stringerlab.desktop.sheet.inspector import Inspector
from stringerlab.desktop.sheet.listing import SectionList
from stringerlab.desktop.sheet.loads import Loads
from stringerlab.desktop.sheet.starter_menu import FLOOR, HAT, PicturedMenu
from stringerlab.desktop.sheet.strip import SwitchBar, ToolStrip
from stringerlab.desktop.sheet.tool import Change
from stringerlab.errors import Problem, StringerlabError
from stringerlab.laminate import thickness_with_gel
from stringerlab.project import Project, drafting, edits
from stringerlab.project.drafting import FloorParameters, HatParameters
from stringerlab.project.drafting_starters import begun, starter_drawn, with_starter
from stringerlab.project.ply_edits import free_name
from stringerlab.section import Reference, Section
from stringerlab.section.shapes import STARTERS, Starter

_NO_LAMINATE = Problem(
    "A section needs a laminate to be drawn of.", "laminates", "Add one on the Laminates page first."
)


class SectionsPage(QWidget):
    """Everything about a project's sections."""

    title = "Sections"

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.sheet = Sheet(session)
        self.sections = SectionList(session, self)
        self.list = QListView()
        self.strip = ToolStrip(self.sheet)
        self.bar = SwitchBar(self.sheet)
        self.loads = Loads(self.sheet)
        self.inspector = Inspector(self.sheet)
        self.facts = FactsPane(session)
        self._held = _ids(session)
        session.project_changed.connect(self._show_what_came)
        self._set_up_list()
        self._lay_out()
        self.sheet.hand.section_changed.connect(self._show_chosen)
        self._show_chosen(self.sheet.hand.section_id)
        if session.selected:
            self.sheet.hand.follow(session.selected)

    # -- sections --------------------------------------------------------------------------------

    def add_hat(self) -> None:
        """Add a section drawn as a hat, with live handles."""

        def change(project: Project) -> Project:
            laminate, reference, thickness = self._start(project)
            radius = max(15.0, round(thickness) + 6.0)
            shape = HatParameters(
                laminate=laminate,
                height=120.0,
                crown_width=max(80.0, 4 * radius),
                flange_width=60.0,
                draft=5.0,
                crown_radius=radius,
                root_radius=12.0,
            )
            return drafting.with_shape(project, None, shape, name=self._free("Hat"), reference=reference)

        self._add("Add hat section", change)

    def add_floor(self) -> None:
        """Add a section drawn as a plate floor bonded by tabs."""

        def change(project: Project) -> Project:
            laminate, reference, _ = self._start(project)
            if reference is not None:
                reference = replace(reference, deadrise=0.0)
            shape = FloorParameters(
                plate=laminate,
                tab=laminate,
                putty="putty",
                depth=180.0,
                tab_height=60.0,
                tab_width=70.0,
                root_radius=12.0,
                bed=3.0,
            )
            return drafting.with_shape(project, None, shape, name=self._free("Floor"), reference=reference)

        self._add("Add floor section", change)

    def add_starter(self, shape: Starter) -> None:
        """Add a section drawn as a shape of the catalogue, its parameters at the left."""

        def change(project: Project) -> Project:
            laminate, reference, _ = self._start(project)
            if reference is not None and not shape.on_slope:
                reference = replace(reference, deadrise=0.0)
            slope = reference.deadrise if reference else 0.0
            parameters = begun(project, shape.id, laminate, slope)
            if reference is not None and shape.over_strip:
                section = Section(id="", name=shape.name, walls=(), reference=reference)
                walls = starter_drawn(project, section, parameters).walls
                reach = max(abs(y) for wall in walls for y, _ in wall.points) / cos(radians(slope))
                reference = replace(reference, width=max(reference.width, float(ceil(2 * reach))))
            grown = with_starter(project, None, parameters, name=self._free(shape.name), reference=reference)
            self.inspector.starter.remember(grown.sections[-1], parameters)
            return grown

        self._add(f"Add {shape.name.lower()} section", change)

    def add_blank(self) -> None:
        """Add an empty section, and take up the pen."""

        def change(project: Project) -> Project:
            _, reference, _ = self._start(project)
            return edits.added(
                project, Section(id="", name=self._free("Section"), walls=(), reference=reference)
            )

        if self._add("Add section", change):
            self.sheet.hand.take("wall")
            self.sheet.setFocus(Qt.FocusReason.OtherFocusReason)

    def duplicate(self) -> None:
        """Add a copy of the section shown."""
        section = self._section()
        if section is not None:
            copy = replace(section, name=self._free(f"{section.name}, copy"))
            self._add(f"Duplicate section {section.name}", lambda project: edits.added(project, copy))

    def delete(self) -> None:
        """Delete the section shown, unless a span uses it: then its users are named."""
        section = self._section()
        if section is not None:
            self._session.edit(f"Delete section {section.name}", edits.removed, section.id)

    def rename(self) -> None:
        """Edit the name of the section shown, in the list."""
        if self.list.currentIndex().isValid():
            self.list.edit(self.list.currentIndex())

    # -- inside ----------------------------------------------------------------------------------

    def _set_up_list(self) -> None:
        self.list.setModel(self.sections)
        self.list.setItemDelegate(TwoLines(self.list))
        self.list.setAccessibleName("Sections")
        self.list.setEditTriggers(
            QAbstractItemView.EditTrigger.DoubleClicked | QAbstractItemView.EditTrigger.EditKeyPressed
        )
        self.list.setContextMenuPolicy(Qt.ContextMenuPolicy.ActionsContextMenu)
        self.list.selectionModel().currentChanged.connect(self._choose)
        for name, keys, do in (
            ("Rename", QKeySequence(Qt.Key.Key_F2), self.rename),
            ("Duplicate", QKeySequence(), self.duplicate),
            ("Delete", QKeySequence(Qt.Key.Key_Delete), self.delete),
        ):
            action = QAction(name, self.list)
            action.setShortcut(keys)
            action.setShortcutContext(Qt.ShortcutContext.WidgetShortcut)
            action.triggered.connect(do)
            self.list.addAction(action)

    def _lay_out(self) -> None:
        self.add_button = _button("Add", "Add a section: a starting shape, or blank")
        self.add_button.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        menu = PicturedMenu(self.add_button)
        for id_, name, tip, do in (
            (HAT, "Hat", "A top hat with live handles", self.add_hat),
            (FLOOR, "Plate floor", "A plate bonded by a tab on each face, with live handles", self.add_floor),
            *((shape.id, shape.name, shape.tip, partial(self.add_starter, shape)) for shape in STARTERS),
            ("", "Blank", "Nothing yet: draw it wall by wall", self.add_blank),
        ):
            menu.offer(id_, name, tip, do)
        self.add_button.setMenu(menu)
        self.duplicate_button = _button("Duplicate", "Add a copy of the section shown")
        self.duplicate_button.clicked.connect(self.duplicate)
        self.delete_button = _button("Delete", "Delete the section shown; undo brings it back")
        self.delete_button.clicked.connect(self.delete)
        row = QHBoxLayout()
        row.setContentsMargins(8, 6, 8, 4)
        row.setSpacing(4)
        for button in (self.add_button, self.duplicate_button, self.delete_button):
            row.addWidget(button)
        row.addStretch(1)

        left = QSplitter(Qt.Orientation.Vertical)
        top = QWidget()
        column = QVBoxLayout(top)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(row)
        column.addWidget(self.list, 1)
        left.addWidget(top)
        left.addWidget(_scrolled(self.inspector))
        left.setSizes([230, 330])
        left.setChildrenCollapsible(False)

        middle = QWidget()
        over = QVBoxLayout(middle)
        over.setContentsMargins(0, 0, 0, 0)
        over.setSpacing(0)
        head = QHBoxLayout()
        head.setContentsMargins(0, 0, 6, 0)
        head.addWidget(self.bar, 1)
        head.addWidget(self.loads)
        over.addLayout(head)
        beside = QHBoxLayout()
        beside.setContentsMargins(0, 0, 0, 0)
        beside.setSpacing(0)
        beside.addWidget(_scrolled(self.strip))
        beside.addWidget(self.sheet, 1)
        over.addLayout(beside, 1)

        split = QSplitter()
        for widget in (left, middle, self.facts):
            split.addWidget(widget)
        split.setStretchFactor(1, 1)
        split.setSizes([226, 640, 330])
        split.setChildrenCollapsible(False)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(split)

    def _section(self) -> Section | None:
        id = self.sections.id_at(self.list.currentIndex().row())  # noqa: A001
        return next((each for each in self._session.project.sections if each.id == id), None)

    def _add(self, label: str, change: Change) -> bool:
        if not self._session.edit(label, change):
            return False
        self.sheet.hand.show_section(self._session.project.sections[-1].id)
        return True

    def _show_what_came(self) -> None:
        """Show a section that was not there before, as when adding it is done again or deleting it undone."""
        before, self._held = self._held, _ids(self._session)
        came = [each for each in self._held if each not in before]
        if len(came) == 1:
            self.sheet.hand.show_section(came[0])

    def _start(self, project: Project) -> tuple[str, Reference | None, float]:
        """A laminate for new walls, plating to stand on, and the laminate's thickness [mm]."""
        stacks = self._session.resolved.stacks
        used = [wall.laminate for section in project.sections for wall in section.walls]
        known = [each for each in (*used, *(laminate.id for laminate in project.laminates)) if each in stacks]
        if not known:
            raise StringerlabError(_NO_LAMINATE)
        references = [section.reference for section in project.sections if section.reference]
        reference = references[0] if references else Reference(laminate=known[0], width=200.0)
        return known[0], reference, thickness_with_gel(stacks[known[0]])

    def _free(self, name: str) -> str:
        return free_name(name, (section.name for section in self._session.project.sections))

    def _choose(self, index: QModelIndex) -> None:
        id = self.sections.id_at(index.row())  # noqa: A001
        if id:
            self.sheet.hand.show_section(id)

    def _show_chosen(self, id: str) -> None:  # noqa: A002
        row = self.sections.row_of(id)
        if row != self.list.currentIndex().row():
            self.list.setCurrentIndex(self.sections.index(row) if row >= 0 else QModelIndex())
        self.facts.show_section(id)


def _ids(session: Session) -> tuple[str, ...]:
    return tuple(section.id for section in session.project.sections)


def _scrolled(widget: QWidget) -> QScrollArea:
    """Room for a column of things that scrolls where the window is low."""
    scroll = QScrollArea()
    scroll.setWidgetResizable(True)
    scroll.setFrameShape(QScrollArea.Shape.NoFrame)
    scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    scroll.setWidget(widget)
    scroll.setMinimumWidth(widget.minimumSizeHint().width())
    return scroll


def _button(name: str, tip: str) -> QToolButton:
    button = QToolButton()
    button.setText(name)
    button.setToolTip(tip)
    button.setAccessibleName(f"{name} section")
    return button
