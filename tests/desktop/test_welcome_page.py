"""The first screen, by mouse and keyboard."""

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from stringerlab.data import folder
from stringerlab.desktop.pages.welcome import Card, WelcomePage
from stringerlab.files import load, samples

SAMPLE = str(folder("sample_projects") / "eelgrass_workboat.json")
GONE = "/boats/gone.json"


@pytest.fixture
def page(qtbot: QtBot) -> WelcomePage:
    page = WelcomePage([SAMPLE, GONE])
    qtbot.addWidget(page)
    page.resize(1170, 690)
    page.show()
    qtbot.waitUntil(lambda: bool(page.figure.picture.items))
    return page


def test_every_sample_stands_there_with_its_own_words(page: WelcomePage) -> None:
    shown = {(card.heading.text(), card.about.text()) for card in page.sample_buttons}
    files = [load(folder("sample_projects") / f"{name}.json") for name in samples()]
    assert shown == {(project.name, project.notes) for project in files}


def test_a_click_on_a_sample_asks_for_it(page: WelcomePage, qtbot: QtBot) -> None:
    card = next(card for card in page.sample_buttons if card.objectName() == "sample_first_hat_lesson")
    with qtbot.waitSignal(page.sample_requested) as asked:
        qtbot.mouseClick(card, Qt.MouseButton.LeftButton)
    assert asked.args == ["first_hat_lesson"]


@pytest.mark.parametrize("key", [Qt.Key.Key_Return, Qt.Key.Key_Space])
def test_a_new_boat_is_asked_for_by_key(page: WelcomePage, qtbot: QtBot, key: Qt.Key) -> None:
    page.new_button.setFocus()
    with qtbot.waitSignal(page.new_requested):
        qtbot.keyClick(page.new_button, key)


def test_a_click_on_a_recent_file_opens_it(page: WelcomePage, qtbot: QtBot) -> None:
    item = page.recent.item(0)
    with qtbot.waitSignal(page.open_requested) as asked:
        qtbot.mouseClick(
            page.recent.viewport(),
            Qt.MouseButton.LeftButton,
            pos=page.recent.visualItemRect(item).center(),
        )
    assert asked.args == [SAMPLE]


def test_enter_on_a_recent_file_opens_it(page: WelcomePage, qtbot: QtBot) -> None:
    page.recent.setFocus()
    qtbot.keyClick(page.recent, Qt.Key.Key_Home)
    with qtbot.waitSignal(page.open_requested) as asked:
        qtbot.keyClick(page.recent, Qt.Key.Key_Return)
    assert asked.args == [SAMPLE]


def test_a_file_that_is_gone_says_so_and_does_not_open(page: WelcomePage, qtbot: QtBot) -> None:
    item = page.recent.item(1)
    assert item.text() == "gone   (not there now)"
    with qtbot.assertNotEmitted(page.open_requested):
        qtbot.mouseClick(
            page.recent.viewport(),
            Qt.MouseButton.LeftButton,
            pos=page.recent.visualItemRect(item).center(),
        )


def test_without_recent_files_the_list_gives_way_to_a_line(page: WelcomePage) -> None:
    page.show_recent([])
    assert page.no_recent.isVisible()
    assert not page.recent.isVisible()
    page.show_recent([SAMPLE])
    assert page.recent.isVisible()
    assert not page.no_recent.isVisible()


def test_opening_asks_for_a_file_and_waits_for_none(page: WelcomePage, qtbot: QtBot) -> None:
    with qtbot.waitSignal(page.file_requested), qtbot.assertNotEmitted(page.open_requested):
        qtbot.mouseClick(page.open_button, Qt.MouseButton.LeftButton)


def test_tab_reaches_everything_that_acts(page: WelcomePage, qtbot: QtBot) -> None:
    page.new_button.setFocus()
    reached = {page.focusWidget()}
    for _ in range(12):
        focused = page.focusWidget()
        assert focused is not None
        qtbot.keyClick(focused, Qt.Key.Key_Tab)
        reached.add(page.focusWidget())
    assert {*page.findChildren(Card), page.recent} <= reached
    assert all(card.accessibleName() for card in page.findChildren(Card))
