"""What is cut into a span, crosses it, ends it, or hangs on it: openings, crossings, landings, outboards.

mm as typed; ``x`` along the span from its aft end, heights from the shell inboard. Numbers are as drawn: what
does not fit a span is a problem of the project, not of these records.
"""

from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated

from stringerlab.units import Mm, N, Range, Ratio

Along = Annotated[Mm, Range(0, 20_000)]
Above = Annotated[Mm, Range(0, 2000)]
Size = Annotated[Mm, Range(0, 2000, above=True)]
Thickness = Annotated[Mm, Range(0.2, 60)]
Push = Annotated[N, Range(0, 500_000)]


class Hole(StrEnum):
    """What an opening is for."""

    LIMBER = "limber"
    """Lets water pass."""
    LIGHTENING = "lightening"
    """Saves weight, or lets pipes and cables through."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """A hole through every web of a span: ``x`` of its middle, ``bottom`` of its lower edge above the shell.

    ``radius`` is that of its corners; half of its smaller side makes it round.
    """

    kind: Hole = Hole.LIMBER
    x: Along
    height: Size
    width: Size
    bottom: Above = 0.0
    radius: Above = 0.0


class LandsOn(StrEnum):
    """What an end of a span comes to rest on."""

    AS_END = "as its end says"
    CONTINUES = "continues"
    BULKHEAD = "bulkhead"
    TRANSOM = "transom"
    KNEE = "knee"
    """At a side opening, where the member's moment turns a corner."""
    SKIN = "skin"
    CHINE = "chine"
    TAPERED = "tapered"
    """Out on the skin."""

    @property
    def supports(self) -> bool:
        """Whether something carries the end there."""
        return self in (LandsOn.CONTINUES, LandsOn.BULKHEAD, LandsOn.TRANSOM, LandsOn.KNEE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Landing:
    """How an end of a span lands; over ``taper`` its crown falls to ``height``, where a taper is given.

    ``height`` left out: to the shell where it is tapered out. Of a knee it is its throat's.
    """

    on: LandsOn = LandsOn.AS_END
    taper: Along = 0.0
    height: Above | None = None


class Cut(StrEnum):
    """Which of two crossing members' crowns goes through."""

    CUT = "cut"
    CONTINUOUS = "continuous"


class Backed(StrEnum):
    """What takes a cut crown's force on from the web it lands on."""

    NONE = "none"
    TABS = "tabs"
    DIAPHRAGM = "diaphragm"


@dataclass(frozen=True, slots=True, kw_only=True)
class Crossing:
    """Where another member crosses: whether this one's crown is cut there, and how high the other's stands.

    ``thickness`` and ``length`` are those of one tab, or of the diaphragm: of its laminate, and along what
    it is bonded to. There is a tab on either side.
    """

    x: Along
    crown: Cut = Cut.CUT
    height: Annotated[Mm, Range(0, 3000, above=True)]
    backed: Backed = Backed.NONE
    thickness: Thickness | None = None
    length: Size | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class TransomLoad:
    """What outboards put on a span that ends at the transom, and where.

    ``depth`` is the thrust's line below the shell there; ``overhang`` the weight's behind the transom;
    ``share`` this span's part of both; ``times`` what acceleration makes of the weight, in g.
    """

    thrust: Push = 0.0
    weight: Push = 0.0
    depth: Annotated[Mm, Range(0, 3000)] = 0.0
    overhang: Annotated[Mm, Range(0, 3000)] = 0.0
    share: Annotated[Ratio, Range(0, 1, above=True)] = 1.0
    times: Annotated[Ratio, Range(1, 12)] = 1.0
