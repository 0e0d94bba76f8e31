"""How long the ply stresses of a section of 40 laminates take, beside its stiffness alone."""

from collections.abc import Iterator
from time import perf_counter
from typing import Any, cast

import numpy as np
import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from stringerlab.laminate import Moduli, PlyNumbers, Role, Stack
from stringerlab.section import Plating, SectionShape, Side, WallShape, properties
from stringerlab.section.loads import SectionLoads
from stringerlab.section.ply_failure import GoverningPly
from stringerlab.section.ply_stress import ply_stresses

LIMIT = 5e-3
"""Seconds for a section of 40 laminates under three loads, with what governs each."""
LAMINATES, PLIES = 40, 6
LOADS = (
    SectionLoads(V_z=8e3, M_y=-3e6),
    SectionLoads(M_y=1.5e6),
    SectionLoads(N=1e3, M_y=1e6, M_z=2e5, V_y=500.0, V_z=2e3, T=1e5),
)


def laminate(number: int) -> Stack:
    """A laminate like no other: chopped mat and turned unidirectional plies by turns."""
    plies = tuple(
        PlyNumbers(
            name="ply",
            role=Role.REINFORCED,
            kind=None,
            angle=0.2 * ply,
            thickness=0.5 + 0.01 * number,
            mass=800.0,
            dry_weight=300.0,
            glass=0.35,
            E1=12_000.0 + 100 * number,
            E2=7_000.0,
            G12=2_800.0,
            nu12=0.3,
            tension_1=110.0,
            compression_1=130.0,
            tension_2=80.0,
            compression_2=110.0,
            shear=60.0,
            flexural=None,
            interlaminar=18.0,
            marks=(),
        )
        for ply in range(PLIES)
    )
    return Stack(name=f"laminate {number}", plies=plies)


@pytest.fixture(scope="module")
def grid() -> tuple[SectionShape, Plating]:
    """Webs side by side on one plating: 39 walls and the strip, each of a laminate of its own."""
    walls = tuple(
        WallShape(
            id=f"w{number}",
            points=((25.0 * number, 0.0), (25.0 * number, 90.0 + number)),
            fillets=(),
            side=Side.RIGHT,
            closed=False,
            stack=laminate(number),
        )
        for number in range(-19, 20)
    )
    return SectionShape(name="grid", walls=walls), Plating(stack=laminate(40), width=1100.0)


def test_section_of_40_laminates(
    benchmark: BenchmarkFixture, grid: tuple[SectionShape, Plating], capsys: pytest.CaptureFixture[str]
) -> None:
    shape, plating = grid

    def governing() -> tuple[GoverningPly, ...]:
        return ply_stresses(shape, plating, LOADS).governing

    first = governing()
    assert len({wall.stack for wall in shape.walls} | {plating.stack}) == LAMINATES
    assert all(np.isfinite(one.factor) for one in first)
    assert cast(Any, benchmark)(governing) == first
    if not benchmark.enabled:
        return
    seconds = float(cast(Any, benchmark.stats).stats.median)
    stiffness = float(np.median(list(_timed(grid))))
    benchmark.extra_info["ratio_to_stiffness"] = seconds / stiffness
    with capsys.disabled():
        print(
            f"\nply stresses of {LAMINATES} laminates of {PLIES} plies under {len(LOADS)} loads "
            f"{1e3 * seconds:.2f} ms, {seconds / stiffness:.1f} times its stiffness alone"
        )
    assert seconds < LIMIT


def _timed(grid: tuple[SectionShape, Plating]) -> Iterator[float]:
    for _ in range(50):
        start = perf_counter()
        properties(*grid, Moduli.CONTRACTED)
        yield perf_counter() - start
