"""Workings as a page: they always set, the same bytes every time, and no one's words are taken for markup."""

from dataclasses import replace
from xml.etree import ElementTree

import pytest

from stringerlab.assess import check
from stringerlab.data import folder
from stringerlab.errors import StringerlabError
from stringerlab.files import load
from stringerlab.methods import Finding, Verdict
from stringerlab.report import workings_page, workings_text
from stringerlab.report.setting import escaped, page_of
from stringerlab.units import System

PNG = b"\x89PNG\r\n"


@pytest.fixture(scope="module")
def findings() -> tuple[Finding, ...]:
    return check(load(folder("sample_projects") / "eelgrass_workboat.json")).findings


@pytest.fixture(scope="module")
def modulus(findings: tuple[Finding, ...]) -> Finding:
    return next(finding for finding in findings if finding.aspect.value == "section modulus")


def size(page: bytes) -> tuple[float, float]:
    root = ElementTree.fromstring(page)
    _, _, width, height = (float(part) for part in root.attrib["viewBox"].split())
    return width, height


def test_every_aspect_sets_in_both_systems(findings: tuple[Finding, ...]) -> None:
    of_each = {finding.aspect: finding for finding in findings}
    assert len(of_each) > 8
    for finding in of_each.values():
        for system in System:
            width, height = size(workings_page(finding, system, width_pt=400))
            assert width == 400
            assert height > 20


def test_the_same_page_is_the_same_bytes(modulus: Finding) -> None:
    assert workings_page(modulus, System.METRIC) == workings_page(modulus, System.METRIC)


def test_units_of_the_project_are_repeated_on_the_page(modulus: Finding) -> None:
    metric = workings_page(modulus, System.METRIC)
    assert metric != workings_page(modulus, System.US)


def test_a_narrow_page_is_taller_and_still_as_wide_as_asked(modulus: Finding) -> None:
    wide, narrow = (
        size(workings_page(modulus, System.METRIC)),
        size(workings_page(modulus, System.METRIC, width_pt=200)),
    )
    assert narrow[0] == 200
    assert narrow[1] > wide[1]


def test_dark_ink_and_light_ink_differ_and_paper_is_filled_only_when_asked(modulus: Finding) -> None:
    light, dark = (workings_page(modulus, System.METRIC, dark=dark).decode() for dark in (False, True))
    assert "#1d2730" in light
    assert "#e7eaec" in dark
    assert "#fcfbf8" not in light
    assert "#fcfbf8" in workings_page(modulus, System.METRIC, paper=True).decode()


def test_a_page_without_its_head_is_the_formulas_alone(modulus: Finding) -> None:
    whole = workings_page(modulus, System.METRIC)
    bare = workings_page(modulus, System.METRIC, head=False)
    assert size(bare)[1] < size(whole)[1]


def test_a_picture_can_be_had_too(modulus: Finding) -> None:
    assert workings_page(modulus, System.METRIC, form="png", ppi=72).startswith(PNG)


@pytest.mark.parametrize(
    "name",
    ['#panic("no")', "$x^2$ *bold* _it_ `code`", 'a "quoted" \\ name', '#import "@x/y"', "<label> @ref ~ //"],
)
def test_names_and_notes_are_never_markup(modulus: Finding, name: str) -> None:
    tricky = replace(modulus, name=name, notes=(name, f"governing: {name}"))
    page = workings_page(tricky, System.METRIC)
    plain = workings_page(replace(modulus, name="x" * len(name), notes=()), System.METRIC)
    assert size(page)[0] == size(plain)[0]
    assert name in workings_text(tricky, System.METRIC)


def test_escaped_words_stand_in_one_string() -> None:
    assert escaped('a"b\\c#d\nnext') == '#"a\\"b\\\\c#d next"'


def test_what_is_not_judged_says_so(findings: tuple[Finding, ...]) -> None:
    rule = check(load(folder("sample_projects") / "eelgrass_workboat.json"), topics=()).findings
    bond = next(finding for finding in rule if finding.verdict is Verdict.NOT_JUDGED)
    assert "no workings" in workings_text(bond, System.METRIC)
    assert size(workings_page(bond, System.METRIC))[1] > 20
    unjudged = [finding for finding in findings if finding.verdict is Verdict.NOT_JUDGED]
    assert all("no workings" in workings_text(finding, System.METRIC) for finding in unjudged)


def test_the_text_has_formula_numbers_and_source(modulus: Finding) -> None:
    text = workings_text(modulus, System.METRIC)
    assert "A_D = max(l_u·s, 0.33·l_u^2)" in text
    assert "Source: ISO 12215-5:2008, clause 7.5" in text
    assert "utilisation 0.30: holds" in text


def test_markup_that_does_not_set_is_refused_in_words() -> None:
    with pytest.raises(StringerlabError, match=r"workings of a span: It could not be set as a page: .*"):
        page_of("#let x =", {}, what="workings of a span")
