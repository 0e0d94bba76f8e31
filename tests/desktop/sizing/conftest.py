"""A page on the workboat whose search is small: every height of three, judged by the plain path."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from math import isnan
from typing import TYPE_CHECKING

import pytest

from stringerlab.data import folder
from stringerlab.files import load
from stringerlab.project import Project
from stringerlab.project.wish_edits import with_demand, with_variables
from stringerlab.project.wishes import Change, Demand, Holds, Number, Wishes
from stringerlab.sizing.changing.space import Space
from stringerlab.sizing.changing.variables import variables_of
from stringerlab.sizing.plain import measured
from stringerlab.sizing.records import Broken, Design, Genes, Sized, Watch

if TYPE_CHECKING:
    from PySide6.QtWidgets import QApplication
    from pytestqt.qtbot import QtBot

    from stringerlab.desktop.pages.size import SizePage
    from stringerlab.desktop.session import Session

HEIGHT = Number(id="", change=Change.HEIGHT, of=("s5",), least=125, most=145, step=10)
Find = Callable[[Project, Watch, bool], Sized]


def _known(value: float) -> float | None:
    return None if isnan(value) else value


def every_design(project: Project, watch: Watch, mechanics: bool) -> Sized:
    """Judge every design one after another; the front is all of them that hold."""
    del mechanics
    plan = project.wishes.sizing
    space = Space(variables_of(project, plan))
    limit = min((one.limit for one in plan.demands if one.holds is Holds.USE), default=1.0)

    def design(genes: Genes) -> Design:
        found = measured(space.applied(project, genes))
        worst = found.worst
        return Design(
            genes=tuple(genes.tolist()),
            values=space.words(genes, project),
            ratios=(found.use / limit,),
            use=found.use,
            mass=found.mass,
            cost=_known(found.cost),
            hours=_known(found.hours),
            governing=f"{worst.name}, {worst.aspect}" if worst else "",
        )

    designs: list[Design] = []
    for number in range(space.count):
        watch(number / space.count, f"Judging design {number + 1}, 1 s left")
        designs.append(design(space.at(number)))
    present, exact = space.nearest(project)
    holding = [one for one in designs if one.ratios[0] <= 1]
    broken = [
        Broken(
            demand=one,
            words=f"Utilisation at most {one.limit}: the nearest is {min(each.use for each in designs):.3f}",
            least=min(each.ratios[0] for each in designs),
            alone=True,
        )
        for one in plan.demands
    ]
    return Sized(
        plan=plan,
        names=space.names,
        front=tuple(sorted(holding, key=lambda one: one.mass)),
        present=design(present),
        present_exact=exact,
        space=space.count,
        judged=len(designs),
        ruled_out=0,
        proven=True,
        broken=() if holding else tuple(broken),
        notes=("Every design was judged by the plain path.",),
    )


def with_height(project: Project, limit: float = 1.0) -> Project:
    """Let the height of the hat change, with a limit of utilisation."""
    return with_demand(with_variables(project, HEIGHT), Demand(id="", holds=Holds.USE, limit=limit))


@pytest.fixture
def session(qapp: QApplication) -> Iterator[Session]:
    """The sample workboat of which nothing is asked yet, open and unsaved, in metric units."""
    from stringerlab.desktop.session import Session

    workboat = load(folder("sample_projects") / "eelgrass_workboat.json")
    session = Session(replace(workboat, wishes=Wishes()))
    yield session
    session.close()
    session.deleteLater()


@pytest.fixture
def page(qtbot: QtBot, session: Session) -> Iterator[SizePage]:
    """The page, shown, nothing asked yet."""
    yield from made(qtbot, session, every_design)


def made(qtbot: QtBot, session: Session, find: Find) -> Iterator[SizePage]:
    """Make a page with a search of its own, and end it."""
    from stringerlab.desktop.pages.size import SizePage

    page = SizePage(session, find=find)
    page.resize(1190, 690)
    page.show()
    qtbot.waitExposed(page)
    yield page
    page.stop()
    page.close()
    page.deleteLater()


@pytest.fixture
def asked(qtbot: QtBot, page: SizePage, session: Session) -> SizePage:
    """The page with a height that may change, counted."""
    session.edit("Ask", with_height)
    qtbot.waitUntil(lambda: not page.counting)
    return page


@pytest.fixture
def answered(qtbot: QtBot, asked: SizePage) -> SizePage:
    """The page with every design of three found."""
    asked.run_or_stop()
    qtbot.waitUntil(lambda: not asked.busy, timeout=20_000)
    return asked
