"""The bond where a member stops: the force of its section handed over to the hull, and its edge peeled.

A member stops at an end that is not carried on, and at a crossing where it is cut with nothing behind it. The
moment there is the span's own, by its ends as they are given; what else may take it is not counted.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from stringerlab.laminate import flexural_constants
from stringerlab.layout import Backed, Cut, LandsOn
from stringerlab.methods.iso_12215_5_2008.worst import of_row, worst_of
from stringerlab.methods.mechanics.along import aft_factors, carried_at
from stringerlab.methods.mechanics.bond_beads import (
    KNOCKED,
    PEAKS,
    POISSON,
    STACKED,
    bead_shear,
    flanges_of,
    only_sound,
)
from stringerlab.methods.mechanics.bond_rows import THROUGH_MODULUS, Rows
from stringerlab.methods.mechanics.choosing import column, governing
from stringerlab.methods.mechanics.landings import DIES, Landed, landed, skin_stress
from stringerlab.methods.mechanics.records import Allowances
from stringerlab.methods.records import Aspect, Governing, Judged, Mask, Remark
from stringerlab.section import bond_forms as forms
from stringerlab.section import openings
from stringerlab.units import unit_named
from stringerlab.workings import Array, workings

_WAYS = ("shear", "peel of its edge on rebound", "peel within its edge under the slam")
_ALONE = Remark("what a tab or a laminate over the end would take is not counted: the safe side")
_RIGID = Remark(
    "across the end the member counts as rigid on the skin, which bends under the end's share of the load"
)
_MISSING = (
    "laminated in place: how its bond gives along the member is not known; "
    "or an interlaminar strength of flange or hull is missing, or the ends leave a mechanism"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Stop:
    """A place where a member stops."""

    row: int
    x: float
    """From the aft end of its span [mm]."""
    name: str
    landed: Landed | None
    """How it lands there; None at a crossing."""

    @property
    def dies(self) -> bool:
        """Whether the end's share of the load comes on bare skin."""
        return self.landed is not None and self.landed.landing.on in DIES


def judge(rows: Rows, allow: Allowances) -> tuple[Judged, ...]:
    """Return what governs where a span's member stops; members that go on have no such finding.

    Parameters
    ----------
    rows
        The spans with what bonds them.
    allow
        What part of failure is allowed.
    """
    stops = [stop for row in range(len(rows.rows)) for stop in _stops(rows, row)]
    return governing(len(rows.rows), stops, lambda held: _ways(rows, held, allow), _WAYS)


def _stops(rows: Rows, row: int) -> Iterator[_Stop]:
    loaded = rows.rows[row].span
    span = loaded.case.span
    for one in landed(loaded, row):
        if one.unsaid or one.landing.on in (*DIES, LandsOn.CHINE):
            yield _Stop(row=row, x=span.lu * one.end, name=one.name, landed=one)
    for number, crossing in enumerate(span.crossings, 1):
        if crossing.crown is Cut.CUT and crossing.backed is Backed.NONE:
            name = f"crossing {number}, cut with nothing behind it, at x {crossing.x:g} mm"
            yield _Stop(row=row, x=crossing.x, name=name, landed=None)


@np.errstate(divide="ignore", invalid="ignore", over="ignore")
def _ways(of: Rows, stops: Sequence[_Stop], allow: Allowances) -> tuple[Judged, ...]:
    rows = Rows([of.rows[stop.row] for stop in stops])
    every = flanges_of(rows)
    with workings():
        demand, capacity = bead_shear(rows, allow, every, _flow(rows, stops), wide=True)
    at = worst_of(demand / capacity, rows.absent)
    demand, capacity = bead_shear(
        rows, allow, {name: of_row(values, at) for name, values in every.items()}, _flow(rows, stops)
    )
    shear = Judged(
        aspect=Aspect.BOND_END,
        demand=demand,
        capacity=capacity,
        unit=unit_named("MPa"),
        power=1,
        source=forms.end_flow.source,
        marks=rows.marks(*KNOCKED, interlaminar=True),
        remarks=(PEAKS, STACKED, _ALONE),
        lacking=rows.lacking,
        missing=_MISSING,
        governing=Governing(
            index=at,
            names=tuple(
                tuple(f"{stop.name}, {flange}" for flange in names)
                for stop, names in zip(stops, rows.names, strict=True)
            ),
        ),
    )
    return (shear, *_peels(rows, stops, allow))


def _flow(rows: Rows, stops: Sequence[_Stop]) -> Array:
    """Return the shear flow across all bond lines where members stop."""
    spans = [row.span for row in rows.rows]
    factors = [aft_factors(one.case.span.ends) for one in spans]
    load = {
        "f_V": column([shear for shear, _ in factors]),
        "p_l": column([one.P * one.case.span.s for one in spans]),
        "l_u": rows.l_u,
        "x_s": column([stop.x for stop in stops]),
    }
    beam = {"ES_b": rows.ES_b, "EI": rows.EI}
    w_t = np.nansum(rows.w_b, axis=1)
    EA_r = forms.shared_stiffness(
        EA_1=rows.EA_1, EA_2=column([one.properties.EA for one in spans]) - rows.EA_1
    )
    l_e = forms.handing_length(
        k_b=forms.slip_stiffness(
            G_a=forms.shear_modulus(E_a=rows.E_a, nu_a=POISSON),
            w_t=np.where(w_t > 0, w_t, np.nan),
            f_v=rows.f_v,
            t_a=np.where(rows.beaded, rows.t_a, np.nan),
        ),
        EI_p=forms.parted_stiffness(EA_r=EA_r, **beam),
        EA_r=EA_r,
        EI=rows.EI,
    )
    at = [stop.x for stop in stops]
    V_x, M_x = carried_at(spans, at, at) or (
        openings.shear_along(**load),
        openings.moment_along(f_A=column([moment for _, moment in factors]), **load),
    )
    return forms.end_flow(V_x=V_x, M_x=M_x, l_e=l_e, **beam)


def _peels(rows: Rows, stops: Sequence[_Stop], allow: Allowances) -> tuple[Judged, ...]:
    here: Mask = np.array([stop.dies for stop in stops], bool) & rows.beaded
    sigma_p, t = skin_stress([stop.landed if stop.dies else None for stop in stops])
    plates = [row.span.case.plating for row in rows.rows]
    part = {"f_f": rows.f_f, "f_env": rows.f_env, "f_a": allow.bond}
    capacity = forms.allowed_peel(tau_a=rows.tau_a, f_J=rows.f_J, sigma_3=rows.sigma_3, **part)
    m_e = forms.patch_moment(sigma_p=sigma_p, t=t)
    given = {
        "m_e": m_e,
        "f_v": rows.f_v,
        "t_a": rows.t_a,
        "E_a": rows.E_a,
        "nu_a": POISSON,
        "t_1": np.where(np.isnan(rows.t_1), np.inf, rows.t_1).min(axis=1),
        "t_2": rows.t_2,
        "E_3": THROUGH_MODULUS,
        "D_x": column([flexural_constants(stack).Ex for stack in plates]) * t**3 / 12,
    }
    return tuple(
        Judged(
            aspect=Aspect.BOND_END,
            demand=forms.end_peel(f_p=f_p, **given),
            capacity=only_sound(rows, capacity),
            unit=unit_named("MPa"),
            power=1,
            source=forms.end_peel.source,
            marks=rows.marks(*KNOCKED, "through_thickness", "rebound"),
            remarks=(_RIGID, STACKED),
            lacking=rows.lacking,
            missing="the plating is a sandwich, the base has no width, or a number of the bond is missing",
            governing=Governing(
                index=np.arange(len(stops)), names=(tuple(f"{stop.name}, {way}" for stop in stops),)
            ),
            applies=here,
        )
        for way, f_p in ((_WAYS[1], rows.f_R), (_WAYS[2], forms.within_toe()))
    )
