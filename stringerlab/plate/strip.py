"""Buckling of a long orthotropic strip by Rayleigh and Ritz: any restraint of its edges, any mix of loads.

The strip is long in x; w = Re[f(y) e^{iπx/λ}] with f a sum of polynomials across the width, so that waves may
slant under shear. N, mm; the answer is the multiple of the given loads at which it buckles. Independent of
the closed forms of ``buckling``, which are held against it.
"""

from dataclasses import dataclass

import numpy as np

from stringerlab.errors import Problem, StringerlabError
from stringerlab.plate.polynomials import gauss, zero_at_ends, zero_at_start
from stringerlab.workings import Array

_TERMS = 10
_CLAMPED = 1e7
"""Springs are held below this many D_22/b: clamped to a part in a million."""
_WAVES = 56
_LONGEST = 200
"""Half-wave over width, in plates of equal stiffness both ways, that counts as endless."""
_SETTLED = 1e-6
_ROUNDS = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """A strip's stiffness [N·mm], width [mm] and the springs of its edges [N]; infinite is clamped.

    ``free`` leaves the second edge free of any hold.
    """

    D_11: float
    D_22: float
    D_12: float
    D_66: float
    b: float
    spring_1: float = 0.0
    spring_2: float = 0.0
    free: bool = False
    length: float = np.inf
    """Half-waves are no longer than this [mm]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeLoads:
    """Loads per width [N/mm]: compression positive, bending greatest compression at the second edge."""

    compression: float = 0.0
    bending: float = 0.0
    shear: float = 0.0


def buckling_factor(strip: Strip, loads: EdgeLoads) -> float:
    """Return the multiple of the loads at which the strip buckles; infinite where it never does.

    Raises
    ------
    StringerlabError
        When a stiffness or the width is not positive, or the shortest-load wave cannot be found.
    """
    _refuse(strip)
    scale = strip.b * (strip.D_11 / strip.D_22) ** 0.25
    longest = min(strip.length, _LONGEST * scale)
    waves = _between(min(0.15 * scale, 0.5 * longest), longest, _WAVES)
    part = _parts(strip)
    critical = _critical(strip, loads, part, waves)
    if not np.isfinite(critical).any():
        return float("inf")
    return _refined(strip, loads, part, waves, critical)


def _refined(strip: Strip, loads: EdgeLoads, part: tuple[Array, ...], waves: Array, critical: Array) -> float:
    """Narrow the least factor down between its neighbours in wave length."""
    for _ in range(_ROUNDS):
        least = int(np.argmin(critical))
        low, high = max(least - 1, 0), min(least + 1, len(waves) - 1)
        if critical[low] - critical[least] <= _SETTLED * critical[least] and (
            critical[high] - critical[least] <= _SETTLED * critical[least]
        ):
            return float(critical[least])
        if waves[high] / waves[low] < 1 + 1e-9:
            return float(critical[least])
        waves = _between(float(waves[low]), float(waves[high]), 7)
        critical = _critical(strip, loads, part, waves)
    raise StringerlabError(Problem("The plate's buckling wave could not be found."))


def _between(low: float, high: float, count: int) -> Array:
    return low * (high / low) ** np.linspace(0.0, 1.0, count)


def _critical(strip: Strip, loads: EdgeLoads, part: tuple[Array, ...], waves: Array) -> Array:
    """Return the least positive factor at each half-wave length."""
    mass, sloped, bent, mixed, leaning, skew, ends_1, ends_2 = part
    half = strip.b / 2
    k = (np.pi * half / waves)[:, None, None]
    top = _CLAMPED * strip.D_22 / strip.b
    stiff = (
        strip.D_11 * k**4 * mass
        + strip.D_22 * bent
        - strip.D_12 * k**2 * mixed
        + 4 * strip.D_66 * k**2 * sloped
        + half * (min(strip.spring_1, top) * ends_1 + min(strip.spring_2, top) * ends_2)
    )
    push = k**2 * (loads.compression * mass + loads.bending * leaning) + 1j * k * loads.shear * skew
    lower = np.linalg.cholesky(stiff)
    half_way = np.linalg.solve(lower, push * half**2)
    both = np.linalg.solve(lower, half_way.conj().swapaxes(-1, -2))
    greatest = np.linalg.eigvalsh(both)[:, -1]
    return np.where(greatest > 0, 1 / np.where(greatest > 0, greatest, 1.0), np.inf)


def _parts(strip: Strip) -> tuple[Array, ...]:
    """Return the integrals of products of the trial functions across the width, on −1 … 1."""
    trial = zero_at_start if strip.free else zero_at_ends
    points, weights = gauss(_TERMS + 4)
    f, g, h = (trial(_TERMS, order, points) for order in range(3))
    ends = trial(_TERMS, 1, np.array([-1.0, 1.0]))
    return (
        (f * weights) @ f.T,
        (g * weights) @ g.T,
        (h * weights) @ h.T,
        (f * weights) @ h.T + (h * weights) @ f.T,
        (f * weights * points) @ f.T,
        (f * weights) @ g.T - (g * weights) @ f.T,
        np.outer(ends[:, 0], ends[:, 0]),
        np.zeros((_TERMS, _TERMS)) if strip.free else np.outer(ends[:, 1], ends[:, 1]),
    )


def _refuse(strip: Strip) -> None:
    given = {"D11": strip.D_11, "D22": strip.D_22, "D66": strip.D_66, "the width": strip.b}
    problems = [
        Problem(f"{name} of the plate is {value:g}: it needs to be above 0.", "plate")
        for name, value in given.items()
        if not value > 0
    ]
    if strip.D_12**2 >= strip.D_11 * strip.D_22 and not problems:
        problems.append(Problem("The plate's D12 is too great for its D11 and D22.", "plate"))
    if problems:
        raise StringerlabError(problems)
