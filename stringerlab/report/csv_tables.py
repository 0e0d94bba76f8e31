"""What is written as CSV: findings, properties of sections, take-off. One row a finding, section, material.

The last column says in every row what the numbers come from and that they are no assessment, since rows are
sorted, filtered and pasted elsewhere.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import isnan

from stringerlab.assess import Results, live_section, readings
from stringerlab.assess.live import Live, at_rest
from stringerlab.assess.readings import Reading
from stringerlab.assess.takeoff import Amount, Labour, TakeOff
from stringerlab.errors import Problem, StringerlabError
from stringerlab.methods import Finding
from stringerlab.project import Project, Resolved
from stringerlab.report.csv_text import Cell, Table, headed, joined
from stringerlab.units import Kind, System, Unit, display_unit, unit_named

NO_ASSESSMENT = "a roughing-out aid, not a class or conformity assessment"
_GOVERNING = {"SM_top": "Crown side, of ply", "SM_bottom": "Shell side, of ply"}
"""Heads for the ply a section modulus holds for."""


def findings_table(results: Results, origin: str, system: System) -> Table:
    """Return every finding of a check as a row, its unit beside it.

    Parameters
    ----------
    results
        Of a check.
    origin
        What the numbers come from.
    system
        Units of the numbers.
    """
    surfaces = {subject.id: subject.surface for subject in results.resolved.subjects}
    rows = tuple(
        (
            one.subject,
            one.name,
            surfaces[one.subject].value,
            one.kind.value,
            one.aspect.value,
            *_numbers(one, system),
            one.utilisation,
            one.verdict.value,
            one.governs,
            one.method,
            one.source,
            one.known.value,
            joined(one.notes),
            _from(origin),
        )
        for one in results.findings
    )
    heads = (
        "subject", "name", "surface", "kind", "aspect", "demand", "capacity", "unit of demand and capacity",
        "utilisation", "verdict", "governs", "method", "source", "known", "notes", "from",
    )  # fmt: skip
    return Table(heads=heads, rows=rows)


def _numbers(finding: Finding, system: System) -> tuple[float | None, float | None, str]:
    unit = display_unit(finding.unit.kind, system)
    return _in(finding.demand, unit), _in(finding.capacity, unit), unit.symbol


# -- properties ----------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """A table, and what is left out of it for being wrong."""

    table: Table
    left_out: tuple[Problem, ...] = ()


def properties_table(
    project: Project, resolved: Resolved, origin: str, system: System, *, sections: Sequence[str] = ()
) -> Told:
    """Return every section as a row: the numbers of the `section` command; a wrong one's are left empty.

    Parameters
    ----------
    project, resolved
        The document, and the same with ids swapped for objects.
    origin
        What the numbers come from.
    system
        Units of the numbers.
    sections
        Ids of those wanted; all by default.

    Raises
    ------
    StringerlabError
        When no section is sound, with what is wrong with each.
    """
    lives = [
        _rested(live_section(project, resolved, one.id), resolved)
        for one in project.sections
        if not sections or one.id in sections
    ]
    wrong = [problem for live, _ in lives for problem in live.problems if live.properties is None]
    found = {live.section.id: readings(live) for live, _ in lives}
    order = next((held for held in found.values() if held), None)
    if order is None:
        raise StringerlabError(wrong)
    heads = [
        "section",
        "name",
        "plating",
        headed("plating width", _unit(Kind.LENGTH, system).symbol),
        "moduli",
    ]
    for reading in order:
        heads.append(headed(reading.name, _unit(reading.kind, system).symbol))
        if reading.key in _GOVERNING:
            heads.append(_GOVERNING[reading.key])
    rows = tuple(
        (*_section(live, system), *_of(found[live.section.id], order, system), joined(said), _from(origin))
        for live, said in lives
    )
    return Told(table=Table(heads=(*heads, "notes", "from"), rows=rows), left_out=tuple(wrong))


def _rested(live: Live, resolved: Resolved) -> tuple[Live, list[str]]:
    """Return a section with torsion and shear in full, and what is to be noted of it."""
    said = list(live.notes)
    if live.properties is None:
        return live, [*said, *map(str, live.problems)]
    try:
        live = at_rest(live, resolved)
    except StringerlabError as error:
        return live, [*said, *(f"no torsion and shear in full: {problem.what}" for problem in error.problems)]
    return live, [
        *said,
        *(problem.what for problem in live.torsion.notes if live.torsion),
    ] if live.torsion else said


def _section(live: Live, system: System) -> tuple[Cell, ...]:
    section, reference = live.section, live.section.reference
    return (
        section.id,
        section.name,
        reference.laminate if reference else None,
        _in(reference.width if reference else None, _unit(Kind.LENGTH, system)),
        live.properties.moduli.value if live.properties else None,
    )


def _of(found: Sequence[Reading], order: Sequence[Reading], system: System) -> Iterator[Cell]:
    by_key = {reading.key: reading for reading in found}
    for head in order:
        reading = by_key.get(head.key)
        yield None if reading is None else _in(reading.value, _unit(head.kind, system))
        if head.key in _GOVERNING:
            yield None if reading is None else reading.detail


# -- take-off ------------------------------------------------------------------------------------


def takeoff_table(found: TakeOff, origin: str, system: System) -> Told:
    """Return a row for every material and task of a metre of each section, of each member, and of all.

    Parameters
    ----------
    found
        The take-off.
    origin
        What the numbers come from.
    system
        Units of the numbers.
    """
    money = found.project.rates.currency
    length, mass = _long(system), _unit(Kind.MASS, system)
    area, volume = _wide(system), _unit(Kind.VOLUME, system)
    heads = (
        "of", "id", "name", "section", headed("length", length.symbol), "count", "sort", "material", "what",
        headed("built in", mass.symbol), headed("area", area.symbol), headed("volume", volume.symbol),
        headed("bought", mass.symbol), headed("price", f"{money or 'money'}/kg"),
        headed("work", f"{mass.symbol}, {area.symbol} or {length.symbol}"), "unit of work",
        headed("hours", "h"), headed("cost", money), "known", "from",
    )  # fmt: skip
    rows: list[tuple[Cell, ...]] = []
    every = [("a metre of a section", one) for one in found.sections]
    every += [("member", one) for one in found.members]
    if found.members:
        every.append(("all members", found.total))
    for of, item in every:
        head = (of, item.id, item.name, item.section, _in(item.length, length), item.count)
        rows += [(*head, *_amount(one, system), _from(origin)) for one in item.amounts]
        rows += [(*head, *_labour(one, system), _from(origin)) for one in item.labour]
    wrong = (*found.problems, *(problem for one in found.not_counted for problem in one.problems))
    if not rows:
        raise StringerlabError(
            wrong or [Problem("There is nothing to take off: no section has a laminate.", "take-off")]
        )
    return Told(table=Table(heads=heads, rows=tuple(rows)), left_out=tuple(dict.fromkeys(wrong)))


def _amount(one: Amount, system: System) -> tuple[Cell, ...]:
    mass = _unit(Kind.MASS, system)
    return (
        one.sort.value,
        one.material,
        one.name,
        _in(one.mass, mass),
        _in(one.area or None, _wide(system)),
        _in(one.volume or None, _unit(Kind.VOLUME, system)),
        _in(one.bought, mass),
        one.per_kg,
        None,
        None,
        None,
        one.cost,
        one.known.value,
    )


def _labour(one: Labour, system: System) -> tuple[Cell, ...]:
    units = {Kind.LENGTH: _long(system), Kind.AREA: _wide(system)}
    unit = units.get(one.kind) or _unit(one.kind, system)
    empty = (None,) * 5
    return (
        "labour",
        None,
        one.task.value,
        *empty,
        _in(one.quantity, unit),
        unit.symbol,
        one.hours,
        one.cost,
        None,
    )


# -- units ---------------------------------------------------------------------------------------


def _unit(kind: Kind, system: System) -> Unit:
    return display_unit(kind, system)


def _long(system: System) -> Unit:
    return unit_named("m" if system is System.METRIC else "ft", Kind.LENGTH)


def _wide(system: System) -> Unit:
    return unit_named("m²" if system is System.METRIC else "ft²", Kind.AREA)


def _in(value: float | None, unit: Unit) -> float | None:
    return None if value is None or isnan(value) else value / unit.factor


def _from(origin: str) -> str:
    return f"{origin}: {NO_ASSESSMENT}"


__all__ = ["NO_ASSESSMENT", "Told", "findings_table", "properties_table", "takeoff_table"]
