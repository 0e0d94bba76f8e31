"""DXF: layers by meaning, millimetres, areas kept on the way out and in, the same bytes."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from ezdxf import filemanagement

from stringerlab.drawing import Area, Label, Line, Options, Picture, Role, area_of, dxf, section_picture

if TYPE_CHECKING:
    from tests.drawing.conftest import Shown


FULL = Options(cavity=True, bonded=True, strain=True, stress=True, shear_flow=True, moment=1e6, shear=5e3)


def read(data: bytes) -> Any:
    return filemanagement.read(io.StringIO(data.decode()))


def picture_of(one: Shown, options: Options = FULL) -> Picture:
    return section_picture(one.shape, one.plating, properties=one.properties, options=options)


def shoelace(points: Any) -> float:
    y, z = np.array(points).T
    return float(abs((y * np.roll(z, -1) - np.roll(y, -1) * z).sum()) / 2)


def test_areas_come_back_to_a_millionth_by_layer(shown: tuple[Shown, ...]) -> None:
    for one in shown:
        picture = picture_of(one, Options())
        rings = {}
        for item in picture:
            if isinstance(item, Area):
                rings.setdefault(str(item.role), []).extend(map(shoelace, item.rings))
        found = {}
        for line in read(dxf(picture)).modelspace().query("LWPOLYLINE"):
            if line.closed:
                found.setdefault(line.dxf.layer, []).append(shoelace(line.get_points("xy")))
        assert found.keys() == rings.keys()
        for layer, sizes in rings.items():
            assert sorted(found[layer]) == pytest.approx(sorted(sizes), abs=1e-6)


def test_layers_say_what_lies_on_them(shown: tuple[Shown, ...]) -> None:
    document = read(dxf(picture_of(shown[0])))
    names = {layer.dxf.name for layer in document.layers}
    assert {"mat", "woven roving", "gel coat", "plating", "tool surface", "shell", "neutral axis"} <= names
    assert document.layers.get("neutral axis").dxf.linetype == "DASHDOT"
    for entity in document.modelspace():
        assert entity.dxf.layer in names - {"0", "Defpoints"}


def test_header_says_millimetres_and_the_audit_passes(shown: tuple[Shown, ...]) -> None:
    for one in shown:
        document = read(dxf(picture_of(one)))
        assert document.header["$INSUNITS"] == 4
        assert document.header["$MEASUREMENT"] == 1
        assert not document.audit().errors


def test_fills_lie_on_layers_of_their_own(shown: tuple[Shown, ...]) -> None:
    picture = picture_of(shown[0], Options())
    hatches = read(dxf(picture)).modelspace().query("HATCH")
    areas = [item for item in picture if isinstance(item, Area)]
    assert len(hatches) == len(areas)
    assert {hatch.dxf.layer for hatch in hatches} == {f"{area.role} fill" for area in areas}


def test_same_picture_gives_the_same_bytes(shown: tuple[Shown, ...]) -> None:
    assert dxf(picture_of(shown[0])) == dxf(picture_of(shown[0]))


@pytest.mark.parametrize("name", ["{\\C1;red}", "a\\Pb", "^J", "100 % of Ø 5 °", "line\nbreak", "tab\t\0end"])
def test_hostile_words_stay_words(name: str) -> None:
    document = read(dxf(Picture(items=(Label(at=(1.0, 2.0), text=name),))))
    (text,) = document.modelspace().query("MTEXT")
    assert text.plain_text() == name.replace("\t", " ").replace("\0", " ")
    assert not document.audit().errors


def test_open_lines_stay_open_and_where_they_are() -> None:
    points = np.array([[0.1, 1 / 3], [10.0, -2.0], [np.pi, 7.5]])
    document = read(dxf(Picture(items=(Line(points=points, role=Role.TOOL),))))
    (line,) = document.modelspace().query("LWPOLYLINE")
    assert not line.closed
    assert np.array(line.get_points("xy")) == pytest.approx(points, abs=1e-12)


def test_holes_stay_holes() -> None:
    ring = np.array([[0.0, 0], [10, 0], [10, 10], [0, 10]])
    area = Area(rings=(ring, 0.5 * ring + 2), role=Role.MAT)
    assert area_of(area) == pytest.approx(75)
    (hatch,) = read(dxf(Picture(items=(area,)))).modelspace().query("HATCH")
    assert [shoelace([vertex[:2] for vertex in path.vertices]) for path in hatch.paths] == pytest.approx(
        [100, 25]
    )
