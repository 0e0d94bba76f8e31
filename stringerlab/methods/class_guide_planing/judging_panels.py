"""Bottom panels judged: single skin by strength, by stiffness and ply by ply; sandwich by skins and core."""

import numpy as np

from stringerlab.methods.class_guide_planing import scantlings
from stringerlab.methods.class_guide_planing.loading import panel_loading
from stringerlab.methods.governing import first_ply
from stringerlab.methods.iso_12215_5_2008 import panels, stacks
from stringerlab.methods.records import Aspect, CraftRow, Governing, Judged, PanelRows, Remark, SandwichRows
from stringerlab.methods.unjudged import left_open
from stringerlab.units import unit_named
from stringerlab.workings import Array

_PLATE = Remark(
    "aspect ratio factors of clamped plates: the guide's table as remembered is that of ISO 12215-5, "
    "whose fit is used"
)
_LEAST = Remark("the guide's least thickness whatever the pressure is not judged here")
_PLY = Remark(
    "ply by ply: our own reading of the guide's moment and design fraction, "
    "with both signs held to the edge moment"
)
_BOTH_SIGNS = Remark("both signs are held to the edge moment: our conservative reading")
_CORE = Remark(
    "the guide's own fraction and aspect ratio factor for core shear are not known for sure: its 0.33, and a "
    "long panel's shear"
)
_LEFT_OPEN = {
    Aspect.CORE_STRENGTH: "the guide's least core strength is not known here",
    Aspect.SKIN_WRINKLING: "the guide's wrinkling clause is not known here: read another method's",
}


@np.errstate(divide="ignore", invalid="ignore")
def judge_panels(craft: CraftRow, rows: PanelRows) -> tuple[Judged, ...]:
    """Judge single-skin panels; those of other surfaces than the bottom are not judged.

    Parameters
    ----------
    craft
        The craft.
    rows
        The panels, n rows.
    """
    loading = panel_loading(craft, rows)
    r = panels.aspect_ratio(l=rows.l, b=rows.b)
    k_2 = panels.k_2(r=r)
    k_C = scantlings.curvature_factor(c=rows.camber, b=rows.b)
    P = loading.P
    remarks = (*loading.remarks, _PLATE)
    strength = Judged(
        aspect=Aspect.THICKNESS,
        demand=scantlings.strength_thickness(
            b=rows.b, k_C=k_C, P=P, k_2=k_2, sigma_d=scantlings.design_stress(sigma_u=rows.sigma_uf)
        ),
        capacity=rows.t,
        unit=unit_named("mm"),
        power=2,
        source=scantlings.strength_thickness.source,
        marks=rows.sigma_uf_marks,
        remarks=(*remarks, _LEAST, *rows.sigma_uf_remarks),
        missing=loading.missing
        or "no flexural strength is known for this laminate: read its ply strength instead",
    )
    first = first_ply(rows.plies)
    stiffness = Judged(
        aspect=Aspect.STIFFNESS,
        demand=scantlings.stiffness_thickness(
            b=rows.b,
            k_C=k_C,
            P=P,
            k_3=panels.k_3(r=r),
            E_F=scantlings.flexural_modulus(EI=first.EI, t=rows.t),
        ),
        capacity=rows.t,
        unit=unit_named("mm"),
        power=3,
        source=scantlings.stiffness_thickness.source,
        marks=rows.plies.marks,
        remarks=remarks,
        missing=loading.missing or "a ply's modulus is missing",
    )
    M_d = scantlings.edge_moment(b=rows.b, k_C=k_C, P=P, k_2=k_2)
    ply = Judged(
        aspect=Aspect.PLY_STRENGTH,
        demand=stacks.bending_stress(E=first.E, M_d=M_d, d=first.distance, EI=first.EI),
        capacity=scantlings.design_stress(sigma_u=first.strength),
        unit=unit_named("MPa"),
        power=1,
        source=scantlings.edge_moment.source,
        marks=rows.plies.marks,
        remarks=(*remarks, _PLY, *rows.plies.remarks),
        missing=loading.missing or "a ply's modulus or strength is missing",
        governing=first.governing,
    )
    return strength, stiffness, ply


@np.errstate(divide="ignore", invalid="ignore")
def judge_sandwiches(craft: CraftRow, rows: SandwichRows) -> tuple[Judged, ...]:
    """Judge sandwich panels; those of other surfaces than the bottom are not judged.

    Parameters
    ----------
    craft
        The craft.
    rows
        The panels, n rows.
    """
    loading = panel_loading(craft, rows)
    b, P = rows.b, loading.P
    r = panels.aspect_ratio(l=rows.l, b=b)
    k_2 = panels.k_2(r=r)
    k_C = scantlings.curvature_factor(c=rows.camber, b=b)
    skins = {"E_o": rows.E_o, "t_o": rows.t_o, "E_i": rows.E_i, "t_i": rows.t_i, "t_c": rows.t_c}
    d_o = stacks.sandwich_neutral_axis(**skins)
    d_i = stacks.inner_distance(t_o=rows.t_o, t_c=rows.t_c, t_i=rows.t_i, z_na=d_o)
    EI = stacks.sandwich_stiffness(**skins, z_na=d_o)
    remarks = (*loading.remarks, _PLATE)

    def skin(aspect: Aspect, E: Array, d: Array, tension: Array, compression: Array) -> Judged:
        sigma_d = scantlings.design_stress(sigma_u=np.minimum(tension, compression))
        return Judged(
            aspect=aspect,
            demand=scantlings.sandwich_modulus(b=b, k_C=k_C, P=P, k_2=k_2, sigma_d=sigma_d),
            capacity=stacks.modulus_at_face(EI=EI, E=E, d=d),
            unit=unit_named("cm³/cm"),
            power=1,
            source=scantlings.sandwich_modulus.source,
            marks=rows.skin_marks,
            remarks=(*remarks, _BOTH_SIGNS, *rows.skin_remarks),
            missing=loading.missing or "a skin's modulus or strength is missing",
            governing=Governing(
                index=np.zeros(len(b), np.intp),
                names=(("the first ply to fail",),),
                texts=("{}, in tension", "{}, in compression"),
                text=(compression < tension).astype(np.intp),
            ),
        )

    E_io = panels.mean_skin_modulus(E_o=rows.E_o, E_i=rows.E_i)
    stiffness = Judged(
        aspect=Aspect.STIFFNESS,
        demand=scantlings.sandwich_second_moment(b=b, k_C=k_C, P=P, k_3=panels.k_3(r=r), E_io=E_io),
        capacity=stacks.second_moment(EI=EI, E_io=E_io),
        unit=unit_named("cm⁴/cm"),
        power=1,
        source=scantlings.sandwich_second_moment.source,
        marks=rows.skin_marks,
        remarks=remarks,
        missing=loading.missing or "a skin's modulus is missing",
    )
    core = Judged(
        aspect=Aspect.CORE_SHEAR,
        demand=scantlings.core_shear_thickness(
            P=P, b=b, tau_d=scantlings.design_shear_stress(tau_u=rows.tau_c)
        ),
        capacity=panels.skin_distance(t_c=rows.t_c, t_o=rows.t_o, t_i=rows.t_i),
        unit=unit_named("mm"),
        power=1,
        source=scantlings.core_shear_thickness.source,
        marks=rows.core_marks,
        remarks=(*loading.remarks, _CORE),
        missing=loading.missing or "the core's shear strength is missing",
    )
    return (
        skin(Aspect.OUTER_SKIN, rows.E_o, d_o, rows.sigma_ut_o, rows.sigma_uc_o),
        skin(Aspect.INNER_SKIN, rows.E_i, d_i, rows.sigma_ut_i, rows.sigma_uc_i),
        stiffness,
        core,
        *left_open(_LEFT_OPEN, len(b)),
    )
