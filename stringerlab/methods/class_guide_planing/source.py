"""How clauses of the guide are cited: by their subject, for numbers and edition are not known for sure."""

from stringerlab.workings import Known, Source

TITLE = "ABS guide for high-speed craft, edition not known"


def clause(subject: str, known: Known, note: str = "") -> Source:
    """Return a clause of the guide as a source; the note says what is done outside a stated range."""
    return Source(title=TITLE, clause=subject, known=known, note=note)
