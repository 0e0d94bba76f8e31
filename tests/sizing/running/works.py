"""Work that other processes find by its name: what the tests of a run let it do."""

import os
import signal
import time
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from stringerlab.errors import Problem, StringerlabError
from stringerlab.sizing.running import Pack, pulse


@dataclass(frozen=True)
class Throw:
    """A throw of many dice by its seed."""

    seed: int
    marker: str = ""
    pause: float = 0.0


def thrown(task: Throw) -> Pack:
    faces = np.random.default_rng(task.seed).normal(size=(3, 4))
    if task.pause:
        time.sleep(task.pause)
    return {"faces": faces, "sum": float(faces.sum()), "seed": task.seed, "said": f"Würfel {task.seed}"}


def killed_once(task: Throw) -> Pack:
    """End its own process, hard, the first time the marked task comes up."""
    if task.marker and not Path(task.marker).exists():
        Path(task.marker).touch()
        os.kill(os.getpid(), signal.SIGKILL)
    return thrown(task)


def killed_always(task: Throw) -> Pack:
    if task.marker:
        os.kill(os.getpid(), signal.SIGKILL)
    return thrown(task)


def refused(task: Throw) -> Pack:
    if task.seed == 2:
        raise StringerlabError(Problem("The third is refused.", "task 2"))
    return thrown(task)


def surroundings(task: Throw) -> Pack:
    import sys

    return {
        "threads": os.environ.get("OPENBLAS_NUM_THREADS", ""),
        "process": os.getpid(),
        "qt": int(any(name.split(".")[0] == "PySide6" for name in sys.modules)),
        "heeds": int(signal.getsignal(signal.SIGINT) is not signal.SIG_IGN),
    }


def slow(task: Throw) -> Pack:
    """Take its time, with a pulse."""
    for beat in range(400):
        pulse(beat / 400)
        time.sleep(0.02)
    return thrown(task)


def deaf(task: Throw) -> Pack:
    """Take its time, without one."""
    time.sleep(30)
    return thrown(task)
