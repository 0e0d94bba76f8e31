"""The boat page, by real events: every field is one named edit."""

import math
from dataclasses import replace
from html import unescape

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtWidgets import QAbstractItemView, QApplication, QComboBox, QLineEdit, QWidget
from pytestqt.modeltest import ModelTester
from pytestqt.qtbot import QtBot

from stringerlab.assess.pressures import DesignArea, pressure_along
from stringerlab.craft import Category
from stringerlab.desktop.models.stations import DEADRISE
from stringerlab.desktop.pages.boat import BoatPage, category_meaning
from stringerlab.desktop.session import Session
from stringerlab.desktop.theme import load_fonts, text_font
from stringerlab.project import Project
from stringerlab.project.particulars import with_craft_values, with_particulars, with_station_values
from stringerlab.units import System


@pytest.fixture
def page(session: Session, qtbot: QtBot) -> BoatPage:
    return shown(session, qtbot)


def shown(session: Session, qtbot: QtBot) -> BoatPage:
    page = BoatPage(session)
    qtbot.addWidget(page)
    page.resize(1170, 690)
    with qtbot.waitExposed(page):
        page.show()
    return page


def retype(qtbot: QtBot, line: QLineEdit, text: str) -> None:
    line.setFocus()
    line.selectAll()
    qtbot.keyClicks(line, text)
    qtbot.keyClick(line, Qt.Key.Key_Return)


def choose(qtbot: QtBot, box: QComboBox, text: str) -> None:
    """Choose by typing the first word, as one would."""
    box.setFocus()
    for letter in text.split(" ")[0]:
        if box.currentText() != text:
            qtbot.keyClicks(box, letter)
    assert box.currentText() == text


def edit_cell(page: BoatPage, qtbot: QtBot, row: int, column: int, text: str) -> None:
    table = page.hull.table
    index = page.hull.model.index(row, column)
    table.setFocus()
    table.setCurrentIndex(index)
    qtbot.keyClick(table, Qt.Key.Key_Return)
    editor = table.findChild(QLineEdit)
    assert editor is not None
    editor.selectAll()
    qtbot.keyClicks(editor, text)
    qtbot.keyClick(editor, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: table.state() == QAbstractItemView.State.NoState)


def said(page: BoatPage) -> str:
    return unescape(page.strip.text)


def cell(page: BoatPage, row: int, column: int) -> object:
    return page.hull.model.data(page.hull.model.index(row, column))


# -- particulars -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("field", "typed", "value", "label", "before"),
    [
        ("speed", "31,5", 31.5, "Change boat speed", "26.00 kn"),
        ("speed", "30 kn", 30.0, "Change boat speed", "26.00 kn"),
        ("mass", "4000 lb", 1814.36948, "Change loaded mass", "1850 kg"),
        ("waterline_length", "17' 6\"", 5334.0, "Change waterline length", "5400 mm"),
        ("waterline_aft", "-0.1 m", -100.0, "Change aft end of the waterline", "0 mm"),
    ],
)
def test_a_number_is_typed_with_its_unit_and_taken_back(
    page: BoatPage,
    session: Session,
    qtbot: QtBot,
    field: str,
    typed: str,
    value: float,
    label: str,
    before: str,
) -> None:
    line = page.numbers[field]
    assert line.text() == before
    retype(qtbot, line, typed)
    assert getattr(session.project.craft, field) == pytest.approx(value, rel=1e-12)
    assert session.undo_label == label
    session.undo()
    assert line.text() == before
    assert session.undo_label is None


def test_a_speed_in_knots_is_kept_as_typed(page: BoatPage, session: Session, qtbot: QtBot) -> None:
    for speed in ("27.3", "33.1", "44.7"):
        retype(qtbot, page.numbers["speed"], speed)
        assert session.project.craft.speed == float(speed)


def test_what_does_not_read_is_said_and_changes_nothing(
    page: BoatPage, session: Session, qtbot: QtBot
) -> None:
    before = session.project
    with qtbot.waitSignal(session.said):
        retype(qtbot, page.numbers["mass"], "heavy")
    assert session.project is before
    assert page.numbers["mass"].text() == "heavy"
    assert "does not read as a mass" in said(page)
    qtbot.keyClick(page.numbers["mass"], Qt.Key.Key_Escape)
    assert page.numbers["mass"].text() == "1850 kg"


def test_a_value_outside_its_range_is_taken_and_said(page: BoatPage, session: Session, qtbot: QtBot) -> None:
    retype(qtbot, page.numbers["speed"], "300")
    assert session.project.craft.speed == 300
    assert said(page).startswith("! Speed: ")
    assert page.numbers["speed"].property("wrong")
    assert "120" in page.numbers["speed"].toolTip()
    session.undo()
    assert said(page) == ""
    assert not page.numbers["speed"].property("wrong")


def test_names_are_edits_and_the_same_name_is_none(page: BoatPage, session: Session, qtbot: QtBot) -> None:
    retype(qtbot, page.boat_name, "Saltmere tender")
    assert session.project.craft.name == "Saltmere tender"
    assert session.undo_label == "Change boat's name"
    retype(qtbot, page.project_name, "Tender, bottom")
    assert session.project.name == "Tender, bottom"
    retype(qtbot, page.project_name, "Tender, bottom")
    session.undo()
    session.undo()
    assert session.undo_label is None
    assert page.project_name.text() == session.project.name


def test_notes_are_one_edit_on_leaving(page: BoatPage, session: Session, qtbot: QtBot) -> None:
    page.notes.setFocus()
    page.notes.selectAll()
    qtbot.keyClicks(page.notes, "Made up.")
    assert session.undo_label is None
    qtbot.keyClick(page.notes, Qt.Key.Key_Tab)
    assert session.project.notes == "Made up."
    assert session.undo_label == "Change notes"
    page.notes.setFocus()
    qtbot.keyClicks(page.notes, " And more")
    qtbot.keyClick(page.notes, Qt.Key.Key_Escape)
    assert page.notes.toPlainText() == "Made up."


def test_the_category_is_chosen_and_explained(page: BoatPage, session: Session, qtbot: QtBot) -> None:
    choose(qtbot, page.category, "B, offshore")
    assert session.project.craft.category is Category.B
    assert session.undo_label == "Change design category"
    assert page.category_meaning.text() == "offshore: wind to force 8, significant waves to 4 m"
    session.undo()
    assert page.category.currentText() == "C, inshore"


def test_waves_are_in_feet_for_us_units() -> None:
    assert category_meaning(Category.C, System.US) == "inshore: wind to force 6, significant waves to 6.6 ft"


def test_the_method_says_its_edition_and_that_it_is_superseded(page: BoatPage) -> None:
    assert page.method.currentText() == "ISO 12215-5:2008 form"
    assert page.edition.text() == (
        "Edition 2008. ISO 12215-5:2008 is superseded by the editions of 2019 and 2021."
    )


def test_a_method_that_is_not_known_is_said_and_can_be_replaced(
    page: BoatPage, session: Session, qtbot: QtBot
) -> None:
    session.edit("Change method", with_particulars, method="none")
    assert page.method.currentText() == "'none', not known here"
    assert "There is no method 'none'." in said(page)
    choose(qtbot, page.method, "ISO 12215-5:2008 form")
    assert session.project.method == "iso_12215_5_2008"
    assert said(page) == ""


def test_units_switch_live(page: BoatPage, session: Session) -> None:
    session.edit("US units", with_particulars, units=System.US)
    assert page.numbers["mass"].text() == "4079 lb"
    assert page.hull.model.headerData(0, Qt.Orientation.Horizontal) == "x\nin"
    assert cell(page, 0, 2) == "37.4016"
    session.undo()
    assert page.numbers["mass"].text() == "1850 kg"


# -- stations --------------------------------------------------------------------------------------


def test_a_station_is_typed_with_its_unit_and_taken_back(
    page: BoatPage, session: Session, qtbot: QtBot
) -> None:
    edit_cell(page, qtbot, 1, 2, "1,05 m")
    assert session.project.craft.stations[1].chine_y == 1050
    assert session.undo_label == "Change chine half-beam of station 2"
    station = session.project.craft.stations[1]
    deadrise = math.degrees(math.atan2(station.chine_z - station.keel_z, 1050))
    assert float(str(cell(page, 1, DEADRISE))) == pytest.approx(deadrise, abs=0.05)
    session.undo()
    assert cell(page, 1, 2) == "980"


def test_a_station_that_does_not_read_is_said(page: BoatPage, session: Session, qtbot: QtBot) -> None:
    before = session.project
    edit_cell(page, qtbot, 0, 1, "12 kg")
    assert session.project is before
    assert "Station 1, keel height: In '12 kg', 'kg' is a unit of mass" in page.strip.text.replace(
        "&#x27;", "'"
    )


def test_the_deadrise_is_not_typed(page: BoatPage) -> None:
    flags = page.hull.model.flags(page.hull.model.index(0, DEADRISE))
    assert not flags & Qt.ItemFlag.ItemIsEditable
    assert not page.hull.model.setData(page.hull.model.index(0, DEADRISE), "20")


def test_a_station_is_added_and_removed_by_key(page: BoatPage, session: Session, qtbot: QtBot) -> None:
    table = page.hull.table
    table.setFocus()
    table.setCurrentIndex(page.hull.model.index(1, 0))
    qtbot.keyClick(table, Qt.Key.Key_Insert)
    assert [station.x for station in session.project.craft.stations] == [0, 2000, 2800, 3600, 4800, 5600]
    assert session.undo_label == "Add station"
    assert table.currentIndex().row() == 2
    qtbot.keyClick(table, Qt.Key.Key_Delete)
    assert len(session.project.craft.stations) == 5
    assert session.undo_label == "Remove station"


def test_several_stations_go_in_one_step_by_the_button(
    page: BoatPage, session: Session, qtbot: QtBot
) -> None:
    page.hull.table.setFocus()
    page.hull.table.selectRow(1)
    page.hull.table.selectionModel().select(
        page.hull.model.index(3, 0), page.hull.table.selectionModel().SelectionFlag.Select
    )
    qtbot.mouseClick(page.hull.remove_button, Qt.MouseButton.LeftButton)
    assert [station.x for station in session.project.craft.stations] == [0, 3600, 5600]
    assert session.undo_label == "Remove 2 stations"
    session.undo()
    assert page.hull.model.rowCount() == 5


def test_stations_out_of_order_are_said_and_sorted(page: BoatPage, session: Session, qtbot: QtBot) -> None:
    assert not page.hull.sort_button.isEnabled()
    edit_cell(page, qtbot, 0, 0, "2500")
    assert "comes after the one at 2500 mm" in said(page)
    assert page.hull.model.headerData(1, Qt.Orientation.Vertical) == "2 !"
    qtbot.mouseClick(page.hull.sort_button, Qt.MouseButton.LeftButton)
    assert [station.x for station in session.project.craft.stations] == [2000, 2500, 3600, 4800, 5600]
    assert session.undo_label == "Sort stations"
    assert page.hull.model.headerData(1, Qt.Orientation.Vertical) == "2"


def test_the_picture_follows_the_stations_and_the_selection(
    page: BoatPage, session: Session, qtbot: QtBot
) -> None:
    first = page.hull.picture.picture
    edit_cell(page, qtbot, 0, 2, "1200")
    second = page.hull.picture.picture
    assert second is not first
    low, high = first.bounds(), second.bounds()
    assert low is not None
    assert high is not None
    assert high[3] > low[3]
    page.hull.table.selectRow(3)
    assert page.hull.picture.picture is not second


def test_the_model_of_the_stations_is_sound(
    page: BoatPage, session: Session, qtmodeltester: ModelTester
) -> None:
    qtmodeltester.check(page.hull.model)
    session.edit("x", with_station_values, 1, x=2100.0)
    session.undo()


# -- pressures -------------------------------------------------------------------------------------


def test_the_chart_shows_the_methods_own_pressure_live(
    page: BoatPage, session: Session, qtbot: QtBot
) -> None:
    def computed() -> list[float]:
        return pressure_along(session.project.craft, DesignArea.square(250_000)).P.tolist()

    chart = page.pressures.chart
    assert chart.curves[0].y.tolist() == computed()
    assert page.pressures.says.text().startswith("n_CG = 5.39 g. Planing mode governs over the whole length.")
    retype(qtbot, page.numbers["speed"], "12")
    assert chart.curves[0].y.tolist() == computed()
    assert "n_CG = 5.39 g" not in page.pressures.says.text()


def test_every_subject_is_marked_at_its_x(page: BoatPage, session: Session) -> None:
    marks = {mark.subject: mark.x for mark in page.pressures.chart.marks}
    assert marks == {each.id: each.x for each in (*session.project.panels, *session.project.spans)}


def test_the_design_area_is_typed_or_a_subjects(page: BoatPage, session: Session, qtbot: QtBot) -> None:
    pane = page.pressures
    before = pane.chart.curves[0].y.max()
    retype(qtbot, pane.area, "1 m²")
    assert pane.chart.curves[0].y.max() < before
    assert session.undo_label is None  # what is looked at is no edit of the project
    span = session.project.spans[0]
    choose(qtbot, pane.choice, span.name)
    assert pane.area.isReadOnly()
    own = pressure_along(session.project.craft, DesignArea.of(span))
    assert pane.chart.curves[0].y.tolist() == own.P.tolist()
    qtbot.keyClick(pane.choice, Qt.Key.Key_Home)
    assert pane.area.value == pytest.approx(1e6)


def test_an_area_of_nothing_is_said(page: BoatPage, session: Session, qtbot: QtBot) -> None:
    with qtbot.waitSignal(session.said):
        retype(qtbot, page.pressures.area, "0")
    assert page.pressures.area.value == pytest.approx(250_000)

    session.edit("x", with_craft_values, stations=session.project.craft.stations[:1])
    assert page.pressures.chart.curves == ()
    assert "1 station" in page.pressures.chart.accessibleDescription()
    session.undo()
    assert len(page.pressures.chart.curves) == 4


def test_the_chart_is_read_by_mouse_and_goes_to_a_subject(
    page: BoatPage, session: Session, qtbot: QtBot
) -> None:
    chart = page.pressures.chart
    mark = chart.marks[0]
    place = chart.place_of(mark).toPoint()
    qtbot.mouseMove(chart, place + QPoint(30, 90))
    qtbot.waitUntil(lambda: page.pressures.reading.text().startswith("x = "))
    qtbot.mouseMove(chart, place)
    qtbot.waitUntil(lambda: page.pressures.reading.text().startswith(mark.words[:20]))
    with qtbot.waitSignal(session.wanted) as wanted:
        qtbot.mouseDClick(chart, Qt.MouseButton.LeftButton, pos=place)
    assert wanted.args is not None
    assert wanted.args[0] in {
        near.subject
        for near in chart.marks
        if (chart.place_of(near) - QPointF(place)).manhattanLength() <= 12
    }


def test_the_chart_is_read_by_keys(page: BoatPage, session: Session, qtbot: QtBot) -> None:
    chart = page.pressures.chart
    chart.setFocus()
    qtbot.keyClick(chart, Qt.Key.Key_End)
    assert page.pressures.reading.text().startswith("x = 5600 mm: design pressure ")
    qtbot.keyClick(chart, Qt.Key.Key_Home)
    qtbot.keyClick(chart, Qt.Key.Key_Right)
    assert page.pressures.reading.text().startswith("x = 56.00 mm: ")
    qtbot.keyClick(chart, Qt.Key.Key_PageUp)
    with qtbot.waitSignal(session.wanted) as wanted:
        qtbot.keyClick(chart, Qt.Key.Key_Return)
    aftmost = min((*session.project.panels, *session.project.spans), key=lambda each: (each.x, each.name))
    assert wanted.args == [aftmost.id]


# -- the page --------------------------------------------------------------------------------------


def test_a_hidden_page_is_fresh_when_it_is_shown(page: BoatPage, session: Session) -> None:
    page.hide()
    session.edit("Change boat speed", with_craft_values, speed=33.0)
    assert page.numbers["speed"].text() == "26.00 kn"
    page.show()
    assert page.numbers["speed"].text() == "33.00 kn"


def test_a_preview_is_shown_and_ends(page: BoatPage, session: Session) -> None:
    session.preview(replace(session.project, craft=replace(session.project.craft, mass=2500.0)))
    assert page.numbers["mass"].text() == "2500 kg"
    session.preview(None)
    assert page.numbers["mass"].text() == "1850 kg"


def test_everything_has_a_name_and_tab_reaches_it(page: BoatPage, qtbot: QtBot) -> None:
    wanted: list[QWidget] = [
        page.project_name,
        page.notes,
        page.boat_name,
        page.category,
        *page.numbers.values(),
        page.method,
        *page.bonding.numbers.values(),
        page.hull.table,
        page.hull.add_button,
        page.pressures.choice,
        page.pressures.area,
        page.pressures.chart,
    ]
    page.project_name.setFocus()
    reached: list[QWidget | None] = [page.focusWidget()]
    for _ in range(24 + len(page.bonding.numbers)):
        focused = page.focusWidget()
        assert focused is not None
        qtbot.keyClick(focused, Qt.Key.Key_Tab)
        reached.append(page.focusWidget())
    assert [widget for widget in reached if widget in wanted][: len(wanted)] == wanted
    assert all(widget.accessibleName() or getattr(widget, "text", str)() for widget in wanted)


def test_nothing_is_wider_than_its_room(page: BoatPage) -> None:
    assert page.minimumSizeHint().width() <= 1170
    assert page.minimumSizeHint().height() <= 690


def test_a_projects_file_keeps_every_change(page: BoatPage, session: Session, qtbot: QtBot) -> None:
    from stringerlab.files import dumps, loads

    retype(qtbot, page.numbers["speed"], "27.7")
    edit_cell(page, qtbot, 2, 1, "11,5")
    read: Project = loads(dumps(session.project))
    assert (read.craft.speed, read.craft.stations[2].keel_z) == (27.7, 11.5)


def test_a_long_name_is_read_whole(qapp: QApplication, qtbot: QtBot, session: Session) -> None:
    load_fonts()
    qapp.setFont(text_font())
    page = shown(session, qtbot)
    line = page.boat_name
    assert line.fontMetrics().horizontalAdvance(session.project.craft.name) < line.width() - 14
    assert line.toolTip() == f"{session.project.craft.name}\nThe boat's own name or model"
    longer = f"{session.project.craft.name}, second of her class, as laid up in spring"
    retype(qtbot, line, longer)
    assert line.toolTip().startswith(longer)
