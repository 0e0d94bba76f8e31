"""The pane of supports and rules: how edges hold the grid, and how it is analysed."""

from typing import Any

from PySide6.QtWidgets import QGroupBox, QLabel, QVBoxLayout, QWidget

from stringerlab.desktop.models.subject_field import Field
from stringerlab.desktop.pages.problem_strip import ProblemStrip
from stringerlab.desktop.plan.panes.forms import FieldForm
from stringerlab.desktop.plan.panes.thing_fields import RULES, SUPPORTS
from stringerlab.desktop.plan.panes.things import layout_shown
from stringerlab.desktop.session import Session
from stringerlab.project import planning

_SAID = (
    "Marks on the plan: triangle simple, square clamped, diamond elastic, circle free. "
    "A bulkhead holds whatever stands on it."
)


class RulesPane(QWidget):
    """Two forms, each value one edit."""

    title = "Supports"
    under = False
    """Whether it stands below the plan rather than beside it."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.supports = FieldForm(session, SUPPORTS, "support")
        self.rules = FieldForm(session, RULES, "rule")
        self.strip = ProblemStrip("Problems of supports and rules")
        column = QVBoxLayout(self)
        column.setContentsMargins(8, 8, 8, 8)
        for name, form in (("Edges of the bottom", self.supports), ("Analysis of the grid", self.rules)):
            group = QGroupBox(name)
            inside = QVBoxLayout(group)
            inside.setContentsMargins(0, 4, 0, 4)
            inside.addWidget(form)
            column.addWidget(group)
            form.refused.connect(self._refused)
        said = QLabel(_SAID)
        said.setWordWrap(True)
        said.setProperty("faint", True)
        column.addWidget(self.strip)
        column.addWidget(said)
        column.addStretch(1)
        self.supports.put.connect(self._support)
        self.rules.put.connect(self._rule)
        session.project_changed.connect(self.refresh)
        self.refresh()

    def refresh(self) -> None:
        """Show the committed layout's."""
        layout = layout_shown(self._session.project)
        self.supports.show_record(layout.supports if layout else None)
        self.rules.show_record(layout.rules if layout else None)
        self.strip.show_problems([])

    def _support(self, field: Field, value: Any) -> None:
        layout = layout_shown(self._session.project)
        if layout is not None:
            fresh = field.put(layout.supports, value)
            self._session.edit(
                f"Change {field.title} of the supports",
                planning.with_layout_values,
                layout.id,
                supports=fresh,
            )

    def _rule(self, field: Field, value: Any) -> None:
        layout = layout_shown(self._session.project)
        if layout is not None:
            fresh = field.put(layout.rules, value)
            self._session.edit(
                f"Change {field.title} of the grid", planning.with_layout_values, layout.id, rules=fresh
            )

    def _refused(self, reason: str) -> None:
        self.strip.show_problems([(reason, "")])
