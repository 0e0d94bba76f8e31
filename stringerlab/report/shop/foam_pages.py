"""Sheet 7: foam in the cavities, lift by lift."""

from stringerlab.project import Project, Resolved
from stringerlab.project.finding import layout_in_use
from stringerlab.report.markup import heading, points, said
from stringerlab.report.shop.foams import FoamedCavity, foamed
from stringerlab.report.shop.measures import between, liquid, percent, size, weight
from stringerlab.report.shop.practice import Practice
from stringerlab.report.shop.setting import input_line, shop_table
from stringerlab.units import System

_RULES = (
    "Bond, holes, drains, pipes and wiring first: look at them with the designer before any foam goes in.",
    "Foam does not replace structure. It heats as it rises: a thick pour chars inside, can burn and pushes "
    "walls "
    "apart. One lift at a time, cool to the hand before the next, room to rise, never a closed cavity.",
    "Mix by the data sheet's ratio. Its cream, rise and wait times: read the data sheet, write them on "
    "this sheet.",
    "Pour a cup first: weigh it and see that it reaches the density stated.",
)


def foam_pages(project: Project, resolved: Resolved, practice: Practice) -> list[str]:
    """Return the parts of the foam sheet."""
    units, found = project.units, foamed(project, resolved, practice)
    parts = [
        points(
            [
                *_RULES,
                input_line("No lift higher than", size(practice.foam_lift.value, units), practice.foam_lift),
            ]
        )
    ]
    if layout_in_use(project) is None:
        parts.append(
            said("No layout is in use, so no cavity is drawn. Foam within sections is on the block sheet.")
        )
    elif not found:
        parts.append(said("No cavity of the layout holds foam."))
    for one in found:
        parts += _cavity(one, units)
    return parts


def _cavity(one: FoamedCavity, units: System) -> list[str]:
    reading = one.reading
    foam = "no such foam in the book" if one.foam is None else one.foam.name
    count = "one in the boat" if reading.count == 1 else f"{reading.count} in the boat, one on either side"
    top = "to a level top" if one.level else "along the shell, square to it"
    words = [
        f"{foam}. {count}; figures are of one.",
        f"{size(reading.depth, units)} deep {top}; {percent(one.filled)} of its room is foam: "
        f"{liquid(reading.foam_volume, units)}, {weight(reading.foam_mass, units)}.",
        "Sealed: no drain." if one.sealed else "Not sealed: keep its drain free.",
    ]
    parts = [heading(one.name, 2), points(words)]
    if not one.lifts:
        parts.append(
            said("Its depth or room cannot be told, so no lifts are given: see the project's problems.")
        )
        return parts
    parts.append(
        shop_table(
            ["Lift", "From – to", "Volume when risen", "Both parts together", "Poured at", "Cool, checked"],
            [
                [
                    str(number),
                    between(lift.bottom, lift.top, units),
                    liquid(lift.volume, units),
                    weight(mass, units),
                    "",
                    "",
                ]
                for number, (lift, mass) in enumerate(zip(one.lifts, one.lift_mass, strict=True), start=1)
            ],
            ["14mm", "1fr", "34mm", "36mm", "28mm", "30mm"],
            right=[2, 3],
            write=[4, 5],
        )
    )
    parts += [points(reading.notes)] if reading.notes else []
    return parts
