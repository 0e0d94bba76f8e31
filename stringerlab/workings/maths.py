"""The functions a formula's body may call: each works on numbers and arrays and has a display of its own.

They are typed as numbers, as a formula's body is; arrays pass through unchanged.
"""

from typing import Any, cast

import numpy as np

pi = float(np.pi)


def sqrt(x: float) -> float:
    """Square root."""
    return cast(float, np.sqrt(x))


def cbrt(x: float) -> float:
    """Cube root."""
    return cast(float, np.cbrt(x))


def exp(x: float) -> float:
    """Exponential."""
    return cast(float, np.exp(x))


def log(x: float) -> float:
    """Natural logarithm."""
    return cast(float, np.log(x))


def sin(x: float) -> float:
    """Sine of an angle in radians."""
    return cast(float, np.sin(x))


def cos(x: float) -> float:
    """Cosine of an angle in radians."""
    return cast(float, np.cos(x))


def tan(x: float) -> float:
    """Tangent of an angle in radians."""
    return cast(float, np.tan(x))


def tanh(x: float) -> float:
    """Hyperbolic tangent."""
    return cast(float, np.tanh(x))


def absolute(x: float) -> float:
    """Absolute value."""
    return cast(float, np.abs(x))


def minimum(*values: float) -> float:
    """Return the least of the values, row by row."""
    least: Any = values[0]
    for value in values[1:]:
        least = np.minimum(least, value)
    return cast(float, least)


def maximum(*values: float) -> float:
    """Return the greatest of the values, row by row."""
    greatest: Any = values[0]
    for value in values[1:]:
        greatest = np.maximum(greatest, value)
    return cast(float, greatest)


def clip(x: float, low: float, high: float) -> float:
    """Return the value held between two bounds."""
    return cast(float, np.minimum(np.maximum(x, low), high))


def where(condition: bool, yes: float, no: float) -> float:
    """Return one value where the condition holds and the other elsewhere."""
    return cast(float, np.where(condition, yes, no))
