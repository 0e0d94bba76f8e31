"""The comparison sheet: one page whatever is compared, names as words, the numbers those of `compare`."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from stringerlab.compare import Chosen, Comparison, compare
from stringerlab.compare.shown import cell
from stringerlab.data import folder
from stringerlab.files import load
from stringerlab.project import PageSize
from stringerlab.report.comparison import comparison_page, comparison_png, comparison_sheet
from stringerlab.report.paper import project_hash
from stringerlab.units import System

LONG = "Tidewrack “94”, #strong[*bold*] \\ 漁船 " + "a very long name " * 30
SIZES = {PageSize.A4: (841.8898, 595.2756), PageSize.LETTER: (792.0, 612.0)}


def sheets(data: bytes) -> list[tuple[float, float]]:
    found = re.findall(rb"/MediaBox ?\[0 0 ([\d.]+) ([\d.]+)\]", data)
    return [(float(wide), float(high)) for wide, high in found]


@pytest.fixture(scope="module")
def two() -> Comparison:
    project = load(folder("sample_projects") / "tidewrack_layout.json")
    return compare([Chosen(project=project, layout=one.id) for one in project.layouts])


@pytest.fixture(scope="module")
def six() -> Comparison:
    boat, lesson = (
        load(folder("sample_projects") / f"{name}.json") for name in ("eelgrass_workboat", "first_hat_lesson")
    )
    boats = [replace(boat, name=name) for name in (boat.name, LONG, "Лодка", "Fourth")]
    return compare([Chosen(project=one) for one in (*boats, lesson, replace(lesson, name=LONG))])


@pytest.mark.parametrize("size", list(PageSize))
def test_two_or_six_are_one_page_that_lies(two: Comparison, six: Comparison, size: PageSize) -> None:
    for found in (two, six):
        [sheet] = sheets(comparison_sheet(found, size=size))
        assert sheet == pytest.approx(SIZES[size], abs=0.01)


def test_the_same_comparison_gives_the_same_bytes(two: Comparison) -> None:
    assert comparison_sheet(two) == comparison_sheet(two)


def test_bars_and_words_have_the_numbers_of_the_comparison(two: Comparison) -> None:
    for system in System:
        page = comparison_page(two, system)
        [drawn] = page.pictures.values()
        for measure in two.measures:
            if measure.plotted:
                for one in two.items:
                    assert cell(measure, one.measured[measure.id], system) in drawn.decode()
    markup = comparison_page(two, System.METRIC).markup
    for sentence in two.sentences:
        assert sentence in markup
    for note in two.notes:
        assert note in markup


def test_each_is_said_by_its_file_and_its_method_with_its_edition(six: Comparison) -> None:
    markup = comparison_page(six, System.METRIC).markup
    for one in six.items:
        assert project_hash(one.chosen.project) in markup
    assert "A, B, C, D, E, F: judged by ISO 12215-5:2008 form, edition 2008." in markup
    assert markup.count("judged by") == 1
    assert "superseded by the editions of 2019 and 2021" in markup


def test_of_many_only_what_names_each_is_said(six: Comparison) -> None:
    markup = comparison_page(six, System.METRIC).markup
    for letter in "BCDEF":
        assert f'"{letter} (' in markup
    assert "More in words" in markup


def test_long_and_foreign_names_are_words_within_the_page(six: Comparison) -> None:
    page = comparison_page(six, System.METRIC)
    [drawn] = page.pictures.values()
    width = re.search(rb'width="([\d.]+)mm"', drawn)
    assert width is not None
    assert float(width[1]) < 300
    assert "Лодка" in drawn.decode()
    assert "#strong[*bold*]" in page.markup
    assert len(comparison_png(six, ppi=20.0)) == 1
