"""Holes in a span's webs: shear over what is left, bending of the tee above, and their proportions.

A hole goes through every web. The span is a single beam under its pressure, or carries what is known of it;
at each hole the greater shear and moment of its two sides count. Stresses are means of plain theory: a
corner's own peak is none of them.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf

import numpy as np

from stringerlab.layout import Opening, Span
from stringerlab.methods.mechanics.along import aft_factors, carried_at
from stringerlab.methods.mechanics.choosing import column, governing
from stringerlab.methods.mechanics.records import Allowances, LoadedSpan
from stringerlab.methods.mechanics.webs import Webs, allowed_shear, allowed_stress, webs_of
from stringerlab.methods.records import Aspect, Governing, Judged, Remark
from stringerlab.section import openings
from stringerlab.units import unit_named

HEIGHT_LIMIT = 0.5
"""Of the web's height: common practice."""
EDGE_LIMIT = 1.0
"""A hole stays its own height away from an end or the next hole: common practice."""
SHARP = 2.0
"""A corner's radius below so many times the thickness of the webs, all together, is said to be sharp."""

_WAYS = ("mean shear", "bending of the tee above", "height over the web's", "height over the distance left")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Hole:
    row: int
    number: int
    hole: Opening
    loaded: LoadedSpan
    webs: Webs

    @property
    def sides(self) -> tuple[float, float]:
        """Places of its two sides along the span."""
        return self.hole.x - self.hole.width / 2, self.hole.x + self.hole.width / 2

    @property
    def above(self) -> float:
        """Depth of the web above it."""
        return self.webs.height - self.hole.bottom - self.hole.height

    @property
    def where(self) -> tuple[float, float]:
        """Its side with the greater shear, and its place of the greater moment."""
        span = self.loaded.case.span
        aft, forward = self.sides
        carried = self.loaded.carried
        if carried is not None:
            inner = carried.x[(carried.x > aft) & (carried.x < forward)].tolist()
            return max(self.sides, key=carried.shear), max((aft, forward, *inner), key=carried.moment)
        shear, moment = aft_factors(span.ends)
        none = shear * span.lu
        peak = min(max(none, aft), forward)
        moments = {x: moment * span.lu**2 + shear * span.lu * x - x * x / 2 for x in (aft, forward, peak)}
        return max(self.sides, key=lambda x: abs(x - none)), max(moments, key=lambda x: abs(moments[x]))

    @property
    def name(self) -> str:
        return f"opening {self.number}, {self.hole.kind.value}, at x {self.hole.x:g} mm"


def judge(loaded: Sequence[LoadedSpan], allow: Allowances) -> tuple[Judged, ...]:
    """Return what governs of each span's holes; spans without any have no such finding."""
    holes: list[_Hole] = []
    for row, one in enumerate(loaded):
        if not one.case.span.openings:
            continue
        webs = webs_of(one)
        holes += [
            _Hole(row=row, number=number, hole=hole, loaded=one, webs=webs)
            for number, hole in enumerate(one.case.span.openings, 1)
        ]
    return governing(len(loaded), holes, lambda held: _ways(held, allow), _WAYS)


def edge_distance(span: Span, hole: Opening) -> float:
    """Return the least distance from a hole's sides to the span's ends and to the other holes [mm]."""
    aft, forward = hole.x - hole.width / 2, hole.x + hole.width / 2
    others = [
        max(other.x - other.width / 2 - forward, aft - other.x - other.width / 2)
        for other in span.openings
        if other is not hole
    ]
    return min(aft, span.lu - forward, *others, inf)


def _ways(holes: Sequence[_Hole], allow: Allowances) -> tuple[Judged, ...]:
    spans = [one.loaded.case.span for one in holes]
    factors = [aft_factors(span.ends) for span in spans]
    load = {
        "f_V": column([shear for shear, _ in factors]),
        "p_l": column([one.loaded.P * span.s for one, span in zip(holes, spans, strict=True)]),
        "l_u": column([span.lu for span in spans]),
    }
    f_A = column([moment for _, moment in factors])
    webs = [one.webs for one in holes]
    h_o, h_W = column([one.hole.height for one in holes]), column([web.height for web in webs])
    d_a, d_b = column([one.above for one in holes]), column([one.hole.bottom for one in holes])
    standing = (d_a > 0) & (h_W > 0)
    d_a = np.where(standing, d_a, np.nan)
    marks = np.array([web.mark.rank for web in webs], np.int8)
    V_at, M_at = ([one.where[number] for one in holes] for number in (0, 1))
    V_x, M_x = carried_at([one.loaded for one in holes], V_at, M_at) or (
        openings.shear_along(x_s=column(V_at), **load),
        openings.moment_along(f_A=f_A, x_s=column(M_at), **load),
    )
    A_net = openings.net_web_area(A_W=column([web.area for web in webs]), h_o=h_o, h_W=h_W)
    M_tee = openings.tee_moment(
        V_tee=openings.tee_shear(V_x=V_x, d_a=d_a, d_b=d_b), w_o=column([one.hole.width for one in holes])
    )
    Z_tee = openings.tee_modulus(
        t_W=column([web.thickness for web in webs]),
        d_a=d_a,
        b_c=column([web.crown_width for web in webs]),
        t_cr=column([web.crown_thickness for web in webs]),
    )
    properties = [one.loaded.properties for one in holes]
    stress = openings.edge_stress(
        M_x=M_x,
        E_W=column([web.E for web in webs]),
        z_o=column(
            [one.hole.bottom + one.hole.height - of.z_na for one, of in zip(holes, properties, strict=True)]
        ),
        EI=column([of.EI_y for of in properties]),
        M_tee=M_tee,
        Z_tee=Z_tee,
    )
    e_o = column([edge_distance(span, one.hole) for one, span in zip(holes, spans, strict=True)])
    sharp = column([one.hole.radius < SHARP * one.webs.thickness for one in holes]) > 0
    remarks = (
        Remark("a hole goes through every web of the span"),
        Remark("its corners are sharp for its webs' thickness: stress peaks there; round them", sharp),
    )
    share = Remark(
        "Vierendeel bending: the tee above takes its web's part of the shear, the plating none; "
        "as of one material"
    )
    named = Governing(index=np.arange(len(holes)), names=(tuple(one.name for one in holes),))
    fits = "the hole leaves no web above it, or the ends leave a mechanism"
    practice = Remark("a proportion of common practice, no strength")
    return (
        Judged(
            aspect=Aspect.OPENING,
            demand=openings.net_shear(V_x=V_x, A_net=A_net),
            capacity=allowed_shear(n_A=allow.local, tau_u=column([web.tau for web in webs])),
            unit=unit_named("MPa"),
            power=1,
            source=openings.net_shear.source,
            marks=marks,
            remarks=(Remark("mean shear over the web left at the hole"), *remarks),
            missing=f"the webs' shear strength is missing; or {fits}",
            governing=named,
        ),
        Judged(
            aspect=Aspect.OPENING,
            demand=stress,
            capacity=allowed_stress(n_A=allow.ply, sigma_u=column([web.strength for web in webs])),
            unit=unit_named("MPa"),
            power=1,
            source=openings.tee_moment.source,
            marks=marks,
            remarks=(share, *remarks),
            missing=f"a strength of the webs is missing; or {fits}",
            governing=named,
        ),
        Judged(
            aspect=Aspect.OPENING,
            demand=openings.hole_height_ratio(h_o=h_o, h_W=h_W),
            capacity=np.full(len(holes), HEIGHT_LIMIT),
            unit=unit_named(""),
            power=1,
            source=openings.hole_height_ratio.source,
            remarks=(Remark("height of the hole over that of the web"), practice, *remarks),
            governing=named,
        ),
        Judged(
            aspect=Aspect.OPENING,
            demand=openings.hole_edge_ratio(h_o=h_o, e_o=np.where(e_o > 0, e_o, np.nan)),
            capacity=np.full(len(holes), EDGE_LIMIT),
            unit=unit_named(""),
            power=1,
            source=openings.hole_edge_ratio.source,
            remarks=(Remark("height over the distance to an end or the next hole"), practice, *remarks),
            missing="the hole reaches an end or another hole",
            governing=named,
        ),
    )
