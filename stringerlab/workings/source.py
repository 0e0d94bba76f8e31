"""Where a number comes from, and how well it is known."""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum


class Known(StrEnum):
    """How well a value or formula is known, strongest first."""

    READ = "read"
    PROVED = "proved"
    TESTED = "tested"
    QUOTED = "quoted"
    COMPUTED = "computed"
    STATED = "stated"
    """Chosen or entered by the user, or a rule of ours that says so."""
    MEMORY_H = "memory H"
    MEMORY_M = "memory M"
    PRACTICE = "common practice"
    MEMORY_L = "memory L"
    ESTIMATE = "estimate"

    @property
    def rank(self) -> int:
        """Place in the order of strength: 0 is the strongest."""
        return _ORDER.index(self)

    @classmethod
    def ranked(cls, rank: int) -> "Known":
        """Return the mark of a rank."""
        return _ORDER[rank]


_ORDER = list(Known)


def weakest(marks: Iterable[Known], *, default: Known = Known.COMPUTED) -> Known:
    """Return the weakest of the marks."""
    return max(marks, key=lambda mark: mark.rank, default=default)


@dataclass(frozen=True, slots=True)
class Source:
    """A published source (edition in its title), the clause used, and how well it is known."""

    title: str
    clause: str = ""
    known: Known = Known.MEMORY_L
    note: str = ""

    def __str__(self) -> str:
        return f"{self.title}, {self.clause}" if self.clause else self.title
