"""A study worked through as rows of a table, in the units shown."""

from itertools import product

import numpy as np

from stringerlab.desktop.studying.rows import Head, Row
from stringerlab.drawing.axes import in_system, titled
from stringerlab.sizing.records import Studied
from stringerlab.units import System, rounded, trimmed

_WHY = "could not be judged"


def study_heads(studied: Studied, units: System) -> list[Head]:
    """Return the heads: numbers swept, then readings, with their units."""
    names = [*studied.axis_names, *studied.reading_names]
    symbols = [*studied.axis_units, *studied.reading_units]
    heads = [titled(name, in_system(symbol, units)[1]) for name, symbol in zip(names, symbols, strict=True)]
    return [Head(head, head, number=True) for head in heads]


def study_rows(studied: Studied, units: System) -> list[Row]:
    """Return a row a step; one that could not be judged says why in its tip."""
    factors = [in_system(symbol, units)[0] for symbol in studied.axis_units]
    shown = [in_system(symbol, units)[0] for symbol in studied.reading_units]
    why = dict(studied.problems)
    rows: list[Row] = []
    for place in product(*(range(len(axis)) for axis in studied.axes)):
        along = [
            trimmed(axis[at] * factor) for axis, at, factor in zip(studied.axes, place, factors, strict=True)
        ]
        read = [float(values[place]) * factor for values, factor in zip(studied.values, shown, strict=True)]
        cells = (*along, *(_WHY if np.isnan(value) else rounded(value, 4) for value in read))
        rows.append(Row(cells, tip=why.get(place, "")))
    return rows
