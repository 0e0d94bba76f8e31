"""The page Size for me as a person uses it: marks, types, runs, picks, opens."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from threading import Event
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QFileDialog, QLabel

from stringerlab.data import folder
from stringerlab.desktop.sizing.changing import NumberCard
from stringerlab.errors import Problem, StringerlabError
from stringerlab.files import load
from stringerlab.methods import NOTICE
from stringerlab.project.drafting_shapes import hat_parameters
from stringerlab.project.edits import renamed
from stringerlab.project.wish_edits import with_demand_values, with_plan
from stringerlab.project.wishes import Change, Number, Wishes
from stringerlab.sizing.changing.variables import variable_of
from stringerlab.units import System

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from stringerlab.desktop.pages.size import SizePage
    from stringerlab.desktop.session import Session
    from stringerlab.project import Project
    from stringerlab.sizing.records import Sized, Watch


def height(session: Session) -> float:
    hat = hat_parameters(session.project, "s5")
    assert hat is not None
    return hat.height


def settled(qtbot: QtBot, page: SizePage) -> None:
    qtbot.waitUntil(lambda: not page.counting and not page.busy, timeout=20_000)


def test_an_empty_page_says_what_to_do_and_offers_the_usual(
    qtbot: QtBot, page: SizePage, session: Session
) -> None:
    settled(qtbot, page)
    assert "Mark what may change" in page.says.text()
    assert not page.run_button.isEnabled()
    qtbot.mouseClick(page.usual_button, Qt.MouseButton.LeftButton)
    settled(qtbot, page)
    plan = session.project.wishes.sizing
    assert [one.change.value for one in plan.numbers] == ["hat height"]
    assert [one.laminate for one in plan.laminates] == ["l2"]
    assert page.count.text().endswith("designs: every one will be judged or ruled out")
    assert page.run_button.isEnabled()
    assert page.usual_button.isHidden()
    session.undo()
    assert session.project.wishes.sizing.numbers == ()
    assert not page.changing.cards


def test_running_finds_designs_and_picks_the_first(answered: SizePage, session: Session) -> None:
    sized = answered.sized
    assert sized is not None
    assert len(sized.front) == 3
    assert answered.results.picked == 1
    assert "Proven: of 3 designs" in answered.results.seen.text()
    assert NOTICE in answered.results.notes.text()
    assert "Hat height of Main stringer: 135 mm → 125 mm" in answered.results.pane.says.text()
    assert "less" in answered.results.pane.says.text()
    assert answered.results.stale.isHidden()
    assert height(session) == 135.0


def test_changing_the_boat_is_one_edit_and_undo_takes_it_back(
    qtbot: QtBot, answered: SizePage, session: Session
) -> None:
    qtbot.mouseClick(answered.results.pane.change_button, Qt.MouseButton.LeftButton)
    assert height(session) == 125.0
    assert session.undo_label == "Change the boat to design 1"
    assert "earlier state of the boat" in answered.results.stale.text()
    assert answered.results.picked == 1
    session.undo()
    assert height(session) == 135.0
    assert answered.results.stale.isHidden()


def test_a_result_is_marked_when_boat_or_question_change_and_not_for_words_on_paper(
    qtbot: QtBot, answered: SizePage, session: Session
) -> None:
    session.edit("Note", lambda project: replace(project, notes="Seen.", units=System.US))
    assert answered.results.stale.isHidden()
    assert "lb" in answered.results.table.model().index(0, 1).data()
    session.edit("Seed", with_plan, seed=9)
    assert "what is asked" in answered.results.stale.text()
    session.edit("Rename", renamed, "s5", "Girder")
    assert "earlier state of the boat" in answered.results.stale.text()
    answered.run_or_stop()
    settled(qtbot, answered)
    assert answered.results.stale.isHidden()


def test_run_and_stop_by_keys_and_what_was_found_before_stays(
    qtbot: QtBot, session: Session, answered: SizePage
) -> None:
    begun, before = Event(), answered.sized

    def endless(project: Project, watch: Watch, mechanics: bool) -> Sized:
        del project, mechanics
        while True:
            begun.set()
            watch(0.25, "Searching, 3 min left")

    answered._find = endless
    answered.setFocus()
    qtbot.keyClick(answered, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    qtbot.waitUntil(lambda: answered.doing.text() == "Searching, 3 min left")
    assert begun.is_set()
    assert answered.busy
    assert answered.run_button.text() == "Stop"
    assert answered.bar.isVisible()
    assert answered.bar.value() == 250
    qtbot.keyClick(answered, Qt.Key.Key_Return, Qt.KeyboardModifier.ControlModifier)
    assert not answered.busy
    assert answered.run_button.text() == "Run"
    assert answered.sized is before
    assert not answered.bar.isVisible()


def test_while_the_first_search_runs_the_page_says_so(qtbot: QtBot, asked: SizePage) -> None:
    asked.run_or_stop()
    assert asked.says.text().startswith("Seeking designs")
    asked.run_or_stop()
    assert asked.says.text().startswith("Nothing is run yet")


def test_the_mechanics_are_asked_where_ticked(qtbot: QtBot, answered: SizePage) -> None:
    told: list[bool] = []
    find = answered._find

    def heard(project: Project, watch: Watch, mechanics: bool) -> Sized:
        told.append(mechanics)
        return find(project, watch, mechanics)

    answered._find = heard
    qtbot.mouseClick(answered.mechanics, Qt.MouseButton.LeftButton)
    answered.run_or_stop()
    settled(qtbot, answered)
    assert told == [True]


def test_a_search_that_fails_says_why(qtbot: QtBot, asked: SizePage, session: Session) -> None:
    def refuses(project: Project, watch: Watch, mechanics: bool) -> Sized:
        raise StringerlabError(Problem("The disk is full.", "journal", "Free some room."))

    asked._find = refuses
    with qtbot.waitSignal(session.problem):
        asked.run_or_stop()
    assert "The disk is full." in asked.strip.text
    assert asked.run_button.isEnabled()


def test_where_nothing_holds_the_broken_demands_are_named(
    qtbot: QtBot, asked: SizePage, session: Session
) -> None:
    demand = session.project.wishes.sizing.demands[0]
    session.edit("Tighten", with_demand_values, demand.id, limit=0.1)
    settled(qtbot, asked)
    asked.run_or_stop()
    settled(qtbot, asked)
    assert "Utilisation at most 0.1" in asked.results.broken.text()
    assert asked.results.broken.isVisible()
    assert asked.results.picked == 0
    assert not asked.results.pane.change_button.isEnabled()
    assert "none of them holds" in asked.results.seen.text()


def test_a_boat_of_its_own_is_saved_and_the_one_here_stays(
    answered: SizePage, session: Session, tmp_path: Path
) -> None:
    answered.results.pane.save_as_boat(tmp_path / "light.json")
    hat = hat_parameters(load(tmp_path / "light.json"), "s5")
    assert hat is not None
    assert hat.height == 125.0
    assert height(session) == 135.0
    assert answered.results.stale.isHidden()


def test_a_design_of_a_boat_changed_since_is_refused_and_nothing_is_done(
    answered: SizePage, session: Session, tmp_path: Path
) -> None:
    """Another crown, which no design says: the design would no longer be the one that was judged."""
    pane = answered.results.pane
    said: list[str] = []
    session.problem.connect(lambda error: said.append(str(error)))
    width = Number(id="", change=Change.CROWN_WIDTH, of=("s5",), least=100, most=110)
    session.edit("Widen", lambda project: variable_of(project, width).applied(project, 0))
    changed = session.project
    pane.change_boat()
    pane.save_as_boat(tmp_path / "light.json")
    assert session.project is changed
    assert not (tmp_path / "light.json").exists()
    assert len(said) == 2
    assert all("The boat was changed since the design was found" in one for one in said)
    session.undo()
    pane.change_boat()
    assert height(session) == 125.0


def test_from_one_design_to_the_next(answered: SizePage, session: Session) -> None:
    """What a design sets is all that changed, so the next is still the boat that was judged."""
    answered.results.pane.change_boat()
    assert height(session) == 125.0
    answered.results.pick(3)
    answered.results.pane.change_boat()
    assert height(session) == 145.0


def test_where_to_save_is_asked(qtbot: QtBot, answered: SizePage, session: Session, tmp_path: Path) -> None:
    qtbot.mouseClick(answered.results.pane.save_button, Qt.MouseButton.LeftButton)
    dialog = answered.window().findChild(QFileDialog)
    assert dialog is not None
    with qtbot.waitSignal(session.said):
        dialog.fileSelected.emit(str(tmp_path / "own.json"))
    dialog.close()
    saved = load(tmp_path / "own.json")
    assert saved.name == f"{session.project.name}, design 1"


def test_a_design_is_checked_wholly_in_the_background(qtbot: QtBot, answered: SizePage) -> None:
    pane = answered.results.pane
    qtbot.mouseClick(pane.check_button, Qt.MouseButton.LeftButton)
    assert pane.busy
    assert pane.check_button.text() == "Stop the check"
    qtbot.waitUntil(lambda: not pane.busy, timeout=30_000)
    assert pane.checked.text().startswith("Checked wholly")
    assert "mechanics and grid, no rule" in pane.checked.text()
    answered.results.pick(2)
    assert pane.checked.isHidden()
    answered.results.pick(1)
    assert pane.checked.isVisible()


def test_what_whole_checks_found_is_kept_for_each_design(qtbot: QtBot, answered: SizePage) -> None:
    pane = answered.results.pane
    said: dict[int, str] = {}
    for number in (1, 3):
        answered.results.pick(number)
        qtbot.mouseClick(pane.check_button, Qt.MouseButton.LeftButton)
        assert pane.checked.text() == "Being checked wholly …"
        qtbot.waitUntil(lambda: not pane.busy, timeout=20_000)
        said[number] = pane.checked.text()
    assert said[1] != said[3]
    answered.results.pick(1)
    assert pane.checked.text() == said[1]
    answered.run_or_stop()
    qtbot.waitUntil(lambda: not answered.busy, timeout=20_000)
    answered.results.pick(1)
    assert pane.checked.isHidden()


def test_what_stands_over_the_plot_is_not_said_again_below(answered: SizePage) -> None:
    results = answered.results
    assert answered.sized is not None
    long = "Proven: of all 3 designs 3 were judged, from 4 parts of designs."
    results.show_sized(replace(answered.sized, notes=(long, "Check what you choose."), present_exact=False))
    assert "Proven" not in results.notes.text()
    assert results.notes.text().startswith("Check what you choose.")
    assert long in results.seen.toolTip()
    assert "nearest to her stand for her" in results.seen.text()


def test_without_a_layout_none_is_opened_beside(answered: SizePage) -> None:
    button = answered.results.pane.layout_button
    assert not button.isEnabled()
    assert "no layout" in button.toolTip()


def test_another_boat_begins_with_no_result(qtbot: QtBot, answered: SizePage, session: Session) -> None:
    lesson = load(folder("sample_projects") / "first_hat_lesson.json")
    session.begin(replace(lesson, wishes=Wishes()))
    assert answered.sized is None
    assert "Mark what may change" in answered.says.text()
    settled(qtbot, answered)


def test_plot_table_and_pane_pick_the_same_design(qtbot: QtBot, answered: SizePage) -> None:
    results = answered.results
    qtbot.mouseClick(results.chart, Qt.MouseButton.LeftButton, pos=results.chart.place(3).toPoint())
    assert results.table.currentIndex().data() == "3"
    assert results.pane.heading.text().startswith("Design 3")
    results.table.setFocus()
    qtbot.keyClick(results.table, Qt.Key.Key_Up)
    assert results.picked == 2
    assert results.pane.heading.text().startswith("Design 2")
    results.chart.setFocus()
    qtbot.keyClick(results.chart, Qt.Key.Key_Home)
    assert results.pane.heading.text().startswith("Design 1")
    qtbot.keyClick(results.chart, Qt.Key.Key_Return)
    assert results.pane.change_button.hasFocus()


def test_designs_are_sorted_by_a_column_and_copied_as_text(qtbot: QtBot, answered: SizePage) -> None:
    results = answered.results
    results.table.sortByColumn(1, Qt.SortOrder.DescendingOrder)
    masses = [float(results.sorted.index(row, 1).data().split()[0]) for row in range(4)]
    assert masses == sorted(masses, reverse=True)
    assert results.table.currentIndex().data() == "1"
    results.table.setFocus()
    qtbot.keyClick(results.table, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)
    lines = QApplication.clipboard().text().splitlines()
    assert len(lines) == 5
    assert lines[0].split("\t")[:2] == ["design", "mass"]
    assert lines[-1].split("\t")[0] == "1"


def test_everything_has_a_name_and_no_label_is_cut_off(answered: SizePage) -> None:
    from PySide6.QtWidgets import QAbstractButton, QComboBox, QLineEdit

    for kind in (QLineEdit, QComboBox, QAbstractButton):
        for widget in answered.findChildren(kind):
            if widget.isVisible() and widget.focusPolicy() != Qt.FocusPolicy.NoFocus:
                text = widget.text() if isinstance(widget, QAbstractButton) else ""
                assert widget.accessibleName() or text, widget
    for label in answered.findChildren(QLabel):
        if label.isVisible() and not label.wordWrap():
            assert label.width() >= label.sizeHint().width(), label.text()


@pytest.mark.parametrize("typed", ["5.5 in", "139.7 mm", "139,7"])
def test_a_range_is_typed_in_any_unit(qtbot: QtBot, asked: SizePage, session: Session, typed: str) -> None:
    card = next(iter(asked.changing.cards.values()))
    assert isinstance(card, NumberCard)
    field = card.most
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, typed)
    qtbot.keyClick(field, Qt.Key.Key_Return)
    wish = session.project.wishes.sizing.numbers[0]
    assert isinstance(wish, Number)
    assert wish.most == pytest.approx(139.7, abs=1e-9)
    assert session.undo_label == "Change range of Hat height of Main stringer"
    session.undo()
    assert field.text() == "145 mm"
