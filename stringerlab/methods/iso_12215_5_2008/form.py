"""What of the form differs by edition: its formulas, what must be said of them; here the 2008 edition's."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import StrEnum

from stringerlab.methods.iso_12215_5_2008 import panels, pressures, stiffeners, surface_pressures
from stringerlab.methods.records import CraftRow, Mask, Remark
from stringerlab.workings import Array, Formula


class Switch(StrEnum):
    """What counts once the first form of the dynamic load factor exceeds 3: the wording is not sure."""

    GREATER = "the greater of both forms"
    LESSER = "the lesser of both forms, at least 3"


SWITCH = Switch.GREATER
"""The reading used unless another is asked for: the conservative one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """What an edition must say: of all findings by pressure, of some of them, of stresses, of minima."""

    pressure: tuple[Remark, ...] = ()
    """Of a pressure on bottom, side or deck."""
    aft: tuple[str, ...] = ()
    """Of it where the factor along the length is below its greatest place."""
    head: tuple[Remark, ...] = ()
    """Of a head of water."""
    curved: tuple[str, ...] = ()
    """Where a panel or stiffener is curved."""
    requirement: tuple[Remark, ...] = ()
    """Of what is asked for under a pressure."""
    stress: tuple[Remark, ...] = ()
    """Of a design stress."""
    panel: tuple[Remark, ...] = ()
    minimum: tuple[Remark, ...] = ()
    """Of a minimum or a proportion."""

    def of_curvature(self, rise: Array) -> tuple[Remark, ...]:
        """Return what is said where there is a rise."""
        return tuple(Remark(text, rise > 0) for text in self.curved)


@dataclass(frozen=True, slots=True, kw_only=True)
class Form:
    """An edition's own formulas, called in the order of arguments stated; the rest is common."""

    beam: Callable[[CraftRow], float]
    """The chine beam that counts [mm]."""
    first_load_factor: Formula
    """Of waterline length, beam, deadrise, speed, mass."""
    fast_load_factor: Formula
    """Of speed, mass."""
    load_factor: Mapping[Switch, Formula]
    """Of both."""
    length_factor: Formula
    """Of place along the waterline, load factor."""
    area_factor: Formula
    """Of kR, mass, design area; for single skin and stiffeners."""
    sandwich_area_factor: Formula
    planing_pressure: Formula
    """Of mass, waterline length, beam, category factor, load factor, kAR, kL."""
    planing_base: Formula
    """Of mass, waterline length, beam, category factor, load factor."""
    curvature_factor: Callable[[Array, Array], Array]
    """Of a panel's rise, short side."""
    stiffener_curvature_factor: Callable[[Array, Array], Array]
    """Of a stiffener's rise, span."""
    design_stress: Callable[[Array], Array]
    """Of ultimate strength."""
    design_shear_stress: Callable[[Array], Array]
    core_design_shear_stress: Callable[[Array, Mask], Array]
    """Of ultimate strength, and where the core is ductile."""
    wrinkling_stress: Callable[[Array, Array, Array], Array]
    """Of the skin's modulus, the core's, its shear modulus."""
    said: Said = Said()


FORM = Form(
    beam=lambda craft: craft.BC,
    first_load_factor=pressures.first_load_factor,
    fast_load_factor=pressures.fast_load_factor,
    load_factor={
        Switch.GREATER: pressures.greater_load_factor,
        Switch.LESSER: pressures.lesser_load_factor,
    },
    length_factor=pressures.length_factor,
    area_factor=pressures.area_factor,
    sandwich_area_factor=pressures.sandwich_area_factor,
    planing_pressure=pressures.planing_pressure,
    planing_base=surface_pressures.planing_base,
    curvature_factor=panels.curvature_factor,
    stiffener_curvature_factor=stiffeners.curvature_factor,
    design_stress=panels.design_stress,
    design_shear_stress=panels.design_shear_stress,
    core_design_shear_stress=panels.core_design_shear_stress,
    wrinkling_stress=panels.wrinkling_stress,
)
"""The 2008 edition's."""
