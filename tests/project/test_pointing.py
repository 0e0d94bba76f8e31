from dataclasses import replace

import pytest

from stringerlab.project import Project, resolve
from stringerlab.project.beginning import new_boat
from stringerlab.project.pointing import CRAFT, pointed_at
from stringerlab.section import Wall


@pytest.fixture
def boat() -> Project:
    return new_boat()


def only_place(project: Project) -> str:
    [where] = {problem.where for problem in resolve(project).problems}
    return pointed_at(project, where)


def test_a_panels_problem_points_at_the_panel(boat: Project) -> None:
    broken = replace(boat, panels=(replace(boat.panels[0], b=2000.0),))
    assert only_place(broken) == boat.panels[0].id


def test_a_walls_problem_points_at_the_wall_not_its_section(boat: Project) -> None:
    [section] = boat.sections
    short = Wall(id="w90", name="stray", points=((0, 300),), laminate="l1", side=section.walls[0].side)
    broken = replace(boat, sections=(replace(section, walls=(*section.walls, short)),))
    assert only_place(broken) == "w90"


def test_a_plys_problem_points_at_the_laminate(boat: Project) -> None:
    bottom = boat.laminates[0]
    wrong = replace(bottom, plies=(replace(bottom.plies[1], material="nothing"),))
    assert only_place(replace(boat, laminates=(wrong, boat.laminates[1]))) == bottom.id


def test_the_boats_and_the_methods_problems_point_at_the_boat(boat: Project) -> None:
    assert only_place(replace(boat, craft=replace(boat.craft, speed=900.0))) == CRAFT
    assert only_place(replace(boat, craft=replace(boat.craft, stations=()))) == CRAFT
    assert only_place(replace(boat, method="none")) == CRAFT


def test_names_that_begin_alike_are_told_apart(boat: Project) -> None:
    first = boat.panels[0]
    second = replace(first, id="p77", name=f"{first.name} aft", b=2000.0)
    assert only_place(replace(boat, panels=(first, second))) == "p77"


def test_a_place_elsewhere_points_nowhere(boat: Project) -> None:
    assert pointed_at(boat, "history") == ""
