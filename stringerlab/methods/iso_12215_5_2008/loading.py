"""From craft and place to the bottom pressure of a row, and what must be said of it."""

from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from stringerlab.errors import Problem, StringerlabError
from stringerlab.methods.iso_12215_5_2008 import pressures
from stringerlab.methods.records import CraftRow, Remark
from stringerlab.workings import Array, Formula


class Switch(StrEnum):
    """What counts once the first form of the dynamic load factor exceeds 3: the wording is not sure."""

    GREATER = "the greater of both forms"
    LESSER = "the lesser of both forms, at least 3"


SWITCH = Switch.GREATER
"""The reading used unless another is asked for: the conservative one."""

_LOAD_FACTOR = {Switch.GREATER: pressures.greater_load_factor, Switch.LESSER: pressures.lesser_load_factor}
_CATEGORIES = ("A", "B", "C", "D")


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Loading:
    """Bottom pressure row by row [MPa], and its remarks."""

    P: Array
    remarks: tuple[Remark, ...]


def panel_loading(
    craft: CraftRow, *, x: Array, b: Array, l: Array, sandwich: bool, switch: Switch = SWITCH
) -> Loading:
    """Return the bottom pressure of panels [mm] over their design areas."""
    return _loading(
        craft,
        x,
        pressures.panel_design_area(l=l, b=b),
        pressures.displacement_panel_reduction(b=b),
        pressures.sandwich_area_factor if sandwich else pressures.area_factor,
        switch,
    )


def stiffener_loading(craft: CraftRow, *, x: Array, lu: Array, s: Array, switch: Switch = SWITCH) -> Loading:
    """Return the bottom pressure of stiffeners [mm] over their design areas."""
    return _loading(
        craft,
        x,
        pressures.stiffener_design_area(l_u=lu, s=s),
        pressures.displacement_stiffener_reduction(l_u=lu),
        pressures.area_factor,
        switch,
    )


def load_factor(craft: CraftRow, switch: Switch = SWITCH) -> tuple[Array, np.bool_]:
    """Return the dynamic load factor [g], and whether the readings of the switch give different ones."""
    n_1 = pressures.first_load_factor(
        L_WL=craft.LWL, B_C=craft.BC, beta_04=craft.beta_04, V=craft.V, m_LDC=craft.m_LDC
    )
    n_2 = pressures.fast_load_factor(V=craft.V, m_LDC=craft.m_LDC)
    readings = [factor.clause(n_1=n_1, n_2=n_2) for factor in _LOAD_FACTOR.values()]
    return _LOAD_FACTOR[switch](n_1=n_1, n_2=n_2), np.ptp(readings) > 0


def category_factor(craft: CraftRow) -> Array:
    """Return the design category factor.

    Raises
    ------
    StringerlabError
        When the category is none of A to D.
    """
    if craft.category not in _CATEGORIES:
        raise StringerlabError(
            Problem(f"There is no design category '{craft.category}'.", "craft", "Use A, B, C or D.")
        )
    return pressures.design_category_factor(
        **{letter: float(craft.category == letter) for letter in _CATEGORIES}
    )


def _loading(
    craft: CraftRow,
    x: Array,
    area: Array,
    displacement_reduction: Array,
    area_factor: Formula,
    switch: Switch,
) -> Loading:
    k_DC = category_factor(craft)
    n_CG, split = load_factor(craft, switch)
    x_L = pressures.place_along_waterline(x=x, x_aft=craft.waterline_aft, L_WL=craft.LWL)
    k_L = pressures.length_factor(x_L=x_L, n_CG=n_CG)
    k_AR_D = area_factor(k_R=displacement_reduction, m_LDC=craft.m_LDC, A_D=area)
    k_AR_P = area_factor(k_R=pressures.planing_reduction(), m_LDC=craft.m_LDC, A_D=area)
    P_D = pressures.displacement_pressure(m_LDC=craft.m_LDC, k_AR=k_AR_D, k_DC=k_DC, k_L=k_L)
    P_P = pressures.planing_pressure(
        m_LDC=craft.m_LDC, L_WL=craft.LWL, B_C=craft.BC, k_DC=k_DC, n_CG=n_CG, k_AR=k_AR_P, k_L=k_L
    )
    P_min = pressures.minimum_pressure(m_LDC=craft.m_LDC, L_WL=craft.LWL, k_DC=k_DC)
    P = pressures.bottom_pressure(P_D=P_D, P_P=P_P, P_min=P_min)

    planing = P == P_P
    displacement = (P == P_D) & ~planing
    floor = float(area_factor.clause(k_R=0.0, m_LDC=craft.m_LDC, A_D=np.inf))
    floored = (planing & (k_AR_P <= floor)) | (displacement & (k_AR_D <= floor))
    cap = _LOAD_FACTOR[switch].clause(n_1=np.inf, n_2=np.inf)
    return Loading(
        P=P,
        remarks=(
            Remark("planing mode governs the pressure", planing),
            Remark("displacement mode governs the pressure", displacement),
            Remark("the least bottom pressure governs", ~planing & ~displacement),
            Remark(
                f"n_CG is {switch.value}: a choice, the edition's wording is not sure here", planing & split
            ),
            Remark(f"n_CG is capped at {cap:g}", planing & (n_CG >= cap)),
            Remark(f"k_AR is at its floor of {floor:g}", floored),
        ),
    )
