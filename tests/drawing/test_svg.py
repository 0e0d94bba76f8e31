"""SVG: true scale, the engine's areas, hostile words, the same bytes."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any
from xml.etree import ElementTree

import numpy as np
import pytest

from stringerlab.drawing import (
    DARK,
    PRINT,
    Area,
    Label,
    Mark,
    Options,
    Picture,
    Role,
    Shape,
    area_of,
    legend,
    paper_scale,
    section_picture,
    stations_picture,
    svg,
)
from stringerlab.project import Project

if TYPE_CHECKING:
    from tests.drawing.conftest import Shown


NS = "{http://www.w3.org/2000/svg}"
FULL = Options(cavity=True, bonded=True, strain=True, stress=True, shear_flow=True, moment=1e6, shear=5e3)


def picture_of(one: Shown, options: Options = FULL) -> Picture:
    return section_picture(one.shape, one.plating, properties=one.properties, options=options)


def read(text: str | bytes) -> Any:
    """Return the root of a document that must be sound XML."""
    return ElementTree.fromstring(text)


def box(picture: Picture) -> tuple[float, float, float, float]:
    bounds = picture.bounds()
    assert bounds is not None
    return bounds


def rings_of(path: str) -> tuple[np.ndarray, ...]:
    return tuple(
        np.array([[float(x) for x in pair.split()] for pair in part.rstrip("Z ").split("L")]) * [1, -1]
        for part in path.split("M")
        if part.strip()
    )


def test_areas_read_back_from_the_file_are_the_engine_s(shown: tuple[Shown, ...]) -> None:
    for one in shown:
        picture = picture_of(one, Options())
        root = read(svg(picture))
        found = {
            element.get("data-subject"): area_of(Area(rings=rings_of(element.get("d")), role=Role.MAT))
            for element in root.iter(f"{NS}path")
            if element.get("data-subject")
        }
        expected = {item.subject: area_of(item) for item in picture if isinstance(item, Area)}
        assert found.keys() == expected.keys()
        for subject, size in expected.items():
            assert found[subject] == pytest.approx(size, abs=1e-4, rel=1e-6)


@pytest.mark.parametrize("scale", [1.0, 0.5, 0.1])
def test_page_is_the_view_box_in_millimetres_at_the_scale(shown: tuple[Shown, ...], scale: float) -> None:
    root = read(svg(picture_of(shown[0]), scale=scale))
    left, top, width, height = map(float, root.get("viewBox").split())
    assert float(root.get("width").removesuffix("mm")) == pytest.approx(width * scale, rel=1e-6)
    assert float(root.get("height").removesuffix("mm")) == pytest.approx(height * scale, rel=1e-6)
    low_y, low_z, high_y, high_z = box(picture_of(shown[0]))
    assert left < low_y
    assert left + width > high_y
    assert top < -high_z
    assert top + height > -low_z


def test_words_keep_their_size_on_paper_at_any_scale(shown: tuple[Shown, ...]) -> None:
    def heights(scale: float) -> set[float]:
        root = read(svg(picture_of(shown[0]), scale=scale))
        return {round(float(text.get("font-size")) * scale, 6) for text in root.iter(f"{NS}text")}

    assert heights(1.0) == heights(0.1)


def test_same_picture_gives_the_same_bytes(shown: tuple[Shown, ...]) -> None:
    first, second = (svg(picture_of(shown[0]), legend=legend(FULL, picture_of(shown[0]))) for _ in range(2))
    assert first == second


@pytest.mark.parametrize(
    "name",
    [
        "<script>alert(1)</script>",
        "a & b",
        "quote \" and ' end",
        "]]>",
        "tab\tnul\0bell\7",
        "\ud800",
        "<![CDATA[",
    ],
)
def test_hostile_words_stay_words(name: str) -> None:
    picture = Picture(
        items=(
            Area(rings=(np.array([[0, 0], [1, 0], [0, 1.0]]),), role=Role.MAT, subject=name, tip=name),
            Label(at=(0, 0), text=name),
            Mark(at=(0, 0), shape=Shape.CROSS, role=Role.HOLDS, tip=name),
        )
    )
    text = svg(picture, title=name)
    root = read(text.encode())
    assert not list(root.iter(f"{NS}script"))
    shown = re.sub(r"[\0-\x1f\ud800]", " ", name)
    assert root.find(f"{NS}title").text == shown
    assert shown in [element.text for element in root.iter(f"{NS}text")]
    assert root.find(f"{NS}path").get("data-subject") == shown


def test_file_stands_alone(shown: tuple[Shown, ...]) -> None:
    text = svg(picture_of(shown[-1]), DARK, legend=legend(FULL, picture_of(shown[-1])))
    assert not re.findall(r"(href|@import|url\((?!#))", text)
    assert re.search(r"font-family=\"[^\"]*sans-serif\"", text)
    defined = set(re.findall(r' id="([^"]+)"', text))
    assert set(re.findall(r"url\(#([^)]+)\)", text)) == defined


def test_print_has_no_colour(shown: tuple[Shown, ...]) -> None:
    text = svg(picture_of(shown[0]), PRINT, legend=legend(FULL, picture_of(shown[0])))
    for colour in set(re.findall(r"#([0-9a-f]{6})\b", text)):
        assert colour[:2] == colour[2:4] == colour[4:]


def test_legend_is_written_under_the_picture(shown: tuple[Shown, ...]) -> None:
    picture = picture_of(shown[0])
    rows = legend(FULL, picture)
    root = read(svg(picture, legend=rows))
    texts = {element.text: float(element.get("y")) for element in root.iter(f"{NS}text")}
    lowest = -box(picture)[1]
    for row in rows:
        assert any(text.startswith(row.text) and y > lowest for text, y in texts.items())


def test_empty_picture_is_still_a_drawing() -> None:
    root = read(svg(Picture()))
    assert float(root.get("width").removesuffix("mm")) > 0


def test_paper_scale_is_the_greatest_usual_one_that_fits(boat: Project, shown: tuple[Shown, ...]) -> None:
    assert paper_scale(picture_of(shown[0], Options()), 400, 277) == 1.0
    hull = stations_picture(boat.craft)
    scale = paper_scale(hull, 277, 190)
    assert 1 / scale in (1, 2, 5, 10, 20, 25, 50, 100)
    root = read(svg(hull, scale=scale))
    assert float(root.get("width").removesuffix("mm")) <= 277 + 10.001
