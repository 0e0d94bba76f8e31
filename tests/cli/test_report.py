"""``report`` from the command line: one PDF, the same bytes, whole or not at all."""

from __future__ import annotations

import errno
import json
import os
import re
import signal
from dataclasses import replace
from pathlib import Path

import pytest

from stringerlab.assess import Results
from stringerlab.cli import run
from stringerlab.data import folder
from stringerlab.files import load, save

LESSON = str(folder("sample_projects") / "first_hat_lesson.json")
_SHEET = re.compile(rb"/MediaBox ?\[0 0 ([\d.]+) ([\d.]+)\]")


def sheets(path: Path) -> list[tuple[float, float]]:
    """Sizes of a PDF's pages [pt]."""
    data = path.read_bytes()
    assert data.startswith(b"%PDF-")
    assert data.rstrip().endswith(b"%%EOF")
    return [(float(wide), float(high)) for wide, high in _SHEET.findall(data)]


def test_a_report_is_written_and_again_to_the_same_bytes(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    first, second = tmp_path / "a.pdf", tmp_path / "b.pdf"
    for out in (first, second):
        assert run(["report", LESSON, "-o", str(out)]) == 0
        heard = capsys.readouterr()
        assert str(out) in heard.out
        assert "naval architect" in heard.out
    assert first.read_bytes() == second.read_bytes()
    assert len(sheets(first)) > 10
    assert sorted(path.name for path in tmp_path.iterdir()) == ["a.pdf", "b.pdf"]


def test_all_workings_are_more_than_the_governing_ones(tmp_path: Path) -> None:
    made: list[int] = []
    for kind in ("governing", "all"):
        out = tmp_path / f"{kind}.pdf"
        assert run(["report", LESSON, "--workings", kind, "-o", str(out)]) == 0
        made.append(out.stat().st_size)
    assert made[1] > made[0]


def test_what_is_asked_for_reaches_the_report(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[tuple[str, bool, str]] = []

    def made(results: Results, *, workings: str, second_opinion: bool, **_: object) -> bytes:
        asked.append((workings, second_opinion, results.method.id))
        return b"%PDF-"

    monkeypatch.setattr("stringerlab.report.calculation.calculation_report", made)
    out = ["-o", str(tmp_path / "boat.pdf")]
    assert run(["report", LESSON, *out]) == 0
    assert run(["report", LESSON, "--second-opinion", "--workings", "all", *out]) == 0
    assert run(["report", LESSON, "--method", "first_principles", *out]) == 0
    usual = load(LESSON).method
    assert asked == [
        ("governing", False, usual),
        ("all", True, usual),
        ("governing", False, "first_principles"),
    ]


def test_what_is_wrong_is_said_and_the_status_is_bad_input(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    project = load(LESSON)
    path, out = tmp_path / "boat.json", tmp_path / "boat.pdf"
    first, *others = project.sections
    save(replace(project, sections=(replace(first, walls=()), *others)), path)
    assert run(["report", str(path), "-o", str(out), "--json"]) == 2
    heard = capsys.readouterr()
    found = json.loads(heard.out)
    assert found["written"] == [{"file": str(out), "bytes": out.stat().st_size}]
    assert any(first.id in problem for problem in found["problems"])
    assert first.id in heard.err


def test_nothing_to_report_says_what_to_add(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path, out = tmp_path / "bare.json", tmp_path / "bare.pdf"
    save(replace(load(LESSON), panels=(), spans=(), layouts=(), layout=""), path)
    assert run(["report", str(path), "-o", str(out)]) == 2
    said = capsys.readouterr().err
    assert "nothing to report" in said
    assert "Add a panel or a span" in said
    assert not out.exists()


@pytest.mark.parametrize(
    ("name", "said"), [("report.doc", ".pdf"), ("no/such/folder.pdf", "folder"), ("there.pdf", "is a folder")]
)
def test_a_target_that_cannot_be_is_refused(
    name: str, said: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "there.pdf").mkdir()
    assert run(["report", LESSON, "-o", str(tmp_path / name)]) == 2
    assert said in capsys.readouterr().err
    assert [path.name for path in tmp_path.iterdir()] == ["there.pdf"]


def test_a_full_disk_leaves_the_former_report(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "boat.pdf"
    out.write_text("former")

    def full(_: int) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    with monkeypatch.context() as patched:
        patched.setattr("stringerlab.files.store.os.fsync", full)
        status = run(["report", LESSON, "-o", str(out)])
    assert status == 2
    assert "disk is full" in capsys.readouterr().err
    assert out.read_text() == "former"
    assert list(tmp_path.iterdir()) == [out]


def test_stopped_half_way_leaves_no_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def stopped(*given: object, **named: object) -> bytes:
        del given, named
        signal.raise_signal(signal.SIGINT)
        return b"%PDF-"

    monkeypatch.setattr("stringerlab.report.calculation.pdf", stopped)
    assert run(["report", LESSON, "-o", str(tmp_path / "boat.pdf")]) == 130
    assert "Stopped." in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


# -- the comparison sheet ------------------------------------------------------------------------


def test_a_comparison_sheet_is_one_page_that_lies(tmp_path: Path) -> None:
    boat = str(folder("sample_projects") / "eelgrass_workboat.json")
    out = tmp_path / "beside.pdf"
    assert run(["compare", boat, LESSON, "--pdf", str(out)]) == 0
    [(wide, high)] = sheets(out)
    assert wide > high


def test_a_comparison_sheet_is_a_pdf(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "beside.svg"
    assert run(["compare", LESSON, LESSON, "--pdf", str(out)]) == 2
    assert ".pdf" in capsys.readouterr().err
    assert not out.exists()
