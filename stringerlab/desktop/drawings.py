"""Drawings in and out: the panel that takes a DXF in, and the sheet written as SVG, PNG or DXF."""

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Protocol

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QFileDialog, QStackedWidget

from stringerlab.desktop.banner import Banner
from stringerlab.desktop.session import Session
from stringerlab.desktop.sheet.underlay import Array
from stringerlab.errors import StringerlabError

if TYPE_CHECKING:
    from stringerlab.desktop.dxf_import import DxfImport

_OUT = "SVG drawing (*.svg);;PNG image (*.png);;DXF drawing (*.dxf)"


class LaidUnder(Protocol):
    """What lines can be laid under."""

    def lay_under(self, lines: Sequence[Array]) -> None:
        """Lay lines (n, 2) under it, in place of those there [mm]."""


class Exported(Protocol):
    """What can be written as a drawing."""

    def export(self, path: Path) -> None:
        """Write it in the format of the file's ending."""


class Drawings(QObject):
    """What the File menu does with drawings; the panel stands in place of a page until it is done with."""

    done = Signal(str)
    """The panel is done with: show the page again that it was asked for from."""

    def __init__(self, session: Session, stack: QStackedWidget, banner: Banner, parent: QObject) -> None:
        super().__init__(parent)
        self._session, self._stack, self._banner = session, stack, banner
        self.panel: DxfImport | None = None
        self._onto: LaidUnder | None = None
        self._page = ""

    def take_in(self, onto: LaidUnder, path: Path | None = None, *, page: str = "sections") -> None:
        """Show the panel in place of a page, reading a file when one is given."""
        from stringerlab.desktop.dxf_import import DxfImport

        self._onto, self._page = onto, page
        if self.panel is None:
            panel = DxfImport(self._session)
            panel.closed.connect(self._closed)
            panel.walls_added.connect(self._added)
            panel.underlay_chosen.connect(self._laid)
            self._stack.addWidget(panel)
            self.panel = panel
        self.panel.choose_place(as_drawn=page == "plan")
        self._stack.setCurrentWidget(self.panel)
        self.panel.setFocus()
        if path is not None:
            self.panel.open(path)

    def ask_export(self, sheet: Exported, name: str) -> None:
        """Ask for a file and write the sheet to it, in the format of its ending."""
        path = self._session.path
        start = path.parent if path else Path.home()
        dialog = QFileDialog(self._stack, "Export the sheet", str(start / f"{name}.svg"), _OUT)
        dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
        dialog.setDefaultSuffix("svg")

        def other_kind(kind: str) -> None:
            dialog.setDefaultSuffix(_suffix(kind))

        dialog.filterSelected.connect(other_kind)
        dialog.finished.connect(dialog.deleteLater)

        def chosen(file: str) -> None:
            try:
                sheet.export(Path(file))
            except StringerlabError as refused:
                self._banner.say([str(problem) for problem in refused.problems], wrong=True)
                return
            self._session.said.emit(f"Exported {Path(file).name}.")

        dialog.fileSelected.connect(chosen)
        dialog.open()

    def stop(self) -> None:
        """End a reading under way."""
        if self.panel is not None:
            self.panel.stop()

    def _closed(self) -> None:
        self.done.emit(self._page)

    def _laid(self, lines: Sequence[Array]) -> None:
        if self._onto is not None:
            self._onto.lay_under(lines)
        self._closed()
        self._session.said.emit("Laid under, to see and to snap to; it is not kept in the project's file.")

    def _added(self, section: str) -> None:
        self._closed()
        self._session.take_to(section)


def _suffix(kind: str) -> str:
    """Return the ending of a file dialog's kind of file: ``SVG drawing (*.svg)`` gives ``svg``."""
    return kind.rsplit("*.", 1)[-1].rstrip(")")
