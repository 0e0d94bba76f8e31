"""How long files take: a 10 MB project loads within a second, and 3 000 faults are listed as fast."""

import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from stringerlab.errors import StringerlabError
from stringerlab.files import dumps, loads
from stringerlab.project import Project

KEPT = Path(__file__).parents[1] / "files" / "versions" / "version_1.json"


@pytest.fixture(scope="module")
def large() -> Project:
    """A project whose file has 10 MB: sections of many walls, as a drawing would give."""
    boat = loads(KEPT.read_bytes())
    section = boat.sections[0]
    [wall] = section.walls
    points = tuple((float(i) / 7, float(i) / 3) for i in range(200))
    walls = tuple(replace(wall, id=f"w{i}", points=points, fillets=(0.5,) * 200) for i in range(80))
    sections = tuple(replace(section, id=f"s{i}", walls=walls) for i in range(11))
    panels = tuple(replace(boat.panels[0], id=f"p{i}") for i in range(2000))
    return replace(boat, sections=sections, panels=panels)


@pytest.fixture(scope="module")
def data(large: Project) -> bytes:
    return dumps(large)


def test_ten_megabytes_load_within_a_second(benchmark: Any, data: bytes):
    assert 9.5e6 < len(data) < 15e6
    benchmark.extra_info["megabytes"] = len(data) / 1e6
    project = benchmark.pedantic(loads, args=(data,), rounds=3, warmup_rounds=1)
    assert len(project.sections) == 11
    if benchmark.enabled:
        assert benchmark.stats.stats.min < 1.0


def test_ten_megabytes_are_written(benchmark: Any, large: Project):
    assert len(benchmark.pedantic(dumps, args=(large,), rounds=2)) > 9.5e6


def test_three_thousand_faults_of_one_kind_are_listed_within_half_a_second(benchmark: Any):
    bare = json.loads(KEPT.read_bytes())
    panel = bare["project"]["panels"][0]
    bare["project"]["panels"] = [{**panel, "id": f"p{i}", "b": "420"} for i in range(3000)]
    faulty = json.dumps(bare).encode()

    def refused() -> int:
        with pytest.raises(StringerlabError) as raised:
            loads(faulty)
        return len(raised.value.problems)

    assert benchmark.pedantic(refused, rounds=3, warmup_rounds=1) == 3000
    if benchmark.enabled:
        assert benchmark.stats.stats.min < 0.5
