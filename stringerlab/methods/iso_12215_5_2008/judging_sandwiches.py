"""Sandwich panels judged: both skins, stiffness, core shear and strength, wrinkling, dry fibre mass."""

import numpy as np

from stringerlab.methods.iso_12215_5_2008 import dry_mass, panels, stacks
from stringerlab.methods.iso_12215_5_2008.judging_panels import BOTH_SIGNS
from stringerlab.methods.iso_12215_5_2008.loading import SWITCH, Switch, category_factor, panel_loading
from stringerlab.methods.records import Aspect, CraftRow, Governing, Judged, Mask, Remark, SandwichRows
from stringerlab.units import unit_named
from stringerlab.workings import Array, traced

_SKINS = (("outer skin", "inner skin"),)


@np.errstate(divide="ignore", invalid="ignore")
def judge_sandwiches(craft: CraftRow, rows: SandwichRows, switch: Switch = SWITCH) -> tuple[Judged, ...]:
    """Judge sandwich bottom panels; the core's own modulus is left out of the stiffness.

    Parameters
    ----------
    craft
        The craft.
    rows
        The panels, n rows.
    switch
        How the dynamic load factor is read above 3.
    """
    loading = panel_loading(craft, x=rows.x, b=rows.b, l=rows.l, sandwich=True, switch=switch)
    b, P = rows.b, loading.P
    r = panels.aspect_ratio(l=rows.l, b=b)
    k_2 = panels.k_2(r=r)
    k_C = panels.curvature_factor(c=rows.camber, b=b)
    skins = {"E_o": rows.E_o, "t_o": rows.t_o, "E_i": rows.E_i, "t_i": rows.t_i, "t_c": rows.t_c}
    d_o = stacks.sandwich_neutral_axis(**skins)
    EI = stacks.sandwich_stiffness(**skins, z_na=d_o)
    d_i = stacks.inner_distance(t_o=rows.t_o, t_c=rows.t_c, t_i=rows.t_i, z_na=d_o)

    def skin(aspect: Aspect, E: Array, d: Array, tension: Array, compression: Array) -> Judged:
        sigma_d = panels.design_stress(sigma_u=np.minimum(tension, compression))
        return Judged(
            aspect=aspect,
            demand=panels.sandwich_modulus(b=b, k_C=k_C, P=P, k_2=k_2, sigma_d=sigma_d),
            capacity=stacks.modulus_at_face(EI=EI, E=E, d=d),
            unit=unit_named("cm³/cm"),
            power=1,
            source=panels.sandwich_modulus.source,
            marks=rows.skin_marks,
            remarks=(*loading.remarks, BOTH_SIGNS),
            missing="a skin's modulus or strength is missing",
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
        demand=panels.sandwich_second_moment(b=b, k_C=k_C, P=P, k_3=panels.k_3(r=r), E_io=E_io),
        capacity=stacks.second_moment(EI=EI, E_io=E_io),
        unit=unit_named("cm⁴/cm"),
        power=1,
        source=panels.sandwich_second_moment.source,
        marks=rows.skin_marks,
        remarks=loading.remarks,
        missing="a skin's modulus is missing",
    )
    tau_d = panels.core_design_shear_stress(tau_u=rows.tau_c, ductile=rows.ductile)
    k_SHC = panels.core_shear_factor(r=r)
    core_shear = Judged(
        aspect=Aspect.CORE_SHEAR,
        demand=panels.core_shear_thickness(k_C=k_C, k_SHC=k_SHC, P=P, b=b, tau_d=tau_d),
        capacity=panels.skin_distance(t_c=rows.t_c, t_o=rows.t_o, t_i=rows.t_i),
        unit=unit_named("mm"),
        power=1,
        source=panels.core_shear_thickness.source,
        marks=rows.core_marks,
        remarks=loading.remarks,
        missing="the core's shear strength is missing",
    )
    core_strength = Judged(
        aspect=Aspect.CORE_STRENGTH,
        demand=panels.least_core_strength(L_WL=craft.LWL),
        capacity=tau_d,
        unit=unit_named("MPa"),
        power=1,
        source=panels.least_core_strength.source,
        marks=rows.core_marks,
        remarks=(Remark("a minimum, not a load"),),
        missing="the core's shear strength is missing",
    )
    M_d = stacks.edge_moment(k_C=k_C, P=P, k_2=k_2, b=b)
    sigma_o = stacks.bending_stress(E=rows.E_o, M_d=M_d, d=d_o, EI=EI)
    sigma_i = stacks.bending_stress(E=rows.E_i, M_d=M_d, d=d_i, EI=EI)
    limit_o = panels.wrinkling_stress(E=rows.E_o, E_c=rows.E_c, G_c=rows.G_c)
    limit_i = panels.wrinkling_stress(E=rows.E_i, E_c=rows.E_c, G_c=rows.G_c)
    use_o, use_i = sigma_o / limit_o, sigma_i / limit_i
    inner = (use_i > use_o) | np.isnan(use_i)
    wrinkling = Judged(
        aspect=Aspect.SKIN_WRINKLING,
        demand=traced(np.where(inner, sigma_i, sigma_o), sigma_o, sigma_i),
        capacity=traced(np.where(inner, limit_i, limit_o), limit_o, limit_i),
        unit=unit_named("MPa"),
        power=1,
        source=panels.wrinkling_stress.source,
        marks=np.maximum(rows.skin_marks, rows.core_marks),
        remarks=(*loading.remarks, BOTH_SIGNS),
        missing="a modulus of the skins or the core is missing",
        governing=_skin(inner),
    )
    return (
        skin(Aspect.OUTER_SKIN, rows.E_o, d_o, rows.sigma_ut_o, rows.sigma_uc_o),
        skin(Aspect.INNER_SKIN, rows.E_i, d_i, rows.sigma_ut_i, rows.sigma_uc_i),
        stiffness,
        core_shear,
        core_strength,
        wrinkling,
        _dry_mass(craft, rows),
    )


def _dry_mass(craft: CraftRow, rows: SandwichRows) -> Judged:
    w_os = dry_mass.outer_skin_dry_mass(
        k_DC=category_factor(craft), k_5=dry_mass.fibre_factor(), L_WL=craft.LWL
    )
    w_is = dry_mass.inner_skin_dry_mass(w_os=w_os)
    use_o, use_i = w_os / rows.dry_mass_o, w_is / rows.dry_mass_i
    inner = (use_i > use_o) | np.isnan(use_i)
    return Judged(
        aspect=Aspect.DRY_MASS,
        demand=traced(np.where(inner, w_is, w_os), w_os, w_is),
        capacity=np.where(inner, rows.dry_mass_i, rows.dry_mass_o),
        unit=unit_named("kg/m²"),
        power=1,
        source=dry_mass.outer_skin_dry_mass.source,
        remarks=(Remark("a minimum, not a load"),),
        governing=_skin(inner),
    )


def _skin(inner: Mask) -> Governing:
    return Governing(index=inner.astype(np.intp), names=_SKINS)
