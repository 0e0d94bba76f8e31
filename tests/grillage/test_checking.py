"""What is wrong with a grid is said before it is solved: all of it, by name and place."""

from dataclasses import replace

import numpy as np
import pytest

from stringerlab.errors import StringerlabError
from stringerlab.grillage import Factored, Grid, Loads, envelope, natural_frequencies, solve
from stringerlab.grillage.elements import Elements, elements
from stringerlab.grillage.point_loads import triplets

from .conftest import CLAMP, PIN, TWISTLESS, grid, lattice, line, points

INF = np.inf


def refused(g: Grid, loads: Loads | None = None, names: list[str] | None = None) -> list[str]:
    with pytest.raises(StringerlabError) as caught:
        solve(g, points((0, 0.5, 1.0)) if loads is None else loads, names=names)
    return [str(problem) for problem in caught.value.problems]


def test_everything_wrong_with_beams_is_said_at_once() -> None:
    g = lattice([0.0, 400.0, 800.0], [0.0, 300.0, 600.0])
    bad = replace(
        g,
        EI=np.array([0.0, -1.0, np.nan, INF, *[1.0] * 8]),
        GA=np.array([*[1.0] * 4, 0.0, -2.0, np.nan, *[INF] * 5]),
        GJ=np.array([*[1.0] * 7, -1.0, np.nan, *[0.0] * 3]),
        springs=np.where(np.arange(9)[:, None] == 2, -1.0, g.springs),
        mass=np.full(12, np.nan),
    )
    said = refused(bad)
    assert [sum(word in each for each in said) for word in ("EI", "GA", "GJ", "spring", "mass per")] == [
        4,
        3,
        2,
        1,
        1,
    ]
    assert "node 0 at x 0, y 0 mm to node 3 at x 400, y 0 mm" in said[0]


def test_a_beam_of_no_length_and_one_that_ends_nowhere() -> None:
    g = grid([(0, 0), (1000, 0), (1000, 0)], [(0, 1), (1, 2), (2, 2)], {0: CLAMP})
    assert [each for each in refused(g) if "no length" in each] == refused(g)
    assert len(refused(g)) == 2
    assert "not there" in refused(grid([(0, 0), (1, 0)], [(0, 1), (1, 7)], {0: CLAMP}))[0]
    assert "no number" in refused(grid([(0, 0), (np.nan, 0)], [(0, 1)], {0: CLAMP}))[0]


def test_shapes_that_do_not_fit() -> None:
    g = line([1.0], [CLAMP, CLAMP])
    said = refused(replace(g, EI=np.ones(3), springs=np.zeros((4, 3))))
    assert "'EI' has the shape (3,)" in said[0]
    assert "'springs'" in said[1]
    assert refused(replace(g, beams=np.zeros((0, 2), np.intp), EI=np.ones(0), GA=np.ones(0), GJ=np.ones(0)))
    assert "names" in refused(g, names=["only one"])[0]


def test_bad_loads_are_said_by_beam_and_place() -> None:
    g = line([1.0, 1.0], [CLAMP, PIN, CLAMP])
    loads = Loads(
        beam=np.array([0, 5, 1, 1]),
        along=np.array([0.5, 0.5, 1.2, np.nan]),
        amount=np.array([[1.0], [1.0], [np.inf], [1.0]]),
    )
    said = refused(g, loads)
    assert len(said) == 4
    assert "load point 2" in said[0]
    assert "beam 5" in said[1]
    assert "1.2 of the length" in said[2]
    assert "x 1, y 0" in said[2]
    assert "no load case" in refused(g, replace(points((0, 0.5, 1.0)), amount=np.zeros((1, 0))))[0]
    assert "row of amounts" in refused(g, replace(points((0, 0.5, 1.0)), amount=np.zeros((3, 1))))[0]
    assert "(3, 3, 1)" in refused(g, replace(points((0, 0.5, 1.0)), nodal=np.zeros((2, 3, 1))))[0]


def test_each_loose_part_is_named() -> None:
    g = grid(
        [(0, 0), (1, 0), (10, 0), (11, 0), (20, 5), (30, 0), (31, 0)],
        [(0, 1), (2, 3), (5, 6)],
        {0: CLAMP, 5: (0.0, 5.0, 5.0)},
    )
    said = refused(g, names=list("abcdefg"))
    assert len(said) == 3
    assert said[0].startswith("c at x 10, y 0 mm; d at x 11")
    assert "2 nodes" in said[0]
    assert said[1].startswith("e")
    assert "No beam" in said[1]
    assert said[2].startswith("f")


def test_no_support_at_all() -> None:
    g = replace(lattice([0, 1, 2, 3], [0, 1, 2]), springs=np.zeros((12, 3)))
    assert refused(g)[0].startswith("node 0")
    assert "and 6 more" in refused(g)[0]


@pytest.mark.parametrize("dense", [True, False])
def test_each_mechanism_is_named_with_its_motion(dense: bool, monkeypatch: pytest.MonkeyPatch) -> None:
    if not dense:
        monkeypatch.setattr("stringerlab.grillage.factors.DENSE", 0)
        monkeypatch.setattr("stringerlab.grillage.factors._DENSE_BESIDE", 0)
    # A beam pinned on both sides of a node that nothing else holds; a rod free to turn about itself.
    g = grid(
        [(0, 0), (500, 0), (1000, 0), (3000, 0), (4000, 0)],
        [(0, 1), (1, 2), (3, 4)],
        {0: CLAMP, 2: CLAMP, 3: PIN, 4: PIN},
        EI=1e9,
        GJ=1e8,
        pinned=[(True, True), (True, True), (False, False)],
    )
    said = refused(g, names=["aft", "middle", "fore", "left", "right"])
    assert len(said) == 2
    assert said[0].startswith("middle at x 500, y 0 mm: This node can move up and down and turn about y")
    assert said[1].startswith("left")
    assert "These 2 nodes can turn about x with" in said[1]


def test_a_part_that_tilts_about_two_supports_is_a_mechanism() -> None:
    g = lattice([0.0, 400.0, 800.0], [0.0, 300.0], EI=1e9, GJ=1e8)
    springs = np.zeros((6, 3))
    springs[[0, 5], 0] = INF
    said = refused(replace(g, springs=springs))
    assert len(said) == 1
    assert "These 6 nodes can move up and down and turn about x and turn about y" in said[0]


def test_soft_springs_and_stiff_bulkheads_are_no_mechanism() -> None:
    g = lattice(np.linspace(0, 4000, 9).tolist(), np.linspace(0, 2000, 5).tolist(), EI=2e10, GJ=1e8)
    found = solve(
        replace(
            g, EI=np.where(np.arange(len(g.EI)) < 5, 1e16, g.EI), springs=np.where(g.springs > 0, 0.1, 0.0)
        ),
        points((7, 0.3, 1000.0)),
    )
    assert found.reactions[:, 0].sum() == pytest.approx(-1000.0)


def test_a_long_chain_of_many_short_beams_is_no_mechanism() -> None:
    n = 400
    g = line([10.0] * n, [TWISTLESS, *[(0.0, 0.0, 0.0)] * (n - 1), PIN], EI=1e9)
    nodal = np.zeros((n + 1, 3, 1))
    nodal[n // 2, 0] = 1000.0
    found = solve(g, points(nodal=nodal), places=2)
    assert found.w[n // 2, 0, 0] == pytest.approx(1000.0 * 4000.0**3 / 48e9, rel=1e-6)


def test_frequencies_need_mass() -> None:
    with pytest.raises(StringerlabError, match="Nothing has mass"):
        natural_frequencies(line([1.0], [CLAMP, CLAMP]), 1)


def test_a_case_without_load_is_at_rest() -> None:
    g = line([1.0, 1.0], [CLAMP, PIN, CLAMP])
    found = envelope(g, Loads(beam=np.array([0]), along=np.array([0.5]), amount=np.array([[0.0, 8.0]])))
    assert found.M_max[0, 5] > 0
    assert found.case_M_max[0, 5] == 1
    assert found.M_min[0, 5] == 0
    assert found.case_M_min[0, 5] == 0


class _Wrong:
    """A factor of another grid."""

    def solve(self, force: np.ndarray) -> np.ndarray:
        return 0.9 * force


def test_a_factor_that_does_not_solve_gives_no_result() -> None:
    held = Factored.of(line([1.0, 1.0], [CLAMP, PIN, CLAMP]))
    with pytest.raises(StringerlabError, match="left unbalanced"):
        solve(replace(held, factor=_Wrong()), points((0, 0.5, 1.0)))


def test_reactions_that_do_not_balance_the_load_give_no_result() -> None:
    g = line([1.0, 1.0], [CLAMP, PIN, CLAMP])
    held, loads = Factored.of(g), points((0, 0.5, 1.0))
    right = solve(held, loads).reactions.reshape(-1, 1)
    assert held.imbalance(right, triplets(loads, 2), None) < 1e-12
    for freedom in (0, 2):
        wrong = right.copy()
        wrong[freedom] *= 1.001
        with pytest.raises(StringerlabError, match="do not balance"):
            held.imbalance(wrong, triplets(loads, 2), None)


@pytest.mark.parametrize("dense", [True, False])
def test_a_stiffness_that_is_not_symmetric_gives_no_result(
    dense: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    if not dense:
        monkeypatch.setattr("stringerlab.grillage.factors.DENSE", 0)
        monkeypatch.setattr("stringerlab.grillage.factors._DENSE_BESIDE", 0)

    def skewed(g: Grid) -> Elements:
        right = elements(g)
        stiffness = right.stiffness.copy()
        stiffness[0, 0, 4] *= 1.001
        return replace(right, stiffness=stiffness)

    monkeypatch.setattr("stringerlab.grillage.factored.elements", skewed)
    with pytest.raises(StringerlabError, match="not symmetric"):
        Factored.of(grid([(0, 0), (1, 1)], [(0, 1)], {0: CLAMP, 1: CLAMP}))
