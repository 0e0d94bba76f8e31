"""Pressure along the boat is the pressure its panels and spans are judged by."""

import math
from dataclasses import replace

import numpy as np
import pytest

from stringerlab.assess import check
from stringerlab.assess.pressures import DesignArea, Mode, ends, pressure_along, subject_pressures
from stringerlab.craft import Category, Craft, Station
from stringerlab.data import folder
from stringerlab.errors import StringerlabError
from stringerlab.files import load
from stringerlab.methods.iso_12215_5_2008 import pressures
from stringerlab.project import Project, resolve


@pytest.fixture(scope="module")
def workboat() -> Project:
    return load(folder("sample_projects") / "eelgrass_workboat.json")


def slow(craft: Craft) -> Craft:
    return replace(craft, speed=4.0, mass=900.0)


def test_the_curve_rises_to_six_tenths_of_the_waterline_and_stays(workboat: Project) -> None:
    craft = workboat.craft
    along = pressure_along(craft, DesignArea.square(250_000))
    reaches_full = craft.waterline_aft + 0.6 * craft.waterline_length
    aft = along.P[along.x <= reaches_full]
    assert (np.diff(aft) > 0).all()
    assert np.ptp(along.P[along.x >= reaches_full]) == 0
    assert (along.x[0], along.x[-1]) == ends(craft)


def test_the_curve_is_the_greatest_of_its_three(workboat: Project) -> None:
    for craft in (workboat.craft, slow(workboat.craft)):
        along = pressure_along(craft, DesignArea.square(40_000))
        parts = np.stack([along.planing, along.displacement, along.minimum])
        assert np.array_equal(along.P, parts.max(axis=0))


def test_each_subject_stands_under_the_pressure_that_judges_it(workboat: Project) -> None:
    results = check(workboat)
    found = {subject.id: subject for subject in subject_pressures(resolve(workboat))}
    assert list(found) == [each.id for each in (*workboat.panels, *workboat.spans)]
    compared = 0
    for finding in results.findings:
        judged = [step for step in finding.steps if step.formula is pressures.bottom_pressure]
        if judged:
            rows = np.broadcast_to(judged[0].result, np.shape(judged[0].result) or (1,))
            pressure = found[finding.subject].P
            assert pressure == pytest.approx(float(rows[finding.row]), rel=1e-12)
            compared += 1
    assert compared > len(found)


def test_a_subject_lies_on_the_curve_of_its_own_design_area(workboat: Project) -> None:
    resolved = resolve(workboat)
    for subject, record in zip(subject_pressures(resolved), (*workboat.panels, *workboat.spans), strict=True):
        along = pressure_along(workboat.craft, DesignArea.of(record), points=4001)
        assert np.interp(record.x, along.x, along.P) == pytest.approx(subject.P, rel=1e-6)
        assert along.area == pytest.approx(subject.area)


def test_design_areas_are_those_of_the_clause() -> None:
    craft = load(folder("sample_projects") / "eelgrass_workboat.json").craft
    square = pressure_along(craft, DesignArea.square(160_000))
    long_panel = pressure_along(craft, DesignArea(width=300, length=2000))
    slender_span = pressure_along(craft, DesignArea(width=100, length=1500, of_span=True))
    assert square.area == pytest.approx(400 * 400)
    assert long_panel.area == pytest.approx(2.5 * 300**2)
    assert slender_span.area == pytest.approx(0.33 * 1500**2)


def test_a_larger_area_has_a_lower_pressure(workboat: Project) -> None:
    small, large = (pressure_along(workboat.craft, DesignArea.square(area)).P for area in (9e4, 9e5))
    assert (large < small).all()


def test_reaches_say_which_mode_governs_where(workboat: Project) -> None:
    [fast] = pressure_along(workboat.craft, DesignArea.square(250_000)).reaches
    assert fast.mode is Mode.PLANING
    [held] = pressure_along(slow(workboat.craft), DesignArea.square(40_000)).reaches
    assert held.mode is Mode.DISPLACEMENT
    # over a large area the minimum holds aft, and displacement mode overtakes it going forward
    along = pressure_along(slow(workboat.craft), DesignArea.square(1e6))
    reaches = along.reaches
    assert [reach.aft for reach in reaches[1:]] == [reach.fore for reach in reaches[:-1]]
    assert (reaches[0].aft, reaches[-1].fore) == (along.x[0], along.x[-1])
    for reach in reaches:
        inside = (along.x > reach.aft) & (along.x < reach.fore)
        of = {Mode.PLANING: along.planing, Mode.DISPLACEMENT: along.displacement, Mode.MINIMUM: along.minimum}
        assert (along.P[inside] == of[reach.mode][inside]).all()
    assert [reach.mode for reach in reaches] == [Mode.MINIMUM, Mode.DISPLACEMENT]


def test_the_load_factor_by_hand() -> None:
    craft = Craft(
        name="slow",
        category=Category.C,
        waterline_length=6000,
        mass=3000,
        speed=12,
        stations=(
            Station(x=0, keel_z=0, chine_y=1000, chine_z=1000 * math.tan(math.radians(20))),
            Station(x=6000, keel_z=0, chine_y=1000, chine_z=1000 * math.tan(math.radians(20))),
        ),
    )
    by_hand = 0.32 * (6 / 20 + 0.084) * (50 - 20) * 12**2 * 2**2 / 3000
    assert by_hand < 3
    assert pressure_along(craft, DesignArea.square(250_000)).n_CG == pytest.approx(by_hand)


def test_a_hull_bottom_with_one_station_has_no_curve(workboat: Project) -> None:
    craft = replace(workboat.craft, stations=workboat.craft.stations[:1])
    with pytest.raises(StringerlabError, match="1 station"):
        pressure_along(craft, DesignArea.square(250_000))


@pytest.mark.parametrize("area", [0.0, -1.0, math.nan])
def test_an_area_that_is_none_is_refused(area: float) -> None:
    with pytest.raises(StringerlabError, match="not above 0"):
        DesignArea.square(area)


def test_an_unknown_method_is_refused(workboat: Project) -> None:
    with pytest.raises(StringerlabError, match="no method 'none'"):
        pressure_along(workboat.craft, DesignArea.square(1e5), "none")
