"""Tested coupons of a reinforcement under its values: typed, added, deleted, and what to ask of them."""

from PySide6.QtCore import QAbstractItemModel, QItemSelectionModel, QModelIndex, Qt, Signal
from PySide6.QtGui import QAction, QGuiApplication, QKeySequence
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QLineEdit,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from stringerlab.desktop.models.coupons import (
    FIELDS,
    KINDS,
    ROLE,
    Column,
    CouponTable,
    bare_numbers,
    estimate_of,
    method_words,
    used_words,
)
from stringerlab.desktop.models.material_values import property_words
from stringerlab.desktop.models.rows import Index
from stringerlab.desktop.pages.cell_editors import CellChoice, CellField, open_choice
from stringerlab.desktop.rows_table import RowsTable
from stringerlab.desktop.session import Session
from stringerlab.materials.coupons import coupon_doubts
from stringerlab.materials.records import Property, Reinforcement
from stringerlab.project import coupons as edits

_SHOWN_ROWS = 5
"""Rows that the table grows to before it scrolls."""
_SAID = 3
"""Doubts said before the rest are counted."""
_MARGINS = 14
"""Pixels of a cell that its words do not have."""
_LAYERED = (
    "This fabric is counted layer by layer, so coupons of the whole cannot stand in place of the estimate: "
    "test its layers as plies of their own, or enter the fabric as one of a plain kind."
)
_PLACEHOLDER = "Coupons of a laminate laid of this: their lower bound stands in place of the estimate."
_WIDTHS = {
    Column.PROPERTY: "Compression 1",
    Column.MEAN: "000000",
    Column.DEVIATION: "Std dev0",
    Column.COUNT: "000",
    Column.GLASS: "Glass0",
    Column.THICKNESS: "Thick0",
    Column.STANDARD: "ISO 14130",
    Column.BOUND: "000000",
    Column.METHOD: "not used",
    Column.ESTIMATE: "Estimate0",
}


class CouponDelegate(QStyledItemDelegate):
    """Editors of coupons: a choice of properties, fields that read units, lines of words."""

    def __init__(self, session: Session, parent: QWidget) -> None:
        super().__init__(parent)
        self._session = session

    def createEditor(self, parent: QWidget, option: QStyleOptionViewItem, index: Index) -> QWidget:
        """Return the editor of a cell."""
        column = Column(index.column())
        del option
        name = f"{index.model().headerData(column, Qt.Orientation.Horizontal)}".replace("\n", " ").strip()
        if column is Column.PROPERTY:
            box = CellChoice(name, parent)
            for each in Property:
                box.addItem(property_words(each), each.value)
            box.view().setMinimumWidth(box.sizeHint().width())
            box.done.connect(lambda: self._done(box))
            return box
        if column in KINDS:
            return CellField(KINDS[column], name, parent)
        line = QLineEdit(parent)
        line.setAccessibleName(name)
        line.setFrame(False)
        return line

    def setEditorData(self, editor: QWidget, index: Index) -> None:
        """Show the cell's value in its editor."""
        value = index.data(ROLE.EditRole)
        if isinstance(editor, CellChoice):
            editor.setCurrentIndex(editor.findData(str(value)))
        elif isinstance(editor, CellField):
            editor.begin(None if value is None else float(value), self._session.units)
        elif isinstance(editor, QLineEdit) and not editor.isModified():
            editor.setText(str(value))
            editor.selectAll()

    def setModelData(self, editor: QWidget, model: QAbstractItemModel, index: Index) -> None:
        """Put what was typed into the project; what does not read is said and changes nothing."""
        if isinstance(editor, CellChoice):
            if editor.currentData() is not None:
                model.setData(index, editor.currentData())
        elif isinstance(editor, CellField):
            editor.take(lambda value: model.setData(index, value), self._session.said.emit)
        elif isinstance(editor, QLineEdit):
            model.setData(index, editor.text())

    def _done(self, box: CellChoice) -> None:
        self.commitData.emit(box)
        self.closeEditor.emit(box, QStyledItemDelegate.EndEditHint.NoHint)


class CouponPanel(QWidget):
    """The coupons of the reinforcement shown; hidden for what is none."""

    copy_wanted = Signal()
    """Coupons are to be added to a shipped material: it is to become the project's own first."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.model = CouponTable(session, self)
        self.table = RowsTable("Tested coupons")
        self.said = QLabel()
        heading = QLabel("Tested coupons")
        font = heading.font()
        font.setBold(True)
        heading.setFont(font)
        heading.setBuddy(self.table)
        row = QHBoxLayout()
        row.setSpacing(6)
        row.addWidget(heading)
        row.addSpacing(6)
        self.deeds = {
            "Add": self._deed(
                row, "Add", "Ins", "Add a set of coupons; of a shipped material, to an own copy"
            ),
            "Delete": self._deed(row, "Delete", "Del", "Delete the selected sets; undo brings them back"),
        }
        self.deeds["Add"].triggered.connect(self.add)
        self.deeds["Delete"].triggered.connect(self.delete)
        self.used = QLabel()
        self.used.setProperty("faint", True)
        row.addSpacing(6)
        row.addWidget(self.used, 1)
        self.said.setWordWrap(True)
        self.said.setProperty("faint", True)
        self.said.setAccessibleName("What is to be asked about the coupons")
        self.said.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self._set_up_table()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 4, 0, 0)
        column.setSpacing(4)
        column.addLayout(row)
        column.addWidget(self.table)
        column.addWidget(self.said)

    def show_material(self, material: Reinforcement | None, own: bool) -> None:
        """Show a reinforcement's coupons; of a fabric reckoned layer by layer, why it has none."""
        self.setVisible(material is not None)
        self.model.show_material(material, own)
        count = self.model.rowCount()
        self.table.setVisible(count > 0)
        self._fit(min(count, _SHOWN_ROWS))
        self.used.setText(used_words(self._session.shown) if count else "")
        self.used.setToolTip(method_words(self._session.shown))
        self._enable()
        self._say(material)

    def add(self) -> None:
        """Add a set of coupons and begin to choose its property; a shipped material is copied first."""
        if self.model.material is not None and not self.model.own:
            self.copy_wanted.emit()
        material = self.model.material
        if material is None or not self.model.own:
            return
        numbers = bare_numbers(material, self._session.project)
        fresh = edits.fresh_coupons(material, lambda tested: estimate_of(numbers, tested))
        label = f"Add coupons to {material.name}"
        if self._session.edit(label, edits.with_coupons, material.id, (fresh,)):
            index = self.model.index(self.model.rowCount() - 1, Column.MEAN)
            self.table.setCurrentIndex(index)
            self.table.setFocus(Qt.FocusReason.OtherFocusReason)

    def delete(self) -> None:
        """Delete the selected sets."""
        material, chosen = self.model.material, self.table.chosen()
        if material is None or not self.model.own or not chosen:
            return
        words = "coupons" if len(chosen) == 1 else f"{len(chosen)} sets of coupons"
        label = f"Delete {words} of {material.name}"
        if self._session.edit(label, edits.without_coupons, material.id, chosen) and self.model.rowCount():
            last = self.model.index(min(chosen[0], self.model.rowCount() - 1), 0)
            flags = QItemSelectionModel.SelectionFlag
            self.table.selectionModel().setCurrentIndex(last, flags.ClearAndSelect | flags.Rows)

    def copy(self) -> None:
        """Copy the selected sets, or all, as text with tabs between, the heads first."""
        rows = self.table.chosen() or list(range(self.model.rowCount()))
        across = Qt.Orientation.Horizontal
        heads = [str(self.model.headerData(column, across)).replace("\n", ", ") for column in Column]
        lines = [[head.removesuffix(", ") for head in heads]]
        lines += [[str(self.model.index(row, column).data()) for column in Column] for row in rows]
        QGuiApplication.clipboard().setText("\n".join("\t".join(line) for line in lines))

    # -- inside ----------------------------------------------------------------------------------

    def _set_up_table(self) -> None:
        table = self.table
        table.setModel(self.model)
        table.setItemDelegate(CouponDelegate(self._session, table))
        triggers = QAbstractItemView.EditTrigger
        table.setEditTriggers(triggers.DoubleClicked | triggers.EditKeyPressed | triggers.AnyKeyPressed)
        table.setStyleSheet("QTableView::item { padding: 0 3px; }")
        table.verticalHeader().setDefaultSectionSize(self.fontMetrics().height() + 9)
        table.opened.connect(self._edit)
        table.copy_wanted.connect(self.copy)
        table.doubleClicked.connect(lambda: open_choice(table))
        table.selectionModel().selectionChanged.connect(self._enable)
        head, measure = table.horizontalHeader(), self.fontMetrics().horizontalAdvance
        for column in Column:
            stretched = column is Column.SOURCE
            mode = QHeaderView.ResizeMode.Stretch if stretched else QHeaderView.ResizeMode.Interactive
            head.setSectionResizeMode(column, mode)
            if not stretched:
                table.setColumnWidth(column, measure(_WIDTHS[column]) + _MARGINS)
        head.setMinimumSectionSize(measure("000") + _MARGINS)

    def _fit(self, rows: int) -> None:
        """Give the table the room of so many rows, and no more."""
        head = self.table.horizontalHeader().sizeHint().height()
        each = self.table.verticalHeader().defaultSectionSize()
        self.table.setFixedHeight(head + rows * each + 2 * self.table.frameWidth() + 2)

    def _deed(self, row: QHBoxLayout, words: str, keys: str, tip: str) -> QAction:
        action = QAction(words, self)
        action.setToolTip(f"{tip} ({keys})")
        action.setShortcut(QKeySequence(keys))
        action.setShortcutContext(Qt.ShortcutContext.WidgetShortcut)
        self.table.addAction(action)
        button = QToolButton()
        button.setDefaultAction(action)
        button.setAccessibleName(f"{words}: coupons")
        row.addWidget(button)
        return action

    def _edit(self, index: QModelIndex) -> None:
        if index.column() in FIELDS and index.flags() & Qt.ItemFlag.ItemIsEditable:
            self.table.edit(index)
            open_choice(self.table)

    def _enable(self) -> None:
        material = self.model.material
        self.deeds["Add"].setEnabled(material is not None and not material.layers)
        self.deeds["Delete"].setEnabled(self.model.own and bool(self.table.chosen()))

    def _say(self, material: Reinforcement | None) -> None:
        if material is None:
            return
        doubts = [f"? {doubt}" for doubt in coupon_doubts(material, "")]
        lines = [line.replace("? , ", "? ") for line in doubts[:_SAID]]
        if len(doubts) > _SAID:
            lines.append(f"… and {len(doubts) - _SAID} more to be asked")
        nothing = _LAYERED if material.layers else _PLACEHOLDER
        self.said.setText("\n".join(lines) if material.coupons else nothing)
        self.said.setVisible(bool(self.said.text()))
