"""Local failure of spans: parts that buckle, webs that cripple, roots that open, cores that are crushed.

One row a span and aspect: of its parts, at its end and at mid-span, the one that governs. N, mm, MPa.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import nan

import numpy as np
from numpy.typing import NDArray

from stringerlab.layout import Backed
from stringerlab.methods.iso_12215_5_2008 import panels
from stringerlab.methods.mechanics.choosing import column, governing
from stringerlab.methods.mechanics.local_edges import DIMPLING, RULE, Part, bounds, columns, parts
from stringerlab.methods.mechanics.records import OWN_CHOICE, Allowances, LoadedSpan
from stringerlab.methods.mechanics.webs import allowed_stress
from stringerlab.methods.records import Aspect, Governing, Judged, Remark
from stringerlab.section import crippling, local
from stringerlab.section.strips import Kind
from stringerlab.units import MPa, NPerMm, Ratio, unit_named
from stringerlab.workings import Array, Known, Source, formula
from stringerlab.workings.maths import maximum

KNIFE = 0.0
"""Length over which a crossing bears: an edge, the safe side [mm]."""
_SOURCE = Source("stringerlab", "plate strips of a section", Known.STATED)
_CRIPPLING = Source("stringerlab", "own model of a web under a local force", Known.STATED)
_CRUSHING = Source("stringerlab", "own model of a core under a web's line", Known.STATED)
_RATIO, _FLOW, _STRESS = unit_named(""), unit_named("N/mm"), unit_named("MPa")
_UNKNOWN = "a strength of the web's laminate across the member is missing"
_WAYS = ("pressed at its root", "under a crossing", "its root opened")
_ASPECTS = {
    Kind.CROWN: Aspect.CROWN_BUCKLING,
    Kind.WEB: Aspect.WEB_BUCKLING,
    Kind.FLANGE: Aspect.FLANGE_BUCKLING,
    Kind.PLATING: Aspect.PLATING_BUCKLING,
}


@formula(symbol="sigma_skin", source=local.BEAM)
def skin_stress(E: MPa, C_1: NPerMm, C_2: NPerMm, Et_p: NPerMm) -> MPa:
    """Greatest compression of a cored part's stiffer skin."""
    return E * maximum(C_1, C_2, 0.0) / Et_p


@formula(symbol="N_y_d", source=OWN_CHOICE)
def allowed_load(n_A: Ratio, N_y_u: NPerMm) -> NPerMm:
    """Part of a load per length that is allowed."""
    return n_A * N_y_u


def judge(loaded: Sequence[LoadedSpan], allow: Allowances) -> tuple[Judged, ...]:
    """Return the local failure of spans, one row a span; rows without such a part do not apply."""
    every = parts(loaded)
    rows = len(loaded)
    found: list[Judged] = []
    for kind in Kind:
        alike = [case for case in every if case.strip.kind is kind]
        found += governing(rows, alike, lambda cases, kind=kind: (_buckling(cases, kind, allow),), (kind,))
    cored = [case for case in every if case.strip.sheet.skin is not None]
    found += governing(rows, cored, lambda cases: (_wrinkling(cases),), ("wrinkling",))
    pressed = [case for row, span in enumerate(loaded) for case in _webs(row, span)]
    found += governing(rows, pressed, lambda cases: _crippling(cases, allow), _WAYS)
    crushed = [case for case in pressed if case.root.on_shell and case.cored is not None]
    found += governing(rows, crushed, lambda cases: (_crushing(cases, allow),), ("crushing",))
    return (*found, *_print_through(loaded))


def _buckling(cases: Sequence[Part], kind: Kind, allow: Allowances) -> Judged:
    k_theta = column([case.k_theta for case in cases])
    used = local.used(*columns(cases), webs=kind is Kind.WEB, k_theta=k_theta)
    remarks = [
        RULE,
        *bounds(cases),
        Remark(
            "bending and twisting are coupled by more than a fifth: it may buckle sooner",
            _where(local.leaning(case.strip.sheet) > local.LEANING for case in cases),
        ),
        Remark("softened by its core's shear", _where(case.strip.sheet.skin is not None for case in cases)),
    ]
    if kind is Kind.PLATING:
        beside = _where("of the webs" in case.strip.place for case in cases)
        remarks.append(Remark("beyond the webs a plate twice as wide as what is counted there", beside))
    if kind is Kind.WEB:
        free = _where(case.strip.free for case in cases)
        remarks.append(Remark("its top is taken as free: nothing is drawn on it", free))
    return Judged(
        aspect=_ASPECTS[kind],
        demand=used.part,
        capacity=np.full(len(cases), allow.buckling),
        unit=_RATIO,
        power=1.0,
        source=_SOURCE,
        marks=np.array([case.strip.sheet.known.rank for case in cases], np.int8),
        remarks=tuple(remark for remark in remarks if remark.where is None or remark.where.any()),
        missing="the part's laminate has no stiffness",
        governing=_named([f"{case.strip.place}, {case.where}" for case in cases]),
    )


def _wrinkling(cases: Sequence[Part]) -> Judged:
    held, acting = columns(cases)
    skins = [case.strip.sheet.skin for case in cases]
    E, E_c, G_c = (
        column([nan if skin is None else value for skin, value in zip(skins, values, strict=True)])
        for values in (
            [skin.E if skin else nan for skin in skins],
            [skin.E_c if skin else nan for skin in skins],
            [skin.G_c if skin else nan for skin in skins],
        )
    )
    C_1, C_2 = local.edges(held, acting)
    return Judged(
        aspect=Aspect.SKIN_WRINKLING,
        demand=skin_stress(E=E, C_1=C_1, C_2=C_2, Et_p=held.column(8)),
        capacity=panels.wrinkling_stress(E=E, E_c=E_c, G_c=G_c),
        unit=_STRESS,
        power=1.0,
        source=_SOURCE,
        marks=np.array([case.strip.sheet.known.rank for case in cases], np.int8),
        remarks=(
            Remark("the design value, 0.6 of the stress at which a skin wrinkles"),
            *_dimpling(cases),
        ),
        missing="the core's modulus is missing",
        governing=_named([f"{case.strip.place}, {case.where}" for case in cases]),
    )


def _dimpling(cases: Sequence[Part]) -> tuple[Remark, ...]:
    named = _where(skin is not None and skin.honeycomb for skin in (case.strip.sheet.skin for case in cases))
    return (Remark(DIMPLING, named),) if named.any() else ()


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Pressed:
    """A web pressed on at the end of its span, and along it by the pressure."""

    row: int
    root: crippling.Root
    cored: crippling.Cored | None
    Gth: float
    count: int
    """Webs that stand on the shell."""
    shear: float
    P: float
    s: float
    l_u: float
    rebound: float
    """Of the pressure; nan where the bond's allowances are out of their ranges."""
    rebound_known: Known
    bead: float
    bonded: float
    bearing: bool
    """Whether a crossing with nothing behind it bears on it."""


def _webs(row: int, span: LoadedSpan) -> Iterator[_Pressed]:
    found = crippling.roots(span.facts.shape, span.facts.deadrise)
    standing = sum(root.on_shell for root in found)
    for root in found:
        yield _Pressed(
            row=row,
            root=root,
            cored=crippling.cored(span.plating.stack) if span.case.span.attached else None,
            Gth=sum(one.Gth for one in found),
            count=max(standing, 1),
            shear=span.end.V_z,
            P=span.P,
            s=span.case.span.s,
            l_u=span.case.span.lu,
            rebound=nan if span.case.bonding is None else span.case.bonding.rebound.value,
            rebound_known=Known.STATED if span.case.bonding is None else span.case.bonding.rebound.known,
            bead=span.facts.shape.bead,
            bonded=span.facts.bonded_width,
            bearing=any(crossing.backed is Backed.NONE for crossing in span.case.span.crossings),
        )


def _crippling(cases: Sequence[_Pressed], allow: Allowances) -> tuple[Judged, ...]:
    roots = [case.root for case in cases]
    marks = np.array([root.known.rank for root in roots], np.int8)
    depth, part = column([root.depth for root in roots]), np.full(len(cases), allow.local)
    bows = crippling.column_load(D_22=column([root.D_22 for root in roots]), d_W=depth)
    bows = local.softened(bows, column([root.S for root in roots]))
    bears = crippling.crippling_load(N_y_c=column([root.crush for root in roots]), N_y_cr=bows)
    up = _line(cases)
    capacity = allowed_load(n_A=part, N_y_u=bears)
    along = Judged(
        aspect=Aspect.WEB_CRIPPLING,
        demand=up,
        capacity=capacity,
        unit=_FLOW,
        power=1.0,
        source=_CRIPPLING,
        marks=marks,
        remarks=(Remark("a wide column with hinged ends, all of its force up to the crown: the safe side"),),
        missing=_UNKNOWN,
        governing=_named([f"{root.place}, {_WAYS[0]}" for root in roots]),
        applies=_where(root.on_shell for root in roots),
    )
    F = crippling.web_force(
        V_e=column([case.shear for case in cases]),
        Gth_W=column([root.Gth for root in roots]),
        Gth=column([case.Gth for case in cases]),
    )
    crossed = replace(
        along,
        demand=crippling.spread_force(F_W=F, l_B=KNIFE, d_W=depth),
        remarks=(
            Remark("a crossing with nothing behind it bears with the end's shear, on an edge, spread at 45°"),
        ),
        governing=_named([f"{root.place}, {_WAYS[1]}" for root in roots]),
        applies=_where(case.bearing for case in cases),
    )
    R_i, t = column([root.R_i for root in roots]), column([root.t for root in roots])
    opening = crippling.root_moment(f_r=column([case.rebound for case in cases]), N_y=up, R_m=R_i + t / 2)
    bent = Judged(
        aspect=Aspect.WEB_CRIPPLING,
        demand=crippling.radial_tension(m_r=opening, t=t, R_i=R_i, R_o=R_i + t),
        capacity=allowed_stress(n_A=part, sigma_u=column([root.interlaminar for root in roots])),
        unit=_STRESS,
        power=1.0,
        source=_CRIPPLING,
        marks=np.maximum(marks, np.array([case.rebound_known.rank for case in cases], np.int8)),
        remarks=(
            Remark("opened as the hull comes back, by the rebound of the bond's allowances"),
            Remark("interlaminar shear strength stands in for tension through the thickness"),
        ),
        missing="a ply's interlaminar strength is missing, or the bond's allowances are out of their ranges",
        governing=_named([f"{root.place}, {_WAYS[2]}" for root in roots]),
        applies=~np.isnan(R_i),
    )
    return along, crossed, bent


def _line(cases: Sequence[_Pressed]) -> Array:
    return crippling.line_force(
        P=column([case.P for case in cases]),
        s=column([case.s for case in cases]),
        l_u=column([case.l_u for case in cases]),
        n_r=column([case.count for case in cases]),
    )


def _crushing(cases: Sequence[_Pressed], allow: Allowances) -> Judged:
    cores = [case.cored for case in cases]
    width = crippling.bearing_width(
        t_web=column([case.root.t for case in cases]),
        t_F=column([case.root.flange for case in cases]),
        t_B=column([case.bead if case.root.flange else 0.0 for case in cases]),
        t_i=column([core.t_i if core else nan for core in cores]),
        w_F=column([case.bonded / case.count if case.root.flange else np.inf for case in cases]),
    )
    return Judged(
        aspect=Aspect.CORE_CRUSHING,
        demand=crippling.bearing_pressure(N_y=_line(cases), w_B=width),
        capacity=allowed_stress(
            n_A=np.full(len(cases), allow.local),
            sigma_u=column([core.strength if core else nan for core in cores]),
        ),
        unit=_STRESS,
        power=1.0,
        source=_CRUSHING,
        marks=np.array([core.known.rank if core else 0 for core in cores], np.int8),
        remarks=(Remark("under a web's line; a solid or dense core there is the usual way out"),),
        missing="the core's compressive strength is missing",
        governing=_named(
            [
                f"{case.root.place}, on {core.name if core else ''}"
                for case, core in zip(cases, cores, strict=True)
            ]
        ),
    )


def _print_through(loaded: Sequence[LoadedSpan]) -> tuple[Judged, ...]:
    """Return what is only advice: flange and bead against the skin under them."""
    sizes = [
        crippling.flange_over(span.facts.shape, span.facts.deadrise, span.plating.stack) for span in loaded
    ]
    flange, hull = (column([size[at] for size in sizes]) for at in (0, 1))
    here = (flange > 0) & np.array([span.case.span.attached for span in loaded], bool)
    if not here.any():
        return ()
    bead = column([span.facts.shape.bead for span in loaded])
    return (
        Judged(
            aspect=Aspect.PRINT_THROUGH,
            demand=crippling.print_through(t_F=flange, t_B=bead, t_hull=hull),
            capacity=np.ones(len(loaded)),
            unit=_RATIO,
            power=1.0,
            source=crippling.ADVICE,
            remarks=(
                Remark("advice only, not judged: a rule of thumb, common practice, without a source"),
                Remark(
                    "risk: flange and bead together are thicker than the skin under them and may print "
                    "through it",
                    flange + bead > hull,
                ),
                Remark("no risk by it: the skin is as thick as flange and bead", flange + bead <= hull),
            ),
            missing="the hull's laminate has no thickness",
            advice=True,
            applies=here,
        ),
    )


def _named(names: Sequence[str]) -> Governing:
    return Governing(index=np.zeros(len(names), np.intp), names=tuple((name,) for name in names))


def _where(values: Iterator[bool]) -> NDArray[np.bool_]:
    return np.array(list(values), bool)
