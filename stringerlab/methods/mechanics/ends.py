"""Ends and openings of spans: holes, how ends land, cut crowns, outboards on the transom, feet."""

from collections.abc import Sequence

from stringerlab.layout import Duty, End, Landing
from stringerlab.methods.mechanics import crossings, feet, holes, landings, transoms
from stringerlab.methods.mechanics.records import Allowances, LoadedSpan
from stringerlab.methods.records import Judged

_BARE = (Landing(), Landing())


def judge(loaded: Sequence[LoadedSpan], allow: Allowances) -> tuple[Judged, ...]:
    """Return what is judged of spans' openings, landings, crossings, transom loads and feet.

    Parameters
    ----------
    loaded
        Spans under their pressure, n of them: one row each.
    allow
        What part of strengths is allowed.
    """
    if not any(_more(one) for one in loaded):
        return ()
    return tuple(
        judged
        for topic in (holes, landings, crossings, transoms, feet)
        for judged in topic.judge(loaded, allow)
    )


def _more(one: LoadedSpan) -> bool:
    """Whether a span has anything that is judged here."""
    span = one.case.span
    held = all(end is End.HELD for end in span.ends)
    more = bool(span.openings or span.crossings or span.transom) or span.duty is not Duty.NORMAL
    return more or span.landings != _BARE or not held
