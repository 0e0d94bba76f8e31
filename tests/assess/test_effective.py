"""Plating as each method counts it beside what works by shear lag: in the findings of every span."""

import pytest

from stringerlab.assess.effective import effective_widths
from stringerlab.assess.mechanics import mechanics_of_spans
from stringerlab.data import folder
from stringerlab.files import load
from stringerlab.methods import Aspect, available, craft_row, method_named
from stringerlab.methods.mechanics.topics import TOPICS
from stringerlab.project import Project, Resolved, resolve
from stringerlab.units import Kind, format

PLIES = [topic for topic in TOPICS if topic.aspect is Aspect.PLY_FAILURE and topic.spans]


@pytest.fixture(scope="module")
def boat() -> Project:
    return load(folder("sample_projects") / "eelgrass_workboat.json")


@pytest.fixture(scope="module")
def found(boat: Project) -> Resolved:
    return resolve(boat)


@pytest.mark.parametrize("id_", ["iso_12215_5_2008", "class_limits"])
def test_each_spans_finding_says_what_its_method_counts_and_what_works(
    boat: Project, found: Resolved, id_: str
) -> None:
    spans = found.spans[:2]
    method = method_named(id_)
    findings = mechanics_of_spans(method, craft_row(boat.craft), spans, PLIES)
    for width in effective_widths(spans, [method]):
        (one,) = (finding for finding in findings if finding.subject == width.subject)
        told = [note for note in one.notes if "by shear lag" in note]
        assert len(told) == 1
        assert f"counts {format(width.counted[method.id], Kind.LENGTH)} of plating" in told[0]
        assert f"by shear lag: {format(width.within, Kind.LENGTH)}" in told[0]


def test_methods_differ_in_what_they_count(found: Resolved) -> None:
    (width,) = effective_widths(found.spans[:1])
    assert set(width.counted) == set(available())
    assert len({round(counted) for counted in width.counted.values()}) > 1
