"""Tools and hit tests of the plan without a mouse: what they answer, and why they refuse."""

from __future__ import annotations

from dataclasses import replace

import pytest

from stringerlab.desktop.plan.draw import DrawMember, hand_of
from stringerlab.desktop.plan.hits import What, bay_at, boxed, hit, lines_of, span_at
from stringerlab.desktop.plan.placing import PlaceEquipment
from stringerlab.desktop.plan.shaping import Extend, Pierce, Restretch, Split, Trim
from stringerlab.desktop.plan.spacing import Between, Every
from stringerlab.desktop.plan.tool import Tool
from stringerlab.desktop.plan.tools import TOOLS, Listed, listed
from stringerlab.desktop.plan.typed import count_typed, length_typed, place_typed
from stringerlab.layout.openings import Backed, Cut
from stringerlab.layout.plan import EquipmentKind, Hand, MemberKind
from stringerlab.project import planning
from stringerlab.units import System

from .conftest import SMALL, at, done, ids, scene_of


@pytest.mark.parametrize(
    ("place", "what"),
    [
        ((2000.0, 510.0), What.MEMBER),
        ((2000.0, -510.0), What.MEMBER),
        ((2000.0, 250.0), What.BAY),
        ((2000.0, -1300.0), What.BAY),
    ],
)
def test_what_lies_under_the_pointer(place: tuple[float, float], what: What) -> None:
    found = hit(scene_of(), place)
    assert found is not None
    assert found.what is what


def test_nothing_lies_off_the_bottom() -> None:
    assert hit(scene_of(), (2000.0, 1900.0)) is None
    assert bay_at(scene_of(), (-100.0, 0.0)) == ""


def test_points_of_what_is_selected_come_first() -> None:
    inner = ids(SMALL)["Inner"]
    found = hit(scene_of(SMALL, inner), (4990.0, -490.0))
    assert found is not None
    assert (found.what, found.index, found.flip) == (What.POINT, 1, -1.0)
    assert found.drawn((4000.0, -400.0)) == (4000.0, 400.0)


def test_the_span_of_a_place_lies_there() -> None:
    scene = scene_of()
    span = scene.spans[span_at(scene, ids(SMALL)["Inner"], (2000.0, -500.0))]
    xs = span.lines[0][:, 0]
    assert (xs.min(), xs.max()) == (1000.0, 3000.0)


def test_a_box_to_the_left_takes_what_it_crosses() -> None:
    scene = scene_of()
    held = ids(SMALL)
    assert boxed(scene, (2100.0, 600.0), (1900.0, 400.0)) == (held["Inner"],)
    assert boxed(scene, (1900.0, 400.0), (2100.0, 600.0)) == ()


def test_a_bay_is_shown_on_both_sides() -> None:
    scene = scene_of()
    bay = bay_at(scene, (2000.0, 1000.0))
    starboard, port = sorted(lines_of(scene, bay), key=lambda line: float(line[:, 1].max()))
    assert port[:, 1].max() == pytest.approx(-starboard[:, 1].min())
    assert port[:, 1].min() == pytest.approx(-starboard[:, 1].max())


@pytest.mark.parametrize(
    ("points", "wanted", "hand"),
    [
        (((0.0, 0.2), (900.0, 0.0)), Hand.PAIR, Hand.CENTRELINE),
        (((900.0, -700.0), (900.0, 700.0)), Hand.PAIR, Hand.CENTRELINE),
        (((0.0, 300.0), (900.0, 400.0)), Hand.STARBOARD, Hand.STARBOARD),
        (((0.0, 300.0), (900.0, 400.0)), Hand.CENTRELINE, Hand.PAIR),
    ],
)
def test_the_hand_follows_from_where_it_is_drawn(
    points: tuple[tuple[float, float], ...], wanted: Hand, hand: Hand
) -> None:
    assert hand_of(points, wanted) is hand


def test_a_longitudinal_is_kept_from_aft_forward() -> None:
    scene = scene_of()
    tool = DrawMember(name="longitudinal", points=((4000.0, 800.0), (500.0, 700.0)))
    drawn = done(tool.entered(scene), scene).layouts[0].members[-1]
    assert drawn.points == ((500.0, 700.0), (4000.0, 800.0))
    assert drawn.section == SMALL.layouts[0].members[0].section


def test_one_point_makes_no_member() -> None:
    step = DrawMember(name="longitudinal", points=((0.0, 0.0),)).entered(scene_of())
    assert step.edit is None
    assert "second point" in step.refused


@pytest.mark.parametrize("make", [Split, Trim, Extend, Restretch, Pierce])
def test_a_click_beside_every_member_says_so(make: type[Tool]) -> None:
    step = make(name="x").pressed(scene_of(), at(2000.0, 1000.0))
    assert step.edit is None
    assert "no member there" in step.refused


def test_another_section_begins_where_clicked() -> None:
    scene = scene_of()
    drawn = done(Restretch(name="stretch").pressed(scene, at(2500.0, -505.0)), scene).layouts[0].members[0]
    assert [stretch.start for stretch in drawn.stretches] == [2500.0]


def test_spacing_needs_its_members_and_a_number_that_reads() -> None:
    scene = scene_of()
    held = ids(SMALL)
    assert "Click the two members" in Between(name="between").typed(scene, "3", at(0, 0)).refused
    mixed = scene_of(SMALL, held["Inner"], held["Floor 1"])
    assert "of one kind" in Between(name="between").typed(mixed, "3", at(0, 0)).refused
    floors = scene_of(SMALL, held["Floor 1"], held["Floor 2"])
    assert "no count" in Between(name="between").typed(floors, "many", at(0, 0)).refused
    assert Every(name="every").typed(floors, "wide", at(0, 0)).refused
    assert "pitch" in Every(name="every").typed(floors, "0", at(0, 0)).refused


def test_a_negative_pitch_goes_aft_in_inches() -> None:
    scene = scene_of(SMALL, ids(SMALL)["Floor 2"])
    step = Every(name="every").typed(scene, "-10 in x 2", at(0, 0))
    grown = done(step.tool.entered(scene), scene).layouts[0].members[3:]
    assert [round(each.points[0][0], 6) for each in grown] == [2746.0, 2492.0]


def test_every_kind_of_equipment_can_be_placed_and_is_sound() -> None:
    scene = scene_of()
    tool: Tool = PlaceEquipment(name="equipment")
    placed: list[EquipmentKind] = []
    for _ in EquipmentKind:
        found = done(tool.pressed(scene, at(2000.0, 400.0)), scene).layouts[0].equipment[-1]
        placed.append(found.kind)
        assert found.hand is Hand.PAIR
        step = tool.lettered(scene, "Q")
        assert step is not None
        assert step.like is not None
        scene = replace(scene, fresh=step.like)
    assert placed == list(EquipmentKind)


def test_panels_and_spans_are_not_deleted() -> None:
    mark = SMALL.layouts[0].bays[0]
    step = listed("select").tool().deleted(scene_of(SMALL, mark.id))
    assert step.edit is None
    assert "found" in step.refused


@pytest.mark.parametrize("tool", TOOLS, ids=lambda tool: tool.id)
def test_every_tool_stands_any_key_on_an_empty_layout(tool: Listed) -> None:
    project = planning.with_layout(replace(SMALL, layouts=(), layout=""))
    scene = scene_of(project)
    made = tool.tool()
    for step in (
        made.entered(scene),
        made.back(scene),
        made.typed(scene, "1", at(0, 0)),
        made.moved(scene, at(100, 100)),
        made.released(scene, at(100, 100)),
        made.deleted(scene),
    ):
        assert step.tool.hint(scene) is not None
    assert made.sketch(scene, at(10, 10)) is not None


def test_what_is_typed_reads_with_units_or_says_why() -> None:
    assert place_typed("20 m; 1 m", None, System.METRIC, None) == (20_000.0, 1000.0)
    assert "x;y" in str(place_typed("400", None, System.METRIC, None))
    assert "60 m" in str(place_typed("90 m; 0", None, System.METRIC, None))
    assert length_typed("−1 ft", System.METRIC) == pytest.approx(-304.8)
    assert count_typed(" 4 ") == 4
    assert isinstance(count_typed("2.5"), str)


def test_kinds_of_member_have_tools_of_their_own() -> None:
    kinds = {tool.kind for each in TOOLS if isinstance(tool := each.tool(), DrawMember)}
    assert kinds == set(MemberKind)


@pytest.mark.parametrize("kind", list(MemberKind))
def test_longitudinals_go_through_and_what_is_cut_at_them_is_tabbed(kind: MemberKind) -> None:
    drawn = DrawMember(name="", kind=kind).record(scene_of(), ((500.0, 100.0), (900.0, 700.0)))
    assert (drawn.crown is Cut.CONTINUOUS) is (kind is MemberKind.LONGITUDINAL)
    assert drawn.backed is Backed.TABS
