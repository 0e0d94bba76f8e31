"""Shear flow on the sheet: along the walls, beside the section where walls hang apart; its words in view."""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np
import pytest
from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QPainter, QPixmap
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from stringerlab.desktop.session import Session
from stringerlab.desktop.sheet import Sheet, painting
from stringerlab.desktop.sheet.layers import Layers
from stringerlab.desktop.theme import load_fonts, text_font
from stringerlab.drawing import Area, Label, Role
from stringerlab.project import Project

WIDTH, HEIGHT = 560, 520
"""What the docks leave of a window of 1280 pixels, and less."""


def apart(project: Project, section: str) -> Project:
    """The same project with a section's walls above its plating, so that thin walls fail."""
    return replace(
        project,
        sections=tuple(
            replace(
                each,
                fills=(),
                walls=tuple(
                    replace(wall, points=tuple((y, z + 30) for y, z in wall.points)) for wall in each.walls
                ),
            )
            if each.id == section
            else each
            for each in project.sections
        ),
    )


@pytest.fixture
def lifted(session: Session, qapp: QApplication) -> Iterator[Session]:
    other = Session(apart(session.project, "s5"))
    yield other
    other.close()


def shown(session: Session, qtbot: QtBot, *overlays: str) -> Sheet:
    load_fonts()
    sheet = Sheet(session)
    sheet.setFont(text_font())
    sheet.resize(WIDTH, HEIGHT)
    qtbot.addWidget(sheet)
    sheet.show()
    sheet.hand.show_section("s5")
    for each in overlays:
        sheet.switches.switch(each, on=True)
    sheet.fit()
    return sheet


def patches(sheet: Sheet) -> dict[str, QRectF]:
    """Where every word on the sheet stands."""
    page = QPixmap(WIDTH, HEIGHT)
    sheet.render(page)
    painter = QPainter(page)
    painter.setFont(sheet.font())
    found = {
        each.text: painting.label_patch(painter, sheet.view, each)
        for each in sheet.picture()
        if isinstance(each, Label)
    }
    painter.end()
    return found


def inside(patch: QRectF) -> bool:
    ruler = painting.RULER
    return QRectF(ruler, ruler, WIDTH - ruler, HEIGHT - ruler).contains(patch)


def test_its_words_stand_in_the_view_along_walls(session: Session, qtbot: QtBot) -> None:
    found = patches(shown(session, qtbot, "shear_flow", "legend"))
    assert any("shear flow, V" in text for text in found)
    assert {text for text, patch in found.items() if not inside(patch)} == set()


@pytest.mark.parametrize("shear", [5e3, -5e3])
def test_its_words_stand_in_the_view_beside_walls_that_hang_apart(
    lifted: Session, qtbot: QtBot, shear: float
) -> None:
    sheet = shown(lifted, qtbot, "shear_flow", "legend")
    sheet.switches.load(shear=shear)
    found = patches(sheet)
    assert any("mean in webs" in text for text in found)
    assert {text for text, patch in found.items() if not inside(patch)} == set()


def test_off_it_draws_nothing(session: Session, qtbot: QtBot) -> None:
    sheet = shown(session, qtbot)
    assert not [item for item in sheet.picture() if item.role is Role.SHEAR]


def test_plies_show_through_it_during_a_drag(session: Session, qtbot: QtBot) -> None:
    """In a drag's frame a ribbon is its own colour mixed with the plies', nowhere that colour alone."""
    sheet = shown(session, qtbot, "shear_flow")
    drawn = sheet.drawn()
    assert drawn is not None
    layers = Layers()
    layers.show(replace(drawn, moving=frozenset({"w6"})))
    page = QPixmap(WIDTH, HEIGHT)
    painter = QPainter(page)
    layers.paint(painter, sheet.view, page.size(), 1.0, sheet.theme, session.units, sheet.font(), None)
    painter.end()
    ribbon = next(
        item for item in sheet.picture() if isinstance(item, Area) and item.subject == "shear flow: w6"
    )
    alone = QColor(sheet.theme.fill(ribbon).colour).rgb()
    image = page.toImage()
    inside = [sheet.view.to_screen((float(y), 70.0)) for y in np.linspace(-70.0, -30.0, 80)]
    seen = [image.pixel(round(x), round(y)) for x, y in inside]
    assert seen.count(alone) <= 8  # its edges are lines of that colour
    assert len(set(seen)) > 4
