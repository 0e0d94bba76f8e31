"""Sheet 6: blocks under machinery, fills along the sections, holes through the webs: what, where, tick."""

from collections.abc import Iterator, Sequence

from stringerlab.project import Project, Resolved
from stringerlab.report.markup import heading, points, said
from stringerlab.report.shop.fittings import (
    BlockAtFoot,
    HoleAt,
    blocks_at_feet,
    blocks_in_sections,
    fill_total,
    holes,
)
from stringerlab.report.shop.measures import TIE, across, bare, length_unit, liquid, run, size, typed, weight
from stringerlab.report.shop.practice import Practice
from stringerlab.report.shop.setting import TICK_BOX, Code, shop_table
from stringerlab.report.shop.stores import stores
from stringerlab.units import System

_NAMED = 3
"""Members named beside a fill."""


def fitting_pages(project: Project, resolved: Resolved, practice: Practice) -> list[str]:
    """Return the parts of the sheet of blocks, inserts and holes."""
    units = project.units
    parts = [*_feet(project, units), *_fills(project, resolved, practice, units), *_holes(project, units)]
    if not parts:
        parts.append(said("No block, no fill and no hole is drawn."))
    return parts


def _side(y: float) -> str:
    return "on the centreline" if abs(y) < 0.5 else "port" if y > 0 else "starboard"


def _off(y: float, units: System) -> str:
    return _side(y) if abs(y) < 0.5 else f"{size(abs(y), units)} {_side(y)}"


def _feet(project: Project, units: System) -> Iterator[str]:
    found = blocks_at_feet(project)
    if not found:
        return
    yield heading("Blocks under machinery", 2)
    yield shop_table(
        ["For", "Foot", "From transom", "Off centre", "Block", "Long × wide × thick", "Bolts", "In"],
        [_foot_row(one, units) for one in found],
        ["1fr", "12mm", "22mm", "24mm", "38mm", "35mm", "21mm", "11mm"],
        right=[2],
    )
    lines = [
        "Places are the middle of each foot, in plan; check them against the machine before laminating in."
    ]
    for name in dict.fromkeys(one.equipment for one in found):
        insert = next(one.insert for one in found if one.equipment == name)
        if insert is None:
            lines.append(f"{name}: no block is stated. Ask before drilling.")
        else:
            lines.append(
                f"{name}: bolts at least {typed(insert.edge, units)} from their middle to any edge; "
                "laminate over the "
                f"block {typed(insert.embedded, units)}."
            )
    lines.append(
        "Bed every block in putty without air, edges rounded, metal degreased and ground; cover at once."
    )
    yield points(lines)


def _foot_row(one: BlockAtFoot, units: System) -> list[str]:
    insert = one.insert
    head = [one.equipment, str(one.foot), size(one.x, units), _off(one.y, units)]
    if insert is None:
        return [*head, "none stated: ask", "", "", TICK_BOX]
    sizes = across(insert.length, insert.width, insert.thickness, system=units)
    return [
        *head,
        one.material or "not stated: ask",
        sizes,
        f"{insert.bolts} × ⌀{TIE}{typed(insert.diameter, units)}",
        TICK_BOX,
    ]


def _fills(project: Project, resolved: Resolved, practice: Practice, units: System) -> Iterator[str]:
    taken = stores(project, resolved, practice).taken
    found = blocks_in_sections(project, taken)
    if not found:
        return
    yield heading("Blocks and fills along the sections", 2)
    yield shop_table(
        ["Section", "Fill", "Material", "Wide × high", "Along members", "Length in all", "In"],
        [
            [
                one.section.name,
                one.fill.name or one.fill.id,
                one.material,
                f"{bare(one.width, units)} × {size(one.height, units)}",
                _several(one.members),
                run(one.length, units) if one.length > 0 else "not in the take-off: measure",
                TICK_BOX,
            ]
            for one in found
        ],
        ["26mm", "24mm", "32mm", "28mm", "1fr", "22mm", "11mm"],
    )
    totals = fill_total(taken)
    if totals:
        yield shop_table(
            ["In all", "Volume", "Mass"],
            [[name, liquid(volume, units), weight(mass, units)] for name, volume, mass in totals],
            ["1fr", "34mm", "34mm"],
            right=[1, 2],
        )
    yield said(
        "Wide × high bounds the fill as the section is drawn; its shape is on the trim sheet. Foam carries "
        "no load."
    )


def _several(names: tuple[str, ...]) -> str:
    """Return names of members, of many the first: the cut list has them all."""
    if len(names) <= _NAMED:
        return ", ".join(names)
    return f"{', '.join(names[: _NAMED - 1])} and {len(names) - _NAMED + 1} more"


def _holes(project: Project, units: System) -> Iterator[str]:
    found = holes(project)
    if not found:
        return
    yield heading("Holes through the webs", 2)
    yield shop_table(
        ["Member", "Hole", "Along", f"From transom; off centre, {length_unit(units)}", "Up", "Cut"],
        [_hole_row(many, units) for many in _alike(found)],
        ["1fr", "44mm", "20mm", "40mm", "16mm", "18mm"],
        right=[2, 4],
    )
    yield points(
        [
            "Through every web of the member. Along is from the member's first point, aft or inboard, in "
            "plan; of a "
            "span given by hand from its aft or inboard end. Up is from the shell to the hole's lower "
            "edge; corner is "
            "its radius. Two boxes to tick: port and starboard.",
            "Never nearer to a crossing or a bolt than drawn. Smooth the edge and seal it with resin: bare "
            "edges drink.",
            "After bonding pour water and see that it runs to the bilge.",
        ]
    )


def _alike(found: Sequence[HoleAt]) -> list[list[HoleAt]]:
    """Return holes with their mirror images."""
    groups: dict[tuple[object, ...], list[HoleAt]] = {}
    for one in found:
        off = None if one.y is None else round(abs(one.y), 3)
        groups.setdefault((one.member, one.opening, one.along, one.count, off), []).append(one)
    return list(groups.values())


def _hole_row(many: Sequence[HoleAt], units: System) -> list[str]:
    one = many[0]
    opening = one.opening
    sides = " and ".join(each.hand for each in many if each.hand)
    name = f"{one.member}, {sides}" if sides else one.member
    if one.count > 1:
        name += f", {one.count} alike"
    return [
        name,
        f"{opening.kind} {across(opening.width, opening.height, system=units)}, "
        f"corner {typed(opening.radius, units)}",
        size(one.along, units),
        "" if one.x is None or one.y is None else f"{bare(one.x, units)}; {bare(abs(one.y), units)}",
        typed(opening.bottom, units),
        Code(" + h(2mm) + ".join([TICK_BOX] * (len(many) * one.count if len(many) * one.count <= 2 else 1))),
    ]
