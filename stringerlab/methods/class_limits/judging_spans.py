"""Stiffeners of the bottom judged: every ply against its limiting fraction, web area; the rest left open."""

import numpy as np

from stringerlab.methods.class_limits import limits
from stringerlab.methods.class_limits.loading import SERVICE, Service, loading
from stringerlab.methods.governing import first_fibre
from stringerlab.methods.iso_12215_5_2008 import stiffeners
from stringerlab.methods.records import Aspect, CraftRow, Judged, PlatingRows, Remark, SpanRows
from stringerlab.methods.unjudged import bond_and_ends, end_remarks, left_open
from stringerlab.units import unit_named
from stringerlab.workings import Array

_STRESS = Remark(
    "the limiting stress of each ply, the weaker of tension and compression, put as the modulus it asks for"
)
_SHEAR = Remark(
    "the rules' own fraction for shear is not known here: that of direct stress is held against mean shear "
    "over thickness normal to the web × vertical height"
)
_LEFT_OPEN = {
    Aspect.STIFFNESS: "the rules' limit of a stiffener's deflection is not known here",
    Aspect.WEB_SLENDERNESS: "the rules' proportions of webs are not known here",
    Aspect.CROWN_SLENDERNESS: "the rules' proportions of crowns are not known here",
}


def counted_plating(rows: PlatingRows) -> Array:
    """Return the width of plating that counts under each span [mm], capped at the spacing."""
    return limits.counted_plating(t=rows.t, b_base=rows.base_width, s=rows.s)


@np.errstate(divide="ignore", invalid="ignore")
def judge_spans(craft: CraftRow, rows: SpanRows, service: Service = SERVICE) -> tuple[Judged, ...]:
    """Judge stiffeners; those of other surfaces than the bottom are not judged.

    Parameters
    ----------
    craft
        The craft.
    rows
        The spans, n rows.
    service
        Which limiting fractions count.
    """
    loaded = loading(craft, rows.surface, len(rows.lu), service)
    load = {"P": loaded.P, "s": rows.s, "l_u": rows.lu}
    camber = Remark("the span's camber is left out: conservative", rows.camber > 0)
    remarks = (*loaded.remarks, *end_remarks(rows), camber)
    f_lim = limits.stiffening_fraction(heavy=service.heavy)
    first = first_fibre(rows)
    SM_0 = limits.held_modulus(**load, sigma_d=limits.limiting_stress(f_lim=f_lim, sigma_u=first.strength))
    modulus = Judged(
        aspect=Aspect.MODULUS,
        demand=stiffeners.required_modulus(f_M=rows.moment_factor, SM_0=SM_0),
        capacity=stiffeners.modulus_at(EI=first.EI, E=first.E, z=first.distance),
        unit=unit_named("cm³"),
        power=1,
        source=limits.stiffening_fraction.source,
        marks=rows.fibre_marks,
        remarks=(*remarks, _STRESS, *rows.fibre_remarks),
        missing=loaded.missing or "a ply's modulus or strength is missing, or the ends leave a mechanism",
        governing=first.governing,
    )
    A_W0 = limits.held_web_area(**load, tau_d=limits.limiting_shear(f_lim=f_lim, tau_u=rows.web_tau))
    web_area = Judged(
        aspect=Aspect.WEB_AREA,
        demand=stiffeners.required_web_area(f_Q=rows.shear_factor, A_W0=A_W0),
        capacity=rows.web_area,
        unit=unit_named("cm²"),
        power=1,
        source=limits.held_web_area.source,
        marks=rows.web_marks,
        remarks=(*remarks, _SHEAR, *rows.web_remarks),
        missing=loaded.missing
        or "the web's shear strength is missing, there is no web, or the ends leave a mechanism",
    )
    return modulus, web_area, *left_open(_LEFT_OPEN, len(rows.lu)), *bond_and_ends(rows)
