"""Local failure of spans as it is judged: one row a span and aspect, what governs, what is missing."""

from collections.abc import Sequence
from dataclasses import replace
from math import isnan, pi, sqrt

import numpy as np
import pytest

from stringerlab.data import folder
from stringerlab.files import load
from stringerlab.laminate import Moduli, PlyNumbers, Role, Stack
from stringerlab.layout import Backed, Crossing, Span, SpanCase
from stringerlab.methods.mechanics import OURS, Allowances, LoadedSpan
from stringerlab.methods.mechanics.local import judge
from stringerlab.methods.records import Aspect, Judged
from stringerlab.plate import strip as ritz
from stringerlab.project import resolve
from stringerlab.section import Plating, SectionShape, Side, WallShape, facts, properties
from stringerlab.section.loads import SectionLoads
from stringerlab.workings import Known, workings

E, NU = 10_000.0, 0.3
PLY = PlyNumbers(
    name="mat", role=Role.REINFORCED, kind=None, angle=0.0, thickness=5.0, mass=7500.0, dry_weight=2500.0,
    glass=0.3, E1=E, E2=E, G12=E / 2 / (1 + NU), nu12=NU, tension_1=90.0, compression_1=120.0,
    tension_2=90.0, compression_2=120.0, shear=60.0, flexural=None, interlaminar=16.0,
    marks=(("thickness", Known.TESTED), ("E1", Known.TESTED)),
)  # fmt: skip
CORE = replace(
    PLY, name="foam", role=Role.CORE, thickness=20.0, E1=60.0, E2=60.0, G12=20.0, shear=0.8,
    compression_1=0.9, marks=(("compression_1", Known.MEMORY_M),),
)  # fmt: skip
SKIN = replace(PLY, thickness=3.0)
STACK = Stack(name="girder", plies=(PLY,))
HULL = Stack(name="bottom", plies=(replace(PLY, thickness=8.0),))
CORED = Stack(name="cored bottom", plies=(SKIN, CORE, SKIN))
CORED_WEB = Stack(name="cored web", plies=(replace(PLY, thickness=1.5), CORE, replace(PLY, thickness=1.5)))
TOUGH = Allowances(buckling=1.0, local=1.0)


D_5 = E * 5**3 / 12 / (1 - NU**2)


def _stress(span: LoadedSpan, z: float) -> float:
    """Compression at a height at the end, by beam theory."""
    return -span.end.M_y * (z - span.properties.z_na) * E / span.properties.EI_y


def _ritz(width: float, loads: ritz.EdgeLoads, spring: float) -> float:
    plate = ritz.Strip(
        D_11=D_5, D_22=D_5, D_12=NU * D_5, D_66=D_5 * (1 - NU) / 2, b=width, spring_1=spring, spring_2=spring
    )
    return ritz.buckling_factor(plate, loads)


def wall(points: Sequence[tuple[float, float]], stack: Stack, root: float) -> WallShape:
    radii = tuple(root if z < 50 and 0 < at < len(points) - 1 else 0.0 for at, (_, z) in enumerate(points))
    return WallShape(id="w1", points=tuple(points), fillets=radii, side=Side.RIGHT, closed=False, stack=stack)


def hat(stack: Stack = STACK, *, bead: float = 0.0, root: float = 12.0) -> SectionShape:
    """Tool line 100 high, crown 120 and flanges 60 wide, no draft."""
    z = sum(ply.thickness for ply in stack.plies) + bead
    points = ((-120.0, z), (-60.0, z), (-60.0, 100.0), (60.0, 100.0), (60.0, z), (120.0, z))
    return SectionShape(name="hat", walls=(wall(points, stack, root),), bead=bead)


def floor(stack: Stack = STACK, height: float = 120.0) -> SectionShape:
    return SectionShape(name="floor", walls=(wall(((0.0, 0.0), (0.0, height)), stack, 0.0),))


def loaded(
    shape: SectionShape, hull: Stack = HULL, *, P: float = 0.03, factor: float = 1.0, **change: object
) -> LoadedSpan:
    span = Span(id="m1", name="member", section="s1", lu=1000, s=400, x=2000, deadrise=0)
    span = replace(span, **change)  # pyright: ignore[reportArgumentType]
    plating = Plating(stack=hull, width=min(300.0, span.s))
    p = P * factor
    moment, shear = p * span.s * span.lu**2 / 12, p * span.s * span.lu / 2
    return LoadedSpan(
        case=SpanCase(span=span, section=shape, plating=hull),
        plating=plating,
        properties=properties(shape, plating, Moduli.CONTRACTED),
        facts=facts(shape),
        P=p,
        end=SectionLoads(V_z=shear, M_y=-moment),
        middle=SectionLoads(M_y=moment / 2),
    )


def judged(*spans: LoadedSpan, allow: Allowances = OURS) -> dict[Aspect, list[Judged]]:
    found: dict[Aspect, list[Judged]] = {}
    for one in judge(spans, allow):
        found.setdefault(one.aspect, []).append(one)
    return found


def row(found: dict[Aspect, list[Judged]], aspect: Aspect, at: int = 0) -> Judged:
    """Return the judged that applies to a span; there is one at most."""
    (one,) = (held for held in found[aspect] if held.applies is None or held.applies[at])
    return one


def _applies(one: Judged) -> np.ndarray | bool:
    return True if one.applies is None else one.applies


def use(found: dict[Aspect, list[Judged]], aspect: Aspect, at: int = 0) -> float:
    return float(row(found, aspect, at).utilisation[at])


def governs(found: dict[Aspect, list[Judged]], aspect: Aspect, at: int = 0) -> str:
    governing = row(found, aspect, at).governing
    assert governing is not None
    return governing.name(at)


class TestHat:
    def test_crown_held_by_its_webs_as_the_strips_own_solution_on_springs(self) -> None:
        """Hinged use of crown and web by hand, the web's 2 D/d less by their ratio; Ritz on these springs."""
        span = loaded(hat())
        found = judged(span)
        euler = pi**2 * E / (12 * (1 - NU**2))
        crown = _stress(span, 97.5) / (4 * euler * (5 / 110) ** 2)
        top, foot = _stress(span, 97.5), _stress(span, 2.5)
        R_c = max((top + foot) / 2, 0.0) / (4 * euler * (5 / 95) ** 2)
        R_b = min((top - foot) / 2, top) / (23.8 * euler * (5 / 95) ** 2)
        R_s = span.end.V_z / 2 / 95 / 5 / (5.34 * euler * (5 / 95) ** 2)
        web = (R_c + sqrt(R_c**2 + 4 * (R_b**2 + R_s**2))) / 2
        assert web < crown
        spring = 2 * D_5 / 95 * (1 - web / crown)
        exact = _ritz(110, ritz.EdgeLoads(compression=1.0), spring)
        one = row(found, Aspect.CROWN_BUCKLING)
        assert one.demand[0] == pytest.approx(_stress(span, 97.5) * 5 / exact, rel=0.01)
        assert use(found, Aspect.CROWN_BUCKLING) == pytest.approx(one.demand[0] / OURS.buckling, rel=1e-9)
        assert governs(found, Aspect.CROWN_BUCKLING) == "crown 110 mm wide, w1, at the end"
        (told,) = (note.text for note in one.remarks if "with hinged edges" in note.text)
        assert told.startswith("elastically held edges govern")
        assert f"{crown:.2f} with hinged" in told
        assert f"{crown * 4 / 6.97:.2f} with clamped" in told

    def test_plating_is_compressed_at_mid_span(self) -> None:
        span = loaded(hat())
        found = judged(span)
        stress = span.middle.M_y * (span.properties.z_na + 4) * E / span.properties.EI_y
        critical = 4 * pi**2 * E / (12 * (1 - NU**2)) * (8 / 180) ** 2
        assert row(found, Aspect.PLATING_BUCKLING).demand[0] == pytest.approx(stress / critical, rel=1e-6)
        assert governs(found, Aspect.PLATING_BUCKLING) == "plating left of the webs, 90 mm, at mid-span"

    def test_web_in_shear_alone_is_held_by_crown_and_plating(self) -> None:
        """The weakest: the crown, 2 D/110 of 5 mm; 8 mm of plating twice 90 mm wide holds more."""
        span = replace(loaded(hat(root=0.0)), middle=SectionLoads(), end=SectionLoads(V_z=9000.0))
        exact = _ritz(95, ritz.EdgeLoads(shear=1.0), 2 * D_5 / 110)
        found = row(judged(span), Aspect.WEB_BUCKLING)
        assert 1 <= found.demand[0] / (9000 / 190 / exact) <= 1.02

    def test_web_of_a_part_off_the_hull_has_hinged_edges(self) -> None:
        span = loaded(hat(root=0.0), attached=False)
        span = replace(span, middle=SectionLoads(), end=SectionLoads(V_z=9000.0))
        critical = 5.34 * pi**2 * E / (12 * (1 - NU**2)) * (5 / 95) ** 2
        found = row(judged(span), Aspect.WEB_BUCKLING)
        assert found.demand[0] == pytest.approx(9000 / 950 / critical, rel=1e-3)
        assert any(note.text.startswith("hinged edges govern") for note in found.remarks)

    def test_crippling_by_hand(self) -> None:
        found = judged(loaded(hat(root=0.0)), allow=TOUGH)
        bows = pi**2 * E * 125 / 12 / (1 - NU**2) / 95**2
        one = row(found, Aspect.WEB_CRIPPLING)
        assert one.demand[0] == pytest.approx(0.03 * 400 / 2, rel=1e-9)
        assert one.capacity[0] == pytest.approx(min(bows, 120 * 5), rel=1e-9)

    def test_a_hat_has_no_free_flange_no_core_and_no_wrinkling(self) -> None:
        found = judged(loaded(hat()))
        assert not {Aspect.FLANGE_BUCKLING, Aspect.CORE_CRUSHING, Aspect.SKIN_WRINKLING} & set(found)

    def test_twice_the_pressure_is_nearer_by_two(self) -> None:
        once, twice = judged(loaded(hat())), judged(loaded(hat(), factor=2))
        for aspect in (
            Aspect.CROWN_BUCKLING,
            Aspect.WEB_BUCKLING,
            Aspect.PLATING_BUCKLING,
            Aspect.WEB_CRIPPLING,
        ):
            assert use(twice, aspect) == pytest.approx(2 * use(once, aspect), rel=1e-9)

    def test_thicker_laminate_is_further_from_failure(self) -> None:
        thick = Stack(name="thick", plies=(replace(PLY, thickness=6.0),))
        thin, strong = judged(loaded(hat())), judged(loaded(hat(thick)))
        for aspect in (Aspect.CROWN_BUCKLING, Aspect.WEB_BUCKLING, Aspect.WEB_CRIPPLING):
            assert use(strong, aspect) < use(thin, aspect)

    def test_mirrored_section_is_judged_alike(self) -> None:
        points = ((-100.0, 5.0), (-50.0, 5.0), (-40.0, 90.0), (60.0, 90.0), (80.0, 5.0), (130.0, 5.0))
        one = SectionShape(name="a", walls=(wall(points, STACK, 10.0),))
        other = SectionShape(name="a", walls=(wall([(-y, z) for y, z in points[::-1]], STACK, 10.0),))
        left, right = judged(loaded(one)), judged(loaded(other))
        for aspect in left:
            assert use(left, aspect) == pytest.approx(use(right, aspect), rel=1e-6, nan_ok=True)


def test_plate_floor_has_a_free_top_that_governs() -> None:
    found = judged(loaded(floor()))
    assert governs(found, Aspect.WEB_BUCKLING) == "web 1 with a free top, w1, at the end"
    notes = [one.text for one in row(found, Aspect.WEB_BUCKLING).remarks]
    assert "its top is taken as free: nothing is drawn on it" in notes
    assert use(found, Aspect.WEB_BUCKLING) > use(judged(loaded(hat())), Aspect.WEB_BUCKLING)
    assert Aspect.CROWN_BUCKLING not in found


def test_angle_has_a_free_flange() -> None:
    points = ((0.0, 0.0), (0.0, 120.0), (50.0, 120.0))
    shape = SectionShape(name="angle", walls=(wall(points, STACK, 0.0),))
    found = judged(loaded(shape))
    assert governs(found, Aspect.FLANGE_BUCKLING).startswith("free flange 45 mm wide, w1")
    assert use(found, Aspect.FLANGE_BUCKLING) > 0


class TestCoredBottom:
    def test_crushing_by_hand(self) -> None:
        found = judged(loaded(hat(bead=4.0), CORED), allow=TOUGH)
        width = 5 + 2 * (5 + 4 + 3)
        one = row(found, Aspect.CORE_CRUSHING)
        assert one.demand[0] == pytest.approx(0.03 * 400 / 2 / width, rel=1e-9)
        assert one.capacity[0] == 0.9
        assert one.marks is not None
        assert one.marks[0] == Known.MEMORY_M.rank
        assert governs(found, Aspect.CORE_CRUSHING) == "web 1, w1, on foam"

    def test_missing_core_strength_is_said(self) -> None:
        plies = tuple(
            replace(ply, compression_1=None) if ply.role is Role.CORE else ply for ply in CORED.plies
        )
        found = judged(loaded(hat(), replace(CORED, plies=plies)))
        assert isnan(use(found, Aspect.CORE_CRUSHING))
        assert row(found, Aspect.CORE_CRUSHING).missing == "the core's compressive strength is missing"

    def test_skins_of_the_plating_may_wrinkle(self) -> None:
        span = loaded(hat(), CORED)
        found = judged(span)
        assert row(found, Aspect.SKIN_WRINKLING).capacity[0] == pytest.approx(0.3 * (E * 60 * 20) ** (1 / 3))
        strain = span.middle.M_y * (span.properties.z_na + 13) / span.properties.EI_y
        assert row(found, Aspect.SKIN_WRINKLING).demand[0] == pytest.approx(strain * E, rel=1e-6)

    def test_single_skin_beside_it_is_no_row_of_its_own(self) -> None:
        found = judged(loaded(hat()), loaded(hat(), CORED))
        for aspect in (Aspect.CORE_CRUSHING, Aspect.SKIN_WRINKLING):
            (one,) = found[aspect]
            assert np.asarray(one.applies).tolist() == [False, True]


def test_cored_web_bows_out_sooner_by_its_cores_shear() -> None:
    found = judged(loaded(floor(CORED_WEB, 240.0)), allow=TOUGH)
    d, t_c = 21.5, 20.0
    D = E / (1 - NU**2) * 2 * (1.5**3 / 12 + 1.5 * (d / 2) ** 2) + 60 / (1 - NU**2) * t_c**3 / 12
    alone, S = pi**2 * D / 240**2, 20 * d * d / t_c
    assert row(found, Aspect.WEB_CRIPPLING).capacity[0] == pytest.approx(1 / (1 / alone + 1 / S), rel=1e-6)


def test_missing_strengths_leave_crippling_open_and_buckling_judged() -> None:
    stack = Stack(name="bare", plies=(replace(PLY, compression_2=None, interlaminar=None),))
    found = judged(loaded(hat(stack)))
    assert isnan(use(found, Aspect.WEB_CRIPPLING))
    assert "strength" in row(found, Aspect.WEB_CRIPPLING).missing
    assert use(found, Aspect.CROWN_BUCKLING) > 0


def test_root_opens_where_its_laminate_is_weak_between_plies() -> None:
    weak = Stack(name="weak", plies=(replace(PLY, interlaminar=1.0),))
    found = judged(loaded(hat(weak)), allow=TOUGH)
    one = row(found, Aspect.WEB_CRIPPLING)
    assert governs(found, Aspect.WEB_CRIPPLING).endswith("its root opened")
    moment = 0.2 * 0.03 * 400 / 2 * (12 + 2.5)
    assert one.demand[0] == pytest.approx(3 * moment / (2 * 5 * sqrt(12 * 17)), rel=0.01)
    assert one.capacity[0] == 1.0


def test_crossing_with_nothing_behind_it_bears_on_the_webs() -> None:
    bare, backed = (Crossing(x=500, height=60, backed=kind) for kind in (Backed.NONE, Backed.TABS))
    plain = judged(loaded(hat()))
    held = judged(loaded(hat(), crossings=(replace(backed, thickness=4.0, length=80.0),)))
    pressed = judged(loaded(hat(), crossings=(bare,)))
    assert use(held, Aspect.WEB_CRIPPLING) == use(plain, Aspect.WEB_CRIPPLING)
    assert use(pressed, Aspect.WEB_CRIPPLING) > use(plain, Aspect.WEB_CRIPPLING)
    assert governs(pressed, Aspect.WEB_CRIPPLING).endswith("under a crossing")
    depth = facts(hat()).web_depth
    shear = 0.03 * 400 * 1000 / 2
    assert row(pressed, Aspect.WEB_CRIPPLING).demand[0] == pytest.approx(shear / 2 / depth, rel=1e-6)


def test_print_through_is_advice_with_its_ratio_and_the_risk_in_words() -> None:
    thin = Stack(name="thin", plies=(replace(PLY, thickness=6.0),))
    thick = Stack(name="thick", plies=(replace(PLY, thickness=18.0),))
    found = judged(loaded(hat(bead=4.0), thin), loaded(hat(bead=4.0), thick), loaded(floor(), thin))
    (one,) = found[Aspect.PRINT_THROUGH]
    assert np.asarray(one.applies).tolist() == [True, True, False]
    assert one.demand[:2] == pytest.approx([9 / 6, 9 / 18])
    assert one.advice
    assert one.source.known is Known.PRACTICE
    advice, risk, none = one.remarks
    assert advice.text.startswith("advice only, not judged")
    assert risk.text.startswith("risk: ")
    assert np.asarray(risk.where).tolist()[:2] == [True, False]
    assert none.text.startswith("no risk")
    assert np.asarray(none.where).tolist()[:2] == [False, True]


def test_unattached_member_has_no_plating_to_judge() -> None:
    found = judged(loaded(hat(bead=4.0), CORED, attached=False))
    assert not {Aspect.PLATING_BUCKLING, Aspect.CORE_CRUSHING, Aspect.PRINT_THROUGH} & set(found)


def test_workings_lead_from_the_finding_back_to_the_loads() -> None:
    with workings() as recording:
        found = judged(loaded(hat()))
    one = row(found, Aspect.WEB_BUCKLING)
    symbols = {step.formula.symbol for step in recording.behind(one.demand)}
    assert {"R_cr", "R_c", "R_b", "R_s", "N_x_s", "N_b_cr", "N_xy_cr", "C_e", "q_W"} <= symbols
    outside = [
        step.formula.name for step in recording.behind(one.demand) if step.formula.outside(step.inputs)
    ]
    assert outside == []


def test_no_spans_give_no_rows() -> None:
    assert judge((), OURS) == ()


@pytest.mark.parametrize(
    "sample", ["tidewrack_grid", "tidewrack_plain", "eelgrass_workboat", "first_hat_lesson"]
)
def test_every_span_of_the_samples_is_judged(sample: str) -> None:
    resolved = resolve(load(folder("sample_projects") / f"{sample}.json"))
    spans = [_of_case(case) for case in resolved.spans]
    names = {case.section.name for case in resolved.spans}
    found = judged(*spans)
    assert names
    for at in range(len(spans)):
        assert use(found, Aspect.WEB_BUCKLING, at) > 0
        assert use(found, Aspect.WEB_CRIPPLING, at) > 0
        assert use(found, Aspect.PLATING_BUCKLING, at) >= 0
    for aspect, several in found.items():
        for one in several:
            applies = np.broadcast_to(_applies(one), len(spans))
            value = np.broadcast_to(one.utilisation, len(spans))[applies]
            assert np.all(np.isfinite(value)), aspect


def _of_case(case: SpanCase) -> LoadedSpan:
    span = case.span
    plating = Plating(stack=case.plating, width=min(300.0, span.s), deadrise=case.drawn_deadrise)
    P = 0.02
    moment, shear = P * span.s * span.lu**2 / 12, P * span.s * span.lu / 2
    return LoadedSpan(
        case=case,
        plating=plating,
        properties=properties(case.section, plating, Moduli.CONTRACTED),
        facts=facts(case.section, case.drawn_deadrise),
        P=P,
        end=SectionLoads(V_z=shear, M_y=-moment),
        middle=SectionLoads(M_y=moment / 2),
    )
