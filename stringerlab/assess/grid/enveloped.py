"""The envelope of all load cases: what is solved, its mirror images, and slam with the weights at rest.

Moments, deflections and reactions of slam with weights are those of both, added place by place: exact. Shear
and torque are added by their size: the safe side. Without the weights they count as well.
"""

from dataclasses import replace

import numpy as np

from stringerlab.assess.grid.combining import Combined
from stringerlab.assess.grid.symmetry import Mirror, mirrored, worse
from stringerlab.grillage import Envelope, Factored, envelope, solve

PLACES = 9
"""Along each beam: its eighths."""


def enveloped(
    factored: Factored,
    cases: Combined,
    slam: Envelope | None,
    mirror: Mirror | None,
) -> Envelope:
    """Return the extremes over all load cases, numbered as these are.

    Parameters
    ----------
    factored
        The grid.
    cases
        Its load cases.
    slam
        Its patches' envelope, without mirror images; None without a patch.
    mirror
        Its mirror images, where slam is on one side alone.
    """
    found = slam
    if found is not None:
        if mirror is not None:
            found = worse(found, mirrored(found, mirror, cases.solved))
        if cases.rest is not None:
            found = worse(found, _with_rest(found, factored, cases))
    if cases.names:
        others = envelope(factored, cases.others, places=PLACES)
        others = replace(
            others,
            case_M_max=others.case_M_max + cases.p,
            case_M_min=others.case_M_min + cases.p,
            case_V=others.case_V + cases.p,
        )
        found = others if found is None else worse(found, others)
    assert found is not None, "there is a load case"
    return found


def _with_rest(slam: Envelope, factored: Factored, cases: Combined) -> Envelope:
    """Return the envelope of slam with the weights at rest."""
    assert cases.rest is not None
    at = solve(factored, cases.of([cases.p + cases.rest]), places=PLACES)
    M, V, T = at.M[:, :, 0], np.abs(at.V[:, :, 0]), np.abs(at.T[:, 0])
    w, R = at.w[:, 0, 0], at.reactions[:, 0, 0]

    def numbered(case: np.ndarray) -> np.ndarray:
        shift = cases.solved + cases.slams - cases.p
        return np.where(case < cases.p, case + shift, case - cases.solved + shift + cases.p)

    return replace(
        slam,
        M_max=slam.M_max + M,
        M_min=slam.M_min + M,
        V_abs=slam.V_abs + V,
        T_abs=slam.T_abs + T,
        w_max=slam.w_max + w,
        w_min=slam.w_min + w,
        R_max=slam.R_max + R,
        R_min=slam.R_min + R,
        case_M_max=numbered(slam.case_M_max),
        case_M_min=numbered(slam.case_M_min),
        case_V=numbered(slam.case_V),
    )
