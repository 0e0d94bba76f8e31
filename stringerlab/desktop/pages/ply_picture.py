"""A laminate's pictures on its page: plies to scale, picked with the table's; stiffness all round."""

from collections.abc import Sequence

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QWidget

from stringerlab.desktop.player import PictureView
from stringerlab.drawing import Area, Label, Picture, Role, laminate_picture, polar_picture
from stringerlab.errors import StringerlabError
from stringerlab.laminate import Stack
from stringerlab.units import System


class PlyPicture(PictureView):
    """Plies to scale; a click picks one, with Ctrl one more."""

    picked = Signal(int, bool)
    """Row of the ply clicked, and whether it is picked beside those that are."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__("Plies to scale, the mould at the bottom", parent)
        self._shown: tuple[Stack | None, System] | None = None
        self._plies = Picture()
        self._selected: tuple[int, ...] = ()

    def show_stack(self, stack: Stack | None, units: System, why_not: str = "") -> None:
        """Show the plies of a stack; without one, why there is none."""
        if self._shown is not None and stack is not None and self._shown == (stack, units):
            return
        self._shown = (stack, units)
        missing = Picture(items=(Label(at=(0.0, 0.0), text=why_not),)) if why_not else Picture()
        self._plies = missing if stack is None else laminate_picture(stack, units=units)
        self._play()

    def select_plies(self, rows: Sequence[int]) -> None:
        """Mark the plies of these rows, from 0 at the mould."""
        if tuple(rows) != self._selected:
            self._selected = tuple(rows)
            self._play()

    @property
    def selected(self) -> tuple[int, ...]:
        """Rows of the plies that are marked."""
        return self._selected

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Pick the ply under the pointer."""
        item = self.item_at(event.position())
        if event.button() != Qt.MouseButton.LeftButton or item is None or not item.subject.startswith("ply/"):
            super().mousePressEvent(event)
            return
        more = bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier)
        self.picked.emit(int(item.subject.partition("/")[2]) - 1, more)

    def _play(self) -> None:
        wanted = {f"ply/{row + 1}" for row in self._selected}
        marks = [
            Area(rings=item.rings, role=Role.SELECTED, edge=Role.SELECTED, subject=item.subject, tip=item.tip)
            for item in self._plies
            if isinstance(item, Area) and item.subject in wanted
        ]
        self.show_picture(self._plies + Picture(items=tuple(marks)))


class PolarPicture(PictureView):
    """A laminate's modulus in every direction in its plane."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__("Modulus by direction in the laminate's plane", parent)
        self._shown: tuple[Stack | None, System] | None = None

    def show_stack(self, stack: Stack | None, units: System) -> None:
        """Show a stack's stiffness; nothing for none."""
        if self._shown == (stack, units):
            return
        self._shown = (stack, units)
        try:
            picture = Picture() if stack is None else polar_picture(stack, units=units)
        except StringerlabError:
            picture = Picture()
        self.show_picture(picture)

    def sizeHint(self) -> QSize:
        """Return a square among other things."""
        return QSize(230, 210)
