"""What commands that write files say of them."""

import json
import sys
from collections.abc import Iterable, Sequence
from pathlib import Path

from stringerlab.cli.table import paragraph
from stringerlab.errors import Problem, shown
from stringerlab.methods import NOTICE

BAD = 2
"""Exit status when what is written lacks something for being wrong."""


def told(written: Sequence[Path], wrong: Iterable[Problem], *, as_json: bool) -> int:
    """Print which files were written, what they lack on standard error, and return the exit status.

    Parameters
    ----------
    written
        The files.
    wrong
        What is wrong with what is not in them, or not judged in them.
    as_json
        Print JSON.
    """
    lacking = tuple(dict.fromkeys(wrong))
    if as_json:
        found = {
            "notice": NOTICE,
            "written": [{"file": str(path), "bytes": path.stat().st_size} for path in written],
            "problems": [str(problem) for problem in lacking],
        }
        print(json.dumps(found, indent=2, ensure_ascii=False))
    else:
        for path in written:
            print(f"{path}  {path.stat().st_size / 1000:.1f} kB")
        print("\n".join(["", *paragraph(NOTICE)]))
    for line in shown(lacking):
        print(line, file=sys.stderr)
    return BAD if lacking else 0


__all__ = ["BAD", "told"]
