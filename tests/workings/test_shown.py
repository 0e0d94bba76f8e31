from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stringerlab.units import KPa, Mm, MPa, Range, Ratio, System
from stringerlab.workings import Known, Source, formula, workings
from stringerlab.workings.display import TYPST
from stringerlab.workings.maths import sqrt, where
from stringerlab.workings.shown import WIDTH, lines, outside_notes, shown, typst_lines
from stringerlab.workings.wrapping import wrapped

READ = Source("A standard", "10.1", Known.READ, "held at its end above 2")


@formula(symbol="r", source=READ)
def ratio(l: Mm, b: Mm) -> Ratio:
    """Aspect ratio of a panel."""
    return l / b


@formula(symbol="k_2", source=READ, valid={"r": Range(1, 2)})
def k_2(r: Ratio) -> Ratio:
    """Aspect ratio factor for strength."""
    return where(r > 2, 0.5, r / 4)


@formula(symbol="t_req", source=Source("A standard", "10.2", Known.MEMORY_H), valid={"P": Range(0, 20)})
def thickness(b: Mm, P: KPa, k_2: Ratio, sigma_d: MPa) -> Mm:
    """Required thickness of single skin."""
    q = P * k_2 / 1000
    return b * sqrt(q / sigma_d)


@pytest.fixture
def steps() -> Any:
    with workings() as w:
        b = np.array([400.0, 500.0])
        r = ratio(np.array([1000.0, 600.0]), b)
        t = thickness(b, np.array([0.026, 0.016]), k_2(r), 80.0)
    return w.behind(t)


def test_a_step_shows_formula_numbers_and_result_in_the_clauses_units(steps: Any) -> None:
    item = shown(steps[2], 1, System.METRIC)
    assert item.symbol == "t_req"
    assert item.meaning == "Required thickness of single skin"
    assert item.formula == "t_req = b·√(q/σ_d)"
    # q = 16·0.3/1000 = 0.0048; t = 500·√(0.0048/80) = 3.873
    assert item.numbers == "500·√(0.0048/80)"
    assert item.result == "3.873 mm"
    assert item.project_result == ""
    assert [(d.symbol, d.formula, d.numbers, d.result) for d in item.derived] == [
        ("q", "q = P·k_2/1000", "16·0.3/1000", "0.0048")
    ]
    assert (item.source, item.known) == ("A standard, 10.2", Known.MEMORY_H)
    assert item.outside == ()


def test_inputs_are_listed_with_their_meaning_and_in_the_projects_units(steps: Any) -> None:
    item = shown(steps[2], 0, System.US)
    assert [(given.symbol, given.clause, given.project) for given in item.inputs] == [
        ("b", "400 mm", "15.75 in"),
        ("P", "26 kN/m²", "3.771 psi"),
        ("k_2", "0.5", ""),
        ("σ_d", "80 MPa", "11603 psi"),
    ]
    assert item.inputs[0].meaning == "short side of the panel"
    # 400·√(0.013/80) mm = 5.099 mm = 0.2007 in
    assert (item.result, item.project_result) == ("5.099 mm", "0.2007 in")


def test_what_lies_outside_a_range_is_said_for_that_row_only(steps: Any) -> None:
    assert outside_notes(steps, 1) == ()
    assert outside_notes(steps, 0) == (
        "r = 2.5 is outside 1 to 2, the stated range",
        "P = 26 kN/m² is outside 0 to 20 kN/m², the stated range",
    )
    assert outside_notes((*steps, *steps), 0) == outside_notes(steps, 0)


def test_a_page_reads_like_a_textbook(steps: Any) -> None:
    assert lines(steps, 0, System.METRIC) == [
        "1. Aspect ratio of a panel",
        "    r = l/b",
        "        l = 1000 mm  long side of the panel",
        "        b = 400 mm   short side of the panel",
        "      = 1000/400",
        "      = 2.500",
        "    Source: A standard, 10.1 (read)",
        "    held at its end above 2",
        "",
        "2. Aspect ratio factor for strength",
        "    k_2 = {0.5 if r > 2, else r/4}",
        "        = {0.5 if 2.5 > 2, else 2.5/4}",
        "        = 0.5",
        "    Source: A standard, 10.1 (read)",
        "    held at its end above 2",
        "    r = 2.5 is outside 1 to 2, the stated range",
        "",
        "3. Required thickness of single skin",
        "    t_req = b·√(q/σ_d)",
        "        P   = 26 kN/m²  design pressure",
        "        σ_d = 80 MPa    design stress",
        "    q = P·k_2/1000",
        "      = 26·0.5/1000",
        "      = 0.013",
        "    t_req = 400·√(0.013/80)",
        "          = 5.099 mm",
        "    Source: A standard, 10.2 (memory H)",
        "    P = 26 kN/m² is outside 0 to 20 kN/m², the stated range",
    ]


def test_the_page_repeats_results_in_us_units(steps: Any) -> None:
    page = lines(steps, 0, System.US)
    assert "          = 5.099 mm   (0.2007 in)" in page
    assert "        P   = 26 kN/m²  (3.771 psi)  design pressure" in page


def test_the_typst_page_says_the_same(steps: Any) -> None:
    page = typst_lines(steps, 0, System.US)
    assert '$ t_("req") = b dot sqrt(frac(q, sigma_(d))) $' in page
    assert '$ t_("req") &= 400 dot sqrt(frac(0.013, 80)) \\ &= 5.099 "mm" quad (0.2007 "in") $' in page
    assert "$ q &= frac(P dot k_(2), 1000) \\ &= frac(26 dot 0.5, 1000) \\ &= 0.013 $" in page
    assert page[0] == '*1. #"Aspect ratio of a panel"*'
    text = "\n".join(page)
    for word in ("short side of the panel", "A standard, 10.2 (memory H)", "P = 26 kN/m² is outside"):
        assert word in text


def test_nothing_in_words_is_taken_for_markup(written: Callable[..., Any]) -> None:
    function = written("def f(a: Ratio) -> Ratio:\n    return a\n")
    f = formula(symbol="y", source=Source('A "book" *n* \\x'), means="#a _b_ $c$")(function)
    with workings() as w:
        f(1.0)
    page = typst_lines(w.steps, 0, System.METRIC)
    assert page[0] == '*1. #"#a _b_ $c$"*'
    assert page[-1].startswith('#"Source: A \\"book\\" *n* \\\\x (memory L)')


def test_a_result_for_each_ply_is_listed_and_the_first_worked_out() -> None:
    with workings() as w:
        ratio(np.array([[10.0, 20.0, np.nan], [np.nan, 40.0, 50.0]]), 10.0)
    item = shown(w.steps[0], 1, System.METRIC)
    assert item.numbers == "40/10"
    assert item.result == "4.000; 5.000"
    assert item.places == 2  # what is padded with nan is no place
    assert "    2 places in this row; the numbers are those of the first with a result" in lines(
        w.steps, 1, System.METRIC
    )
    assert shown(w.steps[0], (1, 2), System.METRIC).numbers == "50/10"


def test_many_places_are_cut_short_and_counted() -> None:
    with workings() as w:
        ratio(np.arange(1.0, 31.0).reshape(1, 30), 1.0)
    assert shown(w.steps[0], 0, System.METRIC).result.endswith("20.00 … (30)")
    assert shown(w.steps[0], 0, System.METRIC, TYPST).result.endswith('20.00" … (30)"')


def test_a_missing_number_is_shown_as_missing() -> None:
    with workings() as w:
        ratio(np.array([np.nan]), 10.0)
    item = shown(w.steps[0], 0, System.METRIC)
    assert (item.numbers, item.result) == ("—/10", "—")


def test_a_row_that_is_not_there_is_an_index_error(steps: Any) -> None:
    with pytest.raises(IndexError):
        shown(steps[0], 2, System.METRIC)


def test_a_long_formula_is_broken_before_a_sign_outside_brackets() -> None:
    text = "k·(1.5 + 0.03·V + 0.15·m_LDC^0.33)·(2.4 + 20/7) + 0.43·k_5·(1.5 + 0.03·V) − 12·√(a·b·c + d)"
    assert wrapped(text, 60) == [
        "k·(1.5 + 0.03·V + 0.15·m_LDC^0.33)·(2.4 + 20/7)",
        "+ 0.43·k_5·(1.5 + 0.03·V) − 12·√(a·b·c + d)",
    ]
    assert wrapped(text, 200) == [text]


PIECES = st.lists(
    st.sampled_from(
        [
            "a",
            "σ_d",
            " + ",
            " − ",
            "·",
            "/",
            "(",
            ")",
            "√(",
            "0.313",
            "·10⁻⁹",
            "{",
            " if ",
            ", else ",
            "}",
            "^2",
        ]
    ),
    min_size=1,
    max_size=60,
)


@given(PIECES.map("".join).map(str.strip).filter(bool), st.integers(12, 90))
def test_wrapped_lines_fit_and_hold_the_whole_formula(text: str, width: int) -> None:
    page = wrapped(text, width)
    assert all(0 < len(line) <= width for line in page)
    assert "".join(page).replace(" ", "") == text.replace(" ", "")


@given(
    st.lists(st.sampled_from(["a*b", "(a+b)", "sqrt(a)", "a/b"]), min_size=1, max_size=40),
    st.sampled_from(System),
)
def test_no_line_of_a_page_is_wider_than_a_hundred_columns(
    written: Callable[..., Any], parts: list[str], system: System
) -> None:
    function = written(f"def f(a: Mm, b: Mm) -> Mm:\n    return {' - '.join(parts)}\n")
    f = formula(symbol="t_req", source=Source("A standard with a name " * 8, "1"), means="Words " * 40)(
        function
    )
    with workings() as w:
        f(np.array([1234.567]), 3.21e-9)
    page = lines(w.steps, 0, system)
    assert max(map(len, page)) <= WIDTH
    assert len(page) >= 7
