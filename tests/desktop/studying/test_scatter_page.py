"""Scatter: defaults that can be changed one by one, a run with progress and Stop, bars, table, drivers."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QLineEdit

from stringerlab.desktop.jobs import Watch
from stringerlab.desktop.pages.scatter import ScatterPage
from stringerlab.desktop.session import Session
from stringerlab.desktop.studying.inputs import OWN
from stringerlab.drawing import Area
from stringerlab.project import Project
from stringerlab.project.wishes import Law, Scatter, Scattered, ScatterPlan
from stringerlab.sizing.records import Chance, Driver, Scattering

if TYPE_CHECKING:
    from pytestqt.modeltest import ModelTester
    from pytestqt.qtbot import QtBot

LEFT = Qt.MouseButton.LeftButton
USUAL = {
    "careful hand lay-up": (Scatter(id="usual a", what=Scattered.THICKNESS, spread=0.04),),
    "usual hand lay-up": (
        Scatter(id="usual a", what=Scattered.THICKNESS, spread=0.07),
        Scatter(id="usual b", what=Scattered.SPEED, law=Law.TRIANGULAR, spread=0.05),
    ),
}


def chance(project: Project, at: int, short: float, correlation: float) -> Chance:
    span = project.spans[at]
    return Chance(
        subject=span.id,
        name=span.name,
        aspect="section modulus",
        nominal=0.95,
        short=short,
        low=short * 0.9,
        high=short * 1.1 + 0.001,
        mean=0.96,
        percentiles=(0.86, 0.95, 1.07),
        drivers=(
            Driver(name="ply thickness", correlation=correlation),
            Driver(name="speed", correlation=0.3),
        ),
    )


def sampled(project: Project, plan: ScatterPlan, watch: Watch) -> Scattering:
    watch(0.5, "8192 of 16384 samples")
    return Scattering(
        plan=plan,
        inputs=("ply thickness: normal, middle 1, spread 0.07",),
        samples=plan.samples,
        chances=(chance(project, 0, 0.25, -0.8), chance(project, 1, 0.05, -0.6)),
        any_short=(0.27, 0.26, 0.28),
        left_out=("web area of Floor: no shear strength",),
        notes=("Common practice.",),
    )


@pytest.fixture
def make(session: Session, qtbot: QtBot) -> Callable[..., ScatterPage]:
    def made(engine: Callable[[Project, ScatterPlan, Watch], Scattering] = sampled) -> ScatterPage:
        page = ScatterPage(session, engine=engine, usual=lambda: USUAL)
        qtbot.addWidget(page)
        page.resize(1180, 680)
        with qtbot.waitExposed(page):
            page.show()
        return page

    return made


@pytest.fixture
def page(make: Callable[..., ScatterPage]) -> ScatterPage:
    return make()


def run(page: ScatterPage, qtbot: QtBot) -> None:
    qtbot.mouseClick(page.runner.run, LEFT)
    qtbot.waitUntil(lambda: page.found is not None and not page.runner.busy)


def type_into(qtbot: QtBot, field: QLineEdit, text: str) -> None:
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, text)
    qtbot.keyClick(field, Qt.Key.Key_Return)


def test_a_default_is_shown_until_something_of_it_is_changed(
    page: ScatterPage, session: Session, qtbot: QtBot
) -> None:
    rows = page.form.rows
    assert [(row.what.value, row.law.value, row.spread.text()) for row in rows] == [
        ("ply thickness", "normal", "0.07"),
        ("speed", "triangular", "0.05"),
    ]
    assert session.project.wishes.scatter.inputs == ()
    type_into(qtbot, rows[0].spread, "9 %")
    held = session.project.wishes.scatter.inputs
    assert [(one.what, one.law, one.spread) for one in held] == [
        (Scattered.THICKNESS, Law.NORMAL, 0.09),
        (Scattered.SPEED, Law.TRIANGULAR, 0.05),
    ]
    assert page.form.usual.value == OWN
    assert session.undo_label == "Change spread of ply thickness"
    session.undo()
    assert page.form.usual.value == "usual hand lay-up"
    assert page.form.rows[0].spread.text() == "0.07"


def test_another_default_is_taken_by_the_keyboard(page: ScatterPage, session: Session, qtbot: QtBot) -> None:
    page.form.usual.setFocus()
    qtbot.keyClick(page.form.usual, Qt.Key.Key_Up)
    page.form.usual.activated.emit(page.form.usual.currentIndex())
    assert session.project.wishes.scatter.usual == "careful hand lay-up"
    assert [row.spread.text() for row in page.form.rows] == ["0.04"]


def test_an_input_is_added_for_one_laminate_and_taken_out(
    page: ScatterPage, session: Session, qtbot: QtBot
) -> None:
    qtbot.mouseClick(page.form.add, LEFT)
    row = page.form.rows[-1]
    assert row.what.value == Scattered.GLASS.value
    laminate = session.project.laminates[0]
    row.of.setCurrentIndex(row.of.findData(laminate.id))
    row.of.activated.emit(row.of.currentIndex())
    assert session.project.wishes.scatter.inputs[-1].of == (laminate.id,)
    qtbot.mouseClick(page.form.rows[0].drop, LEFT)
    assert [one.what for one in session.project.wishes.scatter.inputs] == [Scattered.SPEED, Scattered.GLASS]
    ids = [one.id for one in session.project.wishes.scatter.inputs]
    assert len(set(ids)) == 2


def test_the_last_input_stays(page: ScatterPage, session: Session, qtbot: QtBot) -> None:
    qtbot.mouseClick(page.form.rows[0].drop, LEFT)
    with qtbot.waitSignal(session.said):
        qtbot.mouseClick(page.form.rows[0].drop, LEFT)
    assert len(session.project.wishes.scatter.inputs) == 1


def test_too_few_samples_are_refused_with_the_range(
    page: ScatterPage, session: Session, qtbot: QtBot
) -> None:
    with qtbot.waitSignal(session.problem) as told:
        type_into(qtbot, page.form.samples, "10")
    assert told.args is not None
    assert "64" in str(told.args[0])
    assert session.project.wishes.scatter.samples == 16_384
    assert page.form.samples.text() == "16384"


def test_chances_are_shown_as_bars_table_and_drivers(
    page: ScatterPage, qtbot: QtBot, qtmodeltester: ModelTester
) -> None:
    run(page, qtbot)
    assert [row.cells[1:3] for row in page.table_model.rows] == [
        ("25.0 %", "22.5 to 27.6"),
        ("5.00 %", "4.50 to 5.60"),
    ]
    assert page.table_model.rows[0].cells[3:] == ("0.95", "0.86", "0.95", "1.07")
    bars = {item.subject: item for item in page.bars.picture if isinstance(item, Area) and item.tip}
    widths = {key: float(bar.rings[0][:, 0].max() - bar.rings[0][:, 0].min()) for key, bar in bars.items()}
    assert widths["chance/0"] == pytest.approx(5 * widths["chance/1"])
    assert {i.subject for i in page.drivers.picture if isinstance(i, Area) and i.subject} == {
        "driver/0",
        "driver/1",
    }
    assert "no chance here is one of failure" in page.notes.first.text()
    assert not page.notes.rest.isVisible()
    qtbot.mouseClick(page.notes.fold, LEFT)
    assert page.notes.rest.isVisible()
    assert page.notes.rest.text() == "Common practice.\n1 finding is left out."
    assert "web area of Floor" in page.notes.rest.toolTip()
    qtmodeltester.check(page.table_model)


def test_a_click_on_a_bar_chooses_its_finding(page: ScatterPage, qtbot: QtBot) -> None:
    run(page, qtbot)
    bar = next(i for i in page.bars.picture if isinstance(i, Area) and i.subject == "chance/1")
    y, z = bar.rings[0].mean(axis=0)
    at = page.bars.to_screen.map(QPointF(float(y), float(z)))
    qtbot.mouseClick(page.bars, LEFT, pos=at.toPoint())
    assert page.chance is not None
    assert page.chance.short == 0.05


def test_a_result_is_stale_when_boat_or_plan_has_changed(
    page: ScatterPage, session: Session, qtbot: QtBot
) -> None:
    run(page, qtbot)
    assert not page.runner.stale
    type_into(qtbot, page.form.seed, "7")
    assert page.runner.stale
    assert "earlier state of what is asked" in page.runner.says.text()
    session.undo()
    assert not page.runner.stale
    assert page.runner.says.text() == ""


def test_copy_csv_and_plot_hand_the_chances_out(page: ScatterPage, qtbot: QtBot, tmp_path: Path) -> None:
    assert not page.copy_button.isEnabled()
    run(page, qtbot)
    qtbot.mouseClick(page.copy_button, LEFT)
    text = QGuiApplication.clipboard().text()
    assert "25.0 %" in text
    assert "spread 0.07" in text
    page.write_csv(tmp_path / "a.csv")
    lines = (tmp_path / "a.csv").read_text(encoding="utf-8-sig").splitlines()
    assert len(lines) == 3
    assert ",0.25," in lines[1]
    page.write_plot(tmp_path / "a.svg")
    assert "any finding" in (tmp_path / "a.svg").read_text(encoding="utf-8")
