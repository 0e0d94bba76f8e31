"""Panels and spans as tables: typed in any unit, chosen, added, deleted, moved, copied and pasted."""

from collections.abc import Iterator
from dataclasses import replace
from math import degrees

import pytest
from PySide6.QtCore import QModelIndex, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QComboBox, QLabel, QLineEdit, QToolButton
from pytestqt.modeltest import ModelTester
from pytestqt.qtbot import QtBot

from stringerlab.craft import deadrise_at
from stringerlab.desktop.fields import QuantityField
from stringerlab.desktop.models.subject_fields import copied, pasted
from stringerlab.desktop.models.subjects import SubjectsModel
from stringerlab.desktop.pages.subject_table import SubjectTable
from stringerlab.desktop.pages.subjects import SubjectsPage
from stringerlab.desktop.session import Session
from stringerlab.desktop.verdicts import VERDICT_ROLE
from stringerlab.errors import StringerlabError
from stringerlab.layout import End, Panel, Span
from stringerlab.project import Project
from stringerlab.units import System

NAME, B, L, X, DEADRISE, CAMBER, LAMINATE = range(7)
SECTION, ENDS, ATTACHED = 1, 8, 9
CTRL = Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def page(session: Session, qtbot: QtBot) -> Iterator[SubjectsPage]:
    made = SubjectsPage(session)
    qtbot.addWidget(made)
    made.resize(1180, 740)
    with qtbot.waitExposed(made):
        made.show()
    qtbot.waitUntil(lambda: session.fresh)
    yield made
    made.close()


def go(half: SubjectTable, row: int, column: int, qtbot: QtBot) -> QModelIndex:
    index = half.model.index(row, column)
    half.table.scrollTo(index)
    qtbot.mouseClick(
        half.table.viewport(), Qt.MouseButton.LeftButton, pos=half.table.visualRect(index).center()
    )
    return index


def editor(half: SubjectTable, kind: type) -> QLineEdit | QComboBox | QuantityField:
    return half.table.viewport().findChildren(kind)[-1]


def names(project: Project) -> list[str]:
    return [panel.name for panel in project.panels]


def press(half: SubjectTable, name: str, qtbot: QtBot) -> None:
    [button] = [one for one in half.findChildren(QToolButton) if one.text() == name]
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)


def test_typing_over_a_cell_takes_any_unit(page: SubjectsPage, session: Session, qtbot: QtBot) -> None:
    half = page.panels
    go(half, 1, B, qtbot)
    qtbot.keyClicks(half.table, "1")
    field = editor(half, QuantityField)
    assert isinstance(field, QuantityField)
    field.setText("")
    qtbot.keyClicks(field, "16 1/2 in")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: session.project.panels[1].b == pytest.approx(419.1))
    assert session.undo_label == "Change b of panel 'Stringer to chine, aft bay'"
    session.undo()
    assert session.project.panels[1].b == 360


def test_a_decimal_comma_and_degrees_are_read(page: SubjectsPage, session: Session, qtbot: QtBot) -> None:
    half = page.panels
    go(half, 0, DEADRISE, qtbot)
    qtbot.keyClick(half.table, Qt.Key.Key_F2)
    field = editor(half, QuantityField)
    qtbot.keyClicks(field, "12,5")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: session.project.panels[0].deadrise == 12.5)


def test_leaving_a_cell_as_it_is_edits_nothing(page: SubjectsPage, session: Session, qtbot: QtBot) -> None:
    half = page.panels
    before = session.project
    go(half, 0, X, qtbot)
    qtbot.keyClick(half.table, Qt.Key.Key_F2)
    qtbot.keyClick(editor(half, QuantityField), Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: not half.table.viewport().findChildren(QuantityField))
    assert session.project is before


def test_what_does_not_read_stays_open_and_says_why(
    page: SubjectsPage, session: Session, qtbot: QtBot
) -> None:
    half, before = page.panels, session.project
    go(half, 0, L, qtbot)
    qtbot.keyClick(half.table, Qt.Key.Key_F2)
    field = editor(half, QuantityField)
    qtbot.keyClicks(field, "3 kg")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert field.isVisible()
    assert field.property("wrong")
    assert "unit of mass" in half.message.text()
    assert session.project is before
    qtbot.keyClick(field, Qt.Key.Key_Escape)
    qtbot.waitUntil(lambda: not half.table.viewport().findChildren(QuantityField))
    assert session.project is before


def test_laminates_sections_and_ends_are_chosen(page: SubjectsPage, session: Session, qtbot: QtBot) -> None:
    half = page.spans
    for column, words in ((SECTION, "Plate floor"), (ENDS, "held–simple"), (ATTACHED, "no")):
        go(half, 0, column, qtbot)
        qtbot.keyClick(half.table, Qt.Key.Key_F2)
        combo = editor(half, QComboBox)
        assert isinstance(combo, QComboBox)
        combo.setCurrentText(words)
        qtbot.keyClick(combo, Qt.Key.Key_Return)
        qtbot.waitUntil(lambda: not half.table.viewport().findChildren(QComboBox))
    span = session.project.spans[0]
    assert (span.section, span.ends, span.attached) == ("s7", (End.HELD, End.SIMPLE), False)
    assert session.undo_label == "Change attached of span 'Main stringer, transom to floor 1'"


def test_a_row_is_renamed_and_needs_a_name(page: SubjectsPage, session: Session, qtbot: QtBot) -> None:
    half = page.panels
    go(half, 0, NAME, qtbot)
    qtbot.keyClick(half.table, Qt.Key.Key_F2)
    line = editor(half, QLineEdit)
    assert isinstance(line, QLineEdit)
    qtbot.keyClicks(line, "Aft, inner")
    qtbot.keyClick(line, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: session.project.panels[0].name == "Aft, inner")
    assert session.undo_label == "Rename panel 'Keel to stringer, aft bay'"
    index = half.model.index(0, NAME)
    assert not half.model.setData(index, "   ")
    assert "needs a name" in half.message.text()


def test_add_begins_to_type_the_name(page: SubjectsPage, session: Session, qtbot: QtBot) -> None:
    half = page.panels
    press(half, "Add", qtbot)
    line = editor(half, QLineEdit)
    qtbot.keyClicks(line, "New one")
    qtbot.keyClick(line, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: names(session.project)[-1] == "New one")
    session.undo()
    assert session.undo_label == "Add panel 'Panel 1'"
    session.undo()
    assert len(session.project.panels) == 8


def test_duplicate_delete_and_move_by_keys(page: SubjectsPage, session: Session, qtbot: QtBot) -> None:
    half, before = page.panels, names(session.project)
    go(half, 2, NAME, qtbot)
    qtbot.keyClick(half.table, Qt.Key.Key_D, CTRL)
    assert names(session.project) == [*before, f"{before[2]} copy"]
    assert half.table.chosen() == [8]
    qtbot.keyClick(half.table, Qt.Key.Key_Up, Qt.KeyboardModifier.AltModifier)
    assert names(session.project) == [*before[:7], f"{before[2]} copy", before[7]]
    assert half.table.chosen() == [7]
    assert session.undo_label == f"Move panel '{before[2]} copy' up"
    qtbot.keyClick(half.table, Qt.Key.Key_Down, Qt.KeyboardModifier.AltModifier)
    qtbot.keyClick(half.table, Qt.Key.Key_Delete)
    assert names(session.project) == before
    assert session.undo_label == f"Delete panel '{before[2]} copy'"


def test_several_rows_go_at_once_and_come_back_at_once(
    page: SubjectsPage, session: Session, qtbot: QtBot
) -> None:
    half, before = page.panels, names(session.project)
    go(half, 1, NAME, qtbot)
    qtbot.keyClick(half.table, Qt.Key.Key_Down, Qt.KeyboardModifier.ShiftModifier)
    press(half, "Delete", qtbot)
    assert names(session.project) == [before[0], *before[3:]]
    assert session.undo_label == "Delete 2 panels"
    session.undo()
    assert names(session.project) == before


def test_the_hulls_deadrise_stands_beside_and_is_taken(
    page: SubjectsPage, session: Session, qtbot: QtBot
) -> None:
    half, panel = page.panels, session.project.panels[6]
    hull = round(degrees(deadrise_at(session.project.craft, panel.x)), 1)
    index = go(half, 6, DEADRISE, qtbot)
    assert str(index.data()) == f"{panel.deadrise} deg ({hull})"
    assert "hull's deadrise there" in str(index.data(Qt.ItemDataRole.ToolTipRole))
    qtbot.keyClick(half.table, Qt.Key.Key_H, CTRL)
    assert session.project.panels[6].deadrise == hull
    assert session.undo_label == f"Take deadrise of panel '{panel.name}' from the hull"
    assert str(index.data()) == f"{hull} deg"


def test_rows_copied_and_pasted_are_the_same_rows(page: SubjectsPage, session: Session, qtbot: QtBot) -> None:
    half = page.spans
    go(half, 0, NAME, qtbot)
    qtbot.keyClick(half.table, Qt.Key.Key_A, CTRL)
    qtbot.keyClick(half.table, Qt.Key.Key_C, CTRL)
    lines = QGuiApplication.clipboard().text().splitlines()
    assert len(lines) == 8
    assert session.results is not None
    for line, span in zip(lines[1:], session.project.spans, strict=True):
        of = [one for one in session.results.findings if one.subject == span.id]
        judged = [one for one in of if one.utilisation is not None]
        worst = max(judged, key=lambda one: one.utilisation or 0.0)
        assert line.endswith(f"\t{worst.utilisation:.2f}\t{worst.verdict}")
    qtbot.keyClick(half.table, Qt.Key.Key_V, CTRL)
    spans = session.project.spans
    assert [replace(span, id="") for span in spans[7:]] == [replace(span, id="") for span in spans[:7]]
    assert session.undo_label == "Paste 7 spans"
    assert half.table.chosen() == list(range(7, 14))


def test_pasting_names_every_cell_that_does_not_read_and_adds_nothing(
    page: SubjectsPage, session: Session, qtbot: QtBot
) -> None:
    half, before = page.panels, session.project
    QGuiApplication.clipboard().setText("A\tx\t900 mm\n\t300\t1 kg\t0\t15\t0\tNowhere")
    press(half, "Paste", qtbot)
    said = half.message.text()
    for words in ("row 1, b", "row 2, panel", "row 2, l", "row 2, laminate", "Nothing was pasted"):
        assert words in said
    assert session.project is before
    QGuiApplication.clipboard().setText("A\t300\t900 mm")
    press(half, "Paste", qtbot)
    assert "Nothing" not in half.message.text()
    assert names(session.project)[-1] == "A"


def test_each_row_has_its_worst_utilisation_and_verdict(page: SubjectsPage, session: Session) -> None:
    model = page.panels.model
    assert session.results is not None
    for row, panel in enumerate(session.project.panels):
        uses = [f.utilisation or 0 for f in session.results.findings if f.subject == panel.id]
        assert model.index(row, model.use_column).data() == f"{max(uses):.2f}"
    assert model.index(7, model.verdict_column).data() == "tight: ply strength"
    assert model.index(7, model.verdict_column).data(VERDICT_ROLE) == "tight"


def test_what_is_wrong_with_a_row_stands_in_it_and_below(
    page: SubjectsPage, session: Session, qtbot: QtBot
) -> None:
    half = page.panels
    index = half.model.index(2, B)
    assert half.model.setData(index, "900 mm")
    assert half.model.index(2, half.model.verdict_column).data().startswith("not judged: b is 900 mm")
    assert "short side" in half.message.text()
    assert half.model.setData(index, "5 mm")
    assert "5 mm is outside" in str(index.data(Qt.ItemDataRole.ToolTipRole))
    session.undo()
    session.undo()
    assert not half.message.isVisible()


def test_rows_and_selection_follow_each_other(page: SubjectsPage, session: Session, qtbot: QtBot) -> None:
    go(page.spans, 3, NAME, qtbot)
    assert session.selected == session.project.spans[3].id
    session.select(session.project.panels[5].id)
    assert page.panels.table.chosen() == [5]


def test_units_are_switched_live(page: SubjectsPage, session: Session) -> None:
    session.edit("Show US units", lambda project: replace(project, units=System.US))
    assert page.panels.model.index(0, B).data() == "12.9921 in"


def test_an_empty_table_says_what_belongs_in_it(page: SubjectsPage, session: Session, qtbot: QtBot) -> None:
    session.begin(replace(session.project, panels=(), laminates=(), sections=(), spans=()))
    said = [label.text() for label in page.findChildren(QLabel) if label.isVisible()]
    assert any("No panel yet" in text for text in said)
    press(page.spans, "Add", qtbot)
    assert "no laminate yet" in page.spans.message.text()
    assert "no section yet" in page.spans.message.text()
    qtbot.waitUntil(lambda: session.fresh)


def test_models_are_sound(session: Session, qtmodeltester: ModelTester, qtbot: QtBot) -> None:
    qtbot.waitUntil(lambda: session.fresh)
    for kind in (Panel, Span):
        model = SubjectsModel(session, kind)
        qtmodeltester.check(model)
        model.setData(model.index(0, 0), "Another name")
        qtmodeltester.check(model)
        model.deleteLater()


def test_a_pasted_row_may_leave_columns_out(session: Session) -> None:
    project = session.project
    [panel] = pasted("Fore\t300 mm\t0.9 m\t2000", Panel, project)
    assert isinstance(panel, Panel)
    assert (panel.b, panel.l, panel.x, panel.camber) == (300, 900, 2000, 0)
    assert panel.deadrise == round(degrees(deadrise_at(project.craft, 2000)), 1)
    assert panel.laminate == project.laminates[0].id


def test_copied_text_keeps_every_digit(session: Session) -> None:
    project = replace(session.project, units=System.US)
    panel = replace(project.panels[0], b=331.7)
    text = copied([panel], project)
    assert text.splitlines()[0].split("\t")[:3] == ["panel", "b", "l"]
    [back] = pasted(text, Panel, project)
    assert replace(back, id=panel.id) == panel


def test_a_name_that_several_have_asks_for_an_id(session: Session) -> None:
    project = session.project
    twice = replace(project, laminates=(*project.laminates, replace(project.laminates[0], id="l99")))
    with pytest.raises(StringerlabError, match=r"name of several.*l1, l99"):
        pasted("A\t300\t900\t0\t15\t0\tBottom", Panel, twice)
    [panel] = pasted("A\t300\t900\t0\t15\t0\tl99", Panel, twice)
    assert isinstance(panel, Panel)
    assert panel.laminate == "l99"


def test_an_empty_clipboard_says_which_columns_it_wants(session: Session) -> None:
    with pytest.raises(StringerlabError, match="columns panel, b, l, x"):
        pasted("panel\tb\n", Panel, session.project)
