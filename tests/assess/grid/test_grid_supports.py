"""What holds the grid, what does not, and what is said of members that nothing holds."""

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest

from stringerlab.assess.grid import analysed
from stringerlab.assess.grid.judged import grid_findings
from stringerlab.layout.plan import Contact, Hand, Held, Member, MemberKind, Supports
from stringerlab.methods import FindingKind, Verdict, method_named

if TYPE_CHECKING:
    from tests.assess.grid.conftest import Laid

METHOD = method_named("iso_12215_5_2008")


def plan(laid: "Laid"):
    girder = laid.girder("g", (0, 400), (6000, 400))
    floors = [laid.floor(f"f{x}", (x, 0), (x, 1000)) for x in (1500, 3000, 4500)]
    return girder, *floors


def greatest(results) -> float:  # pyright: ignore
    return max(one.w_max for one in results.spans.values())


def test_elastic_chines_lie_between_simple_and_clamped(laid: "Laid") -> None:
    side = next(iter(laid.resolved.stacks))
    found = [
        greatest(analysed(laid.ground(laid.flat, *plan(laid), supports=supports), METHOD))
        for supports in (
            Supports(),
            Supports(chine=Held.ELASTIC, side_laminate=side, side_height=100.0),
            Supports(chine=Held.CLAMPED),
        )
    ]
    assert found[0] > found[1] > found[2]


def test_members_bonded_up_the_side_bend_less(laid: "Laid") -> None:
    girder, *floors = plan(laid)
    up = [replace(floor, contact=Contact.ALL_ROUND) for floor in floors]
    only, round_ = (analysed(laid.ground(laid.flat, girder, *each), METHOD) for each in (floors, up))
    assert greatest(round_) < 0.9 * greatest(only)


def test_bonded_up_an_elastic_side_a_member_has_that_sides_spring_and_no_more(laid: "Laid") -> None:
    side = next(iter(laid.resolved.stacks))
    girder, *floors = plan(laid)
    up = [replace(floor, contact=Contact.ALL_ROUND) for floor in floors]

    def most(height: float, *members: Member) -> float:
        supports = Supports(chine=Held.ELASTIC, side_laminate=side, side_height=height)
        return greatest(analysed(laid.ground(laid.flat, *members, supports=supports), METHOD))

    held = greatest(analysed(laid.ground(laid.flat, girder, *up), METHOD))
    assert most(100, girder, *up) == pytest.approx(most(100, girder, *floors), rel=1e-9)
    assert most(1000, girder, *up) > 1.01 * most(100, girder, *up) > 1.01 * held


def test_a_bulkhead_holds_what_lies_on_it(laid: "Laid") -> None:
    girder, *floors = plan(laid)
    middle = replace(floors[1], kind=MemberKind.BULKHEAD)
    results = analysed(laid.ground(laid.flat, girder, floors[0], middle, floors[2]), METHOD)
    assert results.beams is not None
    assert results.envelope is not None
    on = np.isclose(results.beams.at[:, 0], 3000)
    assert on.any()
    assert results.envelope.w_max[on] == pytest.approx(0, abs=1e-9)
    assert results.envelope.w_max.max() > 0.05


def test_no_support_at_all_is_said_and_nothing_is_judged(laid: "Laid") -> None:
    free = Supports(transom=Held.FREE, chine=Held.FREE, forward=Held.FREE)
    results = analysed(laid.ground(laid.flat, *plan(laid), supports=free), METHOD)
    assert not results.is_solved
    assert results.problems
    findings = grid_findings(results, METHOD)
    assert {one.kind for one in findings} == {FindingKind.GRID}
    assert {one.verdict for one in findings} == {Verdict.NOT_JUDGED}
    assert str(results.problems[0].problem) in findings[0].notes


def test_a_loose_member_is_named_with_its_place_and_the_rest_analysed(laid: "Laid") -> None:
    loose = laid.girder("Loose one", (1700, 700), (2400, 700), hand=Hand.PORT)
    results = analysed(laid.ground(laid.flat, *plan(laid), loose), METHOD)
    assert results.is_solved
    assert results.residual < 1e-9
    assert not [one for one in results.spans if one.startswith("Loose")]
    apart = [one for one in grid_findings(results, METHOD) if one.subject.startswith("Loose")]
    assert [one.verdict for one in apart] == [Verdict.NOT_JUDGED]
    assert "left out of the grid" in " ".join(apart[0].notes)
    said = [placed for placed in results.problems if "Loose one" in str(placed.problem)]
    assert said
    assert 1600 < said[0].at[0] < 2500


def test_the_keels_share_goes_to_the_floors_that_cross_it(laid: "Laid") -> None:
    results = analysed(laid.ground(laid.flat, *plan(laid)), METHOD)
    assert results.tally is not None
    # along 1500 mm, 400 mm to the girders: 1500 × 200 − 200² a side; of the end bays a half stays at the hull
    left = results.tally.hull["keel and lines"]
    assert left == pytest.approx(2 * (1500 * 200 - 200**2), rel=2e-2)


def test_without_a_section_that_gives_numbers_the_grid_is_not_judged(laid: "Laid") -> None:
    ground = laid.ground(laid.flat, *plan(laid))
    ground = replace(
        ground, spans={one: case for one, case in ground.spans.items() if not one.startswith("g")}
    )
    results = analysed(ground, METHOD)
    assert not results.is_solved
    assert "has no stiffness" in str(results.problems[0].problem)
