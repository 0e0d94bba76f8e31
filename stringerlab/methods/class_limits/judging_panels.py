"""Bottom panels judged ply by ply against limiting fractions, interlaminar strength, wrinkling."""

import numpy as np

from stringerlab.methods.class_limits import limits
from stringerlab.methods.class_limits.loading import SERVICE, Service, loading
from stringerlab.methods.governing import first_ply
from stringerlab.methods.iso_12215_5_2008 import panels, stacks
from stringerlab.methods.iso_12215_5_2008.worst import of_row, worst_of
from stringerlab.methods.records import Aspect, CraftRow, Governing, Judged, PanelRows, Remark, SandwichRows
from stringerlab.methods.unjudged import left_open
from stringerlab.units import unit_named
from stringerlab.workings import Array, traced

_LONG = Remark(
    "the panel counts as long, clamped and flat, whatever its aspect ratio and camber: conservative"
)
_BOTH_SIGNS = Remark("both signs are held to the edge moment: our conservative reading")
_WRINKLING = Remark(
    "the bottom's limiting fraction is held against the wrinkling stress too: our conservative reading"
)
_CORE = Remark(
    "the rules' own fraction for core shear is not known here: the bottom's limiting fraction is held instead"
)
_SINGLE_LEFT_OPEN = {
    Aspect.THICKNESS: "the rules' least thickness is not known here: read the ply strength",
    Aspect.STIFFNESS: "the rules' limit of a panel's deflection is not known here",
}
_SANDWICH_LEFT_OPEN = {
    Aspect.STIFFNESS: "the rules' limit of a panel's deflection is not known here",
    Aspect.CORE_STRENGTH: "the rules' least core strength is not known here",
}


@np.errstate(divide="ignore", invalid="ignore")
def judge_panels(craft: CraftRow, rows: PanelRows, service: Service = SERVICE) -> tuple[Judged, ...]:
    """Judge single-skin panels; those of other surfaces than the bottom are not judged for strength.

    Parameters
    ----------
    craft
        The craft.
    rows
        The panels, n rows.
    service
        Which limiting fractions count.
    """
    loaded = loading(craft, rows.surface, len(rows.b), service)
    plies = rows.plies
    first = first_ply(plies)
    M_d = limits.edge_moment(P=loaded.P, b=rows.b)
    f_lim = limits.bottom_fraction(heavy=service.heavy)
    strength = Judged(
        aspect=Aspect.PLY_STRENGTH,
        demand=stacks.bending_stress(E=first.E, M_d=M_d, d=first.distance, EI=first.EI),
        capacity=limits.limiting_stress(f_lim=f_lim, sigma_u=first.strength),
        unit=unit_named("MPa"),
        power=1,
        source=limits.bottom_fraction.source,
        marks=plies.marks,
        remarks=(*loaded.remarks, _LONG, _BOTH_SIGNS, *plies.remarks),
        missing=loaded.missing or "a ply's modulus or strength is missing",
        governing=first.governing,
    )
    weakest = worst_of(-plies.interlaminar, np.isnan(plies.t))
    interlaminar = Judged(
        aspect=Aspect.INTERLAMINAR_SHEAR,
        demand=limits.least_interlaminar_strength(),
        capacity=of_row(plies.interlaminar, weakest),
        unit=unit_named("MPa"),
        power=1,
        source=limits.least_interlaminar_strength.source,
        marks=plies.marks,
        remarks=(Remark("a minimum of the strength, not a load"), *plies.interlaminar_remarks),
        missing="a ply's interlaminar strength is missing",
        governing=Governing(index=weakest, names=plies.names),
    )
    return strength, interlaminar, *left_open(_SINGLE_LEFT_OPEN, len(rows.b))


@np.errstate(divide="ignore", invalid="ignore")
def judge_sandwiches(craft: CraftRow, rows: SandwichRows, service: Service = SERVICE) -> tuple[Judged, ...]:
    """Judge sandwich panels; those of other surfaces than the bottom are not judged.

    Parameters
    ----------
    craft
        The craft.
    rows
        The panels, n rows.
    service
        Which limiting fractions count.
    """
    loaded = loading(craft, rows.surface, len(rows.b), service)
    P, b = loaded.P, rows.b
    remarks = (*loaded.remarks, _LONG)
    f_lim = limits.bottom_fraction(heavy=service.heavy)
    skins = {"E_o": rows.E_o, "t_o": rows.t_o, "E_i": rows.E_i, "t_i": rows.t_i, "t_c": rows.t_c}
    d_o = stacks.sandwich_neutral_axis(**skins)
    d_i = stacks.inner_distance(t_o=rows.t_o, t_c=rows.t_c, t_i=rows.t_i, z_na=d_o)
    EI = stacks.sandwich_stiffness(**skins, z_na=d_o)

    def skin(aspect: Aspect, E: Array, d: Array, tension: Array, compression: Array) -> Judged:
        sigma_d = limits.limiting_stress(f_lim=f_lim, sigma_u=np.minimum(tension, compression))
        return Judged(
            aspect=aspect,
            demand=limits.sandwich_modulus(P=P, b=b, sigma_d=sigma_d),
            capacity=stacks.modulus_at_face(EI=EI, E=E, d=d),
            unit=unit_named("cm³/cm"),
            power=1,
            source=limits.bottom_fraction.source,
            marks=rows.skin_marks,
            remarks=(*remarks, _BOTH_SIGNS, *rows.skin_remarks),
            missing=loaded.missing or "a skin's modulus or strength is missing",
            governing=Governing(
                index=np.zeros(len(b), np.intp),
                names=(("the first ply to fail",),),
                texts=("{}, in tension", "{}, in compression"),
                text=(compression < tension).astype(np.intp),
            ),
        )

    core = Judged(
        aspect=Aspect.CORE_SHEAR,
        demand=limits.core_shear_thickness(
            P=P, b=b, tau_d=limits.limiting_shear(f_lim=f_lim, tau_u=rows.tau_c)
        ),
        capacity=panels.skin_distance(t_c=rows.t_c, t_o=rows.t_o, t_i=rows.t_i),
        unit=unit_named("mm"),
        power=1,
        source=limits.core_shear_thickness.source,
        marks=rows.core_marks,
        remarks=(*remarks, _CORE),
        missing=loaded.missing or "the core's shear strength is missing",
    )
    M_d = limits.edge_moment(P=P, b=b)
    sigma_o = stacks.bending_stress(E=rows.E_o, M_d=M_d, d=d_o, EI=EI)
    sigma_i = stacks.bending_stress(E=rows.E_i, M_d=M_d, d=d_i, EI=EI)
    limit_o, limit_i = (
        limits.limiting_stress(f_lim=f_lim, sigma_u=limits.wrinkling_stress(E=E, E_c=rows.E_c, G_c=rows.G_c))
        for E in (rows.E_o, rows.E_i)
    )
    use_o, use_i = sigma_o / limit_o, sigma_i / limit_i
    inner = (use_i > use_o) | np.isnan(use_i)
    wrinkling = Judged(
        aspect=Aspect.SKIN_WRINKLING,
        demand=traced(np.where(inner, sigma_i, sigma_o), sigma_o, sigma_i),
        capacity=traced(np.where(inner, limit_i, limit_o), limit_o, limit_i),
        unit=unit_named("MPa"),
        power=1,
        source=limits.wrinkling_stress.source,
        marks=np.maximum(rows.skin_marks, rows.core_marks),
        remarks=(*remarks, _BOTH_SIGNS, _WRINKLING),
        missing=loaded.missing or "a modulus of the skins or the core is missing",
        governing=Governing(index=inner.astype(np.intp), names=(("outer skin", "inner skin"),)),
    )
    return (
        skin(Aspect.OUTER_SKIN, rows.E_o, d_o, rows.sigma_ut_o, rows.sigma_uc_o),
        skin(Aspect.INNER_SKIN, rows.E_i, d_i, rows.sigma_ut_i, rows.sigma_uc_i),
        core,
        wrinkling,
        *left_open(_SANDWICH_LEFT_OPEN, len(b)),
    )
