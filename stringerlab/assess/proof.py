"""Computed values beside published ones: the same tables the tests read (``shared/published``)."""

import tomllib
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from stringerlab.assess import (
    proof_bonds,
    proof_class,
    proof_coupons,
    proof_first_principles,
    proof_flotation,
    proof_grids,
    proof_inserts,
    proof_iso_surfaces,
    proof_laminates,
    proof_local,
    proof_materials,
    proof_methods,
    proof_openings,
    proof_plates,
    proof_ply_stress,
    proof_sections,
    proof_shapes,
    proof_torsion,
)
from stringerlab.data import folder
from stringerlab.errors import Problem, StringerlabError
from stringerlab.workings import Known

COMPUTATIONS: dict[str, Callable[..., float]] = {
    **proof_bonds.COMPUTATIONS,
    **proof_class.COMPUTATIONS,
    **proof_coupons.COMPUTATIONS,
    **proof_first_principles.COMPUTATIONS,
    **proof_grids.COMPUTATIONS,
    **proof_inserts.COMPUTATIONS,
    **proof_flotation.COMPUTATIONS,
    **proof_iso_surfaces.COMPUTATIONS,
    **proof_laminates.COMPUTATIONS,
    **proof_local.COMPUTATIONS,
    **proof_materials.COMPUTATIONS,
    **proof_ply_stress.COMPUTATIONS,
    **proof_sections.COMPUTATIONS,
    **proof_shapes.COMPUTATIONS,
    **proof_torsion.COMPUTATIONS,
    **proof_methods.COMPUTATIONS,
    **proof_openings.COMPUTATIONS,
    **proof_plates.COMPUTATIONS,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Published:
    """One published value and the computation that should meet it within its tolerance (in ``unit``)."""

    source: str
    quantity: str
    published: float
    unit: str
    tolerance: float
    known: Known
    compute: str
    given: Mapping[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class Proof:
    """A published value beside the computed one."""

    source: str
    quantity: str
    published: float
    computed: float
    unit: str
    tolerance: float
    ok: bool
    known: Known


@cache
def published() -> tuple[Published, ...]:
    """Return every published value, in the order of the files.

    Raises
    ------
    StringerlabError
        When a table is not as it should be, with every problem found.
    """
    values: list[Published] = []
    wrong: list[Problem] = []
    for path in sorted((folder("shared") / "published").glob("*.toml")):
        document = tomllib.loads(path.read_text(encoding="utf-8"))
        for number, row in enumerate(document["value"], 1):
            try:
                values.append(_value(document, row))
            except (KeyError, ValueError) as error:
                wrong.append(
                    Problem(f"This value lacks or misstates {error}.", f"{Path(path).name}, value {number}")
                )
    if wrong:
        raise StringerlabError(wrong)
    return tuple(values)


def proofs() -> tuple[Proof, ...]:
    """Compute every published value anew."""
    return tuple(proof_of(value) for value in published())


def proof_of(value: Published) -> Proof:
    """Compute one published value anew."""
    computed = float(COMPUTATIONS[value.compute](**value.given))
    return Proof(
        source=value.source,
        quantity=value.quantity,
        published=value.published,
        computed=computed,
        unit=value.unit,
        tolerance=value.tolerance,
        ok=abs(computed - value.published) <= value.tolerance,
        known=value.known,
    )


def _value(document: Mapping[str, Any], row: Mapping[str, Any]) -> Published:
    clause = row.get("clause", "")
    number = float(row["published"])
    if ("tolerance" in row) == ("relative" in row):
        raise ValueError("tolerance: give either 'tolerance' or 'relative'")
    if row["compute"] not in COMPUTATIONS:
        raise ValueError(f"compute: there is no computation '{row['compute']}'")
    return Published(
        source=f"{document['title']}, {clause}" if clause else document["title"],
        quantity=row["quantity"],
        published=number,
        unit=row["unit"],
        tolerance=float(row["tolerance"]) if "tolerance" in row else abs(number) * float(row["relative"]),
        known=Known(row.get("known", document.get("known"))),
        compute=row["compute"],
        given=row.get("given", {}),
    )
