"""``takeoff``: what members and sections take of every material, what it costs, how long it takes."""

import argparse
import json
import sys
from collections.abc import Sequence
from typing import Any

from stringerlab.assess.taken import Sort
from stringerlab.assess.takeoff import Amount, Item, Labour, TakeOff, take_off
from stringerlab.cli.named import one_named
from stringerlab.cli.quantities import quantity, value
from stringerlab.cli.table import Column, pairs, paragraph, table
from stringerlab.errors import StringerlabError, shown
from stringerlab.files import load
from stringerlab.methods import NOTICE
from stringerlab.units import Kind, System, Unit, display_unit, format, money, rounded, unit_named

_MEMBERS = (
    Column("", 17),
    Column("length", 8, right=True),
    Column("mass", 7, right=True),
    Column("fabric", 7, right=True),
    Column("resin", 7, right=True),
    Column("gel coat", 8, right=True),
    Column("adhesive", 8, right=True),
    Column("fills", 6, right=True),
    Column("hours", 6, right=True),
    Column("cost", 8, right=True),
)
_MATERIALS = (
    Column("material", 24),
    Column("built in", 10, right=True),
    Column("area", 9, right=True),
    Column("volume", 11, right=True),
    Column("bought", 10, right=True),
    Column("cost", 13, right=True),
    Column("known", 9),
)
_NONE = "—"


def run(options: argparse.Namespace) -> int:
    """Print the take-off; 2 when anything is left out of it for being wrong."""
    project = load(options.file)
    found = take_off(project)
    chosen = _chosen(found, options.id) if options.id else None
    if options.json:
        print(json.dumps(as_json(found, chosen), indent=2, ensure_ascii=False, allow_nan=False))
    else:
        system = System(options.units) if options.units else project.units
        print("\n".join(page(found, system, chosen)))
    wrong = [*found.problems, *(problem for one in found.not_counted for problem in one.problems)]
    for line in shown(dict.fromkeys(wrong)):
        print(line, file=sys.stderr)
    return 2 if wrong else 0


def _chosen(found: TakeOff, wanted: str) -> Item:
    """Return the one item asked for, or say why it is not counted."""
    spans = [one for one in found.not_counted if one.kind == "span"]
    records = [*found.project.sections, *found.members, *spans]
    record = one_named(records, wanted, "section or span")
    item = next((item for item in (*found.sections, *found.members) if item.id == record.id), None)
    if item is None:
        raise StringerlabError(
            problem for one in found.not_counted if one.id == record.id for problem in one.problems
        )
    return item


def as_json(found: TakeOff, chosen: Item | None = None) -> dict[str, Any]:
    """Return the documented JSON of a take-off, each number with its unit; null where nothing is set."""
    currency = found.project.rates.currency
    head = {"notice": NOTICE, "project": found.project.name, "notes": list(found.notes)}
    if chosen is not None:
        return {**head, "item": _item_json(chosen, currency)}
    return {
        **head,
        "sections_per_metre": [_item_json(item, currency) for item in found.sections],
        "members": [_item_json(item, currency) for item in found.members],
        "total": _item_json(found.total, currency),
        "not_counted": [
            {
                "id": one.id,
                "name": one.name,
                "kind": one.kind,
                "why": [str(problem) for problem in one.problems],
            }
            for one in found.not_counted
        ],
        "problems": [str(problem) for problem in found.problems],
    }


def page(found: TakeOff, system: System, chosen: Item | None = None) -> list[str]:
    """Return the lines of a take-off for a terminal."""
    currency = found.project.rates.currency
    head = [*paragraph(NOTICE), "", *paragraph(f"Project  {found.project.name}"), ""]
    notes = [line for note in found.notes for line in paragraph(note)]
    if chosen is not None:
        return [*head, *_detailed(chosen, currency, system), "", *notes]
    text = [*head]
    if found.members:
        text += ["Members", "", *_summary([*found.members, found.total], system), ""]
        text += [*_detailed(found.total, currency, system), ""]
    else:
        text += ["No member is counted: no span is declared, or none is sound.", ""]
    if found.sections:
        per = "foot" if system is System.US else "metre"
        text += [f"Sections, each {per}", "", *_summary(found.sections, system, per_length=True), ""]
    if found.not_counted:
        text += [
            "Not counted",
            *pairs([(f"{one.name} ({one.id})", one.kind) for one in found.not_counted]),
            "",
        ]
    return [*text, *notes]


def _summary(items: Sequence[Item], system: System, *, per_length: bool = False) -> list[str]:
    length, mass, area = _units(system)
    # of a metre's item: what a foot of it takes, where feet are shown
    part = length.factor / unit_named("m").factor if per_length else 1.0
    heads = ("", length.symbol, mass.symbol, area.symbol, *[mass.symbol] * 4, "h", "")
    rows: list[tuple[str, ...]] = [heads]
    for item in items:
        weighed = (Sort.RESIN,), (Sort.GEL_COAT,), (Sort.ADHESIVE,), (Sort.FILL,)
        rows.append(
            (
                item.name + (f" × {item.count}" if item.count > 1 and item.section else ""),
                rounded(part * item.length / length.factor),
                _some(part * item.mass() / mass.factor),
                _some(part * item.area(Sort.FABRIC) / area.factor),
                *(_some(part * item.mass(*sorts) / mass.factor) for sorts in weighed),
                _NONE if item.hours is None else rounded(part * item.hours, 3),
                _NONE if item.cost is None else money(part * item.cost),
            )
        )
    return table(_MEMBERS, rows)


def _detailed(item: Item, currency: str, system: System) -> list[str]:
    """Return everything of one item: by material, by task, and what it adds up to."""
    _, _, area = _units(system)
    rows = [
        (
            amount.name,
            format(amount.mass, Kind.MASS, system),
            f"{rounded(amount.area / area.factor)} {area.symbol}" if amount.area else _NONE,
            format(amount.volume, Kind.VOLUME, system) if amount.volume else _NONE,
            format(amount.bought, Kind.MASS, system),
            _NONE if amount.cost is None else money(amount.cost, currency),
            amount.known.value,
        )
        for amount in item.amounts
    ]
    title = item.name + (f" ({item.id})" if item.id else "")
    long = f"{rounded(item.length / _units(system)[0].factor)} {_units(system)[0].symbol}"
    many = f", {item.count} of them together" if item.count > 1 and item.section else ""
    totals = [
        ("mass built in", format(item.mass(), Kind.MASS, system)),
        ("mass bought", format(item.bought, Kind.MASS, system)),
        *((f"hours of {one.task.value}", _labour_text(one, system)) for one in item.labour),
        ("materials", _NONE if item.material_cost is None else money(item.material_cost, currency)),
        ("labour", _NONE if item.labour_cost is None else money(item.labour_cost, currency)),
        ("cost", _NONE if item.cost is None else money(item.cost, currency)),
    ]
    text = [f"{title}, {long}{many}", "", *table(_MATERIALS, rows), "", *pairs(totals)]
    if item.unpriced:
        text += paragraph(f"Not in the cost, for want of a price or rate: {', '.join(item.unpriced)}.", "  ")
    return text


def _labour_text(labour: Labour, system: System) -> str:
    _, _, area = _units(system)
    amount = (
        f"{rounded(labour.quantity / area.factor)} {area.symbol}"
        if labour.kind is Kind.AREA
        else f"{rounded(labour.quantity / _units(system)[0].factor)} {_units(system)[0].symbol}"
        if labour.kind is Kind.LENGTH
        else format(labour.quantity, labour.kind, system)
    )
    return f"{_NONE if labour.hours is None else rounded(labour.hours, 3) + ' h'} for {amount}"


def _some(amount: float) -> str:
    return rounded(amount, 3) if amount else _NONE


def _units(system: System) -> tuple[Unit, Unit, Unit]:
    """Return the units of lengths, masses and areas in a take-off."""
    if system is System.US:
        return unit_named("ft"), display_unit(Kind.MASS, system), unit_named("ft²")
    return unit_named("m"), display_unit(Kind.MASS, system), unit_named("m²")


def _item_json(item: Item, currency: str) -> dict[str, Any]:
    return {
        "id": item.id,
        "name": item.name,
        "section": item.section,
        "length": quantity(item.length, Kind.LENGTH),
        "count": item.count,
        "mass": quantity(item.mass(), Kind.MASS),
        "bought": quantity(item.bought, Kind.MASS),
        "fabric_area": quantity(item.area(Sort.FABRIC), Kind.AREA),
        "materials": [_amount_json(amount, currency) for amount in item.amounts],
        "labour": [
            {
                "task": one.task.value,
                "quantity": quantity(one.quantity, one.kind),
                "hours": value(one.hours, "h"),
                "cost": value(one.cost, currency),
            }
            for one in item.labour
        ],
        "material_cost": value(item.material_cost, currency),
        "labour_cost": value(item.labour_cost, currency),
        "cost": value(item.cost, currency),
        "not_priced": list(item.unpriced),
    }


def _amount_json(amount: Amount, currency: str) -> dict[str, Any]:
    return {
        "sort": amount.sort.value,
        "material": amount.material,
        "name": amount.name,
        "mass": quantity(amount.mass, Kind.MASS),
        "area": quantity(amount.area, Kind.AREA),
        "volume": quantity(amount.volume, Kind.VOLUME),
        "bought": quantity(amount.bought, Kind.MASS),
        "price": value(amount.per_kg, f"{currency}/kg" if currency else "1/kg"),
        "cost": value(amount.cost, currency),
        "known": amount.known.value,
    }
