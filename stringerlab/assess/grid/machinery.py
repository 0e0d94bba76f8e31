"""Feet of equipment as the mechanics judge them: what presses on crowns, and what bolts and blocks carry."""

from collections.abc import Mapping, Sequence

import numpy as np

from stringerlab.assess.grid.records import GridResults
from stringerlab.laminate import Stack
from stringerlab.layout import Bonding
from stringerlab.layout.plan import Equipment, EquipmentKind, Insert
from stringerlab.materials.records import Solid
from stringerlab.methods.mechanics import LoadedSpan
from stringerlab.methods.mechanics.feet import Foot as PressingFoot
from stringerlab.methods.mechanics.inserts import FootCase, LoadedInsert, cases_of

BEARS = 100.0
"""Along the member, over which a foot without a block bears: our own choice [mm]."""
_POINTS = (
    EquipmentKind.ENGINE,
    EquipmentKind.GYRO,
    EquipmentKind.POINT,
    EquipmentKind.KNEE,
    EquipmentKind.TANK,
)


def feet_on(results: GridResults) -> Mapping[str, Sequence[PressingFoot]]:
    """Return what presses on spans' crowns, by their ids."""
    things = _things(results)
    found: dict[str, list[PressingFoot]] = {}
    for foot in results.feet:
        one = things[foot.equipment]
        if foot.push > 0 and one.kind in _POINTS:
            length = one.insert.length if one.insert is not None else BEARS
            found.setdefault(foot.span, []).append(
                PressingFoot(name=foot.name, force=foot.push, length=length)
            )
    return found


def insert_cases(results: GridResults, spans: Sequence[LoadedSpan]) -> list[FootCase]:
    """Return the load cases of bolts and blocks on spans, by the spans' rows."""
    things = _things(results)
    rows = {one.case.span.id: row for row, one in enumerate(spans)}
    found: list[FootCase] = []
    for foot in results.feet:
        insert = things[foot.equipment].insert
        if insert is None or foot.span not in rows:
            continue
        row = rows[foot.span]
        case = spans[row].case
        laminate = _under(spans[row])
        if laminate is None:
            continue
        found += cases_of(
            row,
            LoadedInsert(
                name=foot.name,
                insert=insert,
                block=_block(results, insert),
                laminate=laminate,
                shear=np.array(foot.shear),
                pull=np.array(foot.pull),
                moment=np.zeros(len(foot.shear)),
                bonding=case.bonding or Bonding(),
            ),
        )
    return found


def _things(results: GridResults) -> Mapping[str, Equipment]:
    return {one.id: one for one in results.ground.layout.equipment}


def _block(results: GridResults, insert: Insert) -> Solid | None:
    book = results.ground.book
    return None if not insert.material or book is None else book.solid(insert.material)


def _under(span: LoadedSpan) -> Stack | None:
    """Return the laminate of the wall that stands highest: what a foot is bolted through."""
    walls = span.case.section.walls
    if not walls:
        return None
    return max(walls, key=lambda wall: max(point[1] for point in wall.points)).stack
