"""Stresses point by point beside sectionproperties, both on fine meshes of the same regions.

Where an outline turns back into the section the stress has no limit and every mesh gives another number:
points within `AWAY` of any turn of an outline are left out, which takes a fillet's chords with it. Each
isotropic region has its own E, Poisson's ratio is 0 on both sides.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray
from sectionproperties.analysis.section import Section as Theirs
from sectionproperties.pre.geometry import CompoundGeometry, Geometry
from sectionproperties.pre.pre import Material

from stringerlab.geometry import planar
from stringerlab.geometry.noding import noded
from stringerlab.laminate import Stack
from stringerlab.section import Plating, SectionShape, Side, WallShape
from stringerlab.section.loads import SectionLoads
from stringerlab.section.ply_stress import ply_stresses
from stringerlab.section.torsion import Warping, regions, stresses_at, warping, warping_of_regions

Array = NDArray[np.float64]
Lay = Callable[..., Stack]

RELATIVE = 0.005
AWAY = 10.0
"""Exclusion radius [mm]: twice the thickest wall."""
TURN = 0.02
"""Least turn of an outline at a vertex that counts as one [rad]."""
FLOOR = 0.2
"""Part of the greatest stress at the points below which the difference is taken against that part of it."""
POINTS = 250


@dataclass(frozen=True, eq=False)
class Case:
    """A section by both, and the points to compare."""

    shape: SectionShape
    plating: Plating | None
    ours: Warping
    theirs: Any
    points: Array


def _wall(points: tuple[tuple[float, float], ...], stack: Stack, *, closed: bool) -> WallShape:
    side = Side.LEFT if closed else Side.RIGHT
    return WallShape(id="w1", points=points, fillets=(), side=side, closed=closed, stack=stack)


def _box(lay: Lay) -> tuple[SectionShape, Plating | None]:
    """A crooked box of 4.5 mm."""
    ring = ((-30.0, 0.0), (40.0, 8.0), (30.0, 80.0), (-30.0, 60.0))
    return SectionShape(name="box", walls=(_wall(ring, lay((4.5, 9000.0)), closed=True),)), None


def _hat(lay: Lay) -> tuple[SectionShape, Plating | None]:
    """A crooked hat of 4 mm on plating of 5 mm and twice its stiffness: two materials, one cell."""
    line = ((-75.0, 4.0), (-45.0, 4.0), (-30.0, 60.0), (20.0, 60.0), (50.0, 4.0), (80.0, 4.0))
    plating = Plating(stack=lay((5.0, 18_000.0)), width=180.0)
    return SectionShape(name="hat", walls=(_wall(line, lay((4.0, 9000.0)), closed=False),)), plating


@pytest.fixture(scope="module", params=[(_box, 3.0), (_hat, 1.5)], ids=["box", "hat"])
def case(request: pytest.FixtureRequest, lay: Lay) -> Case:
    drawn, size = request.param
    shape, plating = drawn(lay)
    same = tuple(replace(each, G=each.E / 2) for each in regions(shape, plating))
    rings = noded([ring for each in same for polygon in each.area for ring in polygon], 0.01)
    left, shapes = list(rings), list[Any]()
    for index, each in enumerate(same):
        for polygon in each.area:
            mine, left = left[: len(polygon)], left[len(polygon) :]
            material = Material(str(index), each.E, 0.0, 1.0, 1.0, "w")
            shapes.append(Geometry(planar.shape_of([mine]), material))
    compound: Any = CompoundGeometry(shapes) if len(shapes) > 1 else shapes[0]
    compound.create_mesh(mesh_sizes=[size])
    theirs: Any = Theirs(compound)
    theirs.calculate_geometric_properties()
    theirs.calculate_warping_properties()
    ours = warping_of_regions(same, size=1.25)
    return Case(shape, plating, ours, theirs, _points(ours, rings))


def _points(ours: Warping, rings: list[Array]) -> Array:
    """Return points spread over all regions by chance, none near a turn of an outline."""
    turns = np.concatenate([ring[_turn(ring) > TURN] for ring in rings])
    every = np.concatenate(rings)
    drawn = np.random.default_rng(5).uniform(every.min(axis=0), every.max(axis=0), (9000, 2))
    clear = np.hypot(*np.moveaxis(drawn[:, None] - turns, -1, 0)).min(axis=1) > AWAY
    drawn = drawn[clear]
    inside = np.isfinite(stresses_at(ours, SectionLoads(T=1.0), drawn)[:, 0])
    return drawn[inside][:POINTS]


def _turn(ring: Array) -> Array:
    before, after = ring - np.roll(ring, 1, axis=0), np.roll(ring, -1, axis=0) - ring
    across = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    return np.abs(np.arctan2(across, (before * after).sum(axis=1)))


@pytest.mark.parametrize(
    ("loads", "given"),
    [
        (SectionLoads(T=1e5), {"mzz": 1e5}),
        (SectionLoads(V_z=1000.0), {"vy": 1000.0}),
        (SectionLoads(V_y=1000.0), {"vx": 1000.0}),
    ],
    ids=["torque", "vertical shear", "sideways shear"],
)
def test_shear_stress_is_the_other_librarys_at_every_point(
    case: Case, loads: SectionLoads, given: dict[str, float]
) -> None:
    ours = case.ours
    # Theirs puts a force through the shear centre, ours through the neutral point.
    arm = (ours.y_s - ours.y_na) * loads.V_z - (ours.z_s - ours.z_na) * loads.V_y
    own = stresses_at(ours, replace(loads, T=loads.T + arm), case.points)
    other = np.array(case.theirs.get_stress_at_points(pts=case.points.tolist(), **given))[:, 1:]
    assert len(own) > 100
    size = np.hypot(*other.T)
    off = np.hypot(*(own - other).T) / np.maximum(size, FLOOR * size.max())
    assert off.max() < RELATIVE


@pytest.mark.parametrize(
    ("loads", "given"),
    [
        (SectionLoads(M_y=1e6), {"mxx": 1e6}),
        (SectionLoads(M_z=1e6), {"myy": -1e6}),
        (SectionLoads(N=1e4), {"n": 1e4}),
    ],
    ids=["moment", "sideways moment", "pull"],
)
def test_bending_stress_is_the_other_librarys_at_every_extreme_point(
    case: Case, loads: SectionLoads, given: dict[str, float]
) -> None:
    """Of every ply, at the vertices of its outline, where the other mesh has nodes as well.

    Theirs counts a moment about z the other way.
    """
    found = ply_stresses(case.shape, case.plating, [loads])
    compared = 0
    for group in case.theirs.calculate_stress(**given).get_stress():
        region = case.ours.regions[int(group["material"])]
        stress: Array = np.asarray(group["sig_zz"])
        mine = np.array([owner == region.owner for owner in found.owners])[found.region]
        places = np.stack([found.y[mine], found.z[mine]], axis=1)
        apart = np.hypot(*np.moveaxis(places[:, None] - case.theirs.mesh_nodes, -1, 0))
        node = apart.argmin(axis=1)
        near = apart.min(axis=1) < 0.02
        own = found.axial_stress[0, mine][near]
        theirs = stress[node[near]]
        compared += len(own)
        assert np.abs(own - theirs).max() < RELATIVE * np.abs(own).max()
    assert compared > 8


def test_stiffness_and_shear_centre_are_the_other_librarys(case: Case) -> None:
    ours, other = case.ours, case.theirs
    assert pytest.approx(other.get_ej() / 2, rel=RELATIVE) == ours.GJ
    assert (ours.GA_y, ours.GA_z) == pytest.approx([each / 2 for each in other.get_eas()], rel=RELATIVE)
    size = float(np.trace(ours.EI) / ours.EA) ** 0.5
    assert (ours.y_s, ours.z_s) == pytest.approx(other.get_sc(), abs=RELATIVE * size)


def test_the_mesh_the_program_chooses_is_within_half_a_percent_of_it(case: Case) -> None:
    found = warping_of_regions(case.ours.regions)
    other = case.theirs
    assert pytest.approx(other.get_ej() / 2, rel=RELATIVE) == found.GJ
    assert (found.GA_y, found.GA_z) == pytest.approx([each / 2 for each in other.get_eas()], rel=RELATIVE)
    assert len(found.mesh.triangles) < len(case.ours.mesh.triangles) / 3


def test_nothing_is_said_of_places_outside(case: Case) -> None:
    outside = np.array([[0.0, 30.0], [500.0, 500.0]])
    assert np.isnan(stresses_at(case.ours, SectionLoads(V_z=1.0), outside)).all()
    assert warping(case.shape, case.plating).GJ > 0
