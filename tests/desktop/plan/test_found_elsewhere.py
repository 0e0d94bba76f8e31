"""Panels and spans found in a layout are offered and drawn wherever those given by hand are."""

from __future__ import annotations

from typing import TYPE_CHECKING

from stringerlab.assess import check
from stringerlab.desktop.pages.boat_pressures import PressurePane
from stringerlab.desktop.pages.parent_boat import likeness_choices
from stringerlab.desktop.sheet.switches import Switches
from stringerlab.layout.openings import Hole, Opening
from stringerlab.project import planning

from .conftest import LONG, ids, session_of, small

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from stringerlab.desktop.session import Session

HOLE = Opening(kind=Hole.LIMBER, x=1800.0, width=50.0, height=35.0, bottom=0.0, radius=10.0)


def _found(session: Session) -> list[str]:
    found = session.resolved.found
    assert found is not None
    return [each.span.id for each in found.spans if each.span is not None]


def test_a_hole_of_a_drawn_member_shows_in_its_section(qapp: object) -> None:
    boat = small()
    session = session_of(planning.with_member_opening(boat, ids(boat)["Inner"], HOLE))
    drawn = Switches().options_of(session, LONG)
    assert [(hole.kind, hole.width) for _, hole in drawn.openings] == [(Hole.LIMBER, 50.0)]
    session.close()


def test_pressures_are_offered_over_what_is_found(qtbot: QtBot) -> None:
    session = session_of(small())
    page = PressurePane(session)
    qtbot.addWidget(page)
    page.refresh()
    assert all(page.choice.findData(each) > 0 for each in _found(session))
    session.close()


def test_a_span_found_is_held_against_the_parents(qapp: object) -> None:
    session = session_of(small())
    theirs = check(session.project, topics=())
    offered = likeness_choices(session, theirs, _found(session)[0])
    assert {id_ for _, id_ in offered} >= set(_found(session))
    session.close()
