"""The command line: the same work without a window.

Exit status, the worst that applies: 2 the input is bad, 1 something is short, 3 something is not judged
that was not waved through by name, 0 otherwise. A command loads only what it needs.
"""

from stringerlab.cli.parser import run

__all__ = ["run"]
