"""``shopsheets`` from the command line: one PDF a crew's task, in a folder, on the paper asked for."""

from __future__ import annotations

import errno
import json
import os
import re
import signal
from dataclasses import replace
from pathlib import Path

import pytest

from stringerlab.cli import run
from stringerlab.data import folder
from stringerlab.files import load, save
from stringerlab.project import resolve
from stringerlab.report.shop import shop_sheets

LESSON = str(folder("sample_projects") / "first_hat_lesson.json")
LAYOUT = str(folder("sample_projects") / "tidewrack_layout.json")
SIZES = {"a4": (595.2756, 841.8898), "letter": (612.0, 792.0)}
_SHEET = re.compile(rb"/MediaBox ?\[0 0 ([\d.]+) ([\d.]+)\]")


@pytest.mark.parametrize("size", list(SIZES))
def test_every_sheet_is_on_the_paper_asked_for(
    size: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    into = tmp_path / "shop" / "floor"
    assert run(["shopsheets", LESSON, "-o", str(into), "--size", size]) == 0
    files = sorted(into.iterdir())
    project = load(LESSON)
    assert [file.name for file in files] == sorted(shop_sheets(project, resolve(project)))
    said = capsys.readouterr().out
    for file in files:
        assert str(file) in said
        found = _SHEET.findall(file.read_bytes())
        assert found
        for wide, high in found:
            assert sorted((float(wide), float(high))) == pytest.approx(SIZES[size], abs=0.01)


def test_again_the_same_bytes_over_the_former_ones(tmp_path: Path) -> None:
    made: list[dict[str, bytes]] = []
    for _ in range(2):
        assert run(["shopsheets", LESSON, "-o", str(tmp_path)]) == 0
        made.append({file.name: file.read_bytes() for file in tmp_path.iterdir()})
    assert made[0] == made[1]


def test_another_layout_makes_other_sheets(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    one, other = tmp_path / "one", tmp_path / "other"
    assert run(["shopsheets", LAYOUT, "-o", str(one)]) == 0
    capsys.readouterr()
    run(["shopsheets", LAYOUT, "--layout", "Plain stringers", "-o", str(other), "--json"])
    written = json.loads(capsys.readouterr().out)["written"]
    assert [entry["file"] for entry in written] == [str(other / file.name) for file in sorted(one.iterdir())]
    assert any((one / file.name).read_bytes() != file.read_bytes() for file in other.iterdir())


def test_a_project_with_nothing_to_make_says_what_to_add(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path, into = tmp_path / "bare.json", tmp_path / "shop"
    save(replace(load(LESSON), panels=(), spans=(), zones=(), layouts=(), layout=""), path)
    assert run(["shopsheets", str(path), "-o", str(into)]) == 2
    assert "nothing to make" in capsys.readouterr().err
    assert not into.exists()


def test_a_folder_that_cannot_be_made_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "file").write_text("kept")
    assert run(["shopsheets", LESSON, "-o", str(tmp_path / "file")]) == 2
    assert run(["shopsheets", LESSON, "-o", str(tmp_path / "file" / "within")]) == 2
    assert capsys.readouterr().err.count(str(tmp_path / "file")) >= 2
    assert (tmp_path / "file").read_text() == "kept"


def test_a_full_disk_leaves_nothing_half(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def full(_: int) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    with monkeypatch.context() as patched:
        patched.setattr("stringerlab.files.store.os.fsync", full)
        status = run(["shopsheets", LESSON, "-o", str(tmp_path)])
    assert status == 2
    assert "disk is full" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_stopped_half_way_leaves_whole_sheets_only(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    wrote = os.fsync
    calls: list[int] = []

    def stopped(handle: int) -> None:
        calls.append(handle)
        if len(calls) == 3:
            signal.raise_signal(signal.SIGINT)
        wrote(handle)

    with monkeypatch.context() as patched:
        patched.setattr("stringerlab.files.store.os.fsync", stopped)
        assert run(["shopsheets", LESSON, "-o", str(tmp_path)]) == 130
    for file in tmp_path.iterdir():
        assert file.suffix == ".pdf"
        assert file.read_bytes().rstrip().endswith(b"%%EOF")
