"""The plan page: the layout on the hull bottom with its tools, what is selected, and panes beside it."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QSplitter,
    QStackedWidget,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from stringerlab.desktop.plan.canvas import Plan
from stringerlab.desktop.plan.heads import FreshBar, LayoutBar
from stringerlab.desktop.plan.inspector import PlanInspector
from stringerlab.desktop.plan.panes import PANES, GridPane
from stringerlab.desktop.plan.tools import TOOLS
from stringerlab.desktop.session import Session
from stringerlab.desktop.sheet.strip import Strip


class PlanPage(QWidget):
    """Everything about a project's layouts."""

    title = "Plan"

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.plan = Plan(session)
        self.bar = LayoutBar(self.plan)
        self.fresh = FreshBar(self.plan)
        self.strip = Strip(TOOLS, self._take, beside=True)
        self.strip.show_tool(self.plan.hand.tool.name)
        self.plan.hand.tool_changed.connect(self.strip.show_tool)
        self.inspector = PlanInspector(self.plan)
        self.panes = QTabWidget()
        self.panes.setAccessibleName("What stands beside the plan")
        self.panes.setDocumentMode(True)
        self.panes.addTab(_scrolled(self.inspector), "Selected")
        self.below = QTabWidget()
        self.below.setAccessibleName("What stands below the plan")
        self.below.setDocumentMode(True)
        self.below.setMinimumHeight(150)
        self.middle = QStackedWidget()
        self.new_button = QPushButton("New layout")
        self.new_button.setToolTip("Begin an empty layout on this boat's bottom")
        self.new_button.clicked.connect(self.bar.begin)
        self._add_panes()
        self._lay_out()
        session.project_changed.connect(self._show)
        self._show()
        if session.selected:
            self.plan.hand.follow(session.selected)

    def add_pane(self, pane: QWidget, name: str, *, under: bool = False) -> None:
        """Set a pane beside the plan, or below it, on a tab of its own."""
        (self.below if under else self.panes).addTab(pane, name)

    # -- inside ----------------------------------------------------------------------------------

    def _add_panes(self) -> None:
        for title, make in PANES:
            pane = make(self._session)
            self.add_pane(pane, title, under=make.under)
            if isinstance(pane, GridPane):
                pane.overlaid.connect(self.plan.lay_over)
                pane.moved.connect(self.plan.lay_moving)

    def _take(self, id: str) -> None:  # noqa: A002
        self.plan.hand.take(id)
        self.plan.setFocus(Qt.FocusReason.OtherFocusReason)

    def _lay_out(self) -> None:
        empty = QWidget()
        column = QVBoxLayout(empty)
        column.addStretch(1)
        words = QLabel(
            "No layout yet. A layout is a plan of stringers, floors and bulkheads on this boat's bottom;\n"
            "its panels and spans are found by themselves, checked by rule, and analysed as a grid.\n\n"
            "The bottom comes from the stations on the page Boat, its laminate from the zones on Panels and\n"
            "spans, the members' sections from the page Sections. Panels and spans given by hand are judged\n"
            "all the same. File › Samples › Tidewrack layout shows a finished one."
        )
        words.setAlignment(Qt.AlignmentFlag.AlignCenter)
        column.addWidget(words)
        column.addWidget(self.new_button, 0, Qt.AlignmentFlag.AlignHCenter)
        column.addStretch(1)
        self.middle.addWidget(empty)
        self.middle.addWidget(self.plan)
        upright = QSplitter(Qt.Orientation.Vertical)
        upright.addWidget(self.middle)
        upright.addWidget(self.below)
        upright.setStretchFactor(0, 1)
        upright.setSizes([380, 256])
        upright.setCollapsible(0, False)
        beside = QHBoxLayout()
        beside.setContentsMargins(0, 0, 0, 0)
        beside.setSpacing(0)
        self.tools = _scrolled(self.strip, fixed=True)
        beside.addWidget(self.tools)
        beside.addWidget(upright, 1)
        left = QWidget()
        over = QVBoxLayout(left)
        over.setContentsMargins(0, 0, 0, 0)
        over.setSpacing(0)
        over.addWidget(self.bar)
        over.addWidget(self.fresh)
        over.addLayout(beside, 1)
        split = QSplitter()
        split.addWidget(left)
        split.addWidget(self.panes)
        split.setStretchFactor(0, 1)
        split.setSizes([850, 330])
        split.setChildrenCollapsible(False)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(split)

    def _show(self) -> None:
        has = bool(self.plan.hand.layout_id)
        self.middle.setCurrentIndex(1 if has else 0)
        for widget in (self.fresh, self.tools, self.below):
            widget.setVisible(has)


def _scrolled(widget: QWidget, *, fixed: bool = False) -> QScrollArea:
    """Room for a column of things that scrolls where the window is low."""
    scroll = QScrollArea()
    scroll.setWidgetResizable(True)
    scroll.setFrameShape(QScrollArea.Shape.NoFrame)
    scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    scroll.setWidget(widget)
    scroll.setMinimumWidth(widget.minimumSizeHint().width())
    if fixed:
        scroll.setMaximumWidth(widget.sizeHint().width() + 14)
    return scroll
