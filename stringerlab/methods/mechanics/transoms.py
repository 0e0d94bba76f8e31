"""Outboards on a member that ends at the transom: thrust and weight, which add, on its section there.

They stand alone: what slams the bottom bends the member the other way and never relieves them.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from stringerlab.layout import TransomLoad
from stringerlab.methods.mechanics.choosing import column, governing
from stringerlab.methods.mechanics.records import Allowances, LoadedSpan
from stringerlab.methods.mechanics.webs import Webs, allowed_shear, allowed_stress, webs_of
from stringerlab.methods.records import Aspect, Governing, Judged, Remark
from stringerlab.methods.unjudged import left_open
from stringerlab.section import openings
from stringerlab.units import unit_named

_PLATE = (
    "the transom's own bending under the couple of thrust and weight is not judged: its laminate, the height "
    "between the upper and lower bolts, and the breadth between the members that hold it are not entered"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Fastened:
    """A fibre, at the point of it under the greatest part of its strength."""

    row: int
    load: TransomLoad
    loaded: LoadedSpan
    webs: Webs
    E: float
    z: float
    strength: float
    name: str

    @property
    def arm(self) -> float:
        """From the neutral axis down to the thrust."""
        return self.load.depth + self.loaded.properties.z_na


def judge(loaded: Sequence[LoadedSpan], allow: Allowances) -> tuple[Judged, ...]:
    """Return the governing stress of each span with outboards on it; others have no such finding."""
    held = [
        _fastened(row, one, one.case.span.transom)
        for row, one in enumerate(loaded)
        if one.case.span.transom is not None
    ]
    if not held:
        return ()
    found = governing(
        len(loaded), held, lambda cases: _ways(cases, allow), ("bending and push", "mean shear")
    )
    hung = np.array([one.case.span.transom is not None for one in loaded], bool)
    return (*found, *left_open({Aspect.TRANSOM_PLATE: _PLATE}, len(loaded), applies=hung))


def _fastened(row: int, loaded: LoadedSpan, load: TransomLoad) -> _Fastened:
    """Return the fibre that thrust and weight bring nearest its strength; one that lacks it comes first."""
    of, fibres = loaded.properties, loaded.properties.fibres
    push = load.share * load.thrust
    M = load.share * (load.thrust * (load.depth + of.z_na) + load.times * load.weight * load.overhang)
    ends = np.concatenate([fibres.z_top, fibres.z_bottom])
    E = np.tile(fibres.E, 2)
    stress = E * (M * ends / of.EI_y - push / of.EA)
    strength = np.where(stress > 0, np.tile(fibres.tension, 2), np.tile(fibres.compression, 2))
    part = np.abs(stress) / strength
    index = int(np.argmax(np.where(np.isnan(part), np.inf, part)))
    return _Fastened(
        row=row,
        load=load,
        loaded=loaded,
        webs=webs_of(loaded),
        E=float(E[index]),
        z=float(ends[index]),
        strength=float(strength[index]),
        name=f"{fibres.names[index % len(fibres.names)]}, in "
        f"{'tension' if stress[index] > 0 else 'compression'}",
    )


def _ways(held: Sequence[_Fastened], allow: Allowances) -> tuple[Judged, ...]:
    loads, properties = [one.load for one in held], [one.loaded.properties for one in held]
    share = {"f_s": column([load.share for load in loads])}
    thrust = {"T_o": column([load.thrust for load in loads])}
    weight = {
        "n_W": column([load.times for load in loads]),
        "W_o": column([load.weight for load in loads]),
    }
    stress = openings.fibre_stress(
        E=column([one.E for one in held]),
        M_tr=openings.transom_moment(
            e_T=column([one.arm for one in held]),
            e_W=column([load.overhang for load in loads]),
            **share,
            **thrust,
            **weight,
        ),
        z=column([one.z for one in held]),
        EI=column([of.EI_y for of in properties]),
        N_tr=openings.transom_push(**share, **thrust),
        EA=column([of.EA for of in properties]),
    )
    shear = openings.net_shear(
        V_x=openings.transom_shear(**share, **weight), A_net=column([one.webs.area for one in held])
    )
    at_rest = Remark(
        "the weight as at rest: no acceleration is given for it",
        np.array([load.times == 1 and load.weight > 0 for load in loads], bool),
    )
    alone = Remark("thrust and weight on the section at the transom; fastenings are not judged")
    return (
        Judged(
            aspect=Aspect.TRANSOM,
            demand=stress,
            capacity=allowed_stress(n_A=allow.ply, sigma_u=column([one.strength for one in held])),
            unit=unit_named("MPa"),
            power=1,
            source=openings.transom_moment.source,
            marks=np.array([one.loaded.properties.fibres.marks.max(initial=0) for one in held], np.int8),
            remarks=(alone, at_rest),
            missing="a strength of the section is missing",
            governing=Governing(index=np.arange(len(held)), names=(tuple(one.name for one in held),)),
        ),
        Judged(
            aspect=Aspect.TRANSOM,
            demand=shear,
            capacity=allowed_shear(n_A=allow.local, tau_u=column([one.webs.tau for one in held])),
            unit=unit_named("MPa"),
            power=1,
            source=openings.transom_shear.source,
            marks=np.array([one.webs.mark.rank for one in held], np.int8),
            remarks=(Remark("mean shear over the webs"), alone, at_rest),
            missing="the webs' shear strength is missing",
        ),
    )
