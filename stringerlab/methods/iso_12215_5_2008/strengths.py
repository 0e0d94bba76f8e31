"""How the edition takes strengths: by test, by a measured glass content, or by its default values."""

from stringerlab.methods.evaluation import Evaluation
from stringerlab.methods.iso_12215_5_2008.source import clause
from stringerlab.units import MPa, Ratio
from stringerlab.workings import Array, Formula, Known, formula

_ANNEX_C = clause("Annex C", Known.MEMORY_M)

EVALUATION = Evaluation(
    tested=0.9,
    deviations=2.0,
    measured=1.0,
    default=0.8,
    source=_ANNEX_C,
)
"""The lesser of 0.9 × mean and mean − 2 deviations of coupons; default values × 0.8."""


@formula(symbol="sigma_u", source=_ANNEX_C)
def ultimate_strength(f_E: Ratio, sigma_r: MPa) -> MPa:
    """Ultimate strength by its evaluation level; of coupons the factor is what their rule comes to."""
    return f_E * sigma_r


@formula(symbol="tau_u", source=_ANNEX_C)
def ultimate_shear_strength(f_E: Ratio, tau_r: MPa) -> MPa:
    """Ultimate shear strength by its evaluation level; of coupons the factor is what their rule comes to."""
    return f_E * tau_r


def ultimate(strength: Array, factor: Array | None, step: Formula = ultimate_strength) -> Array:
    """Return strengths as evaluated, by the step that leads to them from what the laminate has.

    Parameters
    ----------
    strength
        As evaluated [MPa].
    factor
        What the evaluation made of each; None for nothing.
    step
        The formula of the step.
    """
    return strength if factor is None else step(factor, strength / factor)
