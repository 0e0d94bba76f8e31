"""Flotation of a swamped boat: floating bodies in fresh water, the regulation's fractions by hand, scope."""

from dataclasses import replace
from math import isnan

import pytest

from stringerlab.layout.cavities import CavityReading
from stringerlab.layout.flotation import Drive, Flotation, Swamped, flotation
from stringerlab.layout.plan import Use
from stringerlab.workings import workings

POUND = 0.45359237
CUBIC_FOOT = 304.8**3
BARE = Swamped(length=5500.0, drive=Drive.INBOARD, hull=0.0, persons=0.0, capacity=0.0)


def foamed(litres: float, *, sealed: bool = True, density: float = 32.0, count: int = 1) -> CavityReading:
    return CavityReading(
        id="c1",
        name="Void",
        use=Use.VOID,
        count=count,
        bays=("p1",),
        sealed=sealed,
        level=None,
        depth=150.0,
        area=1e6,
        volume=litres * 1e6,
        foam_volume=litres * 1e6,
        foam_mass=litres * density / 1e3,
    )


def needed(boat: Swamped, density: float = 32.0) -> Flotation:
    return flotation(boat, (), foam_density=density)


def test_hull_and_deck_just_float_on_the_foam_asked_for() -> None:
    """A body of hull, deck above water and foam weighs what it displaces, in water of 62.4 lb/ft³."""
    water = 62.4 * POUND / CUBIC_FOOT  # kg/mm³
    boat = replace(BARE, hull=600.0, hull_density=1600.0, deck=150.0)
    foam = needed(boat).needed
    displaced = 600 / 1600e-9 + foam
    assert displaced * water == pytest.approx(600 + 150 + foam * 32e-9, rel=1e-9)


def test_a_hull_that_floats_asks_for_no_foam_of_its_own() -> None:
    assert needed(replace(BARE, hull=600.0, hull_density=550.0)).hull == 0.0
    less = needed(replace(BARE, hull=600.0, hull_density=550.0, deck=600.0)).hull
    assert 0 < less < needed(replace(BARE, deck=600.0)).hull


def test_machinery_asks_for_its_weight_under_water() -> None:
    boat = replace(BARE, machinery=200.0, machinery_part=0.6)
    assert needed(boat).needed * (62.4 * POUND / CUBIC_FOOT - 32e-9) == pytest.approx(120.0)


@pytest.mark.parametrize(
    ("drive", "persons", "capacity", "pounds"),
    [
        (Drive.OUTBOARD, 400.0, 400.0, 200.0),
        (Drive.OUTBOARD, 550.0, 550.0, 275.0),
        (Drive.OUTBOARD, 950.0, 950.0, 275.0 + 50.0),
        (Drive.OUTBOARD, 950.0, 1150.0, 275.0 + 50.0 + 50.0),
        (Drive.INBOARD, 750.0, 950.0, 100.0 + 50.0),
        (Drive.SMALL, 450.0, 450.0, 60.0),
    ],
)
def test_the_load_kept_afloat_is_the_subparts_own_part(
    drive: Drive, persons: float, capacity: float, pounds: float
) -> None:
    """By hand: half of the first 550 lb, an eighth of the rest, a quarter of gear; or two fifteenths."""
    boat = replace(BARE, drive=drive, persons=persons * POUND, capacity=capacity * POUND)
    foam = needed(boat, density=2.0 * POUND / (CUBIC_FOOT * 1e-9)).load
    assert foam / CUBIC_FOOT * 60.4 == pytest.approx(pounds, rel=1e-9)


def test_foam_in_sealed_voids_counts_and_other_foam_is_only_told() -> None:
    boat = replace(BARE, hull=900.0, persons=400.0, capacity=500.0)
    asked = needed(boat).needed / 1e6
    for litres, enough in ((asked * 0.51, True), (asked * 0.49, False)):
        result = flotation(boat, [foamed(litres, count=2), foamed(300.0, sealed=False)])
        assert result.enough is enough
        assert result.present == pytest.approx(2e6 * litres)
        assert result.unsealed == pytest.approx(300e6)
        assert any("300 l of foam is not in sealed voids" in note for note in result.notes)


def test_the_foam_there_is_reckoned_with_at_its_own_density() -> None:
    boat = replace(BARE, hull=900.0)
    mixed = flotation(boat, [foamed(100.0, density=32.0), foamed(300.0, density=64.0)])
    assert mixed.density == pytest.approx(56.0)
    assert mixed.needed == pytest.approx(needed(boat, density=56.0).needed)


def test_air_in_sealed_voids_is_told_and_not_counted() -> None:
    empty = replace(foamed(200.0), foam_volume=0.0, foam_mass=0.0, air_volume=200e6)
    result = flotation(replace(BARE, hull=100.0), [empty])
    assert result.present == 0.0
    assert any("200 l of air" in note for note in result.notes)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"length": 6096.0}, "20 ft and longer, and this one is 20.0 ft"),
        ({"monohull": False}, "more than one hull"),
        ({"exempt": "sailboat"}, "does not cover sailboats"),
    ],
)
def test_a_boat_outside_the_regulation_is_said_so_and_gets_no_number(
    change: dict[str, float | bool | str], words: str
) -> None:
    result = flotation(replace(BARE, hull=900.0, **change), [foamed(100.0)])  # type: ignore[arg-type]
    assert not result.covered
    assert words in str(result.outside[0])
    assert isnan(result.needed)
    assert result.enough is None
    assert result.present == 100e6


def test_a_boat_just_under_20_ft_is_covered() -> None:
    assert needed(replace(BARE, length=6095.0, hull=900.0)).covered


def test_every_reason_is_said_at_once() -> None:
    outside = flotation(replace(BARE, length=9000.0, monohull=False), ()).outside
    assert len(outside) == 2


def test_foam_of_unknown_density_gives_no_answer() -> None:
    result = flotation(replace(BARE, hull=900.0), [replace(foamed(100.0), foam_mass=float("nan"))])
    assert isnan(result.needed)
    assert result.enough is None


def test_the_workings_show_the_foam_in_cubic_feet() -> None:
    with workings() as recorded:
        flotation(replace(BARE, hull=900.0, persons=300.0, capacity=400.0), ())
    names = [step.formula.symbol for step in recorded.steps]
    assert names == ["B_f", "K_h", "F_b", "F_p", "F_c", "F_f"]
