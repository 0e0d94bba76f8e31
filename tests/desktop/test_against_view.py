"""Findings by every method side by side, the method's own choice, and findings beside a parent boat's."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QSignalSpy
from pytestqt.modeltest import ModelTester
from pytestqt.qtbot import QtBot

from stringerlab.data import folder
from stringerlab.desktop.against_chart import spread
from stringerlab.desktop.kinship import Kinship
from stringerlab.desktop.models.findings import FINDING_ROLE, OF_PARENT
from stringerlab.desktop.pages.findings import FindingsPage
from stringerlab.desktop.pages.parent_boat import NEAREST, ParentBoat
from stringerlab.desktop.session import Session
from stringerlab.files import load, save
from stringerlab.methods import Finding, available, method_named
from stringerlab.project import Likeness, Parent, edits

WORKBOAT = folder("sample_projects") / "eelgrass_workboat.json"
SERVICE = "ten years of lagoon patrols"


@pytest.fixture
def page(session: Session, qtbot: QtBot) -> Iterator[FindingsPage]:
    yield from _page(session, qtbot)


@pytest.fixture
def kin(qtbot: QtBot, tmp_path: Path) -> Iterator[Session]:
    """The workboat in a file, its parent a slower sister beside it."""
    project = load(WORKBOAT)
    craft = replace(project.craft, speed=0.8 * project.craft.speed)
    save(replace(project, name="Old launch", craft=craft), tmp_path / "old.json")
    save(replace(project, parent=Parent(file="old.json", service=SERVICE)), tmp_path / "boat.json")
    session = Session(load(tmp_path / "boat.json"), tmp_path / "boat.json")
    yield session
    session.close()
    session.deleteLater()


@pytest.fixture
def kin_page(kin: Session, qtbot: QtBot) -> Iterator[FindingsPage]:
    for page in _page(kin, qtbot):
        qtbot.waitUntil(lambda: Kinship.of_session(kin).relative is not None)
        yield page


def _page(session: Session, qtbot: QtBot) -> Iterator[FindingsPage]:
    made = FindingsPage(session)
    qtbot.addWidget(made)
    made.resize(1180, 740)
    with qtbot.waitExposed(made):
        made.show()
    qtbot.waitUntil(lambda: session.fresh)
    yield made
    made.close()


def look(page: FindingsPage, qtbot: QtBot, session: Session) -> None:
    qtbot.mouseClick(page.head.against, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(
        lambda: page.against.shown is not None and page.against.shown.project is session.project,
        timeout=10_000,
    )


def column_of_parent(page: FindingsPage) -> list[str]:
    model = page.table.model()
    return [str(model.index(row, OF_PARENT).data()) for row in range(model.rowCount())]


def test_every_method_judges_when_the_view_is_first_seen(
    page: FindingsPage, session: Session, qtbot: QtBot
) -> None:
    assert not page.against.subjects.rowCount()
    look(page, qtbot, session)
    of = page.against.shown
    assert of is not None
    assert {method.id for method in of.methods} == set(available())
    subjects = page.against.subjects
    assert subjects.rowCount() == len(session.project.panels) + len(session.project.spans)
    assert subjects.columnCount() == 1 + len(available())
    first = of.governing(subjects.rows[0].subject)[0]
    assert first is not None
    assert subjects.index(0, 1).data() == f"{first.utilisation:.2f}"


def test_a_subject_chosen_shows_aspects_chart_and_words(
    page: FindingsPage, session: Session, qtbot: QtBot
) -> None:
    look(page, qtbot, session)
    view, span = page.against, session.project.spans[0]
    row = next(i for i, one in enumerate(view.subjects.rows) if one.subject == span.id)
    where = view.table.visualRect(view.subjects.index(row, 0)).center()
    qtbot.mouseClick(view.table.viewport(), Qt.MouseButton.LeftButton, pos=where)
    assert session.selected == span.id
    assert view.heading.text() == span.name
    assert [one.words for one in view.aspects.rows][:2] == ["section modulus", "web area"]
    assert any(words.startswith("ISO 12215-5:2008 form: ") for _, words in view.chart.marks())
    assert "superseded" in view.why.text()
    assert "times what" in view.why.text()


def test_the_view_follows_what_is_selected_elsewhere(
    page: FindingsPage, session: Session, qtbot: QtBot
) -> None:
    look(page, qtbot, session)
    session.select(session.project.panels[2].id)
    assert page.against.heading.text() == session.project.panels[2].name


def test_an_edit_is_judged_again_by_every_method(page: FindingsPage, session: Session, qtbot: QtBot) -> None:
    look(page, qtbot, session)
    before = page.against.subjects.index(0, 1).data()
    panel = session.project.panels[0]
    session.edit("Widen", edits.replaced, replace(panel, b=1.5 * panel.b, l=1.5 * panel.l))
    qtbot.waitUntil(
        lambda: page.against.shown is not None and page.against.shown.project is session.project,
        timeout=10_000,
    )
    assert page.against.subjects.index(0, 1).data() != before


def test_methods_models_keep_qts_rules(
    page: FindingsPage, session: Session, qtbot: QtBot, qtmodeltester: ModelTester
) -> None:
    look(page, qtbot, session)
    for model in (page.against.subjects, page.against.aspects):
        qtmodeltester.check(model)


def test_methods_side_by_side_are_copied_as_text(page: FindingsPage, session: Session, qtbot: QtBot) -> None:
    look(page, qtbot, session)
    page.against.copy()
    text = QGuiApplication.clipboard().text()
    assert text.startswith(page.against.heading.text())
    assert "aspect\tISO 12215-5:2008 form" in text
    assert "thickness\t" in text


def test_the_method_is_chosen_on_the_page_and_taken_back(
    page: FindingsPage, session: Session, qtbot: QtBot
) -> None:
    others = [id for id in available() if id != session.project.method]  # noqa: A001
    own = session.project.method
    assert page.head.method.value == own
    page.head.method.setFocus()
    page.head.method.setCurrentIndex(page.head.method.findData(others[0]))
    page.head.method.activated.emit(page.head.method.currentIndex())
    assert session.project.method == others[0]
    assert session.undo_label == "Change method"
    qtbot.waitUntil(lambda: session.fresh)
    assert session.results is not None
    assert session.results.method is method_named(others[0])
    session.undo()
    assert page.head.method.value == own


def test_letters_are_spread_and_stay_in_order() -> None:
    assert spread([10, 30, 31], 12, 100) == [10, 30, 42]
    assert spread([95, 96, 97], 12, 100) == [76, 88, 100]
    assert spread([], 12, 100) == []


def test_without_a_parent_there_is_no_column(page: FindingsPage) -> None:
    assert page.table.isColumnHidden(OF_PARENT)
    assert page.pane.beside.text() == ""


def test_findings_stand_beside_the_parents(kin_page: FindingsPage, kin: Session) -> None:
    assert not kin_page.table.isColumnHidden(OF_PARENT)
    shown = column_of_parent(kin_page)
    found = Kinship.of_session(kin).relative
    assert found is not None
    model = kin_page.table.model()
    finding = model.index(0, 0).data(FINDING_ROLE)
    assert isinstance(finding, Finding)
    beside = found.of(finding)
    assert beside is not None
    assert shown[0] == f"{beside.ratio:.2f}"
    assert beside.words in kin_page.pane.beside.text()
    assert SERVICE in kin_page.pane.beside.text()
    kin_page.copy_rows()
    assert "of parent" in QGuiApplication.clipboard().text().splitlines()[0]


def test_a_likeness_is_chosen_beside_the_finding_and_taken_back(
    kin_page: FindingsPage, kin: Session, qtbot: QtBot
) -> None:
    like = kin_page.pane.like
    own, other = kin.project.panels[0].id, kin.project.panels[1].id
    kin.select(own)
    assert like.itemText(0) == f"held against {NEAREST}"
    like.setCurrentIndex(like.findData(other))
    like.activated.emit(like.currentIndex())
    assert kin.project.parent is not None
    assert kin.project.parent.likenesses == (Likeness(own=own, parent=other),)
    qtbot.waitUntil(lambda: "named as its counterpart" in kin_page.pane.beside.text())
    kin.undo()
    assert kin.project.parent is not None
    assert not kin.project.parent.likenesses
    qtbot.waitUntil(lambda: NEAREST in kin_page.pane.beside.text())


def test_the_parent_is_judged_once_while_its_file_stays(
    kin_page: FindingsPage, kin: Session, qtbot: QtBot
) -> None:
    kinship = Kinship.of_session(kin)
    first = kinship.parent_results
    panel = kin.project.panels[0]
    spy = QSignalSpy(kinship.changed)
    kin.edit("Widen", edits.replaced, replace(panel, b=1.1 * panel.b))
    qtbot.waitUntil(lambda: spy.count() > 0)
    assert kinship.parent_results is first


def test_the_boat_page_names_a_parent(session: Session, qtbot: QtBot, tmp_path: Path) -> None:
    save(load(WORKBOAT), tmp_path / "old.json")
    group = ParentBoat(session)
    qtbot.addWidget(group)
    group.show()
    qtbot.waitUntil(lambda: session.fresh)
    assert not group.service.isVisible()
    qtbot.keyClicks(group.file, str(tmp_path / "old.json"))
    qtbot.keyClick(group.file, Qt.Key.Key_Return)
    assert session.undo_label == "Change parent boat"
    qtbot.waitUntil(lambda: group.like.isVisible())
    assert "no rule compliance" in group.says.text()
    qtbot.keyClicks(group.service, SERVICE)
    qtbot.keyClick(group.service, Qt.Key.Key_Return)
    assert session.project.parent == Parent(file=str(tmp_path / "old.json"), service=SERVICE)
    own, other = session.project.spans[0].id, session.project.spans[1].id
    session.select(own)
    assert group.own.value == own
    assert group.like.findData(session.project.panels[0].id) < 0
    group.like.setCurrentIndex(group.like.findData(other))
    group.like.activated.emit(group.like.currentIndex())
    assert session.project.parent is not None
    assert session.project.parent.likenesses == (Likeness(own=own, parent=other),)
    session.undo()
    session.undo()
    session.undo()
    assert session.project.parent is None
    assert not group.service.isVisible()


def test_a_parent_that_is_not_there_is_said_where_it_is_named(kin: Session, qtbot: QtBot) -> None:
    assert kin.path is not None
    (kin.path.parent / "old.json").unlink()
    group = ParentBoat(kin)
    qtbot.addWidget(group)
    group.show()
    qtbot.waitUntil(lambda: "old.json" in group.strip.text)
    assert Kinship.of_session(kin).relative is None
    [trouble] = Kinship.of_session(kin).troubles
    assert trouble.startswith("Parent boat")
    page = FindingsPage(kin)
    qtbot.addWidget(page)
    assert trouble in page.edition.text()
    assert group.service.isVisible()
    assert not group.like.isVisible()
