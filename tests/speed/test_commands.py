"""Whole processes, bytecode compiled: checks (aim 0.5 s; by all methods 1.5 s), the version (aim 0.1 s)."""

import os
import subprocess
import sys

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from stringerlab.data import folder

WORKBOAT = str(folder("sample_projects") / "eelgrass_workboat.json")
LAUNCH = str(folder("sample_projects") / "tidewrack_grid.json")
COMPILED = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}


@pytest.mark.parametrize(
    ("arguments", "aim"),
    [(["check", WORKBOAT, "--no-mechanics", "--allow-not-judged", "bond"], 0.5), (["--version"], 0.1)],
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


def test_launch_by_every_method_as_a_whole_process(benchmark: BenchmarkFixture) -> None:
    """Aim 1.5 s; its exit status is the worst of all methods', so any verdict's is right."""

    def run() -> int:
        return subprocess.run(
            [sys.executable, "-m", "stringerlab", "check", LAUNCH, "--method", "all"],
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            env=COMPILED,
            check=False,
        ).returncode

    benchmark.extra_info["aim in seconds"] = 1.5
    assert benchmark.pedantic(run, rounds=5, warmup_rounds=1) in (0, 1, 3)
    if benchmark.enabled:
        assert benchmark.stats is not None
        assert benchmark.stats.stats.min < 1.5  # pyright: ignore[reportOperatorIssue]
