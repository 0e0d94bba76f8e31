"""Whole designs a minute, every rule check of every span and panel, beside the plain loop in the same run."""

from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from time import perf_counter

import numpy as np
import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from stringerlab.data import folder
from stringerlab.files import load
from stringerlab.project.wishes import Change, Demand, Holds, Number, Plies, SizingPlan
from stringerlab.sizing.judging.judge import Judge
from stringerlab.sizing.plain import measured
from stringerlab.sizing.records import Genes, Outcome

MANY = 1_000_000
FEW = 20
AT_ONCE = 25_000
SAME = 1e-10


@dataclass(frozen=True)
class Boat:
    """A sample and what may change of it."""

    sample: str
    section: str
    laminate: str
    kept: int
    spans: int
    """Stiffener spans of that section: as many full span checks a design."""


WORKBOAT = Boat("eelgrass_workboat", "s5", "l2", 1, 4)
LESSON = Boat("first_hat_lesson", "s3", "l2", 0, 1)


def judge_of(boat: Boat) -> Judge:
    """Return what judges the boat's main stringer: height, crown, flange, and the plies of its laminate."""
    of = (boat.section,)
    plan = SizingPlan(
        numbers=(
            Number(id="a", change=Change.HEIGHT, of=of, least=90, most=190, step=2),
            Number(id="b", change=Change.CROWN_WIDTH, of=of, least=60, most=120, step=2),
            Number(id="c", change=Change.FLANGE_WIDTH, of=of, least=40, most=80, step=2),
        ),
        laminates=(
            Plies(
                id="d",
                laminate=boat.laminate,
                menu=("csm450", "wr600", "csm300"),
                least=2,
                most=5,
                kept=boat.kept,
            ),
        ),
        demands=(
            Demand(id="1", holds=Holds.USE, limit=0.9),
            Demand(id="2", holds=Holds.DEFLECTION, limit=1 / 200),
            Demand(id="3", holds=Holds.HEIGHT, limit=180.0),
        ),
    )
    return Judge(load(folder("sample_projects") / f"{boat.sample}.json"), plan)


def designs(judge: Judge, n: int) -> Genes:
    """Return n designs, hardly any twice."""
    rng = np.random.default_rng(7)
    return np.stack([rng.integers(0, count, n) for count in judge.space.columns], axis=1)


def in_threads(judge: Judge, genes: Genes) -> list[Outcome]:
    parts = [genes[start : start + AT_ONCE] for start in range(0, len(genes), AT_ONCE)]
    with ThreadPoolExecutor(2) as pool:
        return list(pool.map(judge.judge, parts))


def plain_time(judge: Judge, genes: Genes, found: Outcome) -> float:
    """Seconds a design the plain way: drawn, resolved, checked, taken off; the same numbers, or it fails."""
    taken = 0.0
    for row, one in enumerate(genes):
        start = perf_counter()
        plain = measured(judge.space.applied(judge.project, one))
        taken += perf_counter() - start
        assert found.sound[row]
        changing = [
            one.utilisation
            for one in plain.findings.values()
            if one.utilisation is not None and (one.subject, one.aspect) not in judge.standing
        ]
        assert abs(found.use[row] / max(changing) - 1) < SAME
        assert abs(found.mass[row] / plain.mass - 1) < SAME
    return taken / len(genes)


@pytest.mark.parametrize("boat", [WORKBOAT, LESSON], ids=["workboat", "lesson"])
def test_whole_designs_a_minute(benchmark: BenchmarkFixture, boat: Boat) -> None:
    n = MANY if benchmark.enabled else 20_000
    judge = judge_of(boat)
    genes = designs(judge, n)
    judge.judge(genes[:AT_ONCE])  # laminates met once
    found = benchmark.pedantic(in_threads, args=(judge, genes), rounds=3, iterations=1)
    assert sum(len(one.sound) for one in found) == n
    assert np.concatenate([one.sound for one in found]).mean() > 0.9
    start = perf_counter()
    in_threads(judge, genes)
    batch = (perf_counter() - start) / n
    sound = genes[:FEW][found[0].sound[:FEW]]
    loop = plain_time(judge, sound, judge.judge(sound))
    assert loop > 100 * batch
    benchmark.extra_info["designs"] = n
    benchmark.extra_info["space"] = judge.space.count
    benchmark.extra_info["million designs a minute"] = round(60e-6 / batch, 1)
    benchmark.extra_info["million span checks a minute"] = round(60e-6 * boat.spans / batch, 1)
    benchmark.extra_info["plain loop, ms a design"] = round(1e3 * loop, 2)
    benchmark.extra_info["plain loop over batch"] = round(loop / batch)
