"""The plan under mouse and keys: drawing, selecting, dragging, spacing, undo."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QLineEdit

from stringerlab.layout.plan import Hand, Member, MemberKind
from stringerlab.project import Project

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from stringerlab.desktop.plan.canvas import Plan

LEFT = Qt.MouseButton.LeftButton


def pixel(plan: Plan, x: float, y: float) -> QPoint:
    left, down = plan.view.to_screen((x, y))
    return QPoint(round(left), round(down))


def click(qtbot: QtBot, plan: Plan, x: float, y: float) -> None:
    qtbot.mouseMove(plan, pixel(plan, x, y))
    qtbot.mouseClick(plan, LEFT, pos=pixel(plan, x, y))


def drag(qtbot: QtBot, plan: Plan, start: tuple[float, float], end: tuple[float, float]) -> None:
    qtbot.mousePress(plan, LEFT, pos=pixel(plan, *start))
    middle = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
    for place in (middle, end):
        qtbot.mouseMove(plan, pixel(plan, *place))
        plan.flush()
    qtbot.mouseRelease(plan, LEFT, pos=pixel(plan, *end))


def members(project: Project) -> dict[str, Member]:
    return {each.name: each for each in project.layouts[0].members}


def type_in(qtbot: QtBot, plan: Plan, text: str) -> None:
    qtbot.keyClicks(plan, text[0])
    field = plan.findChild(QLineEdit, "inline")
    assert isinstance(field, QLineEdit)
    assert field.isVisible()
    qtbot.keyClicks(field, text[1:])
    qtbot.keyClick(field, Qt.Key.Key_Return)


def test_a_longitudinal_is_drawn_with_clicks_and_enter_and_undone(qtbot: QtBot, plan: Plan) -> None:
    session = plan.session
    before = session.project
    qtbot.keyClicks(plan, "l")
    click(qtbot, plan, 0, 800)
    click(qtbot, plan, 4000, 800)
    qtbot.keyClick(plan, Qt.Key.Key_Return)
    drawn = session.project.layouts[0].members[-1]
    assert drawn.kind is MemberKind.LONGITUDINAL
    assert drawn.hand is Hand.PAIR
    assert drawn.points == ((0.0, 800.0), (4000.0, 800.0))
    assert session.undo_label == "Draw longitudinal"
    assert plan.hand.selected == (drawn.id,)
    session.undo()
    assert session.project is before


def test_a_pair_drawn_to_starboard_stands_on_both_sides(qtbot: QtBot, plan: Plan) -> None:
    qtbot.keyClicks(plan, "t")
    click(qtbot, plan, 2000, -1200)
    click(qtbot, plan, 2000, 0)
    qtbot.keyClick(plan, Qt.Key.Key_Return)
    drawn = plan.session.project.layouts[0].members[-1]
    assert drawn.points == ((2000.0, 0.0), (2000.0, 1200.0))


def test_coordinates_and_lengths_may_be_typed_with_units(qtbot: QtBot, plan: Plan) -> None:
    qtbot.keyClicks(plan, "l")
    type_in(qtbot, plan, "1 m; 900")
    type_in(qtbot, plan, "2 m < 0")
    type_in(qtbot, plan, "@50 cm; 0")
    qtbot.keyClick(plan, Qt.Key.Key_Return)
    drawn = plan.session.project.layouts[0].members[-1]
    assert [tuple(round(each, 6) for each in point) for point in drawn.points] == [
        (1000.0, 900.0),
        (3000.0, 900.0),
        (3500.0, 900.0),
    ]


def test_what_does_not_read_stays_in_the_field(qtbot: QtBot, plan: Plan) -> None:
    qtbot.keyClicks(plan, "l")
    type_in(qtbot, plan, "7 apples")
    field = plan.findChild(QLineEdit, "inline")
    assert isinstance(field, QLineEdit)
    assert field.isVisible()
    assert field.text() == "7 apples"
    assert field.toolTip()


def test_h_changes_the_hand_of_what_is_drawn(qtbot: QtBot, plan: Plan) -> None:
    qtbot.keyClicks(plan, "lh")
    click(qtbot, plan, 0, 800)
    click(qtbot, plan, 4000, 800)
    qtbot.keyClick(plan, Qt.Key.Key_Return)
    assert plan.session.project.layouts[0].members[-1].hand is Hand.PORT


def test_clicks_select_member_then_span_and_panels(qtbot: QtBot, plan: Plan) -> None:
    inner = members(plan.session.project)["Inner"]
    click(qtbot, plan, 2000, 500)
    assert plan.session.selected == inner.id
    click(qtbot, plan, 2000, -500)
    span = plan.session.selected
    assert span in {mark.id for mark in plan.session.project.layouts[0].spans}
    click(qtbot, plan, 2000, 250)
    assert plan.session.selected in {mark.id for mark in plan.session.project.layouts[0].bays}
    click(qtbot, plan, 2000, 2000)
    assert plan.session.selected == ""


def test_a_box_to_the_right_takes_what_lies_whole_in_it(qtbot: QtBot, plan: Plan) -> None:
    held = members(plan.session.project)
    drag(qtbot, plan, (600, 1900), (1400, -1900))
    assert plan.hand.selected == (held["Floor 1"].id,)
    drag(qtbot, plan, (1400, 2200), (600, -1900))
    assert set(plan.hand.selected) == {held["Floor 1"].id, held["Inner"].id}


def test_dragging_a_member_previews_and_commits_once(qtbot: QtBot, plan: Plan) -> None:
    session = plan.session
    committed: list[str | None] = []
    session.project_changed.connect(lambda: committed.append(session.undo_label))
    shown: list[Project] = []
    session.shown_changed.connect(lambda: shown.append(session.shown))
    drag(qtbot, plan, (2000, 500), (2000, 700))
    assert committed == ["Move Inner"]
    assert members(session.project)["Inner"].points == ((0.0, 700.0), (5000.0, 700.0))
    assert any(members(each)["Inner"].points[0][1] == 600.0 for each in shown)


def test_the_mirror_image_of_a_pair_drags_the_other_way(qtbot: QtBot, plan: Plan) -> None:
    drag(qtbot, plan, (2000, -500), (2000, -700))
    assert members(plan.session.project)["Inner"].points == ((0.0, 700.0), (5000.0, 700.0))


def test_a_point_drags_alone_and_escape_puts_it_back(qtbot: QtBot, plan: Plan) -> None:
    click(qtbot, plan, 2000, 500)
    drag(qtbot, plan, (5000, 500), (4500, 400))
    assert members(plan.session.project)["Inner"].points == ((0.0, 500.0), (4500.0, 400.0))
    before = plan.session.project
    qtbot.mousePress(plan, LEFT, pos=pixel(plan, 4500, 400))
    for x in (4300, 4000):
        qtbot.mouseMove(plan, pixel(plan, x, 400))
        plan.flush()
    assert plan.session.shown is not before
    qtbot.keyClick(plan, Qt.Key.Key_Escape)
    qtbot.mouseRelease(plan, LEFT, pos=pixel(plan, 4000, 400))
    assert plan.session.project is before
    assert plan.session.shown is before


def test_a_double_click_adds_a_point_and_delete_takes_it(qtbot: QtBot, plan: Plan) -> None:
    qtbot.mouseDClick(plan, LEFT, pos=pixel(plan, 2000, 500))
    assert len(members(plan.session.project)["Inner"].points) == 3
    qtbot.keyClick(plan, Qt.Key.Key_Delete)
    assert len(members(plan.session.project)["Inner"].points) == 2


def test_the_pointer_is_caught_by_what_is_drawn(qtbot: QtBot, plan: Plan) -> None:
    plan.hand.switch(snaps=True)
    qtbot.keyClicks(plan, "l")
    click(qtbot, plan, 1040, 540)
    click(qtbot, plan, 3030, 470)
    qtbot.keyClick(plan, Qt.Key.Key_Return)
    assert plan.session.project.layouts[0].members[-1].points == ((1000.0, 500.0), (3000.0, 500.0))


def test_a_transverse_from_keel_to_chine_is_square_and_on_the_grid(qtbot: QtBot, plan: Plan) -> None:
    plan.hand.switch(snaps=True)
    qtbot.keyClicks(plan, "t")
    click(qtbot, plan, 3540, 30)
    step = plan.hand.grid
    click(qtbot, plan, 3560, 1390)
    qtbot.keyClick(plan, Qt.Key.Key_Return)
    (x, y), (outer_x, outer_y) = plan.session.project.layouts[0].members[-1].points
    scene = plan.hand.scene()
    assert scene is not None
    assert scene.hull is not None
    assert (x / step, y) == (round(x / step), 0.0)
    assert outer_x == x
    assert outer_y == pytest.approx(float(scene.hull.half_beam(np.array([x]))[0]))


def test_three_are_set_between_two_floors(qtbot: QtBot, plan: Plan) -> None:
    qtbot.keyClicks(plan, "n")
    click(qtbot, plan, 1000, 900)
    click(qtbot, plan, 3000, 900)
    type_in(qtbot, plan, "3")
    assert len(plan.session.project.layouts[0].members) == 3
    assert len(plan.session.shown.layouts[0].members) == 6
    qtbot.keyClick(plan, Qt.Key.Key_Return)
    floors = [each.points[0][0] for each in plan.session.project.layouts[0].members[3:]]
    assert floors == [1500.0, 2000.0, 2500.0]


def test_a_floor_is_repeated_every_400(qtbot: QtBot, plan: Plan) -> None:
    qtbot.keyClicks(plan, "e")
    click(qtbot, plan, 3000, 900)
    type_in(qtbot, plan, "400 x 2")
    qtbot.keyClick(plan, Qt.Key.Key_Return)
    assert [each.points[0][0] for each in plan.session.project.layouts[0].members[3:]] == [3400.0, 3800.0]


def test_a_second_floor_ends_the_repeating(qtbot: QtBot, plan: Plan) -> None:
    qtbot.keyClicks(plan, "e")
    click(qtbot, plan, 1000, 900)
    click(qtbot, plan, 3000, 900)
    type_in(qtbot, plan, "500")
    qtbot.keyClick(plan, Qt.Key.Key_Return)
    found = [each.points[0][0] for each in plan.session.project.layouts[0].members[3:]]
    assert found == [1500.0, 2000.0, 2500.0]


@pytest.mark.parametrize(("key", "count"), [("x", 4), ("w", 4)])
def test_a_member_is_parted_at_or_between_crossings(qtbot: QtBot, plan: Plan, key: str, count: int) -> None:
    qtbot.keyClicks(plan, key)
    click(qtbot, plan, 1020 if key == "x" else 2000, 500)
    parts = [each for each in plan.session.project.layouts[0].members if each.kind is MemberKind.LONGITUDINAL]
    assert len(plan.session.project.layouts[0].members) == count
    assert parts[0].points == ((0.0, 500.0), (1000.0, 500.0))
    assert parts[1].points[0][0] == (1000.0 if key == "x" else 3000.0)


def test_an_end_is_carried_on_to_what_it_meets(qtbot: QtBot, plan: Plan) -> None:
    qtbot.keyClicks(plan, "j")
    click(qtbot, plan, 3000, 1150)
    x, y = members(plan.session.project)["Floor 2"].points[-1]
    assert x == 3000.0
    assert y == pytest.approx(float(plan.hand.scene().hull.half_beam([3000.0])[0]), abs=1e-6)  # type: ignore[union-attr]


def test_openings_equipment_and_cavities_are_placed_by_a_click(qtbot: QtBot, plan: Plan) -> None:
    qtbot.keyClicks(plan, "i")
    click(qtbot, plan, 2000, 500)
    qtbot.keyClicks(plan, "q")
    click(qtbot, plan, 2000, 10)
    qtbot.keyClicks(plan, "c")
    click(qtbot, plan, 2000, 250)
    layout = plan.session.project.layouts[0]
    assert [hole.x for hole in layout.members[0].openings] == [2000.0]
    assert [(each.at, each.hand) for each in layout.equipment] == [((2000.0, 0.0), Hand.CENTRELINE)]
    assert [each.anchors for each in layout.cavities] == [((2000.0, 250.0),)]


def test_hand_copy_nudge_and_delete_by_keys(qtbot: QtBot, plan: Plan) -> None:
    click(qtbot, plan, 2000, 500)
    qtbot.keyClicks(plan, "h")
    assert members(plan.session.project)["Inner"].hand is Hand.PORT
    y = members(plan.session.project)["Inner"].points[0][1]
    qtbot.keyClick(plan, Qt.Key.Key_Up)
    assert members(plan.session.project)["Inner"].points[0][1] == y + plan.hand.grid
    qtbot.keyClick(plan, Qt.Key.Key_D, Qt.KeyboardModifier.ControlModifier)
    assert len(plan.session.project.layouts[0].members) == 4
    qtbot.keyClick(plan, Qt.Key.Key_Delete)
    assert len(plan.session.project.layouts[0].members) == 3


def test_tab_goes_from_thing_to_thing(qtbot: QtBot, plan: Plan) -> None:
    ids = [each.id for each in plan.session.project.layouts[0].members]
    plan.setFocus()
    for wanted in ids:
        qtbot.keyClick(plan, Qt.Key.Key_Tab)
        assert plan.hand.selected == (wanted,)


def test_what_is_selected_elsewhere_shows_on_the_plan(plan: Plan) -> None:
    mark = plan.session.project.layouts[0].spans[0]
    plan.session.select(mark.id)
    assert plan.hand.selected == (mark.id,)
    plan.session.select("nothing of the plan")
    assert plan.hand.selected == ()
    assert plan.session.selected == "nothing of the plan"


def test_one_key_checks_now(qtbot: QtBot, plan: Plan) -> None:
    heard: list[str] = []
    plan.session.said.connect(heard.append)
    qtbot.keyClicks(plan, "r")
    assert any("Checking" in each for each in heard)
