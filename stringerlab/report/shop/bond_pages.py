"""Sheet 5: the bond map: the outline to trace on the hull, bead by bead, adhesive, open time and clamping."""

from collections.abc import Iterator

from stringerlab.drawing import PRINT, Picture, svg
from stringerlab.project import PageSize, Project, Resolved
from stringerlab.report.markup import heading, new_page, points, quoted, said
from stringerlab.report.shop.bonds import Bead, Bonds, bonds
from stringerlab.report.shop.measures import TIE, bare, length_unit, liquid, percent, pieces, run, size, typed
from stringerlab.report.shop.members import Array
from stringerlab.report.shop.outlines import Traced, outline_picture, traced
from stringerlab.report.shop.practice import Practice
from stringerlab.report.shop.setting import fill_in, input_line, listed, shop_table
from stringerlab.report.shop.stores import stores
from stringerlab.units import System, unit_named

_LITRE = unit_named("l").factor
_ROOM = {PageSize.A4: (118.0, 222.0), PageSize.LETTER: (124.0, 204.0)}
"""For the plan, under its heading [mm]."""
_ALT = "plan of the bonded flanges on the hull bottom"
_BLOWN_UP = 1.4
"""How much larger the template sets the plan than it is drawn: its letters grow with it."""
_NO_PLAN = (
    "No layout is in use, so there is no outline to draw: lengths are those of the spans given, and the "
    "outline "
    "is taken off the part at the dry fit."
)
_BEFORE = (
    "Trace the outline on the hull from the tables, set the part in dry, check gaps on the dry-fit sheet, "
    "mark "
    "round every flange, lift the part out.",
    "Grind both faces within the lines to sound laminate, no gel coat, no wax; clean and dry as the "
    "adhesive's "
    "data sheet says.",
    "Lay the bead in the middle of each flange, full length, no gap at corners; set the part down once, "
    "straight.",
    "Adhesive must press out all along both edges: where none shows, the bond is not counted. Shape it to "
    "a fillet.",
)


def bond_pages(
    project: Project, resolved: Resolved, practice: Practice, size_: PageSize
) -> tuple[list[str], dict[str, bytes]]:
    """Return the parts of the bond map, and its picture."""
    units = project.units
    found = bonds(project, resolved, stores(project, resolved, practice).taken, practice)
    parts = [points(_BEFORE)]
    pictures: dict[str, bytes] = {}
    if not found.beads:
        parts.append(said("No member stands on a bead: nothing is bonded with adhesive."))
    parts += [*_beads(found, units), *_adhesives(found, practice, units)]
    if found.without:
        parts.append(heading("Without a bead", 2))
        parts.append(points(f"{name}: {why}" for name, why in found.without))
    outlines = traced(project, resolved)
    if outlines:
        picture = outline_picture(project, outlines)
        scale = _scale(picture, *_ROOM[size_])
        pictures["bond.svg"] = svg(picture, PRINT, title="outline to trace", scale=scale / _BLOWN_UP).encode()
        parts += [
            new_page(),
            heading("Outline to trace, bow up, port on the left", 2),
            f"#plan-and-key({quoted('bond.svg')}, {quoted(_ALT)}, {_key(outlines)})",
            new_page(),
            heading("Edges of the flanges to mark", 2),
            *_edges(outlines, units),
        ]
    else:
        parts.append(said(_NO_PLAN))
    return parts, pictures


def _key(outlines: tuple[Traced, ...]) -> str:
    rows = dict.fromkeys(
        (one.letter, f"{one.name}, {one.section}" + ("" if one.beaded else ": laminated in place"))
        for one in outlines
    )
    words = [
        ("", "Outlined: flange on a bead. Hatched: laminated in place. Chain line: the member's line."),
        *rows,
    ]
    return listed(f"({quoted(letter)}, {quoted(said_)})" for letter, said_ in words)


def _scale(picture: Picture, width: float, height: float) -> float:
    bounds = picture.bounds()
    if bounds is None:
        return 1.0
    left, low, right, high = bounds
    return min((width - 30) / max(right - left, 1.0), (height - 30) / max(high - low, 1.0))


def _beads(found: Bonds, units: System) -> Iterator[str]:
    if not found.beads:
        return
    yield heading("Beads", 2)
    rows = [row for bead in found.beads for row in _bead_rows(bead, units)]
    yield shop_table(
        ["Member", "Flange", "Gap", "Length, all alike", "Round bead", "To lay", "Laid"],
        rows,
        ["1fr", "33mm", "20mm", "24mm", "24mm", "22mm", "14mm"],
        right=[2, 3, 4, 5],
        write=[6],
    )
    notes = [
        f"The bead to lay fills the widest gap ({typed(found.tolerance, units)} over that drawn) and "
        f"{percent(found.squeeze_out)} more to press out.",
        "Lengths are the take-off's: its sheet says what they count at ends and crossings.",
        *dict.fromkeys(f"{bead.name}: {note}." for bead in found.beads for note in bead.notes),
    ]
    wide = [bead for bead in found.beads if bead.adhesive is not None and bead.adhesive.gap is not None]
    for bead in wide:
        assert bead.adhesive is not None
        assert bead.adhesive.gap is not None
        if bead.section.bead + found.tolerance > bead.adhesive.gap.value:
            notes.append(
                f"{bead.name}: the widest gap is more than {bead.adhesive.name} fills "
                f"({size(bead.adhesive.gap.value, units)}): ask before bonding."
            )
    yield points(notes)


def _bead_rows(bead: Bead, units: System) -> Iterator[list[str]]:
    for number, (width, laid, rope) in enumerate(
        zip(bead.widths, bead.laid, bead.ropes, strict=True), start=1
    ):
        yield [
            f"{bead.name}, {bead.section.name}" if number == 1 else "",
            f"{number}: {size(width, units)} wide",
            typed(bead.section.bead, units),
            run(bead.length, units),
            f"⌀{TIE}{size(rope, units)}",
            liquid(bead.length * laid, units),
            "",
        ]


def _adhesives(found: Bonds, practice: Practice, units: System) -> Iterator[str]:
    for one in found.needed:
        yield heading(f"Adhesive: {one.adhesive.name}", 2)
        rows = [
            ["Volume of the gaps as drawn", liquid(one.volume, units)],
            [f"To lay, with {percent(found.waste)} waste", liquid(one.to_lay, units)],
            [
                "Cartridges",
                pieces(one.to_lay, practice.cartridge.value * _LITRE, "cartridge", "cartridges"),
            ],
        ]
        if one.adhesive.gap is not None:
            gap = one.adhesive.gap
            rows.append(["Widest gap it fills", f"{size(gap.value, units)} ({gap.source}; {gap.known})"])
        if any(not bead.named for bead in found.beads):
            rows.append(["Taken for", "sections that name none: say which product is used"])
        yield shop_table(["What", "How much"], rows, ["70mm", "1fr"])
        yield points(
            [
                input_line(
                    "A cartridge holds", liquid(practice.cartridge.value * _LITRE, units), practice.cartridge
                ),
                "Open time, handling time and the temperatures they hold at: read the data sheet, write "
                "them here. "
                "They are not in this program. Warm parts and thick beads shorten both.",
                "Clamp or weigh down so that every flange touches its spacers and nothing moves until "
                "handling "
                "strength; never squeeze the bead thinner than the spacers.",
            ]
        )
        yield "#v(2mm)\n" + fill_in(
            "Product and batch, used before:",
            "Open time, from the data sheet, at the temperature here:",
            "Time to handling strength, from the data sheet:",
            "Time to full strength, from the data sheet:",
            "Bead started at, part set down at:",
            "Clamps off at:",
            "Air, part and hull temperature:",
        )


def _edges(outlines: tuple[Traced, ...], units: System) -> Iterator[str]:
    yield said(
        "Each place is from transom; off centre. Off centre is from the centreline, port and starboard "
        "alike for a pair; from transom is along the "
        "centreline; both level, in plan. Where members meet the flange stops as the plan shows; "
        "hatching marks what is laminated in place."
    )
    seen: set[str] = set()
    for one in outlines:
        if one.letter in seen or not one.beaded:
            continue
        seen.add(one.letter)
        yield heading(f"{one.letter}  {one.name}, {one.section}", 3)
        head = [f"Line, {length_unit(units)}"]
        for number in range(1, len(one.edges) + 1):
            head += [f"Flange {number}, inner", f"Flange {number}, outer"]
        rows = [
            [
                _place(one.middle[index], units),
                *(_place(edge[index], units) for pair in one.edges for edge in pair),
            ]
            for index in range(len(one.middle))
        ]
        yield shop_table(head, rows, ["1fr"] * len(head))
    for one in outlines:
        if one.letter not in seen:
            seen.add(one.letter)
            yield f"#par({quoted(f'{one.letter}  {one.name}, {one.section}: laminated in place.')})"


def _place(point: Array, units: System) -> str:
    x, y = point.tolist()
    return f"{bare(x, units)}; {bare(abs(y), units)}"
