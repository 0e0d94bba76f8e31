"""Two books into one: what is new, what is the same, what disagrees, and nothing guessed between them."""

from dataclasses import replace

import pytest

from stringerlab.errors import StringerlabError
from stringerlab.materials import records, shipped
from stringerlab.materials.book import every
from stringerlab.materials.differences import NOT_GIVEN, differences
from stringerlab.materials.merging import Choice, gathered, merge, settled, with_needs
from stringerlab.materials.records import (
    Core,
    Fibre,
    GelCoat,
    Materials,
    PlyKind,
    Reinforcement,
    Resin,
    Sourced,
)
from stringerlab.units import System
from stringerlab.workings import Known


def stated(value: float, source: str = "maker's sheet", known: Known = Known.QUOTED) -> Sourced:
    return Sourced(value=value, source=source, known=known)


RESIN = Resin(id="r", name="Yard resin", density=stated(1150), modulus=stated(3300), poisson=stated(0.36))
FIBRE = Fibre(
    id="f",
    name="Yard glass",
    density=stated(2560),
    modulus=stated(72_000),
    transverse_modulus=stated(72_000),
    shear_modulus=stated(29_500),
    poisson=stated(0.22),
)
MAT = Reinforcement(
    id="m", name="Yard mat", kind=PlyKind.MAT, fibre="f", resin="r", weight=450, glass=0.3, source="label"
)
CORE = Core(
    id="c",
    name="Yard core",
    density=stated(80),
    modulus=stated(90),
    shear_modulus=stated(27),
    shear_strength=stated(1.1),
    compressive_strength=stated(1.4),
)
GEL = GelCoat(id="g", name="Yard gel coat", density=stated(1300))
MINE = gathered([RESIN, FIBRE, MAT, CORE])


# -- what is found -------------------------------------------------------------------------------


def test_what_i_have_not_is_added_and_what_is_equal_is_the_same() -> None:
    found = merge(MINE, gathered([CORE, GEL]))
    assert (found.added, found.same, found.conflicts) == ((GEL,), (CORE,), ())
    assert settled(found, {}) == gathered([RESIN, FIBRE, MAT, CORE, GEL])


def test_a_set_merged_into_itself_changes_nothing() -> None:
    found = merge(shipped(), shipped())
    assert (found.added, found.conflicts) == ((), ())
    assert found.same == every(shipped())
    assert settled(found, {}) == shipped()


def test_a_conflict_names_each_field_with_value_unit_source_and_mark() -> None:
    theirs = replace(CORE, density=stated(82, "weighed", Known.TESTED), ductile=True)
    [conflict] = merge(MINE, gathered([theirs])).conflicts
    assert [one.field for one in conflict.differences] == ["density", "ductile"]
    density, ductile = conflict.differences
    assert density.told(System.METRIC) == (
        "80.00 kg/m³ (quoted: maker's sheet)",
        "82.00 kg/m³ (tested: weighed)",
    )
    assert ductile.told(System.METRIC) == ("no", "yes")
    assert density.theirs is not None
    assert density.theirs.unit.symbol == "kg/m³"


def test_another_source_of_the_same_number_is_a_conflict_too() -> None:
    [one] = differences(CORE, replace(CORE, modulus=stated(90, "own test", Known.TESTED)))
    assert one.values(System.METRIC) == ("90.00 MPa", "90.00 MPa")
    assert one.told(System.METRIC) == ("90.00 MPa (quoted: maker's sheet)", "90.00 MPa (tested: own test)")


def test_numbers_that_differ_never_look_alike() -> None:
    [one] = differences(CORE, replace(CORE, density=stated(80.00001)))
    mine, theirs = one.values(System.METRIC)
    assert mine != theirs
    assert theirs.startswith("80.00001")


def test_units_shown_follow_the_system() -> None:
    [one] = differences(MAT, replace(MAT, weight=300))
    assert one.values(System.US) == ("13.27 oz/yd²", "8.848 oz/yd²")


def test_what_one_leaves_out_is_said() -> None:
    tested = replace(MAT, tested=records.Tested(modulus_1=stated(7000)))
    [one] = differences(MAT, tested)
    assert (one.field, one.values(System.METRIC)) == ("tested, modulus 1", (NOT_GIVEN, "7000 MPa"))


def test_layers_and_coupons_are_compared_one_by_one() -> None:
    layer = records.Layer(kind=PlyKind.UNIDIRECTIONAL, weight=400, glass=0.5)
    coupons = records.CouponSet(
        property=records.Property.TENSION_1, mean=90, deviation=4, count=6, glass=0.3, source="report 4"
    )
    first = replace(MAT, layers=(layer, replace(layer, angle=90.0)))
    second = replace(MAT, layers=(layer, replace(layer, angle=45.0)), coupons=(coupons,))
    fields = [one.field for one in differences(first, second)]
    assert fields[0] == "layer 2, angle"
    assert fields[1:] == [
        f"coupon set 1, {name}" for name in ("property", "mean", "deviation", "count", "glass", "source")
    ]


# -- how it is settled ---------------------------------------------------------------------------

CLASH = gathered([replace(RESIN, modulus=stated(3500)), replace(CORE, density=stated(100))])


def test_unsettled_conflicts_are_all_listed_and_nothing_is_merged() -> None:
    with pytest.raises(StringerlabError) as refused:
        settled(merge(MINE, CLASH), {})
    assert [str(one) for one in refused.value.problems] == [
        "resin 'Yard resin' (r): mine and theirs differ in: modulus. Choose mine, theirs or both.",
        "core 'Yard core' (c): mine and theirs differ in: density. Choose mine, theirs or both.",
    ]


def test_one_unsettled_of_two_is_still_refused() -> None:
    with pytest.raises(StringerlabError) as refused:
        settled(merge(MINE, CLASH), {"r": Choice.MINE})
    assert [one.where for one in refused.value.problems] == ["core 'Yard core' (c)"]


def test_a_choice_over_no_conflict_is_refused() -> None:
    with pytest.raises(StringerlabError, match="no conflict over 'x'"):
        settled(merge(MINE, CLASH), {"r": Choice.MINE, "c": Choice.MINE, "x": Choice.MINE})


def test_mine_stays_as_it_was() -> None:
    assert settled(merge(MINE, CLASH), {"r": Choice.MINE, "c": Choice.MINE}) == MINE


def test_theirs_takes_the_place_of_mine_where_mine_stood() -> None:
    after = settled(merge(MINE, CLASH), {"r": Choice.THEIRS, "c": Choice.MINE})
    assert after == replace(MINE, resins=CLASH.resins)


def test_both_keeps_mine_and_brings_theirs_under_a_new_id() -> None:
    after = settled(merge(MINE, CLASH), {"r": Choice.MINE, "c": Choice.BOTH})
    assert after.cores == (CORE, replace(CLASH.cores[0], id="c_2"))


def test_a_new_id_is_no_ones_else() -> None:
    mine = gathered([CORE, replace(CORE, id="c_2")])
    theirs = gathered([replace(CORE, density=stated(100)), replace(GEL, id="c_3")])
    found = merge(mine, theirs, taken=["c_4"])
    assert found.conflicts[0].new_id == "c_5"


def test_what_comes_in_follows_the_resin_it_came_with() -> None:
    theirs = gathered([CLASH.resins[0], FIBRE, replace(MAT, id="n", name="Their mat")])
    after = settled(merge(MINE, theirs), {"r": Choice.BOTH})
    assert [(one.id, one.resin, one.fibre) for one in after.reinforcements] == [
        ("m", "r", "f"),
        ("n", "r_2", "f"),
    ]


def test_their_fabric_taken_in_place_of_mine_follows_too() -> None:
    theirs = gathered([CLASH.resins[0], FIBRE, replace(MAT, glass=0.35)])
    after = settled(merge(MINE, theirs), {"r": Choice.BOTH, "m": Choice.THEIRS})
    assert [(one.id, one.resin, one.glass) for one in after.reinforcements] == [("m", "r_2", 0.35)]


def test_a_fabric_both_have_alike_stays_with_my_resin() -> None:
    theirs = gathered([CLASH.resins[0], FIBRE, MAT])
    after = settled(merge(MINE, theirs), {"r": Choice.BOTH})
    assert after.reinforcements == (MAT,)


# -- the same id, another kind -------------------------------------------------------------------


def test_an_id_of_another_kind_is_a_conflict_that_says_so() -> None:
    [conflict] = merge(MINE, gathered([replace(GEL, id="c")])).conflicts
    first = conflict.differences[0]
    assert (first.field, *first.values(System.METRIC)) == ("what it is", "core", "gel coat")


def test_theirs_of_another_kind_takes_the_place_of_mine_where_nothing_needs_it() -> None:
    found = merge(MINE, gathered([replace(GEL, id="c")]))
    after = settled(found, {"c": Choice.THEIRS})
    assert after.cores == ()
    assert after.gel_coats == (replace(GEL, id="c"),)


def test_a_resin_that_would_become_a_gel_coat_is_refused_with_what_needs_it() -> None:
    found = merge(MINE, gathered([replace(GEL, id="r")]))
    with pytest.raises(StringerlabError) as refused:
        settled(found, {"r": Choice.THEIRS})
    assert [str(one) for one in refused.value.problems] == [
        "reinforcement 'Yard mat' (m), resin: there is no resin 'r'. Name one that is there."
    ]


# -- references ----------------------------------------------------------------------------------


def test_a_fabric_without_its_resin_anywhere_is_refused() -> None:
    with pytest.raises(StringerlabError, match="there is no resin 'r'"):
        settled(merge(gathered([FIBRE]), gathered([MAT])), {})


def test_what_was_wrong_with_mine_before_does_not_stop_a_merge() -> None:
    mine = gathered([replace(MAT, resin="gone")])
    after = settled(merge(mine, gathered([GEL])), {})
    assert after.gel_coats == (GEL,)


def test_an_id_twice_in_either_set_is_refused() -> None:
    twice = gathered([CORE, replace(CORE, name="Again")])
    with pytest.raises(StringerlabError, match="twice in mine"):
        merge(twice, Materials())
    with pytest.raises(StringerlabError, match="twice in theirs"):
        merge(Materials(), twice)


# -- the shipped book behind ---------------------------------------------------------------------


def test_what_the_shipped_book_has_alike_is_not_copied() -> None:
    found = merge(Materials(), shipped(), shipped())
    assert found.same == every(shipped())
    assert settled(found, {}) == Materials()


def test_a_value_other_than_the_shipped_one_is_a_conflict_with_it() -> None:
    core = next(one for one in shipped().cores if one.id == "pvc80")
    theirs = replace(core, density=stated(85))
    found = merge(Materials(), gathered([theirs]), shipped())
    [conflict] = found.conflicts
    assert (conflict.mine, conflict.own) == (core, False)
    assert settled(found, {"pvc80": Choice.MINE}) == Materials()
    assert settled(found, {"pvc80": Choice.THEIRS}) == gathered([theirs])
    assert settled(found, {"pvc80": Choice.BOTH}) == gathered([replace(theirs, id="pvc80_2")])


def test_an_id_that_another_thing_has_is_changed_and_said() -> None:
    theirs = gathered([replace(RESIN, id="w4"), FIBRE, replace(MAT, resin="w4")])
    found = merge(Materials(), theirs, taken=["w4"])
    assert found.renamed == (("w4", "w4_2"),)
    after = settled(found, {})
    assert after.resins[0].id == "w4_2"
    assert after.reinforcements[0].resin == "w4_2"


# -- what goes along -----------------------------------------------------------------------------


def test_a_fabric_brings_its_fibre_and_resin() -> None:
    assert with_needs(["m"], MINE) == gathered([RESIN, FIBRE, MAT])
    assert with_needs(["c"], MINE) == gathered([CORE])


def test_a_fabric_of_mine_brings_the_shipped_resin_it_names() -> None:
    mine = gathered([replace(MAT, fibre="e_glass", resin="polyester")])
    found = with_needs(["m"], mine, shipped())
    assert [one.id for one in every(found)] == ["polyester", "e_glass", "m"]


def test_everything_missing_is_said_at_once() -> None:
    with pytest.raises(StringerlabError) as refused:
        with_needs(["m", "cc"], gathered([MAT, CORE]))
    assert [str(one) for one in refused.value.problems] == [
        "reinforcement 'Yard mat' (m), fibre: there is no fibre 'f'. Name one that is there.",
        "reinforcement 'Yard mat' (m), resin: there is no resin 'r'. Name one that is there.",
        "materials: There is no material 'cc'. Did you mean 'c'?",
    ]
