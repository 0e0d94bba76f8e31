"""100 000 samples of the launch's scatter, on both layouts. Asked for: under 20 s, under 1.5 GB.

Times are printed, never asserted; that no process holds half of the memory is.
"""

import resource
import sys

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from stringerlab.data import folder
from stringerlab.files import load
from stringerlab.project.wishes import ScatterPlan
from stringerlab.sizing.records import Scattering
from stringerlab.sizing.scatter import scatter

_SAMPLES = 100_000
_FEW = 1024
_MOST = 1.5e9


@pytest.mark.parametrize("name", ["tidewrack_grid", "tidewrack_layout"])
def test_hundred_thousand_samples_of_the_launch(benchmark: BenchmarkFixture, name: str) -> None:
    project = load(folder("sample_projects") / f"{name}.json")
    plan = ScatterPlan(samples=_SAMPLES if benchmark.enabled else _FEW)

    def sampled() -> Scattering:
        return scatter(project, plan)

    found = benchmark.pedantic(sampled, rounds=1, iterations=1)
    assert found.samples >= plan.samples
    if benchmark.disabled:
        return  # what else ran in this process counts in its peak
    unit = 1024 if sys.platform != "darwin" else 1
    held = [
        resource.getrusage(who).ru_maxrss * unit for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)
    ]
    print(f"\n{name}: this process {held[0] / 1e6:.0f} MB, the largest beside it {held[1] / 1e6:.0f} MB")
    # a worker's peak begins with that of the process it was started from, so that a sum would count it twice
    assert max(held) < _MOST / 2
