"""What a millimetre of a section weighs, laminate by laminate, and how high its mass stands. kg/mm, mm."""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from stringerlab.assess.sections import section_facts, sound_shape
from stringerlab.assess.taken import Sort, Taken, taken_of
from stringerlab.errors import Problem, StringerlabError
from stringerlab.materials import Book
from stringerlab.project import Project, Resolved
from stringerlab.project.section_shapes import drawn_deadrise
from stringerlab.section import Facts, Section, SectionShape, portions
from stringerlab.section.polygons import ply_polygons
from stringerlab.units import unit_named

KG = unit_named("kg").factor / unit_named("m³").factor
"""kg/m³ × mm³, and g/m² per mm × mm³, in kg."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Weighed:
    """A millimetre of a sound section."""

    laminates: Mapping[str, float]
    """kg/mm by the laminate's name."""
    fills: float
    """kg/mm of foam, blocks and putty drawn in it."""
    bead: float
    """kg/mm of adhesive."""
    height: float
    """Of the centre of mass of laminates and fills above the shell's inboard face, square to it [mm]."""
    taken: Taken
    facts: Facts
    notes: tuple[str, ...] = ()


def weighed_sections(
    project: Project, resolved: Resolved, book: Book
) -> tuple[dict[str, Weighed], dict[str, tuple[Problem, ...]]]:
    """Return a millimetre of every sound section by id, and what is wrong with the others."""
    sound: dict[str, Weighed] = {}
    wrong: dict[str, tuple[Problem, ...]] = {}
    for section in project.sections:
        try:
            shape = sound_shape(resolved, section)
            sound[section.id] = _weighed(project, book, section, shape)
        except StringerlabError as error:
            wrong[section.id] = tuple(error.problems)
    return sound, wrong


def _weighed(project: Project, book: Book, section: Section, shape: SectionShape) -> Weighed:
    slope = drawn_deadrise(section)
    facts = section_facts(shape, slope)
    taken = taken_of(project, book, section, shape, facts)
    laminates = {laminate.id: laminate.name for laminate in project.laminates}
    of_wall = {wall.id: laminates[wall.laminate] for wall in section.walls}
    stacks = {wall.id: wall.stack for wall in shape.walls}
    densities = {fill.id: fill.density for fill in shape.fills}
    by_laminate: dict[str, float] = defaultdict(float)
    found = portions(shape, slope)
    mass = np.zeros(len(found))
    for row, portion in enumerate(found):
        if portion.place < 0:
            mass[row] = portion.area * densities[portion.owner] * KG
        else:
            ply = stacks[portion.owner].plies[portion.place]
            mass[row] = portion.area * ply.mass / ply.thickness * KG
            by_laminate[of_wall[portion.owner]] += mass[row]
    return Weighed(
        laminates=dict(by_laminate),
        fills=float(sum(one for one, of in zip(mass, found, strict=True) if of.place < 0)),
        bead=sum(one.mass for one in taken.stuff if one.sort is Sort.ADHESIVE),
        height=_height(shape, slope, mass),
        taken=taken,
        facts=facts,
    )


def _height(shape: SectionShape, slope: float, mass: np.ndarray) -> float:
    """Return the height of the centre of mass above the shell line through the origin, square to it [mm]."""
    drawn = ply_polygons(shape, deadrise=slope)
    heights = np.zeros(len(mass))
    up = np.array([-np.sin(slope), np.cos(slope)])
    for row in range(len(mass)):
        area, moment = 0.0, np.zeros(2)
        for ring in drawn.rings(row):
            p = ring - ring[0]
            n = np.roll(p, -1, axis=0)
            cross = p[:, 0] * n[:, 1] - n[:, 0] * p[:, 1]
            area += float(cross.sum()) / 2
            moment += ring[0] * cross.sum() / 2 + ((p + n) * cross[:, None]).sum(axis=0) / 6
        heights[row] = moment @ up / area if area else 0.0
    total = float(mass.sum())
    return float(mass @ heights) / total if total > 0 else 0.0


__all__ = ["KG", "Weighed", "weighed_sections"]
