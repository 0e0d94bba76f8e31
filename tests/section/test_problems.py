"""Drawings that cannot be: one clear line each, all at once, never a number."""

from collections.abc import Callable, Iterable
from dataclasses import replace
from math import inf, nan
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stringerlab.errors import StringerlabError
from stringerlab.laminate import Moduli, Stack
from stringerlab.section import (
    Fill,
    FillShape,
    Plating,
    Section,
    SectionShape,
    Side,
    Wall,
    WallShape,
    facts,
    faults,
    ply_polygons,
    problems,
    properties,
    repairs,
)
from stringerlab.units import Kind
from stringerlab.units import format as shown

Lay = Callable[..., Stack]
Line = Iterable[tuple[float, float]]

HAT = ((-120, 5), (-60, 5), (-50, 100), (50, 100), (60, 5), (120, 5))
BOW_TIE = ((0, 10), (100, 90), (100, 10), (0, 90))


def wall(points: Line, stack: Stack, **others: Any) -> WallShape:
    given: dict[str, Any] = {"id": "w1", "fillets": (), "side": Side.RIGHT, "closed": False} | others
    return WallShape(points=tuple(points), stack=stack, **given)


def fill(points: Line, id_: str = "f1") -> FillShape:
    return FillShape(id=id_, points=tuple(points), name="foam", density=40, modulus=20.0, strength=None)


def section(
    *walls: WallShape, fills: Iterable[FillShape] = (), laps: tuple[tuple[str, str], ...] = ()
) -> SectionShape:
    return SectionShape(name="test", walls=walls, fills=tuple(fills), laps=laps)


FIVE = shown(5.0, Kind.LENGTH)
BAD_WALLS: dict[str, tuple[dict[str, Any], str]] = {
    "one point": ({"points": ((10, 10),)}, "A wall of 1 point has no length."),
    "no points": ({"points": ()}, "A wall of 0 points has no length."),
    "closed wall of two points": (
        {"points": ((0, 10), (50, 10)), "closed": True},
        "A closed wall of 2 points has no length.",
    ),
    "all points the same": (
        {"points": ((10, 10), (10, 10), (10, 10))},
        "All its points lie on one another: it has no length.",
    ),
    "self-crossing": ({"points": BOW_TIE}, "The line crosses or touches itself."),
    "ends on its own start": (
        {"points": ((0, 10), (100, 10), (100, 90), (0, 90), (0, 10)), "side": Side.LEFT},
        f"The laminate ({FIVE}) runs into itself.",
    ),
    "doubles back": ({"points": ((0, 10), (100, 10), (20, 10))}, "The line doubles back at point 2."),
    "fillet larger than its legs": (
        {"fillets": (0, 0, 60, 60, 0, 0)},
        f"The fillets at points 3 and 4 need {shown(108.0, Kind.LENGTH)}, the leg between them has",
    ),
    "laminate thicker than the inside of a fillet": (
        {"fillets": (0, 0, 3, 0, 0, 0)},
        f"The laminate ({FIVE}) is thicker than the inside of the bend at y −",
    ),
    "laminate thicker than half a narrow crown": (
        {"points": ((-4, 5), (-4, 100), (4, 100), (4, 5))},
        f"The laminate ({FIVE}) is thicker than the inside of the bend",
    ),
    "laminate that runs into itself": (
        {"points": ((0, 20), (0, 120), (80, 120), (80, 40), (3, 40), (3, 60))},
        f"The laminate ({FIVE}) runs into itself.",
    ),
    "not a number": ({"points": ((0, 10), (nan, 20))}, "A point is not a number."),
    "infinite": ({"points": ((0, 10), (50, inf), (80, -inf))}, "A point is not a number."),
    "fillets for other points": ({"fillets": (0, 5)}, "There are 2 fillets for 6 points."),
    "negative fillet": ({"fillets": (0, -5, 0, 0, 0, 0)}, "A fillet's radius is not a length."),
    "fillet that is no number": ({"fillets": (0, nan, 0, 0, 0, 0)}, "A fillet's radius is not a length."),
}


@pytest.mark.parametrize("name", BAD_WALLS)
def test_bad_wall_is_one_clear_line_and_never_a_number(name: str, lay: Lay) -> None:
    change, said = BAD_WALLS[name]
    shape = section(replace(wall(HAT, lay((5.0, 7000.0))), **change))
    [fault] = faults(shape, 0.0)
    assert fault.what.startswith(said)
    assert fault.where == "section 'test', wall 'w1'"
    assert fault.remedy
    for asked in (
        lambda: properties(shape, None, Moduli.PLAIN),
        lambda: facts(shape),
        lambda: ply_polygons(shape),
    ):
        with pytest.raises(StringerlabError) as raised:
            asked()
        assert fault in raised.value.problems


def test_laminate_without_plies_or_thickness(lay: Lay) -> None:
    good = lay((5.0, 7000.0))
    empty = Stack(name="empty", plies=())
    flat = Stack(name="flat", plies=(replace(good.plies[0], thickness=0.0), good.plies[0]))
    found = faults(section(wall(HAT, empty), wall([(0, 300), (9, 300)], flat, id="w2")), 0.0)
    assert [fault.what for fault in found] == [
        "The laminate has no plies.",
        "The laminate's ply 1 has no thickness.",
    ]


BAD_FILLS: dict[str, tuple[tuple[float, float], ...]] = {
    "two points": ((0, 10), (10, 10)),
    "self-crossing": BOW_TIE,
    "no area": ((0, 10), (50, 10), (100, 10)),
    "repeats a point": ((0, 10), (0, 10), (50, 10)),
    "touches itself": ((0, 0), (100, 0), (100, 50), (50, 0), (0, 50)),
    "not a number": ((0, 10), (nan, 10), (50, 60)),
}


@pytest.mark.parametrize("name", BAD_FILLS)
def test_fill_that_leaks(name: str, lay: Lay) -> None:
    shape = section(wall(HAT, lay((5.0, 7000.0))), fills=(fill(BAD_FILLS[name]),))
    [fault] = faults(shape, 0.0)
    assert fault.where == "section 'test', fill 'f1'"
    assert "leaks" in fault.what or "not a number" in fault.what
    with pytest.raises(StringerlabError, match="fill 'f1'"):
        properties(shape, None, Moduli.PLAIN)


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"width": 0.0}, "The counted width is 0 mm."),
        ({"width": -5.0}, "The counted width is -5 mm."),
        ({"width": nan}, "The counted width is nan mm."),
        ({"deadrise": 1.6}, "The deadrise is not below 90°."),
        ({"deadrise": nan}, "The deadrise is not below 90°."),
        ({"stack": Stack(name="empty", plies=())}, "The laminate has no plies."),
    ],
)
def test_bad_plating(change: dict[str, Any], said: str, lay: Lay) -> None:
    plating = replace(Plating(stack=lay((5.0, 7000.0)), width=300.0), **change)
    with pytest.raises(StringerlabError) as raised:
        properties(section(wall(HAT, lay((5.0, 7000.0)))), plating, Moduli.PLAIN)
    assert [problem.what for problem in raised.value.problems] == [said]


def test_everything_wrong_is_listed_at_once(lay: Lay) -> None:
    stack = lay((5.0, 7000.0))
    walls = [
        replace(wall(HAT, stack), id=f"w{number}", **change)
        for number, (change, _) in enumerate(BAD_WALLS.values(), start=1)
    ]
    fills = [fill(points, f"f{number}") for number, points in enumerate(BAD_FILLS.values(), start=1)]
    found = faults(section(*walls, wall(HAT, stack, id="sound"), fills=fills, laps=(("w1", "gone"),)), 0.0)
    said = [fault.what for fault in found]
    for _, one in BAD_WALLS.values():
        assert any(what.startswith(one) for what in said), one
    assert len(found) == len(BAD_WALLS) + len(BAD_FILLS) + 1
    assert "The lap of 'w1' and 'gone' names a wall that is not there." in said


def test_repeated_points_are_left_out_and_reported(lay: Lay) -> None:
    stack = lay((5.0, 7000.0))
    clean = section(wall(HAT, stack, fillets=(0, 0, 8, 8, 0, 0)))
    points = (HAT[0], *HAT[:3], HAT[2], *HAT[3:])
    shape = section(wall(points, stack, fillets=(0, 0, 0, 8, 0, 8, 0, 0)))
    [repair] = repairs(shape, 0.0)
    assert repair.what == "Points 2, 5 repeat their neighbours and are left out."
    assert not faults(shape, 0.0)
    one, other = (properties(each, None, Moduli.PLAIN) for each in (clean, shape))
    assert other.EI_y == pytest.approx(one.EI_y, rel=1e-12)
    assert other.repairs == (repair,)


def test_numbers_of_points_are_those_drawn(lay: Lay) -> None:
    points = (HAT[0], HAT[0], *HAT[1:])
    shape = section(wall(points, lay((5.0, 7000.0)), fillets=(0, 0, 0, 60, 60, 0, 0)))
    assert "The fillets at points 4 and 5" in faults(shape, 0.0)[0].what


def test_closed_wall_that_repeats_its_first_point(lay: Lay) -> None:
    square = ((0, 0), (100, 0), (100, 60), (0, 60))
    shape = section(wall((*square, square[0]), lay((5.0, 7000.0)), side=Side.LEFT, closed=True))
    assert [repair.what for repair in repairs(shape, 0.0)] == [
        "Point 5 repeats its neighbour and is left out."
    ]
    assert properties(shape, None, Moduli.PLAIN).area == pytest.approx(100 * 60 - 90 * 50, rel=1e-12)


def test_fillet_at_an_open_end_is_reported(lay: Lay) -> None:
    shape = section(wall(HAT, lay((5.0, 7000.0)), fillets=(9, 0, 0, 0, 0, 7)))
    assert [repair.what for repair in repairs(shape, 0.0)] == [
        "Point 1 is an open end: its fillet is left out.",
        "Point 6 is an open end: its fillet is left out.",
    ]


def test_wall_wholly_below_the_shell_or_within_another(lay: Lay) -> None:
    stack = lay((5.0, 7000.0))
    sunk = wall([(0, -50), (60, -50)], stack, id="w2")
    twice = wall(HAT, stack, id="w3")
    found = faults(section(wall(HAT, stack), sunk, twice), 0.0)
    assert [(fault.where, fault.what[:21]) for fault in found] == [
        ("section 'test', wall 'w2'", "Nothing of it is left"),
        ("section 'test', wall 'w3'", "Nothing of it is left"),
    ]


def test_wall_below_the_shell_is_a_matter_of_deadrise(lay: Lay) -> None:
    shape = section(wall(HAT, lay((5.0, 7000.0))))
    assert not problems(shape, 0.0)
    assert not problems(shape)
    [repair] = problems(shape, 0.2)
    assert repair.what.startswith("It reaches ")
    assert repair.what.endswith("into the plating; that part is not counted.")


def test_drawing_tolerance_is_cut_away_without_a_word(lay: Lay) -> None:
    stack = lay((5.0, 7000.0))
    low, high = wall([(0, 5), (60, 5)], stack), wall([(0, 9.995), (60, 9.995)], stack, id="w2")
    shape = section(low, high)
    assert not problems(shape, 0.0)
    assert properties(shape, None, Moduli.PLAIN).area == pytest.approx(60 * 9.995, rel=1e-12)


def test_section_without_resolved_laminates() -> None:
    def drawn(points: Line, id_: str = "w1") -> Wall:
        return Wall(id=id_, points=tuple(points), laminate="l1", side=Side.RIGHT)

    good = Section(id="s1", name="test", walls=(drawn(HAT),))
    assert not problems(good)
    bad = replace(
        good,
        walls=(drawn(HAT), drawn(BOW_TIE, "w2"), drawn(((0, 0),), "w3")),
        fills=(Fill(id="f1", points=BOW_TIE, material="foam"),),
    )
    assert [problem.where for problem in problems(bad)] == [
        "section 'test', wall 'w3'",
        "section 'test', wall 'w2'",
        "section 'test', fill 'f1'",
    ]


def test_section_of_nothing() -> None:
    for asked in (
        lambda: properties(section(), None, Moduli.PLAIN),
        lambda: ply_polygons(section()),
    ):
        with pytest.raises(StringerlabError, match="section 'test'"):
            asked()


COORDINATE = st.integers(-4, 12).map(lambda step: 10.0 * step) | st.floats(-50, 150)
POINTS = st.lists(st.tuples(COORDINATE, COORDINATE), max_size=7).map(tuple)


@st.composite
def drawings(draw: st.DrawFn, lay: Lay) -> SectionShape:
    """Anything at all that a hand might draw."""
    stack = lay((draw(st.sampled_from([0.5, 3.0, 9.0])), 7000.0), (1.0, 9000.0), gel=0.5)
    walls: list[WallShape] = []
    for number in range(draw(st.integers(0, 3))):
        points = draw(POINTS)
        radii = draw(
            st.lists(st.sampled_from([0.0, 4.0, 10.0, 30.0]), min_size=len(points), max_size=len(points))
        )
        walls.append(
            wall(
                points,
                stack,
                id=f"w{number}",
                fillets=tuple(radii),
                side=draw(st.sampled_from(Side)),
                closed=draw(st.booleans()),
            )
        )
    fills = [fill(draw(POINTS), f"f{number}") for number in range(draw(st.integers(0, 2)))]
    laps = (("w0", "w1"),) if len(walls) > 1 and draw(st.booleans()) else ()
    return section(*walls, fills=fills, laps=laps)


@settings(max_examples=300)
@given(data=st.data(), deadrise=st.sampled_from([None, 0.0, 0.3]))
def test_any_drawing_gives_sound_numbers_or_problems(
    data: st.DataObject, deadrise: float | None, lay: Lay
) -> None:
    shape = data.draw(drawings(lay))
    plating = None if deadrise is None else Plating(stack=lay((4.0, 8000.0)), width=300.0, deadrise=deadrise)
    if faults(shape, deadrise) or not (shape.walls or shape.fills or plating):
        with pytest.raises(StringerlabError):
            properties(shape, plating, Moduli.PLAIN)
        return
    found = properties(shape, plating, Moduli.PLAIN)
    fibres = found.fibres
    assert found.area > 0
    assert found.EI_1 >= found.EI_2 > 0
    assert (fibres.z_top >= fibres.z_bottom).all()
    assert fibres.z_bottom.min() < 0 < fibres.z_top.max()
    assert found.ES > 0
    if deadrise is not None:
        measured = facts(shape, deadrise)
        assert measured.mass_per_length >= 0
        assert measured.enclosed_area >= 0
    outlines = ply_polygons(shape, plating)
    assert len(outlines.names) == len(outlines.owners) == len(outlines.whats)
