"""What may change of a boat: applied as a person would type it, wrong wishes told together."""

from dataclasses import replace
from itertools import pairwise

import pytest

from stringerlab.data import folder
from stringerlab.files import load
from stringerlab.laminate import resolve as resolved_laminate
from stringerlab.laminate import thickness
from stringerlab.laminate.records import Ply
from stringerlab.layout.as_built import LaminateAsBuilt, PlyAsBuilt
from stringerlab.materials.records import PlyKind
from stringerlab.project import Project, book_of, edits, planning, problems, resolve
from stringerlab.project.drafting_floors import floor_parameters
from stringerlab.project.drafting_parts import section_of
from stringerlab.project.drafting_shapes import hat_parameters, with_hat
from stringerlab.project.measuring import measured_laminate, with_laminate_measured
from stringerlab.project.ply_edits import plies_repeated
from stringerlab.project.wishes import Change, Number, Plies
from stringerlab.sizing.changing.choices import laid
from stringerlab.sizing.changing.variables import all_steps, plies_of, variable_of
from stringerlab.units import System


@pytest.fixture(scope="module")
def workboat() -> Project:
    return load(folder("sample_projects") / "eelgrass_workboat.json")


@pytest.fixture(scope="module")
def launch() -> Project:
    return load(folder("sample_projects") / "tidewrack_layout.json")


def number(change: Change, *of: str, least: float, most: float, step: float = 0.0, ply: int = 0) -> Number:
    return Number(id="n", change=change, of=of, ply=ply, least=least, most=most, step=step)


# -- hats ----------------------------------------------------------------------------------------


def test_a_hats_height_is_set_as_its_handle_sets_it(workboat: Project) -> None:
    variable = variable_of(workboat, number(Change.HEIGHT, "s5", least=100, most=160, step=20))
    assert variable.values == (100, 120, 140, 160)
    made = variable.applied(workboat, 2)
    hat = hat_parameters(workboat, "s5")
    assert hat is not None
    wall = section_of(workboat, "s5").walls[0]
    assert made == with_hat(workboat, "s5", wall.id, replace(hat, height=140.0))
    assert variable.words(2, workboat) == "140 mm"
    assert variable.words(2, replace(workboat, units=System.US)) == "5.51181 in"
    assert variable.name == "hat height of Main stringer"


def test_a_thicker_laminate_keeps_the_flanges_on_the_bead(workboat: Project) -> None:
    variable = variable_of(workboat, number(Change.REPEATS, "l2", ply=3, least=1, most=3, step=1))
    made = variable.applied(workboat, 2)
    typed = plies_repeated(workboat, "l2", [2], 3)
    assert made.laminates == typed.laminates
    before, after = hat_parameters(workboat, "s5"), hat_parameters(made, "s5")
    assert before == after, "the same hat, its tool face higher at the flanges"
    shape = resolve(made).shapes["s5"]
    lowest = min(z for _, z in shape.walls[0].points)
    assert lowest == pytest.approx(
        section_of(made, "s5").bead + sum(ply.thickness for ply in shape.walls[0].stack.plies)
    )
    assert not [one for one in problems(made) if one not in problems(workboat)]


def test_a_thicker_bead_lifts_the_flanges_alone(workboat: Project) -> None:
    made = variable_of(workboat, number(Change.BEAD, "s5", least=4, most=9)).applied(workboat, 1)
    assert section_of(made, "s5").bead == 9
    assert hat_parameters(made, "s5") == hat_parameters(workboat, "s5")
    lift = section_of(made, "s5").walls[0].points[0][1] - section_of(workboat, "s5").walls[0].points[0][1]
    assert lift == pytest.approx(5.0)


def test_a_floor_is_redrawn_for_its_plates_thickness(workboat: Project) -> None:
    made = variable_of(workboat, number(Change.REPEATS, "l3", ply=2, least=1, most=2, step=1)).applied(
        workboat, 1
    )
    assert floor_parameters(workboat, "s7") is not None
    assert floor_parameters(made, "s7") == floor_parameters(workboat, "s7")


def test_what_lies_under_the_crown_goes_with_it(launch: Project) -> None:
    made = variable_of(launch, number(Change.HEIGHT, "s26", least=140, most=180, step=40)).applied(launch, 1)
    for old, new in zip(section_of(launch, "s26").walls[1:], section_of(made, "s26").walls[1:], strict=True):
        assert [(y, z + 30) for y, z in old.points] == [pytest.approx(point) for point in new.points]
    assert not [one for one in problems(made) if one not in problems(launch)]


def test_a_cap_stays_against_a_thicker_crown(launch: Project) -> None:
    variable = variable_of(launch, number(Change.REPEATS, "l13", ply=3, least=3, most=4, step=1))
    made = variable.applied(launch, 1)
    grown = _thick(made, "l13") - _thick(launch, "l13")
    old, new = (section_of(project, "s26").walls[1].points[0] for project in (launch, made))
    assert grown > 0.5
    assert new == pytest.approx((old[0], old[1] - grown))


def test_caps_on_one_another_stay_on_one_another(launch: Project) -> None:
    variable = variable_of(launch, number(Change.REPEATS, "l15", ply=1, least=1, most=2, step=1))
    made = variable.applied(launch, 1)
    grown = _thick(made, "l15") - _thick(launch, "l15")
    assert grown > 0.2
    old, new = (section_of(project, "s26").walls for project in (launch, made))
    assert new[0] == old[0], "the hat itself is of another laminate"
    for place in range(3):
        assert new[1 + place].points[0][1] == pytest.approx(old[1 + place].points[0][1] - place * grown)


def test_a_block_and_its_cover_go_with_the_bed(launch: Project) -> None:
    taller = variable_of(launch, number(Change.HEIGHT, "s31", least=188, most=228)).applied(launch, 1)
    thicker = variable_of(launch, number(Change.REPEATS, "l18", ply=3, least=4, most=5, step=1)).applied(
        launch, 1
    )
    grown = _thick(thicker, "l18") - _thick(launch, "l18")
    old = section_of(launch, "s31")
    for made, by in ((taller, 20.0), (thicker, -grown)):
        new = section_of(made, "s31")
        for part, other in zip((*old.walls[1:], *old.fills), (*new.walls[1:], *new.fills), strict=True):
            assert [(y, z + by) for y, z in part.points] == [pytest.approx(at) for at in other.points]
        assert not [one for one in problems(made) if one not in problems(launch)]


def test_a_pan_on_the_hull_slides_along_it(launch: Project) -> None:
    made = variable_of(launch, number(Change.CROWN_WIDTH, "s62", least=60, most=100)).applied(launch, 1)
    for old, new in zip(section_of(launch, "s62").walls[1:], section_of(made, "s62").walls[1:], strict=True):
        slope = (old.points[1][1] - old.points[0][1]) / (old.points[1][0] - old.points[0][0])
        for (y, z), (to_y, to_z) in zip(old.points, new.points, strict=True):
            assert to_z - z == pytest.approx(slope * (to_y - y))
            assert abs(to_y - y) > 5


def test_caps_and_tabs_of_other_shapes_lie_on_their_laminates(launch: Project) -> None:
    girder = variable_of(launch, number(Change.REPEATS, "l13", ply=3, least=3, most=5, step=1))
    made = girder.applied(launch, 2)
    grown = _thick(made, "l13") - _thick(launch, "l13")
    old, new = (section_of(project, "s20").walls for project in (launch, made))
    assert new[0] == old[0], "the tool stays"
    for cap in (1, 2):
        assert new[cap].points[0] == pytest.approx((old[cap].points[0][0], old[cap].points[0][1] - grown))
    assert not [one for one in problems(made) if one not in problems(launch)]
    tabs = variable_of(launch, number(Change.REPEATS, "l17", ply=1, least=1, most=2, step=1))
    made = tabs.applied(launch, 1)
    grown = _thick(made, "l17") - _thick(launch, "l17")
    old, new = (section_of(project, "s37").walls for project in (launch, made))
    for outward, place in ((1, 2), (-1, 4)):
        assert new[place - 1] == old[place - 1], "the tab on the plate"
        for (y, z), (to_y, to_z) in zip(old[place].points, new[place].points, strict=True):
            assert (to_y, to_z) == pytest.approx((y + outward * grown, z + grown))


def test_a_floors_tabs_stay_on_its_thicker_plate(launch: Project) -> None:
    plate = variable_of(launch, number(Change.REPEATS, "l16", ply=2, least=3, most=4, step=1))
    made = plate.applied(launch, 1)
    grown = _thick(made, "l16") - _thick(launch, "l16")
    old, new = (section_of(project, "s37").walls for project in (launch, made))
    for place, by in ((1, grown), (2, grown), (3, 0.0), (4, 0.0)):
        assert new[place].points[0] == pytest.approx((old[place].points[0][0] + by, old[place].points[0][1]))


def test_a_floors_putty_goes_with_the_face_it_lies_on(launch: Project) -> None:
    plate = variable_of(launch, number(Change.REPEATS, "l16", ply=2, least=2, most=4, step=1))
    made = plate.applied(launch, 2)
    grown = _thick(made, "l16") - _thick(launch, "l16")
    old, new = (section_of(project, "s37") for project in (launch, made))
    right, left, _ = (
        [(b[0] - a[0], b[1] - a[1]) for a, b in zip(one.points, other.points, strict=True)]
        for one, other in zip(old.fills, new.fills, strict=True)
    )
    assert grown > 1
    assert right == [pytest.approx((grown, 0.0))] * len(right), "as a whole, by the plate's inside face"
    assert left == [(0.0, 0.0)] * len(left), "on the plate's mould face, which stays"
    bed = sorted(y for y, _ in new.fills[2].points)
    assert bed[-1] - bed[0] == pytest.approx(_thick(made, "l16")), "as wide as the plate over it"
    assert not [one for one in problems(made) if one not in problems(launch)]


def test_a_wedge_round_a_bulkheads_foot_is_stretched_by_what_the_bulkhead_grows(launch: Project) -> None:
    record = next(one for one in launch.laminates if one.id == "l6")
    ply = next(number for number, one in enumerate(record.plies, 1) if one.thickness is None)
    now = sum(one == record.plies[ply - 1] for one in record.plies)
    wish = number(Change.REPEATS, "l6", ply=ply, least=now, most=now + 1, step=1)
    made = variable_of(launch, wish).applied(launch, 1)
    grown = _thick(made, "l6") - _thick(launch, "l6")
    old, new = (section_of(project, "s52").fills[0].points for project in (launch, made))
    middle = sum(y for y, _ in old) / len(old)
    for (y, z), (to_y, to_z) in zip(old, new, strict=True):
        assert (to_y, to_z) == pytest.approx((y + grown if y > middle else y, z))


def _thick(project: Project, laminate: str) -> float:
    record = next(one for one in project.laminates if one.id == laminate)
    return thickness(resolved_laminate(record, book_of(project)))


# -- plies ---------------------------------------------------------------------------------------


def test_layers_of_a_fabric_of_layers_are_plies_of_the_document(launch: Project) -> None:
    variable = variable_of(launch, number(Change.REPEATS, "l1", ply=5, least=3, most=6, step=1))
    assert (variable.present, variable.exact) == (5, True)
    assert variable.nearest(launch) == (2, True)
    made = variable.applied(launch, 0)
    materials = [ply.material for ply in made.laminates[0].plies]
    assert materials == ["gelcoat", "skin300", "csm450", *["m1808"] * 3, "csm450"]
    assert variable.applied(launch, 2) is launch


def test_what_was_measured_stays_on_its_ply(workboat: Project) -> None:
    measured = LaminateAsBuilt(laminate="l2", plies=(PlyAsBuilt(ply=6, thickness=1.3),))
    boat = with_laminate_measured(workboat, measured)
    made = variable_of(boat, number(Change.REPEATS, "l2", ply=2, least=1, most=3, step=1)).applied(boat, 2)
    assert [each.ply for each in measured_laminate(made, "l2").plies] == [8]


def test_a_laminates_sequences_keep_mat_between_fabrics_and_the_gauge(workboat: Project) -> None:
    menu = ("csm450", "wr600", "m1808", "bx600")
    menu = tuple(one for one in menu if book_of(workboat).find(one) is not None)
    wish = Plies(id="q", laminate="l2", menu=menu, least=2, most=4, kept=1, ended=1, gauge=5.0)
    variable = plies_of(workboat, wish)
    free = plies_of(workboat, replace(wish, gauge=None))
    assert 0 < variable.count < free.count
    reached = 0
    for choice in range(free.count):
        made = free.applied(workboat, choice)
        laminate = next(one for one in made.laminates if one.id == "l2")
        faces = [laid(book_of(made), ply) for ply in laminate.plies]
        assert all(one.mat_last or other.mat_first for one, other in pairwise(faces))
        assert (laminate.plies[0].material, laminate.plies[-1].material) == ("gelcoat", "csm450")
        reached += _thick(made, "l2") >= 5.0 - 1e-9
    assert reached == variable.count


def test_1808_shows_its_mat_to_the_mould(launch: Project) -> None:
    faces = laid(book_of(launch), Ply(material="m1808"))
    assert (faces.mat_first, faces.mat_last) == (True, False)
    fabric = book_of(launch).reinforcement("m1808")
    assert fabric is not None
    assert fabric.layers[0].kind is PlyKind.MAT


def test_present_plies_turned_or_weighed_are_only_nearest(workboat: Project) -> None:
    wish = Plies(id="q", laminate="l2", menu=("csm450", "wr600"), least=3, most=6, kept=1)
    choice, exact = plies_of(workboat, wish).nearest(workboat)
    assert exact
    turned = edits.with_ply_replaced(workboat, "l2", 2, Ply(material="wr600", angle=45))
    variable = plies_of(turned, wish)
    assert variable.nearest(turned) == (choice, False)
    assert variable.applied(turned, choice).laminates == workboat.laminates


# -- what is drawn in plan -----------------------------------------------------------------------


def test_a_longitudinal_moves_as_the_plan_moves_it(launch: Project) -> None:
    variable = variable_of(launch, number(Change.PLACE, "b125", least=855, most=955, step=50))
    assert variable.nearest(launch) == (1, True)
    assert variable.applied(launch, 2) == planning.moved(launch, ["b125"], 0.0, 50.0)
    assert variable.applied(launch, 1) is launch


FLOORS = ("b126", "b127", "b129", "b130", "b131", "b133")


@pytest.mark.parametrize("count", [2, 4, 6, 7, 9])
def test_transverses_stand_evenly_between_the_first_and_the_last(launch: Project, count: int) -> None:
    wish = number(Change.TRANSVERSES, *FLOORS, least=2, most=9, step=1)
    made = variable_of(launch, wish).applied(launch, count - 2)
    before, after = (planning.layout_of(project, "y122") for project in (launch, made))
    floors = [one for one in after.members if one.section == "s37"]
    places = sorted(one.points[0][0] for one in floors)
    gap = (7950 - 1200) / (count - 1)
    assert places == [pytest.approx(1200 + k * gap) for k in range(count)]
    held = {one.id: one for one in before.members}
    for end in ("b126", "b133"):
        assert next(one for one in floors if one.id == end) == held[end]
    assert len({one.id for one in floors} & set(FLOORS)) == min(count, 6)
    assert len({one.name for one in after.members}) == len(after.members)
    found = resolve(made).found
    assert found is not None
    assert {span.id for span in found.spans} == {mark.id for mark in after.spans}, "all found is marked"
    others = {one.id for one in before.members} - set(FLOORS)
    assert all(
        replace(one, openings=held[one.id].openings) == held[one.id]
        for one in after.members
        if one.id in others
    )


def test_new_transverses_take_after_their_nearest(launch: Project) -> None:
    held = planning.layout_of(launch, "y122").members
    odd = planning.with_part_values(launch, ["b131"], section="s274")
    wish = number(Change.TRANSVERSES, *FLOORS, least=2, most=11, step=1)
    made = variable_of(odd, wish).applied(odd, 9)
    floors = {
        one.points[0][0]: one.section
        for one in planning.layout_of(made, "y122").members
        if one.kind == "transverse"
    }
    for x, section in floors.items():
        nearest = min((one for one in held if one.id in FLOORS), key=lambda one: abs(one.points[0][0] - x))
        assert section == ("s274" if nearest.id == "b131" else "s37")


def test_evenly_set_transverses_are_the_present_choice(launch: Project) -> None:
    wish = number(Change.TRANSVERSES, *FLOORS, least=2, most=7, step=1)
    assert variable_of(launch, wish).nearest(launch) == (4, False)
    even = variable_of(launch, wish).applied(launch, 4)
    again = variable_of(even, wish)
    assert again.nearest(even) == (4, True)
    assert again.applied(even, 4) is even


# -- by hand, and the boat -----------------------------------------------------------------------


def test_panels_grow_by_what_their_spans_spacing_does(workboat: Project) -> None:
    wish = number(Change.SPACING, "m22", "p14", least=400, most=500, step=100)
    made = variable_of(workboat, wish).applied(workboat, 1)
    span, was = made.spans[0], workboat.spans[0]
    panel, held = made.panels[0], workboat.panels[0]
    assert span.s == 500
    assert panel.b - held.b == pytest.approx(500 - was.s)
    assert replace(panel, b=held.b) == held


def test_speed_and_displacement_are_the_boats(workboat: Project) -> None:
    speed = variable_of(workboat, number(Change.SPEED, least=20, most=30, step=5))
    assert speed.applied(workboat, 2) == edits.with_craft(workboat, replace(workboat.craft, speed=30.0))
    assert speed.words(1, workboat) == "25 kn"
    mass = variable_of(workboat, number(Change.MASS, least=3000, most=4000))
    assert mass.applied(workboat, 0).craft.mass == 3000


# -- every step of a boat ------------------------------------------------------------------------


BOATS = ("eelgrass_workboat", "first_hat_lesson", "tidewrack_grid", "tidewrack_layout", "tidewrack_plain")


@pytest.mark.parametrize("name", BOATS)
def test_every_step_of_a_sample_has_the_present_in_the_middle(name: str) -> None:
    project = load(folder("sample_projects") / f"{name}.json")
    steps = all_steps(project)
    assert {step.change for step in steps} >= {Change.REPEATS, Change.SPEED, Change.MASS}
    assert len({step.id for step in steps}) == len(steps)
    for step in steps:
        variable = variable_of(project, step)
        choice, exact = variable.nearest(project)
        assert variable.values[choice] == pytest.approx(variable.present)
        assert choice < variable.count - 1, "a step up"
        if exact:
            assert variable.applied(project, choice) is project
        else:
            assert step.change is Change.TRANSVERSES


def test_steps_of_a_boat_in_us_units_are_round_there() -> None:
    lesson = load(folder("sample_projects") / "first_hat_lesson.json")
    assert lesson.units is System.US
    said = {
        variable.name: [variable.words(choice, lesson) for choice in range(variable.count)]
        for variable in (variable_of(lesson, one) for one in all_steps(lesson))
    }
    assert said["hat height of Hat stringer"] == ["3.5 in", "4 in", "4.5 in"]
    assert said["spacing of Bottom panel"] == ["10 in", "11 in", "12 in"]
    assert said["span length of Bottom panel"] == ["26 in", "30 in", "34 in"]
    assert said["speed"] == ["21 kn", "22 kn", "23 kn"]
    (number,) = [one for one in all_steps(lesson) if one.change is Change.MASS]
    pounds = number.step / 0.45359237
    assert pounds == pytest.approx(round(0.05 * lesson.craft.mass / 4.5359237) * 10)
