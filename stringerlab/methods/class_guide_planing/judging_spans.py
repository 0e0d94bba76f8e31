"""Internals of the bottom judged: modulus at every ply, web area, proportions; stiffness left open."""

import numpy as np

from stringerlab.methods.class_guide_planing import scantlings
from stringerlab.methods.class_guide_planing.loading import stiffener_loading
from stringerlab.methods.governing import first_fibre
from stringerlab.methods.iso_12215_5_2008 import stiffeners
from stringerlab.methods.records import Aspect, CraftRow, Judged, PlatingRows, Remark, SpanRows
from stringerlab.methods.unjudged import bond_and_ends, end_remarks, left_open
from stringerlab.units import unit_named
from stringerlab.workings import Array, traced

_PROPORTION = Remark("a proportion, not a load")
_BOTH_SIGNS = Remark(
    "every ply is held to the weaker of tension and compression: "
    "the crown is in tension at mid-span and in compression at the supports"
)
_SHEAR = Remark(
    "the guide's own shear clause is not known for sure: its 0.33 held against mean shear over thickness "
    "normal to the web × vertical height"
)
_CURVED = Remark("the span's camber is left out: conservative")
_STIFFNESS = {Aspect.STIFFNESS: "the deflection the guide allows internals is not known here"}


def counted_plating(rows: PlatingRows) -> Array:
    """Return the width of plating that counts under each span [mm], capped at the spacing."""
    return scantlings.counted_plating(t=rows.t, b_base=rows.base_width, s=rows.s)


@np.errstate(divide="ignore", invalid="ignore")
def judge_spans(craft: CraftRow, rows: SpanRows) -> tuple[Judged, ...]:
    """Judge internals; those of other surfaces than the bottom are not judged for strength.

    Parameters
    ----------
    craft
        The craft.
    rows
        The spans, n rows.
    """
    loading = stiffener_loading(craft, rows)
    load = {"P": loading.P, "s": rows.s, "l_u": rows.lu}
    remarks = (*loading.remarks, *end_remarks(rows), Remark(_CURVED.text, rows.camber > 0))
    first = first_fibre(rows)
    SM_0 = scantlings.held_modulus(**load, sigma_d=scantlings.design_stress(sigma_u=first.strength))
    modulus = Judged(
        aspect=Aspect.MODULUS,
        demand=stiffeners.required_modulus(f_M=rows.moment_factor, SM_0=SM_0),
        capacity=stiffeners.modulus_at(EI=first.EI, E=first.E, z=first.distance),
        unit=unit_named("cm³"),
        power=1,
        source=scantlings.held_modulus.source,
        marks=rows.fibre_marks,
        remarks=(*remarks, _BOTH_SIGNS, *rows.fibre_remarks),
        missing=loading.missing or "a ply's modulus or strength is missing, or the ends leave a mechanism",
        governing=first.governing,
    )
    A_W0 = scantlings.held_web_area(**load, tau_d=scantlings.design_shear_stress(tau_u=rows.web_tau))
    web_area = Judged(
        aspect=Aspect.WEB_AREA,
        demand=stiffeners.required_web_area(f_Q=rows.shear_factor, A_W0=A_W0),
        capacity=rows.web_area,
        unit=unit_named("cm²"),
        power=1,
        source=scantlings.held_web_area.source,
        marks=rows.web_marks,
        remarks=(*remarks, _SHEAR, *rows.web_remarks),
        missing=loading.missing
        or "the web's shear strength is missing, there is no web, or the ends leave a mechanism",
    )
    web = Judged(
        aspect=Aspect.WEB_SLENDERNESS,
        demand=stiffeners.proportion(d=rows.web_depth, t=rows.web_thickness),
        capacity=scantlings.web_limit(),
        unit=unit_named(""),
        power=1,
        source=scantlings.web_limit.source,
        remarks=(_PROPORTION,),
        missing="there is no web",
    )
    limit = scantlings.crown_limit()
    crown = Judged(
        aspect=Aspect.CROWN_SLENDERNESS,
        demand=stiffeners.proportion(d=rows.crown_width, t=rows.crown_thickness),
        capacity=traced(np.where(rows.free_edge, np.nan, limit), limit),
        unit=unit_named(""),
        power=1,
        source=scantlings.crown_limit.source,
        remarks=(_PROPORTION,),
        missing="the guide's limit for a flange with a free edge is not known here",
        applies=~np.isnan(rows.crown_width),
    )
    return modulus, web_area, *left_open(_STIFFNESS, len(rows.lu)), web, crown, *bond_and_ends(rows)
