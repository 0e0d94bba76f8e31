"""What the shop's crews are told, held against the take-off, the drawing and hand arithmetic."""

from __future__ import annotations

from dataclasses import replace
from math import cos, radians
from typing import TYPE_CHECKING

import numpy as np
import pytest

from stringerlab.assess import section_facts
from stringerlab.assess.cavities import cavity_readings
from stringerlab.assess.taken import Sort
from stringerlab.assess.takeoff import take_off
from stringerlab.data import folder
from stringerlab.files import load
from stringerlab.laminate import Laminate, Ply, resolve
from stringerlab.layout.plan import Use
from stringerlab.materials import Book, shipped
from stringerlab.materials.records import PlyKind
from stringerlab.project import resolve as resolved_of
from stringerlab.report.shop.bonds import bonds
from stringerlab.report.shop.cuts import cut_lists, strips_across
from stringerlab.report.shop.fittings import blocks_at_feet, blocks_in_sections, holes
from stringerlab.report.shop.foams import foamed
from stringerlab.report.shop.gaps import gap_lines
from stringerlab.report.shop.laminates import directions, schedule
from stringerlab.report.shop.measures import TIE, between, cloth, fine, liquid, pieces, size, typed
from stringerlab.report.shop.members import hull_bottom, runs_of
from stringerlab.report.shop.outlines import traced
from stringerlab.report.shop.practice import Practice, practice_for
from stringerlab.report.shop.stores import stores, takes_peroxide
from stringerlab.report.shop.trims import trims
from stringerlab.units import System

if TYPE_CHECKING:
    from stringerlab.project import Project, Resolved

METRIC, US = System.METRIC, System.US


@pytest.fixture(scope="module")
def boat() -> Project:
    return load(folder("sample_projects") / "tidewrack_layout.json")


@pytest.fixture(scope="module")
def resolved(boat: Project) -> Resolved:
    return resolved_of(boat)


def plain(text: str) -> str:
    return text.replace(TIE, " ")


def area(ring: np.ndarray) -> float:
    x, y = ring.T
    return float(abs((x * np.roll(y, -1) - np.roll(x, -1) * y).sum()) / 2)


# -- units of the shop ---------------------------------------------------------------------------


def test_mat_is_sold_by_the_square_foot_in_the_us_and_stitched_cloth_by_the_square_yard() -> None:
    assert plain(cloth(457.7, PlyKind.MAT, US)) == "1.50 oz/ft²"
    assert plain(cloth(610.3, PlyKind.BIAXIAL, US)) == "18.0 oz/yd²"
    assert plain(cloth(450.0, PlyKind.MAT, METRIC)) == "450 g/m²"


def test_a_gallon_is_231_cubic_inches() -> None:
    assert plain(liquid(231 * 25.4**3, US)) == "1.00 gal"
    assert plain(liquid(20e6, METRIC)) == "20.0 l"
    assert plain(liquid(231 * 25.4**3 / 128 * 13.5, US)) == "13.5 fl oz"


def test_sizes_are_whole_millimetres_or_hundredths_of_an_inch() -> None:
    assert (plain(size(1234.4, METRIC)), plain(size(25.4 * 12.344, US))) == ("1234 mm", "12.34 in")
    assert (plain(fine(4.894, METRIC)), plain(fine(25.4 * 0.1934, US))) == ("4.89 mm", "0.193 in")
    assert plain(typed(12.5, METRIC)) == "12.5 mm"
    assert plain(between(0.0, 8600.0, METRIC)) == "0 – 8600 mm"


def test_a_part_of_a_pail_is_a_pail_to_draw() -> None:
    assert plain(pieces(25.0, 20.0, "pail", "pails")) == "2 pails (1.2)"
    assert plain(pieces(20.0, 20.0, "pail", "pails")) == "1 pail (1.0)"


def test_the_us_shop_works_in_round_inches_and_gallons() -> None:
    works = practice_for(US)
    assert works.roll_width.value == pytest.approx(50 * 25.4)
    assert works.pail.value == pytest.approx(5 * 3.785411784)
    assert works.foam_lift.value == pytest.approx(6 * 25.4)


# -- laminates and cuts --------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("material", "angle", "wanted"),
    [
        ("db600", 0.0, {45.0, -45.0}),
        ("db600", 45.0, {90.0, 0.0}),
        ("ud500", 0.0, {0.0}),
        ("ud500", 90.0, {90.0}),
        ("ud500", 120.0, {-60.0}),
        ("wr600", 0.0, {0.0, 90.0}),
        ("csm450", 0.0, set[float]()),
        ("m1708", 0.0, {45.0, -45.0}),
    ],
)
def test_fibres_lie_where_the_trade_says(material: str, angle: float, wanted: set[float]) -> None:
    laminate = Laminate(id="l1", name="One", plies=(Ply(material=material, angle=angle),))
    stack = resolve(laminate, Book.of(shipped()))
    assert {turn for ply in stack.plies for turn in directions(ply)} == wanted


def test_the_schedule_counts_from_the_mould_and_adds_up(boat: Project, resolved: Resolved) -> None:
    found = schedule(boat, resolved)
    assert not found.left_out
    assert {zone.laminate for zone in boat.zones} <= {laid.id for laid in found.laminations}
    for laid in found.laminations:
        drawn = next(one for one in boat.laminates if one.id == laid.id)
        assert [ply.number for ply in laid.plies] == list(range(1, len(drawn.plies) + 1))
        assert sum(ply.thickness for ply in laid.plies) == pytest.approx(laid.with_gel)


def test_a_zone_of_the_bottom_is_cut_as_wide_as_the_skin(boat: Project, resolved: Resolved) -> None:
    strip = next(
        place
        for laid in schedule(boat, resolved).laminations
        for place in laid.places
        if place.name == "Keel strip"
    )
    hull = hull_bottom(boat)
    assert hull is not None
    assert strip.zone is not None
    assert strip.zone.outboard is not None
    # the bottom of this boat is steepest at its forward end
    steepest = float(hull.deadrise(np.array([strip.zone.forward]))[0])
    assert strip.width == pytest.approx(strip.zone.outboard / cos(steepest), rel=1e-9)
    assert strip.length == pytest.approx(strip.zone.forward - strip.zone.aft)


def test_a_wide_ply_takes_lapped_widths_of_the_roll() -> None:
    works = Practice()
    counts = [strips_across(width, works) for width in (400.0, 1270.0, 1271.0, 2490.0, 2491.0)]
    assert counts == [1, 1, 2, 2, 3]


def test_cut_widths_are_those_of_the_take_off_with_trim(boat: Project, resolved: Resolved) -> None:
    works = Practice()
    lists = cut_lists(schedule(boat, resolved), runs_of(boat), works)
    metre = {item.id: item for item in take_off(boat, resolved).sections}
    for one in lists:
        cloths = [cut for cut in one.cuts if cut.ply.weight > 0]
        fabric = metre[one.section.id].area(Sort.FABRIC)
        assert sum(cut.net for cut in cloths) * 1000 == pytest.approx(fabric, rel=1e-9)
        assert all(cut.width == pytest.approx(cut.net + 50.0) for cut in one.cuts)


# -- stores --------------------------------------------------------------------------------------


def test_rolls_pails_and_catalyst_are_the_take_offs_mass_in_other_units(
    boat: Project, resolved: Resolved
) -> None:
    works = Practice()
    drawn = stores(boat, resolved, works)
    taken = take_off(boat, resolved).total
    bought = {one.material: one for one in taken.amounts}
    for one in drawn.fabrics:
        dry = one.area * one.weight * 1e-9
        # layers of one cloth differ in width round a corner by as much as their levels do
        assert dry == pytest.approx(one.amount.bought, rel=1e-3)
        assert one.roll_run * 1270.0 == pytest.approx(one.area)
    resin = drawn.resins[0]
    assert resin.volume == pytest.approx(bought["polyester"].bought / 1200.0 * 1e9)
    assert resin.catalyst == pytest.approx((0.01 * resin.amount.bought, 0.02 * resin.amount.bought))


def test_only_what_is_known_to_cure_by_peroxide_gets_a_range_of_it() -> None:
    assert takes_peroxide("Orthophthalic polyester")
    assert takes_peroxide("Vinylester")
    assert not takes_peroxide("Laminating epoxy")
    assert not takes_peroxide("Epoxy vinylester blend of my own")
    assert not takes_peroxide("Resin X")


# -- trim, dry fit, bond -------------------------------------------------------------------------


def test_trim_lines_go_round_all_that_is_drawn(boat: Project, resolved: Resolved) -> None:
    found, left_out = trims(boat, resolved)
    assert found
    assert not left_out
    for trim in found:
        assert sum(wall.girth for wall in trim.walls) == pytest.approx(trim.girth, rel=1e-9)
        slope = radians(trim.section.reference.deadrise) if trim.section.reference else 0.0
        assert sum(trim.flanges) == pytest.approx(section_facts(trim.shape, slope).bonded_width)


def test_stations_of_the_dry_fit_reach_both_ends(boat: Project, resolved: Resolved) -> None:
    lines = gap_lines(boat, resolved, Practice())
    keel = next(line for line in lines if line.name == "Keel girder")
    assert (keel.stations[0], keel.stations[1], keel.stations[-1]) == pytest.approx((0.0, 300.0, 8700.0))
    assert np.diff(keel.stations).max() <= 375.0 + 1e-9
    assert keel.places[1] == pytest.approx((300.0, 0.0))
    pair = [line for line in lines if line.name == "Outer longitudinal"]
    assert {line.hand for line in pair} == {"port", "starboard"}
    assert pair[0].places[-1][1] == pytest.approx(-pair[1].places[-1][1])


def test_beads_take_the_adhesive_of_the_take_off(boat: Project, resolved: Resolved) -> None:
    taken = take_off(boat, resolved)
    found = bonds(boat, resolved, taken, Practice())
    assert sum(bead.volume for bead in found.beads) == pytest.approx(taken.total.volume(Sort.ADHESIVE))
    laid = {name for name, _ in found.without}
    assert {"Floor 1", "Engine bulkhead"} <= laid


def test_the_bead_laid_fills_the_widest_gap_and_presses_out(boat: Project, resolved: Resolved) -> None:
    found = bonds(boat, resolved, take_off(boat, resolved), Practice())
    keel = next(bead for bead in found.beads if bead.name == "Keel girder")
    gap = keel.section.bead + boat.bonding.gap_tolerance.value
    more = 1 + boat.bonding.squeeze_out.value
    assert keel.laid == pytest.approx([width * gap * more for width in keel.widths])
    assert np.pi * keel.ropes[0] ** 2 / 4 == pytest.approx(keel.laid[0])
    [need] = found.needed
    assert need.cartridges * 0.4e6 == pytest.approx(need.to_lay)


def test_the_outline_is_as_wide_in_the_skin_as_the_flange(boat: Project, resolved: Resolved) -> None:
    hull = hull_bottom(boat)
    assert hull is not None
    trim = {one.section.name: one for one in trims(boat, resolved)[0]}
    for one in traced(boat, resolved):
        if one.name != "Outer longitudinal":
            continue
        for (inner, outer), width in zip(one.edges, trim[one.section].flanges, strict=True):
            straight = slice(1, 6)
            across = hull.leg_lengths(inner[straight], outer[straight])
            assert across == pytest.approx(np.full(5, width), rel=2e-3)


def test_port_and_starboard_outlines_are_mirror_images(boat: Project, resolved: Resolved) -> None:
    outlines = traced(boat, resolved)
    sides = {1.0: 0.0, -1.0: 0.0}
    for one in outlines:
        side = float(np.sign(one.middle[:, 1].sum()))
        if side:
            sides[side] += sum(area(ring) for ring in one.rings)
    assert sides[1.0] > 0
    assert sides[1.0] == pytest.approx(sides[-1.0], rel=1e-9)


def test_a_floors_flange_stops_at_a_longitudinals_hollow(boat: Project, resolved: Resolved) -> None:
    floor = next(one for one in traced(boat, resolved) if one.name == "Floor 2")
    whole = sum(area(np.concatenate([inner, outer[::-1]])) for inner, outer in floor.edges)
    left = sum(area(ring) for ring in floor.rings)
    assert len(floor.rings) > len(floor.edges)
    assert 0.5 * whole < left < 0.95 * whole


# -- foam, blocks, holes -------------------------------------------------------------------------


@pytest.mark.parametrize("use", [Use.VOID, Use.STORAGE])
@pytest.mark.parametrize("limit", [40.0, 150.0])
def test_lifts_of_foam_add_up_and_none_is_too_high(boat: Project, use: Use, limit: float) -> None:
    layout = boat.layouts[0]
    cavities = tuple(
        replace(one, use=use, depth=140.0, filled=0.8) if one.foam else one for one in layout.cavities
    )
    changed = replace(boat, layouts=(replace(layout, cavities=cavities),))
    whole = resolved_of(changed)
    works = replace(Practice(), foam_lift=replace(Practice().foam_lift, value=limit))
    [one] = foamed(changed, whole, works)
    reading = next(each for each in cavity_readings(changed, whole).readings if each.id == one.reading.id)
    assert sum(lift.volume for lift in one.lifts) == pytest.approx(reading.foam_volume, rel=1e-9)
    assert all(lift.top - lift.bottom <= limit + 1e-9 for lift in one.lifts)
    assert all(after.bottom == before.top for before, after in zip(one.lifts, one.lifts[1:], strict=False))
    assert sum(one.lift_mass) == pytest.approx(reading.foam_mass, rel=1e-9)
    if one.level and len(one.lifts) > 1:
        volumes = [lift.volume for lift in one.lifts]
        assert volumes == sorted(volumes), "a vee bottom gives more room higher up"


def test_feet_stand_where_the_equipment_is_drawn(boat: Project) -> None:
    engine = next(one for one in boat.layouts[0].equipment if one.name == "Engine")
    rows = [row for row in blocks_at_feet(boat) if row.equipment == "Engine"]
    wanted = {(engine.at[0] + x, engine.at[1] + y) for x, y in engine.feet}
    assert {(row.x, row.y) for row in rows} == wanted
    assert all(row.material for row in rows)


def test_every_hole_is_listed_on_both_sides(boat: Project) -> None:
    found = holes(boat)
    members = boat.layouts[0].members
    sides = {member.id: 1 if member.hand.value == "centreline" else 2 for member in members}
    drawn = sum(sides[member.id] * len(member.openings) for member in members)
    by_hand = sum(len(span.openings) for span in boat.spans)
    assert len(found) == drawn + by_hand
    for hole in found:
        if hole.hand == "starboard":
            assert hole.y is not None
            assert hole.y <= 0


def test_spans_given_by_hand_are_runs_of_their_own() -> None:
    lesson = load(folder("sample_projects") / "tidewrack_grid.json")
    runs = runs_of(lesson)
    assert [(run.length, run.count) for run in runs] == [(span.lu, span.count) for span in lesson.spans]
    assert not traced(lesson, resolved_of(lesson))


def test_fills_are_listed_with_the_length_the_take_off_has(boat: Project, resolved: Resolved) -> None:
    taken = take_off(boat, resolved)
    found = blocks_in_sections(boat, taken)
    assert found
    for one in found:
        wanted = sum(item.length for item in taken.members if item.section == one.section.name)
        assert one.length == pytest.approx(wanted)
