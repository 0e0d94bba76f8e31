"""Numbers in JSON: in the program's own unit of their kind, the unit beside; null where there is none."""

from math import isfinite, isnan
from typing import Any

from stringerlab.units import Kind, own_unit


def value(number: float | None, unit: str) -> dict[str, Any]:
    """Return a number and its unit as JSON has them."""
    return {"value": None if number is None or isnan(number) else number, "unit": unit}


def quantity(number: float | None, kind: Kind) -> dict[str, Any]:
    """Return a number in the program's unit of its kind, and that unit."""
    return value(number, own_unit(kind).symbol)


def finite(number: float | None) -> float | None:
    """Return a number, or null where it is not known or without end."""
    return number if number is not None and isfinite(number) else None


__all__ = ["finite", "quantity", "value"]
