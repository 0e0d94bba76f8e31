"""The rates of a take-off as a form: currency, waste, an hour's cost, hours by task. Each is an edit."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent
from PySide6.QtWidgets import QFormLayout, QHBoxLayout, QLabel, QLineEdit, QWidget

from stringerlab.desktop.session import Session
from stringerlab.errors import StringerlabError
from stringerlab.project import Project
from stringerlab.project.rates import with_rates
from stringerlab.units import Kind, System, parse, trimmed, unit_named

_TYPED, _CONVERTED = 6, 4
"""Digits of a rate shown as it was typed, and in another unit than it was typed in."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rate:
    """A number of the form: the field of the rates it is, its words, what it is for each of, by system."""

    field: str
    name: str
    tip: str
    unit: Callable[[System, str], str]
    per: tuple[str, str] = ("", "")
    """Units it is for one of, metric and US; empty for a bare number."""
    percent: bool = False

    def factor(self, system: System) -> float:
        """Return what a rate is multiplied by to be shown."""
        metric, us = self.per
        if self.percent:
            return 100.0
        if system is System.METRIC or not us:
            return 1.0
        return unit_named(us).factor / unit_named(metric).factor


def _waste(field: str, name: str, tip: str) -> Rate:
    return Rate(field=field, name=name, tip=tip, unit=lambda _, __: "%", percent=True)


def _hours(field: str, name: str, tip: str, metric: str, us: str) -> Rate:
    def unit(system: System, _: str) -> str:
        return f"h/{metric if system is System.METRIC else us}"

    return Rate(field=field, name=name, tip=tip, unit=unit, per=(metric, us))


WASTE = (
    _waste("fabric_waste", "Fabric, core", "Offcuts, as a part of what is built in"),
    _waste("resin_waste", "Resin, gel coat", "Left in pots and rollers, as a part of what is built in"),
    _waste("adhesive_waste", "Adhesive", "Squeezed out and left in nozzles, as a part of what is built in"),
)
LABOUR = (
    Rate(
        field="hour",
        name="An hour",
        tip="What an hour's labour costs",
        unit=lambda _, currency: f"{currency}/h" if currency else "per h",
    ),
    _hours("lay_up", "Lay-up", "Hours for so much laminate: fabric, resin and core", "kg", "lb"),
    _hours("gel_coating", "Gel coating", "Hours for so much area of gel coat", "m²", "ft²"),
    _hours("bonding", "Bonding", "Hours for so long a bead", "m", "ft"),
    _hours("filling", "Filling", "Hours for so much foam, blocks and putty", "kg", "lb"),
)


class NumberField(QLineEdit):
    """A bare number; Enter or leaving it commits, Escape takes the typing back, what does not read stays."""

    committed = Signal(float)

    def __init__(self, name: str, tip: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._value = 0.0
        self._digits = _TYPED
        self._tip = tip
        self.setAccessibleName(name)
        self.setObjectName(name)
        self.setToolTip(tip)
        self.setAlignment(Qt.AlignmentFlag.AlignRight)
        self.setPlaceholderText("none set")
        self.editingFinished.connect(self.commit)

    def show_value(self, value: float, digits: int = _TYPED) -> None:
        """Show a number to so many digits, nothing for 0."""
        self._value, self._digits = value, digits
        self.setText(trimmed(value, digits) if value else "")
        self._mark("")

    def commit(self) -> None:
        """Read what is typed, and tell of a new number; nothing typed is 0."""
        if not self.isModified():
            return
        text = self.text().strip().removesuffix("%")
        try:
            value = parse(text, Kind.RATIO) if text else 0.0
        except StringerlabError as error:
            self._mark(str(error))
            return
        self.setModified(False)
        if value not in (self._value, float(f"{self._value:.{self._digits}g}")):
            self.committed.emit(value)
        else:
            self.show_value(self._value, self._digits)

    def refuse(self, reason: str) -> None:
        """Leave what was typed, marked, with the reason as tip."""
        self._mark(reason)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take the typing back on Escape."""
        if event.key() == Qt.Key.Key_Escape and (self.isModified() or self.property("wrong")):
            self.show_value(self._value, self._digits)
            self.selectAll()
            return
        super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Select all, so that typing replaces."""
        super().focusInEvent(event)
        self.selectAll()

    def _mark(self, reason: str) -> None:
        self.setToolTip(reason or self._tip)
        self.setProperty("wrong", bool(reason))
        self.style().unpolish(self)
        self.style().polish(self)


class RatesForm(QWidget):
    """The form. Prices are typed beside the materials."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.setAccessibleName("Rates")
        self.currency = QLineEdit(self)
        self.currency.setAccessibleName("Currency")
        self.currency.setToolTip("The word beside sums, such as EUR")
        self.currency.setMaxLength(12)
        self.currency.editingFinished.connect(self._named)
        self.numbers: dict[str, NumberField] = {}
        self._units: dict[str, QLabel] = {}
        form = QFormLayout(self)
        form.setContentsMargins(0, 0, 0, 0)
        form.setVerticalSpacing(6)
        form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
        form.addRow("Currency", self.currency)
        form.addRow(_heading("Waste"))
        for rate in WASTE:
            form.addRow(rate.name, self._row(rate))
        form.addRow(_heading("Labour"))
        for rate in LABOUR:
            form.addRow(rate.name, self._row(rate))
        said = QLabel(
            "What has no rate is left out of hours and cost, and named. "
            "Prices are typed in the column Price, beside each material."
        )
        said.setWordWrap(True)
        said.setProperty("faint", True)
        form.addRow(said)

    def refresh(self) -> None:
        """Show the committed project's rates."""
        rates, system = self._session.project.rates, self._session.units
        if not self.currency.isModified():
            self.currency.setText(rates.currency)
        for rate in (*WASTE, *LABOUR):
            factor = rate.factor(system)
            digits = _TYPED if factor == 1 or rate.percent else _CONVERTED
            self.numbers[rate.field].show_value(factor * getattr(rates, rate.field), digits)
            self._units[rate.field].setText(rate.unit(system, rates.currency))

    def _row(self, rate: Rate) -> QWidget:
        field = NumberField(rate.name, rate.tip, self)
        field.committed.connect(partial(self._typed, rate))
        unit = QLabel(self)
        unit.setProperty("faint", True)
        unit.setMinimumWidth(52)
        self.numbers[rate.field], self._units[rate.field] = field, unit
        row = QWidget(self)
        line = QHBoxLayout(row)
        line.setContentsMargins(0, 0, 0, 0)
        line.setSpacing(6)
        line.addWidget(field, 1)
        line.addWidget(unit)
        return row

    def _typed(self, rate: Rate, value: float) -> None:
        field = self.numbers[rate.field]
        number = float(f"{value / rate.factor(self._session.units):.12g}")
        try:
            with_rates(self._session.project, **{rate.field: number})
        except StringerlabError as refused:
            field.refuse("\n".join(str(problem) for problem in refused.problems))
            self._session.said.emit(refused.problems[0].what)
            return
        self._session.edit(f"Change {_said(rate)}", _with_rate, rate.field, number)

    def _named(self) -> None:
        text = self.currency.text().strip()
        if self.currency.isModified():
            self.currency.setModified(False)
            if text != self._session.project.rates.currency:
                self._session.edit("Change currency", _with_rate, "currency", text)


def _with_rate(project: Project, field: str, value: float | str) -> Project:
    return with_rates(project, **{field: value})


def _said(rate: Rate) -> str:
    if rate.percent:
        return f"waste of {rate.name.lower()}"
    return "an hour's cost" if rate.field == "hour" else f"hours of {rate.name.lower()}"


def _heading(words: str) -> QLabel:
    label = QLabel(words)
    font = label.font()
    font.setBold(True)
    label.setFont(font)
    return label
