"""What a span carries as a single beam under its pressure: moments at its end and within it, and shear.

Positive moments put the crown in tension. Factors of the ends: see ``methods.ends``.
"""

from stringerlab.units import Mm, MPa, N, NMm, NMm2, Ratio
from stringerlab.workings import Known, Source, formula

_BEAM = Source(title="Beam theory", clause="uniform load on a single span", known=Known.MEMORY_H)


@formula(symbol="w_m", source=_BEAM)
def greatest_deflection(f_w: Ratio, P: MPa, s: Mm, l_u: Mm, EI: NMm2) -> Mm:
    """Greatest deflection in bending, over that of held ends by its factor."""
    return f_w * P * s * l_u**4 / (384 * EI)


@formula(symbol="M_e", source=_BEAM)
def end_moment(f_e: Ratio, P: MPa, s: Mm, l_u: Mm) -> NMm:
    """Moment at the end that carries most: the crown in compression."""
    return -f_e * P * s * l_u**2 / 12


@formula(symbol="M_m", source=_BEAM)
def middle_moment(f_m: Ratio, P: MPa, s: Mm, l_u: Mm) -> NMm:
    """Greatest moment within the span: the crown in tension."""
    return f_m * P * s * l_u**2 / 12


@formula(symbol="V_e", source=_BEAM)
def end_shear(f_Q: Ratio, P: MPa, s: Mm, l_u: Mm) -> N:
    """Greatest shear force, at an end."""
    return f_Q * P * s * l_u / 2
