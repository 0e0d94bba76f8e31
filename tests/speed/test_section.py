"""How long a hat's stiffness takes, beside sectionproperties' geometric analysis of the same regions."""

from dataclasses import replace
from itertools import count
from typing import Any, cast

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from stringerlab.laminate import Moduli, PlyNumbers, Role, Stack
from stringerlab.section import (
    Facts,
    FillShape,
    Plating,
    Properties,
    SectionShape,
    Side,
    WallShape,
    facts,
    properties,
)
from stringerlab.section.second_opinion import second_opinion

Hat = tuple[SectionShape, Plating]

LIMIT = 0.3e-3
"""Seconds for the stiffness of a hat of 60 ply polygons."""


def laminate(plies: int, thickness: float) -> Stack:
    return Stack(
        name="laminate",
        plies=tuple(
            PlyNumbers(
                name="ply",
                role=Role.REINFORCED,
                kind=None,
                angle=0.0,
                thickness=thickness,
                mass=1500 * thickness,
                dry_weight=500 * thickness,
                glass=0.3,
                E1=6000.0 + 100 * number,
                E2=6000.0,
                G12=2500.0,
                nu12=0.3,
                tension_1=90.0,
                compression_1=120.0,
                tension_2=90.0,
                compression_2=120.0,
                shear=60.0,
                flexural=150.0,
                interlaminar=15.0,
                marks=(),
            )
            for number in range(plies)
        ),
    )


@pytest.fixture(scope="module")
def hat() -> tuple[SectionShape, Plating]:
    """A hat of 54 plies on a strip of 6, with four fillets: 60 ply polygons."""
    t = 54 * 0.12
    wall = WallShape(
        id="w1",
        points=((-160, t), (-90, t), (-60, 150), (60, 150), (90, t), (160, t)),
        fillets=(0, 20, 20, 20, 20, 0),
        side=Side.RIGHT,
        closed=False,
        stack=laminate(54, 0.12),
    )
    return SectionShape(name="hat", walls=(wall,)), Plating(stack=laminate(6, 1.0), width=600.0)


def moved(hat: Hat) -> tuple[tuple[SectionShape, Plating, Moduli], dict[str, Any]]:
    """Return the hat with crown and strip as they never were: nothing of it is remembered."""
    shape, plating = hat
    step = 1e-6 * next(_steps)
    points = tuple((y, z + step if z > 100 else z) for y, z in shape.walls[0].points)
    walls = (replace(shape.walls[0], points=points),)
    return (replace(shape, walls=walls), replace(plating, width=plating.width + step), Moduli.PLAIN), {}


_steps = count(1)


def test_stiffness_of_a_hat_of_60_ply_polygons(
    benchmark: BenchmarkFixture, hat: Hat, capsys: pytest.CaptureFixture[str]
) -> None:
    def fresh() -> tuple[tuple[SectionShape, Plating, Moduli], dict[str, Any]]:
        return moved(hat)

    found = cast(Properties, benchmark.pedantic(properties, setup=fresh, rounds=2000, warmup_rounds=20))
    assert len(found.fibres.names) == 60
    if not benchmark.enabled:
        return
    theirs = second_opinion(hat[0], hat[1], Moduli.PLAIN)
    assert properties(*hat, Moduli.PLAIN).EI_y == pytest.approx(theirs.EI_y, rel=1e-9)
    seconds = float(cast(Any, benchmark.stats).stats.median)
    benchmark.extra_info["ours_ms"] = 1e3 * seconds
    benchmark.extra_info["sectionproperties_analysis_ms"] = 1e3 * theirs.analysis
    benchmark.extra_info["sectionproperties_meshing_ms"] = 1e3 * theirs.meshing
    benchmark.extra_info["ratio_to_their_analysis"] = theirs.analysis / seconds
    with capsys.disabled():
        print(
            f"\nstiffness of 60 ply polygons {1e3 * seconds:.3f} ms; sectionproperties' analysis of the "
            f"same regions {1e3 * theirs.analysis:.0f} ms, {theirs.analysis / seconds:.0f} times as long, "
            f"and {1e3 * theirs.meshing:.0f} ms to mesh them first"
        )
    assert seconds < LIMIT


def test_sizes_of_a_hat(benchmark: BenchmarkFixture, hat: Hat) -> None:
    def fresh() -> tuple[tuple[SectionShape], dict[str, Any]]:
        return moved(hat)[0][:1], {}

    found = cast(Facts, benchmark.pedantic(facts, setup=fresh, rounds=500, warmup_rounds=20))
    assert found.web_area > 0


def test_stiffness_of_a_hat_cut_to_its_foam(benchmark: BenchmarkFixture, hat: Hat) -> None:
    shape, plating = hat
    foam = FillShape(
        id="f1",
        points=((-85, 0), (85, 0), (58, 147), (-58, 147)),
        name="foam",
        density=60,
        modulus=0,
        strength=None,
    )
    filled = SectionShape(name="hat", walls=shape.walls, fills=(foam,))

    def fresh() -> tuple[tuple[SectionShape, Plating, Moduli], dict[str, Any]]:
        return moved((filled, plating))

    found = cast(Properties, benchmark.pedantic(properties, setup=fresh, rounds=200, warmup_rounds=5))
    assert found.repairs
