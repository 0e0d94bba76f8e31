"""What is not sampled, in few words: the first of those that share a reason, the rest counted."""

from collections.abc import Iterable, Iterator

FEW = 3
"""Names said before the rest is counted."""


def few(names: Iterable[str]) -> str:
    """Return names in words, each once: all where they are few, else the first and how many more."""
    each = [*dict.fromkeys(names)]
    if len(each) <= FEW:
        return "; ".join(each)
    return f"{'; '.join(each[:FEW])} and {len(each) - FEW} more"


def by_reason(said: Iterable[tuple[str, str]]) -> Iterator[str]:
    """Yield a line a reason, in their order, with the names that it is of.

    Parameters
    ----------
    said
        Names, each with why it is left out.
    """
    names: dict[str, list[str]] = {}
    for name, reason in said:
        names.setdefault(reason, []).append(name)
    yield from (f"{few(each)}: {reason}" for reason, each in names.items())
