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

from stringerlab.data import folder
from stringerlab.errors import StringerlabError
from stringerlab.files import load
from stringerlab.project.wishes import ScatterPlan
from stringerlab.sizing.running import Running, run
from stringerlab.sizing.running import cluster as clusters
from stringerlab.sizing.scatter import scatter
from tests.sizing.running import works
from tests.sizing.running.test_running import ROOT, alone, same
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


@pytest.fixture
def cluster(tmp_path: Path) -> Generator[tuple[str, list[subprocess.Popen[bytes]]]]:
    """A scheduler and two workers, each a process of its own."""
    port = free_port()
    address = f"tcp://127.0.0.1:{port}"
    with ExitStack() as stack:
        begun(stack, tmp_path, "dask_scheduler", "--host", "127.0.0.1", "--port", str(port), "--no-dashboard")
        workers = [
            begun(
                stack,
                tmp_path,
                "dask_worker",
                address,
                *("--nthreads", "1", "--no-nanny", "--no-dashboard", "--host", "127.0.0.1"),
                *("--local-directory", str(tmp_path / name)),
            )
            for name in ("one", "two")
        ]
        if not answers(port, 20):
            pytest.skip("no Dask scheduler could be begun on this machine")
        from distributed import Client

        with Client(address, timeout=10, set_as_default=False) as client:
            client.wait_for_workers(2, timeout=20)
        yield address, workers


def test_a_cluster_that_loses_a_worker_gives_the_same_packs(
    cluster: tuple[str, list[subprocess.Popen[bytes]]], tmp_path: Path
) -> None:
    address, workers = cluster
    tasks = [Throw(seed, pause=0.05) for seed in range(30)]
    ended: list[float] = []

    def end_one(part: float, words: str) -> None:
        if part > 0.3 and not ended:
            ended.append(part)
            workers[0].kill()

    running = Running(scheduler=address, journal=tmp_path / "run.journal")
    ran = run(works.thrown, tasks, running, end_one, digest="d", what="Throwing")
    assert ended
    assert workers[0].wait(5) != 0
    assert same(ran.packs, alone(tasks))
    assert ran.notes == ("1 of the cluster's 2 workers were lost; others did their tasks.",)
    # a study of a boat comes to the same there as here
    boat, plan = load(folder("sample_projects") / "first_hat_lesson.json"), ScatterPlan(samples=8192)
    there, here = (scatter(boat, plan, running=one) for one in (Running(scheduler=address), Running()))
    assert there == here
    # what a task refuses there is said here
    with pytest.raises(StringerlabError, match="task 2: The third is refused"):
        run(works.refused, tasks[:4], Running(scheduler=address), digest="d", what="Throwing")


def test_a_cluster_without_workers_is_said(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(clusters, "_CONNECT", 1.5)
    port = free_port()
    with ExitStack() as stack:
        begun(stack, tmp_path, "dask_scheduler", "--host", "127.0.0.1", "--port", str(port), "--no-dashboard")
        if not answers(port, 20):
            pytest.skip("no Dask scheduler could be begun on this machine")
        with pytest.raises(StringerlabError, match=r"has no worker.*dask worker"):
            run(
                works.thrown,
                [Throw(1)],
                Running(scheduler=f"tcp://127.0.0.1:{port}"),
                digest="d",
                what="Throwing",
            )


@pytest.mark.parametrize(
    "address", ["tcp://127.0.0.1:{port}", "nothing at all", "ghost://here:1", "tcp://::::"]
)
def test_a_wrong_address_is_said_soon(address: str) -> None:
    wrong = address.format(port=free_port())
    began = time.monotonic()
    with pytest.raises(StringerlabError, match=r"No Dask scheduler answers.*dask worker"):
        run(works.thrown, [Throw(1)], Running(scheduler=wrong), digest="d", what="Throwing")
    assert time.monotonic() - began < 10  # ours is 3 s; a wait without end is what this guards against


def test_something_else_that_listens_there_is_no_scheduler(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(clusters, "_CONNECT", 1.0)
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
