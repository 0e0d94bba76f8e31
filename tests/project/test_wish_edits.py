"""Edits of what a search is asked, what it may be offered, and its words."""

from dataclasses import replace

import pytest

from stringerlab.data import folder
from stringerlab.errors import StringerlabError
from stringerlab.files import dumps, load, loads
from stringerlab.project import Project
from stringerlab.project.edits import added
from stringerlab.project.wish_edits import (
    variables_in,
    with_aims,
    with_demand,
    with_demand_values,
    with_plan,
    with_variable_values,
    with_variables,
    with_weights,
    without_demand,
    without_variable,
)
from stringerlab.project.wish_offers import offers, usual
from stringerlab.project.wish_words import demand_words, wish_name
from stringerlab.project.wishes import Aim, Change, Demand, Holds, Number, Plies, Wishes
from stringerlab.units import System


def unasked(name: str) -> Project:
    """Return a sample of which nothing is asked yet."""
    return replace(load(folder("sample_projects") / f"{name}.json"), wishes=Wishes())


@pytest.fixture(scope="module")
def boat() -> Project:
    return unasked("eelgrass_workboat")


@pytest.fixture(scope="module")
def launch() -> Project:
    return unasked("tidewrack_layout")


HEIGHT = Number(id="", change=Change.HEIGHT, of=("s5",), least=100, most=170, step=5)
USE = Demand(id="", holds=Holds.USE, limit=0.9)


def test_ids_of_wishes_are_never_used_again(boat: Project) -> None:
    asked = with_demand(with_variables(boat, HEIGHT, HEIGHT), USE)
    first, second = (one.id for one in asked.wishes.sizing.numbers)
    demand = asked.wishes.sizing.demands[0].id
    assert len({first, second, demand}) == 3
    again = with_variables(without_variable(asked, second), HEIGHT)
    assert again.wishes.sizing.numbers[-1].id not in {first, second, demand}
    drawn = added(again, again.laminates[0])
    numbers = {one.id[1:] for one in (*again.wishes.sizing.numbers, *again.wishes.sizing.demands)}
    assert drawn.laminates[-1].id[1:] not in numbers


def test_ids_written_by_hand_are_kept_clear_of(boat: Project) -> None:
    plan = replace(boat.wishes.sizing, numbers=(replace(HEIGHT, id="v900"),))
    asked = replace(boat, wishes=replace(boat.wishes, sizing=plan))
    assert with_variables(asked, HEIGHT).wishes.sizing.numbers[-1].id == "v901"


def test_values_change_by_id_and_the_same_value_is_no_edit(boat: Project) -> None:
    asked = with_variables(boat, *usual(boat))
    number, plies = variables_in(asked.wishes.sizing)
    changed = with_variable_values(asked, number.id, least=120.0)
    assert changed.wishes.sizing.numbers[0].least == 120.0
    assert with_variable_values(asked, plies.id, menu=("csm450",)).wishes.sizing.laminates[0].menu == (
        "csm450",
    )
    assert with_variable_values(changed, number.id, least=120.0) is changed
    held = with_demand(asked, USE)
    one = held.wishes.sizing.demands[0].id
    assert with_demand_values(held, one, limit=0.8).wishes.sizing.demands[0].limit == 0.8
    assert without_demand(held, one).wishes.sizing.demands == ()
    assert with_weights(boat, cost=2.0).wishes.sizing.weights.cost == 2.0


def test_what_is_out_of_range_or_unknown_is_refused(boat: Project) -> None:
    asked = with_demand(with_variables(boat, *usual(boat)), USE)
    plan = asked.wishes.sizing
    with pytest.raises(StringerlabError, match="limit"):
        with_demand_values(asked, plan.demands[0].id, limit=0.0)
    with pytest.raises(StringerlabError, match="most"):
        with_variable_values(asked, plan.laminates[0].id, most=99)
    with pytest.raises(StringerlabError, match="budget"):
        with_plan(asked, budget=3)
    with pytest.raises(StringerlabError, match="v1"):
        with_variable_values(asked, "v1", least=1.0)
    with pytest.raises(StringerlabError, match="d1"):
        without_demand(asked, "d1")
    with pytest.raises(StringerlabError, match="lowered"):
        with_aims(asked, ())


def test_aims_count_once(boat: Project) -> None:
    assert with_aims(boat, (Aim.COST, Aim.COST, Aim.MASS)).wishes.sizing.aims == (Aim.COST, Aim.MASS)


def test_wishes_come_back_from_a_file(boat: Project) -> None:
    asked = with_demand(with_variables(boat, *usual(boat)), USE)
    assert loads(dumps(asked)).wishes == asked.wishes


def test_every_range_offered_has_the_present_among_its_steps(boat: Project, launch: Project) -> None:
    heights = {"s5": 135.0, "s26": 150.0, "s31": 208.0, "s62": 132.0}
    seen = set[str]()
    for project in (boat, launch):
        for offer in offers(project):
            wish = offer.wish
            if isinstance(wish, Number) and wish.change is Change.HEIGHT:
                steps = (heights[wish.of[0]] - wish.least) / wish.step
                assert steps == pytest.approx(round(steps), abs=1e-9)
                assert 0 < wish.least < heights[wish.of[0]] < wish.most
                seen.add(wish.of[0])
    assert seen == set(heights)


def test_plies_are_offered_between_the_skin_mat_and_the_closing_mat(boat: Project) -> None:
    plies = next(one for one in usual(boat) if isinstance(one, Plies))
    assert plies.laminate == "l2"
    assert plies.menu == ("csm450", "wr600")
    assert (plies.kept, plies.ended, plies.least, plies.most) == (2, 1, 1, 5)
    assert plies.mat_between


def test_a_sandwich_keeps_all_as_far_as_its_core(launch: Project) -> None:
    deck = next(
        one.wish for one in offers(launch) if isinstance(one.wish, Plies) and one.wish.laminate == "l5"
    )
    assert isinstance(deck, Plies)
    assert deck.kept == 4


def test_roving_on_roving_is_offered_without_mat_between(boat: Project) -> None:
    tab = boat.laminates[3]
    doubled = replace(tab, plies=(*tab.plies, tab.plies[1], tab.plies[1]))
    project = replace(boat, laminates=(*boat.laminates[:3], doubled))
    wish = next(
        one.wish for one in offers(project) if isinstance(one.wish, Plies) and one.wish.laminate == "l4"
    )
    assert isinstance(wish, Plies)
    assert not wish.mat_between


def test_what_is_marked_is_not_offered_again(boat: Project) -> None:
    before = {(offer.group, offer.words) for offer in offers(boat)}
    marked = usual(boat)
    after = {(offer.group, offer.words) for offer in offers(with_variables(boat, *marked))}
    assert len(before - after) == len(marked) == 2


def test_the_usual_is_heights_and_plies_of_the_hats_in_use(launch: Project) -> None:
    marked = usual(launch)
    heights = {one.of[0] for one in marked if isinstance(one, Number)}
    assert heights == {"s26", "s31"}
    assert {one.laminate for one in marked if isinstance(one, Plies)} == {"l13", "l18"}


def test_a_drawn_boat_is_offered_places_and_transverses(launch: Project) -> None:
    changes = {offer.wish.change for offer in offers(launch) if isinstance(offer.wish, Number)}
    assert {Change.PLACE, Change.TRANSVERSES} <= changes
    floors = next(
        one.wish
        for one in offers(launch)
        if isinstance(one.wish, Number) and one.wish.change is Change.TRANSVERSES
    )
    assert isinstance(floors, Number)
    assert (len(floors.of), floors.least, floors.most, floors.step) == (6, 4, 8, 1)


def test_wishes_are_said_in_words(boat: Project) -> None:
    assert wish_name(boat, HEIGHT) == "Hat height of Main stringer"
    assert wish_name(boat, replace(HEIGHT, of=("s99",))) == "Hat height of s99"
    layers = Number(id="r", change=Change.REPEATS, of=("l2",), ply=3, least=1, most=3)
    assert wish_name(boat, layers) == "Layers of ply 3 (wr600) in Main stringer"
    assert wish_name(boat, replace(layers, ply=99)) == "Layers of ply 99 in Main stringer"
    assert demand_words(boat, USE, System.METRIC) == "Utilisation of every rule check at most 0.9"
    span = Demand(id="", holds=Holds.DEFLECTION, limit=0.005, of=("m22",))
    assert demand_words(boat, span, System.METRIC).endswith("floor 1 at most 1/200 of its length")
    low = Demand(id="", holds=Holds.HEIGHT, limit=150.0)
    assert demand_words(boat, low, System.METRIC) == (
        "Height above the shell of every section at most 150.0 mm"
    )
