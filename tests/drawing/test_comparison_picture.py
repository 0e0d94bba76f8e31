"""The one-page comparison: bars as long as their values, plans to one scale, what is not known said."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from dataclasses import replace

import numpy as np
import pytest

from stringerlab.compare import Chosen, Comparison, compare
from stringerlab.data import folder
from stringerlab.drawing import PRINT, Area, Label, Picture, svg
from stringerlab.drawing.comparison import HEIGHT, LEGEND, WIDTH, comparison_picture
from stringerlab.files import load


@pytest.fixture(scope="module")
def found() -> Comparison:
    project = load(folder("sample_projects") / "tidewrack_layout.json")
    hand = load(folder("sample_projects") / "eelgrass_workboat.json")
    layouts = [Chosen(project=project, layout=layout.id) for layout in project.layouts]
    return compare([*layouts, Chosen(project=hand)])


@pytest.fixture(scope="module")
def picture(found: Comparison) -> Picture:
    return comparison_picture(found)


def bars(picture: Picture, letter: str, word: str) -> float:
    """Length of the bar whose parts' tips begin with a letter and hold a word."""
    return sum(
        float(np.ptp(item.rings[0][:, 0]))
        for item in picture
        if isinstance(item, Area) and item.tip.startswith(f"{letter}, ") and word in item.tip
    )


@pytest.mark.parametrize("measure", ["deflection", "worst:rule", "bonded", "hours", "room"])
def test_bars_are_as_long_as_their_values(found: Comparison, picture: Picture, measure: str) -> None:
    one, two = found.items[0].value(measure), found.items[1].value(measure)
    assert one is not None
    assert two is not None
    name = found.by_id[measure].name
    assert bars(picture, "A", name) / bars(picture, "B", name) == pytest.approx(one / two, rel=1e-6)


def test_parts_of_the_mass_bar_add_up_to_the_part(found: Comparison, picture: Picture) -> None:
    words = [row.text for row in LEGEND]
    length = [sum(bars(picture, letter, f", {word}: ") for word in words) for letter in "AB"]
    mass = [one.value("part") or 0.0 for one in found.items[:2]]
    assert length[0] / length[1] == pytest.approx(mass[0] / mass[1], rel=1e-6)


def test_what_is_not_known_has_no_bar_and_says_so(found: Comparison, picture: Picture) -> None:
    name = found.by_id["deflection"].name
    assert found.items[2].value("deflection") is None
    assert bars(picture, "C", name) == 0
    said = [item.text for item in picture if isinstance(item, Label) and item.subject == "compared/C"]
    assert "not known" in said
    assert "no layout is drawn" in said


def test_plans_are_to_one_scale(found: Comparison, picture: Picture) -> None:
    hulls = {
        item.subject: float(np.ptp(item.rings[0][:, 0]))
        for item in picture
        if isinstance(item, Area) and item.tip == "hull bottom"
    }
    for one in found.items:
        assert one.bottom is not None
        own = float(one.bottom.x[-1] - one.bottom.x[0])
        base = found.items[0].bottom
        assert base is not None
        part = own / float(base.x[-1] - base.x[0])
        assert hulls[f"compared/{one.letter}"] / hulls["compared/A"] == pytest.approx(part)


def test_two_to_six_fit_one_page(found: Comparison) -> None:
    for many in (found.items[:2], found.items, found.items * 2):
        bounds = comparison_picture(replace(found, items=many)).bounds()
        assert bounds is not None
        left, bottom, right, top = bounds
        assert -1e-6 <= left < right <= WIDTH + 1e-6
        assert top - bottom <= HEIGHT + 1e-6


def test_it_plays_as_svg(picture: Picture) -> None:
    root = ET.fromstring(svg(picture, PRINT, legend=LEGEND))
    assert len(list(root.iter())) > len(list(picture)) / 2
