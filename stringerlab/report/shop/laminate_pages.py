"""Sheet 1: what is laid where, ply by ply from the mould, and what is cut for it."""

from collections.abc import Iterator, Sequence

from stringerlab.laminate.records import Role
from stringerlab.materials.records import PlyKind
from stringerlab.project import Project, Resolved
from stringerlab.report.markup import heading, new_page, points, quoted, said
from stringerlab.report.shop.cuts import Cut, CutList, cut_lists
from stringerlab.report.shop.laminates import LaidPly, Lamination, Place, Schedule, schedule
from stringerlab.report.shop.measures import TIE, bare, between, cloth, degrees, fine, percent, size
from stringerlab.report.shop.members import runs_of
from stringerlab.report.shop.practice import Practice
from stringerlab.report.shop.setting import TICK_BOX, Code, input_line, kept, listed, shop_table
from stringerlab.units import System

_KEY = (
    "Ply 1 lies on the mould (black); count upwards from it. Gel coat first, where there is one.",
    "Arrows show the fibres as seen by the one who lays: 0° is across the sheet. In a member 0° runs along "
    "the "
    "member; in the hull along the short side of the panels between members: ask where it is not plain. "
    "Scattered strokes are mat, dots are core, the black bar is gel coat.",
)

_ON_ONE_SHEET = 12
"""Plies or cuts that are not parted by the end of a sheet."""


def laminate_pages(project: Project, resolved: Resolved, practice: Practice) -> list[str]:
    """Return the parts of the laminate sheet."""
    units, found = project.units, schedule(project, resolved)
    parts = [f"#lay-key({listed(map(quoted, _KEY))})", heading("Where each laminate goes", 2)]
    if not found.laminations:
        parts.append(said("No member and no zone of the hull has a laminate: there is nothing to lay."))
        return parts
    parts += [_where(found, units), *_zones(found, units), *_rules(practice, units)]
    for laid in found.laminations:
        body = [heading(laid.name, 2), *_lamination(laid, practice, units)]
        parts += [kept(*body)] if len(laid.plies) <= _ON_ONE_SHEET else body
    lists = cut_lists(found, runs_of(project), practice)
    if lists:
        parts += [new_page(), heading("Cut sizes", 1), *_cut_rules(practice, units)]
        for one in lists:
            body = list(_cut_list(one, practice, units))
            parts += [kept(*body)] if len(one.cuts) + len(one.runs) <= _ON_ONE_SHEET else body
    if found.left_out:
        parts += [heading("Not scheduled", 2), points(found.left_out)]
    return parts


def _where(found: Schedule, units: System) -> str:
    rows = [
        [place.name, place.says, laid.name, fine(laid.thickness, units)]
        for laid in found.laminations
        for place in laid.places
    ]
    return shop_table(
        ["Section or zone", "Part", "Laminate", "Thickness"], rows, ["1fr", "1fr", "1fr", "auto"], right=[3]
    )


def _zones(found: Schedule, units: System) -> Iterator[str]:
    rows = [
        _zone_row(place, laid, units)
        for laid in found.laminations
        for place in laid.places
        if place.zone is not None
    ]
    if not rows:
        return
    yield heading("Hull zones", 2)
    yield shop_table(
        [
            "Zone",
            "From – to, from transom",
            "From – to, off centreline",
            "Cut length",
            "Cut width, one side",
            "Ply ends",
        ],
        rows,
        ["1fr", "36mm", "34mm", "22mm", "22mm", "36mm"],
    )
    yield said(
        "Zones are laid in this order; a later one lies on those before it. Where a width says measure, take "
        "it off the mould."
    )


def _zone_row(place: Place, laid: Lamination, units: System) -> list[str]:
    zone = place.zone
    assert zone is not None
    sides = "all over"
    if zone.inboard is not None or zone.outboard is not None:
        inner = bare(zone.inboard, units) if zone.inboard is not None else "centreline"
        outer = size(zone.outboard, units) if zone.outboard is not None else "edge"
        sides = f"{inner} – {outer}"
    drop = "together"
    if zone.taper > 0 and laid.cloths:
        drop = f"each {size(zone.taper / laid.cloths, units)} back at both ends, last laid shortest"
    return [
        zone.name,
        between(zone.aft, zone.forward, units),
        sides,
        "measure" if place.length is None else size(place.length, units),
        "measure" if place.width is None else size(place.width, units),
        drop,
    ]


def _rules(practice: Practice, units: System) -> Iterator[str]:
    yield heading("Laps and staggers", 2)
    yield points(
        [
            input_line("Lap of two pieces of one ply", size(practice.lap.value, units), practice.lap),
            input_line(
                "Joins of plies that follow one another apart by",
                size(practice.stagger.value, units),
                practice.stagger,
            ),
            "Unidirectional cloth is not lapped across its fibres unless the drawing says so: ask.",
            "No join in a crown between two crossings, and none in a corner.",
            input_line(
                "Thickness may be off by",
                f"± {percent(practice.thickness_tolerance.value)}",
                practice.thickness_tolerance,
            ),
            input_line(
                "Glass content by mass may be off by",
                f"± {percent(practice.glass_tolerance.value)} of the laminate's mass",
                practice.glass_tolerance,
            ),
        ]
    )


def _lamination(laid: Lamination, practice: Practice, units: System) -> Iterator[str]:
    places = "; ".join(f"{place.name}, {place.says}" for place in laid.places)
    yield said(f"Laid in: {places}.")
    yield shop_table(
        ["Ply", "Cloth", "Lay", "Roll at", "Target", "Glass", "Measured", "Laid"],
        [_ply_row(ply, units) for ply in laid.plies],
        ["10mm", "1fr", "17mm", "17mm", "23mm", "17mm", "26mm", "13mm"],
        right=[4, 5],
        write=[6],
    )
    t, g = practice.thickness_tolerance.value, practice.glass_tolerance.value
    rows = [
        [
            "Thickness without gel coat",
            fine(laid.thickness, units),
            f"{fine((1 - t) * laid.thickness, units).split(TIE)[0]} – "
            f"{fine((1 + t) * laid.thickness, units)}",
            *("", "", ""),
        ],
        [
            "Glass by mass",
            percent(laid.glass),
            f"{percent(laid.glass - g).split(TIE)[0]} – {percent(laid.glass + g)}",
            *("", "", ""),
        ],
    ]
    if laid.with_gel > laid.thickness:
        rows.insert(1, ["With gel coat", fine(laid.with_gel, units), "", "", "", ""])
    yield "#v(1mm)\n" + shop_table(
        ["Whole", "Target", "From – to", "Measured 1", "2", "3"],
        rows,
        ["1fr", "22mm", "36mm", "26mm", "22mm", "22mm"],
        write=[3, 4, 5],
    )


def _ply_row(ply: LaidPly, units: System) -> list[str]:
    name = ply.name
    if ply.weight > 0:
        name = f"{name}, {cloth(ply.weight, ply.kind, units)} dry"
    angle = "" if not ply.directions else degrees(ply.angle)
    glass = percent(ply.glass) if ply.role is Role.REINFORCED else ""
    return [str(ply.number), name, _lay(ply), angle, fine(ply.thickness, units), glass, "", TICK_BOX]


def _lay(ply: LaidPly) -> Code:
    if ply.role is Role.GEL_COAT:
        return Code("coat-mark")
    if ply.role is Role.CORE:
        return Code("core-mark")
    return Code(f"fibres({listed(f'{turn:g}deg' for turn in ply.directions)}, {str(ply.random).lower()})")


def _cut_rules(practice: Practice, units: System) -> Iterator[str]:
    yield points(
        [
            input_line("Roll width", size(practice.roll_width.value, units), practice.roll_width),
            input_line("Trim on every free edge", size(practice.trim.value, units), practice.trim)
            + ": it is in the cut widths and cut lengths",
            "Lengths are of whole members, end to end; one that stops at a crossing is cut there.",
            "Widths are round the section at the ply's middle, of several plies the widest; a ply of 0° "
            "runs with the roll's length along "
            "the member.",
        ]
    )


def _cut_list(one: CutList, practice: Practice, units: System) -> Iterator[str]:
    yield heading(one.section.name, 2)
    yield shop_table(
        ["Part", "Plies", "Cloth", "Net width", "Cut width", "Roll", "Cut"],
        [_cut_row(cuts, practice, units) for cuts in _alike(one.cuts)],
        ["30mm", "15mm", "1fr", "22mm", "22mm", "32mm", "12mm"],
        right=[3, 4],
    )
    yield "#v(1mm)\n" + shop_table(
        ["For member", "Length", "Cut length", "Pieces of each ply", "Cut"],
        [
            [
                run.name,
                size(run.length, units),
                size(run.length + 2 * practice.trim.value, units),
                str(run.count),
                TICK_BOX,
            ]
            for run in one.runs
        ],
        ["1fr", "28mm", "28mm", "36mm", "12mm"],
        right=[1, 2],
    )


def _alike(cuts: Sequence[Cut]) -> list[list[Cut]]:
    """Return plies that follow one another in one part, of one cloth laid one way, together."""
    groups: list[list[Cut]] = []
    for cut in cuts:
        last = groups[-1][-1] if groups else None
        if last is not None and (last.wall, last.ply.name, last.ply.angle, last.strips) == (
            cut.wall,
            cut.ply.name,
            cut.ply.angle,
            cut.strips,
        ):
            groups[-1].append(cut)
        else:
            groups.append([cut])
    return groups


def _cut_row(cuts: Sequence[Cut], practice: Practice, units: System) -> list[str]:
    cut = max(cuts, key=lambda each: each.width)
    first, last = cuts[0].ply.number, cuts[-1].ply.number
    plies = str(first) if first == last else f"{first} – {last}"
    if cut.ply.role is Role.CORE:
        way = "sheet"
    elif cut.along or cut.ply.kind is PlyKind.MAT:
        way = "along" if cut.strips == 1 else f"along, {cut.strips} widths side by side"
    elif abs(cut.ply.angle) % 180 == 90:
        way = f"across, a piece every {size(practice.roll_width.value - practice.lap.value, units)}"
    else:
        way = f"at {degrees(cut.ply.angle)} to the member"
    width = cut.net if cut.ply.role is Role.CORE else cut.width
    return [
        cut.wall,
        plies,
        cut.ply.name,
        size(cut.net, units),
        size(width, units),
        way,
        TICK_BOX,
    ]
