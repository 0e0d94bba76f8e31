"""Computations behind the published moments and shears along single beams under a uniform load w over l."""

from collections.abc import Callable

from stringerlab.layout import End
from stringerlab.methods.mechanics.along import aft_factors
from stringerlab.section import openings

_ENDS = {
    "fixed": (End.HELD, End.HELD),
    "propped": (End.SIMPLE, End.HELD),
    "simple": (End.SIMPLE, End.SIMPLE),
    "cantilever": (End.HELD, End.FREE),
}
_SPAN = 1000.0


def moment(beam: str, at: float) -> float:
    """Moment at a part of the span, over wl²; a propped beam's simple end is at 0."""
    shear, fixed = aft_factors(_ENDS[beam])
    found = openings.moment_along(f_V=shear, f_A=fixed, p_l=1.0, l_u=_SPAN, x_s=at * _SPAN)
    return float(found) / _SPAN**2


def shear(beam: str, at: float) -> float:
    """Shear force at a part of the span, over wl; a propped beam's simple end is at 0."""
    factor, _ = aft_factors(_ENDS[beam])
    return float(openings.shear_along(f_V=factor, p_l=1.0, l_u=_SPAN, x_s=at * _SPAN)) / _SPAN


COMPUTATIONS: dict[str, Callable[..., float]] = {"openings.moment": moment, "openings.shear": shear}
