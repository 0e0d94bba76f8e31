"""The grid under the hand: a coarse envelope for a drag's frames, and until the check of an edit is done."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

import pytest

from stringerlab.assess.grid import analysed, ground_of
from stringerlab.desktop.plan.live_grid import CoarseGrid, LiveGrid
from stringerlab.desktop.plan.panes import GridPane
from stringerlab.drawing import Label, Picture
from stringerlab.drawing.plan_results import Overlay
from stringerlab.methods import method_named
from stringerlab.project import Project, planning, resolve

from .conftest import SMALL, ids, session_of

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from stringerlab.desktop.session import Session


def held() -> Project:
    """The small layout with its floors out to the chines, which hold them."""
    project = SMALL
    for floor in ("Floor 1", "Floor 2"):
        x = 1000.0 if floor == "Floor 1" else 3000.0
        project = planning.with_plan_point_moved(project, ids(project)[floor], 1, (x, 1400.0))
    return project


HELD = held()


@pytest.fixture
def session(qapp: object) -> Iterator[Session]:
    made = session_of(HELD)
    yield made
    made.close()
    made.deleteLater()


def moved(project: Project, dy: float) -> Project:
    """The project with its inner longitudinals further out."""
    inner = ids(project)["Inner"]
    return planning.with_plan_point_moved(project, inner, 1, (5000.0, 500.0 + dy))


def words(picture: Picture) -> list[str]:
    return [item.text for item in picture if isinstance(item, Label)]


def test_of_many_frames_the_last_is_analysed_and_as_a_whole_check_would_coarsely(qtbot: QtBot) -> None:
    live = LiveGrid()
    found: list[CoarseGrid] = []
    live.found.connect(found.append)
    frames = [moved(HELD, dy) for dy in (10.0, 20.0, 30.0, 40.0)]
    for frame in frames:
        live.follow(frame, resolve(frame))
    qtbot.waitUntil(lambda: bool(found) and found[-1].project is frames[-1])
    assert len(found) <= 2
    last = found[-1]
    ground = ground_of(frames[-1], last.resolved)
    assert ground is not None
    alone = analysed(ground, method_named(HELD.method), coarse=True)
    assert last.grid.coarse
    assert alone.is_solved
    for id_, extremes in alone.spans.items():
        assert last.grid.spans[id_].M_max.value == pytest.approx(extremes.M_max.value)
    live.deleteLater()


def test_a_drag_and_then_an_edit_show_their_own_moments_before_the_check(
    qtbot: QtBot, session: Session
) -> None:
    pane = GridPane(session)
    qtbot.addWidget(pane)
    frames: list[Picture] = []
    laid: list[Picture] = []
    pane.moved.connect(frames.append)
    pane.overlaid.connect(laid.append)
    pane.lay(Overlay.MOMENT)
    session.preview(moved(HELD, 60.0))
    qtbot.waitUntil(lambda: bool(frames and words(frames[-1])))
    dragged = words(frames[-1])
    session.preview(None)
    session.edit("Move point 2", moved, 200.0)
    qtbot.waitUntil(lambda: bool(words(laid[-1])))
    assert not session.fresh
    assert pane.note.text().startswith("Coarse, until the check is done: ")
    assert words(laid[-1]) != dragged
    assert not words(frames[-1])


def test_the_map_of_utilisation_waits_for_the_check(qtbot: QtBot, session: Session) -> None:
    pane = GridPane(session)
    qtbot.addWidget(pane)
    pane.lay(Overlay.USE)
    session.preview(moved(HELD, 60.0))
    assert not pane._live._job.busy
