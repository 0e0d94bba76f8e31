"""A wall lying on the hull: none of it counts unbonded, all but its voids bonded; its mass always."""

import pickle
from collections.abc import Callable
from dataclasses import replace
from math import radians

import numpy as np
import pytest

from stringerlab.laminate import Moduli, Stack
from stringerlab.section import (
    OnHull,
    Plating,
    Properties,
    Section,
    SectionShape,
    Side,
    Wall,
    WallShape,
    facts,
    lying_faults,
    lying_notes,
    properties,
)
from stringerlab.section.second_opinion import second_opinions
from stringerlab.section.shapes import Laid, pan_on_hull

Lay = Callable[..., Stack]
BEAD = 3.0


def section(deadrise: float = 0.0) -> Section:
    drawn = pan_on_hull(
        laminate=Laid("l1", 4.0),
        pan=Laid("l2", 6.0),
        height=110,
        crown_width=80,
        flange_width=55,
        pan_width=120,
        draft=6,
        crown_radius=15,
        root_radius=12,
        bead=BEAD,
        deadrise=deadrise,
    )
    return Section(id="s1", name="pan", walls=drawn.walls, bead=BEAD)


def resolved(drawn: Section, lay: Lay, counted: float) -> SectionShape:
    stacks = {"l1": lay((1.0, 7000.0), (3.0, 12000.0)), "l2": lay((2.0, 9000.0), (3.5, 14000.0), gel=0.5)}
    return SectionShape(
        name=drawn.name,
        walls=tuple(
            WallShape(
                id=wall.id,
                points=wall.points,
                fillets=wall.fillets,
                side=wall.side,
                closed=False,
                stack=stacks[wall.laminate],
                counted=counted if wall.on_hull else 1.0,
            )
            for wall in drawn.walls
        ),
        bead=drawn.bead,
    )


def at_origin(of: Properties) -> np.ndarray:
    """Area and moments by modulus about a point 500 mm below the origin, where all are above 0."""
    z = of.z_na + 500
    return np.array([of.EA, of.EA * z, of.EI_y + of.EA * z**2, of.EI_z + of.EA * of.y_na**2])


@pytest.mark.parametrize("moduli", list(Moduli))
@pytest.mark.parametrize("counted", [0.1, 0.5, 0.9, 1.0])
def test_stiffness_lies_between_none_and_all_in_proportion(counted: float, moduli: Moduli, lay: Lay) -> None:
    strip = Plating(stack=lay((8.0, 11000.0)), width=420.0)
    drawn = section()
    none, some, full = (
        at_origin(properties(resolved(drawn, lay, share), strip, moduli)) for share in (0.0, counted, 1.0)
    )
    assert (full > none * 1.01).all()
    np.testing.assert_allclose(some, none + counted * (full - none), rtol=1e-12)


def test_unbonded_it_is_as_if_it_were_not_drawn_but_for_its_mass(lay: Lay) -> None:
    strip = Plating(stack=lay((8.0, 11000.0)), width=420.0)
    shape = resolved(section(), lay, 0.0)
    alone = replace(shape, walls=shape.walls[:1])
    found, bare = properties(shape, strip, Moduli.PLAIN), properties(alone, strip, Moduli.PLAIN)
    assert found.EI_y == pytest.approx(bare.EI_y, rel=1e-12)
    assert found.fibres.names == bare.fibres.names
    np.testing.assert_allclose(found.modulus(), bare.modulus(), rtol=1e-12)
    assert found.area == pytest.approx(bare.area, rel=1e-12)
    assert pytest.approx(1.0, rel=1e-12) == found.ES / bare.ES
    pans = 2 * 120 * 6.0 * 1500e-6
    assert facts(shape).mass_per_length == pytest.approx(facts(alone).mass_per_length + pans, rel=1e-9)


def test_voids_lessen_what_it_counts_but_not_the_stress_in_what_is_bonded(lay: Lay) -> None:
    whole = properties(resolved(section(), lay, 1.0), None, Moduli.PLAIN)
    less = properties(resolved(section(), lay, 0.8), None, Moduli.PLAIN)
    full, some = whole.fibres, less.fibres
    assert less.EA < whole.EA
    pan = np.array([name.startswith(("w2", "w3")) for name in full.names])
    assert pan.sum() == 4  # two plies each; gel coat is none
    np.testing.assert_array_equal(some.E, full.E)
    np.testing.assert_array_equal(some.tension, full.tension)
    np.testing.assert_array_equal(some.compression, full.compression)


def test_only_a_bonded_pan_adds_to_the_bonded_width(lay: Lay) -> None:
    drawn = section()
    off, on = (facts(resolved(drawn, lay, share)) for share in (0.0, 0.9))
    assert on.bonded_width == pytest.approx(off.bonded_width + 240, rel=1e-9)
    assert on.web_area == off.web_area
    assert on.base_width == off.base_width


def test_what_counts_is_part_of_a_walls_value(lay: Lay) -> None:
    one, other = (resolved(section(), lay, share) for share in (0.0, 0.9))
    assert one != other
    assert hash(one) != hash(other)
    assert one == resolved(section(), lay, 0.0)
    again = pickle.loads(pickle.dumps(other))
    assert again == other
    assert [wall.counted for wall in again.walls] == [1.0, 0.9, 0.9]


def test_second_opinion_on_a_pan_counted_in_part_and_not(lay: Lay) -> None:
    strip = Plating(stack=lay((8.0, 11000.0)), width=420.0)
    shapes = [resolved(section(), lay, share) for share in (0.0, 0.85)]
    for shape, theirs in zip(
        shapes, second_opinions([(shape, strip, Moduli.PLAIN) for shape in shapes]), strict=True
    ):
        ours = properties(shape, strip, Moduli.PLAIN)
        assert pytest.approx(1.0, rel=1e-9) == ours.EA / theirs.EA
        assert ours.EI_y == pytest.approx(theirs.EI_y, rel=1e-9)
        assert ours.EI_z == pytest.approx(theirs.EI_z, rel=1e-9)


@pytest.mark.parametrize("deadrise", [0.0, 20.0])
def test_a_pan_on_its_bead_lies_on_the_hull(deadrise: float, lay: Lay) -> None:
    drawn = section(deadrise)
    assert lying_faults(drawn, resolved(drawn, lay, 0.0), radians(deadrise)) == ()
    wrong = lying_faults(drawn, resolved(drawn, lay, 0.0), radians(deadrise + 4))
    assert [problem.where for problem in wrong] == ["section 'pan', wall 'w2'", "section 'pan', wall 'w3'"]


@pytest.mark.parametrize(
    ("points", "lies"),
    [
        (((0.0, 9.0), (120.0, 9.0)), True),
        (((0.0, 6.0), (120.0, 6.0)), True),  # right on the shell
        (((0.0, 9.4), (120.0, 9.4)), True),
        (((0.0, 9.6), (120.0, 9.6)), False),
        (((0.0, 9.0), (120.0, 30.0)), False),
        (((0.0, 9.0), (60.0, 9.0), (60.0, 60.0)), False),
        (((0.0, 5.0), (120.0, 5.0)), False),  # in the shell
    ],
)
def test_a_marked_wall_must_lie_on_shell_or_bead(
    points: tuple[tuple[float, float], ...], lies: bool, lay: Lay
) -> None:
    wall = Wall(id="w1", points=points, laminate="l2", side=Side.RIGHT, on_hull=OnHull())
    drawn = Section(id="s1", name="pan", walls=(wall,), bead=BEAD)
    found = lying_faults(drawn, resolved(drawn, lay, 0.0), 0.0)
    assert (found == ()) is lies
    for problem in found:
        assert "marked as lying on the hull" in problem.what


def test_what_counts_is_said() -> None:
    drawn = section()
    assert lying_notes(drawn) == (
        "pan on hull not counted: left pan is not marked fully bonded",
        "pan on hull not counted: right pan is not marked fully bonded",
    )
    bonded = replace(
        drawn,
        walls=tuple(
            replace(wall, on_hull=OnHull(fully_bonded=True, voids=0.15)) if wall.on_hull else wall
            for wall in drawn.walls
        ),
    )
    assert lying_notes(bonded)[0] == (
        "pan on hull counted at 85 %: left pan is marked fully bonded, 15 % voids allowed"
    )
    assert lying_notes(replace(drawn, walls=drawn.walls[:1])) == ()
