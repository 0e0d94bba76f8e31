"""What the pages hand out: pictures as SVG, tables as CSV, each file whole or not at all."""

from collections.abc import Callable, Mapping
from pathlib import Path

from PySide6.QtWidgets import QFileDialog, QHeaderView, QWidget

from stringerlab.desktop.rows_table import RowsTable
from stringerlab.desktop.session import Session
from stringerlab.drawing import PRINT, Picture, svg
from stringerlab.errors import StringerlabError
from stringerlab.report.csv_text import Table, csv_bytes
from stringerlab.report.writing import written


def write_picture(picture: Picture, path: Path, title: str) -> None:
    """Write a picture as SVG.

    Raises
    ------
    StringerlabError
        When it cannot be written; what was there stays.
    """
    written(path, svg(picture, PRINT, title=title).encode("utf-8"))


def write_table(table: Table, path: Path) -> None:
    """Write a table as CSV.

    Raises
    ------
    StringerlabError
        When it cannot be written; what was there stays.
    """
    written(path, csv_bytes(table))


def ask_file(
    parent: QWidget, session: Session, title: str, name: str, kinds: str, write: Callable[[Path], None]
) -> None:
    """Ask where to, and write; a refusal is shown."""
    start = session.path.parent if session.path is not None else Path.home()
    chosen, _ = QFileDialog.getSaveFileName(parent, title, str(start / name), kinds)
    if not chosen:
        return
    try:
        write(Path(chosen))
    except StringerlabError as error:
        session.problem.emit(error)


def columns(table: RowsTable, widths: Mapping[int, int], stretched: tuple[int, ...] = (0,)) -> None:
    """Give columns their widths; those stretched share what is left."""
    header = table.horizontalHeader()
    for column in stretched:
        header.setSectionResizeMode(column, QHeaderView.ResizeMode.Stretch)
    for column, width in widths.items():
        header.setSectionResizeMode(column, QHeaderView.ResizeMode.Fixed)
        table.setColumnWidth(column, width)
