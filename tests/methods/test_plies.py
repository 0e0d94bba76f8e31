"""First-ply failure judged of one upright box by hand: 80 × 100 mm of 2 mm on 200 × 6 mm of plating."""

from dataclasses import replace

import numpy as np
import pytest

from stringerlab.laminate import Moduli, PlyNumbers, Role, Stack
from stringerlab.layout import Span, SpanCase
from stringerlab.methods import Aspect, Judged
from stringerlab.methods.mechanics import OURS, LoadedSpan, plies
from stringerlab.section import Plating, SectionShape, Side, WallShape, facts, properties
from stringerlab.section.loads import SectionLoads
from stringerlab.workings import Known, workings

E = 10e3
HIGH = 102.0


def laminate(
    t: float,
    tension: float | None = 100.0,
    compression: float = 100.0,
    marks: tuple[tuple[str, Known], ...] = (),
) -> Stack:
    ply = PlyNumbers(
        name="ply",
        role=Role.REINFORCED,
        kind=None,
        angle=0.0,
        thickness=t,
        mass=1500.0 * t,
        dry_weight=500.0 * t,
        glass=0.3,
        E1=E,
        E2=E,
        G12=E / 2.6,
        nu12=0.3,
        tension_1=tension,
        compression_1=compression,
        tension_2=tension,
        compression_2=compression,
        shear=60.0,
        flexural=None,
        interlaminar=20.0,
        marks=marks,
    )
    return Stack(name="laminate", plies=(ply,))


def loaded(
    end: SectionLoads, middle: SectionLoads, stack: Stack | None = None, deadrise: float = 0.0
) -> LoadedSpan:
    stack = stack or laminate(2.0)
    points = ((-80, 2), (-40, 2), (-40, HIGH), (40, HIGH), (40, 2), (80, 2))
    wall = WallShape(id="w1", points=points, fillets=(), side=Side.RIGHT, closed=False, stack=stack)
    shape = SectionShape(name="box", walls=(wall,))
    plating = Plating(stack=laminate(6.0), width=200.0, deadrise=deadrise)
    span = Span(id="m1", name="floor", section="s1", lu=1000.0, s=400.0, x=900.0, deadrise=0.0)
    return LoadedSpan(
        case=SpanCase(span=span, section=shape, plating=plating.stack),
        plating=plating,
        properties=properties(shape, plating, Moduli.CONTRACTED),
        facts=facts(shape),
        P=0.02,
        end=end,
        middle=middle,
    )


def judged(*spans: LoadedSpan) -> Judged:
    (one,) = plies.judge(spans, OURS)
    assert one.aspect is Aspect.PLY_FAILURE
    return one


def governs(one: Judged, row: int = 0) -> str:
    assert one.governing is not None
    return one.governing.bare(row)


def test_bending_alone_allows_half_of_strength_over_stress() -> None:
    span = loaded(SectionLoads(M_y=-2e6), SectionLoads(M_y=1e6))
    found = judged(span)
    z = HIGH - span.properties.z_na
    stress = 2e6 * z * E / span.properties.EI_y
    assert found.capacity == pytest.approx([0.5 * 100 / stress], rel=1e-9)
    assert found.utilisation == pytest.approx([2 * stress / 100], rel=1e-9)
    assert governs(found).startswith("w1 ply 1: ply, mould face")
    assert governs(found).endswith("at the end")


def test_mid_span_governs_where_the_laminate_is_weak_in_tension() -> None:
    weak = laminate(2.0, tension=30.0)
    span = loaded(SectionLoads(M_y=-2e6), SectionLoads(M_y=1e6), weak)
    found = judged(span)
    z = HIGH - span.properties.z_na
    stress = 1e6 * z * E / span.properties.EI_y
    assert governs(found).endswith("at mid-span")
    # Tsai and Wu's own factor under stress along the fibres alone is the strength over the stress.
    assert found.capacity == pytest.approx([0.5 * 30 / stress], rel=1e-9)


def test_shear_at_the_end_lowers_what_bending_allows() -> None:
    bent = loaded(SectionLoads(M_y=-2e6), SectionLoads(M_y=1e6))
    sheared = loaded(SectionLoads(M_y=-2e6, V_z=20e3), SectionLoads(M_y=1e6))
    found = judged(bent, sheared)
    assert found.capacity[1] < found.capacity[0]


def test_hull_keeps_the_bending_upright_on_a_sloping_shell() -> None:
    """A box on a shell at a slope bends as if its product moment were none."""
    span = loaded(SectionLoads(M_y=-2e6), SectionLoads(M_y=1e6), deadrise=0.2)
    assert abs(span.properties.EI_yz) > 0.01 * span.properties.EI_y
    shape, known = span.case.section, span.properties
    loads = plies.held(span.end, known)
    found = plies.ply_stresses(shape, span.plating, [loads], found=known)
    heights = found.z - known.z_na
    assert found.axial_strain[0] == pytest.approx(-2e6 * heights / known.EI_y, rel=1e-9, abs=1e-15)


def test_missing_strength_is_not_judged_and_named() -> None:
    span = loaded(SectionLoads(M_y=-2e6), SectionLoads(M_y=1e6), laminate(2.0, tension=None))
    found = judged(span, loaded(SectionLoads(M_y=-2e6), SectionLoads(M_y=1e6)))
    assert np.isnan(found.utilisation[0])
    assert np.isfinite(found.utilisation[1])
    said = [(remark.text, remark.where) for remark in found.lacking]
    assert [text for text, _ in said] == ["no strength for: w1 ply 1: ply"]
    assert said[0][1] is not None
    assert said[0][1].tolist() == [True, False]


def test_span_without_a_load_is_not_judged() -> None:
    found = judged(loaded(SectionLoads(M_y=np.nan), SectionLoads(M_y=np.nan)))
    assert np.isnan(found.utilisation[0])
    assert [remark.text for remark in found.lacking] == ["it has no load"]


def test_wall_that_floats_free_is_not_judged_in_the_solvers_words() -> None:
    span = loaded(SectionLoads(M_y=-2e6, V_z=1e3), SectionLoads(M_y=1e6))
    afloat = replace(span.case.section.walls[0], id="w2", points=((-20, 300), (20, 300)))
    shape = SectionShape(name="box", walls=(*span.case.section.walls, afloat))
    loose = replace(
        span,
        case=replace(span.case, section=shape),
        properties=properties(shape, span.plating, Moduli.CONTRACTED),
    )
    found = judged(loose)
    assert np.isnan(found.utilisation[0])
    assert "w2" in found.lacking[0].text


def test_mark_is_the_weakest_of_what_makes_the_governing_ply() -> None:
    stack = laminate(2.0, marks=(("E1", Known.READ), ("compression_1", Known.ESTIMATE)))
    found = judged(loaded(SectionLoads(M_y=-2e6), SectionLoads(M_y=1e6), stack))
    assert found.marks is not None
    assert Known.ranked(int(found.marks[0])) is Known.ESTIMATE


def test_allowance_stands_in_the_workings() -> None:
    with workings() as recording:
        found = judged(loaded(SectionLoads(M_y=-2e6), SectionLoads(M_y=1e6)))
    symbols = [step.formula.symbol for step in recording.behind(found.demand, found.capacity)]
    assert symbols == ["lambda_a"]


def test_plating_the_method_counts_is_said_beside_what_works_by_shear_lag() -> None:
    """400 between members, 80 of base, 1000 long and held: κ of 160 outside and 40 inside over 700."""
    span = loaded(SectionLoads(M_y=-1e6), SectionLoads(M_y=5e5))
    within = 320 / (1 + 6.4 * (160 / 700) ** 2) + 80 / (1 + 6.4 * (40 / 700) ** 2)
    told = [note.text for note in judged(span).remarks if "by shear lag" in note.text]
    assert len(told) == 1
    assert f"counts 200.0 mm of plating, {1 - 200 / within:.0%} less than works" in told[0]
    assert f"shear lag: {within:.1f} mm, " in told[0]
    assert told[0].endswith("at its supports")


def test_part_that_counts_no_plating_says_nothing_of_shear_lag() -> None:
    span = loaded(SectionLoads(M_y=-1e6), SectionLoads(M_y=5e5))
    off = replace(span, case=replace(span.case, span=replace(span.case.span, attached=False)))
    assert not any("by shear lag" in note.text for note in judged(off).remarks)
