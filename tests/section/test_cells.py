"""Cells closed by laminates, as outlines."""

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from stringerlab.errors import StringerlabError
from stringerlab.laminate import Stack
from stringerlab.section import SectionShape, Side, WallShape, facts
from stringerlab.section.cells import cells


def size(ring: NDArray[np.float64]) -> float:
    y, z = ring.T
    return float(abs((y * np.roll(z, -1) - np.roll(y, -1) * z).sum()) / 2)


def test_square_box_encloses_what_its_laminate_leaves(lay: Callable[..., Stack]) -> None:
    box = WallShape(
        id="w1",
        points=((-50, 20), (50, 20), (50, 120), (-50, 120)),
        fillets=(),
        side=Side.LEFT,
        closed=True,
        stack=lay((3.0, 7000.0), (2.0, 9000.0)),
    )
    (cell,) = cells(SectionShape(name="box", walls=(box,)))
    assert size(cell) == pytest.approx(90 * 90)
    assert cell.min(axis=0) == pytest.approx([-45, 25])
    assert cell.max(axis=0) == pytest.approx([45, 115])


def test_cells_add_up_to_the_enclosed_area_of_every_section(sections: dict[str, Any]) -> None:
    for shape, plating in sections.values():
        slope = plating.deadrise if plating else 0.0
        found = sum(map(size, cells(shape, slope)))
        assert found == pytest.approx(facts(shape, slope).enclosed_area, rel=1e-9, abs=1e-6)


@pytest.mark.parametrize("bead", [0.0, 4.0])
def test_hat_on_its_bead_encloses_its_inside(lay: Callable[..., Stack], bead: float) -> None:
    foot = 5.0 + bead
    hat = WallShape(
        id="w1",
        points=((-150, foot), (-80, foot), (-80, 105), (80, 105), (80, foot), (150, foot)),
        fillets=(),
        side=Side.RIGHT,
        closed=False,
        stack=lay((5.0, 7000.0)),
    )
    (cell,) = cells(SectionShape(name="hat", walls=(hat,), bead=bead))
    assert size(cell) == pytest.approx(150 * 100)


def test_hat_that_stands_off_the_shell_encloses_nothing(lay: Callable[..., Stack]) -> None:
    hat = WallShape(
        id="w1",
        points=((-80, 20), (-80, 105), (80, 105), (80, 20)),
        fillets=(),
        side=Side.RIGHT,
        closed=False,
        stack=lay((5.0, 7000.0)),
    )
    assert cells(SectionShape(name="hat", walls=(hat,))) == []


def test_section_with_a_fault_has_no_cells(lay: Callable[..., Stack]) -> None:
    wall = WallShape(
        id="w1", points=((0, 0),), fillets=(), side=Side.RIGHT, closed=False, stack=lay((5.0, 7000.0))
    )
    with pytest.raises(StringerlabError, match="no length"):
        cells(SectionShape(name="dot", walls=(wall,)))


@pytest.mark.parametrize("degrees", [1.0, 3.0, 5.0, 20.0])
def test_hat_drawn_square_to_a_sloping_shell_encloses_what_it_does_on_a_level_one(
    lay: Callable[..., Stack], degrees: float
) -> None:
    slope = np.radians(degrees)
    turn = np.array([[np.cos(slope), -np.sin(slope)], [np.sin(slope), np.cos(slope)]])
    level = np.array([(-150, 9), (-80, 9), (-80, 105), (80, 105), (80, 9), (150, 9)], float)
    hat = WallShape(
        id="w1",
        points=tuple((float(y), float(z)) for y, z in level @ turn.T),
        fillets=(),
        side=Side.RIGHT,
        closed=False,
        stack=lay((5.0, 7000.0)),
    )
    (cell,) = cells(SectionShape(name="hat", walls=(hat,), bead=4.0), float(slope))
    assert size(cell) == pytest.approx(150 * 100)


@pytest.mark.parametrize("degrees", [1.0, 3.0, 5.0, 8.0])
def test_level_hat_on_a_sloping_shell_stands_off_it_and_encloses_nothing(
    lay: Callable[..., Stack], degrees: float
) -> None:
    hat = WallShape(
        id="w1",
        points=((-120, 9), (-55, 9), (-45, 135), (45, 135), (55, 9), (120, 9)),
        fillets=(),
        side=Side.RIGHT,
        closed=False,
        stack=lay((5.0, 7000.0)),
    )
    assert cells(SectionShape(name="hat", walls=(hat,), bead=4.0), float(np.radians(degrees))) == []
