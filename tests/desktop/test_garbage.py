import gc
import weakref
from collections.abc import Iterator
from threading import Thread, current_thread

import pytest
from PySide6.QtCore import QCoreApplication
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from stringerlab.desktop.garbage import Collector, kept_to_this_thread
from stringerlab.desktop.jobs import Job


class Held:
    """A widget in a cycle: only a look for garbage frees it."""

    def __init__(self) -> None:
        self.widget = QWidget()
        self.own = self


@pytest.fixture
def threads() -> Iterator[list[str]]:
    """Names of the threads that garbage is looked for in."""
    seen: list[str] = []

    def note(phase: str, info: dict[str, int]) -> None:
        seen.append(current_thread().name)

    gc.callbacks.append(note)
    yield seen
    gc.callbacks.remove(note)


def much() -> list[list[int]]:
    """Return so much that Python would look for garbage while it is made."""
    return [[number] for number in range(400_000)]


def test_work_off_the_window_looks_for_no_garbage(qtbot: QtBot, threads: list[str]) -> None:
    worker = Thread(target=much, name="worker")
    worker.start()
    worker.join()
    assert "worker" not in threads


def test_the_windows_thread_frees_what_lies_in_a_cycle(qtbot: QtBot, threads: list[str]) -> None:
    held = Held()
    alive = weakref.ref(held)
    del held
    application = QCoreApplication.instance()
    assert application is not None
    collector = application.findChild(Collector)
    assert isinstance(collector, Collector)
    kept = much()
    collector.look()
    assert len(kept) == 400_000
    assert alive() is None
    assert set(threads) == {current_thread().name}


def test_there_is_one_for_an_application(qtbot: QtBot) -> None:
    application = QCoreApplication.instance()
    assert application is not None
    Job().deleteLater()
    kept_to_this_thread()
    assert len(application.findChildren(Collector)) == 1
    assert not gc.isenabled()
