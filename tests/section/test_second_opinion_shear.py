"""Torsion and shear by sectionproperties: closed forms, our own solution, and what happens when it fails."""

import json
import os
import sys
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from stringerlab.errors import StringerlabError
from stringerlab.laminate import Stack
from stringerlab.section import Plating, SectionShape
from stringerlab.section.other_process import asked
from stringerlab.section.second_opinion import ShearOpinion, shear_opinion
from stringerlab.section.torsion import Region, regions, warping

Lay = Callable[..., Stack]
Sections = dict[str, tuple[SectionShape, Plating | None]]


def box(y: float, z: float, width: float, height: float, *, E: float, G: float, name: str = "w1") -> Region:
    ring = np.array([(y, z), (y + width, z), (y + width, z + height), (y, z + height)], float)
    return Region(owner=name, stroke=-1, low=0.0, high=0.0, E=E, G=G, area=[[ring]])


@pytest.fixture(scope="module")
def square() -> ShearOpinion:
    """A square bar 20 mm wide, E 7 800, G 3 000."""
    return shear_opinion([box(-10, 0, 20, 20, E=7800.0, G=3000.0)], "square", fineness=400)


def test_square_bar_twists_as_saint_venant_found(square: ShearOpinion) -> None:
    series = 0.140577 * 20**4 * 3000  # of the textbooks
    found = square.GJ
    assert found == pytest.approx(series, rel=2e-4)
    assert square.even
    assert square.ratio == pytest.approx(2.6)


def test_square_bar_shears_with_five_sixths_of_its_area(square: ShearOpinion) -> None:
    assert square.GA_y == pytest.approx(5 / 6 * 400 * 3000, rel=1e-3)
    assert square.GA_z == pytest.approx(square.GA_y, rel=1e-3)
    assert (square.y_s, square.z_s) == pytest.approx((0.0, 10.0), abs=1e-3)


def test_its_stresses_balance_the_loads(square: ShearOpinion) -> None:
    mesh = square.stresses
    corners = mesh.points[mesh.triangles]
    one, two = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    area = np.abs(one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0]) / 2
    assert area.sum() == pytest.approx(400.0)
    lever = corners[..., 1].mean(axis=1) - 10.0
    assert (mesh.bending * lever * area).sum() == pytest.approx(1.0, rel=0.01)
    assert (mesh.shear * area).sum() == pytest.approx(1.0, rel=0.01)
    assert mesh.torsion.max() == pytest.approx(1 / (0.208 * 20**3), rel=0.06)  # mean of an edge's triangle


@pytest.mark.parametrize("name", ["hat", "hat on deadrise", "closed box"])
def test_isotropic_sections_agree_with_our_own(name: str, sections: Sections) -> None:
    shape, plating = sections[name]
    ours = warping(shape, plating, size=5.0)
    theirs = shear_opinion(regions(shape, plating), name, fineness=200)
    assert theirs.even
    for quantity in ("GJ", "GA_y", "GA_z"):
        assert getattr(theirs, quantity) == pytest.approx(getattr(ours, quantity), rel=0.005), quantity
    size = float(np.trace(ours.EI) / ours.EA) ** 0.5
    assert theirs.y_s == pytest.approx(ours.y_s, abs=0.005 * size)
    assert theirs.z_s == pytest.approx(ours.z_s, abs=0.005 * size)


def test_torsion_goes_by_g_whatever_e_is() -> None:
    halves = [box(0, 0, 30, 4, E=14000.0, G=3000.0), box(0, 4, 30, 4, E=5000.0, G=3000.0, name="w2")]
    found = shear_opinion(halves, "two halves", fineness=150)
    alone = shear_opinion([box(0, 0, 30, 8, E=9500.0, G=3000.0)], "one", fineness=150)
    assert abs(found.GJ / alone.GJ - 1) < 1e-3
    assert not found.even
    assert (found.least_ratio, found.greatest_ratio) == pytest.approx((5 / 3, 14 / 3))


def test_regions_that_overlap_are_refused() -> None:
    with pytest.raises(StringerlabError, match=r"doubled: Its polygons overlap by 40 mm²"):
        shear_opinion(
            [box(0, 0, 20, 4, E=7000.0, G=2700.0), box(10, 0, 20, 4, E=7000.0, G=2700.0)], "doubled"
        )


def test_a_mesh_that_is_too_large_is_refused_with_its_size() -> None:
    with pytest.raises(StringerlabError, match=r"about 8e\+04 triangles; 40000 are too many") as refused:
        shear_opinion([box(0, 0, 2000, 0.05, E=7000.0, G=2700.0)], "foil", fineness=100)
    assert refused.value.problems[0].remedy


def test_parts_apart_are_a_message() -> None:
    apart = [box(0, 0, 20, 4, E=7000.0, G=2700.0), box(50, 0, 20, 4, E=7000.0, G=2700.0)]
    with pytest.raises(StringerlabError, match=r"status 1: RuntimeError: its parts do not touch"):
        shear_opinion(apart, "apart", fineness=50)


class Enough(Exception):  # noqa: N818
    """Nobody waits any more."""


def test_a_process_nobody_waits_for_is_killed(tmp_path: Path) -> None:
    told = tmp_path / "pid"
    program = (
        f"import os, pathlib, time; p = pathlib.Path({str(told)!r}); q = p.with_suffix('.x'); "
        "q.write_text(str(os.getpid())); q.rename(p); time.sleep(60)"
    )

    def watch(_: float, __: str) -> None:
        if told.exists():
            raise Enough

    with pytest.raises(Enough):
        asked([sys.executable, "-c", program], "", 30.0, "section 'x'", watch)
    with pytest.raises(ProcessLookupError):
        os.kill(int(told.read_text()), 0)


def test_progress_is_told_as_part_of_the_time() -> None:
    heard: list[float] = []
    said = asked(
        [sys.executable, "-c", "import time; time.sleep(0.35); print('done')"],
        "",
        10.0,
        "section 'x'",
        lambda fraction, _: heard.append(fraction),
    )
    assert said.strip() == "done"
    assert len(heard) >= 2
    assert heard == sorted(heard)
    assert heard[-1] < 0.9


@pytest.mark.parametrize("answer", ["", "[]", "{}", json.dumps({"GJ": "much"})])
def test_garbage_is_refused(answer: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("stringerlab.section.second_opinion.asked", lambda *_: answer)
    with pytest.raises(StringerlabError, match=r"not a list of numbers"):
        shear_opinion([box(0, 0, 20, 4, E=7000.0, G=2700.0)], "bar")
