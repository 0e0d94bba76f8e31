"""Least dry fibre mass of the bottom. Clause units: kg/m², kn, kg, m."""

from stringerlab.methods.iso_12215_5_2008.source import clause
from stringerlab.units import Kg, KgPerM2, Kn, M, Ratio
from stringerlab.workings import Known, formula


@formula(symbol="k_5", source=clause("10.3, k5", Known.MEMORY_M))
def fibre_factor() -> Ratio:
    """Fibre type factor: the greatest, that of glass with much chopped mat."""
    return 1.0


@formula(symbol="w_min", source=clause("10.3, dry mass", Known.MEMORY_M))
def single_skin_dry_mass(k_5: Ratio, V: Kn, m_LDC: Kg) -> KgPerM2:
    """Least dry fibre mass of a single-skin bottom."""
    return 0.43 * k_5 * (1.5 + 0.03 * V + 0.15 * m_LDC**0.33)


@formula(symbol="w_os", source=clause("10.6, dry mass", Known.MEMORY_L))
def outer_skin_dry_mass(k_DC: Ratio, k_5: Ratio, L_WL: M) -> KgPerM2:
    """Least dry fibre mass of a sandwich bottom's outer skin."""
    return k_DC * k_5 * (0.1 * L_WL + 0.15)


@formula(symbol="w_is", source=clause("10.6, dry mass", Known.MEMORY_L))
def inner_skin_dry_mass(w_os: KgPerM2) -> KgPerM2:
    """Least dry fibre mass of a sandwich bottom's inner skin."""
    return 0.7 * w_os
