"""``laminate`` of plies with tested coupons: the bound and what the method uses beside the estimate."""

import json
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from stringerlab.cli import run
from stringerlab.data import folder
from stringerlab.files import load, save
from stringerlab.materials import shipped
from stringerlab.materials.records import CouponSet, Property
from stringerlab.project import edits

TENSION = CouponSet(
    property=Property.TENSION_1,
    mean=104.0,
    deviation=4.0,
    count=50,
    glass=0.30,
    standard="ISO 527-4",
    source="report 3 of an invented yard",
)
Saved = Callable[..., str]


@pytest.fixture
def saved(tmp_path: Path) -> Saved:
    """Save the lesson, its first laminate of one own mat with these coupons; return the file."""

    def with_coupons(*coupons: CouponSet) -> str:
        project = load(folder("sample_projects") / "first_hat_lesson.json")
        mat = next(one for one in shipped().reinforcements if one.id == "csm450")
        project = edits.added(project, replace(mat, id="", name="Own mat", coupons=coupons))
        ply = replace(project.laminates[0].plies[-1], material=project.materials.reinforcements[-1].id)
        laminate = replace(project.laminates[0], plies=(ply,))
        path = tmp_path / "tested.json"
        save(edits.replaced(project, laminate), path)
        return str(path)

    return with_coupons


def test_bound_and_the_methods_value_stand_beside_the_estimate(
    saved: Saved, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["laminate", saved(TENSION), "l1", "--units", "metric"]) == 0
    text = capsys.readouterr().out
    [line] = [line.split() for line in text.splitlines() if "tension 1" in line]
    # 104 − 1.646 × 4 = 97.42; 0.9 × 104 = 93.6; 800 · 0.3² − 80 · 0.3 + 37 = 85
    expected = "1 tension 1 104.0 MPa 4.000 MPa 50 1.646 97.42 MPa 93.60 MPa 85.00 MPa"
    assert " ".join(line) == expected
    assert "mean − k·s" in text
    assert "least of 0.9 × mean" in text


def test_the_same_in_json(saved: Saved, capsys: pytest.CaptureFixture[str]) -> None:
    stiff = replace(TENSION, property=Property.MODULUS_1, mean=7000.0, deviation=300.0)
    assert run(["laminate", saved(TENSION, stiff), "l1", "--json"]) == 0
    [ply] = json.loads(capsys.readouterr().out)["plies"]
    tension, modulus = ply["coupons"]
    assert tension["by_rule"] == pytest.approx(97.418, abs=0.002)
    assert tension["by_method"] == pytest.approx(93.6)
    assert (tension["estimate"], tension["method"]) == (85.0, "iso_12215_5_2008")
    assert (modulus["property"], modulus["k"], modulus["by_method"]) == ("E1", None, 7000.0)


def test_a_set_of_one_is_said_not_to_be_used(saved: Saved, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["laminate", saved(replace(TENSION, count=1, deviation=0.0)), "l1"]) == 0
    text = capsys.readouterr().out
    assert "ply 1, tension 1, 1 coupon: not used: one coupon has no deviation" in text


def test_a_bound_below_nought_is_refused(saved: Saved, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["laminate", saved(replace(TENSION, deviation=80.0)), "l1"]) == 2
    assert "is not above 0" in capsys.readouterr().err


def test_a_laminate_without_coupons_says_nothing_of_them(capsys: pytest.CaptureFixture[str]) -> None:
    path = str(folder("sample_projects") / "eelgrass_workboat.json")
    assert run(["laminate", path, "l1"]) == 0
    assert "coupons" not in capsys.readouterr().out
