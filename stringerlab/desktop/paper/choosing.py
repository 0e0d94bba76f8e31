"""Which document is shown and what it is to hold."""

from typing import cast

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QFormLayout, QGroupBox, QLabel, QWidget

from stringerlab.desktop.choice import Choice
from stringerlab.desktop.paper.documents import Kind, Wanted
from stringerlab.report.calculation import Workings

NAMES = {
    Kind.REPORT: "Calculation report",
    Kind.SHOP: "Shop sheets",
    Kind.COMPARISON: "Comparison sheet",
}
_MEANINGS = {
    Kind.REPORT: "Everything a naval architect needs to check the project line by line.",
    Kind.SHOP: "What the lamination and bonding crews get: seven sheets, each a file of its own.",
    Kind.COMPARISON: "This boat’s layouts and its parent boat side by side on one page. Other files are "
    "compared on the page Compare.",
}


class DocumentChoice(QGroupBox):
    """A list of documents; the report's own choices are there while it is chosen."""

    changed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__("Document", parent)
        self.kind = Choice("Document", "The document shown, and written by Write PDF", self)
        self.kind.offer([(name, kind.value) for kind, name in NAMES.items()])
        self.kind.currentIndexChanged.connect(self._chosen)
        self.workings = Choice(
            "Workings",
            "Formula by formula for the most used subject of each kind and aspect, or for all",
            self,
        )
        self.workings.offer([("Of what governs", "governing"), ("Of every finding", "all")])
        self.workings.currentIndexChanged.connect(self.changed)
        self.second = QCheckBox("Second opinion on sections", self)
        self.second.setToolTip("Hold every section against sectionproperties too: some seconds each")
        self.second.toggled.connect(self.changed)
        self._meaning = QLabel(self)
        self._meaning.setWordWrap(True)
        self._meaning.setProperty("faint", True)
        form = self._form = QFormLayout(self)
        form.setContentsMargins(0, 4, 0, 4)
        form.setHorizontalSpacing(10)
        form.setVerticalSpacing(5)
        form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
        form.addRow(self.kind)
        form.addRow(self._meaning)
        form.addRow("Workings", self.workings)
        form.addRow(self.second)
        self._show()

    @property
    def wanted(self) -> Wanted:
        """The document chosen."""
        return Wanted(
            kind=Kind(self.kind.value),
            workings=cast(Workings, self.workings.value),
            second_opinion=self.second.isChecked(),
        )

    def choose(self, kind: Kind) -> None:
        """Choose a document."""
        self.kind.show_value(kind.value)

    def _chosen(self) -> None:
        self._show()
        self.changed.emit()

    def _show(self) -> None:
        kind = Kind(self.kind.value)
        self._meaning.setText(_MEANINGS[kind])
        for widget in (self.workings, self.second):
            self._form.setRowVisible(widget, kind is Kind.REPORT)


__all__ = ["NAMES", "DocumentChoice"]
