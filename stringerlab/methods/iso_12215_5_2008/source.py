"""How clauses of the edition are cited: by numbers from memory, each formula with how well it is known."""

from stringerlab.workings import Known, Source

TITLE = "ISO 12215-5:2008"
OURS = "Our own factor on the standard's form"


def clause(number: str, known: Known, note: str = "") -> Source:
    """Return a clause of the edition as a source; the note says what is done outside a stated range."""
    named = f"clause {number}" if number[0].isdigit() else number
    return Source(title=TITLE, clause=named, known=known, note=note)
