"""What the shop measured in place of what was drawn up, and everything that can be wrong with it."""

from dataclasses import replace
from math import cos, radians

import pytest

from stringerlab.data import folder
from stringerlab.errors import StringerlabError
from stringerlab.files import dumps, load
from stringerlab.files.codec import loads
from stringerlab.laminate import resolve, thickness
from stringerlab.layout.as_built import AsBuilt, LaminateAsBuilt, PlyAsBuilt, SectionAsBuilt
from stringerlab.materials import Book
from stringerlab.materials.records import Reinforcement
from stringerlab.project import Project, problems
from stringerlab.project.as_built import as_built, as_built_problems
from stringerlab.project.measuring import (
    measured_bead,
    measured_laminate,
    measured_ply,
    with_bead_measured,
    with_laminate_measured,
    with_ply_measured,
    without_measurements,
)
from stringerlab.project.problems import book_of

WORKBOAT = folder("sample_projects") / "eelgrass_workboat.json"
HULL, STRINGER, FLOOR = "l1", "s5", "s7"


@pytest.fixture(scope="module")
def boat() -> Project:
    return load(WORKBOAT)


@pytest.fixture(scope="module")
def book(boat: Project) -> Book:
    return book_of(boat)


def hull(project: Project, book: Book) -> float:
    """Thickness of the bottom's laminate."""
    return thickness(resolve(project.laminates[0], book))


def said(project: Project, measured: AsBuilt, book: Book) -> list[str]:
    found = as_built_problems(replace(project, as_built=measured), book)
    return [f"{problem.where}: {problem.what}" for problem in found]


def test_nothing_measured_is_the_project_itself(boat: Project, book: Book) -> None:
    assert as_built(boat, book) is boat
    assert as_built(replace(boat, as_built=AsBuilt()), book) == boat


def test_a_missing_ply_is_left_out(boat: Project, book: Book) -> None:
    built = as_built(with_ply_measured(boat, HULL, PlyAsBuilt(ply=3, missing=True)), book)
    before, after = boat.laminates[0].plies, built.laminates[0].plies
    assert after == before[:2] + before[3:]
    assert built.laminates[1:] == boat.laminates[1:]
    assert built.as_built is None


def test_a_measured_ply_has_its_thickness_and_glass(boat: Project, book: Book) -> None:
    measured = PlyAsBuilt(ply=2, thickness=1.3, glass=0.27)
    built = as_built(with_ply_measured(boat, HULL, measured), book)
    assert built.laminates[0].plies[1] == replace(boat.laminates[0].plies[1], thickness=1.3, glass=0.27)


def test_the_whole_thickness_is_met_and_shared_in_proportion(boat: Project, book: Book) -> None:
    project = with_laminate_measured(boat, LaminateAsBuilt(laminate=HULL, thickness=9.0))
    built = as_built(project, book)
    assert hull(built, book) == pytest.approx(9.0, rel=1e-12)
    drawn, laid = (resolve(one.laminates[0], book) for one in (boat, built))
    parts = [
        b.thickness / a.thickness
        for a, b in zip(drawn.plies, laid.plies, strict=True)
        if a.role == "reinforced"
    ]
    assert parts == pytest.approx([parts[0]] * len(parts))


def test_the_whole_less_a_missing_and_a_measured_ply(boat: Project, book: Book) -> None:
    measured = LaminateAsBuilt(
        laminate=HULL,
        thickness=8.0,
        glass=0.4,
        plies=(PlyAsBuilt(ply=2, thickness=1.5), PlyAsBuilt(ply=4, missing=True)),
    )
    built = as_built(with_laminate_measured(boat, measured), book)
    plies = built.laminates[0].plies
    assert hull(built, book) == pytest.approx(8.0, rel=1e-12)
    assert plies[1].thickness == 1.5
    assert len(plies) == len(boat.laminates[0].plies) - 1
    for ply in plies:
        assert ply.glass == (0.4 if isinstance(book.find(ply.material), Reinforcement) else None)


def test_a_part_stands_on_its_measured_bead(boat: Project, book: Book) -> None:
    drawn = boat.sections[0]
    built = as_built(with_bead_measured(boat, STRINGER, drawn.bead + 6.0), book).sections[0]
    slope = drawn.reference.deadrise if drawn.reference else 0.0
    rise = 6.0 / cos(radians(slope))
    assert built.bead == drawn.bead + 6.0
    for before, after in zip(drawn.walls, built.walls, strict=True):
        assert [z for _, z in after.points] == pytest.approx([z + rise for _, z in before.points])
        assert [y for y, _ in after.points] == [y for y, _ in before.points]


def test_everything_wrong_is_listed_at_once(boat: Project, book: Book) -> None:
    count = len(boat.laminates[0].plies)
    wrong = AsBuilt(
        laminates=(
            LaminateAsBuilt(
                laminate=HULL,
                thickness=-2.0,
                plies=(
                    PlyAsBuilt(ply=2, thickness=-1.0),
                    PlyAsBuilt(ply=count + 1, missing=True),
                    PlyAsBuilt(ply=3, glass=0.95),
                    PlyAsBuilt(ply=4, missing=True, glass=0.4),
                    PlyAsBuilt(ply=1, glass=0.3),
                ),
            ),
            LaminateAsBuilt(laminate="l99", glass=0.4),
        ),
        sections=(SectionAsBuilt(section=STRINGER, bead=-3.0), SectionAsBuilt(section=FLOOR, bead=3.0)),
    )
    found = said(boat, wrong, book)
    for words in (
        "(l1), thickness",
        "ply 2, thickness",
        f"ply {count + 1}: is said to be missing, but it is not there",
        "ply 3, glass",
        "ply 4: is missing and measured at once",
        "ply 1: has no glass to measure",
        "there is no laminate 'l99'",
        "(s5), bead",
        "is laminated in place: it has no bead",
    ):
        assert sum(words in one for one in found) == 1, words
    assert len(found) == 9
    with pytest.raises(StringerlabError) as refused:
        as_built(replace(boat, as_built=wrong), book)
    assert len(refused.value.problems) == 9
    assert set(refused.value.problems) <= set(problems(replace(boat, as_built=wrong)))


def test_every_ply_missing_or_measured_twice(boat: Project, book: Book) -> None:
    none = tuple(PlyAsBuilt(ply=n + 1, missing=True) for n in range(len(boat.laminates[0].plies)))
    found = said(boat, AsBuilt(laminates=(LaminateAsBuilt(laminate=HULL, plies=none),)), book)
    assert len(found) == 1
    assert "every ply is missing" in found[0]
    twice = LaminateAsBuilt(laminate=HULL, plies=(PlyAsBuilt(ply=2, glass=0.3), PlyAsBuilt(ply=2, glass=0.4)))
    found = said(boat, AsBuilt(laminates=(twice, twice)), book)
    assert any("laminate 'l1' is measured twice" in one for one in found)
    assert any("ply 2 is measured twice" in one for one in found)


def test_a_whole_thinner_than_what_is_measured_of_it(boat: Project, book: Book) -> None:
    thin = LaminateAsBuilt(laminate=HULL, thickness=1.0, plies=(PlyAsBuilt(ply=2, thickness=1.5),))
    (found,) = said(boat, AsBuilt(laminates=(thin,)), book)
    assert "are used up by what has a thickness of its own, 1.5 mm" in found


def test_a_thickness_below_the_dry_fibres_is_refused(boat: Project, book: Book) -> None:
    project = with_laminate_measured(boat, LaminateAsBuilt(laminate=HULL, thickness=0.5))
    built = as_built(project, book)
    with pytest.raises(StringerlabError, match="less than its dry fibre's alone"):
        resolve(built.laminates[0], book)


def test_edits_keep_one_record_and_leave_nothing_empty(boat: Project) -> None:
    project = with_ply_measured(boat, HULL, PlyAsBuilt(ply=5, glass=0.35))
    project = with_ply_measured(project, HULL, PlyAsBuilt(ply=2, thickness=0.8))
    project = with_ply_measured(project, HULL, PlyAsBuilt(ply=5, glass=0.36))
    assert measured_laminate(project, HULL).plies == (
        PlyAsBuilt(ply=2, thickness=0.8),
        PlyAsBuilt(ply=5, glass=0.36),
    )
    assert measured_ply(project, HULL, 5).glass == 0.36
    project = with_bead_measured(project, STRINGER, 7.0)
    assert measured_bead(project, STRINGER) == 7.0
    assert loads(dumps(project)) == project
    assert without_measurements(project) == boat
    for ply in (2, 5):
        project = with_ply_measured(project, HULL, PlyAsBuilt(ply=ply))
    assert with_bead_measured(project, STRINGER, None) == boat


def test_edits_refuse_what_is_not_there(boat: Project) -> None:
    with pytest.raises(StringerlabError, match="no laminate 'l99'"):
        with_ply_measured(boat, "l99", PlyAsBuilt(ply=1, glass=0.3))
    with pytest.raises(StringerlabError, match="no section 's99'"):
        with_bead_measured(boat, "s99", 3.0)
