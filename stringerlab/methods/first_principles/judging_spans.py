"""Members judged as single beams: first-ply failure, mean shear, deflection; strain under cyclic loads."""

import numpy as np

from stringerlab.laminate.records import Moduli
from stringerlab.layout.records import Duty
from stringerlab.methods.first_principles import plating, scantlings
from stringerlab.methods.first_principles.loading import span_loading
from stringerlab.methods.first_principles.source import AVERAGE, FACTORS, LIMITS, Average, own
from stringerlab.methods.iso_12215_5_2008 import stiffeners
from stringerlab.methods.iso_12215_5_2008.worst import of_row, worst_of
from stringerlab.methods.mechanics import beams
from stringerlab.methods.records import Aspect, CraftRow, Governing, Judged, PlatingRows, Remark, SpanRows
from stringerlab.methods.unjudged import bond_and_ends
from stringerlab.units import unit_named
from stringerlab.workings import Array, traced

MODULI = Moduli.CONTRACTED
SUPPORTS_APART = 0.5
"""Part of a continuous span between points of no moment at its supports, as the shear lag takes it."""
_ISOTROPIC = 2.6
_ENDS = (
    Remark("an end is not held: its own beam's moments and shear"),
    Remark("a free end with no held one is a mechanism"),
)
_PLY = Remark(
    f"first-ply failure over {FACTORS.ply:g}, our own factor of safety: the crown in compression at the end "
    "that carries most, and in tension within the span"
)
_SHEAR = Remark(
    f"shear strength over {FACTORS.shear:g}; mean shear over thickness normal to the web × vertical height: "
    "the mechanics judge its peak"
)
_DEFLECTION = Remark(f"deflection in bending to {LIMITS.span:g} of the span: our own limit")
_CAMBER = "the span's camber is left out: conservative"
_CYCLES = {Duty.ENGINE_BED: LIMITS.engine_bed, Duty.GYRO: LIMITS.gyro}
_PLACES = ("{}, at the end", "{}, within the span")


def modulus_ratio(rows: PlatingRows) -> Array:
    """Return the plating's modulus over its shear modulus; that of an isotropic plate where none is told."""
    if rows.E_G is None:
        return np.full(len(rows.s), _ISOTROPIC)
    return np.nan_to_num(rows.E_G, nan=_ISOTROPIC)


def counted_plating(rows: PlatingRows) -> Array:
    """Return the width of plating that works with each span at its supports [mm]: the least along it."""
    E_G = modulus_ratio(rows)
    b_base = np.minimum(rows.base_width, rows.s)
    L_0 = SUPPORTS_APART * rows.lu
    outside = plating.slenderness(b_0=(rows.s - b_base) / 2, L_0=L_0, E_G=E_G)
    inside = plating.slenderness(b_0=b_base / 2, L_0=L_0, E_G=E_G)
    return plating.effective_width(
        s=rows.s,
        b_base=b_base,
        beta_out=plating.part_at_support(kappa=outside),
        beta_in=plating.part_at_support(kappa=inside),
    )


@np.errstate(divide="ignore", invalid="ignore")
def judge_spans(craft: CraftRow, rows: SpanRows, average: Average = AVERAGE) -> tuple[Judged, ...]:
    """Judge members of one surface.

    Parameters
    ----------
    craft
        The craft.
    rows
        The spans, n rows.
    average
        Which average of impacts the acceleration is.
    """
    loading = span_loading(craft, rows, average)
    load = {"P": loading.P, "s": rows.s, "l_u": rows.lu}
    M_e = beams.end_moment(f_e=rows.end_factor, **load)
    M_m = beams.middle_moment(f_m=rows.middle_factor, **load)
    V_e = beams.end_shear(f_Q=rows.shear_factor, **load)
    unheld, loose = rows.moment_factor != 1, np.isnan(rows.moment_factor)
    ends = tuple(Remark(one.text, where) for one, where in zip(_ENDS, (unheld, loose), strict=True))
    remarks = (*loading.remarks, *ends, Remark(_CAMBER, rows.camber > 0))

    # (n, 2, k): each fibre at the end and within the span, held to the strength of its sign there
    moments = np.stack((M_e, M_m), axis=1)[:, :, None]
    z = rows.fibre_z[:, None, :]
    strength = np.where(moments * z >= 0, rows.fibre_tension[:, None, :], rows.fibre_compression[:, None, :])
    severity = rows.fibre_E[:, None, :] * np.abs(moments * z) / strength
    fibres = rows.fibre_E.shape[1]
    flat = (len(rows.lu), 2 * fibres)
    absent = np.broadcast_to((np.isnan(rows.fibre_E) | (rows.fibre_E == 0))[:, None, :], severity.shape)
    worst = worst_of(severity.reshape(flat), absent.reshape(flat))
    fibre, place = worst % fibres, worst // fibres
    M = traced(np.where(place == 0, M_e, M_m), M_e, M_m)
    sigma_u = of_row(strength.reshape(flat), worst)
    missing = "a ply's modulus or strength is missing, or the ends leave a mechanism"
    modulus = Judged(
        aspect=Aspect.MODULUS,
        demand=scantlings.required_modulus(
            M_w=M, sigma_d=scantlings.design_stress(sigma_u=sigma_u, gamma_s=FACTORS.ply)
        ),
        capacity=stiffeners.modulus_at(
            EI=rows.EI, E=of_row(rows.fibre_E, fibre), z=of_row(rows.fibre_z, fibre)
        ),
        unit=unit_named("cm³"),
        power=1,
        source=scantlings.required_modulus.source,
        marks=rows.fibre_marks,
        remarks=(*remarks, _PLY, *rows.fibre_remarks),
        missing=loading.missing or missing,
        lacking=loading.lacking,
        governing=Governing(index=fibre, names=rows.fibre_names, texts=_PLACES, text=place),
    )
    web_area = Judged(
        aspect=Aspect.WEB_AREA,
        demand=scantlings.required_web_area(
            V_e=V_e, tau_d=scantlings.design_shear(tau_u=rows.web_tau, gamma_s=FACTORS.shear)
        ),
        capacity=rows.web_area,
        unit=unit_named("cm²"),
        power=1,
        source=scantlings.required_web_area.source,
        marks=rows.web_marks,
        remarks=(*remarks, _SHEAR, *rows.web_remarks),
        missing=loading.missing
        or "the web's shear strength is missing, there is no web, or the ends leave a mechanism",
        lacking=loading.lacking,
    )
    stiffness = Judged(
        aspect=Aspect.STIFFNESS,
        demand=scantlings.required_stiffness(f_w=rows.deflection_factor, **load, n_w=LIMITS.span),
        capacity=rows.EI,
        unit=unit_named("cm⁴·MPa"),
        power=1,
        source=scantlings.required_stiffness.source,
        marks=rows.fibre_marks,
        remarks=(*remarks, _DEFLECTION),
        missing=loading.missing or "a ply's modulus is missing, or the ends leave a mechanism",
        lacking=loading.lacking,
    )
    cycles = _cycles(rows, M_e, M_m, remarks, loading.missing)
    return modulus, web_area, stiffness, cycles, *bond_and_ends(rows)


def _cycles(rows: SpanRows, M_e: Array, M_m: Array, remarks: tuple[Remark, ...], missing: str) -> Judged:
    """Judge the greatest strain of beds whose load is cyclic; others have no such aspect."""
    limit = np.array([_CYCLES.get(duty, np.nan) for duty in rows.duties])
    at_end = np.abs(M_e) >= np.abs(M_m)
    fibre = worst_of(np.abs(rows.fibre_z), np.isnan(rows.fibre_E) | (rows.fibre_E == 0))
    said = (
        Remark(
            f"{duty.value}: strain held to {part:.2%} under the design pressure, our own allowable for a "
            "load that comes again and again; the machinery's own weight and shaking come on top",
            np.array([each is duty for each in rows.duties]),
        )
        for duty, part in _CYCLES.items()
    )
    return Judged(
        aspect=Aspect.CYCLIC_STRAIN,
        demand=scantlings.fibre_strain(
            M_w=traced(np.where(at_end, M_e, M_m), M_e, M_m), z=of_row(rows.fibre_z, fibre), EI=rows.EI
        ),
        capacity=limit,
        unit=unit_named("%"),
        power=1,
        source=own("allowable strain under a cyclic load"),
        remarks=(*remarks, *said),
        missing=missing or "a ply's modulus is missing, or the ends leave a mechanism",
        governing=Governing(
            index=fibre, names=rows.fibre_names, texts=_PLACES, text=(~at_end).astype(np.intp)
        ),
        applies=~np.isnan(limit),
    )
