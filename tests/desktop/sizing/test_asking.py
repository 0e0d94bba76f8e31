"""What is asked, filled in at the left: menus, ticks, limits, aims; what is wrong is said in its place."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QMenu

from stringerlab.data import folder
from stringerlab.desktop.sizing.asking import asked, sound_usual
from stringerlab.desktop.sizing.changing import PliesCard
from stringerlab.files import load
from stringerlab.project import Project
from stringerlab.project.wish_edits import (
    with_aims,
    with_variable_values,
    with_variables,
)
from stringerlab.project.wish_offers import usual
from stringerlab.project.wishes import Aim, Change, Holds, Number, Plies, SizingPlan, Wishes
from stringerlab.sizing.changing.variables import variables_of

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from stringerlab.desktop.choice import Choice
    from stringerlab.desktop.pages.size import SizePage
    from stringerlab.desktop.session import Session
    from stringerlab.desktop.sizing.fields import TypedField


HEIGHT = Number(id="", change=Change.HEIGHT, of=("s5",), least=125, most=145, step=10)


def workboat() -> Project:
    """Return the sample of which nothing is asked yet."""
    return replace(load(folder("sample_projects") / "eelgrass_workboat.json"), wishes=Wishes())


def with_height(project: Project) -> Project:
    return with_variables(project, HEIGHT)


def quiet(fraction: float, what: str) -> None:
    """Hear of progress and do nothing."""
    del fraction, what


def entries(menu: QMenu) -> dict[str, list[QAction]]:
    """Return the entries of every submenu, after the menu is filled as on opening it."""
    menu.aboutToShow.emit()
    held = {action.text(): action.menu() for action in menu.actions()}
    return {words: under.actions() for words, under in held.items() if isinstance(under, QMenu)}


def chosen(choice: Choice, words: str) -> None:
    choice.setFocus()
    choice.setCurrentIndex(choice.findText(words))
    choice.activated.emit(choice.currentIndex())


def typed(qtbot: QtBot, field: TypedField, text: str) -> None:
    field.setFocus()
    field.selectAll()
    qtbot.keyClick(field, Qt.Key.Key_Delete)
    qtbot.keyClicks(field, text)
    qtbot.keyClick(field, Qt.Key.Key_Return)


def settled(qtbot: QtBot, page: SizePage) -> None:
    qtbot.waitUntil(lambda: not page.counting, timeout=20_000)


@pytest.fixture
def plies_card(qtbot: QtBot, page: SizePage, session: Session) -> PliesCard:
    wish = next(one for one in usual(session.project) if isinstance(one, Plies))
    session.edit("Let plies change", with_variables, wish)
    settled(qtbot, page)
    card = next(iter(page.changing.cards.values()))
    assert isinstance(card, PliesCard)
    return card


def test_the_menu_offers_what_the_boat_has_and_not_what_is_marked(page: SizePage, session: Session) -> None:
    offered = entries(page.changing.menu)
    assert [one.text() for one in offered["Hat heights"]] == ["Main stringer"]
    assert "Plies of laminates" in offered
    assert "Spacing" in offered
    offered["Hat heights"][0].trigger()
    number = session.project.wishes.sizing.numbers[0]
    assert (number.change, number.of, number.least, number.most) == (Change.HEIGHT, ("s5",), 100.0, 170.0)
    assert session.undo_label == "Let Hat height of Main stringer change"
    assert "Hat heights" not in entries(page.changing.menu)


def test_the_usual_stands_first_in_the_menu(qtbot: QtBot, page: SizePage, session: Session) -> None:
    entries(page.changing.menu)
    page.changing.menu.actions()[0].trigger()
    settled(qtbot, page)
    assert session.undo_label == "Let the usual change"


def test_a_card_is_dropped_by_its_button_and_comes_back_by_undo(
    qtbot: QtBot, asked: SizePage, session: Session
) -> None:
    card = next(iter(asked.changing.cards.values()))
    qtbot.mouseClick(card.drop, Qt.MouseButton.LeftButton)
    assert session.project.wishes.sizing.numbers == ()
    assert not asked.changing.cards
    assert asked.changing.none.isVisible()
    session.undo()
    assert len(asked.changing.cards) == 1


def test_the_count_follows_what_is_typed(qtbot: QtBot, asked: SizePage) -> None:
    settled(qtbot, asked)
    assert asked.count.text() == "3 designs: every one will be judged or ruled out"
    card = next(iter(asked.changing.cards.values()))
    assert not isinstance(card, PliesCard)
    typed(qtbot, card.step, "1 mm")
    settled(qtbot, asked)
    assert asked.count.text() == "21 designs: every one will be judged or ruled out"


def test_a_space_beyond_the_budget_is_searched(qtbot: QtBot, asked: SizePage, session: Session) -> None:
    card = next(iter(asked.changing.cards.values()))
    assert not isinstance(card, PliesCard)
    typed(qtbot, card.step, "0.05 mm")
    settled(qtbot, asked)
    typed(qtbot, asked.lowering.budget, "200")
    settled(qtbot, asked)
    assert session.project.wishes.sizing.budget == 200
    assert asked.count.text() == "401 designs: searched, not proven"


def test_a_space_of_10_to_the_30_is_counted_at_once(
    qtbot: QtBot, plies_card: PliesCard, page: SizePage
) -> None:
    for row in range(plies_card.fabrics.count()):
        plies_card.fabrics.item(row).setCheckState(Qt.CheckState.Checked)
    typed(qtbot, plies_card.counts["most"], "40")
    settled(qtbot, page)
    assert "·10" in page.count.text()
    assert page.count.text().endswith("searched, not proven")


def test_what_is_wrong_is_said_on_its_card_and_nothing_runs(
    qtbot: QtBot, asked: SizePage, session: Session
) -> None:
    card = next(iter(asked.changing.cards.values()))
    assert not isinstance(card, PliesCard)
    typed(qtbot, card.least, "300 mm")
    settled(qtbot, asked)
    assert card.wrong.isVisible()
    assert "more than its most" in card.wrong.text()
    assert not asked.run_button.isEnabled()
    asked.run_or_stop()
    assert not asked.busy
    session.undo()
    settled(qtbot, asked)
    assert card.wrong.isHidden()
    assert asked.run_button.isEnabled()


def test_what_does_not_read_stays_marked_and_changes_nothing(
    qtbot: QtBot, asked: SizePage, session: Session
) -> None:
    before = session.project
    card = next(iter(asked.changing.cards.values()))
    assert not isinstance(card, PliesCard)
    with qtbot.waitSignal(session.said):
        typed(qtbot, card.least, "tall")
    assert card.least.property("wrong")
    assert card.least.toolTip()
    assert session.project is before


def test_fabrics_are_ticked_by_mouse_and_by_space(
    qtbot: QtBot, plies_card: PliesCard, session: Session
) -> None:
    fabrics = plies_card.fabrics
    item = fabrics.item(2)
    assert item.checkState() is Qt.CheckState.Unchecked
    box = fabrics.visualItemRect(item)
    qtbot.mouseClick(
        fabrics.viewport(), Qt.MouseButton.LeftButton, pos=box.topLeft() + QPoint(9, box.height() // 2)
    )
    assert len(session.project.wishes.sizing.laminates[0].menu) == 3
    fabrics.setFocus()
    fabrics.setCurrentRow(0)
    qtbot.keyClick(fabrics, Qt.Key.Key_Space)
    menu = session.project.wishes.sizing.laminates[0].menu
    assert "csm450" not in menu
    assert len(menu) == 2
    assert fabrics.item(0).text() == "Chopped mat 450 g/m²"
    session.undo()
    assert fabrics.item(0).checkState() is Qt.CheckState.Checked


def test_counts_of_plies_mat_and_gauge_are_edits(
    qtbot: QtBot, plies_card: PliesCard, session: Session
) -> None:
    typed(qtbot, plies_card.counts["kept"], "2")
    typed(qtbot, plies_card.gauge, "3,5 mm")
    qtbot.mouseClick(plies_card.mat, Qt.MouseButton.LeftButton)
    wish = session.project.wishes.sizing.laminates[0]
    assert (wish.kept, wish.gauge, wish.mat_between) == (2, 3.5, False)
    typed(qtbot, plies_card.gauge, "")
    assert session.project.wishes.sizing.laminates[0].gauge is None
    before = session.project
    typed(qtbot, plies_card.counts["most"], "6.5")
    assert plies_card.counts["most"].property("wrong")
    assert session.project is before


def test_a_number_of_plies_out_of_range_is_refused_and_shown_as_it_was(
    qtbot: QtBot, plies_card: PliesCard, session: Session
) -> None:
    before = plies_card.counts["most"].text()
    assert before == str(session.project.wishes.sizing.laminates[0].most)
    with qtbot.waitSignal(session.problem):
        typed(qtbot, plies_card.counts["most"], "99")
    assert plies_card.counts["most"].text() == before


def test_demands_are_added_typed_and_given_up(qtbot: QtBot, page: SizePage, session: Session) -> None:
    assert page.holding.none.isVisible()
    for action in page.holding.menu.actions():
        action.trigger()
    demands = session.project.wishes.sizing.demands
    assert [one.holds for one in demands] == [Holds.USE, Holds.DEFLECTION, Holds.HEIGHT]
    use, deflection, height = page.holding.cards.values()
    assert deflection.limit.text() == "200"
    typed(qtbot, deflection.limit, "250")
    typed(qtbot, height.limit, "6 in")
    chosen(use.aspect, "thickness")
    chosen(height.of.choice, "of Main stringer")
    asked_for = session.project.wishes.sizing.demands
    assert asked_for[0].aspect == "thickness"
    assert asked_for[1].limit == pytest.approx(1 / 250, rel=1e-12)
    assert asked_for[2].limit == pytest.approx(152.4, rel=1e-12)
    assert asked_for[2].of == ("s5",)
    typed(qtbot, use.limit, "0")
    assert use.limit.property("wrong")
    qtbot.mouseClick(use.drop, Qt.MouseButton.LeftButton)
    assert [one.holds for one in session.project.wishes.sizing.demands] == [Holds.DEFLECTION, Holds.HEIGHT]


def test_a_demand_is_of_those_ticked(qtbot: QtBot, page: SizePage, session: Session) -> None:
    page.holding.menu.actions()[0].trigger()
    of = next(iter(page.holding.cards.values())).of

    def asked_of() -> tuple[str, ...]:
        return session.project.wishes.sizing.demands[0].of

    assert of.list.isHidden()
    chosen(of.choice, "of spans of Main stringer")
    assert asked_of() == ("s5",)
    chosen(of.choice, "of those ticked:")
    assert not of.list.isHidden()
    assert asked_of() == ("s5",)
    for name in ("Keel to stringer, bay 2", "Floor 1", "spans of Main stringer"):
        item = of.list.findItems(name, Qt.MatchFlag.MatchExactly)[0]
        of.list.setFocus()
        of.list.setCurrentItem(item)
        qtbot.keyClick(of.list, Qt.Key.Key_Space)
    assert asked_of() == ("m26", "p16")
    session.undo()
    assert asked_of() == ("s5", "m26", "p16")
    ticked = [
        of.list.item(row).text()
        for row in range(of.list.count())
        if of.list.item(row).checkState() is Qt.CheckState.Checked
    ]
    assert ticked == ["spans of Main stringer", "Floor 1", "Keel to stringer, bay 2"]
    chosen(of.choice, "of every panel and span")
    assert asked_of() == ()
    assert of.list.isHidden()


def test_aims_and_weights_are_chosen(qtbot: QtBot, asked: SizePage, session: Session) -> None:
    lowering = asked.lowering
    assert [one.value for one in lowering.aims] == ["mass", "highest utilisation", ""]
    assert lowering.mix.isHidden()
    lowering.aims[1].show_value(Aim.MIX.value)
    lowering.aims[1].activated.emit(lowering.aims[1].currentIndex())
    assert session.project.wishes.sizing.aims == (Aim.MASS, Aim.MIX)
    assert lowering.mix.isVisible()
    typed(qtbot, lowering.weights["labour"], "2.5")
    assert session.project.wishes.sizing.weights.labour == 2.5
    settled(qtbot, asked)
    assert "rate of labour" in lowering.wrong.text()
    assert not asked.run_button.isEnabled()


def test_a_seed_and_a_budget_out_of_range_are_refused(qtbot: QtBot, page: SizePage, session: Session) -> None:
    with qtbot.waitSignal(session.problem):
        typed(qtbot, page.lowering.budget, "5")
    assert page.lowering.budget.text() == "2000000"
    typed(qtbot, page.lowering.seed, "42")
    assert session.project.wishes.sizing.seed == 42


def test_problems_are_told_by_what_they_are_of() -> None:
    boat = workboat()
    marked = with_variables(boat, *usual(boat))
    number, plies = marked.wishes.sizing.numbers[0], marked.wishes.sizing.laminates[0]
    wrong = with_variable_values(marked, number.id, of=("s99",))
    wrong = with_variable_values(wrong, plies.id, menu=())
    wrong = with_aims(wrong, (Aim.COST,))
    found = asked(wrong, quiet)
    assert "s99" in found.problems[number.id][0]
    assert "menu is empty" in found.problems[plies.id][0]
    assert "priced" in found.lower[0]
    assert not found.may_run
    assert found.words == "The designs are counted once what is wrong is put right."
    twice = with_variables(boat, *usual(boat)[:1], *usual(boat)[:1])
    said = [line for lines in asked(twice, quiet).problems.values() for line in lines]
    assert any("'Hat height of Main stringer' sets too" in line for line in said)


def test_of_a_boat_of_which_nothing_is_judged_it_is_said_why() -> None:
    boat = with_height(workboat())
    bottom = replace(boat.laminates[0], plies=())
    lost = tuple(replace(span, section="s99") for span in boat.spans)
    found = asked(replace(boat, laminates=(bottom, *boat.laminates[1:]), spans=lost), quiet)
    assert not found.may_run
    told = dict(found.elsewhere)
    assert told["laminate 'Bottom' (l1): has no plies. Add at least one reinforced ply."] == "l1"


def test_an_end_that_cannot_be_drawn_is_said_on_its_card() -> None:
    boat = workboat()
    low = Number(id="", change=Change.HEIGHT, of=("s5",), least=5, most=135, step=10)
    marked = with_variables(boat, low)
    found = asked(marked, quiet)
    (lines,) = found.problems.values()
    assert any(line.startswith("At 5") for line in lines)
    assert not found.elsewhere


def test_the_usual_of_a_drawn_boat_can_be_drawn_at_every_end() -> None:
    launch = load(folder("sample_projects") / "tidewrack_layout.json")
    wished = sound_usual(launch, quiet)
    assert len(wished) == len(usual(launch))
    numbers = tuple(replace(one, id=f"v{i}") for i, one in enumerate(wished) if isinstance(one, Number))
    laminates = tuple(replace(one, id=f"p{i}") for i, one in enumerate(wished) if isinstance(one, Plies))
    assert len(variables_of(launch, SizingPlan(numbers=numbers, laminates=laminates))) == len(wished)


def test_a_plan_is_looked_at_only_where_the_page_is_seen(
    qtbot: QtBot, page: SizePage, session: Session
) -> None:
    settled(qtbot, page)
    page.hide()
    session.edit("Ask", with_height)
    assert not page.counting
    page.show()
    assert page.counting
    settled(qtbot, page)
