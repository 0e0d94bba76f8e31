"""What of a section carries shear, laminate by laminate: outlines with one E and one G each. mm, MPa.

The reinforced plies of a wall that lie on one another are one region: its E the mean of theirs along the
member, its G the shear modulus of that laminate in its own plane, free to stretch (1/(a66 t)), both ways.
A sandwich is skin, core, skin, the core with its own G and no E. Gel coat is none. Of fills those with a
modulus count, with Poisson's ratio 0.3; foam is none. The bead under bonded flanges joins them to the shell,
with the shear modulus of its adhesive.
A wall lying on the hull counts for the share of it that is bonded.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import groupby

import numpy as np

from stringerlab import laminate
from stringerlab.errors import Problem, StringerlabError
from stringerlab.geometry.areas import Area, Array
from stringerlab.geometry.chords import as_pairs
from stringerlab.laminate.records import Moduli, PlyNumbers, Role, Stack
from stringerlab.section.bodies import Bodies, bodies
from stringerlab.section.records import Plating, SectionShape
from stringerlab.section.solids import beads
from stringerlab.workings import Known, Source

PLATING = "plating"
BEAD = "bead"
THINNEST = 0.1
"""A wall's plies together must be as thick [mm]: a mesh of less is all slivers."""
FILL_POISSON = 0.3
BEAD_G = 150.0
"""Shear modulus of a bead whose adhesive is not known [MPa]: the lower end for methacrylate."""
BEAD_SOURCE = Source(title="methacrylate adhesive, makers' moduli", clause="E/2(1+ν)", known=Known.MEMORY_M)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Run:
    """Plies of a laminate that lie on one another and count as one."""

    first: int
    last: int
    """Plies first … last − 1 of the stack."""
    thickness: float
    E: float
    """Mean modulus along the member [MPa]."""
    G: float
    """In-plane shear modulus [MPa]."""
    core: bool


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Region:
    """An area of one E and one G [MPa]."""

    owner: str
    """Wall id, ``plating``, ``bead`` or fill id."""
    stroke: int
    """Index of the wall's line in the drawing, −1 for beads and fills."""
    low: float
    high: float
    """Offsets of its faces from that line."""
    E: float
    G: float
    area: Area
    line: Array | None = None
    """(n, 2) vertices of that line …"""
    mitres: Array | None = None
    """(n, 2) … and where a unit offset to its left moves them."""


@lru_cache(512)
def runs(stack: Stack) -> tuple[Run, ...]:
    """Return the runs of a laminate that carry shear: its reinforced plies together, cores one by one.

    Of plies without stiffness G is 0, for whoever knows the wall to say.
    """
    axial = _axial(stack)
    E, sound = (np.zeros(len(stack.plies)), False) if axial is None else (axial, True)
    found: list[Run] = []
    numbered = list(enumerate(stack.plies))
    for role, group in groupby(numbered, key=lambda pair: pair[1].role):
        plies = list(group)
        first, last = plies[0][0], plies[-1][0] + 1
        members = tuple(ply for _, ply in plies)
        if role is Role.REINFORCED:
            thicknesses = np.array([ply.thickness for ply in members])
            found.append(
                Run(
                    first=first,
                    last=last,
                    thickness=float(thicknesses.sum()),
                    E=float(E[first:last] @ thicknesses / thicknesses.sum()),
                    G=_in_plane(members) if sound else 0.0,
                    core=False,
                )
            )
        elif role is Role.CORE:
            found += [
                Run(first=at, last=at + 1, thickness=ply.thickness, E=0.0, G=ply.G12, core=True)
                for at, ply in plies
                if ply.G12 > 0
            ]
    return tuple(found)


def _axial(stack: Stack) -> Array | None:
    """Return the plies' moduli along the member; None where they have no stiffness."""
    try:
        return laminate.axial_moduli(stack, Moduli.CONTRACTED)
    except StringerlabError:
        return None


def _in_plane(plies: tuple[PlyNumbers, ...]) -> float:
    """Return the shear modulus; 0 where plies have no stiffness."""
    try:
        return float(laminate.engineering_constants(Stack(name="", plies=plies)).Gxy)
    except StringerlabError:
        return 0.0


def without_shear(where: str) -> Problem:
    """Return what is said of a wall whose laminate has no shear stiffness."""
    return Problem("Its laminate has no shear stiffness.", where, "Give its plies a shear modulus.")


@lru_cache(32)
def regions(shape: SectionShape, plating: Plating | None = None) -> tuple[Region, ...]:
    """Return what carries shear in a section, walls in their order, then plating, beads and fills.

    Raises
    ------
    StringerlabError
        With everything that forbids an outline; when a wall is thinner than `THINNEST` or has no shear
        stiffness; when nothing carries.
    """
    built = bodies(shape, plating)
    if built.faults:
        raise StringerlabError(built.faults)
    problems: list[Problem] = []
    found = [*_walls(shape, plating, built, problems)]
    if plating is not None and shape.bead > 0:
        found += [
            Region(owner=BEAD, stroke=-1, low=0.0, high=0.0, E=0.0, G=bead_G(shape), area=area)
            for area in beads(shape, plating.deadrise)
        ]
    found += _fills(built)
    if not found and not problems:
        problems.append(
            Problem(
                "Nothing in it carries shear.", f"section '{shape.name}'", "Draw a wall of reinforced plies."
            )
        )
    if problems:
        raise StringerlabError(problems)
    return tuple(_with_laps(found, shape.laps))


def bead_G(shape: SectionShape) -> float:
    """Return the shear modulus of a section's bead [MPa]: its adhesive's, `BEAD_G` where none is known."""
    return BEAD_G if shape.bead_G is None else shape.bead_G


def bead_notes(shape: SectionShape, plating: Plating | None) -> tuple[Problem, ...]:
    """Return what is to be said of a bead that joins a section to its plating: an adhesive not known."""
    if plating is None or not shape.bead > 0 or shape.bead_G is not None:
        return ()
    return (
        Problem(
            f"The adhesive of its bead is not known; its shear modulus is taken as {BEAD_G:g} MPa.",
            f"section '{shape.name}'",
            "Name the section's adhesive.",
        ),
    )


def _walls(
    shape: SectionShape, plating: Plating | None, built: Bodies, problems: list[Problem]
) -> Iterator[Region]:
    from stringerlab.section import cutting

    lines = built.drawing.lines
    if lines is None:
        return
    for index, stroke in enumerate(built.drawing.strokes):
        if stroke.wall >= 0:
            wall = shape.walls[stroke.wall]
            owner, stack, counted = wall.id, wall.stack, wall.counted
        elif plating is not None:
            owner, stack, counted = PLATING, plating.stack, 1.0
        else:
            continue
        if not counted:
            continue
        made = runs(stack)
        thickness = sum(run.thickness for run in made if not run.core)
        if not thickness >= THINNEST:
            problems.append(
                Problem(
                    f"What carries of it is {thickness:.3g} mm thick, below {THINNEST:g} mm.",
                    stroke.where,
                    "Give its plies their thickness, or take the wall out.",
                )
            )
            continue
        takes = built.cut.walls.get(index, []) if built.cut is not None and stroke.wall >= 0 else []
        for run in made:
            if not (run.G > 0 and np.isfinite(run.G)):
                problems.append(without_shear(stroke.where))
                continue
            area = cutting.ply_area(built.drawing, lines, index, run.first, run.last)
            if takes:
                area = _less(area, takes)
            low, high = sorted((float(stroke.levels[run.first]), float(stroke.levels[run.last])))
            if area:
                yield Region(
                    owner=owner,
                    stroke=index,
                    low=low,
                    high=high,
                    E=run.E * counted,
                    G=run.G * counted,
                    area=area,
                    line=as_pairs(lines.points[lines.part(index)]),
                    mitres=as_pairs(lines.mitres[lines.part(index)]),
                )


def _less(area: Area, takes: Sequence[Area]) -> Area:
    from stringerlab.geometry import planar

    return planar.difference(area, takes)


def _fills(built: Bodies) -> Iterator[Region]:
    from stringerlab.geometry import planar

    for fill, rings in zip(built.fills, built.cut.fills if built.cut is not None else [], strict=True):
        if fill.modulus > 0 and rings:
            yield Region(
                owner=fill.id,
                stroke=-1,
                low=0.0,
                high=0.0,
                E=fill.modulus,
                G=fill.modulus / (2 * (1 + FILL_POISSON)),
                area=planar.area_of_rings(rings),
            )


def _with_laps(found: list[Region], laps: tuple[tuple[str, str], ...]) -> list[Region]:
    """Return regions that nowhere share a place: where declared laps do, one of both their stiffnesses."""
    for one, other in laps:
        first = [region for region in found if region.owner == one]
        second = [region for region in found if region.owner == other]
        for a in first:
            for b in second:
                found = _parted(found, a, b)
    return found


def _parted(found: list[Region], a: Region, b: Region) -> list[Region]:
    from dataclasses import replace

    from stringerlab.geometry import planar

    mine = [each for each in found if each.owner == a.owner and each.stroke == a.stroke and each.low == a.low]
    theirs = [
        each for each in found if each.owner == b.owner and each.stroke == b.stroke and each.low == b.low
    ]
    result = found
    for one in mine:
        for other in theirs:
            if planar.overlap(one.area, other.area)[0] <= planar.NOTHING:
                continue
            left = planar.difference(one.area, [other.area])
            both = planar.difference(one.area, [left]) if left else one.area
            rest = planar.difference(other.area, [one.area])
            pieces = [replace(one, area=left)] if left else []
            pieces.append(replace(one, E=one.E + other.E, G=one.G + other.G, area=both))
            pieces += [replace(other, area=rest)] if rest else []
            result = [each for each in result if each is not one and each is not other] + pieces
    return result


def outline_length(found: Sequence[Region]) -> float:
    """Return the length of all outlines [mm]."""
    rings: list[Array] = [ring for region in found for polygon in region.area for ring in polygon]
    return float(sum(np.hypot(*(np.roll(ring, -1, axis=0) - ring).T).sum() for ring in rings))
