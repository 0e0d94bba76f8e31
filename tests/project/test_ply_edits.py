"""Edits on several plies at once, and where laminates and materials are used."""

from dataclasses import replace

import pytest

from stringerlab.errors import StringerlabError
from stringerlab.laminate import Laminate, Ply, abd, resolve
from stringerlab.layout.as_built import LaminateAsBuilt, PlyAsBuilt
from stringerlab.project import Project, book_of, edits
from stringerlab.project.measuring import measured_laminate, with_bead_measured, with_laminate_measured
from stringerlab.project.ply_edits import (
    MOST,
    Middle,
    free_name,
    laminate_duplicated,
    made_symmetric,
    plies_changed,
    plies_moved,
    plies_repeated,
    with_plies,
    without_plies,
)
from stringerlab.project.where_used import users

GEL = Ply(material="gelcoat", thickness=0.6)
MAT = Ply(material="csm450")
ROVING = Ply(material="wr600")
BIAS = Ply(material="db600", angle=30.0)
UD = Ply(material="ud300", angle=20.0)
CORE = Ply(material="pvc80", thickness=20.0)
SOFT = Ply(material="pvc60", thickness=20.0)


def laid(boat: Project, *plies: Ply) -> tuple[Project, str]:
    grown = edits.added(boat, Laminate(id="", name="Trial", plies=plies))
    return grown, grown.laminates[-1].id


def plies_of(project: Project, id: str) -> tuple[Ply, ...]:  # noqa: A002
    return next(laminate.plies for laminate in project.laminates if laminate.id == id)


def test_plies_are_put_in_together_where_they_are_wanted(boat: Project) -> None:
    trial, at = laid(boat, GEL, MAT)
    assert plies_of(with_plies(trial, at, 1, [ROVING, UD]), at) == (GEL, ROVING, UD, MAT)
    assert plies_of(with_plies(trial, at, 2, [ROVING]), at) == (GEL, MAT, ROVING)
    assert plies_of(trial, at) == (GEL, MAT)


def test_scattered_plies_go_together(boat: Project) -> None:
    trial, at = laid(boat, GEL, MAT, ROVING, UD)
    assert plies_of(without_plies(trial, at, [3, 1]), at) == (GEL, ROVING)


@pytest.mark.parametrize(
    ("numbers", "to", "expected"),
    [
        ([1], 3, (GEL, ROVING, MAT, UD)),
        ([3], 1, (GEL, UD, MAT, ROVING)),
        ([1, 3], 4, (GEL, ROVING, MAT, UD)),
        ([1, 3], 1, (GEL, MAT, UD, ROVING)),
        ([3, 1], 0, (MAT, UD, GEL, ROVING)),
        ([2], 2, (GEL, MAT, ROVING, UD)),
        ([2], 3, (GEL, MAT, ROVING, UD)),
    ],
)
def test_plies_move_as_a_block_in_their_order(
    boat: Project, numbers: list[int], to: int, expected: tuple[Ply, ...]
) -> None:
    trial, at = laid(boat, GEL, MAT, ROVING, UD)
    assert plies_of(plies_moved(trial, at, numbers, to), at) == expected


def test_a_move_to_where_it_is_changes_nothing_at_all(boat: Project) -> None:
    trial, at = laid(boat, GEL, MAT, ROVING)
    assert plies_moved(trial, at, [1], 1) is trial


def test_repeating_a_pair_keeps_the_pair_together(boat: Project) -> None:
    trial, at = laid(boat, GEL, MAT, ROVING, UD)
    repeated = plies_of(plies_repeated(trial, at, [1, 2], 3), at)
    assert repeated == (GEL, MAT, ROVING, MAT, ROVING, MAT, ROVING, UD)


def test_repeating_once_leaves_the_plies_as_they_are(boat: Project) -> None:
    trial, at = laid(boat, GEL, MAT)
    assert plies_of(plies_repeated(trial, at, [1], 1), at) == (GEL, MAT)


def test_one_change_reaches_all_chosen_plies(boat: Project) -> None:
    trial, at = laid(boat, GEL, UD, MAT, UD)
    turned = plies_changed(trial, at, [1, 3], lambda ply: replace(ply, angle=90.0))
    assert [ply.angle for ply in plies_of(turned, at)] == [0.0, 90.0, 0.0, 90.0]
    assert plies_changed(turned, at, [1], lambda ply: replace(ply, angle=90.0)) is turned


def test_a_single_skin_is_mirrored_about_its_last_ply_or_that_plys_face(boat: Project) -> None:
    trial, at = laid(boat, GEL, MAT, UD, ROVING)
    assert plies_of(made_symmetric(trial, at), at) == (GEL, MAT, UD, ROVING, UD, MAT)
    doubled = plies_of(made_symmetric(trial, at, Middle.FACE), at)
    assert doubled == (GEL, MAT, UD, ROVING, ROVING, UD, MAT)


@pytest.mark.parametrize("middle", list(Middle))
@pytest.mark.parametrize(
    "plies", [(GEL, MAT, UD, BIAS), (MAT, UD, CORE, MAT), (GEL, UD, BIAS, CORE, MAT, ROVING)]
)
def test_a_symmetric_laminate_does_not_bend_when_it_is_stretched(
    boat: Project, middle: Middle, plies: tuple[Ply, ...]
) -> None:
    trial, at = laid(boat, *plies)
    mirrored = made_symmetric(trial, at, middle)
    stiffness = abd(resolve(mirrored.laminates[-1], book_of(mirrored)))
    before = abd(resolve(trial.laminates[-1], book_of(trial)))
    assert abs(before[:3, 3:]).max() > 1.0
    assert abs(stiffness[:3, 3:]).max() < 1e-9 * abs(stiffness[3:, 3:]).max()


def test_a_sandwich_is_given_an_inner_skin_like_the_outer_one(boat: Project) -> None:
    trial, at = laid(boat, GEL, MAT, UD, CORE, ROVING)
    assert plies_of(made_symmetric(trial, at), at) == (GEL, MAT, UD, CORE, UD, MAT)


def test_a_symmetric_laminate_is_not_doubled_unasked(boat: Project) -> None:
    trial, at = laid(boat, GEL, MAT, UD, MAT)
    with pytest.raises(StringerlabError, match="symmetric already"):
        made_symmetric(trial, at)


def test_unlike_cores_are_refused(boat: Project) -> None:
    trial, at = laid(boat, MAT, CORE, MAT, SOFT, ROVING)
    with pytest.raises(StringerlabError, match="cores"):
        made_symmetric(trial, at)


def test_gel_coat_alone_cannot_be_mirrored(boat: Project) -> None:
    trial, at = laid(boat, GEL)
    with pytest.raises(StringerlabError, match="no ply to mirror"):
        made_symmetric(trial, at)


def test_every_ply_that_is_not_there_is_named(boat: Project) -> None:
    trial, at = laid(boat, GEL, MAT)
    with pytest.raises(StringerlabError) as refused:
        without_plies(trial, at, [1, 5, 8])
    assert [problem.what for problem in refused.value.problems] == [
        "There is no ply 6.",
        "There is no ply 9.",
    ]


def test_nothing_chosen_is_said(boat: Project) -> None:
    trial, at = laid(boat, GEL, MAT)
    with pytest.raises(StringerlabError, match="No ply is chosen"):
        plies_repeated(trial, at, [], 2)


def test_a_slip_of_the_finger_does_not_lay_a_million_plies(boat: Project) -> None:
    trial, at = laid(boat, GEL, MAT)
    with pytest.raises(StringerlabError, match=str(MOST)):
        plies_repeated(trial, at, [1], 1_000_000)


def test_no_laminate_of_that_id(boat: Project) -> None:
    with pytest.raises(StringerlabError, match="no laminate 'l99'"):
        with_plies(boat, "l99", 0, [MAT])


def test_a_copy_has_an_id_and_a_name_of_its_own(boat: Project) -> None:
    twice = laminate_duplicated(laminate_duplicated(boat, "l1"), "l1")
    first, second = twice.laminates[-2:]
    assert first.plies == second.plies == boat.laminates[0].plies
    assert len({laminate.id for laminate in twice.laminates}) == len(twice.laminates)
    assert len({laminate.name for laminate in twice.laminates}) == len(twice.laminates)


def test_free_names_count_from_two() -> None:
    assert free_name("Tab", []) == "Tab"
    assert free_name("Tab", ["Tab", "Tab 2"]) == "Tab 3"


def test_a_laminate_knows_every_wall_reference_panel_and_span_that_names_it(boat: Project) -> None:
    named = {user.id for user in users(boat, "l1", "laminate")}
    expected = {wall.id for section in boat.sections for wall in section.walls if wall.laminate == "l1"}
    expected |= {s.id for s in boat.sections if s.reference is not None and s.reference.laminate == "l1"}
    expected |= {panel.id for panel in boat.panels if panel.laminate == "l1"}
    expected |= {span.id for span in boat.spans if span.plating == "l1"}
    assert expected
    assert named == expected


def test_a_material_is_said_with_the_plies_it_lies_in(boat: Project) -> None:
    trial, at = laid(boat, GEL, UD, MAT, UD)
    [user] = [user for user in users(trial, "ud300", "reinforcement") if user.id == at]
    assert (user.owner, user.kind, user.part) == ("Trial", "laminate", "plies 2 and 4")


def test_what_nothing_names_has_no_users(boat: Project) -> None:
    assert users(boat, "epoxy", "resin") == ()


# -- what was measured stays on its ply --------------------------------------------------------------


def measured(boat: Project) -> tuple[Project, str]:
    """A trial of five plies: the gel coat 0.7 mm, the roving 1.1 mm, the unidirectional missing."""
    trial, at = laid(boat, GEL, MAT, ROVING, BIAS, UD)
    plies = (
        PlyAsBuilt(ply=1, thickness=0.7),
        PlyAsBuilt(ply=3, thickness=1.1),
        PlyAsBuilt(ply=5, missing=True),
    )
    whole = LaminateAsBuilt(laminate=at, glass=0.4, plies=plies)
    return with_laminate_measured(trial, whole), at


def on(project: Project, at: str) -> dict[str, PlyAsBuilt]:
    """Material of each measured ply, and what was measured."""
    plies = plies_of(project, at)
    return {
        plies[each.ply - 1].material: replace(each, ply=0) for each in measured_laminate(project, at).plies
    }


TAKEN = {
    "gelcoat": PlyAsBuilt(ply=0, thickness=0.7),
    "wr600": PlyAsBuilt(ply=0, thickness=1.1),
    "ud300": PlyAsBuilt(ply=0, missing=True),
}


def test_measurements_go_with_their_plies(boat: Project) -> None:
    trial, at = measured(boat)
    assert on(trial, at) == TAKEN
    for changed in (
        with_plies(trial, at, 1, [MAT, MAT]),
        with_plies(trial, at, 5, [CORE]),
        plies_moved(trial, at, [2], 0),
        plies_moved(trial, at, [1, 4], 3),
        plies_repeated(trial, at, [2, 3], 3),
        without_plies(trial, at, [1, 3]),
        made_symmetric(trial, at),
        edits.with_ply(trial, at, 0, SOFT),
        edits.without_ply(trial, at, 1),
    ):
        assert plies_of(changed, at) != plies_of(trial, at)
        assert on(changed, at) == TAKEN
        assert len(measured_laminate(changed, at).plies) == 3
        assert measured_laminate(changed, at).glass == 0.4


def test_a_ply_that_goes_takes_its_measurement_along(boat: Project) -> None:
    trial, at = measured(boat)
    gone = without_plies(trial, at, [2])
    assert on(gone, at) == {name: taken for name, taken in TAKEN.items() if name != "wr600"}
    assert [each.ply for each in measured_laminate(gone, at).plies] == [1, 4]
    assert on(edits.without_ply(trial, at, 4), at).keys() == {"gelcoat", "wr600"}


def test_of_two_alike_the_measured_one_is_the_one_that_moves(boat: Project) -> None:
    trial, at = laid(boat, MAT, MAT, ROVING)
    first = LaminateAsBuilt(laminate=at, plies=(PlyAsBuilt(ply=1, missing=True),))
    trial = with_laminate_measured(trial, first)
    swapped = plies_moved(trial, at, [0], 2)
    assert plies_of(swapped, at) == plies_of(trial, at)
    assert [each.ply for each in measured_laminate(swapped, at).plies] == [2]


def test_a_laminate_or_section_that_goes_leaves_no_measurement_behind(boat: Project) -> None:
    trial, at = measured(boat)
    assert edits.removed(trial, at).as_built is None
    section = replace(boat.sections[0], name="Spare", bead=6.0)
    spare = edits.added(boat, section)
    spare = with_bead_measured(spare, spare.sections[-1].id, 8.0)
    assert edits.removed(spare, spare.sections[-1].id).as_built is None
