from collections.abc import Callable
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stringerlab.workings import Formula, Known, Source, formula
from stringerlab.workings.display import PLAIN, TYPST
from stringerlab.workings.display import written as written_as

SOURCE = Source("A book", "1", Known.STATED)
Read = Callable[..., Any]


def made(written: Read, expression: str, *, before: str = "", **names: Any) -> Formula:
    source = f"def f(a: Ratio, b: Ratio, c: Ratio) -> Ratio:\n{before}    return {expression}\n"
    return formula(symbol="y", source=SOURCE)(written(source, **names))


@pytest.mark.parametrize(
    ("expression", "plain"),
    [
        ("a + b - c", "a + b − c"),
        ("a - (b - c)", "a − (b − c)"),
        ("a - (b + c)", "a − (b + c)"),
        ("a - b * c", "a − b·c"),
        ("(a - b) * c", "(a − b)·c"),
        ("a / b / c", "a/b/c"),
        ("a / (b / c)", "a/(b/c)"),
        ("a / (b * c)", "a/(b·c)"),
        ("a / b * c", "a/b·c"),
        ("a * (b / c)", "a·b/c"),
        ("-a * b", "−a·b"),
        ("-(a * b)", "−a·b"),
        ("-(a + b)", "−(a + b)"),
        ("a * -b", "a·(−b)"),
        ("a / -(b * c)", "a/(−b·c)"),
        ("a - -b", "a − (−b)"),
        ("a + -b * c", "a + (−b·c)"),
        ("-(-a)", "−(−a)"),
        ("-a ** 2", "−a^2"),
        ("(-a) ** 2", "(−a)^2"),
        ("a ** b ** c", "a^(b^c)"),
        ("(a ** b) ** c", "(a^b)^c"),
        ("(a / b) ** 2", "(a/b)^2"),
        ("a / b ** 2", "a/b^2"),
        ("a ** -1", "a^(−1)"),
        ("a ** 0.15", "a^0.15"),
        ("a ** (b + 1)", "a^(b + 1)"),
        ("sqrt(a + b) * c", "√(a + b)·c"),
        ("sqrt(a) ** 2", "(√(a))^2"),
        ("absolute(a - b) ** 2", "|a − b|^2"),
        ("a * 1e-9", "a·10⁻⁹"),
        ("a / 1e-9", "a/10⁻⁹"),
        ("a / 2.5e-9", "a/(2.5·10⁻⁹)"),
        ("2.5e-9 ** a", "(2.5·10⁻⁹)^a"),
        ("1e-9 ** a", "(10⁻⁹)^a"),
        ("6e5 * a", "600000·a"),
        ("a * 0.1234567890123456", "a·0.1234567890123456"),
        ("clip(a, 1, 2) * b", "[a held in 1 … 2]·b"),
        ("where(a <= 2, b, c)", "{b if a ≤ 2, else c}"),
        ("where((a < 2) & (b > 1), b, c)", "{b if a < 2 and b > 1, else c}"),
        ("where(((a < 2) | (b > 1)) & (c != 1), b, c)", "{b if (a < 2 or b > 1) and c ≠ 1, else c}"),
        ("where((a < 2) | (b > 1) & (c == 1), b, c)", "{b if a < 2 or b > 1 and c = 1, else c}"),
        ("(a < b) * c", "(a < b)·c"),
        ("(a < b) + c", "(a < b) + c"),
        ("minimum(a, b, c)", "min(a, b, c)"),
        ("log(a) + exp(b) + tanh(c)", "ln(a) + exp(b) + tanh(c)"),
        ("pi * a", "π·a"),
    ],
)
def test_brackets_stand_where_a_reader_needs_them(written: Read, expression: str, plain: str) -> None:
    assert made(written, expression).text == f"y = {plain}"


@pytest.mark.parametrize(
    ("expression", "typst"),
    [
        ("(a / b) ** 2", "(frac(a, b))^(2)"),
        ("a / (b + c)", "frac(a, b + c)"),
        ("a / b / c", "frac(frac(a, b), c)"),
        ("a * (b + c)", "a dot (b + c)"),
        ("a / -(b * c)", "frac(a, −b dot c)"),
        ("a - (b - c)", "a − (b − c)"),
        ("2.5e-9 * a", "2.5 dot 10^(-9) dot a"),
        ("sqrt(a / b)", "sqrt(frac(a, b))"),
    ],
)
def test_typst_needs_fewer_brackets_under_a_bar(written: Read, expression: str, typst: str) -> None:
    assert made(written, expression).math == f"y = {typst}"


@pytest.mark.parametrize(
    ("name", "plain", "typst"),
    [
        ("sigma_d", "σ_d", "sigma_(d)"),
        ("k_2", "k_2", "k_(2)"),
        ("k_CS", "k_CS", 'k_("CS")'),
        ("t_s_req", "t_s,req", 't_(s, "req")'),
        ("nu12", "ν12", "nu_(12)"),
        ("nu_12", "ν_12", "nu_(12)"),
        ("E1", "E1", "E_(1)"),
        ("EI", "EI", '"EI"'),
        ("lamda", "λ", "lambda"),
        ("attached", "attached", '"attached"'),
    ],
)
def test_a_name_becomes_a_symbol(name: str, plain: str, typst: str) -> None:
    assert PLAIN.name(name) == plain
    assert TYPST.name(name) == typst


def test_negative_and_powered_numbers_keep_their_brackets(written: Read) -> None:
    body = made(written, "a - b * c ** 2").body
    numbers = {"a": -1.0, "b": -2.5e-9, "c": -3.0}
    assert written_as(body.returned, PLAIN, numbers) == "−1 − (−2.5·10⁻⁹·(−3)^2)"
    assert written_as(body.returned, TYPST, numbers) == "−1 − (−2.5 dot 10^(-9) dot (−3)^(2))"


def test_names_assigned_on_the_way_follow_the_result(written: Read) -> None:
    item = made(written, "q * c", before="    q = a / b\n")
    assert item.text == "y = q·c, q = a/b"
    assert item.body.local_values({"a": 6.0, "b": 2.0, "c": 1.0}) == {"q": 3.0}


def _rational() -> st.SearchStrategy[str]:
    # a whole number never stands alone on both sides of a fraction, so that every value stays exact
    leaf = st.sampled_from(["a", "b", "c", "(a + 2)", "(3 * b)", "(7 - c)"])

    def grow(inner: st.SearchStrategy[str]) -> st.SearchStrategy[str]:
        return st.one_of(
            st.tuples(inner, st.sampled_from("+-*/"), inner).map(lambda p: f"({p[0]}) {p[1]} ({p[2]})"),
            inner.map(lambda e: f"-({e})"),
            st.tuples(inner, st.sampled_from(["2", "3"])).map(lambda p: f"({p[0]}) ** {p[1]}"),
        )

    return st.recursive(leaf, grow, max_leaves=8)


VALUES = st.fractions(min_value=Fraction(1, 5), max_value=5, max_denominator=7)


@given(_rational(), VALUES, VALUES, VALUES)
def test_the_text_of_any_arithmetic_has_exactly_the_value_of_the_call(
    written: Read, read_plain: Read, expression: str, a: Fraction, b: Fraction, c: Fraction
) -> None:
    item = made(written, expression)
    values: dict[str, Any] = {"a": a, "b": b, "c": c}
    try:
        called = item.function(**values)
    except ZeroDivisionError:
        return
    assert isinstance(called, Fraction)
    assert read_plain(item.text.removeprefix("y = "), values) == called


def _any_expression() -> st.SearchStrategy[str]:
    leaf = st.sampled_from(["a", "b", "c", "2", "0.25", "1e-3", "pi"])
    relation = st.tuples(leaf, st.sampled_from(["<", "<=", ">", ">=", "==", "!="]), leaf).map(
        lambda p: f"({p[0]} {p[1]} {p[2]})"
    )
    condition = st.recursive(
        relation,
        lambda inner: st.tuples(inner, st.sampled_from("&|"), inner).map(lambda p: f"({p[0]} {p[1]} {p[2]})"),
        max_leaves=3,
    )

    def grow(inner: st.SearchStrategy[str]) -> st.SearchStrategy[str]:
        # denominators and roots are kept away from zero, so that a rounding stays a rounding
        return st.one_of(
            st.tuples(inner, st.sampled_from("+-*"), inner).map(lambda p: f"({p[0]}) {p[1]} ({p[2]})"),
            st.tuples(inner, inner).map(lambda p: f"({p[0]}) / (1 + absolute({p[1]}))"),
            inner.map(lambda e: f"-({e})"),
            inner.map(lambda e: f"({e}) ** 2"),
            inner.map(lambda e: f"sqrt(1 + absolute({e}))"),
            inner.map(lambda e: f"cbrt(1 + absolute({e})) ** 2"),
            inner.map(lambda e: f"tanh({e})"),
            inner.map(lambda e: f"cos({e})"),
            st.tuples(inner, inner, inner).map(lambda p: f"maximum({p[0]}, minimum({p[1]}, {p[2]}))"),
            inner.map(lambda e: f"clip({e}, 0.5, 1.5)"),
            st.tuples(condition, inner, inner).map(lambda p: f"where({p[0]}, {p[1]}, {p[2]})"),
        )

    return st.recursive(leaf, grow, max_leaves=6)


NUMBERS = st.floats(0.1, 2.0)


@given(_any_expression(), NUMBERS, NUMBERS, NUMBERS)
def test_the_text_of_any_formula_has_the_value_of_the_call(
    written: Read, read_plain: Read, expression: str, a: float, b: float, c: float
) -> None:
    item = made(written, expression)
    called = float(item(a, b, c))
    values = {"a": a, "b": b, "c": c, "π": 3.141592653589793}
    assert read_plain(item.text.removeprefix("y = "), values) == pytest.approx(called, rel=1e-6, abs=1e-6)


@given(_any_expression(), NUMBERS, NUMBERS, NUMBERS)
def test_the_tree_gives_local_names_the_value_the_call_gives_them(
    written: Read, expression: str, a: float, b: float, c: float
) -> None:
    item = made(written, "q", before=f"    q = {expression}\n")
    assert item.body.local_values({"a": a, "b": b, "c": c})["q"] == item(a, b, c)
