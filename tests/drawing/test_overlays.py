"""Overlays show the engine's own numbers: stresses, shear flow, cavities, bonded widths, governing places."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

from stringerlab.assess import Results
from stringerlab.drawing import (
    Area,
    Label,
    Line,
    Mark,
    Options,
    Picture,
    Role,
    Shade,
    Shape,
    area_of,
    section_picture,
)
from stringerlab.methods import Aspect, Finding, Verdict
from stringerlab.section import facts

if TYPE_CHECKING:
    from tests.drawing.conftest import Shown


def picture_of(one: Shown, **options: Any) -> Picture:
    return section_picture(one.shape, one.plating, properties=one.properties, options=Options(**options))


def shades_of(picture: Picture) -> dict[str, Shade]:
    return {item.subject: item.shade for item in picture if isinstance(item, Area) and item.shade}


def value_at(shade: Shade, z: float) -> float:
    return float(np.interp(z, shade.z, shade.values))


@pytest.mark.parametrize("moment", [2e6, -2e6])
def test_stress_in_every_ply_is_modulus_times_curvature_times_height(
    shown: tuple[Shown, ...], moment: float
) -> None:
    for one in shown:
        properties = one.properties
        shades = shades_of(picture_of(one, stress=True, moment=moment))
        fibres = properties.fibres
        assert len(shades) == len(fibres.names)
        extremes = []
        for name, E, top, bottom in zip(fibres.names, fibres.E, fibres.z_top, fibres.z_bottom, strict=True):
            owner, rest = name.split(": ")[0], name.split(" ply ")
            subject = owner if len(rest) == 1 else f"{rest[0]}/{rest[1].split(':')[0]}"
            for height in (top, bottom):
                stress = moment * E * height / properties.EI_y
                assert value_at(shades[subject], properties.z_na + height) == pytest.approx(stress, rel=1e-9)
                extremes.append(abs(stress))
        (limit,) = {shade.limit for shade in shades.values()}
        assert limit == pytest.approx(max(extremes))


def test_strain_is_one_straight_line_for_the_whole_section(shown: tuple[Shown, ...]) -> None:
    one = shown[0]
    curvature = 2e6 / one.properties.EI_y
    for shade in shades_of(picture_of(one, strain=True, moment=2e6)).values():
        for z, strain in zip(shade.z, shade.values, strict=True):
            assert strain == pytest.approx(curvature * (z - one.properties.z_na), abs=1e-15)


def test_reversing_the_moment_swaps_tension_and_compression(shown: tuple[Shown, ...]) -> None:
    one = shown[0]
    labels = [
        {
            item.role: item.text
            for item in picture_of(one, stress=True, moment=moment)
            if isinstance(item, Label)
        }
        for moment in (2e6, -2e6)
    ]
    assert labels[0][Role.TENSION].replace("−", "") == labels[1][Role.COMPRESSION].replace("−", "")
    assert labels[0][Role.TENSION].split("\n")[1].startswith("w6 ply ")


def test_without_moment_or_properties_nothing_is_shaded(shown: tuple[Shown, ...]) -> None:
    one = shown[0]
    assert not shades_of(picture_of(one, stress=True, strain=True))
    bare = section_picture(one.shape, one.plating, options=Options(stress=True, moment=1e6))
    assert not shades_of(bare)


def test_cavities_are_the_enclosed_area(shown: tuple[Shown, ...]) -> None:
    for one in shown:
        if one.id != "s5":
            continue
        picture = picture_of(one, cavity=True)
        cells = [item for item in picture if isinstance(item, Area) and item.role is Role.CAVITY]
        assert sum(map(area_of, cells)) == pytest.approx(facts(one.shape).enclosed_area, rel=1e-9)
        words = [item.text for item in picture if isinstance(item, Label) and item.role is Role.CAVITY]
        assert words == ["121 cm²"]


def test_a_corner_full_of_putty_is_no_cavity_but_foam_is(shown: tuple[Shown, ...]) -> None:
    floor = next(one for one in shown if one.id == "s7")
    assert facts(floor.shape).enclosed_area > 0
    assert not [item for item in picture_of(floor, cavity=True) if item.role is Role.CAVITY]
    cut = shown[-1]
    assert [item for item in picture_of(cut, cavity=True) if item.role is Role.CAVITY]


def test_bonded_widths_are_dimensioned_one_by_one(shown: tuple[Shown, ...]) -> None:
    hat = next(one for one in shown if one.id == "s5")
    picture = picture_of(hat, bonded=True)
    widths = [
        float(np.hypot(*(item.points[1] - item.points[0])))
        for item in picture
        if isinstance(item, Line) and item.role is Role.BONDED
    ]
    found = facts(hat.shape)
    assert widths == pytest.approx([end - start for start, end in found.bonded])
    beads = [item for item in picture if isinstance(item, Area) and item.role is Role.BONDED]
    assert sum(map(area_of, beads)) == pytest.approx(found.bonded_width * hat.shape.bead)


def finding_of(judged: Results, aspect: Aspect, **changes: Any) -> Finding:
    return replace(next(f for f in judged.findings if f.aspect is aspect and f.subject == "m22"), **changes)


def test_governing_ply_is_marked_at_its_furthest_fibre_with_the_utilisation(
    shown: tuple[Shown, ...], judged: Results
) -> None:
    hat = next(one for one in shown if one.id == "s5")
    picture = picture_of(hat, axes=False, findings=(finding_of(judged, Aspect.MODULUS),))
    (mark,) = [item for item in picture if isinstance(item, Mark)]
    fibres = hat.properties.fibres
    index = next(i for i, name in enumerate(fibres.names) if name.startswith("w6 ply 3"))
    assert mark.at[1] == pytest.approx(hat.properties.z_na + fibres.z[index])
    (words,) = [item.text for item in picture if isinstance(item, Label)]
    assert words == "section modulus 0.30 holds"


@pytest.mark.parametrize(
    ("verdict", "role", "shape"),
    [
        (Verdict.HOLDS, Role.HOLDS, Shape.CIRCLE),
        (Verdict.TIGHT, Role.TIGHT, Shape.TRIANGLE),
        (Verdict.SHORT, Role.SHORT, Shape.DIAMOND),
        (Verdict.NOT_JUDGED, Role.NOT_JUDGED, Shape.SQUARE),
    ],
)
def test_verdicts_differ_by_shape_and_word_as_well_as_colour(
    shown: tuple[Shown, ...], judged: Results, verdict: Verdict, role: Role, shape: Shape
) -> None:
    hat = next(one for one in shown if one.id == "s5")
    value = None if verdict is Verdict.NOT_JUDGED else 0.95
    finding = finding_of(judged, Aspect.WEB_AREA, verdict=verdict, utilisation=value)
    picture = picture_of(hat, axes=False, findings=(finding,))
    (mark,) = [item for item in picture if isinstance(item, Mark)]
    assert (mark.role, mark.shape) == (role, shape)
    (words,) = [item.text for item in picture if isinstance(item, Label)]
    assert words.endswith(verdict.value)


def test_of_one_aspect_the_worst_member_is_marked(shown: tuple[Shown, ...], judged: Results) -> None:
    hat = next(one for one in shown if one.id == "s5")
    several = [finding_of(judged, Aspect.WEB_AREA, utilisation=value) for value in (0.3, 0.8, 0.5)]
    picture = picture_of(hat, axes=False, findings=tuple(several))
    assert [item.text for item in picture if isinstance(item, Label)] == ["web area 0.80 holds"]
