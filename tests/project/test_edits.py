from collections.abc import Callable
from dataclasses import replace

import pytest

from stringerlab.errors import StringerlabError
from stringerlab.files import dumps, loads
from stringerlab.laminate.records import Laminate, Ply
from stringerlab.materials import shipped
from stringerlab.materials.records import GelCoat
from stringerlab.project import Project, edits, problems
from stringerlab.section.records import Fill, Section, Side, Wall

CLIP = Wall(id="a", points=((0.0, 0.0), (50.0, 0.0)), laminate="l2", side=Side.LEFT)
PUTTY = Fill(id="", points=((0.0, 0.0), (9.0, 0.0), (0.0, 9.0)), material="putty")

EDITS: dict[str, Callable[[Project], Project]] = {
    "add a laminate": lambda boat: edits.added(boat, Laminate(id="", name="Tabbing", plies=())),
    "add a section": lambda boat: edits.added(boat, Section(id="", name="Clip", walls=(CLIP,))),
    "add a wall": lambda boat: edits.added(boat, CLIP, to="s4"),
    "add a fill": lambda boat: edits.added(boat, PUTTY, to="s4"),
    "add a panel": lambda boat: edits.added(boat, replace(boat.panels[0], name="Fore bottom")),
    "add a span": lambda boat: edits.added(boat, replace(boat.spans[0], name="Bay 4")),
    "add a material": lambda boat: edits.added(boat, shipped().resins[0]),
    "replace a laminate": lambda boat: edits.replaced(boat, replace(boat.laminates[0], name="New")),
    "replace a section": lambda boat: edits.replaced(boat, replace(boat.sections[0], bead=6.0)),
    "replace a wall": lambda boat: edits.replaced(boat, replace(CLIP, id="w5")),
    "replace a fill": lambda boat: edits.replaced(boat, replace(PUTTY, id="f6")),
    "replace a panel": lambda boat: edits.replaced(boat, replace(boat.panels[0], b=400.0)),
    "replace a span": lambda boat: edits.replaced(boat, replace(boat.spans[0], lu=1000.0)),
    "replace a material": lambda boat: edits.replaced(
        boat, replace(boat.materials.reinforcements[0], weight=620.0)
    ),
    "rename a laminate": lambda boat: edits.renamed(boat, "l1", "Bottom skin"),
    "rename a wall": lambda boat: edits.renamed(boat, "w5", "Top hat"),
    "rename a material": lambda boat: edits.renamed(boat, "x21", "Bed block"),
    "remove a fill": lambda boat: edits.removed(boat, "f6"),
    "remove a wall": lambda boat: edits.removed(boat, "w5"),
    "remove a panel": lambda boat: edits.removed(boat, "p8"),
    "remove a span": lambda boat: edits.removed(boat, "m10"),
    "change the craft": lambda boat: edits.with_craft(boat, replace(boat.craft, speed=32.0)),
    "put in a ply": lambda boat: edits.with_ply(boat, "l2", 1, Ply(material="csm300")),
    "replace a ply": lambda boat: edits.with_ply_replaced(boat, "l2", 0, Ply(material="csm300")),
    "take out a ply": lambda boat: edits.without_ply(boat, "l2", 3),
    "put in a point": lambda boat: edits.with_point(boat, "w5", 3, (0.0, 125.0), 8.0),
    "move a point": lambda boat: edits.with_point_moved(boat, "w5", 2, (-50.0, 130.0)),
    "take out a point": lambda boat: edits.without_point(boat, "w5", 5),
    "change a fillet": lambda boat: edits.with_fillet(boat, "w5", 2, 15.0),
    "move a point of a fill": lambda boat: edits.with_point_moved(boat, "f6", 0, (-38.0, 90.0)),
}


@pytest.mark.parametrize("edit", EDITS.values(), ids=EDITS)
def test_edit_makes_a_new_project_and_leaves_the_old(boat: Project, edit: Callable[[Project], Project]):
    before = dumps(boat)
    after = edit(boat)
    assert after != boat
    assert dumps(boat) == before
    assert loads(dumps(after)) == after
    assert edit(boat) == after


def test_new_ids_are_kind_letter_and_counter(boat: Project):
    after = edits.added(boat, Laminate(id="", name="Tabbing", plies=()))
    after = edits.added(after, replace(boat.panels[0], name="Fore"))
    after = edits.added(after, replace(boat.spans[0], name="Bay 4"))
    after = edits.added(after, GelCoat(id="", name="Grey", density=shipped().gel_coats[0].density))
    assert after.laminates[-1].id == "l22"
    assert after.panels[-1].id == "p23"
    assert after.spans[-1].id == "m24"
    assert after.materials.gel_coats[-1].id == "x25"
    assert after.counter == 26


def test_added_section_gives_its_walls_new_ids_and_its_laps_follow(boat: Project):
    other = replace(CLIP, id="b")
    section = Section(id="", name="Floor", walls=(CLIP, other), fills=(PUTTY,), laps=(("a", "b"),))
    added = edits.added(boat, section).sections[-1]
    assert added.id == "s22"
    assert [wall.id for wall in added.walls] == ["w23", "w24"]
    assert [fill.id for fill in added.fills] == ["f25"]
    assert added.laps == (("w23", "w24"),)


def test_id_of_a_removed_thing_is_never_used_again(boat: Project):
    once = edits.added(boat, boat.panels[0])
    gone = edits.removed(once, once.panels[-1].id)
    again = edits.added(gone, boat.panels[0])
    assert once.panels[-1].id == "p22"
    assert again.panels[-1].id == "p23"


def test_file_with_a_counter_behind_its_ids_does_not_double_them(boat: Project):
    behind = replace(boat, counter=1)
    gone = edits.removed(behind, "p8")
    assert edits.added(gone, boat.panels[0]).panels[-1].id == "p22"
    assert (
        edits.added(edits.removed(edits.removed(behind, "f6"), "m10"), boat.panels[0]).panels[-1].id == "p22"
    )


def test_copy_of_a_shipped_material_keeps_its_id_and_stands_in_front(boat: Project):
    mat = next(record for record in shipped().reinforcements if record.id == "csm450")
    heavier = edits.added(boat, replace(mat, weight=460.0))
    assert heavier.materials.reinforcements[-1].id == "csm450"
    assert not problems(heavier)
    assert edits.removed(heavier, "csm450").materials == boat.materials


def test_material_whose_id_is_taken_gets_a_new_one(boat: Project):
    again = edits.added(boat, boat.materials.solids[0])
    assert [solid.id for solid in again.materials.solids] == ["x21", "x22"]


def test_laminate_in_use_is_not_removed_and_every_user_is_named(boat: Project):
    with pytest.raises(StringerlabError) as raised:
        edits.removed(boat, "l1")
    assert [problem.where for problem in raised.value.problems] == [
        "section 'Main stringer' (s4), reference, laminate",
        "panel 'Aft bottom, port' (p7), laminate",
        "span 'Main stringer, bay 2' (m9), plating",
    ]
    assert {problem.what for problem in raised.value.problems} == {
        "laminate 'Bottom' (l1) is in use and cannot be removed."
    }


@pytest.mark.parametrize(
    ("id", "user"),
    [
        ("l2", "section 'Main stringer' (s4), wall 'Hat' (w5), laminate"),
        ("s4", "span 'Main stringer, bay 2' (m9), section"),
        ("x20", "laminate 'Stringer' (l2), ply 2, material"),
        ("x21", "section 'Main stringer' (s4), fill 'Tank bed' (f6), material"),
    ],
)
def test_thing_in_use_is_not_removed(boat: Project, id: str, user: str):  # noqa: A002
    with pytest.raises(StringerlabError) as raised:
        edits.removed(boat, id)
    assert user in [problem.where for problem in raised.value.problems]


def test_wall_of_a_lap_is_not_removed(boat: Project):
    after = edits.added(boat, CLIP, to="s4")
    section = replace(after.sections[0], laps=(("w5", "w22"),))
    after = edits.replaced(after, section)
    with pytest.raises(StringerlabError, match="lap 1, second wall"):
        edits.removed(after, "w22")


def test_section_no_longer_used_goes_with_its_walls(boat: Project):
    after = edits.removed(edits.removed(edits.removed(boat, "m9"), "m10"), "s4")
    assert after.sections == ()


def test_unknown_id_offers_the_nearest(boat: Project):
    with pytest.raises(StringerlabError, match=r"There is no thing 'l33'\. Did you mean 'l3'"):
        edits.removed(boat, "l33")
    with pytest.raises(StringerlabError, match="There is no section 's9'"):
        edits.added(boat, CLIP, to="s9")
    with pytest.raises(StringerlabError, match="There is no panel"):
        edits.replaced(boat, replace(boat.panels[0], id="p70"))


def test_id_of_another_kind_says_what_it_is(boat: Project):
    with pytest.raises(StringerlabError, match="'l1' is a laminate, not a panel"):
        edits.replaced(boat, replace(boat.panels[0], id="l1"))
    with pytest.raises(StringerlabError, match="'p7' is a panel; it has no points"):
        edits.without_point(boat, "p7", 0)


def test_wall_that_a_section_is_given_without_id_gets_one(boat: Project):
    section = replace(boat.sections[0], walls=(*boat.sections[0].walls, replace(CLIP, id="")))
    after = edits.replaced(boat, section)
    assert [wall.id for wall in after.sections[0].walls] == ["w5", "w22"]
    assert after.counter == 23


def test_point_put_in_brings_its_fillet_and_taken_out_takes_it(boat: Project):
    after = edits.with_point(boat, "w5", 3, (0.0, 125.0), 8.0)
    wall = after.sections[0].walls[0]
    assert wall.points[3] == (0.0, 125.0)
    assert wall.fillets == (0, 12, 12, 8, 12, 12, 0)
    back = edits.without_point(after, "w5", 3)
    assert back == boat


def test_first_fillet_of_a_sharp_wall_makes_the_others_sharp(boat: Project):
    after = edits.added(boat, CLIP, to="s4")
    assert edits.with_fillet(after, "w22", 1, 5.0).sections[0].walls[1].fillets == (0.0, 5.0)
    assert edits.with_point(after, "w22", 1, (25.0, 0.0), 5.0).sections[0].walls[1].fillets == (0.0, 5.0, 0.0)
    assert edits.with_point(after, "w22", 1, (25.0, 0.0)).sections[0].walls[1].fillets == ()


@pytest.mark.parametrize(
    ("edit", "message"),
    [
        (
            lambda boat: edits.without_ply(boat, "l2", 4),
            r"laminate 'Stringer' \(l2\): There is no ply 5\. It has 4",
        ),
        (lambda boat: edits.with_ply_replaced(boat, "l2", -1, Ply(material="csm300")), "There is no ply 0"),
        (lambda boat: edits.without_point(boat, "w5", 6), r"wall 'Hat' \(w5\): There is no point 7"),
        (lambda boat: edits.with_fillet(boat, "f6", 0, 2.0), "'f6' is a fill, not a wall"),
    ],
)
def test_place_that_is_not_there(boat: Project, edit: Callable[[Project], Project], message: str):
    with pytest.raises(StringerlabError, match=message):
        edit(boat)


def test_ply_is_put_before_the_one_of_its_number(boat: Project):
    after = edits.with_ply(boat, "l2", 4, Ply(material="csm300"))
    assert [ply.material for ply in after.laminates[1].plies] == ["csm450", "x20", "db600", "x20", "csm300"]
    after = edits.with_ply(boat, "l2", 0, Ply(material="csm300"))
    assert after.laminates[1].plies[0].material == "csm300"


def test_what_an_edit_does_not_touch_is_shared(boat: Project):
    after = edits.with_point_moved(boat, "w5", 2, (-50.0, 130.0))
    assert after.laminates is boat.laminates
    assert after.panels is boat.panels
    assert after.sections[0].fills is boat.sections[0].fills
    assert after.sections[0].walls[0].points[2] == (-50.0, 130.0)
