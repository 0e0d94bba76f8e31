from dataclasses import replace

import pytest

from stringerlab.errors import StringerlabError
from stringerlab.project import resolve
from stringerlab.project.beginning import new_boat
from stringerlab.project.importing import with_walls
from stringerlab.section import Side, Wall

WALLS = tuple(
    Wall(id="", points=((y, 20), (y, 120)), laminate="l2", side=Side.LEFT, name=f"web {y}")
    for y in (400, 500)
)


def test_walls_go_into_a_section_under_new_ids() -> None:
    boat = new_boat()
    [section] = boat.sections
    after = with_walls(boat, WALLS, to=section.id)
    added = after.sections[0].walls[len(section.walls) :]
    assert [replace(wall, id="") for wall in added] == list(WALLS)
    ids = [wall.id for wall in after.sections[0].walls]
    assert len(set(ids)) == len(ids)
    assert resolve(after).problems == ()


def test_without_a_section_they_make_one() -> None:
    after = with_walls(new_boat(), WALLS, name="floor")
    assert after.sections[-1].name == "floor"
    assert len(after.sections[-1].walls) == 2
    assert all(wall.id for wall in after.sections[-1].walls)


def test_no_walls_and_no_such_section_are_refused() -> None:
    with pytest.raises(StringerlabError, match="no wall to add"):
        with_walls(new_boat(), ())
    with pytest.raises(StringerlabError, match="no section 's99'"):
        with_walls(new_boat(), WALLS, to="s99")
