"""How a utilisation reads: its verdict, and its digits."""

from enum import StrEnum

import numpy as np

TIGHT_ABOVE = 0.90
"""Utilisation above which a finding is tight: our own reading margin."""
SHORT_ABOVE = 1.00


class Verdict(StrEnum):
    """The reading of a utilisation."""

    HOLDS = "holds"
    TIGHT = "tight"
    SHORT = "short"
    NOT_JUDGED = "not judged"
    ADVICE = "advice"
    """A reading by a rule of thumb: said, never judged nor counted as used."""


def verdict_of(utilisation: float | None) -> Verdict:
    """Return the verdict of a utilisation; none, or not a number, is not judged."""
    if utilisation is None or np.isnan(utilisation):
        return Verdict.NOT_JUDGED
    if utilisation > SHORT_ABOVE:
        return Verdict.SHORT
    return Verdict.TIGHT if utilisation > TIGHT_ABOVE else Verdict.HOLDS


def utilisation_text(utilisation: float | None) -> str:
    """Return a utilisation as it is read: two decimals, more where two would tell another verdict."""
    if utilisation is None or np.isnan(utilisation):
        return "—"
    verdict = verdict_of(utilisation)
    texts = [f"{utilisation:.{digits}f}" for digits in (2, 3, 4, 5, 6)]
    return next((text for text in texts if verdict_of(float(text)) is verdict), texts[0])
