"""What a check found, laid over the sample boat's plan: verdicts, diagrams to scale, reactions, the patch."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

import numpy as np
import pytest

from stringerlab.assess.grid import GridResults, analysed, case_field
from stringerlab.assess.grid.ground import ground_of
from stringerlab.data import folder
from stringerlab.drawing import PRINT, Area, Label, Line, Mark, Picture, Role, Shape, dxf, svg
from stringerlab.drawing.plan_deflected import deflected_picture
from stringerlab.drawing.plan_diagrams import FULL
from stringerlab.drawing.plan_options import PlanOptions, widths_of
from stringerlab.drawing.plan_results import Overlay, governing_case, plan_results, worst_of
from stringerlab.files import load
from stringerlab.layout.found import Found
from stringerlab.methods import Aspect, Finding, Verdict, method_named
from stringerlab.project import planning, resolve
from stringerlab.units import System, unit_named
from stringerlab.workings import Known


@dataclass(frozen=True)
class Boat:
    grid: GridResults
    found: Found
    options: PlanOptions


@pytest.fixture(scope="module")
def boat() -> Boat:
    project = load(folder("sample_projects") / "tidewrack_grid.json")
    project = planning.with_layout_in_use(project, project.layouts[0].id)
    resolved = resolve(project)
    ground = ground_of(project, resolved)
    assert ground is not None
    grid = analysed(ground, method_named(project.method), coarse=True)
    assert grid.is_solved, grid.problems
    options = PlanOptions(widths=widths_of(resolved, project.layouts[0]))
    return Boat(grid, ground.found, options)


def finding(
    subject: str, utilisation: float | None, verdict: Verdict, aspect: Aspect = Aspect.BOND
) -> Finding:
    return Finding(
        subject=subject,
        name=f"the one of {subject}",
        aspect=aspect,
        demand=utilisation,
        capacity=1.0,
        unit=unit_named(""),
        utilisation=utilisation,
        verdict=verdict,
        method="m",
        source="s",
        known=Known.READ,
        notes=(),
    )


def of_role(picture: Picture, kind: type[Area | Line | Mark | Label], role: Role) -> list[object]:
    return [item for item in picture if isinstance(item, kind) and item.role is role]


# -- utilisation ---------------------------------------------------------------------------------


def test_the_worst_finding_counts_and_advice_never() -> None:
    worst = worst_of(
        [
            finding("p1", 0.4, Verdict.HOLDS),
            finding("p1", 1.2, Verdict.SHORT, Aspect.STIFFNESS),
            finding("p1", None, Verdict.NOT_JUDGED),
            finding("p1", 9.0, Verdict.ADVICE),
            finding("p2", None, Verdict.NOT_JUDGED),
        ]
    )
    assert worst["p1"].aspect is Aspect.STIFFNESS
    assert worst["p2"].verdict is Verdict.NOT_JUDGED


def test_verdicts_show_by_colour_hatch_shape_and_words(boat: Boat) -> None:
    bays = [bay for bay in boat.found.bays if bay.panel is not None][:4]
    shapes = {
        Verdict.HOLDS: Shape.CIRCLE,
        Verdict.TIGHT: Shape.TRIANGLE,
        Verdict.SHORT: Shape.SQUARE,
        Verdict.NOT_JUDGED: Shape.DIAMOND,
    }
    uses = (0.5, 0.95, 1.2, None)
    findings = [finding(bay.id, use, verdict) for bay, use, verdict in zip(bays, uses, shapes, strict=True)]
    over = plan_results(Overlay.USE, boat.found, findings=findings, options=boat.options)
    for bay, (verdict, shape) in zip(bays, shapes.items(), strict=True):
        items = [item for item in over.picture if item.subject == bay.id]
        areas = [item for item in items if isinstance(item, Area)]
        assert len(areas) == len(bay.rings)
        assert {item.shape for item in items if isinstance(item, Mark)} == {shape}
        assert all(verdict.value in area.tip for area in areas)
    assert {row.text for row in over.legend} == {verdict.value for verdict in shapes}
    assert any(item.text == "1.20 short" for item in over.picture if isinstance(item, Label))
    hatches = {PRINT.brush(item.role).hatch for item in over.picture if isinstance(item, Area)}
    assert len(hatches) == 4


def test_a_member_is_coloured_over_its_own_width_on_both_sides(boat: Boat) -> None:
    span = next(s for s in boat.found.spans if len(s.lines) == 2 and boat.options.widths[s.section].base > 50)
    over = plan_results(
        Overlay.USE,
        boat.found,
        findings=[finding(span.id, 0.5, Verdict.HOLDS)],
        options=boat.options,
    )
    rings = [item.rings[0] for item in over.picture if isinstance(item, Area)]
    assert len(rings) == 2
    for ring, line in zip(rings, span.lines, strict=True):
        edge = np.hypot(*(ring[0] - ring[-1]))
        assert edge == pytest.approx(boat.options.widths[span.section].base)
        assert (ring[0] + ring[-1]) / 2 == pytest.approx(line[0])


# -- along members -------------------------------------------------------------------------------


def test_the_moment_diagram_is_as_wide_as_the_moment(boat: Boat) -> None:
    over = plan_results(Overlay.MOMENT, boat.found, grid=boat.grid, options=boat.options)
    breadth = np.ptp(boat.found.outline[:, 1])
    greatest = max(max(s.M_max.value, -s.M_min.value) for s in boat.grid.spans.values())
    for role, value_of in (
        (Role.MOMENT_UP, lambda span: span.M_max.value),
        (Role.MOMENT_DOWN, lambda span: -span.M_min.value),
    ):
        for id_, extremes in boat.grid.spans.items():
            areas = [
                item
                for item in over.picture
                if isinstance(item, Area) and item.role is role and item.subject == id_
            ]
            width = max((_widest(area) for area in areas), default=0.0)
            assert width == pytest.approx(
                max(value_of(extremes), 0.0) / greatest * FULL * breadth, abs=2e-3 * FULL * breadth
            )


def _widest(area: Area) -> float:
    ring = area.rings[0]
    half = len(ring) // 2
    return float(np.hypot(*(ring[:half] - ring[half:][::-1]).T).max())


def test_the_greatest_moment_is_written_in_the_units_asked_for(boat: Boat) -> None:
    greatest = max(max(s.M_max.value, -s.M_min.value) for s in boat.grid.spans.values())
    for system, unit in ((System.METRIC, "N·m"), (System.US, "lbf·ft")):
        over = plan_results(
            Overlay.MOMENT, boat.found, grid=boat.grid, options=replace(boat.options, units=system)
        )
        labels = [item.text for item in over.picture if isinstance(item, Label)]
        assert labels
        assert all(text.endswith(unit) for text in labels)
        written = max(_number(text) for text in labels)
        assert written == pytest.approx(greatest / unit_named(unit).factor, rel=2e-3)
        assert f"{unit}" in over.note


def _number(text: str) -> float:
    return abs(float(re.sub(r"[^\d.eE]", "", text.split(" ")[0])))


def test_diagrams_of_a_mirrored_boat_are_mirrored(boat: Boat) -> None:
    over = plan_results(Overlay.MOMENT, boat.found, grid=boat.grid, options=boat.options)
    span = next(s for s in boat.found.spans if len(s.lines) == 2 and s.id in boat.grid.spans)
    rings = [
        item.rings[0]
        for item in over.picture
        if isinstance(item, Area) and item.subject == span.id and item.role is Role.MOMENT_UP
    ]
    assert len(rings) == 2
    outboard = [np.abs(ring[:, 1]).max() for ring in rings]
    assert outboard[0] == pytest.approx(outboard[1], rel=0.2)


# -- one case, reactions -------------------------------------------------------------------------


def test_the_patch_is_that_of_the_selected_span_s_governing_case(boat: Boat) -> None:
    id_ = next(iter(boat.grid.spans))
    span = boat.grid.spans[id_]
    most = max((span.M_max, span.M_min), key=lambda each: abs(each.value))
    case = boat.grid.cases[most.case]
    assert governing_case(boat.grid, id_) == most.case
    over = plan_results(Overlay.PATCH, boat.found, grid=boat.grid, subject=id_, options=boat.options)
    areas = [item for item in over.picture if isinstance(item, Area)]
    if case.patch:
        assert areas[0].rings[0].tolist() == [list(corner) for corner in case.patch]
    assert case.name in over.note


def test_reactions_point_at_what_is_held_up_and_away_from_what_is_held_down(boat: Boat) -> None:
    over = plan_results(Overlay.REACTIONS, boat.found, grid=boat.grid, options=boat.options)
    labels = "\n".join(item.text for item in over.picture if isinstance(item, Label))
    greatest = max(max(abs(each.most), abs(each.least)) for each in boat.grid.reactions)
    drawn = [each for each in boat.grid.reactions if max(each.most, -each.least) > 0.02 * greatest]
    assert drawn
    assert len(labels.split("\n")) == sum(
        (each.most > 0.02 * greatest) + (each.least < -0.02 * greatest) for each in drawn
    )
    for each in drawn:
        shafts = [
            item.points
            for item in over.picture
            if isinstance(item, Line) and len(item.points) == 2
            if min(np.hypot(*(item.points - each.at).T)) < 1e-6
        ]
        ends_here = any(np.hypot(*(shaft[1] - each.at)) < 1e-6 for shaft in shafts)
        assert ends_here == (each.most > 0.02 * greatest)


def test_the_deflected_shape_says_its_scale(boat: Boat) -> None:
    case = governing_case(boat.grid)
    picture = deflected_picture(boat.grid, case)
    (stick,) = [item for item in picture if isinstance(item, Line) and item.role is Role.DIMENSION]
    (label,) = [item for item in picture if isinstance(item, Label)]
    factor = float(label.text.split("drawn ")[1].split(" ")[0])
    w = np.abs(case_field(boat.grid, case).w).max()
    assert abs(stick.points[1, 1] - stick.points[0, 1]) == pytest.approx(factor * w)


def test_without_a_grid_it_says_so_and_shows_nothing(boat: Boat) -> None:
    for overlay in Overlay:
        over = plan_results(overlay, boat.found)
        assert not over.picture.items
        assert over.note


@pytest.mark.parametrize("overlay", [o for o in Overlay if o is not Overlay.USE])
def test_players_take_every_overlay(boat: Boat, overlay: Overlay) -> None:
    over = plan_results(overlay, boat.found, grid=boat.grid, options=replace(boat.options, veil=True))
    assert over.picture.items[0].role is Role.VEIL
    assert svg(over.picture, PRINT, legend=over.legend).startswith("<")
    assert dxf(over.picture)
