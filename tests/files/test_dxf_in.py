"""DXF in: what is drawn comes in at its true size, what cannot be read is said."""

import math
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import ezdxf.filemanagement
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stringerlab.errors import StringerlabError
from stringerlab.files import dxf_in
from stringerlab.files.dxf_in import read_dxf
from stringerlab.files.outlines import MOST_WALLS, Outlines, Points, chains, outlines_to_walls
from stringerlab.section import Side

EZDXF: Any = ezdxf.filemanagement
Draw = Callable[..., Path]


@pytest.fixture
def drawn(tmp_path: Path) -> Draw:
    """Write a DXF in which ``draw`` has drawn."""

    def write(draw: Callable[[Any, Any], None], unit: int = 4, version: str = "R2010") -> Path:
        document = EZDXF.new(version, units=unit)
        draw(document, document.modelspace())
        path = tmp_path / "drawing.dxf"
        document.saveas(path)
        return path

    return write


def outlines(*lines: Sequence[tuple[float, float]], layer: str = "0") -> Outlines:
    return Outlines(
        name="drawing.dxf",
        lines=tuple(np.array(line, float) for line in lines),
        layers=(layer,) * len(lines),
        unit="mm",
        read_as="mm",
        tolerance=0.05,
        entities=len(lines),
    )


def refusal(path: Path, **named: Any) -> str:
    with pytest.raises(StringerlabError) as refused:
        read_dxf(path, **named)
    [problem] = refused.value.problems
    assert problem.where == str(path)
    assert problem.remedy
    return problem.what


def test_a_line_comes_in_where_it_is_drawn(drawn: Draw) -> None:
    found = read_dxf(drawn(lambda _, space: space.add_line((1, 2), (30, 45), dxfattribs={"layer": "web"})))
    [line] = found.lines
    assert line.tolist() == [[1, 2], [30, 45]]
    assert found.layers == ("web",)
    assert (found.unit, found.read_as) == ("mm", "mm")


@pytest.mark.parametrize(
    ("number", "symbol", "mm"),
    [(1, "in", 25.4), (2, "ft", 304.8), (4, "mm", 1), (5, "cm", 10), (6, "m", 1000)],
)
def test_the_stated_unit_gives_the_size(drawn: Draw, number: int, symbol: str, mm: float) -> None:
    found = read_dxf(drawn(lambda _, space: space.add_line((0, 0), (2, 1)), unit=number))
    assert found.unit == symbol
    assert found.size == pytest.approx((2 * mm, mm))


def test_without_a_unit_it_is_read_as_mm_and_says_so(drawn: Draw) -> None:
    path = drawn(lambda _, space: space.add_line((0, 0), (2, 1)), unit=0)
    assert read_dxf(path).unit is None
    assert read_dxf(path).read_as == "mm"
    assert read_dxf(path, unit="in").size == pytest.approx((50.8, 25.4))


def test_a_given_unit_outweighs_a_stated_one(drawn: Draw) -> None:
    path = drawn(lambda _, space: space.add_line((0, 0), (2, 1)), unit=6)
    assert read_dxf(path, unit="in").size == pytest.approx((50.8, 25.4))


@pytest.mark.parametrize("unit", [4, 1, 6])
def test_chords_of_a_circle_stay_within_the_tolerance_in_mm(drawn: Draw, unit: int) -> None:
    found = read_dxf(drawn(lambda _, space: space.add_circle((3, 4), 5), unit=unit))
    [line] = found.lines
    mm = {4: 1.0, 1: 25.4, 6: 1000.0}[unit]
    centre, radius = np.array([3, 4]) * mm, 5 * mm
    assert np.hypot(*(line - centre).T) == pytest.approx(radius)
    middles = (line[1:] + line[:-1]) / 2
    sagitta = radius - np.hypot(*(middles - centre).T)
    assert sagitta.max() <= 0.05 + 1e-9
    assert (line[0] == line[-1]).all()


def test_an_arc_runs_from_its_start_to_its_end_anticlockwise(drawn: Draw) -> None:
    [line] = read_dxf(drawn(lambda _, space: space.add_arc((0, 0), 10, 350, 80))).lines
    assert line[0] == pytest.approx([10 * math.cos(math.radians(350)), 10 * math.sin(math.radians(350))])
    assert line[-1] == pytest.approx([10 * math.cos(math.radians(80)), 10 * math.sin(math.radians(80))])
    assert (line[:, 0] > 0).all()


@given(bulge=st.floats(-3, 3).filter(lambda b: abs(b) > 1e-3))
@settings(max_examples=40, deadline=None)
def test_a_bulge_is_the_arc_whose_height_it_gives(
    bulge: float, tmp_path_factory: pytest.TempPathFactory
) -> None:
    document = EZDXF.new(units=4)
    document.modelspace().add_lwpolyline([(0, 0, bulge), (100, 0, 0), (100, 50, 0)], format="xyb")
    path = tmp_path_factory.mktemp("bulge") / "bulge.dxf"
    document.saveas(path)
    [line] = read_dxf(path).lines
    arc = line[:-1]
    assert arc[-1].tolist() == [100, 0]
    # the height of the arc is the bulge times half the chord; a positive one turns left, below this chord
    extreme = arc[:, 1].min() if bulge > 0 else arc[:, 1].max()
    assert extreme == pytest.approx(-bulge * 50, abs=0.06)


def test_a_mirrored_arc_is_mirrored(drawn: Draw) -> None:
    def draw(_: Any, space: Any) -> None:
        space.add_arc((20, 0), 10, 0, 90, dxfattribs={"extrusion": (0, 0, -1)})

    [line] = read_dxf(drawn(draw)).lines
    assert line[0] == pytest.approx([-30, 0])
    assert line[-1] == pytest.approx([-20, 10])


def test_an_old_polyline_with_bulges_comes_in(drawn: Draw) -> None:
    def draw(_: Any, space: Any) -> None:
        space.add_polyline2d([(0, 0, 1), (10, 0, 0)], format="xyb", close=True)

    [line] = read_dxf(drawn(draw, version="R12")).lines
    assert line[:, 1].min() == pytest.approx(-5, abs=0.06)
    assert line[0].tolist() == line[-1].tolist() == [0, 0]


def test_ellipses_and_splines_come_in_within_the_tolerance(drawn: Draw) -> None:
    def draw(_: Any, space: Any) -> None:
        space.add_ellipse((0, 0), major_axis=(100, 0), ratio=0.5)
        space.add_spline([(0, 0), (50, 80), (100, 0), (150, 80)])

    path = drawn(draw)
    ellipse, spline = read_dxf(path).lines
    assert (ellipse[:, 0] / 100) ** 2 + (ellipse[:, 1] / 50) ** 2 == pytest.approx(1)
    assert spline[[0, -1]] == pytest.approx(np.array([[0, 0], [150, 80]]))
    for chords, curve in zip((ellipse, spline), read_dxf(path, tolerance=0.0005).lines, strict=True):
        assert len(curve) > 3 * len(chords)
        assert max(distance(point, chords) for point in curve) < 0.055


def distance(point: Points, chords: Points) -> float:
    """Return how far a point lies from the nearest of the chords."""
    start, along = chords[:-1], np.diff(chords, axis=0)
    part = np.clip(((point - start) * along).sum(axis=1) / (along**2).sum(axis=1), 0, 1)
    return float(np.hypot(*(point - start - part[:, None] * along).T).min())


def test_blocks_are_taken_apart_where_they_stand(drawn: Draw) -> None:
    def draw(document: Any, space: Any) -> None:
        inner = document.blocks.new("tab")
        inner.add_line((0, 0), (10, 0))
        outer = document.blocks.new("floor")
        outer.add_blockref("tab", (5, 5))
        space.add_blockref("floor", (100, 0), dxfattribs={"rotation": 90, "layer": "floors"})

    found = read_dxf(drawn(draw))
    [line] = found.lines
    assert line == pytest.approx(np.array([[95, 5], [95, 15]]))
    assert found.layers == ("floors",)


def test_a_block_in_itself_ends(drawn: Draw) -> None:
    def draw(document: Any, space: Any) -> None:
        block = document.blocks.new("loop")
        block.add_line((0, 0), (10, 0))
        block.add_blockref("loop", (0, 1))
        space.add_blockref("loop", (0, 0))

    found = read_dxf(drawn(draw))
    assert len(found.lines) == dxf_in.DEEPEST
    assert found.skipped == ((f"INSERT, more than {dxf_in.DEEPEST} blocks within blocks", 1),)


def test_what_is_left_out_is_counted_by_kind(drawn: Draw) -> None:
    def draw(document: Any, space: Any) -> None:
        space.add_line((0, 0), (10, 0))
        space.add_line((3, 3), (3, 3))
        for _ in range(2):
            space.add_text("stringer")
        document.layers.add("frame").off()
        space.add_line((0, 0), (900, 0), dxfattribs={"layer": "frame"})

    found = read_dxf(drawn(draw))
    assert len(found.lines) == 1
    assert found.skipped == (("TEXT", 2), ("LINE, on a layer that is off", 1), ("LINE, without length", 1))


def test_a_drawing_with_nothing_usable_says_what_it_holds(drawn: Draw) -> None:
    def draw(_: Any, space: Any) -> None:
        space.add_text("section A-A")
        space.add_point((1, 1))

    assert refusal(drawn(draw)) == "It holds nothing usable, only 1 POINT, 1 TEXT."


def test_lines_on_paper_only_are_said(drawn: Draw) -> None:
    what = refusal(drawn(lambda document, _: document.layout("Layout1").add_line((0, 0), (1, 1))))
    assert what.startswith("Its model space is empty. ")
    assert "paper" in what


def test_a_cut_off_file_is_one_clear_problem(drawn: Draw) -> None:
    path = drawn(lambda _, space: space.add_line((0, 0), (10, 0)))
    whole = path.read_bytes()
    for share in (0.3, 0.6, 0.95):
        path.write_bytes(whole[: int(len(whole) * share)])
        assert refusal(path) == "The DXF is damaged: it ends before its end mark."


def test_a_damaged_file_is_one_clear_problem(drawn: Draw) -> None:
    path = drawn(lambda _, space: space.add_line((0, 0), (10, 0)))
    text = path.read_text()
    path.write_text(text.replace("ENTITIES", "ENTITIES\nfence", 1))
    assert refusal(path).startswith("The DXF is damaged: ")
    path.write_text(text.replace("LINE\n", "LINE\n 10\nnot a number\n", 1))
    what = refusal(path)
    assert what.startswith(("The DXF is damaged: ", "It holds nothing usable"))


@pytest.mark.parametrize(
    ("data", "what"),
    [
        (b"", "It is no DXF."),
        (b"\x89PNG\r\n", "It is no DXF."),
        (b"AC1032\x00\x00", "It is a DWG, not a DXF."),
    ],
)
def test_what_is_no_dxf_is_refused(tmp_path: Path, data: bytes, what: str) -> None:
    path = tmp_path / "drawing.dxf"
    path.write_bytes(data)
    assert refusal(path) == what


def test_a_missing_file_and_a_folder_are_said(tmp_path: Path) -> None:
    assert refusal(tmp_path / "gone.dxf") == "Cannot be read: there is no such file."
    assert refusal(tmp_path) == "Cannot be read: it is a folder."


def test_too_many_things_are_refused_with_the_count_and_a_way_out(
    drawn: Draw, monkeypatch: pytest.MonkeyPatch
) -> None:
    def draw(_: Any, space: Any) -> None:
        for i in range(300):
            space.add_line((0, i), (10, i))

    path = drawn(draw)
    monkeypatch.setattr(dxf_in, "MOST", 200)
    assert refusal(path) == "Its blocks, taken apart, hold more than 200; 200 things are read at most."
    monkeypatch.setattr(dxf_in, "MOST", 10)
    assert refusal(path).startswith("It holds about 3")


def test_a_block_repeated_beyond_reason_is_left_out(drawn: Draw) -> None:
    def draw(document: Any, space: Any) -> None:
        document.blocks.new("dot").add_line((0, 0), (1, 0))
        space.add_blockref(
            "dot",
            (0, 0),
            dxfattribs={"row_count": 1000, "column_count": 1000, "row_spacing": 1, "column_spacing": 1},
        )
        space.add_line((0, 0), (5, 5))

    found = read_dxf(drawn(draw))
    assert len(found.lines) == 1
    assert found.skipped == (("INSERT, repeated too often", 1),)


def test_reading_tells_progress_and_ends_on_request(drawn: Draw) -> None:
    def draw(_: Any, space: Any) -> None:
        for i in range(6000):
            space.add_line((0, i), (10, i))

    path = drawn(draw)
    told: list[float] = []
    read_dxf(path, watch=lambda fraction, _: told.append(fraction))
    assert told == sorted(told)
    assert told[-1] == 1.0
    assert sum(0 < fraction < 0.6 for fraction in told) > 5

    class Stop(Exception):  # noqa: N818
        pass

    def stop(fraction: float, _: str) -> None:
        if fraction > 0.1:
            raise Stop

    with pytest.raises(Stop):
        read_dxf(path, watch=stop)


def test_binary_dxf_comes_in(tmp_path: Path) -> None:
    document = EZDXF.new(units=4)
    document.modelspace().add_line((0, 0), (12, 0))
    path = tmp_path / "binary.dxf"
    document.saveas(path, fmt="bin")
    assert read_dxf(path).size == (12, 0)


# -- walls -----------------------------------------------------------------------------------------


def test_lines_end_to_end_are_one_wall_left_to_right() -> None:
    found = outlines_to_walls(
        outlines([(60, 0), (30, 40)], [(90, 0), (60, 0)], [(0, 40), (30, 40)], layer="web"),
        laminate="l1",
        side=Side.RIGHT,
    )
    [wall] = found
    assert wall.points == ((0, 40), (30, 40), (60, 0), (90, 0))
    assert (wall.laminate, wall.side, wall.closed, wall.name) == ("l1", Side.RIGHT, False, "web")


def test_an_upright_wall_is_drawn_upward() -> None:
    [wall] = outlines_to_walls(outlines([(5, 90), (5, 0)]), laminate="l1", side=Side.LEFT)
    assert wall.points == ((5, 0), (5, 90))


def test_points_on_straight_runs_are_left_out() -> None:
    [wall] = outlines_to_walls(
        outlines([(0, 0), (10, 0.004), (20, 0), (20, 30), (20, 31)]), laminate="l1", side=Side.LEFT
    )
    assert wall.points == ((0, 0), (20, 0), (20, 31))


def test_a_closed_outline_is_a_closed_wall_counter_clockwise() -> None:
    square = outlines([(0, 0), (0, 50)], [(0, 50), (50, 50)], [(50, 50), (50, 0)], [(50, 0), (0, 0)])
    [wall] = outlines_to_walls(square, laminate="l1", side=Side.LEFT)
    assert wall.closed
    y, z = np.array(wall.points).T
    assert len(y) == 4
    assert float(np.sum(y * np.roll(z, -1) - np.roll(y, -1) * z)) / 2 == pytest.approx(2500)


def test_walls_end_where_three_lines_meet() -> None:
    tee = outlines([(0, 0), (50, 0)], [(50, 0), (100, 0)], [(50, 0), (50, 80)])
    assert len(chains(tee)) == 3


def test_a_gap_within_reach_is_joined_and_a_wider_one_is_not() -> None:
    assert len(chains(outlines([(0, 0), (50, 0)], [(50.05, 0), (50.05, 40)]))) == 1
    assert len(chains(outlines([(0, 0), (50, 0)], [(50.5, 0), (50.5, 40)]))) == 2


def test_a_line_drawn_twice_is_one_wall() -> None:
    assert len(chains(outlines([(0, 0), (50, 0), (50, 9)], [(50, 9), (50, 0), (0, 0)]))) == 1


@given(st.permutations(range(6)), st.lists(st.booleans(), min_size=6, max_size=6))
def test_order_and_direction_of_the_lines_do_not_matter(order: list[int], turned: list[bool]) -> None:
    corners = [(0, 5), (40, 5), (50, 60), (90, 60), (100, 5), (140, 5), (150, 9)]
    lines = [[corners[i], corners[i + 1]] for i in order]
    drawn = [line[::-1] if turn else line for line, turn in zip(lines, turned, strict=True)]
    [wall] = outlines_to_walls(outlines(*drawn), laminate="l1", side=Side.RIGHT)
    assert wall.points == tuple((float(y), float(z)) for y, z in corners)


def test_too_many_or_too_large_walls_are_refused_with_a_way_out() -> None:
    many = outlines(*([(i * 10, 0), (i * 10 + 5, 3)] for i in range(MOST_WALLS + 1)))
    with pytest.raises(StringerlabError, match="It would make 301 walls; a section takes 300 at once"):
        outlines_to_walls(many, laminate="l1", side=Side.LEFT)
    with pytest.raises(StringerlabError, match=r"It reaches 25.4 m .* check its unit"):
        outlines_to_walls(outlines([(0, 0), (25_400, 0)]), laminate="l1", side=Side.LEFT)
    with pytest.raises(StringerlabError, match="Rest it on the shell"):
        outlines_to_walls(outlines([(50_000, 0), (50_100, 0)]), laminate="l1", side=Side.LEFT)


def test_on_the_shell_rests_and_centres() -> None:
    moved = outlines([(100, 40), (300, 90)]).on_the_shell()
    assert moved.bounds == (-100, 0, 100, 50)


def test_layers_choose_lines() -> None:
    both = Outlines(
        name="d",
        lines=(np.zeros((2, 2)), np.ones((2, 2))),
        layers=("hat", "frame"),
        unit=None,
        read_as="mm",
        tolerance=0.05,
        entities=2,
    )
    assert both.on({"hat"}).layers == ("hat",)
    assert (both.on({"hat"}).lines[0] == 0).all()


def test_the_longest_lines_are_kept_in_order() -> None:
    lines = outlines([(0, 0), (1, 0)], [(0, 0), (0, 9)], [(0, 0), (2, 0)], [(0, 0), (5, -7)])
    assert [line[1].tolist() for line in lines.longest(2).lines] == [[0, 9], [5, -7]]
    assert lines.longest(9) is lines
