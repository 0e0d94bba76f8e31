"""The materials page through real clicks and keys; the table of values as a model."""

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QAbstractItemModelTester
from PySide6.QtWidgets import QApplication, QComboBox, QLabel, QLineEdit, QToolButton, QWidget
from pytestqt.qtbot import QtBot

from stringerlab.desktop.models.known import ENTERED, IN_WORDS
from stringerlab.desktop.models.material_values import (
    ENTERED as AS_ENTERED,
)
from stringerlab.desktop.models.material_values import (
    KINDS,
)
from stringerlab.desktop.models.value_table import Column
from stringerlab.desktop.pages.cell_editors import CellField
from stringerlab.desktop.pages.materials import MaterialsPage
from stringerlab.desktop.session import Session
from stringerlab.desktop.theme import load_fonts, text_font
from stringerlab.errors import StringerlabError
from stringerlab.materials import AnyMaterial, shipped
from stringerlab.materials.book import every
from stringerlab.materials.records import Core, Sourced
from stringerlab.project import edits
from stringerlab.units import System, display_unit
from stringerlab.workings import Known

Key, Mod, Left = Qt.Key, Qt.KeyboardModifier, Qt.MouseButton.LeftButton


@pytest.fixture
def page(qtbot: QtBot, qapp: QApplication, session: Session) -> MaterialsPage:
    load_fonts()
    qapp.setFont(text_font())
    page = MaterialsPage(session)
    page.resize(1170, 690)
    qtbot.addWidget(page)
    with qtbot.waitExposed(page):
        page.show()
    return page


def pick(qtbot: QtBot, page: MaterialsPage, id: str, *, own: bool = False) -> None:  # noqa: A002
    index = page.materials.index(page.materials.row_of(id, own))
    page.list.scrollTo(index)
    qtbot.mouseClick(page.list.viewport(), Left, pos=page.list.visualRect(index).center())


def row_named(page: MaterialsPage, name: str) -> int:
    return next(i for i, row in enumerate(page.values.rows) if row.name == name)


def shown(page: MaterialsPage, name: str, column: int = Column.VALUE) -> str:
    return str(page.values.index(row_named(page, name), column).data())


def opened(qtbot: QtBot, page: MaterialsPage, name: str, column: int, kind: type[QWidget]) -> QWidget:
    index = page.values.index(row_named(page, name), column)
    page.view.scrollTo(index)
    qtbot.mouseClick(page.view.viewport(), Left, pos=page.view.visualRect(index).center())
    page.view.setFocus()
    qtbot.keyClick(page.view, Key.Key_F2)
    editor = page.view.viewport().findChild(kind)
    assert editor is not None
    return editor


def typed(qtbot: QtBot, page: MaterialsPage, name: str, text: str, column: int = Column.VALUE) -> None:
    field = opened(qtbot, page, name, column, CellField if column == Column.VALUE else QLineEdit)
    assert isinstance(field, QLineEdit)
    field.selectAll()
    if text:
        qtbot.keyClicks(field, text)
    else:
        qtbot.keyClick(field, Key.Key_Delete)
    qtbot.keyClick(field, Key.Key_Return)
    qtbot.waitUntil(lambda: not page.view.viewport().findChildren(QLineEdit))


def chosen(qtbot: QtBot, page: MaterialsPage, name: str, words: str, column: int = Column.VALUE) -> None:
    box = opened(qtbot, page, name, column, QComboBox)
    assert isinstance(box, QComboBox)
    qtbot.keyClicks(box, words)
    qtbot.keyClick(box, Key.Key_Return)
    qtbot.waitUntil(lambda: not page.view.viewport().findChildren(QComboBox))


def button(page: MaterialsPage, words: str) -> QToolButton:
    return next(one for one in page.findChildren(QToolButton) if one.text() == words)


def own_copy(qtbot: QtBot, page: MaterialsPage, id: str) -> AnyMaterial:  # noqa: A002
    pick(qtbot, page, id)
    qtbot.mouseClick(button(page, "Copy to own"), Left)
    material = page.material
    assert material is not None
    return material


def ids(page: MaterialsPage) -> list[str]:
    rows = (page.materials.at(i) for i in range(page.materials.rowCount()))
    return [row.material.id for row in rows if row is not None and row.material is not None]


# -- browsing ------------------------------------------------------------------------------------


def test_every_shipped_material_is_listed_under_its_kind(page: MaterialsPage) -> None:
    assert sorted(ids(page)) == sorted(one.id for one in every(shipped()))
    heads = [
        page.materials.index(i).data()
        for i in range(page.materials.rowCount())
        if page.materials.at(i) is None
    ]
    plies = [
        "Mats", "Woven rovings", "0/90 stitched", "±45 stitched", "Unidirectional", "Triaxial", "Quadriaxial",
        "Stitched with mat",
    ]  # fmt: skip
    assert heads == [*plies, *(kind for kind in KINDS.values() if kind != "Reinforcements")]
    page.kinds.setCurrentText("Reinforcements")
    first, last = page.materials.at(1), page.materials.at(page.materials.rowCount() - 1)
    assert first is not None
    assert first.material is not None
    assert first.material.id == "csm225"
    assert last is not None
    assert last.second == "1100 g/m², glass 0.42"


def test_a_fabric_with_layers_of_ones_own_is_changed_layer_by_layer(
    page: MaterialsPage, qtbot: QtBot, session: Session
) -> None:
    own_copy(qtbot, page, "m1808")
    typed(qtbot, page, "Layer 1, dry weight", "1.5 oz/ft2")
    [held] = session.project.materials.reinforcements
    assert held.layers[0].weight == pytest.approx(457.728, abs=1e-3)
    assert held.weight == pytest.approx(457.728 + 610.303, abs=1e-3)
    assert page.values.rows[row_named(page, "Dry weight")].text == "1068 g/m²"
    typed(qtbot, page, "Layer 2, angle", "30")
    typed(qtbot, page, "Layers", "3")
    [held] = session.project.materials.reinforcements
    assert [layer.angle for layer in held.layers] == [0.0, 30.0, 30.0]
    assert session.undo_label == "Change layers of 1808 (0/90), own"
    assert not session.resolved.problems


def test_the_models_keep_qts_rules(
    page: MaterialsPage, qtmodeltester: object, qtbot: QtBot, session: Session
) -> None:
    strict = QAbstractItemModelTester.FailureReportingMode.Fatal
    testers = [QAbstractItemModelTester(model, strict) for model in (page.materials, page.values)]
    qtmodeltester.check(page.materials)  # type: ignore[attr-defined]
    qtmodeltester.check(page.values)  # type: ignore[attr-defined]
    own_copy(qtbot, page, "wr600")
    qtbot.keyClicks(page.search, "own")
    page.compare.setCurrentIndex(2)
    session.undo()
    assert len(testers) == 2


def test_search_narrows_by_every_word(page: MaterialsPage, qtbot: QtBot) -> None:
    qtbot.keyClicks(page.search, "Stitched 600 polyester")
    assert ids(page) == ["bx600", "db600", "tri0_600", "tri90_600", "quad600", "m600_225", "m600_225_45"]
    page.search.clear()
    qtbot.keyClicks(page.search, "m1808")
    assert ids(page) == ["m1808"]
    page.search.clear()
    page.kinds.setFocus()
    qtbot.keyClicks(page.kinds, "Adh")
    assert ids(page) == [adhesive.id for adhesive in shipped().adhesives]


def test_search_for_nothing_there_says_so(page: MaterialsPage, qtbot: QtBot) -> None:
    qtbot.keyClicks(page.search, "teak")
    assert ids(page) == []
    labels = [label.text() for label in page.findChildren(QLabel) if label.isVisible()]
    assert "No material has all these words." in labels


def test_the_material_shown_stays_while_the_list_is_narrowed(page: MaterialsPage, qtbot: QtBot) -> None:
    pick(qtbot, page, "pvc80")
    qtbot.keyClicks(page.search, "resin")
    assert page.name.text() == "PVC foam 80 kg/m³"
    page.search.clear()
    assert page.list.currentIndex().row() == page.materials.row_of("pvc80", False)


def test_mats_are_weighed_by_the_square_foot_in_us_units(page: MaterialsPage, session: Session) -> None:
    def second(id: str) -> str:  # noqa: A002
        row = page.materials.at(page.materials.row_of(id, own=False))
        assert row is not None
        return row.second

    session.edit("Change units", lambda project: replace(project, units=System.US))
    assert second("csm15oz").startswith("1.500 oz/ft², ")
    assert second("wr18oz").startswith("18.00 oz/yd², ")


def test_each_number_is_shown_with_unit_source_and_mark(page: MaterialsPage, session: Session) -> None:
    for wanted in every(shipped()):
        session.select(wanted.id)
        assert page.material is not None, wanted.id
        assert page.material.id == wanted.id
        for row in page.values.rows:
            if row.line is not None and row.line.number is not None:
                assert row.source.strip(), (wanted.id, row.name)
                assert row.known is not None, (wanted.id, row.name)
                unit = row.line.unit
                assert unit is not None, (wanted.id, row.name)
                assert row.text.endswith(display_unit(unit.kind, session.units).symbol), (wanted.id, row.name)


def test_a_mark_is_said_in_words(page: MaterialsPage, qtbot: QtBot) -> None:
    pick(qtbot, page, "pvc80")
    index = page.values.index(row_named(page, "Shear modulus"), Column.KNOWN)
    assert index.data() == "memory M"
    qtbot.mouseClick(page.view.viewport(), Left, pos=page.view.visualRect(index).center())
    assert IN_WORDS[Known.MEMORY_M] in page.detail.text()
    assert "typical of cross-linked PVC foam" in page.detail.text()


def test_every_mark_has_words() -> None:
    assert set(IN_WORDS) == set(Known)
    assert Known.PROVED not in ENTERED


def test_units_are_switched_live(page: MaterialsPage, qtbot: QtBot, session: Session) -> None:
    pick(qtbot, page, "pvc80")
    session.edit("Change units", lambda project: replace(project, units=System.US))
    assert shown(page, "Density").endswith("lb/ft³")


def test_a_shipped_material_is_read_only(page: MaterialsPage, qtbot: QtBot) -> None:
    pick(qtbot, page, "pvc80")
    assert page.name.isReadOnly()
    for row in range(page.values.rowCount()):
        for column in range(page.values.columnCount()):
            assert not page.values.index(row, column).flags() & Qt.ItemFlag.ItemIsEditable


def test_a_reinforcement_says_what_it_amounts_to_as_laid(
    page: MaterialsPage, qtbot: QtBot, session: Session
) -> None:
    pick(qtbot, page, "csm450")
    stack = session.resolved.stacks["l1"]
    ply = next(one for one in stack.plies if one.name == "Chopped mat 450 g/m²")
    row = page.values.rows[row_named(page, "E1")]
    assert row.text == f"{ply.E1:.0f} MPa"
    assert row.known is dict(ply.marks)["E1"]


# -- own materials -------------------------------------------------------------------------------


def test_a_copy_is_the_projects_own_with_an_id_of_its_own(
    page: MaterialsPage, qtbot: QtBot, session: Session
) -> None:
    fresh = own_copy(qtbot, page, "wr600")
    [held] = session.project.materials.reinforcements
    assert held == fresh
    assert held.id != "wr600"
    assert session.undo_label == "Copy Woven roving 600 g/m² to own materials"
    assert not session.resolved.problems
    assert not page.name.isReadOnly()


def test_a_value_is_typed_with_any_unit_and_is_no_longer_the_old_sources(
    page: MaterialsPage, qtbot: QtBot, session: Session
) -> None:
    own_copy(qtbot, page, "pvc80")
    typed(qtbot, page, "Density", "5 lb/ft³")
    [core] = session.project.materials.cores
    assert core.density.value == pytest.approx(80.092, abs=1e-3)
    assert (core.density.source, core.density.known) == (AS_ENTERED, Known.STATED)
    assert core.modulus == shipped_core("pvc80").modulus
    assert session.undo_label == "Change density of PVC foam 80 kg/m³, own"


def test_weight_and_glass_share_the_reinforcements_source(
    page: MaterialsPage, qtbot: QtBot, session: Session
) -> None:
    own_copy(qtbot, page, "wr600")
    typed(qtbot, page, "Glass content", "52 %")
    [held] = session.project.materials.reinforcements
    assert held.glass == pytest.approx(0.52)
    assert (held.source, held.known) == (AS_ENTERED, Known.STATED)


def test_source_and_mark_are_typed_and_picked(page: MaterialsPage, qtbot: QtBot, session: Session) -> None:
    own_copy(qtbot, page, "pvc80")
    typed(qtbot, page, "Modulus", "95")
    typed(qtbot, page, "Modulus", "maker's sheet, typical", Column.SOURCE)
    chosen(qtbot, page, "Modulus", "quoted", Column.KNOWN)
    [core] = session.project.materials.cores
    assert core.modulus == Sourced(value=95.0, source="maker's sheet, typical", known=Known.QUOTED)
    assert session.undo_label == "Change mark of modulus of PVC foam 80 kg/m³, own"


def test_an_empty_source_is_refused(page: MaterialsPage, qtbot: QtBot, session: Session) -> None:
    own_copy(qtbot, page, "pvc80")
    typed(qtbot, page, "Modulus", "", Column.SOURCE)
    assert session.project.materials.cores[0].modulus == shipped_core("pvc80").modulus


def test_a_value_that_must_be_there_cannot_be_emptied(
    page: MaterialsPage, qtbot: QtBot, session: Session
) -> None:
    own_copy(qtbot, page, "pvc80")
    with qtbot.waitSignal(session.said) as said:
        typed(qtbot, page, "Density", "")
    assert said.args == ["This value cannot be left out."]
    assert session.project.materials.cores[0].density == shipped_core("pvc80").density


def test_a_choice_is_picked(page: MaterialsPage, qtbot: QtBot, session: Session) -> None:
    own_copy(qtbot, page, "pvc80")
    chosen(qtbot, page, "Yields before it breaks", "yes")
    assert session.project.materials.cores[0].ductile is True


def test_another_resin_is_picked_by_its_name(page: MaterialsPage, qtbot: QtBot, session: Session) -> None:
    own_copy(qtbot, page, "db600")
    chosen(qtbot, page, "Resin", "Laminating")
    assert session.project.materials.reinforcements[0].resin == "epoxy"
    assert shown(page, "Resin") == "Laminating epoxy"


def test_an_own_test_takes_the_place_of_the_estimate_and_is_taken_away(
    page: MaterialsPage, qtbot: QtBot, session: Session
) -> None:
    own_copy(qtbot, page, "wr600")
    estimate = shown(page, "E1")
    typed(qtbot, page, "Modulus 1", "15 GPa")
    [held] = session.project.materials.reinforcements
    assert held.tested.modulus_1 is not None
    assert (held.tested.modulus_1.value, held.tested.modulus_1.known) == (15000.0, Known.TESTED)
    assert shown(page, "E1") == "15000 MPa"
    assert shown(page, "E1", Column.SOURCE) == "own test"
    typed(qtbot, page, "Modulus 1", "coupons of May, mean of six", Column.SOURCE)
    [held] = session.project.materials.reinforcements
    assert held.tested.modulus_1 is not None
    assert held.tested.modulus_1.source == "coupons of May, mean of six"
    index = page.values.index(row_named(page, "Modulus 1"), Column.VALUE)
    page.view.setCurrentIndex(index)
    qtbot.keyClick(page.view, Key.Key_Delete)
    assert session.project.materials.reinforcements[0].tested.modulus_1 is None
    assert shown(page, "E1") == estimate


def test_a_number_out_of_range_is_said_under_the_name(
    page: MaterialsPage, qtbot: QtBot, session: Session
) -> None:
    own_copy(qtbot, page, "wr600")
    typed(qtbot, page, "Glass content", "0.95")
    assert "0.95" in page.problems.text
    session.undo()
    assert page.problems.text == ""


def test_an_estimate_that_does_not_know_the_ply_is_said(
    page: MaterialsPage, qtbot: QtBot, session: Session
) -> None:
    own_copy(qtbot, page, "csm450")
    chosen(qtbot, page, "Estimate", "rule")
    assert "does not know a mat ply" in page.problems.text


def test_an_own_material_stands_in_for_the_shipped_one(
    page: MaterialsPage, qtbot: QtBot, session: Session
) -> None:
    pick(qtbot, page, "csm450")
    qtbot.mouseClick(button(page, "Own in its place"), Left)
    typed(qtbot, page, "Dry weight", "460")
    plies = session.resolved.stacks["l1"].plies
    assert {ply.dry_weight for ply in plies if ply.name == "Chopped mat 450 g/m²"} == {460.0}
    pick(qtbot, page, "csm450")
    assert "your own stands in its place" in page.about.text()
    assert not button(page, "Own in its place").isEnabled()


def test_an_own_material_is_renamed(page: MaterialsPage, qtbot: QtBot, session: Session) -> None:
    own_copy(qtbot, page, "pvc80")
    page.name.setFocus()
    page.name.selectAll()
    qtbot.keyClicks(page.name, "Deck core")
    qtbot.keyClick(page.name, Key.Key_Return)
    assert session.project.materials.cores[0].name == "Deck core"
    assert session.undo_label == "Rename material PVC foam 80 kg/m³, own"


def test_an_own_material_is_deleted_by_key(page: MaterialsPage, qtbot: QtBot, session: Session) -> None:
    own_copy(qtbot, page, "pvc80")
    page.list.setFocus()
    qtbot.keyClick(page.list, Key.Key_Delete)
    assert session.project.materials.cores == ()
    assert page.material is not None


def test_an_own_material_in_use_stays_and_its_users_are_named(
    page: MaterialsPage, qtbot: QtBot, session: Session
) -> None:
    fresh = own_copy(qtbot, page, "wr600")
    ply = replace(session.project.laminates[0].plies[3], material=fresh.id)
    session.edit("Use it", edits.with_ply_replaced, "l1", 3, ply)
    assert page.users.list.count() == 1
    assert page.users.list.item(0).text() == "Laminate Bottom, ply 4"
    refusals: list[StringerlabError] = []
    session.problem.connect(refusals.append)
    qtbot.mouseClick(button(page, "Delete"), Left)
    assert session.project.materials.reinforcements
    assert "laminate 'Bottom' (l1), ply 4" in str(refusals[0])


def test_undo_takes_an_own_material_away_and_shows_another(
    page: MaterialsPage, qtbot: QtBot, session: Session
) -> None:
    own_copy(qtbot, page, "pvc80")
    session.undo()
    assert page.material is not None
    assert page.material in every(shipped())


def test_where_a_material_is_used_takes_there(page: MaterialsPage, qtbot: QtBot, session: Session) -> None:
    pick(qtbot, page, "wr500")
    listed = page.users.list
    with qtbot.waitSignal(session.wanted) as taken:
        qtbot.mouseClick(listed.viewport(), Left, pos=listed.visualItemRect(listed.item(0)).center())
    assert taken.args == ["l4"]


# -- side by side --------------------------------------------------------------------------------


def test_two_materials_side_by_side(page: MaterialsPage, qtbot: QtBot) -> None:
    pick(qtbot, page, "pvc80")
    page.compare.setFocus()
    for _ in range(4):
        qtbot.keyClick(page.compare, Key.Key_Down)
    row = page.values.rows[row_named(page, "Density")]
    assert (row.text, row.other, row.ratio) == ("80.00 kg/m³", "130.0 kg/m³", "0.615")
    assert page.values.headerData(Column.OTHER, Qt.Orientation.Horizontal) == "PVC foam 130 kg/m³"
    pick(qtbot, page, "pvc60")
    assert page.values.rows[row_named(page, "Density")].other == "130.0 kg/m³"
    pick(qtbot, page, "mma")
    assert page.values.columnCount() == Column.OTHER


def shipped_core(id: str) -> Core:  # noqa: A002
    return next(core for core in shipped().cores if core.id == id)


def test_two_side_by_side_fit_a_small_window_and_give_the_sources_back(
    page: MaterialsPage, qtbot: QtBot
) -> None:
    pick(qtbot, page, "pvc80")
    page.compare.setFocus()
    qtbot.keyClick(page.compare, Key.Key_Down)
    assert page.view.isColumnHidden(Column.SOURCE)
    qtbot.waitUntil(lambda: page.view.horizontalScrollBar().maximum() == 0)
    row = row_named(page, "Density")
    mine, other = shipped_core("pvc80"), shipped_core("pvc48")
    page.view.setCurrentIndex(page.values.index(row, Column.OTHER))
    assert f"Source: {mine.density.source};" in page.detail.text()
    assert f"The other: 48.00 kg/m³. Source: {other.density.source};" in page.detail.text()
    tip = str(page.values.index(row, Column.OTHER).data(Qt.ItemDataRole.ToolTipRole))
    assert tip.endswith(f"Source: {other.density.source}")
    assert page.detail.heightForWidth(page.detail.width()) <= page.detail.height()
    page.resize(1800, 900)
    qtbot.waitUntil(lambda: not page.view.isColumnHidden(Column.SOURCE))
    assert not page.view.isColumnHidden(Column.OTHER_SOURCE)
    assert page.values.index(row, Column.OTHER_SOURCE).data() == other.density.source
    page.resize(1170, 690)
    pick(qtbot, page, "mma")
    assert not page.view.isColumnHidden(Column.SOURCE)


def test_only_the_same_kind_is_offered(page: MaterialsPage, qtbot: QtBot) -> None:
    pick(qtbot, page, "pvc80")
    offered = [page.compare.itemText(i) for i in range(1, page.compare.count())]
    assert offered == [core.name for core in shipped().cores if core.id != "pvc80"]


def test_values_are_copied_as_text(page: MaterialsPage, qtbot: QtBot) -> None:
    pick(qtbot, page, "mma")
    page.view.setFocus()
    qtbot.keyClick(page.view, Key.Key_C, Mod.ControlModifier)
    lines = QGuiApplication.clipboard().text().split("\n")
    QGuiApplication.clipboard().clear()
    assert lines[0] == "Quantity\tValue\tSource\tKnown"
    assert lines[1].startswith("Density\t1000 kg/m³\tusual value\tmemory M")
