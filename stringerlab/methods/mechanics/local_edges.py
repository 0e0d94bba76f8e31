"""The plate strips of loaded spans, at an end and at mid-span, their edges held by the parts beside.

What a strip would use of its buckling load with hinged and with clamped edges bounds what it is judged by.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import groupby

import numpy as np

from stringerlab.methods.mechanics.choosing import unrecorded
from stringerlab.methods.mechanics.records import LoadedSpan
from stringerlab.methods.records import Remark
from stringerlab.section import Plating, SectionShape, local
from stringerlab.section.restraint import springs
from stringerlab.section.strips import Strip, strips

RULE = Remark(
    "edges held against turning by the parts beside: 2 D22/b of the weakest, times 1 − the part of its own "
    "buckling load it uses over that of this one; coupling of bending and twisting left out"
)
DIMPLING = (
    "dimpling of a skin into the cells of its honeycomb is not judged: the cell size is not in the book"
)
_CLAMPED = 1e15
"""A spring that lets no edge turn [N]."""
_KEPT = 256


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Part:
    """A strip under what acts at one place of its span."""

    row: int
    strip: Strip
    line: Sequence[float]
    acting: tuple[float, ...]
    where: str
    k_theta: float = 0.0
    """Spring of its edges against turning [N]."""
    hinged: float = 0.0
    """What part of its buckling load it uses with hinged edges."""
    clamped: float = 0.0


def parts(loaded: Sequence[LoadedSpan]) -> list[Part]:
    """Return the strips of spans at their ends and at mid-span, their edges as the parts beside hold them."""
    bare = [part for row, span in enumerate(loaded) for part in _parts(row, span)]
    if not bare:
        return []
    with unrecorded():
        hinged, clamped = (
            local.used(*columns(bare), webs=True, k_theta=k).part.tolist()
            for k in (None, np.full(len(bare), _CLAMPED))
        )
    numbers = zip(bare, hinged, clamped, strict=True)
    found: list[Part] = []
    for _, group in groupby(numbers, key=lambda each: (each[0].row, each[0].where)):
        here = list(group)
        held = springs([part.strip for part, _, _ in here], np.array([use for _, use, _ in here]))
        found += [
            replace(part, hinged=one, clamped=other, k_theta=k)
            for (part, one, other), k in zip(here, held.tolist(), strict=True)
        ]
    return found


def columns(cases: Sequence[Part]) -> tuple[local.Columns, local.Acting]:
    """Return parts as columns, and what acts on them."""
    return (
        local.Columns(table=np.array([case.line for case in cases], float)),
        local.Acting(table=np.array([case.acting for case in cases], float)),
    )


def bounds(cases: Sequence[Part]) -> tuple[Remark, ...]:
    """Return how the edges of each part are held, and what hinged and clamped ones would give."""
    rows = np.arange(len(cases))
    return tuple(Remark(_said(case), rows == row) for row, case in enumerate(cases))


def _said(case: Part) -> str:
    if case.strip.free:
        return "its held edge counts as hinged: the safe side"
    how = (
        "elastically held edges govern"
        if case.k_theta > 0
        else "hinged edges govern: nothing beside that buckles later"
    )
    return (
        f"{how}; of its buckling load it uses {case.hinged:.2f} with hinged edges, {case.clamped:.2f} with "
        "clamped ones"
    )


@lru_cache(_KEPT)
def _lines(
    shape: SectionShape, deadrise: float, plating: Plating | None, length: float, graded: bool
) -> tuple[tuple[Strip, list[float]], ...]:
    found = strips(shape, deadrise, plating)
    return tuple(zip(found, local.Columns.of(found, length, graded=graded).table.tolist(), strict=True))


def _parts(row: int, span: LoadedSpan) -> Iterator[Part]:
    record = span.case.span
    plating = span.plating if record.attached else None
    for where, loads, graded in (("at the end", span.end, True), ("at mid-span", span.middle, False)):
        acting = local.Acting.row(loads, span.properties)
        for strip, line in _lines(span.facts.shape, span.facts.deadrise, plating, record.lu, graded):
            yield Part(row=row, strip=strip, line=line, acting=acting, where=where)
