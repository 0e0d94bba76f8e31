"""Every starting shape: sound as begun, refused where it cannot be, its stiffness proved independently."""

from collections.abc import Callable
from dataclasses import replace
from math import nan, radians
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stringerlab.errors import StringerlabError
from stringerlab.laminate import Moduli, PlyNumbers, Role, Stack
from stringerlab.section import (
    FillShape,
    Plating,
    SectionShape,
    WallShape,
    facts,
    ply_polygons,
    problems,
    properties,
)
from stringerlab.section.second_opinion import Opinion, second_opinions
from stringerlab.section.shapes import STARTERS, Asked, Drawn, Laid, Starter, starter

Lay = Callable[..., Stack]
NAMES = [shape.id for shape in STARTERS]
MIRRORED = [
    "low_profile_hat",
    "box_girder",
    "grid_pan",
    "pan_on_hull",
    "knee",
    "keel_girder",
    "engine_bed",
]
"""Shapes that are the same left for right on a level shell, plates that build to one side left out."""
RELATIVE = 1e-9


def shape_of(name: str) -> Starter:
    found = starter(name)
    assert found is not None
    return found


def begun(
    name: str, thickness: float = 4.0, *, bead: float = 3.0, deadrise: float = 0.0, **sizes: Any
) -> Drawn:
    """A shape as begun, all of one thickness, some of its sizes otherwise."""
    shape = shape_of(name)
    laid = {each.key: Laid(each.key, thickness) for each in shape.asks(Asked.LAMINATE)}
    own = {**shape.begins(thickness, deadrise), **sizes}
    return shape.drawn(laid, own, shape.solids(), bead=bead, deadrise=deadrise)


def resolved(
    name: str, drawn: Drawn, stack: Stack, *, bead: float = 3.0, counted: bool = True
) -> SectionShape:
    return SectionShape(
        name=name,
        walls=tuple(
            WallShape(
                id=wall.id,
                points=wall.points,
                fillets=wall.fillets,
                side=wall.side,
                closed=wall.closed,
                stack=stack,
                counted=1.0 if counted or wall.on_hull is None else wall.on_hull.counted,
            )
            for wall in drawn.walls
        ),
        fills=tuple(
            FillShape(id=fill.id, points=fill.points, name=fill.name, density=1600, modulus=3000, strength=20)
            for fill in drawn.fills
        ),
        laps=drawn.laps,
        bead=bead if shape_of(name).on_bead else 0.0,
    )


@pytest.mark.parametrize("thickness", [1.5, 4.0, 6.9, 15.0])
@pytest.mark.parametrize("name", NAMES)
def test_begun_without_typing_it_is_sound(name: str, thickness: float, lay: Lay) -> None:
    drawn = begun(name, thickness)
    shape = resolved(name, drawn, lay((thickness / 3, 7000.0), (thickness * 2 / 3, 12000.0)))
    assert problems(shape, 0.0) == ()
    ids = [part.id for part in (*drawn.walls, *drawn.fills)]
    assert len(set(ids)) == len(ids)
    assert all(part.name for part in (*drawn.walls, *drawn.fills))


@pytest.mark.parametrize("deadrise", [8.0, 24.0])
@pytest.mark.parametrize("name", [shape.id for shape in STARTERS if shape.on_slope])
def test_begun_on_a_sloping_shell_it_is_sound_and_its_flanges_lie_on_the_bead(
    name: str, deadrise: float, lay: Lay
) -> None:
    shape = resolved(name, begun(name, deadrise=deadrise), lay((4.0, 9000.0)))
    assert problems(shape, radians(deadrise)) == ()
    assert facts(shape, radians(deadrise)).bonded_width > 40


@pytest.mark.parametrize("name", NAMES)
def test_a_shape_turned_left_for_right_is_as_stiff(name: str, lay: Lay) -> None:
    shape = resolved(name, begun(name), lay((1.0, 7000.0), (3.0, 12000.0)))
    found = properties(shape, None, Moduli.PLAIN)
    if name in MIRRORED:
        assert found.y_na == pytest.approx(0, abs=1e-9)
        assert found.EI_yz == pytest.approx(0, abs=1e-9 * found.EI_1)
        left = [wall.points for wall in shape.walls]
        right = [tuple((-y, z) for y, z in reversed(points)) for points in left]
        assert {tuple(round(c, 9) for p in points for c in p) for points in left} == {
            tuple(round(c, 9) for p in points for c in p) for points in right
        }
    else:
        assert abs(found.y_na) > 1e-6 or abs(found.EI_yz) > 1e-6 * found.EI_1


@pytest.fixture(scope="module")
def opinions(lay: Lay) -> dict[str, tuple[SectionShape, Plating | None, Opinion]]:
    """One process for all shapes, each on its strip."""
    stack, hull = (
        lay((1.0, 6400.0), (1.5, 13240.0), (1.5, 9000.0)),
        lay((3.0, 7000.0), (4.0, 12000.0), gel=0.6),
    )
    cases: list[tuple[SectionShape, Plating | None, Moduli]] = [
        (resolved(name, begun(name), stack), Plating(stack=hull, width=260.0), Moduli.PLAIN) for name in NAMES
    ]
    found = second_opinions(cases)
    return {name: (case[0], case[1], one) for name, case, one in zip(NAMES, cases, found, strict=True)}


@pytest.mark.parametrize("name", NAMES)
def test_stiffness_agrees_with_sectionproperties(
    name: str, opinions: dict[str, tuple[SectionShape, Plating | None, Opinion]]
) -> None:
    shape, plating, theirs = opinions[name]
    ours = properties(shape, plating, Moduli.PLAIN)
    for quantity in ("area", "EA", "EI_y", "EI_z"):
        assert getattr(ours, quantity) == pytest.approx(getattr(theirs, quantity), rel=RELATIVE), quantity
    assert ours.EI_yz == pytest.approx(theirs.EI_yz, abs=RELATIVE * ours.EI_1)


@pytest.mark.parametrize("name", NAMES)
def test_every_impossible_number_is_said_at_once(name: str) -> None:
    shape = shape_of(name)
    lengths = [each for each in shape.asks(Asked.LENGTH) if each.begins > 0]
    with pytest.raises(StringerlabError) as caught:
        begun(name, bead=0.0, **{each.key: -1.0 for each in lengths})
    assert len(caught.value.problems) >= len(lengths)
    for each in lengths:
        with pytest.raises(StringerlabError):
            begun(name, **{each.key: nan})
        with pytest.raises(StringerlabError):
            begun(name, **{each.key: -3.0})


@pytest.mark.parametrize(
    ("name", "sizes", "place"),
    [
        ("low_profile_hat", {"flange_width": 9999.0}, "size"),
        ("low_profile_hat", {"cap_width": 200.0}, "cap width"),
        ("low_profile_hat", {"cap_coats": 2.5}, "cap coats"),
        ("low_profile_hat", {"cap_step": 80.0}, "cap step"),
        ("low_profile_hat", {"draft": 50.0}, "draft"),
        (
            "low_profile_hat",
            {"cap_coats": 8, "cap_step": 2.0, "height": 30.0, "crown_radius": 5.0, "root_radius": 5.0},
            "crown cap 8",
        ),
        ("box_girder", {"lip_width": 90.0}, "lip width"),
        ("box_girder", {"sole_width": 150.0}, "sole width"),
        ("box_girder", {"height": 5.0}, "left web"),
        ("grid_pan", {"pan_height": 6.0}, "pan height"),
        ("grid_pan", {"pan_height": 130.0}, "pan height"),
        ("grid_pan", {"spacing": 90.0}, "spacing"),
        ("pan_on_hull", {"crown_radius": 3.0}, "fillet between left web and crown"),
        ("pan_on_hull", {"voids": 1.0}, "voids"),
        ("flanged_floor", {"tab_height": 190.0}, "tab height"),
        ("flanged_floor", {"bed": 90.0}, "bed"),
        ("flanged_floor", {"corner_radius": 3.0}, "fillet between plate and flange"),
        ("flanged_floor", {"tab_coats": 0}, "tab coats"),
        ("flanged_floor", {"tab_coats": 8, "tab_step": 1.0}, "fillet between tab height and tab width"),
        ("knee", {"depth": 9.0}, "depth"),
        ("knee", {"corner_radius": 60.0}, "flange"),
        ("chine_landing", {"chine_angle": 80.0}, "chine angle"),
        ("chine_landing", {"landing_width": 40.0, "height": 400.0, "chine_angle": 150.0}, "landing width"),
        ("keel_girder", {"keel_flat": 100.0}, "keel flat"),
        ("keel_girder", {"vee": 70.0}, "vee"),
        ("engine_bed", {"block_width": 90.0}, "block width with its cover's laps"),
        ("engine_bed", {"block_depth": 20.0}, "left side of the block"),
        ("bulkhead_strip", {"bed": 120.0}, "bed"),
        ("bulkhead_strip", {"tab_height": 300.0}, "tab height"),
    ],
)
def test_what_does_not_fit_is_named(name: str, sizes: dict[str, float], place: str) -> None:
    with pytest.raises(StringerlabError) as caught:
        begun(name, **sizes)
    said = [str(problem) for problem in caught.value.problems]
    assert any(f", {place}:" in line for line in said), said


def test_a_pan_that_lies_on_the_hull_is_no_grid_pan() -> None:
    with pytest.raises(StringerlabError, match="counts only where it is fully bonded"):
        begun("grid_pan", pan_height=7.0, bead=3.0)


@given(
    name=st.sampled_from(NAMES),
    thickness=st.floats(0.8, 12.0),
    bead=st.floats(0.0, 8.0),
    deadrise=st.floats(0.0, 25.0),
    scale=st.dictionaries(st.integers(0, 14), st.floats(0.5, 1.6), max_size=4),
)
@settings(max_examples=150, deadline=None)
def test_a_shape_is_sound_or_says_why_not(
    name: str, thickness: float, bead: float, deadrise: float, scale: dict[int, float]
) -> None:
    shape = shape_of(name)
    lengths = shape.asks(Asked.LENGTH)
    begins = shape.begins(thickness, deadrise)
    sizes = {lengths[i].key: begins[lengths[i].key] * by for i, by in scale.items() if i < len(lengths)}
    slope = deadrise if shape.on_slope else 0.0
    try:
        drawn = begun(name, thickness, bead=bead, deadrise=slope, **sizes)
    except StringerlabError:
        return
    ply = PlyNumbers(
        name="mat",
        role=Role.REINFORCED,
        kind=None,
        angle=0.0,
        thickness=thickness,
        mass=1400.0,
        dry_weight=430.0,
        glass=0.3,
        E1=6400.0,
        E2=6400.0,
        G12=2750.0,
        nu12=0.33,
        tension_1=None,
        compression_1=None,
        tension_2=None,
        compression_2=None,
        shear=None,
        flexural=None,
        interlaminar=None,
        marks=(),
    )
    section = resolved(name, drawn, Stack(name="one", plies=(ply,)), bead=bead)
    assert problems(section, radians(slope)) == ()
    polygons = ply_polygons(section, deadrise=radians(slope))
    assert polygons.repairs == ()
    found = properties(section, None, Moduli.PLAIN)
    assert found.EI_y > 0
    if section.laps:  # coats are drawn clear of one another: no lap has anything to keep
        assert properties(replace(section, laps=()), None, Moduli.PLAIN).area == pytest.approx(
            found.area, rel=1e-12
        )
