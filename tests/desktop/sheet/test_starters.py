"""Starting shapes on the sections page: the menu with its pictures, the parameters, the marks of a pan."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

import pytest

pytest.importorskip("PySide6.QtWidgets", reason="the window needs PySide6")

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QComboBox, QLineEdit

from stringerlab.desktop.pages.sections import SectionsPage
from stringerlab.project import drafting, edits
from stringerlab.section import OnHull
from stringerlab.section.shapes import STARTERS

if TYPE_CHECKING:
    from PySide6.QtGui import QAction
    from pytestqt.qtbot import QtBot

    from stringerlab.desktop.session import Session
    from stringerlab.section import Section

LEFT = Qt.MouseButton.LeftButton
NAMES = [shape.name for shape in STARTERS]


@pytest.fixture
def page(qtbot: QtBot, session: Session) -> Iterator[SectionsPage]:
    made = SectionsPage(session)
    made.resize(1180, 680)
    made.show()
    qtbot.waitExposed(made)
    yield made
    made.close()
    made.deleteLater()


def section(page: SectionsPage) -> Section:
    sheet = page.sheet
    return next(each for each in sheet.session.project.sections if each.id == sheet.hand.section_id)


def entry(page: SectionsPage, name: str) -> QAction:
    return next(action for action in page.add_button.menu().actions() if action.text() == name)


def typed(qtbot: QtBot, field: QLineEdit, text: str) -> None:
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, text)
    qtbot.keyClick(field, Qt.Key.Key_Return)


def chosen(qtbot: QtBot, box: QComboBox, index: int) -> None:
    box.setFocus()
    while box.currentIndex() != index:
        qtbot.keyClick(box, Qt.Key.Key_Down if box.currentIndex() < index else Qt.Key.Key_Up)


def test_the_menu_offers_every_shape_with_a_picture_of_its_own(page: SectionsPage):
    menu = page.add_button.menu()
    menu.aboutToShow.emit()
    assert [action.text() for action in menu.actions()] == ["Hat", "Plate floor", *NAMES, "Blank"]
    pictures = [action.icon().pixmap(QSize(32, 22)).toImage() for action in menu.actions()[:-1]]
    assert all(not picture.isNull() for picture in pictures)
    for index, picture in enumerate(pictures):
        inked = sum(
            picture.pixelColor(x, y).alpha() > 128
            for x in range(picture.width())
            for y in range(picture.height())
        )
        assert inked > 20
        assert all(picture != other for other in pictures[:index])
    assert all(action.toolTip() for action in menu.actions())


@pytest.mark.parametrize("name", NAMES)
def test_a_shape_is_added_sound_with_its_parameters_and_undone(page: SectionsPage, name: str):
    session = page.sheet.session
    entry(page, name).trigger()
    assert section(page).name == name
    assert section(page).id in session.resolved.shapes
    assert session.resolved.repairs == ()
    form = page.inspector.starter
    assert form.isVisibleTo(page)
    assert form.heading.text() == name
    shape = next(each for each in STARTERS if each.name == name)
    assert {*form.fields, *form.counts, *form.choices} == {each.key for each in shape.parameters}
    session.undo()
    assert session.undo_label is None
    assert not form.isVisibleTo(page)


def test_a_typed_parameter_redraws_the_section_and_undo_shows_the_former(qtbot: QtBot, page: SectionsPage):
    session = page.sheet.session
    entry(page, "Low-profile hat").trigger()
    form = page.inspector.starter
    ids = [wall.id for wall in section(page).walls]
    typed(qtbot, form.fields["height"], "80")
    assert session.undo_label == "Change height"
    assert section(page).walls[0].points[2][1] == 80
    assert [wall.id for wall in section(page).walls] == ids
    typed(qtbot, form.fields["draft"], "20 deg")
    assert session.undo_label == "Change draft"
    form.counts["cap_coats"].stepUp()
    assert len(section(page).walls) == 4
    session.undo()
    session.undo()
    session.undo()
    assert form.isVisibleTo(page)
    assert form.fields["height"].value == 65
    assert form.counts["cap_coats"].value() == 2
    session.redo()
    assert form.fields["height"].value == 80


def test_what_cannot_be_is_said_and_the_value_goes_back(qtbot: QtBot, page: SectionsPage):
    session = page.sheet.session
    entry(page, "Knee at a side opening").trigger()
    form, before = page.inspector.starter, section(page)
    with qtbot.waitSignal(session.problem) as said:
        typed(qtbot, form.fields["corner_radius"], "90")
    assert "corner" in str(said.args) or "fillets need" in str(said.args)
    assert section(page) == before
    assert form.fields["corner_radius"].value == 12


def test_a_laminate_is_chosen_for_one_part_of_a_shape(qtbot: QtBot, page: SectionsPage):
    entry(page, "Box girder under the sole").trigger()
    form = page.inspector.starter
    box = form.choices["sole"]
    other = next(index for index in range(box.count()) if box.itemData(index) != box.chosen)
    wanted = str(box.itemData(other))
    chosen(qtbot, box, other)
    box.activated.emit(other)
    assert section(page).walls[2].laminate == wanted
    assert section(page).walls[0].laminate != wanted
    assert page.sheet.session.undo_label == "Change sole"


def test_drawing_in_it_by_hand_ends_the_parameters_until_undone(page: SectionsPage):
    session = page.sheet.session
    entry(page, "Chine landing").trigger()
    form, wall = page.inspector.starter, section(page).walls[0].id
    here = section(page).id
    session.edit("Move point", lambda project: drafting.with_point_at(project, here, wall, 0, y=-190.0))
    assert not form.isVisibleTo(page)
    session.undo()
    assert form.isVisibleTo(page)
    session.edit("Rename", lambda project: edits.renamed(project, wall, "landing"))
    assert form.isVisibleTo(page)


def test_another_section_shows_no_parameters(qtbot: QtBot, page: SectionsPage):
    entry(page, "Engine bed with block").trigger()
    assert page.inspector.starter.isVisibleTo(page)
    page.sheet.hand.show_section("s5")
    assert not page.inspector.starter.isVisibleTo(page)


def test_a_pan_is_marked_fully_bonded_with_its_voids(qtbot: QtBot, page: SectionsPage):
    session, rows = page.sheet.session, page.inspector.lying
    entry(page, "Pan lying on the hull").trigger()
    assert "not counted: left pan" in page.facts.basis.text()
    hat, left, right = (wall.id for wall in section(page).walls)
    page.sheet.hand.select((left, right))
    assert rows.lies.isChecked()
    assert not rows.bonded.isChecked()
    assert not rows.voids.isEnabled()
    loose = session.resolved.shapes[section(page).id]
    qtbot.mouseClick(rows.bonded, LEFT, pos=rows.bonded.rect().center() - rows.bonded.rect().center() / 1.2)
    assert session.undo_label == "Mark as fully bonded"
    assert [wall.on_hull for wall in section(page).walls[1:]] == [OnHull(fully_bonded=True)] * 2
    typed(qtbot, rows.voids, "0.25")
    assert session.undo_label == "Change voids"
    bonded = session.resolved.shapes[section(page).id]
    assert [wall.counted for wall in loose.walls] == [1.0, 0.0, 0.0]
    assert [wall.counted for wall in bonded.walls] == [1.0, 0.75, 0.75]
    page.sheet.hand.select((hat,))
    assert not rows.lies.isChecked()
    assert not rows.bonded.isEnabled()
    page.sheet.hand.select(())
    assert page.inspector.starter.isVisibleTo(page)
