"""Stiffeners judged: modulus at every ply, web area, stiffness, proportions; not bond nor dying ends."""

import numpy as np

from stringerlab.methods.iso_12215_5_2008 import stiffeners
from stringerlab.methods.iso_12215_5_2008.form import FORM, SWITCH, Form, Switch
from stringerlab.methods.iso_12215_5_2008.loading import stiffener_loading
from stringerlab.methods.iso_12215_5_2008.strengths import ultimate, ultimate_shear_strength
from stringerlab.methods.iso_12215_5_2008.worst import chosen, of_row, worst_of
from stringerlab.methods.records import Aspect, CraftRow, Governing, Judged, PlatingRows, Remark, SpanRows
from stringerlab.methods.unjudged import bond_and_ends
from stringerlab.units import unit_named
from stringerlab.workings import Array

_PROPORTION = Remark("a proportion, not a load")
_BOTH_SIGNS = Remark(
    "every ply is held to the weaker of tension and compression: "
    "the crown is in tension at mid-span and in compression at the supports"
)


def counted_plating(rows: PlatingRows) -> Array:
    """Return the width of plating that counts under each span [mm], capped at the spacing."""
    return stiffeners.counted_plating(t=rows.t, b_base=rows.base_width, s=rows.s)


@np.errstate(divide="ignore", invalid="ignore")
def judge_spans(
    craft: CraftRow, rows: SpanRows, switch: Switch = SWITCH, form: Form = FORM
) -> tuple[Judged, ...]:
    """Judge stiffeners of one surface.

    Parameters
    ----------
    craft
        The craft.
    rows
        The spans, n rows.
    switch
        How the dynamic load factor is read above 3.
    form
        The edition's own formulas.
    """
    loading = stiffener_loading(
        craft,
        x=rows.x,
        lu=rows.lu,
        s=rows.s,
        surface=rows.surface,
        height=rows.height,
        head=rows.head,
        switch=switch,
        form=form,
    )
    load = {"P": loading.P, "s": rows.s, "l_u": rows.lu}
    k_CS = form.stiffener_curvature_factor(rows.camber, rows.lu)
    said = form.said
    remarks = (
        *loading.remarks,
        *said.requirement,
        *said.of_curvature(rows.camber),
        Remark("an end is not held: our own factor on the standard's form", rows.moment_factor != 1),
        Remark("a free end with no held one is a mechanism", np.isnan(rows.moment_factor)),
    )

    weaker = np.minimum(rows.fibre_tension, rows.fibre_compression)
    severity = rows.fibre_E / weaker * np.abs(rows.fibre_z)
    fibre = worst_of(severity, np.isnan(rows.fibre_E) | (rows.fibre_E == 0))
    sigma_u = ultimate(of_row(weaker, fibre), chosen(rows.fibre_factor, fibre))
    SM_0 = stiffeners.held_modulus(k_CS=k_CS, **load, sigma_d=form.design_stress(sigma_u))
    modulus = Judged(
        aspect=Aspect.MODULUS,
        demand=stiffeners.required_modulus(f_M=rows.moment_factor, SM_0=SM_0),
        capacity=stiffeners.modulus_at(
            EI=rows.EI, E=of_row(rows.fibre_E, fibre), z=of_row(rows.fibre_z, fibre)
        ),
        unit=unit_named("cm³"),
        power=1,
        source=stiffeners.held_modulus.source,
        marks=rows.fibre_marks,
        remarks=(*remarks, *said.stress, _BOTH_SIGNS, *rows.fibre_remarks),
        lacking=loading.lacking,
        missing="a ply's modulus or strength is missing, or the ends leave a mechanism",
        governing=Governing(
            index=fibre,
            names=rows.fibre_names,
            texts=("{}, in tension", "{}, in compression"),
            text=(of_row(rows.fibre_compression, fibre) < of_row(rows.fibre_tension, fibre)).astype(np.intp),
        ),
    )
    A_W0 = stiffeners.held_web_area(
        k_SA=stiffeners.shear_area_factor(attached=rows.attached),
        **load,
        tau_d=form.design_shear_stress(ultimate(rows.web_tau, rows.web_factor, ultimate_shear_strength)),
    )
    A_W = stiffeners.required_web_area(f_Q=rows.shear_factor, A_W0=A_W0)
    web_area = Judged(
        aspect=Aspect.WEB_AREA,
        demand=A_W,
        capacity=rows.web_area,
        unit=unit_named("cm²"),
        power=1,
        source=stiffeners.held_web_area.source,
        marks=rows.web_marks,
        remarks=(
            *remarks,
            *said.stress,
            Remark("mean shear over thickness normal to the web × vertical height"),
            *rows.web_remarks,
        ),
        lacking=loading.lacking,
        missing="the web's shear strength is missing, there is no web, or the ends leave a mechanism",
    )
    stiffness = Judged(
        aspect=Aspect.STIFFNESS,
        demand=stiffeners.required_stiffness(
            f_w=rows.deflection_factor, EI_0=stiffeners.held_stiffness(k_CS=k_CS, **load)
        ),
        capacity=rows.EI,
        unit=unit_named("cm⁴·MPa"),
        power=1,
        source=stiffeners.held_stiffness.source,
        marks=rows.fibre_marks,
        remarks=remarks,
        lacking=loading.lacking,
        missing="a ply's modulus is missing, or the ends leave a mechanism",
    )
    web = Judged(
        aspect=Aspect.WEB_SLENDERNESS,
        demand=stiffeners.proportion(d=rows.web_depth, t=rows.web_thickness),
        capacity=stiffeners.web_limit(A_W=rows.web_area, A_W_req=A_W),
        unit=unit_named(""),
        power=1,
        source=stiffeners.web_limit.source,
        marks=rows.web_marks,
        remarks=(_PROPORTION, *said.minimum, *rows.web_remarks),
        lacking=loading.lacking,
        missing="the web's shear strength is missing, there is no web, or the ends leave a mechanism",
    )
    crown = Judged(
        aspect=Aspect.CROWN_SLENDERNESS,
        demand=stiffeners.proportion(d=rows.crown_width, t=rows.crown_thickness),
        capacity=stiffeners.crown_limit(free=rows.free_edge),
        unit=unit_named(""),
        power=1,
        source=stiffeners.crown_limit.source,
        remarks=(_PROPORTION, *said.minimum),
        applies=~np.isnan(rows.crown_width),
    )
    return (modulus, web_area, stiffness, web, crown, *bond_and_ends(rows))
