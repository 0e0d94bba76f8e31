"""Pages one below the other, as they will be printed: fitted to the width or at a chosen size.

Pages are kept as PNG; only those in sight are pictures in memory, at the size they are drawn at.
"""

from bisect import bisect_right
from collections import OrderedDict
from collections.abc import Sequence
from itertools import accumulate

from PySide6.QtCore import QRect, QSize, Qt, Signal
from PySide6.QtGui import QImage, QKeyEvent, QPainter, QPaintEvent, QPalette, QResizeEvent, QWheelEvent
from PySide6.QtWidgets import QAbstractScrollArea, QWidget

from stringerlab.desktop.paper.documents import PPI, Page

SMALLEST, LARGEST = 0.25, 3.0
STEP = 1.25
_SCREEN = 96.0
"""Dots an inch of a screen at no magnification."""
_GAP = 14
_KEPT = 8
"""Pictures kept of pages drawn last."""


def png_size(data: bytes) -> QSize:
    """Return a PNG's size in dots, from its head."""
    return QSize(int.from_bytes(data[16:20]), int.from_bytes(data[20:24]))


class PagesView(QAbstractScrollArea):
    """Shows pages; Page Up and Down turn them, + and - change the size, W fits them to the width."""

    page_changed = Signal(int)
    """The page at the top of what is seen is another one, from 0."""
    zoom_changed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._pages: Sequence[Page] = ()
        self._sizes: list[QSize] = []
        self._tops: list[int] = []
        self._zoom = 1.0
        self._fits = True
        self._page = 0
        self._words = ""
        self._drawn: OrderedDict[tuple[int, int], QImage] = OrderedDict()
        self.setAccessibleName("Pages")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAsNeeded)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOn)
        self.verticalScrollBar().valueChanged.connect(self._scrolled)
        self.setToolTip("Page Up and Page Down turn pages; + and − change the size; W fits the width")

    # -- what is shown ---------------------------------------------------------------------------

    @property
    def page(self) -> int:
        """The page seen, from 0."""
        return self._page

    @property
    def count(self) -> int:
        """How many pages there are."""
        return len(self._pages)

    @property
    def zoom(self) -> float:
        """Size of the pages on the screen; 1 is that of the paper."""
        return self._zoom

    @property
    def fits_width(self) -> bool:
        """Whether pages are fitted to the width."""
        return self._fits

    @property
    def words(self) -> str:
        """What is said in the place of pages."""
        return self._words

    def show_pages(self, pages: Sequence[Page]) -> None:
        """Show pages in place of those there; the place in them stays."""
        share = self._share()
        at = self._page
        self._pages, self._words = pages, ""
        self._drawn.clear()
        self._lay_out()
        if at < len(pages):
            self._scroll_to(at, share)
        self._scrolled(told=True)
        self.viewport().update()

    def show_words(self, words: str) -> None:
        """Say something in the place of pages."""
        self._pages, self._words = (), words
        self._drawn.clear()
        self._lay_out()
        self._scrolled(told=True)
        self.viewport().update()

    def go_to(self, page: int) -> None:
        """Show a page, from 0, from its top."""
        if 0 <= page < len(self._pages):
            self._scroll_to(page, 0.0)

    def fit_width(self) -> None:
        """Fit pages to the width, from now on."""
        self._fits = True
        self._resized()

    def zoom_to(self, zoom: float) -> None:
        """Show pages at a size; 1 is that of the paper."""
        self._fits = False
        self._resized(min(max(zoom, SMALLEST), LARGEST))

    def zoom_in(self) -> None:
        """Show pages larger."""
        self.zoom_to(self._zoom * STEP)

    def zoom_out(self) -> None:
        """Show pages smaller."""
        self.zoom_to(self._zoom / STEP)

    # -- events ----------------------------------------------------------------------------------

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Turn pages and change their size."""
        bar = self.verticalScrollBar()
        match event.key():
            case Qt.Key.Key_PageDown:
                self.go_to(min(self._page + 1, self.count - 1))
            case Qt.Key.Key_PageUp:
                top = self._tops[self._page] if self._tops else 0
                self.go_to(self._page if bar.value() > top else max(self._page - 1, 0))
            case Qt.Key.Key_Home:
                bar.setValue(0)
            case Qt.Key.Key_End:
                bar.setValue(bar.maximum())
            case Qt.Key.Key_Plus | Qt.Key.Key_Equal:
                self.zoom_in()
            case Qt.Key.Key_Minus:
                self.zoom_out()
            case Qt.Key.Key_W:
                self.fit_width()
            case _:
                super().keyPressEvent(event)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Scroll; with Ctrl, change the size."""
        if event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            turned = event.angleDelta().y()
            if turned:
                self.zoom_to(self._zoom * STEP ** (turned / 120))
            event.accept()
            return
        super().wheelEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fit pages to another width."""
        super().resizeEvent(event)
        self._resized(self._zoom)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the pages in sight, or the words in their place."""
        painter = QPainter(self.viewport())
        palette = self.palette()
        painter.fillRect(event.rect(), palette.color(QPalette.ColorRole.Window))
        if not self._pages:
            painter.setPen(palette.color(QPalette.ColorRole.WindowText))
            flags = int(Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap)
            painter.drawText(self.viewport().rect().adjusted(40, 20, -40, -20), flags, self._words)
            return
        painter.setPen(palette.color(QPalette.ColorRole.Mid))
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        for page in self._in_sight():
            place = self._place(page)
            painter.drawImage(place, self._image(page, place.size()))
            painter.drawRect(place.adjusted(-1, -1, 0, 0))

    # -- inside ----------------------------------------------------------------------------------

    def _resized(self, zoom: float | None = None) -> None:
        share, at, before = self._share(), self._page, self._zoom
        if zoom is not None:
            self._zoom = zoom
        self._lay_out()
        if at < len(self._tops):
            self._scroll_to(at, share)
        self._scrolled()
        self.viewport().update()
        if self._zoom != before or zoom is None:
            self.zoom_changed.emit()

    def _lay_out(self) -> None:
        room = self.viewport().size()
        paper = [png_size(page.png) * (_SCREEN / PPI) for page in self._pages]
        widest = max((size.width() for size in paper), default=0)
        if self._fits and widest:
            fitted = (room.width() - 2 * _GAP) / widest
            self._zoom = min(max(fitted, SMALLEST), LARGEST)
        self._sizes = [size * self._zoom for size in paper]
        heights = [size.height() + _GAP for size in self._sizes]
        self._tops = [top + _GAP for top in accumulate(heights, initial=0)][: len(heights)]
        whole = sum(heights) + _GAP
        vertical, across = self.verticalScrollBar(), self.horizontalScrollBar()
        vertical.setPageStep(room.height())
        vertical.setSingleStep(max(room.height() // 12, 1))
        vertical.setRange(0, max(whole - room.height(), 0))
        across.setPageStep(room.width())
        across.setRange(0, max(round(widest * self._zoom) + 2 * _GAP - room.width(), 0))

    def _share(self) -> float:
        """Return how far down the page seen the top of what is seen lies."""
        if not self._tops:
            return 0.0
        below = self.verticalScrollBar().value() - self._tops[self._page]
        return max(below / max(self._sizes[self._page].height(), 1), 0.0)

    def _scroll_to(self, page: int, share: float) -> None:
        top = self._tops[page] + round(share * self._sizes[page].height())
        self.verticalScrollBar().setValue(top - (_GAP if share == 0.0 and page == 0 else 0))

    def _scrolled(self, _value: int = 0, *, told: bool = False) -> None:
        at = self.verticalScrollBar().value()
        page = max(bisect_right(self._tops, at + self.viewport().height() // 3) - 1, 0)
        if page != self._page or told:
            self._page = page
            count = len(self._pages)
            self.setAccessibleDescription(f"Page {page + 1} of {count}" if count else self._words)
            self.page_changed.emit(page)

    def _in_sight(self) -> range:
        at = self.verticalScrollBar().value()
        first = max(bisect_right(self._tops, at) - 1, 0)
        last = bisect_right(self._tops, at + self.viewport().height())
        return range(first, min(last, len(self._pages)))

    def _place(self, page: int) -> QRect:
        size, room = self._sizes[page], self.viewport().width()
        across = self.horizontalScrollBar()
        left = (room - size.width()) // 2 if across.maximum() == 0 else _GAP - across.value()
        return QRect(left, self._tops[page] - self.verticalScrollBar().value(), size.width(), size.height())

    def _image(self, page: int, size: QSize) -> QImage:
        ratio = self.devicePixelRatioF()
        key = (page, round(size.width() * ratio))
        if key not in self._drawn:
            whole = QImage.fromData(self._pages[page].png)
            smooth = Qt.TransformationMode.SmoothTransformation
            self._drawn[key] = whole.scaled(size * ratio, Qt.AspectRatioMode.IgnoreAspectRatio, smooth)
            while len(self._drawn) > _KEPT:
                self._drawn.popitem(last=False)
        self._drawn.move_to_end(key)
        return self._drawn[key]
