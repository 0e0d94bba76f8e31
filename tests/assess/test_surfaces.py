"""Panels and spans of several surfaces in one project: one batch each, findings in the file's order."""

from collections import Counter
from dataclasses import replace

import numpy as np
import pytest

from stringerlab.assess import check
from stringerlab.assess.pressures import DesignArea, Mode, pressure_along, subject_pressures
from stringerlab.cli.check_command import as_json, page
from stringerlab.data import folder
from stringerlab.errors import StringerlabError
from stringerlab.files import load
from stringerlab.laminate import Laminate, Ply
from stringerlab.layout import Surface
from stringerlab.methods import Aspect, Finding, FindingKind
from stringerlab.project import Project, resolve
from stringerlab.units import System
from stringerlab.workings.recording import row_of

ORDER = (Surface.TANK, Surface.BOTTOM, Surface.DECK, Surface.SIDE, Surface.BULKHEAD, Surface.BOTTOM)
DECK = 900.0


@pytest.fixture(scope="module")
def mixed() -> Project:
    """The workboat with a single-skin and a sandwich panel and a span of each surface, out of order."""
    boat = load(folder("sample_projects") / "eelgrass_workboat.json")
    panel, span = boat.panels[0], boat.spans[0]
    single = next(each for each in boat.laminates if each.id == panel.laminate)
    cored = Laminate(
        id="l90",
        name="Cored",
        plies=(*single.plies, Ply(material="pvc80", thickness=20.0), *single.plies[1:5]),
    )
    place = {"height": 300.0, "head": 1200.0}
    panels = tuple(
        replace(
            panel,
            id=f"p{100 + number}",
            name=f"Panel {number}",
            surface=ORDER[number % 6],
            laminate=(single.id, cored.id)[number // 6],
            **place,
        )
        for number in range(12)
    )
    spans = tuple(
        replace(span, id=f"m{100 + number}", name=f"Span {number}", surface=surface, **place)
        for number, surface in enumerate(ORDER)
    )
    return replace(
        boat,
        craft=replace(boat.craft, deck_height=DECK),
        laminates=(*boat.laminates, cored),
        panels=panels,
        spans=spans,
    )


@pytest.mark.parametrize("method", ["iso_12215_5_2008", "iso_12215_5_2019"])
def test_findings_stand_in_the_files_order(mixed: Project, method: str) -> None:
    results = check(mixed, method)
    assert results.problems == ()
    subjects = [each.id for each in (*mixed.panels, *mixed.spans)]
    assert list(dict.fromkeys(finding.subject for finding in results.findings)) == subjects


def test_each_surface_and_kind_is_one_batch(mixed: Project) -> None:
    surfaces = {each.id: each.surface for each in (*mixed.panels, *mixed.spans)}
    batches: dict[int, set[tuple[FindingKind, Surface, str, str]]] = {}
    for finding in check(mixed).findings:
        if finding.subject in surfaces and finding.recording is not None:
            laminate = next((panel.laminate for panel in mixed.panels if panel.id == finding.subject), "")
            kind = (finding.kind, surfaces[finding.subject], finding.subject[0], laminate)
            batches.setdefault(id(finding.recording), set()).add(kind)
    assert all(len(kinds) == 1 for kinds in batches.values())
    assert len(batches) == len({kind for kinds in batches.values() for kind in kinds})


def test_each_subject_is_judged_as_it_is_alone(mixed: Project) -> None:
    together: dict[str, list[Finding]] = {}
    for finding in check(mixed).findings:
        together.setdefault(finding.subject, []).append(finding)
    for panel in mixed.panels[:6]:
        alone = check(replace(mixed, panels=(panel,), spans=())).findings
        there = [np.nan if f.utilisation is None else f.utilisation for f in together[panel.id]]
        here = [np.nan if f.utilisation is None else f.utilisation for f in alone]
        assert here == pytest.approx(there, rel=1e-12, nan_ok=True)
        assert [f.notes for f in alone] == [f.notes for f in together[panel.id]]


def test_terminal_names_the_surface_where_it_is_not_the_bottom(mixed: Project) -> None:
    lines = page(check(mixed), System.METRIC)
    for subject in (*mixed.panels, *mixed.spans):
        heading = f"{subject.name} ({subject.id})"
        surface = "" if subject.surface is Surface.BOTTOM else f", {subject.surface.value}"
        assert heading + surface in lines
    found = as_json(check(mixed))["findings"]
    assert {entry["subject"]: entry["surface"] for entry in found} == {
        each.id: each.surface.value for each in (*mixed.panels, *mixed.spans)
    }


def test_side_of_a_craft_without_deck_height_is_not_judged_and_says_so(mixed: Project) -> None:
    low = replace(mixed, craft=replace(mixed.craft, deck_height=None))
    sides = {each.id for each in (*mixed.panels, *mixed.spans) if each.surface is Surface.SIDE}
    under_load = {Aspect.THICKNESS, Aspect.OUTER_SKIN, Aspect.MODULUS}
    said = Counter(
        finding.notes[0]
        for finding in check(low).findings
        if finding.subject in sides and finding.aspect in under_load
    )
    assert said == Counter(
        {"the craft's deck height is not given: a side's pressure falls towards the deck's edge": 3}
    )


def test_listing_is_of_the_bottom_unless_other_surfaces_are_asked_for(mixed: Project) -> None:
    resolved = resolve(mixed)
    assert {each.surface for each in subject_pressures(resolved)} == {Surface.BOTTOM}
    every = subject_pressures(resolved, surfaces=tuple(Surface))
    assert [each.id for each in every] == [each.id for each in (*mixed.panels, *mixed.spans)]


@pytest.mark.parametrize("method", ["iso_12215_5_2008", "iso_12215_5_2019"])
def test_each_subject_is_listed_under_the_pressure_that_judges_it(mixed: Project, method: str) -> None:
    listed = {each.id: each for each in subject_pressures(resolve(mixed), method, surfaces=tuple(Surface))}
    compared: set[str] = set()
    for finding in check(mixed, method).findings:
        for step in (step for step in finding.steps if step.formula.symbol == "P"):
            judged_by = row_of(step.result, finding.row)
            assert judged_by == pytest.approx(listed[finding.subject].P, rel=1e-12)
            compared.add(finding.subject)
    assert compared == set(listed)
    for each in listed.values():
        if each.surface in (Surface.BULKHEAD, Surface.TANK):
            assert each.mode is Mode.HEAD
        if each.surface is Surface.DECK:
            assert each.mode in (Mode.DISPLACEMENT, Mode.DECK_MINIMUM)


def test_subject_without_a_number_is_listed_as_not_given(mixed: Project) -> None:
    side = next(panel for panel in mixed.panels if panel.surface is Surface.SIDE)
    lone = replace(mixed, panels=(replace(side, height=None),), spans=())
    [listed] = subject_pressures(resolve(lone), surfaces=tuple(Surface))
    assert np.isnan(listed.P)
    assert listed.mode is Mode.NOT_GIVEN


def test_curves_of_side_and_deck_are_the_greatest_of_their_three(mixed: Project) -> None:
    for surface, height in ((Surface.SIDE, 0.0), (Surface.SIDE, 500.0), (Surface.DECK, None)):
        along = pressure_along(mixed.craft, DesignArea.square(90_000), surface=surface, height=height)
        parts = np.stack([along.planing, along.displacement, along.minimum])
        assert np.array_equal(along.P, parts.max(axis=0))
        assert along.surface is surface
        assert Mode.MINIMUM not in {reach.mode for reach in along.reaches}


def test_curve_of_a_side_below_the_waterline_is_the_bottoms(mixed: Project) -> None:
    area = DesignArea.square(90_000)
    wet = pressure_along(mixed.craft, area, surface=Surface.SIDE, height=-10.0)
    assert np.array_equal(wet.P, pressure_along(mixed.craft, area).P)
    assert wet.surface is Surface.BOTTOM


def test_what_has_no_curve_is_refused(mixed: Project) -> None:
    area = DesignArea.square(90_000)
    with pytest.raises(StringerlabError, match="head of water"):
        pressure_along(mixed.craft, area, surface=Surface.TANK)
    with pytest.raises(StringerlabError, match="height of its middle"):
        pressure_along(mixed.craft, area, surface=Surface.SIDE)
    with pytest.raises(StringerlabError, match="deck height is not given"):
        pressure_along(replace(mixed.craft, deck_height=None), area, surface=Surface.SIDE, height=100.0)


def test_2019_curve_takes_the_beam_at_the_transom(mixed: Project) -> None:
    narrow = replace(
        mixed.craft,
        stations=tuple(
            replace(station, chine_y=station.chine_y * (0.8 if station.x <= 0 else 1.0))
            for station in mixed.craft.stations
        ),
    )
    area = DesignArea.square(90_000)
    was, now = (pressure_along(craft, area, "iso_12215_5_2019") for craft in (mixed.craft, narrow))
    assert now.n_CG < was.n_CG
    earlier = [pressure_along(craft, area).n_CG for craft in (mixed.craft, narrow)]
    assert earlier[0] == earlier[1]
