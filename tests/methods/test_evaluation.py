"""Strengths by evaluation level: factors worked by hand, who they reach, and that findings say so."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from stringerlab.errors import StringerlabError
from stringerlab.laminate import (
    PlyNumbers,
    Role,
    Stack,
    flexural_strength,
    resolve,
    shear_strength,
    uniaxial_strengths,
)
from stringerlab.laminate.records import Laminate, Moduli, Ply, PlyCoupons
from stringerlab.layout import Panel, PanelCase, Span, SpanCase
from stringerlab.materials import Book, records, shipped
from stringerlab.materials.records import CouponSet, Materials, Property, Sourced
from stringerlab.methods import (
    Aspect,
    CraftRow,
    Evaluation,
    Finding,
    Level,
    Method,
    available,
    findings,
    method_named,
    panel_rows,
    plating_rows,
    sandwich_rows,
    span_rows,
)
from stringerlab.methods.evaluation import STRENGTHS, level_of
from stringerlab.section import facts, properties
from stringerlab.section.records import Plating, SectionShape, Side, WallShape
from stringerlab.workings import Known, Source, workings

ISO = method_named("iso_12215_5_2008")
FORM = Evaluation(
    tested=0.9,
    deviations=2.0,
    measured=1.0,
    default=0.8,
    source=Source("a form", "Annex C", Known.MEMORY_M),
)
MAT = PlyNumbers(
    name="mat",
    role=Role.REINFORCED,
    kind=records.PlyKind.MAT,
    angle=0.0,
    thickness=1.05,
    mass=1500.0,
    dry_weight=450.0,
    glass=0.30,
    E1=6400.0,
    E2=6400.0,
    G12=2750.0,
    nu12=0.3,
    tension_1=85.0,
    compression_1=117.0,
    tension_2=85.0,
    compression_2=117.0,
    shear=62.0,
    flexural=152.18,
    interlaminar=17.25,
    marks=tuple((name, Known.PROVED) for name in ("thickness", "E1", "E2", "G12", "nu12", *STRENGTHS)),
)
CORE = replace(MAT, name="foam", role=Role.CORE, kind=None, E1=90.0, E2=90.0, shear=1.15, thickness=20.0)


def coupons(mean: float, deviation: float, count: int, bound: float) -> PlyNumbers:
    one = PlyCoupons(
        name="tension_1", mean=mean, deviation=deviation, count=count, k=1.0, value=bound, estimate=85.0
    )
    marks = (*(pair for pair in MAT.marks if pair[0] != "tension_1"), ("tension_1", Known.TESTED))
    return replace(MAT, tension_1=bound, coupons=(one,), tested=("tension_1",), marks=marks)


def stack(*plies: PlyNumbers) -> Stack:
    return Stack(name="bottom", plies=plies)


def case(laminate: Stack) -> PanelCase:
    return PanelCase(
        panel=Panel(id="p1", name="Aft", b=400, l=900, x=2000, deadrise=18, camber=5, laminate="l1"),
        stack=laminate,
    )


def hatted(laminate: Stack) -> tuple[SpanCase, SectionShape]:
    points = ((-100.0, 6.0), (-40.0, 6.0), (-30.0, 106.0), (30.0, 106.0), (40.0, 6.0), (100.0, 6.0))
    wall = WallShape(
        id="w1", points=points, fillets=(), side=Side.RIGHT, closed=False, stack=laminate
    )  # builds inside and below, down to the shell
    shape = SectionShape(name="hat", walls=(wall,))
    span = Span(id="s1", name="Inner", section="c1", plating="l1", lu=1000, s=450, x=2000, deadrise=18)
    return SpanCase(span=span, section=shape, plating=laminate), shape


# -- by hand -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("mean", "deviation", "bound", "taken"),
    [
        (90.0, 4.0, 77.98, 77.98),  # 6 coupons: bound 77.98 < 81 < 82
        (90.0, 4.0, 83.42, 81.0),  # 50 coupons: 0.9 × 90
        (100.0, 10.0, 83.54, 80.0),  # 50 coupons: 100 − 2 × 10
    ],
)
def test_tested_strength_is_the_least_of_bound_and_the_methods_own(
    mean: float, deviation: float, bound: float, taken: float
) -> None:
    ply = coupons(mean, deviation, 6, bound)
    assert FORM.strength(ply, "tension_1") == pytest.approx(taken)
    assert Evaluation().strength(ply, "tension_1") == pytest.approx(bound)


def test_default_strengths_are_four_fifths_of_the_estimate() -> None:
    [ply] = FORM.judged(stack(MAT)).plies
    assert (ply.tension_1, ply.compression_1, ply.interlaminar) == pytest.approx((68.0, 93.6, 13.8))
    assert (ply.shear, ply.flexural) == pytest.approx((49.6, 121.744))


def test_strengths_at_a_measured_glass_content_are_the_estimate() -> None:
    [ply] = FORM.judged(stack(replace(MAT, glass_measured=True))).plies
    assert (ply.tension_1, ply.interlaminar) == (85.0, 17.25)


def test_value_entered_as_tested_counts_as_a_mean_and_a_data_sheets_as_a_default() -> None:
    own = replace(MAT, tested=("tension_1", "shear"), glass_measured=True)
    marks = tuple((n, Known.TESTED if n == "tension_1" else Known.QUOTED) for n, _ in MAT.marks)
    own = replace(own, marks=marks)
    assert (level_of(own, "tension_1"), level_of(own, "shear")) == (Level.ENTERED, Level.DEFAULT)
    assert FORM.strength(own, "tension_1") == pytest.approx(0.9 * 85)
    assert FORM.strength(own, "shear") == pytest.approx(0.8 * 62)


def test_moduli_thickness_and_cores_are_taken_as_they_are() -> None:
    judged = FORM.judged(stack(MAT, CORE, MAT))
    assert [(ply.E1, ply.G12, ply.thickness) for ply in judged.plies] == [
        (ply.E1, ply.G12, ply.thickness) for ply in (MAT, CORE, MAT)
    ]
    assert judged.plies[1] == CORE


def test_no_factors_leave_the_very_laminate() -> None:
    given = stack(MAT, coupons(90, 4, 6, 77.98))
    assert Evaluation().judged(given) is given


def test_marks_of_strengths_become_the_evaluations_and_those_of_moduli_stay() -> None:
    [ply] = FORM.judged(stack(MAT)).plies
    marks = dict(ply.marks)
    assert {marks[name] for name in STRENGTHS} == {Known.MEMORY_M}
    assert marks["E1"] is Known.PROVED


def test_missing_strength_stays_missing() -> None:
    [ply] = FORM.judged(stack(replace(MAT, flexural=None))).plies
    assert ply.flexural is None


@pytest.mark.parametrize("angle", [0.0, 0.5, np.pi / 2])
def test_factor_goes_through_tsai_wu_whole(angle: float) -> None:
    given = stack(replace(MAT, angle=angle, tension_2=40.0), replace(MAT, angle=-angle))
    judged = FORM.judged(given)
    assert uniaxial_strengths(judged).tension == pytest.approx(0.8 * uniaxial_strengths(given).tension)
    assert shear_strength(judged)[0] == pytest.approx(0.8 * shear_strength(given)[0])


def test_flexural_fit_on_all_plies_takes_the_lowest_level_of_them() -> None:
    measured = replace(MAT, glass_measured=True)
    bare = 502 * 0.3**2 + 107
    assert FORM.flexural(stack(measured, measured))[0] == pytest.approx(bare)
    assert FORM.flexural(stack(measured, MAT)) == (pytest.approx(0.8 * bare), Known.MEMORY_M)
    assert FORM.flexural_levels(stack(measured, MAT)) == {Level.DEFAULT}


def test_tested_flexural_strength_is_the_least_of_the_plies_own() -> None:
    one = PlyCoupons(
        name="flexural", mean=200.0, deviation=5.0, count=30, k=1.777, value=191.1, estimate=152.18
    )
    tested = replace(MAT, flexural=191.1, coupons=(one,), tested=("flexural",))
    assert FORM.flexural(stack(tested, tested))[0] == pytest.approx(180.0)  # 0.9 × 200
    assert FORM.flexural(stack(tested, MAT))[0] == pytest.approx(0.8 * 152.18)


# -- from materials to findings ------------------------------------------------------------------


def own_mat(*tested: CouponSet) -> Book:
    mat = next(one for one in shipped().reinforcements if one.id == "csm450")
    return Book.of(Materials(reinforcements=(replace(mat, id="own", coupons=tested),)), shipped())


def laid(book: Book, *plies: Ply) -> Stack:
    return resolve(Laminate(id="l1", name="own", plies=plies), book)


SIX = CouponSet(
    property=Property.TENSION_1,
    mean=104.0,
    deviation=4.0,
    count=6,
    glass=0.30,
    standard="ISO 527-4",
    source="report 3 of an invented yard",
)


def test_coupons_take_the_place_of_the_estimate_in_the_ply() -> None:
    stiff = replace(SIX, property=Property.MODULUS_1, mean=7000.0, deviation=300.0)
    [ply] = laid(own_mat(SIX, stiff), Ply(material="own")).plies
    assert ply.tension_1 == pytest.approx(104 - 3.006 * 4, abs=0.002)
    assert (ply.E1, ply.compression_1) == (7000.0, 117.0)
    assert ply.tested == ("tension_1", "E1")
    assert dict(ply.marks)["tension_1"] is Known.TESTED
    assert [(one.name, one.estimate) for one in ply.coupons] == [("tension_1", 85.0), ("E1", 6400.0)]
    assert ply.glass_measured


def test_one_coupon_leaves_the_estimate() -> None:
    one = replace(SIX, count=1, deviation=0.0)
    [ply] = laid(own_mat(one), Ply(material="own")).plies
    assert (ply.tension_1, ply.tested, ply.coupons) == (85.0, (), ())


def test_ply_of_another_glass_content_has_its_estimate() -> None:
    [ply] = laid(own_mat(SIX), Ply(material="own", glass=0.36)).plies
    assert ply.tension_1 == pytest.approx(800 * 0.36**2 - 80 * 0.36 + 37)
    assert ply.coupons == ()


def test_bound_not_above_nought_is_refused_with_the_material() -> None:
    with pytest.raises(StringerlabError, match=r"lower bound 104 − 3.006 × 40 = −16.2"):
        laid(own_mat(replace(SIX, deviation=40.0)), Ply(material="own"))


def test_coupons_and_a_tested_value_of_one_property_are_refused() -> None:
    given = records.Tested(tension_1=Sourced(value=90, source="a sheet", known=Known.TESTED))
    held = own_mat(SIX).reinforcement("own")
    assert held is not None
    book = Book.of(Materials(reinforcements=(replace(held, tested=given),)), shipped())
    with pytest.raises(StringerlabError, match="also given as a tested value"):
        laid(book, Ply(material="own"))


def test_rows_are_reduced_marked_and_say_so_where_it_holds() -> None:
    plain, measured = stack(MAT), stack(replace(MAT, glass_measured=True))
    rows = panel_rows([case(plain), case(measured)], FORM)
    assert rows.sigma_uf == pytest.approx([0.8 * 152.18, 152.18])
    assert rows.plies.tension[:, 0] == pytest.approx([68.0, 85.0])
    assert list(rows.sigma_uf_marks) == [Known.MEMORY_M.rank] * 2
    said = {
        remark.text: list(remark.where if remark.where is not None else []) for remark in rows.plies.remarks
    }
    assert sorted(said.values()) == [[False, True], [True, False]]
    [default] = [text for text, where in said.items() if where == [True, False]]
    assert default == (
        "evaluation: strengths by default values × 0.8; moduli as they are: a form, Annex C, memory M"
    )


def test_skins_of_a_sandwich_are_reduced_and_its_core_is_not() -> None:
    given = case(stack(MAT, CORE, MAT))
    bare, judged = sandwich_rows([given]), sandwich_rows([given], FORM)
    assert judged.sigma_ut_o == pytest.approx(0.8 * bare.sigma_ut_o)
    assert judged.tau_c == bare.tau_c == pytest.approx([1.15])
    assert (judged.E_o, judged.G_c) == (bare.E_o, bare.G_c)
    assert len(judged.skin_remarks) == 1
    assert not bare.skin_remarks


def test_fibres_and_webs_of_a_span_are_reduced() -> None:
    given, shape = hatted(stack(MAT))
    plating = Plating(stack=given.plating, width=200.0)
    bare = properties(shape, plating, Moduli.PLAIN)
    judged = properties(shape, plating, Moduli.PLAIN, FORM.judged)
    assert judged.EI_y == bare.EI_y
    assert judged.fibres.names == bare.fibres.names
    assert judged.fibres.tension == pytest.approx(0.8 * bare.fibres.tension)
    known = facts(shape)
    rows = span_rows([given], [judged], [known], FORM)
    assert rows.web_tau == pytest.approx(0.8 * span_rows([given], [bare], [known]).web_tau)
    assert [len(remarks) for remarks in (rows.fibre_remarks, rows.web_remarks)] == [1, 1]


def every_finding(method: Method, craft: CraftRow, laminate: Stack, evaluation: Evaluation) -> list[Finding]:
    """What a method finds of a panel, a sandwich panel and a span of one laminate."""
    cored = Stack(name="cored", plies=(*laminate.plies, CORE, *laminate.plies))
    span, shape = hatted(laminate)
    known = facts(shape)
    width = float(method.plating(plating_rows([span], [known]))[0])
    plating = Plating(stack=laminate, width=width)

    def panels() -> object:
        return method.judge_panels(craft, panel_rows([case(laminate)], evaluation))

    def sandwiches() -> object:
        return method.judge_sandwiches(craft, sandwich_rows([case(cored)], evaluation))

    def spans() -> object:
        worth = properties(shape, plating, method.moduli, evaluation.judged)
        return method.judge_spans(craft, span_rows([span], [worth], [known], evaluation))

    found: list[Finding] = []
    runs: tuple[Callable[[], object], ...] = (panels, sandwiches, spans)
    for run in runs:
        with workings() as recording:
            judged = run()
        found += findings(method, judged, [("x1", "Subject")], recording)  # type: ignore[arg-type]
    return found


def test_utilisations_of_default_strengths_are_a_quarter_greater(craft: CraftRow) -> None:
    found = [
        {(one.aspect, one.unit.symbol): one for one in every_finding(ISO, craft, stack(MAT, MAT, MAT), each)}
        for each in (Evaluation(), ISO.evaluation)
    ]
    rests = (Aspect.THICKNESS, Aspect.PLY_STRENGTH, Aspect.INTERLAMINAR_SHEAR, Aspect.OUTER_SKIN,
             Aspect.MODULUS, Aspect.WEB_AREA)  # fmt: skip
    for key, bare in found[0].items():
        judged = found[1][key]
        if bare.utilisation is None or judged.utilisation is None:
            continue
        if key[0] in rests:
            assert judged.utilisation == pytest.approx(bare.utilisation / 0.8), key
            assert any("default values × 0.8" in note and "memory M" in note for note in judged.notes)
            assert judged.known.rank >= Known.MEMORY_M.rank
        elif key[0] in (Aspect.STIFFNESS, Aspect.CORE_SHEAR, Aspect.SKIN_WRINKLING, Aspect.DRY_MASS):
            assert judged.utilisation == pytest.approx(bare.utilisation), key
            assert not any("evaluation:" in note for note in judged.notes)


@pytest.mark.parametrize("id", available())
def test_each_finding_that_rests_on_strengths_says_how_they_were_taken(id: str, craft: CraftRow) -> None:  # noqa: A002
    method = method_named(id)
    by_level = Evaluation(default=0.8, source=Source("a form", "", Known.MEMORY_M))
    full = replace(
        craft, wave_height=600.0, trim=np.radians(4), draught=500.0, deck_height=900.0, BC_transom=2000.0
    )
    bare = every_finding(method, full, stack(MAT, MAT, MAT), Evaluation())
    judged = every_finding(method, full, stack(MAT, MAT, MAT), by_level)
    compared = 0
    for before, after in zip(bare, judged, strict=True):
        assert before.aspect is after.aspect
        if before.utilisation is None or after.utilisation is None:
            continue
        rests = after.utilisation != pytest.approx(before.utilisation, rel=1e-9)
        said = any("default values × 0.8" in note for note in after.notes)
        assert said or not rests, f"{after.aspect} rests on strengths and does not say how they were taken"
        compared += rests
    assert compared >= 4


def test_iso_takes_default_strengths_times_four_fifths() -> None:
    assert (ISO.evaluation.tested, ISO.evaluation.deviations) == (0.9, 2.0)
    assert (ISO.evaluation.measured, ISO.evaluation.default) == (1.0, 0.8)
    assert ISO.evaluation.known is Known.MEMORY_M


def test_flexural_strength_as_resolved_is_untouched() -> None:
    assert flexural_strength(stack(MAT))[0] == pytest.approx(502 * 0.3**2 + 107)


# -- seen in the workings --------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("aspect", "resolved"),
    [
        (Aspect.THICKNESS, 152.18),
        (Aspect.PLY_STRENGTH, 85.0),
        (Aspect.INTERLAMINAR_SHEAR, 17.25),
        (Aspect.OUTER_SKIN, 85.0),
        (Aspect.INNER_SKIN, 85.0),
        (Aspect.MODULUS, 85.0),
        (Aspect.WEB_AREA, None),
    ],
)
def test_workings_lead_from_what_the_laminate_has_to_what_is_judged_with(
    aspect: Aspect, resolved: float | None, craft: CraftRow
) -> None:
    laminate = stack(MAT, MAT, MAT)
    found = {one.aspect: one for one in every_finding(ISO, craft, laminate, ISO.evaluation)}[aspect]
    [step] = [step for step in found.steps if "f_E" in step.inputs]
    [used] = [step for step in found.steps if step.formula.symbol in ("sigma_d", "tau_d")]
    own = next(value for name, value in step.inputs.items() if name != "f_E")
    assert np.asarray(step.inputs["f_E"]) == pytest.approx(0.8)
    assert np.asarray(own) == pytest.approx(shear_strength(laminate)[0] if resolved is None else resolved)
    assert used.result == pytest.approx(0.5 * 0.8 * np.asarray(own))


def test_of_coupons_the_factor_shown_is_what_their_rule_comes_to(craft: CraftRow) -> None:
    tested = coupons(90.0, 4.0, 50, 83.42)  # 0.9 × 90 = 81 counts, of a bound of 83.42
    found = every_finding(ISO, craft, stack(tested, tested), ISO.evaluation)
    [step] = [
        step
        for one in found
        if one.aspect is Aspect.PLY_STRENGTH
        for step in one.steps
        if "f_E" in step.inputs
    ]
    assert np.asarray(step.inputs["sigma_r"]) == pytest.approx(83.42)
    assert step.result == pytest.approx(81.0)


def test_methods_that_leave_strengths_alone_have_no_such_step(craft: CraftRow) -> None:
    found = every_finding(ISO, craft, stack(MAT, MAT, MAT), Evaluation())
    assert not [step for one in found for step in one.steps if "f_E" in step.inputs]
