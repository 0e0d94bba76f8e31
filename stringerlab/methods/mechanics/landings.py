"""How a span's ends land: hard spots on bare skin, the slope of tapers, and knees at a side opening.

An end that dies puts what it carries on the skin under it: a patch on a long clamped plate. What a chine
takes is not known here.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import nan

import numpy as np

from stringerlab.laminate import flexural_strength, is_sandwich, thickness
from stringerlab.layout import End, Landing, LandsOn
from stringerlab.methods.mechanics.along import end_share
from stringerlab.methods.mechanics.choosing import column, governing
from stringerlab.methods.mechanics.records import Allowances, LoadedSpan
from stringerlab.methods.mechanics.webs import allowed_shear, allowed_stress, webs_of
from stringerlab.methods.records import Aspect, Governing, Judged, Remark
from stringerlab.methods.unjudged import NO_CHECK
from stringerlab.section import openings
from stringerlab.section.openings import crown_height
from stringerlab.units import unit_named
from stringerlab.workings import Array, Known

SLOPE_LIMIT = 1 / 3
"""A crown falls no steeper than 1 in 3: common practice."""
DIES = (LandsOn.SKIN, LandsOn.TAPERED)
"""What has no support under it but skin."""
_ENDS = ("aft", "forward")
_WAYS = ("bending of the skin", "slope of the taper", "not known")
_OF_KNEES = ("bending", "bending of the throat", "shear of the corner")
_UNSAID = "an end is not held and how it lands is not said: say whether on skin, chine, bulkhead or tapered"
_CORNER = Remark("what goes round the knee is to carry the moment of simple ends")
_CHINE = "an end dies on the chine, whose own stiffness is not known here: taper it or carry it to a support"


@dataclass(frozen=True, slots=True, kw_only=True)
class Landed:
    """An end of a span, and how it lands."""

    row: int
    end: int
    landing: Landing
    loaded: LoadedSpan
    height: float

    @property
    def low(self) -> float:
        """Height of the crown at the end."""
        if self.landing.height is not None:
            return self.landing.height
        return 0.0 if self.landing.on is LandsOn.TAPERED else self.height

    @property
    def tapers(self) -> bool:
        """Whether its crown falls."""
        return self.landing.taper > 0 and self.low < self.height

    @property
    def unsaid(self) -> bool:
        """Whether it is not held, and how it lands is not said."""
        held = self.loaded.case.span.ends[self.end] is End.HELD
        return self.landing.on is LandsOn.AS_END and not held

    @property
    def name(self) -> str:
        """In words."""
        return f"its {_ENDS[self.end]} end, {self.landing.on.value}"


def judge(loaded: Sequence[LoadedSpan], allow: Allowances) -> tuple[Judged, ...]:
    """Return hard spots and tapers of spans whose ends are not simply held, and knees where there are any."""
    ends = [end for row, one in enumerate(loaded) for end in landed(one, row)]
    spots = [one for one in ends if one.unsaid or one.tapers or one.landing.on in (*DIES, LandsOn.CHINE)]
    knees = [one for one in ends if one.landing.on is LandsOn.KNEE]
    return (
        *governing(len(loaded), spots, lambda held: _spots(held, allow), _WAYS),
        *governing(len(loaded), knees, lambda held: _knees(held, allow), _OF_KNEES),
    )


def landed(loaded: LoadedSpan, row: int) -> tuple[Landed, ...]:
    """Return a span's ends, aft and forward, as they land."""
    height = crown_height(loaded.facts.shape.walls, loaded.facts.deadrise)
    return tuple(
        Landed(row=row, end=end, landing=landing, loaded=loaded, height=height)
        for end, landing in enumerate(loaded.case.span.landings)
    )


def skin_stress(ends: Sequence[Landed | None]) -> tuple[Array, Array]:
    """Return the bending stress of the skin under ends that die on it [MPa], and its thickness [mm].

    nan for no end, a sandwich, or a base without width.
    """

    def each(value: Callable[[Landed], float]) -> Array:
        return column([nan if one is None else value(one) for one in ends])

    t = each(_single_skin)
    R_e = each(
        lambda one: (
            end_share(one.loaded.case.span.ends, bool(one.end))
            * one.loaded.P
            * one.loaded.case.span.s
            * one.loaded.case.span.lu
        )
    )
    feet = each(_foot)
    r_o = openings.patch_radius(
        b_base=np.where(feet > 0, feet, np.nan),
        l_p=each(lambda one: one.landing.taper if one.tapers else one.height),
    )
    r_p_b = openings.patch_ratio(
        r_p=openings.equivalent_radius(r_o=r_o, t=t), b=each(lambda one: one.loaded.case.span.s)
    )
    stress = openings.patch_stress(R_e=R_e, t=t, r_p_b=r_p_b, beta_1=openings.BETA_1, beta_2=openings.BETA_2)
    return stress, t


def _single_skin(one: Landed) -> float:
    stack = one.loaded.case.plating
    return nan if is_sandwich(stack) else thickness(stack)


def _spots(ends: Sequence[Landed], allow: Allowances) -> tuple[Judged, ...]:
    dies = np.array([one.landing.on in DIES for one in ends], bool)
    open_ = np.array([one.unsaid or one.landing.on is LandsOn.CHINE for one in ends], bool)
    tapers = np.array([one.tapers for one in ends], bool)
    flexural = [flexural_strength(one.loaded.case.plating) for one in ends]
    stress, _ = skin_stress(ends)
    named = Governing(index=np.arange(len(ends)), names=(tuple(one.name for one in ends),))
    unknown = np.full(len(ends), np.nan)
    falls = Remark(
        "the section where its crown is lower is not judged: draw it, and give it a span of its own", tapers
    )
    return (
        Judged(
            aspect=Aspect.HARD_SPOT,
            demand=stress,
            capacity=allowed_stress(n_A=allow.ply, sigma_u=column([value for value, _ in flexural])),
            unit=unit_named("MPa"),
            power=1,
            source=openings.patch_stress.source,
            marks=np.array([known.rank for _, known in flexural], np.int8),
            remarks=(
                Remark(
                    "the end's share of the span's load on a patch of skin as wide as the base and as long "
                    "as the taper, else as the member is high; the skin a long clamped plate of one "
                    "material, as wide as the spacing"
                ),
                falls,
            ),
            missing="the plating is a sandwich, its flexural strength is not known, or the base has no width",
            governing=named,
            applies=dies,
        ),
        Judged(
            aspect=Aspect.HARD_SPOT,
            demand=openings.taper_slope(
                h_W=column([one.height for one in ends]),
                h_e=column([one.low for one in ends]),
                l_t=column([one.landing.taper if one.tapers else nan for one in ends]),
            ),
            capacity=np.full(len(ends), SLOPE_LIMIT),
            unit=unit_named(""),
            power=1,
            source=openings.taper_slope.source,
            remarks=(Remark("a proportion of common practice, no strength: a crown falls 1 in 3"), falls),
            governing=named,
            applies=tapers,
        ),
        Judged(
            aspect=Aspect.HARD_SPOT,
            demand=unknown,
            capacity=unknown,
            unit=unit_named(""),
            power=1,
            source=NO_CHECK,
            lacking=(
                Remark(_UNSAID, np.array([one.unsaid for one in ends], bool)),
                Remark(_CHINE, np.array([one.landing.on is LandsOn.CHINE for one in ends], bool)),
            ),
            governing=named,
            applies=open_,
        ),
    )


def _foot(one: Landed) -> float:
    """Return the width of skin that an end stands on: between the web roots, else the flanges'."""
    facts = one.loaded.facts
    return facts.base_width or facts.bonded_width


@dataclass(frozen=True, slots=True, kw_only=True)
class _Fibre:
    E: float
    z: float
    strength: float
    name: str
    known: Known


def _knees(ends: Sequence[Landed], allow: Allowances) -> tuple[Judged, ...]:
    spans = [one.loaded.case.span for one in ends]
    first = [_first_fibre(one.loaded) for one in ends]
    webs = [webs_of(one.loaded) for one in ends]
    M_s = openings.simple_moment(
        P=column([one.loaded.P for one in ends]),
        s=column([span.s for span in spans]),
        l_u=column([span.lu for span in spans]),
    )
    stress = openings.bending_stress(
        M_s=M_s,
        E=column([fibre.E for fibre in first]),
        z=column([fibre.z for fibre in first]),
        EI=column([one.loaded.properties.EI_y for one in ends]),
    )
    h_t = column([one.low if one.low > 0 else nan for one in ends])
    t_W = column([web.thickness for web in webs])
    throat = (
        Remark(
            "of one material: the crown with a sixth of the webs; a tight inner corner's peak is not in it"
        ),
        Remark(
            "its throat counts as high as the member: give its landing the height it has there",
            np.array([one.landing.height is None for one in ends], bool),
        ),
    )
    named = Governing(index=np.arange(len(ends)), names=(tuple(one.name for one in ends),))
    marks = np.array([web.mark.rank for web in webs], np.int8)
    return (
        Judged(
            aspect=Aspect.KNEE,
            demand=stress,
            capacity=allowed_stress(n_A=allow.ply, sigma_u=column([fibre.strength for fibre in first])),
            unit=unit_named("MPa"),
            power=1,
            source=openings.simple_moment.source,
            marks=np.array([fibre.known.rank for fibre in first], np.int8),
            remarks=(_CORNER,),
            missing="a strength of the section is missing",
            governing=Governing(index=np.arange(len(ends)), names=(tuple(fibre.name for fibre in first),)),
        ),
        Judged(
            aspect=Aspect.KNEE,
            demand=openings.throat_stress(
                M_s=M_s,
                h_t=h_t,
                b_c=column([web.crown_width for web in webs]),
                t_cr=column([web.crown_thickness for web in webs]),
                t_W=t_W,
            ),
            capacity=allowed_stress(n_A=allow.ply, sigma_u=column([web.strength for web in webs])),
            unit=unit_named("MPa"),
            power=1,
            source=openings.throat_stress.source,
            marks=marks,
            remarks=(_CORNER, *throat),
            missing="a strength of the webs is missing, or the knee has no height",
            governing=named,
        ),
        Judged(
            aspect=Aspect.KNEE,
            demand=openings.corner_shear(M_s=M_s, h_t=h_t, t_W=t_W),
            capacity=allowed_shear(n_A=allow.local, tau_u=column([web.tau for web in webs])),
            unit=unit_named("MPa"),
            power=1,
            source=openings.corner_shear.source,
            marks=marks,
            remarks=(
                _CORNER,
                Remark("the leg beyond the corner counts as deep as the throat, of the same webs"),
                throat[1],
            ),
            missing="the webs' shear strength is missing, or the knee has no height",
            governing=named,
        ),
    )


def _first_fibre(loaded: LoadedSpan) -> _Fibre:
    """Return the fibre that first reaches the weaker of its strengths; one that lacks it comes first."""
    fibres = loaded.properties.fibres
    strength = np.minimum(fibres.tension, fibres.compression)
    severity = fibres.E * np.abs(fibres.z) / strength
    index = int(np.argmax(np.where(np.isnan(severity), np.inf, severity)))
    return _Fibre(
        E=float(fibres.E[index]),
        z=float(fibres.z[index]),
        strength=float(strength[index]),
        name=fibres.names[index],
        known=Known.ranked(int(fibres.marks.max(initial=0))),
    )
