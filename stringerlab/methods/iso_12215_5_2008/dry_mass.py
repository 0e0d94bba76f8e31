"""Least dry fibre mass by surface. Clause units: kg/m², mm, kn, kg, m.

Single skin: a least thickness of mat laminate, and the dry fibre in it. What is asked of watertight
bulkheads and tanks is not known.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np

from stringerlab.layout.records import Surface
from stringerlab.methods.iso_12215_5_2008.source import clause
from stringerlab.methods.records import CraftRow
from stringerlab.units import Kg, KgPerM2, Kn, M, Mm, Ratio
from stringerlab.workings import Array, Formula, Known, formula


@formula(symbol="k_5", source=clause("10.3, k5", Known.MEMORY_M))
def fibre_factor() -> Ratio:
    """Fibre type factor: the greatest, that of glass with much chopped mat."""
    return 1.0


@formula(symbol="t_w", source=clause("10.3, dry mass", Known.MEMORY_M))
def bottom_thickness(k_5: Ratio, V: Kn, m_LDC: Kg) -> Mm:
    """Thickness of mat laminate whose dry fibre is the least of a single-skin bottom."""
    return k_5 * (1.5 + 0.03 * V + 0.15 * m_LDC**0.33)


@formula(symbol="t_w", source=clause("10.3, dry mass", Known.MEMORY_M))
def side_thickness(k_5: Ratio, m_LDC: Kg) -> Mm:
    """Thickness of mat laminate whose dry fibre is the least of a single-skin side."""
    return k_5 * (1.5 + 0.15 * m_LDC**0.33)


@formula(symbol="t_w", source=clause("10.3, dry mass", Known.MEMORY_L))
def deck_thickness(k_5: Ratio, L_WL: M) -> Mm:
    """Thickness of mat laminate whose dry fibre is the least of a single-skin deck."""
    return k_5 * (1.45 + 0.14 * L_WL)


@formula(symbol="w_min", source=clause("10.3, dry mass", Known.MEMORY_M))
def single_skin_dry_mass(t_w: Mm) -> KgPerM2:
    """Least dry fibre mass of a single skin: what so much mat laminate holds."""
    return 0.43 * t_w


@formula(symbol="k_4", source=clause("10.6, k4", Known.MEMORY_M))
def bottom_location() -> Ratio:
    """Location factor of skins of the bottom."""
    return 1.0


@formula(symbol="k_4", source=clause("10.6, k4", Known.MEMORY_M))
def side_location() -> Ratio:
    """Location factor of skins of the side."""
    return 0.9


@formula(symbol="k_4", source=clause("10.6, k4", Known.MEMORY_M))
def deck_location() -> Ratio:
    """Location factor of skins of the deck."""
    return 0.7


@formula(symbol="w_os", source=clause("10.6, dry mass", Known.MEMORY_L))
def outer_skin_dry_mass(k_DC: Ratio, k_5: Ratio, L_WL: M, k_4: Ratio) -> KgPerM2:
    """Least dry fibre mass of a sandwich's outer skin."""
    return k_DC * k_4 * k_5 * (0.1 * L_WL + 0.15)


@formula(symbol="w_is", source=clause("10.6, dry mass", Known.MEMORY_L))
def inner_skin_dry_mass(w_os: KgPerM2) -> KgPerM2:
    """Least dry fibre mass of a sandwich's inner skin."""
    return 0.7 * w_os


@dataclass(frozen=True, slots=True, kw_only=True)
class _Asked:
    """What a surface is asked for: the thickness of a single skin, and its skins' location factor."""

    thickness: Callable[[CraftRow], Array]
    location: Formula


_ASKED: Mapping[Surface, _Asked] = {
    Surface.BOTTOM: _Asked(
        thickness=lambda craft: bottom_thickness(k_5=fibre_factor(), V=craft.V, m_LDC=craft.m_LDC),
        location=bottom_location,
    ),
    Surface.SIDE: _Asked(
        thickness=lambda craft: side_thickness(k_5=fibre_factor(), m_LDC=craft.m_LDC),
        location=side_location,
    ),
    Surface.DECK: _Asked(
        thickness=lambda craft: deck_thickness(k_5=fibre_factor(), L_WL=craft.LWL),
        location=deck_location,
    ),
}
_NOT_KNOWN = np.array(np.nan)


def least_single_skin(craft: CraftRow, surface: Surface) -> Array:
    """Return the least dry fibre mass of a single skin [g/m²]; nan where none is known for the surface."""
    asked = _ASKED.get(surface)
    return _NOT_KNOWN if asked is None else single_skin_dry_mass(t_w=asked.thickness(craft))


def least_skins(craft: CraftRow, surface: Surface, k_DC: Array) -> tuple[Array, Array]:
    """Return the least dry fibre mass of outer and inner skin [g/m²]; nan where none is known."""
    asked = _ASKED.get(surface)
    if asked is None:
        return _NOT_KNOWN, _NOT_KNOWN
    w_os = outer_skin_dry_mass(k_DC=k_DC, k_5=fibre_factor(), L_WL=craft.LWL, k_4=asked.location())
    return w_os, inner_skin_dry_mass(w_os=w_os)


def not_known(surface: Surface) -> str:
    """Return why a surface has no least dry fibre mass; empty where it has one."""
    return "" if surface in _ASKED else f"no least dry fibre mass is known for {surface.value}s"
