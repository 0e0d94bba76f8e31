"""The vertical acceleration a method gives at a place, in g, for equipment that has none of its own."""

import math

import numpy as np

from stringerlab.assess.grid.records import Array
from stringerlab.methods import CraftRow, Method, Part, PressureRows
from stringerlab.workings import workings

_AREA = 500.0
"""Sides of the panel for which it is asked: the acceleration does not hang on them [mm]."""


def accelerations(method: Method, craft: CraftRow, x: Array) -> Array:
    """Return the method's vertical acceleration at places along the boat [g]; nan where it states none.

    Parameters
    ----------
    method, craft
        The method, and the craft as numbers.
    x
        (k,) from the transom [mm].
    """
    none = np.full(len(x), math.nan)
    symbol = method.parts.get(Part.ACCELERATION)
    if symbol is None or method.pressure is None or not len(x):
        return none
    rows = PressureRows(
        of_spans=False,
        width=np.full(len(x), _AREA),
        length=np.full(len(x), _AREA),
        x=x,
        deadrise=np.full(len(x), craft.beta_04),
        height=none,
        head=none,
    )
    with workings() as recording:
        pressure = method.pressure(craft, rows)
    found = [step.result for step in recording.behind(pressure) if step.formula.symbol == symbol]
    return np.broadcast_to(np.asarray(found[-1], float), len(x)).copy() if found else none
