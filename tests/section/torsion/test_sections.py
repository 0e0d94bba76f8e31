"""Torsion and shear of drawn sections: beside sectionproperties, their flows, what is refused and said."""

import sys
from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from sectionproperties.analysis.section import Section as Theirs
from sectionproperties.pre.geometry import CompoundGeometry, Geometry
from sectionproperties.pre.pre import Material

from stringerlab.errors import StringerlabError
from stringerlab.geometry import planar
from stringerlab.geometry.noding import noded
from stringerlab.laminate import Stack
from stringerlab.section import FillShape, Plating, SectionShape, Side, WallShape
from stringerlab.section.loads import SectionLoads
from stringerlab.section.torsion import (
    Region,
    compared,
    regions,
    shear_field,
    thin_walls,
    wall_flows,
    warping,
    warping_of_regions,
)

Lay = Callable[..., Stack]
Drawn = tuple[SectionShape, Plating | None]
DRAWN = ["hat", "plate floor with tabs", "freehand", "hat on deadrise", "closed box"]
LOADS = SectionLoads(V_y=150.0, V_z=2000.0, T=3e5)


def isotropic(found: tuple[Region, ...], nu: float) -> tuple[Region, ...]:
    return tuple(replace(each, G=each.E / (2 * (1 + nu))) for each in found if each.E > 0)


def theirs(found: tuple[Region, ...], nu: float, size: float) -> Any:
    """The other library's warping analysis of the same regions, E-weighted."""
    polygons = [(each, polygon) for each in found for polygon in each.area]
    rings = noded([ring for _, polygon in polygons for ring in polygon], 0.01)
    shapes: list[Any] = []
    for each, polygon in polygons:
        mine, rings = rings[: len(polygon)], rings[len(polygon) :]
        shapes.append(Geometry(planar.shape_of([mine]), Material(f"{each.E!r}", each.E, nu, 1.0, 1.0, "w")))
    compound: Any = CompoundGeometry(shapes) if len(shapes) > 1 else shapes[0]
    compound.create_mesh(mesh_sizes=[size])
    section: Any = Theirs(compound)
    section.calculate_geometric_properties()
    section.calculate_warping_properties()
    return section


@pytest.mark.parametrize("name", ["hat on deadrise", "closed box", "plate floor with tabs"])
@pytest.mark.parametrize("nu", [0.0, 0.3])
def test_stiffness_is_the_other_librarys_within_half_a_percent(
    name: str, nu: float, sections: dict[str, Drawn]
) -> None:
    shape, plating = sections[name]
    same = isotropic(regions(shape, plating), nu)
    ours, other = warping_of_regions(same, error=1e-3), theirs(same, nu, 8.0)
    shear = 2 * (1 + nu)
    assert pytest.approx(other.get_ej() / shear, rel=0.005) == ours.GJ
    assert (ours.GA_y, ours.GA_z) == pytest.approx([each / shear for each in other.get_eas()], rel=0.005)
    # By Trefftz's definition theirs does not hang on Poisson's ratio; of about 200 mm.
    assert (ours.y_s, ours.z_s) == pytest.approx(other.get_sc_t(), abs=0.3)


@pytest.mark.parametrize(
    "name", ["hat", "plate floor with tabs", "freehand", "hat on deadrise", "closed box"]
)
def test_fields_integrate_back_to_their_loads(name: str, sections: dict[str, Drawn]) -> None:
    found = warping(*sections[name])
    assert found.error <= 0.005
    field = shear_field(found, LOADS)
    assert (field.V_y, field.V_z, field.T) == pytest.approx((150.0, 2000.0, 3e5), rel=1e-3)


@pytest.mark.parametrize(
    ("name", "through"), [("hat", 0.05), ("hat on deadrise", 0.05), ("closed box", 0.01)]
)
def test_flow_along_walls_adds_up_to_the_shear_force(
    name: str, through: float, sections: dict[str, Drawn]
) -> None:
    """The force is the flow's sum along the walls, ∫ q dz, less what passes from flange to plating."""
    shape, plating = sections[name]
    found = warping(shape, plating, size=3.0)
    force = 0.0
    for wall in wall_flows(found, LOADS):
        force += float(wall.flow @ wall.ways[:, 1])
    assert force == pytest.approx(2000.0, rel=through)


def test_flow_in_a_closed_box_under_torque_is_bredts(lay: Lay) -> None:
    box = SectionShape(
        name="box",
        walls=(
            WallShape(
                id="w1",
                points=((0, 0), (200, 0), (200, 100), (0, 100)),
                fillets=(),
                side=Side.LEFT,
                closed=True,
                stack=lay((2.0, 8000.0)),
            ),
        ),
    )
    (wall,) = wall_flows(warping(box, size=2.0), SectionLoads(T=1e6))
    enclosed = 198 * 98
    middle = np.abs(wall.points[:, 0] - 100) < 40
    assert wall.flow[middle] == pytest.approx(np.full(int(middle.sum()), 1e6 / (2 * enclosed)), rel=2e-3)
    quick = thin_walls(box)
    assert quick.greatest(SectionLoads(T=1e6))["w1"] == pytest.approx(1e6 / (2 * enclosed), rel=1e-3)
    assert compared(box).warning is None


@pytest.mark.parametrize("name", [*DRAWN, "wide hat with foam"])
def test_the_chosen_mesh_is_within_half_a_percent_and_says_no_less(
    name: str, sections: dict[str, Drawn]
) -> None:
    found = regions(*sections[name])
    chosen, fine = warping_of_regions(found), warping_of_regions(found, error=4e-4)
    off = [getattr(chosen, each) / getattr(fine, each) - 1 for each in ("GJ", "GA_y", "GA_z")]
    # Of one family of meshes all stiffnesses come down to the true ones.
    assert min(off) > -4e-4
    assert max(off) < chosen.error <= 0.005
    assert fine.error <= 4e-4


def test_a_mesh_is_made_finer_where_the_error_is(sections: dict[str, Drawn]) -> None:
    """At re-entrant corners alone: halving every triangle would have taken four times as many a step."""
    found = regions(*sections["hat"])
    chosen = warping_of_regions(found)
    fine = warping_of_regions(found, error=chosen.error / 4)
    assert len(fine.mesh.triangles) < 2.5 * len(chosen.mesh.triangles)


def test_thin_walls_are_near_on_thin_sections(sections: dict[str, Drawn]) -> None:
    for name in ("hat", "hat on deadrise", "closed box", "plate floor with tabs"):
        found = compared(*sections[name])
        assert (found.GJ, found.GA_y, found.GA_z) == pytest.approx((1, 1, 1), abs=0.04)
        assert found.shear_centre < 1.0
        assert found.warning is None


def test_a_block_that_thin_walls_leave_out_is_warned_of(lay: Lay) -> None:
    inside = ((3.0, 3.0), (60.0, 3.0), (60.0, 37.0), (3.0, 37.0))
    block = FillShape(id="f1", points=inside, name="block", density=2700, modulus=70_000, strength=200)
    box = WallShape(
        id="w1",
        points=((0, 0), (63, 0), (63, 40), (0, 40)),
        fillets=(),
        side=Side.LEFT,
        closed=True,
        stack=lay((3.0, 9000.0)),
    )
    found = compared(SectionShape(name="filled box", walls=(box,), fills=(block,)))
    assert found.GJ < 0.9
    assert found.warning is not None
    assert "far from the full solution: GJ" in found.warning.what


def test_foam_carries_no_shear(sections: dict[str, Drawn]) -> None:
    shape, plating = sections["hat"]
    foam = FillShape(
        id="f1",
        points=((-60, 0.5), (60, 0.5), (50, 100), (-50, 100)),
        name="foam",
        density=32,
        modulus=0.0,
        strength=None,
    )
    bare, filled = (
        warping(shape, plating, size=8.0),
        warping(replace(shape, fills=(foam,)), plating, size=8.0),
    )
    assert pytest.approx(bare.GJ, rel=1e-12) == filled.GJ


def test_laminate_at_45_degrees_twists_by_its_shear_modulus(lay: Lay) -> None:
    """A tube of ±45 plies: G of the laminate is that of its A66, far above the plies' G12."""
    ply = replace(lay((1.0, 12_000.0)).plies[0], E1=30_000.0, E2=9_000.0, G12=3_500.0)
    angles = (np.pi / 4, -np.pi / 4, -np.pi / 4, np.pi / 4)
    stack = Stack(name="±45", plies=tuple(replace(ply, angle=float(angle)) for angle in angles))
    wall = WallShape(
        id="w1",
        points=((0, 0), (200, 0), (200, 100), (0, 100)),
        fillets=(),
        side=Side.LEFT,
        closed=True,
        stack=stack,
    )
    found = warping(SectionShape(name="tube", walls=(wall,)))
    nu_21 = 0.3 * 9_000 / 30_000
    Q11, Q22, Q12 = (each / (1 - 0.3 * nu_21) for each in (30_000.0, 9_000.0, nu_21 * 30_000))
    G = (Q11 + Q22 - 2 * Q12) / 4
    area, girth = 196 * 96, 2 * (196 + 96)
    assert pytest.approx(G * (4 * area**2 * 4 / girth + girth * 4**3 / 3), rel=0.02) == found.GJ


def test_a_sandwich_tube_is_its_two_skins_joined_by_the_core(lay: Lay) -> None:
    skins = lay((1.0, 8000.0), (1.0, 8000.0), (2.0, 8000.0), core=20.0)
    wall = WallShape(
        id="w1",
        points=((0, 0), (300, 0), (300, 200), (0, 200)),
        fillets=(),
        side=Side.LEFT,
        closed=True,
        stack=skins,
    )
    found = warping(SectionShape(name="tube", walls=(wall,)), error=2e-3)
    assert [(each.E > 0) for each in found.regions] == [True, False, True]
    G = 8000 / 2.6
    sizes = [(298, 198), (298 - 44, 198 - 44)]
    skins_alone = sum(G * 4 * (b * h) ** 2 * 2 / (2 * (b + h)) for b, h in sizes)
    of_core = 80 / 2.6 * 4 * (276 * 176) ** 2 * 20 / (2 * (276 + 176))
    assert pytest.approx(skins_alone + of_core, rel=0.03) == found.GJ


def _hat(lay: Lay, thickness: float = 4.0, **other: Any) -> SectionShape:
    points = ((-150, thickness), (-85, thickness), (-60, 130), (60, 130), (85, thickness), (150, thickness))
    raised = tuple((y, z + other.get("up", 0.0) * (z == thickness)) for y, z in points)
    wall = WallShape(
        id="w1",
        points=raised,
        fillets=(),
        side=Side.RIGHT,
        closed=False,
        stack=lay((thickness, 9000.0)),
        counted=other.get("counted", 1.0),
    )
    return SectionShape(name="hat", walls=(wall,), bead=other.get("bead", 0.0))


def test_a_hat_on_a_bead_is_joined_by_it(lay: Lay) -> None:
    plating = Plating(stack=lay((8.0, 9000.0)), width=500.0)
    close, bonded = warping(_hat(lay), plating), warping(_hat(lay, up=3.0, bead=3.0), plating)
    assert {each.owner for each in bonded.regions} == {"w1", "plating", "bead"}
    assert 0.85 * close.GJ < bonded.GJ < close.GJ
    assert pytest.approx(1.0, abs=0.05) == compared(_hat(lay, up=3.0, bead=3.0), plating).GJ


def test_a_hat_hovering_above_the_plating_is_refused_with_both_names(lay: Lay) -> None:
    plating = Plating(stack=lay((8.0, 9000.0)), width=500.0)
    with pytest.raises(StringerlabError, match=r"'w1'; 'plating'.*give the bead its thickness"):
        warping(_hat(lay, up=3.0), plating)
    with pytest.raises(StringerlabError, match="do not hang together"):
        thin_walls(_hat(lay, up=3.0), plating)


def test_a_hairline_gap_is_closed_as_the_drawing_means_it(lay: Lay) -> None:
    plating = Plating(stack=lay((8.0, 9000.0)), width=500.0)
    hairline = warping(_hat(lay, up=0.005), plating)
    assert pytest.approx(warping(_hat(lay), plating).GJ, rel=1e-3) == hairline.GJ


def test_a_wall_lying_on_the_hull_counts_for_what_is_bonded(lay: Lay) -> None:
    whole, half = warping(_hat(lay)), warping(_hat(lay, counted=0.5))
    assert pytest.approx(whole.GJ / 2, rel=1e-9) == half.GJ
    with pytest.raises(StringerlabError, match="Nothing in it carries shear"):
        warping(_hat(lay, counted=0.0))


def test_a_wall_thinner_than_a_tenth_of_a_millimetre_is_refused(lay: Lay) -> None:
    with pytest.raises(StringerlabError, match=r"wall 'w1'.*0\.05 mm thick, below 0\.1 mm"):
        warping(_hat(lay, thickness=0.05))


@pytest.mark.parametrize("G", [0.0, -100.0])
@pytest.mark.parametrize("solve", [warping, thin_walls])
def test_a_laminate_without_shear_stiffness_is_refused_by_its_wall(
    lay: Lay, G: float, solve: Callable[[SectionShape], object]
) -> None:
    soft = tuple(replace(ply, G12=G) for ply in lay((4.0, 9000.0)).plies)
    shape = _hat(lay)
    wall = replace(shape.walls[0], stack=Stack(name="no G", plies=soft))
    with pytest.raises(StringerlabError, match=r"wall 'w1'.*no shear stiffness") as told:
        solve(replace(shape, walls=(wall,)))
    assert "shear modulus" in told.value.problems[0].remedy


def test_a_mesh_of_more_than_200_000_triangles_is_refused_with_its_size(lay: Lay) -> None:
    with pytest.raises(
        StringerlabError, match=r"A mesh of 0\.02 mm would have about [\d,]+ triangles; at most 200,000"
    ) as told:
        warping(_hat(lay), size=0.02)
    (problem,) = told.value.problems
    coarse = float(problem.remedy.split("of ")[1].split(" mm")[0])
    assert 0.02 < coarse < 1.0


@pytest.mark.parametrize("size", [0.0, -3.0])
def test_a_mesh_of_no_size_is_refused(lay: Lay, size: float) -> None:
    with pytest.raises(StringerlabError, match="endlessly many triangles"):
        warping(_hat(lay), size=size)


def test_walls_that_lap_as_declared_carry_together(lay: Lay) -> None:
    def wall(id_: str, start: float, end: float) -> WallShape:
        return WallShape(
            id=id_,
            points=((start, 0), (end, 0)),
            fillets=(),
            side=Side.LEFT,
            closed=False,
            stack=lay((4.0, 9000.0)),
        )

    lapped = SectionShape(name="lap", walls=(wall("a", 0, 60), wall("b", 40, 100)), laps=(("a", "b"),))
    found = warping(lapped, error=2e-3)
    G = 9000 / 2.6
    stiffest = 2 * G * 100 * 4**3 / 3
    least = G * 100 * 4**3 / 3
    assert least < found.GJ < stiffest
    assert pytest.approx(9000 * 4 * 120, rel=1e-9) == found.EA


def test_results_are_remembered_by_value(sections: dict[str, Drawn]) -> None:
    shape, plating = sections["hat"]
    assert warping(replace(shape), plating) is warping(shape, plating)
    assert thin_walls(replace(shape), plating) is thin_walls(shape, plating)


def test_gel_coat_carries_nothing(lay: Lay) -> None:
    bare = _hat(lay)
    (with_gel,) = (replace(wall, stack=lay((4.0, 9000.0), gel=0.5)) for wall in bare.walls)
    owners = regions(replace(bare, walls=(with_gel,)))
    assert [(each.low, each.high) for each in owners] == [(-4.5, -0.5)]


def _channel(lay: Lay, *cuts: int) -> SectionShape:
    """A channel of 4 mm drawn as one wall, or as several end to end at these vertices."""
    points = ((80.0, 0.0), (20.0, 0.0), (0.0, 0.0), (0.0, 40.0), (0.0, 120.0), (80.0, 120.0))
    bounds = [0, *cuts, len(points) - 1]
    walls = tuple(
        WallShape(
            id=f"w{at + 1}",
            points=points[first : last + 1],
            fillets=(),
            side=Side.RIGHT,
            closed=False,
            stack=lay((4.0, 9000.0)),
        )
        for at, (first, last) in enumerate(pairwise(bounds))
    )
    return SectionShape(name="channel", walls=walls)


def test_walls_drawn_end_to_end_are_one_to_thin_walls_too(lay: Lay) -> None:
    one, several = _channel(lay), _channel(lay, 1, 3)
    whole, parts = thin_walls(one), thin_walls(several)
    for name in ("GJ", "GA_y", "GA_z", "y_s", "z_s"):
        assert getattr(parts, name) == pytest.approx(getattr(whole, name), rel=1e-9), name
    assert set(parts.owners) == {"w1", "w2", "w3"}
    full = warping(several)
    assert (parts.GJ, parts.GA_z) == pytest.approx((full.GJ, full.GA_z), rel=0.05)
    assert not parts.remarks


def test_thin_walls_say_which_fills_they_leave_out_and_which_walls_lose_a_place(
    sections: dict[str, Drawn],
) -> None:
    said = [note.what for note in thin_walls(*sections["freehand"]).remarks]
    assert said == [
        "Thin-wall theory leaves out the fill 'f1' (block).",
        "Thin-wall theory counts wall 'w3' whole where others share its place.",
    ]
    assert not thin_walls(*sections["hat"]).remarks


def test_walls_that_only_a_fill_joins_have_no_quick_answer(sections: dict[str, Drawn]) -> None:
    """The hat's flanges stand beside its plating: the foam between is all that joins them."""
    with pytest.raises(StringerlabError, match="do not hang together"):
        thin_walls(*sections["wide hat with foam"])


def test_elements_in_no_contact_are_refused_by_name(lay: Lay) -> None:
    shape = _channel(lay)
    far = replace(shape.walls[0], id="w2", points=tuple((y + 300.0, z) for y, z in shape.walls[0].points))
    with pytest.raises(StringerlabError, match=r"section 'channel'.*do not touch.*'w1'; 'w2'") as told:
        warping(replace(shape, walls=(*shape.walls, far)))
    assert "Draw them in contact" in told.value.problems[0].remedy
    with pytest.raises(StringerlabError, match="do not hang together"):
        thin_walls(replace(shape, walls=(*shape.walls, far)))


def test_a_mesh_left_too_coarse_is_said_to_be(
    sections: dict[str, Drawn], monkeypatch: pytest.MonkeyPatch
) -> None:
    found = regions(*sections["freehand"])
    assert not warping_of_regions(found).notes
    monkeypatch.setattr(sys.modules[warping.__module__], "FURTHER", 0)
    (note,) = warping_of_regions(found).notes
    assert "too stiff: of" in note.what
    assert note.remedy
