"""Workings as set by Typst, in a scroll area: set off the window's thread, sharp on any screen.

What is set late, after another finding was chosen, is dropped.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import cast

from PySide6.QtCore import QByteArray, QEvent, QSize, Qt, QTimer, Signal
from PySide6.QtGui import (
    QContextMenuEvent,
    QGuiApplication,
    QHideEvent,
    QImage,
    QKeySequence,
    QPainter,
    QPaintEvent,
    QResizeEvent,
    QShowEvent,
)
from PySide6.QtSvg import QSvgRenderer
from PySide6.QtWidgets import QMenu, QScrollArea, QWidget

from stringerlab.desktop.jobs import Job
from stringerlab.desktop.theme import is_dark
from stringerlab.errors import StringerlabError
from stringerlab.methods import Finding
from stringerlab.units import System

_PT = 72.0
_DOTS = 96.0
"""Dots an inch of a screen at no magnification: a page's width in pt and in dots."""
_WIDEST, _NARROWEST = 620.0, 220.0
_COPIED = 480.0
"""Width in pt of a picture for the clipboard."""
_SETTLE = 60
"""Milliseconds that a width, or a finding judged anew, must stand before its page is set again."""
_LARGEST = 24_000
"""Dots of height beyond which a page is drawn less fine rather than refused by the screen."""


@dataclass(frozen=True, slots=True)
class _Order:
    """What is to be set: equal orders give the same picture."""

    finding: Finding
    system: System
    dark: bool
    width_pt: float
    ratio: float
    head: bool
    paper: bool = False


def _page_setter() -> Callable[..., bytes]:
    """Return what sets a page; the library behind it loads when first needed, never in another thread."""
    from stringerlab.report import workings_page

    return workings_page


def _image(order: _Order, set_page: Callable[..., bytes]) -> QImage:
    page = set_page(
        order.finding,
        order.system,
        dark=order.dark,
        width_pt=order.width_pt,
        head=order.head,
        paper=order.paper,
    )
    renderer = QSvgRenderer()
    renderer.load(QByteArray(page))
    size = renderer.defaultSize()
    scale = min(order.ratio * _DOTS / _PT, _LARGEST / max(size.height(), 1))
    dots = QSize(round(size.width() * scale), round(size.height() * scale))
    image = QImage(dots, QImage.Format.Format_ARGB32_Premultiplied)
    image.fill(Qt.GlobalColor.transparent)
    painter = QPainter(image)
    renderer.render(painter)
    painter.end()
    image.setDevicePixelRatio(scale * _PT / _DOTS)
    return image


def _what(finding: Finding) -> tuple[str, str]:
    return finding.subject, finding.aspect.value


class _Canvas(QWidget):
    """The page, or a word in its place."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.image = QImage()
        self.words = ""

    def show_image(self, image: QImage) -> None:
        self.image, self.words = image, ""
        size = image.deviceIndependentSize().toSize()
        self.setMinimumSize(1, size.height())
        self.resize(max(size.width(), 1), size.height())
        self.update()

    def show_words(self, words: str) -> None:
        self.image, self.words = QImage(), words
        self.setMinimumSize(1, 1)
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        if not self.image.isNull():
            painter.drawImage(0, 0, self.image)
        elif self.words:
            painter.setPen(self.palette().placeholderText().color())
            flags = int(Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap)
            painter.drawText(self.rect().adjusted(16, 16, -16, -16), flags, self.words)


class WorkingsView(QScrollArea):
    """Workings of one finding."""

    settled = Signal()
    """The page asked for last is shown, or the reason why there is none."""

    def __init__(self, parent: QWidget | None = None, *, head: bool = True) -> None:
        super().__init__(parent)
        self._head = head
        self._finding: Finding | None = None
        self._system = System.METRIC
        self._waiting: _Order | None = None
        self._shown: _Order | None = None
        self._canvas = _Canvas(self)
        self.setWidget(self._canvas)
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOn)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName("Workings")
        self._pause = QTimer(self, singleShot=True, interval=_SETTLE)
        self._pause.timeout.connect(self._order)
        self._job = Job(self)
        self._job.finished.connect(self._take)
        self._job.failed.connect(self._refuse)

    # -- what is shown ---------------------------------------------------------------------------

    @property
    def finding(self) -> Finding | None:
        """The finding whose workings are shown or are being set."""
        return self._finding

    @property
    def image(self) -> QImage:
        """The page as shown; null before it is there."""
        return self._canvas.image

    @property
    def words(self) -> str:
        """What stands in the place of the page."""
        return self._canvas.words

    def show_finding(self, finding: Finding | None, system: System) -> None:
        """Show a finding's workings; None for none."""
        before = self._finding
        same = finding is not None and before is not None and _what(finding) == _what(before)
        if not same:
            self.verticalScrollBar().setValue(0)
        self._finding, self._system = finding, system
        if finding is None:
            self._job.cancel()
            self._waiting = self._shown = None
            self._canvas.show_words("")
            self.setAccessibleDescription("")
            return
        if same:  # an edit: the rest of the window first
            self._pause.start()
        else:
            self._order()

    # -- copies ----------------------------------------------------------------------------------

    def as_text(self) -> str:
        """Return the workings as plain text; empty without a finding."""
        if self._finding is None:
            return ""
        from stringerlab.report import workings_text

        return workings_text(self._finding, self._system)

    def copy_text(self) -> None:
        """Put the workings on the clipboard as text."""
        if self._finding is not None:
            QGuiApplication.clipboard().setText(self.as_text())

    def copy_picture(self) -> None:
        """Put the workings on the clipboard as a picture on paper, the finding at its head."""
        if self._finding is None:
            return
        order = _Order(
            finding=self._finding,
            system=self._system,
            dark=False,
            width_pt=_COPIED,
            ratio=2.0,
            head=True,
            paper=True,
        )
        QGuiApplication.clipboard().setImage(_image(order, _page_setter()))

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """Offer the copies."""
        if self._finding is None:
            return
        menu = QMenu(self)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        menu.addAction("Copy workings as text", QKeySequence(QKeySequence.StandardKey.Copy), self.copy_text)
        menu.addAction("Copy workings as picture", self.copy_picture)
        menu.popup(event.globalPos())

    # -- inside ----------------------------------------------------------------------------------

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Set the page again for another width."""
        super().resizeEvent(event)
        if self._finding is not None and self.isVisible():
            self._pause.start()

    def showEvent(self, event: QShowEvent) -> None:
        """Set the page when it is first seen, in the theme and width of that time."""
        super().showEvent(event)
        self._order()

    def changeEvent(self, event: QEvent) -> None:
        """Set the page again in the ink of another theme."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange:
            self._order()

    def hideEvent(self, event: QHideEvent) -> None:
        """Wait for nothing while out of sight."""
        self._pause.stop()
        super().hideEvent(event)

    def _order(self) -> None:
        if self._finding is None or not self.isVisible():
            return
        width = self.viewport().width() * _PT / _DOTS
        order = _Order(
            finding=self._finding,
            system=self._system,
            # not the widget's own: a style sheet changes that one's base
            dark=is_dark(QGuiApplication.palette()),
            width_pt=round(min(max(width, _NARROWEST), _WIDEST)),
            ratio=self.devicePixelRatioF(),
            head=self._head,
        )
        if self._same(order, self._waiting) or (self._waiting is None and self._same(order, self._shown)):
            return
        self._waiting = order
        if self._canvas.image.isNull():
            self._canvas.show_words("Setting the workings …")
        set_page = _page_setter()
        self._job.start(lambda _watch: _image(order, set_page))

    @staticmethod
    def _same(order: _Order, other: _Order | None) -> bool:
        # equal findings of two runs may have other workings behind them
        return other is not None and other == order and other.finding is order.finding

    def _take(self, image: object) -> None:
        self._shown, self._waiting = self._waiting, None
        self._canvas.show_image(cast(QImage, image))
        self._settle()

    def _refuse(self, error: StringerlabError) -> None:
        self._shown, self._waiting = self._waiting, None
        self._canvas.show_words(str(error))
        self._settle()

    def _settle(self) -> None:
        self.setAccessibleDescription(self.as_text())
        self.settled.emit()
