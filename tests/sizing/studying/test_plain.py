"""The plain path: one boat's numbers are those of a check and of a take-off."""

from dataclasses import replace
from math import isnan

import pytest

from stringerlab.assess.check import Cancelled, check
from stringerlab.assess.mechanics import TOPICS
from stringerlab.assess.takeoff import take_off
from stringerlab.data import folder
from stringerlab.errors import StringerlabError
from stringerlab.files import load
from stringerlab.layout import Price
from stringerlab.methods import FindingKind
from stringerlab.project import Project, resolve
from stringerlab.sizing.plain import Cache, governing_words, measured

SAMPLES = ("first_hat_lesson", "eelgrass_workboat", "tidewrack_grid", "tidewrack_layout")


def sample(name: str) -> Project:
    return load(folder("sample_projects") / f"{name}.json")


@pytest.mark.parametrize("name", SAMPLES)
def test_rule_findings_are_those_of_a_check(name: str) -> None:
    project = sample(name)
    checked = [one for one in check(project).findings if one.kind is FindingKind.RULE]
    found = measured(project)
    judged = [one for one in checked if one.utilisation is not None]
    assert judged
    assert [found.findings[one.key].utilisation for one in judged] == [one.utilisation for one in judged]
    assert found.use == max(one.utilisation or 0.0 for one in judged)
    assert found.worst is not None
    assert found.worst.utilisation == found.use
    assert found.sound


@pytest.mark.parametrize("name", ["first_hat_lesson", "eelgrass_workboat", "tidewrack_layout"])
def test_mechanics_and_grid_are_those_of_a_check(name: str) -> None:
    project = sample(name)
    checked = check(project)
    found = measured(project, topics=TOPICS)
    assert set(found.findings) == {one.key for one in checked.findings}
    assert [found.findings[one.key].utilisation for one in checked.findings] == [
        one.utilisation for one in checked.findings
    ]


def test_the_grid_is_left_out_where_it_is_not_asked_for() -> None:
    kinds = {
        one.kind for one in measured(sample("tidewrack_layout"), topics=TOPICS, grid=False).findings.values()
    }
    assert kinds == {FindingKind.RULE, FindingKind.MECHANICS}


def test_mass_is_the_members_take_off_and_the_plating() -> None:
    project = sample("eelgrass_workboat")
    resolved = resolve(project)
    bare = measured(replace(project, panels=()))
    whole = measured(project)
    assert bare.mass == pytest.approx(take_off(project, resolved).total.mass(), rel=1e-12)
    assert whole.mass > bare.mass
    assert isnan(bare.use) is False


def test_nothing_is_priced_without_a_price() -> None:
    project = sample("first_hat_lesson")
    plain = replace(project, rates=replace(project.rates, prices=(), hour=0.0, lay_up=0.0))
    assert isnan(measured(plain).cost)
    material = project.laminates[0].plies[-1].material
    priced = replace(plain, rates=replace(plain.rates, prices=(Price(material=material, per_kg=5.0),)))
    assert measured(priced).cost > 0


def test_the_highest_of_a_subject_or_an_aspect_is_found() -> None:
    found = measured(sample("eelgrass_workboat"))
    for one in found.findings.values():
        best = found.highest(subject=one.subject, aspect=one.aspect)
        assert best is None or best.key == one.key
    whole = found.highest()
    assert whole is not None
    assert governing_words(whole) == f"{whole.aspect} of {whole.name}, 0.97"
    assert found.highest(subject="nobody") is None
    assert governing_words(None) == ""


def test_an_equal_boat_is_measured_once() -> None:
    cache: Cache = {}
    first = measured(sample("first_hat_lesson"), cache=cache)
    assert measured(sample("first_hat_lesson"), cache=cache) is first
    assert measured(sample("first_hat_lesson"), topics=TOPICS, cache=cache) is not first


def test_a_span_without_its_section_is_not_sound() -> None:
    project = sample("first_hat_lesson")
    broken = measured(replace(project, sections=()))
    assert not broken.sound
    assert any("section" in problem.what for problem in broken.blocked)


def test_an_unknown_method_is_refused_and_a_watch_ends_the_work() -> None:
    project = sample("first_hat_lesson")
    with pytest.raises(StringerlabError):
        measured(project, method="no_such_method")

    def stop(done: float, what: str) -> None:
        raise Cancelled(what)

    with pytest.raises(Cancelled):
        measured(project, topics=TOPICS, watch=stop)
