"""Every ply's stress at its extreme points under axial force, moments about both axes, shear and torque.

Plane sections: the axial strain is linear, with unsymmetric bending. In each wall the plies share it, and the
shear flow, by laminate theory (`stringerlab.section.ply_response`); interlaminar shear is what balances the
plies beyond a face along the member, the wall's own faces free: where another body is bonded to a face, the
bond's shear is no part of it. A fill carries axial stress alone. N, mm, MPa; axes as in
`stringerlab.section.SectionLoads`, stresses in the plies' own axes.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stringerlab.errors import Problem, StringerlabError
from stringerlab.laminate import Moduli, Stack
from stringerlab.section.bodies import Bodies
from stringerlab.section.loads import SectionLoads
from stringerlab.section.plies import stack_sizes
from stringerlab.section.ply_failure import PlyStresses
from stringerlab.section.ply_points import PlyPoints, ply_points
from stringerlab.section.ply_response import ROWS, answers, wall_stiffness
from stringerlab.section.records import Plating, SectionShape
from stringerlab.section.shear_flow import ShearFlow, bending_gradients
from stringerlab.section.stiffness import Properties, properties, weighted
from stringerlab.section.walls_flow import PLATING, shear_flow

Array = NDArray[np.float64]
Loads = Sequence[SectionLoads] | Array

PARALLEL = 1e-9
"""Shear forces whose directions differ by less peak at the same places."""


def ply_stresses(
    shape: SectionShape,
    plating: Plating | None,
    loads: Loads,
    moduli: Moduli = Moduli.CONTRACTED,
    *,
    found: Properties | None = None,
    flow: ShearFlow | None = None,
    turning: bool = True,
) -> PlyStresses:
    """Return the stresses of every ply and fill that carries, at its extreme points.

    Parameters
    ----------
    shape
        The section.
    plating
        The strip counted with it, or None.
    loads
        c loads, or an array (c, 6) of N, V_y, V_z [N], T, M_y, M_z [N·mm].
    moduli
        Which modulus of a ply counts along the member.
    found
        The section's properties by these moduli on this strip, where they are known already.
    flow
        What gives the shear flow; by default that of `stringerlab.section.walls_flow.shear_flow`.
    turning
        Whether shear forces, which act at the neutral point, turn the section by their arm to the shear
        centre; False where something holds it from turning, so that ``T`` is all the torque.

    Raises
    ------
    StringerlabError
        With everything that forbids a number; when a load is none; when no shear flow can be given.
    """
    table = load_table(loads)
    built, counted = weighted(shape, plating, moduli)
    known = properties(shape, plating, moduli) if found is None else found
    stacks = _stacks(shape, plating, built)
    answer = answers(stacks, built.fills, moduli)
    gradients = bending_gradients(known)
    shearing = _Shearing.of(table @ _SHEARS @ gradients)
    points = ply_points(
        built,
        (counted > 0) & (built.area > 0),
        np.array([wall_stiffness(stack, moduli).centre for stack in stacks]),
        complex(known.y_na, known.z_na),
        shearing.ways,
    )
    here = answer.table[:, points.region]
    place = np.stack([points.place.real - known.y_na, points.place.imag - known.z_na])
    strain = table[:, :1] / known.EA + table @ _MOMENTS @ gradients @ place
    strains = here[ROWS["strain_x"], None] * strain
    stresses = here[ROWS["stress_x"], None] * strain
    flows = np.zeros(strain.shape)
    between = np.zeros(strain.shape)
    of_walls = points.station >= 0
    if table[:, 1:4].any() and of_walls.any():
        given = flow or shear_flow(shape, plating, built, known, moduli)
        shears = _about_shear_centre(table[:, 1:4], given.arms) if turning else table[:, 1:4]
        flows = (shears @ given.per_unit(points.stations).T)[:, points.station] * of_walls
        sides = np.array([stroke.side for stroke in built.drawing.strokes] + [1.0])
        own = flows * sides[built.stroke[points.region]]
        strains += here[ROWS["strain_q"], None] * own
        stresses += here[ROWS["stress_q"], None] * own
        if shears[:, 2].any():
            twisted = answer.twist[:, points.away.astype(np.intp), points.region][:, None]
            curvature = -2 * given.twist * shears[:, 2:]
            strains += twisted[:3] * curvature
            stresses += twisted[3:] * curvature
        between = shearing.sizes @ _interlaminar(points, here, shearing.ways, place)
    owners, names = _labels(shape, plating, built)
    used = np.flatnonzero(np.bincount(points.region, minlength=len(names)) * answer.lacking)
    return PlyStresses(
        owners=owners,
        names=names,
        region=points.region,
        y=points.place.real,
        z=points.place.imag,
        away=points.away,
        solid=~of_walls,
        axial_strain=strain,
        axial_stress=strain * here[0],
        flow=flows,
        strain=np.moveaxis(strains, 0, -1),
        stress=np.moveaxis(stresses, 0, -1),
        interlaminar=between,
        strengths=here[ROWS["strengths"]].T,
        moduli=here[ROWS["moduli"]].T,
        marks=answer.marks,
        missing=tuple(f"{owners[region]} {names[region]}" for region in used.tolist()),
    )


_FIELDS = ("N", "V_y", "V_z", "T", "M_y", "M_z")
_MOMENTS = np.zeros((6, 2))
_MOMENTS[5, 0] = _MOMENTS[4, 1] = 1.0
"""Takes M_z and M_y from a load."""
_SHEARS = np.zeros((6, 2))
_SHEARS[1, 0] = _SHEARS[2, 1] = 1.0
"""Takes V_y and V_z, the rates at which M_z and M_y grow along the member."""


def load_table(loads: Loads) -> Array:
    """Return loads as an array (c, 6) of N, V_y, V_z, T, M_y, M_z.

    Raises
    ------
    StringerlabError
        When there is none, or a number of one is none.
    """
    if isinstance(loads, np.ndarray):
        table = np.asarray(loads, float)
    else:
        table = np.array([[getattr(load, name) for name in _FIELDS] for load in loads], float)
    if table.ndim != 2 or table.shape[1:] != (6,) or not len(table):
        raise StringerlabError(
            Problem("There is no load on the section.", "loads", "Give at least one, of six numbers.")
        )
    if not np.isfinite(table).all():
        raise StringerlabError(Problem("A load on the section is not a number.", "loads", "Give all six."))
    return table


def _about_shear_centre(shears: Array, arms: Array) -> Array:
    """Return V_y, V_z and torque (c, 3) with the forces moved from the neutral point to the shear centre."""
    return np.column_stack([shears[:, :2], shears[:, 2] - shears[:, :2] @ arms])


@dataclass(frozen=True, slots=True, eq=False)
class _Shearing:
    """How the axial strain grows along the member under c shear forces: d ways of growing, each once."""

    ways: list[complex]
    """(d,) its gradient's direction, of size 1."""
    sizes: Array
    """(c, d) gradient along the load's own way, as a size; 0 of the others."""

    @classmethod
    def of(cls, slopes: Array) -> "_Shearing":
        """Return the ways of strain gradients (c, 2)."""
        ways: list[complex] = []
        sizes = np.zeros((len(slopes), len(slopes)))
        for load, (y, z) in enumerate(slopes.tolist()):
            size = abs(complex(y, z))
            if not size:
                continue
            way = complex(y, z) / size
            along = (
                index for index, other in enumerate(ways) if abs((way * other.conjugate()).imag) < PARALLEL
            )
            index = next(along, len(ways))
            ways += [way] if index == len(ways) else []
            sizes[load, index] = size
        return cls(ways, sizes[:, : len(ways)])


def _stacks(shape: SectionShape, plating: Plating | None, built: Bodies) -> tuple[Stack, ...]:
    """Return the laminate of every stroke."""
    strip = () if plating is None else (plating.stack,)
    walls = tuple(shape.walls[stroke.wall].stack for stroke in built.walls.strokes)
    return walls + strip


def _labels(
    shape: SectionShape, plating: Plating | None, built: Bodies
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return owner and name of every region."""
    owners = [shape.walls[stroke.wall].id for stroke in built.walls.strokes]
    owners += [] if plating is None else [PLATING]
    names: list[str] = []
    of: list[str] = []
    for owner, stack in zip(owners, _stacks(shape, plating, built), strict=True):
        labels = stack_sizes(stack).labels
        names += labels
        of += [owner] * len(labels)
    return (*of, *(fill.id for fill in built.fills)), (*names, *(fill.name for fill in built.fills))


def _interlaminar(points: PlyPoints, here: Array, ways: Sequence[complex], place: Array) -> Array:
    """Return the greatest interlaminar shear (d, p) through the ply, per unit of each way's gradient."""
    slopes: Array = np.array([[way.real, way.imag] for way in ways], float).reshape(-1, 2)
    inward = np.zeros(len(points.station), np.complex128)
    walls = points.station >= 0
    inward[walls] = points.stations.inward[points.station[walls]]
    change = slopes @ np.stack([inward.real, inward.imag])
    at_mould = slopes @ place - points.depth * change
    near, far, taken = (
        at_mould * first + change * second
        for first, second in (here[ROWS[name]] for name in ("near", "far", "flow_share"))
    )
    E, (low, high) = here[0], here[ROWS["depth"]]
    steep = E * change
    top = np.divide(taken - E * at_mould, steep, out=np.zeros_like(steep), where=steep != 0)
    ahead = np.clip(top, low, high) - low
    peak = near - ahead * (E * at_mould - taken + steep * (low + ahead / 2))
    return np.maximum(np.maximum(np.abs(near), np.abs(far)), np.abs(peak))
