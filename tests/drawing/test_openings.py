"""Holes drawn in a section: what they take out of each web, where, and in words."""

from __future__ import annotations

from math import cos, sin

import numpy as np
import pytest

from stringerlab.drawing import Area, Label, Line, Options, Picture, Role, area_of, section_picture, svg
from stringerlab.drawing.palette import LIGHT
from stringerlab.laminate import Stack
from stringerlab.layout import Hole, Opening
from stringerlab.materials.records import PlyKind
from stringerlab.section import Plating, SectionShape, Side, WallShape
from stringerlab.units import System
from tests.drawing.conftest import laid

WEB = 4.0
HALF, TOP = 50.0, 200.0
LIMBER = Opening(x=300, height=40, width=80)
LIGHT_HOLE = Opening(kind=Hole.LIGHTENING, x=600, height=60, width=90, bottom=70, radius=30)


def box(deadrise: float = 0.0) -> SectionShape:
    """Two webs of 4 mm square to the shell under a flat crown, its laminate inside, drawn at a slope."""
    drawn = [(-HALF, 0.0), (-HALF, TOP), (HALF, TOP), (HALF, 0.0)]
    turned = tuple(
        (y * cos(deadrise) - z * sin(deadrise), y * sin(deadrise) + z * cos(deadrise)) for y, z in drawn
    )
    wall = WallShape(
        id="w1",
        points=turned,
        fillets=(),
        side=Side.RIGHT,
        closed=False,
        stack=laid((WEB, 12000.0, PlyKind.BIAXIAL)),
    )
    return SectionShape(name="box", walls=(wall,))


def picture(holes: tuple[tuple[str, Opening], ...], deadrise: float = 0.0) -> Picture:
    stack: Stack = laid((6.0, 9000.0, PlyKind.MAT))
    plating = Plating(stack=stack, width=300.0, deadrise=deadrise)
    return section_picture(box(deadrise), plating, options=Options(openings=holes))


def cuts(made: Picture) -> list[Area]:
    return [item for item in made if isinstance(item, Area) and item.role is Role.OPENING]


def words(made: Picture) -> list[str]:
    return [item.text for item in made if isinstance(item, Label) and item.role is Role.OPENING]


@pytest.mark.parametrize("deadrise", [0.0, 0.3])
def test_a_hole_takes_its_height_by_its_thickness_out_of_every_web(deadrise: float) -> None:
    made = cuts(picture((("Girder", LIMBER),), deadrise))
    assert len(made) == 2
    for area in made:
        assert area_of(area) == pytest.approx(40 * WEB)
        up = area.rings[0] @ [-sin(deadrise), cos(deadrise)]
        along = area.rings[0] @ [cos(deadrise), sin(deadrise)]
        assert (up.min(), up.max()) == pytest.approx((0.0, 40.0), abs=1e-9)
        assert np.abs(along).max() == pytest.approx(HALF)
        assert np.abs(along).min() == pytest.approx(HALF - WEB)


def test_a_hole_that_stands_over_the_crown_is_cut_off_there_and_one_above_it_says_so() -> None:
    over = Opening(x=300, height=100, width=80, bottom=TOP - 30)
    [area, _] = cuts(picture((("Girder", over),)))
    assert area.rings[0][:, 1].max() == pytest.approx(TOP)
    above = picture((("Girder", Opening(x=300, height=10, width=10, bottom=TOP + 50)),))
    assert not cuts(above)
    assert "no web there" in words(above)[0]


def test_each_kind_of_hole_is_named_once_with_the_spans_it_is_in() -> None:
    held = (("Aft", LIMBER), ("Aft", LIMBER), ("Fore", LIMBER), ("Aft", LIGHT_HOLE))
    made = picture(held)
    assert len(cuts(made)) == 4
    assert words(made) == [
        "limber hole, in 2 spans\n40.0 mm high, 80.0 mm wide",
        "lightening hole, in 1 span\n60.0 mm high, 90.0 mm wide",
    ]
    tips = {item.tip for item in cuts(made)}
    assert "limber hole 40.0 mm high, 80.0 mm wide, on the shell, in Aft, Fore" in tips
    assert any("70.0 mm above the shell, in Aft" in tip for tip in tips)
    lines = [item for item in made if isinstance(item, Line) and item.role is Role.OPENING]
    assert len(lines) == 2
    assert "lightening hole" in svg(made, LIGHT)


def test_words_stand_at_the_other_side_beside_diagrams_and_in_the_projects_units() -> None:
    def label(**options: object) -> Label:
        made = section_picture(box(), None, options=Options(openings=(("Aft", LIMBER),), **options))  # pyright: ignore
        return next(item for item in made if isinstance(item, Label) and item.role is Role.OPENING)

    assert label().align == 1
    assert label(shear_flow=True).align == -1
    assert " in high" in label(units=System.US).text


def test_no_hole_no_mark() -> None:
    assert not [item for item in picture(()) if getattr(item, "role", None) is Role.OPENING]
