"""``scatter`` from the command line: chances, spreads typed, the same on two cores, Ctrl-C, bad input."""

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import pytest

from stringerlab.cli import run
from stringerlab.data import folder

LESSON = str(folder("sample_projects") / "first_hat_lesson.json")
FEW = ("--samples", "256")


def as_json(capsys: pytest.CaptureFixture[str], *arguments: str) -> dict[str, Any]:
    assert run(["scatter", LESSON, *FEW, *arguments, "--json"]) == 0
    found: dict[str, Any] = json.loads(capsys.readouterr().out)
    return found


def test_chances_are_printed_with_their_intervals(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["scatter", LESSON, *FEW]) == 0
    text = capsys.readouterr().out
    assert max(map(len, text.splitlines())) <= 100
    for words in (
        "What scatters",
        "common practice",
        "Of 256 boats laid so",
        "Not sampled",
        "naval architect",
    ):
        assert words in text


def test_json_has_every_finding_and_its_drivers(capsys: pytest.CaptureFixture[str]) -> None:
    found = as_json(capsys)
    for one in found["findings"]:
        assert 0 <= one["low"] <= one["chance"] <= one["high"] <= 1
    likeliest = found["findings"][0]
    assert likeliest["chance"] <= found["any_short"]["chance"]
    assert likeliest["drivers"]
    assert likeliest["kind"] == "rule"
    curve = [(one["percent"], one["utilisation"]) for one in likeliest["curve"]]
    assert curve == sorted(curve)
    assert dict(curve)[50.0] == likeliest["percentiles"]["50"]


def test_spreads_typed_take_the_place_of_the_usual_ones(capsys: pytest.CaptureFixture[str]) -> None:
    found = as_json(capsys, "--spread", "thickness 10% uniform of Bottom")
    assert len(found["inputs"]) == 1
    assert "uniform" in found["inputs"][0]
    careful, rough = (
        as_json(capsys, "--usual", f"{how} hand lay-up")["any_short"] for how in ("careful", "rough")
    )
    assert careful["chance"] < rough["chance"]


def test_a_seed_gives_the_same_chances_again_and_another_others(capsys: pytest.CaptureFixture[str]) -> None:
    one = as_json(capsys, "--seed", "7")
    assert as_json(capsys, "--seed", "7") == one
    assert as_json(capsys, "--seed", "8")["findings"] != one["findings"]


def test_findings_that_read_the_same_are_one_row(capsys: pytest.CaptureFixture[str]) -> None:
    boat = str(folder("sample_projects") / "eelgrass_workboat.json")
    assert run(["scatter", boat, *FEW, "--workers", "1"]) == 0
    text = " ".join(capsys.readouterr().out.split())
    assert "alike" in text  # the bays of one stringer
    assert "more, short in less than 0.1 % of the boats, or in none; --json has them all." in text
    assert "method's own findings, but bonds, which are mechanics and no rule" in text


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("--usual", "drunken hand lay-up"), "careful hand lay-up"),
        (("--spread", "thickness"), "no spread"),
        (("--spread", "thickness 3"), "spread"),
        (("--samples", "1"), "samples"),
        (("--method", "none"), "none"),
    ],
)
def test_bad_input_is_said(capsys: pytest.CaptureFixture[str], arguments: tuple[str, ...], said: str) -> None:
    assert run(["scatter", LESSON, *arguments]) == 2
    assert said in capsys.readouterr().err


@pytest.mark.skipif(sys.platform == "win32", reason="stops a process by a signal")
def test_ctrl_c_stops_cleanly_and_says_how_the_run_goes_on(tmp_path: Path) -> None:
    journal = tmp_path / "run.journal"
    asked = ["scatter", LESSON, "--samples", "10000000", "--workers", "2", "--journal", str(journal)]
    with subprocess.Popen(
        [sys.executable, "-m", "stringerlab", *asked],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        start_new_session=True,
    ) as process:
        end = time.monotonic() + 60
        while not (journal.is_file() and journal.read_bytes().count(b"\n") > 1):
            assert process.poll() is None
            assert time.monotonic() < end
            time.sleep(0.05)
        os.killpg(process.pid, signal.SIGINT)  # as a terminal does: to the workers, too
        out, said = process.communicate(timeout=30)
    assert process.returncode == 130
    assert out == b""
    assert said.decode().splitlines() == [
        f"What is done stands in the journal {journal}: the same command goes on from there.",
        "Stopped.",
    ]
