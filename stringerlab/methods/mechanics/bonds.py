"""The bond of part to hull judged: shear beside the web roots, overlap of what is laminated on, and peel.

Panels beside a member are not known here: the one on one side counts as loaded and the other as not, and
the member takes of its edge moment what goes by its torsion. Which flange and which place governs is looked
for first, off the record; then the formulas run on those, a row a span.
"""

from collections.abc import Mapping, Sequence

import numpy as np

from stringerlab.methods.iso_12215_5_2008.worst import of_row, worst_of
from stringerlab.methods.mechanics import bond_ends
from stringerlab.methods.mechanics.bond_beads import (
    KNOCKED,
    PEAKS,
    POISSON,
    STACKED,
    WIDEST,
    bead_shear,
    flanges_of,
    only_sound,
    width_needed,
)
from stringerlab.methods.mechanics.bond_rows import (
    RIGID,
    THROUGH_MODULUS,
    Rows,
    row_of_span,
    taken,
    thinned,
    to_lay,
)
from stringerlab.methods.mechanics.records import Allowances, LoadedSpan
from stringerlab.methods.records import Aspect, Governing, Judged, Mask, Remark
from stringerlab.section import bond_forms as forms
from stringerlab.section.crippling import radial_tension
from stringerlab.units import unit_named
from stringerlab.workings import Array, traced, workings

_UNBALANCED = Remark(
    "the panel on one side counts as loaded and the next as not, b from web root to web root at the spacing, "
    "or the span where less: of its edge moment P b²/12 the member takes what goes by its torsion"
)
_BOUNDS = Remark(
    "the web root counts as free to turn for peel and as held for the bend's opening: the worse of each"
)
_ASSUMED = Remark(
    "assumed: Poisson's ratio 0.4 of the adhesive, 3500 MPa across the plies, and a joint as strong in "
    "tension as in shear"
)
_FOOT = (
    "webs back to back, or a single one: they count as one foot that turns on the hull as a whole, and only "
    "the torsion of what stands on the bond comes through it"
)
_NO_BEND = "laminated in place, without a bend of flange into web that could open: peel is for you to judge"
_CONTINUOUS = Remark("between its ends: where the member stops, its bond there is a finding of its own")


def judge(loaded: Sequence[LoadedSpan], allow: Allowances) -> tuple[Judged, ...]:
    """Judge the bond lines of spans.

    Parameters
    ----------
    loaded
        The spans, n rows.
    allow
        What part of failure is allowed.

    Raises
    ------
    StringerlabError
        When a laminate has no stiffness across the member.
    """
    if not loaded:
        return ()
    rows = Rows([row_of_span(span) for span in loaded])
    return (*between_ends(rows, allow), *bond_ends.judge(rows, allow))


def between_ends(rows: Rows, allow: Allowances) -> tuple[Judged, ...]:
    """Judge the bond lines of spans as `judge` does, but not where members stop."""
    return _shear(rows, allow), _overlap(rows, allow), _peel(rows, allow)


# -- shear -------------------------------------------------------------------------------------------


@np.errstate(divide="ignore", invalid="ignore", over="ignore")
def _shear(rows: Rows, allow: Allowances) -> Judged:
    """Judge beads in shear, at the flange that is the worst."""
    per_flange = flanges_of(rows)
    with workings():
        demand, capacity = bead_shear(rows, allow, per_flange, _flow(rows), wide=True)
    at = worst_of(demand / capacity, rows.absent)
    chosen = {name: of_row(values, at) for name, values in per_flange.items()}
    flow = _flow(rows)
    demand, capacity = bead_shear(rows, allow, chosen, flow)
    needed = width_needed(rows, allow, chosen, flow)
    return Judged(
        aspect=Aspect.BOND,
        demand=demand,
        capacity=capacity,
        unit=unit_named("MPa"),
        power=1,
        source=forms.peak_factor.source,
        marks=rows.marks(*KNOCKED, interlaminar=True),
        remarks=(
            *rows.said(taken),
            *rows.said(thinned),
            *rows.said(to_lay),
            *_widths_said(needed, chosen["w_b"], rows.beaded & np.isfinite(demand / capacity)),
            PEAKS,
            STACKED,
            _CONTINUOUS,
        ),
        lacking=rows.lacking,
        missing="an interlaminar strength of flange or hull is missing",
        governing=Governing(index=at, names=rows.names),
        applies=rows.beaded,
    )


def _widths_said(needed: Array, w_b: Array, judged: Mask) -> tuple[Remark, ...]:
    """Return how wide the governing flange must be bonded, row by row, where it is judged."""
    texts = [
        f"bonded {least:.0f} mm wide its shear would hold, it has {width:.0f} mm"
        if least > 0
        else f"bonded wider, to {WIDEST} mm, its shear would not hold: a thicker bead peaks less"
        for least, width in zip(needed.tolist(), w_b.tolist(), strict=True)
    ]
    return tuple(
        Remark(text, judged & (np.arange(len(texts)) == i)) for i, text in enumerate(texts) if judged[i]
    )


def _flow(rows: Rows) -> Array:
    return forms.shear_flow(V_e=rows.V_e, ES_b=rows.ES_b, EI=rows.EI)


@np.errstate(divide="ignore", invalid="ignore")
def _overlap(rows: Rows, allow: Allowances) -> Judged:
    """Judge what is laminated on: the least overlap by rule, and the width its shear needs."""
    with workings():
        rule, needed = _widths(rows, allow, rows.w_d, rows.f_q, rows.tau_il, wide=True)
    short = np.maximum(rule, needed) / rows.w_b
    at = worst_of(short, rows.absent)
    rule, needed = _widths(rows, allow, of_row(rows.w_d, at), of_row(rows.f_q, at), of_row(rows.tau_il, at))
    return Judged(
        aspect=Aspect.BOND,
        demand=traced(np.maximum(rule, needed), rule, needed),
        capacity=np.where(rows.open, np.nan, of_row(rows.w_b, at)),
        unit=unit_named("mm"),
        power=1,
        source=forms.OVERLAP,
        marks=rows.marks("fatigue", "environment", interlaminar=True),
        remarks=(
            Remark(
                "laminated in place: the overlap by rule, or more where the shear between the plies asks it"
            ),
            Remark("a width, not a load", rule >= needed),
            _CONTINUOUS,
        ),
        lacking=rows.lacking,
        missing="an interlaminar strength of flange or hull is missing",
        governing=Governing(index=at, names=rows.names),
        applies=~rows.beaded,
    )


def _widths(
    rows: Rows, allow: Allowances, w_d: Array, f_q: Array, tau_il: Array, *, wide: bool = False
) -> tuple[Array, Array]:
    def up(values: Array) -> Array:
        return values[:, None] if wide else values

    tau_b = forms.allowed_between(tau_il=tau_il, f_f=up(rows.f_f), f_env=up(rows.f_env), f_a=allow.bond)
    q_b = forms.shear_flow(V_e=up(rows.V_e), ES_b=up(rows.ES_b), EI=up(rows.EI))
    return (
        forms.overlap(w_d=w_d, w_u=forms.FURTHER_UNIT),
        forms.width_for_shear(q_b=q_b, f_q=f_q, tau_b=tau_b),
    )


# -- peel --------------------------------------------------------------------------------------------

_PLACES = (
    "web root, the panel on one side slammed",
    "web root, on rebound",
    "toe of the flange, on rebound",
    "within the toe of the flange, under the slam",
    "bend at the web root, the panel on one side slammed",
    "bend at the web root, on rebound",
)


@np.errstate(divide="ignore", invalid="ignore", over="ignore")
def _peel(rows: Rows, allow: Allowances) -> Judged:
    """Judge peel at roots and toes, and the bends at roots; which flange and place is the worst."""
    per_flange = {"w_b": rows.w_b, "e_r": rows.e_r, "t_1": rows.t_1, "D_1": rows.D_1, "f_u": rows.f_u}
    with workings():
        pairs = _places(rows, allow, per_flange, wide=True)
    severity = np.stack([np.broadcast_to(d / c, rows.w_b.shape) for d, c in pairs], axis=2)
    severity[~rows.beaded, :, :4] = -np.inf
    severity[np.isnan(rows.R_i), :, 4:] = -np.inf
    flat = severity.reshape(len(rows.rows), -1)
    at = worst_of(flat, np.repeat(rows.absent, len(_PLACES), axis=1))
    flange, place = at // len(_PLACES), at % len(_PLACES)
    chosen = {name: of_row(values, flange) for name, values in per_flange.items()}
    pairs = _places(rows, allow, chosen)
    stress, strength = (
        np.stack([np.broadcast_to(pair[i], len(place)) for pair in pairs], axis=1) for i in (0, 1)
    )
    used = sorted(set(place.tolist()))
    capacity = traced(of_row(strength, place), *(pairs[i][1] for i in used))
    return Judged(
        aspect=Aspect.PEEL,
        demand=traced(of_row(stress, place), *(pairs[i][0] for i in used)),
        capacity=only_sound(rows, capacity),
        unit=unit_named("MPa"),
        power=1,
        source=forms.root_peel.source,
        marks=rows.marks(*KNOCKED, "through_thickness", "rebound"),
        remarks=(
            *rows.said(taken),
            _UNBALANCED,
            Remark(
                "laminated in place: no peel stress is reckoned at root and toe, the overlap is by rule; "
                "only the bend's opening is judged",
                ~rows.beaded,
            ),
            _BOUNDS,
            Remark(_FOOT, rows.one_foot & ~rows.open),
            STACKED,
            _ASSUMED,
            Remark(
                "the bend at a web root is drawn sharp: it counts with 1 mm inside",
                np.array([row.bond.sharp for row in rows.rows]),
            ),
            Remark(
                "its torsion is not known by thin walls: the member counts as taking the whole moment",
                (rows.GJ == RIGID) & ~rows.open,
            ),
            Remark(
                "a single bond line: the couple is carried across its own width",
                np.array([row.bond.lines == 1 for row in rows.rows]),
            ),
        ),
        lacking=(*rows.lacking, Remark(_NO_BEND, ~rows.beaded & np.isnan(rows.R_i) & ~rows.open)),
        missing="a number of flange, hull or bead is missing",
        governing=Governing(
            index=at,
            names=tuple(
                tuple(f"{place}, {flange}" for flange in names for place in _PLACES) for names in rows.names
            ),
        ),
    )


def _places(
    rows: Rows, allow: Allowances, of: Mapping[str, Array], *, wide: bool = False
) -> tuple[tuple[Array, Array], ...]:
    """Return stress and allowed stress at every one of ``_PLACES``."""

    def up(values: Array) -> Array:
        return values[:, None] if wide else values

    f_v, P, f_R = up(rows.f_v), up(rows.P), up(rows.f_R)
    gives = {
        "t_a": up(rows.t_a),
        "E_a": up(rows.E_a),
        "nu_a": POISSON,
        "t_1": of["t_1"],
        "t_2": up(rows.t_2),
        "E_3": THROUGH_MODULUS,
        "D_1": of["D_1"],
    }
    R_o = up(np.where(np.isnan(rows.R_o), 0.0, rows.R_o))
    lying = {"w_b": of["w_b"], "e_b": forms.throat(e_r=of["e_r"], R_o=R_o, c_a=up(rows.c_a))}
    b = forms.panel_side(s=up(rows.s), b_base=up(rows.b_base), l_u=up(rows.l_u))
    m_p = forms.panel_moment(P=P, b=b)
    foot = rows.one_foot[:, None] if wide else rows.one_foot
    m_u = forms.unbalanced_moment(m_p=m_p, GJ=up(rows.GJ), D_2=up(rows.D_2), b=b, l_u=up(rows.l_u))
    slam = forms.couple_pull(m_u=m_u, a_b=up(rows.a_b))
    rebound = forms.rebound_pull(f_R=f_R, P=P, s=up(rows.s), n_b=up(rows.n_b))
    lambda_L = forms.foundation_number(w_b=of["w_b"], **gives)
    part = {"f_f": up(rows.f_f), "f_env": up(rows.f_env), "f_a": allow.bond}
    through = forms.allowed_through(sigma_3=up(rows.sigma_3), **part)
    joint = forms.allowed_peel(tau_a=up(rows.tau_a), f_J=up(rows.f_J), sigma_3=up(rows.sigma_3), **part)

    def root(q_p: Array) -> Array:
        return forms.root_peel(q_p=q_p, **lying, f_v=f_v, lambda_L=lambda_L)

    def toe(f_p: Array) -> Array:
        return forms.toe_peel(f_p=f_p, m_p=m_p, f_v=f_v, **gives, D_2=up(rows.D_2))

    def bend(m_r: Array) -> Array:
        return radial_tension(m_r=m_r, t=of["t_1"], R_i=up(rows.R_i), R_o=up(rows.R_o))

    def held(q_p: Array) -> Array:
        return forms.root_moment(q_p=q_p, **lying, lambda_L=lambda_L)

    turning = {"m_u": m_u, "f_u": of["f_u"], "b_base": up(rows.b_base), "lambda_L": lambda_L, **lying}
    turned = forms.foot_peel(f_v=f_v, **turning)
    opened = forms.foot_moment(**turning)

    return (
        (_either(foot, turned, root(slam)), joint),
        (root(rebound), joint),
        (toe(f_R), joint),
        (toe(forms.within_toe()), joint),
        (bend(_either(foot, opened, held(slam))), through),
        (bend(held(rebound)), through),
    )


def _either(first: Mask, one: Array, other: Array) -> Array:
    """Return one where ``first``, else the other; its workings are those of what is used."""
    if first.all():
        return one
    return traced(np.where(first, one, other), one, other) if first.any() else other
