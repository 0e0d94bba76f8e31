"""The sections page: its list, its tools, its properties, all through real events."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

import pytest

pytest.importorskip("PySide6.QtWidgets", reason="the window needs PySide6")

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox, QLineEdit, QWidget

from stringerlab.desktop.pages.sections import SectionsPage
from stringerlab.desktop.sheet.listing import SectionList
from stringerlab.desktop.sheet.switches import SWITCHES
from stringerlab.desktop.sheet.tools import TOOLS
from stringerlab.drawing import Area, Role
from stringerlab.layout import Opening
from stringerlab.project import span_details
from stringerlab.project.drafting import hat_parameters

if TYPE_CHECKING:
    from pytestqt.modeltest import ModelTester
    from pytestqt.qtbot import QtBot

    from stringerlab.desktop.session import Session
    from stringerlab.section import Section

LEFT = Qt.MouseButton.LeftButton


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


def entry(page: SectionsPage, name: str) -> None:
    menu = page.add_button.menu()
    next(action for action in menu.actions() if action.text() == name).trigger()


def typed(qtbot: QtBot, field: QLineEdit, text: str) -> None:
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, text)
    qtbot.keyClick(field, Qt.Key.Key_Return)


def chosen(qtbot: QtBot, box: QComboBox, name: str) -> None:
    box.setFocus()
    at = next(index for index in range(box.count()) if box.itemText(index) == name)
    while box.currentIndex() != at:
        qtbot.keyClick(box, Qt.Key.Key_Down if box.currentIndex() < at else Qt.Key.Key_Up)


def test_the_list_is_a_sound_model(session: Session, qtmodeltester: ModelTester):
    model = SectionList(session)
    qtmodeltester.check(model)
    assert [model.index(row).data() for row in range(model.rowCount())] == ["Main stringer", "Plate floor"]


def test_a_click_in_the_list_shows_the_section_on_the_sheet_and_its_numbers(qtbot: QtBot, page: SectionsPage):
    where = page.list.visualRect(page.sections.index(1)).center()
    qtbot.mouseClick(page.list.viewport(), LEFT, pos=where)
    assert page.sheet.hand.section_id == "s7"
    assert page.facts.section == "s7"


def test_a_name_is_typed_in_the_list(qtbot: QtBot, page: SectionsPage):
    page.rename()
    editor = page.list.findChild(QLineEdit)
    assert isinstance(editor, QLineEdit)
    editor.selectAll()
    qtbot.keyClicks(editor, "Outer stringer")
    qtbot.keyClick(editor, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: section(page).name == "Outer stringer")
    assert page.sheet.session.undo_label == "Rename section Main stringer"


def test_sections_are_added_from_shapes(page: SectionsPage):
    session = page.sheet.session
    entry(page, "Hat")
    assert section(page).name == "Hat"
    assert hat_parameters(session.project, section(page)) is not None
    assert session.resolved.shapes.keys() >= {section(page).id}
    entry(page, "Plate floor")
    assert [wall.name for wall in section(page).walls] == ["plate", "left tab", "right tab"]
    assert session.resolved.shapes.keys() >= {section(page).id}
    entry(page, "Blank")
    assert section(page).walls == ()
    assert page.sheet.hand.tool.name == "wall"
    assert page.list.currentIndex().row() == 4
    for _ in range(3):
        session.undo()
    assert len(session.project.sections) == 2
    assert session.undo_label is None


def test_a_section_is_duplicated_and_deleted(qtbot: QtBot, page: SectionsPage):
    session = page.sheet.session
    qtbot.mouseClick(page.duplicate_button, LEFT)
    assert section(page).name == "Main stringer, copy"
    qtbot.mouseClick(page.delete_button, LEFT)
    assert len(session.project.sections) == 2
    session.undo()
    assert len(session.project.sections) == 3


def test_a_section_that_spans_use_is_not_deleted(qtbot: QtBot, page: SectionsPage):
    page.sheet.hand.show_section("s5")
    with qtbot.waitSignal(page.sheet.session.problem) as seen:
        qtbot.mouseClick(page.delete_button, LEFT)
    assert seen.args is not None
    assert "in use" in str(seen.args[0])
    assert len(page.sheet.session.project.sections) == 2


def test_every_tool_has_a_button_with_its_key_in_the_tip(qtbot: QtBot, page: SectionsPage):
    for listed in TOOLS:
        button = page.strip.buttons[listed.id]
        assert f"({listed.key})" in button.toolTip()
        qtbot.mouseClick(button, LEFT)
        assert page.sheet.hand.tool.name == listed.id
        assert button.isChecked()
    qtbot.keyClick(page.sheet, "V")
    assert page.strip.buttons["select"].isChecked()


def test_overlays_are_switched_and_the_loads_come_with_them(qtbot: QtBot, page: SectionsPage):
    assert page.loads.isHidden()
    for switch in SWITCHES:
        before = page.sheet.switches.is_on(switch.id)
        page.bar.actions_by_id[switch.id].trigger()
        assert page.sheet.switches.is_on(switch.id) is not before
        page.sheet.repaint()
    assert not page.loads.isHidden()
    typed(qtbot, page.loads.moment, "2 kN·m")
    assert page.sheet.options.moment == pytest.approx(2e6)
    qtbot.mouseClick(page.loads.turn, LEFT)
    assert page.sheet.options.moment == pytest.approx(-2e6)


def test_snap_and_ortho_buttons_follow_the_keys(qtbot: QtBot, page: SectionsPage):
    qtbot.mouseClick(page.bar.snaps, LEFT)
    assert not page.sheet.hand.snaps
    qtbot.keyClick(page.sheet, "S")
    assert page.bar.snaps.isChecked()
    qtbot.keyClick(page.sheet, "O")
    assert page.bar.ortho.isChecked()


def test_properties_of_a_wall(qtbot: QtBot, page: SectionsPage):
    inspector, session = page.inspector, page.sheet.session
    page.sheet.hand.show_section("s7")
    page.sheet.hand.select(("w9",))
    assert inspector.heading.text() == "Wall w9"
    chosen(qtbot, inspector.laminate, "Floor plate")
    assert section(page).walls[1].laminate == "l3"
    session.undo()
    chosen(qtbot, inspector.side, "right of the line")
    assert section(page).walls[1].side == "right"
    session.undo()
    typed(qtbot, inspector.fillets, "20")
    assert section(page).walls[1].fillets == (0, 20, 0)
    assert session.undo_label == "Change fillets"
    typed(qtbot, inspector.wall_name, "aft tab")
    assert section(page).walls[1].name == "aft tab"
    inspector.closed.setFocus()
    qtbot.keyClick(inspector.closed, Qt.Key.Key_Space)
    assert section(page).walls[1].closed


def test_a_point_is_typed_into_the_properties(qtbot: QtBot, page: SectionsPage):
    page.sheet.hand.show_section("s7")
    page.sheet.hand.select(("w8",))
    page.sheet.hand.press((-3.2656, 190.0), ctrl=True)
    page.sheet.hand.release((-3.2656, 190.0), ctrl=True)
    assert page.inspector.point_z.isEnabled()
    typed(qtbot, page.inspector.point_z, "200")
    assert section(page).walls[0].points[1] == (-3.2656250000000004, 200)


def test_several_walls_have_their_laminate_changed_together(qtbot: QtBot, page: SectionsPage):
    page.sheet.hand.show_section("s7")
    page.sheet.hand.select(("w9", "w10"))
    assert page.inspector.heading.text() == "2 walls"
    chosen(qtbot, page.inspector.laminate, "Main stringer")
    assert [wall.laminate for wall in section(page).walls] == ["l3", "l2", "l2", "l3"]


def test_a_choice_tells_its_whole_name_and_opens_wide_enough(page: SectionsPage):
    box = page.inspector.new_fill
    assert box.toolTip().startswith(f"{box.currentText()}\n")
    for row in range(box.count()):
        assert box.itemData(row, Qt.ItemDataRole.ToolTipRole) == box.itemText(row)
        words = box.fontMetrics().horizontalAdvance(box.itemText(row))
        assert box.view().minimumWidth() >= min(words + 20, 420)


def test_properties_of_a_fill(qtbot: QtBot, page: SectionsPage):
    page.sheet.hand.show_section("s7")
    page.sheet.hand.select(("f13",))
    chosen(qtbot, page.inspector.material, "Closed-cell polyurethane foam 32 kg/m³")
    assert next(fill.material for fill in section(page).fills if fill.id == "f13") == "pu_foam32"


def test_properties_of_the_section(qtbot: QtBot, page: SectionsPage):
    inspector = page.inspector
    typed(qtbot, inspector.bead, "5")
    assert section(page).bead == 5
    chosen(qtbot, inspector.adhesive, "Methacrylate adhesive")
    assert section(page).adhesive == "mma"
    chosen(qtbot, inspector.adhesive, "Not named")
    assert section(page).adhesive == ""
    typed(qtbot, inspector.plating_width, "30 cm")
    typed(qtbot, inspector.deadrise, "2")
    reference = section(page).reference
    assert reference is not None
    assert (reference.width, reference.deadrise) == (pytest.approx(300), pytest.approx(2))
    chosen(qtbot, inspector.plating, "none")
    assert section(page).reference is None
    assert not inspector.plating_width.isEnabled()
    chosen(qtbot, inspector.plating, "Bottom")
    assert section(page).reference is not None


def test_every_control_has_a_name_for_those_who_do_not_see_it(page: SectionsPage):
    from PySide6.QtWidgets import QAbstractButton, QAbstractItemView

    kinds = (QAbstractButton, QComboBox, QLineEdit, QAbstractItemView)
    own: tuple[QWidget, ...] = (page.strip, page.bar, page.loads, page.inspector)
    nameless = [
        child
        for part in own
        for kind in kinds
        for child in part.findChildren(kind)
        if not child.accessibleName() and not isinstance(child.parent(), QComboBox) and child.parent() in own
    ]
    assert nameless == []


def test_the_page_fits_a_small_window(page: SectionsPage):
    hint = page.minimumSizeHint()
    assert hint.width() <= 1180
    assert hint.height() <= 680


def test_adding_done_again_and_deleting_undone_show_the_section(qtbot: QtBot, page: SectionsPage):
    session, hand = page.sheet.session, page.sheet.hand
    first = hand.section_id
    entry(page, "Blank")
    added = hand.section_id
    assert added != first
    session.undo()
    assert hand.section_id != added
    session.redo()
    assert hand.section_id == added
    assert page.sections.id_at(page.list.currentIndex().row()) == added
    page.delete()
    assert hand.section_id != added
    session.undo()
    assert hand.section_id == added


def test_openings_of_a_sections_spans_are_drawn_and_put_off(qtbot: QtBot, page: SectionsPage):
    sheet, session = page.sheet, page.sheet.session
    span = next(one for one in session.project.spans if one.section == "s5")
    sheet.hand.show_section("s5")

    def cuts() -> int:
        return sum(isinstance(item, Area) and item.role is Role.OPENING for item in sheet.picture())

    assert cuts() == 0
    hole = Opening(x=span.lu / 2, height=40, width=60, bottom=20)
    session.edit("Cut a hole", span_details.with_opening, span.id, hole)
    assert cuts() == 2  # one in each web of the hat
    sheet.hand.show_section("s7")
    assert cuts() == 0
    sheet.hand.show_section("s5")
    sheet.switches.switch("openings", on=False)
    assert cuts() == 0
    sheet.switches.switch("openings", on=True)
    session.undo()
    assert cuts() == 0
