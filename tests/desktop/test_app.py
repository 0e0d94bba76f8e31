"""Which way the program starts, and what it says when no window can be opened."""

import os
import subprocess
import sys
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from stringerlab.__main__ import wants_window
from stringerlab.data import folder
from stringerlab.desktop.app import open_window

SAMPLE = folder("sample_projects") / "eelgrass_workboat.json"


@pytest.mark.parametrize(
    ("arguments", "window"),
    [
        ([], True),
        (["boat.json"], True),
        ([str(SAMPLE)], True),
        (["check"], False),
        (["--version"], False),
        (["-h"], False),
        (["check", "boat.json"], False),
        (["boat.json", "--help"], False),
    ],
)
def test_window_or_command_line(arguments: list[str], window: bool) -> None:
    assert wants_window(arguments) is window


def test_any_file_that_is_there_opens_the_window(tmp_path: Path) -> None:
    file = tmp_path / "boat"
    assert not wants_window([str(file)])
    file.write_bytes(b"")
    assert wants_window([str(file)])


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="screens of Linux")
def test_start_without_a_screen_is_told_and_does_not_crash() -> None:
    bare = {k: v for k, v in os.environ.items() if k not in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")}
    done = subprocess.run(
        [sys.executable, "-m", "stringerlab"], env=bare, capture_output=True, text=True, check=False
    )
    assert done.returncode == 2
    assert "no screen" in done.stderr
    assert "Traceback" not in done.stderr


def test_file_that_does_not_read_leads_to_the_first_screen(
    qtbot: QtBot, qapp: QApplication, tmp_path: Path
) -> None:
    excepthook = sys.excepthook
    window = open_window(qapp, tmp_path / "missing.json")
    try:
        window.show()
        assert window.page_id == ""
        assert "no such file" in window.banner.text
    finally:
        window.end()
        window.session.close()
        window.unexpected.remove()
        window.deleteLater()
    assert sys.excepthook is excepthook


def test_file_that_reads_is_shown_at_once(qtbot: QtBot, qapp: QApplication, tmp_path: Path) -> None:
    boat = tmp_path / "boat.json"
    boat.write_bytes(SAMPLE.read_bytes())
    window = open_window(qapp, boat)
    try:
        assert window.session.path == boat
        assert window.page_id == "sections"
        assert window.documents.settings.recent == (str(boat),)
    finally:
        window.end()
        window.session.close()
        window.unexpected.remove()
        window.deleteLater()
