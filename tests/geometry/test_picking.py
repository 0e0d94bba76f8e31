"""What lies under the pointer, and what a rubber band takes."""

import numpy as np
import pytest

from stringerlab.geometry.picking import Body, Pickable, What, pick, picked_in, vertices_in


def ring(*points: tuple[float, float]) -> np.ndarray:
    return np.array(points, float)


def wall(subject: str, low: float, high: float) -> Body:
    """A level wall from y 0 to 100 with its laminate between two heights."""
    line = ring((0, low), (100, low))
    return Body(
        subject=subject,
        corners=line,
        line=line,
        chord=np.zeros(1, bool),
        corner_of=np.arange(2),
        rings=(ring((0, low), (100, low), (100, high), (0, high)),),
    )


def fill(subject: str, y: float, z: float, size: float) -> Body:
    outline = ring((y, z), (y + size, z), (y + size, z + size), (y, z + size))
    return Body(
        subject=subject,
        corners=outline,
        line=np.concatenate([outline, outline[:1]]),
        chord=np.zeros(4, bool),
        corner_of=np.array([0, 1, 2, 3, 0]),
        rings=(outline,),
        closed=True,
        fill=True,
    )


HELD = Pickable.of([wall("w1", 0, 10), wall("w2", 40, 50), fill("f1", 20, -5, 60), fill("f2", 30, 20, 15)])


@pytest.mark.parametrize(
    ("cursor", "what", "subject", "index"),
    [
        ((1.0, 1.0), What.VERTEX, "w1", 0),
        ((99.0, 41.0), What.VERTEX, "w2", 1),
        ((90.0, 1.0), What.SEGMENT, "w1", 0),
        ((90.0, 5.0), What.WALL, "w1", 0),
        ((50.0, 45.0), What.WALL, "w2", 0),
        ((37.0, 28.0), What.FILL, "f2", 0),
        ((70.0, 28.0), What.FILL, "f1", 0),
        ((79.5, 28.0), What.SEGMENT, "f1", 1),
        ((20.5, 28.0), What.SEGMENT, "f1", 3),
    ],
)
def test_pick_takes_vertex_before_leg_before_wall_before_the_smallest_fill(
    cursor: tuple[float, float], what: What, subject: str, index: int
):
    found = pick(HELD, cursor, 2.0)
    assert found is not None
    assert (found.what, found.subject, found.index) == (what, subject, index)


def test_pick_in_the_open_is_nothing():
    assert pick(HELD, (150.0, 100.0), 2.0) is None
    assert pick(Pickable.of([]), (0.0, 0.0), 2.0) is None


def test_selected_lines_come_first_even_when_another_is_nearer():
    assert pick(HELD, (40.0, 34.9), 6.0) is not None
    nearest = pick(HELD, (60.0, 39.0), 9.0)
    assert nearest is not None
    assert nearest.subject == "w2"
    first = pick(HELD, (78.0, 39.0), 5.0, first=["f1"])
    assert first is not None
    assert first.subject == "f1"


def test_pick_only_of_some_sorts():
    found = pick(HELD, (1.0, 1.0), 2.0, only={What.SEGMENT, What.FILL})
    assert found is not None
    assert found.what is What.SEGMENT
    assert pick(HELD, (90.0, 5.0), 2.0, only={What.FILL}) is None


def test_band_takes_what_lies_in_it_whole():
    assert picked_in(HELD, (-1, -1), (101, 60)) == ("w1", "w2", "f2")
    assert picked_in(HELD, (101, 60), (-1, -1)) == ("w1", "w2", "f2")
    assert picked_in(HELD, (29, 19), (46, 36)) == ("f2",)


def test_crossing_band_takes_what_it_touches_or_lies_in():
    assert picked_in(HELD, (-5, -5), (5, 5), touching=True) == ("w1",)
    assert picked_in(HELD, (50, 24), (52, 26), touching=True) == ("f1",)
    assert picked_in(HELD, (35, 25), (36, 26), touching=True) == ("f1", "f2")
    assert picked_in(HELD, (84, 2), (86, 4), touching=True) == ("w1",)
    assert picked_in(HELD, (84, 12), (86, 38), touching=True) == ()
    assert picked_in(HELD, (84, 12), (86, 42), touching=True) == ("w2",)


def test_hole_of_a_closed_wall_is_not_the_wall():
    outer, inner = ring((0, 0), (40, 0), (40, 40), (0, 40)), ring((5, 5), (35, 5), (35, 35), (5, 35))
    box = Body(
        subject="w1",
        corners=outer,
        line=np.concatenate([outer, outer[:1]]),
        chord=np.zeros(4, bool),
        corner_of=np.array([0, 1, 2, 3, 0]),
        rings=(outer, inner),
        closed=True,
    )
    held = Pickable.of([box])
    assert pick(held, (20.0, 20.0), 1.0) is None
    found = pick(held, (20.0, 2.5), 1.0)
    assert found is not None
    assert found.what is What.WALL
    assert picked_in(held, (15, 15), (25, 25), touching=True) == ()


def test_band_takes_single_vertices():
    assert vertices_in(HELD, (-1, -1), (1, 41)) == (("w1", 0), ("w2", 0))
