"""Computations behind the published values of plates: bending, natural frequency, buckling.

A thin plate of unit sides and stiffness is solved; results are the tables' coefficients. r is long side over
short, "across" the short span's direction.
"""

from collections.abc import Callable
from functools import lru_cache

import numpy as np

from stringerlab.plate import bending, buckling, stability, strip
from stringerlab.plate.records import CLAMPED, Bent, Plates
from stringerlab.workings import Array

_THIN = 1e7
"""S b²/D of a plate too thin to shear."""
_EDGES = {"simple": 0.0, "clamped": CLAMPED}


def deflection(edges: str, r: float, nu: float = 0.3) -> float:
    """Deflection in the middle, w D/(q b⁴)."""
    return float(_isotropic(edges, r, nu).w[0])


def deflection_over_thickness(edges: str, r: float, nu: float = 0.3) -> float:
    """Deflection in the middle, w E t³/(q b⁴)."""
    return 12 * (1 - nu**2) * deflection(edges, r, nu)


def moment(edges: str, r: float, at: str, across: bool = True, nu: float = 0.3) -> float:
    """Moment over q b² in the middle, or at the middle of a long or short edge."""
    found = _isotropic(edges, r, nu)
    where = {"middle": found.middle, "long edge": found.long_edge, "short edge": found.short_edge}[at]
    return float(where[0, 0 if across else 1])


def stress(edges: str, r: float, at: str, nu: float = 0.3) -> float:
    """Greatest stress across over q b²/t²."""
    return 6 * abs(moment(edges, r, at, True, nu))


def shear(edges: str, r: float, long: bool = True, nu: float = 0.3) -> float:
    """Shear force over q b at the middle of a long or short edge."""
    found = _isotropic(edges, r, nu)
    return float((found.shear_long if long else found.shear_short)[0])


def orthotropic_deflection(D11: float, D22: float, D12: float, D66: float, r: float = 1.0) -> float:
    """Deflection of a simply supported plate of unit short side under unit pressure."""
    return float(_orthotropic(D11, D22, D12, D66, r).w[0])


def orthotropic_moment(D11: float, D22: float, D12: float, D66: float, r: float) -> float:
    """Moment across in the middle of a simply supported plate of unit short side under unit pressure."""
    return float(_orthotropic(D11, D22, D12, D66, r).middle[0, 0])


def frequency(edges: str, r: float, nu: float = 0.3) -> float:
    """Lowest natural frequency, ω b² √(ρh/D)."""
    plate = _plate(_stiffness(nu), r, _EDGES[edges])
    return float(2 * np.pi * bending.natural_frequency(plate, np.full(1, 1e12))[0])


def buckling_coefficient(
    compression: float = 0.0,
    bend: float = 0.0,
    shear_flow: float = 0.0,
    edges: tuple[str, str] = ("simple", "simple"),
    length: float | None = None,
    nu: float = 0.3,
) -> float:
    """k of N b²/(π² D) at which a long strip buckles; an edge is simple, clamped or free."""
    free = edges[1] == "free"
    plate = strip.Strip(
        D_11=1.0,
        D_22=1.0,
        D_12=nu,
        D_66=(1 - nu) / 2,
        b=1.0,
        spring_1=_EDGES[edges[0]],
        spring_2=0.0 if free else _EDGES[edges[1]],
        free=free,
        length=np.inf if length is None else length,
    )
    loads = strip.EdgeLoads(compression=compression, bending=bend, shear=shear_flow)
    return strip.buckling_factor(plate, loads) / np.pi**2


def panel_buckling(edges: str, r: float, load: str, nu: float = 0.3) -> float:
    """k of N b²/(π² D) at which a panel buckles under "along", pressed along its long side, or "shear"."""
    loads = {"along": (0.0, 1.0, 0.0), "shear": (0.0, 0.0, 1.0)}[load]
    plate = _plate(_stiffness(nu), r, _EDGES[edges])
    return stability.panel_buckling_factor(plate, loads) / np.pi**2


def closed_compression() -> float:
    """k of the closed form in compression, isotropic."""
    return float(buckling.compression.clause(1.0, 1.0, 0.3, 0.35, 1.0)) / np.pi**2


def closed_one_free() -> float:
    """k of the closed form in compression with one edge free, isotropic and long."""
    return float(buckling.compression_one_free.clause(1.0, 0.35, 1.0, 1e6)) / np.pi**2


def closed_shear() -> float:
    """k of the closed form in shear, isotropic."""
    K_s = buckling.shear_ratio.clause(1.0, 1.0, 0.3, 0.35)
    parts = (
        buckling.shear_stiff.clause(1.0, 1.0, K_s, 1.0),
        buckling.shear_twisty.clause(1.0, 0.3, 0.35, K_s, 1.0),
    )
    return float(buckling.shear_of.clause(K_s, *parts)) / np.pi**2


@lru_cache(maxsize=64)
def _orthotropic(D11: float, D22: float, D12: float, D66: float, r: float) -> Bent:
    stiffness = np.array([[D11, D12, 0.0], [D12, D22, 0.0], [0.0, 0.0, D66]])
    return bending.bent(_plate(stiffness, r, 0.0), np.ones(1))


@lru_cache(maxsize=256)
def _isotropic(edges: str, r: float, nu: float) -> Bent:
    return bending.bent(_plate(_stiffness(nu), r, _EDGES[edges]), np.ones(1))


def _stiffness(nu: float) -> Array:
    return np.array([[1.0, nu, 0.0], [nu, 1.0, 0.0], [0.0, 0.0, (1 - nu) / 2]])


def _plate(stiffness: Array, r: float, spring: float) -> Plates:
    one = np.ones(1)
    return Plates(
        b=one,
        l=r * one,
        D=stiffness[None],
        S=np.full((1, 2), _THIN),
        spring_x=np.full(1, spring),
        spring_y=np.full(1, spring),
        rise=0.0 * one,
        membrane=np.eye(3)[None],
    )


COMPUTATIONS: dict[str, Callable[..., float]] = {
    "plates.deflection": deflection,
    "plates.deflection_over_thickness": deflection_over_thickness,
    "plates.moment": moment,
    "plates.stress": stress,
    "plates.shear": shear,
    "plates.orthotropic_deflection": orthotropic_deflection,
    "plates.orthotropic_moment": orthotropic_moment,
    "plates.frequency": frequency,
    "plates.buckling_coefficient": buckling_coefficient,
    "plates.panel_buckling": panel_buckling,
    "plates.closed_compression": closed_compression,
    "plates.closed_one_free": closed_one_free,
    "plates.closed_shear": closed_shear,
}
