"""What is judged, as tables until layouts are drawn: panels, members between supports, and hull zones."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QLabel, QSplitter, QTabWidget, QVBoxLayout, QWidget

from stringerlab.desktop.pages.span_details import SpanDetails
from stringerlab.desktop.pages.subject_table import SubjectTable
from stringerlab.desktop.session import Session
from stringerlab.layout import Panel, Span, Zone

_HINT = "Type over a cell in any unit: 18 in, 450 mm, 12,5 deg. Enter takes it, Escape gives it up."


class SubjectsPage(QWidget):
    """Panels above, spans below, and what a span has in detail under them."""

    title = "Panels and spans"

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        heading = QLabel(self.title)
        heading.setProperty("heading", True)
        hint = QLabel(_HINT)
        hint.setProperty("faint", True)
        top = QHBoxLayout()
        top.addWidget(heading)
        top.addStretch(1)
        top.addWidget(hint)
        self.panels = SubjectTable(session, Panel, "Panels", below=10)
        self.spans = SubjectTable(session, Span, "Spans", above=10)
        halves = QSplitter(Qt.Orientation.Vertical)
        halves.setChildrenCollapsible(False)
        halves.addWidget(self.panels)
        halves.addWidget(self._with_details(session))
        page = QVBoxLayout(self)
        page.setContentsMargins(16, 12, 16, 12)
        page.setSpacing(10)
        page.addLayout(top)
        self.zones = SubjectTable(session, Zone, "Hull laminate zones", above=10)
        self.tabs = QTabWidget()
        self.tabs.setDocumentMode(True)
        self.tabs.setAccessibleName("Panels and spans, or zones")
        self.tabs.addTab(halves, "Panels and spans")
        self.tabs.addTab(self.zones, "Zones")
        page.addWidget(self.tabs, 1)
        session.selection_changed.connect(self._follow)

    def _with_details(self, session: Session) -> QWidget:
        """Return the spans with their details under them; these open in the room of the panels."""
        self.details = SpanDetails(session)
        self.details.opened.connect(self._make_room)
        held = QWidget()
        column = QVBoxLayout(held)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        column.addWidget(self.spans, 1)
        column.addWidget(self.details)
        return held

    def _make_room(self, details: bool) -> None:
        self.panels.setVisible(not details)

    def _follow(self, id: str) -> None:  # noqa: A002
        """Turn to the table of what is selected elsewhere."""
        if any(zone.id == id for zone in self.zones.model.records):
            self.tabs.setCurrentWidget(self.zones)
        elif any(one.id == id for one in (*self.panels.model.records, *self.spans.model.records)):
            self.tabs.setCurrentIndex(0)
            if any(panel.id == id for panel in self.panels.model.records):
                self.details.button.setChecked(False)
