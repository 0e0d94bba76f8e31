"""Panels judged as clamped plates: single skins by ply and deflection, sandwiches by skins and core."""

from functools import partial

import numpy as np

from stringerlab.methods.first_principles import scantlings
from stringerlab.methods.first_principles.loading import Loading, panel_loading
from stringerlab.methods.first_principles.source import AVERAGE, FACTORS, LIMITS, Average
from stringerlab.methods.governing import first_ply
from stringerlab.methods.iso_12215_5_2008 import panels, stacks
from stringerlab.methods.records import (
    Aspect,
    CraftRow,
    Governing,
    Judged,
    Marks,
    PanelRows,
    Remark,
    SandwichRows,
)
from stringerlab.units import unit_named
from stringerlab.workings import Array, Source

_PLATE = Remark(
    "clamped isotropic plate: its aspect ratio factors are ISO 12215-5's fits, six times the clamped plate's "
    "moment and 12 (1 − 0.3²) times its deflection; the mechanics judge the plate as it is laid up"
)
_FLAT = "the panel's camber is left out, which asks for no less"
_BOTH_SIGNS = Remark("both signs are held to the edge moment: the worst of plate and restraint")
_PLY = Remark(f"first-ply failure over {FACTORS.ply:g}, our own factor of safety")
_DEFLECTION = Remark(f"deflection to {LIMITS.panel:g} of the short side: our own limit")
_CORE = Remark(f"the core's shear strength over {FACTORS.core:g}; a long panel's shear, at any aspect ratio")
_WRINKLES = Remark(f"wrinkling over {FACTORS.wrinkling:g}, our own factor of safety")


@np.errstate(divide="ignore", invalid="ignore")
def judge_panels(craft: CraftRow, rows: PanelRows, average: Average = AVERAGE) -> tuple[Judged, ...]:
    """Judge single-skin panels of one surface.

    Parameters
    ----------
    craft
        The craft.
    rows
        The panels, n rows.
    average
        Which average of impacts the acceleration is.
    """
    loading = panel_loading(craft, rows, average)
    r = panels.aspect_ratio(l=rows.l, b=rows.b)
    M_d = scantlings.edge_moment(P=loading.P, k_2=panels.k_2(r=r), b=rows.b)
    first = first_ply(rows.plies)
    judged = partial(_judged, loading, (*loading.remarks, _PLATE, Remark(_FLAT, rows.camber > 0)))
    strength = judged(
        Aspect.PLY_STRENGTH,
        stacks.bending_stress(E=first.E, M_d=M_d, d=first.distance, EI=first.EI),
        scantlings.design_stress(sigma_u=first.strength, gamma_s=FACTORS.ply),
        "MPa",
        scantlings.edge_moment.source,
        marks=rows.plies.marks,
        more=(_PLY, _BOTH_SIGNS, *rows.plies.remarks),
        missing="a ply's modulus or strength is missing",
        governing=first.governing,
    )
    stiffness = judged(
        Aspect.STIFFNESS,
        scantlings.panel_deflection(P=loading.P, k_3=panels.k_3(r=r), b=rows.b, EI=first.EI),
        scantlings.allowed_deflection(n_w=LIMITS.panel, b=rows.b),
        "mm",
        scantlings.panel_deflection.source,
        marks=rows.plies.marks,
        more=(_DEFLECTION,),
        missing="a ply's modulus is missing",
    )
    return strength, stiffness


@np.errstate(divide="ignore", invalid="ignore")
def judge_sandwiches(craft: CraftRow, rows: SandwichRows, average: Average = AVERAGE) -> tuple[Judged, ...]:
    """Judge sandwich panels of one surface; as for single skins."""
    loading = panel_loading(craft, rows, average)
    r = panels.aspect_ratio(l=rows.l, b=rows.b)
    M_d = scantlings.edge_moment(P=loading.P, k_2=panels.k_2(r=r), b=rows.b)
    skins = {"E_o": rows.E_o, "t_o": rows.t_o, "E_i": rows.E_i, "t_i": rows.t_i, "t_c": rows.t_c}
    d_o = stacks.sandwich_neutral_axis(**skins)
    d_i = stacks.inner_distance(t_o=rows.t_o, t_c=rows.t_c, t_i=rows.t_i, z_na=d_o)
    EI = stacks.sandwich_stiffness(**skins, z_na=d_o)
    E_io = panels.mean_skin_modulus(E_o=rows.E_o, E_i=rows.E_i)
    judged = partial(_judged, loading, (*loading.remarks, _PLATE, Remark(_FLAT, rows.camber > 0)))

    def skin(aspect: Aspect, E: Array, d: Array, tension: Array, compression: Array) -> Judged:
        sigma_d = scantlings.design_stress(sigma_u=np.minimum(tension, compression), gamma_s=FACTORS.ply)
        return judged(
            aspect,
            scantlings.skin_modulus(M_d=M_d, sigma_d=sigma_d),
            stacks.modulus_at_face(EI=EI, E=E, d=d),
            "cm³/cm",
            scantlings.skin_modulus.source,
            marks=rows.skin_marks,
            more=(_PLY, _BOTH_SIGNS, *rows.skin_remarks),
            missing="a skin's modulus or strength is missing",
            governing=Governing(
                index=np.zeros(len(rows.b), np.intp),
                names=(("the first ply to fail",),),
                texts=("{}, in tension", "{}, in compression"),
                text=(compression < tension).astype(np.intp),
            ),
        )

    inner_first = np.abs(d_i) * np.cbrt(rows.E_i) ** 2 > np.abs(d_o) * np.cbrt(rows.E_o) ** 2
    weaker = inner_first.astype(np.intp)
    E_w, d_w = (np.where(weaker == 0, o, i) for o, i in ((rows.E_o, rows.E_i), (d_o, d_i)))
    sigma = stacks.bending_stress(E=E_w, M_d=M_d, d=d_w, EI=EI)
    sigma_w = scantlings.wrinkling_stress(E=E_w, E_c=rows.E_c, G_c=rows.G_c)
    stiffness = judged(
        Aspect.STIFFNESS,
        scantlings.required_second_moment(
            P=loading.P, k_3=panels.k_3(r=r), b=rows.b, E_io=E_io, n_w=LIMITS.panel
        ),
        stacks.second_moment(EI=EI, E_io=E_io),
        "cm⁴/cm",
        scantlings.required_second_moment.source,
        marks=rows.skin_marks,
        more=(_DEFLECTION, Remark("the core's shear deflection is left out: the mechanics count it")),
        missing="a skin's modulus is missing",
    )
    core = judged(
        Aspect.CORE_SHEAR,
        scantlings.core_distance(
            F_d=scantlings.edge_shear(P=loading.P, b=rows.b),
            tau_d=scantlings.design_shear(tau_u=rows.tau_c, gamma_s=FACTORS.core),
        ),
        panels.skin_distance(t_c=rows.t_c, t_o=rows.t_o, t_i=rows.t_i),
        "mm",
        scantlings.core_distance.source,
        marks=rows.core_marks,
        more=(_CORE,),
        missing="the core's shear strength is missing",
    )
    wrinkling = judged(
        Aspect.SKIN_WRINKLING,
        sigma,
        scantlings.design_stress(sigma_u=sigma_w, gamma_s=FACTORS.wrinkling),
        "MPa",
        scantlings.wrinkling_stress.source,
        marks=np.maximum(rows.skin_marks, rows.core_marks),
        more=(_WRINKLES,),
        missing="a modulus of skin or core is missing",
        governing=Governing(index=weaker, names=(("the outer skin", "the inner skin"),)),
    )
    outer = skin(Aspect.OUTER_SKIN, rows.E_o, d_o, rows.sigma_ut_o, rows.sigma_uc_o)
    inner = skin(Aspect.INNER_SKIN, rows.E_i, d_i, rows.sigma_ut_i, rows.sigma_uc_i)
    return outer, inner, stiffness, core, wrinkling


def _judged(
    loading: Loading,
    remarks: tuple[Remark, ...],
    aspect: Aspect,
    demand: Array,
    capacity: Array,
    unit: str,
    source: Source,
    *,
    marks: Marks,
    more: tuple[Remark, ...],
    missing: str,
    governing: Governing | None = None,
) -> Judged:
    return Judged(
        aspect=aspect,
        demand=demand,
        capacity=capacity,
        unit=unit_named(unit),
        power=1,
        source=source,
        marks=marks,
        remarks=(*remarks, *more),
        missing=loading.missing or missing,
        lacking=loading.lacking,
        governing=governing,
    )
