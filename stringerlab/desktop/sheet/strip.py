"""The strip of tools beside the sheet, and the bar of switches above it."""

from collections.abc import Callable, Sequence
from typing import Protocol

from PySide6.QtCore import QEvent, QSize, Qt
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QMenu, QSizePolicy, QToolButton, QVBoxLayout, QWidget

from stringerlab.desktop.sheet.canvas import Sheet
from stringerlab.desktop.sheet.icons import icon
from stringerlab.desktop.sheet.switches import SWITCHES
from stringerlab.desktop.sheet.tools import TOOLS

_COMPACT = "QToolButton { padding: 1px; font-size: 8pt; margin: 0; border-color: transparent; }"
"""So that all tools stand in a low window."""


class Listed(Protocol):
    """A tool as a table lists it."""

    @property
    def id(self) -> str:
        """Of the tool."""
        ...

    @property
    def name(self) -> str:
        """On its button."""
        ...

    @property
    def tip(self) -> str:
        """What it is for."""
        ...

    @property
    def tooltip(self) -> str:
        """Name, key and meaning."""
        ...


class Strip(QWidget):
    """One button a tool, with its name; the one in the hand is pressed."""

    def __init__(
        self,
        tools: Sequence[Listed],
        take: Callable[[str], None],
        parent: QWidget | None = None,
        *,
        beside: bool = False,
    ) -> None:
        """Make the buttons, their names under the icons, or ``beside`` them where there are many."""
        super().__init__(parent)
        self._take = take
        style = Qt.ToolButtonStyle
        words = style.ToolButtonTextBesideIcon if beside else style.ToolButtonTextUnderIcon
        self.setAccessibleName("Tools")
        self.buttons: dict[str, QToolButton] = {}
        self.setStyleSheet(_COMPACT)
        group = QButtonGroup(self)
        column = QVBoxLayout(self)
        column.setContentsMargins(3, 2, 3, 2)
        column.setSpacing(0)
        for listed in tools:
            button = QToolButton()
            button.setObjectName(f"tool_{listed.id}")
            button.setCheckable(True)
            button.setAutoRaise(True)
            button.setText(listed.name)
            button.setToolTip(listed.tooltip)
            button.setAccessibleName(f"{listed.name} tool")
            button.setAccessibleDescription(listed.tip)
            button.setIconSize(QSize(18, 18))
            button.setToolButtonStyle(words)
            button.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
            button.clicked.connect(self._taker(listed.id))
            group.addButton(button)
            column.addWidget(button)
            self.buttons[listed.id] = button
        column.addStretch(1)
        self._dress()

    def changeEvent(self, event: QEvent) -> None:
        """Draw the icons anew in the colours of the window."""
        super().changeEvent(event)
        if event.type() in (QEvent.Type.PaletteChange, QEvent.Type.StyleChange):
            self._dress()

    def show_tool(self, id: str) -> None:  # noqa: A002
        """Show which tool is in the hand."""
        self.buttons[id].setChecked(True)

    def _dress(self) -> None:
        ink = self.palette().buttonText().color()
        for name, button in self.buttons.items():
            button.setIcon(icon(name, ink, self.palette().highlightedText().color()))

    def _taker(self, id: str) -> Callable[[], None]:  # noqa: A002
        return lambda: self._take(id)


class ToolStrip(Strip):
    """The tools of a sheet."""

    def __init__(self, sheet: Sheet, parent: QWidget | None = None) -> None:
        def take(id: str) -> None:  # noqa: A002
            sheet.hand.take(id)
            sheet.setFocus(Qt.FocusReason.OtherFocusReason)

        super().__init__(TOOLS, take, parent)
        sheet.hand.tool_changed.connect(self.show_tool)
        self.show_tool(sheet.hand.tool.name)


class SwitchBar(QWidget):
    """Snaps, ortho lock, overlays and fit."""

    def __init__(self, sheet: Sheet, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.sheet = sheet
        row = QHBoxLayout(self)
        row.setContentsMargins(4, 2, 4, 2)
        row.setSpacing(4)
        self.snaps = self._button(
            "Snap", "Snaps (S)\nThe pointer is caught by ends, middles, faces, the grid"
        )
        self.ortho = self._button("Ortho", "Ortho lock (O)\nLines run level or plumb; Shift for one stroke")
        self.snaps.setCheckable(True)
        self.ortho.setCheckable(True)
        self.snaps.setChecked(sheet.hand.snaps)
        self.snaps.clicked.connect(self._snaps_clicked)
        self.ortho.clicked.connect(self._ortho_clicked)
        self.overlays = self._button("Overlays", "Overlays\nWhat is drawn over the section")
        self.overlays.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        self.fit = self._button("Fit", "Zoom to fit (F, Home)\nShow the whole section")
        self.fit.clicked.connect(sheet.fit)
        self.actions_by_id: dict[str, QAction] = {}
        menu = QMenu(self.overlays)
        menu.setToolTipsVisible(True)
        for switch in SWITCHES:
            action = menu.addAction(switch.name)
            action.setCheckable(True)
            action.setChecked(sheet.switches.is_on(switch.id))
            action.setToolTip(switch.tip)
            action.toggled.connect(self._switcher(switch.id))
            self.actions_by_id[switch.id] = action
        menu.addSeparator()
        self.clear = menu.addAction("Clear underlay")
        self.clear.setToolTip("Take away the lines laid under this section")
        self.clear.triggered.connect(sheet.clear_underlay)
        menu.aboutToShow.connect(self._offer_clear)
        self._offer_clear()
        self.overlays.setMenu(menu)
        for button in (self.snaps, self.ortho, self.overlays, self.fit):
            row.addWidget(button)
        row.addStretch(1)
        sheet.hand.switches_changed.connect(self._show)
        sheet.switches.changed.connect(self._show)

    def _button(self, name: str, tip: str) -> QToolButton:
        button = QToolButton()
        button.setText(name)
        button.setToolTip(tip)
        button.setAccessibleName(name)
        button.setObjectName(f"switch_{name.lower()}")
        return button

    def _switcher(self, id: str) -> Callable[[bool], None]:  # noqa: A002
        return lambda on: self.sheet.switches.switch(id, on)

    def _show(self) -> None:
        self.snaps.setChecked(self.sheet.hand.snaps)
        self.ortho.setChecked(self.sheet.hand.ortho)
        for name, action in self.actions_by_id.items():
            action.setChecked(self.sheet.switches.is_on(name))

    def _offer_clear(self) -> None:
        hand = self.sheet.hand
        self.clear.setEnabled(hand.sight.underlays.has(hand.section_id))

    def _snaps_clicked(self, on: bool) -> None:
        self.sheet.hand.switch(snaps=on)

    def _ortho_clicked(self, on: bool) -> None:
        self.sheet.hand.switch(ortho=on)
