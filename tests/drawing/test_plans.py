"""A layout's picture: members at their true width and side, equipment to scale, supports by shape, layers."""

from __future__ import annotations

import io
from dataclasses import replace
from xml.etree import ElementTree

import ezdxf
import numpy as np
import pytest

from stringerlab.craft import Category, Craft, Station
from stringerlab.drawing import LIGHT, Area, Line, Mark, Picture, Role, Shape, area_of, dxf, svg
from stringerlab.drawing.plan_legends import plan_legend
from stringerlab.drawing.plan_options import PlanOptions, Width
from stringerlab.drawing.plan_shapes import middle, ribbon
from stringerlab.drawing.plans import plan_picture
from stringerlab.layout.find import found
from stringerlab.layout.found import MemberSize
from stringerlab.layout.plan import (
    Cavity,
    Contact,
    Equipment,
    EquipmentKind,
    Hand,
    Held,
    Insert,
    Layout,
    LineKind,
    Member,
    MemberKind,
    PlanLine,
    Stretch,
    Supports,
    Use,
)

BASE, CROWN = 120.0, 80.0
FLAT = Craft(
    name="Dulse",
    category=Category.C,
    waterline_length=6000,
    mass=2500,
    speed=28,
    stations=tuple(Station(x=x, keel_z=0, chine_y=1000, chine_z=0) for x in (0, 6000)),
)
OPTIONS = PlanOptions(
    widths={"s1": Width(base=BASE, crown=CROWN), "s2": Width(base=60.0), "s3": Width(base=200.0)}
)
SIZES = {name: MemberSize(base_width=width.base, height=100) for name, width in OPTIONS.widths.items()}


def girder(id_: str, *points: tuple[float, float], **values: object) -> Member:
    drawn = Member(id=id_, name=id_, kind=MemberKind.LONGITUDINAL, points=points, section="s1")
    return replace(drawn, **values)  # pyright: ignore


FLOOR = girder("m9", (3000, 0), (3000, 1000), kind=MemberKind.TRANSVERSE, section="s2")


def picture(layout: Layout, options: PlanOptions = OPTIONS) -> Picture:
    return plan_picture(found(layout, FLAT, SIZES), layout, FLAT, options=options)


def plan(*members: Member, **values: object) -> Picture:
    return picture(Layout(id="y1", name="Trial", members=members, **values))  # pyright: ignore


def areas(shown: Picture, role: Role) -> list[Area]:
    return [item for item in shown if isinstance(item, Area) and item.role is role]


def test_a_pair_is_drawn_on_both_sides_at_the_width_of_its_base_and_crown() -> None:
    shown = plan(girder("m1", (500, 400), (5500, 400)))
    bases, crowns = areas(shown, Role.MEMBER), areas(shown, Role.CROWN)
    assert [area_of(each) for each in bases] == pytest.approx([5000 * BASE] * 2)
    assert [area_of(each) for each in crowns] == pytest.approx([5000 * CROWN] * 2)
    middles = sorted(middle(each.rings[0]) for each in bases)
    assert np.array(middles) == pytest.approx(np.array([(3000, -400), (3000, 400)]))


@pytest.mark.parametrize(("hand", "sides"), [(Hand.PORT, [400]), (Hand.STARBOARD, [-400])])
def test_port_is_up(hand: Hand, sides: list[float]) -> None:
    shown = plan(girder("m1", (500, 400), (5500, 400), hand=hand))
    assert [middle(each.rings[0])[1] for each in areas(shown, Role.MEMBER)] == pytest.approx(sides)


def test_a_stretch_of_another_section_has_its_own_width() -> None:
    stretch = Stretch(start=2000, section="s3")
    shown = plan(girder("m1", (0, 0), (5000, 0), hand=Hand.CENTRELINE, stretches=(stretch,)))
    widths = {each.rings[0][:, 0].min(): np.ptp(each.rings[0][:, 1]) for each in areas(shown, Role.MEMBER)}
    assert widths == pytest.approx({0.0: BASE, 2000.0: 200.0})


def test_a_corner_is_mitred_so_that_the_width_is_kept() -> None:
    line = np.array([[0.0, 0.0], [1000.0, 0.0], [1000.0, 1000.0]])
    ring = ribbon(line, 50.0)
    assert area_of(Area(rings=(ring,), role=Role.MEMBER)) == pytest.approx(2000 * 100)
    assert [950.0, 50.0] in ring.tolist()
    assert [1050.0, -50.0] in ring.tolist()


def test_panels_are_outlined_from_web_root_to_web_root() -> None:
    layout = Layout(id="y1", name="Trial", members=(girder("m1", (0, 400), (6000, 400)), FLOOR))
    seen = found(layout, FLAT, SIZES)
    shown = plan_picture(seen, layout, FLAT, options=OPTIONS)
    lines = [item for item in shown if isinstance(item, Line) and item.role is Role.PANEL]
    whole = sum(area_of(Area(rings=(line.points,), role=Role.PANEL)) for line in lines)
    # four strips along a side: 2 × (0 … 340 and 460 … 1000), less half the floor's base at each end
    assert whole == pytest.approx(2 * (6000 - 60) * (340 + 540))
    assert {line.subject for line in lines} == {bay.id for bay in seen.bays}


@pytest.mark.parametrize(
    ("held", "shape"),
    [
        (Held.SIMPLE, Shape.TRIANGLE),
        (Held.CLAMPED, Shape.SQUARE),
        (Held.ELASTIC, Shape.DIAMOND),
        (Held.FREE, Shape.CIRCLE),
    ],
)
def test_supports_are_told_apart_by_shape(held: Held, shape: Shape) -> None:
    shown = plan(girder("m1", (0, 400), (6000, 400)), FLOOR, supports=Supports(chine=held))
    marks = [item for item in shown if isinstance(item, Mark) and item.role is Role.SUPPORT]
    at_chine = [mark for mark in marks if abs(abs(mark.at[1]) - 1000) < 1e-6]
    assert [mark.shape for mark in at_chine] == [shape] * 2
    assert {mark.at[0] for mark in marks} == {0, 3000, 6000}


def test_contact_all_round_shows_at_the_chine() -> None:
    bonded = [
        item
        for item in plan(replace(FLOOR, contact=Contact.ALL_ROUND))
        if isinstance(item, Line) and item.role is Role.BONDED
    ]
    assert sorted(float(each.points[0, 1]) for each in bonded) == pytest.approx([-1000, 1000])
    assert not any(item.role is Role.BONDED for item in plan(FLOOR) if isinstance(item, Line))


def test_a_tank_is_as_long_and_broad_as_it_is() -> None:
    tank = Equipment(
        id="e1", name="Fuel", kind=EquipmentKind.TANK, at=(2000, 0), mass=300, length=900, breadth=600
    )
    (body,) = areas(plan(FLOOR, equipment=(tank,)), Role.EQUIPMENT)
    assert body.rings[0].min(axis=0).tolist() == pytest.approx([1550, -300])
    assert body.rings[0].max(axis=0).tolist() == pytest.approx([2450, 300])
    assert "300.0 kg" in body.tip


@pytest.mark.parametrize("kind", list(EquipmentKind))
def test_each_kind_of_equipment_is_drawn_where_it_stands_on_both_sides(kind: EquipmentKind) -> None:
    thing = Equipment(id="e1", name="", kind=kind, hand=Hand.PAIR, at=(2000, 500), length=400, breadth=300)
    shown = plan(FLOOR, equipment=(thing,))
    port, starboard = areas(shown, Role.EQUIPMENT)
    assert (starboard.rings[0] * (1, -1)).tolist() == port.rings[0].tolist()
    assert port.rings[0][:, 1].mean() == pytest.approx(500, abs=150)


def test_symbols_of_kinds_differ() -> None:
    def outline(kind: EquipmentKind) -> bytes:
        thing = Equipment(id="e1", name="", kind=kind, at=(2000, 0), length=400, breadth=300)
        items = [
            i for i in plan(FLOOR, equipment=(thing,)) if isinstance(i, (Area, Line)) and i.subject == "e1"
        ]
        return b"".join(p.tobytes() for i in items for p in (i.rings if isinstance(i, Area) else (i.points,)))

    assert len({outline(kind) for kind in EquipmentKind}) == len(EquipmentKind)


def test_feet_stand_at_their_offsets_as_large_as_their_blocks() -> None:
    engine = Equipment(
        id="e1",
        name="Engine",
        kind=EquipmentKind.ENGINE,
        hand=Hand.PAIR,
        at=(2000, 500),
        feet=((-300, 200), (300, 200)),
        insert=Insert(length=160, width=50),
    )
    feet = areas(plan(FLOOR, equipment=(engine,)), Role.BLOCK)
    places = {(round(x), round(y)) for x, y in (middle(each.rings[0]) for each in feet)}
    assert places == {(1700, 700), (2300, 700), (1700, -700), (2300, -700)}
    assert all(np.ptp(each.rings[0], axis=0).tolist() == pytest.approx([160, 50]) for each in feet)


def test_cavities_fill_their_clear_bays_by_what_is_in_them() -> None:
    foam = Cavity(id="c1", name="Void", use=Use.VOID, hand=Hand.PAIR, anchors=((1000, 500),), foam="pu")
    bilge = Cavity(id="c2", name="Bilge", use=Use.BILGE, hand=Hand.PAIR, anchors=((4000, 500),))
    shown = plan(girder("m1", (0, 0), (6000, 0), hand=Hand.CENTRELINE), FLOOR, cavities=(foam, bilge))
    for role in (Role.FOAM, Role.WATER):
        assert [area_of(each) for each in areas(shown, role)] == pytest.approx([2970 * 940] * 2)


def test_lines_of_the_hull_are_told_apart() -> None:
    lines = tuple(
        PlanLine(id=f"l{n}", name=kind.value, kind=kind, points=((500, 700), (5000, 700)))
        for n, kind in enumerate(LineKind)
    )
    shown = plan(FLOOR, lines=lines)
    roles = {item.role for item in shown if isinstance(item, Line) and item.subject.startswith("l")}
    assert roles == {Role.SPRAY_STEP, Role.HULL_STEP, Role.UNDERLAY}


@pytest.mark.parametrize("switch", ["stations", "members", "panels", "nodes", "supports", "equipment"])
def test_a_switch_takes_something_away(switch: str) -> None:
    tank = Equipment(id="e1", name="Fuel", kind=EquipmentKind.TANK, at=(2000, 0))
    layout = Layout(
        id="y1", name="Trial", members=(girder("m1", (0, 400), (6000, 400)), FLOOR), equipment=(tank,)
    )
    assert len(picture(layout, replace(OPTIONS, **{switch: False})).items) < len(picture(layout).items)


def test_a_bad_hull_or_an_empty_layout_is_drawn_as_far_as_it_goes() -> None:
    layout = Layout(id="y1", name="Trial")
    seen = found(layout, FLAT, SIZES)
    assert plan_picture(seen, layout, FLAT).items
    broken = replace(FLAT, stations=FLAT.stations[:1])
    assert "two stations" in str(plan_picture(seen, layout, broken).items[0])


def test_players_take_it_with_layers_by_meaning() -> None:
    tank = Equipment(id="e1", name="Fuel & water", kind=EquipmentKind.TANK, at=(2000, 0))
    shown = plan(girder("m1", (0, 400), (6000, 400)), FLOOR, equipment=(tank,))
    ElementTree.fromstring(svg(shown, LIGHT))
    drawing = ezdxf.read(io.StringIO(dxf(shown).decode()))  # pyright: ignore
    layers = {entity.dxf.layer for entity in drawing.modelspace()}
    assert {"member", "crown", "panel", "node", "support", "equipment", "chine", "keel"} <= layers
    bases = [entity for entity in drawing.modelspace().query("LWPOLYLINE") if entity.dxf.layer == "member"]
    across = [np.ptp([point[1] for point in base.get_points()]) for base in bases]  # pyright: ignore
    assert sorted(across)[:2] == pytest.approx([BASE, BASE])


def test_the_legend_has_a_row_for_each_thing_seen_and_tells_supports_apart() -> None:
    tank = Equipment(id="e1", name="Fuel", kind=EquipmentKind.TANK, at=(2000, 0))
    supports = Supports(chine=Held.ELASTIC, transom=Held.CLAMPED)
    shown = plan(girder("m1", (0, 400), (6000, 400)), FLOOR, equipment=(tank,), supports=supports)
    rows = plan_legend(shown)
    texts = [row.text for row in rows]
    assert len(texts) == len(set(texts))
    marks = {row.text: row.shape for row in rows if row.shape}
    assert marks == {
        "end held clamped": Shape.SQUARE,
        "end held elastic": Shape.DIAMOND,
        "end held simple": Shape.TRIANGLE,
    }
    assert {Role.MEMBER, Role.CROWN, Role.EQUIPMENT, Role.PANEL} <= {row.role for row in rows}
    assert Role.BULKHEAD not in {row.role for row in rows}
    assert plan_legend(Picture()) == ()


def test_members_with_faults_are_left_out_or_drawn_as_far_as_they_go() -> None:
    nan = float("nan")
    faulty = (
        girder("m1", (1000, 300), (1000, 300)),
        girder("m2", (nan, 300), (2000, nan)),
        girder("m3", (0, 500), (6000, 500), section="gone"),
        girder("m4", (0, 700), (6000, 700), stretches=(Stretch(start=9000, section="s3"),)),
        girder("m5", (0, 0)),
    )
    cavity = Cavity(id="c1", name="Nowhere", use=Use.STORAGE, anchors=())
    thing = Equipment(id="e1", name="Lost", kind=EquipmentKind.ENGINE, at=(nan, 0))
    shown = plan(*faulty, cavities=(cavity,), equipment=(thing,))
    drawn = {item.subject for item in shown if isinstance(item, (Area, Line))}
    assert {"m3", "m4"} <= drawn
    assert not {"m1", "m2", "m5", "e1"} & drawn
    assert np.isfinite(np.array(shown.bounds())).all()
