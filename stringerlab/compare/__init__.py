"""Layouts and boats side by side: what each weighs, bears, uses, costs; and what that comes to in words."""

from stringerlab.compare.comparing import NOTICE_OF_COMPARISON, compare
from stringerlab.compare.records import (
    FEWEST,
    MOST,
    Chosen,
    Compared,
    Comparison,
    Group,
    Measure,
    Measured,
)

__all__ = [
    "FEWEST",
    "MOST",
    "NOTICE_OF_COMPARISON",
    "Chosen",
    "Compared",
    "Comparison",
    "Group",
    "Measure",
    "Measured",
    "compare",
]
