"""Wrong wishes of what may change: everything told at once, before anything is judged."""

from dataclasses import replace

import pytest

from stringerlab.data import folder
from stringerlab.errors import StringerlabError
from stringerlab.files import load
from stringerlab.project import Project
from stringerlab.project.wishes import Change, Number, Plies, SizingPlan
from stringerlab.sizing.changing.variables import variables_of


@pytest.fixture(scope="module")
def workboat() -> Project:
    return load(folder("sample_projects") / "eelgrass_workboat.json")


@pytest.fixture(scope="module")
def launch() -> Project:
    return load(folder("sample_projects") / "tidewrack_layout.json")


def number(change: Change, *of: str, least: float, most: float, step: float = 0.0, ply: int = 0) -> Number:
    return Number(id="n", change=change, of=of, ply=ply, least=least, most=most, step=step)


def told(project: Project, *numbers: Number, laminates: tuple[Plies, ...] = ()) -> list[str]:
    with pytest.raises(StringerlabError) as refused:
        variables_of(project, SizingPlan(numbers=numbers, laminates=laminates))
    return [str(problem) for problem in refused.value.problems]


def test_all_that_is_wrong_is_told_together(workboat: Project) -> None:
    said = told(
        workboat,
        replace(number(Change.HEIGHT, "s7", least=100, most=120), id="a"),
        replace(number(Change.HEIGHT, "s6", least=100, most=120), id="b"),
        replace(number(Change.REPEATS, "l2", ply=9, least=1, most=2), id="c"),
        replace(number(Change.REPEATS, "l2", ply=2, least=1, most=2.5), id="d"),
        replace(number(Change.SPEED, least=30, most=20), id="e"),
        replace(number(Change.SPACING, least=300, most=400), id="f"),
        laminates=(
            Plies(id="g", laminate="l2", menu=()),
            Plies(id="h", laminate="l9", menu=("csm450", "csm45", "gelcoat", "csm450"), least=4, most=2),
            Plies(id="i", laminate="l3", menu=("csm450",), gauge=40.0),
            Plies(id="j", laminate="l4", menu=("wr600",), least=2, most=3),
        ),
    )
    for words in (
        "'Plate floor' is not drawn as a hat",
        "There is no section 's6'",
        "There is no ply 9",
        "2.5 is none",
        "is more than its most, 20",
        "whose spacing",
        "menu is empty",
        "no laminate 'l9'",
        "no reinforcement 'csm45'",
        "is a gel coat",
        "has 'csm450' twice",
        "4 plies, is more than its most, 2",
        "cannot reach its gauge of 40 mm",
        "mat between all its fabrics",
    ):
        assert any(words in each for each in said), words


def test_two_wishes_for_one_number_are_told_together(launch: Project) -> None:
    said = told(
        launch,
        replace(number(Change.HEIGHT, "s26", "s31", least=140, most=180), id="a"),
        replace(number(Change.HEIGHT, "s31", least=140, most=180), id="b"),
        replace(number(Change.REPEATS, "l1", ply=4, least=3, most=5, step=1), id="c"),
        replace(number(Change.REPEATS, "l1", ply=6, least=3, most=5, step=1), id="d"),
        laminates=(
            Plies(id="e", laminate="l1", menu=("csm450",)),
            Plies(id="f", laminate="l1", menu=("csm450",)),
        ),
    )
    assert [line for line in said if "'a' sets too" in line and "'b'" in line]
    assert [line for line in said if "'c' sets too" in line and "'d'" in line]
    assert [line for line in said if "'e' sets too" in line and "'f'" in line]
    assert [line for line in said if "'e' sets too" in line and "'c'" in line]


def test_nothing_may_change_is_told(workboat: Project) -> None:
    assert told(workboat) == [
        "what may change: Nothing may change. Say what may change: a height, a width, a spacing, the plies "
        "of a laminate."
    ]
    assert "single choice" in told(workboat, number(Change.SPEED, least=20, most=20))[0]


def test_ends_that_cannot_be_are_told_before_anything_is_judged(workboat: Project) -> None:
    said = told(
        workboat,
        replace(number(Change.HEIGHT, "s5", least=15, most=160), id="a"),
        replace(number(Change.BEAD, "s5", least=4, most=60), id="b"),
        replace(number(Change.SPEED, least=20, most=200), id="c"),
        replace(number(Change.SPACING, "p14", least=10, most=5000), id="d"),
    )
    for words in ("hat height of Main stringer, 15 mm", "bead thickness of Main stringer, 60 mm"):
        assert any(words in each for each in said), words
    assert any("speed, 200 kn" in each for each in said)
    assert any("short side" in each for each in said)


def test_members_that_cannot_move_are_told(launch: Project) -> None:
    said = told(
        launch,
        replace(number(Change.PLACE, "b123", "b126", "b228", least=300, most=400), id="a"),
        replace(number(Change.TRANSVERSES, "b126", least=2, most=4, step=1), id="b"),
        replace(number(Change.TRANSVERSES, "b126", "b127", least=1, most=4, step=1), id="c"),
        replace(number(Change.SPACING, "m166", least=300, most=400), id="d"),
    )
    for words in (
        "'Keel girder' stands on the centreline",
        "'Floor 1' is no longitudinal, but a transverse",
        "a layout that is not in use",
        "a single transverse",
        "first and the last stay",
        "found in a layout",
    ):
        assert any(words in each for each in said), words


def test_in_us_units_everything_is_told_in_inches() -> None:
    lesson = load(folder("sample_projects") / "first_hat_lesson.json")
    (section,) = {span.section for span in lesson.spans}
    (laminate,) = {wall.laminate for one in lesson.sections if one.id == section for wall in one.walls}
    said = told(
        lesson,
        replace(number(Change.HEIGHT, section, least=300, most=100), id="a"),
        replace(number(Change.CROWN_WIDTH, section, least=-50.8, most=100, step=-25.4), id="b"),
        replace(number(Change.MASS, least=1000, most=900), id="c"),
        laminates=(Plies(id="d", laminate=laminate, menu=("csm450",), gauge=50.8),),
    )
    for words in (
        "Its least, 11.8 in, is more than its most, 3.94 in.",
        "Its least, −2 in, is below 0 in.",
        "Its step of −1 in leads backwards.",
        "Its least, 2205 lb, is more than its most, 1984 lb.",
        "cannot reach its gauge of 2 in",
    ):
        assert any(words in each for each in said), (words, said)
    assert not any(" mm" in each for each in said)
