"""What was found: what was seen of the space, plot, design picked, table; or what nothing holds."""

from PySide6.QtCore import QEvent, QItemSelectionModel, QModelIndex, QObject, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QPushButton,
    QScrollArea,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from stringerlab.desktop.rows_table import RowsTable
from stringerlab.desktop.session import Session
from stringerlab.desktop.sizing.designs import DesignsTable, SortedDesigns, all_designs, design_name
from stringerlab.desktop.sizing.fields import bold
from stringerlab.desktop.sizing.front_chart import FrontChart, Spot
from stringerlab.desktop.sizing.picked import PickedPane
from stringerlab.desktop.sizing.said import (
    NEAREST,
    Look,
    axes_of,
    boat_words,
    holds,
    is_nearest,
    seen_words,
    value_of,
)
from stringerlab.methods import NOTICE
from stringerlab.sizing.records import Design, Sized

STALE_BOAT = "Of an earlier state of the boat: what was changed since is not in these numbers."
_SAID_ABOVE = ("Proven: ", "Found, not proven: ")
"""How notes begin that say at length what stands over the plot already."""
STALE_PLAN = "Of an earlier state of what is asked."
_AIR = 8
"""Beside the widest of a column, in pixels."""
_APART = 7
"""Between a title and the arrow that shows the order, in pixels."""


class ResultsView(QWidget):
    """The right side of the page once something was found."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._sized: Sized | None = None
        self._picking = False
        self._fitting = True
        self._widened = False
        """Whether a person has set the width of a column of this result."""
        self.seen = QLabel()
        self.seen.setAccessibleName("What was seen of the space")
        self.seen.setWordWrap(True)
        self.stale = bold(QLabel())
        self.stale.setAccessibleName("State of the result")
        self.stale.setWordWrap(True)
        self.stale.hide()
        self.broken = QLabel()
        self.broken.setAccessibleName("Why nothing holds")
        self.broken.setWordWrap(True)
        self.broken.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.chart = FrontChart()
        self.chart.picked.connect(self.pick)
        self.chart.opened.connect(self._to_deeds)
        self.pane = PickedPane(session)
        self.designs = DesignsTable(self)
        self.sorted = SortedDesigns(self.designs, self)
        self.table = RowsTable("Designs")
        self.table.setModel(self.sorted)
        self.table.setSortingEnabled(True)
        self.table.horizontalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
        self.table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.table.setMinimumHeight(104)
        self.table.horizontalHeader().sectionResized.connect(self._column_resized)
        self.table.horizontalHeader().sortIndicatorChanged.connect(self._widths)
        self.table.viewport().installEventFilter(self)
        self.table.selectionModel().currentRowChanged.connect(self._row_chosen)
        self.table.copy_wanted.connect(self.copy)
        self.table.opened.connect(self._to_deeds)
        self.notes = QLabel()
        self.notes.setAccessibleName("Notes and notice")
        self.notes.setWordWrap(True)
        self.notes.setProperty("faint", True)
        self.copy_button = QPushButton("Copy")
        self.copy_button.setAccessibleName("Copy designs")
        self.copy_button.setToolTip("Copy the selected designs, or all, as tab-separated text (Ctrl+C)")
        self.copy_button.clicked.connect(self.copy)
        self._lay_out()

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        head.addWidget(self.seen, 1)
        head.addWidget(self.copy_button, 0, Qt.AlignmentFlag.AlignTop)
        self._upper = QSplitter(Qt.Orientation.Horizontal)
        self._upper.setChildrenCollapsible(False)
        self._upper.addWidget(self.chart)
        self._upper.addWidget(self.pane)
        self._upper.setStretchFactor(0, 3)
        self._upper.setStretchFactor(1, 2)
        self._upper.setSizes([430, 340])
        self._split = QSplitter(Qt.Orientation.Vertical)
        self._split.setChildrenCollapsible(False)
        self._split.addWidget(self._upper)
        self._split.addWidget(self.table)
        self._split.setStretchFactor(0, 3)
        self._split.setStretchFactor(1, 2)
        self._split.setSizes([330, 190])
        foot = QScrollArea()
        foot.setWidget(self.notes)
        foot.setWidgetResizable(True)
        foot.setAccessibleName("Notes and notice")
        foot.setMaximumHeight(76)
        foot.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        page = QVBoxLayout(self)
        page.setContentsMargins(0, 0, 0, 0)
        page.setSpacing(7)
        page.addWidget(self.stale)
        page.addLayout(head)
        page.addWidget(self.broken)
        page.addWidget(self._split, 1)
        page.addWidget(foot)

    # -- what others ask for ---------------------------------------------------------------------

    @property
    def sized(self) -> Sized | None:
        """What is shown."""
        return self._sized

    @property
    def picked(self) -> int:
        """The number of the design picked, 0 for the present boat, −1 for none."""
        return self.chart.current

    def show_sized(self, sized: Sized) -> None:
        """Show what was found, its first design picked."""
        self._sized = sized
        self._fitting, self._widened = True, False
        self.designs.show_sized(sized, self._look())
        self.table.sortByColumn(0, Qt.SortOrder.AscendingOrder)
        self._widths()
        self._words(sized)
        self._spots(sized)
        self.pick(1 if sized.front else 0)

    def clear(self) -> None:
        """Show nothing: another boat is open."""
        self._sized = None
        self.designs.show_sized(None, self._look())
        self.chart.show_spots((), "", "")
        self.pane.stop()
        self.pane.show_design(None, -1)
        self.mark_stale("")

    def refresh(self) -> None:
        """Show the same in the project's units now."""
        sized, picked = self._sized, self.picked
        if sized is not None:
            self.designs.show_sized(sized, self._look())
            self._words(sized)
            self._spots(sized)
            self.pick(picked)
        self.pane.refresh()

    def mark_stale(self, words: str) -> None:
        """Say that the boat or the question is another by now; empty when they are the same."""
        self.stale.setText(f"△ {words}" if words else "")
        self.stale.setVisible(bool(words))

    def pick(self, number: int) -> None:
        """Pick a design everywhere: plot, table, pane."""
        if self._picking or self._sized is None:
            return
        self._picking = True
        self.chart.pick(number)
        row = self.sorted.row(number) if number >= 0 else -1
        if row >= 0 and self.table.currentIndex().row() != row:
            flags = QItemSelectionModel.SelectionFlag
            index = self.sorted.index(row, 0)
            self.table.selectionModel().setCurrentIndex(index, flags.ClearAndSelect | flags.Rows)
            self.table.scrollTo(index)
        self.pane.show_design(self._sized, number)
        self._picking = False

    def copy(self) -> None:
        """Put the selected designs, or all when but one is, on the clipboard as tab-separated text."""
        rows = self.table.chosen()
        if len(rows) < 2:
            rows = list(range(self.sorted.rowCount()))
        if rows:
            text = self.designs.as_text([self.sorted.number(row) for row in rows])
            QGuiApplication.clipboard().setText(text)
            self._session.said.emit(f"{len(rows)} design{'s' if len(rows) > 1 else ''} copied.")

    # -- inside ----------------------------------------------------------------------------------

    def _look(self) -> Look:
        return Look(system=self._session.units, currency=self._session.project.rates.currency)

    def _words(self, sized: Sized) -> None:
        count = len(sized.front)
        found = f"{count} design{'s' if count > 1 else ''} no other beats. " if count else ""
        near = f" {NEAREST}" if is_nearest(sized) else ""
        self.seen.setText(f"{found}{seen_words(sized)}{near}")
        told = [note for note in sized.notes if note.startswith(_SAID_ABOVE)]
        self.seen.setToolTip("\n".join(told))
        lines = [f"× {one.words}" for one in sized.broken]
        self.broken.setText("\n".join(["Nothing holds every demand:", *lines]) if lines else "")
        self.broken.setVisible(bool(lines))
        self.notes.setText("\n".join([*(note for note in sized.notes if note not in told), NOTICE]))

    def _spots(self, sized: Sized) -> None:
        look = self._look()
        across, up = axes_of(sized.plan)

        def spot(number: int, design: Design) -> Spot:
            name = boat_words(sized) if number == 0 else f"Design {design_name(number)}"
            values = [value_of(design, aim, sized.plan) for aim in (across, up)]
            told = [look.of(aim, value) for aim, value in zip((across, up), values, strict=True)]
            return Spot(
                x=values[0] / look.factor(across),
                y=values[1] / look.factor(up),
                holds=holds(design),
                words="\n".join(
                    [
                        f"{name}: {' and '.join(told)}",
                        *(f"{n}: {v}" for n, v in zip(sized.names, design.values, strict=True)),
                        *([] if holds(design) else ["does not hold every demand"]),
                    ]
                ),
                present=number == 0,
                name="nearest to the present boat" if is_nearest(sized) else "",
            )

        spots = [spot(number, design) for number, design in enumerate(all_designs(sized))]
        self.chart.show_spots(spots, look.title(across), look.title(up))

    def _widths(self) -> None:
        """Give numbers the room they need, words what is left, short ones first; widths a person set stay."""
        if self._widened:
            return
        self._fitting = True
        table, model = self.table, self.designs
        header = table.horizontalHeader()
        columns = range(model.columnCount())
        sorted_by = header.sortIndicatorSection()
        titled = [self._titled(each, arrow=each == sorted_by) for each in columns]
        wanted = {each: max(table.sizeHintForColumn(each) + _AIR, titled[each]) for each in columns}
        words = sorted((each for each in columns if not model.is_number(each)), key=wanted.__getitem__)
        left = table.viewport().width() - sum(wanted[each] for each in wanted if each not in words)
        for place, column in enumerate(words):
            wanted[column] = min(wanted[column], max(left // (len(words) - place), titled[column]))
            left -= wanted[column]
        if words:
            wanted[max(words)] += max(left, 0)
        for column, width in wanted.items():
            table.setColumnWidth(column, width)
        self._fitting = False

    def _titled(self, column: int, *, arrow: bool) -> int:
        """Return how wide a title stands; Qt leaves every one room for an arrow as high as its lines."""
        header = self.table.horizontalHeader()
        lines = str(self.designs.headerData(column, Qt.Orientation.Horizontal)).count("\n") + 1
        spare = 0 if arrow else header.fontMetrics().height() * lines + _APART
        return header.sectionSizeHint(column) - spare

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Fit the columns to the table when it has another width."""
        if event.type() == QEvent.Type.Resize:
            self._widths()
        return super().eventFilter(watched, event)

    def _column_resized(self, column: int, before: int, now: int) -> None:
        del column
        self._widened = self._widened or (not self._fitting and before > 0 and now > 0)

    def _to_deeds(self) -> None:
        """Go to what may be done with the design picked."""
        self.pane.first_deed().setFocus()

    def _row_chosen(self, current: QModelIndex) -> None:
        if current.isValid():
            self.pick(self.sorted.number(current.row()))
