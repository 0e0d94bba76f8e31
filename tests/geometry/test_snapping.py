"""What the pointer catches, in which order, and under locks."""

from math import atan2, cos, degrees, hypot, pi, sin
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stringerlab.geometry.fillet import rounded
from stringerlab.geometry.snapping import FIFTEEN, Curve, Kind, Snap, Targets, snap

LEVEL = Curve("w1", np.array([(0.0, 0.0), (100.0, 0.0)]))
UPRIGHT = Curve("w2", np.array([(30.0, -40.0), (30.0, 60.0)]))
TARGETS = Targets.of([LEVEL, UPRIGHT], grid=10.0)

CORNER = rounded(((0.0, 0.0), (100.0, 0.0), (100.0, 100.0)), (0.0, 40.0, 0.0))
ROUNDED = Curve(
    "w3",
    CORNER,
    chord=np.array([False] + [True] * 8 + [False]),
    corners=np.array([(100.0, 0.0)]),
    circles=(((60.0, 40.0), 40.0),),
)


def caught(cursor: tuple[float, float], radius: float = 4.0, **others: Any) -> Snap:
    found = snap(TARGETS, cursor, radius, **others)
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("cursor", "kind", "at", "subject"),
    [
        ((1.0, 2.0), Kind.END, (0.0, 0.0), "w1"),
        ((31.0, 58.0), Kind.END, (30.0, 60.0), "w2"),
        ((51.0, 1.0), Kind.MIDDLE, (50.0, 0.0), "w1"),
        ((29.0, 11.5), Kind.MIDDLE, (30.0, 10.0), "w2"),
        ((31.0, 1.0), Kind.INTERSECTION, (30.0, 0.0), "w1"),
        ((77.0, 2.0), Kind.NEAREST, (77.0, 0.0), "w1"),
        ((61.0, 21.0), Kind.GRID, (60.0, 20.0), ""),
    ],
)
def test_pointer_catches_the_best_thing_near_it(
    cursor: tuple[float, float], kind: Kind, at: tuple[float, float], subject: str
):
    found = caught(cursor)
    assert (found.kind, found.subject) == (kind, subject)
    assert found.at == pytest.approx(at)


def test_nothing_is_caught_in_the_open():
    assert snap(Targets.of([LEVEL]), (50.0, 30.0), 4.0) is None
    assert snap(Targets.of([]), (0.0, 0.0), 4.0) is None
    assert snap(TARGETS, (65.0, 25.0), 4.0) is None


def test_nearer_middle_beats_a_far_end_and_an_end_wins_a_tie():
    short = Targets.of([Curve("w1", np.array([(0.0, 0.0), (8.0, 0.0)]))])
    near_middle, tied = snap(short, (4.2, 0.0), 6.0), snap(short, (2.0, 0.0), 6.0)
    assert near_middle is not None
    assert tied is not None
    assert (near_middle.kind, tied.kind) == (Kind.MIDDLE, Kind.END)


def test_kinds_and_subjects_can_be_left_out():
    assert caught((1.0, 2.0), kinds={Kind.GRID}).kind is Kind.GRID
    assert caught((31.0, 1.0), without={"w2"}).kind is not Kind.INTERSECTION
    assert caught((31.0, 57.0), without={"w2"}).at == (30.0, 60.0)
    assert caught((31.0, 57.0), without={"w2"}).kind is Kind.GRID


def test_foot_of_the_perpendicular_from_the_last_point():
    found = caught((71.0, 1.0), from_point=(70.0, 40.0))
    assert (found.kind, found.subject) == (Kind.PERPENDICULAR, "w1")
    assert found.at == pytest.approx((70.0, 0.0))
    assert caught((71.0, 1.0), from_point=(140.0, 40.0)).kind is Kind.NEAREST  # its foot lies off the line


def test_arc_gives_its_centre_corner_and_tangent_points_but_no_chord_ends():
    targets = Targets.of([ROUNDED])
    centre, corner, touch = (snap(targets, at, 3.0) for at in [(61.0, 41.0), (101.0, -1.0), (60.5, 0.5)])
    assert (centre and centre.kind, centre and centre.at) == (Kind.CENTRE, (60.0, 40.0))
    assert (corner and corner.kind, corner and corner.at) == (Kind.END, (100.0, 0.0))
    assert touch is not None
    assert touch.kind is Kind.END
    assert touch.at == pytest.approx((60.0, 0.0))
    y, z = CORNER[4]
    within = snap(targets, (float(y), float(z)), 3.0)
    assert within is not None
    assert within.kind is Kind.NEAREST


def test_tangent_from_a_point_touches_the_true_arc_where_it_is_drawn():
    """From (60, −40 to the left) the tangent touches where its radius stands square to it."""
    targets = Targets.of([ROUNDED])
    angle = -pi / 4
    touch = (60 + 40 * cos(angle), 40 + 40 * sin(angle))
    start = (touch[0] + 90 * sin(angle), touch[1] - 90 * cos(angle))
    found = snap(targets, (touch[0] + 1.0, touch[1] - 0.5), 4.0, start, kinds={Kind.TANGENT})
    assert found is not None
    assert found.at == pytest.approx(touch)
    other_side = snap(targets, (60.0 - 40.0 * 0.5**0.5, 40.0 + 40.0 * 0.5**0.5), 4.0, (0.0, 0.0))
    assert other_side is None  # no arc is drawn there


def test_faces_are_said_to_be_faces():
    face = Targets.of([Curve("w1", np.array([(0.0, 0.0), (100.0, 0.0)]), face=True)], grid=10.0)
    found = snap(face, (77.0, 2.0), 4.0)
    assert found == Snap(Kind.FACE, (77.0, 0.0), "w1")
    assert found is not None


cursors = st.tuples(st.floats(-200, 200), st.floats(-200, 200))


@given(cursors, cursors, st.sampled_from([pi / 2, FIFTEEN]))
def test_held_line_keeps_its_direction_whatever_it_catches(
    cursor: tuple[float, float], start: tuple[float, float], step: float
):
    if hypot(cursor[0] - start[0], cursor[1] - start[1]) < 1.0:
        return
    found = snap(TARGETS, cursor, 5.0, start, ortho=step > 1, step=step)
    assert found is not None
    if hypot(found.at[0] - start[0], found.at[1] - start[1]) < 1e-3:
        return
    turned = degrees(atan2(found.at[1] - start[1], found.at[0] - start[0])) / degrees(step)
    assert turned == pytest.approx(round(turned), abs=1e-4)


def test_ortho_goes_level_with_an_end_across_a_line_or_onto_the_grid():
    level = caught((31.0, 58.0), from_point=(-50.0, 57.0), ortho=True)
    assert (level.kind, level.at) == (Kind.END, (30.0, 57.0))
    across = caught((31.0, 22.0), from_point=(-50.0, 23.0), ortho=True)
    assert (across.kind, across.subject) == (Kind.INTERSECTION, "w2")
    assert across.at == pytest.approx((30.0, 23.0))
    grid = caught((72.0, 22.0), from_point=(-53.0, 23.0), ortho=True)
    assert (grid.kind, grid.at) == (Kind.GRID, (70.0, 23.0))
    free = caught((75.0, 22.0), from_point=(-53.0, 23.0), ortho=True)
    assert (free.kind, free.at) == (Kind.LOCK, (75.0, 23.0))


def test_ortho_without_a_point_to_come_from_holds_nothing():
    assert caught((1.0, 2.0), ortho=True).kind is Kind.END
