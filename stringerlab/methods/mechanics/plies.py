"""First-ply failure of spans: every ply at its extreme points, at the end that carries most and at mid-span.

The hull holds a member in its plane and from turning: where the section is not symmetric about it, the
sideways moment that this takes is part of the load, and shear is taken through the shear centre. Demand is
the load, 1; capacity the multiple of it that is allowed.
"""

from collections.abc import Sequence
from dataclasses import astuple, dataclass, replace
from math import isfinite, nan

import numpy as np

from stringerlab.errors import StringerlabError
from stringerlab.methods.mechanics.plies_plating import counted_beside_working
from stringerlab.methods.mechanics.records import OWN_CHOICE, Allowances, LoadedSpan
from stringerlab.methods.records import Aspect, Governing, Judged, Remark
from stringerlab.section import Properties
from stringerlab.section.loads import SectionLoads
from stringerlab.section.ply_failure import GoverningPly, PlyStresses
from stringerlab.section.ply_stress import ply_stresses
from stringerlab.units import Ratio, unit_named
from stringerlab.workings import Known, Source, formula

PLACES = "at the end", "at mid-span"
STRENGTHS_AS_RESOLVED = Remark(
    "Strengths are taken as resolved, without the method's own factors on them; the part of first-ply "
    "failure that is allowed stands for all of these"
)
SHEAR_BY_THIN_WALLS = Remark(
    "Shear flow is that of thin-wall theory; interlaminar shear leaves out the bonds"
)
_SOURCE = Source("stringerlab", "first-ply failure by classical laminate theory", Known.STATED)


@formula(symbol="lambda_a", source=OWN_CHOICE)
def allowed_multiple(n_A: Ratio, lambda_p: Ratio) -> Ratio:
    """Part of the load multiple at first-ply failure that is allowed."""
    return n_A * lambda_p


@dataclass(frozen=True, slots=True)
class _Row:
    """One span."""

    factor: float = nan
    governs: str = ""
    rank: int = 0
    lacking: str = ""


def judge(loaded: Sequence[LoadedSpan], allow: Allowances) -> tuple[Judged, ...]:
    """Return first-ply failure, one row a span: of its end and its middle the worse."""
    rows = [_row(span) for span in loaded]
    capacity = allowed_multiple(allow.ply, np.array([row.factor for row in rows]))
    return (
        Judged(
            aspect=Aspect.PLY_FAILURE,
            demand=np.ones(len(rows)),
            capacity=capacity,
            unit=unit_named(""),
            power=1.0,
            source=_SOURCE,
            marks=np.array([row.rank for row in rows], np.int8),
            remarks=(STRENGTHS_AS_RESOLVED, SHEAR_BY_THIN_WALLS, *counted_beside_working(loaded)),
            missing="a strength of a ply is missing",
            lacking=tuple(
                Remark(text, np.array([row.lacking == text for row in rows]))
                for text in dict.fromkeys(row.lacking for row in rows if row.lacking)
            ),
            governing=Governing(
                index=np.zeros(len(rows), np.intp), names=tuple((row.governs,) for row in rows)
            ),
        ),
    )


def held(loads: SectionLoads, found: Properties) -> SectionLoads:
    """Return loads with the sideways moment and shear by which the hull keeps the bending in its plane."""
    share = found.EI_yz / found.EI_y
    return replace(loads, M_z=share * loads.M_y, V_y=share * loads.V_z)


def _row(span: LoadedSpan) -> _Row:
    loads = [held(each, span.properties) for each in (span.end, span.middle)]
    if not all(isfinite(number) for each in loads for number in astuple(each)):
        return _Row(lacking="it has no load")
    try:
        stresses = ply_stresses(span.case.section, span.plating, loads, found=span.properties, turning=False)
    except StringerlabError as error:
        return _Row(lacking=" ".join(str(problem) for problem in error.problems))
    if stresses.missing:
        return _Row(lacking=f"no strength for: {_some(stresses.missing)}")
    worst = min(range(2), key=lambda place: stresses.governing[place].factor)
    governing = stresses.governing[worst]
    return _Row(
        factor=governing.factor,
        governs=f"{governing.name}: {_how(governing)}, {PLACES[worst]}",
        rank=_rank(stresses, governing),
    )


def _some(names: Sequence[str], most: int = 4) -> str:
    more = f" and {len(names) - most} more" if len(names) > most else ""
    return ", ".join(names[:most]) + more


def _how(governing: GoverningPly) -> str:
    by = "" if governing.criterion == governing.mode else f" by {governing.criterion}"
    return f"{governing.mode}{by}"


def _rank(stresses: PlyStresses, governing: GoverningPly) -> int:
    places = zip(stresses.owners, stresses.names, stresses.marks.tolist(), strict=True)
    return max(rank for owner, ply, rank in places if (owner, ply) == (governing.owner, governing.ply))
