"""Which judges of the mechanics there are, and what each costs."""

from dataclasses import dataclass

from stringerlab.methods.mechanics import bonds, ends, local, panels, plies
from stringerlab.methods.mechanics.records import JudgePanels, JudgeSpans
from stringerlab.methods.records import Aspect


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


TOPICS = (
    Topic(name="ply failure of spans", aspect=Aspect.PLY_FAILURE, spans=plies.judge, solver=True),
    Topic(name="ply failure of panels", aspect=Aspect.PLY_FAILURE, panels=panels.judge, solver=True),
    Topic(name="local failure", aspect=Aspect.WEB_BUCKLING, spans=local.judge),
    Topic(name="bond line", aspect=Aspect.BOND, spans=bonds.judge),
    Topic(name="ends and openings", aspect=Aspect.HARD_SPOT, spans=ends.judge, quick=True),
)
"""In the order in which their findings stand."""
