"""How the ends of a span change what is asked of it, over a span held at both ends under a uniform load.

From the closed forms of single beams: held wl²/12, wl/2, wl⁴/384EI; propped wl²/8, 5wl/8, wl⁴/185EI; simple
wl²/8, wl/2, 5wl⁴/384EI; cantilever wl²/2, wl, wl⁴/8EI. Our own factors on a standard's form. Within
the span: held wl²/24, propped 9wl²/128 at 5/8 of the span from its held end, simple wl²/8, cantilever none.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from stringerlab.layout.records import End
from stringerlab.workings import Array

_MOMENT = {"held": 1.0, "propped": 1.5, "simple": 1.5, "cantilever": 6.0}
_SHEAR = {"held": 1.0, "propped": 1.25, "simple": 1.0, "cantilever": 2.0}
_DEFLECTION = {"held": 1.0, "propped": 384 / 185, "simple": 5.0, "cantilever": 48.0}
_END = {"held": 1.0, "propped": 1.5, "simple": 0.0, "cantilever": 6.0}
_MIDDLE = {"held": 0.5, "propped": 27 / 32, "simple": 1.5, "cantilever": 0.0}
_BEAM = {
    frozenset({End.HELD}): "held",
    frozenset({End.HELD, End.SIMPLE}): "propped",
    frozenset({End.SIMPLE}): "simple",
    frozenset({End.HELD, End.FREE}): "cantilever",
}


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class EndFactors:
    """Factors over a span held at both ends, (n,): required modulus, web area and stiffness."""

    moment: Array
    shear: Array
    deflection: Array
    end: Array
    """Moment at the end that carries most, over that of held ends."""
    middle: Array
    """Greatest moment within the span, over that at held ends."""


def end_factors(ends: Sequence[tuple[End, End]]) -> EndFactors:
    """Return the factors of spans' ends; nan where the ends leave a mechanism, free with none held."""
    beams = [_BEAM.get(frozenset(pair), "") for pair in ends]
    return EndFactors(
        moment=np.array([_MOMENT.get(beam, np.nan) for beam in beams]),
        shear=np.array([_SHEAR.get(beam, np.nan) for beam in beams]),
        deflection=np.array([_DEFLECTION.get(beam, np.nan) for beam in beams]),
        end=np.array([_END.get(beam, np.nan) for beam in beams]),
        middle=np.array([_MIDDLE.get(beam, np.nan) for beam in beams]),
    )
