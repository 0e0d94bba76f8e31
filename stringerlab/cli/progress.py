"""How far long work is, on one line of a terminal that a person looks at; nothing anywhere else."""

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
            line = f"{100 * done:3.0f} %  {what}"[: WIDTH - 1]
            print(f"\r{line.ljust(WIDTH - 1)}", end="", file=sys.stderr, flush=True)

    try:
        yield tell
    finally:
        if seen:
            print(f"\r{' ' * (WIDTH - 1)}\r", end="", file=sys.stderr, flush=True)


def part_of(watch: Watch, first: float, part: float, words: str = "") -> Watch:
    """Return a watch on a part of the work, whose words follow what is being done."""
    return lambda done, what: watch(first + part * done, f"{what}{words}")


__all__ = ["Watch", "part_of", "progress"]
