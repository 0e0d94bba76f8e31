"""A bead's shear held against what is allowed of it, with its peak beside the web root. MPa, N/mm, mm."""

from collections.abc import Mapping

import numpy as np

from stringerlab.methods.mechanics.bond_rows import Rows
from stringerlab.methods.mechanics.records import Allowances
from stringerlab.methods.records import Remark
from stringerlab.section import bond_forms as forms
from stringerlab.workings import Array, traced, workings

POISSON = forms.ADHESIVE_POISSON
WIDEST = 300
"""Of the flanges that are looked at for what a bead needs [mm]."""
KNOCKED = ("static", "fatigue", "environment", "voids", "gap_tolerance")
"""Of a bond's named inputs, those that a bead's allowed stress rests on."""
PEAKS = Remark(
    "a joint's strength is the mean over its coupon, a lap that peaks too: that peak is held against this one"
)
STACKED = Remark(
    "what fatigue leaves and the part that is allowed both stay: a standard's design pressure is about the "
    "mean of the highest tenth of slams, which many reach, and the hardest of a life go well beyond it"
)


def flanges_of(rows: Rows) -> dict[str, Array]:
    """Return what `bead_shear` needs of every flange, (n, k) each."""
    return {
        "w_b": rows.w_b,
        "f_q": rows.f_q,
        "S_1": rows.S_1,
        "f_in": rows.f_in,
        "f_out": rows.f_out,
        "tau_il": rows.tau_il,
    }


def bead_shear(
    rows: Rows, allow: Allowances, of: Mapping[str, Array], q_b: Array, *, wide: bool = False
) -> tuple[Array, Array]:
    """Return greatest and allowed shear stress of beads [MPa]; nan where rows cannot be judged.

    Parameters
    ----------
    rows
        The spans, n of them.
    allow
        What part of failure is allowed.
    of
        Numbers of one flange a span (n,), or of all of them (n, k) where ``wide``.
    q_b
        Shear flow across all bond lines together (n,) [N/mm].
    wide
        Whether all flanges are judged at once.
    """

    def up(values: Array) -> Array:
        return values[:, None] if wide else values

    G_a = forms.shear_modulus(E_a=up(rows.E_a), nu_a=POISSON)
    S = {"S_1": of["S_1"], "S_2": up(rows.S_2)}
    t_a = up(np.where(rows.beaded, rows.t_a, np.nan))
    k_p = forms.peak_factor(
        lambda_s=forms.lap_number(w_b=of["w_b"], G_a=G_a, t_a=t_a, **S),
        f_in=of["f_in"],
        f_out=of["f_out"],
        **S,
    )
    k_J = forms.coupon_peak(w_J=forms.COUPON_LAP, t_J=forms.COUPON_BEAD, S_J=forms.COUPON_STIFFNESS, G_a=G_a)
    tau_m = forms.mean_shear(q_b=up(q_b), f_q=of["f_q"], w_b=of["w_b"], f_v=up(rows.f_v))
    capacity = forms.allowed_shear(
        tau_a=up(rows.tau_a),
        f_J=up(rows.f_J),
        k_J=k_J,
        tau_il=of["tau_il"],
        f_f=up(rows.f_f),
        f_env=up(rows.f_env),
        f_a=allow.bond,
    )
    return forms.peak_shear(k_p=k_p, tau_m=tau_m), only_sound(rows, capacity, wide=wide)


def width_needed(rows: Rows, allow: Allowances, of: Mapping[str, Array], q_b: Array) -> Array:
    """Return the least bonded width, in whole mm, at which a flange's bead holds (n,); nan where none does.

    Parameters
    ----------
    rows
        The spans, n of them.
    allow
        What part of failure is allowed.
    of
        Numbers of one flange a span (n,), as of `flanges_of`.
    q_b
        Shear flow across all bond lines together (n,) [N/mm].
    """
    widths = np.arange(5.0, WIDEST + 1)
    given = {name: values[:, None] for name, values in of.items()} | {"w_b": widths[None, :]}
    with workings():
        demand, capacity = bead_shear(rows, allow, given, q_b, wide=True)
    holds = demand <= capacity
    return np.where(holds.any(axis=1), widths[holds.argmax(axis=1)], np.nan)


def only_sound(rows: Rows, values: Array, *, wide: bool = False) -> Array:
    """Return the values, nan in rows that cannot be judged."""
    open_rows = rows.open[:, None] if wide else rows.open
    return values if not open_rows.any() else traced(np.where(open_rows, np.nan, values), values)
