"""The rail at the left: one button a page, in the order of the work; Findings carries what is short."""

from typing import cast

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QButtonGroup, QFrame, QSizePolicy, QToolButton, QVBoxLayout, QWidget

from stringerlab.desktop.actions import PAGES, Page, page_keys
from stringerlab.desktop.icons import icon
from stringerlab.desktop.theme import Tokens

_WIDTH = 92
_WHOLE = Qt.ToolButtonStyle.ToolButtonTextUnderIcon
_BARE = Qt.ToolButtonStyle.ToolButtonTextOnly
"""Where the window is too low for the icons."""


class RailButton(QToolButton):
    """A page's button; it can carry a count."""

    def __init__(self, page: Page, parent: QWidget) -> None:
        super().__init__(parent)
        self.page = page
        self._count = 0
        self._ink = self._ground = "#000000"
        self.setText(page.name)
        self.setCheckable(True)
        self.setToolButtonStyle(_WHOLE)
        self.setIconSize(QSize(24, 24))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(page.name.replace("\n", " "))
        keys = f" ({', '.join(page_keys(page))})" if page_keys(page) else ""
        self.setToolTip(f"{page.name.replace(chr(10), ' ')}{keys}\n{page.tip}")

    def show_count(self, count: int, tokens: Tokens) -> None:
        """Show how many are short; nothing for none."""
        self._count, self._ink, self._ground = count, tokens.sheet, tokens.short
        self.setAccessibleDescription(f"{count} short" if count else "")
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the button, and its count on a square as short findings are marked."""
        super().paintEvent(event)
        if not self._count:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        font = self.font()
        font.setPointSizeF(font.pointSizeF() * 0.85)
        font.setBold(True)
        painter.setFont(font)
        text = str(self._count)
        width = max(16.0, painter.fontMetrics().horizontalAdvance(text) + 8.0)
        bare = self.toolButtonStyle() is _BARE
        left = self.width() - width - 3 if bare else self.width() / 2 + 6
        box = QRectF(QPointF(left, 3), QPointF(left + width, 18))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(self._ground))
        painter.drawRect(box)
        painter.setPen(QColor(self._ink))
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)
        painter.end()


class Rail(QFrame):
    """The buttons of all pages; arrows go from one to the next."""

    chosen = Signal(str)
    """Id of the page asked for."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("rail")
        self.setAccessibleName("Pages")
        self.setFixedWidth(_WIDTH)
        self._group = QButtonGroup(self)
        self.buttons: dict[str, RailButton] = {}
        self._needs = 0
        """Height of all with their icons."""
        column = self._column = QVBoxLayout(self)
        column.setContentsMargins(0, 6, 1, 6)
        column.setSpacing(2)
        for page in PAGES:
            if page.id == "help":
                column.addStretch(1)
            button = RailButton(page, self)
            self.buttons[page.id] = button
            self._group.addButton(button)
            column.addWidget(button)
        self._group.buttonClicked.connect(self._clicked)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Leave the icons out where there is no room for them, so that no name is cut off."""
        super().resizeEvent(event)
        buttons = self.buttons.values()
        if next(iter(buttons)).toolButtonStyle() is _WHOLE:
            self._needs = self._column.sizeHint().height()
        style = _WHOLE if event.size().height() >= self._needs else _BARE
        for button in buttons:
            button.setToolButtonStyle(style)

    def show_page(self, page_id: str) -> None:
        """Mark a page as the one shown; none for an empty id."""
        self._group.setExclusive(False)
        for button in self.buttons.values():
            button.setChecked(button.page.id == page_id)
        self._group.setExclusive(True)
        focused = cast("QWidget | None", self.window().focusWidget())
        if page_id and (focused is None or self.isAncestorOf(focused)):
            self.buttons[page_id].setFocus(Qt.FocusReason.OtherFocusReason)

    def allow(self, with_project: bool) -> None:
        """Let only pages be asked for that can be shown."""
        for button in self.buttons.values():
            button.setEnabled(with_project or not button.page.of_project)

    def dress(self, tokens: Tokens) -> None:
        """Draw the icons in the colours of the theme."""
        for button in self.buttons.values():
            button.setIcon(icon(button.page.id, tokens.faint, tokens.accent))

    def _clicked(self, button: RailButton) -> None:
        self.chosen.emit(button.page.id)
