"""How long a section under the hand takes, from a resolved preview to its stiffness and findings."""

from functools import cache
from itertools import count
from typing import Any, cast

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from stringerlab.assess.live import Live, live_section
from stringerlab.data import folder
from stringerlab.files import load
from stringerlab.project import Project, Resolved, edits, resolve

LIMIT = 5e-3
"""Seconds for a hat with four spans; a frame of a drag may take 8 ms in all."""


def drag() -> tuple[tuple[Project, Resolved, str], dict[str, Any]]:
    """Return a preview that has never been computed: every cache of the section misses."""
    project = _workboat()
    wall = project.sections[0].walls[0]
    y, z = wall.points[3]
    preview = edits.with_point_moved(project, wall.id, 3, (y, z + next(_steps) * 1e-3))
    return (preview, resolve(preview), "s5"), {}


_steps = count(1)


@cache
def _workboat() -> Project:
    return load(folder("sample_projects") / "eelgrass_workboat.json")


@pytest.mark.benchmark(group="a section under the hand")
def test_stiffness_and_findings_fit_in_a_frame(benchmark: BenchmarkFixture) -> None:
    live = cast(Live, benchmark.pedantic(live_section, setup=drag, rounds=60, warmup_rounds=3))
    assert live.properties is not None
    assert len(live.findings) == 20
    stats = cast(Any, benchmark.stats)
    assert stats is None or stats.stats.median < LIMIT
