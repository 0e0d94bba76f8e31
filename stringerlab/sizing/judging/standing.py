"""What nothing in a space changes: findings, deflections and heights that are the same in every design tried.

Tried are the boat as she is, every variable on its own at its ends and its middle, and some designs drawn.
What comes out the same in all of them that can be built stands; all else changes.
"""

from collections.abc import Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from stringerlab.methods import Aspect, utilisation_text
from stringerlab.project.wishes import Holds
from stringerlab.sizing.changing.space import Space
from stringerlab.sizing.records import Genes
from stringerlab.workings import Array

SAME = 1e-12
"""Numbers no further apart than this, relative, are one."""
DRAWN = 12
"""Designs drawn besides."""

Key = tuple[str, Aspect | Holds]
"""A subject and what is judged of it; a span and its deflection; a section and its height."""


@dataclass(slots=True, eq=False)
class Standing:
    """What stands, and what it comes to; while designs are tried, what is heard of them."""

    values: Mapping[Key, float] = field(default_factory=dict[Key, float])
    """Utilisation, part of the length, or mm."""
    heard: "dict[Key, list[float]] | None" = None
    """Lowest, highest, and of how many designs."""

    def hear(self, key: Key, values: Array) -> None:
        """Take down what some designs come to, while they are tried; what is no number is passed over."""
        if self.heard is None:
            return
        some = values[np.isfinite(values)]
        if some.size:
            low, high, count = self.heard.get(key, (np.inf, -np.inf, 0.0))
            self.heard[key] = [min(low, some.min()), max(high, some.max()), count + some.size]

    def found(self, known: Iterable[Hashable], tried: int) -> dict[Key, float]:
        """Return what stood in so many designs tried, of subjects and sections known."""
        own = set(known)
        return {
            key: high
            for key, (low, high, count) in (self.heard or {}).items()
            if key[0] in own and count % max(tried, 1) == 0 and high > 0 and high - low <= SAME * high
        }


@dataclass(frozen=True, slots=True, kw_only=True)
class Fast:
    """The most that a demand asks of what nothing changes."""

    ratio: float
    """Over its limit."""
    words: str
    """Of what: ``ply strength of Stringer to chine``."""


def tried_designs(space: Space, present: NDArray[np.int64], kept: Sequence[int], seed: int = 0) -> Genes:
    """Return the designs to try: (n, v).

    Parameters
    ----------
    space
        Which designs there are.
    present
        (v,) the boat as she is.
    kept
        Columns whose values cost much: they change on their own only, and stay in the designs drawn.
    seed
        Of those.
    """
    rows = [present]
    for column, count in enumerate(space.columns):
        for value in dict.fromkeys((0, count - 1) if column in kept else (0, count // 2, count - 1)):
            row = present.copy()
            row[column] = value
            rows.append(row)
    drawn = space.sampled(DRAWN, seed)
    drawn[:, list(kept)] = present[list(kept)]
    return np.unique(space.repaired(np.concatenate([np.array(rows), drawn])), axis=0)


def standing_note(values: Mapping[Key, float], names: Mapping[str, str]) -> str:
    """Return what is highest used of all that nothing changes, in words; empty where nothing stands."""
    used = {key: value for key, value in values.items() if isinstance(key[1], Aspect)}
    if not used:
        return ""
    key = max(used, key=lambda one: used[one])
    return (
        f"What nothing here changes is used to {utilisation_text(used[key])} at most: "
        f"{key_words(key, names)}. It has no part in the highest utilisation of a design; demands read it."
    )


def key_words(key: Key, names: Mapping[str, str]) -> str:
    """Return what a number is of, in words: ``ply strength of Stringer to chine``."""
    return f"{key[1]} of {names.get(key[0], key[0])}"


__all__ = ["Fast", "Key", "Standing", "key_words", "standing_note", "tried_designs"]
