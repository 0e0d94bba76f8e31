"""What the grid finds of spans: told apart from the rule, by the mechanics' own judges, never an error."""

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest

from stringerlab.assess import check
from stringerlab.assess.grid import analysed, ground_of
from stringerlab.assess.grid.judged import grid_findings
from stringerlab.assess.grid.loaded import grid_loaded
from stringerlab.assess.grid.stepping import step_change, with_step_said
from stringerlab.data import folder
from stringerlab.files import load
from stringerlab.grillage import solve
from stringerlab.layout import Opening
from stringerlab.layout.plan import Equipment, EquipmentKind, GridRules, Insert
from stringerlab.methods import Aspect, FindingKind, Verdict, craft_row, method_named
from stringerlab.project import Project, resolve

if TYPE_CHECKING:
    from tests.assess.grid.conftest import Laid

METHOD = method_named("iso_12215_5_2008")
FEET = ((-300.0, 0.0), (300.0, 0.0))


@pytest.fixture(scope="module")
def boat() -> Project:
    return load(folder("sample_projects") / "tidewrack_layout.json")


def small(laid: "Laid", *equipment: Equipment, rules: GridRules | None = None):
    floors = [laid.floor(f"f{x}", (x, 0), (x, 1000)) for x in (1500, 3000, 4500)]
    girder = laid.girder("g", (0, 400), (6000, 400))
    return laid.ground(laid.flat, girder, *floors, equipment=equipment, rules=rules)


def test_a_check_of_a_layout_in_use_has_grid_findings_of_every_span(boat: Project) -> None:
    results = check(boat)
    assert results.grid is not None
    assert results.grid.is_solved
    grid = [one for one in results.findings if one.kind is FindingKind.GRID]
    ground = ground_of(boat, resolve(boat))
    assert ground is not None
    assert {one.subject for one in grid} == set(ground.spans)
    assert {Aspect.PLY_FAILURE, Aspect.DEFLECTION} <= {one.aspect for one in grid}
    assert all("by first principles; no rule compliance" in " ".join(one.notes) for one in grid)
    assert len({one.key for one in results.findings}) == len(results.findings)


def test_the_method_alone_has_no_grid(boat: Project) -> None:
    results = check(boat, topics=())
    assert results.grid is None
    assert FindingKind.GRID not in {one.kind for one in results.findings}


def test_a_project_without_a_layout_in_use_has_no_grid(boat: Project) -> None:
    assert check(replace(boat, layout="", layouts=())).grid is None


def test_without_slam_nothing_that_slam_loads_is_said_to_hold(laid: "Laid") -> None:
    dry = method_named("first_principles")  # asks for the trim, which this craft does not give
    engine = Equipment(
        id="e", name="Engine", kind=EquipmentKind.ENGINE, at=(3000.0, 400.0), mass=300.0, feet=FEET
    )
    results = analysed(small(laid, engine), dry)
    assert results.is_solved
    found = grid_findings(results, dry)
    assert {one.subject for one in found} == set(results.spans)
    holding = {one.aspect for one in found if one.verdict in (Verdict.HOLDS, Verdict.TIGHT)}
    assert holding <= {Aspect.FREQUENCY, Aspect.INSERT, Aspect.FEET}
    assert any("No slam is on it" in note for one in found for note in one.notes)


def test_twice_the_moment_uses_twice_the_plies(laid: "Laid") -> None:
    results = analysed(small(laid), METHOD)
    span = next(one for one in results.spans.values() if one.id.startswith("g"))

    def use(times: float) -> float:
        scaled = replace(
            span,
            M_max=replace(span.M_max, value=times * span.M_max.value),
            M_min=replace(span.M_min, value=times * span.M_min.value),
            V=replace(span.V, value=times * span.V.value),
            T=times * span.T,
        )
        found = grid_findings(replace(results, spans={**results.spans, span.id: scaled}), METHOD)
        (ply,) = [one for one in found if one.subject == span.id and one.aspect is Aspect.PLY_FAILURE]
        assert ply.utilisation is not None
        return ply.utilisation

    assert use(2) == pytest.approx(2 * use(1), rel=1e-6)


def test_a_moment_near_a_node_is_judged_with_the_shear_of_its_own_case_or_more(laid: "Laid") -> None:
    results = analysed(small(laid), METHOD)
    assert results.factored is not None
    assert results.loads is not None
    assert results.beams is not None
    assert results.envelope is not None
    shears: dict[bool, list[float]] = {True: [], False: []}
    for one in grid_loaded(results, METHOD, craft_row(results.ground.craft)):
        id_, M = one.span.case.span.id, results.spans[one.span.case.span.id].M_max
        number = [span.id for span in results.ground.found.spans].index(id_)
        solved = solve(results.factored, results.loads.of([M.case]), places=len(results.envelope.places))
        rows = np.flatnonzero(results.beams.span == number)
        low, high = results.beams.part[rows].T
        at = low[:, None] + solved.places * (high - low)[:, None]
        there = np.isclose(solved.M[rows, :, 0], M.value, rtol=1e-6) & np.isclose(at, M.along)
        assert there.any()
        own = float(np.abs(solved.V[rows, :, 0][there]).max())
        apart = abs(M.along - 0.5) > 1 / 6
        shears[apart].append(one.span.middle.V_z)
        if apart:
            assert own * (1 - 1e-6) <= one.span.middle.V_z <= results.spans[id_].V.value * (1 + 1e-9)
    assert min(shears[True]) > 0
    assert set(shears[False]) == {0.0}


def test_deflection_is_held_against_the_layouts_own_limit(laid: "Laid") -> None:
    def use(part: float) -> float:
        results = analysed(small(laid, rules=GridRules(deflection=part)), METHOD)
        found = [one for one in grid_findings(results, METHOD) if one.aspect is Aspect.DEFLECTION]
        return max(one.utilisation or 0.0 for one in found)

    assert use(0.002) == pytest.approx(2 * use(0.004), rel=1e-9)


def test_a_speed_on_a_natural_frequency_is_short(laid: "Laid") -> None:
    def verdict(speed: float) -> Verdict:
        engine = Equipment(
            id="e1",
            name="Engine",
            kind=EquipmentKind.ENGINE,
            at=(2000, 400),
            mass=50,
            feet=FEET,
            speed=speed,
            acceleration=0.0,
        )
        results = analysed(small(laid, engine), METHOD)
        found = [one for one in grid_findings(results, METHOD) if one.aspect is Aspect.FREQUENCY]
        return found[0].verdict

    still = analysed(
        small(
            laid, Equipment(id="e1", name="E", kind=EquipmentKind.ENGINE, at=(2000, 400), mass=50, feet=FEET)
        ),
        METHOD,
    )
    lowest = still.frequencies[0]
    assert verdict(60 * lowest) is Verdict.SHORT
    assert verdict(60 * lowest / 3) is Verdict.HOLDS


def test_feet_and_bolts_of_machinery_are_judged_where_they_stand(laid: "Laid") -> None:
    engine = Equipment(
        id="e1",
        name="Engine",
        kind=EquipmentKind.ENGINE,
        at=(2200, 400),
        mass=300,
        feet=FEET,
        thrust=6000,
        height=300,
        insert=Insert(),
    )
    results = analysed(small(laid, engine), METHOD)
    under = {foot.span for foot in results.feet}
    found = grid_findings(results, METHOD)
    for aspect in (Aspect.FEET, Aspect.INSERT):
        assert {one.subject for one in found if one.aspect is aspect} == under
    # thrust 6000 N at 300 mm on two feet 600 mm apart: 3000 N up on the after one
    assert max(foot.pull[0] for foot in results.feet) == pytest.approx(3000, rel=1e-6)
    assert [foot.shear[0] for foot in results.feet] == pytest.approx([3000, 3000])


def test_patches_halved_where_they_govern_find_what_a_sixteenth_everywhere_does(laid: "Laid") -> None:
    usual = analysed(small(laid), METHOD)
    fine = analysed(small(laid), METHOD, step=1 / 32)
    assert len(usual.cases) < len(fine.cases) / 2
    for name, one in fine.spans.items():
        assert usual.spans[name].M_max.value == pytest.approx(one.M_max.value, rel=0.01)
        assert usual.spans[name].V.value == pytest.approx(one.V.value, rel=0.01)


def test_half_the_step_changes_little_or_it_is_said(laid: "Laid", monkeypatch: pytest.MonkeyPatch) -> None:
    usual = analysed(small(laid), METHOD)
    change = step_change(usual, METHOD)
    assert change.is_fine
    assert "lessen the step" not in with_step_said(usual, METHOD).notes[-1]
    monkeypatch.setattr("stringerlab.assess.grid.analysing.HALVINGS", 0)
    coarse = analysed(small(laid, rules=GridRules(step=1.0)), METHOD)
    assert step_change(coarse, METHOD).part > change.part
    assert not step_change(coarse, METHOD).is_fine
    assert "lessen the step" in with_step_said(coarse, METHOD).notes[-1]


def test_a_coarse_analysis_has_the_same_spans_and_nearly_their_moments(laid: "Laid") -> None:
    whole, coarse = (analysed(small(laid), METHOD, coarse=each) for each in (False, True))
    assert coarse.spans.keys() == whole.spans.keys()
    for name, one in whole.spans.items():
        assert coarse.spans[name].M_max.value <= one.M_max.value * 1.03
        assert np.isnan(coarse.spans[name].sag.value)
    assert max(one.M_max.value for one in coarse.spans.values()) == pytest.approx(
        max(one.M_max.value for one in whole.spans.values()), rel=0.1
    )


def test_openings_are_judged_under_what_the_grid_carries_where_they_are(laid: "Laid") -> None:
    ground = small(laid)
    pierced = next(id_ for id_ in ground.spans if id_.startswith("g"))

    def use(x: float) -> float:
        case = ground.spans[pierced]
        hole = Opening(x=x * case.span.lu, height=25, width=200, bottom=40, radius=12)
        cut = replace(case, span=replace(case.span, openings=(hole,)))
        there = replace(ground, spans={**ground.spans, pierced: cut})
        found = grid_findings(analysed(there, METHOD), METHOD)
        (one,) = [one for one in found if one.aspect is Aspect.OPENING]
        assert one.subject == pierced
        assert one.utilisation is not None
        return one.utilisation

    # the girder's shear is greatest where its span ends on a floor that takes its load to the chines
    assert use(0.85) > 1.05 * use(0.5)
    assert Aspect.OPENING not in {one.aspect for one in grid_findings(analysed(ground, METHOD), METHOD)}
