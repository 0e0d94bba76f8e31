"""Bays, and bases with clear areas, cover the bottom exactly, whatever is drawn."""

from typing import TYPE_CHECKING

import numpy as np
import pytest
import shapely
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from stringerlab.craft import bottom
from stringerlab.layout.find import found
from stringerlab.layout.plan import GridRules, Hand, Layout, Member, MemberKind

if TYPE_CHECKING:
    from tests.layout.conftest import Draw

WHERE = st.tuples(st.floats(-300, 9000), st.floats(-1600, 1600))
ROUND = st.tuples(st.integers(0, 29).map(lambda k: 300.0 * k), st.integers(-5, 5).map(lambda k: 300.0 * k))


@st.composite
def members(draw: st.DrawFn) -> tuple[Member, ...]:
    made: list[Member] = []
    for number in range(draw(st.integers(0, 9))):
        place = draw(st.sampled_from([WHERE, ROUND]))
        made.append(
            Member(
                id=f"m{number}",
                name=f"m{number}",
                kind=draw(st.sampled_from(list(MemberKind))),
                hand=draw(st.sampled_from(list(Hand))),
                points=tuple(draw(st.lists(place, min_size=1, max_size=4))),
                section=draw(st.sampled_from(["s1", "s2", "thin"])),
            )
        )
    return tuple(made)


def _parallel(one: np.ndarray, two: np.ndarray) -> bool:
    return abs(one[0] * two[1] - one[1] * two[0]) < 0.05 * np.hypot(*one) * np.hypot(*two)


def plan_area(ring: np.ndarray) -> float:
    p = ring - ring[0]
    x, y = p.T
    return float((x * np.roll(y, -1) - np.roll(x, -1) * y).sum() / 2)


RELAXED = settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture], database=None
)


@given(drawn=members(), keel=st.booleans())
@RELAXED
def test_bays_tile_the_bottom(draw: "Draw", drawn: tuple[Member, ...], keel: bool) -> None:
    layout = Layout(id="l", name="l", members=drawn, rules=GridRules(keel_bounds=keel))
    result = found(layout, draw.warped, draw.sizes)
    areas = [plan_area(ring) for bay in result.bays for ring in bay.rings]
    assert min(areas) > 0
    assert sum(areas) == pytest.approx(plan_area(bottom(draw.warped).outline), rel=1e-9)


@given(drawn=members())
@RELAXED
def test_what_of_a_bay_is_under_no_base_is_clear(draw: "Draw", drawn: tuple[Member, ...]) -> None:
    layout = Layout(id="l", name="l", members=drawn)
    result = found(layout, draw.flat, draw.sizes)
    section = {span.id: span.section for span in result.spans}
    places = np.random.default_rng(6).random((200, 2))
    for bay in result.bays:
        ring = shapely.Polygon(bay.rings[0])
        if ring.convex_hull.area > ring.area * (1 + 1e-9):
            continue
        ways = [np.subtract(side.end, side.start) for side in bay.sides]
        if len(ways) < 3 or any(
            _parallel(one, two) for one, two in zip(ways, ways[1:] + ways[:1], strict=True)
        ):
            continue  # a member along part of an edge has a base only there
        if shapely.Polygon([side.start for side in bay.sides]).area < ring.area * (1 - 1e-12):
            continue  # a side that bends is named from corner to corner
        low, high = bay.rings[0].min(axis=0), bay.rings[0].max(axis=0)
        here = low + places * (high - low)
        margin = np.full(len(here), np.inf)
        for side in bay.sides:
            half = draw.sizes[section[side.span]].base_width / 2 if side.span else 0.0
            start, way = np.array(side.start), np.subtract(side.end, side.start)
            off = (way[0] * (here - start)[:, 1] - way[1] * (here - start)[:, 0]) / np.hypot(*way)
            margin = np.minimum(margin, off - half)
        clear = shapely.Polygon(bay.clear[0]) if len(bay.clear[0]) else shapely.Polygon()
        inside = shapely.contains_xy(clear, here)
        sure = np.abs(margin) > 1e-6
        assert (inside == (margin > 0))[sure].all()


def test_regular_bays_and_bases_cover_the_bottom_to_the_last_digit(draw: "Draw") -> None:
    girders = [draw.girder(f"g{y}", (0, y), (6000, y)) for y in (300, 700)]
    floors = [draw.floor(f"f{x}", (x, 0), (x, 1000)) for x in (1000, 2500, 4500)]
    result = draw.found(draw.flat, *girders, *floors)
    clear = sum(plan_area(ring) for bay in result.bays for ring in bay.clear)
    # 4 girders of 100 and 3 floors of 60 on 6000 × 2000, their crossings counted once
    assert clear == pytest.approx((6000 - 3 * 60) * (2000 - 4 * 100), rel=1e-12)


def test_an_island_of_members_is_a_bay_within_a_bay(draw: "Draw") -> None:
    box = draw.girder("b", (2000, 200), (3000, 200), (3000, 600), (2000, 600), (2000, 200))
    result = draw.found(draw.flat, box)
    areas = sorted(plan_area(ring) for bay in result.bays for ring in bay.rings)
    assert areas == pytest.approx([4e5, 4e5, 56e5, 56e5], rel=1e-9)
