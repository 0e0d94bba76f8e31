"""Panes beside and below the plan: what is typed changes the layout, what is chosen is chosen everywhere."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QLineEdit

from stringerlab.data import folder
from stringerlab.desktop.fields import QuantityField
from stringerlab.desktop.plan.panes import (
    PANES,
    CavitiesPane,
    FoundPane,
    GridPane,
    LoadsPane,
    MembersPane,
    RulesPane,
)
from stringerlab.desktop.plan.panes.combining import parts_of, words_of
from stringerlab.desktop.plan.panes.equipment import feet_of, feet_words
from stringerlab.desktop.plan.panes.tables import PaneTable
from stringerlab.desktop.session import Session
from stringerlab.drawing import Picture, Role
from stringerlab.drawing.plan_results import Overlay
from stringerlab.errors import StringerlabError
from stringerlab.files import load
from stringerlab.layout.plan import (
    Cavity,
    Combination,
    Drive,
    Equipment,
    EquipmentKind,
    Hand,
    Held,
    Layout,
    Part,
    Source,
)
from stringerlab.project import planning

if TYPE_CHECKING:
    from pytestqt.modeltest import ModelTester
    from pytestqt.qtbot import QtBot


def _session(*, held: bool, few: bool = False) -> Iterator[Session]:
    project = load(folder("sample_projects") / "tidewrack_grid.json")
    project = planning.with_layout_in_use(project, project.layouts[0].id)
    if few:
        layout = project.layouts[0]
        members = [
            member for member in layout.members if member.name not in ("Inner longitudinal", "Floor 1")
        ]
        others = (*layout.combinations, *layout.cavities, *layout.equipment[1:])
        project = planning.without_parts(project, [one.id for one in (*members, *others)])
    session = Session(project, held=held)
    yield session
    session.close()
    session.deleteLater()


@pytest.fixture
def session(qapp: object) -> Iterator[Session]:
    """The sample with a layout in use, its check held back."""
    yield from _session(held=True)


@pytest.fixture
def checked(qapp: object) -> Iterator[Session]:
    """The same with few members, to be checked soon."""
    yield from _session(held=False, few=True)


def layout_of(session: Session) -> Layout:
    project = session.project
    return next(layout for layout in project.layouts if layout.id == project.layout)


def row_of(table: PaneTable, name: str) -> int:
    model = table.model
    return next(row for row in range(model.rowCount()) if model.index(row, 0).data() == name)


def choose(table: PaneTable, row: int) -> None:
    table.table.setFocus()
    table.table.setCurrentIndex(table.model.index(row, 0))


def type_in(qtbot: QtBot, field: QLineEdit, text: str) -> None:
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, text)
    qtbot.keyClick(field, Qt.Key.Key_Return)


def shown(qtbot: QtBot, pane: object) -> None:
    qtbot.addWidget(pane)  # pyright: ignore
    pane.resize(900, 700)  # pyright: ignore
    pane.show()  # pyright: ignore
    qtbot.waitExposed(pane)  # pyright: ignore
    pane.activateWindow()  # pyright: ignore
    qtbot.waitUntil(pane.isActiveWindow)  # pyright: ignore


@pytest.mark.parametrize(("title", "make"), PANES)
def test_every_pane_stands_without_a_layout_too(qtbot: QtBot, title: str, make: type) -> None:
    project = load(folder("sample_projects") / "eelgrass_workboat.json")
    session = Session(planning.with_layout_in_use(project, ""), held=True)
    pane = make(session)
    shown(qtbot, pane)
    assert pane.title == title
    session.close()
    session.deleteLater()


def test_models_keep_what_qt_asks_of_models(
    qtbot: QtBot, session: Session, qtmodeltester: ModelTester
) -> None:
    loads, members, cavities = LoadsPane(session), MembersPane(session), CavitiesPane(session)
    shown(qtbot, cavities)
    assert cavities.model.rowCount()
    for model in (members.model, loads.equipment, loads.combinations, cavities.model):
        qtmodeltester.check(model, force_py=True)
    for pane in (loads, members):
        pane.deleteLater()


# -- members -------------------------------------------------------------------------------------


def test_a_member_s_crown_is_chosen_in_its_cell(qtbot: QtBot, session: Session) -> None:
    pane = MembersPane(session)
    shown(qtbot, pane)
    member = layout_of(session).members[2]
    row = row_of(pane.table, member.name)
    column = [field.key for field in pane.model.fields].index("crown")
    assert pane.model.setData(pane.model.index(row, column), "continuous")
    assert layout_of(session).members[2].crown.value == "continuous"
    assert session.undo_label == f"Change crown of {member.name}"
    session.undo()
    assert layout_of(session).members[2] == member


def test_a_row_chosen_is_selected_everywhere_and_follows(qtbot: QtBot, session: Session) -> None:
    pane = MembersPane(session)
    shown(qtbot, pane)
    members = layout_of(session).members
    choose(pane.table, 1)
    assert session.selected == members[1].id
    session.select(members[3].id)
    assert pane.table.ids == [members[3].id]


def test_what_does_not_read_is_said_and_changes_nothing(qtbot: QtBot, session: Session) -> None:
    pane = MembersPane(session)
    shown(qtbot, pane)
    before = session.project
    column = [field.key for field in pane.model.fields].index("section")
    assert not pane.model.setData(pane.model.index(0, column), "no such section")
    assert session.project is before
    assert "no such section" in pane.table.message.text()
    assert not pane.table.message.isHidden()


def test_members_are_copied_as_a_spreadsheet_takes_them(qtbot: QtBot, session: Session) -> None:
    pane = MembersPane(session)
    shown(qtbot, pane)
    pane.table.table.setFocus()
    qtbot.keyClick(pane.table.table, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)
    lines = QGuiApplication.clipboard().text().split("\n")
    assert lines[0].startswith("name\tkind\thand\tsection")
    assert len(lines) == 1 + len(layout_of(session).members)


def test_delete_takes_a_member_away_and_undo_brings_it_back(qtbot: QtBot, session: Session) -> None:
    pane = MembersPane(session)
    shown(qtbot, pane)
    before = layout_of(session).members
    choose(pane.table, len(before) - 1)
    qtbot.keyClick(pane.table.table, Qt.Key.Key_Delete)
    assert [m.id for m in layout_of(session).members] == [m.id for m in before[:-1]]
    session.undo()
    assert layout_of(session).members == before


# -- loads ---------------------------------------------------------------------------------------


def test_each_kind_of_equipment_is_asked_for_what_loads_it(qtbot: QtBot, session: Session) -> None:
    pane = LoadsPane(session)
    shown(qtbot, pane)
    for row, thing in enumerate(layout_of(session).equipment):
        choose(pane.table, row)
        seen = [kind for kind, form in pane.forms.forms.items() if not form.isHidden()]
        assert seen == [thing.kind]


def test_thrust_is_typed_with_its_unit(qtbot: QtBot, session: Session) -> None:
    pane = LoadsPane(session)
    shown(qtbot, pane)
    engine = next(t for t in layout_of(session).equipment if t.kind is EquipmentKind.ENGINE)
    choose(pane.table, row_of(pane.table, engine.name))
    field = pane.forms.forms[EquipmentKind.ENGINE].editors["thrust"]
    assert isinstance(field, QuantityField)
    type_in(qtbot, field, "9,5 kN")
    assert _thing(session, engine.id).thrust == pytest.approx(9500)
    assert session.undo_label == f"Change thrust of {engine.name}"


def test_feet_and_their_blocks(qtbot: QtBot, session: Session) -> None:
    pane = LoadsPane(session)
    shown(qtbot, pane)
    engine = next(t for t in layout_of(session).equipment if t.kind is EquipmentKind.ENGINE)
    choose(pane.table, row_of(pane.table, engine.name))
    type_in(qtbot, pane.forms.feet, "-300 -400; 300 400")
    assert _thing(session, engine.id).feet == ((-300, -400), (300, 400))
    type_in(qtbot, pane.forms.feet, "-300")
    assert "x y" in pane.table.message.text()
    assert _thing(session, engine.id).feet == ((-300, -400), (300, 400))
    diameter = pane.forms.insert_form.editors["diameter"]
    assert isinstance(diameter, QuantityField)
    type_in(qtbot, diameter, "20 mm")
    bolts = pane.forms.insert_form.editors["bolts"]
    assert isinstance(bolts, QuantityField)
    type_in(qtbot, bolts, "4")
    insert = _thing(session, engine.id).insert
    assert insert is not None
    assert (insert.diameter, insert.bolts) == (20, 4)
    pane.forms.bolted.click()
    assert _thing(session, engine.id).insert is None


def test_equipment_is_added_of_the_kind_chosen(qtbot: QtBot, session: Session) -> None:
    pane = LoadsPane(session)
    shown(qtbot, pane)
    count = len(layout_of(session).equipment)
    pane.kind.show_value(EquipmentKind.GYRO.value)
    pane.table.table.setFocus()
    qtbot.keyClick(pane.table.table, Qt.Key.Key_Insert)
    added = layout_of(session).equipment
    assert len(added) == count + 1
    assert added[-1].kind is EquipmentKind.GYRO
    assert session.selected == added[-1].id


def test_a_combination_reads_as_it_is_written(qtbot: QtBot, session: Session) -> None:
    pane = LoadsPane(session)
    shown(qtbot, pane)
    tank = next(t for t in layout_of(session).equipment if t.kind is EquipmentKind.TANK)
    pane.add_combination()
    row = pane.combinations.rowCount() - 1
    cell = pane.combinations.index(row, 1)
    assert pane.combinations.setData(cell, f"slam + 1,5 × {tank.name} + −1 × gyro")
    parts = layout_of(session).combinations[-1].parts
    assert parts == (Part(of="slam"), Part(of=tank.id, factor=1.5), Part(of="gyro", factor=-1))
    assert cell.data() == f"slam + 1.5 × {tank.name} + −1 × gyro"
    assert not pane.combinations.setData(cell, "slam + waves")
    assert "waves" in pane.combined.message.text()
    assert layout_of(session).combinations[-1].parts == parts


def test_words_of_combinations_go_there_and_back() -> None:
    thing = Equipment(id="e4", name="Fuel tank", kind=EquipmentKind.TANK, at=(0, 0))
    gyro = Equipment(id="e5", name="Gyro", kind=EquipmentKind.GYRO, at=(0, 0))
    layout = Layout(id="y1", name="Trial", equipment=(thing, gyro))
    parts = (*(Part(of=source, factor=2.0) for source in Source), Part(of="e4"), Part(of="e5"))
    words = words_of(Combination(id="k1", name="All", parts=parts), layout)
    assert parts_of(words, layout) == parts
    with pytest.raises(StringerlabError, match="tank heads"):
        parts_of("tanks", layout)


@pytest.mark.parametrize(
    ("words", "feet"),
    [("", ()), ("1 2", ((1, 2),)), ("−1,5 2; 3 4;", ((-1.5, 2), (3, 4))), ("1", None), ("a b", None)],
)
def test_feet_read(words: str, feet: object) -> None:
    assert feet_of(words) == feet


def test_feet_are_typed_in_the_units_shown() -> None:
    assert feet_of("-10 1/2", 25.4) is None
    assert feet_of("-10 0.5", 25.4) == ((-254, 12.7),)
    assert feet_words(((-254, 12.7),), 25.4).replace("−", "-") == "-10 0.5"


def _thing(session: Session, id_: str) -> Equipment:
    return next(thing for thing in layout_of(session).equipment if thing.id == id_)


# -- supports, cavities --------------------------------------------------------------------------


def test_supports_and_rules_are_chosen_and_typed(qtbot: QtBot, session: Session) -> None:
    pane = RulesPane(session)
    shown(qtbot, pane)
    transom = pane.supports.editors["transom"]
    transom.setFocus()
    qtbot.keyClicks(transom, "clamped")
    qtbot.keyClick(transom, Qt.Key.Key_Return)
    assert layout_of(session).supports.transom is Held.CLAMPED
    step = pane.rules.editors["step"]
    assert isinstance(step, QuantityField)
    type_in(qtbot, step, "0.125")
    assert layout_of(session).rules.step == 0.125
    assert session.undo_label == "Change patch step of the grid"


def test_a_cavity_s_depth_taken_away_runs_to_the_crowns(qtbot: QtBot, session: Session) -> None:
    pane = CavitiesPane(session)
    shown(qtbot, pane)
    cavity = next(one for one in layout_of(session).cavities if one.depth is not None)
    choose(pane.table, row_of(pane.table, cavity.name))
    depth = pane.form.editors["depth"]
    assert isinstance(depth, QuantityField)
    type_in(qtbot, depth, "120 mm")
    assert _cavity(session, cavity.id).depth == 120
    at = pane.model.rows[row_of(pane.table, cavity.name)]
    assert at.depth == pytest.approx(120)
    depth.setFocus()
    depth.selectAll()
    qtbot.keyClick(depth, Qt.Key.Key_Delete)
    qtbot.keyClick(depth, Qt.Key.Key_Return)
    assert _cavity(session, cavity.id).depth is None


def _cavity(session: Session, id_: str) -> Cavity:
    return next(cavity for cavity in layout_of(session).cavities if cavity.id == id_)


# -- what was found ------------------------------------------------------------------------------


def test_everything_found_is_listed_and_chosen_on_the_plan(qtbot: QtBot, session: Session) -> None:
    pane = FoundPane(session)
    shown(qtbot, pane)
    found = session.resolved.found
    assert found is not None
    assert [row.subject.id for row in pane.panels.rows] == [b.id for b in found.bays if b.panel is not None]
    assert len(pane.spans.rows) == sum(span.span is not None for span in found.spans)
    assert "computing" in pane.state.text()
    choose(pane.panel_table, 2)
    assert session.selected == pane.panels.rows[2].subject.id
    paired = next(row for row in pane.panels.rows if row.count == 2)
    assert len(next(bay for bay in found.bays if bay.id == paired.subject.id).rings) == 2


def test_results_are_laid_over_the_plan_and_stale_ones_said_to_be(qtbot: QtBot, checked: Session) -> None:
    found, grid = FoundPane(checked), GridPane(checked)
    shown(qtbot, found)
    shown(qtbot, grid)
    qtbot.waitUntil(lambda: checked.fresh, timeout=30_000)
    results = checked.results
    assert results is not None
    assert results.grid is not None
    for row in found.panels.rows:
        judged = [f.utilisation for f in results.findings if f.subject == row.subject.id and f.utilisation]
        assert row.use == max(judged)
    assert {row.span.id for row in grid.spans.rows} == set(results.grid.spans)
    laid: list[Picture] = []
    grid.overlaid.connect(laid.append)
    for overlay in Overlay:
        qtbot.mouseClick(grid.buttons[overlay], Qt.MouseButton.LeftButton)
        assert grid.overlay is overlay
        assert laid[-1].items[0].role is Role.VEIL
    id_ = grid.spans.rows[-1].span.id
    checked.select(id_)
    span = results.grid.spans[id_]
    governing = max((span.M_max, span.M_min), key=lambda most: abs(most.value)).case
    assert results.grid.cases[governing].name in grid.note.text()
    grid.tabs.setCurrentWidget(grid.bent)
    assert "drawn" in grid.bent.accessibleDescription()
    qtbot.mouseClick(grid.buttons[None], Qt.MouseButton.LeftButton)
    assert not laid[-1].items
    checked.edit("Stand a thing over", planning.with_hand, [layout_of(checked).equipment[0].id], Hand.PORT)
    assert grid.state.text().startswith("computing")
    assert "of before" in found.state.text()
    qtbot.waitUntil(lambda: checked.fresh, timeout=30_000)
    assert "Residual" in grid.state.text()


def test_flotation_says_what_it_lacks_and_takes_it(qtbot: QtBot, session: Session) -> None:
    pane = CavitiesPane(session)
    shown(qtbot, pane)
    group = pane.flotation
    assert "persons" in group.answer.text()
    persons = group.form.editors["persons"]
    assert isinstance(persons, QuantityField)
    type_in(qtbot, persons, "300 kg")
    assert layout_of(session).flotation.persons == 300
    lacking = group.answer.text().split("not known is ")[1].split(". ")[0]
    assert "persons" not in lacking
    drive = group.form.editors["drive"]
    drive.setFocus()
    qtbot.keyClicks(drive, "outboard over")
    qtbot.keyClick(drive, Qt.Key.Key_Return)
    assert layout_of(session).flotation.drive is Drive.OUTBOARD


def test_a_span_selected_elsewhere_chooses_its_member(qtbot: QtBot, session: Session) -> None:
    pane = MembersPane(session)
    shown(qtbot, pane)
    found = session.resolved.found
    assert found is not None
    span = found.spans[-1]
    session.select(span.id)
    assert pane.table.ids == [span.member]
    assert session.selected == span.id


def test_a_reaction_row_selects_nothing_and_leaves_what_is_selected(qtbot: QtBot, checked: Session) -> None:
    pane = GridPane(checked)
    shown(qtbot, pane)
    qtbot.waitUntil(lambda: checked.fresh, timeout=30_000)
    member = layout_of(checked).members[0]
    checked.select(member.id)
    pane.tabs.setCurrentWidget(pane.reaction_table)
    choose(pane.reaction_table, 1)
    assert checked.selected == member.id
    assert pane.reactions.rowCount() > 1
