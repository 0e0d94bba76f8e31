"""Answers kept for as long as the very same records are asked about: frozen records need no comparing."""

from collections import OrderedDict
from collections.abc import Callable, Hashable
from threading import Lock
from typing import Generic, TypeVar

T = TypeVar("T")


class Kept(Generic[T]):
    """The last so many answers, found again by the identity of records and the value of all else.

    Threads may share one: an answer may be made twice, but is never a wrong one.
    """

    def __init__(self, most: int) -> None:
        self._most = most
        self._held: OrderedDict[Hashable, tuple[tuple[object, ...], T]] = OrderedDict()
        self._lock = Lock()

    def get(self, records: tuple[object, ...], make: Callable[[], T], value: Hashable = ()) -> T:
        """Return the answer about these records, made when it is not at hand.

        Parameters
        ----------
        records
            Compared by identity; kept alive with the answer.
        make
            Makes the answer.
        value
            What the answer depends on besides, compared by value.
        """
        key = (tuple(map(id, records)), value)
        with self._lock:
            held = self._held.get(key)
            if held is not None:
                self._held.move_to_end(key)
                return held[1]
        made = make()
        with self._lock:
            self._held[key] = (records, made)
            while len(self._held) > self._most:
                self._held.popitem(last=False)
        return made
