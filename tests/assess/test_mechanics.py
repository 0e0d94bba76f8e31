"""The mechanics under a method's pressure: loads by the ends, findings beside the method's own."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import pytest

from stringerlab.assess import check, mechanics
from stringerlab.assess.mechanics import AT_ONCE, mechanics_of_panels, mechanics_of_spans, with_mechanics
from stringerlab.data import folder
from stringerlab.errors import Problem, StringerlabError
from stringerlab.files import load
from stringerlab.laminate import Moduli
from stringerlab.layout import End
from stringerlab.methods import (
    Aspect,
    CraftRow,
    Finding,
    FindingKind,
    Judged,
    Verdict,
    craft_row,
    iso_12215_5_2008,
    method_named,
)
from stringerlab.methods.mechanics import Allowances, LoadedPanel, LoadedSpan
from stringerlab.methods.mechanics.topics import Topic
from stringerlab.project import Project, Resolved, resolve
from stringerlab.units import unit_named
from stringerlab.workings import Known, Source
from stringerlab.workings.recording import row_of

METHOD = iso_12215_5_2008.METHOD
SOURCE = Source("a yard's own book", known=Known.READ)


@pytest.fixture(scope="module")
def boat() -> Project:
    return load(folder("sample_projects") / "eelgrass_workboat.json")


@pytest.fixture(scope="module")
def found(boat: Project) -> Resolved:
    return resolve(boat)


@pytest.fixture(scope="module")
def craft(boat: Project) -> CraftRow:
    return craft_row(boat.craft)


class Seen:
    """A judge that keeps what it was given, and finds a shear of 1 kN allowed."""

    def __init__(self, aspect: Aspect = Aspect.BOND) -> None:
        self.aspect = aspect
        self.spans: list[LoadedSpan] = []

    def __call__(self, loaded: Sequence[LoadedSpan], allow: Allowances) -> tuple[Judged, ...]:
        del allow
        self.spans += loaded
        return (
            Judged(
                aspect=self.aspect,
                demand=np.array([one.end.V_z for one in loaded]),
                capacity=np.full(len(loaded), 1000.0),
                unit=unit_named("N"),
                power=1,
                source=SOURCE,
            ),
        )


def topic(judge: Seen) -> Topic:
    return Topic(name="shear", aspect=judge.aspect, spans=judge)


@pytest.mark.parametrize(
    ("ends", "end", "middle", "shear"),
    [
        ((End.HELD, End.HELD), -1 / 12, 1 / 24, 1 / 2),
        ((End.HELD, End.SIMPLE), -1 / 8, 9 / 128, 5 / 8),
        ((End.SIMPLE, End.SIMPLE), 0, 1 / 8, 1 / 2),
        ((End.HELD, End.FREE), -1 / 2, 0, 1),
    ],
)
def test_a_span_is_loaded_as_a_single_beam(
    found: Resolved,
    craft: CraftRow,
    ends: tuple[End, End],
    end: float,
    middle: float,
    shear: float,
) -> None:
    case = replace(found.spans[0], span=replace(found.spans[0].span, ends=ends))
    judge = Seen()
    mechanics_of_spans(METHOD, craft, [case], [topic(judge)])
    (loaded,) = judge.spans
    w, l = loaded.P * case.span.s, case.span.lu
    assert loaded.end.M_y == pytest.approx(end * w * l**2)
    assert loaded.middle.M_y == pytest.approx(middle * w * l**2)
    assert loaded.end.V_z == pytest.approx(shear * w * l)
    assert (loaded.middle.V_z, loaded.end.N, loaded.end.T) == (0, 0, 0)
    assert loaded.properties.moduli is Moduli.CONTRACTED


def test_the_pressure_is_the_one_the_methods_own_findings_came_from(
    boat: Project, found: Resolved, craft: CraftRow
) -> None:
    judge = Seen()
    mechanics_of_spans(METHOD, craft, found.spans, [topic(judge)])
    rule = check(boat, METHOD, topics=()).findings
    own = {one.subject: one for one in rule if one.aspect is Aspect.MODULUS}
    for loaded in judge.spans:
        finding = own[loaded.case.span.id]
        step = next(step for step in finding.steps if step.formula.symbol == "P")
        assert pytest.approx(row_of(step.result, finding.row)) == loaded.P


@pytest.mark.parametrize(
    "id", ["class_guide_planing", "class_limits", "first_principles", "iso_12215_5_2019"]
)
def test_every_method_gives_a_pressure_to_the_bottom(found: Resolved, craft: CraftRow, id: str) -> None:  # noqa: A002
    judge = Seen()
    sea = replace(craft, wave_height=500.0)
    mechanics_of_spans(method_named(id), sea, found.spans, [topic(judge)])
    assert len(judge.spans) == len(found.spans)
    assert all(loaded.P > 0 for loaded in judge.spans)


def test_a_finding_of_the_mechanics_says_what_it_is_of(found: Resolved, craft: CraftRow) -> None:
    finding = mechanics_of_spans(METHOD, craft, found.spans, [topic(Seen())])[0]
    assert finding.kind is FindingKind.MECHANICS
    assert finding.method == "ISO 12215-5:2008 form: mechanics"
    assert [step.formula.symbol for step in finding.steps][-3:] == ["M_e", "M_m", "V_e"]
    assert finding.known.rank >= Known.MEMORY_H.rank, "no better known than the pressure behind it"


def test_mechanics_stand_in_place_of_what_the_method_leaves_open(found: Resolved, craft: CraftRow) -> None:
    def own(aspect: Aspect, verdict: Verdict) -> Finding:
        return replace(mechanics[0], aspect=aspect, verdict=verdict, kind=FindingKind.RULE)

    mechanics = mechanics_of_spans(METHOD, craft, found.spans[:1], [topic(Seen())])
    modulus = own(Aspect.MODULUS, Verdict.NOT_JUDGED)
    together = with_mechanics([modulus, own(Aspect.BOND, Verdict.NOT_JUDGED)], mechanics)
    assert together == (modulus, *mechanics)
    judged = own(Aspect.BOND, Verdict.HOLDS)
    assert with_mechanics([judged], mechanics) == (judged, *mechanics)


def test_advice_is_said_with_its_numbers_below_what_is_judged_and_never_used(
    boat: Project, found: Resolved
) -> None:
    """Flange and bead (8.7 mm) are thicker than the bottom (8.0 mm): a risk, but nothing is short by it."""
    stringer = [one for one in check(boat, METHOD, resolved=found).findings if one.subject == "m22"]
    advice = stringer[-1]
    assert (advice.aspect, advice.verdict) == (Aspect.PRINT_THROUGH, Verdict.ADVICE)
    assert advice.utilisation is None
    assert advice.demand is not None
    assert advice.demand > 1
    assert any(note.startswith("risk: ") for note in advice.notes)
    assert [one.aspect for one in stringer if one.verdict is Verdict.ADVICE] == [Aspect.PRINT_THROUGH]


def test_a_solver_that_fails_leaves_its_span_not_judged_in_its_words(
    found: Resolved, craft: CraftRow
) -> None:
    poor = found.spans[1].span.id

    def fails(loaded: Sequence[LoadedSpan], allow: Allowances) -> tuple[Judged, ...]:
        if any(one.case.span.id == poor for one in loaded):
            raise StringerlabError(Problem("The residual is 0.3.", "torsion", "Use a finer mesh."))
        return Seen(Aspect.PLY_FAILURE)(loaded, allow)

    findings = mechanics_of_spans(
        METHOD, craft, found.spans, [Topic(name="torsion", aspect=Aspect.PLY_FAILURE, spans=fails)]
    )
    verdicts = {one.subject: one.verdict for one in findings}
    assert verdicts.pop(poor) is Verdict.NOT_JUDGED
    assert Verdict.NOT_JUDGED not in verdicts.values()
    assert len(verdicts) == len(found.spans) - 1
    assert "The residual is 0.3." in next(one for one in findings if one.subject == poor).notes[0]


def test_without_a_pressure_or_with_ends_that_are_a_mechanism_it_says_so(
    found: Resolved, craft: CraftRow
) -> None:
    loose = replace(found.spans[0], span=replace(found.spans[0].span, ends=(End.FREE, End.FREE)))
    judge = Seen()
    findings = mechanics_of_spans(METHOD, craft, [loose, found.spans[1]], [topic(judge)])
    assert [one.case.span.id for one in judge.spans] == [found.spans[1].span.id]
    said = {one.subject: one for one in findings}[loose.span.id]
    assert said.verdict is Verdict.NOT_JUDGED
    assert "mechanism" in said.notes[0]
    mute = replace(METHOD, pressure=None)
    findings = mechanics_of_spans(mute, craft, found.spans, [topic(judge)])
    assert {one.verdict for one in findings} == {Verdict.NOT_JUDGED}
    assert "no pressure" in findings[0].notes[0]


def test_panels_are_loaded_with_the_pressure_of_their_own_area(found: Resolved, craft: CraftRow) -> None:
    seen: list[LoadedPanel] = []

    def judge(loaded: Sequence[LoadedPanel], allow: Allowances) -> tuple[Judged, ...]:
        del allow
        seen.extend(loaded)
        return ()

    mechanics_of_panels(
        METHOD, craft, found.panels, [Topic(name="plates", aspect=Aspect.PLY_FAILURE, panels=judge)]
    )
    assert {one.case.panel.id for one in seen} == {case.panel.id for case in found.panels}
    assert all(one.P > 0 for one in seen)


def test_a_run_is_told_of_every_judge_and_may_be_ended_there(found: Resolved, craft: CraftRow) -> None:
    def end(done: float, what: str) -> None:
        raise InterruptedError(f"{what} {done}")

    with pytest.raises(InterruptedError, match="shear"):
        mechanics_of_spans(METHOD, craft, found.spans, [topic(Seen())], end)


def test_a_large_boat_is_told_of_in_batches_and_may_be_ended_between_two(
    found: Resolved, craft: CraftRow
) -> None:
    case = found.spans[0]
    many = [
        replace(case, span=replace(case.span, id=f"m{number}", name=f"Span {number}"))
        for number in range(2 * AT_ONCE + 1)
    ]
    heard: list[tuple[float, str]] = []
    seen = Seen()
    found_of = mechanics_of_spans(
        METHOD, craft, many, [topic(seen)], lambda done, what: heard.append((done, what))
    )
    assert [one.subject for one in found_of] == [case.span.id for case in many]
    assert [what for _, what in heard] == [
        f"shear, 1 to {AT_ONCE} of {len(many)}",
        f"shear, {AT_ONCE + 1} to {2 * AT_ONCE} of {len(many)}",
        f"shear, {len(many)} to {len(many)} of {len(many)}",
    ]
    assert [done for done, _ in heard] == [pytest.approx(part / 3) for part in range(3)]

    def end(done: float, what: str) -> None:
        if done > 0:
            raise InterruptedError(what)

    ended = Seen()
    with pytest.raises(InterruptedError, match=f"{AT_ONCE + 1} to"):
        mechanics_of_spans(METHOD, craft, many, [topic(ended)], end)
    assert len(ended.spans) == AT_ONCE


def test_batches_find_what_all_at_once_find(boat: Project, monkeypatch: pytest.MonkeyPatch) -> None:
    whole = check(boat).findings
    monkeypatch.setattr(mechanics, "AT_ONCE", 2)
    parts = check(boat).findings
    assert [one.key for one in parts] == [one.key for one in whole]
    for one, other in zip(parts, whole, strict=True):
        assert (one.verdict, one.governs, one.notes) == (other.verdict, other.governs, other.notes)
        assert one.utilisation == (
            None if other.utilisation is None else pytest.approx(other.utilisation, rel=1e-9)
        )
