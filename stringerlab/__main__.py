"""Start the program: its window, with no arguments or a project's file alone; the command line otherwise."""

import os
import sys
from collections.abc import Sequence
from pathlib import Path

_THREADS = "OPENBLAS_NUM_THREADS"
"""Read by numpy's linear algebra as it is loaded. Many small solves only wait for each other's threads."""

_STOPPED = 130
"""Exit status of what a person stopped, as shells have it."""


def main() -> int:
    """Run the window or the command line on the process's arguments and return the exit status."""
    os.environ.setdefault(_THREADS, "1")
    arguments = sys.argv[1:]
    try:
        if wants_window(arguments):
            from stringerlab.desktop.app import main as open_window

            return open_window(arguments)
        from stringerlab.cli import run

        return run(arguments)
    except KeyboardInterrupt:
        print("Stopped.", file=sys.stderr)
        return _STOPPED


def wants_window(arguments: Sequence[str]) -> bool:
    """Whether arguments ask for the window: there are none, or there is one and it names a project file."""
    if not arguments:
        return True
    if len(arguments) != 1 or arguments[0].startswith("-"):
        return False
    path = Path(arguments[0])
    return path.suffix.lower() == ".json" or path.is_file()


if __name__ == "__main__":
    sys.exit(main())
