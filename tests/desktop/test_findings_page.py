"""The findings page: order, filter, workings, copies, the way to the place; stale and empty states."""

from collections.abc import Iterator
from dataclasses import replace
from functools import partial

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QLabel, QPushButton
from pytestqt.modeltest import ModelTester
from pytestqt.qtbot import QtBot

from stringerlab.assess import check
from stringerlab.desktop import worker
from stringerlab.desktop.models.findings import (
    ASPECT,
    FINDING_ROLE,
    SOURCE,
    SUBJECT,
    UTILISATION,
    VERDICT,
    FindingsFilter,
    FindingsModel,
)
from stringerlab.desktop.pages.findings import FindingsPage
from stringerlab.desktop.session import Session
from stringerlab.desktop.verdicts import SIGNS, colour_of
from stringerlab.methods import Aspect, Finding, Verdict
from stringerlab.project import edits
from stringerlab.units import System


@pytest.fixture(autouse=True)
def the_methods_own_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    """Check by the method alone: these are about the page, whichever findings it shows."""
    monkeypatch.setattr(worker, "check", partial(check, topics=()))


@pytest.fixture
def page(session: Session, qtbot: QtBot) -> Iterator[FindingsPage]:
    made = FindingsPage(session)
    qtbot.addWidget(made)
    made.resize(1180, 740)
    with qtbot.waitExposed(made):
        made.show()
    qtbot.waitUntil(lambda: session.fresh)
    yield made
    made.close()


def shown(page: FindingsPage, column: int) -> list[str]:
    model = page.table.model()
    return [str(model.index(row, column).data()) for row in range(model.rowCount())]


def held(page: FindingsPage) -> list[Finding]:
    model = page.table.model()
    return [model.index(row, 0).data(FINDING_ROLE) for row in range(model.rowCount())]


def click(page: FindingsPage, row: int, qtbot: QtBot, column: int = SUBJECT) -> None:
    where = page.table.visualRect(page.table.model().index(row, column)).center()
    qtbot.mouseClick(page.table.viewport(), Qt.MouseButton.LeftButton, pos=where)


def test_most_used_stands_first_and_not_judged_last(page: FindingsPage, session: Session) -> None:
    found = held(page)
    assert session.results is not None
    assert len(found) == len(session.results.findings)
    uses = [finding.utilisation for finding in found]
    judged = [use for use in uses if use is not None]
    assert judged == sorted(judged, reverse=True)
    assert uses == [*judged, *[None] * (len(uses) - len(judged))]


def test_a_click_on_a_head_sorts_by_it(page: FindingsPage, qtbot: QtBot) -> None:
    header = page.table.horizontalHeader()
    where = QPoint(header.sectionViewportPosition(SUBJECT) + 30, header.height() // 2)
    qtbot.mouseClick(header.viewport(), Qt.MouseButton.LeftButton, pos=where)
    names = [name.casefold() for name in shown(page, SUBJECT)]
    assert names in (sorted(names), sorted(names, reverse=True))


def test_words_filter_rows_and_notes(page: FindingsPage, qtbot: QtBot) -> None:
    qtbot.keyClicks(page.words, "m27 WEB")
    assert {finding.name for finding in held(page)} == {"Floor 2"}
    assert all("web" in aspect for aspect in shown(page, ASPECT))
    qtbot.keyClick(page.words, Qt.Key.Key_Escape)
    assert page.words.text() == ""
    assert len(held(page)) == 74


def test_kind_aspect_and_verdict_narrow_the_table(page: FindingsPage, session: Session, qtbot: QtBot) -> None:
    page.kind.setCurrentText("panels")
    panels = {panel.id for panel in session.project.panels}
    assert {finding.subject for finding in held(page)} == panels
    page.verdict.setCurrentText(f"{SIGNS[Verdict.TIGHT]} tight")
    assert set(shown(page, VERDICT)) == {"tight"}
    page.aspect.setCurrentText("ply strength")
    assert set(shown(page, ASPECT)) == {"ply strength"}
    qtbot.mouseClick(page.clear, Qt.MouseButton.LeftButton)
    assert len(held(page)) == 74
    assert not page.clear.isEnabled()


def test_nothing_that_fits_offers_the_way_back(page: FindingsPage, qtbot: QtBot) -> None:
    qtbot.keyClicks(page.words, "zeppelin")
    assert not page.table.isVisible()
    [back] = [one for one in page.findChildren(QPushButton) if one.text() == "Show all findings"]
    qtbot.mouseClick(back, Qt.MouseButton.LeftButton)
    assert page.table.isVisible()
    assert len(held(page)) == 74


def test_the_chosen_finding_is_shown_in_full_with_its_workings(page: FindingsPage, qtbot: QtBot) -> None:
    click(page, 2, qtbot)
    finding = held(page)[2]
    assert page.pane.heading.text() == f"{finding.name}: {finding.aspect.value}"
    for note in finding.notes:
        assert note in page.pane.notes.text()
    qtbot.waitUntil(
        lambda: page.pane.workings.finding is finding and not page.pane.workings.image.isNull(),
        timeout=10_000,
    )
    image = page.pane.workings.image
    ratio = page.devicePixelRatioF()
    assert image.width() > 300 * ratio
    assert image.height() > page.pane.workings.viewport().height()


def test_workings_that_come_late_are_dropped(page: FindingsPage, qtbot: QtBot) -> None:
    for row in (3, 5, 1, 4):
        click(page, row, qtbot)
    last = held(page)[4]
    with qtbot.waitSignal(page.pane.workings.settled, timeout=10_000):
        pass
    assert page.pane.workings.finding is last
    assert last.aspect.value in page.pane.workings.accessibleDescription().splitlines()[0]


def test_keys_walk_the_table(page: FindingsPage, qtbot: QtBot) -> None:
    qtbot.keyClick(page.words, Qt.Key.Key_Down)
    assert page.table.hasFocus()
    row = page.table.currentIndex().row()
    qtbot.keyClick(page.table, Qt.Key.Key_Down)
    assert page.table.currentIndex().row() == row + 1
    assert page.pane.heading.text().startswith(held(page)[row + 1].name)


def test_enter_and_double_click_take_to_the_place(page: FindingsPage, session: Session, qtbot: QtBot) -> None:
    page.table.setFocus()
    finding = held(page)[page.table.currentIndex().row()]
    assert any(panel.id == finding.subject for panel in session.project.panels)
    with qtbot.waitSignal(session.wanted) as wanted:
        qtbot.keyClick(page.table, Qt.Key.Key_Return)
    assert wanted.args == [finding.subject]
    spans = {span.id: span for span in session.project.spans}
    row, span = next((i, spans[one.subject]) for i, one in enumerate(held(page)) if one.subject in spans)
    page.table.scrollTo(page.table.model().index(row, ASPECT))
    click(page, row, qtbot, ASPECT)
    with qtbot.waitSignal(session.wanted) as wanted:
        where = page.table.visualRect(page.table.model().index(row, ASPECT)).center()
        qtbot.mouseDClick(page.table.viewport(), Qt.MouseButton.LeftButton, pos=where)
    assert wanted.args == [span.section]
    assert session.selected == span.section


def test_buttons_lead_to_the_subject_and_to_its_drawing(
    page: FindingsPage, session: Session, qtbot: QtBot
) -> None:
    span = session.project.spans[0]
    modulus = next(one for one in held(page) if one.subject == span.id and one.aspect is Aspect.MODULUS)
    page.show_finding(modulus)
    assert page.pane.drawing.text() == "To the drawing"
    with qtbot.waitSignal(session.wanted) as wanted:
        qtbot.mouseClick(page.pane.there, Qt.MouseButton.LeftButton)
    assert wanted.args == [span.id]
    with qtbot.waitSignal(session.wanted) as wanted:
        qtbot.mouseClick(page.pane.drawing, Qt.MouseButton.LeftButton)
    assert wanted.args is not None
    section = next(one for one in session.project.sections if one.id == span.section)
    assert wanted.args[0] in {wall.id for wall in section.walls}
    assert f"governing: {wanted.args[0]} ply " in modulus.notes[0]
    panel = session.project.panels[0]
    strength = next(
        one for one in held(page) if one.subject == panel.id and one.aspect is Aspect.PLY_STRENGTH
    )
    page.show_finding(strength)
    assert page.pane.drawing.text() == "To the laminate"
    with qtbot.waitSignal(session.wanted) as wanted:
        qtbot.mouseClick(page.pane.drawing, Qt.MouseButton.LeftButton)
    assert wanted.args is not None
    laminate, _, ply = wanted.args[0].partition("/")
    assert laminate == panel.laminate
    assert strength.notes[0].startswith(f"governing: ply {ply}: ")


def test_what_is_selected_elsewhere_is_chosen_here(page: FindingsPage, session: Session) -> None:
    span = session.project.spans[2]
    session.select(span.id)
    index = page.table.currentIndex()
    assert index.data(FINDING_ROLE).subject == span.id
    session.select("w6")
    assert page.table.currentIndex() == index


def test_a_finding_can_be_shown_from_elsewhere_though_filtered(page: FindingsPage, qtbot: QtBot) -> None:
    wanted = held(page)[30]
    qtbot.keyClicks(page.words, "tight")
    page.show_finding(wanted)
    assert page.table.currentIndex().data(FINDING_ROLE) is wanted


def test_rows_are_copied_as_a_spreadsheet_takes_them(
    page: FindingsPage, session: Session, qtbot: QtBot
) -> None:
    click(page, 0, qtbot)
    qtbot.keyClick(page.table, Qt.Key.Key_Down, Qt.KeyboardModifier.ShiftModifier)
    qtbot.keyClick(page.table, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)
    head, *rows = QGuiApplication.clipboard().text().splitlines()
    assert head.split("\t")[:3] == ["subject", "aspect", "demand"]
    assert [row.split("\t")[0] for row in rows] == [finding.name for finding in held(page)[:2]]
    assert rows[0].split("\t")[5] == "tight"


def test_workings_are_copied_as_text_and_as_picture(page: FindingsPage, qtbot: QtBot) -> None:
    qtbot.mouseClick(page.pane.copy_text, Qt.MouseButton.LeftButton)
    text = QGuiApplication.clipboard().text()
    assert "1. " in text
    assert "Source: ISO 12215-5:2008" in text
    qtbot.mouseClick(page.pane.copy_picture, Qt.MouseButton.LeftButton)
    picture = QGuiApplication.clipboard().image()
    assert picture.width() > 600
    assert picture.pixelColor(2, 2).alpha() == 255


def test_a_source_is_short_in_the_table_and_whole_in_its_tip(page: FindingsPage) -> None:
    index = page.table.model().index(0, SOURCE)
    assert index.data() == "Annex H"
    assert index.data(Qt.ItemDataRole.ToolTipRole) == "ISO 12215-5:2008, Annex H"


def test_stale_rows_say_so_until_the_check_has_ended(
    page: FindingsPage, session: Session, qtbot: QtBot
) -> None:
    panel = session.project.panels[0]
    session.edit("Change b", edits.replaced, replace(panel, b=panel.b + 10))
    assert "before the last change" in page.state.text()
    assert len(held(page)) == 74
    qtbot.waitUntil(lambda: session.fresh)
    assert page.state.text() == ""


def test_a_stopped_check_says_how_to_go_on(page: FindingsPage, session: Session, qtbot: QtBot) -> None:
    panel = session.project.panels[0]
    session.edit("Change b", edits.replaced, replace(panel, b=panel.b + 10))
    session.cancel()
    assert "stopped" in page.state.text()
    session.assess()
    assert "Checking" in page.state.text()
    qtbot.waitUntil(lambda: session.fresh)


def test_the_same_row_stays_chosen_over_an_edit(page: FindingsPage, session: Session, qtbot: QtBot) -> None:
    click(page, 6, qtbot)
    before = held(page)[6]
    panel = session.project.panels[0]
    session.edit("Change b", edits.replaced, replace(panel, b=panel.b + 10))
    qtbot.waitUntil(lambda: session.fresh)
    after = page.table.currentIndex().data(FINDING_ROLE)
    assert (after.subject, after.aspect) == (before.subject, before.aspect)
    assert page.pane.workings.finding is after


def test_units_are_switched_live(page: FindingsPage, session: Session, qtbot: QtBot) -> None:
    session.edit("Show US units", lambda project: replace(project, units=System.US))
    qtbot.waitUntil(lambda: session.fresh)
    assert "psi" in page.pane.numbers.text()


def test_a_superseded_edition_stands_on_the_page(page: FindingsPage) -> None:
    assert page.edition.isVisible()
    assert "superseded" in page.edition.text()


def test_verdicts_differ_in_word_and_shape_not_by_colour_alone(page: FindingsPage) -> None:
    assert len(set(SIGNS.values())) == len(Verdict)
    assert "▲ 3 tight" in page.summary.text()
    colours = {colour_of(verdict, page.palette()).name() for verdict in Verdict}
    assert len(colours) == len(Verdict)


def test_an_empty_project_says_what_to_do(session: Session, qtbot: QtBot) -> None:
    session.begin(replace(session.project, panels=(), spans=()))
    page = FindingsPage(session)
    qtbot.addWidget(page)
    page.show()
    assert not page.table.isVisible()
    said = " ".join(label.text() for label in page.findChildren(QLabel) if label.isVisible())
    assert "Declare a panel" in said
    qtbot.waitUntil(lambda: session.fresh)
    page.close()


def test_workings_stand_beside_the_table_where_there_is_room(page: FindingsPage, qtbot: QtBot) -> None:
    assert page.pane.geometry().top() > page.table.geometry().bottom()
    page.resize(1820, 1000)
    qtbot.waitUntil(lambda: page.pane.geometry().left() > 800)
    assert page.pane.geometry().top() < 20


def test_models_are_sound(page: FindingsPage, session: Session, qtmodeltester: ModelTester) -> None:
    model, order = FindingsModel(), FindingsFilter()
    order.setSourceModel(model)
    qtmodeltester.check(model)
    assert session.results is not None
    findings = session.results.findings
    model.show(findings, System.METRIC)
    qtmodeltester.check(order)
    order.sort(UTILISATION, Qt.SortOrder.DescendingOrder)
    model.show(findings[3:20], System.US, stale=True)
    order.ask(text="stringer")
    qtmodeltester.check(order)
    model.show((), System.US)
    assert order.rowCount() == 0
