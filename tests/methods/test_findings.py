"""What a finding says: verdict, marks, notes, workings."""

from dataclasses import replace

import numpy as np
import pytest

from stringerlab.errors import Problem
from stringerlab.methods import (
    Aspect,
    CraftRow,
    Finding,
    Governing,
    Judged,
    PanelRows,
    Remark,
    Verdict,
    findings,
    method_named,
    not_judged,
    utilisation_text,
    verdict_of,
)
from stringerlab.units import unit_named
from stringerlab.workings import Known, Source, workings

METHOD = method_named("iso_12215_5_2008")


def found(craft: CraftRow, rows: PanelRows) -> dict[Aspect, Finding]:
    with workings() as recording:
        aspects = METHOD.judge_panels(craft, rows)
    return {one.aspect: one for one in findings(METHOD, aspects, [("p1", "Aft")], recording)}


def judged(demand: list[float], capacity: list[float], **more: object) -> Judged:
    given = {
        "aspect": Aspect.THICKNESS,
        "demand": np.array(demand),
        "capacity": np.array(capacity),
        "unit": unit_named("mm"),
        "power": 2,
        "source": Source("A rule", "1", Known.READ),
    }
    return Judged(**(given | more))  # pyright: ignore[reportArgumentType]


@pytest.mark.parametrize(
    ("utilisation", "verdict"),
    [
        (0.0, Verdict.HOLDS),
        (0.90, Verdict.HOLDS),
        (0.9001, Verdict.TIGHT),
        (1.0, Verdict.TIGHT),
        (1.0001, Verdict.SHORT),
        (float("nan"), Verdict.NOT_JUDGED),
        (None, Verdict.NOT_JUDGED),
    ],
)
def test_verdict_by_utilisation(utilisation: float | None, verdict: Verdict) -> None:
    assert verdict_of(utilisation) is verdict


def test_subjects_come_one_after_the_other_and_rows_that_do_not_apply_give_nothing() -> None:
    first = judged([1, 2], [2, 2])
    second = judged([1, 2], [2, 2], aspect=Aspect.BOND, applies=np.array([False, True]))
    listed = [(f.subject, f.aspect) for f in findings(METHOD, [first, second], [("a", "A"), ("b", "B")])]
    assert listed == [("a", Aspect.THICKNESS), ("b", Aspect.THICKNESS), ("b", Aspect.BOND)]


@pytest.mark.parametrize(("demand", "capacity"), [(np.nan, 1.0), (1.0, np.nan), (1.0, 0.0), (np.inf, 1.0)])
def test_what_is_no_number_is_not_judged(demand: float, capacity: float) -> None:
    (finding,) = findings(METHOD, [judged([demand], [capacity], missing="a test")], [("a", "A")])
    assert (finding.demand, finding.capacity, finding.utilisation) == (None, None, None)
    assert finding.verdict is Verdict.NOT_JUDGED
    assert finding.notes[0] == "a test"


def test_mark_is_the_weakest_of_formulas_and_materials(craft: CraftRow, panel: PanelRows) -> None:
    assert found(craft, panel)[Aspect.THICKNESS].known is Known.MEMORY_M  # n_CG's switch
    guessed = replace(panel, sigma_uf_marks=np.array([Known.ESTIMATE.rank], np.int8))
    assert found(craft, guessed)[Aspect.THICKNESS].known is Known.ESTIMATE
    assert found(craft, guessed)[Aspect.PLY_STRENGTH].known is Known.MEMORY_M


def test_remarks_are_said_in_their_rows_only() -> None:
    one = judged([1, 1], [2, 2], remarks=(Remark("all"), Remark("second", np.array([False, True]))))
    first, second = findings(METHOD, [one], [("a", "A"), ("b", "B")])
    assert ("all" in first.notes, "second" in first.notes) == (True, False)
    assert {"all", "second"} <= set(second.notes)


def test_governing_ply_is_the_first_note(craft: CraftRow, panel: PanelRows) -> None:
    finding = found(craft, panel)[Aspect.PLY_STRENGTH]
    assert finding.governs in panel.plies.names[0]
    assert finding.notes[0].startswith(f"governing: {finding.governs}, in ")
    assert found(craft, panel)[Aspect.THICKNESS].governs == ""


def test_names_common_to_all_rows_are_given_once() -> None:
    governing = Governing(index=np.array([0, 1]), names=(("crown", "web"),))
    assert [governing.name(row) for row in (0, 1)] == ["crown", "web"]
    assert Governing(index=np.array([0, 1]), names=()).name(1) == ""


@pytest.mark.parametrize(
    ("change", "note"),
    [
        ({"LWL": 26_000.0}, "L_WL = 26 m is outside 2.5 to 24 m"),
        ({"beta_04": np.radians(40)}, "β_04 = 40 deg is outside 10 to 30 deg"),
        ({"V": 60 * 1852 / 3600}, "V = 60 kn is outside 0 to 50 kn"),
        ({"waterline_aft": 2_000.0}, "x_L = "),
    ],
)
def test_craft_outside_a_range_is_said(
    craft: CraftRow, panel: PanelRows, change: dict[str, float], note: str
) -> None:
    assert not any("is outside" in one for one in found(craft, panel)[Aspect.THICKNESS].notes)
    notes = found(replace(craft, **change), panel)[Aspect.THICKNESS].notes
    assert any(one.startswith(note) for one in notes), notes


def test_panel_wider_than_long_is_held_and_said(craft: CraftRow, panel: PanelRows) -> None:
    notes = found(craft, replace(panel, l=np.array([300.0])))[Aspect.THICKNESS].notes
    assert any(one.startswith("r = 0.75 is outside") and "held at 1" in one for one in notes), notes


def test_superseded_edition_is_said_once_in_every_finding(craft: CraftRow, panel: PanelRows) -> None:
    for finding in found(craft, panel).values():
        assert sum("superseded" in note for note in finding.notes) == 1
        assert "2008" in finding.method


def test_workings_lead_from_the_craft_to_the_demand(craft: CraftRow, panel: PanelRows) -> None:
    finding = found(craft, panel)[Aspect.THICKNESS]
    names = [step.formula.symbol for step in finding.steps]
    assert names[-1] == "t_req"
    assert {"k_DC", "n_CG", "k_L", "k_AR", "P_D", "P_P", "P_min", "P", "k_2", "k_C", "sigma_d"} <= set(names)
    assert finding.steps[-1].result[finding.row] == finding.demand


def test_workings_of_ply_strength_hold_the_sums_over_plies(craft: CraftRow, panel: PanelRows) -> None:
    names = {step.formula.symbol for step in found(craft, panel)[Aspect.PLY_STRENGTH].steps}
    assert {"Et", "Etz", "EI_0", "z_na", "EI", "M_d", "sigma", "sigma_d"} <= names


def test_subject_with_problems_is_not_judged_and_says_why() -> None:
    problems = [Problem("The laminate is empty.", "panel 'Aft' (p1)", "Add plies.")]
    finding = not_judged(METHOD, "p1", "Aft", Aspect.THICKNESS, problems)
    assert finding.verdict is Verdict.NOT_JUDGED
    assert finding.notes[0] == "panel 'Aft' (p1): The laminate is empty. Add plies."


@pytest.mark.parametrize(
    ("utilisation", "text"),
    [(0.374, "0.37"), (0.9004, "0.9004"), (0.8996, "0.90"), (0.9996, "1.00"), (1.0036, "1.004"), (None, "—")],
)
def test_a_utilisation_never_reads_as_another_verdicts(utilisation: float | None, text: str) -> None:
    assert utilisation_text(utilisation) == text
