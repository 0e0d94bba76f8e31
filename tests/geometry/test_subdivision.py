"""The room around a point between solids, and the gaps through which it leaks."""

import numpy as np
import pytest

from stringerlab.geometry.subdivision import Solid, room_at, solid_at


def block(name: str, y_1: float, z_1: float, y_2: float, z_2: float) -> Solid:
    return Solid(name, [[np.array([(y_1, z_1), (y_2, z_1), (y_2, z_2), (y_1, z_2)])]])


def size(ring: np.ndarray) -> float:
    y, z = ring[:, 0], ring[:, 1]
    return float((y * np.roll(z, -1) - np.roll(y, -1) * z).sum() / 2)


FLOOR, ROOF = block("floor", -50, -10, 150, 0), block("roof", -50, 80, 150, 90)
LEFT, RIGHT = block("left", -10, 0, 0, 80), block("right", 100, 0, 110, 80)


def test_room_between_touching_blocks_has_their_clear_size():
    room = room_at([FLOOR, ROOF, LEFT, RIGHT], (50.0, 40.0))
    assert [size(ring) for ring in room.outlines] == pytest.approx([100 * 80])
    assert room.gaps == ()


def test_gaps_are_found_with_their_width_and_neighbours():
    short = block("right", 100, 0, 110, 78.5)
    room = room_at([FLOOR, ROOF, LEFT, short], (50.0, 40.0))
    assert room.outlines == ()
    (gap,) = room.gaps
    assert gap.width == pytest.approx(1.5)
    assert set(gap.between) == {"right", "roof"}
    assert gap.at[1] == pytest.approx(79.25)


def test_gap_within_the_tolerance_closes():
    short = block("right", 100, 0, 110, 79.995)
    room = room_at([FLOOR, ROOF, LEFT, short], (50.0, 40.0))
    assert sum(size(ring) for ring in room.outlines) == pytest.approx(8000, rel=1e-3)


def test_islands_cut_the_room_into_pieces_that_tile_it():
    island = block("island", 40, 30, 60, 50)
    room = room_at([FLOOR, ROOF, LEFT, RIGHT, island], (10.0, 10.0))
    assert len(room.outlines) == 2
    assert sum(size(ring) for ring in room.outlines) == pytest.approx(8000 - 400)


def test_nothing_around_a_point_is_neither_room_nor_gap():
    room = room_at([FLOOR], (50.0, 40.0))
    assert (room.outlines, room.gaps) == ((), ())


def test_point_in_a_solid_is_said():
    assert solid_at([FLOOR, ROOF], (0.0, 85.0)) == "roof"
    assert solid_at([FLOOR, ROOF], (0.0, 40.0)) is None
