"""What is asked of a search in words: names of what is found, and steps in the units of the boat."""

from dataclasses import replace

import pytest

from stringerlab.data import folder
from stringerlab.files import load
from stringerlab.project import Project, resolve
from stringerlab.project.wish_offers import offers
from stringerlab.project.wish_words import demand_words, names_of, value_words
from stringerlab.project.wishes import Change, Demand, Holds, Number
from stringerlab.units import System


def sample(name: str) -> Project:
    return load(folder("sample_projects") / f"{name}.json")


def test_panels_and_spans_found_in_a_layout_go_by_the_names_they_are_found_by() -> None:
    launch = sample("tidewrack_layout")
    subjects = resolve(launch).subjects
    assert len(subjects) > 50
    for one in subjects:
        assert names_of(launch, (one.id,)) == one.name
    demand = Demand(id="d", holds=Holds.DEFLECTION, limit=0.005, of=(subjects[-1].id,))
    words = demand_words(launch, demand, System.METRIC)
    assert words == f"Deflection of {subjects[-1].name} at most 1/200 of its length"
    assert names_of(launch, ("x999",)) == "x999"


@pytest.mark.parametrize("bead", [0.0, 6.35])
def test_everything_offered_steps_in_round_inches_where_inches_are_shown(bead: float) -> None:
    """Halves, quarters, sixteenths: said with three decimals at the most, and none in mm."""
    lesson = sample("first_hat_lesson")
    sections = tuple(replace(one, bead=bead) for one in lesson.sections)
    wishes = [one.wish for one in offers(replace(lesson, sections=sections))]
    lengths = [
        one for one in wishes if isinstance(one, Number) and one.change not in {Change.REPEATS, Change.MASS}
    ]
    assert len(lengths) > 2
    assert bool(bead) == any(one.change is Change.BEAD for one in lengths)
    for one in lengths:
        step = value_words(one.change, one.step, System.US)
        assert step in {"0.0625 in", "0.25 in", "0.5 in", "1 in"}
