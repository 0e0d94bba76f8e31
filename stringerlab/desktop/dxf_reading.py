"""A DXF read off the window's thread, with progress and an end on request."""

from pathlib import Path

from PySide6.QtCore import QCoreApplication, QObject

from stringerlab.desktop.jobs import Job


class DxfReader(Job):
    """Reads one DXF at a time; ``finished`` brings the ``Outlines`` of the file last asked for."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        app = QCoreApplication.instance()
        if app is not None:
            app.aboutToQuit.connect(self.stop)

    def read(self, path: Path, unit: str | None = None) -> None:
        """Read a file; a reading under way is told to end and dropped."""
        from stringerlab.files.dxf_in import read_dxf  # the library behind it loads when first needed

        self.start(lambda watch: read_dxf(path, unit=unit, watch=watch))
