"""Whether a section comes off its tool, and whether the cloth lies in its corners."""

from cmath import exp
from dataclasses import replace
from math import degrees, radians, tan
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stringerlab.laminate import PlyNumbers, Role, Stack
from stringerlab.materials.records import PlyKind
from stringerlab.section import SectionShape, Side, WallShape, mouldability
from stringerlab.section.mouldability import Aspect, Pull, Reading, Severity, summary, worst
from stringerlab.workings import Known

Points = tuple[tuple[float, float], ...]


def ply(kind: PlyKind | None, thickness: float = 1.0, angle: float = 0.0) -> PlyNumbers:
    role = Role.REINFORCED if kind else Role.CORE
    return PlyNumbers(
        name=kind.value if kind else "core",
        role=role,
        kind=kind,
        angle=angle,
        thickness=thickness,
        mass=1500.0 * thickness,
        dry_weight=500.0 * thickness,
        glass=0.3,
        E1=7000.0,
        E2=7000.0,
        G12=2700.0,
        nu12=0.3,
        tension_1=100.0,
        compression_1=100.0,
        tension_2=100.0,
        compression_2=100.0,
        shear=60.0,
        flexural=100.0,
        interlaminar=15.0,
        marks=(),
    )


def stack(*kinds: PlyKind | None, thickness: float = 1.0, angle: float = 0.0) -> Stack:
    return Stack(name="laminate", plies=tuple(ply(kind, thickness, angle) for kind in kinds))


def section(
    points: Points,
    fillets: tuple[float, ...] = (),
    side: Side = Side.RIGHT,
    laid: Stack | None = None,
    *,
    closed: bool = False,
) -> SectionShape:
    wall = WallShape(
        id="w1",
        points=points,
        fillets=fillets,
        side=side,
        closed=closed,
        stack=laid or stack(PlyKind.MAT, PlyKind.MAT),
    )
    return SectionShape(name="part", walls=(wall,))


def hat(draft: float, radius: float = 12.0, **others: Any) -> SectionShape:
    lean = 120.0 * tan(radians(draft))
    points = (
        (-100 - lean, 2.0),
        (-45 - lean, 2.0),
        (-45.0, 122.0),
        (45.0, 122.0),
        (45 + lean, 2.0),
        (100 + lean, 2.0),
    )
    return section(points, (0, radius, radius, radius, radius, 0), **others)


def drafts(readings: tuple[Reading, ...]) -> list[float]:
    return [
        degrees(reading.value) for reading in readings if reading.aspect in (Aspect.DRAFT, Aspect.UNDERCUT)
    ]


@given(st.floats(-30, 40))
def test_webs_of_a_hat_have_its_draft_and_crown_and_flanges_lie_square(draft: float):
    read = mouldability.mouldability(hat(draft))
    assert drafts(read) == pytest.approx([90, draft, 90, draft, 90], abs=1e-6)


@pytest.mark.parametrize(
    ("draft", "aspect", "severity", "words"),
    [
        (5.0, Aspect.DRAFT, Severity.FINE, "5.00 deg of draft"),
        (1.0, Aspect.DRAFT, Severity.WATCH, "is little"),
        (0.0, Aspect.DRAFT, Severity.WATCH, "No draft"),
        (-3.0, Aspect.UNDERCUT, Severity.LOCKED, "Undercut by 3.00 deg: it locks"),
    ],
)
def test_web_is_read_by_its_draft(draft: float, aspect: Aspect, severity: Severity, words: str):
    web = next(each for each in mouldability.mouldability(hat(draft)) if each.index == 1)
    assert (web.aspect, web.severity) == (aspect, severity)
    assert words in web.words
    assert web.at[1] == 62.0


def test_a_rule_of_practice_says_that_it_has_no_source():
    for reading in mouldability.mouldability(hat(5.0)):
        assert reading.source.title == "common practice, no source"
        assert reading.source.known is Known.PRACTICE


@given(st.floats(3, 30), st.floats(-0.04, 0.04))
def test_tilted_pull_is_the_section_turned_the_other_way(draft: float, tilt: float):
    tilted = drafts(mouldability.mouldability(hat(draft), tilt=tilt))
    upright = hat(draft)
    turned = [complex(*point) * exp(1j * tilt) for point in upright.walls[0].points]
    wall = replace(upright.walls[0], points=tuple((point.real, point.imag) for point in turned))
    assert drafts(mouldability.mouldability(replace(upright, walls=(wall,)))) == pytest.approx(
        tilted, abs=1e-6
    )


def test_direction_of_drawing_makes_no_difference():
    one = hat(4.0)
    wall = one.walls[0]
    other = replace(wall, points=wall.points[::-1], fillets=wall.fillets[::-1], side=Side.LEFT)
    there, back = mouldability.mouldability(one), mouldability.mouldability(replace(one, walls=(other,)))
    assert sorted(drafts(there)) == pytest.approx(sorted(drafts(back)))
    assert sorted(each.words for each in there) == sorted(each.words for each in back)


def test_wall_whose_mould_face_is_outboard_is_said_to_come_off_the_other_way():
    upward = mouldability.mouldability(hat(5.0, side=Side.LEFT))
    assert [each.aspect for each in upward][:1] == [Aspect.FACING]
    assert not drafts(upward)
    assert "swap its laminate's side" in upward[0].words
    other = mouldability.mouldability(hat(5.0, side=Side.LEFT), pull=Pull.INBOARD)
    # Laid over a plug that stands inside it, the hat lifts off upwards by the same draft.
    assert drafts(other) == pytest.approx([90, 5, 90, 5, 90])


def test_inward_lip_is_an_undercut_and_its_place_is_said():
    lipped = section(
        ((-60.0, 2.0), (-45.0, 100.0), (45.0, 100.0), (60.0, 2.0), (52.0, -20.0)), (0, 8, 8, 8, 0)
    )
    locked = [each for each in mouldability.mouldability(lipped) if each.severity is Severity.LOCKED]
    assert [(each.aspect, each.index, each.at) for each in locked] == [(Aspect.UNDERCUT, 3, (56.0, -9.0))]
    assert worst(mouldability.mouldability(lipped)) is Severity.LOCKED
    assert summary(mouldability.mouldability(lipped)) == "least draft -20.0°, 1 undercut"


def test_closed_wall_locks_on_any_tool():
    box = section(((0, 10), (60, 10), (60, 60), (0, 60)), side=Side.LEFT, closed=True)
    read = mouldability.mouldability(box)
    assert any(each.aspect is Aspect.UNDERCUT for each in read)


@pytest.mark.parametrize(
    ("kind", "least"),
    [
        (PlyKind.MAT, 5.0),
        (PlyKind.DOUBLE_BIAS, 6.0),
        (PlyKind.BIAXIAL, 8.0),
        (PlyKind.WOVEN_ROVING, 10.0),
        (PlyKind.UNIDIRECTIONAL, 12.0),
    ],
)
def test_corner_is_wide_enough_for_its_cloth_from_the_kinds_least_radius(kind: PlyKind, least: float):
    """The crown's laminate lies inside the bend, one ply of 1 mm: its own bend is the tool's less 1 mm."""
    laid = stack(kind, angle=radians(90.0))
    for radius, fine in [(least + 1.01, True), (least + 0.99, False)]:
        corner = next(
            each
            for each in mouldability.mouldability(hat(5.0, radius, laid=laid))
            if each.aspect is Aspect.RADIUS and each.index == 2
        )
        assert (corner.severity is Severity.FINE) is fine
        assert corner.value == pytest.approx(radius - 1.0)
        assert corner.limit == least


def test_ply_on_the_outside_of_a_bend_has_the_tools_radius_or_more():
    """At the root the laminate lies outside the bend: the first ply is the tightest."""
    root = next(
        each
        for each in mouldability.mouldability(hat(5.0, 9.0, laid=stack(PlyKind.WOVEN_ROVING, PlyKind.MAT)))
        if each.aspect is Aspect.RADIUS and each.index == 1
    )
    assert (root.value, root.severity) == (9.0, Severity.WATCH)
    assert "Round the tool to 10.0 mm or more" in root.words


def test_sharp_corner_is_too_tight_and_the_radius_that_would_do_counts_the_plies_over_it():
    laid = stack(PlyKind.MAT, PlyKind.MAT, PlyKind.WOVEN_ROVING)
    crown = next(
        each
        for each in mouldability.mouldability(hat(5.0, 0.0, laid=laid))
        if each.aspect is Aspect.RADIUS and each.index == 2
    )
    assert crown.severity is Severity.LOCKED
    assert "ply 3 (woven roving) would bend around a sharp edge" in crown.words
    assert "Round the tool to 13.0 mm or more" in crown.words


def test_unidirectional_along_the_member_bends_like_mat():
    along = mouldability.mouldability(hat(5.0, 8.0, laid=stack(PlyKind.UNIDIRECTIONAL)))
    across = mouldability.mouldability(hat(5.0, 8.0, laid=stack(PlyKind.UNIDIRECTIONAL, angle=radians(45.0))))
    assert worst(along) is Severity.FINE
    assert worst(across) is Severity.WATCH


def test_core_and_gentle_bends_are_not_read_for_cloth():
    assert not [
        each
        for each in mouldability.mouldability(hat(5.0, 0.0, laid=stack(None)))
        if each.aspect is Aspect.RADIUS
    ]
    gentle = section(((0.0, 0.0), (50.0, 0.0), (100.0, 12.0)))
    assert not [each for each in mouldability.mouldability(gentle) if each.aspect is Aspect.RADIUS]


def test_sound_hat_reads_in_one_line():
    assert summary(mouldability.mouldability(hat(5.0))) == "least draft 5.0°"
    assert summary(()) == "nothing to read"
    assert worst(()) is Severity.FINE


def test_cover_laid_over_a_block_has_corners_but_no_draft():
    under = hat(5.0)
    back = 122.0 - sum(each.thickness for each in under.walls[0].stack.plies)
    box = ((-30.0, back), (-20.0, back), (-20.0, 90.0), (20.0, 90.0), (20.0, back), (30.0, back))
    cover = replace(under.walls[0], id="w2", points=box, fillets=(0, 16, 10, 10, 16, 0))
    apart = replace(under, walls=(*under.walls, cover))
    assert summary(mouldability.mouldability(apart)) == "least draft 0.0°"
    for lap in (("w1", "w2"), ("w2", "w1")):
        readings = mouldability.mouldability(replace(apart, laps=(lap,)))
        assert summary(readings) == "least draft 5.0°"
        assert {each.aspect for each in readings if each.wall == "w2"} == {Aspect.RADIUS}
