import threading
from typing import Any

import numpy as np
import pytest

from stringerlab.units import KPa, Mm, MPa, Ratio
from stringerlab.workings import Known, Source, formula, traced, weakest, workings
from stringerlab.workings.recording import marks_of, row_of


@formula(symbol="r", source=Source("A", known=Known.READ))
def ratio(l: Mm, b: Mm) -> Ratio:
    """Aspect ratio."""
    return l / b


@formula(symbol="k_2", source=Source("A", known=Known.MEMORY_M))
def factor(r: Ratio) -> Ratio:
    """Factor."""
    return 0.5 * r


@formula(symbol="p", source=Source("A", known=Known.QUOTED))
def load(P: KPa, k_2: Ratio) -> MPa:
    """Load."""
    return P * k_2


@formula(symbol="y", source=Source("A", known=Known.STATED))
def same(a: Ratio) -> Ratio:
    """Return what came."""
    return a


@formula(symbol="k_R", source=Source("A", known=Known.STATED))
def one() -> Ratio:
    """One."""
    return 1.0


def names(steps: Any) -> list[str]:
    return [step.formula.name for step in steps]


def test_nothing_is_recorded_outside_and_everything_inside_in_order() -> None:
    ratio(2.0, 1.0)
    with workings() as w:
        r = ratio(np.array([600.0, 900.0]), 300.0)
        k = factor(r)
        factor.clause(r)
    ratio(2.0, 1.0)
    assert names(w.steps) == ["ratio", "factor"]
    assert w.steps[0].inputs["b"] == 300.0
    assert w.steps[1].inputs == {"r": r}
    np.testing.assert_array_equal(w.steps[1].result, k)


def test_recorded_inputs_and_results_are_in_the_programs_units() -> None:
    with workings() as w:
        result = load(0.026, k_2=0.5)
    assert result == pytest.approx(13.0)
    assert w.steps[0].inputs == {"P": 0.026, "k_2": 0.5}


def test_a_recording_inside_another_hides_it_until_it_ends() -> None:
    with workings() as outer:
        ratio(2.0, 1.0)
        with workings() as inner:
            factor(1.0)
        one()
    assert names(outer.steps) == ["ratio", "one"]
    assert names(inner.steps) == ["factor"]


def test_recording_ends_with_an_error() -> None:
    with pytest.raises(RuntimeError, match="stop"), workings() as w:
        raise RuntimeError("stop")
    ratio(2.0, 1.0)
    assert w.steps == []


def test_another_threads_formulas_are_not_recorded() -> None:
    with workings() as w:
        other = threading.Thread(target=lambda: ratio(2.0, 1.0))
        other.start()
        other.join()
    assert w.steps == []


def test_behind_a_result_stand_the_steps_it_came_from_and_no_others() -> None:
    with workings() as w:
        r = ratio(np.array([600.0, 900.0]), 300.0)
        unused = ratio(np.array([1.0, 1.0]), 1.0)
        k = factor(r)
        p = load(np.array([0.01, 0.02]), k)
    assert names(w.behind(p)) == ["ratio", "factor", "load"]
    assert names(w.behind(k)) == ["ratio", "factor"]
    assert names(w.behind(unused, r)) == ["ratio", "ratio"]
    assert w.behind(np.array([1.0, 2.0]), 3.0) == ()
    assert marks_of(w.behind(p)) is Known.MEMORY_M


def test_ancestry_survives_a_formula_that_gives_back_what_came() -> None:
    with workings() as w:
        r = ratio(np.array([600.0, 900.0]), 300.0)
        again = same(r)
        k = factor(again)
    assert names(w.behind(k)) == ["ratio", "same", "factor"]
    assert names(w.behind(r)) == ["ratio"]


def test_two_calls_that_give_one_constant_stay_apart() -> None:
    with workings() as w:
        first, second = one(), one()
        k = factor(first)
    assert w.behind(first) == (w.steps[0],)
    assert w.behind(second) == (w.steps[1],)
    assert w.behind(k) == (w.steps[0], w.steps[2])


def test_an_input_given_to_many_formulas_is_no_result() -> None:
    b = 300.0
    with workings() as w:
        first = ratio(600.0, b)
        ratio(900.0, b)
    assert w.behind(b) == ()
    assert names(w.behind(first)) == ["ratio"]


def test_a_view_of_a_result_counts_as_the_result() -> None:
    with workings() as w:
        r = ratio(np.array([600.0, 900.0]), 300.0)
        k = factor(r[:, np.newaxis])
        broadcast = load(0.01, np.broadcast_to(r[:1], (2,)))
    assert names(w.behind(k)) == ["ratio", "factor"]
    assert names(w.behind(broadcast)) == ["ratio", "load"]


def test_plain_arithmetic_is_bridged_when_it_is_traced() -> None:
    with workings() as w:
        r = ratio(np.array([600.0, 900.0]), 300.0)
        lost = factor(r * 1.0)
        kept = factor(traced(r[np.array([1, 0])], r))
    assert names(w.behind(lost)) == ["factor"]
    assert names(w.behind(kept)) == ["ratio", "factor"]
    value = np.ones(2)
    assert traced(value, 1.0) is value


def test_a_recorded_result_cannot_be_written_to() -> None:
    with workings():
        r = ratio(np.array([600.0, 900.0]), 300.0)
    with pytest.raises(ValueError, match="read-only"):
        r[0] = 1.0


def test_recording_changes_no_number() -> None:
    l, b = np.array([600.0, 900.0]), np.array([300.0, 301.0])
    with workings():
        recorded, number = ratio(l, b), ratio(600.0, 301.0)
    np.testing.assert_array_equal(recorded, ratio(l, b))
    assert number == ratio(600.0, 301.0)


def test_one_row_of_numbers_and_arrays() -> None:
    assert row_of(3.0, 7) == 3.0
    assert row_of(np.array([1.0, 2.0]), 1) == 2.0
    assert row_of(np.array([5.0]), 7) == 5.0
    grid = np.arange(6.0).reshape(2, 3)
    assert row_of(grid, (1, 2)) == 5.0
    assert row_of(grid[:, :1], (1, 2)) == 3.0
    assert row_of(grid[0], (1, 2)) == 2.0
    with pytest.raises(IndexError):
        row_of(np.array([1.0, 2.0]), 2)
    with pytest.raises(IndexError, match="a place in each"):
        row_of(grid, 1)


def test_marks_run_from_read_to_estimate() -> None:
    assert weakest([Known.READ, Known.MEMORY_L, Known.PROVED]) is Known.MEMORY_L
    assert weakest([]) is Known.COMPUTED
    assert weakest([], default=Known.STATED) is Known.STATED
    assert [Known.ranked(mark.rank) for mark in Known] == list(Known)
    order = [
        Known.READ,
        Known.PROVED,
        Known.QUOTED,
        Known.MEMORY_H,
        Known.MEMORY_M,
        Known.MEMORY_L,
        Known.ESTIMATE,
    ]
    assert sorted(order, key=lambda mark: mark.rank) == order


def test_a_source_says_its_clause() -> None:
    assert str(Source("ISO 12215-5:2008", "10.1.2")) == "ISO 12215-5:2008, 10.1.2"
    assert str(Source("A book")) == "A book"
    assert Source("A book").known is Known.MEMORY_L
