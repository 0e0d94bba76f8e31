"""The calculation report says everything, says it of the same results, and can be redone by hand."""

import hashlib
import io
import math
import os
import re
import subprocess
import sys
from collections.abc import Callable
from dataclasses import replace

import pytest
from pypdf import PdfReader

from stringerlab import __version__
from stringerlab.assess import Results, check
from stringerlab.assess.check import Cancelled
from stringerlab.data import folder
from stringerlab.files import load
from stringerlab.methods import Verdict, utilisation_text
from stringerlab.project import PageSize, Paper, Project, Revision
from stringerlab.report.calculation import calculation_report, calculation_sheet
from stringerlab.report.calculation.told import Told
from stringerlab.report.paper import project_hash
from stringerlab.units import System, format, rounded, trimmed
from stringerlab.workings.recording import row_of

Read = Callable[[bytes], list[str]]
WORKBOAT = folder("sample_projects") / "eelgrass_workboat.json"
_RAISED = str.maketrans("⁻⁰¹²³⁴⁵⁶⁷⁸⁹", "-0123456789")


def number(text: str) -> float:
    """Return a number as it is printed."""
    plain = text.replace("−", "-")
    raised = re.fullmatch(r"(-?)(?:([\d.]+)·)?10([⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+)", plain)
    if raised is None:
        return float(plain)
    sign, mantissa, power = raised.groups()
    return float(f"{sign}{mantissa or 1}e{power.translate(_RAISED)}")


@pytest.fixture(scope="module")
def results() -> Results:
    return check(load(WORKBOAT))


@pytest.fixture(scope="module")
def report(results: Results) -> bytes:
    return calculation_report(results)


@pytest.fixture(scope="module")
def bare() -> Project:
    return load(WORKBOAT)


@pytest.fixture(scope="module")
def lesson() -> Project:
    """A panel and a span: a report of a third of the pages."""
    return load(folder("sample_projects") / "first_hat_lesson.json")


def test_report_has_every_part_in_order(report: bytes, read: Read) -> None:
    text = " ".join(read(report))
    at = -1
    for part in (
        "What it comes to",
        "Scope and assumptions",
        "Particulars",
        "Materials",
        "Laminates",
        "Sections",
        "Layout, panels and spans",
        "Design pressures",
        "Findings by utilisation",
        "Not judged, and why",
        "Workings",
        "Method against method",
        "Second opinion",
        "Sources",
        "Review",
    ):
        found = re.search(rf"\b\d+ {re.escape(part)} (?!\.)", text[at + 1 :])
        assert found, part
        at += found.end()


def test_every_page_says_notice_edition_program_state_and_its_number(
    report: bytes, read: Read, results: Results
) -> None:
    pages = read(report)
    mark = project_hash(results.project)
    for n, page in enumerate(pages, start=1):
        assert "not a class or conformity assessment" in page
        assert "A naval architect and the applicable rules decide." in page
        assert results.method.superseded in page
        assert f"edition {results.method.edition}" in page
        assert f"stringerlab {__version__}, project {mark}" in page
        assert f"page {n} of {len(pages)}" in page


def test_every_judged_finding_stands_with_its_numbers(report: bytes, read: Read, results: Results) -> None:
    text = " ".join(read(report))
    told = Told(results=results)
    assert len(told.ranked) > 30
    for each in told.ranked:
        demand, capacity, use = (
            told.demand(each),
            told.capacity(each),
            utilisation_text(each.utilisation),
        )
        little = each.utilisation is not None and each.utilisation < 0.25
        row = (
            f"{each.aspect.value} {demand} of {capacity}, {use}"
            if little
            else f"{demand} {capacity} {use} {each.verdict.value}"
        )
        assert row in text, (each.subject, each.aspect)
    for each in results.findings:
        if each.verdict is Verdict.NOT_JUDGED:
            assert each.notes[0][:40] in text


def test_governing_workings_can_be_redone_from_the_printed_numbers(results: Results) -> None:
    redone = 0
    for finding in Told(results=results).governing:
        for step in finding.steps:
            if any(getattr(value, "ndim", 0) > 1 for value in (step.result, *step.inputs.values())):
                continue
            units = step.formula.units
            printed = {
                name: number(trimmed(row_of(value, finding.row) / units[name].factor))
                for name, value in step.inputs.items()
                if math.isfinite(row_of(value, finding.row))
            }
            if len(printed) < len(step.inputs):
                continue
            own = row_of(step.result, finding.row) / step.formula.unit.factor
            if not math.isfinite(own):
                continue
            by_hand = float(step.formula.clause(**printed))
            assert by_hand == pytest.approx(number(rounded(own)), rel=2e-3, abs=1e-9), step.formula.symbol
            redone += 1
    assert redone > 200


def test_governing_finding_of_each_kind_and_aspect_has_workings(
    report: bytes, read: Read, results: Results
) -> None:
    text = " ".join(read(report))
    workings = text[text.rindex("Clause by clause for the most used subject") :]
    for each in Told(results=results).governing:
        heading = f"{each.aspect.value[0].upper()}{each.aspect.value[1:]}, {each.kind.value}"
        assert heading in workings
        assert all(str(step.formula.source) in workings for step in each.steps)


def test_sections_give_the_points_they_are_drawn_by(report: bytes, read: Read, results: Results) -> None:
    text = " ".join(read(report))
    for section in results.project.sections:
        for wall in section.walls:
            for y, z in wall.points:
                assert f"{trimmed(y)}, {trimmed(z)}" in text, section.name


def test_all_workings_are_an_option(results: Results) -> None:
    some = calculation_sheet(results, beside=False).markup
    every = calculation_sheet(results, workings="all", beside=False).markup
    assert every.count("#step[") > 2 * some.count("#step[")


def test_kinds_of_findings_are_never_mixed(report: bytes, read: Read) -> None:
    text = " ".join(read(report))
    assert "What the method itself asks for." in text
    assert "first principles, no part of the method." in text
    assert "Foam in the part counts for mass, buoyancy and insulation and as no strength." in text


def test_same_project_gives_the_same_bytes_in_any_process(report: bytes) -> None:
    script = (
        "import hashlib,sys; from stringerlab.assess import check; from stringerlab.files import load; "
        "from stringerlab.report.calculation import calculation_report; "
        f"print(hashlib.sha256(calculation_report(check(load({str(WORKBOAT)!r})))).hexdigest())"
    )
    elsewhere = subprocess.run(
        [sys.executable, "-c", script],
        env={**os.environ, "PYTHONHASHSEED": "77", "TZ": "Asia/Tokyo"},
        capture_output=True,
        text=True,
        check=True,
    ).stdout
    assert elsewhere.strip() == hashlib.sha256(report).hexdigest()


@pytest.mark.parametrize(
    "name", ['#panic("x") [*b*] $a^2$ \\ _i_ "q" <l> @r', "漆塗りの船 Ладья Ἀργώ", "W" * 180]
)
def test_words_of_any_kind_come_out_as_text(lesson: Project, read: Read, name: str) -> None:
    craft = replace(lesson.craft, name=name)
    panels = (replace(lesson.panels[0], name=name), *lesson.panels[1:])
    paper = Paper(number="SL-7", author=name, changes=(Revision(revision="A", change=name),))
    project = replace(lesson, name=name, notes=name, craft=craft, panels=panels, paper=paper)
    pages = read(calculation_report(check(project, topics=()), beside=False))
    bare_of_spaces = ["".join(page.split()) for page in pages]
    wanted = "".join(name.split())
    assert bare_of_spaces[0].count(wanted) >= 4
    assert any(f"{wanted}({lesson.panels[0].id})" in page for page in bare_of_spaces[1:])
    assert "SL-7" in pages[-1]


def test_us_units_on_letter_sheets(lesson: Project, read: Read) -> None:
    paper = Paper(size=PageSize.LETTER)
    results = check(replace(lesson, units=System.US, paper=paper), topics=())
    made = calculation_report(results, beside=False)
    text = " ".join(read(made))
    worst = Told(results=results).ranked[0]
    assert worst.demand is not None
    assert format(worst.demand, worst.unit.kind, System.US) in text
    assert " psi" in text
    assert "oz/yd²" in text
    assert tuple(map(float, PdfReader(io.BytesIO(made)).pages[0].mediabox)) == (0, 0, 612, 792)


def test_three_hundred_panels(bare: Project, read: Read) -> None:
    panels = tuple(
        replace(bare.panels[n % len(bare.panels)], id=f"p{1000 + n}", name=f"Bay {n}") for n in range(300)
    )
    results = check(replace(bare, panels=panels), topics=())
    pages = read(calculation_report(results, beside=False))
    text = " ".join(pages)
    assert all(f"Bay {n} (p{1000 + n})" in text for n in range(300))
    listed = [page for page in pages if "Subject; the place that governs Aspect Demand" in page]
    assert len(listed) > 10  # its head stands on every page the table reaches


def test_project_with_nothing_to_report(bare: Project, read: Read) -> None:
    empty = replace(bare, panels=(), spans=(), sections=(), laminates=(), zones=(), layouts=(), layout="")
    pages = read(calculation_report(check(empty)))
    assert "Nothing to judge" in pages[0]
    assert "Nothing was judged, so no source was used." in " ".join(pages)


def test_what_is_wrong_with_a_project_stands_beside_what_is_not_judged(bare: Project, read: Read) -> None:
    broken = replace(bare.spans[0], section="s404")
    results = check(replace(bare, spans=(broken, *bare.spans[1:])), topics=())
    text = " ".join(read(calculation_report(results, beside=False)))
    after = text[text.rindex("What is wrong with the project") :]
    assert results.problems
    assert all(problem.what in after for problem in results.problems)
    assert f"{broken.name} ({broken.id})" in text


def test_second_opinion_is_an_option(lesson: Project, read: Read) -> None:
    results = check(lesson, topics=())
    text = " ".join(read(calculation_report(results, beside=False, second_opinion=True)))
    assert "Not asked for in this report" not in text
    assert "Number Ours sectionproperties Difference EA" in text


def test_method_is_that_of_the_check(lesson: Project, read: Read) -> None:
    results = check(lesson, "first_principles", topics=())
    pages = read(calculation_report(results, beside=False))
    assert all(results.method.name in page for page in pages)


def test_cancelled_half_way_gives_nothing(results: Results) -> None:
    said: list[float] = []

    def watch(done: float, what: str) -> None:
        assert what
        said.append(done)
        if done > 0.4:
            raise Cancelled

    with pytest.raises(Cancelled):
        calculation_report(results, watch=watch)
    assert said == sorted(said)
