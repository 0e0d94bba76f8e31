import copy
import pickle
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from stringerlab.units import Deg, G, Kn, KPa, M, Mm, MPa, Range, Ratio, unit_named
from stringerlab.workings import Formula, Known, Source, formula, workings
from stringerlab.workings.maths import clip, sqrt, where

SOURCE = Source("A book", "2", Known.STATED)
make = formula(symbol="y", source=SOURCE)
Written = Callable[..., Any]
FACTOR = 3.0


@formula(symbol="t_req", source=SOURCE, valid={"k_C": Range(0.5, 1), "P": Range(0, 100, above=True)})
def thickness(b: Mm, k_C: Ratio, P: KPa, k_2: Ratio, sigma_d: MPa) -> Mm:
    """Required thickness.

    More words.
    """
    return b * k_C * sqrt(P * k_2 / (1000 * sigma_d))


@formula(symbol="A_D", source=SOURCE, unit="m²")
def area(l: M, b: M = 0.5):
    """Area."""
    return l * b


@formula(symbol="y", source=SOURCE)
def doubled(a: Ratio) -> Ratio:
    """Twice as much."""
    return a * FACTOR


def test_the_plain_call_takes_and_gives_the_programs_units() -> None:
    # 400 mm, 26 kN/m² = 0.026 MPa, by hand: 400·√(26·0.5/(1000·76))
    by_hand = 400 * (26 * 0.5 / 76000) ** 0.5
    assert thickness(400.0, 1.0, 0.026, 0.5, 76.0) == pytest.approx(by_hand, rel=1e-14)
    assert thickness(b=400.0, k_C=1.0, P=0.026, k_2=0.5, sigma_d=76.0) == pytest.approx(by_hand, rel=1e-14)
    assert thickness(400.0, 1.0, sigma_d=76.0, P=0.026, k_2=0.5) == pytest.approx(by_hand, rel=1e-14)


def test_the_clause_call_takes_and_gives_the_clauses_units() -> None:
    assert area.clause(2.0, 0.5) == 1.0
    assert area(2000.0, 500.0) == pytest.approx(1e6)
    assert area(2000.0) == pytest.approx(1e6)


def test_each_argument_converts_by_its_own_annotation(written: Written) -> None:
    f = make(written("def f(V: Kn, beta: Deg, n: G) -> Ratio:\n    return V + 100 * beta + 10000 * n\n"))
    assert f(1852 / 3600 * 40, np.pi / 6, 3.0) == pytest.approx(40 + 3000 + 30000)
    assert f.units == {"V": unit_of(Kn), "beta": unit_of(Deg), "n": unit_of(G)}


def unit_of(annotation: Any) -> Any:
    return annotation.__metadata__[0]


def test_arrays_broadcast_row_by_row() -> None:
    b = np.array([[300.0], [400.0]])
    P = np.array([0.01, 0.02, 0.03])
    result = thickness(b, 1.0, P, 0.5, 76.0)
    assert result.shape == (2, 3)
    assert result[1, 2] == thickness(400.0, 1.0, 0.03, 0.5, 76.0)
    assert thickness(np.array([300, 400]), 1, P[:2], 0.5, 76).shape == (2,)


def test_inputs_are_left_as_they_were() -> None:
    P = np.array([0.01, 0.02])
    thickness(400.0, 1.0, P, 0.5, 76.0)
    assert P.tolist() == [0.01, 0.02]


@pytest.mark.parametrize("recorded", [False, True])
@pytest.mark.parametrize(
    ("args", "named"),
    [
        ((1.0, 1.0, 1.0, 1.0), {}),
        ((1.0,) * 6, {}),
        ((1.0,) * 5, {"b": 1.0}),
        ((1.0,) * 4, {"sigma": 1.0}),
    ],
)
def test_a_wrong_call_is_a_type_error(
    recorded: bool, args: tuple[float, ...], named: dict[str, float]
) -> None:
    call: Any = thickness
    if recorded:
        with workings() as w, pytest.raises(TypeError):
            call(*args, **named)
        assert w.steps == []
    else:
        with pytest.raises(TypeError):
            call(*args, **named)


def test_what_a_formula_says_of_itself() -> None:
    assert thickness.symbol == "t_req"
    assert thickness.means == "Required thickness"
    assert thickness.unit == unit_named("mm")
    assert area.unit == unit_named("m²")
    assert thickness.source is SOURCE
    assert thickness.__doc__ is not None
    assert thickness.__doc__.startswith("Required thickness.")
    assert repr(thickness).endswith("test_formula.thickness>")


def test_a_number_of_the_module_is_shown_by_its_name() -> None:
    assert doubled.text == "y = a·FACTOR"
    assert doubled.body.constants == {"FACTOR": 3.0}


def test_a_formula_is_one_object_wherever_it_is_copied() -> None:
    assert copy.deepcopy(thickness) is thickness


@pytest.mark.parametrize(
    ("source", "said"),
    [
        ("def f(a: Ratio) -> Ratio:\n    if a > 1:\n        return a\n    return 1.0\n", "no 'if'"),
        (
            "def f(a: Ratio) -> Ratio:\n    for i in range(3):\n        a = a + i\n    return a\n",
            "no loop",
        ),
        ("def f(a: Ratio) -> Ratio:\n    while a:\n        a = a - 1\n    return a\n", "no loop"),
        ("def f(a: Ratio) -> Ratio:\n    return a if a > 1 else 1.0\n", "may not hold 'a if a > 1 else 1.0'"),
        ("def f(a: Ratio) -> Ratio:\n    return a and 1.0\n", "may not hold 'a and 1.0'"),
        ("def f(a: Ratio) -> Ratio:\n    return where(0 < a < 1, a, 1)\n", "may not hold '0 < a < 1'"),
        ("def f(a: Ratio) -> Ratio:\n    return max(a, 1)\n", "'max' is neither a number nor a function of"),
        ("def f(a: Ratio) -> Ratio:\n    return np.sqrt(a)\n", "'np' is neither"),
        ("def f(a: Ratio) -> Ratio:\n    return other(a)\n", "calls no other function, and no formula"),
        ("def f(*a: Ratio) -> Ratio:\n    return a\n", "no *args"),
        ("def f(**a: Ratio) -> Ratio:\n    return a\n", "no *args"),
        ("def f(a: Ratio, /) -> Ratio:\n    return a\n", "given by name"),
        ("def f(a) -> Ratio:\n    return a\n", "'a' says no unit by its annotation"),
        ("def f(a: float) -> Ratio:\n    return a\n", "'a' says no unit by its annotation"),
        ("def f(a: Ratio):\n    return a\n", "'return' says no unit"),
    ],
)
def test_what_no_formula_may_be_is_refused_at_once(written: Written, source: str, said: str) -> None:
    function = written(source, np=np, other=thickness)
    with pytest.raises(TypeError) as caught:
        make(function)
    assert said in str(caught.value)
    assert str(caught.value).startswith("f: ")


@pytest.mark.parametrize(
    ("body", "said"),
    [
        ("a += 1\n    return a", "does not hold 'a += 1'"),
        ("a = a * 2\n    return a", "'a' already has a meaning"),
        ("q = a\n    q = q * 2\n    return q", "'q' already has a meaning"),
        ("q, s = a, 1\n    return q", "does not hold 'q, s = (a, 1)'"),
        ("q = a", "must return its result"),
        ("return", "does not hold 'return'"),
        ("return a // 2", "may not hold 'a // 2'"),
        ("return a % 2", "may not hold 'a % 2'"),
        ("return +a", "may not hold '+a'"),
        ("return ~a", "may not hold '~a'"),
        ("return a * True", "may not hold 'True'"),
        ("return a * 2j", "may not hold '2j'"),
        ("return [a]", "may not hold '[a]'"),
        ("return a[0]", "may not hold 'a[0]'"),
        ("return a.real", "'real' is neither"),
        ("return (lambda q: q)(a)", "may not hold"),
        ("return sqrt(x=a)", "may not hold 'sqrt(x=a)'"),
        ("return maximum(*a)", "may not hold '*a'"),
        ("return a(2)", "may not hold 'a(2)'"),
        ("return sqrt", "'sqrt' is a function, not a number"),
        ("global Z\n    return a", "does not hold 'global Z'"),
    ],
)
def test_what_cannot_be_displayed_is_refused_when_first_shown(written: Written, body: str, said: str) -> None:
    function = written(f"def f(a: Ratio) -> Ratio:\n    {body}\n")
    with pytest.raises(TypeError) as caught:
        make(function).text  # noqa: B018
    assert said in str(caught.value)


def test_a_function_that_only_looks_like_the_square_root_is_refused(written: Written) -> None:
    with pytest.raises(TypeError, match="'sqrt' is neither"):
        make(written("def f(a: Ratio) -> Ratio:\n    return sqrt(a)\n", sqrt=np.sqrt))


def test_a_name_from_an_enclosing_function_is_refused(written: Written) -> None:
    outer = written("def f(k):\n    def f(a: Ratio) -> Ratio:\n        return a * k\n    return f\n")
    with pytest.raises(TypeError, match="takes k as an argument or not at all"):
        make(outer(2.0))


def test_two_units_for_one_result_are_refused(written: Written) -> None:
    function = written("def f(a: Ratio) -> Mm:\n    return a\n")
    with pytest.raises(TypeError, match="in 'm' and in 'mm'"):
        formula(symbol="y", source=SOURCE, unit="m")(function)


def test_validity_of_what_is_no_argument_is_refused(written: Written) -> None:
    function = written("def f(a: Ratio) -> Ratio:\n    return a\n")
    with pytest.raises(TypeError, match="validity given for"):
        formula(symbol="y", source=SOURCE, valid={"q": Range(0, 1)})(function)


def test_quoted_annotations_carry_units_too(written: Written) -> None:
    f = make(written("from __future__ import annotations\ndef f(P: KPa) -> Ratio:\n    return P\n"))
    assert f(0.026) == pytest.approx(26.0)


def test_where_a_range_is_left_ends_included() -> None:
    inputs = {
        "b": 400.0,
        "k_C": np.array([0.5, 1.0, 0.49, 1.01]),
        "P": np.array([1e-6, 0.1, 0.0, 0.11]),
        "k_2": 0.5,
        "sigma_d": 76.0,
    }
    outside = thickness.outside(inputs)
    assert {name: mask.tolist() for name, mask in outside.items()} == {
        "k_C": [False, False, True, True],
        "P": [False, False, True, True],
    }
    assert thickness.outside({**inputs, "k_C": 1.0, "P": 0.026}) == {}


def test_an_end_reached_through_a_conversion_is_inside_and_infinity_is_outside(written: Written) -> None:
    function = written("def f(beta: Deg) -> Ratio:\n    return beta\n")
    f = formula(symbol="y", source=SOURCE, valid={"beta": Range(10, 30)})(function)
    assert f.outside({"beta": np.radians([10.0, 30.0, 20.0])}) == {}
    assert f.outside({"beta": np.array([np.inf, -np.inf])})["beta"].all()
    assert f.outside({"beta": np.nan}) == {}


def test_maths_works_on_numbers_and_arrays_and_keeps_what_is_missing() -> None:
    assert clip(5.0, 0.0, 2.0) == 2.0
    x: Any = np.array([-1.0, 0.5, 9.0, np.nan])
    np.testing.assert_array_equal(clip(x, 0.0, 2.0), [0.0, 0.5, 2.0, np.nan])
    np.testing.assert_array_equal(where(x > 0, x, 0.0), [0.0, 0.5, 9.0, 0.0])


def test_a_formula_of_a_module_pickles_by_name() -> None:
    from stringerlab.materials import estimates

    found = [value for value in vars(estimates).values() if isinstance(value, Formula)]
    assert found
    for item in found:
        assert pickle.loads(pickle.dumps(item)) is item
