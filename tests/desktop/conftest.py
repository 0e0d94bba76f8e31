"""What every test of the window stands on: no screen, no settings of a real person, nothing left behind."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from stringerlab.data import folder
from stringerlab.files import load

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from stringerlab.desktop.session import Session
    from stringerlab.desktop.settings import Store
    from stringerlab.desktop.window import Window

pytest.importorskip("PySide6.QtWidgets", reason="the window needs PySide6")

from PySide6.QtCore import QCoreApplication, QEvent, QThread, QTimer, QtMsgType, qInstallMessageHandler
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QApplication, QToolTip
from shiboken6 import isValid

from stringerlab.desktop.garbage import Collector, kept_to_this_thread

_OF_QT_ITSELF = ("QTipLabel", "QDesktopScreenWidget")
_BARE = "This plugin does not support"  # the offscreen platform, of itself; no window can help it


@pytest.fixture(autouse=True)
def own_state(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Keep settings and recovery files in a folder of the test's own."""
    state = tmp_path_factory.mktemp("state")
    monkeypatch.setenv("STRINGERLAB_STATE", str(state))
    return state


@pytest.fixture(scope="session", autouse=True)
def garbage_kept_to_this_thread(qapp: QApplication) -> None:
    """Look for garbage in the window's thread alone, as the program does, but between files of tests only.

    What a test has dropped and Qt still holds is half gone once garbage is looked for, and may be asked yet.
    """
    kept_to_this_thread()
    collector = qapp.findChild(Collector)
    assert isinstance(collector, Collector)
    for timer in collector.findChildren(QTimer):
        timer.stop()


@pytest.fixture(scope="module", autouse=True)
def older_things_set_aside(garbage_kept_to_this_thread: None) -> None:
    """Set aside what was there before a file's first test, so that looking for what a test left is quick.

    Each test is still looked over by `quiet_and_clean`: a timer or thread of its own is younger than this.
    """
    gc.collect()
    gc.freeze()


@pytest.fixture(autouse=True)
def quiet_and_clean(qapp: QApplication) -> Iterator[None]:
    """Fail a test that makes Qt complain, or that leaves a window, a timer or a thread behind."""
    messages: list[str] = []

    def heard(kind: QtMsgType, _context: object, message: str) -> None:
        if _BARE not in message:
            messages.append(f"{kind.name}: {message}")

    former = qInstallMessageHandler(heard)
    font = qapp.font()
    try:
        yield
        left = _left_behind(qapp)
    finally:
        qInstallMessageHandler(former)
        qapp.setStyleSheet("")
        qapp.setPalette(QPalette())
        qapp.setFont(font)
    assert not messages, "Qt said: " + "; ".join(messages)
    assert not left, "left behind: " + ", ".join(left)


def _left_behind(app: QApplication) -> list[str]:
    QToolTip.hideText()
    _settle(app)
    if app.topLevelWidgets():
        gc.collect()
        _settle(app)
    left = [
        f"widget {widget!r}"
        for widget in app.topLevelWidgets()
        if (widget.isVisible() or widget.parent() is None)
        and widget.metaObject().className() not in _OF_QT_ITSELF
    ]
    for thing in gc.get_objects():
        if type(thing) is QTimer and isValid(thing) and thing.isActive():
            left.append(f"timer {thing!r}")
        elif isinstance(thing, QThread) and thing is not QThread.currentThread():
            left += [f"thread {thing!r}"] if isValid(thing) and thing.isRunning() else []
    return left


def _settle(app: QApplication) -> None:
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    app.processEvents()


@pytest.fixture
def session(qapp: QApplication) -> Iterator[Session]:
    """The sample workboat, open and unsaved, in metric units."""
    yield from _session("eelgrass_workboat")


@pytest.fixture
def lesson_session(qapp: QApplication) -> Iterator[Session]:
    """The sample lesson, in US units."""
    yield from _session("first_hat_lesson")


def _session(sample: str) -> Iterator[Session]:
    from stringerlab.desktop.session import Session

    session = Session(load(folder("sample_projects") / f"{sample}.json"))
    yield session
    session.close()
    session.deleteLater()


@pytest.fixture
def store(own_state: Path) -> Store:
    """Settings of a person who has seen the tour."""
    from stringerlab.desktop.settings import Settings, Store

    store = Store()
    store.write(Settings(tour_done=True))
    return store


@pytest.fixture
def window(qtbot: QtBot, session: Session, store: Store) -> Iterator[Window]:
    """The whole window on the sample workboat, shown at 1280 × 800."""
    yield from _window(qtbot, session, store, has_project=True)


@pytest.fixture
def first_screen(qtbot: QtBot, session: Session, store: Store) -> Iterator[Window]:
    """The whole window with no project open."""
    yield from _window(qtbot, session, store, has_project=False)


def _window(qtbot: QtBot, session: Session, store: Store, *, has_project: bool) -> Iterator[Window]:
    from stringerlab.desktop.window import Window

    window = Window(session, has_project=has_project, store=store)
    window.resize(1280, 800)
    window.show()
    qtbot.waitExposed(window)
    yield window
    window.end()
    window.deleteLater()
