"""The pages of search, help, scatter and studies on the rail: all reachable and whole on a small screen."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QSize, Qt

from stringerlab.desktop.actions import PAGES, page_keys
from stringerlab.desktop.icons import icon
from stringerlab.desktop.pages.help import chapters

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from stringerlab.desktop.window import Window

ASKING = ("size", "helps", "scatter", "studies")


@pytest.mark.parametrize("size", [(1280, 800), (1920, 1080)], ids=["small", "large"])
def test_every_page_stands_whole_on_the_rail(window: Window, qtbot: QtBot, size: tuple[int, int]) -> None:
    window.resize(*size)
    qtbot.waitUntil(lambda: (window.width(), window.height()) == size)
    buttons = [window.rail.buttons[page.id] for page in PAGES]
    assert len(buttons) == 15
    qtbot.waitUntil(lambda: all(one.height() >= one.sizeHint().height() for one in buttons))
    for button in buttons:
        assert window.rail.rect().contains(button.geometry()), button.page.id
        for line in button.text().split("\n"):
            assert button.fontMetrics().horizontalAdvance(line) <= button.width() - 6, button.page.id
    places = sorted((button.geometry().top(), button.geometry().bottom()) for button in buttons)
    assert all(above[1] < below[0] for above, below in pairwise(places))


def test_help_is_last_and_only_ten_pages_have_digits() -> None:
    assert PAGES[-1].id == "help"
    assert page_keys(PAGES[-1]) == ("F1",)
    digits = [page.id for page in PAGES if any(keys.startswith("Ctrl+") for keys in page_keys(page))]
    assert digits == [page.id for page in PAGES[:10]]
    assert not set(digits) & set(ASKING)


def test_each_page_has_an_icon_of_its_own(window: Window) -> None:
    images = [icon(page.id, "#000000", "#000000").pixmap(QSize(24, 24)).toImage() for page in PAGES]
    assert all(a != b for n, a in enumerate(images) for b in images[n + 1 :])


@pytest.mark.parametrize("page_id", ASKING)
def test_the_go_menu_and_the_arrows_of_the_rail_reach_them(
    window: Window, qtbot: QtBot, page_id: str
) -> None:
    before = PAGES[[page.id for page in PAGES].index(page_id) - 1].id
    window.rail.buttons[before].setFocus()
    qtbot.keyClick(window.rail.buttons[before], Qt.Key.Key_Down)
    assert window.focusWidget() is window.rail.buttons[page_id]
    qtbot.keyClick(window.rail.buttons[page_id], Qt.Key.Key_Space)
    assert window.page_id == page_id
    window.show_page("sections")
    window.menus.actions[f"page_{page_id}"].trigger()
    assert window.page_id == page_id


def test_help_says_what_a_search_proves_and_where_defaults_come_from() -> None:
    text = dict(chapters("paper"))["Search, scatter, studies"]
    for words in ("Proven or found", "What it does not prove", "common practice", "--journal", "--scheduler"):
        assert words in text
