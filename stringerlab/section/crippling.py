"""What presses on a section: webs that cripple, roots that open, cores that are crushed. N, mm, MPa.

The models are simple, and our own where no source is named. A force on a web spreads at 45° from its bearing
to half the web's depth, both ways; pressure on the plating comes up all along the web's root, that of a field
no longer than the span. The web is crushed, or bows out as a wide column with hinged ends.
"""

from dataclasses import dataclass
from functools import lru_cache
from math import inf, nan

import numpy as np

from stringerlab.errors import StringerlabError
from stringerlab.laminate import (
    Resultants,
    Stack,
    first_failure,
    is_sandwich,
    mark_of,
    reinforced,
    skins,
    thickness,
)
from stringerlab.section import webs
from stringerlab.section.bodies import bodies
from stringerlab.section.plies import stack_sizes
from stringerlab.section.records import SectionShape
from stringerlab.section.sheets import sheet
from stringerlab.section.webs import CONTACT, Run, Web
from stringerlab.units import Mm, MPa, N, NMm2PerMm, NMmPerMm, NPerMm, Ratio
from stringerlab.workings import Known, Source, formula, weakest
from stringerlab.workings.maths import minimum, pi, sqrt

_KEPT = 128

ADVICE = Source("Common practice", "print-through of beads and flanges, a rule of thumb", Known.PRACTICE)
_OWN = Source("stringerlab", "own model of a web under a local force", Known.STATED)
_COLUMN = Source("Euler", "wide column, hinged ends", Known.MEMORY_H)
_CURVED = Source("Curved laminates", "radial stress of a bent corner", Known.MEMORY_H)


@formula(symbol="N_y", source=_OWN)
def spread_force(F_W: N, l_B: Mm, d_W: Mm) -> NPerMm:
    """Force along a web's depth, per length of web, at half its depth."""
    return F_W / (l_B + d_W)


@formula(symbol="N_y", source=_OWN)
def line_force(P: MPa, s: Mm, l_u: Mm, n_r: Ratio) -> NPerMm:
    """Force up a web at its root, per length, from the pressure on the plating."""
    return P * minimum(s, l_u) / n_r


@formula(symbol="F_W", source=_OWN)
def web_force(V_e: N, Gth_W: N, Gth: N) -> N:
    """A web's share of the force at a support."""
    return sqrt(V_e**2) * Gth_W / Gth


@formula(symbol="N_y_cr", source=_COLUMN)
def column_load(D_22: NMm2PerMm, d_W: Mm) -> NPerMm:
    """Force per length at which a web bows out."""
    return pi**2 * D_22 / d_W**2


@formula(symbol="N_y_u", source=_OWN)
def crippling_load(N_y_c: NPerMm, N_y_cr: NPerMm) -> NPerMm:
    """Force per length at which a web cripples: it is crushed, or bows out."""
    return minimum(N_y_c, N_y_cr)


@formula(symbol="m_r", source=_OWN)
def root_moment(f_r: Ratio, N_y: NPerMm, R_m: Mm) -> NMmPerMm:
    """Moment that opens a web's root, per length: the web's pull at the arm of the bend."""
    return f_r * N_y * R_m


@formula(symbol="sigma_r_t", source=_CURVED)
def radial_tension(m_r: NMmPerMm, t: Mm, R_i: Mm, R_o: Mm) -> MPa:
    """Greatest radial tension in a bent laminate that a moment opens."""
    return 3 * m_r / (2 * t * sqrt(R_i * R_o))


@formula(symbol="p_B", source=_OWN)
def bearing_pressure(N_y: NPerMm, w_B: Mm) -> MPa:
    """Pressure on the core under a web's line."""
    return N_y / w_B


@formula(symbol="w_B", source=_OWN)
def bearing_width(t_web: Mm, t_F: Mm, t_B: Mm, t_i: Mm, w_F: Mm) -> Mm:
    """Width over which a web's line reaches a core: 45° through flange, bead and inner skin."""
    return minimum(t_web + 2 * (t_F + t_B + t_i), w_F)


@formula(symbol="r_pt", source=ADVICE)
def print_through(t_F: Mm, t_B: Mm, t_hull: Mm) -> Ratio:
    """Flange and bead over the hull's laminate under them."""
    return (t_F + t_B) / t_hull


@dataclass(frozen=True, slots=True, kw_only=True)
class Root:
    """A web, and the bend at its foot where its own laminate turns into a bonded flange."""

    place: str
    depth: float
    D_22: float
    """Across the member, up the web [N·mm]."""
    S: float
    Gth: float
    """Shear stiffness times height [N]."""
    crush: float
    """Force per length up the web at its first ply's failure [N/mm]; nan where a strength is missing."""
    known: Known
    t: float
    """Without gel coat."""
    R_i: float
    """Of the bend's inner face; nan where the root is sharp or no bend of its own laminate."""
    interlaminar: float
    """The least of its plies'; nan when missing."""
    flange: float
    """Thickness of the flange bonded at it, without gel coat; 0 for none."""
    on_shell: bool
    """Whether its foot is on the shell."""


@lru_cache(_KEPT)
def roots(shape: SectionShape, deadrise: float = 0.0) -> tuple[Root, ...]:
    """Return a section's webs as they bear on what is below.

    Raises
    ------
    StringerlabError
        With everything that forbids a number.
    """
    built = bodies(shape, deadrise=deadrise)
    if built.faults:
        raise StringerlabError(built.faults)
    found = webs.runs(built, deadrise)
    standing = webs.carrying(webs.webs(found), found)
    flats = [
        run
        for run in found
        if not run.steep and float(np.abs(run.shell_face.imag).min()) <= shape.bead + CONTACT
    ]
    return tuple(_root(shape, number, web, flats) for number, web in enumerate(standing, 1))


def _root(shape: SectionShape, number: int, web: Web, flats: list[Run]) -> Root:
    low = web.runs[0]
    stack = shape.walls[low.wall].stack
    plate = sheet(stack)
    t = stack_sizes(stack).levels[-1]
    foot = complex(low.near[low.foot])
    own = [run for run in flats if run.wall == low.wall and _meets(run, foot)]
    near = own or [run for run in flats if _gap(run, foot) <= web.bottom + t + CONTACT]
    flange = max((stack_sizes(shape.walls[run.wall].stack).thickness for run in near), default=0.0)
    plies = reinforced(stack)
    known = weakest(
        (
            mark_of(ply, "thickness", "E1", "E2", "compression_1", "compression_2", "interlaminar")
            for ply in plies
        ),
        default=Known.ESTIMATE,
    )
    values = [nan if ply.interlaminar is None else ply.interlaminar for ply in plies]
    return Root(
        place=f"web {number}, {shape.walls[low.wall].id}",
        depth=web.length,
        D_22=float(plate.D[1, 1]),
        S=plate.S,
        Gth=sum(sheet(shape.walls[run.wall].stack).Gt * run.climb for run in web.runs),
        crush=crushing(stack),
        known=known,
        t=plate.t,
        R_i=_inner_radius(low, own[0]) if own else nan,
        interlaminar=float(np.min(values)) if values else nan,
        flange=flange,
        on_shell=bool(own) or web.bottom <= shape.bead + 2 * t + 1.0,
    )


def _meets(run: Run, foot: complex) -> bool:
    return bool(min(abs(complex(run.near[0]) - foot), abs(complex(run.near[-1]) - foot)) <= CONTACT)


def _gap(run: Run, foot: complex) -> float:
    low, high = float(run.near.real.min()), float(run.near.real.max())
    return max(low - foot.real, foot.real - high, 0.0)


def _inner_radius(web: Run, flange: Run) -> float:
    """Return the radius of a bend's inner face by the chords of its two faces; nan where it is sharp."""
    near, far, chords = 0.0, 0.0, 0
    for run in (web, flange):
        for index in _chords_from(run, complex(web.near[web.foot])):
            near += float(abs(run.near[index + 1] - run.near[index]))
            far += float(abs(run.far[index + 1] - run.far[index]))
            chords += 1
    if not chords or min(near, far) <= 0:
        return nan
    apart = abs(complex(web.near[web.foot] - web.far[web.foot]))
    # half a chord's turn lies in the halves of the end corners that belong to the straight pieces
    turned = abs(far - near) / apart * chords / (chords - 0.5)
    if turned <= 0:
        return nan
    inner = near / turned - (apart if far < near else 0.0)
    return inner if inner > 0 else nan


def _chords_from(run: Run, corner: complex) -> list[int]:
    """Return the indices of a run's chords that go on from its end at a corner."""
    order = (
        range(len(run.chord))
        if abs(complex(run.near[0]) - corner) <= CONTACT
        else range(len(run.chord) - 1, -1, -1)
    )
    found: list[int] = []
    for index in order:
        if not run.chord[index]:
            break
        found.append(index)
    return found


@lru_cache(_KEPT)
def crushing(stack: Stack) -> float:
    """Return the compression across the member at which a laminate's first ply fails [N/mm], else nan."""
    try:
        first, _ = first_failure(stack, Resultants(N=(0.0, -1.0, 0.0)))
    except StringerlabError:
        return nan
    return first.factor


@dataclass(frozen=True, slots=True, kw_only=True)
class Cored:
    """The core of a bottom as webs press on it."""

    strength: float
    """The least of its cores' compressive strengths [MPa]; nan when missing."""
    t_i: float
    """Of the skin towards the webs, without gel coat."""
    known: Known
    name: str


@lru_cache(_KEPT)
def cored(stack: Stack) -> Cored | None:
    """Return the core of a hull's laminate; None for a single skin."""
    if not is_sandwich(stack):
        return None
    _, cores, inner = skins(stack)
    values = [nan if core.compression_1 is None else core.compression_1 for core in cores]
    weak = cores[int(np.argmin(np.nan_to_num(values, nan=-inf)))]
    return Cored(
        strength=float(np.min(values)),
        t_i=thickness(inner),
        known=weakest(mark_of(core, "compression_1") for core in cores),
        name=weak.name,
    )


def flange_over(shape: SectionShape, deadrise: float, hull: Stack) -> tuple[float, float]:
    """Return the thickest flange on the hull, 0 for none, and the hull under it without gel coat [mm]."""
    return max((root.flange for root in roots(shape, deadrise)), default=0.0), thickness(hull)
