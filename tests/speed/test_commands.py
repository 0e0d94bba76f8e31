"""Whole processes, with bytecode compiled: the workboat's check (aim 0.5 s) and the version (aim 0.1 s)."""

import os
import subprocess
import sys

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from stringerlab.data import folder

WORKBOAT = str(folder("sample_projects") / "eelgrass_workboat.json")
COMPILED = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}


@pytest.mark.parametrize(
    ("arguments", "aim"),
    [(["check", WORKBOAT, "--allow-not-judged", "bond"], 0.5), (["--version"], 0.1)],
    ids=["check the workboat", "version"],
)
def test_whole_process(benchmark: BenchmarkFixture, arguments: list[str], aim: float) -> None:
    def run() -> int:
        return subprocess.run(
            [sys.executable, "-m", "stringerlab", *arguments],
            stdout=subprocess.DEVNULL,
            env=COMPILED,
            check=True,
        ).returncode

    benchmark.extra_info["aim in seconds"] = aim
    assert benchmark.pedantic(run, rounds=5, warmup_rounds=1) == 0
