"""The bond where a member stops: by hand on a hat on its bead that dies on skin, or is cut at a crossing."""

from dataclasses import replace
from math import sqrt
from typing import Any

import numpy as np
import pytest

from stringerlab.laminate import Moduli, PlyNumbers, Role, Stack
from stringerlab.layout import Backed, Bonding, Crossing, Cut, End, Landing, LandsOn, Span, SpanCase
from stringerlab.materials import shipped
from stringerlab.materials.records import Sourced
from stringerlab.methods import Aspect, Judged
from stringerlab.methods.mechanics import OURS, LoadedSpan, bonds, ends
from stringerlab.section import Plating, SectionShape, Side, WallShape, facts, properties
from stringerlab.section.loads import SectionLoads
from stringerlab.workings import Known

E, NU = 9000.0, 0.3
P, S, L_U = 0.03, 480.0, 900.0
T_1, T_2, BEAD, STRIP = 5.0, 8.0, 4.0, 320.0
METHACRYLATE = next(one for one in shipped().adhesives if one.id == "mma")


def skin(t: float) -> Stack:
    ply = PlyNumbers(
        name="ply",
        role=Role.REINFORCED,
        kind=None,
        angle=0.0,
        thickness=t,
        mass=1500 * t,
        dry_weight=500 * t,
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
        interlaminar=17.0,
        marks=(),
        tested=("flexural",),
    )
    return Stack(name="skin", plies=(ply,))


def hat(bead: float) -> SectionShape:
    foot = T_1 + bead
    line = ((-150, foot), (-85, foot), (-60, 130), (60, 130), (85, foot), (150, foot))
    fillets = (0, 14, 14, 14, 14, 0)
    wall = WallShape(id="w1", points=line, fillets=fillets, side=Side.RIGHT, closed=False, stack=skin(T_1))
    return SectionShape(name="hat", walls=(wall,), bead=bead)


def loaded(
    *,
    span_ends: tuple[End, End] = (End.HELD, End.HELD),
    forward: LandsOn = LandsOn.AS_END,
    crossings: tuple[Crossing, ...] = (),
    bead: float = BEAD,
    bonding: Bonding | None = None,
    shear: float = P * S * L_U / 2,
) -> LoadedSpan:
    shape, plating = hat(bead), Plating(stack=skin(T_2), width=STRIP)
    span = Span(
        id="m1",
        name="span",
        section="s1",
        lu=L_U,
        s=S,
        x=2000,
        deadrise=0,
        ends=span_ends,
        landings=(Landing(), Landing(on=forward)),
        crossings=crossings,
    )
    return LoadedSpan(
        case=SpanCase(
            span=span,
            section=shape,
            plating=plating.stack,
            adhesive=METHACRYLATE if bead else None,
            bonding=bonding or Bonding(),
        ),
        plating=plating,
        properties=properties(shape, plating, Moduli.CONTRACTED),
        facts=facts(shape),
        P=P,
        end=SectionLoads(V_z=shear),
        middle=SectionLoads(),
    )


def dying(forward: LandsOn, **of: float) -> LoadedSpan:
    chosen = {name: Sourced(value=value, source="test", known=Known.STATED) for name, value in of.items()}
    return loaded(span_ends=(End.HELD, End.SIMPLE), forward=forward, bonding=replace(Bonding(), **chosen))


def judged(one: LoadedSpan) -> dict[Aspect, Judged]:
    found = [each for each in bonds.judge([one], OURS) if each.applies is None or each.applies[0]]
    assert len({each.aspect for each in found}) == len(found)
    return {each.aspect: each for each in found}


def cut(**of: Any) -> LoadedSpan:
    given: dict[str, Any] = {"x": L_U, "height": 200.0, "crown": Cut.CUT, "backed": Backed.NONE, **of}
    return loaded(crossings=(Crossing(**given),))


def test_a_member_that_goes_on_has_no_such_finding() -> None:
    assert Aspect.BOND_END not in judged(loaded())
    assert Aspect.BOND_END not in judged(cut(crown=Cut.CONTINUOUS))
    assert Aspect.BOND_END not in judged(cut(backed=Backed.TABS, thickness=4.0, length=60.0))
    assert Aspect.BOND_END not in judged(dying(LandsOn.BULKHEAD))


def test_an_end_without_moment_hands_over_what_shear_asks() -> None:
    # at the simple end of a propped span 3/8 of its load
    found = judged(dying(LandsOn.CHINE))[Aspect.BOND_END]
    bead = judged(loaded(shear=3 / 8 * P * S * L_U))[Aspect.BOND]
    assert found.demand[0] == pytest.approx(bead.demand[0])
    assert found.capacity[0] == pytest.approx(bead.capacity[0])
    assert found.governing is not None
    assert found.governing.name(0).startswith("its forward end, chine, flange")


def test_a_cut_at_a_held_end_peaks_by_the_force_of_its_section() -> None:
    one = cut()
    of = one.properties
    EA_2 = E * STRIP * T_2
    EA_1 = of.EA - EA_2
    EA_r = EA_1 * EA_2 / (EA_1 + EA_2)
    ES = EA_2 * (of.z_na + T_2 / 2)
    width = sum(end - start for start, end in one.facts.bonded)
    resists = 413 / 2.8 * width * 0.9 / BEAD
    length = sqrt(EA_r * (of.EI_y - ES**2 / EA_r) / (resists * of.EI_y))
    found = judged(one)
    once = found[Aspect.BOND].demand[0]
    # V = P s l/2 and M = P s l²/12: M/V = l/6
    assert found[Aspect.BOND_END].demand[0] == pytest.approx(once * (1 + L_U / 6 / length))
    governing = found[Aspect.BOND_END].governing
    assert governing is not None
    assert governing.name(0).startswith("crossing 1, cut with nothing behind it, at x 900 mm")


def test_the_edge_of_an_end_on_skin_peels_as_the_skin_bends() -> None:
    one = dying(LandsOn.SKIN, rebound=0.9)
    [spot] = [each for each in ends.judge([one], OURS) if each.aspect is Aspect.HARD_SPOT]
    moment = spot.demand[0] * T_2**2 / 6
    c = BEAD * (1 - 0.4**2) / 413 + (T_1 + T_2) / 7000
    found = judged(one)[Aspect.BOND_END]
    assert found.demand[0] == pytest.approx(0.9 * moment / 0.9 / sqrt(c * E * T_2**3 / 12))
    assert found.capacity[0] == pytest.approx(7 * 0.6 * 0.8 * 0.33)
    assert found.governing is not None
    assert found.governing.name(0) == "its forward end, skin, peel of its edge on rebound"


def test_without_rebound_it_peels_within_its_edge_under_the_slam() -> None:
    found = judged(dying(LandsOn.SKIN, rebound=0.0))[Aspect.BOND_END]
    hard = judged(dying(LandsOn.SKIN, rebound=0.9))[Aspect.BOND_END]
    assert found.governing is not None
    assert found.governing.name(0).endswith("peel within its edge under the slam")
    assert found.demand[0] == pytest.approx(hard.demand[0] / 0.9 * np.exp(-np.pi / 2))


def test_what_is_laminated_in_place_is_not_judged_where_it_stops() -> None:
    one = loaded(span_ends=(End.HELD, End.SIMPLE), forward=LandsOn.SKIN, bead=0.0)
    found = judged(one)[Aspect.BOND_END]
    assert np.isnan(found.utilisation[0])
    assert found.missing.startswith("laminated in place")
