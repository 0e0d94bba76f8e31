"""Drawings in and out: the panel that takes a DXF in, and the sheet written as SVG, PNG or DXF."""

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QFileDialog, QStackedWidget

from stringerlab.desktop.banner import Banner
from stringerlab.desktop.session import Session
from stringerlab.errors import StringerlabError

if TYPE_CHECKING:
    from stringerlab.desktop.dxf_import import DxfImport
    from stringerlab.desktop.sheet import Sheet

_OUT = "SVG drawing (*.svg);;PNG image (*.png);;DXF drawing (*.dxf)"


class Drawings(QObject):
    """What the File menu does with drawings; the panel stands in place of a page until it is done with."""

    done = Signal()
    """The panel is done with: show the sheet again."""

    def __init__(self, session: Session, stack: QStackedWidget, banner: Banner, parent: QObject) -> None:
        super().__init__(parent)
        self._session, self._stack, self._banner = session, stack, banner
        self.panel: DxfImport | None = None

    def take_in(self, sheet: "Sheet", path: Path | None = None) -> None:
        """Show the panel, reading a file when one is given."""
        from stringerlab.desktop.dxf_import import DxfImport

        if self.panel is None:
            panel = DxfImport(self._session)
            panel.closed.connect(self.done)
            panel.walls_added.connect(self._added)
            panel.underlay_chosen.connect(sheet.lay_under)
            panel.underlay_chosen.connect(self.done)
            self._stack.addWidget(panel)
            self.panel = panel
        self._stack.setCurrentWidget(self.panel)
        self.panel.setFocus()
        if path is not None:
            self.panel.open(path)

    def ask_export(self, sheet: "Sheet", name: str) -> None:
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

    def _added(self, section: str) -> None:
        self.done.emit()
        self._session.take_to(section)


def _suffix(kind: str) -> str:
    """Return the ending of a file dialog's kind of file: ``SVG drawing (*.svg)`` gives ``svg``."""
    return kind.rsplit("*.", 1)[-1].rstrip(")")
