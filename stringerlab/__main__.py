"""Start the program: its window, with no arguments or a project's file alone; the command line otherwise."""

import sys
from collections.abc import Sequence
from pathlib import Path


def main() -> int:
    """Run the window or the command line on the process's arguments and return the exit status."""
    arguments = sys.argv[1:]
    if wants_window(arguments):
        from stringerlab.desktop.app import main as open_window

        return open_window(arguments)
    from stringerlab.cli import run

    return run(arguments)


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
