"""The boat page's group on bonding: knock-downs, rebound, voids, what is allowed of the bead's gap."""

from dataclasses import dataclass
from functools import partial

from PySide6.QtWidgets import QFormLayout, QGroupBox, QLabel, QSizePolicy, QWidget

from stringerlab.desktop.fields import QuantityField
from stringerlab.desktop.pages.problem_strip import ProblemStrip
from stringerlab.desktop.session import Session
from stringerlab.errors import StringerlabError
from stringerlab.materials.records import Sourced
from stringerlab.project.bonding import with_bonding
from stringerlab.units import Kind, trimmed


@dataclass(frozen=True, slots=True)
class Allowance:
    """A number of the form: the field of `Bonding` it is, its words, its meaning."""

    field: str
    name: str
    tip: str
    kind: Kind = Kind.RATIO
    percent: bool = False


class PercentField(QuantityField):
    """A ratio shown in per cent; a bare number is per cent too."""

    def commit(self) -> None:
        """Read what is typed, and tell of a new value."""
        if self.isModified() and self.text().strip()[-1:].isdigit():
            self.setText(f"{self.text().strip()} %")
            self.setModified(True)
        super().commit()

    def _text(self, value: float) -> str:
        return f"{trimmed(100 * value)} %"


ALLOWANCES = (
    Allowance(
        "static", "Joint over adhesive", "Part of the adhesive's strength that a joint on laminate has"
    ),
    Allowance("fatigue", "Fatigue", "Part of the bond's strength that repeated slamming leaves"),
    Allowance("environment", "Wet and warm", "Part of the bond's strength that water and warmth leave"),
    Allowance(
        "through_thickness",
        "Across the plies",
        "Strength of the bonded laminates across their plies, in tension",
        Kind.STRESS,
    ),
    Allowance(
        "rebound", "Rebound", "Part of the design pressure that pulls the hull from the part", percent=True
    ),
    Allowance("voids", "Voids", "Part of the bonded width that is air or does not wet", percent=True),
    Allowance("gap_tolerance", "Gap, more or less", "How far the gap may be off the bead drawn", Kind.LENGTH),
    Allowance(
        "squeeze_out", "Squeezed out", "Adhesive laid besides, as a part of what fills the gap", percent=True
    ),
)


class BondingForm(QGroupBox):
    """Fields of the project's allowances of the bond; each is one edit."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__("Bonding", parent)
        self._session = session
        self.setAccessibleName("Bonding")
        form = QFormLayout(self)
        form.setContentsMargins(0, 4, 0, 4)
        form.setHorizontalSpacing(10)
        form.setVerticalSpacing(6)
        form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
        self.numbers: dict[str, QuantityField] = {}
        for allowance in ALLOWANCES:
            field = (PercentField if allowance.percent else QuantityField)(
                allowance.kind, f"Bonding: {allowance.name}", self
            )
            field.committed.connect(partial(self._typed, allowance))
            field.refused.connect(self._refused)
            label = QLabel(allowance.name)
            label.setBuddy(field)
            label.setToolTip(allowance.tip)
            form.addRow(label, field)
            self.numbers[allowance.field] = field
        said = QLabel(
            "A lap joint of the shop's own laminate and adhesive, tested, replaces the first three."
        )
        said.setWordWrap(True)
        said.setProperty("faint", True)
        said.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Minimum)
        form.addRow(said)
        self.strip = ProblemStrip("Problems of the bonding allowances", self)
        form.addRow(self.strip)
        session.shown_changed.connect(self.refresh)
        self.refresh()

    def refresh(self) -> None:
        """Show the project's allowances, each with where it comes from as its tip."""
        bonding, units = self._session.shown.bonding, self._session.units
        for allowance in ALLOWANCES:
            held: Sourced = getattr(bonding, allowance.field)
            field = self.numbers[allowance.field]
            field.show_value(held.value, units)
            field.setToolTip(f"{allowance.tip}\n{held.source} ({held.known})")
        wrong = [
            problem for problem in self._session.resolved.problems if problem.where.startswith("bonding, ")
        ]
        self.strip.show_problems([(str(problem), "") for problem in wrong])

    def _typed(self, allowance: Allowance, value: float) -> None:
        number = float(f"{value:.12g}")
        try:
            with_bonding(self._session.project, allowance.field, number)
        except StringerlabError as refused:
            self.refresh()
            self._refused(refused.problems[0].what)
            return
        self._session.edit(f"Change {allowance.name.lower()} of bonds", with_bonding, allowance.field, number)

    def _refused(self, reason: str) -> None:
        self.strip.show_problems([(reason, "")])
        self._session.said.emit(reason)
