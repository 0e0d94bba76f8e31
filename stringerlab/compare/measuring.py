"""A layout or boat measured: masses, stiffness, utilisation, bond, work, cavities; or why it is not known."""

from collections.abc import Callable
from dataclasses import replace
from math import isfinite

from stringerlab.assess import Results, check
from stringerlab.assess.cavities import cavity_readings
from stringerlab.assess.taken import Sort
from stringerlab.assess.takeoff import Item
from stringerlab.compare.common_load import load_words, under_common_load
from stringerlab.compare.masses import (
    Pieces,
    centre_of,
    hull_mass,
    insert_mass,
    laminate_masses,
    pieces_of,
    taken_off,
    why_missing,
)
from stringerlab.compare.measures import LAMINATE
from stringerlab.compare.records import Chosen, Compared, Measured, unknown
from stringerlab.compare.uses import bottom_spans, uses
from stringerlab.craft import Bottom, bottom
from stringerlab.errors import Problem, StringerlabError
from stringerlab.layout.cavities import Cavities
from stringerlab.layout.plan import Layout
from stringerlab.materials import Book
from stringerlab.methods import FindingKind
from stringerlab.project import Project, Resolved, book_of

Watch = Callable[[float, str], None]
Found = dict[str, Measured]
NO_LAYOUT = "no layout is drawn"


def measured(chosen: Chosen, project: Project, watch: Watch | None = None) -> Compared:
    """Return a layout or boat measured; what is wrong in it is said and raises nothing.

    Only what bounds and stiffens the bottom is compared: what a layout holds, or without one the panels and
    spans of the bottom that are given by hand.

    Parameters
    ----------
    chosen
        The boat, and which layout of it.
    project
        The same boat, at the rates it is priced by.
    watch
        Told of progress; what it raises stops the work.

    Raises
    ------
    StringerlabError
        When the project has no such layout.
    Cancelled
        When the watch raises it.
    """
    project, layout = in_use(replace(chosen, project=project))
    results = check(project, watch=watch)
    resolved = results.resolved
    project = results.project
    hull = _bottom(project)
    book = book_of(project)
    weighed = project if layout is not None else replace(project, spans=bottom_spans(project.spans))
    pieces = pieces_of(weighed, resolved, layout, hull, book)
    held = _cavities(project, resolved, layout)
    worst, used = _used(results)
    return Compared(
        letter="",
        name=layout.name if layout is not None else project.name,
        boat=project.name,
        chosen=chosen,
        resolved=resolved,
        layout=layout,
        found=resolved.found,
        bottom=hull,
        measured={
            **_masses(pieces, layout, resolved, book, held),
            **_stiffness(project, resolved, layout, hull),
            **used,
            **_bond(pieces, layout),
            **_work(weighed, resolved, pieces, layout),
            **_room(held),
        },
        worst=worst,
        notes=pieces.notes,
        problems=tuple(dict.fromkeys([*results.problems, *pieces.missing])),
    )


def in_use(chosen: Chosen) -> tuple[Project, Layout | None]:
    """Return the project with the chosen layout in use, and that layout; None where it has none in use.

    Raises
    ------
    StringerlabError
        When the project has no such layout.
    """
    project = chosen.project
    wanted = chosen.layout or project.layout
    named = [one for one in project.layouts if one.id == wanted] or [
        one for one in project.layouts if one.name == wanted
    ]
    if len(named) == 1:
        return replace(project, layout=named[0].id), named[0]
    if not chosen.layout:
        return project, None
    there = ", ".join(f"{one.id} ({one.name})" for one in project.layouts)
    what = f"{len(named)} layouts are called '{wanted}'." if named else f"There is no layout '{wanted}'."
    remedy = f"There is: {there}." if there else "It has no layout: name the file alone."
    raise StringerlabError(Problem(what, f"boat '{project.name}'", remedy))


def _bottom(project: Project) -> Bottom | None:
    try:
        return bottom(project.craft)
    except StringerlabError:
        return None


def _cavities(project: Project, resolved: Resolved, layout: Layout | None) -> Cavities | str:
    """Return the cavities of a layout, or why there are none."""
    if layout is None:
        return NO_LAYOUT
    if not layout.cavities:
        return "no cavity is drawn"
    found = cavity_readings(project, resolved)
    return found if found.readings else "nothing is found in the layout"


def _masses(
    pieces: Pieces, layout: Layout | None, resolved: Resolved, book: Book, held: Cavities | str
) -> Found:
    found: Found = {"hull": hull_mass(resolved), "inserts": insert_mass(layout, book)}
    found["foam"] = unknown(held) if isinstance(held, str) else _finite(held.foam_mass, "a foam is not known")
    if why := why_missing(pieces, layout):
        return found | {key: unknown(why) for key in ("fills", "adhesive", "part", "x", "z")}
    for name, mass in laminate_masses(pieces).items():
        found[LAMINATE + name] = Measured(value=mass)
    found["fills"] = Measured(
        value=sum(one.length * pieces.weighed[one.section].fills for one in pieces.pieces)
    )
    found["adhesive"] = Measured(
        value=sum(one.length * pieces.weighed[one.section].bead for one in pieces.pieces)
    )
    found["x"], found["z"], members = centre_of(pieces)
    found["part"] = _whole(members, found, layout, held)
    return found


def _whole(members: float, found: Found, layout: Layout | None, held: Cavities | str) -> Measured:
    """Return members, beads, inserts and foam together; what is drawn but not known makes the sum so."""
    total, notes = members, list[str]()
    inserts = layout is not None and any(one.insert is not None for one in layout.equipment)
    for key, word, drawn in (("inserts", "inserts", inserts), ("foam", "foam", not isinstance(held, str))):
        value = found[key].value
        if value is not None:
            total += value
        elif drawn:
            return unknown(f"{word}: {found[key].why}")
        else:
            notes.append(f"without {word}: {found[key].why}")
    return Measured(value=total, notes=tuple(notes))


def _stiffness(project: Project, resolved: Resolved, layout: Layout | None, hull: Bottom | None) -> Found:
    keys = ("deflection", "energy", "carried")
    if layout is None or resolved.found is None or hull is None:
        return dict.fromkeys(keys, unknown(f"{NO_LAYOUT}, so that there is no grid to load"))
    try:
        answer = under_common_load(project, resolved, hull)
    except StringerlabError as error:
        return dict.fromkeys(keys, unknown(f"the grid gives no answer: {error.problems[0]}"))
    notes = (load_words(), *answer.notes)
    return {
        "deflection": Measured(value=answer.deflection, notes=notes),
        "energy": Measured(value=answer.energy, notes=notes),
        "carried": Measured(value=answer.carried, notes=(load_words(),)),
    }


def _used(results: Results) -> tuple[str, Found]:
    found: Found = {}
    where, most = "", -1.0
    for kind in FindingKind:
        name = kind.name.lower()
        of = uses(results, kind)
        found[f"worst:{name}"], found[f"mean:{name}"], found[f"short:{name}"] = of.worst, of.mean, of.short
        if of.worst.value is not None and of.worst.value > most:
            where, most = of.where, of.worst.value
    return where, found


def _bond(pieces: Pieces, layout: Layout | None) -> Found:
    keys = ("bonded", "beads", "side", "perimeter", "bead")
    if why := why_missing(pieces, layout):
        return dict.fromkeys(keys, unknown(why))
    area = beads = volume = 0.0
    for one in pieces.pieces:
        of = pieces.weighed[one.section]
        area += one.length * of.facts.bonded_width
        beads += one.length * of.taken.beads
        volume += one.length * sum(stuff.volume for stuff in of.taken.stuff if stuff.sort is Sort.ADHESIVE)
    found = {"bonded": Measured(value=area), "beads": Measured(value=beads), "bead": Measured(value=volume)}
    if layout is None:
        why = f"{NO_LAYOUT}: a span given by hand does not say what goes up the hull's side"
        return found | {"side": unknown(why), "perimeter": unknown(why)}
    side = sum(
        one.chine_ends * pieces.weighed[one.section].facts.girth for one in pieces.pieces if one.chine_ends
    )
    note = "at each end bonded up the side, once round the section's drawn lines; its area is not drawn"
    return found | {
        "side": Measured(value=side, notes=(note,) if side else ()),
        "perimeter": Measured(value=beads + side),
    }


def _work(project: Project, resolved: Resolved, pieces: Pieces, layout: Layout | None) -> Found:
    keys = ("length", "fabric", "bought", "materials", "hours", "labour", "cost")
    if why := why_missing(pieces, layout):
        return dict.fromkeys(keys, unknown(why))
    off = taken_off(project, resolved, pieces)
    if off.not_counted:
        why = f"not counted: {'; '.join(str(one.problems[0]) for one in off.not_counted if one.problems)}"
        return dict.fromkeys(keys, unknown(why))
    total = off.total
    currency = project.rates.currency
    return {
        "length": Measured(value=total.length),
        "fabric": Measured(value=total.area(Sort.FABRIC)),
        "bought": Measured(value=total.bought),
        "materials": _priced(total.material_cost, "no material has a price", total, currency),
        "hours": _rated(total),
        "labour": _priced(total.labour_cost, "no labour has a rate and an hour's cost", total, currency),
        "cost": _priced(total.cost, "neither material nor labour has a price", total, currency),
    }


def _priced(value: float | None, why: str, total: Item, currency: str) -> Measured:
    if value is None:
        return unknown(why)
    notes = (f"without a price: {', '.join(total.unpriced)}",) if total.unpriced else ()
    return Measured(value=value, notes=notes, unit=currency)


def _rated(total: Item) -> Measured:
    if total.hours is None:
        return unknown("no task has a rate")
    left = [one.task.value for one in total.labour if one.hours is None]
    return Measured(value=total.hours, notes=(f"without a rate: {', '.join(left)}",) if left else ())


def _room(held: Cavities | str) -> Found:
    keys = ("room", "foam_room", "buoyancy", "undrained")
    if isinstance(held, str):
        return dict.fromkeys(keys, unknown(held))
    why = "; ".join(dict.fromkeys(str(placed.problem) for placed in held.amiss)) or "it is not told"
    wet = [one for one in held.readings if not one.sealed]
    return {
        "room": _finite(sum(one.volume * one.count for one in held.readings), why),
        "foam_room": _finite(sum(one.foam_volume * one.count for one in held.readings), why),
        "buoyancy": _finite(held.buoyancy, why),
        "undrained": Measured(value=float(sum(one.count for one in wet if not one.drained))),
    }


def _finite(value: float, why: str) -> Measured:
    return Measured(value=value) if isfinite(value) else unknown(why)


__all__ = ["NO_LAYOUT", "in_use", "measured"]
