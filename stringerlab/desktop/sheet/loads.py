"""The moment and shear that strain, stress and shear flow are drawn under; shown while any of them is on."""

from PySide6.QtWidgets import QHBoxLayout, QLabel, QToolButton, QWidget

from stringerlab.desktop.fields import QuantityField
from stringerlab.desktop.sheet.canvas import Sheet
from stringerlab.units import Kind


class Loads(QWidget):
    """Two fields, and a button that turns both signs."""

    def __init__(self, sheet: Sheet, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.sheet = sheet
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(4)
        self.moment = QuantityField(Kind.MOMENT, "Moment")
        self.moment.setToolTip("Moment for strain and stress; positive puts the crown in tension")
        self.shear = QuantityField(Kind.FORCE, "Shear")
        self.shear.setToolTip("Shear force for shear flow")
        self.turn = QToolButton()
        self.turn.setText("±")
        self.turn.setToolTip("The other sign: hogging or sagging")
        self.turn.setAccessibleName("Turn the signs of moment and shear")
        for name, field in (("M", self.moment), ("V", self.shear)):
            label = QLabel(name)
            label.setBuddy(field)
            field.setFixedWidth(96)
            row.addWidget(label)
            row.addWidget(field)
        row.addWidget(self.turn)
        switches = sheet.switches
        self.moment.committed.connect(self._moment_typed)
        self.shear.committed.connect(self._shear_typed)
        self.turn.clicked.connect(lambda: switches.load(moment=-switches.moment, shear=-switches.shear))
        switches.changed.connect(self.refresh)
        sheet.session.project_changed.connect(self.refresh)
        self.refresh()

    def refresh(self) -> None:
        """Show the loads in the project's units, while they are wanted."""
        switches, units = self.sheet.switches, self.sheet.session.units
        self.setVisible(any(switches.is_on(each) for each in ("strain", "stress", "shear_flow")))
        self.moment.show_value(switches.moment, units)
        self.shear.show_value(switches.shear, units)

    def _moment_typed(self, value: float) -> None:
        self.sheet.switches.load(moment=value)

    def _shear_typed(self, value: float) -> None:
        self.sheet.switches.load(shear=value)
