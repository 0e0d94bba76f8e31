"""Progress on a terminal of any width, and none elsewhere; a disk without room for what is printed."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from stringerlab.cli.progress import progress
from stringerlab.data import folder

LESSON = str(folder("sample_projects") / "first_hat_lesson.json")
LONG = "Judging designs: 3 of 256, about 20 s left, and more to be said than a line can hold, however wide"


@pytest.mark.skipif(sys.platform == "win32", reason="needs a pseudo-terminal")
@pytest.mark.parametrize(("columns", "room"), [(60, 59), (200, 99), (0, 99)])
def test_progress_stays_on_one_line_of_the_terminal(
    monkeypatch: pytest.MonkeyPatch, columns: int, room: int
) -> None:
    import termios

    shown, terminal = os.openpty()
    termios.tcsetwinsize(terminal, (24, columns))
    with os.fdopen(terminal, "w") as stream, monkeypatch.context() as patched:
        patched.setattr(sys, "stderr", stream)
        with progress() as watch:
            watch(0.25, LONG)
            watch(0.5, "Short")
        read = b""
        while read.count(b"\r") < 4:  # before two lines, the blank one, and after it
            read += os.read(shown, 10_000)
    written = read.decode()
    os.close(shown)
    lines = written.split("\r")
    assert "\n" not in written
    assert {len(line) for line in lines} == {0, room}
    assert lines[1] == f" 25 %  {LONG}"[:room]
    assert lines[2].rstrip() == " 50 %  Short"
    assert lines[3].strip() == ""


def test_no_progress_is_told_where_nobody_looks(capsys: pytest.CaptureFixture[str]) -> None:
    with progress() as watch:
        watch(0.5, "Half")
    assert capsys.readouterr().err == ""


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no /dev/full")
def test_a_full_disk_behind_what_is_printed_is_said() -> None:
    with Path("/dev/full").open("w", encoding="utf-8") as full:
        ran = subprocess.run(
            [sys.executable, "-m", "stringerlab", "laminate", LESSON, "Bottom"],
            stdout=full,
            stderr=subprocess.PIPE,
            text=True,
            check=False,
        )
    assert ran.returncode == 2
    assert ran.stderr.startswith("standard output: What is to be printed cannot be written: No space left")
    assert len(ran.stderr.splitlines()) == 1
