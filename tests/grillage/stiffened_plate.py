"""A plate with eccentric stringers, simply supported all round: harmonics along x, finite strips across.

It holds what a beam grid leaves out: plating that spreads load across, and shear lag in it. Per harmonic n,
α = nπ/L: u = U cos αx, v = V sin αx, w = W sin αx, with U and V linear and W cubic in each strip.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

Array = np.ndarray


@dataclass(frozen=True, kw_only=True)
class Stiffened:
    """A plate of L by (n + 1) spacings with n stringers, each a line of stiffness at height e."""

    L: float
    spacing: float
    stringers: int
    t: float
    E: float
    nu: float = 0.3
    EA: float = 0.0
    """Of a stringer alone."""
    EI: float = 0.0
    """Of a stringer about its own middle."""
    GJ: float = 0.0
    e: float = 0.0
    """Its middle above the plate's."""
    strips: int = 12
    """In each spacing."""
    held: bool = True
    """Its long edges do not move up or down."""

    @property
    def width(self) -> float:
        return (self.stringers + 1) * self.spacing

    def beam_EI(self, width: float) -> tuple[float, float]:
        """EI of a stringer with this width of plating, and its neutral axis above the plate's middle."""
        plate = self.E * self.t * width
        axis = self.EA * self.e / (self.EA + plate)
        EI = self.EI + self.EA * (self.e - axis) ** 2 + plate * axis**2 + self.E * width * self.t**3 / 12
        return EI, axis


@dataclass(frozen=True)
class Bent:
    """At mid-length: per stringer, and across the plate."""

    w: Array
    axial: Array
    """Strain of the plate's middle at stringers."""
    curvature: Array
    moment: Array
    """Of a stringer and the plating half way to its neighbours, inboard in tension positive."""
    width: Array
    """Of plating that, strained as at the stringer, carries what the plating half way round does."""
    deflection: Array
    """At all lines across."""

    def strain(self, z: float) -> Array:
        """Of stringers at height z above the plate's middle."""
        return self.axial + z * self.curvature


@lru_cache(maxsize=64)
def bent(of: Stiffened, patch: tuple[float, float, float, float], p: float, harmonics: int = 25) -> Bent:
    """Bend it under a pressure p up on x0 … x1, y0 … y1."""
    x0, x1, y0, y1 = patch
    lines = of.strips * (of.stringers + 1) + 1
    h = of.spacing / of.strips
    y = np.arange(lines) * h
    at = of.strips * np.arange(1, of.stringers + 1)
    total = {name: np.zeros(lines) for name in ("w", "axial", "kx", "Nx", "Mx")}
    for n in range(1, harmonics + 1):
        a = n * np.pi / of.L
        amount = 2 / (n * np.pi) * (np.cos(a * x0) - np.cos(a * x1)) * p
        mid = np.sin(n * np.pi / 2)
        if abs(mid) < 0.5:
            continue
        U, V, W, turn = _solved(of, a, _push(y, h, y0, y1, amount)).reshape(lines, 4).T
        slope = np.gradient(V, h)
        bend = np.gradient(turn, h)
        A = of.E * of.t / (1 - of.nu**2)
        D = of.E * of.t**3 / 12 / (1 - of.nu**2)
        for name, value in (
            ("w", W),
            ("axial", -a * U),
            ("kx", a**2 * W),
            ("Nx", A * (-a * U + of.nu * slope)),
            ("Mx", D * (a**2 * W - of.nu * bend)),
        ):
            total[name] += mid * value
    half = of.strips // 2
    around = [slice(i - half, i + half + 1) for i in at]
    force = np.array([np.trapezoid(total["Nx"][rows], dx=h) for rows in around])
    own = np.array([np.trapezoid(total["Mx"][rows], dx=h) for rows in around])
    axial, curvature = total["axial"][at], total["kx"][at]
    moment = own + of.EI * curvature + of.e * of.EA * (axial + of.e * curvature)
    with np.errstate(divide="ignore", invalid="ignore"):
        width = force / (of.E * of.t * axial)
    return Bent(total["w"][at], axial, curvature, moment, width, total["w"])


def _push(y: Array, h: float, y0: float, y1: float, amount: float) -> Array:
    force = np.zeros((len(y), 4))
    points, weights = np.polynomial.legendre.leggauss(4)
    for i in range(len(y) - 1):
        low, high = max(y[i], y0), min(y[i + 1], y1)
        if high <= low:
            continue
        for point, weight in zip(points, weights, strict=True):
            s = (low + high) / 2 + point * (high - low) / 2 - y[i]
            N = _cubic(s / h, h)[0]
            push = amount * weight * (high - low) / 2 * N
            force[i, 2:] += push[:2]
            force[i + 1, 2:] += push[2:]
    return force.ravel()


def _cubic(x: float, h: float) -> tuple[Array, Array, Array]:
    value = np.array(
        [1 - 3 * x**2 + 2 * x**3, h * (x - 2 * x**2 + x**3), 3 * x**2 - 2 * x**3, h * (x**3 - x**2)]
    )
    first = np.array(
        [(-6 * x + 6 * x**2) / h, 1 - 4 * x + 3 * x**2, (6 * x - 6 * x**2) / h, 3 * x**2 - 2 * x]
    )
    second = np.array([(-6 + 12 * x) / h**2, (-4 + 6 * x) / h, (6 - 12 * x) / h**2, (6 * x - 2) / h])
    return value, first, second


def _strip(of: Stiffened, a: float, h: float) -> Array:
    """Stiffness of a strip (8, 8): u, v, w, turn of one line, then of the next."""
    A = of.E * of.t / (1 - of.nu**2) * np.array([[1, of.nu, 0], [of.nu, 1, 0], [0, 0, (1 - of.nu) / 2]])
    D = A * of.t**2 / 12
    k = np.zeros((8, 8))
    points, weights = np.polynomial.legendre.leggauss(4)
    for point, weight in zip(points, weights, strict=True):
        x = (1 + point) / 2
        flat, bend = np.zeros((3, 8)), np.zeros((3, 8))
        flat[0, [0, 4]] = -a * (1 - x), -a * x
        flat[1, [1, 5]] = -1 / h, 1 / h
        flat[2, [0, 4]] = -1 / h, 1 / h
        flat[2, [1, 5]] = a * (1 - x), a * x
        value, first, second = _cubic(x, h)
        bend[:, [2, 3, 6, 7]] = a**2 * value, -second, -2 * a * first
        k += weight * h / 2 * (flat.T @ A @ flat + bend.T @ D @ bend)
    return k


def _solved(of: Stiffened, a: float, force: Array) -> Array:
    size = len(force)
    K = np.zeros((size, size))
    one = _strip(of, a, of.spacing / of.strips)
    for i in range(0, size - 4, 4):
        K[i : i + 8, i : i + 8] += one
    for line in of.strips * np.arange(1, of.stringers + 1):
        axial, bend, twist = np.zeros(4), np.zeros(4), np.zeros(4)
        axial[[0, 2]] = -a, of.e * a**2
        bend[2], twist[3] = a**2, a
        rows = slice(4 * line, 4 * line + 4)
        K[rows, rows] += of.EA * np.outer(axial, axial) + of.EI * np.outer(bend, bend)
        K[rows, rows] += of.GJ * np.outer(twist, twist)
    free = np.ones(size, bool)
    if of.held:
        free[[2, size - 2]] = False
    u = np.zeros(size)
    u[free] = np.linalg.solve(K[np.ix_(free, free)], force[free])
    return u
