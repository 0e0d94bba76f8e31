"""Computations behind the published values of first principles: plates and beams; clause units."""

import math
from collections.abc import Callable

from stringerlab.layout import End
from stringerlab.methods import end_factors
from stringerlab.methods.first_principles import scantlings
from stringerlab.methods.iso_12215_5_2008 import panels
from stringerlab.methods.mechanics import beams

_ENDS = {"held": (End.HELD, End.HELD), "propped": (End.HELD, End.SIMPLE), "simple": (End.SIMPLE, End.SIMPLE)}


def _deflection(r: float) -> float:
    """Deflection of a clamped plate's middle over q b⁴/D, of Poisson's ratio 0.3: D is EI/(1 − 0.3²)."""
    w = scantlings.panel_deflection.clause(P=1.0, k_3=panels.k_3.clause(r), b=1.0, EI=1 - 0.3**2)
    return float(w)


def _moment(r: float) -> float:
    return float(scantlings.edge_moment.clause(P=1.0, k_2=panels.k_2.clause(r), b=1.0))


def _beam(ends: str, of: str) -> float:
    """Moment over w l², or shear over w l, of a single beam by its ends."""
    factors = end_factors([_ENDS[ends]])
    unit = {"P": 1.0, "s": 1.0, "l_u": 1.0}
    found = {
        "end": lambda: beams.end_moment(f_e=factors.end, **unit),
        "middle": lambda: beams.middle_moment(f_m=factors.middle, **unit),
        "shear": lambda: beams.end_shear(f_Q=factors.shear, **unit),
    }
    return math.fabs(float(found[of]()[0]))


COMPUTATIONS: dict[str, Callable[..., float]] = {
    "first_principles.deflection": _deflection,
    "first_principles.moment": _moment,
    "first_principles.beam": _beam,
}
