"""Designs judged many at once against each of them drawn, resolved, checked and taken off the plain way."""

from dataclasses import replace

import numpy as np
import pytest

from stringerlab.data import folder
from stringerlab.errors import StringerlabError
from stringerlab.files import load
from stringerlab.layout import End, Price, Rates
from stringerlab.layout.openings import Opening
from stringerlab.methods import FindingKind, method_named, span_pressure_rows
from stringerlab.methods.ends import end_factors
from stringerlab.methods.rows import craft_row
from stringerlab.project import Project
from stringerlab.project.span_problems import member_height
from stringerlab.project.wishes import Change, Demand, Holds, Number, Plies, SizingPlan
from stringerlab.sizing.judging.judge import Judge
from stringerlab.sizing.plain import Measured, measured
from stringerlab.sizing.records import Genes, Outcome

METHODS = (
    "iso_12215_5_2008",
    "iso_12215_5_2019",
    "class_guide_planing",
    "class_limits",
    "first_principles",
)
SAME = 1e-10
RATES = Rates(
    prices=(
        Price(material="csm450", per_kg=3.0),
        Price(material="wr600", per_kg=3.2),
        Price(material="polyester", per_kg=3.4),
        Price(material="gelcoat", per_kg=7.5),
        Price(material="mma", per_kg=14.0),
    ),
    fabric_waste=0.12,
    resin_waste=0.06,
    adhesive_waste=0.1,
    hour=42.0,
    lay_up=0.35,
    gel_coating=0.4,
    bonding=0.25,
)


def sample(name: str) -> Project:
    return load(folder("sample_projects") / f"{name}.json")


def number(id: str, change: Change, of: str, least: float, most: float, step: float, ply: int = 0) -> Number:  # noqa: A002
    return Number(id=id, change=change, of=tuple(of.split()), least=least, most=most, step=step, ply=ply)


LESSON = SizingPlan(
    numbers=(
        number("a", Change.HEIGHT, "s3", 60, 160, 5),
        number("b", Change.CROWN_WIDTH, "s3", 50, 120, 10),
        number("c", Change.BEAD, "s3", 0, 10, 2),
        number("d", Change.SPACING, "m6 p5", 350, 480, 10),
    ),
    laminates=(
        Plies(id="e", laminate="l2", menu=("csm450", "wr600", "csm300"), least=2, most=5),
        Plies(id="f", laminate="l1", menu=("csm450", "wr600"), least=3, most=6, kept=1),
    ),
)
WORKBOAT = SizingPlan(
    numbers=(
        number("a", Change.HEIGHT, "s5", 90, 190, 5),
        number("b", Change.CROWN_WIDTH, "s5", 50, 120, 10),
        number("c", Change.FLANGE_WIDTH, "s5", 40, 80, 5),
        number("d", Change.LENGTH, "m23", 800, 1000, 50),
        number("e", Change.REPEATS, "l3", 0, 3, 1, ply=2),
        number("f", Change.SPEED, "", 15, 30, 5),
        number("g", Change.MASS, "", 1500, 2500, 500),
    ),
    laminates=(
        Plies(id="h", laminate="l2", menu=("csm450", "wr600", "csm300"), least=2, most=5, kept=1),
        Plies(id="i", laminate="l1", menu=("csm450", "wr800"), least=4, most=8, kept=2),
    ),
)
LAUNCH = SizingPlan(
    numbers=(
        number("a", Change.HEIGHT, "s20 s22", 120, 240, 10),
        number("b", Change.HEIGHT, "s24", 200, 240, 10),
        number("c", Change.CROWN_WIDTH, "s20", 50, 120, 10),
    ),
    laminates=(
        Plies(id="d", laminate="l18", menu=("m1808", "ud500", "csm450"), least=2, most=5, kept=1),
        Plies(id="e", laminate="l1", menu=("csm450", "m1808"), least=4, most=6, kept=2),
        Plies(id="f", laminate="l5", menu=("csm450", "m1808"), least=1, most=3, kept=4),
    ),
)
LAYOUT = SizingPlan(
    numbers=(
        number("a", Change.CROWN_WIDTH, "s26", 120, 140, 10),
        number("b", Change.PLACE, "b124", 400, 480, 40),
        number("c", Change.REPEATS, "l13", 1, 3, 1, ply=3),
        number("d", Change.SPEED, "", 24, 30, 6),
    ),
    laminates=(
        Plies(id="e", laminate="l1", menu=("csm450", "m1808"), least=4, most=6, kept=2),
        Plies(id="f", laminate="l14", menu=("csm450", "m1808"), least=2, most=4, kept=1),
    ),
)


def agree(project: Project, plan: SizingPlan, count: int, method: str | None = None, seed: int = 1) -> Judge:
    """Judge random designs both ways; every number of every design must be the same."""
    judge = Judge(project, plan, method)
    genes = judge.space.sampled(count, seed)
    found = judge.judge(genes)
    for row, one in enumerate(genes):
        plain = plainly(judge, one)
        assert bool(found.sound[row]) is (plain is not None), judge.space.words(one, project)
        if plain is None:
            assert np.isinf(found.mass[row])
            assert np.isinf(found.ratios[row]).all()
            continue
        assert found.use[row] == pytest.approx(changing_use(judge, plain), rel=SAME)
        for value, of in (
            (found.mass[row], plain.mass),
            (found.cost[row], plain.cost),
            (found.hours[row], plain.hours),
        ):
            assert value == pytest.approx(of, rel=SAME, nan_ok=True)
        for demand, ratio in zip(judge.demands, found.ratios[row], strict=True):
            assert ratio == pytest.approx(asked_plainly(judge, plain, demand), rel=SAME), demand
    adds_up(judge, genes, found)
    return judge


def plainly(judge: Judge, row: Genes) -> Measured | None:
    """Return a design the plain way; None where it cannot be built, or leaves more unjudged than the boat."""
    try:
        plain = measured(judge.space.applied(judge.project, row), method=judge.method)
    except StringerlabError:
        return None
    before = measured(judge.project, method=judge.method)
    left_open = any(
        one.utilisation is None and key in before.findings and before.findings[key].utilisation is not None
        for key, one in plain.findings.items()
    )
    return plain if plain.sound and not left_open else None


def changing_use(judge: Judge, plain: Measured) -> float:
    """Return the highest utilisation of what something in the space changes."""
    return max(
        one.utilisation or 0.0
        for one in plain.findings.values()
        if one.kind is FindingKind.RULE and (one.subject, one.aspect) not in judge.standing
    )


def asked_plainly(judge: Judge, plain: Measured, demand: Demand) -> float:
    """Return a demand over its limit, from findings and records one by one."""
    spans = {case.span.id: case for case in plain.resolved.spans}
    if demand.holds is Holds.USE:
        sections = {one: case.span.section for one, case in spans.items()}
        return (
            max(
                (
                    one.utilisation or 0.0
                    for one in plain.findings.values()
                    if one.kind is FindingKind.RULE
                    and demand.aspect in ("", one.aspect)
                    and (not demand.of or one.subject in demand.of or sections.get(one.subject) in demand.of)
                ),
                default=0.0,
            )
            / demand.limit
        )
    cases = [
        case
        for one, case in spans.items()
        if not demand.of or one in demand.of or case.span.section in demand.of
    ]
    if demand.holds is Holds.HEIGHT:
        return max(crown_of(plain, case.span.section) for case in cases) / demand.limit
    deflections: list[float] = []
    for case in cases:
        span = case.span
        [finding] = [
            one
            for one in plain.findings.values()
            if one.subject == span.id and one.aspect.value == "stiffness" and one.kind is FindingKind.RULE
        ]
        assert finding.capacity is not None
        assert judge.method.pressure is not None
        [P] = judge.method.pressure(craft_row(plain.resolved.craft), span_pressure_rows([case]))
        [held] = end_factors([span.ends]).deflection
        deflections.append(held * P * span.s * span.lu**3 / (384 * finding.capacity))
    return max(deflections) / demand.limit


def crown_of(plain: Measured, section: str) -> float:
    points = [point for wall in plain.resolved.shapes[section].walls for point in wall.points]
    return max(z for _, z in points)


def adds_up(judge: Judge, genes: Genes, found: Outcome) -> None:
    """Hold the rest and the parts of every group together against the whole."""
    parts = [judge.rest(genes), *(judge.part(group, genes) for group in range(len(judge.groups)))]
    assert (np.all([one.sound for one in parts], axis=0) == found.sound).all()
    kept = found.sound
    for name in ("mass", "cost", "hours"):
        whole = np.sum([getattr(one, name)[kept] for one in parts], axis=0)
        np.testing.assert_allclose(whole, getattr(found, name)[kept], rtol=1e-12)
    for name in ("use", "ratios"):
        whole = np.max([getattr(one, name)[kept] for one in parts], axis=0)
        np.testing.assert_allclose(whole, getattr(found, name)[kept], rtol=1e-12)


@pytest.mark.parametrize("method", METHODS[:-1])
def test_hats_of_the_lesson_are_judged_as_drawn(method: str) -> None:
    agree(replace(sample("first_hat_lesson"), rates=RATES), LESSON, 15, method)


@pytest.mark.parametrize("method", METHODS)
def test_workboat_is_judged_as_drawn_at_any_speed_and_mass(method: str) -> None:
    agree(replace(sample("eelgrass_workboat"), rates=RATES), WORKBOAT, 12, method)


@pytest.mark.parametrize("method", ["iso_12215_5_2008", "iso_12215_5_2019", "first_principles"])
def test_launch_with_sloping_beds_fills_and_sandwich_decks_is_judged_as_drawn(method: str) -> None:
    agree(sample("tidewrack_plain"), LAUNCH, 10, method)


def test_layout_is_found_anew_where_members_move_or_widen() -> None:
    judge = agree(sample("tidewrack_layout"), LAYOUT, 6)
    assert {0, 1, 3} <= set(judge.outer)


def test_every_aspect_of_every_subject_is_the_plain_findings() -> None:
    project = sample("eelgrass_workboat")
    present = measured(project)
    judged = [one for one in present.findings.values() if one.utilisation is not None]
    assert len(judged) > 40
    demands = tuple(
        Demand(id=str(place), holds=Holds.USE, limit=0.9, aspect=one.aspect.value, of=(one.subject,))
        for place, one in enumerate(judged)
    )
    agree(project, replace(WORKBOAT, demands=demands), 8)


def test_deflection_and_height_are_those_of_single_beams_and_crowns() -> None:
    project = sample("eelgrass_workboat")
    propped = replace(project.spans[0], ends=(End.HELD, End.SIMPLE))
    simple = replace(project.spans[1], ends=(End.SIMPLE, End.SIMPLE))
    project = replace(project, spans=(propped, simple, *project.spans[2:]))
    demands = (
        Demand(id="1", holds=Holds.DEFLECTION, limit=1 / 300),
        Demand(id="2", holds=Holds.DEFLECTION, limit=1 / 300, of=("m23",)),
        Demand(id="3", holds=Holds.HEIGHT, limit=140.0),
        Demand(id="4", holds=Holds.HEIGHT, limit=140.0, of=("s5",)),
        Demand(id="5", holds=Holds.USE, limit=1.0, of=("s7",)),
    )
    agree(project, replace(WORKBOAT, demands=demands), 8)
    assert member_height(project.sections[0]) == pytest.approx(135.0)


def test_what_cannot_be_drawn_is_not_sound_and_nothing_else_is() -> None:
    plan = SizingPlan(
        numbers=(
            number("a", Change.HEIGHT, "s5", 40, 190, 5),
            number("b", Change.CROWN_WIDTH, "s5", 28, 40, 1),
            number("c", Change.FLANGE_WIDTH, "s5", 13, 80, 4),
        ),
        laminates=(Plies(id="e", laminate="l2", menu=("csm450", "wr600"), least=2, most=7, kept=1),),
    )
    judge = agree(sample("eelgrass_workboat"), plan, 60)
    found = judge.judge(judge.space.sampled(400, 3))
    assert 0 < (~found.sound).sum() < 200


def test_laminates_spelled_ply_by_ply_are_judged_as_drawn() -> None:
    plan = replace(
        WORKBOAT,
        numbers=WORKBOAT.numbers[:3],
        laminates=(
            Plies(id="h", laminate="l2", menu=("csm450", "wr600", "csm300"), least=3, most=14, kept=1),
            Plies(id="i", laminate="l1", menu=("csm450", "wr800", "csm300"), least=4, most=16, kept=2),
        ),
    )
    judge = agree(sample("eelgrass_workboat"), plan, 25)
    assert judge.space.count > 10**12
    assert len(judge.space.columns) > 30


def test_bonded_flanges_count_the_fillet_chords_that_lie_near_the_shell() -> None:
    """Adhesive by the width that a section's facts call bonded, at sharp and at round roots."""
    project = replace(sample("first_hat_lesson"), rates=RATES)
    plan = SizingPlan(
        numbers=(
            number("c", Change.BEAD, "s3", 1, 8, 1),
            number("w", Change.FLANGE_WIDTH, "s3", 40, 80, 5),
            number("r", Change.REPEATS, "l2", 1, 6, 1, ply=1),
        )
    )
    agree(project, plan, 20)


def test_a_section_that_no_longer_leaves_room_for_its_opening_is_not_sound() -> None:
    project = sample("eelgrass_workboat")
    hole = Opening(x=300.0, bottom=40.0, height=60.0, width=80.0, radius=20.0)
    project = replace(project, spans=(replace(project.spans[0], openings=(hole,)), *project.spans[1:]))
    plan = SizingPlan(numbers=(number("a", Change.HEIGHT, "s5", 80, 140, 10),))
    judge = Judge(project, plan, tried=False)
    genes = judge.space.every()
    found = judge.judge(genes)
    assert [plainly(judge, one) is not None for one in genes] == found.sound.tolist()
    assert found.sound.tolist() == [False, False, False, True, True, True, True]


def test_what_the_boat_leaves_open_is_left_out_and_said() -> None:
    judge = Judge(sample("eelgrass_workboat"), WORKBOAT)
    assert any("bond of 7 spans" in note for note in judge.notes)


def test_a_demand_that_reads_nothing_is_refused_with_every_other() -> None:
    demands = (
        Demand(id="x", holds=Holds.USE, limit=1.0, aspect="cyclic strain"),
        Demand(id="y", holds=Holds.HEIGHT, limit=100.0, of=("s99",)),
        Demand(id="z", holds=Holds.USE, limit=1.0),
    )
    with pytest.raises(StringerlabError) as refused:
        Judge(sample("first_hat_lesson"), replace(LESSON, demands=demands))
    assert [problem.where for problem in refused.value.problems] == [
        "what must hold, 'x'",
        "what must hold, 'y'",
    ]


def test_groups_are_private_to_one_sections_spans() -> None:
    judge = Judge(sample("eelgrass_workboat"), WORKBOAT)
    names = judge.space.names
    outer = {names[column] for column in judge.outer}
    groups = [{names[column] for column in group} for group in judge.groups]
    assert any("Bottom" in name for name in outer)
    assert len(groups) == 2
    assert not outer & groups[0]
    assert sum(map(len, groups)) + len(outer) == len(names)
    genes = judge.space.sampled(50, 2)
    others = genes.copy()
    private = [column for group in judge.groups for column in group]
    others[:, private] = 0
    np.testing.assert_array_equal(judge.rest(genes).mass, judge.rest(others).mass)
    np.testing.assert_array_equal(judge.rest(genes).use, judge.rest(others).use)


def test_the_same_designs_give_the_same_numbers_whatever_was_judged_before() -> None:
    project = sample("eelgrass_workboat")
    genes = Judge(project, WORKBOAT).space.sampled(300, 9)
    fresh = Judge(project, WORKBOAT).judge(genes)
    used = Judge(project, WORKBOAT)
    used.judge(genes[::-1])
    used.part(0, genes[:7])
    again = used.judge(genes)
    np.testing.assert_array_equal(fresh.use, again.use)
    np.testing.assert_array_equal(fresh.mass, again.mass)


def test_unknown_method_is_refused() -> None:
    with pytest.raises(StringerlabError):
        Judge(sample("first_hat_lesson"), LESSON, "no_such_method")
    assert Judge(sample("first_hat_lesson"), LESSON, "class_limits").method is method_named("class_limits")


def test_laminates_forgotten_for_want_of_room_come_to_the_very_same(monkeypatch: pytest.MonkeyPatch) -> None:
    plan = replace(
        WORKBOAT,
        numbers=WORKBOAT.numbers[:3],
        laminates=(
            Plies(id="h", laminate="l2", menu=("csm450", "wr600", "csm300"), least=3, most=14, kept=1),
            Plies(id="i", laminate="l1", menu=("csm450", "wr800", "csm300"), least=4, most=14, kept=2),
        ),
    )
    project = sample("eelgrass_workboat")
    genes = Judge(project, plan).space.sampled(60, 4)
    kept = Judge(project, plan).judge(genes[::-1])
    monkeypatch.setattr("stringerlab.sizing.judging.parts.MANY", 8)
    monkeypatch.setattr("stringerlab.sizing.judging.judge.CHUNK", 10)
    forgetful = Judge(project, plan)
    for _ in range(2):
        found = forgetful.judge(genes)
        np.testing.assert_array_equal(found.mass, kept.mass[::-1])
        np.testing.assert_array_equal(found.use, kept.use[::-1])
