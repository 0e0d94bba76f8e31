"""A boat in US units: every number on the pages of search, studies and what helps is in them, and round."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING

import pytest
from PySide6.QtWidgets import QAbstractButton, QApplication, QLabel, QLineEdit, QWidget

from stringerlab.data import folder
from stringerlab.desktop.pages.helps import HelpsPage
from stringerlab.desktop.pages.size import SizePage
from stringerlab.desktop.pages.studies import StudiesPage
from stringerlab.desktop.session import Session
from stringerlab.desktop.studying.swept import sweeps
from stringerlab.files import load
from stringerlab.project.wish_edits import with_variables
from stringerlab.project.wish_offers import offers
from stringerlab.project.wish_words import kind_of, value_words
from stringerlab.project.wishes import Number
from stringerlab.sizing.changing.steps import all_steps
from stringerlab.sizing.running import Running
from stringerlab.sizing.studying.sensitivity import sensitivity
from stringerlab.sizing.studying.studies import study
from stringerlab.units import Kind, System

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

METRIC = re.compile(r"\d\s*(mm|cm|kg|m|g/m²)\b|\bin (mm|kg)\b|\[(mm|kg)\]")
ROUND = {"0.0625 in", "0.25 in", "0.5 in", "1 in", "4 in", "1 kn", "100 lb", "1"}


@pytest.fixture
def lesson(qapp: QApplication) -> Iterator[Session]:
    project = load(folder("sample_projects") / "first_hat_lesson.json")
    assert project.units is System.US
    session = Session(project)
    yield session
    session.close()
    session.deleteLater()


def words(page: QWidget) -> list[str]:
    """Return every text of a page that a person reads, tips and names among them."""
    found: list[str] = []
    for one in (page, *page.findChildren(QWidget)):
        found += [one.toolTip(), one.accessibleName()]
        if isinstance(one, QLabel | QAbstractButton | QLineEdit):
            found.append(one.text())
    return [one for one in found if one]


def test_every_step_is_a_round_one_in_us_units(lesson: Session) -> None:
    project = lesson.project
    numbers = [one.wish for one in offers(project) if isinstance(one.wish, Number)]
    numbers += [number for _, number in sweeps(project).values()]
    numbers += all_steps(project)
    assert len(numbers) > 25
    said = {value_words(one.change, one.step, System.US) for one in numbers}
    assert said <= ROUND
    lengths = [one for one in numbers if kind_of(one.change) is Kind.LENGTH]
    for one in lengths:
        assert len(value_words(one.change, one.least, System.US)) <= len("22.625 in")


def test_what_helps_and_studies_are_worded_in_us_units(lesson: Session) -> None:
    project = lesson.project
    found = sensitivity(project, running=Running(workers=1), mechanics=False)
    said = [*found.notes, *map(str, found.problems)]
    said += [one.words for one in found.helped]
    said += [text for one in found.helped for step in one.steps for text in (step.name, step.words)]
    worked = study(project, project.wishes.studies[0], running=Running(workers=1))
    said += [*worked.notes, *worked.axis_names, *worked.reading_names]
    said += [why for _, why in worked.problems]
    assert len(said) > 30
    assert not [one for one in said if METRIC.search(one)]


@pytest.mark.parametrize("kind", [SizePage, StudiesPage, HelpsPage])
def test_no_card_or_tip_is_in_metric_units(
    kind: type[SizePage | StudiesPage | HelpsPage], lesson: Session, qtbot: QtBot
) -> None:
    wishes = [one.wish for one in offers(lesson.project)]
    assert lesson.edit("Let everything change", with_variables, *wishes)
    page = kind(lesson)
    qtbot.addWidget(page)  # not shown: a page that is seen counts its designs in the background
    said = words(page)
    if kind is SizePage:
        assert any(one.endswith(" in") for one in said)
    assert not [one for one in said if METRIC.search(one)]
