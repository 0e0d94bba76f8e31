"""What is asked of panels and spans beside their tables, and the table of zones, through real events."""

from collections.abc import Iterator
from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QToolButton
from pytestqt.modeltest import ModelTester
from pytestqt.qtbot import QtBot

from stringerlab.desktop.choice import Choice
from stringerlab.desktop.fields import QuantityField
from stringerlab.desktop.models.subject_fields import copied, pasted, suggested
from stringerlab.desktop.pages.subject_table import SubjectTable
from stringerlab.desktop.pages.subjects import SubjectsPage
from stringerlab.desktop.session import Session
from stringerlab.errors import StringerlabError
from stringerlab.layout import (
    Crossing,
    Duty,
    Landing,
    LandsOn,
    LyingPan,
    Opening,
    Panel,
    Span,
    Surface,
    TransomLoad,
    Zone,
)
from stringerlab.project import edits
from stringerlab.units import System


@pytest.fixture
def page(session: Session, qtbot: QtBot) -> Iterator[SubjectsPage]:
    made = SubjectsPage(session)
    qtbot.addWidget(made)
    made.resize(1180, 740)
    with qtbot.waitExposed(made):
        made.show()
    qtbot.waitUntil(lambda: session.fresh)
    yield made
    made.close()


def select(half: SubjectTable, rows: int) -> None:
    half._select(range(rows))  # pyright: ignore[reportPrivateUsage]


def choose(half: SubjectTable, key: str, words: str, qtbot: QtBot) -> None:
    combo = half.more.fields[key]
    assert isinstance(combo, Choice)
    assert combo.isEnabled()
    for _ in range(combo.count()):
        qtbot.keyClick(combo, Qt.Key.Key_Up)
    for _ in range(combo.findText(words)):
        qtbot.keyClick(combo, Qt.Key.Key_Down)


def put(half: SubjectTable, key: str, text: str, qtbot: QtBot) -> QuantityField:
    field = half.more.fields[key]
    assert isinstance(field, QuantityField)
    field.setFocus()
    field.selectAll()
    if text:
        qtbot.keyClicks(field, text)
    else:
        qtbot.keyClick(field, Qt.Key.Key_Delete)
    qtbot.keyClick(field, Qt.Key.Key_Return)
    return field


def test_nothing_can_be_asked_of_no_row(page: SubjectsPage) -> None:
    page.panels.table.clearSelection()
    assert not any(field.isEnabled() for field in page.panels.more.fields.values())


def test_a_surface_is_chosen_for_all_selected_rows_as_one_edit(
    page: SubjectsPage, session: Session, qtbot: QtBot
) -> None:
    select(page.panels, 2)
    choose(page.panels, "surface", "side", qtbot)
    assert [panel.surface for panel in session.project.panels[:3]] == [
        Surface.SIDE,
        Surface.SIDE,
        Surface.BOTTOM,
    ]
    session.undo()
    assert {panel.surface for panel in session.project.panels} == {Surface.BOTTOM}


def test_height_is_typed_in_any_unit_and_taken_away_again(
    page: SubjectsPage, session: Session, qtbot: QtBot
) -> None:
    select(page.panels, 1)
    put(page.panels, "height", "12 in", qtbot)
    assert session.project.panels[0].height == pytest.approx(304.8)
    select(page.panels, 1)
    put(page.panels, "height", "", qtbot)
    assert session.project.panels[0].height is None


def test_what_does_not_read_is_said_and_not_taken(page: SubjectsPage, session: Session, qtbot: QtBot) -> None:
    select(page.spans, 1)
    put(page.spans, "head", "two metres", qtbot)
    assert session.project.spans[0].head is None
    assert "two metres" in page.spans.message.text()


def test_a_pan_is_laid_on_a_panel_and_marked_bonded(
    page: SubjectsPage, session: Session, qtbot: QtBot
) -> None:
    select(page.panels, 1)
    assert not page.panels.more.fields["pan.voids"].isEnabled()
    choose(page.panels, "pan", "Main stringer", qtbot)
    assert session.project.panels[0].pan == LyingPan(laminate=session.project.sections[0].walls[0].laminate)
    choose(page.panels, "pan.fully_bonded", "yes", qtbot)
    put(page.panels, "pan.voids", "0.2", qtbot)
    pan = session.project.panels[0].pan
    assert pan is not None
    assert (pan.fully_bonded, pan.voids) == (True, 0.2)
    choose(page.panels, "pan", "none", qtbot)
    assert session.project.panels[0].pan is None


def test_how_many_spans_are_alike_is_a_whole_number(
    page: SubjectsPage, session: Session, qtbot: QtBot
) -> None:
    select(page.spans, 1)
    put(page.spans, "count", "4", qtbot)
    assert session.project.spans[0].count == 4
    assert isinstance(session.project.spans[0].count, int)
    heard: list[str] = []
    page.spans.more.refused.connect(heard.append)
    for wrong in ("2.5", "0"):
        field = put(page.spans, "count", wrong, qtbot)
        assert session.project.spans[0].count == 4
        assert field.text() == "4"
    assert [text.split(" alike")[0] for text in heard] == ["2.5", "0"]


def test_a_duty_is_chosen_for_all_selected_spans_and_undone(
    page: SubjectsPage, session: Session, qtbot: QtBot
) -> None:
    before = session.project
    select(page.spans, 2)
    choose(page.spans, "duty", "engine bed", qtbot)
    duties = [span.duty for span in session.project.spans[:3]]
    assert duties == [Duty.ENGINE_BED, Duty.ENGINE_BED, Duty.NORMAL]
    assert session.undo_label == "Change duty of 2 spans"
    select(page.spans, 1)
    choose(page.spans, "duty", "gyro bed", qtbot)
    assert session.project.spans[0].duty is Duty.GYRO
    while session.project != before:  # the keys went by a choice between
        session.undo()
    assert {span.duty for span in session.project.spans} == {Duty.NORMAL}
    combo = page.spans.more.fields["duty"]
    assert isinstance(combo, Choice)
    assert combo.value == "normal"


def test_a_duty_goes_with_a_copied_row_and_an_unknown_one_is_refused(session: Session) -> None:
    span = replace(session.project.spans[0], duty=Duty.GYRO, count=3)
    text = copied([span], session.project)
    assert pasted(text, Span, session.project) == [replace(span, id="")]
    with pytest.raises(StringerlabError, match="no duty there is"):
        pasted(text.replace("gyro bed", "windlass"), Span, session.project)


def with_details(span: Span) -> Span:
    return replace(
        span,
        openings=(Opening(x=200, height=30, width=30), Opening(x=300, height=30, width=40)),
        crossings=(Crossing(x=250, height=100),),
        landings=(Landing(on=LandsOn.TRANSOM), Landing(taper=100, height=40)),
        transom=TransomLoad(thrust=4000),
        duty=Duty.ENGINE_BED,
        count=2,
    )


def alike(one: Span, other: Span) -> bool:
    return replace(one, id="", name="") == replace(other, id="", name="")


def test_a_duplicated_span_keeps_everything(page: SubjectsPage, session: Session, qtbot: QtBot) -> None:
    session.edit("Detail", edits.replaced, with_details(session.project.spans[0]))
    page.spans.table.setFocus()
    select(page.spans, 1)
    qtbot.keyClick(page.spans.table, Qt.Key.Key_D, Qt.KeyboardModifier.ControlModifier)
    first, last = session.project.spans[0], session.project.spans[-1]
    assert last.name == f"{first.name} copy"
    assert last.id != first.id
    assert alike(first, last)


def test_rows_copied_here_come_back_with_everything_and_text_says_what_it_leaves_out(
    page: SubjectsPage, session: Session, qtbot: QtBot
) -> None:
    session.edit("Detail", edits.replaced, with_details(session.project.spans[0]))
    first = session.project.spans[0]
    select(page.spans, 2)
    page.spans.copy()
    text = QGuiApplication.clipboard().text()
    assert "2 openings, 1 crossing, aft end transom, forward end tapers, outboards (not carried" in text
    page.spans.paste()
    assert alike(session.project.spans[-2], first)
    assert alike(session.project.spans[-1], session.project.spans[1])
    assert not page.spans.message.isVisible()
    QGuiApplication.clipboard().setText(f"{text}\n")
    page.spans.paste()
    bare = session.project.spans[-2]
    assert (bare.openings, bare.crossings, bare.transom) == ((), (), None)
    assert bare.duty is Duty.ENGINE_BED
    said = page.spans.message.text()
    assert f"'{first.name}' was pasted without its 2 openings, 1 crossing" in said
    assert session.project.spans[1].name not in said
    session.undo()
    assert not page.spans.message.isVisible()


def test_only_a_bottom_is_held_against_the_hulls_deadrise(session: Session) -> None:
    panel = replace(session.project.panels[0], deadrise=0.0)
    assert suggested(panel, session.project, System.METRIC).startswith("(")
    assert suggested(replace(panel, surface=Surface.DECK), session.project, System.METRIC) == ""


def test_rows_keep_what_stands_beside_the_table_when_copied_and_pasted(session: Session) -> None:
    pan = LyingPan(laminate=session.project.laminates[0].id, fully_bonded=True, voids=0.3)
    panel = replace(session.project.panels[0], surface=Surface.SIDE, height=350.0, y=900.0, pan=pan)
    text = copied([panel], session.project)
    assert pasted(text, Panel, session.project) == [replace(panel, id="")]


def test_a_zone_is_added_and_names_what_lies_over_it(
    page: SubjectsPage, session: Session, qtbot: QtBot
) -> None:
    page.tabs.setCurrentWidget(page.zones)
    [add] = [one for one in page.zones.findChildren(QToolButton) if one.text() == "Add"]
    qtbot.mouseClick(add, Qt.MouseButton.LeftButton)
    assert [zone.name for zone in session.project.zones] == ["Zone 1"]
    session.edit("By place", edits.replaced, replace(session.project.panels[0], laminate=""))
    model = page.zones.model
    assert model.index(0, model.verdict_column).data() == session.project.panels[0].name
    session.undo()
    session.undo()
    assert session.project.zones == ()


def test_a_zone_that_cannot_be_says_so_in_its_row(page: SubjectsPage, session: Session) -> None:
    laminate = session.project.laminates[0].id
    session.edit(
        "Add a zone", edits.added, Zone(id="", name="back to front", laminate=laminate, aft=900, forward=100)
    )
    model = page.zones.model
    assert model.index(0, model.verdict_column).data() == "It runs from x 900 to 100 mm."


def test_the_page_turns_to_what_is_selected_elsewhere(page: SubjectsPage, session: Session) -> None:
    laminate = session.project.laminates[0].id
    zone = Zone(id="", name="bottom", laminate=laminate, aft=0, forward=900)
    session.edit("Add a zone", edits.added, zone)
    session.select(session.project.zones[0].id)
    assert page.tabs.currentWidget() is page.zones
    session.select(session.project.panels[1].id)
    assert page.tabs.currentIndex() == 0


def test_the_model_of_zones_is_sound(
    page: SubjectsPage, session: Session, qtmodeltester: ModelTester
) -> None:
    laminate = session.project.laminates[0].id
    zone = Zone(id="", name="bottom", laminate=laminate, aft=0, forward=900)
    session.edit("Add a zone", edits.added, zone)
    qtmodeltester.check(page.zones.model)
