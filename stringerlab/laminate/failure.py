"""Ply failure on arrays: the multiple of a given ply stress or strain at which a ply fails.

Stresses and strains (…, 3) in the ply's axes; strengths (…, 5): tension 1, compression 1, tension 2,
compression 2, shear, all positive [MPa]. A multiple is above 1 where the ply holds, infinite where it
carries nothing, nan where a strength is missing. The opposite load is the same call with the sign turned.
"""

from collections.abc import Callable

import numpy as np

from stringerlab.workings import Array

StressCriterion = Callable[[Array, Array], Array]
"""Ply stresses and strengths to a load multiple."""


def maximum_stress(stress: Array, strengths: Array) -> Array:
    """Return the load multiple at which one stress reaches its strength (…).

    Source
    ------
    Kaw, Mechanics of Composite Materials, 2nd ed., 2.8.2 (memory H).
    """
    return _least_ratio(stress, strengths)


def maximum_strain(strain: Array, strengths: Array, moduli: Array) -> Array:
    """Return the load multiple at which one strain reaches its limit (…).

    Parameters
    ----------
    strain
        Ply strains (…, 3).
    strengths
        Strengths (…, 5) [MPa].
    moduli
        E1, E2, G12 (…, 3) [MPa]; a limiting strain is the strength over its modulus.

    Source
    ------
    Kaw, Mechanics of Composite Materials, 2nd ed., 2.8.4 (memory H).
    """
    spread = moduli[..., [0, 0, 1, 1, 2]]
    shape = np.broadcast_shapes(strengths.shape, spread.shape)
    limits = np.divide(strengths, spread, out=np.full(shape, np.nan), where=spread > 0)
    return _least_ratio(strain, limits)


def tsai_wu(stress: Array, strengths: Array) -> Array:
    """Return the load multiple at failure by Tsai and Wu's tensor, F12 = −½ √(F11 F22) (…).

    Source
    ------
    Kaw, Mechanics of Composite Materials, 2nd ed., 2.8.6, with the Mises–Hencky form of F12 (memory H).
    """
    tension_1, compression_1, tension_2, compression_2, shear = np.moveaxis(strengths, -1, 0)
    s1, s2, s12 = np.moveaxis(stress, -1, 0)
    f11, f22, f66 = 1 / (tension_1 * compression_1), 1 / (tension_2 * compression_2), 1 / shear**2
    f12 = -np.sqrt(f11 * f22) / 2
    quadratic = f11 * s1**2 + f22 * s2**2 + f66 * s12**2 + 2 * f12 * s1 * s2
    linear = (1 / tension_1 - 1 / compression_1) * s1 + (1 / tension_2 - 1 / compression_2) * s2
    root = np.sqrt(linear**2 + 4 * quadratic)
    factor = np.where(np.isnan(root), np.nan, np.inf)
    # the positive root of aλ² + bλ = 1, in the form in which nothing cancels for the sign of b
    np.divide(2.0, linear + root, out=factor, where=(linear >= 0) & (root > 0))
    np.divide(root - linear, 2 * quadratic, out=factor, where=linear < 0)
    return factor


def tsai_hill(stress: Array, strengths: Array) -> Array:
    """Return the load multiple at failure by Tsai and Hill with the tensile strengths (…).

    Source
    ------
    Kaw, Mechanics of Composite Materials, 2nd ed., 2.8.5 (memory H).
    """
    return _hill(stress, strengths[..., 0], strengths[..., 0], strengths[..., 2], strengths[..., 4])


def tsai_hill_signed(stress: Array, strengths: Array) -> Array:
    """Return the load multiple at failure by Tsai and Hill with the strength of each stress's own sign (…).

    Source
    ------
    Kaw, Mechanics of Composite Materials, 2nd ed., 2.8.5, modified (memory H).
    """
    along = np.where(stress[..., 0] >= 0, strengths[..., 0], strengths[..., 1])
    cross = np.where(stress[..., 1] >= 0, strengths[..., 0], strengths[..., 1])
    across = np.where(stress[..., 1] >= 0, strengths[..., 2], strengths[..., 3])
    return _hill(stress, along, cross, across, strengths[..., 4])


def _hill(stress: Array, along: Array, cross: Array, across: Array, shear: Array) -> Array:
    s1, s2, s12 = np.moveaxis(stress, -1, 0)
    index = (s1 / along) ** 2 - s1 * s2 / cross**2 + (s2 / across) ** 2 + (s12 / shear) ** 2
    return _inverse(np.sqrt(np.maximum(index, 0.0)))


def _least_ratio(given: Array, limits: Array) -> Array:
    one, two, shear = (given[..., index] for index in range(3))
    along = np.abs(one) / np.where(one >= 0, limits[..., 0], limits[..., 1])
    across = np.abs(two) / np.where(two >= 0, limits[..., 2], limits[..., 3])
    return _inverse(np.maximum(np.maximum(along, across), np.abs(shear) / limits[..., 4]))


def _inverse(index: Array) -> Array:
    factor = np.where(np.isnan(index), np.nan, np.inf)
    return np.divide(1.0, index, out=factor, where=index > 0)
