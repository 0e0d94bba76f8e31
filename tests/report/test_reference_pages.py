"""One page of each kind is kept: its words are compared, its layout by picture with a tolerance.

After a change that is wanted, keep them anew and look at them:
``KEEP_PAGES=1 pytest -n 0 tests/report/test_reference_pages.py``.
"""

import io
import os
import re
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from PIL import Image

from stringerlab.assess import Results, check
from stringerlab.data import folder
from stringerlab.files import load
from stringerlab.project import Paper, Revision
from stringerlab.report.calculation import TITLE, calculation_sheet
from stringerlab.report.calculation.cavities import cavities
from stringerlab.report.calculation.layout_plan import plan
from stringerlab.report.calculation.told import Told
from stringerlab.report.paper import Sheet, pages_png, pdf

Read = Callable[[bytes], list[str]]
KEPT = Path(__file__).parent / "pages"
PPI = 36.0
KEEP = "KEEP_PAGES" in os.environ
KINDS = {
    "front": "What it comes to Findings short",
    "materials": "Reinforcements Fabric or mat",
    "laminates": "Stiffness of the whole",
    "section": "Scale 1 :",
    "findings": "Findings by utilisation All",
    "notes": "Notes that findings share No.",
    "workings": "Workings Clause by clause",
    "methods": "Method against method The same",
    "review": "Before signing",
}
"""Words by which the first page of a kind is known."""
LAYOUT_KINDS = {
    "plan": "Plan, panels by their ids",
    "spans": "Spans Id Span",
    "cavities": "Cavities, drains, access, flotation Foam",
}
PAPER = Paper(
    number="SL-0042",
    revision="B",
    author="A. Drafter",
    reviewer="N. Architect",
    client="Saltmere harbour office",
    date="3 March",
    changes=(
        Revision(revision="A", date="1 February", author="A. D.", change="first issue"),
        Revision(revision="B", date="3 March", author="A. D.", change="thicker bottom"),
    ),
)
_CHANGING = re.compile(r"stringerlab \d+\.\d+\.\d+\S*|project [0-9a-f]{12}|begins [0-9a-f]{12}")


@pytest.fixture(scope="module")
def workboat() -> tuple[Results, Sheet]:
    results = check(replace(load(folder("sample_projects") / "eelgrass_workboat.json"), paper=PAPER))
    return results, calculation_sheet(results)


@pytest.fixture(scope="module")
def launch() -> tuple[Results, Sheet]:
    """The drawn layout's pages alone, without a check of its grid."""
    project = load(folder("sample_projects") / "tidewrack_layout.json")
    results = check(replace(project, paper=PAPER), topics=())
    told = Told(results=results)
    parts = [part for part in (plan(told), cavities(told)) if part is not None]
    pictures = {name: data for part in parts for name, data in part.pictures.items()}
    return results, Sheet(markup="\n\n".join(part.markup for part in parts), pictures=pictures)


@pytest.fixture(scope="module")
def words(workboat: tuple[Results, Sheet], read: Read) -> list[str]:
    results, sheet = workboat
    return read(pdf(sheet.markup, sheet.pictures, project=results.project, what=TITLE))


@pytest.fixture(scope="module")
def pictures(workboat: tuple[Results, Sheet]) -> tuple[bytes, ...]:
    results, sheet = workboat
    return pages_png(sheet.markup, sheet.pictures, project=results.project, what=TITLE, ppi=PPI)


@pytest.fixture(scope="module")
def layout_words(launch: tuple[Results, Sheet], read: Read) -> list[str]:
    results, sheet = launch
    return read(pdf(sheet.markup, sheet.pictures, project=results.project, what=TITLE))


@pytest.fixture(scope="module")
def layout_pictures(launch: tuple[Results, Sheet]) -> tuple[bytes, ...]:
    results, sheet = launch
    return pages_png(sheet.markup, sheet.pictures, project=results.project, what=TITLE, ppi=PPI)


@pytest.mark.parametrize("kind", KINDS)
def test_page_of_the_workboat_is_as_kept(kind: str, words: list[str], pictures: tuple[bytes, ...]) -> None:
    assert len(words) == len(pictures)
    compare(kind, _page(KINDS[kind], words), words, pictures)


@pytest.mark.parametrize("kind", LAYOUT_KINDS)
def test_page_of_the_layout_is_as_kept(
    kind: str, layout_words: list[str], layout_pictures: tuple[bytes, ...]
) -> None:
    compare(kind, _page(LAYOUT_KINDS[kind], layout_words), layout_words, layout_pictures)


def test_a_moved_line_is_told_from_the_kept_page() -> None:
    kept = picture((KEPT / "front.png").read_bytes())
    moved = kept.copy()
    third = len(kept) // 3
    moved[third:] = np.roll(kept[third:], 6, axis=0)
    assert difference(kept, kept) == 0.0
    assert difference(kept, moved) > TOLERANCE


TOLERANCE = 0.02
"""Mean difference of grey over a page, in parts of black on white after a blur of three dots."""


def compare(kind: str, page: int, words: list[str], pictures: tuple[bytes, ...]) -> None:
    """Hold a page to the kept one, or keep it."""
    text = _CHANGING.sub("…", words[page])
    if KEEP:
        KEPT.mkdir(exist_ok=True)
        (KEPT / f"{kind}.txt").write_text(text + "\n", encoding="utf-8")
        grey = Image.open(io.BytesIO(pictures[page])).convert("L")
        grey.save(KEPT / f"{kind}.png", optimize=True)
    assert text == (KEPT / f"{kind}.txt").read_text(encoding="utf-8").strip()
    kept, now = picture((KEPT / f"{kind}.png").read_bytes()), picture(pictures[page])
    assert kept.shape == now.shape
    assert difference(kept, now) < TOLERANCE


def picture(png: bytes) -> NDArray[np.float64]:
    """Return a page's ink, (rows, columns), 0 for white and 1 for black."""
    return 1.0 - np.asarray(Image.open(io.BytesIO(png)).convert("L"), float) / 255.0


def difference(one: NDArray[np.float64], other: NDArray[np.float64]) -> float:
    """Return how far two pages differ in ink, part of the ink there is, a dot's shift forgiven."""
    first, second = _blurred(one), _blurred(other)
    return float(np.abs(first - second).sum() / max(first.sum(), 1.0))


def _blurred(ink: NDArray[np.float64]) -> NDArray[np.float64]:
    wide = np.pad(ink, 1)
    rows, columns = ink.shape
    nine = [wide[i : i + rows, j : j + columns] for i in range(3) for j in range(3)]
    return np.mean(nine, axis=0)


def _page(known_by: str, words: list[str]) -> int:
    return next(n for n, text in enumerate(words) if known_by in text)
