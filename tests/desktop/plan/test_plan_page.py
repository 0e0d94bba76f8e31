"""The plan page: where to begin, bars and fields, problems at their place, underlay, picking both ways."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtWidgets import QLineEdit, QMenu, QToolButton

from stringerlab.desktop.choice import Choice
from stringerlab.desktop.fields import QuantityField
from stringerlab.desktop.pages.plan import PlanPage
from stringerlab.desktop.plan.canvas import EMPTY
from stringerlab.desktop.plan.tools import KEYS, TOOLS
from stringerlab.desktop.player import measure_in
from stringerlab.desktop.session import Session
from stringerlab.desktop.sheet.painting import RULER
from stringerlab.desktop.whereabouts import page_of
from stringerlab.drawing import Label, Picture
from stringerlab.errors import StringerlabError
from stringerlab.layout.openings import Backed, Cut, Hole, LandsOn, Opening
from stringerlab.layout.plan import Hand, LineKind, MemberKind
from stringerlab.project import planning

from .conftest import BOAT, SMALL, ids, member, session_of

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from stringerlab.desktop.window import Window


def _page(qtbot: QtBot, session: Session) -> PlanPage:
    page = PlanPage(session)
    page.resize(1188, 690)
    page.show()
    with qtbot.waitExposed(page):
        pass
    return page


@pytest.fixture
def page(qtbot: QtBot, small_session: Session) -> Iterator[PlanPage]:
    """The page on the small layout."""
    made = _page(qtbot, small_session)
    yield made
    made.close()
    made.deleteLater()


@pytest.fixture
def bare(qtbot: QtBot) -> Iterator[PlanPage]:
    """The page on a boat without a layout."""
    session = session_of(replace(BOAT, layouts=(), layout=""))
    made = _page(qtbot, session)
    yield made
    made.close()
    made.deleteLater()
    session.close()
    session.deleteLater()


def test_without_a_layout_one_button_begins_one(qtbot: QtBot, bare: PlanPage) -> None:
    assert bare.new_button.isVisible()
    assert not bare.plan.isVisible()
    qtbot.mouseClick(bare.new_button, Qt.MouseButton.LeftButton)
    assert bare.plan.isVisible()
    assert len(bare.plan.session.project.layouts) == 1
    assert "Draw the first longitudinal: L" in EMPTY[0]
    heard: list[str] = []
    bare.plan.session.said.connect(heard.append)
    bare.plan.hand.leave()
    bare.plan.hand._said = ""
    bare.plan.hand.say()
    assert heard == ["Draw the first longitudinal: L. Then transverses: T."]
    bare.plan.session.undo()
    assert bare.new_button.isVisible()


def test_every_tool_has_a_letter_of_its_own_and_stands_in_the_strip(page: PlanPage) -> None:
    letters = [listed.key for listed in TOOLS]
    assert len(set(letters)) == len(letters)
    assert not set(letters) & set("SOFRH")
    assert set(page.strip.buttons) == {listed.id for listed in TOOLS}
    assert {key for key, _ in KEYS} >= set(letters)
    for listed in TOOLS:
        page.plan.hand.take(listed.id)
        assert page.strip.buttons[listed.id].isChecked()
        scene = page.plan.hand.scene()
        assert scene is not None
        assert page.plan.hand.tool.hint(scene)


def test_nothing_of_the_page_is_cut_off_at_its_smallest(page: PlanPage) -> None:
    assert page.minimumSizeHint().width() <= 1188
    for button in page.strip.buttons.values():
        assert button.width() >= button.sizeHint().width()


def test_no_field_of_a_pierced_member_is_cut_off(page: PlanPage) -> None:
    session = page.plan.session
    inner = ids(session.project)["Inner"]
    hole = Opening(kind=Hole.LIMBER, x=1200.0, width=50.0, height=35.0, bottom=0.0, radius=10.0)
    session.edit("Open", planning.with_member_opening, inner, hole)
    session.select(inner)
    assert any("Remove opening" in each.accessibleName() for each in page.inspector.findChildren(QToolButton))
    assert page.inspector.minimumSizeHint().width() <= page.panes.width() - 20


def test_laying_results_over_a_fitted_plan_shows_all_of_them(page: PlanPage) -> None:
    plan = page.plan
    plan.fit()
    far = Label(at=(-2500.0, 0.0), text="-9370 N", align=-1, small=True)
    plan.lay_over(Picture(items=(far,)))
    right, _ = plan.view.to_screen(far.at)
    width, _ = measure_in(plan.font())(far)
    assert right - width > RULER
    plan.zoom(2.0)
    view = plan.view
    plan.lay_over(Picture())
    assert plan.view == view  # one chosen by hand stays


def test_a_check_that_was_asked_for_says_when_it_is_done(page: PlanPage, qtbot: QtBot) -> None:
    session = page.plan.session
    heard: list[str] = []
    session.said.connect(heard.append)
    page.plan.check()
    assert heard[-1].startswith("Checking")
    session._assessor.let_go()
    qtbot.waitUntil(lambda: session.fresh, timeout=20_000)
    assert heard[-1].startswith("Checked")


def test_the_plan_is_exported_from_its_bar(page: PlanPage) -> None:
    asked: list[bool] = []
    page.plan.session.export_wanted.connect(lambda: asked.append(True))
    page.bar.export.click()
    assert asked == [True]


def test_the_inspector_changes_a_member(qtbot: QtBot, page: PlanPage) -> None:
    session = page.plan.session
    inner = ids(session.project)["Inner"]
    session.select(inner)
    name = next(each for each in page.inspector.findChildren(QLineEdit) if each.accessibleName() == "Name")
    name.setFocus()
    name.selectAll()
    qtbot.keyClicks(name, "Main")
    qtbot.keyClick(name, Qt.Key.Key_Return)
    assert session.project.layouts[0].members[0].name == "Main"
    session.undo()
    assert session.project is SMALL
    session.redo()
    field = page.inspector.findChild(QuantityField, "Point 2 y")
    assert isinstance(field, QuantityField)
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, "45 cm")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert session.project.layouts[0].members[0].points[1] == (5000.0, 450.0)
    again = page.inspector.findChildren(QuantityField, "Point 2 y")[-1]
    assert again is not field
    qtbot.waitUntil(again.hasFocus)
    crown = next(
        each for each in page.inspector.findChildren(Choice) if each.accessibleName() == "At crossings"
    )
    crown.setFocus()
    qtbot.keyClick(crown, Qt.Key.Key_Down)
    assert session.project.layouts[0].members[0].crown is Cut.CONTINUOUS
    assert session.undo_label == "Change at crossings"


def test_the_inspector_takes_tab_sizes_and_tapers_with_undo(qtbot: QtBot, page: PlanPage) -> None:
    session = page.plan.session
    inner = ids(session.project)["Inner"]
    ends = (LandsOn.AS_END, LandsOn.TAPERED)
    session.edit("Tabs", planning.with_part_values, (inner,), backed=Backed.TABS, ends=ends)
    before = session.project
    session.select(inner)
    for name, typed in (("Tab thickness", "4 mm"), ("Tab bonded", "15 cm"), ("Forward taper", "450")):
        field = page.inspector.findChildren(QuantityField, name)[-1]
        field.setFocus()
        field.selectAll()
        qtbot.keyClicks(field, typed)
        qtbot.keyClick(field, Qt.Key.Key_Return)
    changed = session.project.layouts[0].members[0]
    assert (changed.tab_thickness, changed.tab_length, changed.tapers) == (4.0, 150.0, (0.0, 450.0))
    for _ in range(3):
        session.undo()
    assert session.project is before


def test_a_found_span_and_panel_show_their_sizes(page: PlanPage) -> None:
    session = page.plan.session
    for mark in (session.project.layouts[0].spans[0], session.project.layouts[0].bays[0]):
        session.select(mark.id)
        words = page.inspector.findChildren(QToolButton)
        assert any(each.text() == "Show its findings" for each in words)
        assert page_of(session.project, mark.id) == "plan"


def test_what_is_amiss_is_marked_at_its_place_with_words(page: PlanPage) -> None:
    outside = member("Far out", (2000.0, 1700.0), (3000.0, 1700.0), hand=Hand.PORT)
    session = page.plan.session
    session.edit("Draw", planning.with_part, session.project.layout, outside)
    page.plan.repaint()
    placed = page.plan.amiss()
    assert any("outside the bottom" in each.problem.what for each in placed)
    marks = page.plan._problems
    told = "\n".join(words for words, _ in marks)
    for each in placed:
        assert each.problem.what in told
        x, y = page.plan.view.to_screen(each.at)
        assert any(patch.contains(x, y) for _, patch in marks)


def test_layouts_are_chosen_copied_and_deleted_with_undo(qtbot: QtBot, page: PlanPage) -> None:
    session = page.plan.session
    page.bar.duplicate()
    assert len(session.project.layouts) == 2
    assert session.project.layout == session.project.layouts[1].id
    assert page.bar.layouts.count() == 2
    page.bar.delete()
    assert len(session.project.layouts) == 1
    session.undo()
    assert len(session.project.layouts) == 2


def test_new_members_are_made_of_the_section_chosen(qtbot: QtBot, page: PlanPage) -> None:
    choice = page.fresh.sections[MemberKind.LONGITUDINAL]
    choice.setFocus()
    qtbot.keyClick(choice, Qt.Key.Key_End)
    wanted = page.plan.session.project.sections[-1].id
    assert page.plan.hand.fresh.sections[MemberKind.LONGITUDINAL] == wanted
    hand = page.plan.hand
    hand.switch(snaps=False)
    hand.take("longitudinal")
    hand.press((0.0, 800.0))
    hand.press((3000.0, 800.0))
    hand.enter()
    assert page.plan.session.project.layouts[0].members[-1].section == wanted


def test_lines_laid_under_catch_the_pointer_and_go_with_another_project(page: PlanPage) -> None:
    hand = page.plan.hand
    page.plan.lay_under((np.array([(1500.0, 700.0), (4200.0, 910.0)]),))
    hand.take("line")
    hand.press((4205.0, 905.0))
    hand.press((1502.0, 702.0))
    hand.enter()
    line = page.plan.session.project.layouts[0].lines[0]
    assert line.kind is LineKind.SPRAY_STEP
    assert set(line.points) == {(1500.0, 700.0), (4200.0, 910.0)}
    page.plan.session.begin(SMALL)
    assert hand.underlay is None


def test_what_is_shown_can_be_switched(page: PlanPage) -> None:
    before = len(page.plan.picture().items)
    page.bar.shows["nodes"].setChecked(False)
    assert not page.plan.options.nodes
    assert len(page.plan.picture().items) < before
    assert page.bar.shows["members"].isChecked()


def test_the_menu_gives_a_section_to_all_members_selected(page: PlanPage) -> None:
    session = page.plan.session
    held = ids(session.project)
    page.plan.hand.select((held["Floor 1"], held["Floor 2"]))
    menu = page.plan.menu()
    sections = next(each.menu() for each in menu.actions() if each.text() == "Section")
    assert isinstance(sections, QMenu)
    sections.actions()[0].trigger()
    wanted = session.project.sections[0].id
    assert [each.section for each in session.project.layouts[0].members[1:]] == [wanted, wanted]
    menu.deleteLater()


def test_resting_on_a_thing_tells_what_it_is(page: PlanPage) -> None:
    plan = page.plan
    held = ids(plan.session.project)

    def told(x: float, y: float) -> str:
        return plan.tip_at(QPointF(*plan.view.to_screen((x, y))))

    assert f"Inner ({held['Inner']}), longitudinal, pair" in told(2000.0, -500.0)
    assert "in the skin" in told(2000.0, 250.0)
    assert told(2000.0, 4000.0) == ""


def test_a_dxf_comes_under_the_plan_when_it_is_asked_for_there(window: Window) -> None:
    session = window.session
    session.edit("New layout", planning.with_layout)
    window.show_page("plan")
    window.import_dxf()
    panel = window.drawings.panel
    assert panel is not None
    assert panel.place.currentText() == "As drawn"
    panel.underlay_chosen.emit((np.array([(100.0, 200.0), (900.0, 300.0)]),))
    assert window.page_id == "plan"
    page = window.stack.made["plan"]
    assert isinstance(page, PlanPage)
    assert page.plan.hand.underlay is not None
    assert window.stack.currentWidget() is page


def test_the_plan_is_written_as_a_drawing(page: PlanPage, tmp_path: Path) -> None:
    for name in ("plan.svg", "plan.png", "plan.dxf"):
        page.plan.export(tmp_path / name)
        assert (tmp_path / name).stat().st_size > 1000
    with pytest.raises(StringerlabError, match="not written"):
        page.plan.export(tmp_path / "plan.txt")
