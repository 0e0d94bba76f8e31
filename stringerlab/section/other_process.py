"""Another process that is asked one thing: a limit on its time, an end to it when nobody waits any more."""

import subprocess
from collections.abc import Callable, Sequence
from tempfile import TemporaryFile
from time import monotonic
from typing import IO

from stringerlab.errors import Problem, StringerlabError

Watch = Callable[[float, str], None]
"""Told the fraction of the time used and what is under way; ends the work by raising."""
LOOK_EVERY = 0.1
"""Seconds between looks whether anybody still waits."""


def asked(command: Sequence[str], given: str, limit: float, where: str, watch: Watch | None = None) -> str:
    """Return what another process prints for what it is given.

    Parameters
    ----------
    command
        Program and arguments.
    given
        What it reads.
    limit
        Seconds it may take; it is killed then, and whenever ``watch`` raises.
    where
        What it is asked about, for messages.
    watch
        Told how much of the time is used.

    Raises
    ------
    StringerlabError
        When it cannot be started, takes longer than ``limit``, or ends with an error.
    """
    with TemporaryFile("w+", encoding="utf-8") as question:
        # A file, not a pipe: a pipe left half written by a look in between is never written on.
        question.write(given)
        question.seek(0)
        process = _started(command, question, where)
    with process:
        try:
            said, told = _waited(process, limit, where, watch)
        except BaseException:
            process.kill()
            raise
    if process.returncode:
        last = told.strip().splitlines()[-1:] or ["it said nothing"]
        raise StringerlabError(
            Problem(
                f"The second opinion's process ended with status {process.returncode}: {last[0]}.",
                where,
                "Look for hairline overlaps in the drawing.",
            )
        )
    return said


def _started(command: Sequence[str], question: IO[str], where: str) -> subprocess.Popen[str]:
    try:
        return subprocess.Popen(
            command,
            stdin=question,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
            encoding="utf-8",
        )
    except OSError as error:
        raise StringerlabError(
            Problem(f"The second opinion could not be started: {error}.", where, "Install stringerlab again.")
        ) from None


def _waited(process: subprocess.Popen[str], limit: float, where: str, watch: Watch | None) -> tuple[str, str]:
    begun = monotonic()
    while True:
        used = monotonic() - begun
        if used >= limit:
            raise StringerlabError(
                Problem(
                    f"The second opinion took longer than {limit:g} s and was stopped.",
                    where,
                    "Give it more time, or look for hairline overlaps in the drawing.",
                )
            )
        if watch is not None:
            watch(used / limit, f"Second opinion, {used:.0f} s")
        try:
            pause = min(LOOK_EVERY, limit - used)
            return process.communicate(timeout=pause)
        except subprocess.TimeoutExpired:
            continue
