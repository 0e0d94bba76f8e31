"""How a command's long run is run, and what is said where a person stops it."""

import argparse
import sys
from collections.abc import Generator
from contextlib import contextmanager
from pathlib import Path

from stringerlab.cli.progress import Watch, progress
from stringerlab.errors import Problem, StringerlabError
from stringerlab.sizing.running import Running

_MOST_WORKERS = 256


@contextmanager
def long_run(options: argparse.Namespace) -> Generator[tuple[Running, Watch]]:
    """Give how a run is run and its watch; where Ctrl-C stops it, say how it goes on later.

    Raises
    ------
    StringerlabError
        When the number of workers is none.
    """
    if not 0 <= options.workers <= _MOST_WORKERS:
        raise StringerlabError(
            Problem(
                f"{options.workers} workers are not to be had.",
                "--workers",
                f"Give 1 to {_MOST_WORKERS}, or 0 for as many as help.",
            )
        )
    journal = Path(options.journal) if options.journal else None
    running = Running(workers=options.workers, scheduler=options.scheduler or "", journal=journal)
    try:
        with progress() as watch:
            yield running, watch
    except KeyboardInterrupt:
        if journal is None:
            print("With --journal FILE a run that is stopped goes on later.", file=sys.stderr)
        else:
            print(
                f"What is done stands in the journal {journal}: the same command goes on from there.",
                file=sys.stderr,
            )
        raise
