"""Which designs no other beats: held against comparing every one with every other."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from stringerlab.sizing.searching.front import (
    Front,
    beaten,
    combined,
    joined,
    nondominated,
    rounded,
    spread_out,
)
from stringerlab.workings import Array


def by_pairs(values: Array) -> list[int]:
    """Return what no other row beats, the first of equal ones."""
    return [
        i
        for i, row in enumerate(values)
        if np.isfinite(row).all()
        and not any((other <= row).all() and (other < row).any() for other in values)
        and not any((other == row).all() for other in values[:i])
    ]


@pytest.mark.parametrize("aims", [1, 2, 3, 4])
@pytest.mark.parametrize("seed", range(6))
def test_front_is_what_comparing_every_pair_gives(aims: int, seed: int) -> None:
    values = np.random.default_rng(seed).integers(0, 12, (700, aims)).astype(float)
    values[::50] = np.inf
    values[::77, -1] = np.nan
    assert nondominated(values).tolist() == by_pairs(values)


@given(arrays(float, st.tuples(st.integers(0, 30), st.integers(1, 3)), elements=st.integers(0, 4).map(float)))
def test_front_with_many_ties_is_what_comparing_every_pair_gives(values: Array) -> None:
    assert nondominated(values).tolist() == by_pairs(values)


def test_front_of_three_aims_longer_than_a_block_is_whole() -> None:
    rng = np.random.default_rng(4)
    values = rng.random((3000, 3))
    values /= np.linalg.norm(values, axis=1)[:, None]  # on a sphere: hardly any beats another
    assert nondominated(values).tolist() == by_pairs_fast(values)
    assert len(nondominated(values)) > 600


def test_beaten_is_worse_somewhere_and_equal_is_not() -> None:
    values = np.array([[1.0, 1.0], [1.0, 2.0], [0.5, 3.0], [2.0, 2.0]])
    assert beaten(values, np.array([[1.0, 1.0]])).tolist() == [False, True, False, True]
    assert not beaten(values, np.zeros((0, 2))).any()


@pytest.mark.parametrize("seed", range(30))
def test_parts_that_another_beats_are_in_no_front_of_the_whole_sum_or_maximum(seed: int) -> None:
    """A sum and a maximum both rise with what goes into them, so pruning parts loses nothing."""
    rng = np.random.default_rng(seed)
    adds = np.array([True, False, True])
    parts = [rng.integers(1, 9, (size, 3)).astype(float) for size in (17, 12, 9)]
    whole = Front(np.zeros((1, 3)), np.zeros((1, 0), np.int64))
    for part in parts:
        kept = nondominated(part)
        whole = joined(whole, Front(part[kept], kept[:, None].astype(np.int64)), adds)
    every = combined(
        combined(parts[0][:, None, None], parts[1][None, :, None], adds), parts[2][None, None], adds
    )
    every = every.reshape(-1, 3)
    assert (np.unique(whole.values, axis=0) == np.unique(every[by_pairs_fast(every)], axis=0)).all()
    for values, picks in zip(whole.values, whole.picks, strict=True):
        rows = [part[pick] for part, pick in zip(parts, picks, strict=True)]
        assert (combined(combined(rows[0], rows[1], adds), rows[2], adds) == values).all()


def by_pairs_fast(values: Array) -> list[int]:
    """Return what no other row beats, equal ones all."""
    return [
        i
        for i, row in enumerate(values)
        if not ((values <= row).all(axis=1) & (values < row).any(axis=1)).any()
    ]


def test_rounding_makes_sums_in_another_order_equal_and_turns_nothing_round() -> None:
    rng = np.random.default_rng(2)
    terms = rng.uniform(0.1, 900, (400, 7))
    forth, back = terms.sum(axis=1), np.array([sum(row[::-1]) for row in terms.tolist()])
    assert (forth != back).any()
    assert (rounded(forth) == rounded(back)).all()
    near = np.sort(np.concatenate([forth, forth * (1 + 1e-10), forth * (1 + 1e-6)]))
    assert (np.diff(rounded(near)) >= 0).all()
    assert rounded(np.array([np.inf, 0.0])).tolist() == [np.inf, 0.0]


def test_a_front_shown_in_part_keeps_the_lowest_of_every_aim() -> None:
    x = np.linspace(0, 1, 500)
    values = np.stack([x, (1 - x) ** 2, np.abs(x - 0.4)], axis=1)
    kept = spread_out(values, 20)
    assert len(kept) <= 20
    assert set(np.argmin(values, axis=0)) <= set(kept.tolist())
    assert np.diff(np.sort(values[kept, 0])).max() < 0.12
