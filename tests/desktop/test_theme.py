"""Paper and slate: readable, switched live, remembered; fonts from the repository only."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QFontInfo
from PySide6.QtWidgets import QApplication, QCheckBox, QWidget
from pytestqt.qtbot import QtBot

from stringerlab.desktop import theme
from stringerlab.desktop.theme import PAPER, SLATE, Dresser, Scheme, Tokens, contrast

GROUNDS = ("paper", "sheet", "raised")
TEXTS = ("ink", "faint", "accent", "holds", "tight", "short", "unknown")


@pytest.fixture
def dresser(qapp: QApplication) -> Dresser:
    found = qapp.findChild(Dresser)
    return found if isinstance(found, Dresser) else Dresser(qapp)


@pytest.mark.parametrize("tokens", [PAPER, SLATE], ids=lambda tokens: tokens.name)
@pytest.mark.parametrize("text", TEXTS)
@pytest.mark.parametrize("ground", GROUNDS)
def test_text_stands_out_from_every_ground(tokens: Tokens, text: str, ground: str) -> None:
    assert contrast(getattr(tokens, text), getattr(tokens, ground)) >= 4.5


@pytest.mark.parametrize("tokens", [PAPER, SLATE], ids=lambda tokens: tokens.name)
def test_what_is_chosen_pressed_or_primary_stays_readable(tokens: Tokens) -> None:
    assert contrast(tokens.on_chosen, tokens.chosen) >= 4.5
    assert contrast(tokens.on_accent, tokens.accent) >= 4.5
    assert contrast(tokens.ink, tokens.pressed) >= 4.5
    for ground in GROUNDS:
        assert contrast(tokens.outline, getattr(tokens, ground)) >= 3.0


def test_contrast_is_that_of_wcag() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.005)


@pytest.mark.parametrize("tokens", [PAPER, SLATE], ids=lambda tokens: tokens.name)
def test_tokens_are_found_again_from_their_palette(tokens: Tokens) -> None:
    assert theme.tokens_of(theme.palette(tokens)) is tokens


def test_scheme_changes_every_widget_live(qtbot: QtBot, dresser: Dresser) -> None:
    widget = QWidget()
    qtbot.addWidget(widget)
    widget.show()
    dresser.dress(Scheme.PAPER)
    assert widget.palette().window().color().name() == PAPER.paper
    with qtbot.waitSignal(dresser.changed):
        dresser.dress(Scheme.SLATE)
    assert widget.palette().window().color().name() == SLATE.paper


def test_system_scheme_follows_the_system_and_a_chosen_one_does_not(
    qapp: QApplication, dresser: Dresser
) -> None:
    hints = qapp.styleHints()
    try:
        dresser.dress(Scheme.SYSTEM)
        hints.setColorScheme(Qt.ColorScheme.Dark)
        hints.colorSchemeChanged.emit(hints.colorScheme())
        expected = SLATE if hints.colorScheme() is Qt.ColorScheme.Dark else PAPER
        assert dresser.tokens is expected
        dresser.dress(Scheme.PAPER)
        assert dresser.tokens is PAPER
    finally:
        hints.unsetColorScheme()


def test_fonts_come_from_the_repository(qapp: QApplication) -> None:
    assert theme.load_fonts() == []
    assert QFontInfo(theme.text_font()).family() == theme.FAMILIES[0]


def test_missing_fonts_are_named_and_another_serves(qapp: QApplication, tmp_path: Path) -> None:
    (problem,) = theme.load_fonts(tmp_path)
    assert "IBMPlexSans-Regular.ttf" in problem.what
    assert str(tmp_path) in problem.where


def test_fonts_carry_their_licences() -> None:
    from stringerlab.data import folder

    place = folder("resources") / "fonts"
    assert "SIL OPEN FONT LICENSE" in (place / "LICENSE_IBM_PLEX.txt").read_text(encoding="utf-8")
    assert "Bitstream" in (place / "LICENSE_DEJAVU.txt").read_text(encoding="utf-8", errors="replace")


@pytest.mark.parametrize("tokens", [PAPER, SLATE], ids=lambda tokens: tokens.name)
def test_a_box_is_seen_ticked_and_empty(qtbot: QtBot, dresser: Dresser, tokens: Tokens) -> None:
    dresser.dress(Scheme(tokens.name))
    box = QCheckBox("Closed")
    qtbot.addWidget(box)
    box.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    box.resize(120, 30)
    with qtbot.waitExposed(box):
        box.show()

    def colours() -> set[str]:
        picture = box.grab().toImage()
        return {picture.pixelColor(x, y).name() for x in range(16) for y in range(picture.height())}

    assert {tokens.outline, tokens.sheet} <= colours()
    box.setChecked(True)
    assert {tokens.accent, tokens.on_accent} <= colours()
