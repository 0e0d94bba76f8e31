"""The sheet beside kept pictures of itself, under fixed font, size and scale.

``STRINGERLAB_KEEP_SNAPSHOTS=1`` keeps the present ones instead: look at them before they are committed.
"""

import os
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from PySide6.QtGui import QImage, QPixmap
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from stringerlab.desktop.session import Session
from stringerlab.desktop.sheet import Sheet
from stringerlab.desktop.theme import Dresser, Scheme, load_fonts, text_font

KEPT = Path(__file__).parent / "snapshots"
WIDTH, HEIGHT = 760, 560
DIFFERS = 48
"""Of 255: less is how letters and edges vary with the version of Qt."""
MAY_DIFFER = 0.01
"""Part of the pixels."""


def _pixels(image: QImage) -> NDArray[np.int16]:
    whole = image.convertToFormat(QImage.Format.Format_RGB888)
    rows = np.frombuffer(whole.constBits(), np.uint8).reshape(whole.height(), whole.bytesPerLine())
    return rows[:, : 3 * whole.width()].astype(np.int16)


@pytest.fixture
def sheet(session: Session, qtbot: QtBot, qapp: QApplication) -> Sheet:
    assert load_fonts() == []
    sheet = Sheet(session)
    sheet.setFont(text_font())
    sheet.resize(WIDTH, HEIGHT)
    qtbot.addWidget(sheet)
    sheet.show()
    return sheet


@pytest.mark.parametrize("scheme", [Scheme.PAPER, Scheme.SLATE])
@pytest.mark.parametrize(
    ("name", "section", "chosen", "overlays"),
    [
        ("hat_in_hand", "s5", ("w6",), ()),
        ("floor_loaded", "s7", (), ("stress", "cavity", "bonded", "legend")),
    ],
)
def test_sheet_looks_as_it_did(
    sheet: Sheet,
    qtbot: QtBot,
    qapp: QApplication,
    scheme: Scheme,
    name: str,
    section: str,
    chosen: tuple[str, ...],
    overlays: tuple[str, ...],
) -> None:
    dresser = Dresser(qapp)
    dresser.dress(scheme)
    sheet.hand.show_section(section)
    for each in overlays:
        sheet.switches.switch(each, on=True)
    sheet.hand.select(chosen)
    sheet.fit()
    qtbot.waitUntil(lambda: sheet.session.fresh)
    made = QPixmap(WIDTH, HEIGHT)
    sheet.render(made)
    image = made.toImage()
    file = KEPT / f"{name}_{scheme.value}.png"
    if os.environ.get("STRINGERLAB_KEEP_SNAPSHOTS"):
        assert image.save(str(file))
    kept = QImage(str(file))
    assert kept.size() == image.size()
    apart = np.abs(_pixels(kept) - _pixels(image)).reshape(HEIGHT, WIDTH, 3).max(axis=2) > DIFFERS
    dresser.dress(Scheme.PAPER)
    assert apart.mean() <= MAY_DIFFER, f"{apart.mean():.1%} of the pixels differ"


def test_a_moved_wall_is_seen_by_the_comparison(sheet: Sheet) -> None:
    sheet.hand.show_section("s5")
    sheet.fit()
    one, other = QPixmap(WIDTH, HEIGHT), QPixmap(WIDTH, HEIGHT)
    sheet.render(one)
    sheet.zoom(1.05)
    sheet.render(other)
    apart = np.abs(_pixels(one.toImage()) - _pixels(other.toImage())) > DIFFERS
    assert apart.reshape(HEIGHT, WIDTH, 3).max(axis=2).mean() > MAY_DIFFER
