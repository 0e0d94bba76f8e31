"""``stringerlab section FILE ID --second-opinion``."""

import json
from collections.abc import Iterator, Sequence

import pytest

from stringerlab.cli import run
from stringerlab.data import folder
from stringerlab.section.other_process import Watch, asked

LESSON = str(folder("sample_projects") / "first_hat_lesson.json")


@pytest.fixture(scope="module", autouse=True)
def each_question_asked_once() -> Iterator[None]:
    """Have the other library answer the same question once: that takes seconds."""
    answers: dict[tuple[str, float], str] = {}

    def once(command: Sequence[str], given: str, limit: float, where: str, watch: Watch | None = None) -> str:
        if (given, limit) not in answers:
            answers[given, limit] = asked(command, given, limit, where, watch)
        return answers[given, limit]

    with pytest.MonkeyPatch.context() as patched:
        patched.setattr("stringerlab.section.second_opinion.asked", once)
        yield


def test_both_stand_side_by_side_in_json(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["section", LESSON, "Hat stringer", "--second-opinion", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    rows = {row["key"]: row for row in found["rows"]}
    assert rows["EI_y"]["unit"] == "N·mm²"
    assert rows["EI_y"]["theirs"] == pytest.approx(rows["EI_y"]["ours"], rel=1e-9)
    assert rows["GJ"]["theirs"] == pytest.approx(rows["GJ"]["ours"], rel=0.01)
    assert "weights shear by E" in rows["GA_z"]["why"]
    assert found["library"] == "sectionproperties"
    assert found["triangles"] > 500


def test_a_page_says_why_the_two_differ(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["section", LESSON, "Hat stringer", "--second-opinion"]) == 0
    said = capsys.readouterr().out
    assert "Shear stiffness along z" in said
    assert "weights shear by E" in said.replace("\n", " ")
    assert max(map(len, said.splitlines())) <= 100


@pytest.mark.parametrize(
    ("limit", "told"), [("0", "0.0 s is no time"), ("nan", "nan s is no time"), ("0.05", "was stopped")]
)
def test_bad_limits_and_a_process_out_of_time(
    limit: str, told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["section", LESSON, "Hat stringer", "--second-opinion", "--limit", limit]) == 2
    assert told in capsys.readouterr().err
