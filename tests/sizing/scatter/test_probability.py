"""Chances against what is known exactly: linear limit states of normal values, and rare and certain ones."""

import math

import numpy as np
import pytest
from scipy.special import ndtr

from stringerlab.sizing.scatter import probability
from stringerlab.sizing.scatter.chances import chance
from stringerlab.sizing.scatter.places import REPLICATES, Part, parts, places
from stringerlab.workings import Array


@pytest.mark.parametrize("seed", range(12))
@pytest.mark.parametrize("beta", [-1.0, 0.0, 0.5, 1.0, 1.645, 2.0, 2.5, 3.0, 3.5])
def test_a_linear_limit_state_of_normal_values_fails_with_the_exact_chance(seed: int, beta: float) -> None:
    direction = np.random.default_rng(seed).normal(size=1 + seed % 9)
    direction /= np.linalg.norm(direction)

    def margin(values: Array) -> Array:
        return beta - values @ direction

    p, low, high = probability(margin, len(direction), 8192, seed)
    assert low <= float(ndtr(-beta)) <= high
    assert low <= p <= high


def test_the_interval_narrows_with_more_samples() -> None:
    widths: list[float] = []
    for samples in (1024, 16_384, 262_144):
        _, low, high = probability(lambda u: 1.0 - u[:, 0], 1, samples, 3)
        widths.append(high - low)
    assert widths[1] < widths[0] / 2
    assert widths[2] < widths[1] / 2


def test_what_never_failed_may_still_fail() -> None:
    p, low, high = chance(np.zeros(REPLICATES), np.full(REPLICATES, 64.0))
    assert (p, low) == (0.0, 0.0)
    # of n trials without one the chance is below about 3.84/n at 95 %, by Wilson's score
    assert high == pytest.approx(1.959964**2 / (1024 + 1.959964**2), rel=1e-5)


def test_what_always_failed_may_still_hold() -> None:
    p, low, high = chance(np.full(REPLICATES, 64.0), np.full(REPLICATES, 64.0))
    assert (p, high) == (1.0, 1.0)
    assert 0.99 < low < 1


def test_replicates_that_differ_widen_the_interval() -> None:
    counts = np.full(REPLICATES, 1000.0)
    alike = chance(np.full(REPLICATES, 100.0), counts)
    apart = chance(np.where(np.arange(REPLICATES) % 2, 50.0, 150.0), counts)
    assert apart[0] == alike[0]
    # deviation of the sixteen 0.0516, over 4, times Student's 2.131 at 15 degrees of freedom
    assert apart[2] - apart[0] == pytest.approx(2.1314 * math.sqrt(16 / 15) * 0.05 / 4, rel=1e-4)


def test_a_part_takes_the_same_places_whoever_takes_it() -> None:
    whole = places(Part(replicate=3, first=0, count=8192), 5, 7)
    late = places(Part(replicate=3, first=4096, count=4096), 5, 7)
    assert (whole[4096:] == late).all()
    assert not (places(Part(replicate=4, first=0, count=8192), 5, 7) == whole).any()


def test_parts_make_up_at_least_as_many_samples_as_asked() -> None:
    for samples in (64, 100, 16_384, 100_000, 1_000_001):
        made = parts(samples)
        total = sum(part.count for part in made)
        assert samples <= total < samples + REPLICATES
        assert {part.replicate for part in made} == set(range(REPLICATES))


def test_places_are_spread_evenly() -> None:
    taken = places(Part(replicate=0, first=0, count=1024), 20, 1)
    for column in taken.T:
        held = np.bincount((column * 1024).astype(int), minlength=1024)
        assert (held == 1).all()
