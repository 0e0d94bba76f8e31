"""The window on a real X screen, started, driven and looked at from outside."""

import json
import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtGui import QImage
from pytestqt.qtbot import QtBot

from stringerlab.data import folder
from stringerlab.errors import StringerlabError
from stringerlab.files import Lock, load

pytestmark = pytest.mark.skipif(shutil.which("Xvfb") is None, reason="Xvfb is not on this machine")

SAMPLE = folder("sample_projects") / "eelgrass_workboat.json"


@pytest.fixture(scope="module")
def screen() -> Iterator[str]:
    """A screen of 1280 × 900 on a display of its own."""
    reading, writing = os.pipe()
    server = subprocess.Popen(
        ["Xvfb", "-displayfd", str(writing), "-screen", "0", "1280x900x24", "-nolisten", "tcp"],
        pass_fds=[writing],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    os.close(writing)
    try:
        with os.fdopen(reading) as told:
            number = told.readline().strip()
        assert number, "Xvfb did not start"
        yield f":{number}"
    finally:
        server.terminate()
        server.wait(timeout=20)


@pytest.fixture
def boat(tmp_path: Path) -> Path:
    path = tmp_path / "boat.json"
    path.write_bytes(SAMPLE.read_bytes())
    return path


@pytest.fixture
def environment(screen: str, own_state: Path) -> dict[str, str]:
    (own_state / "settings.json").write_text('{"tour_done": true}', encoding="utf-8")
    return dict(os.environ, DISPLAY=screen, QT_QPA_PLATFORM="xcb")


def test_sample_is_opened_dragged_undone_saved_and_reopened(
    environment: dict[str, str], boat: Path, tmp_path: Path
) -> None:
    picture = tmp_path / "screen.png"
    driver = Path(__file__).with_name("driver.py")
    done = subprocess.run(
        [sys.executable, str(driver), str(boat), str(picture)],
        env=environment,
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    seen = json.loads(done.stdout.splitlines()[-1])
    assert seen["platform"] == "xcb"
    assert seen["selected"]
    assert seen["moved"]
    assert seen["label"]
    assert seen["undone"]
    assert seen["saved"]
    assert seen["reopened"]
    assert "Traceback" not in done.stderr
    image = QImage(str(picture)).convertToFormat(QImage.Format.Format_RGB32)
    assert (image.width(), image.height()) == (1280, 800)
    pixels = np.frombuffer(image.constBits(), dtype=np.uint32)
    assert len(np.unique(pixels)) > 200


def test_program_opens_a_file_and_its_kill_leaves_the_file_free(
    qtbot: QtBot, environment: dict[str, str], boat: Path
) -> None:
    lock = boat.with_name(f".{boat.name}.lock")
    with subprocess.Popen(
        [sys.executable, "-m", "stringerlab", str(boat)], env=environment, stderr=subprocess.PIPE, text=True
    ) as program:
        try:
            qtbot.waitUntil(lambda: _held(lock) or program.poll() is not None, timeout=30_000)
            assert program.poll() is None
            with pytest.raises(StringerlabError, match=f"Process {program.pid}"):
                Lock(boat).acquire()
            assert load(boat).name  # reading goes on while a window holds the file
        finally:
            program.kill()
    assert lock.exists()
    with Lock(boat):
        assert lock.exists()
    assert not lock.exists()


def _held(lock: Path) -> bool:
    """Return whether a lock is there and says whose it is."""
    return lock.exists() and lock.stat().st_size > 0
