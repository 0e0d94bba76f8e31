"""What is judged, as two tables until layouts are drawn: bottom panels, and members between supports."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QLabel, QSplitter, QVBoxLayout, QWidget

from stringerlab.desktop.pages.subject_table import SubjectTable
from stringerlab.desktop.session import Session
from stringerlab.layout import Panel, Span

_HINT = "Type over a cell in any unit: 18 in, 450 mm, 12,5 deg. Enter takes it, Escape gives it up."


class SubjectsPage(QWidget):
    """Panels above, spans below."""

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
        halves.addWidget(self.spans)
        page = QVBoxLayout(self)
        page.setContentsMargins(16, 12, 16, 12)
        page.setSpacing(10)
        page.addLayout(top)
        page.addWidget(halves, 1)
