"""``sensitivity`` from the command line: steps that help, one subject, bad input."""

import json

import pytest

from stringerlab.cli import run
from stringerlab.data import folder

LESSON = str(folder("sample_projects") / "first_hat_lesson.json")
ALONE = "--no-mechanics"


def test_steps_are_printed_by_what_they_take_off(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["sensitivity", LESSON, ALONE]) == 0
    text = capsys.readouterr().out
    assert max(map(len, text.splitlines())) <= 100
    for words in ("steps tried", "Bottom panel, ply strength (rule): 0.94", "One more layer", " lb"):
        assert words in text


def test_json_has_every_step_in_kg_the_most_helpful_first(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["sensitivity", LESSON, ALONE, "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    (finding,) = found["findings"]
    uses = [step["utilisation"] for step in finding["steps"]]
    assert uses == sorted(uses)
    for step in finding["steps"]:
        assert step["utilisation"] - finding["utilisation"] == pytest.approx(step["change"], abs=1e-12)
        assert step["mass"]["unit"] == "kg"


def test_one_subject_alone(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["sensitivity", LESSON, "Bottom panel", ALONE]) == 0
    assert "Bottom panel, ply strength" in capsys.readouterr().out
    assert run(["sensitivity", LESSON, "Stringer between bulkheads", ALONE]) == 2
    assert "None of its findings is short or tight." in capsys.readouterr().err
    assert run(["sensitivity", LESSON, "Top panel", ALONE]) == 2
    assert "No panel or span is called 'Top panel'." in capsys.readouterr().err
