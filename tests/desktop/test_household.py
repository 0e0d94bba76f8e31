"""Files, settings and what is kept through trouble: nothing a person did is lost."""

import errno
import json
import os
import signal
import subprocess
import sys
import threading
from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt, QTimer, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QGuiApplication
from PySide6.QtWidgets import (
    QAbstractItemView,
    QApplication,
    QDialogButtonBox,
    QFileDialog,
    QLineEdit,
    QMessageBox,
    QPushButton,
)
from pytestqt.qtbot import QtBot

from stringerlab.data import folder
from stringerlab.desktop.recovery import Keeper, left_behind, recovery_folder
from stringerlab.desktop.session import Session
from stringerlab.desktop.settings import Place, Settings, Store, state_folder, write_whole
from stringerlab.desktop.window import Window
from stringerlab.errors import StringerlabError
from stringerlab.files import Lock, dumps, load
from stringerlab.project import Project, edits

CTRL = Qt.KeyboardModifier.ControlModifier
SAMPLE = folder("sample_projects") / "eelgrass_workboat.json"


@pytest.fixture(autouse=True)
def soon(monkeypatch: pytest.MonkeyPatch) -> None:
    """Keep unsaved work sooner than a person would need."""
    monkeypatch.setattr("stringerlab.desktop.recovery.AFTER", 30)


@pytest.fixture
def boat(tmp_path: Path) -> Path:
    path = tmp_path / "boats" / "boat.json"
    path.parent.mkdir()
    path.write_bytes(SAMPLE.read_bytes())
    return path


def _rename(session: Session, name: str = "Renamed") -> None:
    session.edit("Rename section", edits.renamed, session.project.sections[0].id, name)


def _press(qtbot: QtBot, box: QMessageBox, text: str) -> None:
    button = next(b for b in box.findChildren(QPushButton) if b.text().replace("&", "") == text)
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)


def _offer(qtbot: QtBot, window: Window, text: str) -> None:
    button = next(b for b in window.banner.offers if b.text() == text)
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)


def _question(qtbot: QtBot, window: Window, name: str = "leaving") -> QMessageBox:
    qtbot.waitUntil(lambda: window.findChild(QMessageBox, name) is not None)
    box = window.findChild(QMessageBox, name)
    assert isinstance(box, QMessageBox)
    return box


def _choose_file(qtbot: QtBot, window: Window, path: Path) -> None:
    """Put a file's name into the file dialog and press its button."""
    qtbot.waitUntil(lambda: window.findChild(QFileDialog) is not None)
    dialog = window.findChild(QFileDialog)
    assert isinstance(dialog, QFileDialog)
    field = dialog.findChild(QLineEdit, "fileNameEdit")
    assert isinstance(field, QLineEdit)
    for view in dialog.findChildren(QAbstractItemView):
        view.clearSelection()
    field.setText(str(path))
    box = dialog.findChild(QDialogButtonBox)
    assert isinstance(box, QDialogButtonBox)
    go = next(b for b in box.buttons() if box.buttonRole(b) is QDialogButtonBox.ButtonRole.AcceptRole)
    qtbot.mouseClick(go, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: window.findChild(QFileDialog) is None)


# -- opening -----------------------------------------------------------------------------------


def test_first_screens_card_opens_the_windows_own_dialog(
    qtbot: QtBot, first_screen: Window, boat: Path
) -> None:
    card = next(
        one for one in first_screen.findChildren(QPushButton) if one.accessibleName() == "Open a project…"
    )
    qtbot.mouseClick(card, Qt.MouseButton.LeftButton)
    _choose_file(qtbot, first_screen, boat)
    assert first_screen.session.path == boat


def test_file_is_opened_by_the_dialog(qtbot: QtBot, first_screen: Window, boat: Path) -> None:
    qtbot.keyClick(first_screen, Qt.Key.Key_O, CTRL)
    _choose_file(qtbot, first_screen, boat)
    assert first_screen.session.path == boat
    assert first_screen.page_id == "sections"
    assert "boat.json" in first_screen.windowTitle()
    assert not first_screen.isWindowModified()


def test_sample_is_begun_from_the_first_screen(qtbot: QtBot, first_screen: Window) -> None:
    card = first_screen.findChild(QPushButton, "sample_first_hat_lesson")
    assert isinstance(card, QPushButton)
    qtbot.mouseClick(card, Qt.MouseButton.LeftButton)
    assert first_screen.session.project == load(folder("sample_projects") / "first_hat_lesson.json")
    assert first_screen.session.path is None
    assert not first_screen.session.unsaved


def test_new_boat_is_begun_by_its_key(qtbot: QtBot, first_screen: Window) -> None:
    qtbot.keyClick(first_screen, Qt.Key.Key_N, CTRL)
    assert first_screen.session.project.name == "New boat"
    assert first_screen.page_id


def test_samples_stand_in_the_menu(qtbot: QtBot, window: Window) -> None:
    menu = window.menus.samples_menu
    menu.aboutToShow.emit()
    names = [action.text() for action in menu.actions()]
    assert names == [
        "Bladderwrack parent",
        "Eelgrass workboat",
        "First hat lesson",
        "Tidewrack grid",
        "Tidewrack layout",
        "Tidewrack plain",
    ]
    menu.actions()[2].trigger()
    assert window.session.project.name == load(folder("sample_projects") / "first_hat_lesson.json").name


def test_file_dragged_in_is_opened(qtbot: QtBot, first_screen: Window, boat: Path) -> None:
    window = first_screen
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(boat))])
    copy, left = Qt.DropAction.CopyAction, Qt.MouseButton.LeftButton
    none = Qt.KeyboardModifier.NoModifier
    entering = QDragEnterEvent(QPoint(300, 300), copy, data, left, none)
    QApplication.sendEvent(window, entering)
    assert entering.isAccepted()
    QApplication.sendEvent(window, QDropEvent(QPointF(300, 300), copy, data, left, none))
    assert window.session.path == boat


def test_other_things_dragged_in_are_left_alone(first_screen: Window, tmp_path: Path) -> None:
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(tmp_path / "photo.png"))])
    entering = QDragEnterEvent(
        QPoint(9, 9),
        Qt.DropAction.CopyAction,
        data,
        Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier,
    )
    entering.ignore()
    QApplication.sendEvent(first_screen, entering)
    assert not entering.isAccepted()


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"{", "breaks off"),
        (b"[]", "no project"),
        (b'{"format": "stringerlab project", "version": 99, "project": {}}', "newer"),
        (b"\xff\xfe\x00", "UTF-8"),
    ],
)
def test_damaged_or_newer_file_is_refused_and_nothing_lost(
    qtbot: QtBot, window: Window, tmp_path: Path, content: bytes, said: str
) -> None:
    before = window.session.project
    bad = tmp_path / "bad.json"
    bad.write_bytes(content)
    window.documents.open(bad)
    assert window.banner.isVisible()
    assert said in window.banner.text
    assert window.session.project is before
    assert bad.read_bytes() == content


def test_recent_files_stand_latest_first_and_open(
    qtbot: QtBot, window: Window, boat: Path, store: Store
) -> None:
    other = boat.with_name("other.json")
    other.write_bytes(boat.read_bytes())
    window.documents.open(boat)
    window.documents.open(other)
    assert store.read().recent == (str(other), str(boat))
    window.menus.recent_menu.aboutToShow.emit()
    names = [action.text() for action in window.menus.recent_menu.actions()]
    assert names == ["&1  other.json", "&2  boat.json"]
    window.menus.recent_menu.actions()[1].trigger()
    assert window.session.path == boat
    other.unlink()
    window.menus.recent_menu.aboutToShow.emit()
    gone = next(a for a in window.menus.recent_menu.actions() if "other" in a.text())
    assert not gone.isEnabled()


def test_place_in_a_file_is_found_again(qtbot: QtBot, window: Window, boat: Path) -> None:
    window.documents.open(boat)
    laminate = window.session.project.laminates[1].id
    window.show_page("laminates")
    window.session.select(laminate)
    window.documents.close()
    assert window.page_id == ""
    window.documents.open(boat)
    assert window.page_id == "laminates"
    assert window.session.selected == laminate


# -- saving ------------------------------------------------------------------------------------


def test_save_writes_the_file(qtbot: QtBot, window: Window, boat: Path) -> None:
    window.documents.open(boat)
    _rename(window.session)
    assert window.isWindowModified()
    qtbot.keyClick(window, Qt.Key.Key_S, CTRL)
    assert load(boat).sections[0].name == "Renamed"
    assert not window.isWindowModified()
    assert "Saved boat.json" in window.title_block.hint.whole


def test_save_without_a_file_asks_for_one(qtbot: QtBot, window: Window, tmp_path: Path, store: Store) -> None:
    _rename(window.session)
    qtbot.keyClick(window, Qt.Key.Key_S, CTRL)
    _choose_file(qtbot, window, tmp_path / "mine.json")
    assert window.session.path == tmp_path / "mine.json"
    assert load(tmp_path / "mine.json").sections[0].name == "Renamed"
    assert store.read().recent[0] == str(tmp_path / "mine.json")


def test_save_as_goes_on_with_the_new_file(qtbot: QtBot, window: Window, boat: Path, tmp_path: Path) -> None:
    window.documents.open(boat)
    qtbot.keyClick(window, Qt.Key.Key_S, CTRL | Qt.KeyboardModifier.ShiftModifier)
    _choose_file(qtbot, window, tmp_path / "second.json")
    assert window.session.path == tmp_path / "second.json"
    assert not Lock(boat).path.exists()
    assert Lock(tmp_path / "second.json").path.exists()


def test_copy_is_saved_and_the_project_stays(
    qtbot: QtBot, window: Window, boat: Path, tmp_path: Path
) -> None:
    window.documents.open(boat)
    _rename(window.session)
    window.menus.actions["save_copy"].trigger()
    _choose_file(qtbot, window, tmp_path / "copy.json")
    assert load(tmp_path / "copy.json").sections[0].name == "Renamed"
    assert window.session.path == boat
    assert window.session.unsaved


@pytest.mark.parametrize(
    ("number", "said"), [(errno.ENOSPC, "disk is full"), (errno.EACCES, "may not be written")]
)
def test_failed_save_loses_nothing_and_offers_a_copy(
    qtbot: QtBot,
    window: Window,
    boat: Path,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    number: int,
    said: str,
) -> None:
    window.documents.open(boat)
    former = boat.read_bytes()
    _rename(window.session)

    def refuses(handle: int, data: object) -> int:
        raise OSError(number, os.strerror(number))

    with monkeypatch.context() as broken:
        broken.setattr("stringerlab.files.store.os.write", refuses)
        qtbot.keyClick(window, Qt.Key.Key_S, CTRL)
    assert said in window.banner.text
    assert "nothing is lost" in window.banner.text
    assert boat.read_bytes() == former
    assert window.session.unsaved
    _offer(qtbot, window, "Save a copy…")
    _choose_file(qtbot, window, tmp_path / "rescue.json")
    assert load(tmp_path / "rescue.json").sections[0].name == "Renamed"


def test_file_in_a_folder_that_may_not_be_written_opens(
    qtbot: QtBot, window: Window, boat: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    really = os.open

    def refuses(path: str | Path, flags: int, *rest: int) -> int:
        if flags & os.O_CREAT and Path(path).parent == boat.parent:
            raise OSError(errno.EROFS, os.strerror(errno.EROFS))
        return really(path, flags, *rest)

    monkeypatch.setattr("os.open", refuses)
    window.documents.open(boat)
    assert window.session.path == boat
    assert "not written" in window.title_block.hint.whole or not window.banner.isVisible()
    _rename(window.session)
    qtbot.keyClick(window, Qt.Key.Key_S, CTRL)
    assert "may not be written" in window.banner.text
    assert window.session.unsaved


def test_two_windows_on_one_file_the_second_is_told_who(qtbot: QtBot, window: Window, boat: Path) -> None:
    first = Session(load(boat))
    first.open(boat)
    try:
        before = window.session.project
        window.documents.open(boat)
        assert f"process {os.getpid()}" in window.banner.text
        assert window.session.project is before
        _offer(qtbot, window, "Open a copy")
        assert window.session.project == load(boat)
        assert window.session.path is None
    finally:
        first.close()


# -- leaving -----------------------------------------------------------------------------------


def test_closing_saved_work_asks_nothing(qtbot: QtBot, window: Window, boat: Path) -> None:
    window.documents.open(boat)
    window.close()
    assert not window.isVisible()
    assert window.findChild(QMessageBox) is None


def test_closing_unsaved_work_asks_and_saves(qtbot: QtBot, window: Window, boat: Path) -> None:
    window.documents.open(boat)
    _rename(window.session)
    window.close()
    assert window.isVisible()
    _press(qtbot, _question(qtbot, window), "Save")
    qtbot.waitUntil(lambda: not window.isVisible())
    assert load(boat).sections[0].name == "Renamed"


def test_closing_unsaved_work_can_drop_it(qtbot: QtBot, window: Window, boat: Path) -> None:
    window.documents.open(boat)
    former = boat.read_bytes()
    _rename(window.session)
    window.close()
    _press(qtbot, _question(qtbot, window), "Don’t save")
    qtbot.waitUntil(lambda: not window.isVisible())
    assert boat.read_bytes() == former
    assert left_behind() == []


def test_closing_unsaved_work_can_be_given_up(qtbot: QtBot, window: Window, boat: Path) -> None:
    window.documents.open(boat)
    _rename(window.session)
    window.close()
    box = _question(qtbot, window)
    qtbot.keyClick(box, Qt.Key.Key_Escape)
    qtbot.waitUntil(lambda: window.findChild(QMessageBox) is None)
    assert window.isVisible()
    assert window.session.unsaved


def test_opening_another_asks_about_what_is_unsaved(qtbot: QtBot, window: Window, boat: Path) -> None:
    _rename(window.session)
    window.documents.open(boat)
    assert window.session.path is None
    _press(qtbot, _question(qtbot, window), "Don’t save")
    qtbot.waitUntil(lambda: window.session.path == boat)


# -- recovery ----------------------------------------------------------------------------------

KILLED = """
import os, signal, sys
from pathlib import Path
from stringerlab.desktop.app import application, open_window
from stringerlab.project import edits
app = application()
window = open_window(app, Path(sys.argv[1]))
window.show()
session = window.session
session.edit("Rename section", edits.renamed, session.project.sections[0].id, "Survivor")
window.documents.keeper.kept.connect(lambda done: os.kill(os.getpid(), signal.SIGKILL))
app.exec()
"""


@pytest.fixture
def killed(boat: Path, own_state: Path, store: Store) -> Path:
    """A file whose window was killed with an unsaved edit."""
    environment = dict(os.environ, QT_QPA_PLATFORM="offscreen")
    done = subprocess.run(
        [sys.executable, "-c", KILLED, str(boat)],
        env=environment,
        capture_output=True,
        timeout=60,
        check=False,
    )
    assert done.returncode == -signal.SIGKILL, done.stderr
    return boat


def test_work_survives_a_kill(qtbot: QtBot, first_screen: Window, killed: Path) -> None:
    window = first_screen
    window.documents.offer_recovery()
    assert window.banner.isVisible()
    assert "Eelgrass" in window.banner.text
    assert str(killed) in window.banner.text
    _offer(qtbot, window, "Recover")
    session = window.session
    assert session.project.sections[0].name == "Survivor"
    assert session.path == killed
    assert session.unsaved
    assert load(killed).sections[0].name != "Survivor"
    qtbot.waitUntil(lambda: left_behind() == [] and window.documents.keeper.file.exists(), timeout=10_000)
    qtbot.keyClick(window, Qt.Key.Key_S, CTRL)
    assert load(killed).sections[0].name == "Survivor"
    assert not window.documents.keeper.file.exists()


def test_recovered_work_can_be_discarded(qtbot: QtBot, first_screen: Window, killed: Path) -> None:
    first_screen.documents.offer_recovery()
    _offer(qtbot, first_screen, "Discard")
    assert left_behind() == []
    assert not first_screen.banner.isVisible()
    assert list(recovery_folder().glob("*")) == []


def test_work_of_a_living_window_is_not_offered(qtbot: QtBot, window: Window) -> None:
    _rename(window.session)
    with qtbot.waitSignal(window.documents.keeper.kept, timeout=10_000) as kept:
        pass
    assert kept.args == [True]
    assert window.documents.keeper.file.exists()
    assert left_behind() == []


def test_undoing_to_what_is_saved_keeps_nothing(qtbot: QtBot, window: Window) -> None:
    _rename(window.session)
    with qtbot.waitSignal(window.documents.keeper.kept, timeout=10_000):
        pass
    window.session.undo()
    assert not window.documents.keeper.file.exists()


def test_kept_work_that_does_not_read_is_left_where_it_is(qtbot: QtBot, first_screen: Window) -> None:
    damaged = recovery_folder() / "0.recovery"
    damaged.parent.mkdir(parents=True)
    head = {"format": "stringerlab recovery", "name": "Boat", "path": "", "when": "2026-01-02T03:04:05+00:00"}
    damaged.write_text(json.dumps({**head, "project": "{"}))
    (recovery_folder() / "1.recovery").write_text("not even JSON")
    before = first_screen.session.project
    first_screen.documents.offer_recovery()
    _offer(qtbot, first_screen, "Recover")
    assert first_screen.session.project is before
    assert str(damaged) in first_screen.banner.text
    assert damaged.exists()


def test_recovery_that_cannot_be_kept_is_told_once(
    qtbot: QtBot, session: Session, tmp_path: Path, first_screen: Window
) -> None:
    blocked = tmp_path / "file"
    blocked.write_text("no folder")
    keeper = Keeper(session, blocked)
    _rename(session)
    with qtbot.waitSignal(keeper.kept, timeout=10_000) as kept:
        pass
    assert kept.args == [False]
    keeper.close()
    first_screen.documents.keeper.kept.emit(False)
    assert "cannot be kept" in first_screen.banner.text
    first_screen.banner.hide()
    first_screen.documents.keeper.kept.emit(False)
    assert not first_screen.banner.isVisible()


# -- what was not expected ---------------------------------------------------------------------


def test_exception_in_a_slot_keeps_the_document_and_offers_a_copy(
    qtbot: QtBot, window: Window, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = window.session.project
    with qtbot.captureExceptions() as caught:
        window.unexpected.install()
        try:
            QTimer.singleShot(0, lambda: 1 / 0)
            box = _question(qtbot, window, "unexpected")
            assert "ZeroDivisionError" in box.informativeText()
            assert window.session.project is before
            _press(qtbot, box, "Save a copy…")
            _choose_file(qtbot, window, tmp_path / "rescue.json")
            assert load(tmp_path / "rescue.json") == before
        finally:
            window.unexpected.remove()
    assert [kind for kind, _, _ in caught] == [ZeroDivisionError]


def test_exception_in_a_thread_is_told_in_the_window(qtbot: QtBot, window: Window) -> None:
    with qtbot.captureExceptions() as caught:
        window.unexpected.install()
        try:
            thread = threading.Thread(target=lambda: [].pop())
            thread.start()
            thread.join()
            box = _question(qtbot, window, "unexpected")
            _press(qtbot, box, "Copy the details")
            assert "IndexError" in QGuiApplication.clipboard().text()
            qtbot.waitUntil(lambda: window.findChild(QMessageBox) is None)
        finally:
            window.unexpected.remove()
    assert [kind for kind, _, _ in caught] == [IndexError]


def test_ten_thousand_edits_are_undone_one_by_one(session: Session) -> None:
    first = session.project
    for number in range(10_000):
        session.edit(f"Edit {number}", _noted, str(number))
    assert session.project.notes == "9999"
    while session.undo_label:
        session.undo()
    assert session.project is first


def _noted(project: Project, notes: str) -> Project:
    from dataclasses import replace

    return replace(project, notes=notes)


def test_check_that_breaks_leaves_nobody_waiting(
    qtbot: QtBot, session: Session, monkeypatch: pytest.MonkeyPatch
) -> None:
    def breaks(*_: object, **__: object) -> None:
        raise ZeroDivisionError

    monkeypatch.setattr("stringerlab.desktop.worker.check", breaks)
    with qtbot.captureExceptions():
        session.assess()
        qtbot.waitUntil(lambda: not session.busy, timeout=5000)


# -- settings ----------------------------------------------------------------------------------


def test_settings_are_found_again(own_state: Path) -> None:
    settings = (
        Settings(scheme="slate", tour_done=True, geometry="00ff")
        .opened(Path("/boats/a.json"))
        .opened(Path("/boats/b.json"))
        .left(Path("/boats/a.json"), Place(page="boat", selected="s1"))
    )
    assert Store().write(settings)
    assert Store().read() == settings
    assert state_folder() == own_state
    assert settings.recent == ("/boats/b.json", "/boats/a.json")


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"{",
        b"[1]",
        b'{"scheme": "pink", "recent": 3, "places": [], "tour_done": "yes"}',
        b"\xff" * 40,
        b"[" * 9999,
    ],
)
def test_damaged_settings_are_begun_anew(own_state: Path, content: bytes) -> None:
    (own_state / "settings.json").write_bytes(content)
    assert Store().read() == Settings()


def test_settings_that_cannot_be_written_do_no_harm(tmp_path: Path) -> None:
    blocked = tmp_path / "file"
    blocked.write_text("no folder")
    assert not Store(blocked).write(Settings())
    assert not write_whole(blocked / "x", b"")
    assert Store(blocked).read() == Settings()


def test_few_recent_files_and_places_are_kept() -> None:
    settings = Settings()
    for number in range(200):
        path = Path(f"/boats/{number}.json")
        settings = settings.opened(path).left(path, Place(page="boat"))
    assert len(settings.recent) == 10
    assert len(settings.places) == 100
    assert settings.place(Path("/boats/199.json")) == Place(page="boat")
    assert settings.place(Path("/boats/0.json")) == Place()


def test_session_begun_is_not_unsaved_until_edited(session: Session) -> None:
    assert not session.unsaved
    _rename(session)
    assert session.unsaved
    with pytest.raises(StringerlabError, match="no file yet"):
        session.save()
    assert dumps(session.project)
