"""Several methods and a parent boat from the command line."""

import json
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from stringerlab.cli import run
from stringerlab.data import folder
from stringerlab.files import load, save
from stringerlab.methods import available
from stringerlab.project import Likeness, Parent

LESSON = folder("sample_projects") / "first_hat_lesson.json"
WORKBOAT = folder("sample_projects") / "eelgrass_workboat.json"
SERVICE = "ten years of lagoon patrols"


def _json(capsys: pytest.CaptureFixture[str], arguments: Sequence[str]) -> tuple[int, Any]:
    status = run([*arguments, "--json"])
    return status, json.loads(capsys.readouterr().out)


@pytest.fixture
def family(tmp_path: Path) -> Path:
    """A boat whose parent is slower and lies beside it."""
    project = load(WORKBOAT)
    craft = replace(project.craft, speed=0.8 * project.craft.speed)
    save(replace(project, name="Old launch", craft=craft), tmp_path / "old.json")
    parent = Parent(
        file="old.json",
        service=SERVICE,
        likenesses=(Likeness(own=project.panels[0].id, parent=project.panels[1].id),),
    )
    save(replace(project, parent=parent), tmp_path / "boat.json")
    return tmp_path / "boat.json"


def test_every_method_judges_and_the_worst_decides_the_exit_status(
    capsys: pytest.CaptureFixture[str],
) -> None:
    status, page = _json(capsys, ["check", str(WORKBOAT), "--no-mechanics", "--method", "all"])
    assert {each["method"] for each in page["methods"]} == set(available())
    alone = [
        run(["check", str(WORKBOAT), "--no-mechanics", "--method", each["method"]])
        for each in page["methods"]
    ]
    capsys.readouterr()
    severity = [0, 3, 1, 2]
    assert status == max(alone, key=severity.index)
    for each in page["methods"]:
        _, one = _json(capsys, ["check", str(WORKBOAT), "--no-mechanics", "--method", each["method"]])
        assert each["findings"] == one["findings"]


def test_every_method_at_once_leaves_solvers_out_and_says_so(capsys: pytest.CaptureFixture[str]) -> None:
    _, page = _json(capsys, ["check", str(LESSON), "--method", "all"])
    kinds = {f["kind"] for each in page["methods"] for f in each["findings"]}
    assert kinds == {"rule", "mechanics"}
    judged = {
        f["aspect"] for each in page["methods"] for f in each["findings"] if f["verdict"] != "not judged"
    }
    assert "ply failure" not in judged
    run(["check", str(LESSON), "--method", "all"])
    assert "Not judged by all methods at once" in capsys.readouterr().out


def test_a_span_alone_says_how_wide_its_plating_works(capsys: pytest.CaptureFixture[str]) -> None:
    span = load(WORKBOAT).spans[0]
    run(["methods", str(WORKBOAT), span.id])
    text = " ".join(capsys.readouterr().out.split())
    assert "By shear lag" in text
    assert text.count("works within the span") >= len(available())


def test_the_page_of_every_method_names_each_and_says_the_exit_status(
    capsys: pytest.CaptureFixture[str],
) -> None:
    status = run(["check", str(WORKBOAT), "--method", "all"])
    page = capsys.readouterr().out
    assert max(map(len, page.splitlines())) <= 100
    assert page.count("Method   ") == len(available())
    assert f"Exit status {status}" in page
    assert page.count("naval architect") == 1


def test_methods_stand_side_by_side_with_words_for_a_named_subject(
    capsys: pytest.CaptureFixture[str],
) -> None:
    project = load(WORKBOAT)
    subject = project.panels[0]
    assert run(["methods", str(WORKBOAT), subject.name]) == 0
    page = capsys.readouterr().out
    assert max(map(len, page.splitlines())) <= 100
    assert f"{subject.name} ({subject.id})" in page
    assert project.panels[1].name not in page
    assert "thickness" in page
    if len(available()) > 1:
        assert "times what ISO 12215-5:2008 form does" in " ".join(page.split())
    assert run(["methods", str(WORKBOAT)]) == 0
    whole = capsys.readouterr().out
    assert all(one.name in whole for one in (*project.panels, *project.spans))
    assert max(map(len, whole.splitlines())) <= 100


def test_json_of_methods_has_parts_that_multiply_to_the_ratio(capsys: pytest.CaptureFixture[str]) -> None:
    status, page = _json(capsys, ["methods", str(WORKBOAT), "--units", "us"])
    assert status == 0
    for subject in page["subjects"]:
        for aspect in subject["aspects"]:
            assert len(aspect["findings"]) == len(page["methods"])
            for each in aspect["differences"]:
                product = 1.0
                for part in each["parts"]:
                    product *= part["factor"]
                assert each["ratio"] is None or product == pytest.approx(each["ratio"])


def test_methods_are_chosen_by_id_and_unknown_ones_said(capsys: pytest.CaptureFixture[str]) -> None:
    _, page = _json(capsys, ["methods", str(WORKBOAT), "--against", "iso_12215_5_2008"])
    assert [each["method"] for each in page["methods"]] == ["iso_12215_5_2008"]
    assert run(["methods", str(WORKBOAT), "--against", "one,two"]) == 2
    said = capsys.readouterr().err
    assert "'one'" in said
    assert "'two'" in said
    assert run(["methods", str(WORKBOAT), "nobody"]) == 2
    assert "nobody" in capsys.readouterr().err


def test_a_named_parent_is_held_beside_every_finding(
    family: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    plain = run(["check", str(WORKBOAT)])
    capsys.readouterr()
    status, page = _json(capsys, ["check", str(family)])
    assert status == plain
    beside = page["parent"]["findings"]
    assert [(f["subject"], f["aspect"]) for f in beside] == [
        (f["subject"], f["aspect"]) for f in page["findings"]
    ]
    project = load(family)
    of_first = [f for f in beside if f["subject"] == project.panels[0].id]
    assert {f["counterpart"] for f in of_first} == {project.panels[1].id}
    thickness = next(f for f in beside if f["subject"] == project.panels[2].id)
    assert thickness["ratio"] > 1
    assert SERVICE in thickness["words"]
    assert any("no rule compliance" in remark for remark in page["parent"]["remarks"])


def test_the_page_tells_the_parent_and_its_service(family: Path, capsys: pytest.CaptureFixture[str]) -> None:
    run(["check", str(family)])
    page = capsys.readouterr().out
    assert max(map(len, page.splitlines())) <= 100
    assert "Relative to the parent boat, Old launch" in page
    assert SERVICE in page
    assert "no rule compliance" in " ".join(page.split())


def test_a_lost_parent_is_said_and_own_findings_stay(
    family: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    plain = run(["check", str(WORKBOAT)])
    own = capsys.readouterr().out
    (family.parent / "old.json").unlink()
    assert run(["check", str(family)]) == plain
    printed = capsys.readouterr()
    assert "parent boat" in printed.err
    assert "old.json" in printed.err
    assert printed.out == own
    _, page = _json(capsys, ["check", str(family)])
    assert list(page["parent"]) == ["problems"]
    assert "old.json" in page["parent"]["problems"][0]["where"]


def test_another_parent_can_be_asked_for_and_must_be_there(
    family: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    _, page = _json(capsys, ["check", str(WORKBOAT), "--parent", str(family.parent / "old.json")])
    assert page["parent"]["project"] == "Old launch"
    assert {f["chosen"] for f in page["parent"]["findings"]} == {"nearest of its kind"}
    assert run(["check", str(WORKBOAT), "--parent", str(family.parent / "gone.json")]) == 2
    assert run(["check", str(WORKBOAT), "--parent", str(WORKBOAT)]) == 2
    assert "its own parent" in capsys.readouterr().err
    assert run(["check", str(WORKBOAT), "--method", "all", "--parent", str(family)]) == 2
