"""The window as a whole: pages, menus, keys, what its foot says, where the keyboard goes."""

from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QAbstractButton, QApplication, QDialog, QLabel, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from stringerlab.desktop.about import About
from stringerlab.desktop.actions import ACTIONS, MENUS, PAGES, Needs, Page, page_actions
from stringerlab.desktop.pages.findings import FindingsPage
from stringerlab.desktop.pages.help import HelpPage
from stringerlab.desktop.pages.laminates import LaminatesPage
from stringerlab.desktop.pages.sections import SectionsPage
from stringerlab.desktop.pages.subjects import SubjectsPage
from stringerlab.desktop.session import Session
from stringerlab.desktop.settings import Place, Settings, Store
from stringerlab.desktop.sheet.switches import SWITCHES
from stringerlab.desktop.sheet.tools import KEYS
from stringerlab.desktop.theme import Scheme, is_dark
from stringerlab.desktop.tour import STEPS, Tour
from stringerlab.desktop.verdicts import MARK
from stringerlab.desktop.whereabouts import on_a_screen, page_of
from stringerlab.desktop.window import Window
from stringerlab.methods import NOTICE, Aspect, Finding
from stringerlab.project import drafting, edits
from stringerlab.section.shapes import STARTERS
from stringerlab.units import System

CTRL = Qt.KeyboardModifier.ControlModifier


def _click(qtbot: QtBot, button: QAbstractButton) -> None:
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)


def _rename(window: Window, name: str = "Eelgrass 7") -> None:
    session = window.session
    section = session.project.sections[0]
    session.edit("Rename section", edits.renamed, section.id, name)


# -- the tables --------------------------------------------------------------------------------


def test_shortcuts_are_used_once() -> None:
    keys = [QKeySequence(keys).toString() for a in (*page_actions(), *ACTIONS) for keys in a.shortcuts]
    assert all(keys)
    assert [key for key, count in Counter(keys).items() if count > 1] == []


def test_every_action_has_a_menu_a_tip_and_a_letter() -> None:
    for action in (*page_actions(), *ACTIONS):
        assert action.menu in MENUS
        assert action.tip
        assert not action.tip.endswith(".")
    for action in ACTIONS:
        assert action.name.count("&") == 1, action.id


def test_letters_of_a_menu_are_used_once() -> None:
    for menu in MENUS:
        letters = [a.name[a.name.index("&") + 1].lower() for a in ACTIONS if a.menu == menu]
        assert len(letters) == len(set(letters)), (menu, letters)


def test_menus_hold_every_action_of_the_table(window: Window) -> None:
    for action in (*page_actions(), *ACTIONS):
        made = window.menus.actions[action.id]
        assert made in window.menus.menus[action.menu].actions()
        assert [keys.toString() for keys in made.shortcuts()] == [
            QKeySequence(keys).toString() for keys in action.shortcuts
        ]
        assert action.tip in made.toolTip()


# -- pages -------------------------------------------------------------------------------------


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.id)
def test_rail_shows_each_page(qtbot: QtBot, window: Window, page: Page) -> None:
    _click(qtbot, window.rail.buttons[page.id])
    assert window.page_id == page.id
    shown = window.stack.currentWidget()
    assert type(shown).__name__ == page.widget
    assert window.rail.buttons[page.id].isChecked()
    assert [b.page.id for b in window.rail.buttons.values() if b.isChecked()] == [page.id]


@pytest.mark.parametrize(
    ("number", "page"), list(enumerate(PAGES[:10], 1)), ids=[page.id for page in PAGES[:10]]
)
def test_ctrl_and_a_number_show_each_page(qtbot: QtBot, window: Window, number: int, page: Page) -> None:
    qtbot.keyClick(window, Qt.Key(Qt.Key.Key_0 + number % 10), CTRL)
    assert window.page_id == page.id


def test_f1_is_help(qtbot: QtBot, window: Window) -> None:
    qtbot.keyClick(window, Qt.Key.Key_F1)
    assert window.page_id == "help"


def test_pages_are_made_when_first_shown_and_kept(qtbot: QtBot, window: Window) -> None:
    assert set(window.stack.made) == {"sections"}
    window.show_page("boat")
    boat = window.stack.made["boat"]
    window.show_page("sections")
    window.show_page("boat")
    assert window.stack.made["boat"] is boat


def test_nothing_is_wider_or_taller_than_a_small_screen(qtbot: QtBot, window: Window) -> None:
    for page in PAGES:
        window.show_page(page.id)
        least = window.stack.made[page.id].minimumSizeHint()
        assert least.width() <= 1280 - window.rail.width(), page.id
    window.resize(1280, 800)
    assert window.minimumSizeHint().width() <= 1280
    assert window.minimumSizeHint().height() <= 800
    assert window.width() == 1280
    assert window.height() == 800


def test_everything_that_takes_the_keyboard_has_a_name(qtbot: QtBot, window: Window) -> None:
    nameless: list[str] = []
    for page in PAGES:
        window.show_page(page.id)
        for widget in window.stack.made[page.id].findChildren(QWidget):
            named = widget.accessibleName() or (isinstance(widget, QAbstractButton) and widget.text())
            inner = widget.objectName().startswith("qt_") or isinstance(widget.parent(), QLineEdit)
            if (
                widget.isVisible()
                and widget.focusPolicy() & Qt.FocusPolicy.TabFocus
                and not named
                and not inner
            ):
                nameless.append(f"{page.id}: {type(widget).__name__} in {type(widget.parent()).__name__}")
    assert nameless == []


@pytest.mark.parametrize(
    ("record", "page_id"),
    [("sections", "sections"), ("laminates", "laminates"), ("panels", "subjects"), ("spans", "subjects")],
)
def test_a_thing_asked_for_is_shown_on_its_page(
    qtbot: QtBot, window: Window, record: str, page_id: str
) -> None:
    thing = getattr(window.session.project, record)[0]
    window.show_page("help")
    window.session.take_to(thing.id)
    assert window.page_id == page_id
    assert window.session.selected == thing.id


def _chosen_finding(window: Window, subject: str, aspect: Aspect) -> Finding:
    """Choose a finding on its page and return it."""
    window.show_page("findings")
    page = window.stack.made["findings"]
    assert isinstance(page, FindingsPage)
    results = window.session.results
    assert results is not None
    found = next(one for one in results.findings if (one.subject, one.aspect) == (subject, aspect))
    page.show_finding(found)
    return found


def test_a_spans_finding_leads_to_the_wall_that_governs(qtbot: QtBot, window: Window) -> None:
    session = window.session
    qtbot.waitUntil(lambda: session.fresh)
    span = session.project.spans[-1]
    finding = _chosen_finding(window, span.id, Aspect.MODULUS)
    page = window.stack.made["findings"]
    assert isinstance(page, FindingsPage)
    page.table.setFocus()
    qtbot.keyClick(page.table, Qt.Key.Key_Return)
    assert window.page_id == "sections"
    sheet = window.stack.made["sections"]
    assert isinstance(sheet, SectionsPage)
    assert sheet.sheet.hand.section_id == span.section
    [wall] = sheet.sheet.hand.selected
    assert finding.governs.startswith(f"{wall} ply ")


def test_a_panels_finding_leads_to_its_row_and_to_the_ply_that_governs(qtbot: QtBot, window: Window) -> None:
    session = window.session
    qtbot.waitUntil(lambda: session.fresh)
    panel = session.project.panels[2]
    finding = _chosen_finding(window, panel.id, Aspect.PLY_STRENGTH)
    page = window.stack.made["findings"]
    assert isinstance(page, FindingsPage)
    _click(qtbot, page.pane.there)
    subjects = window.stack.made["subjects"]
    assert isinstance(subjects, SubjectsPage)
    assert window.page_id == "subjects"
    assert subjects.panels.table.chosen() == [2]
    window.show_page("findings")
    _click(qtbot, page.pane.drawing)
    laminates = window.stack.made["laminates"]
    assert isinstance(laminates, LaminatesPage)
    assert window.page_id == "laminates"
    [row] = laminates.editor.view.selected_rows()
    assert finding.governs.startswith(f"ply {row + 1}: ")
    # once more, the page made and hidden before
    laminates.editor.view.select_rows([0])
    window.show_page("findings")
    _click(qtbot, page.pane.drawing)
    assert laminates.editor.view.selected_rows() == [row]


def test_no_verdict_of_a_span_is_cut_at_1280(qtbot: QtBot, window: Window) -> None:
    qtbot.waitUntil(lambda: window.session.fresh)
    window.show_page("subjects")
    subjects = window.stack.made["subjects"]
    assert isinstance(subjects, SubjectsPage)
    table, column = subjects.spans.table, subjects.spans.model.verdict_column
    measure = table.fontMetrics().horizontalAdvance
    for row in range(subjects.spans.model.rowCount()):
        words = str(subjects.spans.model.index(row, column).data())
        assert measure(words) + MARK + 6 + 2 * 7 <= table.columnWidth(column), words
    window.resize(1920, 1080)
    name = max((record.name for record in subjects.spans.model.records), key=measure)
    qtbot.waitUntil(lambda: measure(name) + 2 * 7 <= table.columnWidth(0))


def test_the_keyboard_begins_at_the_page_shown(window: Window) -> None:
    assert window.focusWidget() is window.rail.buttons["sections"]


def test_walls_are_shown_with_their_section(window: Window) -> None:
    project = window.session.project
    wall = project.sections[0].walls[0].id
    assert page_of(project, wall) == "sections"
    assert page_of(project, f"{project.sections[0].id}/{wall}") == "sections"
    assert page_of(project, "craft") == "boat"
    assert page_of(project, "nothing") is None


def test_no_page_of_a_project_without_one(qtbot: QtBot, first_screen: Window) -> None:
    window = first_screen
    assert type(window.stack.currentWidget()).__name__ == "WelcomePage"
    qtbot.keyClick(window, Qt.Key.Key_1, CTRL)
    assert window.page_id == ""
    assert not window.rail.buttons["boat"].isEnabled()
    for action in ACTIONS:
        if action.needs is not Needs.NOTHING:
            assert not window.menus.actions[action.id].isEnabled(), action.id
    qtbot.keyClick(window, Qt.Key.Key_F1)
    assert window.page_id == "help"


# -- edits -------------------------------------------------------------------------------------


def test_undo_and_redo_name_what_they_do(qtbot: QtBot, window: Window) -> None:
    undo, redo = window.menus.actions["undo"], window.menus.actions["redo"]
    assert not undo.isEnabled()
    before = window.session.project
    _rename(window)
    assert undo.text() == "&Undo Rename section"
    assert undo.isEnabled()
    qtbot.keyClick(window, Qt.Key.Key_Z, CTRL)
    assert window.session.project is before
    assert redo.text() == "&Redo Rename section"
    qtbot.keyClick(window, Qt.Key.Key_Y, CTRL)
    assert window.session.project.sections[0].name == "Eelgrass 7"
    qtbot.keyClick(window, Qt.Key.Key_Z, CTRL)
    qtbot.keyClick(window, Qt.Key.Key_Z, CTRL | Qt.KeyboardModifier.ShiftModifier)
    assert window.session.project.sections[0].name == "Eelgrass 7"


def test_title_marks_what_is_unsaved(window: Window) -> None:
    assert not window.isWindowModified()
    assert window.session.project.name in window.windowTitle()
    _rename(window)
    assert window.isWindowModified()
    window.session.undo()
    assert not window.isWindowModified()


def test_units_are_switched_live_and_taken_back(qtbot: QtBot, window: Window) -> None:
    block = window.title_block
    us = next(b for b in block.findChildren(QAbstractButton) if b.accessibleName() == "US units")
    _click(qtbot, us)
    assert window.session.units is System.US
    assert us.isChecked()
    assert window.menus.actions["us"].isChecked()
    assert window.menus.actions["undo"].text() == "&Undo Show US units"
    qtbot.keyClick(window, Qt.Key.Key_Z, CTRL)
    assert window.session.units is System.METRIC
    assert not us.isChecked()
    assert window.menus.actions["metric"].isChecked()
    _click(qtbot, us)
    _click(qtbot, us)
    assert us.isChecked()


def test_refused_edit_is_said_and_changes_nothing(qtbot: QtBot, window: Window) -> None:
    session = window.session
    before = session.project
    session.edit("Remove laminate", edits.removed, before.laminates[0].id)
    assert session.project is before
    assert window.banner.isVisible()
    assert "in use" in window.banner.text
    (dismiss,) = window.banner.offers
    _click(qtbot, dismiss)
    assert not window.banner.isVisible()


def test_refusal_goes_with_the_next_edit_that_holds_and_other_words_stay(window: Window) -> None:
    session = window.session
    section = session.project.sections[0]
    session.edit("Remove laminate", edits.removed, session.project.laminates[0].id)
    session.edit("Rename section", edits.renamed, section.id, "Stringer anew")
    assert not window.banner.isVisible()
    session.edit("Remove laminate", edits.removed, session.project.laminates[0].id)
    window.banner.say(["Something else."])
    session.edit("Rename section", edits.renamed, section.id, "Stringer again")
    assert window.banner.isVisible()


# -- the foot ----------------------------------------------------------------------------------


def test_foot_says_what_the_next_click_does(window: Window) -> None:
    window.session.said.emit("Click the wall's next point.")
    assert window.title_block.hint.whole == "Click the wall's next point."


def test_verdicts_are_counted_by_word_and_shape(qtbot: QtBot, window: Window) -> None:
    qtbot.waitUntil(lambda: window.session.fresh, timeout=10_000)
    results = window.session.results
    assert results is not None
    counts = Counter(finding.verdict.value for finding in results.findings)
    said = window.title_block.tally.accessibleDescription()
    assert said == ", ".join(
        f"{counts[word]} {word}"
        for word in ("holds", "tight", "short", "not judged", "advice")
        if counts[word]
    )
    _click(qtbot, window.title_block.tally)
    assert window.page_id == "findings"


def test_slow_check_shows_progress_and_can_be_stopped(qtbot: QtBot, window: Window) -> None:
    block = window.title_block
    qtbot.waitUntil(lambda: window.session.fresh, timeout=10_000)
    assert not block.stop.isVisible()
    window.session.busy_changed.emit(True)
    qtbot.waitUntil(block.stop.isVisible, timeout=2000)
    _click(qtbot, block.stop)
    assert "stopped" in block.hint.whole
    window.session.busy_changed.emit(False)
    assert not block.stop.isVisible()
    qtbot.keyClick(window, Qt.Key.Key_F5)
    assert window.session.busy
    qtbot.waitUntil(lambda: not window.session.busy, timeout=10_000)


def test_notice_is_in_the_window_and_opens_about(qtbot: QtBot, window: Window) -> None:
    notice = window.title_block.notice
    assert notice.isVisible()
    assert notice.text().replace("\n", " ") == f"Notice. {NOTICE}"
    assert notice.text().count("\n") == 1
    measure = notice.fontMetrics().horizontalAdvance
    assert all(measure(line) < notice.width() for line in notice.text().split("\n"))
    assert notice.height() >= 2 * notice.fontMetrics().height()
    _click(qtbot, notice)
    about = window.findChild(About)
    assert isinstance(about, QDialog)
    assert any(NOTICE in label.text() for label in about.findChildren(QLabel))
    qtbot.keyClick(about, Qt.Key.Key_Escape)
    qtbot.waitUntil(lambda: window.findChild(About) is None)


def test_problems_panel_opens_and_is_remembered(qtbot: QtBot, window: Window, store: Store) -> None:
    assert window.problems is None
    _click(qtbot, window.title_block.problems)
    assert window.problems is not None
    assert window.problems.isVisible()
    assert store.read().problems_shown
    assert window.menus.actions["problems"].isChecked()
    qtbot.keyClick(window, Qt.Key.Key_F8)
    assert not window.problems.isVisible()
    assert not store.read().problems_shown


def test_problems_are_counted(qtbot: QtBot, window: Window) -> None:
    session = window.session
    panel = session.project.panels[0]
    from dataclasses import replace

    session.edit("Spoil", edits.replaced, replace(panel, laminate="none"))
    qtbot.waitUntil(lambda: session.fresh, timeout=10_000)
    assert window.title_block.problems.text().startswith("1 problem")


def test_what_was_put_right_in_a_drawing_is_counted(qtbot: QtBot, window: Window) -> None:
    window.session.edit("Sink the hat", drafting.moved, "s5", ("w6",), 0.0, -8.0)
    qtbot.waitUntil(lambda: window.session.fresh)
    assert window.title_block.problems.text().startswith("1 put right")


def test_f6_takes_the_keyboard_round_the_window(qtbot: QtBot, window: Window) -> None:
    window.show_page("help")
    parts = (window.rail, window.stack, window.title_block)
    seen: list[int | None] = []
    for _ in range(4):
        qtbot.keyClick(window, Qt.Key.Key_F6)
        focused = QApplication.focusWidget()
        assert focused is not None
        seen.append(next((i for i, part in enumerate(parts) if part.isAncestorOf(focused)), None))
    start = seen[0]
    assert start is not None
    assert seen == [(start + i) % 3 for i in range(4)]


# -- look --------------------------------------------------------------------------------------


def test_look_is_switched_from_the_menu_and_remembered(qtbot: QtBot, window: Window, store: Store) -> None:
    window.menus.actions["slate"].trigger()
    assert is_dark(window.palette())
    assert store.read().scheme == Scheme.SLATE.value
    window.menus.actions["paper"].trigger()
    assert not is_dark(window.palette())
    assert store.read().scheme == Scheme.PAPER.value


def test_window_on_a_screen_that_is_gone_comes_back() -> None:
    left, right = QRect(0, 0, 1920, 1080), QRect(1920, 0, 1920, 1080)
    place = QRect(2500, 100, 1280, 800)
    assert on_a_screen(place, [left, right]) == place
    back = on_a_screen(place, [left])
    assert left.contains(back)
    assert back.size() == place.size()


def test_window_larger_than_the_screen_left_is_shrunk() -> None:
    small = QRect(0, 0, 1024, 768)
    assert on_a_screen(QRect(4000, 0, 2560, 1440), [small]) == small
    assert on_a_screen(QRect(5, 5, 100, 100), []) == QRect(5, 5, 100, 100)


def test_window_moves_when_its_screen_is_removed(qtbot: QtBot, window: Window) -> None:
    window.move(20_000, 20_000)
    app = QApplication.instance()
    assert isinstance(app, QApplication)
    app.screenRemoved.emit(QApplication.primaryScreen())
    qtbot.waitUntil(lambda: QApplication.primaryScreen().availableGeometry().intersects(window.geometry()))


# -- tour --------------------------------------------------------------------------------------


@pytest.fixture
def newcomer(qtbot: QtBot, session: Session, own_state: Path) -> Iterator[Window]:
    window = Window(session, store=Store())
    window.show()
    qtbot.waitExposed(window)
    yield window
    window.end()
    window.deleteLater()


def test_first_run_shows_a_tour_of_three_steps(qtbot: QtBot, newcomer: Window) -> None:
    qtbot.waitUntil(lambda: newcomer.findChild(Tour) is not None)
    tour = newcomer.findChild(Tour)
    assert isinstance(tour, Tour)
    assert len(STEPS) == 3
    for step in STEPS:
        assert tour.step is step
        assert newcomer.rect().contains(tour.geometry())
        _click(qtbot, tour.next)
    assert Store().read().tour_done
    qtbot.waitUntil(lambda: newcomer.findChild(Tour) is None)


def test_tour_is_skipped_by_escape_and_does_not_come_again(qtbot: QtBot, newcomer: Window) -> None:
    qtbot.waitUntil(lambda: newcomer.findChild(Tour) is not None)
    tour = newcomer.findChild(Tour)
    qtbot.keyClick(tour, Qt.Key.Key_Escape)
    assert Store().read() == Settings(tour_done=True)
    qtbot.waitUntil(lambda: newcomer.findChild(Tour) is None)


def test_tour_follows_the_window_and_starts_from_the_menu(qtbot: QtBot, window: Window) -> None:
    assert window.findChild(Tour) is None
    window.menus.actions["tour"].trigger()
    tour = window.findChild(Tour)
    assert isinstance(tour, Tour)
    window.resize(1000, 640)
    assert window.rect().contains(tour.geometry())
    _click(qtbot, tour.skip)
    assert tour.parent() is None


def _help(window: Window) -> HelpPage:
    page = window.stack.currentWidget()
    assert isinstance(page, HelpPage)
    return page


# -- help --------------------------------------------------------------------------------------


def test_help_names_every_starting_shape(window: Window) -> None:
    window.show_page("help")
    said = _help(window).text.toPlainText()
    assert [shape.name for shape in STARTERS if f"{shape.name}\n{shape.tip}" not in said] == []


def test_help_lists_every_shortcut_and_the_notice(window: Window) -> None:
    window.show_page("help")
    text = _help(window).text.toPlainText()
    for action in (*page_actions(), *ACTIONS):
        assert action.tip in text, action.id
        for keys in action.shortcuts:
            assert QKeySequence(keys).toString(QKeySequence.SequenceFormat.NativeText) in text
    for key, words in KEYS:
        assert key in text
        assert words in text
    for switch in SWITCHES:
        assert switch.name in text
        assert switch.tip in text
    assert NOTICE in text


def test_help_explains_every_verdict_and_mark() -> None:
    from stringerlab.desktop.pages.help import MARKS, VERDICTS
    from stringerlab.methods import Verdict
    from stringerlab.workings import Known

    assert set(VERDICTS) == set(Verdict)
    assert set(MARKS) == set(Known)


def test_chapter_leads_to_its_place(qtbot: QtBot, window: Window) -> None:
    window.show_page("help")
    help_page = _help(window)
    bar = help_page.text.verticalScrollBar()
    assert bar.value() == 0
    last = help_page.chapters.item(help_page.chapters.count() - 3)
    qtbot.mouseClick(
        help_page.chapters.viewport(),
        Qt.MouseButton.LeftButton,
        pos=help_page.chapters.visualItemRect(last).center(),
    )
    assert bar.value() > 0


def test_place_is_empty_until_a_file_is_known() -> None:
    assert Settings().place(Path("x.json")) == Place()
