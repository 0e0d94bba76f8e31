"""Crowns cut at a crossing: their force on an unbacked web, or through tabs or a diaphragm.

The crossed member's web is reckoned as this one's own: laminate and thickness. A cut crown's force is the
span's moment there, by its ends as they are given, over the arm from crown to plating.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import nan

import numpy as np

from stringerlab.laminate import thickness
from stringerlab.layout import Backed, Crossing, Cut, End
from stringerlab.methods.mechanics.along import aft_factors
from stringerlab.methods.mechanics.choosing import column, governing
from stringerlab.methods.mechanics.records import Allowances, LoadedSpan
from stringerlab.methods.mechanics.webs import Webs, allowed_shear, allowed_stress, webs_of
from stringerlab.methods.records import Aspect, Governing, Judged, Remark
from stringerlab.section import openings
from stringerlab.units import unit_named

_AT_END = 0.05
"""A crossing within this part of the span of an end is at it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Crossed:
    row: int
    number: int
    crossing: Crossing
    loaded: LoadedSpan
    webs: Webs

    @property
    def level(self) -> float:
        """At which the crown pushes: its middle."""
        return self.webs.height - self.webs.crown_thickness / 2

    @property
    def stands_over(self) -> bool:
        """Whether its crown stands above the member it is cut at."""
        return self.level > self.crossing.height

    @property
    def at_held_end(self) -> bool:
        span, x = self.loaded.case.span, self.crossing.x
        aft, forward = span.ends
        near = _AT_END * span.lu
        return (x <= near and aft is End.HELD) or (x >= span.lu - near and forward is End.HELD)

    @property
    def name(self) -> str:
        return f"crossing {self.number}, {self.crossing.backed.value} behind it, at x {self.crossing.x:g} mm"


def judge(loaded: Sequence[LoadedSpan], allow: Allowances) -> tuple[Judged, ...]:
    """Return what governs of each span's crossings at which its crown is cut; others have no such finding."""
    cut: list[_Crossed] = []
    for row, one in enumerate(loaded):
        here = [pair for pair in enumerate(one.case.span.crossings, 1) if pair[1].crown is Cut.CUT]
        if here:
            webs = webs_of(one)
            cut += [
                _Crossed(row=row, number=number, crossing=crossing, loaded=one, webs=webs)
                for number, crossing in here
            ]
    return governing(len(loaded), cut, lambda held: _ways(held, allow), ("web", "tabs", "diaphragm"))


def _ways(cut: Sequence[_Crossed], allow: Allowances) -> tuple[Judged, ...]:
    spans = [one.loaded.case.span for one in cut]
    factors = [aft_factors(span.ends) for span in spans]
    webs = [one.webs for one in cut]
    M_x = openings.moment_along(
        f_V=column([shear for shear, _ in factors]),
        f_A=column([moment for _, moment in factors]),
        p_l=column([one.loaded.P * span.s for one, span in zip(cut, spans, strict=True)]),
        l_u=column([span.lu for span in spans]),
        x_s=column([one.crossing.x for one in cut]),
    )
    a_k = column([one.level if not one.stands_over else nan for one in cut])
    C_k = openings.kick(
        M_x=M_x,
        h_c=column([one.level + thickness(one.loaded.case.plating) / 2 for one in cut]),
    )
    t_t = column([one.crossing.thickness or nan for one in cut])
    l_bond = column([one.crossing.length or nan for one in cut])
    backed = [one.crossing.backed for one in cut]
    marks = np.array([web.mark.rank for web in webs], np.int8)
    named = Governing(index=np.arange(len(cut)), names=(tuple(one.name for one in cut),))
    strength = column([web.strength for web in webs])
    size = "the thickness or length of what stands behind the web is not given"
    lacking = (
        Remark(
            "its crown stands above the one it is cut at: nothing takes its force",
            np.array([one.stands_over for one in cut], bool),
        ),
    )
    simple = Remark(
        "a cut crown with nothing behind it holds no end: reckon this end simple",
        np.array([one.at_held_end and one.crossing.backed is Backed.NONE for one in cut], bool),
    )
    own = Remark("what stands behind the web is of this member's web laminate")

    def where(kind: Backed) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
        return np.array([one is kind for one in backed], bool)

    return (
        Judged(
            aspect=Aspect.CROSSING,
            demand=openings.web_push(
                C_k=C_k,
                a_k=a_k,
                h_x=column([one.crossing.height for one in cut]),
                b_k=column([web.crown_width for web in webs]),
                t_k=column([_thinnest(one) for one in cut]),
            ),
            capacity=allowed_stress(n_A=allow.local, sigma_u=strength),
            unit=unit_named("MPa"),
            power=1,
            source=openings.kick.source,
            marks=marks,
            remarks=(
                Remark("the crossed member's web is taken to be of this one's laminate and thickness"),
                simple,
            ),
            lacking=lacking,
            missing="a strength of the webs is missing",
            governing=named,
            applies=where(Backed.NONE),
        ),
        Judged(
            aspect=Aspect.CROSSING,
            demand=openings.tab_shear(C_k=C_k, t_t=t_t, l_bond=l_bond),
            capacity=allowed_shear(n_A=allow.local, tau_u=column([web.tau for web in webs])),
            unit=unit_named("MPa"),
            power=1,
            source=openings.kick.source,
            marks=marks,
            remarks=(own,),
            missing=f"{size}; or the webs' shear strength is missing",
            governing=named,
            applies=where(Backed.TABS),
        ),
        Judged(
            aspect=Aspect.CROSSING,
            demand=openings.diaphragm_bearing(C_k=C_k, t_t=t_t, l_bond=l_bond),
            capacity=allowed_stress(n_A=allow.local, sigma_u=column([web.compression for web in webs])),
            unit=unit_named("MPa"),
            power=1,
            source=openings.kick.source,
            marks=marks,
            remarks=(own,),
            missing=f"{size}; or a strength of the webs is missing",
            governing=named,
            applies=where(Backed.DIAPHRAGM),
        ),
    )


def _thinnest(one: _Crossed) -> float:
    return one.loaded.facts.web_thickness or nan
