"""Bond lines found in drawn sections: what lies above, who takes the flow, where the bends are."""

from collections.abc import Callable
from dataclasses import replace
from math import cos

import numpy as np
import pytest

from stringerlab.laminate import Moduli, Stack, axial_moduli
from stringerlab.section import Plating, SectionShape, Side, WallShape, facts, properties
from stringerlab.section.bond_line import BondLine, adherend, bond_line, root_bend

Lay = Callable[..., Stack]
Line = tuple[tuple[float, float], ...]


def wall(stack: Stack, points: Line, *, fillets: tuple[float, ...] = (), side: Side = Side.LEFT) -> WallShape:
    return WallShape(id="w1", points=points, fillets=fillets, side=side, closed=False, stack=stack)


def bond_of(shape: SectionShape, plating: Plating) -> BondLine:
    return bond_line(
        shape,
        facts(shape, plating.deadrise),
        properties(shape, plating, Moduli.CONTRACTED),
        plating,
    )


def hat(stack: Stack, left: float = -150, right: float = 150, bead: float = 4.0) -> SectionShape:
    """A hat whose laminate builds inside and below; its flanges stand a bead above the shell."""
    t = sum(ply.thickness for ply in stack.plies) + bead
    line = ((left, t), (-85, t), (-60, 130), (60, 130), (85, t), (right, t))
    drawn = wall(stack, line, fillets=(0, 18, 14, 14, 12, 0), side=Side.RIGHT)
    return SectionShape(name="hat", walls=(drawn,), bead=bead)


@pytest.fixture
def skin(lay: Lay) -> Stack:
    return lay((5.0, 9000.0))


@pytest.fixture
def plating(lay: Lay) -> Plating:
    return Plating(stack=lay((8.0, 9000.0)), width=400.0)


def test_first_moment_of_a_plank_on_a_plank_is_its_area_times_its_arm(lay: Lay) -> None:
    # a plank of 100 × 20 on one of 400 × 8, one modulus: centroids 10 above and 4 below the shell
    plank = SectionShape(name="plank", walls=(wall(lay((20.0, 9000.0)), ((-50, 0), (50, 0))),))
    strip = Plating(stack=lay((8.0, 9000.0)), width=400.0)
    found = bond_of(plank, strip)
    axis = (2000 * 10 - 3200 * 4) / 5200
    assert pytest.approx(9000 * 2000 * (10 - axis)) == found.ES
    assert [(flange.start, flange.end, flange.share) for flange in found.flanges] == [(-50, 50, 1)]
    assert (found.lines, found.apart) == (1, pytest.approx(2 * 100 / 3))


def test_a_symmetrical_hat_shares_the_flow_evenly(skin: Stack, plating: Plating) -> None:
    found = bond_of(hat(skin), plating)
    left, right = found.flanges
    assert (left.start, right.end) == (-150, 150)
    assert left.share == pytest.approx(right.share, abs=0.02)  # the two fillets differ
    assert left.share + right.share == pytest.approx(1)
    # the couple acts at the web roots: a lean of 25 in 130 − t, drawn on down to the shell
    root = 85 + (5 + 4) * 25 / (130 - 9)
    assert (found.lines, found.apart) == (2, pytest.approx(2 * root, rel=1e-6))


def test_the_foot_of_a_bend_that_reaches_past_its_web_is_no_flange(skin: Stack, plating: Plating) -> None:
    # webs that lean outwards stand over their flanges: each underside goes on 4 to 5 mm past its root
    line = ((-150, 9), (-85, 9), (-95, 130), (95, 130), (85, 9), (150, 9))
    shape = SectionShape(name="hat", walls=(wall(skin, line, side=Side.RIGHT),), bead=4.0)
    known = facts(shape, 0.0)
    (_, end), (start, _) = known.bonded
    assert known.roots[0] + 3 < end
    assert start < known.roots[1] - 3
    assert [(one.start, one.end) for one in bond_of(shape, plating).flanges] == list(known.bonded)


def test_an_uneven_hat_shares_the_flow_so_that_it_acts_at_its_own_middle(
    skin: Stack, plating: Plating
) -> None:
    found = bond_of(hat(skin, left=-110), plating)
    left, right = found.flanges
    assert left.width < right.width
    alone = properties(hat(skin, left=-110), None, Moduli.CONTRACTED)
    whole = properties(hat(skin, left=-110), plating, Moduli.CONTRACTED)
    # ∫E (z − z_na) y over what lies above, over its first moment
    moment = alone.EI_yz + alone.EA * alone.y_na * (alone.z_na - whole.z_na)
    middle = moment / (alone.EA * (alone.z_na - whole.z_na))
    acting = sum(flange.share * (flange.start + flange.end) / 2 for flange in found.flanges)
    assert acting == pytest.approx(middle, abs=1e-6)


def test_mirrored_hats_share_alike(skin: Stack, plating: Plating) -> None:
    one = bond_of(hat(skin, left=-110), plating)
    drawn = hat(skin, left=-110).walls[0]
    turned = replace(
        drawn,
        points=tuple((-y, z) for y, z in reversed(drawn.points)),
        fillets=tuple(reversed(drawn.fillets)),
    )
    other = bond_of(SectionShape(name="hat", walls=(turned,), bead=4.0), plating)
    assert [flange.share for flange in other.flanges] == pytest.approx(
        [flange.share for flange in reversed(one.flanges)]
    )
    assert other.bend == pytest.approx(one.bend)


@pytest.mark.parametrize(
    "name", ["hat", "wide hat with foam", "plate floor with tabs", "hat on deadrise", "freehand"]
)
def test_what_lies_above_balances_the_hull_about_the_neutral_axis(
    name: str, sections: dict[str, tuple[SectionShape, Plating | None]]
) -> None:
    shape, strip = sections[name]
    assert strip is not None
    whole = properties(shape, strip, Moduli.CONTRACTED)
    E = axial_moduli(strip.stack, Moduli.CONTRACTED)
    t = np.array([ply.thickness for ply in strip.stack.plies])
    middle = np.cumsum(t) - t / 2 - t.sum()
    hull = strip.width * E * t * (middle * cos(strip.deadrise) - whole.z_na)
    assert pytest.approx(-hull.sum(), rel=1e-9) == bond_of(shape, strip).ES


def test_inner_radius_of_a_root_is_on_the_side_away_from_the_laminate(skin: Stack, plating: Plating) -> None:
    # the laminate builds inside and below, so a root's drawn radius is its inner one; the tighter counts
    assert bond_of(hat(skin), plating).bend == pytest.approx((12, 17))
    other = hat(skin).walls[0]
    outside = replace(other, side=Side.LEFT, points=tuple((y, z - 5) for y, z in other.points))
    bend, sharp = root_bend(SectionShape(name="hat", walls=(outside,), bead=4.0), 0.0)
    assert bend == pytest.approx((12 - 5, 12))
    assert not sharp


def test_a_root_drawn_sharp_counts_at_one_millimetre_and_says_so(skin: Stack) -> None:
    sharp = replace(hat(skin).walls[0], fillets=())
    bend, said = root_bend(SectionShape(name="hat", walls=(sharp,), bead=4.0), 0.0)
    assert bend == (1, 6)
    assert said


def test_a_plate_on_edge_has_no_bend_and_a_section_off_the_hull_no_flange(lay: Lay, plating: Plating) -> None:
    upright = SectionShape(name="plate", walls=(wall(lay((10.0, 9000.0)), ((0, 0), (0, 150))),))
    found = bond_of(upright, plating)
    assert found.flanges == ()
    assert found.lines == 0
    assert np.isnan(found.bend).all()


def test_adherend_of_an_isotropic_plate(lay: Lay) -> None:
    plate = adherend(lay((4.0, 9000.0), gel=0.5))
    assert plate.thickness == pytest.approx(4)
    assert pytest.approx(9000 * 4**3 / 12) == plate.D
    assert pytest.approx(9000 / 2.6 * 4) == plate.S
    assert plate.interlaminar == 100


def test_hull_brings_a_flange_its_flow_from_both_sides_by_their_widths(skin: Stack, plating: Plating) -> None:
    # each flange's half of 400 mm: from the middle to its inner edge, under it, and 50 mm beyond its toe
    for flange in bond_of(hat(skin), plating).flanges:
        near = min(abs(flange.start), abs(flange.end))
        assert flange.outer == pytest.approx(50 / 200, abs=0.01)  # the two fillets differ
        assert flange.inner == pytest.approx(near / 200, abs=0.01)


def test_a_flange_without_a_web_is_a_lap_pulled_at_its_ends(lay: Lay, plating: Plating) -> None:
    plank = SectionShape(name="plank", walls=(wall(lay((20.0, 9000.0)), ((-50, 0), (50, 0))),))
    [flange] = bond_of(plank, plating).flanges
    assert (flange.inner, flange.outer) == (0, 1)


@pytest.mark.parametrize(("apart", "alone"), [(11.0, True), (60.0, False)])
def test_webs_back_to_back_on_a_bead_are_one_foot(
    skin: Stack, plating: Plating, apart: float, alone: bool
) -> None:
    right = ((70.0, 9.0), (apart / 2, 9.0), (apart / 2, 130.0))
    left = tuple((-y, z) for y, z in reversed(right))
    walls = tuple(replace(wall(skin, line), id=f"w{i}") for i, line in enumerate((left, right)))
    found = bond_of(SectionShape(name="pair", walls=walls, bead=4.0), plating)
    assert found.one_foot is alone
    assert not bond_of(hat(skin), plating).one_foot
