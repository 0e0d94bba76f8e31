"""Exports: areas come back to a millionth, drawings are sound and to size, and the same bytes again."""

from __future__ import annotations

import io
import re
from collections import defaultdict
from dataclasses import replace
from math import radians
from types import SimpleNamespace
from typing import TYPE_CHECKING, Any
from xml.etree import ElementTree

import numpy as np
import pytest
from ezdxf import filemanagement

from stringerlab.assess import reference_plating
from stringerlab.data import folder
from stringerlab.drawing import as_dxf
from stringerlab.errors import StringerlabError
from stringerlab.files import load
from stringerlab.files.dxf_in import read_dxf
from stringerlab.project import resolve
from stringerlab.project.planning import with_layout_in_use
from stringerlab.report.exports import FORMS, Form, What, exported, form_of
from stringerlab.report.paper import project_hash
from stringerlab.section import portions
from stringerlab.units import System

if TYPE_CHECKING:
    from pathlib import Path

    from stringerlab.project import Project

SAMPLES = ("eelgrass_workboat", "first_hat_lesson", "tidewrack_grid", "tidewrack_layout")
SVG = "{http://www.w3.org/2000/svg}"
HOSTILE = '=1+1 <b>& "漁船" #strong[x] \\P {\\C1;red} Лодка\x00'


def sample(name: str) -> Project:
    return load(folder("sample_projects") / f"{name}.json")


def read(data: bytes) -> Any:
    return filemanagement.read(io.StringIO(data.decode()))


def area_of(points: Any) -> float:
    y, z = np.array(points, float)[:, :2].T
    return float(abs((y * np.roll(z, -1) - np.roll(y, -1) * z).sum()) / 2)


def subject_of(entity: Any) -> str:
    if not entity.has_xdata(as_dxf.APPLICATION):
        return ""
    return str(entity.get_xdata(as_dxf.APPLICATION)[0].value)


def outlines(document: Any) -> list[tuple[str, float]]:
    """Every closed outline of a ply or fill: what it shows, and its area."""
    fills = {hatch.dxf.layer.removesuffix(" fill") for hatch in document.modelspace().query("HATCH")}
    return [
        (subject_of(line), area_of(line.get_points("xy")))
        for line in document.modelspace().query("LWPOLYLINE")
        if line.closed and line.dxf.layer in fills
    ]


def expected(project: Project, only: str = "") -> dict[str, float]:
    """Areas of every ply and fill as the section has them, and of the plating's plies under them all."""
    resolved = resolve(project)
    found: defaultdict[str, float] = defaultdict(float)
    for section in project.sections:
        if only and section.id != only:
            continue
        plating = reference_plating(resolved, section)
        slope = radians(section.reference.deadrise) if section.reference else 0.0
        for one in portions(resolved.shapes[section.id], slope):
            found[one.owner if one.place < 0 else f"{one.owner}/{one.place + 1}"] += one.area
        if plating is not None:
            for place, ply in enumerate(plating.stack.plies, start=1):
                found[f"plating/{place}"] += ply.thickness * plating.width
    return {subject: area for subject, area in found.items() if area > 0}


# -- DXF -----------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", SAMPLES)
def test_areas_of_every_ply_come_back_to_a_millionth(name: str) -> None:
    project = sample(name)
    found: dict[str, float] = {}
    for subject, area in outlines(read(exported(project, What.SECTIONS, Form.DXF).data)):
        found[subject] = found.get(subject, 0.0) + area
    wanted = expected(project)
    assert found.keys() == wanted.keys()
    for subject, area in wanted.items():
        assert found[subject] == pytest.approx(area, rel=1e-6), subject


def test_our_own_reader_takes_the_areas_in_again(tmp_path: Path) -> None:
    project = sample("eelgrass_workboat")
    [first, *_] = project.sections
    path = tmp_path / "hat.dxf"
    path.write_bytes(exported(project, What.SECTIONS, Form.DXF, section=first.id).data)
    drawn = read_dxf(path)
    assert drawn.unit == "mm"
    plies = [
        area_of(line)
        for line, layer in zip(drawn.lines, drawn.layers, strict=True)
        if layer in {"mat", "woven roving", "gel coat", "plating"}
    ]
    wanted = expected(project, first.id)
    assert sorted(plies) == pytest.approx(sorted(wanted.values()), rel=1e-6)
    assert sum(plies) == pytest.approx(sum(wanted.values()), rel=1e-6)


def test_a_section_alone_keeps_its_own_origin() -> None:
    project = sample("eelgrass_workboat")
    resolved = resolve(project)
    [first, *_] = project.sections
    document = read(exported(project, What.SECTIONS, Form.DXF, section=first.id).data)
    shell = [line for line in document.modelspace().query("LWPOLYLINE") if line.dxf.layer == "shell"]
    plating = reference_plating(resolved, first)
    assert plating is not None
    half = plating.width / 2
    assert np.array(shell[0].get_points("xy")) == pytest.approx(np.array([(-half, 0), (half, 0)]), abs=1e-9)


def test_sections_side_by_side_do_not_touch() -> None:
    document = read(exported(sample("tidewrack_grid"), What.SECTIONS, Form.DXF).data)
    boxes: dict[str, list[float]] = {}
    for line in document.modelspace().query("LWPOLYLINE"):
        subject = subject_of(line).split("/")[0]
        if line.closed and subject.startswith("w"):
            (left, bottom), (right, top) = (
                edge(np.array(line.get_points("xy")), axis=0).tolist() for edge in (np.min, np.max)
            )
            box = boxes.setdefault(subject, [left, bottom, right, top])
            boxes[subject] = [
                min(box[0], left),
                min(box[1], bottom),
                max(box[2], right),
                max(box[3], top),
            ]
    owner = {wall.id: section.id for section in sample("tidewrack_grid").sections for wall in section.walls}
    for one, box in boxes.items():
        for other, its in boxes.items():
            if owner[one] != owner[other]:
                apart = box[2] < its[0] or its[2] < box[0] or box[3] < its[1] or its[3] < box[1]
                assert apart, (one, other)


@pytest.mark.parametrize("what", [What.SECTIONS, What.LAYOUT])
def test_a_dxf_says_millimetres_and_passes_its_audit(what: What) -> None:
    document = read(exported(sample("tidewrack_layout"), what, Form.DXF).data)
    assert document.header["$INSUNITS"] == 4
    assert document.header["$MEASUREMENT"] == 1
    audit = document.audit()
    assert not audit.errors
    assert not audit.fixes


def test_layers_of_a_layout_say_what_lies_on_them() -> None:
    project = sample("tidewrack_layout")
    document = read(exported(project, What.LAYOUT, Form.DXF).data)
    names = {layer.dxf.name for layer in document.layers}
    wanted = {"hull bottom", "chine", "centreline", "member", "bulkhead", "panel", "node", "equipment"}
    assert wanted <= names
    assert not {"keel", "neutral axis", "tool surface"} & names
    for layer in document.layers:
        assert layer.is_frozen() == layer.dxf.name.endswith(" fill")
    layers = {subject_of(line): line.dxf.layer for line in document.modelspace().query("LWPOLYLINE")}
    resolved = resolve(project)
    assert resolved.found is not None
    assert {layers[bay.id] for bay in resolved.found.bays} == {"panel"}
    [layout] = [one for one in project.layouts if one.id == project.layout]
    assert {layers[thing.id] for thing in layout.equipment} <= {"equipment", "foot"}


def test_a_layout_in_dxf_has_the_panels_areas() -> None:
    project = sample("tidewrack_layout")
    found = resolve(project).found
    assert found is not None
    drawn: dict[str, float] = {}
    for line in read(exported(project, What.LAYOUT, Form.DXF).data).modelspace().query("LWPOLYLINE"):
        if line.dxf.layer == "panel":
            assert line.closed
            drawn[subject_of(line)] = drawn.get(subject_of(line), 0.0) + area_of(line.get_points("xy"))
    wanted = {bay.id: sum(area_of(ring) for ring in bay.clear) for bay in found.bays}
    assert drawn == pytest.approx(wanted, rel=1e-6)


def test_an_unsound_drawing_is_not_written(monkeypatch: pytest.MonkeyPatch) -> None:
    found = SimpleNamespace(has_errors=True, errors=[SimpleNamespace(message="a handle is used twice")])
    monkeypatch.setattr("ezdxf.document.Drawing.audit", lambda _: found)
    with pytest.raises(StringerlabError, match="a handle is used twice"):
        exported(sample("first_hat_lesson"), What.SECTIONS, Form.DXF)


# -- SVG -----------------------------------------------------------------------------------------


@pytest.mark.parametrize("what", [What.SECTIONS, What.LAYOUT])
def test_an_svg_is_sound_and_its_size_is_its_box_at_the_scale_it_states(what: What) -> None:
    project = sample("tidewrack_layout")
    root = ElementTree.fromstring(exported(project, what, Form.SVG).data)
    assert root.tag == f"{SVG}svg"
    words = " ".join("".join(text.itertext()) for text in root.iter(f"{SVG}text"))
    stated = re.search(r"1:(\d+) on paper", words)
    assert stated is not None
    _, _, wide, high = map(float, root.attrib["viewBox"].split())
    for size, covered in ((root.attrib["width"], wide), (root.attrib["height"], high)):
        assert size.endswith("mm")
        assert float(size.removesuffix("mm")) == pytest.approx(covered / int(stated[1]), rel=1e-6)
    assert project_hash(project) in words
    assert "not a class or conformity assessment" in words


def test_a_layout_names_its_members_with_their_spans() -> None:
    project = sample("tidewrack_layout")
    root = ElementTree.fromstring(exported(project, What.LAYOUT, Form.SVG).data)
    lines = ["".join(text.itertext()) for text in root.iter(f"{SVG}text")]
    found = resolve(project).found
    assert found is not None
    [layout] = [one for one in project.layouts if one.id == project.layout]
    for member in layout.members:
        spans = ", ".join(span.id for span in found.spans if span.member == member.id)
        assert f"{member.name} ({member.id}): {spans}" in lines
    assert {bay.id for bay in found.bays} <= set(lines)


def test_us_units_change_words_and_never_the_drawing() -> None:
    project = sample("eelgrass_workboat")
    metric, us = (read(exported(project, What.SECTIONS, Form.DXF, system=system).data) for system in System)
    for one, other in zip(outlines(metric), outlines(us), strict=True):
        assert one == (other[0], pytest.approx(other[1], rel=1e-12))
    words = [text.plain_text() for text in us.modelspace().query("MTEXT")]
    assert any(" in of Bottom" in said for said in words)


# -- all of them ---------------------------------------------------------------------------------


@pytest.mark.parametrize("what", list(What))
def test_the_same_project_gives_the_same_bytes(what: What) -> None:
    project = sample("tidewrack_layout") if what is What.LAYOUT else sample("eelgrass_workboat")
    for form in FORMS[what]:
        assert exported(project, what, form).data == exported(project, what, form).data


@pytest.mark.parametrize("what", [What.SECTIONS, What.LAYOUT])
@pytest.mark.parametrize("form", [Form.SVG, Form.DXF])
def test_hostile_names_stay_words(what: What, form: Form) -> None:
    project = sample("tidewrack_layout")
    sections = tuple(replace(one, name=HOSTILE) for one in project.sections)
    layouts = tuple(
        replace(one, members=tuple(replace(member, name=HOSTILE) for member in one.members))
        for one in project.layouts
    )
    made = exported(replace(project, name=HOSTILE, sections=sections, layouts=layouts), what, form).data
    if form is Form.SVG:
        root = ElementTree.fromstring(made)
        words = "\n".join("".join(text.itertext()) for text in root.iter(f"{SVG}text"))
    else:
        document = read(made)
        assert not document.audit().errors
        words = "\n".join(text.plain_text() for text in document.modelspace().query("MTEXT"))
    assert HOSTILE.replace("\x00", "").strip() in words


def test_a_form_goes_by_the_ending_and_others_are_refused_with_those_there_are() -> None:
    assert form_of("a/b.SVG", What.LAYOUT) is Form.SVG
    assert form_of("x.y.dxf", What.SECTIONS) is Form.DXF
    for what, name in ((What.FINDINGS, "a.dxf"), (What.LAYOUT, "a.csv"), (What.SECTIONS, "a")):
        with pytest.raises(StringerlabError) as refused:
            form_of(name, what)
        assert all(f".{form}" in str(refused.value) for form in FORMS[what])
    with pytest.raises(StringerlabError):
        exported(sample("first_hat_lesson"), What.FINDINGS, Form.DXF)


def test_a_wrong_section_is_left_out_and_said_and_alone_refused() -> None:
    project = sample("eelgrass_workboat")
    first, second = project.sections[:2]
    wrong = replace(second, walls=())
    broken = replace(project, sections=(first, wrong, *project.sections[2:]))
    made = exported(broken, What.SECTIONS, Form.DXF)
    assert any(wrong.id in problem.where for problem in made.left_out)
    subjects = {subject for subject, _ in outlines(read(made.data))}
    assert subjects == set(expected(replace(project, sections=(first, *project.sections[2:]))))
    with pytest.raises(StringerlabError):
        exported(broken, What.SECTIONS, Form.DXF, section=wrong.id)


@pytest.mark.parametrize("what", list(What))
def test_a_project_with_nothing_says_what_to_add(what: What) -> None:
    project = sample("first_hat_lesson")
    empty = replace(project, sections=(), panels=(), spans=(), layouts=(), layout="")
    with pytest.raises(StringerlabError) as refused:
        exported(empty, what, FORMS[what][0])
    assert all(problem.remedy for problem in refused.value.problems)


def test_every_layout_of_a_project_can_be_drawn() -> None:
    project = sample("tidewrack_layout")
    drawn = {
        one.id: exported(with_layout_in_use(project, one.id), What.LAYOUT, Form.SVG).data
        for one in project.layouts
    }
    assert len(drawn) == 2
    for layout in project.layouts:
        assert f"{layout.name} ({layout.id})".encode() in drawn[layout.id]
