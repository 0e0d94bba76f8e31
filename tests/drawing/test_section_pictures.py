"""A section's picture holds every ply once, at the size the engine counts."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import atan2, pi
from typing import TYPE_CHECKING

import numpy as np
import pytest

from stringerlab.drawing import (
    Area,
    Line,
    Mark,
    Options,
    Picture,
    Role,
    Ticks,
    area_of,
    legend,
    outline_picture,
    section_picture,
)
from stringerlab.errors import StringerlabError
from stringerlab.laminate import Stack
from stringerlab.materials.records import PlyKind
from stringerlab.project import Project
from stringerlab.section import Plating, SectionShape, Side, WallShape
from stringerlab.section.bodies import bodies

if TYPE_CHECKING:
    from tests.drawing.conftest import Shown


EVERY_OVERLAY = Options(
    cavity=True, bonded=True, strain=True, stress=True, shear_flow=True, moment=1e6, shear=5e3
)


def plies_of(picture: Picture) -> list[Area]:
    return [
        item
        for item in picture
        if isinstance(item, Area) and ("/" in item.subject or item.subject[:1] == "f")
    ]


def engine_areas(shape: SectionShape, plating: Plating | None) -> dict[str, float]:
    """Area of every ply and fill by subject, by the engine's boundary integrals."""
    built = bodies(shape, plating)
    sizes = built.regions.moments(built.regions.points.mean(axis=1))[0].tolist()
    names = []
    for stroke in built.drawing.strokes:
        label = shape.walls[stroke.wall].id if stroke.wall >= 0 else "plating"
        names += [f"{label}/{number}" for number in range(1, len(stroke.levels))]
    names += [fill.id for fill in built.fills]
    return dict(zip(names, sizes, strict=True))


@pytest.mark.parametrize("options", [Options(), EVERY_OVERLAY, Options(ply_edges=False, mould_face=False)])
def test_every_ply_is_drawn_once_with_the_engine_s_area(shown: tuple[Shown, ...], options: Options) -> None:
    for one in shown:
        picture = section_picture(one.shape, one.plating, properties=one.properties, options=options)
        drawn = plies_of(picture)
        expected = engine_areas(one.shape, one.plating)
        assert sorted(area.subject for area in drawn) == sorted(
            name for name, size in expected.items() if size > 1e-9
        )
        for area in drawn:
            assert area_of(area) == pytest.approx(expected[area.subject], rel=1e-9, abs=1e-9)


def test_a_wall_left_alone_keeps_its_arrays_when_another_moves(shown: tuple[Shown, ...]) -> None:
    shape = next(one.shape for one in shown if len(one.shape.walls) == 1)
    moved = replace(shape.walls[0], id="w99", points=tuple((y + 5000, z) for y, z in shape.walls[0].points))
    first = section_picture(replace(shape, walls=(*shape.walls, moved)), None)
    again = replace(moved, points=tuple((y + 1, z) for y, z in moved.points))
    second = section_picture(replace(shape, walls=(*shape.walls, again)), None)
    kept = {area.subject: area.rings for area in plies_of(first)}
    for area in plies_of(second):
        same = all(a is b for a, b in zip(area.rings, kept[area.subject], strict=True))
        assert same is not area.subject.startswith("w99/")


def test_plies_are_drawn_by_kind_and_the_hull_s_apart(shown: tuple[Shown, ...]) -> None:
    cut = shown[-1]
    drawn = {area.subject: area for area in plies_of(section_picture(cut.shape, cut.plating))}
    roles = {subject: area.role for subject, area in drawn.items()}
    assert [roles[f"w1/{number}"] for number in (1, 2, 3)] == [Role.GEL_COAT, Role.MAT, Role.STITCHED]
    assert [roles[f"w2/{number}"] for number in (1, 2, 3)] == [Role.STITCHED, Role.UNIDIRECTIONAL, Role.CORE]
    assert roles["f1"] is Role.FOAM
    assert roles["f2"] is Role.BLOCK
    assert {roles[f"plating/{number}"] for number in (1, 2, 3)} == {Role.PLATING}
    assert [drawn[f"plating/{number}"].tint for number in (1, 2, 3)] == [
        Role.GEL_COAT,
        Role.MAT,
        Role.STITCHED,
    ]


def test_pan_that_is_not_counted_is_drawn_pale_and_dashed_and_named_in_the_legend(
    shown: tuple[Shown, ...],
) -> None:
    shape = next(one.shape for one in shown if len(one.shape.walls) == 1)
    (wall,) = shape.walls
    unbonded = section_picture(replace(shape, walls=(replace(wall, counted=0.0),)), None)
    kinds = [area.role for area in plies_of(section_picture(shape, None))]
    assert {area.role for area in plies_of(unbonded)} == {Role.UNCOUNTED}
    assert [area.tint for area in plies_of(unbonded)] == kinds
    assert all("not counted" in area.tip for area in plies_of(unbonded))
    lines = [item for item in unbonded if isinstance(item, Line) and item.subject == wall.id]
    assert [line.role for line in lines] == [Role.UNCOUNTED]
    said = [row.text for row in legend(Options(), unbonded) if row.role is Role.UNCOUNTED]
    assert said == ["not counted: lies on the hull, not fully bonded"]
    voided = section_picture(replace(shape, walls=(replace(wall, counted=0.9),)), None)
    assert [area.role for area in plies_of(voided)] == kinds


def test_tool_line_runs_along_the_drawn_line_and_the_shell_along_its_slope(shown: tuple[Shown, ...]) -> None:
    cut = shown[-1]
    picture = section_picture(cut.shape, cut.plating)
    tools = {item.subject: item for item in picture if isinstance(item, Line) and item.role is Role.TOOL}
    assert tools.keys() == {"w1", "w2", "w3"}
    assert tools["w2"].points.tolist() == [[80, 30], [80, 140]]
    (shell,) = [item for item in picture if isinstance(item, Line) and item.role is Role.SHELL]
    assert cut.plating is not None
    assert np.hypot(*(shell.points[1] - shell.points[0])) == pytest.approx(cut.plating.width)
    assert atan2(*(shell.points[1] - shell.points[0])[::-1]) == pytest.approx(cut.plating.deadrise)
    assert shell.points.mean(axis=0) == pytest.approx([0, 0])


@pytest.mark.parametrize(("side", "towards"), [(Side.RIGHT, 1.0), (Side.LEFT, -1.0)])
def test_mould_ticks_stand_away_from_the_laminate(
    lay: Callable[..., Stack], side: Side, towards: float
) -> None:
    wall = WallShape(
        id="w1",
        points=((0, 50), (100, 50)),
        fillets=(),
        side=side,
        closed=False,
        stack=lay((2.0, 7000.0, PlyKind.MAT)),
    )
    picture = section_picture(SectionShape(name="flat", walls=(wall,)), None)
    (ticks,) = [item for item in picture if isinstance(item, Ticks)]
    assert ticks.role is Role.MOULD_FACE
    assert len(ticks.starts) > 10
    assert ticks.starts[:, 1] == pytest.approx(50)
    assert (np.sign(ticks.ends[:, 1] - 50) == towards).all()


def test_neutral_axes_pass_through_the_engine_s_neutral_point(shown: tuple[Shown, ...]) -> None:
    for one in shown:
        picture = section_picture(one.shape, one.plating, properties=one.properties)
        lines = {item.subject: item.points for item in picture if isinstance(item, Line)}
        assert lines["axis/z_na"][:, 1].tolist() == [one.properties.z_na] * 2
        assert lines["axis/y_na"][:, 0].tolist() == [one.properties.y_na] * 2
        marks = {item.at for item in picture if isinstance(item, Mark) and item.role is Role.CENTROID}
        assert marks == {(one.properties.y_na, one.properties.z_na)}


def test_overlays_that_are_off_are_not_there(shown: tuple[Shown, ...]) -> None:
    one = shown[0]
    off = Options(axes=False, mould_face=False, ply_edges=False)
    picture = section_picture(one.shape, one.plating, properties=one.properties, options=off)
    assert {item.role for item in picture if isinstance(item, Line)} == {Role.TOOL, Role.SHELL}
    assert {type(item) for item in picture} == {Area, Line}
    assert {item.edge for item in picture if isinstance(item, Area)} == {None}


def test_section_with_a_fault_is_refused_but_has_an_outline(shown: tuple[Shown, ...]) -> None:
    shape = shown[0].shape
    crossing = replace(shape.walls[0], points=((0, 0), (100, 100), (100, 0), (0, 100)), fillets=())
    broken = replace(shape, walls=(crossing,))
    with pytest.raises(StringerlabError, match="cross"):
        section_picture(broken, None)
    (shell, tool) = outline_picture(broken, pi / 12)
    assert isinstance(shell, Line)
    assert isinstance(tool, Line)
    assert tool.points.tolist() == [[0, 0], [100, 100], [100, 0], [0, 100]]
    assert (shell.role, tool.role) == (Role.SHELL, Role.TOOL)


def test_outline_of_half_drawn_things_is_what_there_is(boat: Project, shown: tuple[Shown, ...]) -> None:
    shape = shown[0].shape
    single = replace(shape, walls=(replace(shape.walls[0], points=((3.0, 4.0),), fillets=()),))
    assert not outline_picture(single).items
    nowhere = replace(
        shape, walls=(replace(shape.walls[0], points=((0.0, 0.0), (float("nan"), 4.0)), fillets=()),)
    )
    assert not outline_picture(nowhere).items
    drawn = outline_picture(boat.sections[0])
    assert [item.subject for item in drawn] == [wall.id for wall in boat.sections[0].walls]
