"""A drawing to the clipboard or to a file: SVG, PNG, DXF."""

from pathlib import Path

from PySide6.QtCore import QBuffer, QByteArray, QIODevice, QMimeData, QSize
from PySide6.QtGui import QFont, QGuiApplication, QImageWriter

from stringerlab.desktop.player import image
from stringerlab.drawing import Picture, Theme, dxf, svg
from stringerlab.errors import Problem, StringerlabError
from stringerlab.report.writing import written

ENDINGS = (".svg", ".png", ".dxf")
SHARPNESS = 2.0
"""Pixels a screen unit of an exported image."""


def to_clipboard(picture: Picture, theme: Theme, size: QSize, font: QFont) -> None:
    """Put a picture on the clipboard, as SVG and as an image."""
    data = QMimeData()
    data.setData("image/svg+xml", QByteArray(svg(picture, theme).encode()))
    data.setImageData(image(picture, theme, size, font, SHARPNESS))
    QGuiApplication.clipboard().setMimeData(data)


def to_file(picture: Picture, path: Path, theme: Theme, size: QSize, font: QFont) -> None:
    """Write a picture in the format of the file's ending.

    Raises
    ------
    StringerlabError
        When the ending is none of SVG, PNG and DXF, or the file cannot be written.
    """
    match path.suffix.lower():
        case ".svg":
            content = svg(picture, theme).encode()
        case ".dxf":
            content = dxf(picture)
        case ".png":
            held = QByteArray()
            buffer = QBuffer(held)
            buffer.open(QIODevice.OpenModeFlag.WriteOnly)
            QImageWriter(buffer, QByteArray(b"png")).write(image(picture, theme, size, font, SHARPNESS))
            buffer.close()
            content = bytes(held.data())
        case _:
            raise StringerlabError(
                Problem(
                    f"A drawing is not written as '{path.suffix}'.",
                    str(path),
                    f"Take one of {', '.join(ENDINGS)}.",
                )
            )
    written(path, content)
