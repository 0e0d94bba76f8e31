"""What the README promises can be typed as it stands."""

import re
import subprocess
import sys
from pathlib import Path

import pytest

from stringerlab.cli import run
from stringerlab.cli.parser import COMMANDS

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")


def _command(name: str) -> str:
    found = re.search(rf"<!-- {name} -->\n```\n(.+)\n```\n<!-- end -->", README)
    assert found, f"the README marks no {name}"
    return found[1]


def test_run_command_checks_a_sample_and_exits_by_its_verdict() -> None:
    arguments = _command("run command").split(".venv/bin/stringerlab ")[1].split()
    done = subprocess.run(
        [sys.executable, "-m", "stringerlab", *arguments],
        capture_output=True,
        text=True,
        cwd=ROOT,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    assert "naval architect" in done.stdout
    assert "ISO 12215-5:2008" in done.stdout
    assert max(map(len, done.stdout.splitlines())) <= 100


def test_ci_runs_the_readme_test_command() -> None:
    script = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    assert "<!-- test command -->" in script
    assert _command("test command").endswith(".venv/bin/python -m pytest")


def test_readme_names_every_command() -> None:
    for command in COMMANDS:
        assert f"`stringerlab {command}" in README


def test_every_command_listed_can_be_asked_for_help() -> None:
    for command in COMMANDS:
        with pytest.raises(SystemExit) as stopped:
            run([command, "--help"])
        assert stopped.value.code == 0
