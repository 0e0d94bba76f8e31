"""What stands on paper about a project besides its numbers: who, which revision, what size of sheet."""

from dataclasses import dataclass
from enum import StrEnum


class PageSize(StrEnum):
    """Sheets that documents are set for."""

    A4 = "A4"
    LETTER = "letter"


@dataclass(frozen=True, slots=True, kw_only=True)
class Revision:
    """One line of the revision block, as typed: the program dates nothing by itself."""

    revision: str
    date: str = ""
    author: str = ""
    change: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """Particulars of a project's documents, all as typed; an empty one leaves a blank to fill in."""

    number: str = ""
    revision: str = ""
    author: str = ""
    reviewer: str = ""
    client: str = ""
    date: str = ""
    size: PageSize = PageSize.A4
    changes: tuple[Revision, ...] = ()
