"""From craft and place to the bottom pressure of a row, and what must be said of it."""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np

from stringerlab.layout.records import Surface
from stringerlab.methods.class_guide_planing import pressures
from stringerlab.methods.iso_12215_5_2008.pressures import place_along_waterline
from stringerlab.methods.pressed import PressureRows
from stringerlab.methods.records import (
    CraftRow,
    PanelRows,
    Remark,
    SandwichRows,
    SpanRows,
)
from stringerlab.workings import Array

_BEAM = Remark(
    "the waterline beam is read as the chine beam, and the deadrise at the centre of gravity as that at 0.4 "
    "of the waterline length"
)
_AT_SPEED = Remark(
    "the wave height counts at the greatest speed: where speed is lessened in waves, this asks too much"
)
_LENGTH = Remark(
    "the acceleration's rise along the length is from weak memory: 1 to midships, then to 2 at the bow"
)
_FIT = Remark(
    "F_D: the guide's curve is not digitised here; a fit of other rules, scaled up to be 1 at no area, and "
    "the guide's least by spacing, of a panel its short side, from memory, whichever is greater"
)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Loading:
    """Design pressure row by row [MPa], nan where there is none, why, and its remarks."""

    P: Array
    remarks: tuple[Remark, ...] = ()
    missing: str = ""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Place:
    x: Array
    deadrise: Array
    area: Array
    spacing: Array


def panel_loading(craft: CraftRow, rows: PanelRows | SandwichRows) -> Loading:
    """Return the design pressure of panels."""
    return _loading(craft, rows, rows.b, lambda: pressures.panel_area(l=rows.l, b=rows.b))


def stiffener_loading(craft: CraftRow, rows: SpanRows) -> Loading:
    """Return the design pressure of stiffeners."""
    return _loading(craft, rows, rows.s, lambda: pressures.stiffener_area(l_u=rows.lu, s=rows.s))


def pressure(craft: CraftRow, rows: PressureRows) -> Array:
    """Return the design pressure on panels or spans [MPa], nan on surfaces that have none."""
    if rows.of_spans:
        return _loading(
            craft, rows, rows.width, lambda: pressures.stiffener_area(l_u=rows.length, s=rows.width)
        ).P
    return _loading(craft, rows, rows.width, lambda: pressures.panel_area(l=rows.length, b=rows.width)).P


def _loading(
    craft: CraftRow,
    rows: PanelRows | SandwichRows | SpanRows | PressureRows,
    spacing: Array,
    area: Callable[[], Array],
) -> Loading:
    of_surface = _PRESSURES.get(rows.surface)
    if of_surface is None:
        return Loading(
            P=np.full(len(rows.x), np.nan),
            missing=f"this form, as far as it is known here, has no {rows.surface.value} pressure",
        )
    return of_surface(craft, _Place(x=rows.x, deadrise=rows.deadrise, area=area(), spacing=spacing))


def _bottom(craft: CraftRow, place: _Place) -> Loading:
    n_cg, said = acceleration(craft)
    x_L = place_along_waterline(x=place.x, x_aft=craft.waterline_aft, L_WL=craft.LWL)
    n_xx = pressures.local_acceleration(n_cg=n_cg, K_V=pressures.length_factor(x_L=x_L))
    F_D, draught, of_area = _area_factor(craft, place)
    P_b = pressures.slamming_pressure(
        m_LDC=craft.m_LDC,
        L_WL=craft.LWL,
        B_C=craft.BC,
        n_xx=n_xx,
        beta_x=place.deadrise,
        beta_04=craft.beta_04,
        F_D=F_D,
    )
    P_h = pressures.hydrostatic_pressure(H=pressures.wave_parameter(L_WL=craft.LWL), T=draught)
    P = pressures.bottom_pressure(P_b=P_b, P_h=P_h)
    return Loading(
        P=P,
        remarks=(
            Remark("bottom slamming governs the pressure", P_b == P),
            Remark("the hydrostatic pressure governs", P_b != P),
            *said,
            *of_area,
            _AT_SPEED,
            _BEAM,
            _LENGTH,
        ),
    )


_PRESSURES: Mapping[Surface, Callable[[CraftRow, _Place], Loading]] = {Surface.BOTTOM: _bottom}


def acceleration(craft: CraftRow) -> tuple[Array, tuple[Remark, ...]]:
    """Return the acceleration at the centre of gravity [g], and what was assumed for it."""
    no_wave, no_trim = math.isnan(craft.wave_height), math.isnan(craft.trim)
    H_s = least = pressures.least_wave_height(L_WL=craft.LWL)
    if not no_wave:
        H_s = pressures.wave_height(H_given=craft.wave_height, H_s_min=least)
    theta_r = least_trim = pressures.least_trim(L_WL=craft.LWL)
    if not no_trim:
        theta_r = pressures.running_trim(theta_given=craft.trim, theta_min=least_trim)
    n_cg = pressures.acceleration(
        H_s=H_s, B_C=craft.BC, theta_r=theta_r, beta_04=craft.beta_04, V=craft.V, m_LDC=craft.m_LDC
    )
    wave = f"the guide's least as remembered, {least / 1000:.2f} m"
    trim = f"the guide's least as remembered, {math.degrees(least_trim):g} deg"
    said = (
        (no_wave, f"wave height not given: {wave}"),
        (craft.wave_height < least, f"the wave height given is below {wave}, which counts"),
        (no_trim, f"running trim not given: {trim}"),
        (
            craft.trim < least_trim and not math.isclose(craft.trim, least_trim),
            f"the running trim given is below {trim}, which counts",
        ),
        (True, "the guide's upper limits of acceleration are not known for sure, and not applied"),
    )
    return n_cg, tuple(Remark(text) for counts, text in said if counts)


def _area_factor(craft: CraftRow, place: _Place) -> tuple[Array, float, tuple[Remark, ...]]:
    """Return the design area factor, the draught that counts [mm], and what was assumed for them."""
    if math.isnan(craft.draught):
        text = (
            "draught not given: F_D is taken as 1, conservative, "
            "and the hydrostatic pressure leaves the draught out"
        )
        return pressures.full_area_factor(), 0.0, (Remark(text),)
    F_D_min = pressures.least_area_factor(s=place.spacing, L_WL=craft.LWL)
    A_R = pressures.reference_area(m_LDC=craft.m_LDC, T=craft.draught)
    F_D = pressures.area_factor(A_D=place.area, A_R=A_R, F_D_min=F_D_min)
    return F_D, craft.draught, (_FIT, Remark("F_D is at its least", F_D_min == F_D))
