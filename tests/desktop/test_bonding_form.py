"""The boat page's group on bonding: typed, refused, taken back."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from stringerlab.desktop.session import Session

pytest.importorskip("PySide6.QtWidgets", reason="the window needs PySide6")

from PySide6.QtCore import Qt

from stringerlab.desktop.pages.bonding_form import ALLOWANCES, BondingForm
from stringerlab.layout import Bonding


@pytest.fixture
def form(qtbot: QtBot, session: Session) -> BondingForm:
    made = BondingForm(session)
    qtbot.addWidget(made)
    made.show()
    return made


def typed(qtbot: QtBot, form: BondingForm, field: str, text: str) -> None:
    line = form.numbers[field]
    line.selectAll()
    qtbot.keyClicks(line, text)
    qtbot.keyClick(line, Qt.Key.Key_Return)


def test_every_allowance_has_a_field_with_name_and_source(form: BondingForm) -> None:
    assert [each.field for each in ALLOWANCES] == list(Bonding.__dataclass_fields__)
    for each in ALLOWANCES:
        assert form.numbers[each.field].accessibleName() == f"Bonding: {each.name}"
        assert (
            "memory L" in form.numbers[each.field].toolTip()
            or "estimate" in form.numbers[each.field].toolTip()
        )


def test_a_typed_value_is_one_edit_that_is_taken_back(
    qtbot: QtBot, session: Session, form: BondingForm
) -> None:
    typed(qtbot, form, "voids", "25 %")
    assert session.project.bonding.voids.value == 0.25
    typed(qtbot, form, "gap_tolerance", "3,5 mm")
    assert session.project.bonding.gap_tolerance.value == 3.5
    assert "as entered" in form.numbers["gap_tolerance"].toolTip()
    session.undo()
    session.undo()
    assert session.project.bonding == Bonding()
    assert form.numbers["voids"].text() == "10 %"


def test_a_bare_number_of_voids_is_per_cent(qtbot: QtBot, session: Session, form: BondingForm) -> None:
    typed(qtbot, form, "voids", "12.5")
    assert session.project.bonding.voids.value == 0.125
    assert form.numbers["voids"].text() == "12.5 %"


def test_a_value_out_of_range_is_refused_in_words(qtbot: QtBot, session: Session, form: BondingForm) -> None:
    with qtbot.waitSignal(session.said):
        typed(qtbot, form, "fatigue", "1.5")
    assert session.project.bonding == Bonding()
    assert form.strip.isVisible()


def test_strengths_are_read_in_the_units_shown(qtbot: QtBot, lesson_session: Session) -> None:
    form = BondingForm(lesson_session)
    qtbot.addWidget(form)
    form.show()
    typed(qtbot, form, "through_thickness", "1000 psi")
    assert lesson_session.project.bonding.through_thickness.value == pytest.approx(6.894757)
