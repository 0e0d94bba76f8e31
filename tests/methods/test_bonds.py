"""The bond judged: by hand on a hat on its bead, and what leaves it not judged."""

from dataclasses import replace
from math import cos, cosh, pi, sin, sinh, sqrt, tanh

import numpy as np
import pytest

from stringerlab.laminate import Moduli, PlyNumbers, Role, Stack
from stringerlab.layout import Bonding, Span, SpanCase
from stringerlab.materials import shipped
from stringerlab.materials.records import Adhesive, Sourced
from stringerlab.methods import Aspect, Judged
from stringerlab.methods.mechanics import OURS, LoadedSpan, bonds, local
from stringerlab.methods.mechanics.bond_beads import bead_shear, flanges_of, width_needed
from stringerlab.methods.mechanics.bond_rows import Rows, row_of_span
from stringerlab.section import Plating, SectionShape, Side, WallShape, facts, properties
from stringerlab.section.loads import SectionLoads
from stringerlab.section.torsion import thin_walls
from stringerlab.workings import Known

E, NU = 9000.0, 0.3
P, S, L_U = 0.03, 480.0, 900.0
V = P * S * L_U / 2
T_1, T_2 = 5.0, 8.0
METHACRYLATE = next(one for one in shipped().adhesives if one.id == "mma")


def skin(thickness: float, interlaminar: float | None = 17.0) -> Stack:
    ply = PlyNumbers(
        name="ply",
        role=Role.REINFORCED,
        kind=None,
        angle=0.0,
        thickness=thickness,
        mass=1500 * thickness,
        dry_weight=500 * thickness,
        glass=0.3,
        E1=E,
        E2=E,
        G12=E / (2 * (1 + NU)),
        nu12=NU,
        tension_1=100,
        compression_1=100,
        tension_2=100,
        compression_2=100,
        shear=60,
        flexural=150,
        interlaminar=interlaminar,
        marks=(("interlaminar", Known.PROVED),),
    )
    return Stack(name="skin", plies=(ply,))


def hat(bead: float = 4.0, stack: Stack | None = None) -> SectionShape:
    foot = T_1 + bead
    line = ((-150, foot), (-85, foot), (-60, 130), (60, 130), (85, foot), (150, foot))
    drawn = WallShape(
        id="w1",
        points=line,
        fillets=(0, 14, 14, 14, 14, 0),
        side=Side.RIGHT,
        closed=False,
        stack=stack or skin(T_1),
    )
    return SectionShape(name="hat", walls=(drawn,), bead=bead)


def loaded(
    shape: SectionShape | None = None,
    *,
    hull: Stack | None = None,
    adhesive: Adhesive | None = METHACRYLATE,
    named: bool = True,
    bonding: Bonding | None = Bonding(),  # noqa: B008
    shear: float = V,
) -> LoadedSpan:
    shape = shape or hat()
    plating = Plating(stack=hull or skin(T_2), width=274.0)
    span = Span(id="m1", name="span", section="s1", lu=L_U, s=S, x=2000, deadrise=0)
    return LoadedSpan(
        case=SpanCase(
            span=span,
            section=shape,
            plating=plating.stack,
            adhesive=adhesive if shape.bead else None,
            adhesive_named=named,
            bonding=bonding,
        ),
        plating=plating,
        properties=properties(shape, plating, Moduli.CONTRACTED),
        facts=facts(shape),
        P=P,
        end=SectionLoads(V_z=shear, M_y=-P * S * L_U**2 / 12),
        middle=SectionLoads(M_y=P * S * L_U**2 / 24),
    )


def judged(*spans: LoadedSpan) -> tuple[Judged, Judged, Judged]:
    bead, overlap, peel = bonds.judge(spans, OURS)
    assert [one.aspect for one in (bead, overlap, peel)] == [Aspect.BOND, Aspect.BOND, Aspect.PEEL]
    return bead, overlap, peel


def with_value(**values: float) -> Bonding:
    return replace(
        Bonding(),
        **{name: Sourced(value=value, source="test", known=Known.STATED) for name, value in values.items()},
    )


def applies(one: Judged) -> bool:
    assert one.applies is not None
    return bool(one.applies[0])


def notes(one: Judged, row: int = 0) -> list[str]:
    return [
        remark.text
        for remark in (*one.remarks, *one.lacking)
        if remark.where is None or np.broadcast_to(remark.where, row + 1)[row]
    ]


def test_no_span_no_finding() -> None:
    assert bonds.judge((), OURS) == ()


def test_shear_of_a_bead_by_hand() -> None:
    span = loaded()
    found = span.properties
    # what lies above balances the hull: E' of one isotropic ply free to contract is E
    ES = E * 274 * T_2 * (found.z_na + T_2 / 2)
    q = V * ES / found.EI_y
    start, end = span.facts.bonded[0]
    w = end - start
    G_a, t_a = 413 / (2 * 1.4), 4.0
    S_1, S_2 = (E / (2 * (1 + NU)) * t for t in (T_1, T_2))
    x = w * sqrt(G_a / t_a * (1 / S_1 + 1 / S_2)) / 2
    # the strip ends under the flange: what is not within its inner edge the hull picks up under it
    flange, hull, inner = 1 / S_1, 1 / S_2, end / start
    at_root = (flange + inner * hull) / (flange + hull)
    peak = 1 - at_root + at_root * (x / tanh(x) + x * tanh(x))
    coupon = 12.7 * sqrt(2 * G_a / (0.76 * 30_000))
    bead, overlap, _ = judged(span)
    assert bead.demand[0] == pytest.approx(peak * q / 2 / (0.9 * w), rel=1e-9)
    assert bead.capacity[0] == pytest.approx(0.7 * 13.8 * coupon / tanh(coupon) * 0.6 * 0.8 * 0.33)
    assert applies(bead)
    assert not applies(overlap)


def test_peel_of_a_bead_by_hand() -> None:
    span = loaded()
    _, _, peel = judged(span)
    base = span.facts.base_width
    b = S - base
    GJ = thin_walls(span.case.section, span.plating).GJ
    D_1, D_2 = (E * t**3 / 12 for t in (T_1, T_2))
    m = P * b**2 / 12 / (1 + 8 * D_2 / b / (pi**2 * GJ / L_U**2))
    start, end = span.facts.bonded[0]
    w = end - start
    arm = max(-end - base / 2, 0.0) - sqrt(2 * 19 * 2)
    e = max(arm, 0.0)
    c = 4 * (1 - 0.4**2) / 413 + (T_1 + T_2) / 7000
    u = 2 * w * (1 / (4 * c * D_1)) ** 0.25
    d = cosh(u) + cos(u) - 2
    pull = max(m / base, 0.2 * P * S / 2)
    stress = pull / (0.9 * w) * (u * (sinh(u) - sin(u)) / d + e / w * u**2 / 2 * (cosh(u) - cos(u)) / d)
    assert peel.governing is not None
    assert peel.governing.bare(0).startswith("web root")
    assert peel.demand[0] == pytest.approx(stress, rel=1e-6)
    assert peel.capacity[0] == pytest.approx(7 * 0.6 * 0.8 * 0.33)


def test_twice_the_shear_is_twice_the_stress_whichever_way_it_acts() -> None:
    once, twice = judged(loaded())[0], judged(loaded(shear=-2 * V))[0]
    assert twice.demand[0] == pytest.approx(2 * once.demand[0])


def test_a_weak_hull_governs_over_the_adhesive() -> None:
    bead = judged(loaded(hull=skin(T_2, interlaminar=6.0)))[0]
    assert bead.capacity[0] == pytest.approx(6 * 0.6 * 0.8 * 0.33)


def test_voids_and_a_weaker_joint_raise_the_utilisation() -> None:
    before = judged(loaded())
    voids = judged(loaded(bonding=with_value(voids=0.3)))
    joint = judged(loaded(bonding=with_value(static=0.35)))
    for i in (0, 2):
        assert voids[i].utilisation[0] == pytest.approx(before[i].utilisation[0] * 0.9 / 0.7)
    assert joint[0].utilisation[0] == pytest.approx(2 * before[0].utilisation[0])


def test_without_rebound_only_the_slam_pulls() -> None:
    peel = judged(loaded(bonding=with_value(rebound=0.0)))[2]
    hard = judged(loaded(bonding=with_value(rebound=0.9)))[2]
    assert peel.governing is not None
    assert "rebound" not in peel.governing.bare(0)
    assert hard.governing is not None
    assert "rebound" in hard.governing.bare(0)


def test_a_thicker_bead_spreads_shear_and_peel() -> None:
    thin, thick = judged(loaded(hat(bead=2.0))), judged(loaded(hat(bead=8.0)))
    assert thick[0].demand[0] < thin[0].demand[0]
    assert thick[2].demand[0] < thin[2].demand[0]


def test_spans_judged_together_are_judged_as_alone() -> None:
    one, other = loaded(), loaded(hat(bead=0.0))
    together, alone = judged(one, other), (judged(one), judged(other))
    for kind in range(3):
        for row in range(2):
            assert together[kind].demand[row] == pytest.approx(alone[row][kind].demand[0], nan_ok=True)
            assert together[kind].capacity[row] == pytest.approx(alone[row][kind].capacity[0], nan_ok=True)


def test_what_is_laminated_on_is_judged_by_its_overlap() -> None:
    span = loaded(hat(bead=0.0))
    bead, overlap, peel = judged(span)
    start, end = span.facts.bonded[0]
    assert not applies(bead)
    assert overlap.demand[0] == 38  # 2 500 g/m², and little shear
    assert overlap.capacity[0] == pytest.approx(end - start)
    assert peel.governing is not None
    assert peel.governing.bare(0).startswith("bend at the web root")


def test_shear_asks_for_more_overlap_than_the_rule_where_it_is_great() -> None:
    shear = 40 * V
    span = loaded(hat(bead=0.0), shear=shear)
    overlap = judged(span)[1]
    ES = E * 274 * T_2 * (span.properties.z_na + T_2 / 2)
    q = shear * ES / span.properties.EI_y
    assert overlap.demand[0] == pytest.approx(q / 2 / (17 * 0.6 * 0.8 * 0.33), rel=1e-9)


def test_an_adhesive_not_named_is_said() -> None:
    bead = judged(loaded(named=False))[0]
    assert any("Methacrylate adhesive (mma) is taken" in note for note in notes(bead))
    assert not any("is taken" in note for note in notes(judged(loaded())[0]))


def test_adhesive_to_lay_is_said_flange_by_flange() -> None:
    span = loaded()
    start, end = span.facts.bonded[0]
    area = f"{(end - start) * (4 + 2) * 1.15:.0f}"
    assert any(f"lay {area} + {area} mm²" in note for note in notes(judged(span)[0]))


@pytest.mark.parametrize(
    ("span", "why"),
    [
        (loaded(adhesive=None), "the adhesive that the section names is not there"),
        (loaded(bonding=None), "out of their ranges"),
        (loaded(hat(bead=24.0)), "the gap may be 26 mm; Methacrylate adhesive is known to hold to 25 mm"),
    ],
)
def test_what_cannot_be_judged_says_why(span: LoadedSpan, why: str) -> None:
    bead, _, peel = judged(span)
    for one in (bead, peel):
        assert np.isnan(one.utilisation[0])
        assert any(why in note for note in notes(one))


def test_a_laminate_without_interlaminar_strength_leaves_the_shear_not_judged() -> None:
    bead, _, peel = judged(loaded(hat(stack=skin(T_1, interlaminar=None))))
    assert np.isnan(bead.utilisation[0])
    assert "interlaminar strength" in bead.missing
    assert np.isfinite(peel.utilisation[0])


def test_a_section_off_the_hull_has_no_bond() -> None:
    upright = WallShape(
        id="w1", points=((0, 0), (0, 150)), fillets=(), side=Side.LEFT, closed=False, stack=skin(10)
    )
    for one in judged(loaded(SectionShape(name="plate", walls=(upright,))))[1:]:
        assert np.isnan(one.utilisation[0])
        assert any("there is no bond" in note for note in notes(one))


def test_marks_are_the_weakest_of_what_went_in() -> None:
    bead, _, peel = judged(loaded())
    assert bead.marks is not None
    assert Known.ranked(int(bead.marks[0])) is Known.ESTIMATE  # voids and gap are our own choice
    tested = with_value(
        static=0.7,
        fatigue=0.6,
        environment=0.8,
        voids=0.1,
        gap_tolerance=2,
        rebound=0.2,
        through_thickness=7,
    )
    bead, _, peel = judged(loaded(bonding=tested))
    assert bead.marks is not None
    assert peel.marks is not None
    assert Known.ranked(int(bead.marks[0])) is Known.STATED
    assert Known.ranked(int(peel.marks[0])) is Known.STATED


def back_to_back() -> SectionShape:
    """Two channels back to back, their flanges outwards."""
    foot = T_1 + 4.0
    right = ((60, foot), (T_1 + 0.5, foot), (T_1 + 0.5, 130), (45, 130))
    lines = (tuple((-y, z) for y, z in reversed(right)), right)
    walls = tuple(
        WallShape(
            id=f"w{i}", points=line, fillets=(0, 14, 14, 0), side=Side.LEFT, closed=False, stack=skin(T_1)
        )
        for i, line in enumerate(lines)
    )
    return SectionShape(name="back to back", walls=walls, bead=4.0)


def test_webs_back_to_back_turn_as_one_foot() -> None:
    span = loaded(back_to_back())
    _, _, peel = judged(span)
    assert any("as one foot" in note for note in notes(peel))
    assert not any("as one foot" in note for note in notes(judged(loaded())[2]))
    # far less than the moment over the webs' own distance would pull
    m_p = P * (S - span.facts.base_width) ** 2 / 12
    assert peel.demand[0] < m_p / span.facts.base_width


def test_why_its_factors_stand_together_is_said() -> None:
    bead, _, peel = judged(loaded())
    for one in (bead, peel):
        assert any("highest tenth of slams" in note for note in notes(one))
    assert any("the mean over its coupon" in note for note in notes(bead))


def test_the_width_that_a_bead_needs_is_said() -> None:
    # a wide flange adds little: more flow than its peak holds, no width holds
    narrow = next(note for note in notes(judged(loaded())[0]) if "mm wide" in note)
    least = float(narrow.split()[1])
    span = loaded()
    start, end = span.facts.bonded[0]
    assert least < end - start
    assert judged(span)[0].utilisation[0] < 1
    assert any("would not hold" in note for note in notes(judged(loaded(shear=20 * V))[0]))


def test_a_flange_of_just_the_width_that_it_needs_holds_and_a_narrower_one_does_not() -> None:
    span = loaded(shear=1.5 * V)
    row = Rows([row_of_span(span)])
    of = {name: values[:, 0] for name, values in flanges_of(row).items()}
    flow = np.array([judged_flow(span)])
    [least] = width_needed(row, OURS, of, flow)
    for width, holds in ((least, True), (least - 1, False)):
        demand, capacity = bead_shear(row, OURS, {**of, "w_b": np.array([width])}, flow)
        assert bool(demand[0] <= capacity[0]) is holds


def judged_flow(span: LoadedSpan) -> float:
    """Flow by hand: what lies above balances the hull."""
    ES = E * 274 * T_2 * (span.properties.z_na + T_2 / 2)
    return abs(span.end.V_z) * ES / span.properties.EI_y


def test_a_root_opens_by_the_rebound_of_the_bonds_allowances() -> None:
    def opened(rebound: float) -> float:
        weak = hat(stack=skin(T_1, interlaminar=2.0))
        found = local.judge([loaded(weak, bonding=with_value(rebound=rebound))], OURS)
        [one] = [each for each in found if each.aspect is Aspect.WEB_CRIPPLING and applies(each)]
        assert one.governing is not None
        assert one.governing.bare(0).endswith("its root opened")
        return float(one.demand[0])

    assert opened(0.8) == pytest.approx(2 * opened(0.4))
