"""Which of k plies, fibres or places is the worst of its row."""

import numpy as np
from numpy.typing import NDArray

from stringerlab.methods.records import Mask
from stringerlab.workings import Array


def worst_of(severity: Array, absent: Mask) -> NDArray[np.intp]:
    """Return the index (n,) of the greatest severity (n, k) of those present; a nan of one present wins."""
    return np.argmax(np.where(absent, -np.inf, severity), axis=1)


def of_row(values: Array, index: NDArray[np.intp]) -> Array:
    """Return each row's value (n,) at its index; values (n, k), or (1, k) common to all rows."""
    rows = np.arange(len(index)) if len(values) > 1 else 0
    return values[rows, index]


def chosen(values: Array | None, index: NDArray[np.intp]) -> Array | None:
    """Return each row's value at its index, None where there are none."""
    return None if values is None else of_row(values, index)
