"""Starting shapes are ordinary walls of the sizes asked for; what cannot be built says all that is wrong."""

from math import cos, hypot, inf, nan, pi, radians, sin, tan
from typing import Any

import pytest

from stringerlab.errors import StringerlabError
from stringerlab.laminate.records import PlyNumbers, Role, Stack
from stringerlab.section import facts, problems
from stringerlab.section.records import FillShape, SectionShape, Side, Wall, WallShape
from stringerlab.section.shapes import hat, plate_floor

HAT: dict[str, Any] = {
    "height": 120.0,
    "crown_width": 80.0,
    "draft": 8.0,
    "flange_width": 60.0,
    "crown_radius": 12.0,
    "root_radius": 10.0,
    "laminate": "l1",
    "thickness": 6.0,
    "bead": 5.0,
}
FLOOR: dict[str, Any] = {
    "depth": 150.0,
    "plate_laminate": "l1",
    "plate_thickness": 10.0,
    "tab_laminate": "l2",
    "tab_thickness": 4.0,
    "tab_height": 60.0,
    "tab_width": 70.0,
    "putty": "filler",
    "root_radius": 12.0,
}


def resolved(wall: Wall, thickness: float) -> WallShape:
    mat = PlyNumbers(
        name="mat",
        role=Role.REINFORCED,
        kind=None,
        angle=0.0,
        thickness=thickness,
        mass=1400.0 * thickness,
        dry_weight=430.0 * thickness,
        glass=0.3,
        E1=6400.0,
        E2=6400.0,
        G12=2750.0,
        nu12=0.33,
        tension_1=85.0,
        compression_1=117.0,
        tension_2=85.0,
        compression_2=117.0,
        shear=62.0,
        flexural=152.0,
        interlaminar=17.25,
        marks=(),
    )
    return WallShape(
        id=wall.id,
        points=wall.points,
        fillets=wall.fillets,
        side=wall.side,
        closed=wall.closed,
        stack=Stack(name=wall.laminate, plies=(mat,)),
    )


def but(sizes: dict[str, Any], **changed: Any) -> dict[str, Any]:
    return {**sizes, **changed}


def problems_of(call: Any, **given: Any) -> list[str]:
    with pytest.raises(StringerlabError) as caught:
        call(**given)
    return [str(problem) for problem in caught.value.problems]


def test_hat_is_one_wall_drawn_left_to_right_building_towards_the_shell() -> None:
    (wall,) = hat(**HAT)
    ys = [y for y, _ in wall.points]
    assert ys == sorted(ys)
    assert wall.side is Side.RIGHT
    assert wall.fillets == (0, 10, 12, 12, 10, 0)
    assert wall.laminate == "l1"


def test_hat_has_the_dimensions_it_was_asked_for() -> None:
    (wall,) = hat(**HAT)
    end, root, crown, crown_2, root_2, end_2 = wall.points
    assert crown[1] == crown_2[1] == 120
    assert crown_2[0] - crown[0] == 80
    assert root[0] - end[0] == pytest.approx(60, rel=1e-14)
    assert end_2[0] - root_2[0] == pytest.approx(60, rel=1e-14)
    lean = (crown[0] - root[0]) / (crown[1] - root[1])
    assert lean == pytest.approx(tan(radians(8)), rel=1e-12)


def test_flange_lies_on_the_bead_with_its_shell_side_face() -> None:
    (wall,) = hat(**HAT)
    assert [wall.points[i][1] for i in (0, 1, 4, 5)] == [11.0] * 4


def test_flanges_follow_a_sloped_shell_and_the_crown_stays_level() -> None:
    beta = radians(20)
    (wall,) = hat(**but(HAT, deadrise=20.0, height=150.0))
    end, root, crown, crown_2, root_2, end_2 = wall.points
    assert crown[1] == crown_2[1] == 150
    for y, z in (end, root, root_2, end_2):
        assert z * cos(beta) - y * sin(beta) == pytest.approx(11, rel=1e-12)
    assert hypot(root[0] - end[0], root[1] - end[1]) == pytest.approx(60, rel=1e-12)
    assert hypot(end_2[0] - root_2[0], end_2[1] - root_2[1]) == pytest.approx(60, rel=1e-12)
    for lower, upper in ((root, crown), (root_2, crown_2)):
        assert abs(upper[0] - lower[0]) / (upper[1] - lower[1]) == pytest.approx(tan(radians(8)), rel=1e-12)


def test_level_shell_is_the_limit_of_a_sloped_one() -> None:
    (level,) = hat(**HAT)
    (sloped,) = hat(**but(HAT, deadrise=1e-9))
    for a, b in zip(level.points, sloped.points, strict=True):
        assert a == pytest.approx(b, abs=1e-7)


def test_all_impossible_numbers_are_said_at_once() -> None:
    said = problems_of(hat, **but(HAT, height=-1.0, crown_width=nan, draft=80.0, bead=-2.0, root_radius=inf))
    assert len(said) == 5
    for name in ("height", "crown width", "draft", "bead", "root radius"):
        assert sum(f"hat w1, {name}:" in line for line in said) == 1


@pytest.mark.parametrize(
    ("change", "where"),
    [
        ({"crown_width": 15.0}, "crown"),
        ({"flange_width": 5.0}, "left flange"),
        ({"height": 25.0}, "left web"),
        ({"height": 10.0}, "height"),
        ({"crown_radius": 5.0}, "fillet between left web and crown"),
        ({"crown_radius": 0.0, "crown_width": 10.0}, "crown"),
        ({"deadrise": 60.0, "draft": 40.0}, "draft"),
        ({"deadrise": -5.0}, "deadrise"),
    ],
)
def test_what_does_not_fit_is_named(change: dict[str, float], where: str) -> None:
    said = problems_of(hat, **but(HAT, **change))
    assert any(f"hat w1, {where}:" in line for line in said), said


def test_several_misfits_are_said_at_once() -> None:
    said = problems_of(hat, **but(HAT, flange_width=5.0, crown_radius=5.0))
    assert len(said) == 4  # two flanges, two crown fillets


def test_radius_just_above_the_laminate_fits_and_just_below_folds() -> None:
    chord = cos((pi / 2 - radians(8)) / 16)  # the inner face of eight chords folds a little before the arc's
    hat(**but(HAT, crown_radius=6.001 / chord))
    assert problems_of(hat, **but(HAT, crown_radius=5.999 / chord))


def test_round_crown_without_a_flat_is_a_hat() -> None:
    (wall,) = hat(**but(HAT, draft=0.0, crown_width=50.0, crown_radius=25.0))
    assert wall.fillets[2:4] == (25, 25)


@pytest.mark.parametrize("deadrise", [0.0, 15.0])
def test_hat_stands_on_its_bead_and_nothing_is_wrong_with_it(deadrise: float) -> None:
    (wall,) = hat(**but(HAT, deadrise=deadrise))
    shape = SectionShape(name="hat", walls=(resolved(wall, 6.0),), bead=5.0)
    assert problems(shape, radians(deadrise)) == ()
    bonded = facts(shape, radians(deadrise)).bonded
    assert len(bonded) == 2
    for start, end in bonded:
        assert 60 - 10 * tan(radians(82) / 2) < end - start < 60  # the flat of the flange, less its fillet
    bare = facts(SectionShape(name="hat", walls=shape.walls, bead=0.0), radians(deadrise))
    assert bare.bonded == ()


def test_plate_floor_stands_on_the_shell_and_nothing_is_wrong_with_it() -> None:
    for bed in (0.0, 3.0):
        walls, fills = plate_floor(**but(FLOOR, bed=bed))
        shape = SectionShape(
            name="floor",
            walls=tuple(resolved(wall, {"l1": 10.0, "l2": 4.0}[wall.laminate]) for wall in walls),
            fills=tuple(
                FillShape(
                    id=fill.id, points=fill.points, name="putty", density=1100, modulus=0, strength=None
                )
                for fill in fills
            ),
        )
        assert problems(shape, 0.0) == ()
        found = facts(shape)
        assert found.web_area == pytest.approx(10 * (150 - bed), rel=1e-12)
        assert found.base_width == 0


def test_plate_floor_is_a_plate_and_two_tabs_over_putty() -> None:
    walls, fills = plate_floor(**FLOOR)
    plate, left, right = walls
    assert [wall.laminate for wall in walls] == ["l1", "l2", "l2"]
    assert plate.points == ((-5, 0), (-5, 150))
    assert plate.side is Side.RIGHT
    assert right.points == ((5, 60), (5, 0), (75, 0))
    assert left.points == ((-75, 0), (-5, 0), (-5, 60))
    assert len({wall.id for wall in walls} | {fill.id for fill in fills}) == len(walls) + len(fills)


def test_putty_fills_the_corner_under_the_fillet() -> None:
    radius, step = 12.0, pi / 2 / 8
    chord_area = radius**2 * (1 - 8 * sin(step) / 2)  # square less eight triangles of the circle
    _, fills = plate_floor(**FLOOR)
    assert len(fills) == 2
    for fill in fills:
        ys, zs = [p[0] for p in fill.points], [p[1] for p in fill.points]
        area = sum(ys[i - 1] * zs[i] - ys[i] * zs[i - 1] for i in range(len(ys))) / 2
        assert abs(area) == pytest.approx(chord_area, rel=1e-12)
    assert {(-y, z) for y, z in fills[0].points} == set(fills[1].points)


def test_sharp_tabs_need_no_putty_and_a_bed_fills_the_gap_under_the_plate() -> None:
    walls, fills = plate_floor(**but(FLOOR, root_radius=0.0, bed=3.0))
    assert walls[0].points[0] == (-5, 3)
    assert [fill.points for fill in fills] == [((-5, 0), (5, 0), (5, 3), (-5, 3))]


@pytest.mark.parametrize(
    ("change", "where"),
    [
        ({"tab_height": 160.0}, "tab height"),
        ({"bed": 80.0}, "bed"),
        ({"root_radius": 65.0}, "tab height"),
        ({"root_radius": 3.0}, "fillet between tab height and tab width"),
        ({"tab_width": 0.0}, "tab width"),
    ],
)
def test_impossible_plate_floor_is_named(change: dict[str, float], where: str) -> None:
    said = problems_of(plate_floor, **but(FLOOR, **change))
    assert any(f"plate floor w1, {where}:" in line for line in said), said
