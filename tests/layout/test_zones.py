"""Plating by place: which zones lie where, laps as real plies, tapers, pans bonded on."""

import pytest

from stringerlab.laminate.records import PlyNumbers, Role, Stack
from stringerlab.layout.records import Surface, Zone
from stringerlab.layout.zones import Place, covering, laid_over, plies_kept, with_pan


def ply(name: str, number: int, thickness: float = 1.0, role: Role = Role.REINFORCED) -> PlyNumbers:
    return PlyNumbers(
        name=name,
        number=number,
        role=role,
        kind=None,
        angle=0.0,
        thickness=thickness,
        mass=1500 * thickness,
        dry_weight=500 * thickness,
        glass=1 / 3,
        E1=7000,
        E2=7000,
        G12=2600,
        nu12=0.3,
        tension_1=90,
        compression_1=120,
        tension_2=90,
        compression_2=120,
        shear=60,
        flexural=150,
        interlaminar=17,
        marks=(),
    )


BASE = Stack(name="base", plies=(ply("gel", 1, 0.5, Role.GEL_COAT), ply("a", 2), ply("b", 3)))
KEEL = Stack(name="keel", plies=(ply("k1", 1), ply("k2", 2), ply("k3", 3), ply("k4", 4)))
STACKS = {"l1": BASE, "l2": KEEL}
ALL_OVER = Zone(id="z1", name="bottom", laminate="l1", aft=0, forward=8000)
STRIP = Zone(id="z2", name="keel strip", laminate="l2", aft=1000, forward=5000, outboard=300, taper=400)


def names(stack: Stack) -> list[str]:
    return [one.name for one in stack.plies]


@pytest.mark.parametrize(
    ("x", "y", "wanted"),
    [
        (500, 100, ["bottom"]),
        (3000, 100, ["bottom", "keel strip"]),
        (3000, 301, ["bottom"]),
        (3000, None, ["bottom", "keel strip"]),
        (9000, 100, []),
    ],
)
def test_zones_lie_where_their_bounds_say(x: float, y: float | None, wanted: list[str]):
    found = covering((ALL_OVER, STRIP), Place(surface=Surface.BOTTOM, x=x, y=y))
    assert [zone.name for zone in found] == wanted


def test_a_side_is_no_bottom():
    assert covering((ALL_OVER,), Place(surface=Surface.SIDE, x=3000)) == []


def test_a_lap_keeps_the_real_plies_of_both_zones_in_order():
    both = laid_over((ALL_OVER, STRIP), STACKS, 3000)
    assert names(both) == [
        *(f"{name}, of bottom" for name in ("gel", "a", "b")),
        *(f"{name}, of keel strip" for name in ("k1", "k2", "k3", "k4")),
    ]


def test_the_layers_of_one_fabric_end_together():
    fabric = Stack(name="f", plies=(ply("cloth", 1), ply("mat of it", 1), ply("last", 2)))
    at = {x: names(laid_over((STRIP,), {"l2": fabric}, x)) for x in (1000, 1199, 1200)}
    assert at == {
        1000: ["cloth", "mat of it"],
        1199: ["cloth", "mat of it"],
        1200: ["cloth", "mat of it", "last"],
    }


def test_one_zone_gives_its_own_laminate():
    assert laid_over((ALL_OVER,), STACKS, 3000) is BASE


@pytest.mark.parametrize(
    ("x", "kept"),
    [(1000, 1), (1099, 1), (1100, 2), (1250, 3), (1300, 4), (1400, 4), (3000, 4), (4901, 1), (4650, 4)],
)
def test_plies_of_a_taper_drop_off_one_after_another_from_the_last_laid(x: float, kept: int):
    assert plies_kept(STRIP, 4, x) == kept
    assert names(laid_over((STRIP,), STACKS, x)) == ["k1", "k2", "k3", "k4"][:kept]


def test_a_bonded_pan_comes_mould_face_inboard_and_less_its_voids():
    pan = Stack(name="pan", plies=(ply("gel", 1, 0.5, Role.GEL_COAT), ply("p1", 2, 1.5), ply("p2", 3, 2.0)))
    whole = with_pan(BASE, pan, 0.2)
    assert names(whole) == ["gel", "a", "b", "p2", "p1"]
    assert [one.thickness for one in whole.plies[3:]] == pytest.approx([1.6, 1.2])
    assert whole.plies[:3] == BASE.plies
