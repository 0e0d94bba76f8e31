"""What members take, by numbers worked by hand; what is left out says so; nothing unpriced counts as free."""

from dataclasses import replace
from math import radians

import pytest

from stringerlab.assess.sections import section_facts
from stringerlab.assess.taken import Sort
from stringerlab.assess.takeoff import NOT_HULL, Item, Task, take_off
from stringerlab.data import folder
from stringerlab.errors import StringerlabError
from stringerlab.files import load
from stringerlab.laminate.records import Laminate, Ply
from stringerlab.layout import Price, Rates, Span
from stringerlab.materials.records import (
    Adhesive,
    Estimate,
    GelCoat,
    Layer,
    Materials,
    PlyKind,
    Reinforcement,
    Solid,
    Sourced,
)
from stringerlab.project import Project, resolve
from stringerlab.project.beginning import new_boat
from stringerlab.project.bonding import BOOK_ADHESIVE
from stringerlab.project.rates import with_price, with_rates
from stringerlab.section.records import Fill, Section, Side, Wall
from stringerlab.workings import Known


def stated(value: float) -> Sourced:
    return Sourced(value=value, source="of the test", known=Known.STATED)


COAT = GelCoat(id="coat", name="coat", density=stated(1300.0))
FOAM = Solid(id="foam", name="foam", density=stated(32.0))
GLUE = Adhesive(
    id="glue", name="glue", density=stated(1100.0), modulus=stated(400.0), shear_strength=stated(10.0)
)
MAT = Reinforcement(
    id="mat", name="mat", kind=PlyKind.MAT, fibre="e_glass", resin="polyester", weight=450.0, glass=0.30,
    known=Known.STATED,
)  # fmt: skip
F1808 = Reinforcement(
    id="f1808",
    name="1808",
    kind=PlyKind.MAT_STITCHED,
    fibre="e_glass",
    resin="vinylester",
    weight=839.0,
    glass=0.423,
    layers=(
        Layer(kind=PlyKind.DOUBLE_BIAS, weight=610.0, glass=0.5, estimate=Estimate.MICROMECHANICS),
        Layer(kind=PlyKind.MAT, weight=229.0, glass=0.3),
    ),
)
STRIP = Laminate(
    id="l1",
    name="strip",
    plies=(Ply(material="coat", thickness=0.5), Ply(material="mat"), Ply(material="f1808")),
)
FLAT = Section(
    id="s1",
    name="flat strip",
    walls=(Wall(id="w1", points=((-100.0, 6.0), (100.0, 6.0)), laminate="l1", side=Side.LEFT),),
    fills=(
        Fill(id="f1", points=((-50.0, 20.0), (50.0, 20.0), (50.0, 60.0), (-50.0, 60.0)), material="foam"),
    ),
    bead=6.0,
    adhesive="glue",
)
BY_HAND = {
    "mat": 0.090,  # 0.2 m² × 0.450 kg/m²
    "f1808": 0.1678,  # 0.2 × 0.839
    "polyester": 0.210,  # 0.090 × 0.7/0.3
    "vinylester": 0.2 * (0.610 + 0.229 * 7 / 3),  # resin of each layer at its own glass content
    "coat": 0.130,  # 0.2 m² × 0.5 mm × 1300 kg/m³
    "foam": 0.128,  # 100 × 40 mm at 32 kg/m³
    "glue": 1.320,  # 200 × 6 mm at 1100 kg/m³
}
"""Of a metre of a flat strip 200 mm wide [kg]."""
SPAN = Span(id="m1", name="longitudinal", section="s1", lu=1500.0, s=400.0, x=2000.0, deadrise=0.0, count=2)
RATES = Rates(
    currency="EUR",
    prices=(Price(material="mat", per_kg=4.0), Price(material="polyester", per_kg=3.0)),
    fabric_waste=0.10,
    resin_waste=0.20,
    adhesive_waste=0.05,
    hour=40.0,
    lay_up=0.5,
    gel_coating=0.3,
    bonding=0.2,
)


def boat(
    *, sections: tuple[Section, ...] = (FLAT,), spans: tuple[Span, ...] = (SPAN,), rates: Rates = RATES
) -> Project:
    return Project(
        name="Strip",
        craft=new_boat().craft,
        materials=Materials(
            reinforcements=(MAT, F1808), gel_coats=(COAT,), solids=(FOAM,), adhesives=(GLUE,)
        ),
        laminates=(STRIP, Laminate(id="l2", name="two mats", plies=(Ply(material="mat"),) * 2)),
        sections=sections,
        spans=spans,
        rates=rates,
    )


def masses(item: Item) -> dict[str, float]:
    return {amount.material: amount.mass for amount in item.amounts}


def test_a_metre_of_a_flat_strip_takes_what_was_worked_by_hand() -> None:
    [metre] = take_off(boat()).sections
    assert (metre.id, metre.length, metre.count) == ("s1", 1000.0, 1)
    assert masses(metre) == pytest.approx(BY_HAND)
    areas = {amount.material: amount.area / 1e6 for amount in metre.amounts if amount.area}
    assert areas == pytest.approx({"mat": 0.2, "f1808": 0.2, "coat": 0.2, "glue": 0.2})
    volumes = {amount.material: amount.volume / 1e6 for amount in metre.amounts if amount.volume}
    assert volumes == pytest.approx({"coat": 0.1, "foam": 4.0, "glue": 1.2})
    assert metre.area(Sort.FABRIC) / 1e6 == pytest.approx(0.4)
    assert metre.mass() == pytest.approx(sum(BY_HAND.values()))


def test_a_member_is_its_section_along_all_of_its_spans() -> None:
    found = take_off(boat())
    [member] = found.members
    assert (member.id, member.section, member.length, member.count) == ("m1", "flat strip", 3000.0, 2)
    assert masses(member) == pytest.approx({material: 3 * mass for material, mass in BY_HAND.items()})
    assert masses(found.total) == pytest.approx(masses(member))
    assert NOT_HULL in found.notes


def test_the_total_is_the_sum_of_the_members() -> None:
    other = replace(SPAN, id="m2", lu=700.0, count=1)
    found = take_off(boat(spans=(SPAN, other)))
    assert found.total.length == pytest.approx(3700.0)
    assert found.total.count == 3
    for sort in Sort:
        assert found.total.mass(sort) == pytest.approx(sum(one.mass(sort) for one in found.members))
    assert found.total.cost == pytest.approx(sum(one.cost or 0.0 for one in found.members))


def test_cost_and_labour_are_what_the_rates_make_of_them() -> None:
    """By hand for 3 m: mat 0.27 kg × 1.1 × 4, polyester 0.63 × 1.2 × 3; laminate 2.09 kg × 0.5 h, gel coat
    0.6 m² × 0.3 h, bead 3 m × 0.2 h, an hour 40.
    """
    [member] = take_off(boat()).members
    cost = {amount.material: amount.cost for amount in member.amounts if amount.cost is not None}
    assert cost == pytest.approx({"mat": 1.188, "polyester": 2.268})
    bought = {amount.material: amount.bought / amount.mass for amount in member.amounts}
    assert bought == pytest.approx(
        {
            "mat": 1.1,
            "f1808": 1.1,
            "polyester": 1.2,
            "vinylester": 1.2,
            "coat": 1.2,
            "foam": 1.0,
            "glue": 1.05,
        }
    )
    hours = {one.task: one.hours for one in member.labour}
    assert hours[Task.LAY_UP] == pytest.approx(1.045)
    assert hours[Task.GEL_COATING] == pytest.approx(0.18)
    assert hours[Task.BONDING] == pytest.approx(0.6)
    assert hours[Task.FILLING] is None
    assert member.hours == pytest.approx(1.825)
    assert member.material_cost == pytest.approx(3.456)
    assert member.labour_cost == pytest.approx(73.0)
    assert member.cost == pytest.approx(76.456)


def test_what_has_no_price_or_rate_is_listed_and_never_free() -> None:
    [member] = take_off(boat()).members
    assert set(member.unpriced) == {"1808", "Vinylester", "coat", "foam", "glue", "filling"}
    [bare] = take_off(boat(rates=Rates())).members
    assert (bare.cost, bare.material_cost, bare.labour_cost, bare.hours) == (None, None, None, None)
    given = replace(RATES, prices=(Price(material="mat", per_kg=0.0),))
    [free] = take_off(boat(rates=given)).members
    assert "mat" not in free.unpriced
    assert free.material_cost == 0.0


def test_hours_without_an_hour_s_cost_are_hours_all_the_same() -> None:
    [member] = take_off(boat(rates=replace(RATES, hour=0.0))).members
    assert member.hours == pytest.approx(1.825)
    assert member.labour_cost is None
    assert Task.LAY_UP.value in member.unpriced


def test_plies_outside_a_corner_are_wider_than_those_inside() -> None:
    """Two mats outside a sharp right angle of 100 + 100 mm: each leg grows by the distance from the tool."""
    wall = Wall(id="w1", points=((0.0, 50.0), (100.0, 50.0), (100.0, 150.0)), laminate="l2", side=Side.RIGHT)
    project = boat(sections=(Section(id="s1", name="corner", walls=(wall,)),))
    thick = resolve(project).stacks["l2"].plies[0].thickness
    [metre] = take_off(project).sections
    assert metre.area(Sort.FABRIC) / 1e3 == pytest.approx((200 + thick) + (200 + 3 * thick))
    assert metre.mass(Sort.FABRIC) == pytest.approx(0.45 * metre.area(Sort.FABRIC) / 1e6)


@pytest.mark.parametrize("name", ["eelgrass_workboat", "first_hat_lesson"])
def test_a_metre_of_every_sample_section_weighs_what_its_facts_say(name: str) -> None:
    project = load(folder("sample_projects") / f"{name}.json")
    shapes = resolve(project).shapes
    slopes = {one.id: radians(one.reference.deadrise) if one.reference else 0.0 for one in project.sections}
    found = take_off(project)
    assert [metre.id for metre in found.sections] == [section.id for section in project.sections]
    for metre in found.sections:
        facts = section_facts(shapes[metre.id], slopes[metre.id])
        built = metre.mass() - metre.mass(Sort.ADHESIVE)
        assert built == pytest.approx(facts.mass_per_length, rel=1e-12)
        assert metre.area(Sort.FABRIC) / 1e6 == pytest.approx(facts.fabric_area_per_length, rel=1e-12)
        assert metre.area(Sort.ADHESIVE) / 1e3 == pytest.approx(
            facts.bonded_width if metre.mass(Sort.ADHESIVE) else 0.0
        )


def test_walls_that_overlap_are_counted_once_as_in_the_section_s_facts() -> None:
    other = replace(FLAT.walls[0], id="w2", points=((50.0, 6.0), (200.0, 6.0)))
    project = boat(sections=(replace(FLAT, walls=(*FLAT.walls, other)),))
    [metre] = take_off(project).sections
    # 200 and 150 mm that share 50: 300 mm of every ply
    assert metre.mass(Sort.FABRIC) == pytest.approx(0.3 * (0.45 + 0.839))
    assert metre.mass(Sort.GEL_COAT) == pytest.approx(0.3 * 0.5 * 1.3)


def test_a_fabric_laid_as_split_layers_weighs_the_same_but_is_two_fabrics_wide() -> None:
    bias = Reinforcement(
        id="bias", name="bias", kind=PlyKind.DOUBLE_BIAS, fibre="e_glass", resin="vinylester", weight=610.0,
        glass=0.5, estimate=Estimate.MICROMECHANICS,
    )  # fmt: skip
    mat = replace(MAT, id="mat229", name="mat229", weight=229.0, resin="vinylester")
    whole, split = boat(), boat()
    plies = (*STRIP.plies[:2], Ply(material="bias"), Ply(material="mat229"))
    split = replace(
        split,
        materials=replace(split.materials, reinforcements=(MAT, F1808, bias, mat)),
        laminates=(replace(STRIP, plies=plies),),
    )
    [one], [two] = take_off(whole).sections, take_off(split).sections
    assert two.mass(Sort.FABRIC) == pytest.approx(one.mass(Sort.FABRIC), rel=1e-12)
    assert two.mass(Sort.RESIN) == pytest.approx(one.mass(Sort.RESIN), rel=1e-12)
    assert one.area(Sort.FABRIC) / 1e6 == pytest.approx(0.4)
    assert two.area(Sort.FABRIC) / 1e6 == pytest.approx(0.6)


def test_a_bead_of_no_named_adhesive_is_the_book_s_and_says_so() -> None:
    found = take_off(boat(sections=(replace(FLAT, adhesive=""),)))
    adhesives = [one for one in found.total.amounts if one.sort is Sort.ADHESIVE]
    assert [one.material for one in adhesives] == [BOOK_ADHESIVE]
    assert any(f"({BOOK_ADHESIVE})" in note and "flat strip" in note for note in found.notes)
    dry = take_off(
        boat(
            sections=(
                replace(
                    FLAT, bead=0.0, walls=(replace(FLAT.walls[0], points=((-100.0, 0.0), (100.0, 0.0))),)
                ),
            )
        )
    )
    assert dry.total.mass(Sort.ADHESIVE) == 0.0
    assert [one.task for one in dry.total.labour] == [Task.LAY_UP, Task.GEL_COATING, Task.FILLING]


def test_what_is_wrong_is_not_counted_and_says_why() -> None:
    leaking = replace(
        FLAT,
        id="s2",
        name="leaking",
        walls=(replace(FLAT.walls[0], id="w2"),),
        fills=(replace(FLAT.fills[0], id="f2", points=((0.0, 9.0), (5.0, 9.0))),),
    )
    spans = (
        SPAN,
        replace(SPAN, id="m2", section="s2"),
        replace(SPAN, id="m3", section="nowhere"),
        replace(SPAN, id="m4", lu=-5.0),
    )
    found = take_off(boat(sections=(FLAT, leaking), spans=spans))
    assert [one.id for one in found.members] == ["m1"]
    why = {one.id: " ".join(map(str, one.problems)) for one in found.not_counted}
    assert set(why) == {"s2", "m2", "m3", "m4"}
    assert "leaks" in why["s2"]
    assert "leaks" in why["m2"]
    assert "nowhere" in why["m3"]
    assert "-5" in why["m4"] or "−5" in why["m4"]
    assert found.total.mass() == pytest.approx(3 * sum(BY_HAND.values()))


def test_an_adhesive_that_is_not_there_is_a_problem_of_its_section() -> None:
    found = take_off(boat(sections=(replace(FLAT, adhesive="spit"),)))
    assert found.members == ()
    assert "There is no adhesive 'spit'." in str(found.not_counted[0].problems[0])


def test_wrong_rates_are_left_out_and_said() -> None:
    prices = (
        Price(material="mat", per_kg=4.0),
        Price(material="mat", per_kg=9.0),
        Price(material="gold", per_kg=1e4),
    )
    found = take_off(boat(rates=replace(RATES, prices=prices, fabric_waste=-0.5)))
    said = " ".join(map(str, found.problems))
    assert "fabric waste" in said
    assert "'mat' is priced before" in said
    assert "There is no material 'gold'." in said
    [mat] = [one for one in found.total.amounts if one.material == "mat"]
    assert mat.bought == mat.mass
    assert mat.per_kg == 4.0


def test_a_panel_s_laminate_is_no_part_of_it() -> None:
    with_panel = replace(boat(), panels=new_boat().panels)
    assert take_off(with_panel).total == take_off(boat()).total


def test_rates_are_edited_by_pure_functions() -> None:
    project = boat()
    dearer = with_price(project, "mat", 5.0)
    assert [(price.material, price.per_kg) for price in dearer.rates.prices] == [
        ("mat", 5.0),
        ("polyester", 3.0),
    ]
    assert with_price(project, "mat", 4.0) is project
    assert with_price(dearer, "mat", None).rates.prices == (Price(material="polyester", per_kg=3.0),)
    assert with_price(project, "foam", 12.0).rates.prices[-1] == Price(material="foam", per_kg=12.0)
    assert with_rates(project, hour=55.0, currency="CHF").rates.hour == 55.0
    assert with_rates(project, hour=40.0) is project
    with pytest.raises(StringerlabError, match="waste"):
        with_rates(project, resin_waste=3.0)
    with pytest.raises(StringerlabError):
        with_price(project, "mat", -1.0)
