"""The sheet's view when the window changes size."""

from pytestqt.qtbot import QtBot

from stringerlab.desktop.session import Session
from stringerlab.desktop.sheet import Sheet


def _shown(session: Session, qtbot: QtBot) -> Sheet:
    sheet = Sheet(session)
    qtbot.addWidget(sheet)
    sheet.resize(700, 500)
    sheet.show()
    sheet.hand.show_section("s5")
    sheet.fit()
    return sheet


def test_a_fitted_drawing_fits_the_larger_sheet(session: Session, qtbot: QtBot) -> None:
    sheet = _shown(session, qtbot)
    before = sheet.view.scale
    sheet.resize(1400, 1000)
    qtbot.waitUntil(lambda: sheet.view.scale > 1.5 * before)
    assert 0 < sheet.view.to_screen((0.0, 0.0))[0] - 700 + 22 < 44


def test_a_drawing_looked_at_closer_stays_where_it_is(session: Session, qtbot: QtBot) -> None:
    sheet = _shown(session, qtbot)
    sheet.zoom(2.0)
    scale, at = sheet.view.scale, sheet.view.to_screen((0.0, 0.0))
    sheet.resize(1400, 1000)
    qtbot.wait(20)
    assert sheet.view.scale == scale
    assert sheet.view.to_screen((0.0, 0.0)) == at
