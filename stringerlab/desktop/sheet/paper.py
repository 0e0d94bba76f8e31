"""Paper under a hand: it zooms, pans, fits and hands the pointer on, whatever is drawn. Pixels; mm."""

from typing import Protocol

from PySide6.QtCore import QEvent, QPointF, Qt, QTimer, Signal
from PySide6.QtGui import (
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QNativeGestureEvent,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QWidget

from stringerlab.desktop.player import theme_of
from stringerlab.desktop.sheet.keys import held
from stringerlab.desktop.sheet.tool import Place
from stringerlab.desktop.sheet.view import View
from stringerlab.drawing import Theme

_WHEEL = 1.0015
"""Zoom of one eighth of a degree of the wheel."""


class Handling(Protocol):
    """What takes the pointer's places in mm."""

    scale: float
    """Pixels a mm, told by the paper."""

    def press(self, raw: Place, *, shift: bool = False, ctrl: bool = False) -> None:
        """The button went down."""

    def move(self, raw: Place, *, shift: bool = False, ctrl: bool = False) -> None:
        """The pointer moved."""

    def release(self, raw: Place, *, shift: bool = False, ctrl: bool = False) -> None:
        """The button went up."""

    def double(self, raw: Place, *, shift: bool = False, ctrl: bool = False) -> None:
        """It was clicked twice."""

    def leave(self) -> None:
        """The pointer left."""

    def say(self, what: str = "") -> None:
        """Say what the next click does."""


class Paper(QWidget):
    """A drawing surface; a subclass paints it, and says what is fitted and what its keys do."""

    view_changed = Signal()

    def __init__(self, handling: Handling, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._handling = handling
        self.view = self._fit = View()
        self.frames = 0
        """How many times it was painted."""
        self._fitted = False
        self._pan: QPointF | None = None
        self._space = False
        self._pending: tuple[Place, bool, bool] | None = None
        self._frame = QTimer(self)
        self._frame.setSingleShot(True)
        self._frame.setInterval(0)
        self._frame.timeout.connect(self.flush)
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setMinimumSize(320, 240)

    @property
    def theme(self) -> Theme:
        """Colours that suit the window's."""
        return theme_of(self.palette())

    # -- for a subclass --------------------------------------------------------------------------

    def fitted_view(self) -> View:
        """Return the view that shows all there is."""
        return View()

    def rest_cursor(self) -> Qt.CursorShape:
        """Return the pointer's shape while the paper is not moved."""
        return Qt.CursorShape.ArrowCursor

    def looked(self) -> None:
        """Another view is shown."""

    def claims(self, event: QKeyEvent) -> bool:
        """Whether a key is the paper's own while it has the focus."""
        del event
        return False

    def tab(self, *, back: bool) -> bool:
        """Select the next thing; return False where the focus is to go on."""
        del back
        return False

    def key(self, event: QKeyEvent) -> bool:
        """Do what a key means; return whether it meant anything."""
        del event
        return False

    # -- the view --------------------------------------------------------------------------------

    def fit(self) -> None:
        """Show all there is."""
        self._look(self.fitted_view())
        self._fit = self.view

    def zoom(self, factor: float, at: QPointF | None = None) -> None:
        """Enlarge about a pixel, or the middle."""
        middle = at or QPointF(self.width() / 2, self.height() / 2)
        self._look(self.view.zoomed(factor, (middle.x(), middle.y())))

    def pan(self, right: float, down: float) -> None:
        """Move the paper by so many pixels."""
        self._look(self.view.panned(right, down))

    def flush(self) -> None:
        """Do the movement that waits for the next frame."""
        self._frame.stop()
        if self._pending is not None:
            raw, shift, ctrl = self._pending
            self._pending = None
            self._handling.move(raw, shift=shift, ctrl=ctrl)

    # -- mouse -----------------------------------------------------------------------------------

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Pan, or hand the press on."""
        self.flush()
        left = event.button() is Qt.MouseButton.LeftButton
        if event.button() is Qt.MouseButton.MiddleButton or (left and self._space):
            self._pan = event.position()
            self.setCursor(Qt.CursorShape.ClosedHandCursor)
        elif left:
            self.setFocus(Qt.FocusReason.MouseFocusReason)
            self._handling.press(self._paper(event.position()), **held(event))

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Pan, or keep the movement for the next frame."""
        if self._pan is not None:
            moved = event.position() - self._pan
            self._pan = event.position()
            self.pan(moved.x(), moved.y())
            return
        keys = held(event)
        self._pending = self._paper(event.position()), keys["shift"], keys["ctrl"]
        self._frame.start()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """End a pan, or hand the release on."""
        if self._pan is not None:
            self._pan = None
            self._show_cursor()
        elif event.button() is Qt.MouseButton.LeftButton:
            self.flush()
            self._handling.release(self._paper(event.position()), **held(event))

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Hand a double click on; of the middle button, fit."""
        if event.button() is Qt.MouseButton.MiddleButton:
            self.fit()
        elif event.button() is Qt.MouseButton.LeftButton:
            self.flush()
            self._handling.double(self._paper(event.position()), **held(event))

    def leaveEvent(self, event: QEvent) -> None:
        """Forget the pointer."""
        super().leaveEvent(event)
        self._frame.stop()
        self._pending = None
        self._handling.leave()

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Zoom to the pointer; with Shift, or two fingers sideways, pan."""
        turn = event.angleDelta()
        if event.modifiers() & Qt.KeyboardModifier.ShiftModifier:
            self.pan(turn.y() or turn.x(), 0)
        elif abs(turn.x()) > abs(turn.y()):
            self.pan(turn.x(), 0)
        else:
            self.zoom(_WHEEL ** turn.y(), event.position())
        event.accept()

    def event(self, event: QEvent) -> bool:
        """Zoom by pinching; keep Tab and the letters from the window while the paper has the focus."""
        kind = event.type()
        if (
            isinstance(event, QNativeGestureEvent)
            and event.gestureType() is Qt.NativeGestureType.ZoomNativeGesture
        ):
            self.zoom(1 + event.value(), event.position())
            return True
        if isinstance(event, QKeyEvent):
            tab = event.key() in (Qt.Key.Key_Tab, Qt.Key.Key_Backtab)
            if kind is QEvent.Type.KeyPress and tab and self.tab(back=event.key() == Qt.Key.Key_Backtab):
                return True
            if kind is QEvent.Type.ShortcutOverride and self.claims(event):
                event.accept()
                return True
        return super().event(event)

    # -- keys ------------------------------------------------------------------------------------

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take hold of the paper on Space, else do what a key means."""
        if event.key() == Qt.Key.Key_Space and not event.isAutoRepeat():
            self._space = True
            self._show_cursor()
        elif not self.key(event):
            super().keyPressEvent(event)

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        """Let go of the paper."""
        if event.key() == Qt.Key.Key_Space and not event.isAutoRepeat():
            self._space = False
            self._show_cursor()
        else:
            super().keyReleaseEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Say what the next click does."""
        super().focusInEvent(event)
        self._handling.say()
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Let go of the paper."""
        super().focusOutEvent(event)
        self._space = False
        self._show_cursor()
        self.update()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fit anew while nobody has looked closer since it was fitted; else keep the drawing where it is."""
        super().resizeEvent(event)
        if self._fitted and self.view == self._fit and self.isVisible():
            self.fit()
        self._fitted = self._fitted and self.isVisible()

    # -- inside ----------------------------------------------------------------------------------

    def _look(self, view: View) -> None:
        self._fitted = True
        self.view = view
        self._handling.scale = view.scale
        self.looked()
        self.view_changed.emit()
        self.update()

    def _paper(self, at: QPointF) -> Place:
        return self.view.to_paper((at.x(), at.y()))

    def _show_cursor(self) -> None:
        self.setCursor(Qt.CursorShape.OpenHandCursor if self._space else self.rest_cursor())
