"""Which ply of a panel, or fibre of a span's section, is the first at its strength under a moment.

Strengths are the weaker of tension and compression: a moment changes sign along a member and within a panel.
Rows as in ``records``: (n, k), padded with nan.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stringerlab.methods.iso_12215_5_2008.strip import strip
from stringerlab.methods.iso_12215_5_2008.worst import of_row, worst_of
from stringerlab.methods.records import Governing, Names, Plies, SpanRows
from stringerlab.workings import Array

_SIGNS = ("{}, in tension", "{}, in compression")


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class First:
    """What reaches its strength first, row by row (n,): MPa, mm."""

    E: Array
    distance: Array
    """From the neutral axis to its extreme fibre, with its sign."""
    strength: Array
    EI: Array
    """Of the whole: per width for a panel."""
    governing: Governing


def first_ply(plies: Plies) -> First:
    """Return the ply of single-skin panels that reaches its strength first under an edge moment."""
    of = strip(plies.t, plies.E)
    d = np.where(np.abs(of.d_o) > np.abs(of.d_i), of.d_o, of.d_i)
    weaker = np.minimum(plies.tension, plies.compression)
    ply = worst_of(of.E * np.abs(d) / weaker, of.absent)
    return First(
        E=of_row(of.E, ply),
        distance=of_row(d, ply),
        strength=of_row(weaker, ply),
        EI=of.EI,
        governing=_governing(ply, plies.names, plies.tension, plies.compression),
    )


def first_fibre(rows: SpanRows) -> First:
    """Return the ply of spans' sections that reaches its strength first; what has no modulus never does."""
    weaker = np.minimum(rows.fibre_tension, rows.fibre_compression)
    severity = rows.fibre_E / weaker * np.abs(rows.fibre_z)
    fibre = worst_of(severity, np.isnan(rows.fibre_E) | (rows.fibre_E == 0))
    return First(
        E=of_row(rows.fibre_E, fibre),
        distance=of_row(rows.fibre_z, fibre),
        strength=of_row(weaker, fibre),
        EI=rows.EI,
        governing=_governing(fibre, rows.fibre_names, rows.fibre_tension, rows.fibre_compression),
    )


def _governing(index: NDArray[np.intp], names: Names, tension: Array, compression: Array) -> Governing:
    return Governing(
        index=index,
        names=names,
        texts=_SIGNS,
        text=(of_row(compression, index) < of_row(tension, index)).astype(np.intp),
    )
