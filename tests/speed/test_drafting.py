"""How long the pointer waits: catching, picking, filling a region, in a section of 60 walls of 12 plies."""

from math import cos, pi, sin
from typing import Any, cast

import numpy as np
import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from stringerlab.geometry.picking import Pickable, pick
from stringerlab.geometry.snapping import FIFTEEN, Targets, snap
from stringerlab.geometry.subdivision import room_at
from stringerlab.laminate import PlyNumbers, Role, Stack
from stringerlab.section import SectionShape, Side, WallShape
from stringerlab.section.catching import bodies_to_pick, targets
from stringerlab.section.solids import solids

LIMIT = 1e-3
"""Seconds for one place of the pointer."""
BUILD = 50e-3
"""Seconds to look at the section anew."""
FILL = 1.0
"""Seconds to find the room around a point, or where it leaks."""


def _ply() -> PlyNumbers:
    return PlyNumbers(
        name="ply",
        role=Role.REINFORCED,
        kind=None,
        angle=0.0,
        thickness=0.5,
        mass=750.0,
        dry_weight=250.0,
        glass=0.3,
        E1=7000.0,
        E2=7000.0,
        G12=2700.0,
        nu12=0.3,
        tension_1=100.0,
        compression_1=100.0,
        tension_2=100.0,
        compression_2=100.0,
        shear=60.0,
        flexural=100.0,
        interlaminar=15.0,
        marks=(),
    )


@pytest.fixture(scope="module")
def section() -> SectionShape:
    """Sixty hats of twelve plies, ten beside one another, six above one another."""
    stack = Stack(name="laminate", plies=(_ply(),) * 12)
    walls = [
        WallShape(
            id=f"w{10 * row + column}",
            points=tuple(
                (y + 400.0 * column, z + 150.0 * row)
                for y, z in ((-150, 6), (-85, 6), (-60, 120), (60, 120), (85, 6), (150, 6))
            ),
            fillets=(0, 18, 14, 14, 18, 0),
            side=Side.RIGHT,
            closed=False,
            stack=stack,
        )
        for row in range(6)
        for column in range(10)
    ]
    return SectionShape(name="sixty walls", walls=tuple(walls))


@pytest.fixture(scope="module")
def cursors() -> list[tuple[float, float]]:
    return [(1800 + 1900 * cos(pi * k / 50), 450 + 440 * sin(pi * k / 37)) for k in range(100)]


def _mean(benchmark: BenchmarkFixture) -> float:
    """Return the mean time of a call [s]; 0 where nothing is timed."""
    if not benchmark.enabled:
        return 0.0
    return float(cast(Any, benchmark.stats).stats.mean)


def test_pointer_is_caught_in_well_under_two_milliseconds(
    benchmark: BenchmarkFixture, section: SectionShape, cursors: list[tuple[float, float]]
):
    held: Targets = targets(section, grid=10.0)

    def walk() -> int:
        return sum(snap(held, cursor, 8.0, (0.0, 0.0)) is not None for cursor in cursors)

    assert benchmark(walk) > 90
    assert _mean(benchmark) / len(cursors) < LIMIT


def test_locked_pointer_is_as_quick(
    benchmark: BenchmarkFixture, section: SectionShape, cursors: list[tuple[float, float]]
):
    held = targets(section, grid=10.0)
    benchmark(lambda: [snap(held, cursor, 8.0, (0.0, 0.0), step=FIFTEEN) for cursor in cursors])
    assert _mean(benchmark) / len(cursors) < LIMIT


def test_pick_is_as_quick(
    benchmark: BenchmarkFixture, section: SectionShape, cursors: list[tuple[float, float]]
):
    held: Pickable = bodies_to_pick(section)
    benchmark(lambda: [pick(held, cursor, 8.0) for cursor in cursors])
    assert _mean(benchmark) / len(cursors) < LIMIT


def test_targets_are_built_within_a_few_frames(benchmark: BenchmarkFixture, section: SectionShape):
    held = benchmark(targets, section)
    assert len(held.starts) > 60 * 2 * 30
    assert _mean(benchmark) < BUILD


def test_region_among_sixty_walls_is_found_or_its_leaks_are(
    benchmark: BenchmarkFixture, section: SectionShape
):
    bounds = solids(section)

    def both() -> tuple[int, int]:
        return len(room_at(bounds, (0.0, 60.0)).outlines), len(room_at(bounds, (0.0, 215.0)).gaps)

    closed, leaks = benchmark.pedantic(both, rounds=2)
    assert closed == 1
    assert leaks > 0
    assert np.isfinite(_mean(benchmark))
    assert _mean(benchmark) < FILL
