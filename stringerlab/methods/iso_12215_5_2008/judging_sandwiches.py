"""Sandwich panels judged: both skins, stiffness, core shear and strength, wrinkling, dry fibre mass."""

import numpy as np

from stringerlab.layout.records import Surface
from stringerlab.methods.iso_12215_5_2008 import dry_mass, panels, stacks
from stringerlab.methods.iso_12215_5_2008.form import FORM, SWITCH, Form, Switch
from stringerlab.methods.iso_12215_5_2008.judging_panels import BOTH_SIGNS
from stringerlab.methods.iso_12215_5_2008.loading import category_factor, panel_loading
from stringerlab.methods.iso_12215_5_2008.strengths import ultimate
from stringerlab.methods.records import Aspect, CraftRow, Governing, Judged, Mask, Remark, SandwichRows
from stringerlab.units import unit_named
from stringerlab.workings import Array, traced

_SKINS = (("outer skin", "inner skin"),)
_CORE_NOT_KNOWN = {
    surface: (Remark(f"whether a least core strength is asked of {surface.value}s is not known"),)
    for surface in (Surface.DECK, Surface.BULKHEAD, Surface.TANK)
}
_LENGTH = Remark("the waterline's length stands for the hull's, which above 10 m asks for more")


@np.errstate(divide="ignore", invalid="ignore")
def judge_sandwiches(
    craft: CraftRow, rows: SandwichRows, switch: Switch = SWITCH, form: Form = FORM
) -> tuple[Judged, ...]:
    """Judge sandwich panels of one surface; the core's own modulus is left out of the stiffness.

    Parameters
    ----------
    craft
        The craft.
    rows
        The panels, n rows.
    switch
        How the dynamic load factor is read above 3.
    form
        The edition's own formulas.
    """
    loading = panel_loading(
        craft,
        x=rows.x,
        b=rows.b,
        l=rows.l,
        sandwich=True,
        surface=rows.surface,
        height=rows.height,
        head=rows.head,
        switch=switch,
        form=form,
    )
    said = form.said
    loaded = (*loading.remarks, *said.requirement, *said.panel, *said.of_curvature(rows.camber))
    stressed = (*loaded, *said.stress)
    b, P = rows.b, loading.P
    r = panels.aspect_ratio(l=rows.l, b=b)
    k_2 = panels.k_2(r=r)
    k_C = form.curvature_factor(rows.camber, b)
    skins = {"E_o": rows.E_o, "t_o": rows.t_o, "E_i": rows.E_i, "t_i": rows.t_i, "t_c": rows.t_c}
    d_o = stacks.sandwich_neutral_axis(**skins)
    EI = stacks.sandwich_stiffness(**skins, z_na=d_o)
    d_i = stacks.inner_distance(t_o=rows.t_o, t_c=rows.t_c, t_i=rows.t_i, z_na=d_o)

    def skin(
        aspect: Aspect, E: Array, d: Array, tension: Array, compression: Array, factor: Array | None
    ) -> Judged:
        sigma_d = form.design_stress(ultimate(np.minimum(tension, compression), factor))
        return Judged(
            aspect=aspect,
            demand=panels.sandwich_modulus(b=b, k_C=k_C, P=P, k_2=k_2, sigma_d=sigma_d),
            capacity=stacks.modulus_at_face(EI=EI, E=E, d=d),
            unit=unit_named("cm³/cm"),
            power=1,
            source=panels.sandwich_modulus.source,
            marks=rows.skin_marks,
            remarks=(*stressed, BOTH_SIGNS, *rows.skin_remarks),
            lacking=loading.lacking,
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
        remarks=loaded,
        lacking=loading.lacking,
        missing="a skin's modulus is missing",
    )
    tau_d = form.core_design_shear_stress(rows.tau_c, rows.ductile)
    k_SHC = panels.core_shear_factor(r=r)
    core_shear = Judged(
        aspect=Aspect.CORE_SHEAR,
        demand=panels.core_shear_thickness(k_C=k_C, k_SHC=k_SHC, P=P, b=b, tau_d=tau_d),
        capacity=panels.skin_distance(t_c=rows.t_c, t_o=rows.t_o, t_i=rows.t_i),
        unit=unit_named("mm"),
        power=1,
        source=panels.core_shear_thickness.source,
        marks=rows.core_marks,
        remarks=stressed,
        lacking=loading.lacking,
        missing="the core's shear strength is missing",
    )
    core_strength = Judged(
        aspect=Aspect.CORE_STRENGTH,
        demand=_least_core_strength(craft, rows.surface),
        capacity=tau_d,
        unit=unit_named("MPa"),
        power=1,
        source=panels.least_core_strength.source,
        marks=rows.core_marks,
        remarks=(Remark("a minimum, not a load"), _LENGTH, *said.minimum, *said.stress),
        lacking=_CORE_NOT_KNOWN.get(rows.surface, ()),
        missing="the core's shear strength is missing",
    )
    M_d = stacks.edge_moment(k_C=k_C, P=P, k_2=k_2, b=b)
    sigma_o = stacks.bending_stress(E=rows.E_o, M_d=M_d, d=d_o, EI=EI)
    sigma_i = stacks.bending_stress(E=rows.E_i, M_d=M_d, d=d_i, EI=EI)
    limit_o = form.wrinkling_stress(rows.E_o, rows.E_c, rows.G_c)
    limit_i = form.wrinkling_stress(rows.E_i, rows.E_c, rows.G_c)
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
        remarks=(*stressed, BOTH_SIGNS),
        lacking=loading.lacking,
        missing="a modulus of the skins or the core is missing",
        governing=_skin(inner),
    )
    return (
        skin(Aspect.OUTER_SKIN, rows.E_o, d_o, rows.sigma_ut_o, rows.sigma_uc_o, rows.factor_o),
        skin(Aspect.INNER_SKIN, rows.E_i, d_i, rows.sigma_ut_i, rows.sigma_uc_i, rows.factor_i),
        stiffness,
        core_shear,
        core_strength,
        wrinkling,
        _dry_mass(craft, rows, form),
    )


def _least_core_strength(craft: CraftRow, surface: Surface) -> Array:
    """Return the least design shear strength of a core; nan where it is not known to be asked."""
    return np.array(np.nan) if surface in _CORE_NOT_KNOWN else panels.least_core_strength(L_WL=craft.LWL)


def _dry_mass(craft: CraftRow, rows: SandwichRows, form: Form) -> Judged:
    w_os, w_is = dry_mass.least_skins(craft, rows.surface, category_factor(craft))
    use_o, use_i = w_os / rows.dry_mass_o, w_is / rows.dry_mass_i
    inner = (use_i > use_o) | np.isnan(use_i)
    return Judged(
        aspect=Aspect.DRY_MASS,
        demand=traced(np.where(inner, w_is, w_os), w_os, w_is),
        capacity=np.where(inner, rows.dry_mass_i, rows.dry_mass_o),
        unit=unit_named("kg/m²"),
        power=1,
        source=dry_mass.outer_skin_dry_mass.source,
        remarks=(Remark("a minimum, not a load"), *form.said.minimum),
        missing=dry_mass.not_known(rows.surface),
        governing=_skin(inner),
    )


def _skin(inner: Mask) -> Governing:
    return Governing(index=inner.astype(np.intp), names=_SKINS)
