"""What a boat takes: members as the take-off has them, the judged panels' plating once each."""

from dataclasses import replace

import numpy as np
import pytest

from stringerlab.assess.takeoff import take_off
from stringerlab.compare.masses import hull_mass
from stringerlab.data import folder
from stringerlab.files import load
from stringerlab.laminate import mass as areal_mass
from stringerlab.layout import Price, Rates
from stringerlab.project import Project, resolve
from stringerlab.sizing.amounts import amounts_of


def sample(name: str) -> Project:
    return load(folder("sample_projects") / f"{name}.json")


def test_members_are_the_take_offs_and_plating_given_by_hand_is_side_by_side() -> None:
    project = sample("eelgrass_workboat")
    resolved = resolve(project)
    found = amounts_of(project, resolved)
    stack = resolved.stacks["l1"]
    area = sum(panel.b * panel.l for panel in project.panels)
    assert found.members == pytest.approx(take_off(project, resolved).total.mass(), rel=1e-12)
    assert found.plating == pytest.approx(area * areal_mass(stack) * 1e-9, rel=1e-12)
    assert found.mass == found.members + found.plating
    assert np.isnan(found.cost)
    assert np.isnan(found.hours)


def test_plating_of_a_layout_is_the_bottoms_hull_mass_and_the_panels_given_by_hand() -> None:
    project = sample("tidewrack_layout")
    resolved = resolve(project)
    by_hand = {panel.id for panel in project.panels}
    stacks = {case.panel.id: case.stack for case in resolved.panels}
    beside = sum(panel.b * panel.l * areal_mass(stacks[panel.id]) * 1e-9 for panel in project.panels)
    hull = hull_mass(resolved)
    assert hull.value is not None
    assert not hull.notes  # nothing of the bottom is taken at a mean
    assert by_hand <= set(stacks)
    assert amounts_of(project, resolved).plating == pytest.approx(hull.value + beside, rel=1e-10)


def test_plating_is_priced_by_the_same_rates_as_members() -> None:
    project = sample("first_hat_lesson")
    rates = Rates(
        prices=(Price(material="csm450", per_kg=3.0), Price(material="polyester", per_kg=4.0)),
        fabric_waste=0.1,
        resin_waste=0.2,
        hour=10.0,
        lay_up=0.5,
        gel_coating=2.0,
    )
    project = replace(project, rates=rates)
    resolved = resolve(project)
    found = amounts_of(project, resolved)
    members = take_off(project, resolved).total
    assert members.cost is not None
    assert members.hours is not None
    [panel] = project.panels
    square_metres = panel.b * panel.l * 1e-6
    plies = resolved.stacks["l1"].plies
    reinforced = [ply for ply in plies if ply.dry_weight]
    mats = [ply for ply in reinforced if abs(ply.dry_weight - 450) < 1]
    fabric = sum(ply.dry_weight for ply in mats) / 1000 * square_metres
    resin = sum(ply.mass - ply.dry_weight for ply in reinforced) / 1000 * square_metres
    laid = sum(ply.mass for ply in reinforced) / 1000 * square_metres
    hours = laid * 0.5 + square_metres * 2.0
    assert found.hours - members.hours == pytest.approx(hours, rel=1e-9)
    assert found.cost - members.cost == pytest.approx(
        fabric * 1.1 * 3.0 + resin * 1.2 * 4.0 + hours * 10.0, rel=1e-9
    )
