"""Computations behind the published values of strips that buckle; each returns the unit its table states.

By the strip's own Ritz solution: the closed forms that judge a section are held against it in the tests.
"""

from collections.abc import Callable
from math import pi

from stringerlab.plate import strip as plate

_NU = 0.3


def stress_gradient(psi: float, peak: str) -> float:
    """Coefficient k of π² D/b² at the greatest edge compression of a long isotropic plate.

    ``psi`` is the other edge's over it; ``peak`` says how the edge that carries it is held: ``held`` with
    both edges simply supported, ``free``, or ``support`` where the other edge is free.
    """
    bending = (1 - psi) / 2
    loads = plate.EdgeLoads(compression=(1 + psi) / 2, bending=-bending if peak == "support" else bending)
    return plate.buckling_factor(_isotropic(free=peak != "held"), loads) / pi**2


def compression_beside_shear(R_s: float) -> float:
    """Part of its buckling load in compression that a long plate takes beside a part of that in shear."""
    strip = _isotropic(free=False)
    shear = R_s * plate.buckling_factor(strip, plate.EdgeLoads(shear=1.0))
    even = plate.buckling_factor(strip, plate.EdgeLoads(compression=1.0))
    low, high = 0.0, 1.0
    for _ in range(30):
        middle = (low + high) / 2
        left = plate.buckling_factor(strip, plate.EdgeLoads(shear=shear, compression=middle * even))
        low, high = (middle, high) if left > 1 else (low, middle)
    return (low + high) / 2


def _isotropic(*, free: bool) -> plate.Strip:
    return plate.Strip(D_11=1.0, D_22=1.0, D_12=_NU, D_66=(1 - _NU) / 2, b=1.0, free=free)


COMPUTATIONS: dict[str, Callable[..., float]] = {
    "local.stress_gradient": stress_gradient,
    "local.compression_beside_shear": compression_beside_shear,
}
