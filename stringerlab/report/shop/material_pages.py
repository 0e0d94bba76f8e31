"""Sheet 2: what is drawn from the store, in mass and in rolls, pails and cartridges."""

from collections.abc import Iterator, Sequence

from stringerlab.assess.cavities import cavity_readings
from stringerlab.project import Project, Resolved, book_of
from stringerlab.report.markup import heading, points, said
from stringerlab.report.shop.bonds import bonds
from stringerlab.report.shop.measures import area, cloth, liquid, percent, pieces, run, size, weight
from stringerlab.report.shop.practice import Practice
from stringerlab.report.shop.setting import TICK_BOX, input_line, shop_table
from stringerlab.report.shop.stores import Store, Stores, stores
from stringerlab.units import System, unit_named

_LITRE = unit_named("l").factor
_CATALYST_UNKNOWN = "hardener as its data sheet says"


def material_pages(project: Project, resolved: Resolved, practice: Practice) -> list[str]:
    """Return the parts of the material sheet."""
    units, drawn = project.units, stores(project, resolved, practice)
    parts = [*_fabrics(drawn, practice, units), *_resins(drawn, practice, units), *_others(drawn, units)]
    parts += _adhesives(project, resolved, drawn, practice)
    parts += _foam(project, resolved)
    if not parts:
        parts.append(said("No member takes any material: there is nothing to draw from the store."))
    parts += [heading("Read with these figures", 2), points(drawn.taken.notes)]
    if drawn.taken.not_counted:
        parts.append(heading("Not counted", 2))
        parts.append(
            points(
                f"{one.kind} {one.name}: {' '.join(problem.what for problem in one.problems)}"
                for one in drawn.taken.not_counted
            )
        )
    return parts


def _fabrics(drawn: Stores, practice: Practice, units: System) -> Iterator[str]:
    if not drawn.fabrics:
        return
    yield heading("Fabric", 2)
    yield shop_table(
        ["Fabric", "Weight", "Built in", "With waste", "Area with waste", "Off the roll", "Rolls", "Drawn"],
        [
            [
                one.amount.name,
                cloth(one.weight, one.kind, units),
                weight(one.amount.mass, units),
                weight(one.amount.bought, units),
                area(one.area, units),
                run(one.roll_run, units),
                pieces(one.roll_run, practice.roll_length.value, "roll", "rolls"),
                TICK_BOX,
            ]
            for one in drawn.fabrics
        ],
        ["1fr", "23mm", "20mm", "20mm", "21mm", "21mm", "21mm", "14mm"],
        right=[1, 2, 3, 4, 5],
    )
    yield points(
        [
            input_line("Off a roll", size(practice.roll_width.value, units) + " wide", practice.roll_width),
            input_line("A roll holds", run(practice.roll_length.value, units), practice.roll_length),
        ]
    )


def _resins(drawn: Stores, practice: Practice, units: System) -> Iterator[str]:
    if not drawn.resins and not drawn.gel_coats:
        return
    yield heading("Resin, gel coat, catalyst", 2)
    yield shop_table(
        ["Resin or gel coat", "Built in", "With waste", "Volume", "Pails", "Catalyst for all of it", "Drawn"],
        [
            [
                one.amount.name,
                weight(one.amount.mass, units),
                weight(one.amount.bought, units),
                liquid(one.volume, units) if one.volume > 0 else "",
                pieces(one.volume, practice.pail.value * _LITRE, "pail", "pails"),
                _catalyst(one, units),
                TICK_BOX,
            ]
            for one in (*drawn.gel_coats, *drawn.resins)
        ],
        ["1fr", "22mm", "22mm", "20mm", "24mm", "36mm", "14mm"],
        right=[1, 2, 3],
    )
    low, high = practice.catalyst_low, practice.catalyst_high
    yield points(
        [
            input_line("A pail holds", liquid(practice.pail.value * _LITRE, units), practice.pail),
            input_line(
                "Peroxide catalyst",
                f"{percent(low.value)} to {percent(high.value)} by mass of the resin",
                low,
            )
            + ". Less gives soft resin, more gives heat and brittle resin: never outside the maker's range, "
            "whatever the weather.",
        ]
    )


def _catalyst(one: Store, units: System) -> str:
    if one.catalyst is None:
        return _CATALYST_UNKNOWN
    low, high = one.catalyst
    return f"{weight(low, units)} to {weight(high, units)}"


def _others(drawn: Stores, units: System) -> Iterator[str]:
    rows = [*_solid_rows(drawn.cores, units, sheets=True), *_solid_rows(drawn.fills, units, sheets=False)]
    if rows:
        yield heading("Core, blocks and fills in the sections", 2)
        yield shop_table(
            ["Material", "Mass built in", "Mass with waste", "Area", "Volume", "Drawn"],
            rows,
            ["1fr", "28mm", "30mm", "24mm", "24mm", "14mm"],
            right=[1, 2, 3, 4],
        )


def _solid_rows(some: Sequence[Store], units: System, *, sheets: bool) -> list[list[str]]:
    return [
        [
            one.amount.name,
            weight(one.amount.mass, units),
            weight(one.amount.bought, units),
            area(one.area, units) if sheets else "",
            liquid(one.volume, units),
            TICK_BOX,
        ]
        for one in some
    ]


def _adhesives(project: Project, resolved: Resolved, drawn: Stores, practice: Practice) -> Iterator[str]:
    if not drawn.adhesives:
        return
    units = project.units
    laid = {one.adhesive.id: one for one in bonds(project, resolved, drawn.taken, practice).needed}
    rows: list[list[str]] = []
    for one in drawn.adhesives:
        more = laid.get(one.amount.material)
        rows.append(
            [
                one.amount.name,
                weight(one.amount.mass, units),
                weight(one.amount.bought, units),
                liquid(one.volume, units),
                "" if more is None else liquid(more.to_lay, units),
                pieces(
                    one.volume if more is None else more.to_lay,
                    practice.cartridge.value * _LITRE,
                    "cartridge",
                    "cartridges",
                ),
                TICK_BOX,
            ]
        )
    yield heading("Adhesive", 2)
    yield shop_table(
        ["Adhesive", "Gap as drawn", "With waste", "Volume", "To fill the widest gap", "Draw", "Drawn"],
        rows,
        ["1fr", "24mm", "22mm", "20mm", "28mm", "28mm", "14mm"],
        right=[1, 2, 3, 4],
    )
    yield points(
        [
            input_line(
                "A cartridge holds", liquid(practice.cartridge.value * _LITRE, units), practice.cartridge
            ),
            "The widest gap with what presses out: see the bond map.",
        ]
    )


def _foam(project: Project, resolved: Resolved) -> Iterator[str]:
    book, units = book_of(project), project.units
    cavities = {cavity.id: cavity for layout in project.layouts for cavity in layout.cavities}
    rows: list[list[str]] = []
    for one in cavity_readings(project, resolved).readings:
        if one.foam_volume > 0:
            solid = book.solid(cavities[one.id].foam)
            rows.append(
                [
                    f"{one.name}, {one.count} in the boat",
                    cavities[one.id].foam if solid is None else solid.name,
                    liquid(one.foam_volume * one.count, units),
                    weight(one.foam_mass * one.count, units),
                    TICK_BOX,
                ]
            )
    if rows:
        yield heading("Foam in cavities", 2)
        yield shop_table(
            ["Cavity", "Foam", "Volume when risen", "Mass", "Drawn"],
            rows,
            ["1fr", "1fr", "32mm", "26mm", "14mm"],
            right=[2, 3],
        )
        yield said("Without waste. Pour in lifts: see the foam sheet.")
