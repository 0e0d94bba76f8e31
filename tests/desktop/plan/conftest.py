"""A small layout to work on without a mouse, and a plan to work on with one."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from stringerlab.data import folder
from stringerlab.files import load
from stringerlab.layout.plan import Hand, Layout, Member, MemberKind
from stringerlab.project import Project, planning

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from stringerlab.desktop.plan.canvas import Plan
    from stringerlab.desktop.plan.scene import Scene
    from stringerlab.desktop.plan.tool import Step
    from stringerlab.desktop.session import Session
    from stringerlab.desktop.sheet.tool import Touch

BOAT = load(folder("sample_projects") / "tidewrack_plain.json")
"""An 8.7 m boat: transom at x = 0, half-beam 1.33 m there."""
LONG, ACROSS = BOAT.sections[0].id, BOAT.sections[1].id


def member(
    name: str,
    *points: tuple[float, float],
    kind: MemberKind = MemberKind.LONGITUDINAL,
    hand: Hand = Hand.PAIR,
) -> Member:
    """A member through points, its section by its kind."""
    section = LONG if kind is MemberKind.LONGITUDINAL else ACROSS
    return Member(id="", name=name, kind=kind, hand=hand, points=points, section=section)


def small() -> Project:
    """One pair of longitudinals 500 mm off the centreline, and floors at 1 and 3 m."""
    grown = planning.with_layout(empty_of(BOAT), Layout(id="", name="Small"))
    parts = [
        member("Inner", (0.0, 500.0), (5000.0, 500.0)),
        member("Floor 1", (1000.0, 0.0), (1000.0, 1200.0), kind=MemberKind.TRANSVERSE),
        member("Floor 2", (3000.0, 0.0), (3000.0, 1200.0), kind=MemberKind.TRANSVERSE),
    ]
    return planning.with_parts(grown, grown.layout, parts)


def empty_of(project: Project) -> Project:
    """A project without layouts."""
    return replace(project, layouts=(), layout="")


SMALL = small()


def ids(project: Project) -> dict[str, str]:
    """Ids of members by name."""
    return {each.name: each.id for each in project.layouts[0].members}


def scene_of(project: Project = SMALL, *selected: str, reach: float = 30.0) -> Scene:
    """A scene on the layout of a project."""
    from stringerlab.desktop.plan.scene import Scene
    from stringerlab.project.finding import found_in
    from stringerlab.project.section_shapes import member_sizes

    layout = project.layouts[0]
    return Scene(
        project=project,
        layout=layout,
        found=found_in(project, layout),
        sizes=member_sizes(project, layout),
        selected=selected,
        reach=reach,
    )


def at(x: float, y: float, *, shift: bool = False) -> Touch:
    """A touch that nothing caught."""
    from stringerlab.desktop.sheet.tool import Touch

    return Touch.bare((x, y), shift=shift)


def done(step: Step, scene: Scene) -> Project:
    """The project after a step's edit."""
    assert step.edit is not None, step.refused
    return step.edit.change(scene.project)


def session_of(project: Project) -> Session:
    """A session whose checks wait."""
    from stringerlab.desktop.session import Session

    return Session(project, held=True)


@pytest.fixture
def small_session(qapp: object) -> Iterator[Session]:
    """The small layout, open; its checks wait."""
    made = session_of(SMALL)
    yield made
    made.close()
    made.deleteLater()


@pytest.fixture
def plan(qtbot: QtBot, small_session: Session) -> Iterator[Plan]:
    """The plan on the small layout, 900 × 500, a tenth of a pixel a mm, origin at (100, 250), snaps off."""
    from stringerlab.desktop.plan.canvas import Plan
    from stringerlab.desktop.sheet.view import View

    made = Plan(small_session)
    made.resize(900, 500)
    made.show()
    qtbot.waitExposed(made)
    made.repaint()
    made._look(View(scale=0.1, left=100.0, down=250.0))
    made.hand.switch(snaps=False)
    made.repaint()
    yield made
    made.close()
    made.deleteLater()
