"""A book into a project and out of it: what goes along, what changes, what would name nothing."""

from dataclasses import replace

import pytest

from stringerlab.data import folder
from stringerlab.errors import StringerlabError
from stringerlab.files import load
from stringerlab.materials import Book, shipped
from stringerlab.materials.book import every
from stringerlab.materials.merging import Choice, gathered
from stringerlab.materials.records import Core, GelCoat, Reinforcement, Resin, Solid
from stringerlab.project import History, Project, edits
from stringerlab.project.books import changes, in_use, merge_with, own_book, with_book

SHIPPED = Book.of(shipped())


@pytest.fixture(scope="module")
def boat() -> Project:
    return load(folder("sample_projects") / "eelgrass_workboat.json")


def reinforcement(id: str) -> Reinforcement:  # noqa: A002
    found = SHIPPED.reinforcement(id)
    assert found is not None
    return found


def resin(id: str) -> Resin:  # noqa: A002
    found = SHIPPED.resin(id)
    assert found is not None
    return found


def core(id: str) -> Core:  # noqa: A002
    found = SHIPPED.core(id)
    assert found is not None
    return found


def owning(project: Project) -> tuple[Project, Reinforcement, Reinforcement]:
    """Return a project with two own mats, the first laid in the bottom in place of a ply's."""
    own = edits.added(project, replace(reinforcement("csm450"), id="", name="Yard mat"))
    own = edits.added(own, replace(reinforcement("csm300"), id="", name="Idle mat"))
    used, idle = own.materials.reinforcements
    bottom = own.laminates[0]
    number = next(i for i, ply in enumerate(bottom.plies) if ply.material == "csm450")
    own = edits.with_ply_replaced(own, bottom.id, number, replace(bottom.plies[number], material=used.id))
    return own, used, idle


# -- out -----------------------------------------------------------------------------------------


def test_all_own_materials_go_out_with_what_they_need(boat: Project) -> None:
    own, used, idle = owning(boat)
    book = own_book(own)
    assert book.reinforcements == (used, idle)
    assert [one.id for one in every(book)] == ["polyester", "e_glass", used.id, idle.id]


def test_only_what_something_names_is_in_use(boat: Project) -> None:
    own, used, _ = owning(boat)
    assert in_use(own) == (used.id,)
    assert own_book(own, in_use(own)).reinforcements == (used,)


def test_an_own_resin_is_in_use_through_its_mat(boat: Project) -> None:
    own, used, _ = owning(boat)
    own = edits.added(own, replace(resin("vinylester"), id="", name="Yard resin"))
    [fresh] = own.materials.resins
    assert in_use(own) == (used.id,)
    own = edits.replaced(own, replace(used, resin=fresh.id))
    assert set(in_use(own)) == {used.id, fresh.id}


def test_a_project_without_own_materials_has_no_book(boat: Project) -> None:
    with pytest.raises(StringerlabError, match="no materials of its own"):
        own_book(boat)
    assert own_book(boat, with_shipped=True) == shipped()


def test_what_went_out_comes_back_as_the_same(boat: Project) -> None:
    own, _, _ = owning(boat)
    merged = merge_with(own, own_book(own, with_shipped=True))
    assert (merged.added, merged.conflicts) == ((), ())
    assert with_book(own, own_book(own), {}) is own


# -- in ------------------------------------------------------------------------------------------


def test_a_new_material_comes_in_and_changes_no_laminate(boat: Project) -> None:
    book = gathered([replace(reinforcement("csm450"), id="yard", name="Yard mat")])
    after = with_book(boat, book, {})
    assert after.materials == book
    assert changes(boat, after) == ()
    assert History.of(boat).did("Import", after).undo().project is boat


def test_a_shipped_mat_replaced_names_every_laminate_laid_of_it(boat: Project) -> None:
    book = gathered([replace(reinforcement("csm450"), weight=457.7)])
    with pytest.raises(StringerlabError, match="differ in: weight"):
        with_book(boat, book, {})
    after = with_book(boat, book, {"csm450": Choice.THEIRS})
    laid = {one.id for one in boat.laminates if any(ply.material == "csm450" for ply in one.plies)}
    assert laid
    assert {one.user.id for one in changes(boat, after)} == laid
    bottom = next(one for one in changes(boat, after) if one.user.id == "l1")
    numbers = [i + 1 for i, ply in enumerate(boat.laminates[0].plies) if ply.material == "csm450"]
    assert all(str(number) in bottom.user.part for number in numbers)
    assert bottom.materials == (reinforcement("csm450").name,)


def test_another_resin_changes_what_is_laid_with_it(boat: Project) -> None:
    polyester = resin("polyester")
    stiffer = replace(polyester, modulus=replace(polyester.modulus, value=3900.0))
    after = with_book(boat, gathered([stiffer]), {"polyester": Choice.THEIRS})
    assert {one.user.id for one in changes(boat, after)} >= {"l1"}
    beside = with_book(boat, gathered([stiffer]), {"polyester": Choice.BOTH})
    assert changes(boat, beside) == ()
    assert beside.materials.resins == (replace(stiffer, id="polyester_2"),)


def test_mine_changes_nothing_at_all(boat: Project) -> None:
    book = gathered([replace(reinforcement("csm450"), weight=457.7)])
    assert with_book(boat, book, {"csm450": Choice.MINE}) is boat


def test_a_mat_that_would_become_a_resin_is_refused_with_each_ply(boat: Project) -> None:
    book = gathered([replace(resin("polyester"), id="csm450")])
    with pytest.raises(StringerlabError) as refused:
        with_book(boat, book, {"csm450": Choice.THEIRS})
    plies = sum(ply.material == "csm450" for one in boat.laminates for ply in one.plies)
    assert len(refused.value.problems) == plies
    assert "laminate 'Bottom' (l1), ply" in str(refused.value)
    assert "would be a resin there, no longer a reinforcement" in str(refused.value)


def test_an_id_that_a_wall_has_is_never_taken(boat: Project) -> None:
    wall = boat.sections[0].walls[0].id
    book = gathered([replace(reinforcement("csm450"), id=wall)])
    after = with_book(boat, book, {})
    assert [one.id for one in after.materials.reinforcements] == [f"{wall}_2"]


def test_a_fill_of_a_replaced_foam_names_its_section(boat: Project) -> None:
    fills = [(one, fill) for one in boat.sections for fill in one.fills]
    section, fill = fills[0]
    foam = SHIPPED.solid(fill.material)
    assert isinstance(foam, Solid)
    book = gathered([replace(foam, density=replace(foam.density, value=foam.density.value + 1))])
    found = changes(boat, with_book(boat, book, {foam.id: Choice.THEIRS}))
    assert section.name in {one.user.owner for one in found}


def test_an_unused_core_and_gel_coat_change_nothing(boat: Project) -> None:
    foam = core("pvc130")
    gel = GelCoat(id="yard_gel", name="Yard gel", density=foam.density)
    book = gathered([replace(foam, ductile=True), gel])
    after = with_book(boat, book, {"pvc130": Choice.THEIRS})
    assert changes(boat, after) == ()
