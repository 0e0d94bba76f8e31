"""Fills picked as closed regions, where they leak, backing blocks, and the plating shown."""

from collections.abc import Callable
from dataclasses import replace
from functools import lru_cache
from math import inf, nan, radians, tan
from pathlib import Path

import pytest

from stringerlab.errors import StringerlabError
from stringerlab.files import load
from stringerlab.project import Project, drafting, edits, resolve
from stringerlab.project.drafting import Face, HatParameters, Leg
from stringerlab.section import Fill, Reference, Section, Side, enclosed_area

SAMPLE = Path(__file__).parents[2] / "sample_projects" / "eelgrass_workboat.json"
HAT, FLOOR = "s5", "s7"


@lru_cache(1)
def workboat() -> Project:
    return load(SAMPLE)


def section(project: Project, section_id: str = HAT) -> Section:
    return next(each for each in project.sections if each.id == section_id)


def area(fill: Fill) -> float:
    ring = [complex(*point) for point in fill.points]
    return abs(sum((a.conjugate() * b).imag for a, b in zip(ring, ring[1:] + ring[:1], strict=True))) / 2


def without_repairs(project: Project, section_id: str = HAT) -> bool:
    return section_id in resolve(project).shapes and not resolve(project).repairs


def test_filled_cavity_is_the_whole_cell_that_the_hat_encloses():
    filled = drafting.filled_region(workboat(), HAT, (0.0, 60.0), "putty", name="core")
    (fill,) = section(filled).fills
    cell = enclosed_area(resolve(workboat()).shapes[HAT])
    assert area(fill) == pytest.approx(cell, rel=1e-6)
    assert (fill.id, fill.name, fill.material) == ("f29", "core", "putty")
    assert without_repairs(filled)


def test_filled_box_between_two_faces_has_the_area_of_the_sum():
    """A box of walls 2t apart: the clear width times the clear height, by hand."""
    boat = drafting.wall_drawn(
        workboat(),
        HAT,
        (200.0, 50.0),
        [Leg((300.0, 50.0)), Leg((300.0, 120.0)), Leg((200.0, 120.0)), Leg((200.0, 50.0))],
        "l2",
        Side.LEFT,
        closed=True,
    )
    thickness = _thickness(boat, "l2")
    filled = drafting.filled_region(boat, HAT, (250.0, 80.0), "putty")
    assert area(section(filled).fills[0]) == pytest.approx(
        (100 - 2 * thickness) * (70 - 2 * thickness), abs=1e-3
    )
    assert len(section(filled).fills[0].points) == 4
    assert without_repairs(filled)


def _thickness(project: Project, laminate: str) -> float:
    return sum(ply.thickness for ply in resolve(project).stacks[laminate].plies)


def test_fill_stops_at_other_fills():
    half = drafting.fill_drawn(workboat(), HAT, [(-70, 0), (70, 0), (70, 40), (-70, 40)], "putty")
    below = drafting.filled_region(workboat(), HAT, (0.0, 60.0), "putty")
    above = drafting.filled_region(half, HAT, (0.0, 60.0), "putty")
    assert min(z for _, z in section(above).fills[1].points) == pytest.approx(40.0)
    assert area(section(above).fills[1]) < area(section(below).fills[0])


def test_region_around_an_island_becomes_pieces_that_leave_it_out():
    island = drafting.fill_drawn(workboat(), HAT, [(-10, 50), (10, 50), (10, 70), (-10, 70)], "putty")
    filled = section(drafting.filled_region(island, HAT, (0.0, 30.0), "putty"))
    assert len(filled.fills) == 3
    cell = enclosed_area(resolve(workboat()).shapes[HAT])
    assert sum(area(fill) for fill in filled.fills[1:]) == pytest.approx(cell - 400.0, rel=1e-6)
    assert without_repairs(drafting.filled_region(island, HAT, (0.0, 30.0), "putty"))


def test_open_region_says_where_it_leaks_and_how_wide():
    raised = drafting.moved(workboat(), HAT, ["w6"], 0.0, 5.0)
    with pytest.raises(StringerlabError) as refused:
        drafting.filled_region(raised, HAT, (0.0, 60.0), "putty")
    said = [str(problem) for problem in refused.value.problems]
    assert len(said) == 2
    assert all("leaks through 9.000 mm between wall 'hat' (w6) and the shell" in line for line in said)
    assert {("y −116.0" in line, "y 116.0" in line) for line in said} == {(True, False), (False, True)}


def test_gap_in_a_crown_is_where_it_leaks():
    halves = drafting.split(workboat(), HAT, "w6", (0.0, 135.0))
    apart = drafting.with_point_at(halves, HAT, "w29", 0, y=3.0)
    with pytest.raises(StringerlabError, match=r"leaks through 3\.000 mm between wall 'hat' \(w6\) and"):
        drafting.filled_region(apart, HAT, (0.0, 60.0), "putty")
    assert section(drafting.filled_region(halves, HAT, (0.0, 60.0), "putty")).fills


def test_gap_within_the_drawings_tolerance_is_none():
    halves = drafting.split(workboat(), HAT, "w6", (0.0, 135.0))
    touching = drafting.with_point_at(halves, HAT, "w29", 0, y=0.006)
    assert len(section(drafting.filled_region(touching, HAT, (0.0, 60.0), "putty")).fills) == 1


def test_cavity_on_a_sloping_shell_is_closed_by_it():
    boat = drafting.with_shape(
        workboat(),
        None,
        HatParameters(
            laminate="l2", height=120.0, crown_width=90.0, flange_width=60.0, draft=5.0, root_radius=12
        ),
        bead=4.0,
        reference=Reference(laminate="l1", width=300.0, deadrise=18.0),
    )
    filled = drafting.filled_region(boat, boat.sections[-1].id, (0.0, 60.0), "putty").sections[-1]
    low = [(y, z) for y, z in filled.fills[0].points if abs(z - y * tan(radians(18.0))) < 1e-5]
    assert len(low) == 2
    assert area(filled.fills[0]) == pytest.approx(
        enclosed_area(resolve(boat).shapes[filled.id], radians(18.0)), rel=1e-6
    )


def test_region_is_refused_within_a_body_and_out_in_the_open():
    for at, said in [
        ((0.0, 133.0), "lies within wall 'hat' (w6)"),
        ((0.0, -2.0), "lies within the shell"),
        ((-100.0, 2.0), "lies within the bead"),
        ((0.0, 300.0), "Nothing encloses this point"),
    ]:
        with pytest.raises(StringerlabError) as refused:
            drafting.filled_region(workboat(), HAT, at, "putty")
        assert said in str(refused.value)


def test_unsound_section_is_refused_with_its_problems():
    spoiled = edits.replaced(
        workboat(), replace(section(workboat()).walls[0], fillets=(0, 12, 90, 90, 12, 0))
    )
    with pytest.raises(StringerlabError, match="not sound") as refused:
        drafting.filled_region(spoiled, HAT, (0.0, 60.0), "putty")
    assert any("fillets at points 3 and 4" in problem.what for problem in refused.value.problems)


def test_block_lies_on_the_laminates_face_and_not_in_it():
    blocked = drafting.with_block(workboat(), HAT, "w6", (3.0, 140.0), 40.0, 12.0, "putty", name="engine bed")
    (block,) = section(blocked).fills
    face = 135.0 - _thickness(workboat(), "l2")
    assert max(z for _, z in block.points) == pytest.approx(face, abs=1e-6)
    assert min(z for _, z in block.points) == pytest.approx(face - 12.0, abs=1e-6)
    assert sorted({round(y, 6) for y, _ in block.points}) == [-17.0, 23.0]
    assert without_repairs(blocked)


def test_block_on_the_tool_face_stands_outside():
    blocked = drafting.with_block(workboat(), HAT, "w6", (0, 140), 40, 12, "putty", face=Face.TOOL)
    assert {round(z, 6) for _, z in section(blocked).fills[0].points} == {135.0, 147.0}
    assert without_repairs(blocked)


def test_block_on_a_web_leans_with_it_and_is_moved_onto_its_straight_piece():
    blocked = drafting.with_block(workboat(), HAT, "w6", (47.0, 134.0), 50.0, 10.0, "putty")
    first, second, *_ = section(blocked).fills[0].points
    assert abs(second[0] - first[0]) / abs(second[1] - first[1]) == pytest.approx(tan(radians(5.0)))
    assert without_repairs(blocked)


def test_block_wider_than_the_straight_piece_is_refused_with_its_length():
    with pytest.raises(StringerlabError, match=r"70\.00 mm wide, .* there 62\.03 mm"):
        drafting.with_block(workboat(), HAT, "w6", (0.0, 140.0), 70.0, 12.0, "putty")


def test_reference_is_edited_in_part_and_from_nothing():
    wider = section(drafting.with_reference(workboat(), HAT, width=300.0)).reference
    assert wider == Reference(laminate="l1", width=300.0)
    bare = drafting.without_reference(workboat(), HAT)
    assert section(bare).reference is None
    new = drafting.with_reference(bare, HAT, laminate="l1", width=250.0, deadrise=12.0)
    assert section(new).reference == Reference(laminate="l1", width=250.0, deadrise=12.0)
    with pytest.raises(StringerlabError, match="both laminate and width"):
        drafting.with_reference(bare, HAT, width=250.0)
    with pytest.raises(StringerlabError) as refused:
        drafting.with_reference(workboat(), HAT, laminate="l9", width=-1.0, deadrise=61.0)
    assert len(refused.value.problems) == 3


def test_drawn_fill_must_bound_an_area():
    for points in ([(0, 50), (20, 50)], [(0, 50), (20, 70), (20, 50), (0, 70)], [(0, 50), (9, 50), (20, 50)]):
        with pytest.raises(StringerlabError):
            drafting.fill_drawn(workboat(), HAT, points, "putty")


BAD: dict[str, tuple[Callable[[Project], Project], str]] = {
    "no material": (lambda boat: drafting.filled_region(boat, HAT, (0, 60), "puty"), "no solid 'puty'"),
    "a fabric": (lambda boat: drafting.filled_region(boat, HAT, (0, 60), "csm450"), "no solid 'csm450'"),
    "no number": (lambda boat: drafting.filled_region(boat, HAT, (inf, 60), "putty"), "not a number"),
    "no section": (lambda boat: drafting.filled_region(boat, "s6", (0, 60), "putty"), "no section 's6'"),
    "block on a fill": (
        lambda boat: drafting.with_block(boat, FLOOR, "f11", (0, 0), 5, 5, "putty"),
        "It is a fill",
    ),
    "block nowhere": (
        lambda boat: drafting.with_block(boat, HAT, "w6", (nan, 140), 40, 5, "putty"),
        "not a number",
    ),
    "block of nothing": (
        lambda boat: drafting.with_block(boat, HAT, "w6", (0, 140), 40, 0, "putty"),
        "has no size",
    ),
}


@pytest.mark.parametrize(("edit", "said"), BAD.values(), ids=BAD)
def test_bad_fill_is_refused(edit: Callable[[Project], Project], said: str):
    with pytest.raises(StringerlabError) as refused:
        edit(workboat())
    assert said in str(refused.value)
    assert all(problem.what and problem.where and problem.remedy for problem in refused.value.problems)


def test_tabs_drawn_against_a_plate_close_a_region_with_it():
    """The floor's own putty taken out: the fillet's triangle is found again between tab, plate and shell."""
    bare = drafting.removed(workboat(), FLOOR, ["f12"])
    at = (3.2656250000000004 + 2.0, 2.0)
    filled = section(drafting.filled_region(bare, FLOOR, at, "putty"), FLOOR)
    original = next(fill for fill in section(workboat(), FLOOR).fills if fill.id == "f12")
    # Under its last chord the tab lies within 0.5 mm of the shell and counts as bonded.
    (y_1, z_1), (y_2, _) = original.points[2], original.points[1]
    assert area(filled.fills[-1]) == pytest.approx(area(original) - (y_2 - y_1) * z_1 / 2, rel=1e-5)
