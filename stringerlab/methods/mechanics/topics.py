"""Which judges of the mechanics there are, and what each costs.

A judge's module is read when it first judges: a check by a method alone reads none of them.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from stringerlab.methods.mechanics.records import Allowances, JudgePanels, JudgeSpans, LoadedPanel, LoadedSpan
from stringerlab.methods.records import Aspect, Judged


@dataclass(frozen=True, slots=True, kw_only=True)
class Topic:
    """One way of failing, with the judges of spans and of panels where it has them."""

    name: str
    aspect: Aspect
    """What is not judged when its solver fails."""
    spans: JudgeSpans | None = None
    panels: JudgePanels | None = None
    quick: bool = False
    """Whether it is judged while a section is dragged too."""
    solver: bool = False
    """Whether it solves for fields or plates, kept by value: left out where many methods judge at once."""


def _plies(loaded: Sequence[LoadedSpan], allow: Allowances) -> tuple[Judged, ...]:
    from stringerlab.methods.mechanics import plies

    return plies.judge(loaded, allow)


def _panels(loaded: Sequence[LoadedPanel], allow: Allowances) -> tuple[Judged, ...]:
    from stringerlab.methods.mechanics import panels

    return panels.judge(loaded, allow)


def _local(loaded: Sequence[LoadedSpan], allow: Allowances) -> tuple[Judged, ...]:
    from stringerlab.methods.mechanics import local

    return local.judge(loaded, allow)


def _bonds(loaded: Sequence[LoadedSpan], allow: Allowances) -> tuple[Judged, ...]:
    from stringerlab.methods.mechanics import bonds

    return bonds.judge(loaded, allow)


def _ends(loaded: Sequence[LoadedSpan], allow: Allowances) -> tuple[Judged, ...]:
    from stringerlab.methods.mechanics import ends

    return ends.judge(loaded, allow)


TOPICS = (
    Topic(name="ply failure of spans", aspect=Aspect.PLY_FAILURE, spans=_plies, solver=True),
    Topic(name="ply failure of panels", aspect=Aspect.PLY_FAILURE, panels=_panels, solver=True),
    Topic(name="local failure", aspect=Aspect.WEB_BUCKLING, spans=_local),
    Topic(name="bond line", aspect=Aspect.BOND, spans=_bonds),
    Topic(name="ends and openings", aspect=Aspect.HARD_SPOT, spans=_ends, quick=True),
)
"""In the order in which their findings stand."""
