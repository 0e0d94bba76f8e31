"""The legend as data: what is seen, once, and the scale of what is shaded with its unit."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from stringerlab.drawing import LegendRow, Options, Picture, Role, Swatch, legend, section_picture
from stringerlab.units import System

if TYPE_CHECKING:
    from tests.drawing.conftest import Shown


def rows_of(one: Shown, **options: Any) -> tuple[LegendRow, ...]:
    chosen = Options(**options)
    return legend(chosen, section_picture(one.shape, one.plating, properties=one.properties, options=chosen))


def test_each_kind_seen_has_one_row(shown: tuple[Shown, ...]) -> None:
    rows = rows_of(shown[-1])
    areas = [row.role for row in rows if row.swatch is Swatch.AREA]
    assert set(areas) == {
        Role.MAT, Role.STITCHED, Role.UNIDIRECTIONAL, Role.CORE, Role.GEL_COAT, Role.FOAM, Role.BLOCK,
        Role.PLATING,
    }  # fmt: skip
    assert len(areas) == len(set(areas))
    words = {row.role: row.text for row in rows}
    assert words[Role.FOAM] == "foam: mass only, no strength"
    assert words[Role.PLATING] == "hull plating, not the section's"


@pytest.mark.parametrize(
    ("options", "unit"),
    [
        ({"stress": True}, "MPa"),
        ({"stress": True, "units": System.US}, "psi"),
        ({"strain": True}, "%"),
    ],
)
def test_shading_has_a_scale_with_its_unit(
    shown: tuple[Shown, ...], options: dict[str, Any], unit: str
) -> None:
    *_, scale = rows_of(shown[0], moment=2e6, **options)
    assert scale.swatch is Swatch.RAMP
    assert scale.ends[0].startswith("−")
    assert scale.ends[1] == scale.ends[0].removeprefix("−")
    assert scale.ends[1].endswith(f" {unit}")


def test_nothing_shaded_has_no_scale(shown: tuple[Shown, ...]) -> None:
    assert Swatch.RAMP not in {row.swatch for row in rows_of(shown[0], stress=True)}


def test_empty_picture_has_no_legend() -> None:
    assert legend(Options(), Picture()) == ()
