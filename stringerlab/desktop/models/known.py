"""How well a value is known, in words a person reads. No Qt."""

from collections.abc import Mapping

from stringerlab.workings import Known

IN_WORDS: Mapping[Known, str] = {
    Known.READ: "read in a text of the source",
    Known.PROVED: "reproduces a published table to its printed digits",
    Known.TESTED: "measured in a test",
    Known.QUOTED: "read as quoted by another public text",
    Known.COMPUTED: "computed two independent ways",
    Known.STATED: "stated: chosen or entered",
    Known.MEMORY_H: "from memory, confidence high",
    Known.MEMORY_M: "from memory, confidence medium",
    Known.PRACTICE: "common practice, no source",
    Known.MEMORY_L: "from memory, confidence low",
    Known.ESTIMATE: "an estimate",
}

ENTERED = (
    Known.TESTED,
    Known.READ,
    Known.QUOTED,
    Known.STATED,
    Known.MEMORY_H,
    Known.MEMORY_M,
    Known.PRACTICE,
    Known.MEMORY_L,
    Known.ESTIMATE,
)
"""Marks that a person may give a value of their own; the others are the program's to give."""


def mark_in_words(mark: Known) -> str:
    """Return a mark with what it means: ``memory H (from memory, confidence high)``."""
    return f"{mark.value} ({IN_WORDS[mark]})"
