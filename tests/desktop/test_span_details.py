"""Ends and openings of a span, opened under the table of spans, through real events."""

from collections.abc import Iterator
from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QToolButton, QWidget
from pytestqt.modeltest import ModelTester
from pytestqt.qtbot import QtBot

from stringerlab.desktop.choice import Choice
from stringerlab.desktop.fields import QuantityField
from stringerlab.desktop.models.span_columns import summary
from stringerlab.desktop.models.subject_fields import fresh
from stringerlab.desktop.pages.span_details import SpanDetails
from stringerlab.desktop.pages.subjects import SubjectsPage
from stringerlab.desktop.session import Session
from stringerlab.layout import Backed, Crossing, Cut, End, Hole, Landing, LandsOn, Opening, Span, TransomLoad
from stringerlab.project import span_details
from stringerlab.units import System


@pytest.fixture
def page(session: Session, qtbot: QtBot) -> Iterator[SubjectsPage]:
    made = SubjectsPage(session)
    qtbot.addWidget(made)
    made.resize(1180, 740)
    with qtbot.waitExposed(made):
        made.show()
    session.select(session.project.spans[0].id)
    qtbot.mouseClick(made.details.button, Qt.MouseButton.LeftButton)
    yield made
    made.close()


@pytest.fixture
def details(page: SubjectsPage) -> SpanDetails:
    return page.details


def span(session: Session) -> Span:
    return session.project.spans[0]


def press(within: QWidget, name: str, qtbot: QtBot) -> None:
    [button] = [one for one in within.findChildren(QToolButton) if one.accessibleName() == name]
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)


def put(row: QWidget, name: str, text: str, qtbot: QtBot) -> QuantityField:
    [field] = [one for one in row.findChildren(QuantityField) if one.accessibleName() == name]
    field.setFocus()
    field.selectAll()
    if text:
        qtbot.keyClicks(field, text)
    else:
        qtbot.keyClick(field, Qt.Key.Key_Delete)
    qtbot.keyClick(field, Qt.Key.Key_Return)
    return field


def choose(row: QWidget, name: str, words: str, qtbot: QtBot) -> None:
    [combo] = [one for one in row.findChildren(Choice) if one.accessibleName() == name]
    for _ in range(combo.count()):
        qtbot.keyClick(combo, Qt.Key.Key_Up)
    for _ in range(combo.findText(words)):
        qtbot.keyClick(combo, Qt.Key.Key_Down)


def type_over(details: SpanDetails, row: int, column: int, text: str, qtbot: QtBot) -> None:
    table = details.openings.table
    index = details.openings.model.index(row, column)
    table.setCurrentIndex(index)
    table.edit(index)
    editor = table.viewport().findChild(QuantityField)
    assert isinstance(editor, QuantityField)
    editor.selectAll()
    qtbot.keyClicks(editor, text)
    qtbot.keyClick(editor, Qt.Key.Key_Return)
    QApplication.processEvents()


def test_the_panel_opens_in_the_room_of_the_panels_and_shuts_again(page: SubjectsPage, qtbot: QtBot) -> None:
    assert page.details.body.isVisible()
    assert not page.panels.isVisible()
    qtbot.mouseClick(page.details.button, Qt.MouseButton.LeftButton)
    assert not page.details.body.isVisible()
    assert page.panels.isVisible()


def test_it_shuts_for_a_panel_selected_elsewhere(page: SubjectsPage, session: Session) -> None:
    session.select(session.project.panels[0].id)
    assert page.panels.isVisible()
    assert not page.details.body.isVisible()


def test_an_opening_is_added_typed_over_and_taken_out(
    details: SpanDetails, session: Session, qtbot: QtBot
) -> None:
    press(details, "Add, openings", qtbot)
    [hole] = span(session).openings
    assert hole.x == span(session).lu / 2
    assert "1 opening" in details.about.text()
    type_over(details, 0, 1, "10 in", qtbot)
    assert span(session).openings[0].x == pytest.approx(254)
    session.undo()
    assert span(session).openings == (hole,)
    details.openings.table.selectRow(0)
    qtbot.keyClick(details.openings.table, Qt.Key.Key_Delete)
    assert span(session).openings == ()
    session.undo()
    assert span(session).openings == (hole,)


def test_what_does_not_read_is_said_and_not_taken(
    details: SpanDetails, session: Session, qtbot: QtBot
) -> None:
    press(details, "Add, openings", qtbot)
    before = span(session).openings
    model = details.openings.model
    assert not model.setData(model.index(0, 3), "a hand high")
    assert span(session).openings == before
    assert "Opening 1, height" in details.message.text()
    assert details.message.isVisible()
    put(details.landings[0], "taper, aft end", "long", qtbot)
    assert span(session).landings[0] == Landing()
    assert "long" in details.message.text()


def test_a_kind_is_chosen_by_its_words(details: SpanDetails, session: Session, qtbot: QtBot) -> None:
    press(details, "Add, openings", qtbot)
    model = details.openings.model
    assert model.setData(model.index(0, 0), "lightening")
    assert span(session).openings[0].kind is Hole.LIGHTENING
    assert not model.setData(model.index(0, 0), "drain")


def test_a_crossing_is_backed_by_tabs_and_bare_again(
    details: SpanDetails, session: Session, qtbot: QtBot
) -> None:
    press(details, "Add, crossings", qtbot)
    model = details.crossings.model
    for column, text in ((2, "180"), (3, "tabs"), (4, "4 mm"), (5, "8 cm")):
        assert model.setData(model.index(0, column), text)
    [crossing] = span(session).crossings
    assert (crossing.height, crossing.backed, crossing.thickness, crossing.length) == (
        180,
        Backed.TABS,
        4,
        80,
    )
    assert crossing.crown is Cut.CUT
    assert model.setData(model.index(0, 3), "none")
    assert span(session).crossings[0].thickness is None


def test_an_end_lands_on_skin_and_is_simple(details: SpanDetails, session: Session, qtbot: QtBot) -> None:
    choose(details.landings[1], "lands on, forward end", "skin", qtbot)
    assert span(session).landings[1].on is LandsOn.SKIN
    assert span(session).ends[1] is End.SIMPLE


def test_a_taper_is_typed_and_its_height_taken_away(
    details: SpanDetails, session: Session, qtbot: QtBot
) -> None:
    put(details.landings[0], "taper, aft end", "300", qtbot)
    put(details.landings[0], "to height, aft end", "60", qtbot)
    assert span(session).landings[0] == Landing(taper=300, height=60)
    put(details.landings[0], "to height, aft end", "", qtbot)
    assert span(session).landings[0].height is None


def test_outboards_are_hung_and_taken_off(details: SpanDetails, session: Session, qtbot: QtBot) -> None:
    assert not details.outboards.isEnabled()
    qtbot.mouseClick(details.has_outboards, Qt.MouseButton.LeftButton)
    assert span(session).transom is not None
    assert span(session).landings[0].on is LandsOn.TRANSOM
    put(details.outboards, "thrust, outboards", "1500 lbf", qtbot)
    load = span(session).transom
    assert load is not None
    assert load.thrust == pytest.approx(1500 * 4.4482216, rel=1e-6)
    qtbot.mouseClick(details.has_outboards, Qt.MouseButton.LeftButton)
    assert span(session).transom is None


def test_a_full_span_has_no_room_for_another(details: SpanDetails, session: Session, qtbot: QtBot) -> None:
    one = span(session)
    full = Opening(x=one.lu / 2, height=10, width=one.lu - 10)
    session.edit("Fill it", span_details.with_opening, one.id, full)
    press(details, "Add, openings", qtbot)
    assert span(session).openings == (full,)
    assert "no room" in details.message.text()


def test_numbers_are_shown_in_the_projects_units(
    details: SpanDetails, session: Session, qtbot: QtBot
) -> None:
    press(details, "Add, openings", qtbot)
    model = details.openings.model
    model.setData(model.index(0, 1), "10 in")
    assert model.index(0, 1).data() == "254 mm"
    session.edit("US units", lambda project: replace(project, units=System.US))
    assert model.index(0, 1).data() == "10 in"


def test_other_selections_leave_the_last_span_shown(
    details: SpanDetails, page: SubjectsPage, session: Session
) -> None:
    second = session.project.spans[1]
    session.select(second.id)
    assert details.span == second
    session.select(session.project.sections[0].id)
    assert details.span == second


def test_a_new_span_like_another_has_no_holes_of_its_own(details: SpanDetails, session: Session) -> None:
    one = span(session)
    hole = Opening(x=200, height=30, width=30)
    session.edit("Add", span_details.with_opening, one.id, hole)
    session.edit("Hang", span_details.with_outboards, one.id, TransomLoad(thrust=4000))
    new = fresh(session.project, span(session), Span)
    assert isinstance(new, Span)
    assert (new.openings, new.transom, new.landings) == ((), None, (Landing(), Landing()))
    assert new.section == one.section


def test_a_summary_says_what_there_is() -> None:
    assert summary((Landing(), Landing()), 0, 0, None) == ""
    said = summary((Landing(taper=200, height=50), Landing(on=LandsOn.SKIN)), 2, 1, TransomLoad(thrust=1))
    assert said == "2 openings, 1 crossing, aft end tapers, forward end skin, outboards"


def test_the_models_are_sound(details: SpanDetails, session: Session, qtmodeltester: ModelTester) -> None:
    one = span(session)
    session.edit("Add", span_details.with_opening, one.id, Opening(x=200, height=30, width=30))
    session.edit("Add", span_details.with_crossing, one.id, Crossing(x=200, height=150))
    qtmodeltester.check(details.openings.model)
    qtmodeltester.check(details.crossings.model)
