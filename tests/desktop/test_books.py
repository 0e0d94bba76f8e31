"""Books on the materials page: imported with conflicts settled by mouse and by key, exported, refused."""

from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QAbstractItemModelTester
from PySide6.QtWidgets import (
    QAbstractItemView,
    QApplication,
    QDialogButtonBox,
    QFileDialog,
    QLineEdit,
    QWidget,
)
from pytestqt.qtbot import QtBot

from stringerlab.desktop.models.rows import SECOND_LINE
from stringerlab.desktop.pages.book_merge import BookMerge
from stringerlab.desktop.pages.materials import MaterialsPage
from stringerlab.desktop.session import Session
from stringerlab.desktop.theme import load_fonts, text_font
from stringerlab.errors import StringerlabError
from stringerlab.files.books import load_book, save_book
from stringerlab.materials import AnyMaterial, shipped
from stringerlab.materials.book import every
from stringerlab.materials.merging import Choice, gathered
from stringerlab.materials.records import Core, Reinforcement, Sourced
from stringerlab.project import edits
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


def known(id: str) -> AnyMaterial:  # noqa: A002
    return next(one for one in every(shipped()) if one.id == id)


def foam() -> Core:
    core = known("pvc80")
    assert isinstance(core, Core)
    return core


def mat() -> Reinforcement:
    found = known("csm450")
    assert isinstance(found, Reinforcement)
    return found


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """A mat and a foam other than the shipped ones, a new foam, and one that is the same."""
    heavier = Sourced(value=85, source="weighed", known=Known.TESTED)
    path = tmp_path / "yard.toml"
    brought = [
        replace(mat(), weight=457.7),
        replace(foam(), density=heavier),
        replace(foam(), id="yard_foam", name="Yard foam"),
        known("pvc60"),
    ]
    save_book(gathered(brought), path)
    return path


def choose_file(qtbot: QtBot, page: QWidget, path: Path) -> None:
    qtbot.waitUntil(lambda: page.findChild(QFileDialog) is not None)
    dialog = page.findChild(QFileDialog)
    assert isinstance(dialog, QFileDialog)
    field = dialog.findChild(QLineEdit, "fileNameEdit")
    assert isinstance(field, QLineEdit)
    for view in dialog.findChildren(QAbstractItemView):
        view.clearSelection()
    field.setText(str(path))
    box = dialog.findChild(QDialogButtonBox)
    assert isinstance(box, QDialogButtonBox)
    go = next(b for b in box.buttons() if box.buttonRole(b) is QDialogButtonBox.ButtonRole.AcceptRole)
    qtbot.mouseClick(go, Left)
    qtbot.waitUntil(lambda: page.findChild(QFileDialog) is None)


def active(qtbot: QtBot, page: QWidget) -> None:
    """Make the page's window the active one again, as a window manager does when a dialog closes."""
    page.activateWindow()
    qtbot.waitUntil(page.isActiveWindow)


@pytest.fixture
def merging(page: MaterialsPage, qtbot: QtBot, book: Path) -> BookMerge:
    """The merge of the book, come to through the button and the file dialog."""
    qtbot.mouseClick(page.books.import_button, Left)
    choose_file(qtbot, page, book)
    assert page.books.currentWidget() is page.books.merge
    active(qtbot, page)
    return page.books.merge


def pick(qtbot: QtBot, merging: BookMerge, id: str) -> None:  # noqa: A002
    index = merging.rows.index(merging.rows.row_of(id))
    merging.list.scrollTo(index)
    qtbot.mouseClick(merging.list.viewport(), Left, pos=merging.list.visualRect(index).center())


def fields(merging: BookMerge) -> list[tuple[str, ...]]:
    model = merging.fields
    return [
        tuple(str(model.index(row, column).data()) for column in range(model.columnCount()))
        for row in range(model.rowCount())
    ]


# -- import --------------------------------------------------------------------------------------


def test_what_a_book_brings_is_listed_under_what_becomes_of_it(merging: BookMerge) -> None:
    said = [merging.rows.index(row).data() for row in range(merging.rows.rowCount())]
    assert said == [
        "In conflict: 2, 2 to settle",
        mat().name,
        foam().name,
        "Added: 1",
        "Yard foam",
        "The same in both: 1",
        known("pvc60").name,
    ]
    assert merging.summary.text() == "2 in conflict · 1 new · 1 the same"
    assert not merging.accept_button.isEnabled()
    assert merging.changed.text() == "2 still to settle before it can come in."


def test_a_conflict_is_shown_field_by_field_with_unit_source_and_mark(
    merging: BookMerge, qtbot: QtBot
) -> None:
    pick(qtbot, merging, "pvc80")
    assert fields(merging) == [("density", "80.00 kg/m³\nstated: nominal", "85.00 kg/m³\ntested: weighed")]
    assert "mine is the shipped one" in merging.subject.text()
    assert all(button.isVisible() for button in merging.choice_buttons.values())


def test_a_new_material_shows_all_it_has_and_asks_for_no_choice(merging: BookMerge, qtbot: QtBot) -> None:
    pick(qtbot, merging, "yard_foam")
    assert merging.table.isColumnHidden(1)
    assert "80.00 kg/m³" in fields(merging)[1][2]
    assert not any(button.isVisible() for button in merging.choice_buttons.values())


def test_settled_by_mouse_and_accepted_as_one_edit(
    page: MaterialsPage, merging: BookMerge, qtbot: QtBot, session: Session
) -> None:
    before = session.project
    pick(qtbot, merging, "csm450")
    qtbot.mouseClick(merging.choice_buttons[Choice.THEIRS], Left)
    assert merging.rows.index(merging.rows.row_of("csm450")).data(SECOND_LINE).endswith("theirs in its place")
    assert not merging.accept_button.isEnabled()
    pick(qtbot, merging, "pvc80")
    qtbot.mouseClick(merging.choice_buttons[Choice.BOTH], Left)
    assert "as pvc80_2" in merging.rows.index(merging.rows.row_of("pvc80")).data(SECOND_LINE)
    assert merging.changed.text().startswith("Changes: Bottom (plies")
    assert session.project is before
    qtbot.mouseClick(merging.accept_button, Left)
    held = session.project.materials
    assert [one.id for one in held.reinforcements] == ["csm450"]
    assert [one.id for one in held.cores] == ["pvc80_2", "yard_foam"]
    assert session.undo_label == "Import book yard.toml"
    assert page.books.currentIndex() == 0
    assert page.material == held.cores[1]
    session.undo()
    assert session.project is before


def test_settled_and_accepted_by_keys_alone(merging: BookMerge, qtbot: QtBot, session: Session) -> None:
    assert merging.list.hasFocus()
    qtbot.keyClick(merging.list, Key.Key_M)
    qtbot.keyClick(merging.list, Key.Key_Down)
    qtbot.keyClick(merging.list, Key.Key_T)
    assert merging.accept_button.isEnabled()
    qtbot.keyClick(merging.list, Key.Key_Return, Mod.ControlModifier)
    held = session.project.materials
    assert held.reinforcements == ()
    assert [(one.id, one.density.value) for one in held.cores] == [("pvc80", 85.0), ("yard_foam", 80.0)]


def test_all_that_is_open_is_settled_at_once_and_changed_again(
    merging: BookMerge, qtbot: QtBot, session: Session
) -> None:
    pick(qtbot, merging, "pvc80")
    qtbot.mouseClick(merging.choice_buttons[Choice.MINE], Left)
    every_one = next(
        b
        for b in merging.findChildren(type(merging.accept_button))
        if b.accessibleName() == "All still to settle: theirs"
    )
    qtbot.mouseClick(every_one, Left)
    assert not every_one.isEnabled()
    qtbot.mouseClick(merging.accept_button, Left)
    held = session.project.materials
    assert [one.weight for one in held.reinforcements] == [457.7]
    assert [one.id for one in held.cores] == ["yard_foam"]


@pytest.mark.parametrize("by_key", [True, False])
def test_cancel_leaves_all_as_it_was(
    page: MaterialsPage, merging: BookMerge, qtbot: QtBot, session: Session, by_key: bool
) -> None:
    before = session.project
    qtbot.keyClick(merging.list, Key.Key_T)
    if by_key:
        qtbot.keyClick(merging.list, Key.Key_Escape)
    else:
        qtbot.mouseClick(merging.cancel_button, Left)
    assert session.project is before
    assert session.undo_label is None
    assert page.books.currentIndex() == 0


def test_an_edit_meanwhile_is_taken_into_account(merging: BookMerge, qtbot: QtBot, session: Session) -> None:
    qtbot.keyClick(merging.list, Key.Key_T)
    session.edit("Own foam", edits.added, replace(foam(), id="yard_foam", name="Mine", ductile=True))
    assert merging.summary.text() == "3 in conflict · 0 new · 1 the same"
    assert merging.rows.index(0).data() == "In conflict: 3, 2 to settle"


def test_another_project_ends_the_merge(page: MaterialsPage, merging: BookMerge, session: Session) -> None:
    session.begin(replace(session.project, name="Another boat"))
    assert page.books.currentIndex() == 0
    assert merging.rows.rowCount() == 0


def test_what_cannot_be_is_said_and_not_accepted(
    page: MaterialsPage, qtbot: QtBot, tmp_path: Path, session: Session
) -> None:
    path = tmp_path / "odd.toml"
    save_book(gathered([replace(foam(), id="csm450")]), path)
    page.books.take_in(path)
    qtbot.keyClick(page.books.merge.list, Key.Key_T)
    # a core may be a ply as a mat may: the laminate then has a core there
    assert page.books.merge.changed.text().startswith("Changes: Bottom")
    gel = known("polyester")
    save_book(gathered([replace(gel, id="csm450")]), path)
    page.books.take_in(path)
    qtbot.keyClick(page.books.merge.list, Key.Key_T)
    assert "no longer a reinforcement" in page.books.merge.changed.text()
    assert not page.books.merge.accept_button.isEnabled()
    with qtbot.waitSignal(session.problem):
        qtbot.keyClick(page.books.merge.list, Key.Key_Return, Mod.ControlModifier)
    assert page.books.currentWidget() is page.books.merge
    assert session.undo_label is None


def test_a_light_mat_is_asked_about(page: MaterialsPage, tmp_path: Path, qtbot: QtBot) -> None:
    path = tmp_path / "light.toml"
    save_book(gathered([replace(mat(), id="light", weight=50.86)]), path)
    page.books.take_in(path)
    assert page.books.merge.asked.isVisible()
    assert "oz/ft² meant?" in page.books.merge.asked.text()


def test_the_models_keep_qts_rules(merging: BookMerge, qtbot: QtBot) -> None:
    strict = QAbstractItemModelTester.FailureReportingMode.Fatal
    testers = [QAbstractItemModelTester(model, strict) for model in (merging.rows, merging.fields)]
    for id_ in ("pvc80", "yard_foam", "pvc60", "csm450"):
        pick(qtbot, merging, id_)
    merging.settle_all(Choice.BOTH)
    merging.cancel()
    assert len(testers) == 2


# -- refused -------------------------------------------------------------------------------------


def test_everything_wrong_with_a_book_is_listed_and_nothing_changed(
    page: MaterialsPage, qtbot: QtBot, book: Path, session: Session
) -> None:
    text = book.read_text(encoding="utf-8")
    text = text.replace('85, unit = "kg/m³"', '85, unit = "MPa"').replace('source = "weighed", ', "")
    book.write_text(text, encoding="utf-8")
    before = session.project
    qtbot.mouseClick(page.books.import_button, Left)
    choose_file(qtbot, page, book)
    refused = page.books.refused
    assert page.books.currentWidget() is refused
    active(qtbot, page)
    listed = [refused.list.item(i).text() for i in range(refused.list.count())]
    assert len(listed) == 2
    assert any("'MPa' is a unit of stress" in one for one in listed)
    assert any(one.startswith("yard.toml, core 1 (pvc80), density, source: is missing.") for one in listed)
    qtbot.keyClick(refused.list, Key.Key_Escape)
    assert page.books.currentIndex() == 0
    assert session.project is before


# -- export --------------------------------------------------------------------------------------


def exported(qtbot: QtBot, page: MaterialsPage, words: str, path: Path) -> None:
    page.books.export_menu.aboutToShow.emit()
    action = next(one for one in page.books.export_menu.actions() if one.text().startswith(words))
    assert action.isEnabled()
    action.trigger()
    choose_file(qtbot, page, path)


def test_what_is_chosen_in_the_list_is_written(page: MaterialsPage, qtbot: QtBot, tmp_path: Path) -> None:
    for id_, keys in (("csm300", Mod.NoModifier), ("csm450", Mod.ControlModifier)):
        index = page.materials.index(page.materials.row_of(id_, False))
        qtbot.mouseClick(page.list.viewport(), Left, keys, page.list.visualRect(index).center())
    path = tmp_path / "two.toml"
    exported(qtbot, page, "What is chosen in the list (2)", path)
    assert [one.id for one in every(load_book(path))] == ["polyester", "e_glass", "csm300", "csm450"]


def test_own_materials_are_written_in_use_or_all(
    page: MaterialsPage, qtbot: QtBot, tmp_path: Path, session: Session
) -> None:
    page.books.export_menu.aboutToShow.emit()
    enabled = [one.text() for one in page.books.export_menu.actions() if one.isEnabled()]
    assert not any(words.startswith(("Own materials in use", "All own")) for words in enabled)
    session.edit("Own mat", edits.added, mat())
    session.edit("Own foam", edits.added, replace(foam(), id="", name="Idle foam"))
    exported(qtbot, page, "Own materials in use (1)", tmp_path / "used.toml")
    assert load_book(tmp_path / "used.toml").cores == ()
    exported(qtbot, page, "All own materials (2)", tmp_path / "own.toml")
    assert [one.name for one in load_book(tmp_path / "own.toml").cores] == ["Idle foam"]
    exported(qtbot, page, "All, the shipped ones too", tmp_path / "all.toml")
    assert len(every(load_book(tmp_path / "all.toml"))) == len(every(shipped())) + 1


def test_a_book_that_cannot_be_written_is_said(page: MaterialsPage, tmp_path: Path, session: Session) -> None:
    refusals: list[StringerlabError] = []
    session.problem.connect(refusals.append)
    page.books.write(tmp_path / "none" / "x.toml", ["pvc80"])
    assert "there is no folder" in str(refusals[0])
