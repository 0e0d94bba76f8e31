"""What is measured against what can be reckoned by hand: masses, centre, stiffness, bond, work, unknowns."""

from __future__ import annotations

from dataclasses import replace
from math import isclose
from typing import TYPE_CHECKING

import pytest

from stringerlab.assess import section_facts
from stringerlab.assess.grid.beams import beams_of
from stringerlab.assess.grid.ground import ground_of
from stringerlab.compare import Chosen, Compared, compare
from stringerlab.compare.common_load import PRESSURE
from stringerlab.compare.measures import LAMINATE
from stringerlab.craft import bottom
from stringerlab.errors import StringerlabError
from stringerlab.laminate import mass
from stringerlab.layout.plan import BayMark, Contact, Equipment, EquipmentKind, Hand, Insert
from stringerlab.layout.rates import Rates
from stringerlab.layout.records import LyingPan, Zone
from stringerlab.materials import shipped
from stringerlab.methods import method_named
from stringerlab.project import Project, resolve

if TYPE_CHECKING:
    from tests.compare.conftest import Boats


def measured(project: Project) -> Compared:
    return compare([Chosen(project=project), Chosen(project=project)]).items[0]


def value(one: Compared, measure: str) -> float:
    found = one.value(measure)
    assert found is not None, one.measured[measure].why
    return found


def with_plating(boats: Boats, project: Project) -> Project:
    """Every bay and span on the lesson's bottom laminate."""
    zone = Zone(id="z1", name="Bottom", laminate=boats.under.id, aft=0.0, forward=6000.0)
    return replace(project, zones=(zone,))


def test_members_weigh_their_sections_mass_along_their_lengths(boats: Boats) -> None:
    project = with_plating(boats, boats.with_layout(boats.keelson()))
    one = measured(project)
    shape = resolve(project).shapes[boats.section.id]
    own = section_facts(shape).mass_per_length * 6.0
    laminates = sum(held.value or 0.0 for key, held in one.measured.items() if key.startswith(LAMINATE))
    assert laminates + value(one, "fills") == pytest.approx(own, rel=1e-9)
    assert value(one, "part") == pytest.approx(own + value(one, "adhesive"), rel=1e-9)
    assert value(one, "bought") == pytest.approx(value(one, "part"), rel=1e-6)


def test_hull_plating_is_counted_once_wherever_members_stand(boats: Boats) -> None:
    by_hand = 6.0 * 2.0 * mass(resolve(boats.bare).stacks[boats.under.id]) / 1000
    for members in ((boats.keelson(),), (boats.girders(), boats.floor())):
        project = with_plating(boats, boats.with_layout(*members))
        assert value(measured(project), "hull") == pytest.approx(by_hand, rel=1e-9)


def test_a_pan_bonded_on_the_hull_is_no_hull_plating(boats: Boats) -> None:
    plain = with_plating(boats, boats.with_layout(boats.keelson()))
    mark = BayMark(id="p1", at=(3000, 500), pan=LyingPan(laminate=boats.under.id, fully_bonded=True))
    panned = with_plating(boats, boats.with_layout(boats.keelson(), bays=(mark,)))
    assert any(case.hull is not None for case in resolve(panned).panels)
    assert value(measured(panned), "hull") == pytest.approx(value(measured(plain), "hull"))


def test_the_centre_lies_where_members_balance(boats: Boats) -> None:
    half = boats.member("g1", (0, 500), (3000, 500), hand=Hand.PAIR)
    one = measured(with_plating(boats, boats.with_layout(half)))
    assert value(one, "x") == pytest.approx(1500, abs=1e-6)
    top = max(z for wall in boats.section.walls for _, z in wall.points)
    assert 0 < value(one, "z") < top


def test_deflection_under_the_common_load_is_that_of_a_beam_under_a_trapezium(boats: Boats) -> None:
    """Simple span, load rising over a at both ends to w: w (5L² - 4a²)² / (1920 EI L²)… for any a."""
    project = with_plating(boats, boats.with_layout(boats.keelson()))
    one = measured(project)
    resolved = resolve(project)
    ground = ground_of(project, resolved)
    assert ground is not None
    grid = beams_of(ground, bottom(project.craft), method_named(project.method)).grid
    L, a, w, EI, GA = 6000.0, 500.0, PRESSURE * 1000.0, float(grid.EI[0]), float(grid.GA[0])
    moment = w * (L**2 / 8 - a**2 / 6)
    by_hand = w * (5 * L**2 - 4 * a**2) ** 2 / (1920 * EI) + moment / GA
    assert value(one, "deflection") == pytest.approx(by_hand, rel=0.005)
    carried = (L - a) * 1000.0 / (L * 2000.0)
    assert value(one, "carried") == pytest.approx(carried, rel=0.01)


def test_energy_is_half_the_load_times_what_it_moves_bounded_by_the_greatest(boats: Boats) -> None:
    one = measured(with_plating(boats, boats.with_layout(boats.keelson())))
    load = PRESSURE * 6000 * 2000 * value(one, "carried")
    assert 0.5 < value(one, "energy") / (load * value(one, "deflection") / 2) < 0.75


def test_bonded_area_and_contact_follow_length_and_go_up_the_side_when_bonded_all_round(
    boats: Boats,
) -> None:
    floor = boats.floor(contact=Contact.ALL_ROUND)
    plain = measured(with_plating(boats, boats.with_layout(boats.floor())))
    round_ = measured(with_plating(boats, boats.with_layout(floor)))
    facts = section_facts(resolve(boats.bare).shapes[boats.section.id])
    assert value(plain, "bonded") == pytest.approx(2000 * facts.bonded_width)
    assert value(plain, "bonded") == pytest.approx(value(round_, "bonded"))
    assert value(plain, "side") == 0
    assert value(round_, "side") == pytest.approx(2 * facts.girth)
    assert value(round_, "perimeter") - value(plain, "perimeter") == pytest.approx(2 * facts.girth)


def test_what_is_not_drawn_is_not_known_and_says_why(boats: Boats) -> None:
    one = measured(boats.bare)
    for measure, why in (
        ("part", "no layout is drawn, and no span is given"),
        ("hull", "no layout is drawn"),
        ("deflection", "no grid to load"),
        ("room", "no layout is drawn"),
        ("cost", "no layout is drawn"),
        ("worst:rule", "no panel and no span"),
    ):
        held = one.measured[measure]
        assert held.value is None, measure
        assert why in held.why


def test_a_section_that_is_not_there_makes_sums_unknown_not_smaller(boats: Boats) -> None:
    one = measured(boats.with_layout(boats.keelson(), boats.floor(section="gone")))
    assert one.value("part") is None
    assert "There is no section 'gone'" in one.measured["part"].why
    assert one.value("deflection") is None


def test_inserts_are_blocks_at_every_foot_of_both_sides(boats: Boats) -> None:
    metal = shipped().solids[0]
    block = Insert(material=metal.id, length=100, width=50, thickness=10)
    engine = Equipment(
        id="e1",
        name="Engine",
        kind=EquipmentKind.ENGINE,
        hand=Hand.PAIR,
        at=(3000, 500),
        mass=100,
        feet=((0, 0), (300, 0)),
        insert=block,
    )
    project = with_plating(boats, boats.with_layout(boats.girders(), equipment=(engine,)))
    by_hand = 4 * 100 * 50 * 10 * 1e-9 * metal.density.value
    assert value(measured(project), "inserts") == pytest.approx(by_hand)


def test_costs_are_those_of_the_first_that_has_rates(boats: Boats) -> None:
    project = with_plating(boats, boats.with_layout(boats.keelson()))
    rated = replace(project, rates=Rates(currency="crowns", hour=40.0, lay_up=0.5))
    found = compare([Chosen(project=project), Chosen(project=rated)])
    assert [one.value("hours") for one in found.items] == [found.items[0].value("hours")] * 2
    assert any("at the rates of" in note for note in found.notes)
    laid = value(found.items[0], "part") - value(found.items[0], "adhesive") - value(found.items[0], "fills")
    assert isclose(value(found.items[0], "hours"), 0.5 * laid, rel_tol=0.2)


def test_a_layout_that_is_not_there_is_refused_with_what_there_is(boats: Boats) -> None:
    project = boats.with_layout(boats.keelson())
    with pytest.raises(StringerlabError, match="There is no layout 'y9'") as caught:
        compare([Chosen(project=project, layout="y9"), Chosen(project=project, layout="y8")])
    assert len(caught.value.problems) == 2
    assert "y1 (Trial)" in str(caught.value.problems[0])


@pytest.mark.parametrize("count", [0, 1, 7])
def test_two_to_six_stand_side_by_side(boats: Boats, count: int) -> None:
    with pytest.raises(StringerlabError, match="2 to 6"):
        compare([Chosen(project=boats.bare)] * count)


def test_a_layout_without_a_hull_bottom_or_without_members_is_not_known_and_says_so(boats: Boats) -> None:
    project = boats.with_layout(boats.keelson())
    bad = replace(project, craft=replace(project.craft, stations=project.craft.stations[:1]))
    one = measured(bad)
    assert one.value("part") is None
    assert "the hull bottom is not known" in one.measured["part"].why
    assert one.value("deflection") is None
    empty = measured(boats.with_layout())
    assert empty.measured["part"].why == "no member is drawn"
    assert empty.value("deflection") is None


def test_what_does_not_change_is_not_measured_again(boats: Boats) -> None:
    project = with_plating(boats, boats.with_layout(boats.keelson()))
    first = measured(project)
    again = compare([Chosen(project=replace(project, notes="new")), Chosen(project=project)]).items
    assert again[0].resolved is first.resolved
    moved = with_plating(boats, boats.with_layout(boats.girders()))
    assert measured(moved).value("length") != first.value("length")
