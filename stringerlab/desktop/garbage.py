"""Garbage is looked for in the window's thread alone: a widget freed in another brings the process down.

Python looks for unreachable cycles in whichever thread happens to allocate. Work off the window's thread
allocates much, and what it would find there may hold widgets. So nothing is looked for by itself any more; a
timer of the window does it, by Python's own thresholds.
"""

import gc
from time import perf_counter

from PySide6.QtCore import QCoreApplication, QObject, QTimer

EVERY = 100
"""Milliseconds between looks."""
_WHOLE = 2
"""The generation that holds everything."""
_REST = 50
"""After a look at everything, how many times as long as it took until the next at the earliest."""


class Collector(QObject):
    """Looks for garbage in the thread it was made in, as long as it lives."""

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        gc.disable()
        self._not_before = 0.0
        self._timer = QTimer(self, interval=EVERY)
        self._timer.timeout.connect(self.look)
        self._timer.start()

    def look(self) -> None:
        """Collect the oldest generation that is due."""
        counts = zip(gc.get_count(), gc.get_threshold(), strict=True)
        due = [generation for generation, (held, most) in enumerate(counts) if held > most > 0]
        began = perf_counter()
        if began < self._not_before:
            due = [generation for generation in due if generation < _WHOLE]
        if not due:
            return
        gc.collect(due[-1])
        if due[-1] == _WHOLE:
            ended = perf_counter()
            self._not_before = ended + _REST * (ended - began)


def kept_to_this_thread() -> None:
    """Have garbage looked for in this thread, the window's, alone; once for an application."""
    application = QCoreApplication.instance()
    if application is not None and application.findChild(Collector) is None:
        Collector(application)
