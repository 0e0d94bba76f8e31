"""On a Dask cluster: the same packs, a worker lost midway, an address where nobody is."""

import importlib.util
import os
import socket
import subprocess
import sys
import time
from collections.abc import Generator
from contextlib import ExitStack
from pathlib import Path

import pytest

from stringerlab.errors import StringerlabError
from stringerlab.sizing.running import Running, run
from stringerlab.sizing.running import cluster as clusters
from stringerlab.sizing.searching.size import size
from tests.sizing.running import searches, works
from tests.sizing.running.searches import answer
from tests.sizing.running.test_running import ROOT
from tests.sizing.running.works import Throw

pytestmark = [
    pytest.mark.skipif(
        importlib.util.find_spec("distributed") is None, reason="Dask (distributed) is not installed"
    ),
    pytest.mark.filterwarnings("default"),  # a third party's, of a library that is optional
]


def begun(stack: ExitStack, folder: Path, *arguments: str) -> subprocess.Popen[bytes]:
    """Begin a process of Dask that ends with the test."""
    process = subprocess.Popen(
        [sys.executable, "-m", "distributed.cli." + arguments[0], *arguments[1:]],
        env={**os.environ, "PYTHONPATH": str(ROOT), "OPENBLAS_NUM_THREADS": "1"},
        cwd=folder,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )

    def end() -> None:
        process.kill()
        process.wait()

    stack.callback(end)
    return process


def free_port() -> int:
    with socket.socket() as found:
        found.bind(("127.0.0.1", 0))
        port: int = found.getsockname()[1]
        return port


def answers(port: int, seconds: float) -> bool:
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        with socket.socket() as caller:
            if caller.connect_ex(("127.0.0.1", port)) == 0:
                return True
        time.sleep(0.05)
    return False


@pytest.fixture(scope="module")
def scheduler(tmp_path_factory: pytest.TempPathFactory) -> Generator[str]:
    """The address of a scheduler without workers."""
    port = free_port()
    with ExitStack() as stack:
        own = ("--host", "127.0.0.1", "--port", str(port), "--no-dashboard")
        begun(stack, tmp_path_factory.mktemp("scheduler"), "dask_scheduler", *own)
        if not answers(port, 20):
            pytest.skip("no Dask scheduler could be begun on this machine")
        yield f"tcp://127.0.0.1:{port}"


@pytest.fixture
def workers(scheduler: str, tmp_path: Path) -> Generator[list[subprocess.Popen[bytes]]]:
    """Two workers, each a process of its own."""
    from distributed import Client

    with ExitStack() as stack:
        both = [
            begun(
                stack,
                tmp_path,
                "dask_worker",
                scheduler,
                *("--nthreads", "1", "--no-nanny", "--no-dashboard", "--host", "127.0.0.1"),
                *("--local-directory", str(tmp_path / name)),
            )
            for name in ("one", "two")
        ]
        with Client(scheduler, timeout=10, set_as_default=False) as client:
            client.wait_for_workers(2, timeout=30)
        yield both


def test_a_cluster_without_workers_is_said(scheduler: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(clusters, "_COMING", 0.2)
    with pytest.raises(StringerlabError, match=r"has no worker.*dask worker"):
        run(works.thrown, [Throw(1)], Running(scheduler=scheduler), digest="d", what="Throwing")


def test_a_search_on_a_cluster_that_loses_a_worker_gives_the_same_answer(
    scheduler: str,
    workers: list[subprocess.Popen[bytes]],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    searches.in_small_tasks(monkeypatch)
    boat = searches.boat()
    plan = searches.plan(boat)
    ended: list[str] = []

    def end_one(_part: float, words: str) -> None:
        if not ended and words.startswith("Searching designs: 2"):
            ended.append(words)
            workers[0].kill()

    running = Running(scheduler=scheduler, journal=tmp_path / "run.journal")
    there = size(boat, plan, running=running, watch=end_one)
    assert ended
    assert workers[0].wait(5) != 0
    assert "1 of the cluster's 2 workers were lost; others did their tasks." in there.notes
    here = size(boat, plan, running=Running(workers=1))
    assert answer(there) == answer(here)
    assert len(here.front) > 3
    # what a task refuses there is said here
    tasks = [Throw(seed) for seed in range(4)]
    with pytest.raises(StringerlabError, match="task 2: The third is refused"):
        run(works.refused, tasks, Running(scheduler=scheduler), digest="d", what="Throwing")


@pytest.mark.parametrize(
    "address", ["tcp://127.0.0.1:{port}", "nothing at all", "ghost://here:1", "tcp://::::"]
)
def test_a_wrong_address_is_said_soon(address: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(clusters, "_CONNECT", 0.5)
    wrong = address.format(port=free_port())
    began = time.monotonic()
    with pytest.raises(StringerlabError, match=r"No Dask scheduler answers.*dask worker"):
        run(works.thrown, [Throw(1)], Running(scheduler=wrong), digest="d", what="Throwing")
    assert time.monotonic() - began < 10  # a wait without end is what this guards against


def test_something_else_that_listens_there_is_no_scheduler(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(clusters, "_CONNECT", 0.5)
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        address = f"tcp://127.0.0.1:{other.getsockname()[1]}"
        with pytest.raises(StringerlabError, match="No Dask scheduler answers"):
            run(works.thrown, [Throw(1)], Running(scheduler=address), digest="d", what="Throwing")


def test_where_dask_is_not_installed_that_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "distributed", None)
    with pytest.raises(StringerlabError, match=r"stringerlab\[cluster\]"):
        run(works.thrown, [Throw(1)], Running(scheduler="tcp://a:1"), digest="d", what="Throwing")
