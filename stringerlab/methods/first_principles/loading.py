"""From craft, place and surface to the pressure over a subject's own area, and what must be said of it."""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np

from stringerlab.layout.records import Surface
from stringerlab.methods import savitsky_brown
from stringerlab.methods.first_principles import pressures
from stringerlab.methods.first_principles.source import AVERAGE, Average
from stringerlab.methods.pressed import PressureRows
from stringerlab.methods.records import CraftRow, PanelRows, Remark, SandwichRows, SpanRows
from stringerlab.workings import Array, traced

ASSUMED_TRIM = math.radians(4.0)
"""Running trim where none is given: our own choice."""
_AT_SPEED = (
    "the wave height counts at the greatest speed: where speed is lessened in waves, this asks too much"
)
_ALLEN = (
    "Allen and Jones: the area factor is our own fit, 1 at no area and 0.14 at the reference area; the "
    "distribution along the length is taken as 1, which asks for no less"
)
_HELLER = (
    "draught not given: Heller and Jasper's effective pressure in place of Allen and Jones', whatever the "
    "area, which asks for no less of large ones"
)
_FREE = "no pressure is known from first principles here: decks and topsides are not slammed"
_NO_WAVE = "the craft's significant wave height is not given, and an acceleration in waves has no other"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Loading:
    """Pressure row by row [MPa], nan where there is none, why, and its remarks."""

    P: Array
    remarks: tuple[Remark, ...] = ()
    missing: str = ""
    lacking: tuple[Remark, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Where:
    craft: CraftRow
    rows: PressureRows
    average: Average

    @property
    def none(self) -> Array:
        return np.full(len(self.rows.x), np.nan)

    def area(self) -> Array:
        rows = self.rows
        if rows.of_spans:
            return pressures.span_area(s=rows.width, l_u=rows.length)
        return pressures.panel_area(b=rows.width, l=rows.length)


def pressure(craft: CraftRow, rows: PressureRows) -> Array:
    """Return the design pressure on panels or spans [MPa], nan where there is none."""
    return _LOADINGS[rows.surface](_Where(craft=craft, rows=rows, average=AVERAGE)).P


def panel_loading(craft: CraftRow, rows: PanelRows | SandwichRows, average: Average) -> Loading:
    """Return the pressure on panels."""
    return _loading(craft, rows, rows.b, rows.l, average, of_spans=False)


def span_loading(craft: CraftRow, rows: SpanRows, average: Average) -> Loading:
    """Return the pressure on spans."""
    return _loading(craft, rows, rows.s, rows.lu, average, of_spans=True)


def acceleration(craft: CraftRow, average: Average = AVERAGE) -> Array:
    """Return the acceleration at the centre of gravity, of the average chosen [g]; nan without waves."""
    mean = savitsky_brown.mean_accelerations(
        m_LDC=craft.m_LDC,
        L_WL=craft.LWL,
        B_C=craft.BC,
        beta=craft.beta_04,
        H_s=craft.wave_height,
        V=craft.V,
        theta_r=ASSUMED_TRIM if math.isnan(craft.trim) else craft.trim,
    )
    return savitsky_brown.highest_average(n_mean=mean.n_cg, N=float(average.value))


def _loading(
    craft: CraftRow,
    rows: PanelRows | SandwichRows | SpanRows,
    width: Array,
    length: Array,
    average: Average,
    *,
    of_spans: bool,
) -> Loading:
    shape = rows.x.shape
    return _LOADINGS[rows.surface](
        _Where(
            craft=craft,
            rows=PressureRows(
                of_spans=of_spans,
                surface=rows.surface,
                width=width,
                length=length,
                x=rows.x,
                deadrise=rows.deadrise,
                height=np.broadcast_to(rows.height, shape),
                head=np.broadcast_to(rows.head, shape),
            ),
            average=average,
        )
    )


def _said(craft: CraftRow, average: Average) -> tuple[Remark, ...]:
    trim = f"running trim not given: {math.degrees(ASSUMED_TRIM):g} deg, our own choice"
    return (
        Remark(
            f"the acceleration is the average {average.words}: a choice; "
            f"of the highest 1/{Average.HUNDREDTH.value} it is "
            f"{(1 + math.log(Average.HUNDREDTH.value)) / (1 + math.log(average.value)):.2f} times as great"
        ),
        Remark(_AT_SPEED),
        *((Remark(trim),) if math.isnan(craft.trim) else ()),
    )


def _bottom(where: _Where) -> Loading:
    craft = where.craft
    if math.isnan(craft.wave_height):
        return Loading(P=where.none, missing=_NO_WAVE)
    n_N = acceleration(craft, where.average)
    said = _said(craft, where.average)
    if math.isnan(craft.draught):
        G_H = pressures.half_girth(B_C=craft.BC, beta_04=craft.beta_04)
        greatest = pressures.effective_pressure(m_LDC=craft.m_LDC, n_N=n_N, L_WL=craft.LWL, G_H=G_H)
        everywhere = traced(np.full_like(where.none, float(greatest)), greatest)
        return Loading(P=everywhere, remarks=(Remark(_HELLER), *said))
    A_R = pressures.reference_area(m_LDC=craft.m_LDC, T=craft.draught)
    P = pressures.impact_pressure(
        n_N=n_N,
        m_LDC=craft.m_LDC,
        A_R=A_R,
        K_D=pressures.area_factor(A_D=where.area(), A_R=A_R),
        F_L=pressures.length_factor(),
    )
    return Loading(P=P, remarks=(Remark(_ALLEN), *said))


def _side(where: _Where) -> Loading:
    wet = where.rows.height < 0
    bottom = _bottom(where)
    lacking = (
        Remark(bottom.missing, wet) if bottom.missing else None,
        Remark("the height of its middle above the waterline is not given", np.isnan(where.rows.height)),
        Remark(_FREE, where.rows.height >= 0),
    )
    return Loading(
        P=traced(np.where(wet, bottom.P, np.nan), bottom.P),
        remarks=(
            Remark("its middle lies below the waterline: the bottom's pressure counts"),
            *bottom.remarks,
        ),
        lacking=tuple(one for one in lacking if one is not None),
    )


def _deck(where: _Where) -> Loading:
    return Loading(P=where.none, missing=_FREE)


def _bulkhead(where: _Where) -> Loading:
    return Loading(
        P=pressures.static_pressure(h_B=where.rows.head, rho_w=savitsky_brown.SEA_WATER),
        remarks=(Remark("flooded to the head declared, at rest"),),
        lacking=(Remark("the head of water it is to hold is not given", np.isnan(where.rows.head)),),
    )


def _tank(where: _Where) -> Loading:
    craft = where.craft
    if math.isnan(craft.wave_height):
        return Loading(P=where.none, missing=_NO_WAVE)
    n_N = acceleration(craft, where.average)
    return Loading(
        P=pressures.tank_pressure(h_B=where.rows.head, rho_w=savitsky_brown.SEA_WATER, n_N=n_N),
        remarks=(
            Remark(
                "the head declared, as heavy as the landing makes it; sea water, heavier than what is held"
            ),
            *_said(craft, where.average),
        ),
        lacking=(Remark("the head of water it is to hold is not given", np.isnan(where.rows.head)),),
    )


_LOADINGS: Mapping[Surface, Callable[[_Where], Loading]] = {
    Surface.BOTTOM: _bottom,
    Surface.SIDE: _side,
    Surface.DECK: _deck,
    Surface.BULKHEAD: _bulkhead,
    Surface.TANK: _tank,
}
