"""Edits of members in plan: where their ends, openings and stretches come to lie."""

from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np
import pytest

from stringerlab.errors import StringerlabError
from stringerlab.layout import LandsOn, Opening
from stringerlab.layout.plan import Hand, Stretch
from stringerlab.layout.plan_geometry import (
    between,
    crossings,
    every,
    extended,
    mirrored,
    snapped,
    split,
    trimmed,
)

if TYPE_CHECKING:
    from tests.layout.conftest import Draw

FLOOR_1000 = np.array([(1000.0, 0.0), (1000.0, 900.0)])
FLOOR_3000 = np.array([(3000.0, 0.0), (3000.0, 900.0)])


def test_trimming_the_first_end_leaves_openings_and_sections_where_they_lie(draw: "Draw") -> None:
    drawn = replace(
        draw.girder("g", (0, 400), (6000, 400)),
        stretches=(Stretch(start=500, section="thin"), Stretch(start=2000, section="s2")),
        openings=tuple(Opening(x=x, height=30, width=60) for x in (700, 2500)),
        ends=(LandsOn.TRANSOM, LandsOn.SKIN),
    )
    kept = trimmed(drawn, 0, [FLOOR_1000])
    assert kept.points == ((1000, 400), (6000, 400))
    assert kept.section == "thin"
    assert [(one.start, one.section) for one in kept.stretches] == [(1000, "s2")]
    assert [hole.x for hole in kept.openings] == [1500]
    assert kept.ends == (LandsOn.AS_END, LandsOn.SKIN)


def test_trimming_the_last_end(draw: "Draw") -> None:
    kept = trimmed(draw.girder("g", (0, 400), (6000, 400)), 1, [FLOOR_1000, FLOOR_3000])
    assert kept.points == ((0, 400), (3000, 400))
    with pytest.raises(StringerlabError, match="Nothing crosses it"):
        trimmed(draw.girder("g", (0, 950), (6000, 950)), 1, [FLOOR_1000])


def test_extending_runs_straight_to_the_first_line_ahead(draw: "Draw") -> None:
    drawn = replace(
        draw.girder("g", (2000, 300), (2500, 300)), openings=(Opening(x=100, height=30, width=60),)
    )
    assert extended(drawn, 1, [FLOOR_1000, FLOOR_3000]).points[-1] == pytest.approx((3000, 300))
    aft = extended(drawn, 0, [FLOOR_1000, FLOOR_3000])
    assert aft.points[0] == pytest.approx((1000, 300))
    assert aft.openings[0].x == pytest.approx(1100)
    with pytest.raises(StringerlabError, match="meets nothing"):
        extended(drawn, 1, [FLOOR_1000])


def test_splitting_at_crossings_gives_parts_that_join(draw: "Draw") -> None:
    drawn = draw.girder("g", (0, 400), (2000, 400), (6000, 800))
    ids = iter(["m8", "m9"])
    parts = split(drawn, [FLOOR_1000, FLOOR_3000], lambda: next(ids))
    assert [part.id for part in parts] == ["g", "m8", "m9"]
    assert all(one.points[-1] == other.points[0] for one, other in pairwise(parts))
    assert np.array(parts[1].points) == pytest.approx(np.array([(1000, 400), (2000, 400), (3000, 500)]))


def test_members_between_two_are_evenly_spaced(draw: "Draw") -> None:
    one, other = draw.girder("a", (0, 200), (6000, 200)), draw.girder("b", (6000, 500), (0, 800))
    lines = between(one, other, 2)
    assert [line[0][1] for line in lines] == pytest.approx([400, 600])
    assert [line[-1][1] for line in lines] == pytest.approx([300, 400])


def test_every_pitch(draw: "Draw") -> None:
    lines = every(draw.floor("f", (400, 0), (400, 900)), 400, count=3, way=(1, 0))
    assert [line[0][0] for line in lines] == [800, 1200, 1600]
    with pytest.raises(StringerlabError, match="leads nowhere"):
        every(draw.floor("f", (400, 0), (400, 900)), 0, count=3, way=(1, 0))


def test_snapping_moves_only_ends_that_are_near(draw: "Draw") -> None:
    drawn = draw.girder("g", (1012, 400), (2900, 400))
    assert snapped(drawn, [FLOOR_1000, FLOOR_3000]).points == ((1000, 400), (2900, 400))


def test_mirroring_changes_the_hand_and_twice_is_nothing(draw: "Draw") -> None:
    drawn = draw.girder("g", (0, 400), (6000, 300), hand=Hand.PORT)
    assert mirrored(drawn).points == ((0, -400), (6000, -300))
    assert mirrored(drawn).hand is Hand.STARBOARD
    assert mirrored(mirrored(drawn)) == drawn


def test_crossings_are_told_along_the_member(draw: "Draw") -> None:
    drawn = draw.girder("g", (0, 400), (6000, 400))
    assert crossings(drawn, [FLOOR_3000, FLOOR_1000]) == pytest.approx([1000, 3000])
