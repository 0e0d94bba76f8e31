"""The cells that a section's laminates close off, as outlines to draw. mm."""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from stringerlab.errors import StringerlabError
from stringerlab.section.checks import faults
from stringerlab.section.records import SectionShape

Array = NDArray[np.float64]


def cells(shape: SectionShape, deadrise: float = 0.0) -> list[Array]:
    """Return the rings (n, 2) of the cells closed by the laminates, the shell and the beads between them.

    Parameters
    ----------
    shape
        The section; its fills lie in the cells and close none.
    deadrise
        Slope of the shell it is drawn on [rad].

    Raises
    ------
    StringerlabError
        With everything that forbids a number.
    """
    from stringerlab.geometry.planar import holes
    from stringerlab.section.solids import solids

    found = faults(shape, deadrise)
    if found:
        raise StringerlabError(found)
    return holes(solid.area for solid in solids(replace(shape, fills=()), deadrise))
