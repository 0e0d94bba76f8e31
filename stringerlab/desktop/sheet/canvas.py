"""The drawing sheet: paper with rulers on which a section is drawn, shaped and read. mm; pixels on screen."""

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import QEvent, QPoint, QPointF, QRectF, Qt, QTimer, Signal
from PySide6.QtGui import (
    QContextMenuEvent,
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QNativeGestureEvent,
    QPainter,
    QPaintEvent,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QMenu, QWidget

from stringerlab.desktop.player import theme_of
from stringerlab.desktop.session import Session
from stringerlab.desktop.sheet import exporting, keys, menus, moulding, painting
from stringerlab.desktop.sheet.dimensions import Dimension
from stringerlab.desktop.sheet.hand import Hand
from stringerlab.desktop.sheet.inline import Inline
from stringerlab.desktop.sheet.layers import Drawn, picture
from stringerlab.desktop.sheet.surface import Surface
from stringerlab.desktop.sheet.switches import Switches
from stringerlab.desktop.sheet.tool import Edit, Place
from stringerlab.desktop.sheet.underlay import Array, both
from stringerlab.desktop.sheet.view import View
from stringerlab.drawing import Options, Picture, Theme

_WHEEL = 1.0015
"""Zoom of one eighth of a degree of the wheel."""


class Sheet(QWidget):
    """One section of the session's project on paper; ``hand`` holds the tools, ``switches`` the overlays."""

    view_changed = Signal()

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.hand = Hand(session, self)
        self.switches = Switches(self)
        self.view = self._fit = View()
        self.surface = Surface(self)
        self.frames = 0
        """How many times the sheet was painted."""
        self._fitted = False
        self._pan: QPointF | None = None
        self._space = False
        self._pending: tuple[Place, bool, bool] | None = None
        self._frame = QTimer(self)
        self._frame.setSingleShot(True)
        self._frame.setInterval(0)
        self._frame.timeout.connect(self.flush)
        self.inline = Inline(self)
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setMinimumSize(320, 240)
        self.setAccessibleName("Drawing sheet")
        self.setAccessibleDescription("The section is drawn here; the status line says what a click does.")
        self.hand.changed.connect(self.update)
        self.hand.section_changed.connect(self._another_section)
        self.hand.tool_changed.connect(self._another_tool)
        self.switches.changed.connect(self._switched)
        for change in (session.results_changed, self.hand.sight.underlays.changed):
            change.connect(self.update)

    # -- what is shown ---------------------------------------------------------------------------

    @property
    def theme(self) -> Theme:
        """Colours that suit the window's."""
        return theme_of(self.palette())

    @property
    def options(self) -> Options:
        """The overlays that are on."""
        return self.switches.options_of(self.session, self.hand.section_id)

    def drawn(self) -> Drawn | None:
        """Return what is to be drawn; None when there is no section."""
        section = self.hand.sight.section
        if section is None:
            return None
        return Drawn(
            section=section,
            shape=self.hand.sight.shape,
            plating=self.hand.sight.plating,
            properties=self.hand.sight.properties,
            options=self.options,
            moving=frozenset(self.hand.in_hand),
        )

    def picture(self) -> Picture:
        """Return the drawing with its overlays, as exported."""
        drawn = self.drawn()
        made = picture(drawn) if drawn else Picture()
        return made + moulding.items(self.surface.moulded()) if self.switches.is_on("mould") else made

    def numbers(self) -> tuple[tuple[Dimension, QRectF], ...]:
        """Return the numbers on the sheet, and where each stands."""
        return tuple(self.surface.numbers)

    # -- the view --------------------------------------------------------------------------------

    def fit(self) -> None:
        """Show the whole section, beside the legend while that is shown."""
        drawn = self.drawn()
        made = picture(drawn) if drawn else Picture()
        bounds = both(made.bounds(), self.hand.sight.underlay) or (-150.0, -60.0, 150.0, 200.0)
        size = self.width() - painting.RULER, self.height() - painting.RULER
        fitted = View().fitted_beside(bounds, size, self.surface.legend_room(made))
        self._look(fitted.panned(painting.RULER, painting.RULER))
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
            self.hand.move(raw, shift=shift, ctrl=ctrl)

    # -- underlay --------------------------------------------------------------------------------

    def lay_under(self, lines: Sequence[Array]) -> None:
        """Lay lines (n, 2) under the section shown, in place of those there, to see and to snap to [mm]."""
        if not self.hand.section_id:
            self.session.said.emit("Add a section first: lines are laid under one.")
            return
        self.switches.switch("underlay", on=True)
        self.hand.sight.underlays.lay(self.hand.section_id, lines)
        self.fit()

    def clear_underlay(self) -> None:
        """Take away what lies under the section shown."""
        self.hand.sight.underlays.lay(self.hand.section_id, ())

    # -- copies ----------------------------------------------------------------------------------

    def copy_picture(self) -> None:
        """Put the drawing on the clipboard, as SVG and as an image."""
        exporting.to_clipboard(self.picture(), self.theme, self.size(), self.font())
        self.session.said.emit("The drawing is on the clipboard, as SVG and as an image.")

    def export(self, path: Path) -> None:
        """Write the drawing to a file: SVG, PNG or DXF by its ending.

        Raises
        ------
        StringerlabError
            When the ending is another, or the file cannot be written.
        """
        exporting.to_file(self.picture(), path, self.theme, self.size(), self.font())
        self.session.said.emit(f"Written: {path.name}")

    # -- mouse -----------------------------------------------------------------------------------

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Pan, type into a number, or hand the press to the tool."""
        self.flush()
        if event.button() is Qt.MouseButton.MiddleButton or (
            event.button() is Qt.MouseButton.LeftButton and self._space
        ):
            self._pan = event.position()
            self.setCursor(Qt.CursorShape.ClosedHandCursor)
            return
        if event.button() is not Qt.MouseButton.LeftButton:
            return
        self.setFocus(Qt.FocusReason.MouseFocusReason)
        number = self._number_at(event.position())
        if number is not None and not self.hand.tool.busy:
            self.type_into(number)
            return
        self.inline.leave()
        self.hand.press(self._paper(event.position()), **keys.held(event))

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Pan, or keep the movement for the next frame."""
        if self._pan is not None:
            moved = event.position() - self._pan
            self._pan = event.position()
            self.pan(moved.x(), moved.y())
            return
        held = keys.held(event)
        self._pending = self._paper(event.position()), held["shift"], held["ctrl"]
        number = None if self.hand.tool.busy else self._number_at(event.position())
        self._point_at(number, event.position())
        self._frame.start()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """End a pan, or hand the release to the tool."""
        if self._pan is not None:
            self._pan = None
            self._show_cursor()
            return
        if event.button() is Qt.MouseButton.LeftButton:
            self.flush()
            self.hand.release(self._paper(event.position()), **keys.held(event))

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Hand a double click to the tool; of the middle button, fit."""
        if event.button() is Qt.MouseButton.MiddleButton:
            self.fit()
        elif event.button() is Qt.MouseButton.LeftButton and self._number_at(event.position()) is None:
            self.flush()
            self.hand.double(self._paper(event.position()), **keys.held(event))

    def leaveEvent(self, event: QEvent) -> None:
        """Forget the pointer."""
        super().leaveEvent(event)
        self._frame.stop()
        self._pending = None
        self._point_at(None, QPointF(-1, -1))
        self.hand.leave()

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
        """Zoom by pinching; keep Tab and the letters from the window while the sheet has the focus."""
        if (
            isinstance(event, QNativeGestureEvent)
            and event.gestureType() is Qt.NativeGestureType.ZoomNativeGesture
        ):
            self.zoom(1 + event.value(), event.position())
            return True
        if (
            event.type() is QEvent.Type.KeyPress
            and isinstance(event, QKeyEvent)
            and event.key() in (Qt.Key.Key_Tab, Qt.Key.Key_Backtab)
        ):
            if keys.tab(self, back=event.key() == Qt.Key.Key_Backtab):
                return True
        elif (
            event.type() is QEvent.Type.ShortcutOverride
            and isinstance(event, QKeyEvent)
            and keys.claims(event)
        ):
            event.accept()
            return True
        return super().event(event)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """Offer what can be done with the thing under the pointer, or with what is selected."""
        at = QPointF(event.pos())
        if event.reason() is QContextMenuEvent.Reason.Keyboard:
            at = QPointF(self.width() / 2, self.height() / 2)
        else:
            self.hand.choose_at(self._paper(at))
        self.menu().popup(self.mapToGlobal(QPoint(round(at.x()), round(at.y()))))

    def menu(self) -> QMenu:
        """Return the menu of what is selected."""
        return menus.menu(self)

    # -- keys ------------------------------------------------------------------------------------

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Do what the table of keys says."""
        if event.key() == Qt.Key.Key_Space and not event.isAutoRepeat():
            self._space = True
            self._show_cursor()
        elif not keys.pressed(self, event):
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
        self.hand.say()
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Let go of the paper."""
        super().focusOutEvent(event)
        self._space = False
        self._show_cursor()
        self.update()

    def type_line(self, begun: str) -> None:
        """Open the field for a length, an angle or a point, with what is typed already."""
        at = (
            self.view.to_screen(self.hand.touch.at)
            if self.hand.touch
            else (self.width() / 2, self.height() / 2)
        )
        self.inline.ask_line(QPointF(*at), begun, self.hand.typed)

    def type_into(self, number: Dimension) -> None:
        """Open the field of a number on the sheet."""
        patch = next(patch for each, patch in self.surface.numbers if each is number)
        self.inline.ask_number(
            patch,
            number,
            self.session.units,
            lambda value: self.hand.do(Edit(label=number.label, change=number.change(value))),
        )

    # -- painting --------------------------------------------------------------------------------

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint paper, drawing, handles, the tool's sketch, rulers, legend."""
        del event  # all of it is painted: what stands still is one pixmap
        if not self._fitted:
            self.fit()
        painter = QPainter(self)
        painter.setFont(self.font())
        self.surface.paint(painter)
        painter.end()
        self.frames += 1

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Fit anew while nobody has looked closer since it was fitted; else keep the drawing where it is."""
        super().resizeEvent(event)
        if self._fitted and self.view == self._fit and self.isVisible():
            self.fit()
        self._fitted = self._fitted and self.isVisible()
        self.inline.leave()

    # -- inside ----------------------------------------------------------------------------------

    def _switched(self) -> None:
        self.hand.sight.underlays.show(visible=self.switches.is_on("underlay"))
        if self._fitted and self.view == self._fit:  # nobody has looked closer since: show all there is now
            self.fit()
        self.update()

    def _another_section(self, _: str) -> None:
        self.fit()

    def _another_tool(self, _: str) -> None:
        self.inline.leave()
        self._show_cursor()

    def _look(self, view: View) -> None:
        self._fitted = True
        self.view = view
        self.hand.scale = view.scale
        self.inline.leave()
        self.view_changed.emit()
        self.update()

    def _paper(self, at: QPointF) -> Place:
        return self.view.to_paper((at.x(), at.y()))

    def _number_at(self, at: QPointF) -> Dimension | None:
        return next((number for number, patch in self.surface.numbers if patch.contains(at)), None)

    def _point_at(self, number: Dimension | None, at: QPointF) -> None:
        name = number.name if number else ""
        changed = name != self.surface.over
        self.surface.over = name
        tip = self.surface.tip_at(at)
        if tip != self.toolTip():
            self.setToolTip(tip)
        if changed:
            self._show_cursor()
            self.update()

    def _show_cursor(self) -> None:
        if self._space:
            self.setCursor(Qt.CursorShape.OpenHandCursor)
        elif self.surface.over:
            self.setCursor(Qt.CursorShape.IBeamCursor)
        elif self.hand.tool.name == "select":
            self.setCursor(Qt.CursorShape.ArrowCursor)
        else:
            self.setCursor(Qt.CursorShape.CrossCursor)
