"""``export`` from the command line: a file in the form of its ending, whole or not at all."""

from __future__ import annotations

import errno
import json
import os
import signal
import subprocess
import sys
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree

import pytest
from ezdxf import filemanagement

from stringerlab.cli import run
from stringerlab.data import folder
from stringerlab.files import load, save
from stringerlab.report.exports import FORMS, What

WORKBOAT = str(folder("sample_projects") / "eelgrass_workboat.json")
LAYOUT = str(folder("sample_projects") / "tidewrack_layout.json")
ALL = [(what, form) for what, forms in FORMS.items() for form in forms]


def sample_for(what: What) -> str:
    return LAYOUT if what is What.LAYOUT else WORKBOAT


@pytest.mark.parametrize(("what", "form"), ALL)
def test_one_file_is_written_in_the_form_of_its_ending(
    what: str, form: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / f"made.{form}"
    assert run(["export", sample_for(What(what)), "--what", what, "-o", str(out)]) == 0
    assert [path.name for path in tmp_path.iterdir()] == [out.name]
    heard = capsys.readouterr()
    assert str(out) in heard.out
    assert "naval architect" in heard.out
    assert heard.err == ""
    match form:
        case "svg":
            assert ElementTree.fromstring(out.read_bytes()).tag.endswith("svg")
        case "dxf":
            assert not filemanagement.readfile(str(out)).audit().errors
        case _:
            assert len(out.read_text(encoding="utf-8-sig").splitlines()) > 1


def test_the_same_command_writes_the_same_bytes_over_the_former_file(tmp_path: Path) -> None:
    out = tmp_path / "boat.dxf"
    out.write_text("former")
    command = ["export", WORKBOAT, "--what", "sections", "-o", str(out)]
    assert run(command) == 0
    first = out.read_bytes()
    assert run(command) == 0
    assert out.read_bytes() == first
    assert list(tmp_path.iterdir()) == [out]


def test_one_section_goes_by_id_or_name(tmp_path: Path) -> None:
    made: list[bytes] = []
    [section, *_] = load(WORKBOAT).sections
    for wanted in (section.id, section.name):
        out = tmp_path / "one.svg"
        assert run(["export", WORKBOAT, "--what", "sections", "--section", wanted, "-o", str(out)]) == 0
        made.append(out.read_bytes())
    assert made[0] == made[1]
    assert load(WORKBOAT).sections[1].name.encode() not in made[0]


def test_a_layout_goes_by_name(tmp_path: Path) -> None:
    out = tmp_path / "plan.svg"
    named = ["export", LAYOUT, "--what", "layout", "--layout", "Plain stringers", "-o", str(out)]
    assert run(named) == 0
    assert "Plain stringers" in out.read_text(encoding="utf-8")


def test_json_says_what_was_written(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "found.csv"
    assert run(["export", WORKBOAT, "--what", "findings", "-o", str(out), "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["written"] == [{"file": str(out), "bytes": out.stat().st_size}]
    assert found["problems"] == []


def test_us_units_stand_in_the_heads(tmp_path: Path) -> None:
    out = tmp_path / "p.csv"
    assert run(["export", WORKBOAT, "--what", "properties", "--units", "us", "-o", str(out)]) == 0
    heads = out.read_text(encoding="utf-8-sig").splitlines()[0]
    assert "Neutral axis, z [in]" in heads
    assert "[mm]" not in heads


def test_what_is_left_out_is_said_and_the_status_is_bad_input(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    project = load(WORKBOAT)
    first, *others = project.sections
    path, out = tmp_path / "spoilt.json", tmp_path / "all.dxf"
    save(replace(project, sections=(replace(first, walls=()), *others)), path)
    assert run(["export", str(path), "--what", "sections", "-o", str(out)]) == 2
    assert out.exists()
    assert first.id in capsys.readouterr().err


# -- bad input -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("more", "said"),
    [
        (["--what", "findings", "-o", "a.dxf"], ".csv"),
        (["--what", "sections", "-o", "a"], ".svg or .dxf"),
        (["--what", "findings", "-o", "a.csv", "--section", "x"], "--section"),
        (["--what", "sections", "-o", "a.svg", "--section", "no such"], "no such"),
        (["--what", "sections", "-o", "a.svg", "--method", "iso"], "--method"),
        (["--what", "layout", "-o", "a.svg"], "layout"),
        (["--what", "findings", "-o", "a.csv", "--method", "no_such"], "no_such"),
    ],
)
def test_what_cannot_be_is_refused_with_a_remedy(
    more: list[str],
    said: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(tmp_path)
    assert run(["export", WORKBOAT, *more]) == 2
    assert said in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_nothing_to_report_says_what_to_add(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "bare.json"
    save(replace(load(WORKBOAT), sections=(), panels=(), spans=(), zones=()), path)
    for what, said in (("findings", "panel or a span"), ("sections", "Draw"), ("takeoff", "section")):
        out = tmp_path / f"x.{FORMS[What(what)][0]}"
        assert run(["export", str(path), "--what", what, "-o", str(out)]) == 2
        assert said in capsys.readouterr().err
        assert not out.exists()


def test_a_target_that_cannot_be_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "folder.csv").mkdir()
    (tmp_path / "file").write_text("")
    for name in ("no/such/folder.csv", "folder.csv", "file/x.csv"):
        assert run(["export", WORKBOAT, "--what", "findings", "-o", str(tmp_path / name)]) == 2
        assert str(tmp_path / name) in capsys.readouterr().err
    assert sorted(path.name for path in tmp_path.iterdir()) == ["file", "folder.csv"]


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="the machine has no device that is always full")
def test_a_device_is_no_file_to_write(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "full.csv"
    out.symlink_to("/dev/full")
    assert run(["export", WORKBOAT, "--what", "findings", "-o", str(out)]) == 2
    assert "no ordinary file" in capsys.readouterr().err


@pytest.mark.parametrize("call", ["write", "fsync"])
def test_a_full_disk_leaves_the_former_file_and_nothing_half(
    call: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "boat.dxf"
    out.write_text("former")

    def full(*_: object) -> int:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    with monkeypatch.context() as patched:
        patched.setattr(f"stringerlab.files.store.os.{call}", full)
        status = run(["export", WORKBOAT, "--what", "sections", "-o", str(out)])
    assert status == 2
    assert "disk is full" in capsys.readouterr().err
    assert out.read_text() == "former"
    assert list(tmp_path.iterdir()) == [out]


@pytest.mark.parametrize("former", [True, False])
def test_stopped_while_writing_leaves_nothing_half(
    former: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "boat.svg"
    if former:
        out.write_text("former")

    def stopped(_: int) -> None:
        signal.raise_signal(signal.SIGINT)

    with monkeypatch.context() as patched:
        patched.setattr("stringerlab.files.store.os.fsync", stopped)
        status = run(["export", WORKBOAT, "--what", "sections", "-o", str(out)])
    assert status == 130
    assert "Stopped." in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == ([out] if former else [])
    assert not former or out.read_text() == "former"


@pytest.mark.skipif(os.name == "nt", reason="signals are sent otherwise there")
def test_a_process_stopped_half_way_leaves_no_file(tmp_path: Path) -> None:
    out = tmp_path / "found.csv"
    program = (
        "import importlib, os, signal, sys\n"
        "from stringerlab.cli import run\n"
        "check = importlib.import_module('stringerlab.assess.check')\n"
        "judged = check.judged_spans\n"
        "def stopped(*given):\n"
        "    os.kill(os.getpid(), signal.SIGINT)\n"
        "    return judged(*given)\n"
        "check.judged_spans = stopped\n"
        "sys.exit(run(sys.argv[1:]))\n"
    )
    arguments = ["export", WORKBOAT, "--what", "findings", "-o", str(out)]
    done = subprocess.run([sys.executable, "-c", program, *arguments], capture_output=True, check=False)
    assert done.returncode == 130, done.stderr
    assert list(tmp_path.iterdir()) == []
