"""A design opened: the boat changed, a layout of its own beside the present one, a boat of its own."""

from collections.abc import Iterator
from dataclasses import replace

import pytest

from stringerlab.data import folder
from stringerlab.errors import StringerlabError
from stringerlab.files import dumps, load, loads
from stringerlab.project import History, Project, edits, planning, problems, resolve
from stringerlab.project.wishes import Change, Number, Plies, SizingPlan, Wishes
from stringerlab.sizing.amounts import amounts_of
from stringerlab.sizing.changing.opening import applied, as_boat, as_layout, left_as_is
from stringerlab.sizing.changing.space import Space
from stringerlab.sizing.changing.variables import variables_of

HEIGHT = Number(id="h", change=Change.HEIGHT, of=("s26",), least=140, most=170, step=10)
CAPS = Number(id="r", change=Change.REPEATS, of=("l15",), ply=1, least=1, most=2, step=1)
OUTER = Number(id="o", change=Change.PLACE, of=("b125",), least=855, most=955, step=50)
FLOORS = Number(
    id="t",
    change=Change.TRANSVERSES,
    of=("b126", "b127", "b129", "b130", "b131", "b133"),
    least=5,
    most=7,
    step=1,
)
GIRDER = Plies(id="p", laminate="l18", menu=("csm450", "m1808"), least=4, most=6, kept=1)
PLAN = SizingPlan(numbers=(HEIGHT, CAPS, OUTER, FLOORS), laminates=(GIRDER,))


@pytest.fixture(scope="module")
def launch() -> Project:
    """A boat of which nothing is asked but what a test asks."""
    return replace(load(folder("sample_projects") / "tidewrack_layout.json"), wishes=Wishes())


def space_of(project: Project, plan: SizingPlan) -> Space:
    return Space(variables_of(project, plan))


def designs(project: Project) -> Iterator[list[int]]:
    space = space_of(project, PLAN)
    plies = space.variables[4]
    for height, caps, place, floors, girder in (
        (0, 0, 0, 0, 0),
        (3, 1, 2, 2, plies.count - 1),
        (1, 0, 1, 2, 7),
    ):
        yield space.genes_of((height, caps, place, floors, girder)).tolist()


def test_the_boat_changed_is_the_design(launch: Project) -> None:
    space = space_of(launch, PLAN)
    for genes in designs(launch):
        assert applied(launch, PLAN, genes) == space.applied(launch, genes)
        assert launch.wishes == applied(launch, PLAN, genes).wishes
        assert as_boat(launch, PLAN, genes, "Lighter").name == "Lighter"
        assert loads(dumps(as_boat(launch, PLAN, genes))) == applied(launch, PLAN, genes)


def test_a_search_goes_on_from_the_changed_boat(launch: Project) -> None:
    layers = (
        Number(id="one", change=Change.REPEATS, of=("l13",), ply=2, least=1, most=3, step=1),
        Number(id="two", change=Change.REPEATS, of=("l13",), ply=4, least=1, most=5, step=1),
    )
    plan = SizingPlan(numbers=(FLOORS, *layers))
    boat = replace(launch, wishes=replace(launch.wishes, sizing=plan))
    for choices in ((2, 2, 4), (0, 2, 0), (1, 1, 3)):
        made = applied(boat, plan, choices)
        after = space_of(made, made.wishes.sizing)
        genes, exact = after.nearest(made)
        assert exact
        assert after.words(genes, made) == space_of(boat, plan).words(choices, boat)
        assert applied(made, made.wishes.sizing, genes) is made


def test_a_layout_of_a_design_is_what_the_changed_boats_would_be(launch: Project) -> None:
    for genes in designs(launch):
        changed, beside = (
            applied(launch, PLAN, genes),
            as_layout(launch, PLAN, genes, "Lighter 3", in_use=True),
        )
        assert beside.layout == beside.layouts[-1].id
        assert beside.layouts[-1].name == "Lighter 3"
        one, other = _drawn(changed), _drawn(beside)
        assert one == other
        wanted = amounts_of(_without_hand(changed), resolve(_without_hand(changed)))
        got = amounts_of(_without_hand(beside), resolve(_without_hand(beside)))
        assert got.mass == pytest.approx(wanted.mass, rel=1e-12)
        assert got.members == pytest.approx(wanted.members, rel=1e-12)


def _without_hand(project: Project) -> Project:
    return replace(project, panels=(), spans=())


def _drawn(project: Project) -> list[object]:
    """Return what every span and panel of the layout in use comes to, ids and names of copies left out."""
    resolved = resolve(_without_hand(project))
    spans = [
        (
            case.span.name,
            case.span.lu,
            case.span.s,
            [(wall.points, wall.stack.plies) for wall in case.section.walls],
            case.plating.plies,
        )
        for case in resolved.spans
    ]
    panels = [(case.panel.b, case.panel.l, case.stack.plies) for case in resolved.panels]
    return [sorted(spans, key=repr), sorted(panels, key=repr)]


def test_the_present_layout_and_what_it_uses_stay_as_they_are(launch: Project) -> None:
    genes = list(designs(launch))[1]
    beside = as_layout(launch, PLAN, genes, "Lighter 3", in_use=True)
    assert beside.layouts[:-1] == launch.layouts
    assert beside.sections[: len(launch.sections)] == launch.sections
    assert beside.laminates[: len(launch.laminates)] == launch.laminates
    assert (beside.panels, beside.spans, beside.zones) == (launch.panels, launch.spans, launch.zones)
    names = {one.name for one in (*beside.sections, *beside.laminates)}
    assert {"Outer longitudinal (Lighter 3)", "Engine bed (Lighter 3)", "Bed girder (Lighter 3)"} <= names
    assert "Floor (Lighter 3)" not in names, "a section that the design leaves as it is"
    assert "Longitudinal with pan on hull (Lighter 3)" not in names, "one that the layout does not use"
    copies = {one.id for one in beside.sections[len(launch.sections) :]}
    used = {
        member.section
        for layout in launch.layouts
        for member in planning.layout_of(beside, layout.id).members
    }
    assert not used & copies
    back = planning.with_layout_in_use(beside, launch.layout)
    assert resolve(back).spans == resolve(launch).spans
    assert _told(beside) == _told(applied(launch, PLAN, genes))


def _told(project: Project) -> list[str]:
    return sorted(problem.what for problem in problems(project))


def test_a_layout_may_be_left_out_of_use(launch: Project) -> None:
    genes = next(designs(launch))
    beside = as_layout(launch, PLAN, genes, "Lighter")
    assert beside.layout == launch.layout
    again = as_layout(beside, PLAN, genes, "Lighter")
    assert [one.name for one in again.layouts[-2:]] == ["Lighter", "Lighter 2"]
    assert len({one.name for one in again.sections}) == len(again.sections)
    assert len({one.name for one in again.laminates}) == len(again.laminates)


def test_opening_is_one_step_to_undo(launch: Project) -> None:
    genes = list(designs(launch))[1]
    for made in (applied(launch, PLAN, genes), as_layout(launch, PLAN, genes, "Lighter")):
        history = History.of(launch).did("Open design 3", made)
        assert history.undo().project is launch


def test_spans_by_hand_that_stay_are_told(launch: Project) -> None:
    genes = list(designs(launch))[1]
    assert left_as_is(launch, PLAN, genes) == ("Knee, side door",)
    beside = as_layout(launch, PLAN, genes, "Lighter")
    assert beside.spans == launch.spans


def test_what_every_layout_shares_is_refused_with_all_reasons(launch: Project) -> None:
    plan = SizingPlan(
        numbers=(
            Number(id="a", change=Change.SPEED, least=30, most=31, step=1),
            Number(id="b", change=Change.SPACING, of=("m120",), least=300, most=320, step=20),
            Number(id="c", change=Change.REPEATS, of=("l1",), ply=4, least=4, most=5, step=1),
        )
    )
    space = space_of(launch, plan)
    with pytest.raises(StringerlabError) as refused:
        as_layout(launch, plan, space.genes_of((0, 0, 0)), "Lighter")
    said = [str(problem) for problem in refused.value.problems]
    for words in ("changes the speed", "'Knee, side door'", "zone 'Bottom, all over'"):
        assert any(words in one for one in said), words
    assert all("a boat of its own" in one for one in said)


def test_a_boat_without_a_layout_is_opened_as_a_boat() -> None:
    workboat = load(folder("sample_projects") / "eelgrass_workboat.json")
    plan = SizingPlan(numbers=(replace(HEIGHT, of=("s5",)),))
    with pytest.raises(StringerlabError, match="No layout is in use"):
        as_layout(workboat, plan, [0], "Lighter")
    assert as_boat(workboat, plan, [0]) == applied(workboat, plan, [0])


def test_a_panels_own_laminate_is_copied_for_the_layout(launch: Project) -> None:
    bay = planning.layout_of(launch, "y122").bays[0]
    layout = planning.layout_of(launch, "y122")
    own = replace(
        layout, bays=tuple(replace(one, laminate="l7") if one.id == bay.id else one for one in layout.bays)
    )
    boat = edits.replaced(launch, own)
    plan = SizingPlan(laminates=(Plies(id="p", laminate="l7", menu=("csm450", "m1808"), least=3, most=5),))
    genes = space_of(boat, plan).at(0)
    beside = as_layout(boat, replace(plan), genes, "Lighter")
    (copy,) = beside.laminates[len(boat.laminates) :]
    assert copy.name == "Tank side (Lighter)"
    assert [mark.laminate for mark in beside.layouts[-1].bays if mark.laminate] == [copy.id]


def test_a_design_for_another_layout_is_refused(launch: Project) -> None:
    boat = edits.added(launch, replace(launch.sections[2], name="Spare"))
    plan = SizingPlan(numbers=(replace(HEIGHT, of=(boat.sections[-1].id,)),))
    with pytest.raises(StringerlabError, match="changes nothing of the layout in use"):
        as_layout(boat, plan, space_of(boat, plan).at(0), "Lighter")


def test_a_design_is_applied_to_the_boat_it_was_found_of_or_not_at_all(launch: Project) -> None:
    first, second, third = designs(launch)
    made = applied(launch, PLAN, second, found_of=(launch,))
    assert made == applied(launch, PLAN, second)
    asked_more = replace(launch, notes="Asked again.", wishes=Wishes(sizing=PLAN), counter=launch.counter + 9)
    sections = applied(launch, PLAN, first).sections
    assert applied(asked_more, PLAN, first, found_of=(launch,)).sections == sections
    faster = replace(launch, craft=replace(launch.craft, speed=launch.craft.speed + 1))
    for change in (applied, as_boat):
        with pytest.raises(StringerlabError, match="was changed since the design was found"):
            change(faster, PLAN, second, found_of=(launch,))
    with pytest.raises(StringerlabError, match="was changed since the design was found"):
        as_layout(faster, PLAN, second, "Lighter", found_of=(launch,))
    assert applied(faster, PLAN, second, found_of=(launch, faster))
    with pytest.raises(StringerlabError, match="was changed since"):
        applied(applied(launch, PLAN, first), PLAN, third, found_of=(launch,))


def test_a_boat_that_differs_in_nothing_but_what_a_design_sets_takes_it(launch: Project) -> None:
    plan = SizingPlan(numbers=(HEIGHT, CAPS))
    other = applied(launch, plan, [0, 0])
    assert other != launch
    assert applied(other, plan, [2, 1], found_of=(launch,)) == applied(launch, plan, [2, 1])


def test_ids_given_since_are_no_other_boat(launch: Project) -> None:
    """More floors are new members: their ids follow the counter, which wishes have raised meanwhile."""
    plan = SizingPlan(numbers=(HEIGHT, FLOORS))
    other = applied(replace(launch, counter=launch.counter + 40), SizingPlan(numbers=(HEIGHT,)), [0])
    assert other.sections != launch.sections
    made = applied(other, plan, [2, 2], found_of=(launch,))
    wanted = applied(launch, plan, [2, 2])
    assert len(made.layouts[0].members) == len(wanted.layouts[0].members)
    assert made != wanted, "under other ids"
    assert _drawn(made) == _drawn(wanted)
