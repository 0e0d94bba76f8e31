"""Bodies that share a place: each counted once, laps twice, and every cut reported."""

from collections.abc import Callable, Iterable

import pytest

from stringerlab.laminate import Moduli, Stack
from stringerlab.section import FillShape, Plating, SectionShape, Side, WallShape, properties
from stringerlab.units import Kind
from stringerlab.units import format as shown

Lay = Callable[..., Stack]
Line = Iterable[tuple[float, float]]

E = 10_000.0
SAME = 1e-10
PLAIN = Moduli.PLAIN


def wall(
    points: Line,
    stack: Stack,
    *,
    id_: str = "w1",
    side: Side = Side.LEFT,
    fillets: Iterable[float] = (),
    closed: bool = False,
) -> WallShape:
    return WallShape(
        id=id_, points=tuple(points), fillets=tuple(fillets), side=side, closed=closed, stack=stack
    )


def section(
    *walls: WallShape, fills: Iterable[FillShape] = (), laps: tuple[tuple[str, str], ...] = ()
) -> SectionShape:
    return SectionShape(name="test", walls=walls, fills=tuple(fills), laps=laps)


def test_overlap_is_counted_once_in_the_earlier_wall(lay: Lay) -> None:
    low = wall([(0, 0), (60, 0)], lay((2.0, 5000.0)))
    high = wall([(40, 1), (100, 1)], lay((2.0, 9000.0)), id_="w2")
    found = properties(section(low, high), None, PLAIN)
    assert pytest.approx(5000 * 120 + 9000 * (120 - 20), rel=SAME) == found.EA
    [repair] = found.repairs
    assert "wall 'w2'" in repair.where
    assert f"overlaps wall 'w1' by {shown(20.0, Kind.AREA)}" in repair.what
    swapped = properties(section(high, low), None, PLAIN)
    assert pytest.approx(5000 * (120 - 20) + 9000 * 120, rel=SAME) == swapped.EA


def test_a_declared_lap_keeps_its_real_plies(lay: Lay) -> None:
    low = wall([(0, 0), (60, 0)], lay((2.0, 5000.0)))
    high = wall([(40, 1), (100, 1)], lay((2.0, 9000.0)), id_="w2")
    found = properties(section(low, high, laps=(("w2", "w1"),)), None, PLAIN)
    assert pytest.approx(5000 * 120 + 9000 * 120, rel=SAME) == found.EA
    assert not found.repairs


def test_walls_that_touch_do_not_overlap(lay: Lay) -> None:
    low = wall([(0, 0), (60, 0)], lay((2.0, 5000.0)))
    high = wall([(0, 2), (60, 2)], lay((2.0, 9000.0)), id_="w2")
    found = properties(section(low, high), None, PLAIN)
    assert pytest.approx(14000 * 120, rel=SAME) == found.EA
    assert not found.repairs


def test_wall_entering_the_plating_is_cut_at_the_shell(lay: Lay) -> None:
    hull = lay((3.0, 8000.0))
    post = wall([(0, -5), (0, 100)], lay((4.0, E)))
    found = properties(section(post), Plating(stack=hull, width=200), PLAIN)
    assert pytest.approx(E * 400 + 8000 * 600, rel=SAME) == found.EA
    assert f"reaches {shown(5.0, Kind.LENGTH)} into the plating" in found.repairs[0].what
    alone = properties(section(post), None, PLAIN)
    assert pytest.approx(E * 420, rel=SAME) == alone.EA
    assert not alone.repairs


def test_fill_gives_way_to_wall_and_shell(lay: Lay) -> None:
    post = wall([(0, 0), (0, 100)], lay((4.0, E)), side=Side.RIGHT)
    block = FillShape(
        id="f1",
        points=((2, -3), (30, -3), (30, 47), (2, 47)),
        name="block",
        density=1000,
        modulus=1000.0,
        strength=None,
    )
    found = properties(section(post, fills=(block,)), Plating(stack=lay((3.0, 8000.0)), width=200), PLAIN)
    assert pytest.approx(E * 400 + 8000 * 600 + 1000 * 26 * 47, rel=SAME) == found.EA
    assert [repair.where for repair in found.repairs] == ["section 'test', fill 'f1'"] * 2


def test_three_that_share_one_place_lose_it_once(lay: Lay) -> None:
    stack = lay((10.0, E))
    upright = wall([(0, 0), (0, 100)], stack, side=Side.RIGHT)
    level = wall([(-50, 50), (60, 50)], stack, id_="w2")
    third = wall([(5, 55), (60, 55)], stack, id_="w3")
    found = properties(section(upright, level, third), None, PLAIN)
    # 10 × 10 of the level wall, and of the third 5 × 10 and 50 × 5.
    assert found.area == pytest.approx(1000 + (1100 - 100) + (550 - 50 - 250), rel=SAME)
    # Lapped with the first, the third gives way only to what is left of the second.
    lapped = properties(section(upright, level, third, laps=(("w1", "w3"),)), None, PLAIN)
    assert lapped.area == pytest.approx(1000 + (1100 - 100) + (550 - 250), rel=SAME)
