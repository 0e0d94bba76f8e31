"""Drafting: fills picked as the closed region around a point, backing blocks; and the plating shown.

mm; angles in degrees, as in the document.
"""

from dataclasses import replace
from enum import StrEnum
from math import isfinite, radians

import numpy as np

from stringerlab.errors import Problem, StringerlabError
from stringerlab.geometry.chords import as_pairs, as_points
from stringerlab.project import edits
from stringerlab.project.drafting_new import refuse_unknown_solid
from stringerlab.project.drafting_parts import refusal, section_of, wall_of, where, with_parts
from stringerlab.project.records import Project
from stringerlab.project.resolving import resolve
from stringerlab.section.drawn import drawn_walls
from stringerlab.section.records import Fill, Point, Reference, Section, SectionShape
from stringerlab.units import Kind
from stringerlab.units import format as shown

STEEPEST, WIDEST = 60.0, 5000.0
"""Deadrise [deg] and width [mm] of plating."""


class Face(StrEnum):
    """A face of a wall."""

    LAMINATE = "laminate's face"
    """Where the last ply lies, away from the mould."""
    TOOL = "tool face"
    """The drawn line, against the mould."""


def filled_region(project: Project, section_id: str, at: Point, material: str, *, name: str = "") -> Project:
    """Return the project with the closed region around a point filled.

    It is bounded by the faces of laminates, the shell's inboard face and other fills; a flange's bead closes
    the gap beneath it. A region with islands becomes several fills, cut upright through each island.

    Parameters
    ----------
    project
        The project.
    section_id
        The section; its laminates must be sound.
    at
        A point in the region [mm].
    material
        Id of a solid.
    name
        Of the fills.

    Raises
    ------
    StringerlabError
        When there is no such section or material, the section is not sound, the point lies within something,
        or the region is open: every place where it leaks.
    """
    from stringerlab.geometry import subdivision
    from stringerlab.section.solids import solids

    section = section_of(project, section_id)
    refuse_unknown_solid(project, section_id, material)
    if not all(isfinite(value) for value in at):
        raise refusal(project, section_id, "", "The point is not a number.", "Point into the region.")
    slope = radians(section.reference.deadrise) if section.reference else 0.0
    bounds = solids(_sound_shape(project, section), slope)
    place_of = f"y {shown(at[0], Kind.LENGTH)}, z {shown(at[1], Kind.LENGTH)}"
    inside = subdivision.solid_at(bounds, at)
    if inside is not None:
        what = f"The point lies within {_called(project, section, inside)}."
        raise refusal(project, section_id, "", what, "Point into an empty region.", at=place_of)
    room = subdivision.room_at(bounds, at)
    if not room.outlines:
        if not room.gaps:
            what = "Nothing encloses this point."
            raise refusal(project, section_id, "", what, "Point between walls that close.", at=place_of)
        raise StringerlabError(
            Problem(
                f"The region is open: it leaks through {shown(gap.width, Kind.LENGTH)} "
                f"between {_called(project, section, gap.between[0])} "
                f"and {_called(project, section, gap.between[1])}.",
                f"{where(project, section_id)}, "
                f"y {shown(gap.at[0], Kind.LENGTH)}, z {shown(gap.at[1], Kind.LENGTH)}",
                "Close the gap, or draw the fill point by point.",
            )
            for gap in room.gaps
        )
    fresh = [
        Fill(
            id="",
            points=tuple((float(y), float(z)) for y, z in np.round(ring, 9) + 0.0),
            material=material,
            name=name,
        )
        for ring in room.outlines
    ]
    return with_parts(project, section_id, {}, fresh)


def with_block(
    project: Project,
    section_id: str,
    wall_id: str,
    at: Point,
    width: float,
    depth: float,
    material: str,
    *,
    face: Face = Face.LAMINATE,
    name: str = "",
) -> Project:
    """Return the project with a backing block, a rectangle lying on a straight piece of a wall's face.

    Parameters
    ----------
    project
        The project.
    section_id
        The section; its laminates must be sound.
    wall_id
        The wall.
    at
        Near the middle of the block, which is moved along the nearest straight piece until it fits [mm].
    width, depth
        Along the face and away from it [mm].
    material
        Id of a solid.
    face
        Which face of the wall.
    name
        Of the block.

    Raises
    ------
    StringerlabError
        When there is no such wall or material, the section is not sound, a size is not above 0, or the
        straight piece is shorter than the block.
    """
    section = section_of(project, section_id)
    wall_of(project, section_id, wall_id)
    refuse_unknown_solid(project, section_id, material)
    if not all(isfinite(value) for value in at):
        raise refusal(project, section_id, wall_id, "The point is not a number.", "Point at the wall.")
    if not (isfinite(width) and isfinite(depth) and width > 0 and depth > 0):
        what = f"A block of {width:g} mm by {depth:g} mm has no size."
        raise refusal(project, section_id, wall_id, what, "Give a width and a depth above 0.")
    shape = _sound_shape(project, section)
    drawn = next(each for each in drawn_walls(shape) if each.id == wall_id)
    side = drawn.side if face is Face.LAMINATE else -drawn.side
    line = as_points(drawn.face if face is Face.LAMINATE else drawn.tool)
    straight = np.flatnonzero(~drawn.chord)
    start, way = line[straight], np.diff(line)[straight]
    length = np.abs(way)
    heading = way / length
    arm = (complex(*at) - start) * heading.conj()
    off = np.hypot(arm.imag, np.maximum(np.maximum(-arm.real, arm.real - length), 0.0))
    piece = int(np.argmin(off))
    flat = float(length[piece])
    if width > flat + 1e-9:
        what = (
            f"The block is {shown(width, Kind.LENGTH)} wide, "
            f"the straight piece of the {face.value} there {shown(flat, Kind.LENGTH)}."
        )
        raise refusal(project, section_id, wall_id, what, "Make the block narrower, or put it elsewhere.")
    middle = min(max(float(arm.real[piece]), width / 2), flat - width / 2)
    base = complex(start[piece]) + complex(heading[piece]) * (middle - width / 2)
    along, out = complex(heading[piece]) * width, complex(heading[piece]) * 1j * side * depth
    corners = np.round(as_pairs(np.array([base, base + along, base + along + out, base + out])), 9) + 0.0
    fill = Fill(id="", points=tuple((float(y), float(z)) for y, z in corners), material=material, name=name)
    return with_parts(project, section_id, {}, [fill])


def with_reference(
    project: Project,
    section_id: str,
    *,
    laminate: str | None = None,
    width: float | None = None,
    deadrise: float | None = None,
) -> Project:
    """Return the project with other plating shown under a section; what is not given stays.

    Parameters
    ----------
    project
        The project.
    section_id
        The section.
    laminate
        Id of the hull's laminate; needed where there is no reference yet, and so is the width.
    width
        Above 0, to 5000 [mm].
    deadrise
        0 to 60 [deg].

    Raises
    ------
    StringerlabError
        With everything that does not fit.
    """
    section = section_of(project, section_id)
    place_of = f"{where(project, section_id)}, reference"
    old = section.reference
    laminate = laminate if laminate is not None else (old.laminate if old else None)
    width = width if width is not None else (old.width if old else None)
    deadrise = deadrise if deadrise is not None else (old.deadrise if old else 0.0)
    problems: list[Problem] = []
    if laminate is None or width is None:
        what = "It has no plating yet, so that both laminate and width are needed."
        raise StringerlabError(Problem(what, place_of, "Pick a laminate and give a width."))
    if laminate not in {each.id for each in project.laminates}:
        problems.append(
            Problem(f"There is no laminate '{laminate}'.", place_of, "Pick a laminate of this project.")
        )
    if not 0 < width <= WIDEST:
        problems.append(
            Problem(
                f"A width of {width:g} mm is not above 0 mm, to {WIDEST:g} mm.", place_of, "Give a width."
            )
        )
    if not 0 <= deadrise <= STEEPEST:
        problems.append(
            Problem(
                f"A deadrise of {deadrise:g}° is not 0° to {STEEPEST:g}°.",
                place_of,
                "Draw the port side's shell, which rises to the right.",
            )
        )
    if problems:
        raise StringerlabError(problems)
    reference = Reference(laminate=laminate, width=width, deadrise=deadrise)
    return edits.replaced(project, replace(section, reference=reference))


def without_reference(project: Project, section_id: str) -> Project:
    """Return the project with no plating shown under a section.

    Raises
    ------
    StringerlabError
        When there is no such section.
    """
    return edits.replaced(project, replace(section_of(project, section_id), reference=None))


def _sound_shape(project: Project, section: Section) -> SectionShape:
    resolved = resolve(project)
    shape = resolved.shapes.get(section.id)
    if shape is not None:
        return shape
    place_of = where(project, section.id)
    found = [problem for problem in resolved.problems if problem.where.startswith(place_of)]
    what = "The section is not sound, so that its faces are not known."
    raise StringerlabError([Problem(what, place_of, "Put right what its problems say."), *found])


def _called(project: Project, section: Section, name: str) -> str:
    """Return the words for a solid: a wall or fill by name and id, the shell as it is."""
    if name not in {part.id for part in (*section.walls, *section.fills)}:
        return name
    return where(project, section.id, name).removeprefix(f"{where(project, section.id)}, ")
