"""Sequences of plies a shop allows: counted as brute force counts them, numbered without gap or twin."""

from dataclasses import replace
from itertools import pairwise, product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stringerlab.sizing.changing import ply_sequences
from stringerlab.sizing.changing.ply_sequences import Laid, Sequences

MAT = Laid("csm450", True, True, 1.05)
ROVING = Laid("wr600", False, False, 0.7)
STITCHED = Laid("m1808", True, False, 1.2)
"""Laid with its mat to the mould."""
FIVE = (MAT, ROVING, STITCHED, Laid("csm300", True, True, 0.7), Laid("bx800", False, False, 0.9))


def brute(asked: Sequences) -> set[tuple[int, ...]]:
    """Return every sequence by trying them all, the rules written down once more."""
    found: set[tuple[int, ...]] = set()
    for length in range(asked.least, asked.most + 1):
        for places in product(range(len(asked.menu)), repeat=length):
            laid = [asked.menu[place] for place in places]
            faces = [(one.mat_last, other.mat_first) for one, other in pairwise(laid)]
            open_face = asked.before
            if laid:
                faces.insert(0, (open_face is None or open_face, laid[0].mat_first))
                faces.append((laid[-1].mat_last, asked.after is None or asked.after))
            else:
                faces.append((open_face is None or open_face, asked.after is None or asked.after))
            if asked.mat_between and not all(one or other for one, other in faces):
                continue
            if round(sum(round(one.thickness, 6) for one in laid), 6) + 1e-9 >= asked.needed:
                found.add(places)
    return found


@st.composite
def wishes(draw: st.DrawFn) -> Sequences:
    """Any small wish for a laminate."""
    count = draw(st.integers(1, 4))
    menu = tuple(
        Laid(f"x{k}", draw(st.booleans()), draw(st.booleans()), draw(st.integers(3, 25)) / 10)
        for k in range(count)
    )
    least = draw(st.integers(0, 3))
    return Sequences(
        menu=menu,
        least=least,
        most=least + draw(st.integers(0, 2)),
        mat_between=draw(st.booleans()),
        before=draw(st.sampled_from([None, True, False])),
        after=draw(st.sampled_from([None, True, False])),
        needed=draw(st.integers(0, 60)) / 10,
    )


@given(wishes())
def test_count_is_that_of_brute_force_and_numbers_name_each_once(asked: Sequences) -> None:
    wanted = brute(asked)
    assert asked.count == len(wanted)
    named = [asked.unranked(index) for index in range(asked.count)]
    assert set(named) == wanted
    assert len(set(named)) == len(named)
    assert [asked.ranked(sequence) for sequence in named] == list(range(asked.count))


@given(wishes(), st.lists(st.integers(0, 3), max_size=6))
def test_a_sequence_that_is_not_allowed_has_no_number(asked: Sequences, places: list[int]) -> None:
    sequence = tuple(place % len(asked.menu) for place in places)
    assert (asked.ranked(sequence) is not None) == (sequence in brute(asked))


@given(wishes(), st.integers(0, 2**32 - 1))
def test_repair_gives_allowed_sequences_and_leaves_those_alone(asked: Sequences, seed: int) -> None:
    if not asked.count:
        with pytest.raises(ValueError, match="no sequence"):
            asked.repaired(np.zeros(1, np.int64), np.zeros((1, asked.most), np.int64))
        return
    made = np.random.default_rng(seed)
    lengths = made.integers(asked.least, asked.most + 1, 40)
    slots = made.integers(0, len(asked.menu), (40, asked.most))
    held, right = asked.repaired(lengths, slots)
    for length, row, was_length, was in zip(held, right, lengths, slots, strict=True):
        sequence = tuple(row[:length].tolist())
        assert asked.ranked(sequence) is not None
        assert not row[length:].any()
        before = tuple(was[:was_length].tolist())
        if asked.ranked(before) is not None:
            assert sequence == before


@settings(max_examples=30)
@given(st.integers(0, 10**40), st.floats(0, 30))
def test_a_space_of_1e18_and_more_is_numbered_exactly(index: int, gauge: float) -> None:
    asked = Sequences(menu=FIVE, least=10, most=40, needed=gauge)
    assert asked.count > 10**18
    index %= asked.count
    sequence = asked.unranked(index)
    assert asked.ranked(sequence) == index
    assert sum(FIVE[place].thickness for place in sequence) >= gauge - 1e-4


@given(wishes())
def test_counting_coarsely_agrees_where_thicknesses_are_whole_hundredths(asked: Sequences) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(ply_sequences, "_MANY", -1)
        coarse = replace(asked)
        wanted = brute(asked)
        assert coarse.count == len(wanted)
        assert {coarse.unranked(index) for index in range(coarse.count)} == wanted


def test_count_without_rules_is_the_geometric_sum() -> None:
    asked = Sequences(menu=FIVE, least=0, most=43, mat_between=False)
    assert asked.count == (5**44 - 1) // 4
    assert asked.count > 10**30


def test_mat_and_roving_in_turn_are_counted_as_fibonacci_counts_them() -> None:
    counts = [Sequences(menu=(MAT, ROVING), least=n, most=n).count for n in range(1, 12)]
    assert counts == [2, 3, 5, 8, 13, 21, 34, 55, 89, 144, 233]


def test_1808_lies_on_itself_but_not_turned_over() -> None:
    assert Sequences(menu=(STITCHED,), least=5, most=5).count == 1
    other = Laid("1808 turned", False, True, 1.2)
    assert Sequences(menu=(STITCHED, other), least=2, most=2).count == 3


def test_gauge_met_to_the_last_digit_counts_as_met() -> None:
    third = Laid("x", True, True, 1 / 3)
    assert Sequences(menu=(third,), least=3, most=3, needed=1.0).count == 1
    assert Sequences(menu=(third,), least=3, most=3, needed=1.0001).count == 0
    assert Sequences(menu=(third,), least=3, most=3, needed=1.0001).thickest == pytest.approx(1.0, abs=1e-5)


def test_many_different_thicknesses_are_counted_coarsely_and_never_fall_short() -> None:
    made = np.random.default_rng(3)
    menu = tuple(Laid(f"x{k}", True, True, float(made.uniform(0.3, 1.4))) for k in range(9))
    asked = Sequences(menu=menu, least=20, most=26, needed=22.0)
    for index in (0, asked.count // 3, asked.count - 1):
        sequence = asked.unranked(index)
        assert sum(menu[place].thickness for place in sequence) >= 22.0
