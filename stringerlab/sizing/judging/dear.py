"""What of a design costs more than looking it up, counted in designs looked up.

A search spends its budget on designs, each one, and on what is made anew for them: a setting that is
resolved, a section that is drawn, a laminate. So a search of any boat ends in about the same time, and sees
the same wherever it runs.
"""

from dataclasses import dataclass

SETTING = 700
"""A plan whose panels and spans are found anew."""
CRAFT = 20
"""Another speed or mass: panels and spans are judged anew."""
SECTION = 100
"""A section that is no level hat: drawn and measured."""
LAMINATE = 10
"""A laminate under a panel or a span, or of a hat."""


@dataclass(frozen=True, slots=True)
class Dear:
    """Columns every combination of which costs so much, once."""

    columns: tuple[int, ...]
    cost: int


__all__ = ["CRAFT", "LAMINATE", "SECTION", "SETTING", "Dear"]
