"""How long a run will take yet, in words."""

import time

_MINUTE, _HOUR = 60.0, 3600.0
_SOON = 5.0
"""Seconds below which no number is worth reading."""
_SURE = 1.0
"""Seconds after which the pace so far says something."""


class Pace:
    """How quickly tasks have been done since now."""

    def __init__(self, tasks: int, done: int = 0) -> None:
        self._tasks = tasks
        self._at_hand = done
        self._began = time.monotonic()

    def words(self, what: str, done: float) -> str:
        """Return what is being done, how many of the tasks are, and the time left as far as it is known."""
        if self._tasks == 1:
            return what
        counted = f"{what}: {int(done)} of {self._tasks}"
        gone = time.monotonic() - self._began
        worked = done - self._at_hand
        if worked <= 0 or gone < _SURE or done >= self._tasks:
            return counted
        return f"{counted}, {time_left(gone * (self._tasks - done) / worked)}"


def time_left(seconds: float) -> str:
    """Return a time left in words, as finely as such a guess is worth."""
    if seconds < _SOON:
        return "a few seconds left"
    if seconds < 1.5 * _MINUTE:
        return f"about {5 * round(seconds / 5)} s left"
    if seconds < 1.5 * _HOUR:
        return f"about {round(seconds / _MINUTE)} min left"
    return f"about {round(seconds / _HOUR)} h left"
