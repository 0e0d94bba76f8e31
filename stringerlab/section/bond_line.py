"""A section's bond lines: where its flanges lie on the hull, what each carries of the shear, its root's bend.

Places along the shell from the section's origin; N, mm, MPa. What lies above the bond is the section itself,
walls and fills; below it lies the plating.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from math import cos, nan

import numpy as np
from numpy.typing import NDArray

from stringerlab import laminate
from stringerlab.laminate.records import Role, Stack
from stringerlab.section import webs
from stringerlab.section.bodies import KEPT, bodies
from stringerlab.section.contact import CONTACT, in_shell_axes
from stringerlab.section.plies import stack_sizes
from stringerlab.section.records import Plating, SectionShape, Side, WallShape
from stringerlab.section.sizes import Facts
from stringerlab.section.stiffness import Properties
from stringerlab.workings import Known

Array = NDArray[np.float64]

LEAST_FLANGE = 1.0
"""What bonds over less is a drawing's own, no flange [mm]."""
BACK_TO_BACK = 3.0
"""Roots no further apart than so many thicknesses of a web are those of webs back to back: one foot."""
LEAST_BEND = 1.0
"""Inner radius at which a bend drawn sharp counts [mm]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Adherend:
    """A laminate as one side of a bond, across the member [mm, N]."""

    thickness: float
    """Without gel coat."""
    D: float
    """Bending stiffness across the member, per width, free to warp."""
    S: float
    """In-plane shear stiffness, per width."""
    interlaminar: float
    """Of its weakest reinforced ply [MPa]; nan where one is missing."""
    dry_weight: float
    """g/m²."""
    known: Known
    """How well the interlaminar strength is known."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Flange:
    """One place where a section lies on the hull."""

    start: float
    end: float
    """Along the shell, to the right."""
    laminate: Adherend
    from_root: float
    """From the nearest web root to the bond; 0 at it."""
    share: float
    """Of the shear flow across all bond lines."""
    inner: float
    """Of that, what the hull brings from the root's side of the flange."""
    outer: float
    """What it brings from the toe's side; the rest the hull picks up under the flange."""

    @property
    def width(self) -> float:
        """Bonded, voids included."""
        return self.end - self.start


@dataclass(frozen=True, slots=True, kw_only=True)
class BondLine:
    """All flanges of a section, on one strip of plating."""

    flanges: tuple[Flange, ...]
    """From left to right; none where nothing lies on the hull."""
    ES: float
    """First moment of E of what lies above the bond, about the neutral axis [N·mm]."""
    EA: float
    """Of what lies above the bond [N]."""
    lines: int
    """How many lines a pull is shared by: two, where there are two flanges or more."""
    apart: float
    """Between the two lines of a couple; of a single flange two thirds of its width."""
    one_foot: bool
    """Whether two flanges on a bead turn as one: of one web, or of webs back to back."""
    hull: Adherend
    bend: tuple[float, float]
    """Inner and outer radius of the tightest bend at a web root; nan where there is none."""
    sharp: bool
    """Whether that bend is drawn sharper than a laminate can be laid: it counts at 1 mm inside."""


@lru_cache(2 * KEPT)
def bond_line(shape: SectionShape, facts: Facts, properties: Properties, plating: Plating) -> BondLine:
    """Return a section's bond lines, remembered; sizes and stiffness by identity, as they are kept by value.

    Parameters
    ----------
    shape
        The section.
    facts
        Its sizes.
    properties
        Its stiffness with the plating under it.
    plating
        The strip counted.

    Raises
    ------
    StringerlabError
        When a laminate has no stiffness across the member.
    """
    ES, EA, y_bar = _first_moment(shape, properties, plating)
    places = [place for found in _lying(shape, facts) for place in _split(found, facts.roots)]
    shares = _shares(
        np.array([end - start for start, end, _ in places]),
        np.array([(start + end) / 2 for start, end, _ in places]) * cos(facts.deadrise),
        y_bar,
    )
    flanges = tuple(
        Flange(
            start=start,
            end=end,
            laminate=adherend(stack),
            from_root=_from_root(start, end, facts.roots),
            share=share,
            inner=inner,
            outer=outer,
        )
        for (start, end, stack), share, (inner, outer) in zip(
            places, shares.tolist(), _brought(places, facts.roots, plating.width), strict=True
        )
    )
    lines, apart = _couple(flanges, facts)
    bend, sharp = root_bend(shape, facts.deadrise)
    return BondLine(
        flanges=flanges,
        ES=ES,
        EA=EA,
        one_foot=shape.bead > 0
        and len(flanges) == 2
        and facts.base_width <= BACK_TO_BACK * facts.web_thickness + CONTACT,
        lines=lines,
        apart=apart,
        hull=adherend(plating.stack),
        bend=bend,
        sharp=sharp,
    )


@lru_cache(KEPT)
def adherend(stack: Stack) -> Adherend:
    """Return a laminate as one side of a bond; its reference direction runs along the member."""
    t = laminate.thickness(stack)
    plies = [ply for ply in stack.plies if ply.role is Role.REINFORCED]
    strengths = [nan if ply.interlaminar is None else ply.interlaminar for ply in plies]
    return Adherend(
        thickness=t,
        D=laminate.flexural_constants(stack).Ey * t**3 / 12,
        S=float(laminate.abd(stack)[2, 2]),
        interlaminar=float(np.min(strengths)) if strengths else nan,
        dry_weight=laminate.dry_mass(stack),
        known=max(
            (laminate.mark_of(ply, "interlaminar") for ply in plies),
            key=lambda mark: mark.rank,
            default=Known.ESTIMATE,
        ),
    )


def _first_moment(
    shape: SectionShape, properties: Properties, plating: Plating
) -> tuple[float, float, float]:
    """Return the first moment of E of what lies above the bond, its EA, and the y at which its shear acts."""
    moments = np.concatenate(
        [_about_origin(part.moments, part.about) for part, _ in properties.parts], axis=1
    )
    E = np.concatenate([weights for _, weights in properties.parts])
    above = np.ones(len(E), bool)
    last = len(E) - len(shape.fills)
    above[last - len(plating.stack.plies) : last] = False
    A, Sy, Sz, _, _, Iyz = (moments[:, above] @ E[above]).tolist()
    ES = Sz - properties.z_na * A
    return ES, A, (Iyz - properties.z_na * Sy) / ES if ES else properties.y_na


def _about_origin(moments: Array, about: tuple[float, float]) -> Array:
    """Return A, ∫y, ∫z, ∫y², ∫z², ∫yz about the section's origin."""
    A, Sy, Sz, Iyy, Izz, Iyz = moments
    y, z = about
    return np.array(
        [
            A,
            Sy + A * y,
            Sz + A * z,
            Iyy + (2 * Sy + A * y) * y,
            Izz + (2 * Sz + A * z) * z,
            Iyz + Sy * z + Sz * y + A * y * z,
        ]
    )


def _shares(width: Array, y: Array, y_bar: float) -> Array:
    """Return what part of the shear flow each flange takes, (k,).

    By width alone where the section is symmetrical; else so that together they act where the flow does:
    what lies above is then in balance against turning about the upright axis.
    """
    if not len(width):
        return width
    part = width / width.sum()
    middle = float(part @ y)
    spread = float(part @ (y - middle) ** 2)
    return part if spread <= 0 else part * (1 + (y - middle) * (y_bar - middle) / spread)


def _brought(
    places: Sequence[tuple[float, float, Stack]], roots: Sequence[float], width: float
) -> Iterator[tuple[float, float]]:
    """Yield what part of each flange's flow the hull brings from its root's side, and from its toe's.

    The strip counted carries evenly; it is parted half-way between flanges, and at a web root they share.
    A flange without a root is taken as pulled at its two ends.
    """
    for i, (start, end, _) in enumerate(places):
        low = (places[i - 1][1] + start) / 2 if i else -width / 2
        high = (end + places[i + 1][0]) / 2 if i + 1 < len(places) else width / 2
        left, under, right = max(start - low, 0.0), end - start, max(high - end, 0.0)
        if not roots:
            yield 0.0, 1.0
            continue
        root = min(roots, key=lambda one: abs(one - (start + end) / 2))
        inner, outer = (left, right) if root < (start + end) / 2 else (right, left)
        whole = inner + under + outer
        yield inner / whole, outer / whole


def _lying(shape: SectionShape, facts: Facts) -> Iterator[tuple[float, float, Stack]]:
    """Yield the places of ``facts.bonded``, each with the laminate that lies there over the most."""
    built = bodies(shape, deadrise=facts.deadrise)
    flat = [
        (*place, shape.walls[run.wall].stack)
        for run in webs.runs(built, facts.deadrise)
        if shape.walls[run.wall].counted
        for place in webs.bonded([run], shape.bead)
    ]
    for start, end in facts.bonded:
        if end - start < LEAST_FLANGE:
            continue
        most = max(flat, key=lambda one: min(end, one[1]) - max(start, one[0]))
        yield start, end, most[2]


def _split(place: tuple[float, float, Stack], roots: Sequence[float]) -> Iterator[tuple[float, float, Stack]]:
    """Yield a place cut at the web roots that stand within it: each side is a flange of its own.

    What reaches past a root by less than its own thickness is the foot of the web's bend, and no flange.
    """
    start, end, stack = place
    least = max(LEAST_FLANGE, stack_sizes(stack).thickness)
    inside = sorted(root for root in roots if start + least < root < end - least)
    for one, other in pairwise([start, *inside, end]):
        if other - one >= LEAST_FLANGE:
            yield one, other, stack


def _from_root(start: float, end: float, roots: Sequence[float]) -> float:
    """Return how far the nearest web root is from the bond's nearer edge."""
    if not roots:
        return 0.0
    away = min(max(start - root, root - end) for root in roots)
    return max(away, 0.0)


def _couple(flanges: Sequence[Flange], facts: Facts) -> tuple[int, float]:
    """Return how many lines there are, and how far apart the two of a couple are."""
    if not flanges:
        return 0, nan
    first, last = flanges[0], flanges[-1]
    if first is last:
        return 1, 2 * first.width / 3
    between = (last.start + last.end - first.start - first.end) / 2
    return 2, facts.base_width if facts.base_width > CONTACT else between


def root_bend(shape: SectionShape, deadrise: float) -> tuple[tuple[float, float], bool]:
    """Return the radii inside and outside of the tightest bend at a web root, and whether it is too sharp."""
    bends = [bend for wall in shape.walls for bend in _bends(wall, shape.bead, deadrise)]
    if not bends:
        return (nan, nan), False
    inner, t = min(bends)
    held = max(inner, LEAST_BEND)
    return (held, held + t), inner < LEAST_BEND


def _bends(wall: WallShape, bead: float, deadrise: float) -> Iterator[tuple[float, float]]:
    """Yield the inner radius and the laminate's thickness of a wall's corners between flange and web."""
    points = in_shell_axes(np.array([complex(*point) for point in wall.points]), deadrise)
    count = len(points)
    sizes = stack_sizes(wall.stack)
    built = float(sizes.levels[-1])
    side = 1.0 if wall.side is Side.LEFT else -1.0
    for i in range(count) if wall.closed else range(1, count - 1):
        before, after = points[i] - points[i - 1], points[(i + 1) % count] - points[i]
        steep = [abs(step.imag) > abs(step.real) for step in (before, after)]
        if points[i].imag > bead + built + webs.CONTACT or steep[0] == steep[1]:
            continue
        turn = float(np.sign((before.conjugate() * after).imag))
        radius = wall.fillets[i] if wall.fillets else 0.0
        yield (radius - built if side * turn > 0 else radius), sizes.thickness
