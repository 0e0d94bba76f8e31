"""A design opened as a layout beside the present one; and a small run of the program's own search."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

import pytest
from PySide6.QtCore import Qt

from stringerlab.data import folder
from stringerlab.desktop.pages.size import SizePage, found
from stringerlab.desktop.session import Session
from stringerlab.files import load
from stringerlab.project.drafting_shapes import hat_parameters
from stringerlab.project.wish_edits import with_demand, with_variables
from stringerlab.project.wishes import Change, Demand, Holds, Number
from stringerlab.sizing.changing.space import Space
from stringerlab.sizing.changing.variables import variables_of
from stringerlab.sizing.records import Design, Sized, Watch

if TYPE_CHECKING:
    from PySide6.QtWidgets import QApplication
    from pytestqt.qtbot import QtBot

    from stringerlab.project import Project

BED = Number(id="", change=Change.HEIGHT, of=("s31",), least=198, most=208, step=10)
HAT = Number(id="", change=Change.HEIGHT, of=("s5",), least=125, most=145, step=10)


@pytest.fixture
def launch(qapp: QApplication) -> Iterator[Session]:
    """The launch with its drawn layouts, unchecked."""
    session = Session(load(folder("sample_projects") / "tidewrack_layout.json"), held=True)
    yield session
    session.close()
    session.deleteLater()


def _page(qtbot: QtBot, session: Session, page: SizePage) -> SizePage:
    page.resize(1190, 690)
    page.show()
    qtbot.waitExposed(page)
    return page


def _end(page: SizePage) -> None:
    page.stop()
    page.close()
    page.deleteLater()


def both(project: Project, watch: Watch, mechanics: bool) -> Sized:
    """Return both choices without judging them: what is opened is looked at here, not what it comes to."""
    del watch, mechanics
    plan = project.wishes.sizing
    space = Space(variables_of(project, plan))
    designs = [
        Design(
            genes=tuple(space.at(number).tolist()),
            values=space.words(space.at(number), project),
            ratios=(0.9,),
            use=0.9,
            mass=mass,
            cost=None,
            hours=None,
        )
        for number, mass in enumerate((700.0, 710.0))
    ]
    return Sized(
        plan=plan,
        names=space.names,
        front=(designs[0],),
        present=designs[1],
        present_exact=True,
        space=space.count,
        judged=2,
        ruled_out=0,
        proven=True,
    )


def test_a_design_opens_as_a_layout_in_one_edit_and_the_result_stays_fresh(
    qtbot: QtBot, launch: Session
) -> None:
    launch.edit("Ask", with_variables, BED)
    page = _page(qtbot, launch, SizePage(launch, find=both))
    page.run_or_stop()
    qtbot.waitUntil(lambda: page.sized is not None and not page.counting, timeout=30_000)
    names = [layout.name for layout in launch.project.layouts]
    qtbot.mouseClick(page.results.pane.layout_button, Qt.MouseButton.LeftButton)
    assert [layout.name for layout in launch.project.layouts] == [*names, "Design 1"]
    assert launch.project.layout == "y122"
    hat = hat_parameters(launch.project, "s31")
    assert hat is not None
    assert hat.height == 208.0
    assert page.results.stale.isHidden()
    launch.undo()
    assert [layout.name for layout in launch.project.layouts] == names
    assert page.results.stale.isHidden()
    page.results.pane.change_boat()
    assert "earlier state of the boat" in page.results.stale.text()
    page.results.pane.open_as_layout()
    assert "earlier state of the boat" in page.results.stale.text()
    _end(page)


def test_the_programs_own_search_proves_a_small_space(qtbot: QtBot, session: Session) -> None:
    session.edit("Ask", with_variables, HAT)
    session.edit("Demand", with_demand, Demand(id="", holds=Holds.USE, limit=1.0))
    page = _page(qtbot, session, SizePage(session, find=found))
    qtbot.waitUntil(lambda: not page.counting, timeout=30_000)
    page.run_or_stop()
    qtbot.waitUntil(lambda: not page.busy, timeout=30_000)
    sized = page.sized
    assert sized is not None
    assert sized.proven
    assert (sized.space, sized.judged + sized.ruled_out) == (3, 3)
    assert sized.present.values == ("135 mm",)
    assert sized.front[0].values == ("125 mm",)
    assert sized.front[0].mass < sized.present.mass
    _end(page)
