"""What the members take: materials, cost and labour, by member and by length of section; and the rates."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import QEvent, QModelIndex, QObject, QPersistentModelIndex, QRect, QRectF, Qt
from PySide6.QtGui import QGuiApplication, QPainter, QPalette, QShowEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QFrame,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QPushButton,
    QScrollArea,
    QSplitter,
    QStackedWidget,
    QTabBar,
    QVBoxLayout,
    QWidget,
)

from stringerlab.assess.taken import Sort
from stringerlab.assess.takeoff import Amount, Item, TakeOff, take_off
from stringerlab.desktop.jobs import Job
from stringerlab.desktop.models.takeoff import (
    SHARE_ROLE,
    SORT_ROLE,
    AmountsTable,
    ItemsTable,
    Of,
    Shown,
    TakeOffTable,
)
from stringerlab.desktop.pages.problem_strip import ProblemStrip
from stringerlab.desktop.pages.takeoff_rates import RatesForm
from stringerlab.desktop.pens import theme_of
from stringerlab.desktop.rows_table import RowsTable
from stringerlab.desktop.session import Session
from stringerlab.desktop.verdicts import CellDelegate
from stringerlab.drawing.display import Role
from stringerlab.project.rates import with_price
from stringerlab.units import Kind, format, money, rounded

_NOTHING = (
    "Nothing to take off yet.\n\n"
    "Draw a section, and declare the spans it runs along on the page Panels and spans; "
    "what they take appears here by itself."
)
_MEMBERS, _SECTIONS = range(2)
_ROLES = {
    Sort.FABRIC: Role.ROVING,
    Sort.RESIN: Role.MAT,
    Sort.CORE: Role.CORE,
    Sort.GEL_COAT: Role.GEL_COAT,
    Sort.FILL: Role.FOAM,
    Sort.ADHESIVE: Role.BONDED,
}
"""What a bar is coloured as."""
_ITEM_WIDTHS = (0, 56, 52, 54, 52, 66, 48, 62, 70, 52, 76, 76)
_AMOUNT_WIDTHS = (186, 0, 70, 66, 74, 70, 84, 84, 118)
_NAME_WIDTHS = (186, 300)
"""Of a material's name, on the narrowest and on the widest page."""
_FORM_WIDTH = 250


class ShareDelegate(CellDelegate):
    """A material's part of the mass as a bar in the colour of its kind, and a number."""

    def paint_inside(
        self,
        painter: QPainter,
        box: QRect,
        index: QModelIndex | QPersistentModelIndex,
        text: str,
        palette: QPalette,
        role: QPalette.ColorRole,
        selected: bool,
    ) -> None:
        """Paint the number at the right, the bar in what is left."""
        number = painter.fontMetrics().horizontalAdvance("100 %") + 6
        room = QRectF(box.left(), box.center().y() - 5.5, box.width() - number, 12)
        share, sort = index.data(SHARE_ROLE), index.data(SORT_ROLE)
        if isinstance(share, float) and sort and room.width() > 12:
            theme = theme_of(palette)
            bar = QRectF(room.topLeft(), room.size())
            bar.setWidth(max(room.width() * share, 1.5))
            painter.setPen(palette.color(role))
            painter.setOpacity(0.35 if not selected else 0.7)
            painter.drawLine(room.bottomLeft(), room.bottomRight())
            painter.setOpacity(1.0)
            painter.fillRect(bar, theme.brush(_ROLES[Sort(sort)]).colour)
            painter.setOpacity(0.6)
            painter.drawRect(bar)
            painter.setOpacity(1.0)
        painter.setPen(palette.color(role))
        painter.drawText(box, int(Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignRight), text)


class TakeOffPage(QWidget):
    """Members and sections at the left, the materials of the one chosen below, the rates at the right."""

    title = "Take-off"

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._found: TakeOff | None = None
        self._of: object = None
        self._job = Job(self)
        self._job.finished.connect(self._take)
        self._job.failed.connect(session.problem)
        self.items = ItemsTable(self)
        self.amounts = AmountsTable(self)
        self.rates = RatesForm(session, self)
        self.summary = QLabel()
        self.summary.setAccessibleName("Sum of all members")
        self.notes = QLabel()
        self.notes.setAccessibleName("What the numbers hold")
        self.notes.setWordWrap(True)
        self.notes.setProperty("faint", True)
        self.strip = ProblemStrip("What is not counted", self)
        self.strip.wanted.connect(session.take_to)
        self.chosen = QLabel()
        self.chosen.setAccessibleName("What the materials are of")
        font = self.chosen.font()
        font.setBold(True)
        self.chosen.setFont(font)
        self.table = self._items_table()
        self.materials = self._materials_table()
        self.materials.viewport().installEventFilter(self)
        self._lay_out()
        self.amounts.priced.connect(self._priced)
        self.amounts.refused.connect(session.said)
        session.project_changed.connect(self.refresh)
        session.selection_changed.connect(self._follow)
        self.refresh()

    # -- parts -----------------------------------------------------------------------------------

    def _items_table(self) -> RowsTable:
        table = _table("Members and sections", self.items, _ITEM_WIDTHS)
        table.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        table.copy_wanted.connect(self.copy_items)
        table.opened.connect(self._open)
        table.selectionModel().currentRowChanged.connect(self._chosen)
        return table

    def _materials_table(self) -> RowsTable:
        table = _table("Materials", self.amounts, _AMOUNT_WIDTHS)
        triggers = QAbstractItemView.EditTrigger
        table.setEditTriggers(triggers.DoubleClicked | triggers.EditKeyPressed | triggers.AnyKeyPressed)
        table.setItemDelegateForColumn(Of.SHARE, ShareDelegate(table))
        table.copy_wanted.connect(self.copy_materials)
        table.opened.connect(self._edit)
        return table

    def _lay_out(self) -> None:
        heading = QLabel(self.title)
        heading.setProperty("heading", True)
        top = QHBoxLayout()
        top.setSpacing(14)
        top.addWidget(heading)
        top.addWidget(self.summary)
        top.addStretch(1)
        self.tabs = QTabBar()
        self.tabs.setAccessibleName("Members or sections")
        self.tabs.setDrawBase(False)
        self.tabs.addTab("Members")
        self.tabs.addTab("Sections, by length")
        self.tabs.currentChanged.connect(self._show)
        upper = _panel([self.tabs, None, _button("Copy", "members or sections", self.copy_items)], self.table)
        lower = _panel([self.chosen, None, _button("Copy", "materials", self.copy_materials)], self.materials)
        split = QSplitter(Qt.Orientation.Vertical)
        split.setChildrenCollapsible(False)
        split.addWidget(upper)
        split.addWidget(lower)
        split.setSizes([330, 270])
        form = QScrollArea()
        form.setWidget(self.rates)
        form.setWidgetResizable(True)
        form.setFrameShape(QFrame.Shape.NoFrame)
        form.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        form.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        form.setFixedWidth(_FORM_WIDTH)
        middle = QHBoxLayout()
        middle.setSpacing(18)
        middle.addWidget(split, 1)
        middle.addWidget(form)
        whole = QWidget()
        whole.setLayout(middle)
        middle.setContentsMargins(0, 0, 0, 0)
        nothing = QLabel(_NOTHING)
        nothing.setWordWrap(True)
        nothing.setAlignment(Qt.AlignmentFlag.AlignCenter)
        nothing.setMargin(60)
        self._stack = QStackedWidget()
        self._stack.addWidget(whole)
        self._stack.addWidget(nothing)
        page = QVBoxLayout(self)
        page.setContentsMargins(16, 12, 16, 10)
        page.setSpacing(8)
        page.addLayout(top)
        page.addWidget(self._stack, 1)
        page.addWidget(self.strip)
        page.addWidget(self.notes)

    # -- what others ask for ---------------------------------------------------------------------

    @property
    def found(self) -> TakeOff | None:
        """The take-off shown."""
        return self._found

    def refresh(self) -> None:
        """Show the committed project's rates, and take it off where this is seen."""
        self.rates.refresh()
        if self.isVisible() and self._of is not self._session.project:
            project = self._of = self._session.project
            self._job.start(lambda _: take_off(project))

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Give names of materials more of a wider table, the bars what is left."""
        if event.type() == QEvent.Type.Resize and watched is self.materials.viewport():
            free = self.materials.viewport().width() - sum(_AMOUNT_WIDTHS[Of.MASS :])
            least, most = _NAME_WIDTHS
            self.materials.setColumnWidth(Of.NAME, min(max(round(free * 0.6), least), most))
        return super().eventFilter(watched, event)

    def showEvent(self, event: QShowEvent) -> None:
        """Take off what is there now."""
        super().showEvent(event)
        self.refresh()

    def copy_items(self) -> None:
        """Put the selected rows, or all when but one is, on the clipboard as tab-separated text."""
        self._copy(self.items, self.table, "row")

    def copy_materials(self) -> None:
        """Put the selected materials, or all when but one is, on the clipboard as tab-separated text."""
        self._copy(self.amounts, self.materials, "material")

    def show_item(self, id: str) -> None:  # noqa: A002
        """Choose a row by its id, empty for the sum."""
        row = next((row for row, item in enumerate(self.items.rows) if item.id == id), None)
        if row is not None and self.table.currentIndex().row() != row:
            self.table.setCurrentIndex(self.items.index(row, 0))

    # -- inside ----------------------------------------------------------------------------------

    def _take(self, found: TakeOff) -> None:
        if found.project is self._session.project:
            self._found = found
            self._show()

    def _show(self) -> None:
        found = self._found
        if found is None:
            return
        sections = self.tabs.currentIndex() == _SECTIONS
        shown = Shown(system=self._session.units, currency=found.project.rates.currency, per_length=sections)
        rows: Sequence[Item] = found.sections if sections else (*found.members, found.total)
        if not sections and not found.members:
            rows = ()
        self.items.show_all(rows, shown, lambda item: item.id)
        self._stack.setCurrentIndex(1 if not found.sections and not found.not_counted else 0)
        if not self.table.currentIndex().isValid() and rows:
            self.show_item(rows[-1].id if not sections else rows[0].id)
        self._show_materials()
        self.summary.setText(self._summed(found))
        self.notes.setText(" ".join(found.notes))
        self.strip.show_problems(
            [(str(problem), "") for problem in found.problems]
            + [
                (f"Not counted: {one.name}. {one.problems[0] if one.problems else ''}", one.id)
                for one in found.not_counted
            ]
        )

    def _summed(self, found: TakeOff) -> str:
        if not found.members:
            return "No member is counted"
        total, shown = found.total, self.items.shown
        said = [
            format(total.mass(), Kind.MASS, shown.system),
            f"{shown.number(total.area(Sort.FABRIC), shown.area)} {shown.area} of fabric",
        ]
        if total.hours is not None:
            said.append(f"{rounded(total.hours, 3)} h")
        if total.cost is not None:
            priced = money(total.cost, shown.currency)
            said.append(f"{priced}, not all of it priced" if total.unpriced else priced)
        return ", ".join(said)

    def _show_materials(self) -> None:
        row = self.table.currentIndex().row()
        item = self.items.rows[row] if 0 <= row < len(self.items.rows) else None
        shown = self.items.shown
        per = f", each {'metre' if shown.length == 'm' else 'foot'}" if shown.per_length else ""
        name = item.name if item and item.id else "all members"
        self.chosen.setText(f"Materials of {name}{per}" if item else "Materials")
        self.amounts.show_all(item.amounts if item else (), shown, lambda one: (one.sort, one.material))

    def _chosen(self, current: QModelIndex) -> None:
        self._show_materials()
        row = current.row()
        if 0 <= row < len(self.items.rows) and self.table.hasFocus() and self.items.rows[row].id:
            self._session.select(self.items.rows[row].id)

    def _follow(self, id: str) -> None:  # noqa: A002
        """Choose the row of what is selected elsewhere."""
        if id:
            self.show_item(id)

    def _open(self, index: QModelIndex) -> None:
        if index.isValid() and self.items.rows[index.row()].id:
            self._session.take_to(self.items.rows[index.row()].id)

    def _edit(self, index: QModelIndex) -> None:
        price = index.siblingAtColumn(Of.PRICE)
        self.materials.setCurrentIndex(price)
        self.materials.edit(price)

    def _priced(self, material: str, per_kg: float | None) -> None:
        name = next((one.name for one in self.amounts.rows if one.material == material), material)
        self._session.edit(f"Change price of {name}", with_price, material, per_kg)

    def _copy(self, model: TakeOffTable[Item] | TakeOffTable[Amount], table: RowsTable, word: str) -> None:
        chosen = table.chosen()
        rows = chosen if len(chosen) > 1 else list(range(model.rowCount()))
        if rows:
            QGuiApplication.clipboard().setText(model.as_text(rows))
            self._session.said.emit(f"{len(rows)} {word}{'s' if len(rows) > 1 else ''} copied.")


def _table(name: str, model: TakeOffTable[Item] | TakeOffTable[Amount], widths: Sequence[int]) -> RowsTable:
    table = RowsTable(name)
    table.setModel(model)
    header = table.horizontalHeader()
    header.setMinimumSectionSize(40)
    for column, width in enumerate(widths):
        if width:
            table.setColumnWidth(column, width)
        else:
            header.setSectionResizeMode(column, QHeaderView.ResizeMode.Stretch)
    table.setMinimumHeight(110)
    return table


def _panel(head: Sequence[QWidget | None], table: QWidget) -> QWidget:
    """Return a table under a line of widgets, None for room between them."""
    line = QHBoxLayout()
    for widget in head:
        if widget is None:
            line.addStretch(1)
        else:
            line.addWidget(widget)
    panel = QWidget()
    column = QVBoxLayout(panel)
    column.setContentsMargins(0, 0, 0, 0)
    column.setSpacing(6)
    column.addLayout(line)
    column.addWidget(table, 1)
    return panel


def _button(words: str, of: str, deed: Callable[[], object]) -> QPushButton:
    button = QPushButton(words)
    button.setAccessibleName(f"{words} {of}")
    button.setToolTip(f"{words} the selected {of}, or all, as tab-separated text (Ctrl+C)")
    button.clicked.connect(deed)
    return button
