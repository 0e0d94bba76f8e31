"""Stiffness against closed forms of strength of materials, and what must not change it."""

from cmath import exp
from collections.abc import Callable, Iterable
from dataclasses import replace
from itertools import permutations
from math import cos, hypot, pi, sin, tan

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stringerlab.errors import StringerlabError
from stringerlab.laminate import Moduli, Stack
from stringerlab.section import (
    FillShape,
    Plating,
    Properties,
    SectionShape,
    Side,
    WallShape,
    faults,
    ply_polygons,
    properties,
)

Lay = Callable[..., Stack]
Sections = dict[str, tuple[SectionShape, Plating | None]]
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


class TestClosedForms:
    def test_rectangle_is_b_h_cubed_over_12(self, lay: Lay) -> None:
        b, h = 8.0, 120.0
        found = properties(section(wall([(3, 10), (3, 10 + h)], lay((b, E)))), None, PLAIN)
        assert found.area == pytest.approx(b * h, rel=SAME)
        assert pytest.approx(E * b * h, rel=SAME) == found.EA
        assert (found.y_na, found.z_na) == pytest.approx((3 - b / 2, 10 + h / 2), rel=SAME)
        assert found.EI_y == pytest.approx(E * b * h**3 / 12, rel=SAME)
        assert found.EI_z == pytest.approx(E * h * b**3 / 12, rel=SAME)
        assert found.EI_yz == pytest.approx(0, abs=SAME * found.EI_1)
        assert found.principal_angle == pytest.approx(0, abs=SAME)
        assert pytest.approx(E * b * h**2 / 8, rel=SAME) == found.ES
        assert found.modulus() == pytest.approx([b * h**2 / 6], rel=SAME)

    def test_box_is_outer_less_inner(self, lay: Lay) -> None:
        b, h, t = 100.0, 60.0, 5.0
        box = wall([(0, 0), (b, 0), (b, h), (0, h)], lay((2.0, E), (3.0, E)), closed=True)
        found = properties(section(box), None, PLAIN)
        assert found.area == pytest.approx(b * h - (b - 2 * t) * (h - 2 * t), rel=SAME)
        assert found.EI_y == pytest.approx(E * (b * h**3 - (b - 2 * t) * (h - 2 * t) ** 3) / 12, rel=SAME)
        assert found.EI_z == pytest.approx(E * (h * b**3 - (h - 2 * t) * (b - 2 * t) ** 3) / 12, rel=SAME)
        half = h / 2
        assert pytest.approx(E * (b * half**2 - (b - 2 * t) * (half - t) ** 2) / 2, rel=SAME) == found.ES

    def test_two_plates_by_the_parallel_axis_theorem(self, lay: Lay) -> None:
        b, t, gap = 200.0, 6.0, 94.0
        low = wall([(-b / 2, 0), (b / 2, 0)], lay((t, E)))
        high = wall([(-b / 2, t + gap), (b / 2, t + gap)], lay((t, 2 * E)), id_="w2")
        found = properties(section(low, high), None, PLAIN)
        arm = t + gap
        z = 2 / 3 * arm
        own = 3 * E * b * t**3 / 12
        assert found.z_na == pytest.approx(t / 2 + z, rel=SAME)
        assert found.EI_y == pytest.approx(own + E * b * t * z**2 + 2 * E * b * t * (arm - z) ** 2, rel=SAME)
        assert pytest.approx(2 * E * b * t * (arm - z), rel=SAME) == found.ES

    def test_angle_has_the_product_moment_of_its_two_legs(self, lay: Lay) -> None:
        a, b, t = 80.0, 50.0, 6.0
        found = properties(section(wall([(b, 0), (0, 0), (0, a)], lay((t, E)), side=Side.RIGHT)), None, PLAIN)
        legs = [(t, a, t / 2, a / 2), (b - t, t, t + (b - t) / 2, t / 2)]
        A = sum(w * h for w, h, _, _ in legs)
        y = sum(w * h * yc for w, h, yc, _ in legs) / A
        z = sum(w * h * zc for w, h, _, zc in legs) / A
        I_yz = sum(w * h * (yc - y) * (zc - z) for w, h, yc, zc in legs)
        I_y = sum(w * h**3 / 12 + w * h * (zc - z) ** 2 for w, h, _, zc in legs)
        I_z = sum(h * w**3 / 12 + w * h * (yc - y) ** 2 for w, h, yc, _ in legs)
        assert (found.y_na, found.z_na) == pytest.approx((y, z), rel=SAME)
        assert found.EI_y == pytest.approx(E * I_y, rel=SAME)
        assert found.EI_z == pytest.approx(E * I_z, rel=SAME)
        assert found.EI_yz == pytest.approx(E * I_yz, rel=SAME)
        assert tan(2 * found.principal_angle) == pytest.approx(-2 * I_yz / (I_y - I_z), rel=SAME)
        assert pytest.approx(E * ((I_y + I_z) / 2 + hypot((I_y - I_z) / 2, I_yz)), rel=SAME) == found.EI_1

    def test_slanted_plate_by_the_rotated_axes(self, lay: Lay) -> None:
        length, t, slope = 150.0, 5.0, 0.6
        plate = wall([(0, 0), (length * cos(slope), length * sin(slope))], lay((t, E)))
        found = properties(section(plate), None, PLAIN)
        along, across = E * t * length**3 / 12, E * length * t**3 / 12
        assert found.EI_y == pytest.approx(along * sin(slope) ** 2 + across * cos(slope) ** 2, rel=SAME)
        assert pytest.approx(along, rel=SAME) == found.EI_1
        assert pytest.approx(across, rel=1e-8) == found.EI_2
        assert abs(found.principal_angle) == pytest.approx(pi / 2 - slope, rel=SAME)

    def test_plating_lies_below_the_origin_with_its_last_ply_inboard(self, lay: Lay) -> None:
        hull = lay((2.0, 5000.0), (1.0, 20000.0), gel=0.5)
        lone = wall([(0, 0), (0, 100)], lay((4.0, E)))
        found = properties(section(lone), Plating(stack=hull, width=300.0), PLAIN)
        parts = [(E, 4.0, 100.0, 50.0), (20000.0, 300.0, 1.0, -0.5), (5000.0, 300.0, 2.0, -2.0)]
        EA = sum(modulus * b * h for modulus, b, h, _ in parts)
        z = sum(modulus * b * h * zc for modulus, b, h, zc in parts) / EA
        EI = sum(modulus * (b * h**3 / 12 + b * h * (zc - z) ** 2) for modulus, b, h, zc in parts)
        assert pytest.approx(EA, rel=SAME) == found.EA
        assert found.z_na == pytest.approx(z, rel=SAME)
        assert found.EI_y == pytest.approx(EI, rel=SAME)
        names = dict(zip(found.fibres.names, found.fibres.z_bottom, strict=True))
        assert names["plating ply 3: reinforced"] == pytest.approx(-1.0 - z, rel=SAME)
        assert names["plating ply 2: reinforced"] == pytest.approx(-3.0 - z, rel=SAME)
        assert "plating ply 1: gel coat" not in names

    def test_gel_coat_and_core_carry_nothing(self, lay: Lay) -> None:
        plies = ((1.0, 7000.0), (1.0, 7000.0))
        bare = properties(section(wall([(0, 0), (0, 100)], lay(*plies))), None, PLAIN)
        gelled = properties(section(wall([(0, 0), (0, 100)], lay(*plies, gel=0.6))), None, PLAIN)
        cored = properties(section(wall([(0, 0), (0, 100)], lay(*plies, core=12.0))), None, PLAIN)
        for other in (gelled, cored):
            assert pytest.approx(bare.EA, rel=SAME) == other.EA
            assert other.EI_y == pytest.approx(bare.EI_y, rel=SAME)
        assert len(gelled.fibres.names) == len(cored.fibres.names) == 2

    def test_block_counts_by_its_modulus_and_foam_not_at_all(self, lay: Lay) -> None:
        lone = wall([(0, 0), (0, 100)], lay((4.0, E)))
        block = FillShape(
            id="f1",
            points=((0, 20), (30, 20), (30, 60), (0, 60)),
            name="block",
            density=2700,
            modulus=70000,
            strength=150,
        )
        foam = replace(block, modulus=0.0, strength=None)
        with_block, with_foam = (
            properties(section(lone, fills=(fill,)), None, PLAIN) for fill in (block, foam)
        )
        assert pytest.approx(E * 400 + 70000 * 1200, rel=SAME) == with_block.EA
        assert with_block.fibres.names == ("w1 ply 1: reinforced", "f1: block")
        assert pytest.approx(E * 400, rel=SAME) == with_foam.EA

    def test_extreme_fibres_reach_the_outline(self, sections: Sections) -> None:
        shape, plating = sections["hat"]
        found = properties(shape, plating, PLAIN)
        top = dict(zip(found.fibres.names, found.fibres.z_top, strict=True))
        assert top["w1 ply 2: reinforced"] == pytest.approx(130 - 0.5 - found.z_na, rel=SAME)
        assert found.fibres.z_bottom.min() == pytest.approx(-6.0 - found.z_na, rel=SAME)
        assert (found.fibres.tension == 100).all()
        assert not np.isnan(found.modulus()).any()


@st.composite
def hats(draw: st.DrawFn, lay: Lay) -> tuple[SectionShape, Plating]:
    """A hat that anybody might draw, and its plating."""
    size = st.floats
    thicknesses = draw(st.lists(size(0.3, 2.0), min_size=1, max_size=6))
    moduli = draw(st.lists(size(3000, 30000), min_size=6, max_size=6))
    stack = lay(*zip(thicknesses, moduli, strict=False), gel=draw(st.sampled_from([0.0, 0.6])))
    t = sum(ply.thickness for ply in stack.plies)
    height, crown, flange = draw(size(80, 250)), draw(size(90, 300)), draw(size(60, 120))
    lean = (height - t) * tan(draw(size(0, 0.5)))
    root, top = draw(st.sampled_from([0.0, 8.0, 25.0])), draw(st.sampled_from([0.0, t + 1, t + 10]))
    half, base = crown / 2, crown / 2 + lean
    points = ((-base - flange, t), (-base, t), (-half, height), (half, height), (base, t), (base + flange, t))
    hat = wall(points, stack, side=Side.RIGHT, fillets=(0, root, top, top, root, 0))
    hull = lay((2.0, draw(size(5000, 20000))), (3.0, draw(size(5000, 20000))), gel=0.5)
    return section(hat), Plating(stack=hull, width=draw(size(100, 600)))


def moved(shape: SectionShape, how: Callable[[complex], complex], *, flip: bool = False) -> SectionShape:
    """The section with every point, a complex number, moved; ``flip`` where left and right change places."""

    def turned(points: Line) -> tuple[tuple[float, float], ...]:
        return tuple((z.real, z.imag) for z in (how(complex(*point)) for point in points))

    other = {Side.LEFT: Side.RIGHT, Side.RIGHT: Side.LEFT}
    return replace(
        shape,
        walls=tuple(
            replace(one, points=turned(one.points), side=other[one.side] if flip else one.side)
            for one in shape.walls
        ),
        fills=tuple(replace(one, points=turned(one.points)) for one in shape.fills),
    )


def same(one: Properties, other: Properties, *names: str) -> None:
    for name in names:
        scale = one.EI_1 if name.startswith("EI") else abs(getattr(one, name)) + 1
        assert getattr(other, name) == pytest.approx(getattr(one, name), abs=SAME * scale), name


class TestInvariants:
    @given(data=st.data(), angle=st.floats(-3, 3))
    def test_turning_the_whole_keeps_the_tensor(self, data: st.DataObject, angle: float, lay: Lay) -> None:
        shape, _ = data.draw(hats(lay))
        one = properties(shape, None, PLAIN)
        other = properties(moved(shape, lambda point: point * exp(1j * angle)), None, PLAIN)
        same(one, other, "area", "EA", "EI_1", "EI_2")
        assert other.EI_y + other.EI_z == pytest.approx(one.EI_y + one.EI_z, rel=SAME)
        assert complex(other.y_na, other.z_na) == pytest.approx(
            complex(one.y_na, one.z_na) * exp(1j * angle), abs=1e-8
        )
        c, s = cos(angle), sin(angle)
        turned = c * c * one.EI_y + s * s * one.EI_z + 2 * c * s * one.EI_yz
        assert other.EI_y == pytest.approx(turned, abs=SAME * one.EI_1)

    @given(data=st.data(), angle=st.floats(-0.6, 0.6))
    def test_deadrise_is_a_turn_of_the_plating(self, data: st.DataObject, angle: float, lay: Lay) -> None:
        shape, plating = data.draw(hats(lay))
        one = properties(shape, plating, PLAIN)
        turned = moved(shape, lambda point: point * exp(1j * angle))
        other = properties(turned, replace(plating, deadrise=angle), PLAIN)
        same(one, other, "area", "EA", "EI_1", "EI_2")

    @given(data=st.data())
    def test_mirror_image(self, data: st.DataObject, lay: Lay) -> None:
        shape, plating = data.draw(hats(lay))
        skewed = moved(shape, lambda point: complex(point.real + 0.2 * point.imag, point.imag))
        one = properties(skewed, plating, PLAIN)
        other = properties(
            moved(skewed, lambda point: complex(-point.real, point.imag), flip=True), plating, PLAIN
        )
        same(one, other, "EA", "z_na", "EI_y", "EI_z", "ES")
        assert other.y_na == pytest.approx(-one.y_na, abs=1e-8)
        assert other.EI_yz == pytest.approx(-one.EI_yz, abs=SAME * one.EI_1)
        assert other.fibres.z_top == pytest.approx(one.fibres.z_top, abs=1e-8)

    @given(data=st.data(), part=st.floats(0.1, 0.9))
    def test_splitting_a_ply_in_two(self, data: st.DataObject, part: float, lay: Lay) -> None:
        shape, plating = data.draw(hats(lay))
        hat = shape.walls[0]
        plies = hat.stack.plies
        at = data.draw(st.integers(0, len(plies) - 1))
        halves = tuple(
            replace(plies[at], thickness=plies[at].thickness * share, mass=plies[at].mass * share)
            for share in (part, 1 - part)
        )
        split = replace(hat, stack=replace(hat.stack, plies=plies[:at] + halves + plies[at + 1 :]))
        same(
            properties(shape, plating, PLAIN),
            properties(section(split), plating, PLAIN),
            "area", "EA", "y_na", "z_na", "EI_y", "EI_z", "EI_yz", "ES",
        )  # fmt: skip

    @given(data=st.data(), part=st.floats(0.1, 0.9))
    def test_splitting_a_wall_at_a_point_of_a_straight_segment(
        self, data: st.DataObject, part: float, lay: Lay
    ) -> None:
        shape, plating = data.draw(hats(lay))
        hat = shape.walls[0]
        leg = data.draw(st.sampled_from([0, 4]))
        (y0, z0), (y1, z1) = hat.points[leg : leg + 2]
        # A point on the free part of a flange: past any fillet's tangent point.
        share = part * 0.3 if leg == 0 else 1 - part * 0.3
        point = (y0 + share * (y1 - y0), z0 + share * (z1 - z0))
        added = replace(
            hat,
            points=(*hat.points[: leg + 1], point, *hat.points[leg + 1 :]),
            fillets=(*hat.fillets[: leg + 1], 0.0, *hat.fillets[leg + 1 :]),
        )
        two = (
            replace(hat, points=(*hat.points[: leg + 1], point), fillets=(*hat.fillets[: leg + 1], 0.0)),
            replace(
                hat, id="w2", points=(point, *hat.points[leg + 1 :]), fillets=(0.0, *hat.fillets[leg + 1 :])
            ),
        )
        one = properties(shape, plating, PLAIN)
        for other in (section(added), section(*two)):
            same(one, properties(other, plating, PLAIN), "area", "EA", "z_na", "EI_y", "EI_z", "EI_yz", "ES")

    @given(data=st.data(), scale=st.floats(0.1, 50))
    def test_scaling_all_lengths(self, data: st.DataObject, scale: float, lay: Lay) -> None:
        shape, _ = data.draw(hats(lay))
        hat = shape.walls[0]
        plies = tuple(replace(ply, thickness=ply.thickness * scale) for ply in hat.stack.plies)
        larger = replace(
            hat,
            points=tuple((y * scale, z * scale) for y, z in hat.points),
            fillets=tuple(radius * scale for radius in hat.fillets),
            stack=replace(hat.stack, plies=plies),
        )
        one, other = properties(shape, None, PLAIN), properties(section(larger), None, PLAIN)
        assert pytest.approx(one.EA * scale**2, rel=SAME) == other.EA
        assert other.z_na == pytest.approx(one.z_na * scale, rel=SAME)
        assert other.EI_y == pytest.approx(one.EI_y * scale**4, rel=SAME)
        assert pytest.approx(one.ES * scale**3, rel=SAME) == other.ES

    @given(data=st.data(), y=st.floats(-5000, 5000), z=st.floats(-5000, 5000))
    def test_moving_the_whole(self, data: st.DataObject, y: float, z: float, lay: Lay) -> None:
        shape, _ = data.draw(hats(lay))
        one = properties(shape, None, PLAIN)
        other = properties(moved(shape, lambda point: point + complex(y, z)), None, PLAIN)
        assert pytest.approx(one.EA, rel=SAME) == other.EA
        assert (other.y_na, other.z_na) == pytest.approx((one.y_na + y, one.z_na + z), abs=1e-7)
        for name in ("EI_y", "EI_z", "ES"):
            assert getattr(other, name) == pytest.approx(getattr(one, name), rel=1e-9), name

    @given(data=st.data())
    def test_plies_fill_the_wall_without_gaps_or_double_counting(self, data: st.DataObject, lay: Lay) -> None:
        shape, _ = data.draw(hats(lay))
        hat = shape.walls[0]
        t = sum(ply.thickness for ply in hat.stack.plies)
        whole = section(replace(hat, stack=lay((t, E))))
        [ring] = ply_polygons(whole).rings(0)
        y, z = ring.T
        outline = abs(y @ np.roll(z, -1) - z @ np.roll(y, -1)) / 2
        plies = ply_polygons(shape)
        total = 0.0
        for index in range(len(plies.names)):
            [ring] = plies.rings(index)
            y, z = ring.T
            total += abs(y @ np.roll(z, -1) - z @ np.roll(y, -1)) / 2
        assert total == pytest.approx(outline, rel=SAME)
        assert properties(whole, None, PLAIN).area == pytest.approx(outline, rel=SAME)

    def test_neighbouring_plies_share_their_edges_exactly(self, sections: Sections) -> None:
        plies = ply_polygons(sections["hat"][0])
        for index in range(len(plies.names) - 1):
            [one], [other] = plies.rings(index), plies.rings(index + 1)
            half = len(one) // 2
            assert np.array_equal(one[half:][::-1], other[:half])

    def test_order_of_fills_changes_nothing(self, lay: Lay) -> None:
        lone = wall([(0, 0), (0, 100)], lay((4.0, E)))
        fills = [
            FillShape(
                id=f"f{number}",
                points=((y, 10), (y + 40, 10), (y + 40, 60), (y, 60)),
                name="block",
                density=1000,
                modulus=modulus,
                strength=None,
            )
            for number, y, modulus in ((1, 0, 20000.0), (2, 25, 5000.0), (3, 50, 60000.0))
        ]
        found = [properties(section(lone, fills=order), None, PLAIN) for order in permutations(fills)]
        first = found[0]
        # f1 keeps 40 of its 40 mm, f2 25 (its last 15 go on to 65), f3 the rest from 65 to 90.
        assert pytest.approx(E * 400 + 50 * (40 * 20000 + 25 * 5000 + 25 * 60000), rel=SAME) == first.EA
        for other in found[1:]:
            same(first, other, "EA", "y_na", "z_na", "EI_y", "EI_z", "EI_yz", "ES")


def test_nothing_structural_is_an_error_not_a_zero(lay: Lay) -> None:
    with pytest.raises(StringerlabError, match="Nothing in it carries load"):
        properties(section(wall([(0, 0), (0, 100)], lay(gel=0.5))), None, PLAIN)


def test_a_hat_whose_webs_lean_outward_is_sound(lay: Lay) -> None:
    lock = wall(
        [(-100, 4), (-60, 4), (-70, 100), (70, 100), (60, 4), (100, 4)], lay((3.0, E)), side=Side.RIGHT
    )
    assert not faults(section(lock), 0.0)
