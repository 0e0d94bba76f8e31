"""Sentences made from the numbers: what they claim can be read back from the values."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from stringerlab.compare import Chosen, Comparison, compare
from stringerlab.data import folder
from stringerlab.files import load
from stringerlab.layout.plan import Held
from stringerlab.units import System

if TYPE_CHECKING:
    from stringerlab.compare import Compared

SAMPLE = folder("sample_projects") / "tidewrack_layout.json"
CLAIMS = ("complies", "compliant", "meets", "passes", "approved", "safe", "fulfils")


@pytest.fixture(scope="module")
def both() -> Comparison:
    project = load(SAMPLE)
    plain, full = project.layouts[1], project.layouts[0]
    assert (plain.name, full.name) == ("Plain stringers", "Full grid")
    return compare([Chosen(project=project, layout=plain.id), Chosen(project=project, layout=full.id)])


def number(text: str, words: str) -> float:
    found = re.search(words, text)
    assert found, (words, text)
    return float(found[1])


def value(one: Compared, measure: str) -> float:
    found = one.value(measure)
    assert found is not None
    return found


def test_heavier_and_stiffer_are_said_as_the_values_are(both: Comparison) -> None:
    first, second = both.items
    text = both.sentences[0]
    assert text.startswith("B (Full grid) is ")
    more = value(second, "part") - value(first, "part")
    assert number(text, r"is ([\d.]+) kg") == pytest.approx(abs(more), rel=0.005)
    assert ("heavier than A" if more > 0 else "lighter than A") in text
    share = abs(more) / value(first, "part")
    assert number(text, r"\((\d+) %\)") == pytest.approx(100 * share, abs=0.51)
    times = value(first, "deflection") / value(second, "deflection")
    assert number(text, r"([\d.]+) times as stiff") == pytest.approx(times, rel=0.01, abs=0.051)


def test_utilisations_are_said_two_against_one(both: Comparison) -> None:
    first, second = both.items
    (text,) = [one for one in both.sentences if one.startswith("Judged by the method")]
    if f"{value(first, 'worst:rule'):.2f}" != f"{value(second, 'worst:rule'):.2f}":
        assert number(text, r"worst utilisation is ([\d.]+)") == pytest.approx(
            value(second, "worst:rule"), abs=0.0051
        )
        assert number(text, r"against ([\d.]+)") == pytest.approx(value(first, "worst:rule"), abs=0.0051)


def test_no_sentence_claims_compliance(both: Comparison) -> None:
    for text in both.sentences:
        assert not any(claim in text.lower() for claim in CLAIMS), text
    assert any("no claim that either complies" in note for note in both.notes)


def test_a_layout_against_itself_differs_in_nothing() -> None:
    project = load(SAMPLE)
    chosen = Chosen(project=project, layout=project.layouts[0].id)
    found = compare([chosen, replace(chosen)])
    text = " ".join(found.sentences)
    assert "as heavy as A (Full grid) and as stiff" in text
    assert "There is no difference in bonded area, contact and adhesive." in found.sentences
    for words in (" more", " less", " higher", " heavier", " lighter", "times"):
        assert words not in text.replace("no difference", ""), (words, text)


def test_the_other_way_round_more_becomes_less(both: Comparison) -> None:
    first, second = both.items
    other = compare([second.chosen, first.chosen])
    heavier, lighter = both.sentences[0], other.sentences[0]
    assert ("heavier" in heavier) == ("lighter" in lighter)
    assert number(heavier, r"is ([\d.]+) kg") == number(lighter, r"is ([\d.]+) kg")


def test_sentences_in_us_units_hold_the_same_amounts(both: Comparison) -> None:
    us = compare([one.chosen for one in both.items], system=System.US)
    kg = number(both.sentences[0], r"is ([\d.]+) kg")
    assert number(us.sentences[0], r"is ([\d.]+) lb") == pytest.approx(kg / 0.45359237, rel=0.01)


def test_what_is_not_known_is_told_with_its_reason(both: Comparison) -> None:
    boat = both.items[0].chosen.project
    hand = replace(boat, layouts=(), layout="")
    found = compare([both.items[1].chosen, Chosen(project=hand)])
    assert any("greatest deflection" in text and "no layout is drawn" in text for text in found.missing)
    assert not any("stiff" in text for text in found.sentences)


def test_layouts_that_are_held_differently_are_told_apart(both: Comparison) -> None:
    assert not any("not held alike" in note for note in both.notes)
    project = load(SAMPLE)
    full, plain = project.layouts
    other = replace(plain, supports=replace(plain.supports, chine=Held.ELASTIC))
    changed = replace(project, layouts=(full, other))
    found = compare([Chosen(project=changed, layout=one.id) for one in changed.layouts])
    (told,) = (note for note in found.notes if "not held alike" in note)
    assert "chine simple" in told
    assert "chine elastic" in told
