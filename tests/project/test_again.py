"""Resolving again after a drag gives what resolving from the start gives."""

from dataclasses import replace

import pytest

from stringerlab.data import folder
from stringerlab.files import load
from stringerlab.project import Project, resolve
from stringerlab.project.again import resolved_again
from stringerlab.project.edits import removed, with_fillet, with_ply, with_point_moved, without_point


@pytest.fixture(scope="module")
def boat() -> Project:
    return load(folder("sample_projects") / "eelgrass_workboat.json")


CHANGES = {
    "a corner moved": lambda boat: with_point_moved(boat, "w6", 2, (-40.0, 140.0)),
    "a fill's corner moved": lambda boat: with_point_moved(boat, "f13", 2, (3.2, 2.9)),
    "a fillet": lambda boat: with_fillet(boat, "w6", 2, 20.0),
    "a fillet too large": lambda boat: with_fillet(boat, "w6", 2, 200.0),
    "a point out of range": lambda boat: with_point_moved(boat, "w6", 2, (-40.0, 14e4)),
    "a point below the shell": lambda boat: with_point_moved(boat, "w9", 0, (-73.0, -2.0)),
    "a point less": lambda boat: without_point(boat, "w6", 0),
    "a fill less": lambda boat: removed(boat, "f13"),
    "another deadrise": lambda boat: replace(
        boat,
        sections=(
            replace(boat.sections[0], reference=replace(boat.sections[0].reference, deadrise=12.0)),
            *boat.sections[1:],
        ),
    ),
    "another laminate": lambda boat: with_ply(boat, "l2", 1, boat.laminates[1].plies[1]),
}


@pytest.mark.parametrize("name", CHANGES)
def test_what_is_taken_over_equals_what_is_resolved_anew(boat: Project, name: str):
    changed = CHANGES[name](boat)
    assert resolved_again(changed, boat, resolve(boat)) == resolve(changed)


def test_a_drag_through_a_fault_and_back_out_of_it(boat: Project):
    shown, resolved = boat, resolve(boat)
    for z in (140.0, 8.0, 3.0, 120.0):
        moved = with_point_moved(boat, "w6", 2, (-45.0, z))
        resolved = resolved_again(moved, shown, resolved)
        shown = moved
        assert resolved == resolve(moved)
