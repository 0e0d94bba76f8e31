"""A boat as drawn against the same boat as built: what changed, verdicts first."""

import pytest

from stringerlab.assess import check
from stringerlab.assess.as_built import Change, changes, check_as_built
from stringerlab.data import folder
from stringerlab.errors import StringerlabError
from stringerlab.files import load
from stringerlab.layout.as_built import LaminateAsBuilt, PlyAsBuilt
from stringerlab.methods import Verdict
from stringerlab.project import Project
from stringerlab.project.measuring import with_bead_measured, with_laminate_measured, with_ply_measured

WORKBOAT = folder("sample_projects") / "eelgrass_workboat.json"
HULL = "l1"


@pytest.fixture(scope="module")
def boat() -> Project:
    return load(WORKBOAT)


@pytest.fixture(scope="module")
def thinned(boat: Project) -> tuple[Change, ...]:
    """A bottom laid at two thirds of its thickness."""
    measured = LaminateAsBuilt(laminate=HULL, plies=tuple(PlyAsBuilt(ply=n, missing=True) for n in (4, 5, 6)))
    return check_as_built(with_laminate_measured(boat, measured), topics=()).changes


def test_a_thin_bottom_makes_panels_worse(thinned: tuple[Change, ...]) -> None:
    assert any(change.worse and change.after is not None for change in thinned)
    turned = [change for change in thinned if change.subject.startswith("p") and change.verdict_changed]
    assert turned
    assert {change.after.verdict for change in turned if change.after} <= {Verdict.TIGHT, Verdict.SHORT}


def test_worse_verdicts_come_first_then_others_by_growth(thinned: tuple[Change, ...]) -> None:
    ranks = [(not change.worse, not change.verdict_changed) for change in thinned]
    assert ranks == sorted(ranks)
    growths = [abs(change.growth) for change in thinned if not change.verdict_changed]
    assert growths == sorted(growths, reverse=True)


def test_a_change_is_that_of_the_two_checks(boat: Project) -> None:
    found = check_as_built(with_ply_measured(boat, HULL, PlyAsBuilt(ply=2, glass=0.25)), topics=())
    drawn = {finding.key: finding for finding in check(boat, topics=()).findings}
    assert found.changes
    for change in found.changes:
        assert change.before is not None
        assert change.after is not None
        before = drawn[change.before.key]
        assert (change.before.verdict, change.before.utilisation) == (before.verdict, before.utilisation)
        assert change.after.utilisation != change.before.utilisation


def test_what_is_the_same_is_left_out(boat: Project) -> None:
    results = check(boat, topics=())
    assert changes(results, results) == ()
    same = check_as_built(with_bead_measured(boat, "s5", boat.sections[0].bead), topics=())
    assert same.changes == ()


def test_nothing_measured_is_said_so(boat: Project) -> None:
    with pytest.raises(StringerlabError, match="Nothing was measured"):
        check_as_built(boat)


def test_bad_measurements_are_listed_at_once(boat: Project) -> None:
    project = with_ply_measured(boat, HULL, PlyAsBuilt(ply=40, missing=True))
    project = with_ply_measured(project, HULL, PlyAsBuilt(ply=2, thickness=-1.0))
    with pytest.raises(StringerlabError) as refused:
        check_as_built(project)
    assert len(refused.value.problems) == 2


def test_a_check_can_be_stopped(boat: Project) -> None:
    class Enough(Exception):  # noqa: N818
        pass

    heard: list[float] = []

    def watch(fraction: float, _: str) -> None:
        heard.append(fraction)
        if fraction > 0.5:
            raise Enough

    with pytest.raises(Enough):
        check_as_built(with_ply_measured(boat, HULL, PlyAsBuilt(ply=2, glass=0.25)), watch=watch, topics=())
    assert heard == sorted(heard)
