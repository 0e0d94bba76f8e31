"""What would help: asked for by a button, read as bars, table and words, taken by a button."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest

from stringerlab.data import folder
from stringerlab.desktop.jobs import Watch
from stringerlab.desktop.pages.helps import HelpsPage
from stringerlab.desktop.session import Session
from stringerlab.desktop.studying.steps import place_of
from stringerlab.drawing import Area
from stringerlab.errors import Problem, StringerlabError
from stringerlab.files import load
from stringerlab.project import Project
from stringerlab.project.edits import renamed
from stringerlab.project.wishes import Change
from stringerlab.sizing.changing.variables import all_steps, variable_of
from stringerlab.sizing.records import Helped, Sensitivity, Step
from stringerlab.units import System

if TYPE_CHECKING:
    from pytestqt.modeltest import ModelTester
    from pytestqt.qtbot import QtBot

LEFT = Qt.MouseButton.LeftButton


def of_number(project: Project, change: Change, use: float, mass: float, *, spoils: str = "") -> Step:
    """Return a step up in the first number of a kind, said as the engine says it, with made-up effects."""
    number = next(one for one in all_steps(project) if one.change is change)
    variable = variable_of(project, number)
    here, _ = variable.nearest(project)
    before, after = variable.words(here, project), variable.words(here + 1, project)
    return Step(
        name=f"{variable.name} {before} → {after}",
        variable=variable.name,
        before=before,
        after=after,
        use=use,
        use_change=use - 1.12,
        mass_change=mass,
        worst_after=max(use, 1.01),
        spoils=spoils,
    )


def found_in(project: Project) -> Sensitivity:
    steps = (
        of_number(project, Change.HEIGHT, 0.93, 0.8),
        of_number(project, Change.REPEATS, 0.97, 3.6, spoils="bond of Floor"),
        of_number(project, Change.SPEED, 1.2, 0.0),
    )
    first = Helped(
        subject=project.spans[0].id,
        name=project.spans[0].name,
        aspect="section modulus",
        kind="rule",
        use=1.12,
        steps=steps,
        words="One step higher takes it from 1.12 to 0.93.",
    )
    second = Helped(
        subject=project.panels[0].id,
        name=project.panels[0].name,
        aspect="thickness",
        kind="rule",
        use=0.95,
        steps=(),
        words="No single step takes anything off.",
    )
    return Sensitivity(
        helped=(first, second),
        tried=12,
        problems=(Problem("A step cannot be built.", "hat"),),
        notes=("Alone.",),
    )


@pytest.fixture
def make(session: Session, qtbot: QtBot) -> Callable[..., HelpsPage]:
    def made(engine: Callable[[Project, Watch, bool], Sensitivity]) -> HelpsPage:
        page = HelpsPage(session, engine=engine)
        qtbot.addWidget(page)
        page.resize(1180, 680)
        with qtbot.waitExposed(page):
            page.show()
        return page

    return made


@pytest.fixture
def page(make: Callable[..., HelpsPage], qtbot: QtBot) -> HelpsPage:
    def engine(project: Project, watch: Watch, mechanics: bool) -> Sensitivity:
        return found_in(project)

    made = make(engine)
    qtbot.mouseClick(made.runner.run, LEFT)
    qtbot.waitUntil(lambda: made.found is not None)
    return made


def test_findings_and_their_steps_are_listed_with_words_and_bars(
    page: HelpsPage, qtmodeltester: ModelTester
) -> None:
    assert [row.cells[1] for row in page.findings_model.rows] == ["1.12", "0.95"]
    assert [row.cells[1:4] for row in page.steps_model.rows] == [
        ("0.93", "−0.190", "+0.8 kg"),
        ("0.97", "−0.150", "+3.60 kg"),
        ("1.20", "+0.080", "0 kg"),
    ]
    assert page.steps_model.rows[1].cells[4].startswith("■")
    assert "from 1.12 to 0.93" in page.words.text()
    bars = [item for item in page.picture.picture if isinstance(item, Area)]
    assert [item.subject for item in bars] == ["step/0", "step/1", "step/2"]
    assert "12 steps were tried" in page.notes.text()
    assert "A step cannot be built" in page.strip.text
    qtmodeltester.check(page.findings_model)
    qtmodeltester.check(page.steps_model)


def test_a_finding_without_a_helpful_step_says_so(page: HelpsPage, qtbot: QtBot) -> None:
    page.findings.setFocus()
    qtbot.keyClick(page.findings, Qt.Key.Key_Down)
    assert page.words.text() == "No single step takes anything off."
    assert page.steps_model.rowCount() == 0
    assert not page.do.isEnabled()


def test_a_click_on_a_bar_chooses_its_step(page: HelpsPage, qtbot: QtBot) -> None:
    bar = next(item for item in page.picture.picture if isinstance(item, Area) and item.subject == "step/1")
    y, z = bar.rings[0].mean(axis=0)
    at = page.picture.to_screen.map(QPointF(float(y), float(z)))
    qtbot.mouseClick(page.picture, LEFT, pos=at.toPoint())
    assert page.step is not None
    assert page.step.spoils == "bond of Floor"


def test_do_it_takes_the_step_as_one_edit_and_undo_takes_it_back(
    page: HelpsPage, session: Session, qtbot: QtBot
) -> None:
    before = session.project
    step = page.step
    assert step is not None
    qtbot.mouseClick(page.do, LEFT)
    assert session.undo_label == step.name[0].upper() + step.name[1:]
    number = next(one for one in all_steps(before) if one.change is Change.HEIGHT)
    variable = variable_of(before, number)
    here, _ = variable.nearest(before)
    assert variable.nearest(session.project) == (here + 1, True)
    assert page.runner.stale
    assert "earlier state" in page.runner.says.text()
    assert not page.do.isEnabled()
    session.undo()
    assert session.project == before
    assert not page.runner.stale
    assert page.do.isEnabled()


def test_show_it_goes_to_where_the_number_is_edited(page: HelpsPage, session: Session, qtbot: QtBot) -> None:
    number = next(one for one in all_steps(session.project) if one.change is Change.HEIGHT)
    with qtbot.waitSignal(session.wanted) as asked:
        qtbot.mouseClick(page.go, LEFT)
    assert asked.args == [number.of[0]]
    page.steps.selectRow(2)
    with qtbot.waitSignal(session.wanted) as asked:
        qtbot.keyClick(page.steps, Qt.Key.Key_Return)
    assert asked.args == ["craft"]


def test_a_step_that_is_gone_is_said(page: HelpsPage, session: Session, qtbot: QtBot) -> None:
    step = page.step
    assert step is not None
    section = next(one for one in session.project.sections if one.name in step.variable)
    session.edit("Rename", renamed, section.id, "Quite another")
    assert place_of(session.project, step) is None
    with qtbot.waitSignal(session.problem):
        qtbot.mouseClick(page.go, LEFT)


def test_stop_ends_a_run_and_keeps_what_was_there(make: Callable[..., HelpsPage], qtbot: QtBot) -> None:
    def endless(project: Project, watch: Watch, mechanics: bool) -> Sensitivity:
        while True:
            watch(0.25, "Trying steps, 3 s left")
            QTest.qSleep(2)

    page = make(endless)
    qtbot.mouseClick(page.runner.run, LEFT)
    qtbot.waitUntil(lambda: "Trying steps" in page.runner.says.text())
    assert page.runner.bar.value() == 250
    assert not page.runner.run.isEnabled()
    qtbot.mouseClick(page.runner.stop, LEFT)
    assert not page.runner.busy
    assert page.runner.says.text() == "Stopped."
    assert page.found is None
    page.runner.job.stop()


def test_what_the_engine_refuses_is_said(make: Callable[..., HelpsPage], qtbot: QtBot) -> None:
    def refusing(project: Project, watch: Watch, mechanics: bool) -> Sensitivity:
        raise StringerlabError([Problem("There is no such method."), Problem("Nor a boat.")])

    page = make(refusing)
    qtbot.mouseClick(page.runner.run, LEFT)
    qtbot.waitUntil(lambda: "There is no such method" in page.strip.text)
    assert "Nor a boat" in page.strip.text


def test_the_mechanics_are_asked_only_where_they_are_ticked(
    make: Callable[..., HelpsPage], qtbot: QtBot
) -> None:
    asked: list[bool] = []

    def engine(project: Project, watch: Watch, mechanics: bool) -> Sensitivity:
        asked.append(mechanics)
        return found_in(project)

    page = make(engine)
    qtbot.mouseClick(page.runner.run, LEFT)
    qtbot.waitUntil(lambda: page.found is not None and not page.runner.busy)
    page.mechanics.setFocus()
    qtbot.keyClick(page.mechanics, Qt.Key.Key_Space)
    qtbot.mouseClick(page.runner.run, LEFT)
    qtbot.waitUntil(lambda: len(asked) == 2 and not page.runner.busy)
    assert asked == [True, False]


def test_copy_gives_findings_steps_and_notice(page: HelpsPage, qtbot: QtBot) -> None:
    page.steps.setFocus()
    qtbot.keyClick(page.steps, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)
    text = QGuiApplication.clipboard().text()
    assert "section modulus\t1.12" in text
    assert "+0.8 kg" in text
    assert "roughing-out aid" in text


def test_what_was_found_is_forgotten_when_another_boat_is_opened(
    page: HelpsPage, session: Session, qtbot: QtBot
) -> None:
    other = load(folder("sample_projects") / "first_hat_lesson.json")
    session.begin(other)
    assert page.found is None
    assert page.findings_model.rowCount() == 0
    assert "One step is tried" in page.says.text()
    assert page.runner.says.text() == ""


def test_words_in_other_units_are_asked_for_again(page: HelpsPage, session: Session) -> None:
    session.edit("Show US units", lambda project: replace(project, units=System.US))
    assert page.runner.stale
    assert page.steps_model.rows[0].cells[3] == "+0.8 kg"
