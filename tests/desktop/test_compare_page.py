"""The compare page: layouts ticked, measured off the window's thread, shown as plot, table and words."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication

from stringerlab.compare import Group, Measure
from stringerlab.data import folder
from stringerlab.desktop.pages.compare import ComparePage
from stringerlab.desktop.session import Session
from stringerlab.files import load
from stringerlab.project import Project

if TYPE_CHECKING:
    from pytestqt.modeltest import ModelTester
    from pytestqt.qtbot import QtBot

SAMPLE = folder("sample_projects") / "tidewrack_layout.json"


@pytest.fixture(scope="module")
def boat() -> Project:
    """Read once: what is measured of a project is kept as long as it is the same."""
    return load(SAMPLE)


@pytest.fixture
def page(boat: Project, qtbot: QtBot) -> Iterator[ComparePage]:
    session = Session(boat, SAMPLE, held=True)
    made = ComparePage(session)
    session.setParent(made)
    qtbot.addWidget(made)
    made.resize(1180, 700)
    with qtbot.waitExposed(made):
        made.show()
    measured(made, qtbot)
    yield made
    made.hide()


def measured(page: ComparePage, qtbot: QtBot) -> None:
    qtbot.waitUntil(lambda: not page.busy, timeout=30_000)


def words(page: ComparePage) -> list[str]:
    return [page.choices.item(row).text() for row in range(page.choices.count())]


def test_layouts_and_parent_boat_are_ticked_and_measured(
    page: ComparePage, qtbot: QtBot, qtmodeltester: ModelTester
) -> None:
    assert [one.split(",")[0] for one in words(page)] == ["Full grid", "Plain stringers", "Bladderwrack 82"]
    found = page.found
    assert found is not None
    assert [one.letter for one in found.items] == ["A", "B", "C"]
    assert [one.chosen.parent for one in found.items] == [False, False, True]
    assert page.table_model.columnCount() == 4
    assert page.table_model.rowCount() == len(found.measures) + len(found.groups())
    assert page.plot.picture.items
    assert "B (Plain stringers) is" in page.words.text()
    qtmodeltester.check(page.table_model)


def test_first_is_what_the_others_are_held_against(page: ComparePage, qtbot: QtBot) -> None:
    full, plain, kin = words(page)
    page.choose([full, plain])
    measured(page, qtbot)
    page.choices.setCurrentRow(1)
    page._to_front()
    measured(page, qtbot)
    assert words(page) == [plain, full, kin]
    assert page.found is not None
    assert [one.name for one in page.found.items] == ["Plain stringers", "Full grid"]
    assert "B (Full grid) is" in page.words.text()


def test_too_few_or_too_many_are_said_and_nothing_is_shown(page: ComparePage, qtbot: QtBot) -> None:
    page.choose(words(page)[:1])
    measured(page, qtbot)
    assert page.found is None
    assert "Choose 2 to 6" in page.says.text()
    page.copy()
    assert "Plain stringers" not in QGuiApplication.clipboard().text()


def test_another_file_joins_them(page: ComparePage, qtbot: QtBot) -> None:
    assert page.add_file(folder("sample_projects") / "eelgrass_workboat.json")
    measured(page, qtbot)
    assert page.found is not None
    assert len(page.found.items) == 4
    assert page.choices.item(3).checkState() is Qt.CheckState.Checked


def test_what_is_not_known_tells_why_in_its_tip(page: ComparePage) -> None:
    model = page.table_model
    row = next(
        number for number, one in enumerate(model.rows) if isinstance(one, Measure) and one.id == "deflection"
    )
    cell = model.index(row, 3)
    assert cell.data() == "not known"
    assert "no layout is drawn" in cell.data(Qt.ItemDataRole.ToolTipRole)
    assert isinstance(model.rows[0], Group)


def test_copy_gives_table_and_sentences(page: ComparePage) -> None:
    page.copy()
    text = QGuiApplication.clipboard().text()
    assert "\tA Full grid\tB Plain stringers\tC Bladderwrack 82" in text
    assert "Stringer part" in text or "stringer part" in text
    assert "no claim that either complies" in text


def test_the_plot_is_written_as_svg(page: ComparePage, tmp_path: Path) -> None:
    page.write_plot(tmp_path / "plot.svg")
    text = (tmp_path / "plot.svg").read_text(encoding="utf-8")
    assert text.startswith(("<?xml", "<svg"))
    assert "not known" in text


def test_a_file_that_cannot_be_read_is_said(page: ComparePage, qtbot: QtBot, tmp_path: Path) -> None:
    bad = tmp_path / "bad.json"
    bad.write_text("{", encoding="utf-8")
    with qtbot.waitSignal(page._session.problem):
        assert not page.add_file(bad)
    assert len(words(page)) == 3
