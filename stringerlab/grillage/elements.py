"""One beam of a grid: stiffness, end forces and loads of its ends, exact for bending with shear and torsion.

A beam's own freedoms are w, ψ at its first end and at its second, ψ = dw/ds without shear the slope of its
section along the beam; and its twist φ about its own direction. N, mm, rad.
"""

from dataclasses import dataclass

import numpy as np

from stringerlab.grillage.records import Array, Grid


@dataclass(frozen=True, slots=True, eq=False)
class Elements:
    """m beams; six freedoms each in the plan's axes: w, θx, θy of the first end, then of the second."""

    L: Array
    """(m,) mm."""
    phi: Array
    """(m,) 12 EI/(GA L²): what shear adds."""
    stiffness: Array
    """(m, 6, 6)."""
    forces: Array
    """(m, 3, 6): moment and shear at the first end, and torque, of the freedoms."""
    released: Array
    """(m, 4, 4): loads at held ends to loads where pinned ends turn."""
    turned: Array
    """(m, 4, 6): own freedoms w, ψ, w, ψ of those in the plan's axes."""


def elements(grid: Grid) -> Elements:
    """Return the beams of a grid.

    Parameters
    ----------
    grid
        Checked (`checking.problems`): no length is 0.

    Source
    ------
    J. S. Przemieniecki, Theory of Matrix Structural Analysis, section 5.6 (memory H): Timoshenko's beam.
    """
    start, end = grid.nodes[grid.beams[:, 0]], grid.nodes[grid.beams[:, 1]]
    along = end - start
    L = np.hypot(along[:, 0], along[:, 1])
    cos, sin = along[:, 0] / L, along[:, 1] / L
    phi = 12 * grid.EI / (grid.GA * L**2)
    own, released = _pinned(_bending(grid.EI, L, phi), grid)
    m = len(L)
    turned = np.zeros((m, 4, 6))
    twist = np.zeros((m, 6))
    for first, (w, psi) in ((0, (0, 1)), (3, (2, 3))):
        turned[:, w, first] = 1.0
        turned[:, psi, first + 1], turned[:, psi, first + 2] = sin, -cos
        sign = -1.0 if first == 0 else 1.0
        twist[:, first + 1], twist[:, first + 2] = sign * cos, sign * sin
    torsion = grid.GJ / L
    bent = own @ turned
    stiffness = np.swapaxes(turned, 1, 2) @ bent
    stiffness += torsion[:, None, None] * twist[:, :, None] * twist[:, None, :]
    forces = np.stack([bent[:, 1], -bent[:, 0], torsion[:, None] * twist], axis=1)
    return Elements(L, phi, (stiffness + np.swapaxes(stiffness, 1, 2)) / 2, forces, released, turned)


def shapes(xi: Array, L: Array, phi: Array) -> Array:
    """Return what a unit force at ξ of a beam puts on its held ends, (k, 4): also w at ξ of end freedoms.

    Parameters
    ----------
    xi, L, phi
        (k,) place 0 to 1, length and 12 EI/(GA L²) of each point's beam.
    """
    left = 1 - xi
    across = xi * left
    whole = 1 + phi
    out = np.empty((len(xi), 4))
    out[:, 0] = left * (left * (1 + 2 * xi) + phi) / whole
    out[:, 1] = L * across * (left + phi / 2) / whole
    out[:, 2] = xi * (xi * (3 - 2 * xi) + phi) / whole
    out[:, 3] = -L * across * (xi + phi / 2) / whole
    return out


def _bending(EI: Array, L: Array, phi: Array) -> Array:
    own = np.empty((len(L), 4, 4))
    near, far = (4 + phi) * L**2, (2 - phi) * L**2
    twelve, six = np.full(len(L), 12.0), 6 * L
    for row, values in enumerate(
        (
            (twelve, six, -twelve, six),
            (six, near, -six, far),
            (-twelve, -six, twelve, -six),
            (six, far, -six, near),
        )
    ):
        for column, value in enumerate(values):
            own[:, row, column] = value
    own *= (EI / (L**3 * (1 + phi)))[:, None, None]
    return own


def _pinned(own: Array, grid: Grid) -> tuple[Array, Array]:
    """Let pinned ends turn: stiffness, and what turns loads at held ends into loads at the others."""
    released = np.broadcast_to(np.eye(4), own.shape).copy()
    if grid.pinned is None:
        return own, released
    for end, psi in ((0, 1), (1, 3)):
        at = np.flatnonzero(grid.pinned[:, end])
        if not len(at):
            continue
        taken = own[at]
        carried = taken[:, :, psi] / taken[:, psi, psi][:, None]
        step = np.broadcast_to(np.eye(4), taken.shape).copy()
        step[:, :, psi] -= carried
        own[at] = step @ taken
        own[at, psi] = 0.0
        own[at, :, psi] = 0.0
        step[:, psi] = 0.0
        released[at] = step @ released[at]
    both = np.flatnonzero(grid.pinned.all(axis=1))
    own[both] = 0.0
    return own, released
