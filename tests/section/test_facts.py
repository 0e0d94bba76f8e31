"""What a section measures, against sizes worked out by hand."""

from cmath import exp
from collections.abc import Callable, Iterable
from dataclasses import replace
from math import cos, isnan, radians, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stringerlab.laminate import Stack
from stringerlab.section import FillShape, Plating, SectionShape, Side, WallShape, facts

Lay = Callable[..., Stack]
Sections = dict[str, tuple[SectionShape, Plating | None]]
Line = Iterable[tuple[float, float]]

SAME = 1e-10
E = 10_000.0


def wall(
    points: Line,
    stack: Stack,
    *,
    id_: str = "w1",
    side: Side = Side.RIGHT,
    fillets: Iterable[float] = (),
    closed: bool = False,
) -> WallShape:
    return WallShape(
        id=id_, points=tuple(points), fillets=tuple(fillets), side=side, closed=closed, stack=stack
    )


def section(*walls: WallShape, fills: Iterable[FillShape] = (), bead: float = 0.0) -> SectionShape:
    return SectionShape(name="test", walls=walls, fills=tuple(fills), bead=bead)


def square_hat(stack: Stack, *, bead: float = 0.0, thickness: float = 5.0, shift: float = 0.0) -> WallShape:
    """Tool line of a hat 100 high and 120 wide with 60 mm flanges and no draft."""
    z = thickness + bead
    points = ((-120, z), (-60, z), (-60, 100), (60, 100), (60, z), (120, z))
    return wall([(y + shift, z) for y, z in points], stack)


class TestHat:
    def test_webs_crown_and_base(self, lay: Lay) -> None:
        found = facts(section(square_hat(lay((2.0, E), (3.0, E)))))
        assert found.web_area == pytest.approx(2 * 5 * 95, rel=SAME)
        assert found.web_depth == pytest.approx(95, rel=SAME)
        assert found.web_thickness == 5
        assert found.crown_width == pytest.approx(120 - 2 * 5, rel=SAME)
        assert found.crown_thickness == 5
        assert not found.free_edge
        assert found.roots == pytest.approx((-60, 60), rel=SAME)
        assert found.base_width == pytest.approx(120, rel=SAME)
        assert found.girth == pytest.approx(60 + 95 + 120 + 95 + 60, rel=SAME)

    def test_laminate_built_outward_leaves_the_tool_width_clear(self, lay: Lay) -> None:
        outward = wall(
            [(-120, 0), (-60, 0), (-60, 100), (60, 100), (60, 0), (120, 0)], lay((5.0, E)), side=Side.LEFT
        )
        found = facts(section(outward))
        assert found.crown_width == pytest.approx(120, rel=SAME)
        assert found.bonded_width == pytest.approx(120, rel=SAME)
        assert found.enclosed_area == pytest.approx(120 * 100, rel=1e-8)

    def test_gel_coat_and_core_are_no_web_area(self, lay: Lay) -> None:
        found = facts(section(square_hat(lay((2.0, E), (2.0, E), gel=0.4, core=0.6))))
        assert found.web_area == pytest.approx(2 * 4 * 95, rel=SAME)
        assert found.web_thickness == pytest.approx(4.6, rel=SAME)
        assert found.crown_thickness == pytest.approx(4.6, rel=SAME)

    def test_bonded_where_the_flange_lies_on_shell_or_bead(self, lay: Lay) -> None:
        stack = lay((5.0, E))
        for bead in (0.0, 8.0):
            found = facts(section(square_hat(stack, bead=bead), bead=bead))
            # The shell-side face of a flange runs on to the web's inner face.
            assert found.bonded == ((-120, -55), (55, 120))
            assert found.bonded_width == pytest.approx(2 * 65, rel=SAME)
        assert facts(section(square_hat(stack, bead=8.0), bead=7.4)).bonded == ()

    def test_cell_reaches_from_laminate_to_shell(self, lay: Lay) -> None:
        stack = lay((5.0, E))
        assert facts(section(square_hat(stack))).enclosed_area == pytest.approx(110 * 95, rel=1e-8)
        floating = facts(section(square_hat(stack, bead=8.0), bead=8.0))
        assert floating.enclosed_area == pytest.approx(110 * 95, rel=1e-8)

    def test_mass_and_fabric(self, lay: Lay) -> None:
        stack = lay((2.0, E), (3.0, E), gel=0.5)
        plate = wall([(0, 5), (200, 5)], stack)
        foam = FillShape(
            id="f1",
            points=((0, 10), (100, 10), (100, 60), (0, 60)),
            name="foam",
            density=40,
            modulus=0,
            strength=None,
        )
        # 1500 kg/m³ throughout the laminate: 200 × 5.5 mm², and 100 × 50 mm² of foam.
        found = facts(section(replace(plate, points=((0, 6), (200, 6))), fills=(foam,)))
        assert found.mass_per_length == pytest.approx((1500 * 200 * 5.5 + 40 * 5000) * 1e-6, rel=SAME)
        assert found.fabric_area_per_length == pytest.approx(2 * 0.2, rel=SAME)

    @given(draft=st.floats(0, 35), radius=st.sampled_from([0.0, 6.0, 12.0]))
    def test_roots_do_not_depend_on_the_fillet(self, draft: float, radius: float, lay: Lay) -> None:
        lean = 95 * tan(radians(draft))
        points = [(-130 - lean, 5), (-60 - lean, 5), (-60, 100), (60, 100), (60 + lean, 5), (130 + lean, 5)]
        found = facts(section(wall(points, lay((5.0, E)), fillets=(0, radius, radius, radius, radius, 0))))
        base = 60 + 100 * tan(radians(draft))
        assert found.roots == pytest.approx((-base, base), rel=1e-9)
        assert found.base_width == pytest.approx(2 * base, rel=1e-9)

    def test_fillet_chords_go_to_web_or_crown_by_their_slope(self, lay: Lay) -> None:
        r = 20.0
        sharp = square_hat(lay((5.0, E)))
        found = facts(section(replace(sharp, fillets=(0, 0, r, r, 0, 0))))
        # Four of eight chords rise: to r·sin 45° of the r mm.
        lost = r * (1 - cos(radians(45)))
        assert found.web_area == pytest.approx(2 * 5 * (95 - lost), rel=SAME)

    def test_hat_on_deadrise_measures_as_on_the_flat(self, lay: Lay) -> None:
        flat = square_hat(lay((5.0, E)))
        slope = 0.35
        turned = [complex(*point) * exp(1j * slope) for point in flat.points]
        tilted = replace(flat, points=tuple((point.real, point.imag) for point in turned))
        one, other = facts(section(flat)), facts(section(tilted), slope)
        for name in ("web_depth", "crown_width", "base_width", "bonded_width", "girth", "mass_per_length"):
            assert getattr(other, name) == pytest.approx(getattr(one, name), rel=1e-9), name
        assert other.enclosed_area == pytest.approx(one.enclosed_area, rel=1e-7)
        # Webs that lean with the shell are less high.
        assert other.web_area == pytest.approx(one.web_area * cos(slope), rel=1e-9)

    def test_places_along_the_shell_count_from_the_origin(self, lay: Lay) -> None:
        found = facts(section(square_hat(lay((5.0, E)), shift=40)))
        assert found.roots == pytest.approx((-20, 100), rel=SAME)


class TestOther:
    def test_plate_floor_has_one_web_and_its_tabs_are_no_webs(self, sections: Sections) -> None:
        shape, _ = sections["plate floor with tabs"]
        found = facts(shape)
        assert found.web_area == pytest.approx(8 * 160, rel=SAME)
        assert found.web_depth == pytest.approx(160, rel=SAME)
        assert found.web_thickness == 8
        assert len(found.web_stacks) == 1
        assert found.base_width == 0
        assert isnan(found.crown_width)
        assert isnan(found.crown_thickness)
        assert not found.free_edge
        # Tabs reach from 74 mm to where their fillets, 12 mm in radius, rise half a millimetre: one chord.
        assert found.bonded_width == pytest.approx(2 * (74 - 16 + 12 * 0.19509032201612825), rel=1e-9)

    def test_web_with_a_free_flange(self, lay: Lay) -> None:
        angle = wall([(0, 0), (0, 100), (50, 100)], lay((4.0, E)))
        found = facts(section(angle))
        assert found.web_area == pytest.approx(4 * 100, rel=SAME)
        assert found.free_edge
        assert found.crown_width == pytest.approx(50 - 4, rel=SAME)
        assert found.crown_thickness == 4
        assert found.base_width == 0

    def test_tee_takes_the_wider_side(self, lay: Lay) -> None:
        web = wall([(0, 0), (0, 100)], lay((4.0, E)))
        cap = wall([(-20, 106), (50, 106)], lay((6.0, E)), id_="w2")
        found = facts(section(web, cap))
        assert found.free_edge
        assert found.crown_width == pytest.approx(50 - 4, rel=SAME)
        assert found.crown_thickness == 6

    def test_crown_of_two_laminates_on_one_another(self, lay: Lay) -> None:
        hat = square_hat(lay((5.0, E)))
        cap = wall([(-55, 100), (55, 100)], lay((3.0, E)), id_="w2", side=Side.LEFT)
        found = facts(section(hat, cap))
        assert found.crown_thickness == 8
        assert found.crown_width == pytest.approx(110, rel=SAME)

    def test_webs_and_crown_drawn_as_three_walls(self, lay: Lay) -> None:
        stack = lay((5.0, E))
        left = wall([(-120, 5), (-60, 5), (-60, 95)], stack)
        right = wall([(60, 95), (60, 5), (120, 5)], lay((4.0, E)), id_="w2")
        top = wall([(-60, 100), (60, 100)], stack, id_="w3")
        found = facts(section(left, right, top))
        assert found.web_area == pytest.approx(90 * (5 + 4), rel=SAME)
        assert found.web_thickness == 4
        assert len(found.web_stacks) == 2
        assert found.crown_width == pytest.approx(120 - 5 - 4, rel=SAME)
        assert not found.free_edge

    def test_web_drawn_as_two_walls_end_to_end_is_one(self, lay: Lay) -> None:
        low = wall([(0, 0), (0, 60)], lay((4.0, E)))
        high = wall([(0, 60), (0, 100)], lay((3.0, E)), id_="w2")
        found = facts(section(low, high))
        assert found.web_area == pytest.approx(4 * 60 + 3 * 40, rel=SAME)
        assert found.web_depth == pytest.approx(100, rel=SAME)
        assert found.web_thickness == 3
        assert found.roots == pytest.approx((0,), abs=1e-9)

    def test_freehand_with_three_laminates_and_a_block(self, sections: Sections) -> None:
        shape, _ = sections["freehand"]
        found = facts(shape)
        assert len(found.roots) == 2
        # Its webs, drawn on, meet the shell 4 mm below the first foot and 1.5 mm below the second.
        assert found.roots[0] == pytest.approx(-85 - 4 * 10 / 56, rel=1e-9)
        assert found.roots[1] == pytest.approx(70.5 + 1.5 * 10.5 / 88.5, rel=1e-9)
        assert {ply.thickness for stack in found.web_stacks for ply in stack.plies} == {1.5, 2.5, 2.0}
        assert not found.free_edge
        assert found.crown_thickness in (4.0, 6.0)
        assert "wall 'w3'" in found.repairs[0].where

    def test_closed_box_encloses_its_inside(self, lay: Lay) -> None:
        box = wall([(0, 0), (100, 0), (100, 60), (0, 60)], lay((5.0, E)), side=Side.LEFT, closed=True)
        found = facts(section(box))
        assert found.enclosed_area == pytest.approx(90 * 50, rel=1e-8)
        assert found.girth == pytest.approx(320, rel=SAME)
        assert found.web_area == pytest.approx(2 * 5 * 60, rel=SAME)
        assert found.crown_width == pytest.approx(90, rel=SAME)
        assert found.bonded_width == pytest.approx(100, rel=SAME)

    def test_flat_plate_has_no_web(self, lay: Lay) -> None:
        found = facts(section(wall([(0, 5), (100, 5)], lay((5.0, E)))))
        assert (found.web_area, found.web_depth, found.roots, found.base_width) == (0, 0, (), 0)
        assert isnan(found.crown_width)
