"""Work off the window's thread: one thing at a time, the latest asked for; what came before is dropped.

The working thread touches no Qt object and sends no signal: a timer of the window looks for news. Signals
from another thread while the window connects and disconnects can bring the process down. Nor does it look for
garbage, which may hold widgets: `stringerlab.desktop.garbage`.
"""

from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor

from PySide6.QtCore import QObject, QTimer, Signal

from stringerlab.desktop.garbage import kept_to_this_thread
from stringerlab.errors import StringerlabError

LOOK_EVERY = 8
"""Milliseconds between looks for news while something is under way."""

Watch = Callable[[float, str], None]
"""Told the fraction done and what is being done; ends the work by raising ``Ended``."""


class Ended(Exception):  # noqa: N818
    """Raised in the working thread when nobody waits for the work any more."""


class _Order:
    """One piece of work, shared by the window and the thread; each field is written by one of them."""

    def __init__(self, work: Callable[[Watch], object]) -> None:
        self._work = work
        self.dropped = False
        self.news: tuple[float, str] | None = None
        self.future: Future[object] | None = None

    def run(self) -> object:
        """Do the work, in the thread."""
        self.watch(0.0, "")
        return self._work(self.watch)

    def watch(self, fraction: float, what: str) -> None:
        """Note the progress, or end."""
        if self.dropped:
            raise Ended
        self.news = (fraction, what)


class Job(QObject):
    """Does one thing at a time on a thread of its own."""

    finished = Signal(object)
    """What the work asked for last has brought."""
    failed = Signal(object)
    """The ``StringerlabError`` it ended with; any other exception is raised in the window."""
    progress = Signal(float, str)
    busy_changed = Signal(bool)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        kept_to_this_thread()
        self._threads: list[ThreadPoolExecutor] = []
        self._now: _Order | None = None
        self._held = False
        self._under_way: list[_Order] = []
        self._looking = QTimer(self, interval=LOOK_EVERY)
        self._looking.timeout.connect(self._look)
        threads, under_way = self._threads, self._under_way
        self.destroyed.connect(lambda: _left(threads, under_way))

    @property
    def busy(self) -> bool:
        """Whether something is under way whose end is waited for."""
        return self._now is not None

    def start(self, work: Callable[[Watch], object]) -> None:
        """Do something; what is under way is told to end, and dropped.

        Parameters
        ----------
        work
            Called in the thread with a watch to tell of progress; it must touch nothing of Qt's widgets.
        """
        self.cancel()
        if not self._threads:
            self._threads.append(ThreadPoolExecutor(max_workers=1, thread_name_prefix="stringerlab"))
        order = self._now = _Order(work)
        self._under_way[:] = [order]
        if not self._held:
            order.future = self._threads[0].submit(order.run)
        self._looking.start()
        self.busy_changed.emit(True)

    def hold(self) -> None:
        """Let what is asked for from now on wait for ``let_go``."""
        self._held = True

    def let_go(self) -> None:
        """Do what was asked for last while held, and from now on what is asked for at once."""
        self._held = False
        order = self._now
        if order is not None and order.future is None:
            order.future = self._threads[0].submit(order.run)

    def cancel(self) -> None:
        """Tell what is under way to end; nothing comes of it."""
        order = self._now
        if order is not None:
            order.dropped = True
            self._end()

    def wait(self) -> None:
        """Wait until the thread has nothing left to do; what it brings is still told afterwards."""
        if self._threads:
            self._threads[0].submit(_nothing).result()

    def stop(self) -> None:
        """Cancel, and wait for the thread to end."""
        self.cancel()
        _shut(self._threads)

    def _end(self) -> None:
        self._now = None
        self._looking.stop()
        self.busy_changed.emit(False)

    def _look(self) -> None:
        order = self._now
        if order is None or order.future is None:
            return
        news, order.news = order.news, None
        if news is not None and news[1]:
            self.progress.emit(*news)
        if order is not self._now or not order.future.done():
            return
        self._end()
        try:
            brought = order.future.result()
        except Ended:
            return
        except StringerlabError as error:
            self.failed.emit(error)
            return
        self.finished.emit(brought)


def _nothing() -> None:
    return


def _left(threads: list[ThreadPoolExecutor], under_way: list[_Order]) -> None:
    """End what nobody waits for any more: the job is gone."""
    for order in under_way:
        order.dropped = True
    _shut(threads)


def _shut(threads: list[ThreadPoolExecutor]) -> None:
    while threads:
        threads.pop().shutdown(wait=True, cancel_futures=True)
