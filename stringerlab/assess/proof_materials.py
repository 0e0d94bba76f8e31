"""Computations behind the published values of units, and of fibre and resin in a ply; in the unit stated."""

from collections.abc import Callable

from stringerlab import units
from stringerlab.materials import estimates
from stringerlab.units import Kind


def one_unit(unit: str, into: str, kind: str) -> float:
    """One of a unit as a person types it, in another unit of its kind."""
    wanted = Kind(kind)
    return units.parse(f"1 {unit}", wanted) / units.unit_named(into, wanted).factor


def fibre_mass(V_f: float, rho_f: float, rho_m: float) -> float:
    """Fibre content by mass from that by volume and densities [kg/m³]."""
    return float(estimates.fibre_mass.clause(V_f, rho_f, rho_m))


def ply_density(V_f: float, rho_f: float, rho_m: float) -> float:
    """Density [kg/m³] of a ply from its fibre content by volume and densities [kg/m³]."""
    return float(estimates.ply_density.clause(V_f, rho_f, rho_m))


COMPUTATIONS: dict[str, Callable[..., float]] = {
    "units.one": one_unit,
    "ply.fibre_mass": fibre_mass,
    "ply.density": ply_density,
}
