"""All designs of a plan: counted exactly, numbered, sampled, spelled in columns, applied."""

import pickle
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stringerlab.data import folder
from stringerlab.errors import StringerlabError
from stringerlab.files import load
from stringerlab.project import Project, problems
from stringerlab.project.wishes import Change, Number, Plies, SizingPlan
from stringerlab.sizing.changing.space import Space
from stringerlab.sizing.changing.variables import variables_of

HEIGHT = Number(id="h", change=Change.HEIGHT, of=("s5",), least=115, most=155, step=20)
BEAD = Number(id="b", change=Change.BEAD, of=("s5",), least=3, most=5, step=1)
LAYERS = Number(id="r", change=Change.REPEATS, of=("l3",), ply=2, least=1, most=2, step=1)
SPACING = Number(id="s", change=Change.SPACING, of=("m22",), least=400, most=500, step=50)
PLIES = Plies(id="p", laminate="l2", menu=("csm450", "wr600"), least=4, most=5, kept=1)
MANY = replace(PLIES, menu=("csm450", "wr600", "csm300", "m1808", "wr800"), most=12, gauge=4.0)
VAST = replace(PLIES, menu=("csm450", "wr600", "csm300", "m1808", "wr800", "csm600"), most=40)


@pytest.fixture(scope="module")
def workboat() -> Project:
    return load(folder("sample_projects") / "eelgrass_workboat.json")


def space_of(project: Project, *numbers: Number, laminates: tuple[Plies, ...] = ()) -> Space:
    return Space(variables_of(project, SizingPlan(numbers=numbers, laminates=laminates)))


@pytest.mark.parametrize(
    ("numbers", "laminates"),
    [((HEIGHT, BEAD), ()), ((HEIGHT, LAYERS), (PLIES,)), ((SPACING, BEAD), (PLIES,)), ((), (PLIES,))],
)
def test_count_is_how_many_different_boats_there_are(
    workboat: Project, numbers: tuple[Number, ...], laminates: tuple[Plies, ...]
) -> None:
    space = space_of(workboat, *numbers, laminates=laminates)
    boats = {space.applied(workboat, space.at(index)) for index in range(space.count)}
    assert len(boats) == space.count
    assert np.array_equal(space.every(), np.unique(space.every(), axis=0))


def test_present_choices_give_the_very_same_boat(workboat: Project) -> None:
    present = replace(HEIGHT, least=105, most=165, step=10)
    space = space_of(workboat, present, BEAD, LAYERS, laminates=(PLIES,))
    genes, exact = space.nearest(workboat)
    assert exact
    assert space.applied(workboat, genes) is workboat
    other = space.applied(workboat, space.at(5))
    assert space.applied(other, space.at(5)) is other, "a design put on itself"


@settings(max_examples=25)
@given(st.data())
def test_a_design_is_the_same_from_wherever_it_is_reached(workboat: Project, data: st.DataObject) -> None:
    space = space_of(workboat, HEIGHT, BEAD, LAYERS, laminates=(PLIES,))
    index, through = (data.draw(st.integers(0, space.count - 1)) for _ in range(2))
    straight = space.applied(workboat, space.at(index))
    round_about = space.applied(space.applied(workboat, space.at(through)), space.at(index))
    assert _near(straight, round_about)
    one_by_one = workboat
    for variable, choice in zip(space.variables, space.choices(space.at(index)), strict=True):
        one_by_one = variable.applied(one_by_one, choice)
    assert _near(straight, one_by_one)
    assert space.nearest(straight)[1]
    assert space.index_of(space.nearest(straight)[0]) == index


def _near(one: Project, other: Project) -> bool:
    """Whether two boats are the same, points to the millionth of a mm."""

    def rounded(project: Project) -> Project:
        sections = tuple(
            replace(
                section,
                walls=tuple(
                    replace(wall, points=tuple((round(y, 5), round(z, 5)) for y, z in wall.points))
                    for wall in section.walls
                ),
                fills=(),
            )
            for section in project.sections
        )
        return replace(project, sections=sections, counter=0)

    return rounded(one) == rounded(other)


def test_whatever_may_be_chosen_is_sound_or_told_when_applied(workboat: Project) -> None:
    space = space_of(workboat, replace(HEIGHT, least=75), BEAD, laminates=(replace(PLIES, most=8),))
    known = set(problems(workboat))
    for row in space.sampled(60, 3):
        try:
            made = space.applied(workboat, row)
        except StringerlabError:
            continue
        assert not set(problems(made)) - known, space.words(row, workboat)


# -- columns -------------------------------------------------------------------------------------


def test_columns_are_finite_and_small_whatever_the_space(workboat: Project) -> None:
    space = space_of(workboat, HEIGHT, laminates=(VAST,))
    assert space.count > 10**25
    assert space.spelled
    assert max(space.columns) < 2**31
    assert len(space.columns) == 1 + 1 + 40


@pytest.mark.parametrize("laminate", [PLIES, MANY, VAST])
def test_rows_and_numbers_name_each_other(workboat: Project, laminate: Plies) -> None:
    space = space_of(workboat, HEIGHT, BEAD, laminates=(laminate,))
    made = np.random.default_rng(1)
    for _ in range(40):
        index = int.from_bytes(made.bytes(20), "little") % space.count
        assert space.index_of(space.at(index)) == index
    with pytest.raises(IndexError):
        space.at(space.count)


@pytest.mark.parametrize("laminate", [PLIES, MANY, VAST])
def test_any_columns_are_put_right_once_and_for_all(workboat: Project, laminate: Plies) -> None:
    space = space_of(workboat, HEIGHT, laminates=(laminate,))
    made = np.random.default_rng(2)
    genes = made.integers(0, np.array(space.columns), (200, len(space.columns)))
    right = space.repaired(genes)
    for row in right:
        assert np.array_equal(space.genes_of(space.choices(row)), row)
    assert np.array_equal(space.repaired(right), right)
    assert np.array_equal(right[:, 0], genes[:, 0])
    wild = space.repaired(genes * 7 - 9)
    assert all(0 <= space.index_of(row) < space.count for row in wild)


@pytest.mark.parametrize("laminate", [PLIES, MANY, VAST])
def test_the_same_seed_samples_the_same_designs(workboat: Project, laminate: Plies) -> None:
    space = space_of(workboat, HEIGHT, BEAD, laminates=(laminate,))
    one, again, other = space.sampled(50, 7), space.sampled(50, 7), space.sampled(50, 8)
    assert np.array_equal(one, again)
    assert not np.array_equal(one, other)
    assert space.sampled(0, 7).shape == (0, len(space.columns))
    assert np.array_equal(space.repaired(one), one)
    assert space.sampled(10**6, 7).shape[0] == space.count if laminate is PLIES else len(one) == 50


def test_samples_are_even_over_a_small_space(workboat: Project) -> None:
    space = space_of(workboat, replace(SPACING, step=1), replace(HEIGHT, step=0.1))
    drawn = space.sampled(8000, 1)
    counts = np.bincount(drawn[:, 1] * 5 // space.columns[1], minlength=5)
    assert (abs(counts - 1600) < 5 * 1600**0.5).all()


def test_a_spelled_laminate_says_its_plies(workboat: Project) -> None:
    space = space_of(workboat, laminates=(MANY,))
    genes, exact = space.nearest(workboat)
    assert exact
    assert space.words(genes, workboat) == ("csm450, wr600, csm450, wr600, csm450",)
    assert space.applied(workboat, genes) is workboat


def test_a_space_goes_to_another_process_and_is_the_same(workboat: Project) -> None:
    space = space_of(workboat, HEIGHT, laminates=(MANY,))
    again = pickle.loads(pickle.dumps(space))
    assert again.count == space.count
    assert np.array_equal(again.sampled(20, 1), space.sampled(20, 1))


def test_sections_that_do_not_follow_their_laminates_are_told() -> None:
    launch = load(folder("sample_projects") / "tidewrack_layout.json")
    tabs = Number(id="t", change=Change.REPEATS, of=("l17",), ply=1, least=1, most=2, step=1)
    (note,) = space_of(launch, tabs).notes(launch)
    assert "Floor, Bulkhead, Deep floor" in note
    caps = replace(tabs, of=("l19",))
    assert space_of(launch, caps).notes(launch) == ()
