"""Everything wrong in meaning is listed at once, with place and remedy, and what it touches is blocked."""

from dataclasses import replace
from typing import Any

import pytest

from stringerlab.errors import Problem
from stringerlab.laminate.records import Ply
from stringerlab.layout.records import End
from stringerlab.materials import shipped
from stringerlab.project import Project, book_of, edits, problems, resolve


def with_panel(boat: Project, **changes: Any) -> Project:
    return replace(boat, panels=(replace(boat.panels[0], **changes), *boat.panels[1:]))


def with_span(boat: Project, **changes: Any) -> Project:
    return replace(boat, spans=(replace(boat.spans[0], **changes), *boat.spans[1:]))


def with_section(boat: Project, **changes: Any) -> Project:
    return replace(boat, sections=(replace(boat.sections[0], **changes),))


def with_craft(boat: Project, **changes: Any) -> Project:
    return replace(boat, craft=replace(boat.craft, **changes))


def only(boat: Project) -> Problem:
    [problem] = problems(boat)
    assert problem.what
    assert problem.where
    assert problem.remedy
    return problem


def test_sound_boat_has_none(boat: Project):
    assert problems(boat) == ()
    resolved = resolve(boat)
    assert [case.panel.id for case in resolved.panels] == ["p7", "p8"]
    assert [case.span.id for case in resolved.spans] == ["m9", "m10"]
    assert resolved.blocked == {}
    assert set(resolved.stacks) == {"l1", "l2", "l3"}
    assert set(resolved.shapes) == {"s4"}


def test_cases_hold_the_objects_their_ids_name(boat: Project):
    resolved = resolve(boat)
    assert resolved.panels[1].stack is resolved.stacks["l3"]
    assert resolved.spans[0].section is resolved.shapes["s4"]
    assert resolved.spans[0].plating is resolved.stacks["l1"]
    assert resolved.spans[0].drawn_deadrise == pytest.approx(0.3141592653589793)  # 18° is a tenth of π
    assert resolved.shapes["s4"].walls[0].stack is resolved.stacks["l2"]


def test_structural_fill_has_its_modulus_and_foam_none(boat: Project):
    block = resolve(boat).shapes["s4"].fills[0]
    assert (block.density, block.modulus, block.strength) == (720, 1100, 18)
    fill = replace(boat.sections[0].fills[0], material="pu_foam32")
    foam = resolve(with_section(boat, fills=(fill,))).shapes["s4"].fills[0]
    assert (foam.density, foam.modulus, foam.strength) == (32, 0, None)


def test_own_material_comes_before_the_shipped_one(boat: Project):
    mat = next(record for record in shipped().reinforcements if record.id == "csm450")
    own = edits.added(boat, replace(mat, name="Our mat", weight=460.0))
    assert book_of(own).reinforcement("csm450") == own.materials.reinforcements[-1]
    assert "Our mat" in [ply.name for ply in resolve(own).stacks["l1"].plies]


@pytest.mark.parametrize("deadrise", [90.0, -5.0])
def test_absurd_deadrise(boat: Project, deadrise: float):
    problem = only(with_panel(boat, deadrise=deadrise))
    assert problem.where == "panel 'Aft bottom, port' (p7), deadrise"
    assert "0 to 60" in problem.what


def test_negative_length(boat: Project):
    found = problems(with_panel(boat, b=-420.0))
    assert [problem.where for problem in found] == ["panel 'Aft bottom, port' (p7), b"]


@pytest.mark.parametrize(("b", "units"), [(0.42, "m"), (16.5, "in or cm"), (1.4, "m or ft or in")])
def test_panel_width_in_another_unit_is_guessed(boat: Project, b: float, units: str):
    problem = only(with_panel(boat, b=b))
    assert problem.where == "panel 'Aft bottom, port' (p7), b"
    for unit in units.split(" or "):
        assert f" {unit}" in problem.remedy
    assert problem.remedy.startswith("It looks like a number in ")
    assert problem.remedy.endswith("; write it in mm.")


def test_mass_in_tonnes_is_guessed(boat: Project):
    problem = only(with_craft(boat, mass=2.3))
    assert problem.where == "craft 'Saltmere 6', mass"
    assert problem.remedy == "It looks like a number in t; write it in kg."


def test_short_side_longer_than_the_long(boat: Project):
    problem = only(with_panel(boat, b=1100.0, l=420.0))
    assert problem.what == "b is 1100 mm and l 420 mm, but b is the short side."
    assert problem.remedy == "Exchange b and l."


@pytest.mark.parametrize("ends", [(End.SIMPLE, End.FREE), (End.FREE, End.SIMPLE), (End.FREE, End.FREE)])
def test_span_whose_ends_carry_no_load(boat: Project, ends: tuple[End, End]):
    problem = only(with_span(boat, ends=ends))
    assert problem.where == "span 'Main stringer, bay 2' (m9)"
    assert "carries no load" in problem.what


def test_cantilever_is_sound(boat: Project):
    assert problems(with_span(boat, ends=(End.FREE, End.HELD))) == ()


def test_unknown_laminate_of_a_panel(boat: Project):
    problem = only(with_panel(boat, laminate="l11"))
    assert problem.what == "There is no laminate 'l11'."
    assert problem.where == "panel 'Aft bottom, port' (p7), laminate"
    assert problem.remedy == "Did you mean 'l1'?"


def test_id_of_another_kind(boat: Project):
    assert only(with_panel(boat, laminate="s4")).what == "'s4' is a section, not a laminate."


def test_unknown_section_of_a_span_offers_those_there_are(boat: Project):
    problem = only(with_span(boat, section="hat"))
    assert problem.where == "span 'Main stringer, bay 2' (m9), section"
    assert problem.remedy == "There is s4."


def test_unknown_material_of_a_ply(boat: Project):
    spoiled = edits.with_ply(boat, "l3", 1, Ply(material="csm45"))
    [problem] = problems(spoiled)
    assert problem.where.startswith("laminate 'Cored bottom' (l3), ply 2")
    assert "csm45" in problem.what
    assert "csm450" in problem.remedy
    assert set(resolve(spoiled).blocked) == {"p8", "m10"}


def test_unknown_material_of_a_fill_and_laminate_of_a_wall(boat: Project):
    section = boat.sections[0]
    spoiled = with_section(
        boat,
        fills=(replace(section.fills[0], material="frp_blok"),),
        walls=(replace(section.walls[0], laminate="l22"),),
    )
    assert [(problem.where, problem.remedy) for problem in problems(spoiled)] == [
        ("section 'Main stringer' (s4), wall 'Hat' (w5), laminate", "Did you mean 'l2'?"),
        ("section 'Main stringer' (s4), fill 'Tank bed' (f6), material", "Did you mean 'frp_block'?"),
    ]
    assert set(resolve(spoiled).blocked) == {"m9", "m10"}


def test_lap_of_a_wall_that_is_not_there(boat: Project):
    problem = only(with_section(boat, laps=(("w5", "w50"),)))
    assert problem.where == "section 'Main stringer' (s4)"
    assert "'w50'" in problem.what


def test_reference_to_an_unknown_laminate(boat: Project):
    reference = boat.sections[0].reference
    assert reference is not None
    problem = only(with_section(boat, reference=replace(reference, laminate="l9")))
    assert problem.where == "section 'Main stringer' (s4), reference, laminate"


def test_unsound_reference_laminate_does_not_block_the_section(boat: Project):
    reference = boat.sections[0].reference
    assert reference is not None
    spoiled = with_section(boat, reference=replace(reference, laminate="l3"))
    spoiled = edits.with_ply(spoiled, "l3", 1, Ply(material="none"))
    assert set(resolve(spoiled).shapes) == {"s4"}


def test_doubled_id_blocks_both_and_says_whose_it_is(boat: Project):
    spoiled = replace(boat, panels=(boat.panels[0], replace(boat.panels[1], id="p7")))
    problem = only(spoiled)
    assert problem.where == "panel 'Tank bay' (p7)"
    assert problem.what == "Its id 'p7' is also that of panel 'Aft bottom, port' (p7)."
    resolved = resolve(spoiled)
    assert resolved.panels == ()
    assert resolved.blocked == {"p7": (problem,)}


def test_id_doubled_across_kinds(boat: Project):
    spoiled = with_panel(boat, id="l1")
    assert only(spoiled).what == "Its id 'l1' is also that of laminate 'Bottom' (l1)."
    assert {"l1", "m9"} <= set(resolve(spoiled).blocked)


def test_doubled_id_of_two_materials_is_said_once(boat: Project):
    solid = boat.materials.solids[0]
    spoiled = replace(boat, materials=replace(boat.materials, solids=(solid, replace(solid, name="Other"))))
    found = problems(spoiled)
    assert len(found) == 1
    assert "x21" in str(found[0])


def test_empty_id(boat: Project):
    assert only(with_panel(boat, id="")).what == "It has no id."


def test_empty_laminate_blocks_what_uses_it(boat: Project):
    laminates = (boat.laminates[0], boat.laminates[1], replace(boat.laminates[2], plies=()))
    spoiled = replace(boat, laminates=laminates)
    problem = only(spoiled)
    assert problem.where == "laminate 'Cored bottom' (l3)"
    resolved = resolve(spoiled)
    assert set(resolved.stacks) == {"l1", "l2"}
    assert resolved.blocked == {"p8": (problem,), "m10": (problem,)}
    assert [case.panel.id for case in resolved.panels] == ["p7"]
    assert [case.span.id for case in resolved.spans] == ["m9"]


def test_ply_of_no_thickness(boat: Project):
    spoiled = edits.with_ply_replaced(boat, "l3", 3, Ply(material="pvc80", thickness=0.0))
    found = problems(spoiled)
    assert found
    assert all(problem.where.startswith("laminate 'Cored bottom' (l3), ply 4") for problem in found)
    assert set(resolve(spoiled).blocked) == {"p8", "m10"}


@pytest.mark.parametrize("glass", [0.0, -0.3, 45.0])
def test_material_out_of_range_blocks_all_that_is_made_of_it(boat: Project, glass: float):
    own = replace(boat.materials.reinforcements[0], glass=glass)
    spoiled = replace(boat, materials=replace(boat.materials, reinforcements=(own,)))
    found = problems(spoiled)
    assert [problem.where for problem in found] == ["reinforcement 'Yard roving 610' (x20), glass"]
    resolved = resolve(spoiled)
    assert set(resolved.stacks) == {"l1", "l3"}
    assert set(resolved.blocked) == {"m9", "m10"}
    assert resolved.blocked["m9"] == found


def test_faults_of_a_laminate_whose_material_is_wrong_are_said_too(boat: Project):
    own = replace(boat.materials.reinforcements[0], glass=0.0)
    spoiled = replace(boat, materials=replace(boat.materials, reinforcements=(own,)))
    spoiled = edits.with_ply_replaced(spoiled, "l2", 0, Ply(material="csm450", angle=900.0))
    assert len(problems(spoiled)) == 2


def test_reinforcement_of_an_unknown_resin(boat: Project):
    own = replace(boat.materials.reinforcements[0], resin="vinilester")
    spoiled = replace(boat, materials=replace(boat.materials, reinforcements=(own,)))
    assert "vinilester" in str(only(spoiled))
    assert set(resolve(spoiled).blocked) == {"m9", "m10"}


@pytest.mark.parametrize("changes", [{"speed": -3.0}, {"stations": ()}, {"mass": 1e9}])
def test_unsound_craft_blocks_every_subject(boat: Project, changes: dict[str, Any]):
    spoiled = with_craft(boat, **changes)
    found = problems(spoiled)
    assert found
    assert all(problem.where.startswith("craft 'Saltmere 6'") for problem in found)
    resolved = resolve(spoiled)
    assert (resolved.panels, resolved.spans) == ((), ())
    assert resolved.blocked == dict.fromkeys(["p7", "p8", "m9", "m10"], found)


def test_stations_out_of_order(boat: Project):
    found = problems(with_craft(boat, stations=boat.craft.stations[::-1]))
    assert any("from aft forward" in problem.remedy for problem in found)


def test_unknown_method(boat: Project):
    problem = only(replace(boat, method="iso_12215_5_208"))
    assert problem.where == "method"
    assert problem.remedy == "Did you mean 'iso_12215_5_2008'?"


def test_everything_is_listed_at_once_in_the_order_of_the_file(boat: Project):
    spoiled = with_craft(with_panel(with_span(boat, section="s9"), b=2000.0), speed=900.0)
    assert [problem.where for problem in problems(spoiled)] == [
        "craft 'Saltmere 6', speed",
        "panel 'Aft bottom, port' (p7)",
        "span 'Main stringer, bay 2' (m9), section",
    ]


def test_three_thousand_panels_of_an_unknown_laminate(boat: Project):
    panels = tuple(replace(boat.panels[0], id=f"p{100 + i}", laminate="l99") for i in range(3000))
    spoiled = replace(boat, panels=panels)
    assert len(problems(spoiled)) == 3000
    assert len(resolve(spoiled).blocked) == 3000


def spoiled_wall(boat: Project, **changes: Any) -> Project:
    return with_section(boat, walls=(replace(boat.sections[0].walls[0], **changes),))


@pytest.mark.parametrize(
    "changes",
    [
        {"points": ((0.0, 0.0),), "fillets": ()},
        {"points": (), "fillets": ()},
        {"points": ((0.0, 0.0), (100.0, 100.0), (100.0, 0.0), (0.0, 100.0)), "fillets": ()},
        {"fillets": (0.0, 500.0, 12.0, 12.0, 12.0, 0.0)},
        {"fillets": (0.0, 12.0)},
    ],
    ids=["of one point", "of none", "crossing itself", "fillet larger than its legs", "too few fillets"],
)
def test_wall_that_cannot_be_built(boat: Project, changes: dict[str, Any]):
    spoiled = spoiled_wall(boat, **changes)
    found = problems(spoiled)
    assert found
    assert {problem.where for problem in found} == {"section 'Main stringer' (s4), wall 'Hat' (w5)"}
    assert all(problem.remedy for problem in found)
    resolved = resolve(spoiled)
    assert resolved.shapes == {}
    assert resolved.blocked == {"m9": found, "m10": found}
    assert [case.panel.id for case in resolved.panels] == ["p7", "p8"]


def test_wall_is_looked_at_even_where_its_laminate_is_unknown(boat: Project):
    spoiled = spoiled_wall(boat, laminate="l22", points=((0.0, 0.0),), fillets=())
    assert [problem.where for problem in problems(spoiled)] == [
        "section 'Main stringer' (s4), wall 'Hat' (w5), laminate",
        "section 'Main stringer' (s4), wall 'Hat' (w5)",
    ]


def test_fill_that_leaks(boat: Project):
    fill = replace(boat.sections[0].fills[0], points=((0.0, 20.0), (10.0, 20.0)))
    problem = only(with_section(boat, fills=(fill,)))
    assert problem.where == "section 'Main stringer' (s4), fill 'Tank bed' (f6)"


def test_section_without_walls(boat: Project):
    found = problems(with_section(boat, walls=()))
    assert "It has no wall." in [problem.what for problem in found]


def test_coordinate_far_outside(boat: Project):
    hat = boat.sections[0].walls[0]
    spoiled = spoiled_wall(boat, points=(*hat.points[:5], (1e9, 0.0)))
    assert [problem.where for problem in problems(spoiled)] == [
        "section 'Main stringer' (s4), wall 'Hat' (w5), point 6, first number"
    ]


def test_overlap_of_walls_is_put_right_and_reported_and_blocks_nothing(boat: Project):
    hat = boat.sections[0].walls[0]
    doubler = replace(hat, id="w30", name="", points=((-40.0, 119.0), (40.0, 119.0)), fillets=())
    resolved = resolve(with_section(boat, walls=(hat, doubler)))
    assert resolved.problems == ()
    assert resolved.blocked == {}
    assert [problem.where for problem in resolved.repairs] == ["section 'Main stringer' (s4), wall 2 (w30)"]
    assert resolve(boat).repairs == ()
