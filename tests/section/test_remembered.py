"""What is remembered of a section: the same numbers as worked out anew, whatever was asked before."""

import pickle
from dataclasses import replace
from math import radians

import numpy as np
import pytest

from stringerlab.laminate import Moduli, PlyNumbers, Role, Stack
from stringerlab.section import Plating, SectionShape, Side, WallShape, facts, ply_polygons, properties
from stringerlab.section.bodies import bodies
from stringerlab.section.parts import Bounded, Strip


def stack(plies: int, thickness: float = 0.5) -> Stack:
    ply = PlyNumbers(
        name="ply",
        role=Role.REINFORCED,
        kind=None,
        angle=0.0,
        thickness=thickness,
        mass=800.0,
        dry_weight=300.0,
        glass=0.35,
        E1=8000.0,
        E2=8000.0,
        G12=3000.0,
        nu12=0.3,
        tension_1=100.0,
        compression_1=120.0,
        tension_2=100.0,
        compression_2=120.0,
        shear=60.0,
        flexural=170.0,
        interlaminar=15.0,
        marks=(),
    )
    return Stack(
        name=f"{plies} plies",
        plies=tuple(replace(ply, E1=8000.0 + 10 * k, name=f"p{k}") for k in range(plies)),
    )


def walls(count: int, *, lift: float = 0.0) -> SectionShape:
    """Standing walls 50 mm apart; the middle one reaches ``lift`` higher."""
    return SectionShape(
        name="row",
        walls=tuple(
            WallShape(
                id=f"w{k}",
                points=((50.0 * k, 0.0), (50.0 * k, 100.0 + (lift if k == count // 2 else 0.0))),
                fillets=(),
                side=Side.RIGHT,
                closed=False,
                stack=stack(4),
            )
            for k in range(count)
        ),
    )


@pytest.mark.parametrize("deadrise", [0.0, radians(18.0), radians(-7.0)])
def test_a_strip_counts_as_its_outlines_do(deadrise: float) -> None:
    strip = Strip(Plating(stack=stack(5, 0.7), width=430.0, deadrise=deadrise))
    outlined = Bounded(strip.regions)
    assert strip.moments == pytest.approx(
        strip.regions.moments(np.zeros(2)), rel=1e-12, abs=1e-12 * float(strip.moments.max())
    )
    for one, other in zip(strip.heights, outlined.heights, strict=True):
        assert one == pytest.approx(other, rel=1e-12, abs=1e-11)


def test_numbers_stay_the_same_after_another_wall_was_dragged() -> None:
    plating = Plating(stack=stack(6), width=400.0, deadrise=radians(12.0))
    before = [_numbers(walls(9, lift=float(step)), plating) for step in range(40)]
    bodies.cache_clear()
    after = [_numbers(walls(9, lift=float(step)), plating) for step in reversed(range(40))]
    assert before == after[::-1]
    assert len({each[0] for each in before}) == 40


def _numbers(shape: SectionShape, plating: Plating) -> tuple[float, ...]:
    found, sizes = properties(shape, plating, Moduli.PLAIN), facts(shape, plating.deadrise)
    return found.EI_y, found.z_na, found.ES, sizes.web_area, sizes.web_depth, sizes.mass_per_length


def test_strips_of_two_widths_on_the_same_walls_differ_by_the_strip_alone() -> None:
    shape = walls(5, lift=20.0)
    narrow, wide = (
        properties(shape, Plating(stack=stack(6), width=width), Moduli.PLAIN) for width in (300.0, 500.0)
    )
    further = wide.EA - narrow.EA
    assert further == pytest.approx(200.0 * sum(ply.E1 * ply.thickness for ply in stack(6).plies), rel=1e-12)


def test_equal_sections_have_equal_hashes_and_come_through_pickling() -> None:
    one, other = walls(3, lift=5.0), walls(3, lift=5.0)
    assert one == other
    assert hash(one) == hash(other)
    again = pickle.loads(pickle.dumps(one))
    assert again == one
    assert hash(again) == hash(one)
    assert walls(3, lift=6.0) != one


def test_rings_of_a_ply_are_those_listed_for_it() -> None:
    found = ply_polygons(walls(4), Plating(stack=stack(3), width=300.0))
    ends = [*found.starts[1:].tolist(), len(found.points)]
    for ply in range(len(found.names)):
        listed = [
            found.points[start:end]
            for start, end, owner in zip(found.starts.tolist(), ends, found.ply_of_ring.tolist(), strict=True)
            if owner == ply
        ]
        assert [ring.tolist() for ring in found.rings(ply)] == [ring.tolist() for ring in listed]
        assert listed
