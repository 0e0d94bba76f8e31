"""How clauses are cited: by their subject, for society, edition and clause numbers are not stated here."""

from stringerlab.workings import Known, Source

TITLE = "Class rules for special service craft, society and edition not stated"


def clause(subject: str, known: Known, note: str = "") -> Source:
    """Return a clause of the rules as a source; the note says what is done outside a stated range."""
    return Source(title=TITLE, clause=subject, known=known, note=note)
