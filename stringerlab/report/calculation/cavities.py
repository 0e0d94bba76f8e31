"""Cavities of the layout in use: room, foam, drains, access; and the flotation estimate."""

from collections.abc import Iterator

from stringerlab.assess.cavities import cavity_readings, flotation_reading
from stringerlab.layout.cavities import CavityReading
from stringerlab.layout.drains import Drain
from stringerlab.layout.flotation import EDITION, Flotation
from stringerlab.layout.plan import Use
from stringerlab.project.finding import layout_in_use
from stringerlab.report.calculation.told import NONE, Told, named
from stringerlab.report.markup import heading, note, particulars, points, said, shares, table
from stringerlab.report.paper import Sheet
from stringerlab.units import Kind, rounded

_NAMED = 2
"""Openings on the way to the bilge that are named one by one; of more the number is said."""


def cavities(told: Told) -> Sheet | None:
    """Return what the cavities hold and how they drain; None where no layout is in use."""
    results = told.results
    if layout_in_use(told.project) is None:
        return None
    found = cavity_readings(told.project, results.resolved)
    parts = [heading("Cavities, drains, access, flotation")]
    if not found.readings:
        parts.append(note("No cavity is drawn."))
    else:
        parts += [
            said(
                "Foam counts for mass, buoyancy and insulation. It has no strength and stiffens nothing here."
            ),
            table(
                ["Cavity", "Use", "No.", "Depth", "Room", "Foam", "Foam, dry", "Water in it", "It bears"],
                [_row(told, each) for each in found.readings],
                shares(40, 21, 8, 17, 17, 17, 18, 18, 18),
                right=range(2, 9),
                size=7.4,
            ),
            note(
                "Of one of a pair; No. is how many there are. Bears: in fresh water, less its own and its "
                "water's mass."
            ),
            heading("Drains and access", 2),
            table(
                ["Cavity", "Drain", "Access", "Insulation"],
                [_ways(told, each) for each in found.readings],
                shares(34, 66, 46, 30),
                size=7.4,
            ),
            points(
                f"{text[0].upper()}{text[1:]}."
                for text in dict.fromkeys(
                    (*found.notes, *(note_ for each in found.readings for note_ in each.notes))
                )
            ),
        ]
        if found.foam_mass > 0:
            parts.append(
                said(
                    f"Foam in all {told.show(found.foam_mass, Kind.MASS)} dry, water allowed for in it "
                    f"{told.show(found.wet_mass, Kind.MASS)}; it bears "
                    f"{told.show(found.buoyancy, Kind.MASS)}."
                )
            )
        if found.amiss:
            parts += [heading("Amiss with cavities", 2), points(str(each.problem) for each in found.amiss)]
    flotation = flotation_reading(told.project, results.resolved)
    if flotation is not None:
        parts += [heading("Flotation", 2), *_flotation(told, flotation)]
    return Sheet(markup="\n\n".join(part for part in parts if part))


def _row(told: Told, each: CavityReading) -> list[str]:
    foam = each.foam_volume > 0
    return [
        named(each.name, each.id),
        each.use.value + (", sealed" if each.sealed else ""),
        str(each.count),
        told.length(each.depth),
        told.show(each.volume, Kind.VOLUME),
        told.show(each.foam_volume, Kind.VOLUME) if foam else NONE,
        told.show(each.foam_mass, Kind.MASS) if foam else NONE,
        told.show(each.wet_mass, Kind.MASS) if foam and not each.sealed else NONE,
        told.show(each.buoyancy, Kind.MASS) if foam else NONE,
    ]


def _ways(told: Told, each: CavityReading) -> list[str]:
    drains = "Sealed: none." if each.sealed else " ".join(_drain(told, one) for one in each.drains)
    access = each.access
    if not access and each.use is Use.TANK_BAY:
        access = "How the tank comes out and is looked at is not noted."
    kept = each.insulation
    warm = NONE
    if kept is not None:
        low, high = (rounded(one, 2) for one in kept.loss)
        warm = f"{told.length(kept.thickness)}; {low} to {high} W/K in all"
    return [named(each.name, each.id), drains or NONE, access or NONE, warm]


def _drain(told: Told, drain: Drain) -> str:
    if drain.stands is None or drain.kept is None:
        return f"{drain.path[0]} finds no way to the bilge."
    if len(drain.path) == 1:
        return f"{drain.path[0]} is the bilge."
    through = "; ".join(drain.through) if len(drain.through) <= _NAMED else f"{len(drain.through)} openings"
    way = f"{drain.path[0]} runs to {drain.path[-1]} through {through}"
    if drain.dry:
        return f"{way}."
    stands, kept = told.show(drain.stands, Kind.LENGTH, 2), told.show(drain.kept, Kind.VOLUME, 2)
    return f"{way}; {stands} of water stands in it, {kept}."


def _flotation(told: Told, of: Flotation) -> Iterator[str]:
    yield said(f"An estimate in the form of {EDITION}; known: {of.known.value}.")
    there = [("Foam in sealed voids", told.show(of.present, Kind.VOLUME))]
    if of.unsealed:
        there.append(("Other foam, not counted", told.show(of.unsealed, Kind.VOLUME)))
    if of.outside or of.missing:
        yield points(f"{each.what} {each.remedy}".strip() for each in of.outside)
        if of.missing:
            yield said(f"It is not reckoned; not known: {', '.join(of.missing)}.")
        yield particulars(there)
        return
    answer = {True: "enough", False: "too little", None: "not told"}[of.enough]
    yield particulars(
        [
            ("Asked for by hull and deck", told.show(of.hull, Kind.VOLUME)),
            ("By the machinery", told.show(of.machinery, Kind.VOLUME)),
            ("By the load", told.show(of.load, Kind.VOLUME)),
            ("Asked for in all", told.show(of.needed, Kind.VOLUME)),
            *there,
            ("Foam's density", told.show(of.density, Kind.DENSITY)),
            ("The foam there is", answer),
        ]
    )
    yield points(f"{text[0].upper()}{text[1:]}." for text in of.notes)
