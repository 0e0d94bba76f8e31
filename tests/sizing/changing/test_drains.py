"""Limber holes beside transverses that are set out anew stay beside them; other holes stay where they are."""

from dataclasses import replace
from itertools import pairwise
from math import hypot

import pytest

from stringerlab.data import folder
from stringerlab.files import load
from stringerlab.layout.openings import Hole, Opening
from stringerlab.layout.plan import Member, MemberKind
from stringerlab.project import Project
from stringerlab.project.edits import replaced
from stringerlab.project.planning_parts import member_of
from stringerlab.project.resolving import problems
from stringerlab.sizing.changing.transverses import set_out

ROW = ("b126", "b127", "b129", "b130", "b131", "b133")
ENGINE = 3200.0
INNER = "b124"


@pytest.fixture(scope="module")
def launch() -> Project:
    return load(folder("sample_projects") / "tidewrack_layout.json")


def places(project: Project) -> list[float]:
    layout = next(one for one in project.layouts if one.id == project.layout)
    return sorted(one.points[0][0] for one in layout.members if one.kind is MemberKind.TRANSVERSE)


def along(member: Member, x: float) -> float:
    """Return how far along a member, in plan, it stands at x: by hand, from corner to corner."""
    run = 0.0
    for (x_a, y_a), (x_b, y_b) in pairwise(member.points):
        if x_a <= x <= x_b:
            return run + hypot(x_b - x_a, y_b - y_a) * (x - x_a) / (x_b - x_a)
        run += hypot(x_b - x_a, y_b - y_a)
    raise AssertionError(x)


@pytest.mark.parametrize("count", [2, 3, 4, 5, 7, 8])
def test_a_row_of_any_number_is_as_sound_as_it_was(launch: Project, count: int) -> None:
    assert set(problems(set_out(launch, ROW, count))) <= set(problems(launch))


@pytest.mark.parametrize(("count", "foremost"), [(5, 4575.0), (7, 5700.0)])
def test_the_keel_drains_as_far_before_every_floor_as_it_did(
    launch: Project, count: int, foremost: float
) -> None:
    """It drains before the transom, the engine bulkhead and floors up to 5200; not before that at 6200."""
    held = [one.x for one in member_of(launch, "b123").openings]
    assert held == [80.0, 1280.0, 2280.0, 3280.0, 4280.0, 5280.0]
    made = set_out(launch, ROW, count)
    drained = {round(one.x - 80.0, 3) for one in member_of(made, "b123").openings}
    gap = (7950.0 - 1200.0) / (count - 1)
    floors = {round(1200.0 + k * gap, 3) for k in range(count)}
    assert drained == {place for place in floors if place <= foremost} | {0.0, ENGINE}


def test_a_hole_stands_against_a_bulkhead_that_is_too_near(launch: Project) -> None:
    """Of 8 floors one stands at 3128.6, 71.4 mm before the bulkhead: its 50 mm hole just fits between."""
    drained = [one.x for one in member_of(set_out(launch, ROW, 8), "b123").openings]
    between = [x for x in drained if 1200 + 2 * 6750 / 7 < x < ENGINE]
    assert between == [pytest.approx(ENGINE - 25.0, abs=1.5)]


def test_along_a_bent_member_holes_move_by_what_its_crossing_does(launch: Project) -> None:
    made = set_out(launch, ROW, 5)
    member = member_of(launch, INNER)
    beside = [one.x for one in member.openings if abs(one.x - along(member, 6200.0)) < 200]
    (at,) = [place for place in places(made) if abs(place - 6262.5) < 0.1]
    now = [one.x for one in member_of(made, INNER).openings if abs(one.x - along(member, at)) < 200]
    assert len(beside) == len(now) == 1
    assert now[0] - along(member, at) == pytest.approx(beside[0] - along(member, 6200.0), abs=1e-3)


def test_holes_of_no_floor_stay(launch: Project) -> None:
    keel = member_of(launch, "b123")
    pipe = Opening(kind=Hole.LIGHTENING, x=2300.0, height=40.0, width=40.0, bottom=60.0, radius=20.0)
    amidships = Opening(kind=Hole.LIMBER, x=4700.0, height=35.0, width=50.0, radius=12.0)
    held = tuple(sorted((*keel.openings, pipe, amidships), key=lambda one: one.x))
    boat = replaced(launch, replace(keel, openings=held))
    now = member_of(set_out(boat, ROW, 5), "b123").openings
    assert pipe in now
    assert amidships in now
    assert set(keel.openings[:1]) <= set(now)


def test_a_row_that_stays_keeps_every_hole(launch: Project) -> None:
    even = set_out(launch, ROW, 7)
    layout = next(one for one in even.layouts if one.id == even.layout)
    row = tuple(one.id for one in layout.members if one.kind is MemberKind.TRANSVERSE)
    assert set_out(even, row, 7) is even
