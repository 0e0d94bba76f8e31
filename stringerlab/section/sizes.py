"""What a section measures beside its stiffness: webs, crown, roots, bond, girth, mass and fabric. mm.

Places along the shell are counted from the section's origin.
"""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from stringerlab.errors import Problem, StringerlabError
from stringerlab.geometry.areas import ring_size
from stringerlab.laminate.records import Stack
from stringerlab.section import crowns, webs
from stringerlab.section.bodies import Bodies, bodies
from stringerlab.section.plies import stack_sizes
from stringerlab.section.records import SectionShape

KG_PER_M = 1e-6
"""g/m² × mm, and kg/m³ × mm², in kg/m."""
M2_PER_M = 1e-3


@dataclass(frozen=True, kw_only=True, eq=False)
class Facts:
    """Sizes of a section, in mm. Hull plating is in none of them, nor is the bead's adhesive."""

    web_area: float
    """Σ over webs of the reinforced plies' thickness normal to the web × vertical height [mm²]."""
    web_depth: float
    """Length along the drawn line of the deepest web, between the points where its fillets pass 45°."""
    web_thickness: float
    """Of the thinnest web, without gel coat; ``web_depth`` may be another web's: the safe side."""
    web_stacks: tuple[Stack, ...]
    """The webs' laminates, each once."""
    crown_width: float
    """Clear width along the shell: between the facing laminate faces of two webs at their tops, the widest;
    of a free flange from the web's face to the further edge. nan where there is no crown."""
    crown_thickness: float
    """Without gel coat, at the middle of that width. nan where there is no crown."""
    free_edge: bool
    """Whether the crown is a free flange on one web rather than closed between two."""
    roots: tuple[float, ...]
    """Where each web's lowest straight piece, drawn on, meets the shell's face, on the drawn line."""
    base_width: float
    """Between the outermost roots; 0 for one web."""
    bonded: tuple[tuple[float, float], ...]
    """Where flanges lie on the shell or its bead, from … to; a pan on the hull only where it is bonded."""
    bonded_width: float
    girth: float
    """Length of all drawn lines."""
    mass_per_length: float
    """kg/m, gel coat, cores and fills included."""
    fabric_area_per_length: float
    """m²/m, summed over reinforced plies."""
    repairs: tuple[Problem, ...]
    """What was put right in the drawing and counted so."""
    shape: SectionShape
    deadrise: float

    @cached_property
    def enclosed_area(self) -> float:
        """Area of the cells that laminates close off, with the shell or without, fills included [mm²]."""
        return enclosed_area(self.shape, self.deadrise)


def facts(shape: SectionShape, deadrise: float = 0.0) -> Facts:
    """Return what a section measures.

    Parameters
    ----------
    shape
        The section.
    deadrise
        Slope of the shell it is drawn on [rad].

    Raises
    ------
    StringerlabError
        With everything that forbids a number: see `stringerlab.section.problems`.
    """
    built = bodies(shape, deadrise=deadrise)
    if built.faults:
        raise StringerlabError(built.faults)
    found = webs.runs(built, deadrise)
    steep = webs.webs(found)
    standing = webs.carrying(steep, found)
    upstands = [web for web in steep if web not in standing]
    crown = crowns.crown(found, standing, shape, upstands) or crowns.NO_CROWN
    middle = _middle(standing) if standing else 0.0
    roots = tuple(web.root for web in standing if web.bottom <= middle)
    stacks = [shape.walls[run.wall].stack for web in standing for run in web.runs]
    bonded = tuple(webs.bonded([run for run in found if shape.walls[run.wall].counted], shape.bead))
    mass, fabric = _mass_and_fabric(shape, built)
    return Facts(
        web_area=sum(_shear_area(run, shape) for web in standing for run in web.runs),
        web_depth=max((web.length for web in standing), default=0.0),
        web_thickness=min((stack_sizes(stack).thickness for stack in stacks), default=0.0),
        web_stacks=tuple(dict.fromkeys(stacks)),
        crown_width=crown.width,
        crown_thickness=crown.thickness,
        free_edge=crown.free,
        roots=roots,
        base_width=max(roots) - min(roots) if roots else 0.0,
        bonded=bonded,
        bonded_width=sum(end - start for start, end in bonded),
        girth=_girth(built),
        mass_per_length=mass,
        fabric_area_per_length=fabric,
        repairs=built.repairs,
        shape=shape,
        deadrise=deadrise,
    )


def _middle(standing: list[webs.Web]) -> float:
    return (min(web.bottom for web in standing) + max(web.height for web in standing)) / 2


def _shear_area(run: webs.Run, shape: SectionShape) -> float:
    return stack_sizes(shape.walls[run.wall].stack).web_thickness * run.climb


def _girth(built: Bodies) -> float:
    lines = built.drawing.lines
    return 0.0 if lines is None else float(lines.length[np.isfinite(lines.length)].sum())


def _mass_and_fabric(shape: SectionShape, built: Bodies) -> tuple[float, float]:
    """Return kg/m and m²/m of what is left once overlaps are cut away."""
    sizes = [stack_sizes(shape.walls[stroke.wall].stack) for stroke in built.drawing.strokes]
    density = [*(each.density for each in sizes), [fill.density for fill in built.fills]]
    fabric = [*(each.fabric for each in sizes), np.zeros(len(built.fills))]
    mass, widths = (float(built.area @ np.concatenate(each)) for each in (density, fabric))
    return mass * KG_PER_M, widths * M2_PER_M


def enclosed_area(shape: SectionShape, deadrise: float = 0.0) -> float:
    """Return the area of the cells closed by the laminates, the shell and the beads between them [mm²].

    Raises
    ------
    StringerlabError
        With everything that forbids a number.
    """
    from stringerlab.section.cells import cells

    return sum(ring_size(ring) for ring in cells(shape, deadrise))
