"""The plate strips of a section: which there are, how wide, where their edges lie, of what laminate."""

from cmath import exp
from collections.abc import Callable
from dataclasses import replace
from math import inf, pi, sin

import numpy as np
import pytest

from stringerlab.errors import StringerlabError
from stringerlab.laminate import Role, Stack, abd
from stringerlab.section import OnHull, Plating, SectionShape, Side, WallShape
from stringerlab.section.sheets import mixed, sheet
from stringerlab.section.strips import Kind, Strip, strips

Lay = Callable[..., Stack]
E, NU = 10_000.0, 0.3
SAME = 1e-9


def wall(
    points: list[tuple[float, float]], stack: Stack, id_: str = "w1", side: Side = Side.RIGHT
) -> WallShape:
    return WallShape(id=id_, points=tuple(points), fillets=(), side=side, closed=False, stack=stack)


def hat(stack: Stack, thickness: float = 5.0) -> SectionShape:
    """Tool line 100 high, crown 120 and flanges 60 wide, no draft."""
    t = thickness
    points = [(-120.0, t), (-60.0, t), (-60.0, 100.0), (60.0, 100.0), (60.0, t), (120.0, t)]
    return SectionShape(name="hat", walls=(wall(points, stack),))


def of(kind: Kind, found: tuple[Strip, ...]) -> list[Strip]:
    return [strip for strip in found if strip.kind is kind]


def test_hat_has_a_crown_two_webs_and_plating_between_and_beyond(lay: Lay) -> None:
    hull = Plating(stack=lay((8.0, E)), width=400.0)
    found = strips(hat(lay((5.0, E))), 0.0, hull)
    (crown,) = of(Kind.CROWN, found)
    assert crown.width == pytest.approx(110, rel=SAME)
    assert np.ravel(crown.edges) == pytest.approx([-55, 97.5, 55, 97.5], rel=SAME)
    webs = of(Kind.WEB, found)
    assert [web.width for web in webs] == pytest.approx([95, 95], rel=SAME)
    assert [web.climb for web in webs] == pytest.approx([95, 95], rel=SAME)
    assert not any(web.free for web in webs)
    between, *beyond = of(Kind.PLATING, found)
    assert between.width == pytest.approx(120, rel=SAME)
    # twice what is counted beyond each web
    assert [side.width for side in beyond] == pytest.approx([280, 280], rel=SAME)
    assert np.ravel(beyond[1].edges) == pytest.approx([60, -4, 200, -4], rel=SAME)
    assert between.edges[0][1] == pytest.approx(-4, rel=SAME)
    assert not of(Kind.FLANGE, found)


def test_a_single_ply_has_the_stiffness_of_a_plate(lay: Lay) -> None:
    plate = sheet(lay((5.0, E), gel=0.6))
    D = E * 125 / 12 / (1 - NU**2)
    by_hand = np.array([[D, NU * D, 0], [NU * D, D, 0], [0, 0, 0.35 * D]])
    np.testing.assert_allclose(plate.D, by_hand, rtol=1e-9, atol=1e-6)
    assert plate.Et == pytest.approx(5 * E, rel=1e-9)
    assert plate.Gt == pytest.approx(5 * E / 2.6, rel=1e-9)
    assert (plate.t, plate.S, plate.skin) == (5.0, inf, None)


def test_unsymmetric_laminate_is_softened_by_its_coupling(lay: Lay) -> None:
    """Two plies of unlike moduli: D* is that of the beam about its own neutral axis."""
    stack = lay((2.0, 6000.0), (3.0, 24_000.0))
    z_na = (2 * 6000 * 1 + 3 * 24_000 * 3.5) / (2 * 6000 + 3 * 24_000)
    EI = 6000 * (8 / 12 + 2 * (1 - z_na) ** 2) + 24_000 * (27 / 12 + 3 * (3.5 - z_na) ** 2)
    assert sheet(stack).D[0, 0] == pytest.approx(EI / (1 - NU**2), rel=1e-9)
    assert sheet(stack).D[0, 0] < abd(stack)[3, 3]


def test_cored_laminate_shears_across_its_core_and_its_stiffer_skin_wrinkles(lay: Lay) -> None:
    stack = lay((2.0, E), (3.0, 2 * E), core=20.0)
    core = next(ply for ply in stack.plies if ply.role is Role.CORE)
    plate = sheet(stack)
    first = next(index for index, ply in enumerate(stack.plies) if ply.role is Role.CORE)
    outer, inner = (
        sum(p.thickness for p in part) for part in (stack.plies[:first], stack.plies[first + 1 :])
    )
    d = 20 + (outer + inner) / 2
    assert core.G12 * d * d / 20 == pytest.approx(plate.S, rel=1e-9)
    assert plate.skin is not None
    assert plate.skin.E_c == core.E1


def test_laminate_without_stiffness_is_refused(lay: Lay) -> None:
    with pytest.raises(StringerlabError, match="no stiffness in its plane"):
        sheet(lay((5.0, 0.0)))


def test_cap_under_half_a_crown_counts_by_its_share_of_a_half_sine(lay: Lay) -> None:
    base, cap = lay((5.0, E)), lay((4.0, E))
    alone = hat(base)
    capped = SectionShape(name="capped", walls=(*alone.walls, wall([(-27.5, 95.0), (27.5, 95.0)], cap, "w2")))
    (plain,), (stiff,) = of(Kind.CROWN, strips(alone)), of(Kind.CROWN, strips(capped))
    share = 0.5 + sin(pi * 0.5) / pi  # of the middle half
    one, both = plain.sheet.D[0, 0], sheet(lay((9.0, E))).D[0, 0]
    assert stiff.sheet.D[0, 0] == pytest.approx(one + share * (both - one), rel=1e-6)
    assert stiff.sheet.Et == pytest.approx(E * (5 + 4 * share), rel=1e-6)
    assert stiff.sheet.D[1, 1] == pytest.approx(1 / ((1 - share) / one + share / both), rel=1e-6)
    assert stiff.place == "crown 110 mm wide, w1 + w2"


def test_pieces_alike_are_the_piece(lay: Lay) -> None:
    one = sheet(lay((5.0, E)))
    for free in (False, True):
        found = mixed([(0.0, 0.3, one), (0.3, 1.0, one)], free=free)
        np.testing.assert_allclose(found.D, one.D, rtol=1e-9, atol=1e-6)
        assert found.Et == pytest.approx(one.Et, rel=1e-9)


def test_plate_with_nothing_on_it_has_a_free_top_and_an_angle_a_free_flange(lay: Lay) -> None:
    stack = lay((6.0, E))
    bare = SectionShape(name="bare", walls=(wall([(0.0, 0.0), (0.0, 150.0)], stack),))
    (web,) = of(Kind.WEB, strips(bare))
    assert web.free
    assert "free top" in web.place
    angle = SectionShape(name="angle", walls=(wall([(0.0, 0.0), (0.0, 150.0), (60.0, 150.0)], stack),))
    (web,), (flange,) = of(Kind.WEB, strips(angle)), of(Kind.FLANGE, strips(angle))
    assert not web.free
    assert flange.free
    assert flange.width == pytest.approx(54, rel=SAME)  # from the web's face
    assert flange.edges[1] == pytest.approx((60.0, 147.0), rel=SAME)


def test_tab_on_a_tab_is_no_free_flange(lay: Lay) -> None:
    tab = lay((2.0, E))
    walls = (
        wall([(-3.0, 0.0), (-3.0, 150.0)], lay((6.0, E))),
        wall([(3.0, 80.0), (3.0, 0.0), (80.0, 0.0)], tab, "w2", Side.LEFT),
        wall([(5.0, 60.0), (5.0, 2.0), (60.0, 2.0)], tab, "w3", Side.LEFT),
    )
    assert not of(Kind.FLANGE, strips(SectionShape(name="floor", walls=walls)))


def test_shelf_between_two_crowns_of_a_pan(lay: Lay) -> None:
    t = 4.0
    points = [(-300.0, t), (-240.0, t), (-240.0, 100.0), (-160.0, 100.0), (-160.0, 40.0)]
    points += [(-y, z) for y, z in reversed(points)]
    found = strips(
        SectionShape(name="pan", walls=(wall(points, lay((t, E))),)),
        0.0,
        Plating(stack=lay((8.0, E)), width=700.0),
    )
    assert sorted(strip.width for strip in of(Kind.CROWN, found)) == pytest.approx([72, 72, 320], rel=SAME)
    assert [strip.width for strip in of(Kind.PLATING, found)] == pytest.approx([480, 220, 220], rel=SAME)
    assert len(of(Kind.WEB, found)) == 4


def test_mirrored_and_turned_sections_have_the_same_strips(lay: Lay) -> None:
    stack, hull = lay((2.0, 6000.0), (3.0, E)), lay((8.0, E))
    points = [(-100.0, 5.0), (-50.0, 5.0), (-40.0, 90.0), (60.0, 90.0), (80.0, 5.0), (130.0, 5.0)]
    straight = SectionShape(name="hat", walls=(wall(points, stack),))
    mirrored = SectionShape(name="hat", walls=(wall([(-y, z) for y, z in reversed(points)], stack),))
    angle = 0.3
    turned_points = [complex(*point) * exp(1j * angle) for point in points]
    turned = SectionShape(name="hat", walls=(wall([(p.real, p.imag) for p in turned_points], stack),))

    def sizes(shape: SectionShape, deadrise: float = 0.0) -> list[tuple[str, float, float]]:
        found = strips(shape, deadrise, Plating(stack=hull, width=400.0, deadrise=deadrise))
        return sorted((s.kind.value, round(s.width, 6), round(float(s.sheet.D[1, 1]), 3)) for s in found)

    assert sizes(mirrored) == sizes(straight)
    assert sizes(turned, angle) == sizes(straight)


def test_pan_lying_on_the_hull_is_no_strip(lay: Lay) -> None:
    base = hat(lay((5.0, E)))
    lying = replace(wall([(130.0, 5.0), (300.0, 5.0)], lay((5.0, E)), "w2"), counted=OnHull().counted)
    shape = SectionShape(name="pan", walls=(*base.walls, lying))
    assert {s.kind for s in strips(shape)} == {Kind.CROWN, Kind.WEB}


def test_every_sample_section_is_made_of_strips(
    sections: dict[str, tuple[SectionShape, Plating | None]],
) -> None:
    for name, (shape, plating) in sections.items():
        found = strips(shape, 0.0 if plating is None else plating.deadrise, plating)
        assert of(Kind.WEB, found), name
        for strip in found:
            assert strip.width > 0, name
            assert np.linalg.eigvalsh(strip.sheet.D).min() > 0, name
            assert strip.sheet.Et > 0, name
