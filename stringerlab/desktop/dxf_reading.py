"""A DXF read off the window's thread, with progress and an end on request."""

from pathlib import Path

from PySide6.QtCore import QCoreApplication, QObject, QRunnable, QThreadPool, Signal

from stringerlab.errors import StringerlabError


class _Stopped(Exception):  # noqa: N818
    """Raised by the watch to end a reading."""


class _Reading(QRunnable):
    def __init__(self, path: Path, unit: str | None, reader: "DxfReader") -> None:
        super().__init__()
        self.setAutoDelete(False)
        self._path, self._unit = path, unit
        self.stopped = False
        self._arrived, self._progress = reader.arrived, reader.progress

    def run(self) -> None:
        from stringerlab.files.dxf_in import read_dxf  # the library behind it loads when first needed

        try:
            self._arrived.emit(self, read_dxf(self._path, unit=self._unit, watch=self._watch), None)
        except _Stopped:
            self._arrived.emit(self, None, None)
        except StringerlabError as error:
            self._arrived.emit(self, None, error)

    def _watch(self, fraction: float, what: str) -> None:
        if self.stopped:
            raise _Stopped
        self._progress.emit(fraction, what)


class DxfReader(QObject):
    """Reads one DXF at a time; what an earlier reading brings is dropped."""

    finished = Signal(object)
    """``Outlines`` of the file last asked for."""
    failed = Signal(object)
    """``StringerlabError`` of the file last asked for."""
    progress = Signal(float, str)
    busy_changed = Signal(bool)
    arrived = Signal(object, object, object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._pool = QThreadPool(self)
        self._pool.setMaxThreadCount(1)
        self._now: _Reading | None = None
        self._alive: set[_Reading] = set()
        self.arrived.connect(self._take)
        app = QCoreApplication.instance()
        if app is not None:
            app.aboutToQuit.connect(self.stop)

    @property
    def busy(self) -> bool:
        """Whether a file is being read."""
        return self._now is not None

    def read(self, path: Path, unit: str | None = None) -> None:
        """Read a file; a reading under way is told to end and dropped."""
        self.cancel()
        self._now = _Reading(path, unit, self)
        self._alive.add(self._now)
        self._pool.start(self._now)
        self.busy_changed.emit(True)

    def cancel(self) -> None:
        """End the reading under way; nothing comes of it."""
        if self._now is not None:
            self._now.stopped = True
            self._now = None
            self.busy_changed.emit(False)

    def stop(self) -> None:
        """End, and wait for the thread."""
        self.cancel()
        self._pool.waitForDone()
        self._alive.clear()

    def _take(self, reading: _Reading, outlines: object, error: object) -> None:
        self._alive.discard(reading)
        if reading is not self._now:
            return
        self._now = None
        self.busy_changed.emit(False)
        if outlines is not None:
            self.finished.emit(outlines)
        elif error is not None:
            self.failed.emit(error)
