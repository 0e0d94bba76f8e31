"""Panels and spans that take their plating from the hull's zones; pans lying on the hull."""

from dataclasses import replace

import pytest

from stringerlab import data
from stringerlab.assess import check
from stringerlab.desktop.finding_place import drawn_place
from stringerlab.errors import StringerlabError
from stringerlab.files import load
from stringerlab.laminate import thickness
from stringerlab.layout import LyingPan, Zone
from stringerlab.methods import Aspect
from stringerlab.project import Project, problems, resolve
from stringerlab.project.edits import added, removed


@pytest.fixture
def workboat() -> Project:
    return load(data.folder("sample_projects") / "eelgrass_workboat.json")


def zoned(project: Project, *zones: Zone) -> Project:
    """Return the project with zones, its first panel and span taking their plating by place."""
    for zone in zones:
        project = added(project, zone)
    panel, span = project.panels[0], project.spans[0]
    return replace(
        project,
        panels=(replace(panel, laminate=""), *project.panels[1:]),
        spans=(replace(span, plating=""), *project.spans[1:]),
    )


def everywhere(project: Project, laminate: str, **values: object) -> Zone:
    zone = Zone(id="", name="all over", laminate=laminate, aft=-1000, forward=20_000)
    return replace(zone, **values)  # pyright: ignore[reportArgumentType]


def test_plating_by_place_counts_as_if_the_laminate_were_named(workboat: Project) -> None:
    panel, span = workboat.panels[0], workboat.spans[0]
    assert panel.laminate == span.plating
    placed = zoned(workboat, everywhere(workboat, panel.laminate))
    named = {(one.subject, one.aspect): one.utilisation for one in check(workboat).findings}
    by_place = {(one.subject, one.aspect): one for one in check(placed).findings}
    assert problems(placed) == ()
    assert {key: one.utilisation for key, one in by_place.items()} == named
    assert "plating by place, at its middle: all over" in by_place[panel.id, Aspect.PLY_STRENGTH].notes


def test_no_zone_there_is_said_and_blocks_only_what_needs_it(workboat: Project) -> None:
    placed = zoned(workboat, everywhere(workboat, workboat.panels[0].laminate, aft=-4000, forward=-3000))
    resolved = resolve(placed)
    assert set(resolved.blocked) == {placed.panels[0].id, placed.spans[0].id}
    assert all("no zone of the bottom lies at x" in problem.what for problem in resolved.problems)


def test_a_zone_bounded_in_breadth_asks_for_y(workboat: Project) -> None:
    placed = zoned(workboat, everywhere(workboat, workboat.panels[0].laminate, outboard=600))
    assert [problem.what for problem in problems(placed)] == [
        "It names no laminate and has no y, without which zone 'all over' cannot tell."
    ] * 2
    there = replace(placed, panels=(replace(placed.panels[0], y=400.0), *placed.panels[1:]))
    assert [problem.where.split(" ")[0] for problem in problems(there)] == ["span"]


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({"aft": 5000, "forward": 4000}, "It runs from x 5000 to 4000 mm."),
        ({"aft": 0, "forward": 100, "taper": 60}, "Its tapers of 60 mm are more than half of its length."),
        ({"inboard": 500, "outboard": 400}, "It runs from y 500 to 400 mm."),
    ],
)
def test_a_zone_that_cannot_be_is_said(workboat: Project, values: dict[str, float], words: str) -> None:
    placed = added(workboat, everywhere(workboat, workboat.panels[0].laminate, **values))
    assert words in [problem.what for problem in problems(placed)]


def test_gel_coat_over_another_zone_is_said(workboat: Project) -> None:
    outer = workboat.panels[0].laminate
    placed = added(added(workboat, everywhere(workboat, outer)), everywhere(workboat, outer, name="again"))
    assert [problem.what for problem in problems(placed)] == [
        "Its laminate begins with gel coat, but it lies over zone 'all over'."
    ]


def test_a_laminate_that_a_zone_needs_cannot_be_removed(workboat: Project) -> None:
    placed = added(workboat, everywhere(workboat, workboat.panels[0].laminate))
    with pytest.raises(StringerlabError, match="zone 'all over'"):
        removed(placed, workboat.panels[0].laminate)


def test_a_zone_ending_within_a_panel_is_asked_about(workboat: Project) -> None:
    panel = workboat.panels[0]
    zone = everywhere(workboat, panel.laminate, forward=panel.x + panel.l / 4)
    asked = resolve(zoned(workboat, zone)).doubts
    assert [problem.what for problem in asked if panel.id in problem.where] == [
        f"A zone ends at x {zone.forward:g} mm, maybe within it; what lies at its middle is counted."
    ]


def test_a_pan_on_the_hull_counts_only_where_it_is_marked_fully_bonded(workboat: Project) -> None:
    panel = workboat.panels[0]
    pan = workboat.sections[0].walls[0].laminate

    def with_pan(bonded: bool) -> Project:
        lying = LyingPan(laminate=pan, fully_bonded=bonded, voids=0.25)
        return replace(workboat, panels=(replace(panel, pan=lying), *workboat.panels[1:]))

    bare, loose, bonded = resolve(workboat), resolve(with_pan(False)), resolve(with_pan(True))
    gain = thickness(bonded.panels[0].stack) - thickness(bare.panels[0].stack)
    assert thickness(loose.panels[0].stack) == thickness(bare.panels[0].stack)
    assert gain == pytest.approx(0.75 * thickness(bare.stacks[pan]))
    use = {
        state: {one.aspect: one for one in check(with_pan(state)).findings if one.subject == panel.id}
        for state in (False, True)
    }
    assert use[True][Aspect.PLY_STRENGTH].utilisation < use[False][Aspect.PLY_STRENGTH].utilisation  # type: ignore[operator]
    assert use[True][Aspect.DRY_MASS].capacity == use[False][Aspect.DRY_MASS].capacity
    assert any("not marked fully bonded" in note for note in use[False][Aspect.THICKNESS].notes)
    assert any("less 25 % for voids" in note for note in use[True][Aspect.THICKNESS].notes)


def test_what_governs_a_panel_plated_by_place_is_found_in_its_zone(workboat: Project) -> None:
    panel = workboat.panels[0]
    strip = workboat.sections[0].walls[0].laminate
    bare = replace(
        next(one for one in workboat.laminates if one.id == strip),
        plies=next(one for one in workboat.laminates if one.id == strip).plies[1:],
    )
    project = replace(
        workboat, laminates=tuple(bare if one.id == strip else one for one in workboat.laminates)
    )
    placed = zoned(project, everywhere(project, panel.laminate), everywhere(project, strip, name="strip"))
    resolved = resolve(placed)
    found = [
        drawn_place(one, placed, resolved)
        for one in check(placed).findings
        if one.subject == panel.id and one.aspect is Aspect.PLY_STRENGTH
    ]
    assert found
    assert all(place.split("/")[0] in (panel.laminate, strip) and "/" in place for place in found)
