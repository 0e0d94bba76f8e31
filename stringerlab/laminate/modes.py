"""How a ply fails: the multiple of a given stress at which each mode is reached, on arrays.

Stresses (…, 3) in the ply's axes and strengths (…, 5) as in ``failure``. A multiple is infinite where the
mode is not loaded and nan where its strength is missing. Along the fibres and across them in tension by
Hashin in plane stress; across in compression by his form with the transverse shear strength taken as half the
transverse compressive one, so that its linear term is none; in-plane and interlaminar shear by maximum
stress. Of mats and woven plies, which have fibres both ways, "matrix" reads as "across".
"""

from enum import StrEnum

import numpy as np

from stringerlab.workings import Array


class Mode(StrEnum):
    """A way in which a ply fails; the order is that of ``mode_factors``."""

    FIBRE_TENSION = "fibre tension"
    FIBRE_COMPRESSION = "fibre compression"
    MATRIX_TENSION = "matrix tension"
    MATRIX_COMPRESSION = "matrix compression"
    SHEAR = "in-plane shear"
    INTERLAMINAR = "interlaminar shear"


MODES = tuple(Mode)


def mode_factors(stress: Array, interlaminar: Array, strengths: Array, interlaminar_strength: Array) -> Array:
    """Return the load multiple at failure by each of ``MODES``, (…, 6); arguments as in `mode_indices`."""
    indices = mode_indices(stress, interlaminar, strengths, interlaminar_strength)
    factors = np.where(np.isnan(indices), np.nan, np.inf)
    return np.divide(1.0, np.sqrt(indices), out=factors, where=indices > 0)


def mode_indices(stress: Array, interlaminar: Array, strengths: Array, interlaminar_strength: Array) -> Array:
    """Return the failure index of each of ``MODES``, (…, 6): 1 at failure, growing as the load squared.

    Parameters
    ----------
    stress
        Ply stresses in the ply's axes (…, 3) [MPa].
    interlaminar
        Interlaminar shear stress (…) [MPa].
    strengths
        Strengths (…, 5): tension 1, compression 1, tension 2, compression 2, shear [MPa].
    interlaminar_strength
        (…) [MPa].

    Source
    ------
    Z. Hashin, Failure criteria for unidirectional fiber composites, J. Appl. Mech. 47 (1980), plane stress
    (memory H).
    """
    s1, s2, s12 = (stress[..., index] for index in range(3))
    tension_1, compression_1, tension_2, compression_2, shear = (strengths[..., index] for index in range(5))
    indices = np.zeros((6, *np.broadcast_shapes(s1.shape, shear.shape, interlaminar.shape)))
    pulled_1, pulled_2 = s1 > 0, s2 > 0
    sheared = indices[4, ...]
    np.square(s12 / shear, out=sheared)
    along = np.square(s1 / np.where(pulled_1, tension_1, compression_1))
    across = np.square(s2 / np.where(pulled_2, tension_2, compression_2)) + sheared
    np.add(along, sheared, out=indices[0, ...], where=pulled_1)
    np.copyto(indices[1, ...], along, where=s1 < 0)
    np.copyto(indices[2, ...], across, where=pulled_2)
    np.copyto(indices[3, ...], across, where=s2 < 0)
    between = indices[5, ...]
    np.divide(interlaminar, interlaminar_strength, out=between, where=interlaminar != 0)
    np.square(between, out=between)
    return np.moveaxis(indices, 0, -1)
