"""How far long work is, on one line of a terminal that a person looks at; nothing anywhere else."""

import os
import sys
from collections.abc import Callable, Generator
from contextlib import contextmanager

from stringerlab.cli.table import WIDTH

Watch = Callable[[float, str], None]


@contextmanager
def progress() -> Generator[Watch]:
    """Give a watch that tells of progress, and clear its line at the end, however that comes."""
    seen = sys.stderr.isatty()

    def tell(done: float, what: str) -> None:
        if seen:
            room = _room()
            line = f"{100 * done:3.0f} %  {what}"[:room]
            print(f"\r{line.ljust(room)}", end="", file=sys.stderr, flush=True)

    try:
        yield tell
    finally:
        if seen:
            print(f"\r{' ' * _room()}\r", end="", file=sys.stderr, flush=True)


def _room() -> int:
    """Return how many characters go on a line without its going on below."""
    try:
        return min(WIDTH, os.get_terminal_size(sys.stderr.fileno()).columns or WIDTH) - 1
    except OSError:  # not told
        return WIDTH - 1


def part_of(watch: Watch, first: float, part: float, words: str = "") -> Watch:
    """Return a watch on a part of the work, whose words follow what is being done."""
    return lambda done, what: watch(first + part * done, f"{what}{words}")


__all__ = ["Watch", "part_of", "progress"]
