"""Method against method: the parts of a difference multiply to the whole, and the words carry the numbers."""

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import pytest

from stringerlab.assess import Against, against
from stringerlab.assess.why import method_sentences, sentence, subject_sentences
from stringerlab.data import folder
from stringerlab.errors import StringerlabError
from stringerlab.files import load
from stringerlab.laminate import Moduli
from stringerlab.methods import (
    Aspect,
    CraftRow,
    Judged,
    Method,
    PanelRows,
    Part,
    PlatingRows,
    SandwichRows,
    SpanRows,
    available,
    method_named,
)
from stringerlab.project import Project
from stringerlab.units import System
from stringerlab.workings import Array

ISO = method_named("iso_12215_5_2008")
FASTER, WEAKER, NARROWER = 1.3, 0.8, 0.5


def other(name: str, **changes: object) -> Method:
    return replace(ISO, id=name, name=f"{name} form", superseded="", **changes)


def faster(craft: CraftRow) -> CraftRow:
    return replace(craft, V=FASTER * craft.V)


def fast_panels(craft: CraftRow, rows: PanelRows) -> Sequence[Judged]:
    return ISO.judge_panels(faster(craft), rows)


def fast_sandwiches(craft: CraftRow, rows: SandwichRows) -> Sequence[Judged]:
    return ISO.judge_sandwiches(faster(craft), rows)


def fast_spans(craft: CraftRow, rows: SpanRows) -> Sequence[Judged]:
    return ISO.judge_spans(faster(craft), rows)


def weak_panels(craft: CraftRow, rows: PanelRows) -> Sequence[Judged]:
    return ISO.judge_panels(craft, replace(rows, sigma_uf=WEAKER * rows.sigma_uf))


def narrow_plating(rows: PlatingRows) -> Array:
    return NARROWER * ISO.plating(rows)


FAST = other("fast", judge_panels=fast_panels, judge_sandwiches=fast_sandwiches, judge_spans=fast_spans)
WEAK = other("weak", judge_panels=weak_panels)
NARROW = other("narrow", plating=narrow_plating)


@pytest.fixture(scope="module")
def workboat() -> Project:
    return load(folder("sample_projects") / "eelgrass_workboat.json")


@pytest.fixture(scope="module")
def four(workboat: Project) -> Against:
    return against(workboat, [ISO, FAST, WEAK, NARROW])


@pytest.fixture(scope="module")
def every(workboat: Project) -> Against:
    """The workboat with all numbers that some method asks for, by every method there is."""
    craft = replace(workboat.craft, wave_height=800.0, running_trim=4.0, draught=400.0, deck_height=600.0)
    return against(replace(workboat, craft=craft))


def shares(of: Against, subject: str, aspect: Aspect, method: int) -> dict[str, float]:
    found = of.difference(subject, aspect, method)
    return {share.name: share.factor for share in found.shares}


def test_parts_multiply_to_the_ratio_of_utilisations_for_every_method(every: Against, four: Against) -> None:
    compared = 0
    for of in (every, four):
        for line in of.lines:
            for method in range(1, len(of.methods)):
                found = of.difference(line.subject, line.aspect, method)
                if found.ratio is not None:
                    assert math.prod(s.factor for s in found.shares) == pytest.approx(found.ratio, rel=1e-12)
                    assert found.other is not None
                    assert found.base is not None
                    assert found.other.utilisation == pytest.approx(
                        found.ratio * (found.base.utilisation or 0.0)
                    )
                    compared += 1
    assert compared > 100


@pytest.mark.parametrize(
    ("subject", "aspect"),
    [
        ("p14", Aspect.THICKNESS),  # thickness goes with the root of the pressure: in load it is whole
        ("p14", Aspect.PLY_STRENGTH),
        ("p14", Aspect.INTERLAMINAR_SHEAR),
        ("m22", Aspect.MODULUS),
        ("m22", Aspect.WEB_AREA),
        ("m22", Aspect.STIFFNESS),
    ],
)
def test_a_faster_boat_differs_by_its_pressure_alone(four: Against, subject: str, aspect: Aspect) -> None:
    found = four.difference(subject, aspect, 1)
    parts = shares(four, subject, aspect, 1)
    assert found.ratio is not None
    assert found.ratio > 1.2
    assert parts[Part.PRESSURE] == pytest.approx(found.ratio)
    assert all(factor == pytest.approx(1) for name, factor in parts.items() if name != Part.PRESSURE)
    assert {number.name for number in found.behind} == {
        Part.ACCELERATION, Part.AREA_FACTOR, Part.LENGTH_FACTOR,
    }  # fmt: skip


def test_a_weaker_laminate_differs_by_its_design_stress_alone(four: Against) -> None:
    parts = shares(four, "p14", Aspect.THICKNESS, 2)
    assert parts[Part.DESIGN_STRESS] == pytest.approx(1 / WEAKER)
    assert parts[Part.PRESSURE] == 1.0
    assert parts["form and coefficients"] == pytest.approx(1)
    assert four.difference("p14", Aspect.THICKNESS, 2).ratio == pytest.approx(1 / WEAKER)


def test_narrower_plating_differs_by_what_is_there_alone(four: Against) -> None:
    for aspect in (Aspect.MODULUS, Aspect.STIFFNESS):
        found = four.difference("m22", aspect, 3)
        parts = shares(four, "m22", aspect, 3)
        assert found.ratio is not None
        assert found.base is not None
        assert found.other is not None
        assert parts["capacity"] == pytest.approx((found.base.capacity or 0) / (found.other.capacity or 1))
        assert parts["capacity"] == pytest.approx(found.ratio)
    assert four.widths[3]["m22"] == pytest.approx(NARROWER * four.widths[0]["m22"])


def test_a_stress_that_is_the_capacity_counts_once(workboat: Project) -> None:
    def weak(craft: CraftRow, rows: PanelRows) -> Sequence[Judged]:
        plies = replace(
            rows.plies, tension=WEAKER * rows.plies.tension, compression=WEAKER * rows.plies.compression
        )
        return ISO.judge_panels(craft, replace(rows, plies=plies))

    of = against(workboat, [ISO, other("plies", judge_panels=weak)])
    assert of.difference("p14", Aspect.PLY_STRENGTH).ratio == pytest.approx(1 / WEAKER)
    parts = shares(of, "p14", Aspect.PLY_STRENGTH, 1)
    assert parts[Part.DESIGN_STRESS] == pytest.approx(1 / WEAKER)
    assert "capacity" not in parts or parts["capacity"] == pytest.approx(1)


def test_a_proportion_has_no_pressure_in_it(four: Against) -> None:
    """A web's slenderness is relaxed by spare shear: its limit knows the pressure, its demand does not."""
    parts = shares(four, "m22", Aspect.WEB_SLENDERNESS, 1)
    assert set(parts) == {"capacity", "form and coefficients"}
    assert parts["capacity"] > 1


def test_an_identical_method_makes_no_difference(workboat: Project) -> None:
    of = against(workboat, [ISO, other("twin")])
    for line in of.lines:
        found = of.difference(line.subject, line.aspect)
        if found.ratio is not None:
            assert found.ratio == 1.0
            assert found.same
            assert "make no difference" in sentence(found, System.METRIC)
    assert not method_sentences(of)[1:]


def test_the_projects_own_method_is_the_base_and_goes_first(workboat: Project) -> None:
    assert [method.id for method in against(workboat, [FAST, ISO]).methods] == [ISO.id, "fast"]
    assert against(workboat).methods[0].id == workboat.method
    assert {method.id for method in against(workboat).methods} == set(available())
    assert [method.id for method in against(workboat, [FAST, WEAK]).methods] == ["fast", "weak"]


def test_every_unknown_method_is_said_at_once(workboat: Project) -> None:
    with pytest.raises(StringerlabError) as refused:
        against(workboat, ["one", ISO.id, "two"])
    assert [problem.what for problem in refused.value.problems] == [
        "There is no method 'one'.",
        "There is no method 'two'.",
    ]


def test_progress_runs_from_nought_to_one(workboat: Project) -> None:
    heard: list[float] = []
    against(workboat, [ISO, FAST], lambda fraction, _: heard.append(fraction))
    assert heard == sorted(heard)
    assert (heard[0], heard[-1]) == (0.0, 1.0)


def test_a_sentence_carries_the_numbers_of_both_methods(four: Against) -> None:
    found = four.difference("p14", Aspect.THICKNESS, 1)
    pressure = next(share.number for share in found.shares if share.name == Part.PRESSURE)
    assert pressure is not None
    said = sentence(found, System.METRIC)
    assert f"asks for {found.ratio:.2f} times what ISO 12215-5:2008 form does" in said
    assert f"({1000 * pressure.other:.1f} against {1000 * pressure.base:.1f} kN/m²)" in said
    assert "vertical acceleration" in said
    in_us = sentence(found, System.US)
    assert "psi" in in_us
    assert "kN/m²" not in in_us


def test_design_stress_is_said_as_stress_and_as_what_it_asks(four: Against) -> None:
    said = sentence(four.difference("p14", Aspect.THICKNESS, 2), System.METRIC)
    assert "its design stress is 0.80 times as high" in said
    assert "which asks 1.25 times as much" in said


def test_counted_plating_is_said_in_the_units_shown(four: Against) -> None:
    (said,) = [
        line
        for line in subject_sentences(four, "m22", System.METRIC)
        if line.startswith("Section modulus: narrow form")
    ]
    assert f"with {four.widths[3]['m22']:.0f} against {four.widths[0]['m22']:.0f} mm of plating" in said


def test_what_one_method_does_not_judge_is_said(workboat: Project) -> None:
    def without_mass(craft: CraftRow, rows: PanelRows) -> Sequence[Judged]:
        return [one for one in ISO.judge_panels(craft, rows) if one.aspect is not Aspect.DRY_MASS]

    def no_strength(craft: CraftRow, rows: PanelRows) -> Sequence[Judged]:
        return ISO.judge_panels(craft, replace(rows, sigma_uf=np.full(len(rows.b), np.nan)))

    of = against(
        workboat, [ISO, other("light", judge_panels=without_mass), other("bare", judge_panels=no_strength)]
    )
    said = " ".join(subject_sentences(of, "p14", System.METRIC))
    assert "Light form does not judge dry fibre mass (0.39), as ISO 12215-5:2008 form does." in said
    assert "Bare form does not judge thickness" in said
    assert "no flexural strength is known" in said
    assert of.difference("p14", Aspect.DRY_MASS, 1).ratio is None


def test_methods_differ_by_their_records_too(workboat: Project) -> None:
    contracted = other("contracted", moduli=Moduli.CONTRACTED, parts={Part.PRESSURE: "P"})
    said = method_sentences(against(workboat, [ISO, contracted]))
    assert said[0] == ISO.superseded
    assert any("free to contract" in each for each in said)
    assert any("names vertical acceleration, area factor" in each for each in said)


def test_governing_aspects_that_differ_are_named(workboat: Project) -> None:
    def heavy(craft: CraftRow, rows: PanelRows) -> Sequence[Judged]:
        return ISO.judge_panels(craft, replace(rows, dry_mass=0.1 * rows.dry_mass))

    of = against(workboat, [ISO, other("heavy", judge_panels=heavy)])
    said = subject_sentences(of, "p14", System.METRIC, every=False)
    assert said[0].startswith("By heavy form the dry fibre mass governs")
    assert len(said) == 3  # what governs, and the two aspects that do


def test_a_least_strength_is_not_read_as_a_load(workboat: Project) -> None:
    of = against(workboat, [ISO, "class_limits"])
    found = of.difference("p14", Aspect.INTERLAMINAR_SHEAR, 1)
    assert (found.base_is_loaded, found.other_is_loaded) == (True, False)
    said = sentence(found, System.METRIC)
    assert "asks a least here whatever the pressure" in said
    assert "its form and coefficients" not in said


def test_what_methods_make_of_tested_strengths_is_said_of_each(workboat: Project) -> None:
    said = " ".join(method_sentences(against(workboat, [ISO, "class_limits"])))
    assert "takes strengths as the laminate has them, of tested coupons the lower bound" in said
    assert "the least of 0.9 × mean, mean − 2 deviations and the lower bound" in said
    assert "Class form with limiting stress fractions: the edition is not known" in said
    assert "that of ISO 12215-5:2008 form the dynamic load factor" in said


def test_editions_that_name_one_acceleration_alike_are_not_set_apart(workboat: Project) -> None:
    said = method_sentences(against(workboat, [ISO, "iso_12215_5_2019"]))
    assert not [each for each in said if "accelerations" in each]
