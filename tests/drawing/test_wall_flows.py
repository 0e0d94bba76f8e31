"""Shear flow drawn along walls: statics, symmetry, hand-worked flows; where there is none, all webs' bar."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
from numpy.typing import NDArray

from stringerlab.drawing import Area, Label, Line, Options, Picture, Role, legend, section_picture
from stringerlab.drawing.wall_flows import runs
from stringerlab.laminate import Moduli, Stack
from stringerlab.materials.records import PlyKind
from stringerlab.section import Plating, SectionShape, Side, WallShape, properties
from stringerlab.section.loads import SectionLoads
from stringerlab.section.torsion import thin_walls

if TYPE_CHECKING:
    from tests.drawing.conftest import Shown

Array = NDArray[np.float64]
Lay = Callable[..., Stack]

V = 5000.0


def wall(
    points: Iterable[tuple[float, float]], stack: Stack, *, id_: str = "w1", closed: bool = False
) -> WallShape:
    return WallShape(id=id_, points=tuple(points), fillets=(), side=Side.LEFT, closed=closed, stack=stack)


def section(*walls: WallShape) -> SectionShape:
    return SectionShape(name="section", walls=walls)


def picture_of(shape: SectionShape, plating: Plating | None = None, shear: float = V) -> Picture:
    found = properties(shape, plating, Moduli.PLAIN)
    return section_picture(
        shape, plating, properties=found, options=Options(axes=False, shear_flow=True, shear=shear)
    )


def ribbons(picture: Picture) -> list[Area]:
    return [item for item in picture if isinstance(item, Area) and item.role is Role.SHEAR]


def middle_and_width(ribbon: Area) -> tuple[Array, Array]:
    """Middle line (n, 2) of a ribbon and its width (n,) all along."""
    (ring,) = ribbon.rings
    one, other = ring[: len(ring) // 2], ring[len(ring) // 2 :][::-1]
    return (one + other) / 2, np.hypot(*(one - other).T)


def words(picture: Picture) -> str:
    (text,) = [item.text for item in picture if isinstance(item, Label) and item.role is Role.SHEAR]
    return text


def force(points: Array, flow: Array) -> Array:
    """Resultant (2,) of a flow along a line, by trapezia between its places."""
    return ((flow[1:] + flow[:-1])[:, None] / 2 * np.diff(points, axis=0)).sum(axis=0)


@pytest.mark.parametrize("load", [SectionLoads(V_z=V), SectionLoads(V_y=V), SectionLoads(V_z=-V, T=3e5)])
def test_flow_along_walls_and_joints_adds_up_to_the_force(
    shown: tuple[Shown, ...], load: SectionLoads
) -> None:
    for one in shown[:-1]:  # the last one's walls do not hang together
        found = runs(thin_walls(one.shape, one.plating), load, 4.0)
        whole = sum((force(run.points, run.flow) for run in found), np.zeros(2))
        assert whole == pytest.approx([load.V_y, load.V_z], abs=0.01 * V), one.id


def test_torque_alone_flows_round_a_box_by_bredt(lay: Lay) -> None:
    """q = T/(2A) all round a thin tube, but for what its walls take as strips."""
    tube = wall(((0, 0), (200, 0), (200, 100), (0, 100)), lay((2.0, 9000.0, PlyKind.MAT)), closed=True)
    (run,) = runs(thin_walls(section(tube)), SectionLoads(T=1e6), 5.0)
    assert np.abs(run.flow) == pytest.approx(1e6 / (2 * 198 * 98), rel=2e-3)


def test_a_channels_web_ribbon_carries_the_whole_force(lay: Lay) -> None:
    """Its width, at the scale that the greatest in words gives, times the web's height."""
    channel = wall(((40, 0), (0, 0), (0, 120), (40, 120)), lay((4.0, 9000.0, PlyKind.MAT)))
    picture = picture_of(section(channel))
    (ribbon,) = ribbons(picture)
    (ring,) = ribbon.rings
    one, other = ring[: len(ring) // 2], ring[len(ring) // 2 :][::-1]
    middle, across = (one + other) / 2, np.abs(one - other)[:, 0]
    web = np.abs(middle[:, 0] - middle[:, 0].min()) < 1e-6
    flow = across[web] / across[web].max() * float(words(picture).split()[0])
    assert abs(force(middle[web], flow)[1]) == pytest.approx(V, rel=0.01)


def test_flow_of_a_plate_on_edge_is_the_textbook_parabola(lay: Lay) -> None:
    """q = (V/2I)(h²/4 − z²) b: nothing at its edges and 1.5 V/h in the middle."""
    height = 200.0
    plate = section(wall(((0, 0), (0, height)), lay((8.0, 9000.0, PlyKind.MAT))))
    picture = picture_of(plate)
    (ribbon,) = ribbons(picture)
    middle, width = middle_and_width(ribbon)
    assert width / width.max() == pytest.approx(1 - (2 * middle[:, 1] / height - 1) ** 2, abs=1e-9)
    assert words(picture) == f"{1.5 * V / height:.1f} N/mm"


def test_an_i_beam_has_the_flow_of_the_books(lay: Lay) -> None:
    """Flanges V b t h/(4I) at the web and none at their tips; web V/I (b t h/2 + t h²/8) at its middle."""
    b, h, t = 100.0, 150.0, 4.0
    stack = lay((t, 9000.0, PlyKind.MAT))
    lower = wall(((-b / 2, 0), (b / 2, 0)), stack, id_="w1")
    upper = wall(((-b / 2, h), (b / 2, h)), stack, id_="w2")
    web = wall(((t / 2, t), (t / 2, h)), stack, id_="w3")  # laminates to the left: middles at 2, h + 2 and 0
    walls = thin_walls(section(lower, upper, web))
    found = [run for run in runs(walls, SectionLoads(V_z=V), 2.0) if run.owner]
    greatest = {run.owner: float(np.abs(run.flow).max()) for run in found}
    inertia = t * h**3 / 12 + 2 * b * t * (h / 2) ** 2
    at_web = V * b * t * h / (4 * inertia)
    in_web = V / inertia * (b * t * h / 2 + t * h**2 / 8)
    assert greatest["w1"] == pytest.approx(at_web, rel=0.03)
    assert greatest["w2"] == pytest.approx(at_web, rel=0.03)
    assert greatest["w3"] == pytest.approx(in_web, rel=0.03)


@pytest.mark.parametrize("shear", [V, -V])
def test_a_symmetric_hat_has_two_webs_alike_and_nothing_in_the_middle_of_its_crown(
    shown: tuple[Shown, ...], shear: float
) -> None:
    one = next(one for one in shown if one.id == "s5")
    found = runs(thin_walls(one.shape, one.plating), SectionLoads(V_z=shear), 4.0)
    (run,) = [run for run in found if run.owner == one.shape.walls[0].id]
    steps = np.hypot(*np.diff(run.points, axis=0).T)
    along = np.concatenate([[0.0], np.cumsum(steps)])
    peak = float(np.abs(run.flow).max())
    once = np.flatnonzero(np.concatenate([[True], steps > 1e-9]) & np.concatenate([steps > 1e-9, [True]]))
    places, flow = along[once], run.flow[once]
    # Against the run on the way down as along it on the way up.
    mirrored = np.interp(along[-1] - places, places, flow)
    web = (run.points[once, 1] > 25) & (run.points[once, 1] < 110)
    assert web.sum() > 20
    assert flow[web] == pytest.approx(-mirrored[web], abs=0.01 * peak)
    assert float(np.interp(along[-1] / 2, places, flow)) == pytest.approx(0.0, abs=1e-6 * peak)
    left = flow[web & (run.points[once, 0] < 0)]
    rising = run.points[once, 1][web & (run.points[once, 0] < 0)]
    upward = np.sign(left * np.gradient(rising))
    assert set(upward.tolist()) == {np.sign(shear)}


def test_arrowheads_point_the_way_of_the_force_in_both_webs_of_a_hat(shown: tuple[Shown, ...]) -> None:
    one = next(one for one in shown if one.id == "s5")
    for shear in (V, -V):
        heads = [
            item.points
            for item in picture_of(one.shape, one.plating, shear)
            if isinstance(item, Line) and item.role is Role.SHEAR and item.subject == "shear flow: w6"
        ]
        steep = [head[1] - (head[0] + head[2]) / 2 for head in heads if 25 < head[1, 1] < 110]
        assert len(steep) >= 4
        assert {float(np.sign(way[1])) for way in steep} == {float(np.sign(shear))}


def test_every_wall_says_its_own_greatest_flow_and_the_legend_what_ribbons_are(
    shown: tuple[Shown, ...],
) -> None:
    one = next(one for one in shown if one.id == "s7")
    picture = picture_of(one.shape, one.plating)
    tips = {item.subject: item.tip for item in ribbons(picture)}
    greatest = thin_walls(one.shape, one.plating).greatest(SectionLoads(V_z=V))
    assert set(tips) == {f"shear flow: {owner}" for owner in greatest}
    assert all("N/mm" in tip for tip in tips.values())
    rows = [row.text for row in legend(Options(), picture) if row.role is Role.SHEAR]
    assert rows == ["shear flow along walls, width to scale"]


def test_walls_that_do_not_hang_together_have_the_bar_of_all_webs_and_say_so(
    shown: tuple[Shown, ...],
) -> None:
    one = next(one for one in shown if one.id == "s5")
    raised = tuple(
        replace(each, points=tuple((y, z + 30) for y, z in each.points)) for each in one.shape.walls
    )
    picture = picture_of(replace(one.shape, walls=raised), one.plating)
    (bar,) = ribbons(picture)
    assert "do not hang together" in bar.tip
    titles = [item.text for item in picture if isinstance(item, Label) and "V = " in item.text]
    assert titles == ["shear flow, all webs\nV = 5000 N"]
    assert words(picture).endswith("\nnot wall by wall")
    assert "\nmean in webs\n" in words(picture)
    rows = [row.text for row in legend(Options(), picture) if row.role is Role.SHEAR]
    assert rows == ["shear flow of all webs, not wall by wall"]


def test_the_bar_is_force_times_first_moment_over_stiffness(lay: Lay) -> None:
    """Of two plates on edge apart: the parabola of one plate twice as thick, 1.5 V/h in the middle."""
    stack = lay((4.0, 9000.0, PlyKind.MAT))
    height = 200.0
    apart = section(
        wall(((0, 0), (0, height)), stack, id_="w1"), wall(((60, 0), (60, height)), stack, id_="w2")
    )
    picture = picture_of(apart)
    (bar,) = ribbons(picture)
    (spine,) = [item for item in picture if isinstance(item, Line) and item.subject == "diagram"]
    width = bar.rings[0][:-2, 0] - spine.points[0, 0]
    z = bar.rings[0][:-2, 1]
    assert width / width.max() == pytest.approx(1 - (2 * z / height - 1) ** 2, abs=1e-6)
    assert words(picture).startswith(f"{1.5 * V / height:.1f} N/mm")


def test_a_flat_wall_alone_is_not_sheared_by_a_vertical_force(lay: Lay) -> None:
    flat = section(wall(((0, 0), (100, 0)), lay((4.0, 9000.0, PlyKind.MAT))))
    (bar,) = ribbons(picture_of(flat))
    assert "does not shear its walls" in bar.tip


def test_nothing_of_it_is_made_while_the_overlay_is_off(
    shown: tuple[Shown, ...], monkeypatch: pytest.MonkeyPatch
) -> None:
    def asked(*_: object) -> None:
        raise AssertionError

    monkeypatch.setattr("stringerlab.drawing.overlays.wall_flows", asked)
    one = shown[0]
    options = Options(shear=V, stress=True, moment=1e6)
    made = section_picture(one.shape, one.plating, properties=one.properties, options=options)
    assert not ribbons(made)
