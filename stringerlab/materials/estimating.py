"""What a reinforcement laid with so much glass amounts to: its ply properties by the estimate it names.

Axes 1 along the fibres, 2 across; mm, MPa, g/m². A ±45 stitched fabric is a 0/90 one turned: its
properties are those along its own fibres.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from stringerlab.errors import Problem
from stringerlab.materials import estimates as fits
from stringerlab.materials.records import (
    LAYERED,
    Estimate,
    Fibre,
    PlyKind,
    Reinforcement,
    Resin,
    Sourced,
)
from stringerlab.workings import Formula, Known, weakest

APPLIES: Mapping[Estimate, tuple[PlyKind, ...]] = {
    Estimate.PUBLISHED_FIT: (PlyKind.MAT, PlyKind.WOVEN_ROVING, PlyKind.BIAXIAL),
    Estimate.MICROMECHANICS: (PlyKind.BIAXIAL, PlyKind.DOUBLE_BIAS, PlyKind.UNIDIRECTIONAL),
}
"""Kinds of ply each estimate knows: the fits balanced ones, micromechanics straight fibres."""

FIT_POISSON: Mapping[PlyKind, Sourced] = {
    PlyKind.MAT: Sourced(value=0.30, source="usual value for chopped mat in polyester", known=Known.MEMORY_M),
    PlyKind.WOVEN_ROVING: Sourced(
        value=0.20, source="usual value for woven roving in polyester", known=Known.MEMORY_M
    ),
    PlyKind.BIAXIAL: Sourced(
        value=0.15, source="usual value for 0/90 stitched glass in polyester", known=Known.MEMORY_M
    ),
}
"""Poisson's ratio where the fits give none."""

E_GLASS_MODULI = (65_000.0, 80_000.0)
"""A fibre with its modulus between these counts as E-glass, for which the fits hold."""
FIT_RESINS = ("polyester", "isophthalic")
"""Polyesters, for which the fits were made; with another resin they stand too, as is common practice."""


@dataclass(frozen=True, slots=True)
class Number:
    """A property and how well it is known; nan when it cannot be estimated."""

    value: float
    known: Known


Numbers = dict[str, Number]


def estimated(
    material: Reinforcement, fibre: Fibre, resin: Resin, weight: float, glass: Number, where: str = ""
) -> tuple[Numbers, list[Problem]]:
    """Return a ply's properties by the material's named estimate, under ``PlyNumbers``' names.

    Parameters
    ----------
    material, fibre, resin
        What the ply is made of.
    weight
        Dry weight [g/m²].
    glass
        Glass content by mass.
    where
        How a person knows the ply, for the problems.

    Returns
    -------
    tuple
        Properties by name, empty when there are problems; and the problems: the estimate does not know
        the kind of ply, or does not hold for its fibre or glass content.
    """
    kinds = APPLIES[material.estimate]
    if material.kind not in kinds:
        what = f"the estimate '{material.estimate}' does not know a {material.kind} ply ('{material.name}')."
        return {}, [Problem(what, where, other_estimate(material.kind))]
    if material.estimate is Estimate.MICROMECHANICS:
        return _by_micromechanics(material.kind, fibre, resin, weight, glass), []
    problems = _fit_problems(material, fibre, glass, where)
    return ({} if problems else _by_fit(material.kind, resin, weight, glass)), problems


def other_estimate(kind: PlyKind) -> str:
    """Return what to do where an estimate does not know a kind of ply."""
    if kind in LAYERED:
        return "Give its layers: each is estimated for itself."
    others = [estimate.value for estimate, kinds in APPLIES.items() if kind in kinds]
    return f"Choose '{' or '.join(others)}' for this material."


def is_e_glass(fibre: Fibre) -> bool:
    """Return whether a fibre's modulus is one for which the published fits hold."""
    low, high = E_GLASS_MODULI
    return low <= fibre.modulus.value <= high


def _fit_problems(material: Reinforcement, fibre: Fibre, glass: Number, where: str) -> list[Problem]:
    problems: list[Problem] = []
    if not is_e_glass(fibre):
        what = f"the published fit holds for E-glass, not for {fibre.name} ('{material.name}')."
        problems.append(Problem(what, where, f"Choose '{Estimate.MICROMECHANICS}' for this material."))
    if not fits.FIT_RANGE.holds(glass.value):
        what = f"the published fit is used for glass contents {fits.FIT_RANGE}, not {glass.value}."
        problems.append(Problem(what, where, "Check the glass content: it is a mass fraction."))
    return problems


def _by_fit(kind: PlyKind, resin: Resin, weight: float, glass: Number) -> Numbers:
    g = glass.value
    practice = [] if resin.id in FIT_RESINS else [Known.PRACTICE]
    stretched = [Known.MEMORY_M] if kind is PlyKind.BIAXIAL else []

    def fit(formula: Formula, **given: float) -> Number:
        marks = [formula.source.known, glass.known, *practice, *stretched]
        return Number(float(formula(g=g, **given)), weakest(marks))

    modulus, tension, compression = fit(fits.fit_modulus), fit(fits.fit_tension), fit(fits.fit_compression)
    poisson = FIT_POISSON[kind]
    return {
        "thickness": fit(fits.fit_thickness, w=weight),
        "E1": modulus,
        "E2": modulus,
        "G12": fit(fits.fit_shear_modulus),
        "nu12": Number(poisson.value, poisson.known),
        "tension_1": tension,
        "compression_1": compression,
        "tension_2": tension,
        "compression_2": compression,
        "shear": fit(fits.fit_shear),
        "flexural": fit(fits.fit_flexural),
        "interlaminar": fit(fits.fit_interlaminar),
    }


def _by_micromechanics(kind: PlyKind, fibre: Fibre, resin: Resin, weight: float, glass: Number) -> Numbers:
    g = glass.value

    def number(formula: Formula, *inputs: Sourced, **given: float) -> Number:
        marks = [formula.source.known, glass.known, *(one.known for one in inputs)]
        return Number(float(formula(**given)), weakest(marks))

    densities = {"rho_f": fibre.density.value, "rho_m": resin.density.value}
    by_density = (fibre.density, resin.density)
    volume = float(fits.fibre_volume(g=g, **densities))
    E_m, nu_m = resin.modulus.value, resin.poisson.value
    G_m = float(fits.resin_shear_modulus(E_m, nu_m))
    along = number(
        fits.modulus_along, *by_density, fibre.modulus, resin.modulus,
        V_f=volume, E_f=fibre.modulus.value, E_m=E_m,
    )  # fmt: skip
    across = number(
        fits.modulus_across, *by_density, fibre.transverse_modulus, resin.modulus,
        V_f=volume, E_f=fibre.transverse_modulus.value, E_m=E_m,
    )  # fmt: skip
    poisson = number(
        fits.poisson_along, *by_density, fibre.poisson, resin.poisson,
        V_f=volume, nu_f=fibre.poisson.value, nu_m=nu_m,
    )  # fmt: skip
    shear = number(
        fits.shear_modulus, *by_density, fibre.shear_modulus, resin.modulus, resin.poisson,
        V_f=volume, G_f=fibre.shear_modulus.value, G_m=G_m,
    )  # fmt: skip
    thickness = number(fits.solid_thickness, *by_density, w=weight, g=g, **densities)
    balanced = kind is not PlyKind.UNIDIRECTIONAL
    if balanced:
        halves = {"E_1": along.value, "E_2": across.value, "nu_12": poisson.value}
        known = weakest([along.known, across.known, poisson.known, fits.balanced_modulus.source.known])
        along = across = Number(float(fits.balanced_modulus(**halves)), known)
        poisson = Number(float(fits.balanced_poisson(**halves)), known)
    tension = _at_strain(along, fibre.tension_strain)
    compression = _at_strain(along, fibre.compression_strain)
    # the fits for the laminate as a whole are E-glass's: nothing is said of another fibre
    fitted = is_e_glass(fibre)
    interlaminar = float(fits.fit_interlaminar(g=g)) if fitted else math.nan
    flexural = float(fits.fit_flexural(g=g)) if fitted and kind is PlyKind.BIAXIAL else math.nan
    return {
        "thickness": thickness,
        "E1": along,
        "E2": across,
        "G12": shear,
        "nu12": poisson,
        "tension_1": tension,
        "compression_1": compression,
        "tension_2": tension if balanced else _at_strain(across, resin.transverse_tension_strain),
        "compression_2": compression if balanced else _at_strain(across, resin.transverse_compression_strain),
        "shear": _at_strain(shear, resin.shear_strain),
        "flexural": Number(flexural, Known.ESTIMATE),
        "interlaminar": Number(interlaminar, Known.ESTIMATE),
    }


def _at_strain(modulus: Number, strain: Sourced | None) -> Number:
    if strain is None:
        return Number(math.nan, Known.ESTIMATE)
    marks = [modulus.known, strain.known, fits.strength_at_strain.source.known]
    return Number(float(fits.strength_at_strain(modulus.value, strain.value)), weakest(marks))
