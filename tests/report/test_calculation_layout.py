"""The report of a project with a drawn layout: plan, grid, cavities, parent boat."""

from collections.abc import Callable, Collection

import pytest

from stringerlab.assess import Results, check, relative
from stringerlab.data import folder
from stringerlab.files import load
from stringerlab.methods import FindingKind
from stringerlab.project import Parent
from stringerlab.report.calculation import calculation_report
from stringerlab.units import Kind, format

ReadParts = Callable[[bytes, Collection[str]], list[str]]
PARTS = (
    "Layout, panels and spans",
    "Envelopes of the grid",
    "Cavities, drains, access, flotation",
    "Relative to the parent boat",
)
LAUNCH = folder("sample_projects") / "tidewrack_layout.json"


@pytest.fixture(scope="module")
def results() -> Results:
    return check(load(LAUNCH))


@pytest.fixture(scope="module")
def pages(results: Results, read_parts: ReadParts) -> list[str]:
    parent = check(load(folder("sample_projects") / "bladderwrack_parent.json"), results.method)
    of = relative(results, parent, results.project.parent or Parent(file=""))
    return read_parts(calculation_report(results, parent=of), PARTS)


def test_panels_and_spans_are_numbered_on_the_plan(results: Results, pages: list[str]) -> None:
    found = results.resolved.found
    assert found is not None
    panels = next(page for page in pages if "Plan, panels by their ids" in page)
    spans = next(page for page in pages if "Plan, spans by their ids" in page)
    assert found.bays
    assert all(bay.id in panels for bay in found.bays if bay.panel)
    assert all(span.id in spans for span in found.spans if span.span)


def test_grid_is_never_called_compliance(pages: list[str]) -> None:
    page = next(page for page in pages if "Envelopes of the grid First principles" in page)
    assert "never rule compliance" in page


def test_envelopes_reactions_and_checks(results: Results, pages: list[str]) -> None:
    text = " ".join(pages)
    assert results.grid is not None
    assert f"{len(results.grid.cases)} load cases." in text
    worst = max(results.grid.spans.values(), key=lambda one: one.M_max.value)
    assert format(worst.M_max.value, Kind.MOMENT) in text


def test_cavities_foam_drains_and_parent(results: Results, pages: list[str]) -> None:
    text = " ".join(pages)
    assert "It has no strength and stiffens nothing here." in text
    assert "Drains and access" in text
    assert "Relative to the parent boat Parent boat: Bladderwrack" in text
    assert any(each.kind is FindingKind.GRID for each in results.findings)
    assert "A reading relative to a parent boat is no rule compliance" in text
