"""The drawing sheet: paper with rulers on which a section is drawn, shaped and read. mm; pixels on screen."""

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import QEvent, QPoint, QPointF, QRectF, Qt
from PySide6.QtGui import (
    QContextMenuEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QResizeEvent,
)
from PySide6.QtWidgets import QMenu, QWidget

from stringerlab.desktop.session import Session
from stringerlab.desktop.sheet import exporting, keys, menus, moulding, painting
from stringerlab.desktop.sheet.dimensions import Dimension
from stringerlab.desktop.sheet.hand import Hand
from stringerlab.desktop.sheet.inline import Inline
from stringerlab.desktop.sheet.layers import Drawn, picture
from stringerlab.desktop.sheet.paper import Paper
from stringerlab.desktop.sheet.surface import Surface
from stringerlab.desktop.sheet.switches import Switches
from stringerlab.desktop.sheet.tool import Edit
from stringerlab.desktop.sheet.underlay import Array, both
from stringerlab.desktop.sheet.view import View
from stringerlab.drawing import Options, Picture


class Sheet(Paper):
    """One section of the session's project on paper; ``hand`` holds the tools, ``switches`` the overlays."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        self.hand = Hand(session)
        super().__init__(self.hand, parent)
        self.hand.setParent(self)
        self.session = session
        self.switches = Switches(self)
        self.surface = Surface(self)
        self.inline = Inline(self)
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

    def fitted_view(self) -> View:
        """Return the view that shows the whole section, beside the legend while that is shown."""
        drawn = self.drawn()
        made = picture(drawn) if drawn else Picture()
        bounds = both(made.bounds(), self.hand.sight.underlay) or (-150.0, -60.0, 150.0, 200.0)
        size = self.width() - painting.RULER, self.height() - painting.RULER
        fitted = View().fitted_beside(bounds, size, self.surface.legend_room(made))
        return fitted.panned(painting.RULER, painting.RULER)

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
        """Type into a number, or hand the press on."""
        self.flush()
        if event.button() is Qt.MouseButton.LeftButton and not self._space:
            number = self._number_at(event.position())
            if number is not None and not self.hand.tool.busy:
                self.setFocus(Qt.FocusReason.MouseFocusReason)
                self.type_into(number)
                return
            self.inline.leave()
        super().mousePressEvent(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Show which number is under the pointer, and hand the movement on."""
        if self._pan is None:
            number = None if self.hand.tool.busy else self._number_at(event.position())
            self._point_at(number, event.position())
        super().mouseMoveEvent(event)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Hand a double click on, but for one on a number."""
        left = event.button() is Qt.MouseButton.LeftButton
        if not left or self._number_at(event.position()) is None:
            super().mouseDoubleClickEvent(event)

    def leaveEvent(self, event: QEvent) -> None:
        """Forget the pointer."""
        self._point_at(None, QPointF(-1, -1))
        super().leaveEvent(event)

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

    def claims(self, event: QKeyEvent) -> bool:
        """Whether a key is the sheet's own while it has the focus."""
        return keys.claims(event)

    def tab(self, *, back: bool) -> bool:
        """Select the next thing; past the last one the focus goes on."""
        return keys.tab(self, back=back)

    def key(self, event: QKeyEvent) -> bool:
        """Do what the table of keys says."""
        return keys.pressed(self, event)

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
        """Fit anew, or keep the drawing where it is; close the field."""
        super().resizeEvent(event)
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

    def looked(self) -> None:
        """Close the field: what it stood at is elsewhere."""
        self.inline.leave()

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

    def rest_cursor(self) -> Qt.CursorShape:
        """Return the pointer's shape over a number, or of the tool in the hand."""
        if self.surface.over:
            return Qt.CursorShape.IBeamCursor
        select = self.hand.tool.name == "select"
        return Qt.CursorShape.ArrowCursor if select else Qt.CursorShape.CrossCursor
