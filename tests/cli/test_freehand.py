"""A freehand section of eleven points, three laminates and a block, from file to findings."""

import json
from dataclasses import replace
from pathlib import Path

import pytest

from stringerlab.cli import run
from stringerlab.data import folder
from stringerlab.files import load, save
from stringerlab.laminate import Laminate, Moduli, Ply, resolve, thickness_with_gel
from stringerlab.project import Project, book_of
from stringerlab.project import resolve as resolved
from stringerlab.section import Fill, Plating, Section, Side, Wall, properties

SAMPLE = folder("sample_projects") / "eelgrass_workboat.json"


def _engine_bed(project: Project) -> Project:
    """An engine bed drawn by hand: a stepped wall of seven points, two tabs of two, and a metal block."""
    book = book_of(project)
    web, tab = "l2", "l4"
    cap = Laminate(id="l90", name="Bed cap", plies=(Ply(material="csm450"), Ply(material="ud500")) * 3)
    t = {laminate.id: thickness_with_gel(resolve(laminate, book)) for laminate in (*project.laminates, cap)}
    low = t[web]
    bed = Wall(
        id="w91",
        points=((-150, low), (-90, low), (-80, 95), (-45, 95), (-40, 180), (50, 180), (62, low)),
        laminate=web,
        side=Side.RIGHT,
        fillets=(0, 12, 0, 0, 14, 14, 0),
    )
    inside = 180 - t[web]
    crown = Wall(id="w92", points=((-24, inside), (34, inside)), laminate=cap.id, side=Side.RIGHT)
    foot = Wall(id="w93", points=((64, t[tab]), (140, t[tab])), laminate=tab, side=Side.RIGHT)
    top = inside - t[cap.id]
    block = Fill(id="f94", points=((-20, top - 12), (30, top - 12), (30, top), (-20, top)), material="al5083")
    section = Section(id="s95", name="Engine bed, by hand", walls=(bed, crown, foot), fills=(block,))
    span = replace(project.spans[0], id="m96", name="Engine bed", section=section.id)
    return replace(
        project,
        laminates=(*project.laminates, cap),
        sections=(*project.sections, section),
        spans=(span,),
        panels=(),
        counter=97,
    )


def test_a_section_drawn_by_hand_is_judged_in_every_aspect(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    project = _engine_bed(load(SAMPLE))
    drawn = project.sections[-1]
    assert sum(len(wall.points) for wall in drawn.walls) == 11
    assert len({wall.laminate for wall in drawn.walls}) == 3
    save(project, tmp_path / "bed.json")
    assert run(["check", str(tmp_path / "bed.json"), "--json"]) in (0, 1, 3)
    findings = {f["aspect"]: f for f in json.loads(capsys.readouterr().out)["findings"]}
    for aspect in ("section modulus", "web area", "stiffness", "web slenderness", "crown slenderness"):
        assert findings[aspect]["utilisation"] > 0, findings[aspect]
    assert findings["bond"]["kind"] == "mechanics"


def test_block_and_cap_raise_the_stiffness_of_the_drawn_bed() -> None:
    project = _engine_bed(load(SAMPLE))
    found = resolved(project)
    shape = found.shapes["s95"]
    plating = Plating(stack=found.stacks["l1"], width=200.0)
    whole = properties(shape, plating, Moduli.PLAIN).EI_y
    without_block = properties(replace(shape, fills=()), plating, Moduli.PLAIN).EI_y
    bare = properties(
        replace(shape, fills=(), walls=(shape.walls[0], shape.walls[2])), plating, Moduli.PLAIN
    ).EI_y
    assert whole > without_block > bare
