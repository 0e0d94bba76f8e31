"""Range annotations are enforced through tuples, unions and nested records, with a readable path."""

from dataclasses import dataclass, field
from typing import Annotated

import pytest

from stringerlab.laminate.records import Laminate, Ply
from stringerlab.materials.records import GelCoat, Materials, Sourced
from stringerlab.units import Mm, Range, Ratio
from stringerlab.units.ranges import range_problems
from stringerlab.workings import Known

Side = Annotated[Mm, Range(0, 100, above=True)]


@dataclass(frozen=True, kw_only=True)
class Box:
    corners: tuple[tuple[Side, Side], ...] = ()
    fillets: tuple[Annotated[Mm, Range(0, 50)], ...] = ()
    share: Annotated[Ratio, Range(low=1)] = 1.0
    lid: "Box | None" = None
    free: float = 0.0


@dataclass(frozen=True, kw_only=True)
class Shelf:
    boxes: tuple[Box, ...] = field(default_factory=tuple)


def test_path_reads_like_the_document() -> None:
    laminate = Laminate(
        id="l3", name="Bottom", plies=(Ply(material="csm300"), Ply(material="csm300", glass=0.95))
    )
    (problem,) = range_problems(laminate, "laminate 'Bottom' (l3)")
    assert problem.where == "laminate 'Bottom' (l3), ply 2, glass"
    assert problem.what == "0.95 is outside 0.1 to 0.8."


def test_every_problem_is_found_at_once() -> None:
    box = Box(corners=((0.0, 5.0), (5.0, 101.0)), fillets=(51.0, 50.0), share=0.5, lid=Box(fillets=(-1.0,)))
    found = {(problem.where, problem.what) for problem in range_problems(Shelf(boxes=(Box(), box)))}
    assert found == {
        ("box 2, corner 1, first number", "0 mm is not above 0 and at most 100 mm."),
        ("box 2, corner 2, second number", "101 mm is not above 0 and at most 100 mm."),
        ("box 2, fillet 1", "51 mm is outside 0 to 50 mm."),
        ("box 2, share", "0.5 is not at least 1."),
        ("box 2, lid, fillet 1", "-1 mm is outside 0 to 50 mm."),
    }


@pytest.mark.parametrize("bad", [float("nan"), float("inf"), float("-inf")])
def test_number_must_be_finite_even_without_a_range(bad: float) -> None:
    (problem,) = range_problems(Box(free=bad))
    assert problem.where == "free"
    assert "no finite number" in problem.what


def test_missing_number_is_told_from_an_optional_one() -> None:
    (problem,) = range_problems(Ply(material="csm300", angle=None))  # pyright: ignore[reportArgumentType]
    assert (problem.where, problem.what) == ("angle", "is missing.")


def test_range_of_a_sourced_value_holds_for_its_value() -> None:
    heavy = GelCoat(
        id="g1", name="Lead", density=Sourced(value=30_000, source="invented", known=Known.STATED)
    )
    (problem,) = range_problems(Materials(gel_coats=(heavy,)))
    assert problem.where == "gel coat 'Lead' (g1), density"
    assert problem.what == "30000 kg/m³ is outside 5 to 20000 kg/m³."
