"""Crowns cut at crossings: no moment goes through, with nothing behind them; the other bound is said."""

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from stringerlab.assess.grid import GridResults, Ground, analysed
from stringerlab.assess.grid.bounds import with_uncut_said
from stringerlab.assess.grid.judged import grid_findings
from stringerlab.layout import Backed, Cut
from stringerlab.methods import Aspect, method_named

if TYPE_CHECKING:
    from tests.assess.grid.conftest import Laid

METHOD = method_named("iso_12215_5_2008")


def cut(laid: "Laid", crown: Cut, backed: Backed = Backed.NONE, girders: Cut = Cut.CONTINUOUS) -> Ground:
    floors = [
        replace(laid.floor(f"f{x}", (x, 0), (x, 1000)), crown=crown, backed=backed)
        for x in (1500, 3000, 4500)
    ]
    girder = replace(laid.girder("g", (0, 400), (6000, 400)), crown=girders)
    return laid.ground(laid.flat, girder, *floors)


def at_girder(results: GridResults) -> float:
    """Return the greatest moment of floors where they cross the girder."""
    floors = [span for span in results.ground.found.spans if span.member.startswith("f")]
    return max(results.spans[span.id].M_ends[0 if span.lines[0][0, 1] > 399 else 1] for span in floors)


def test_no_moment_goes_through_a_cut_crown(laid: "Laid") -> None:
    results = analysed(cut(laid, Cut.CUT), METHOD)
    assert results.is_solved
    assert results.residual < 1e-9
    assert results.imbalance < 1e-9
    assert at_girder(results) == pytest.approx(0, abs=1.0)
    assert at_girder(analysed(cut(laid, Cut.CONTINUOUS), METHOD)) > 1e5


@pytest.mark.parametrize("backed", [Backed.TABS, Backed.DIAPHRAGM])
def test_what_stands_behind_the_web_carries_the_moment_on(laid: "Laid", backed: Backed) -> None:
    through, stood = (
        analysed(cut(laid, *how), METHOD) for how in ((Cut.CONTINUOUS, Backed.NONE), (Cut.CUT, backed))
    )
    for name, one in through.spans.items():
        assert stood.spans[name].M_max.value == pytest.approx(one.M_max.value, rel=1e-9)


def test_floors_that_carry_no_moment_through_leave_more_to_the_girder(laid: "Laid") -> None:
    held, turning = (analysed(cut(laid, crown), METHOD) for crown in (Cut.CONTINUOUS, Cut.CUT))

    def worst(results: GridResults) -> float:
        return max(one.M_max.value for id_, one in results.spans.items() if id_.startswith("g"))

    assert worst(turning) > 1.02 * worst(held)


def test_of_two_cut_crowns_one_goes_through(laid: "Laid") -> None:
    results = analysed(cut(laid, Cut.CUT, girders=Cut.CUT), METHOD)
    alone = analysed(cut(laid, Cut.CUT), METHOD)
    assert results.is_solved
    assert any("one goes through in the grid: g" in note for note in results.notes)
    for name, one in alone.spans.items():
        assert results.spans[name].M_max.value == pytest.approx(one.M_max.value, rel=1e-9)


def test_both_bounds_are_said_and_crossings_judged_under_the_crown_through(laid: "Laid") -> None:
    through = analysed(cut(laid, Cut.CONTINUOUS), METHOD)
    said = with_uncut_said(analysed(cut(laid, Cut.CUT), METHOD), METHOD)
    assert any("with every cut crown through" in note for note in said.notes)
    assert said.uncut.keys() == said.spans.keys()
    for name, one in through.spans.items():
        assert said.uncut[name].M_max.value == pytest.approx(one.M_max.value, rel=1e-9)

    def uses(results: GridResults) -> list[float]:
        found = grid_findings(deeper(results), METHOD)
        return [one.utilisation or 0.0 for one in found if one.aspect is Aspect.CROSSING]

    assert min(uses(said)) > 0.01
    assert max(uses(replace(said, uncut={}))) < 1e-6


def deeper(results: GridResults) -> GridResults:
    """Return results in which every member crossed stands well above the one cut at it."""
    ground = results.ground
    spans = {
        id_: replace(
            case,
            span=replace(
                case.span, crossings=tuple(replace(each, height=400) for each in case.span.crossings)
            ),
        )
        for id_, case in ground.spans.items()
    }
    return replace(results, ground=replace(ground, spans=spans))
