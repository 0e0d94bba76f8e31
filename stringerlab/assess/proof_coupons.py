"""Computations held against published tolerance factors of tested coupons."""

from collections.abc import Callable

from stringerlab.materials import coupons


def _tolerance_factor(count: int, coverage: float, confidence: float) -> float:
    return coupons.tolerance_factor(count, coverage, confidence)


COMPUTATIONS: dict[str, Callable[..., float]] = {"coupons.tolerance_factor": _tolerance_factor}
