"""A long formula in plain text, broken where a reader would: before a sign, outside brackets first."""

_OPEN, _CLOSE = "([{", ")]}"
_SHORTEST = 0.4
"""Part of a line that must be filled before a break in it is taken."""


def wrapped(text: str, width: int) -> list[str]:
    """Return the lines of a one-line formula, none longer than ``width``; joined they are the formula again.

    The break is taken at the least depth of brackets, before a sum's sign rather than inside a product,
    and as far along the line as it goes.
    """
    lines: list[str] = []
    rest = text
    while len(rest) > width:
        at = _break(rest, width)
        lines.append(rest[:at].rstrip())
        rest = rest[at:].lstrip()
    return [*lines, rest]


def _break(text: str, width: int) -> int:
    depth = 0
    best: tuple[int, int, int] | None = None
    for at, sign in enumerate(text[: width + 1]):
        if sign in _CLOSE:
            depth -= 1
        rank = _rank(text, at)
        if rank is not None and width * _SHORTEST <= at:
            found = (depth, rank, -at)
            best = found if best is None else min(best, found)
        if sign in _OPEN:
            depth += 1
    return -best[2] if best is not None else width


def _rank(text: str, at: int) -> int | None:
    """Return how good it is to break before this place, 0 the best; None where it may not be broken."""
    if at == 0:
        return None
    if text[at - 1] == " ":
        return 0 if text[at : at + 2] in {"+ ", "− "} else 1
    if text[at] in "·/" and not (text[at] == "·" and text[at + 1 : at + 3] == "10"):
        return 2
    return None
