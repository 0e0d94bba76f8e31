"""A scene to work on without a mouse, and a sheet to work on with one."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from stringerlab.data import folder
from stringerlab.desktop.sheet.tool import Scene, Step, Touch
from stringerlab.files import load
from stringerlab.laminate import thickness_with_gel
from stringerlab.project import Project, resolve
from stringerlab.section.catching import bodies_to_pick

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from stringerlab.desktop.session import Session
    from stringerlab.desktop.sheet import Sheet

BOAT = load(folder("sample_projects") / "eelgrass_workboat.json")
RESOLVED = resolve(BOAT)


def scene_of(project: Project = BOAT, section: str = "s5", *selected: str, reach: float = 3.0) -> Scene:
    """A scene on one section of a project."""
    resolved = RESOLVED if project is BOAT else resolve(project)
    drawn = next(each for each in project.sections if each.id == section)
    return Scene(
        project=project,
        section=drawn,
        selected=selected,
        reach=reach,
        grid=10.0,
        laminate="l2",
        material="pu_foam32",
        block="frp_block",
        thickness={name: thickness_with_gel(stack) for name, stack in resolved.stacks.items()},
        bodies=bodies_to_pick(resolved.shapes.get(section) or drawn),
    )


@pytest.fixture
def hat() -> Scene:
    """The main stringer's hat, nothing selected."""
    return scene_of()


@pytest.fixture
def floor() -> Scene:
    """The plate floor, nothing selected."""
    return scene_of(BOAT, "s7")


def at(y: float, z: float, *, shift: bool = False, ctrl: bool = False) -> Touch:
    """A touch that nothing caught."""
    return Touch.bare((y, z), shift=shift, ctrl=ctrl)


def clicked(scene: Scene, step: Step, *places: tuple[float, float]) -> Step:
    """Press, move and let go at places one after another, on the same scene."""
    for place in places:
        step = step.tool.moved(scene, at(*place))
        step = step.tool.pressed(scene, at(*place))
        if step.edit is None and step.select is None:
            step = step.tool.released(scene, at(*place))
    return step


def done(step: Step, scene: Scene) -> Project:
    """The project after a step's edit."""
    assert step.edit is not None, step.refused
    return step.edit.change(scene.project)


def selecting(scene: Scene, *ids: str) -> Scene:
    """The same scene with things selected."""
    return replace(scene, selected=ids, known={})


@pytest.fixture
def sheet(qtbot: QtBot, session: Session) -> Iterator[Sheet]:
    """The sheet on the main stringer, 800 × 600, 2 pixels a mm, origin at (400, 400), snaps off."""
    from stringerlab.desktop.sheet import Sheet
    from stringerlab.desktop.sheet.view import View

    made = Sheet(session)
    made.resize(800, 600)
    made.show()
    qtbot.waitExposed(made)
    made.repaint()
    made._look(View(scale=2.0, left=400.0, down=400.0))
    made.hand.switch(snaps=False)
    made.repaint()
    yield made
    made.close()
    made.deleteLater()
