"""From craft to the bottom pressure, and what must be said of it and of the fractions."""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from stringerlab.layout.records import Surface
from stringerlab.methods.class_limits import pressures
from stringerlab.methods.pressed import PressureRows
from stringerlab.methods.records import CraftRow, Remark
from stringerlab.workings import Array, traced


class Service(StrEnum):
    """Which of the two limiting fractions counts: what service each is for is not known here."""

    HEAVIER = "heavier service"
    LIGHTER = "lighter service"

    @property
    def heavy(self) -> float:
        """1 for the heavier one, else 0."""
        return float(self is Service.HEAVIER)


SERVICE = Service.HEAVIER
"""The fractions used unless others are asked for: the conservative ones."""

PLAIN = Remark(
    "the rules' own ply moduli, apart in tension and compression, are not used: plain moduli, one for both"
)
_AT_SPEED = Remark(
    "the wave height counts at the greatest speed: where speed is lessened in waves, this asks too much"
)
_FROM_MEMORY = Remark(
    "the pressure is from weak memory: impact by support girth and vertical acceleration; the waterline beam "
    "is read as the chine beam; the distribution along the length and every factor for service, craft type "
    "and kind of member are taken as 1"
)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Loading:
    """Design pressure row by row [MPa], nan where there is none, why, and its remarks."""

    P: Array
    remarks: tuple[Remark, ...] = ()
    missing: str = ""


def loading(craft: CraftRow, surface: Surface, rows: int, service: Service) -> Loading:
    """Return the design pressure of so many panels or spans of a surface."""
    pressure = _PRESSURES.get(surface)
    if pressure is None:
        return Loading(
            P=np.full(rows, np.nan),
            missing=f"this form, as far as it is known here, has no {surface.value} pressure",
        )
    if math.isnan(craft.wave_height):
        return Loading(
            P=np.full(rows, np.nan),
            missing="the craft's significant wave height is not given, and this form has no least of its own",
        )
    P, said = pressure(craft)
    chosen = Remark(f"limiting fractions of {service.value}: a choice, the conservative one by default")
    return Loading(
        P=traced(np.full(rows, P), P),
        remarks=(_FROM_MEMORY, _AT_SPEED, *(Remark(text) for text in said), chosen, PLAIN),
    )


def design_pressure(craft: CraftRow, rows: PressureRows) -> Array:
    """Return the design pressure on panels or spans [MPa], nan where there is none."""
    return loading(craft, rows.surface, len(rows.x), SERVICE).P


def _bottom(craft: CraftRow) -> tuple[Array, tuple[str, ...]]:
    """Return the bottom's impact pressure, and what was assumed for it."""
    given = not math.isnan(craft.trim)
    theta_r = pressures.running_trim(theta_given=craft.trim) if given else pressures.least_trim()
    a_v = pressures.acceleration(
        theta_r=theta_r,
        L_1=pressures.loading_parameter(L_WL=craft.LWL, B_C=craft.BC, m_LDC=craft.m_LDC),
        H_s=craft.wave_height,
        B_C=craft.BC,
        beta_04=craft.beta_04,
        Gamma=pressures.speed_length_ratio(V=craft.V, L_WL=craft.LWL),
    )
    P = pressures.impact_pressure(
        m_LDC=craft.m_LDC,
        a_v=a_v,
        L_WL=craft.LWL,
        G_S=pressures.support_girth(B_C=craft.BC, beta_04=craft.beta_04),
    )
    return P, () if given else ("running trim not given: the rules' least, 3 deg",)


_PRESSURES: Mapping[Surface, Callable[[CraftRow], tuple[Array, tuple[str, ...]]]] = {Surface.BOTTOM: _bottom}
