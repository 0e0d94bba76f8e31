"""Studies: begun, named, copied, taken out; their form edits the project; curves, contours, table, files."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QComboBox, QLabel, QLineEdit

from stringerlab.desktop.jobs import Watch
from stringerlab.desktop.pages.studies import StudiesPage
from stringerlab.desktop.session import Session
from stringerlab.desktop.studying.swept import sweeps
from stringerlab.drawing import Line, Role
from stringerlab.project import Project
from stringerlab.project.wishes import Change, Number, Shown, Study
from stringerlab.sizing.records import Studied
from stringerlab.units import System

if TYPE_CHECKING:
    from pytestqt.modeltest import ModelTester
    from pytestqt.qtbot import QtBot

LEFT = Qt.MouseButton.LeftButton


def values(number: Number) -> tuple[float, ...]:
    return tuple(np.arange(number.least, number.most + number.step / 2, number.step).tolist())


def worked(project: Project, study: Study, watch: Watch) -> Studied:
    """Return made-up readings: utilisation falls along the first number, mass grows."""
    watch(0.1, "Study, step 1")
    axes = tuple(values(one) for one in study.along)
    grid = np.meshgrid(*axes, indexing="ij")
    use = 1.0 - (grid[0] - np.mean(axes[0])) / 100
    use.flat[0] = np.nan
    read = {Shown.USE: use, Shown.MASS: 40 + grid[0] / 10}
    return Studied(
        study=study,
        axes=axes,
        axis_names=tuple(one.change.value for one in study.along),
        axis_units=tuple("kn" if one.change is Change.SPEED else "mm" for one in study.along),
        reading_names=tuple(
            "utilisation, highest" if r.shown is Shown.USE else r.shown.value for r in study.readings
        ),
        reading_units=tuple("" if r.shown is Shown.USE else "kg" for r in study.readings),
        values=np.array([read[r.shown] for r in study.readings]),
        present=tuple(axis[1] for axis in axes),
        problems=(((0,) * len(axes), "The crown is narrower than its radii."),),
    )


@pytest.fixture
def page(session: Session, qtbot: QtBot) -> StudiesPage:
    made = StudiesPage(session, engine=worked)
    qtbot.addWidget(made)
    made.resize(1180, 680)
    with qtbot.waitExposed(made):
        made.show()
    return made


def studies(session: Session) -> tuple[Study, ...]:
    return session.project.wishes.studies


def names(page: StudiesPage) -> list[str]:
    return [page.list.item(row).text() for row in range(page.list.count())]


def choose(box: QComboBox, value: str) -> None:
    box.setCurrentIndex(box.findData(value))
    box.activated.emit(box.currentIndex())


def run(page: StudiesPage, qtbot: QtBot) -> None:
    qtbot.mouseClick(page.runner.run, LEFT)
    qtbot.waitUntil(lambda: not page.runner.busy and page.studied is not None)


def type_into(qtbot: QtBot, field: QLineEdit, text: str) -> None:
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, text)
    qtbot.keyClick(field, Qt.Key.Key_Return)


def test_a_study_is_begun_copied_renamed_and_taken_out(
    page: StudiesPage, session: Session, qtbot: QtBot
) -> None:
    assert not page.runner.run.isEnabled()
    qtbot.mouseClick(page.new, LEFT)
    assert names(page) == ["Study 1"]
    along = studies(session)[0].along
    assert along == (replace(first(session), id=along[0].id),)
    qtbot.mouseClick(page.double, LEFT)
    assert names(page) == ["Study 1", "Study 1, copy"]
    assert len({one.id for one in studies(session)} | {one.along[0].id for one in studies(session)}) == 4
    page.list.setFocus()
    qtbot.keyClick(page.list, Qt.Key.Key_F2)
    editor = page.list.findChild(QLineEdit)
    assert isinstance(editor, QLineEdit)
    editor.selectAll()
    qtbot.keyClicks(editor, "Height and speed")
    qtbot.keyClick(editor, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: [one.name for one in studies(session)] == ["Study 1", "Height and speed"])
    assert session.undo_label == "Rename Study 1, copy"
    page.list.setCurrentRow(0)
    qtbot.mouseClick(page.drop, LEFT)
    assert names(page) == ["Height and speed"]
    session.undo()
    assert names(page) == ["Study 1", "Height and speed"]


def first(session: Session) -> Number:
    return next(iter(sweeps(session.project).values()))[1]


def test_a_study_without_a_name_keeps_the_one_it_had(
    page: StudiesPage, session: Session, qtbot: QtBot
) -> None:
    qtbot.mouseClick(page.new, LEFT)
    with qtbot.waitSignal(session.problem):
        page.list.item(0).setText("  ")
    assert names(page) == ["Study 1"]


def test_the_form_edits_range_second_number_and_readings(
    page: StudiesPage, session: Session, qtbot: QtBot
) -> None:
    qtbot.mouseClick(page.new, LEFT)
    type_into(qtbot, page.form.along[0].fields["least"], "10 cm")
    assert studies(session)[0].along[0].least == 100
    choose(page.form.along[1].which, f"{Change.SPEED.value}|0")
    second = studies(session)[0].along[1]
    assert second.change is Change.SPEED
    assert second.least < session.project.craft.speed < second.most
    type_into(qtbot, page.form.along[1].fields["most"], "40 kn")
    assert studies(session)[0].along[1].most == 40
    qtbot.mouseClick(page.form.add, LEFT)
    assert [one.shown for one in studies(session)[0].readings] == [Shown.USE, Shown.MASS, Shown.COST]
    span = session.project.spans[0]
    choose(page.form.readings[0].subject, span.id)
    assert studies(session)[0].readings[0].subject == span.id
    qtbot.mouseClick(page.form.readings[2].drop, LEFT)
    assert len(page.form.readings) == 2
    choose(page.form.along[1].which, "")
    assert len(studies(session)[0].along) == 1
    assert page.form.along[1].fields == {}


def test_one_number_is_drawn_as_curves_with_the_limit_bold(
    page: StudiesPage, session: Session, qtbot: QtBot, qtmodeltester: ModelTester
) -> None:
    qtbot.mouseClick(page.new, LEFT)
    run(page, qtbot)
    steps = len(values(first(session)))
    assert page.table_model.rowCount() == steps
    assert page.table_model.rows[0].cells[1] == "could not be judged"
    assert "crown is narrower" in page.table_model.rows[0].tip
    lines = [item for item in page.plot.picture if isinstance(item, Line)]
    assert [line.tip for line in lines if line.role is Role.SHORT and line.tip] == [
        "1.00: demand is capacity"
    ]
    assert "1 step could not be judged; its row says why." in page.notes.text()
    assert not page.reading.isVisible()
    qtmodeltester.check(page.table_model)


def test_two_numbers_are_drawn_as_contours_of_the_reading_chosen(page: StudiesPage, qtbot: QtBot) -> None:
    qtbot.mouseClick(page.new, LEFT)
    choose(page.form.along[1].which, f"{Change.SPEED.value}|0")
    run(page, qtbot)
    assert page.reading.isVisible()
    bold = [i for i in page.plot.picture if isinstance(i, Line) and i.role is Role.SHORT]
    assert bold
    choose(page.reading, "1")
    assert not [i for i in page.plot.picture if isinstance(i, Line) and i.role is Role.SHORT]
    assert page.reading.currentText() == "mass"


def test_each_study_keeps_what_it_brought_and_says_when_it_is_stale(
    page: StudiesPage, session: Session, qtbot: QtBot
) -> None:
    qtbot.mouseClick(page.new, LEFT)
    run(page, qtbot)
    qtbot.mouseClick(page.double, LEFT)
    assert page.studied is None
    assert "not been run" in page.says.text()
    page.list.setCurrentRow(0)
    assert page.studied is not None
    assert not page.runner.stale
    type_into(qtbot, page.form.along[0].fields["least"], "101 mm")
    assert page.runner.stale
    assert "earlier state" in page.runner.says.text()
    session.undo()
    assert not page.runner.stale


def test_copy_csv_and_svg_hand_the_study_out(page: StudiesPage, qtbot: QtBot, tmp_path: Path) -> None:
    qtbot.mouseClick(page.new, LEFT)
    run(page, qtbot)
    qtbot.mouseClick(page.copy_button, LEFT)
    assert "Mass (kg)" in QGuiApplication.clipboard().text()
    page.write_csv(tmp_path / "s.csv")
    lines = (tmp_path / "s.csv").read_text(encoding="utf-8-sig").splitlines()
    assert lines[0] == 'hat height [mm],"utilisation, highest",mass [kg],why not'
    assert lines[1].endswith(",The crown is narrower than its radii.")
    page.write_plot(tmp_path / "s.svg")
    assert "as she is" in (tmp_path / "s.svg").read_text(encoding="utf-8")


def test_units_of_the_table_follow_those_shown(
    page: StudiesPage, session: Session, qtbot: QtBot, tmp_path: Path
) -> None:
    qtbot.mouseClick(page.new, LEFT)
    run(page, qtbot)
    metric = float(page.table_model.rows[0].cells[0])
    session.edit("Show US units", lambda project: replace(project, units=System.US))
    assert float(page.table_model.rows[0].cells[0]) == pytest.approx(metric / 25.4, rel=1e-4)
    assert not page.runner.stale
    page.write_csv(tmp_path / "s.csv")
    head, first, *_ = (tmp_path / "s.csv").read_text(encoding="utf-8-sig").splitlines()
    assert head.startswith("hat height [in],")
    assert float(first.split(",")[0]) == pytest.approx(metric / 25.4, rel=1e-4)


def test_what_is_wrong_with_a_range_is_told_by_what_it_is_of(session: Session, qtbot: QtBot) -> None:
    page = StudiesPage(session)
    qtbot.addWidget(page)
    with qtbot.waitExposed(page):
        page.show()
    qtbot.mouseClick(page.new, LEFT)
    field = page.form.along[0].fields["least"]
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, "900 mm")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    qtbot.mouseClick(page.runner.run, LEFT)
    qtbot.waitUntil(lambda: not page.strip.isHidden())
    said = " ".join(label.text() for label in page.strip.findChildren(QLabel))
    assert "Hat height of Main stringer" in said
    assert "more than its most" in said
