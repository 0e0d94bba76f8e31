"""A combo box narrower than its words: its list opens wide enough, its tooltip says what is chosen."""

from collections.abc import Sequence

from PySide6.QtCore import QSignalBlocker, Qt
from PySide6.QtGui import QPaintEvent
from PySide6.QtWidgets import QComboBox, QStyle, QStyleOptionComboBox, QStylePainter

from stringerlab.materials import shipped
from stringerlab.materials.records import Adhesive, Solid
from stringerlab.project import Project

_WIDEST = 420
"""Pixels of a list that opens; longer words end in an ellipsis there, and stand whole in their tooltip."""


def solids_of(project: Project) -> list[tuple[str, str]]:
    """Return ids and names of all that fills a region, the project's own before the shipped."""
    return _named((*project.materials.solids, *shipped().solids))


def adhesives_of(project: Project) -> list[tuple[str, str]]:
    """Return ids and names of all that bonds, the project's own before the shipped."""
    return _named((*project.materials.adhesives, *shipped().adhesives))


def _named(known: Sequence[Solid | Adhesive]) -> list[tuple[str, str]]:
    found: dict[str, str] = {}
    for one in known:
        found.setdefault(one.id, one.name)
    return list(found.items())


class Choice(QComboBox):
    """A choice between named things, by id."""

    def __init__(self, name: str, tip: str) -> None:
        super().__init__()
        self._tip = tip
        self.setAccessibleName(name)
        self.setObjectName(name)
        self.setMinimumContentsLength(8)
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.currentIndexChanged.connect(self._tell)
        self._tell()

    @property
    def chosen(self) -> str:
        """Id of what is chosen."""
        return str(self.currentData())

    def offer(self, choices: list[tuple[str, str]], chosen: str) -> None:
        """Offer things by id and name, and show one of them as chosen."""
        with QSignalBlocker(self):
            if [(self.itemData(i), self.itemText(i)) for i in range(self.count())] != choices:
                self.clear()
                for id, name in choices:  # noqa: A001
                    self.addItem(name, id)
                    self.setItemData(self.count() - 1, name, Qt.ItemDataRole.ToolTipRole)
                self._widen()
            self.setCurrentIndex(next((i for i, (each, _) in enumerate(choices) if each == chosen), -1))
        self._tell()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the box; words that do not fit end in an ellipsis."""
        del event
        painter = QStylePainter(self)
        option = QStyleOptionComboBox()
        self.initStyleOption(option)
        painter.drawComplexControl(QStyle.ComplexControl.CC_ComboBox, option)
        field = QStyle.SubControl.SC_ComboBoxEditField
        room = self.style().subControlRect(QStyle.ComplexControl.CC_ComboBox, option, field, self).width()
        words = self.fontMetrics().elidedText(self.currentText(), Qt.TextElideMode.ElideRight, room - 8)
        setattr(option, "currentText", words)  # noqa: B010 - the stubs do not know the field
        painter.drawControl(QStyle.ControlElement.CE_ComboBoxLabel, option)

    def _widen(self) -> None:
        words = [self.itemText(i) for i in range(self.count())]
        widest = max((self.fontMetrics().horizontalAdvance(each) for each in words), default=0)
        self.view().setMinimumWidth(min(widest + 40, _WIDEST))
        self.view().setTextElideMode(Qt.TextElideMode.ElideRight)

    def _tell(self) -> None:
        name = self.currentText()
        self.setToolTip(f"{name}\n{self._tip}" if name else self._tip)
