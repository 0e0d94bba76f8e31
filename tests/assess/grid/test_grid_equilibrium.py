"""What presses on the bottom is carried, by members or by the hull's edges; mirrored is mirrored."""

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest

from stringerlab.assess.grid import analysed
from stringerlab.assess.grid.beams import beams_of
from stringerlab.assess.grid.combining import Combined
from stringerlab.assess.grid.shares import shares_of
from stringerlab.craft import bottom
from stringerlab.grillage import solve
from stringerlab.layout.plan import Hand
from stringerlab.methods import method_named

if TYPE_CHECKING:
    from tests.assess.grid.conftest import Laid

METHOD = method_named("iso_12215_5_2008")


def grid_of(laid: "Laid", **more: object):
    girders = [laid.girder(f"g{y}", (0, y), (6000, 0.9 * y)) for y in (300, 650)]
    floors = [laid.floor(f"f{x}", (x, 0), (x, 1000)) for x in (1200, 2500, 3700, 4800)]
    return laid.ground(laid.flat, *girders, *floors, **more)  # pyright: ignore


def test_members_and_edges_carry_the_whole_bottom(laid: "Laid") -> None:
    for craft in (laid.flat, laid.vee):
        ground = replace(grid_of(laid), craft=craft)
        ground = laid.ground(craft, *ground.layout.members)
        hull = bottom(craft)
        shares = shares_of(ground, hull, beams_of(ground, hull, METHOD))
        tally = shares.tally
        assert tally.beams + sum(tally.hull.values()) == pytest.approx(tally.total, rel=1e-12)
        skin = sum(bay.area * len(bay.rings) for bay in ground.found.bays)
        assert tally.total == pytest.approx(skin, rel=2e-3)


def test_every_load_is_balanced_by_the_reactions(laid: "Laid") -> None:
    results = analysed(grid_of(laid), METHOD)
    assert results.factored is not None
    cases = results.cases
    assert isinstance(cases, Combined)
    some = list(range(0, cases.p, 7))
    solved = solve(results.factored, cases.of(some))
    assert solved.reactions[:, 0].sum(axis=0) == pytest.approx(-cases.on_beams[some], rel=1e-9)
    assert results.residual < 1e-9
    assert results.imbalance < 1e-9


def test_a_patch_within_the_bottom_has_its_pressure_on_its_own_area(laid: "Laid") -> None:
    results = analysed(grid_of(laid), METHOD)
    cases = results.cases
    assert isinstance(cases, Combined)
    patches = cases.patches
    own = 4 * patches.half.prod(axis=1) * patches.pressure
    assert patches.whole.any()
    assert cases.on_bottom[patches.whole] == pytest.approx(own[patches.whole], rel=1e-9)
    assert (cases.on_bottom <= own * (1 + 1e-9)).all()


def test_a_mirrored_layout_gives_mirrored_results(laid: "Laid") -> None:
    def one_sided(hand: Hand):
        girders = [laid.girder(f"g{y}", (0, y), (6000, 0.9 * y)) for y in (300, 650)]
        extra = laid.girder("odd", (0, 480), (6000, 470), hand=hand)
        floors = [laid.floor(f"f{x}", (x, 0), (x, 1000)) for x in (1500, 3000, 4500)]
        return analysed(laid.ground(laid.flat, *girders, extra, *floors), METHOD)

    port, starboard = one_sided(Hand.PORT), one_sided(Hand.STARBOARD)
    assert port.beams is not None
    assert starboard.beams is not None
    assert port.envelope is not None
    assert starboard.envelope is not None

    def by_place(results, sign: int):  # pyright: ignore
        middles = results.beams.at[results.beams.grid.beams].mean(axis=1) * (1, sign)
        order = np.lexsort(np.round(middles, 1).T)
        return results.envelope.M_max.max(axis=1)[order], results.envelope.V_abs.max(axis=1)[order]

    for one, other in zip(by_place(port, 1), by_place(starboard, -1), strict=True):
        assert one == pytest.approx(other, rel=1e-6)


def test_slam_on_one_side_and_its_mirror_image_are_slam_on_both(
    laid: "Laid", monkeypatch: pytest.MonkeyPatch
) -> None:
    ground = grid_of(laid)
    monkeypatch.setattr("stringerlab.assess.grid.analysing.HALVINGS", 0)  # the same patches on both sides
    halved = analysed(ground, METHOD)
    monkeypatch.setattr("stringerlab.assess.grid.analysing.mirror_of", lambda _: None)  # pyright: ignore
    both = analysed(ground, METHOD)
    assert halved.envelope is not None
    assert both.envelope is not None
    for name in ("M_max", "M_min", "V_abs", "T_abs", "w_max", "R_max", "R_min"):
        one, other = getattr(halved.envelope, name), getattr(both.envelope, name)
        assert one == pytest.approx(other, rel=1e-6, abs=1e-6 * np.abs(other).max()), name


def test_moving_a_member_changes_what_its_neighbours_carry(laid: "Laid") -> None:
    def worst(x: float) -> float:
        floors = [laid.floor(f"f{each}", (each, 0), (each, 1000)) for each in (1200, x, 4800)]
        ground = laid.ground(laid.flat, laid.girder("g", (0, 400), (6000, 400)), *floors)
        return max(
            one.M_max.value for one in analysed(ground, METHOD).spans.values() if one.id.startswith("g")
        )

    even, uneven = worst(3000), worst(2000)
    assert uneven > 1.1 * even
