"""Starting shapes against hand-worked closed forms: rectangles, compositions, plies of laps and tapers."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from math import cos, pi, radians, sin, tan
from typing import Any

import pytest

from stringerlab.laminate import Moduli, Stack
from stringerlab.section import FillShape, SectionShape, Side, Wall, WallShape, facts, properties
from stringerlab.section.shapes import (
    Drawn,
    Laid,
    box_girder,
    bulkhead_strip,
    chine_landing,
    engine_bed,
    flanged_floor,
    grid_pan,
    hat,
    keel_girder,
    knee,
    low_profile_hat,
    pan_on_hull,
)

Lay = Callable[..., Stack]
Box = tuple[float, float, float, float]
"""y from, y to, z from, z to."""
E = 10_000.0
T = 4.0
SKIN, OTHER = Laid("l1", T), Laid("l2", 6.0)


def resolved(drawn: Drawn, stacks: dict[str, Stack], bead: float = 0.0) -> SectionShape:
    return SectionShape(
        name="shape",
        walls=tuple(
            WallShape(
                id=wall.id,
                points=wall.points,
                fillets=wall.fillets,
                side=wall.side,
                closed=wall.closed,
                stack=stacks[wall.laminate],
            )
            for wall in drawn.walls
        ),
        fills=tuple(
            FillShape(id=fill.id, points=fill.points, name=fill.name, density=1600, modulus=0, strength=None)
            for fill in drawn.fills
        ),
        laps=drawn.laps,
        bead=bead,
    )


@pytest.fixture
def stacks(lay: Lay) -> dict[str, Stack]:
    return {"l1": lay((T, E)), "l2": lay((6.0, 2 * E))}


def by_hand(boxes: Sequence[tuple[Box, float]]) -> tuple[float, float, float]:
    """EA, height of the neutral axis and EI about it, of rectangles with their moduli."""
    areas = [(y1 - y0) * (z1 - z0) * modulus for (y0, y1, z0, z1), modulus in boxes]
    middles = [(z0 + z1) / 2 for (_, _, z0, z1), _ in boxes]
    EA = sum(areas)
    z = sum(area * middle for area, middle in zip(areas, middles, strict=True)) / EA
    own = sum(area * (box[3] - box[2]) ** 2 / 12 for area, (box, _) in zip(areas, boxes, strict=True))
    return EA, z, own + sum(area * (middle - z) ** 2 for area, middle in zip(areas, middles, strict=True))


def same(shape: SectionShape, boxes: Sequence[tuple[Box, float]]) -> None:
    found = properties(shape, None, Moduli.PLAIN)
    axial, z, bending = by_hand(boxes)
    assert found.EA / axial == pytest.approx(1.0, rel=1e-12)
    assert found.z_na == pytest.approx(z, rel=1e-12)
    assert found.EI_y == pytest.approx(bending, rel=1e-12)


def test_box_girder_is_its_rectangles(stacks: dict[str, Stack]) -> None:
    drawn = box_girder(
        laminate=SKIN, sole=OTHER, height=100, width=120, lip_width=30, flange_width=50, sole_width=200
    )
    walls = [
        ((-110.0, -56.0, 0.0, T), E),
        ((-60.0, -56.0, T, 100.0 - T), E),
        ((-60.0, -30.0, 100.0 - T, 100.0), E),
    ]
    mirror = [((-y1, -y0, z0, z1), modulus) for (y0, y1, z0, z1), modulus in walls]
    same(resolved(drawn, stacks), [*walls, *mirror, ((-100.0, 100.0, 100.0, 106.0), 2 * E)])


def test_box_girder_encloses_what_its_walls_and_sole_close(stacks: dict[str, Stack]) -> None:
    drawn = box_girder(
        laminate=SKIN, sole=OTHER, height=100, width=120, lip_width=30, flange_width=50, sole_width=200
    )
    found = facts(resolved(drawn, stacks))
    assert found.enclosed_area == pytest.approx(112 * 100 - 2 * 26 * T, rel=1e-9)
    assert found.crown_width == pytest.approx(112)
    assert found.crown_thickness == 6.0
    assert not found.free_edge
    assert found.web_area == pytest.approx(2 * T * 96)


def test_a_bead_on_the_lips_lifts_the_sole(stacks: dict[str, Stack]) -> None:
    given: dict[str, Any] = {
        "laminate": SKIN, "sole": OTHER, "height": 100, "width": 120, "lip_width": 30,
        "flange_width": 50, "sole_width": 200,
    }  # fmt: skip
    drawn = box_girder(**given, sole_bead=5)
    assert [fill.name for fill in drawn.fills] == ["left sole bead", "right sole bead"]
    for fill in drawn.fills:
        ys, zs = {y for y, _ in fill.points}, {z for _, z in fill.points}
        assert max(ys) - min(ys) == 30
        assert zs == {100, 105}
    assert drawn.walls[2].points[0][1] == 111


def test_low_profile_hat_is_its_hat_and_its_caps(stacks: dict[str, Stack]) -> None:
    given: dict[str, Any] = {
        "height": 65, "crown_width": 220, "flange_width": 60,
        "draft": 15, "crown_radius": 20, "root_radius": 15,
    }  # fmt: skip
    drawn = low_profile_hat(laminate=SKIN, cap=OTHER, cap_width=150, cap_coats=3, cap_step=15, **given)
    alone = properties(resolved(Drawn(hat(laminate="l1", thickness=T, **given)), stacks), None, Moduli.PLAIN)
    whole = properties(resolved(drawn, stacks), None, Moduli.PLAIN)
    axial, second = alone.EA, alone.EI_y + alone.EA * alone.z_na**2
    first = alone.EA * alone.z_na
    for number, width in enumerate((150, 120, 90)):
        top = 65 - T - 6.0 * number
        area, middle = 2 * E * width * 6.0, top - 3.0
        axial, first, second = axial + area, first + area * middle, second + area * (middle**2 + 36 / 12)
    assert pytest.approx(axial, rel=1e-12) == whole.EA
    assert whole.EI_y == pytest.approx(second - first**2 / axial, rel=1e-11)


def test_grid_pan_is_two_hats_without_their_inner_flanges_and_a_pan(stacks: dict[str, Stack]) -> None:
    drawn = grid_pan(laminate=SKIN, height=100, crown_width=60, spacing=300, pan_height=40, flange_width=50)
    half = [
        ((-230.0, -176.0, 0.0, T), E),
        ((-180.0, -176.0, T, 96.0), E),
        ((-180.0, -120.0, 96.0, 100.0), E),
        ((-124.0, -120.0, 36.0, 96.0), E),
    ]
    mirror = [((-y1, -y0, z0, z1), modulus) for (y0, y1, z0, z1), modulus in half]
    same(resolved(drawn, stacks), [*half, *mirror, ((-120.0, 120.0, 36.0, 40.0), E)])
    found = facts(resolved(drawn, stacks))
    assert found.bonded == ((-230, -180), (180, 230)) or found.bonded_width == pytest.approx(2 * 54)
    assert found.base_width == pytest.approx(360)
    assert found.web_area == pytest.approx(2 * T * (96 + 60))


def test_pan_on_hull_goes_on_from_the_flanges_edge_and_is_marked(stacks: dict[str, Stack]) -> None:
    drawn = pan_on_hull(
        laminate=SKIN, pan=OTHER, height=90, crown_width=60, flange_width=50, pan_width=100, bead=3
    )
    body, left, right = drawn.walls
    assert left.points == ((-180, 9), (-80, 9))
    assert right.points == ((80, 9), (180, 9))
    assert body.on_hull is None
    assert all(wall.on_hull is not None and not wall.on_hull.fully_bonded for wall in (left, right))
    same(
        resolved(drawn, stacks, bead=3),
        [
            ((-80.0, -26.0, 3.0, 7.0), E),
            ((26.0, 80.0, 3.0, 7.0), E),
            ((-30.0, -26.0, 7.0, 86.0), E),
            ((26.0, 30.0, 7.0, 86.0), E),
            ((-30.0, 30.0, 86.0, 90.0), E),
            ((-180.0, -80.0, 3.0, 9.0), 2 * E),
            ((80.0, 180.0, 3.0, 9.0), 2 * E),
        ],
    )


def test_flanged_floor_is_its_rectangles_and_its_flange_is_free(stacks: dict[str, Stack]) -> None:
    drawn = flanged_floor(
        laminate=OTHER,
        tab=SKIN,
        depth=150,
        flange_width=60,
        tab_height=60,
        tab_width=70,
        root_radius=0,
        tab_coats=2,
        tab_step=15,
    )
    boxes = [((-3.0, 3.0, 0.0, 144.0), 2 * E), ((-3.0, 57.0, 144.0, 150.0), 2 * E)]
    for first, height, width in ((0.0, 60.0, 70.0), (T, 45.0, 55.0)):
        near, far = 3.0 + first, 3.0 + width
        for sign in (1, -1):
            upright, level = sorted((sign * near, sign * (near + T))), sorted((sign * (near + T), sign * far))
            boxes += [
                ((upright[0], upright[1], first, height), E),
                ((level[0], level[1], first, first + T), E),
            ]
    same(resolved(drawn, stacks), boxes)
    found = facts(resolved(drawn, stacks))
    assert found.free_edge
    assert found.crown_width == pytest.approx(54)
    assert found.web_area == pytest.approx(6 * 150)  # along the drawn line, which is the tool face


def test_knee_is_a_web_of_two_halves_with_a_free_flange_at_each_side(stacks: dict[str, Stack]) -> None:
    drawn = knee(laminate=SKIN, depth=120, flange_width=40, foot_width=30)
    same(
        resolved(drawn, stacks),
        [
            ((-44.0, 44.0, 116.0, 120.0), E),
            ((-4.0, 4.0, 4.0, 116.0), E),
            ((-34.0, 34.0, 0.0, 4.0), E),
        ],
    )
    found = facts(resolved(drawn, stacks))
    assert found.free_edge
    assert found.crown_width == pytest.approx(40)
    assert found.web_area == pytest.approx(2 * T * 112)


def test_rounded_knee_still_has_free_flanges(stacks: dict[str, Stack]) -> None:
    found = facts(
        resolved(knee(laminate=SKIN, depth=120, flange_width=40, foot_width=30, corner_radius=12), stacks)
    )
    assert found.free_edge
    assert 34 < found.crown_width < 40  # from where the fillet passes 45°


@pytest.mark.parametrize("deadrise", [0.0, 18.0])
def test_chine_landing_meets_the_side_at_the_chines_angle(deadrise: float, stacks: dict[str, Stack]) -> None:
    drawn = chine_landing(
        laminate=SKIN,
        height=160,
        landing_width=140,
        flange_width=60,
        side_width=90,
        chine_angle=118,
        draft=5,
        landing_radius=12,
        side_radius=12,
        root_radius=12,
        deadrise=deadrise,
    )
    (_, _, inner, corner, edge) = drawn.walls[0].points
    assert (inner, corner) == ((-70, 160), (70, 160))
    up = (edge[0] - corner[0], edge[1] - corner[1])
    along = (1.0, tan(radians(deadrise)))
    cosine = (-along[0] * up[0] - along[1] * up[1]) / ((1 + along[1] ** 2) ** 0.5 * 90)
    assert cosine == pytest.approx(cos(radians(118)), rel=1e-12)


def test_the_side_flange_of_a_chine_landing_is_no_web_but_holds_the_shelf(stacks: dict[str, Stack]) -> None:
    sizes: dict[str, Any] = {
        "laminate": SKIN, "height": 110, "landing_width": 140, "flange_width": 60, "chine_angle": 115
    }  # fmt: skip
    low = facts(resolved(chine_landing(**sizes, side_width=30), stacks))
    high = facts(resolved(chine_landing(**sizes, side_width=200), stacks))
    assert low.web_area == high.web_area == pytest.approx(T * 106)
    assert high.crown_width == pytest.approx(140 - T, abs=0.01)
    assert not high.free_edge
    assert high.base_width == 0


def test_keel_girder_stands_on_the_flat_and_its_wings_follow_the_vee(stacks: dict[str, Stack]) -> None:
    drawn = keel_girder(
        laminate=SKIN,
        cap=OTHER,
        height=200,
        crown_width=80,
        keel_flat=160,
        wing_width=50,
        vee=20,
        cap_width=50,
        cap_coats=0,
        bead=2,
    )
    *_, flat, wing = drawn.walls[0].points
    assert wing[0] - flat[0] == pytest.approx(50 * sin(radians(70)))
    assert wing[1] - flat[1] == pytest.approx(50 * sin(radians(20)))
    # the wing's shell-side face lies on the bead over the vee that begins at the flat's edge
    for y, z in (flat, wing):
        assert (z - tan(radians(20)) * (y - 80)) * sin(radians(70)) == pytest.approx(T + 2, rel=1e-9)
    bonded = facts(resolved(drawn, stacks, bead=2)).bonded
    assert bonded[1][1] == pytest.approx(80 - 2 * tan(radians(10)), abs=1e-6)


def test_engine_beds_block_lies_between_crown_and_cover(stacks: dict[str, Stack]) -> None:
    drawn = engine_bed(
        laminate=SKIN,
        cover=OTHER,
        height=150,
        crown_width=140,
        flange_width=60,
        block_width=40,
        block_depth=30,
        cover_lap=25,
        edge_radius=10,
        cove_radius=14,
    )
    areas = {}
    for fill in drawn.fills:
        ys, zs = [p[0] for p in fill.points], [p[1] for p in fill.points]
        areas[fill.name] = abs(sum(ys[i - 1] * zs[i] - ys[i] * zs[i - 1] for i in range(len(ys))) / 2)
    corner = 1 - 8 * sin(pi / 16) / 2  # a square less eight triangles of its circle
    assert areas["backing block"] == pytest.approx(40 * 30 - 2 * 100 * corner, rel=1e-12)
    assert areas["left cove"] == pytest.approx(196 * corner, rel=1e-11)
    assert areas["right cove"] == pytest.approx(196 * corner, rel=1e-11)
    assert max(z for fill in drawn.fills for _, z in fill.points) == 146
    shape = resolved(drawn, stacks)
    bare = hat(height=150, crown_width=140, flange_width=60, laminate="l1", thickness=T)
    plain = properties(resolved(Drawn(bare), stacks), None, Moduli.PLAIN)
    assert properties(shape, None, Moduli.PLAIN).EA > plain.EA + 2 * E * 6 * (90 + 2 * 14)


def test_bulkhead_strips_wedge_fills_what_the_tabs_run_over(stacks: dict[str, Stack]) -> None:
    drawn = bulkhead_strip(
        laminate=OTHER,
        tab=SKIN,
        height=200,
        tab_height=100,
        tab_width=80,
        root_radius=0,
        bed=15,
        bed_width=20,
        tab_coats=1,
    )
    (wedge,) = drawn.fills
    ys, zs = [p[0] for p in wedge.points], [p[1] for p in wedge.points]
    area = abs(sum(ys[i - 1] * zs[i] - ys[i] * zs[i - 1] for i in range(len(ys))) / 2)
    assert area == pytest.approx(15 * (6 + 46) / 2, rel=1e-12)
    assert facts(resolved(drawn, stacks)).web_area == pytest.approx(6 * 185)


def test_coats_keep_their_real_plies_however_thick_the_laminate_becomes(lay: Lay) -> None:
    drawn = flanged_floor(
        laminate=OTHER,
        tab=SKIN,
        depth=150,
        flange_width=60,
        tab_height=60,
        tab_width=70,
        root_radius=20,
        corner_radius=15,
        tab_coats=3,
        tab_step=10,
    )
    assert len(drawn.laps) == 4
    thick = {"l1": lay((T + 1.5, E)), "l2": lay((6.0, 2 * E))}
    walls = [wall for wall in drawn.walls if wall.laminate == "l1"]
    tabs = resolved(Drawn(tuple(walls), (), drawn.laps), thick)
    together = properties(tabs, None, Moduli.PLAIN)
    alone = [properties(resolved(Drawn((wall,)), thick), None, Moduli.PLAIN).area for wall in walls]
    assert together.area == pytest.approx(sum(alone), rel=1e-12)
    assert together.repairs == ()
    clipped = properties(replace(tabs, laps=()), None, Moduli.PLAIN)
    assert clipped.area < together.area - 100
    assert clipped.repairs


def test_each_coat_ends_a_step_short_of_the_one_below_it() -> None:
    drawn = bulkhead_strip(
        laminate=OTHER,
        tab=SKIN,
        height=200,
        tab_height=100,
        tab_width=80,
        root_radius=25,
        bed=15,
        bed_width=20,
        tab_coats=3,
        tab_step=20,
    )
    right = [wall for wall in drawn.walls if wall.name.startswith("right")]
    assert [wall.points[0] for wall in right] == [(3, 100), (7, 80), (11, 60)]
    assert [wall.points[-1] for wall in right] == [(103, 0), (83, 4), (63, 8)]
    left = [wall for wall in drawn.walls if wall.name.startswith("left")]
    assert all(wall.side is Side.LEFT for wall in (*left, *right))
    images: list[Wall] = [
        replace(wall, points=tuple((-y, z) for y, z in reversed(wall.points))) for wall in left
    ]
    assert [wall.points for wall in images] == [wall.points for wall in right]
