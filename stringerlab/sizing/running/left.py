"""How long a run will take yet, in words."""

import time

_MINUTE, _HOUR = 60.0, 3600.0
_SOON = 5.0
"""Seconds below which no number is worth reading."""
_SURE = 1.0
"""Seconds after which the pace so far says something."""
_PATIENCE = 10.0
"""Seconds after which it does although a first task, which waits for workers to begin, is in it."""


class Pace:
    """How quickly tasks have been done since now."""

    def __init__(self, tasks: int, done: float = 0) -> None:
        self._tasks = tasks
        self._begun = done
        self._since = done, time.monotonic()
        """From where and when the pace is taken."""
        self._sure = _PATIENCE
        self._last = done
        self._end: float | None = None
        """When it will be done, as it looked when more was last done."""

    def words(self, what: str, done: float) -> str:
        """Return what is being done, how many of the tasks are, and the time left as far as it is known."""
        if self._tasks == 1:
            return what
        counted = f"{what}: {int(done)} of {self._tasks}"
        now = time.monotonic()
        if done > self._last or (self._end is None and done > self._begun):
            self._last = done
            self._look(done, now)
        if self._end is None or done >= self._tasks:
            return counted
        return f"{counted}, {time_left(max(self._end - now, 0.0))}"

    def _look(self, done: float, now: float) -> None:
        """Take the pace anew; once a first task is done it is taken from there."""
        before, when = self._since
        if now - when >= self._sure and done > before:
            self._end = now + (now - when) * (self._tasks - done) / (done - before)
        if self._sure == _PATIENCE and done >= self._begun + 1:
            self._since, self._sure = (done, now), _SURE


def time_left(seconds: float) -> str:
    """Return a time left in words, as finely as such a guess is worth."""
    if seconds < _SOON:
        return "a few seconds left"
    if seconds < 1.5 * _MINUTE:
        return f"about {5 * round(seconds / 5)} s left"
    if seconds < 1.5 * _HOUR:
        return f"about {round(seconds / _MINUTE)} min left"
    return f"about {round(seconds / _HOUR)} h left"
