"""A project's cavities: depth from the drawn section, foam from its book, flotation from what is typed."""

from dataclasses import replace
from math import isnan, radians, tan

import pytest

from stringerlab.assess.cavities import cavity_readings, flotation_reading
from stringerlab.craft import Station
from stringerlab.data import folder
from stringerlab.files import load
from stringerlab.layout.cavities import Cavities, CavityReading
from stringerlab.layout.flotation import Drive
from stringerlab.layout.plan import Cavity, Hand, Layout, Member, MemberKind, Use
from stringerlab.materials import shipped
from stringerlab.project import Project, resolve
from stringerlab.project.planning import (
    with_flotation,
    with_layout,
    with_layout_in_use,
    with_part,
    with_part_values,
)

BETA = radians(20)
FLOOR, LOWER, GIRDER = "s37", "s20", "s26"
CAVITIES = (
    Cavity(id="", name="Bilge", use=Use.BILGE, anchors=((500, 0),)),
    Cavity(id="", name="Void", use=Use.VOID, hand=Hand.PAIR, anchors=((1500, 700),), foam="pu_foam32"),
)


@pytest.fixture(scope="module")
def boat() -> Project:
    """A vee of 20° with three floors and a pair of girders of a sample's sections, a bilge and foam voids."""
    sample = load(folder("sample_projects") / "tidewrack_grid.json")
    craft = replace(
        sample.craft,
        stations=tuple(Station(x=x, keel_z=0, chine_y=1000, chine_z=1000 * tan(BETA)) for x in (0, 6000)),
    )
    floors = tuple(
        Member(id="", name="", kind=MemberKind.TRANSVERSE, points=((x, 0), (x, 1000)), section=FLOOR)
        for x in (1000.0, 2000.0, 3000.0)
    )
    girder = Member(
        id="", name="", kind=MemberKind.LONGITUDINAL, points=((0, 400), (6000, 400)), section=GIRDER
    )
    bare = replace(sample, craft=craft, panels=(), spans=(), layouts=(), layout="")
    return with_layout(bare, Layout(id="", name="Vee", members=(*floors, girder), cavities=CAVITIES))


def read(project: Project) -> Cavities:
    return cavity_readings(project, resolve(project))


def one(cavities: Cavities, name: str) -> CavityReading:
    return next(each for each in cavities.readings if each.name == name)


def height(project: Project, section: str) -> float:
    (drawn,) = [each for each in project.sections if each.id == section]
    return max(z for wall in drawn.walls for _, z in wall.points)


def test_depth_is_up_to_the_crown_of_the_section_as_drawn(boat: Project) -> None:
    bilge = one(read(boat), "Bilge")
    assert bilge.level == pytest.approx(height(boat, FLOOR))
    lower = with_part_values(boat, [boat.layouts[0].members[0].id], section=LOWER)
    assert height(boat, LOWER) < height(boat, FLOOR)
    assert one(read(lower), "Bilge").level == pytest.approx(height(boat, LOWER))


def test_foam_weighs_what_the_book_says(boat: Project) -> None:
    void = one(read(boat), "Void")
    assert void.foam_volume == void.volume
    assert void.foam_mass == pytest.approx(32e-9 * void.volume)
    foam = next(solid for solid in shipped().solids if solid.id == "pu_foam32")
    heavy = replace(foam, density=replace(foam.density, value=60.0))
    own = replace(boat, materials=replace(boat.materials, solids=(heavy,)))
    assert one(read(own), "Void").foam_mass == pytest.approx(60e-9 * void.volume)


def test_a_member_without_a_section_bounds_no_depth_and_is_said(boat: Project) -> None:
    """Rather than taken as one of no height."""
    bare = with_part_values(boat, [boat.layouts[0].members[0].id], section="")
    bilge = one(read(bare), "Bilge")
    assert bilge.level is not None
    assert bilge.level > 400 * tan(BETA)
    assert any("not known" in note for note in bilge.notes)


def test_it_is_read_once_for_as_long_as_nothing_it_depends_on_changes(boat: Project) -> None:
    first = read(boat)
    assert read(boat) is first
    assert read(replace(boat, name="Another", notes="rates and names change nothing")) is first
    moved = with_part_values(boat, [boat.layouts[0].cavities[0].id], depth=90.0)
    assert one(read(moved), "Bilge").depth == 90.0


def test_a_file_written_by_hand_without_marks_reads_the_same(boat: Project) -> None:
    (layout,) = boat.layouts
    unmarked = replace(boat, layouts=(replace(layout, bays=(), spans=()),))
    for each, same in zip(read(boat).readings, read(unmarked).readings, strict=True):
        assert same.volume == pytest.approx(each.volume)
        assert same.drained == each.drained


def test_only_the_layout_in_use_is_read(boat: Project) -> None:
    second = with_layout(boat, Layout(id="", name="Bare"))
    assert len(read(second).readings) == 2
    assert read(with_layout_in_use(second, second.layouts[1].id)).readings == ()
    none = with_layout_in_use(boat, "")
    assert read(none).readings == ()
    assert flotation_reading(none, resolve(none)) is None


def test_a_hull_without_a_bottom_gives_no_readings_but_its_reason(boat: Project) -> None:
    broken = replace(boat, craft=replace(boat.craft, stations=boat.craft.stations[:1]))
    cavities = read(broken)
    assert cavities.readings == ()
    assert cavities.amiss


def test_flotation_asks_for_all_it_needs_at_once_and_then_reckons(boat: Project) -> None:
    resolved = resolve(boat)
    asked = flotation_reading(boat, resolved)
    assert asked is not None
    assert asked.missing == ("length", "drive", "hull", "deck", "machinery", "persons", "capacity")
    assert isnan(asked.needed)
    (layout,) = boat.layouts
    known = with_flotation(
        boat,
        layout.id,
        length=5500.0,
        drive=Drive.SMALL,
        hull=0.0,
        deck=0.0,
        machinery=0.0,
        persons=0.0,
        capacity=100.0,
    )
    sealed = with_part_values(known, [layout.cavities[1].id], sealed=True)
    found = flotation_reading(sealed, resolve(sealed))
    assert found is not None
    assert found.missing == ()
    # a quarter of the greatest weight, in water of 62.4 lb/ft³ less foam of 32 kg/m³
    water = 62.4 * 0.45359237 / 0.3048**3
    assert found.needed == pytest.approx(0.25 * 100 / (water - 32) * 1e9, rel=1e-6)
    assert found.present == pytest.approx(2 * one(read(sealed), "Void").volume)
    assert found.enough


def test_a_boat_of_20_ft_needs_no_weights_to_be_told_that_she_is_not_covered(boat: Project) -> None:
    (layout,) = boat.layouts
    long = with_flotation(boat, layout.id, length=6096.0)
    found = flotation_reading(long, resolve(long))
    assert found is not None
    assert found.missing == ()
    assert "20 ft and longer" in str(found.outside[0])
    assert found.unsealed == pytest.approx(2 * one(read(boat), "Void").volume)


def test_a_typed_value_out_of_range_is_a_problem_of_the_layout(boat: Project) -> None:
    wrong = with_flotation(boat, boat.layouts[0].id, persons=-5.0)
    assert any("flotation" in problem.where for problem in resolve(wrong).problems)


def test_a_cavity_with_foam_that_is_nowhere_is_said(boat: Project) -> None:
    cork = Cavity(id="", name="Cork", use=Use.VOID, anchors=((2500, 700),), hand=Hand.PORT, foam="cork")
    grown = with_part(boat, boat.layouts[0].id, cork)
    assert any("cork" in str(placed.problem) for placed in read(grown).amiss)
    assert isnan(one(read(grown), "Cork").foam_mass)
