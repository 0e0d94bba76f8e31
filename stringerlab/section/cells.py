"""The cells that a section's laminates close off, as outlines to draw. mm."""

from collections.abc import Iterator, Sequence
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from stringerlab.errors import StringerlabError
from stringerlab.geometry.areas import Area
from stringerlab.geometry.chords import as_pairs
from stringerlab.section.bodies import bodies
from stringerlab.section.contact import faces, in_shell_axes
from stringerlab.section.cutting import below_shell, ply_area
from stringerlab.section.records import SectionShape
from stringerlab.section.webs import CONTACT, Run, runs

Array = NDArray[np.float64]


def cells(shape: SectionShape, deadrise: float = 0.0) -> list[Array]:
    """Return the rings (n, 2) of the cells closed by the laminates, the shell and the beads between them.

    Parameters
    ----------
    shape
        The section.
    deadrise
        Slope of the shell it is drawn on [rad].

    Raises
    ------
    StringerlabError
        With everything that forbids a number.
    """
    from stringerlab.geometry.holes import holes

    built = bodies(shape, deadrise=deadrise)
    lines = built.drawing.lines
    if built.faults or lines is None:
        raise StringerlabError(built.faults)
    solid = [
        ply_area(built.drawing, lines, index, 0, len(stroke.levels) - 1)
        for index, stroke in enumerate(built.drawing.strokes)
    ]
    reach = float(np.abs(lines.points).max())
    reach = max(reach, *(float(np.abs(faces(built.drawing, lines, i)[1]).max()) for i in range(len(solid))))
    solid.append(below_shell(deadrise, max(reach, 1.0)))
    solid += _beads(runs(built, deadrise), shape.bead, deadrise)
    return holes(solid)


def _beads(found: Sequence[Run], bead: float, deadrise: float) -> Iterator[Area]:
    """Yield what fills the gap under bonded segments: from their shell-side face through the shell's."""
    for run in found:
        if run.steep:
            continue
        for pair in pairwise(run.shell_face):
            face = np.array(pair)
            if bool((np.abs(face.imag) <= bead + CONTACT).all()):
                corners = np.append(face, face[::-1].real - 1j).astype(np.complex128)
                yield [[as_pairs(in_shell_axes(corners, -deadrise))]]
