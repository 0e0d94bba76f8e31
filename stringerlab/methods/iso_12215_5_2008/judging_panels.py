"""Single-skin panels judged: thickness by flexural strength, ply by ply as in Annex H, dry fibre mass."""

from dataclasses import replace

import numpy as np

from stringerlab.methods.iso_12215_5_2008 import dry_mass, panels, stacks
from stringerlab.methods.iso_12215_5_2008.form import FORM, SWITCH, Form, Switch
from stringerlab.methods.iso_12215_5_2008.loading import Loading, panel_loading
from stringerlab.methods.iso_12215_5_2008.strengths import ultimate, ultimate_shear_strength
from stringerlab.methods.iso_12215_5_2008.strip import strip
from stringerlab.methods.iso_12215_5_2008.worst import chosen, of_row, worst_of
from stringerlab.methods.records import Aspect, CraftRow, Governing, Judged, PanelRows, Plies, Remark
from stringerlab.units import unit_named
from stringerlab.workings import Array

BOTH_SIGNS = Remark(
    "tension and compression are both held to the edge moment: our conservative reading, "
    "since the moment changes sign within the panel and its edges' restraint is not known"
)


@np.errstate(divide="ignore", invalid="ignore")
def judge_panels(
    craft: CraftRow, rows: PanelRows, switch: Switch = SWITCH, form: Form = FORM
) -> tuple[Judged, ...]:
    """Judge single-skin panels of one surface.

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
        sandwich=False,
        surface=rows.surface,
        height=rows.height,
        head=rows.head,
        switch=switch,
        form=form,
    )
    said = form.said
    remarks = (
        *loading.remarks,
        *said.requirement,
        *said.panel,
        *said.of_curvature(rows.camber),
        *said.stress,
    )
    r = panels.aspect_ratio(l=rows.l, b=rows.b)
    k_2 = panels.k_2(r=r)
    k_C = form.curvature_factor(rows.camber, rows.b)
    sigma_d = form.design_stress(ultimate(rows.sigma_uf, rows.sigma_uf_factor))
    thickness = Judged(
        aspect=Aspect.THICKNESS,
        demand=panels.single_skin_thickness(b=rows.b, k_C=k_C, P=loading.P, k_2=k_2, sigma_d=sigma_d),
        capacity=rows.t,
        unit=unit_named("mm"),
        power=2,
        source=panels.single_skin_thickness.source,
        marks=rows.sigma_uf_marks,
        remarks=(*remarks, *rows.sigma_uf_remarks),
        lacking=loading.lacking,
        missing="no flexural strength is known for this laminate: read its ply strength instead",
    )
    M_d = stacks.edge_moment(k_C=k_C, P=loading.P, k_2=k_2, b=rows.b)
    F_d = stacks.edge_shear_force(k_C=k_C, k_SHC=panels.core_shear_factor(r=r), P=loading.P, b=rows.b)
    mass = Judged(
        aspect=Aspect.DRY_MASS,
        demand=dry_mass.least_single_skin(craft, rows.surface),
        capacity=rows.dry_mass,
        unit=unit_named("kg/m²"),
        power=1,
        source=dry_mass.single_skin_dry_mass.source,
        remarks=(Remark("a minimum, not a load"), *said.minimum),
        missing=dry_mass.not_known(rows.surface),
    )
    by_ply = _ply_by_ply(rows.plies, M_d, F_d, form, replace(loading, remarks=remarks))
    return (thickness, *by_ply, mass)


def _ply_by_ply(plies: Plies, M_d: Array, F_d: Array, form: Form, loading: Loading) -> tuple[Judged, Judged]:
    of = strip(plies.t, plies.E)
    d_o, d_i, EI = of.d_o, of.d_i, of.EI
    d = np.where(np.abs(d_o) > np.abs(d_i), d_o, d_i)
    weaker = np.minimum(plies.tension, plies.compression)
    ply = worst_of(of.E * np.abs(d) / weaker, of.absent)
    strength = Judged(
        aspect=Aspect.PLY_STRENGTH,
        demand=stacks.bending_stress(E=of_row(of.E, ply), M_d=M_d, d=of_row(d, ply), EI=EI),
        capacity=form.design_stress(ultimate(of_row(weaker, ply), chosen(plies.factor, ply))),
        unit=unit_named("MPa"),
        power=1,
        source=stacks.edge_moment.source,
        marks=plies.marks,
        remarks=(*loading.remarks, BOTH_SIGNS, *plies.remarks),
        lacking=loading.lacking,
        missing="a ply's modulus or strength is missing",
        governing=Governing(
            index=ply,
            names=plies.names,
            texts=("{}, in tension", "{}, in compression"),
            text=(of_row(plies.compression, ply) < of_row(plies.tension, ply)).astype(np.intp),
        ),
    )

    # Between every two plies, and inside the ply where the neutral axis lies.
    weaker_side = np.minimum(plies.interlaminar[:, :-1], plies.interlaminar[:, 1:])
    axis_ply = worst_of((d_o >= 0).astype(float), of.absent | (d_i > 0))
    ES = np.column_stack((of.first_moments[:, :-1], of.greatest_first_moment))
    tau_u = np.column_stack((weaker_side, of_row(plies.interlaminar, axis_ply)))
    factor = None
    if (of_each := plies.interlaminar_factor) is not None:
        inner = plies.interlaminar[:, 1:] < plies.interlaminar[:, :-1]
        between = np.where(inner, of_each[:, 1:], of_each[:, :-1])
        factor = np.column_stack((between, of_row(of_each, axis_ply)))
    nothing = np.column_stack((of.absent[:, 1:], np.zeros(len(ES), bool)))
    place = worst_of(np.abs(ES) / tau_u, nothing)
    in_ply = place == ES.shape[1] - 1
    shear = Judged(
        aspect=Aspect.INTERLAMINAR_SHEAR,
        demand=stacks.interlaminar_stress(F_d=F_d, ES=of_row(ES, place), EI=EI),
        capacity=form.design_shear_stress(
            ultimate(of_row(tau_u, place), chosen(factor, place), ultimate_shear_strength)
        ),
        unit=unit_named("MPa"),
        power=1,
        source=stacks.edge_shear_force.source,
        marks=plies.marks,
        remarks=(
            *loading.remarks,
            Remark("the weaker of two plies counts between them: our conservative reading"),
            *plies.interlaminar_remarks,
        ),
        lacking=loading.lacking,
        missing="a ply's modulus or interlaminar strength is missing",
        governing=Governing(
            index=np.where(in_ply, axis_ply, place),
            names=plies.names,
            texts=("on the inner face of {}", "at the neutral axis, in {}"),
            text=in_ply.astype(np.intp),
        ),
    )
    return strength, shear
