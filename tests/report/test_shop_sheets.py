"""Shop sheets as documents: the same bytes, both papers and unit systems, words that stay words, cautions."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from stringerlab.data import folder
from stringerlab.errors import StringerlabError
from stringerlab.files import load
from stringerlab.project import PageSize, resolve
from stringerlab.report.shop import setting, shop_sheets
from stringerlab.report.shop.bond_pages import bond_pages
from stringerlab.report.shop.cautions import CAUTIONS
from stringerlab.report.shop.laminate_pages import laminate_pages
from stringerlab.report.shop.practice import practice_for
from stringerlab.units import System

if TYPE_CHECKING:
    from collections.abc import Callable

    from stringerlab.project import Project

NAMES = {
    "1-laminates.pdf",
    "2-materials.pdf",
    "3-trim-lines.pdf",
    "4-dry-fit.pdf",
    "5-bond-map.pdf",
    "6-blocks-and-holes.pdf",
    "7-foam.pdf",
}
NASTY = '#panic("no") $x$ *bold* _it_ <l> @ref `raw` \\ "q" [b] // c 木船 Лодка'


@pytest.fixture(scope="module")
def boat() -> Project:
    return load(folder("sample_projects") / "tidewrack_layout.json")


@pytest.fixture(scope="module")
def lesson() -> Project:
    return load(folder("sample_projects") / "first_hat_lesson.json")


def test_the_same_project_gives_the_same_seven_files(lesson: Project) -> None:
    first = shop_sheets(lesson, resolve(lesson), size=PageSize.A4)
    again = shop_sheets(lesson, resolve(lesson), size=PageSize.A4)
    assert set(first) == NAMES
    assert dict(first) == dict(again)
    assert all(data.startswith(b"%PDF") for data in first.values())


def test_letter_paper_is_another_document(lesson: Project) -> None:
    sheets = shop_sheets(lesson, resolve(lesson), size=PageSize.LETTER)
    for data in sheets.values():
        assert re.search(rb"/MediaBox\s*\[\s*0\s+0\s+612\s+792\s*\]", data)


@pytest.mark.parametrize("system", list(System))
def test_a_drawn_grid_is_set_in_either_system(boat: Project, system: System) -> None:
    project = replace(boat, units=system)
    assert set(shop_sheets(project, resolve(project), size=PageSize.LETTER)) == NAMES


def test_markup_in_names_stays_words(lesson: Project) -> None:
    sections = tuple(replace(one, name=NASTY) for one in lesson.sections)
    laminates = tuple(replace(one, name=NASTY) for one in lesson.laminates)
    spans = tuple(replace(one, name=NASTY * 4) for one in lesson.spans)
    project = replace(lesson, name=NASTY, sections=sections, laminates=laminates, spans=spans)
    assert set(shop_sheets(project, resolve(project))) == NAMES


def test_nothing_to_make_is_said(lesson: Project) -> None:
    empty = replace(lesson, spans=(), zones=())
    with pytest.raises(StringerlabError, match="nothing to make"):
        shop_sheets(empty, resolve(empty))


def test_stopping_half_way_gives_nothing(lesson: Project) -> None:
    told: list[float] = []

    def stop(part: float, what: str) -> None:
        told.append(part)
        if len(told) > 2:
            raise KeyboardInterrupt(what)

    with pytest.raises(KeyboardInterrupt):
        shop_sheets(lesson, resolve(lesson), watch=stop)
    assert told == sorted(told)


def test_no_open_time_is_made_up(boat: Project) -> None:
    parts, pictures = bond_pages(boat, resolve(boat), practice_for(boat.units), PageSize.A4)
    words = "\n".join(parts)
    assert "Open time, handling time and the temperatures they hold at: read the data sheet" in words
    assert not re.search(r"\d+\s*min", words)
    assert b"<svg" in pictures["bond.svg"]


def test_every_laminate_has_boxes_to_write_measured_values_in(boat: Project) -> None:
    words = "\n".join(laminate_pages(boat, resolve(boat), practice_for(boat.units)))
    tables = words.count('"Ply", "Cloth", "Lay"')
    assert tables == words.count('"Whole", "Target"')
    assert tables > 5
    assert words.count('"Measured"') == tables
    assert "fibres((45deg, -45deg,), true)" in words or "fibres((45deg, -45deg), true)" in words


def test_a_body_smaller_than_eleven_points_is_nowhere_in_the_sheets() -> None:
    text = (folder("resources") / "typst" / "shop.typ").read_text(encoding="utf-8")
    sizes = [float(found) for found in re.findall(r"size: ([\d.]+)pt", text)]
    assert sizes
    assert min(sizes) >= 11.0


def test_every_sheet_carries_all_cautions_notice_and_page_numbers(
    boat: Project, read: Callable[[bytes], list[str]]
) -> None:
    for data in shop_sheets(boat, resolve(boat), size=PageSize.A4).values():
        pages = read(data)
        for number, page in enumerate(pages, start=1):
            assert f"page {number} of {len(pages)}" in page
            assert "not a class or conformity assessment" in page
            assert "superseded" in page
        for hazard in CAUTIONS:
            assert str(hazard).split(" ")[0] in pages[0]


def test_cells_left_to_write_in_are_boxed() -> None:
    made = setting.shop_table(["What", "Measured"], [["Gap", ""]], ["1fr", "20mm"], write=[1])
    assert "write: (1,)" in made
    assert setting.shop_table(["What"], [], ["1fr"]) == ""
