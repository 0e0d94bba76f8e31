"""Machinery's feet on a bed: the webs under them cripple. N, mm.

A foot presses on the crown; each web takes its share by its stiffness, spread at 45° to half its depth. What
a span itself does not know is given: where no feet are, a bed is not judged.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from stringerlab.layout import Duty
from stringerlab.methods.mechanics.choosing import column, governing
from stringerlab.methods.mechanics.local import allowed_load
from stringerlab.methods.mechanics.records import Allowances, LoadedSpan
from stringerlab.methods.records import Aspect, Governing, Judged, Remark
from stringerlab.methods.unjudged import left_open
from stringerlab.section import crippling, local
from stringerlab.units import unit_named

_NONE = "no foot load entered: how hard each foot presses, and over what length"


@dataclass(frozen=True, slots=True, kw_only=True)
class Foot:
    """A foot that stands on a member's crown, with all that acceleration makes of its force."""

    name: str
    force: float
    """Greatest push on the member [N]."""
    length: float
    """Along the member, over which it bears [mm]."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Pressed:
    row: int
    foot: Foot
    root: crippling.Root
    Gth: float
    """Of all webs [N]."""


def judge(
    loaded: Sequence[LoadedSpan], allow: Allowances, feet: Mapping[str, Sequence[Foot]] | None = None
) -> tuple[Judged, ...]:
    """Return which web under which foot governs each bed; members that are no bed have no such finding.

    Parameters
    ----------
    loaded
        The spans, n rows.
    allow
        What part of a load is allowed.
    feet
        What stands on spans, by their ids; none at all: nothing.
    """
    standing: Mapping[str, Sequence[Foot]] = {} if feet is None else feet
    pressed: list[_Pressed] = []
    for row, one in enumerate(loaded):
        on = standing.get(one.case.span.id, ())
        if not on:
            continue
        roots = crippling.roots(one.facts.shape, one.facts.deadrise)
        Gth = sum(root.Gth for root in roots)
        pressed += [_Pressed(row=row, foot=foot, root=root, Gth=Gth) for foot in on for root in roots]
    bare = np.array(
        [one.case.span.duty is not Duty.NORMAL and not standing.get(one.case.span.id) for one in loaded],
        bool,
    )
    return (
        *governing(len(loaded), pressed, lambda held: (_crippling(held, allow),), ("crippling",)),
        *(left_open({Aspect.FEET: _NONE}, len(loaded), applies=bare) if bare.any() else ()),
    )


def _crippling(held: Sequence[_Pressed], allow: Allowances) -> Judged:
    roots = [one.root for one in held]
    d_W = column([root.depth for root in roots])
    F_W = crippling.web_force(
        V_e=column([one.foot.force for one in held]),
        Gth_W=column([root.Gth for root in roots]),
        Gth=column([one.Gth for one in held]),
    )
    bows = local.softened(
        crippling.column_load(D_22=column([root.D_22 for root in roots]), d_W=d_W),
        column([root.S for root in roots]),
    )
    bears = crippling.crippling_load(N_y_c=column([root.crush for root in roots]), N_y_cr=bows)
    return Judged(
        aspect=Aspect.FEET,
        demand=crippling.spread_force(F_W=F_W, l_B=column([one.foot.length for one in held]), d_W=d_W),
        capacity=allowed_load(n_A=np.full(len(held), allow.local), N_y_u=bears),
        unit=unit_named("N/mm"),
        power=1,
        source=crippling.spread_force.source,
        marks=np.array([root.known.rank for root in roots], np.int8),
        remarks=(
            Remark("a wide column with hinged ends under the foot: the safe side"),
            Remark("the crown's bending between its webs under the foot is not judged"),
        ),
        missing="a strength of the web's laminate across the member is missing",
        governing=Governing(
            index=np.arange(len(held)),
            names=(tuple(f"{one.root.place}, under {one.foot.name}" for one in held),),
        ),
    )
