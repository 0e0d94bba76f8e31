"""What this method chooses for itself: which average, factors of safety, allowable deflections and strains.

None of these is published for small craft in this form: they are our own, for the reviewer to agree.
"""

from dataclasses import dataclass
from enum import Enum

from stringerlab.workings import Known, Source

TITLE = "stringerlab, first principles"


def own(what: str) -> Source:
    """Return a choice of this method as a source."""
    return Source(title=TITLE, clause=what, known=Known.STATED)


class Average(Enum):
    """Of which part of all impacts the acceleration is the average: the highest 1/N."""

    ALL = 1
    THIRD = 3
    TENTH = 10
    HUNDREDTH = 100

    @property
    def words(self) -> str:
        """The average in words."""
        return "of all impacts" if self is Average.ALL else f"of the highest 1/{self.value}"


AVERAGE = Average.TENTH
"""The average used unless another is asked for: near that of the standards, 3.46 times the mean."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Factors:
    """Factors of safety on the load at which a thing fails, under a pressure that is a rare one."""

    ply: float = 1.5
    """On first-ply failure."""
    shear: float = 1.5
    """On shear failure of webs and between plies."""
    core: float = 1.5
    """On shear failure of a core."""
    wrinkling: float = 1.5
    """On wrinkling of a skin."""


FACTORS = Factors()


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """Allowed deflections over span, and strains."""

    panel: float = 0.02
    """Deflection of a panel over its short side."""
    span: float = 0.01
    """Deflection of a member over its span."""
    engine_bed: float = 0.0015
    """Strain under an engine, which shakes for as long as it runs."""
    gyro: float = 0.0010
    """Strain under a gyro stabiliser, which loads its bed at every roll."""


LIMITS = Limits()
