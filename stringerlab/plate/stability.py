"""Buckling of a panel of any sides and edges by Rayleigh and Ritz, from the same equations as its bending.

Loads in the plane are even over the panel: N_x and N_y pressing, N_xy shearing [N/mm]. Core shear counts.
"""

from collections.abc import Sequence

import numpy as np

from stringerlab.errors import Problem, StringerlabError
from stringerlab.plate.bending import refuse, stiffness_of
from stringerlab.plate.records import Plates
from stringerlab.plate.ritz import basis
from stringerlab.workings import Array

_FUNCTIONS = 7
_NOTHING = 1e-10
"""Part of the greatest factor that is rounding: a panel that is pulled alone never buckles."""
_LONGEST = 4.0
"""Aspect ratio beyond which there are too few functions for the waves: the strip's solution is for these."""


def panel_buckling_factor(given: Plates, loads: Sequence[float]) -> float:
    """Return the multiple of N_x, N_y, N_xy at which one plate buckles; infinite where it never does.

    Raises
    ------
    StringerlabError
        When the plate's stiffness or sides are not positive, it is not one plate, or longer than 4 times
        its width.
    """
    if len(given.b) != 1:
        raise StringerlabError(Problem("Buckling is found one panel at a time."))
    refuse(given)
    r = float(given.l[0] / given.b[0])
    if not 1 / _LONGEST <= r <= _LONGEST:
        raise StringerlabError(
            Problem(
                f"A panel {max(r, 1 / r):.1f} times as long as wide is a strip: its waves are not resolved."
            )
        )
    least = min(
        _factor(given, np.asarray(loads, dtype=np.float64), shifted=shifted) for shifted in (False, True)
    )
    return float(least)


def _factor(given: Plates, loads: Array, *, shifted: bool) -> float:
    functions = basis(_FUNCTIONS, _FUNCTIONS, skew=True, shifted=shifted)
    stiff, kept = stiffness_of(given, functions)
    b, l = float(given.b[0]), float(given.l[0])
    scaled = loads * np.array([b * l, b**3 / l, b**2])
    held = kept[0].astype(np.float64)
    push: Array = np.einsum("t,tij->ij", scaled, functions.pushed) * np.outer(held, held)
    lower: Array = np.asarray(np.linalg.cholesky(stiff[0]), dtype=np.float64)
    half = np.asarray(np.linalg.solve(lower, push), dtype=np.float64)
    both = np.asarray(np.linalg.solve(lower, np.transpose(half)), dtype=np.float64)
    parts = np.linalg.eigvalsh(both)
    greatest = float(parts[-1])
    return 1 / greatest if greatest > _NOTHING * float(np.abs(parts).max()) else float("inf")
