"""Sections begun from the catalogue of shapes: sound as begun, redrawn with their ids, refused as a whole."""

from dataclasses import replace
from itertools import pairwise

import pytest

from stringerlab import data
from stringerlab.assess import check, live_section
from stringerlab.errors import StringerlabError
from stringerlab.files import dumps, load, loads
from stringerlab.project import Project, edits, problems, resolve
from stringerlab.project.again import resolved_again
from stringerlab.project.beginning import new_boat
from stringerlab.project.drafting_starters import StarterParameters, begun, is_still, with_starter
from stringerlab.section import OnHull, Reference, Section
from stringerlab.section.shapes import STARTERS

NAMES = [shape.id for shape in STARTERS]


@pytest.fixture
def boat() -> Project:
    return new_boat()


def added(boat: Project, name: str, deadrise: float = 0.0) -> tuple[Project, Section, StarterParameters]:
    bottom, stringer = (laminate.id for laminate in boat.laminates)
    parameters = begun(boat, name, stringer, deadrise)
    reference = Reference(laminate=bottom, width=240, deadrise=deadrise)
    grown = with_starter(boat, None, parameters, bead=3.0, reference=reference)
    return grown, grown.sections[-1], parameters


@pytest.mark.parametrize("name", NAMES)
def test_a_shape_is_begun_without_typing_and_read_again_from_a_file(name: str, boat: Project) -> None:
    grown, section, parameters = added(boat, name)
    resolved = resolve(grown)
    assert resolved.problems == ()
    assert resolved.repairs == ()
    assert is_still(grown, section, parameters)
    ids = [part.id for each in grown.sections for part in (*each.walls, *each.fills)]
    assert len(set(ids)) == len(ids)
    assert {id_ for pair in section.laps for id_ in pair} <= {wall.id for wall in section.walls}
    again = loads(dumps(grown))
    assert again.sections[-1] == section
    assert live_section(grown, resolved, section.id).properties is not None


@pytest.mark.parametrize("name", NAMES)
def test_a_changed_size_redraws_the_section_and_its_parts_keep_their_ids(name: str, boat: Project) -> None:
    grown, section, parameters = added(boat, name)
    key = "depth" if "depth" in parameters.sizes else "height"
    taller = replace(parameters, sizes={**parameters.sizes, key: parameters.sizes[key] + 25})
    changed = with_starter(grown, section.id, taller)
    now = changed.sections[-1]
    assert [wall.id for wall in now.walls] == [wall.id for wall in section.walls]
    assert [fill.id for fill in now.fills] == [fill.id for fill in section.fills]
    assert now.laps == section.laps
    assert not is_still(changed, now, parameters)
    assert is_still(changed, now, taller)
    assert with_starter(changed, section.id, parameters).sections[-1] == section
    assert resolve(changed).repairs == ()


def test_more_coats_are_more_walls_with_laps_of_their_own(boat: Project) -> None:
    grown, section, parameters = added(boat, "low_profile_hat")
    changed = with_starter(
        grown, section.id, replace(parameters, sizes={**parameters.sizes, "cap_coats": 3.0})
    )
    now = changed.sections[-1]
    assert [wall.id for wall in now.walls][:3] == [wall.id for wall in section.walls]
    assert len(now.walls) == 4
    ids = [wall.id for wall in now.walls]
    assert now.laps == tuple(pairwise(ids))
    fewer = with_starter(
        changed, section.id, replace(parameters, sizes={**parameters.sizes, "cap_coats": 0.0})
    )
    assert len(fewer.sections[-1].walls) == 1
    assert fewer.sections[-1].laps == ()


def test_a_shape_takes_the_place_of_what_was_drawn(boat: Project) -> None:
    section = boat.sections[0]
    parameters = begun(boat, "grid_pan", boat.laminates[1].id)
    changed = with_starter(boat, section.id, parameters)
    assert changed.sections[0].name == section.name
    assert changed.sections[0].walls[0].id == section.walls[0].id
    assert is_still(changed, changed.sections[0], parameters)


def test_what_is_drawn_by_hand_is_no_longer_the_shape(boat: Project) -> None:
    grown, section, parameters = added(boat, "knee")
    wall = section.walls[0]
    (y, z), *rest = wall.points
    moved = edits.replaced(grown, replace(wall, points=((y - 5, z), *rest)))
    assert not is_still(moved, moved.sections[-1], parameters)
    named = edits.renamed(grown, wall.id, "port half")
    assert is_still(named, named.sections[-1], parameters)


def test_marks_of_a_pan_outlive_its_redrawing(boat: Project) -> None:
    grown, section, parameters = added(boat, "pan_on_hull")
    mark = OnHull(fully_bonded=True, voids=0.2)
    marked = edits.replaced(grown, replace(section.walls[1], on_hull=mark))
    assert is_still(marked, marked.sections[-1], parameters)
    wider = replace(parameters, sizes={**parameters.sizes, "pan_width": 150.0})
    now = with_starter(marked, section.id, wider).sections[-1]
    assert now.walls[1].on_hull == mark
    assert now.walls[2].on_hull == OnHull()


def test_all_that_is_missing_or_impossible_is_said_at_once(boat: Project) -> None:
    parameters = begun(boat, "engine_bed", boat.laminates[1].id)
    lost = replace(
        parameters,
        laminates={"laminate": "l77", "cover": "l78"},
        solids={"block": "unobtainium", "putty": "putty"},
    )
    with pytest.raises(StringerlabError) as caught:
        with_starter(boat, None, lost, name="Bed")
    said = "\n".join(map(str, caught.value.problems))
    assert len(caught.value.problems) == 3
    assert all(word in said for word in ("l77", "l78", "unobtainium", "section 'Bed'"))
    with pytest.raises(StringerlabError) as caught:
        with_starter(
            boat, None, replace(parameters, sizes={**parameters.sizes, "height": -1.0, "draft": 70.0})
        )
    assert [problem.where for problem in caught.value.problems] == [
        "section 'Engine bed with block', height",
        "section 'Engine bed with block', draft",
    ]


def test_a_shape_square_to_the_skin_is_not_drawn_on_a_slope(boat: Project) -> None:
    with pytest.raises(StringerlabError, match="drawn square to the skin, this section at 12°"):
        added(boat, "keel_girder", deadrise=12.0)
    with pytest.raises(StringerlabError, match="no starting shape 'arch'"):
        begun(boat, "arch", boat.laminates[1].id)


def of_span(boat: Project, section: str) -> Project:
    return replace(boat, spans=(replace(boat.spans[0], section=section), *boat.spans[1:]))


def marked(boat: Project, section: Section, mark: OnHull | None) -> Project:
    for wall in section.walls[1:]:
        boat = edits.replaced(boat, replace(wall, on_hull=mark))
    return boat


def test_findings_say_that_a_pan_is_not_counted_and_count_it_once_bonded(boat: Project) -> None:
    grown, section, _ = added(boat, "pan_on_hull")
    loose = of_span(grown, section.id)
    bonded = marked(loose, section, OnHull(fully_bonded=True, voids=0.1))
    free = marked(loose, section, None)
    projects = {"loose": loose, "bonded": bonded, "free": free}
    found = {
        name: next(one for one in check(project).findings if one.subject == project.spans[0].id)
        for name, project in projects.items()
    }
    assert "pan on hull not counted: left pan is not marked fully bonded" in found["loose"].notes
    assert any("counted at 90 %" in note for note in found["bonded"].notes)
    assert not any("pan on hull" in note for note in found["free"].notes)
    stiff: dict[str, float] = {}
    for name, project in projects.items():
        found_there = live_section(project, resolve(project), section.id).properties
        assert found_there is not None
        stiff[name] = found_there.EA
    assert stiff["loose"] < stiff["bonded"] < stiff["free"]
    assert stiff["bonded"] == pytest.approx(0.1 * stiff["loose"] + 0.9 * stiff["free"], rel=1e-12)


def test_a_drag_counts_a_pan_as_a_whole_check_does(boat: Project) -> None:
    grown, section, _ = added(boat, "pan_on_hull")
    before = marked(of_span(grown, section.id), section, OnHull(fully_bonded=True, voids=0.3))
    resolved = resolve(before)
    hat = before.sections[-1].walls[0]
    dragged = edits.replaced(
        before, replace(hat, points=tuple((y, z + 0.4 * (z > 50)) for y, z in hat.points))
    )
    fast, slow = resolved_again(dragged, before, resolved), resolve(dragged)
    assert fast.shapes[section.id] == slow.shapes[section.id]
    assert [wall.counted for wall in fast.shapes[section.id].walls] == [1.0, 0.7, 0.7]
    unmarked = marked(dragged, dragged.sections[-1], OnHull())
    fast = resolved_again(unmarked, dragged, slow)
    assert [wall.counted for wall in fast.shapes[section.id].walls] == [1.0, 0.0, 0.0]
    assert fast.spans[0].notes == resolve(unmarked).spans[0].notes


def test_a_marked_wall_off_the_hull_is_a_problem_that_blocks_its_spans(boat: Project) -> None:
    grown, section, _ = added(boat, "pan_on_hull")
    there = of_span(grown, section.id)
    assert problems(there) == ()
    pan = section.walls[1]
    lifted = edits.replaced(there, replace(pan, points=tuple((y, z + 12) for y, z in pan.points)))
    (problem,) = problems(lifted)
    assert "marked as lying on the hull" in problem.what
    assert pan.id in problem.where
    assert "section" in problem.where
    assert there.spans[0].id in resolve(lifted).blocked
    again = resolved_again(lifted, there, resolve(there))
    assert again.problems == (problem,)


def test_samples_have_no_starting_shape_to_mistake(boat: Project) -> None:
    sample = load(data.folder("sample_projects") / "eelgrass_workboat.json")
    parameters = begun(boat, "knee", boat.laminates[1].id)
    assert not any(is_still(boat, section, parameters) for section in sample.sections)
