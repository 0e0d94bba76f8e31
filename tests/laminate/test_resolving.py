"""From a laminate by material ids to numbers, and everything that can be wrong with it."""

import math
import pickle
from dataclasses import replace

import pytest

from stringerlab.errors import StringerlabError
from stringerlab.laminate import Laminate, Ply, Role, mark_of, resolve
from stringerlab.materials import Book, records, shipped
from stringerlab.materials.records import Materials, PlyKind, Reinforcement, Sourced
from stringerlab.workings import Known

from .conftest import Lay


def problems(book: Book, *plies: Ply) -> list[tuple[str, str]]:
    with pytest.raises(StringerlabError) as caught:
        resolve(Laminate(id="l3", name="Bottom", plies=plies), book)
    return [(problem.where, problem.what) for problem in caught.value.problems]


def test_plies_keep_their_order_and_roles(lay: Lay) -> None:
    stack = lay(
        Ply(material="gelcoat", thickness=0.5), "csm450", Ply(material="pvc80", thickness=15.0), "wr800"
    )
    assert [ply.role for ply in stack.plies] == [Role.GEL_COAT, Role.REINFORCED, Role.CORE, Role.REINFORCED]
    core = stack.plies[2]
    assert (core.E1, core.G12, core.shear, core.thickness) == (90.0, 27.0, 1.15, 15.0)
    assert stack.plies[0].mass == pytest.approx(650.0)


def test_weight_glass_content_and_measured_thickness_replace_the_nominal(lay: Lay) -> None:
    nominal, heavy, wet, measured = (
        lay(Ply(material="csm450", weight=weight, glass=glass, thickness=thick)).plies[0]
        for weight, glass, thick in (
            (None, None, None), (900.0, None, None), (None, 0.25, None), (None, None, 1.3),
        )
    )  # fmt: skip
    assert heavy.thickness == pytest.approx(2 * nominal.thickness)
    assert heavy.mass == pytest.approx(2 * nominal.mass)
    assert pytest.approx(38_000 * 0.25 - 5_000) == wet.E1
    assert wet.mass == pytest.approx(450 / 0.25)
    assert measured.thickness == 1.3
    assert measured.E1 == nominal.E1
    assert mark_of(nominal, "thickness") is Known.PROVED
    assert mark_of(measured, "thickness") is Known.STATED
    assert mark_of(wet, "E1") is Known.STATED


def test_double_bias_fibres_lie_at_45_degrees_to_its_roll(lay: Lay) -> None:
    assert lay("db600").plies[0].angle == pytest.approx(math.pi / 4)
    assert lay(("db600", 45.0)).plies[0].angle == pytest.approx(math.pi / 2)
    assert lay(("ud300", 30.0)).plies[0].angle == pytest.approx(math.pi / 6)


def test_turning_a_mat_changes_nothing(lay: Lay) -> None:
    assert lay(("csm450", 30.0)) == lay("csm450")


def test_tested_values_override_the_estimate_with_their_own_mark(book: Book) -> None:
    def tested(value: float) -> Sourced:
        return Sourced(value=value, source="coupons of an invented yard", known=Known.TESTED)

    mat = book.reinforcement("csm450")
    assert mat is not None
    values = records.Tested(modulus_1=tested(7_000), tension_1=tested(95), flexural=tested(160))
    own = replace(mat, id="own", tested=values)
    both = Book.of(Materials(reinforcements=(own,)), shipped())
    ply = resolve(Laminate(id="l1", name="own", plies=(Ply(material="own"),)), both).plies[0]
    assert (ply.E1, ply.tension_1, ply.flexural) == (7_000, 95, 160)
    assert (ply.E2, ply.tension_2) == (6_400, 85)
    assert ply.tested == ("E1", "tension_1", "flexural")
    assert mark_of(ply, "E1") is Known.TESTED
    assert mark_of(ply, "E2") is Known.PROVED


def test_every_tested_value_has_its_place_in_the_ply(book: Book) -> None:
    mat = book.reinforcement("csm450")
    assert mat is not None
    names = list(records.Tested.__dataclass_fields__)
    values = {
        name: Sourced(value=0.123 if name == "poisson" else 1000.0 + place, source="x", known=Known.TESTED)
        for place, name in enumerate(names)
    }
    both = Book.of(Materials(reinforcements=(replace(mat, tested=records.Tested(**values)),)), shipped())
    ply = resolve(Laminate(id="l1", name="own", plies=(Ply(material="csm450"),)), both).plies[0]
    assert [getattr(ply, name) for name in ply.tested] == [values[name].value for name in names]


def test_tested_poisson_ratio_that_cannot_be_is_refused(book: Book) -> None:
    mat = book.reinforcement("csm450")
    assert mat is not None
    tested = records.Tested(
        modulus_2=Sourced(value=64_000, source="x", known=Known.TESTED),
        poisson=Sourced(value=0.4, source="x", known=Known.TESTED),
    )
    both = Book.of(Materials(reinforcements=(replace(mat, tested=tested),)), shipped())
    ((where, what),) = problems(both, Ply(material="csm450"))
    assert where == "laminate 'Bottom' (l3), ply 1"
    assert "Poisson's ratio 0.4 cannot be" in what


def test_every_problem_of_a_bad_laminate_is_told_at_once(book: Book) -> None:
    found = problems(
        book,
        Ply(material="pvc80", thickness=0.0),
        Ply(material="csm45", glass=0.95),
        Ply(material="wr800", thickness=float("nan")),
        Ply(material="gelcoat"),
        Ply(material="pvc80", thickness=10.0, glass=0.3),
        Ply(material="csm300", weight=-5.0),
        Ply(material="al5083"),
        Ply(material="csm450", thickness=0.1),
        Ply(material="csm450", glass=0.15),
        Ply(material="pvc60", thickness=12.0),
    )
    start = "laminate 'Bottom' (l3)"
    expected = [
        (f"{start}, ply 1, thickness", "0 mm is not above 0 and at most 100 mm."),
        (f"{start}, ply 2, glass", "0.95 is outside 0.1 to 0.8."),
        (f"{start}, ply 3, thickness", "nan is no finite number."),
        (f"{start}, ply 6, weight", "-5 g/m² is outside 20 to 5000 g/m²."),
        (f"{start}, ply 4", "the gel coat is not first."),
        (f"{start}, ply 1", "the core is the outermost ply."),
        (f"{start}, ply 10", "the core is the outermost ply."),
        (f"{start}, ply 2", "there is no material 'csm45'."),
        (f"{start}, ply 4", "the gel coat 'Polyester gel coat' has no thickness."),
        (f"{start}, ply 5", "a core has no glass content."),
        (f"{start}, ply 7", "'Aluminium 5083 backing block' is a solid, which makes no ply."),
        (f"{start}, ply 8", "its thickness of 0.1 mm is less than its dry fibre's alone, 0.176 mm."),
        (f"{start}, ply 9", "the published fit is used for glass contents 0.2 to 0.7, not 0.15."),
    ]
    assert sorted(found) == sorted(expected)


def test_empty_laminate_and_bare_gel_coat_are_refused(book: Book) -> None:
    assert problems(book) == [("laminate 'Bottom' (l3)", "has no plies.")]
    ((_, what),) = problems(book, Ply(material="gelcoat", thickness=0.5))
    assert what == "has no reinforced ply."


def test_materials_own_numbers_are_checked_where_they_are_used(book: Book) -> None:
    mat = book.reinforcement("csm450")
    assert mat is not None
    both = Book.of(Materials(reinforcements=(replace(mat, weight=float("inf"), resin="honey"),)), shipped())
    ((_, what),) = problems(both, Ply(material="csm450"))
    assert "names the resin 'honey', which is not there" in what
    both = Book.of(Materials(reinforcements=(replace(mat, weight=float("inf")),)), shipped())
    ((where, _),) = problems(both, Ply(material="csm450"))
    assert where == "laminate 'Bottom' (l3), ply 1, material 'Chopped mat 450 g/m²' (csm450), weight"


def test_estimate_that_does_not_know_the_kind_is_refused(book: Book) -> None:
    own = Reinforcement(
        id="own", name="Own tape", kind=PlyKind.UNIDIRECTIONAL, fibre="e_glass", resin="epoxy",
        weight=300.0, glass=0.5,
    )  # fmt: skip
    ((where, what),) = problems(Book.of(Materials(reinforcements=(own,)), shipped()), Ply(material="own"))
    assert where == "laminate 'Bottom' (l3), ply 1"
    assert what == "the estimate 'published fit' does not know a unidirectional ply ('Own tape')."


def test_equal_stacks_are_one_key_also_after_a_journey(lay: Lay) -> None:
    one, two, other = lay("csm450", "wr800"), lay("csm450", "wr800"), lay("wr800", "csm450")
    assert one == two
    assert hash(one) == hash(two)
    assert one != other
    travelled = pickle.loads(pickle.dumps(one))
    assert travelled == one
    assert hash(travelled) == hash(one)
