"""Start the program: the command line, or its window once there is one."""

import sys


def main() -> int:
    """Run the command line on the process's arguments and return its exit status."""
    from stringerlab.cli import run

    return run(sys.argv[1:])


if __name__ == "__main__":
    sys.exit(main())
