"""What a process reads, sets and says as it starts, and as a person stops it."""

import os
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from stringerlab import __main__, cli
from stringerlab.data import folder
from stringerlab.files import load, save

WORKBOAT = folder("sample_projects") / "eelgrass_workboat.json"
THREADS = "OPENBLAS_NUM_THREADS"


def _said_by_a_process(code: str, **environment: str) -> str:
    own = {name: value for name, value in os.environ.items() if name != THREADS} | environment
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, env=own)
    return done.stdout.splitlines()[-1]


def test_check_by_the_method_alone_reads_no_judge_of_the_mechanics() -> None:
    code = (
        "import sys; from stringerlab.cli import run\n"
        f"run(['check', {str(WORKBOAT)!r}, '--no-mechanics'])\n"
        "judges = ('bonds', 'ends', 'local', 'panels', 'plies')\n"
        "print([one for one in judges if f'stringerlab.methods.mechanics.{one}' in sys.modules])"
    )
    assert _said_by_a_process(code) == "[]"


@pytest.mark.parametrize(("given", "found"), [({}, "1"), ({THREADS: "3"}, "3")])
def test_one_thread_of_linear_algebra_unless_a_person_says_more(given: dict[str, str], found: str) -> None:
    code = (
        "import os, sys; sys.argv = ['stringerlab', 'schema']; from stringerlab.__main__ import main\n"
        "assert 'numpy' not in sys.modules\n"
        f"main(); print(os.environ[{THREADS!r}])"
    )
    assert _said_by_a_process(code, **given) == found


def test_stopped_while_it_starts_is_no_traceback(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def stopped(_: object) -> int:
        raise KeyboardInterrupt

    monkeypatch.setattr(cli, "run", stopped)
    monkeypatch.setattr(sys, "argv", ["stringerlab", "schema"])
    monkeypatch.setenv(THREADS, "1")
    assert __main__.main() == 130
    assert capsys.readouterr().err == "Stopped.\n"


@pytest.mark.parametrize("command", ["check", "methods"])
def test_project_without_subjects_gives_no_empty_table(
    command: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    save(replace(load(WORKBOAT), panels=(), spans=()), tmp_path / "bare.json")
    assert cli.run([command, str(tmp_path / "bare.json")]) == 0
    page = capsys.readouterr().out
    assert page.endswith("Nothing to judge: no panel and no span is declared.\n")
    assert "──" not in page
