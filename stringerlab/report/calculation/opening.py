"""How a calculation report opens: title, notice, what it comes to, scope and assumptions, particulars."""

from collections import Counter
from collections.abc import Iterator

from stringerlab.methods import SHORT_ABOVE, TIGHT_ABOVE, FindingKind, Verdict
from stringerlab.project import book_of
from stringerlab.project.finding import layout_in_use
from stringerlab.report.calculation.told import NONE, Told, named, title_of, use
from stringerlab.report.markup import (
    callout,
    contents,
    heading,
    note,
    particulars,
    points,
    shares,
    table,
)
from stringerlab.report.paper import Sheet, head
from stringerlab.units import Kind

TITLE = "Calculation report"
_WORST = 12


def opening(told: Told) -> Sheet:
    """Return title, notice and what the check comes to."""
    results = told.results
    parts = [
        head(told.project, results, TITLE),
        *([callout("Notes of the project", told.project.notes)] if told.project.notes.strip() else []),
        contents(),
        heading("What it comes to"),
        *_outcome(told),
    ]
    return Sheet(markup="\n\n".join(parts))


def scope(told: Told) -> Sheet:
    """Return scope and assumptions."""
    return Sheet(markup="\n\n".join([heading("Scope and assumptions"), points(_assumed(told))]))


def boat(told: Told) -> Sheet:
    """Return the craft's particulars and its bottom's stations."""
    craft = told.project.craft
    rows = [
        ("Craft", craft.name),
        ("Design category", craft.category.value),
        ("Waterline length", told.length(craft.waterline_length)),
        ("Waterline begins aft at x", told.length(craft.waterline_aft)),
        ("Mass, loaded", told.show(craft.mass, Kind.MASS)),
        ("Speed", f"{craft.speed:g} kn"),
        ("Significant wave height", told.length(craft.wave_height)),
        ("Running trim", told.degrees(craft.running_trim)),
        ("Draught at rest", told.length(craft.draught)),
        ("Deck edge above waterline", told.length(craft.deck_height)),
    ]
    stations = [
        [str(number), *map(told.length, (one.x, one.keel_z, one.chine_y, one.chine_z))]
        for number, one in enumerate(craft.stations, start=1)
    ]
    return Sheet(
        markup="\n\n".join(
            [
                heading("Particulars"),
                particulars(rows),
                heading("Hull bottom by stations", 2),
                table(
                    ["Station", "x from transom", "Keel, z", "Chine, half beam y", "Chine, z"],
                    stations,
                    right=range(5),
                ),
                note(f"{NONE} stands for what is not given. x forward, y to port, z up."),
            ]
        )
    )


def _outcome(told: Told) -> Iterator[str]:
    findings = told.results.findings
    if not findings:
        yield callout(
            "Nothing to judge", "The project has no panel and no span, so nothing was judged.", _nothing(told)
        )
        return
    order = (Verdict.SHORT, Verdict.TIGHT, Verdict.HOLDS, Verdict.NOT_JUDGED, Verdict.ADVICE)
    counted = Counter((each.kind, each.verdict) for each in findings)
    kinds = [kind for kind in FindingKind if any(each.kind is kind for each in findings)]
    yield table(
        ["Findings", *(verdict.value for verdict in order), "in all"],
        [
            [
                kind.value,
                *(str(counted[kind, verdict]) for verdict in order),
                str(sum(counted[kind, verdict] for verdict in order)),
            ]
            for kind in kinds
        ],
        shares(44, *[20] * 6),
        right=range(1, 7),
    )
    yield note(
        f"Holds: utilisation up to {TIGHT_ABOVE:.2f}; tight: up to {SHORT_ABOVE:.2f}; short: above. "
        "The margin is a reading of this program's own. Rule: what the method itself asks for. Mechanics: "
        "how the part fails under the method's pressure, by first principles that are no part of the method. "
        "Grid: the same under load that the grid shares, first principles too and never rule compliance."
    )
    if told.governing:
        yield heading("Most used", 2)
        yield table(
            ["Subject and aspect", "Demand", "Capacity", "Utilisation", "Verdict", "Known"],
            [
                [
                    title_of(each),
                    told.demand(each),
                    told.capacity(each),
                    use(each),
                    each.verdict.value,
                    each.known.value,
                ]
                for each in told.governing[:_WORST]
            ],
            shares(76, 21, 21, 17, 15, 24),
            right=(1, 2, 3),
        )
        yield note("The most used of each kind and aspect; all are listed under findings.")


def _nothing(told: Told) -> str:
    if told.project.layouts and layout_in_use(told.project) is None:
        return "It has layouts, but none is in use: choose one, and its panels and spans are found."
    return "Give a panel or a span, or draw a layout and take it into use."


def _assumed(told: Told) -> Iterator[str]:
    results, project = told.results, told.project
    method, layout = results.method, layout_in_use(project)
    resolved = results.resolved
    yield (
        f"Judged by {method.name}, edition {method.edition}: {len(resolved.panels)} panels and "
        f"{len(resolved.spans)} spans. {method.superseded}".strip()
    )
    yield (
        "The forms are simplified. Where a clause is known from memory or an estimate stands for a value, it "
        "is marked so beside it; the mark of a finding is the weakest of all that went into it."
    )
    yield (
        "Marks, strongest first: read, proved, tested, quoted, computed, stated (chosen or entered by the "
        "user), memory H, M and L (high, medium, low confidence), common practice, estimate."
    )
    yield (
        "Utilisation is in load: demand over capacity, raised to the power of load of the clause's quantity."
    )
    yield (
        f"Plating is counted under a member as the method says, by {method.moduli.value}. "
        "Hull plating belongs to the hull; a member's mass never includes it."
    )
    yield (
        "Panels are measured in the skin from web root to web root, spans between nodes, spacings centre to "
        "centre. x forward from the transom, y to port, z up. Tension is positive."
    )
    yield "Foam in the part counts for mass, buoyancy and insulation and as no strength."
    yield "Gel coat counts for mass and thickness, never for strength."
    if layout is not None:
        supports = layout.supports
        yield (
            f"Layout in use: {named(layout.name, layout.id)}. Members' ends are {supports.chine.value} at "
            f"the chine, {supports.transom.value} at the transom, {supports.forward.value} at the forward "
            f"edge, {supports.keel.value} at the keel. A subject and its mirror image are judged once."
        )
    elif project.layouts:
        yield "The project has layouts, but none is in use: its panels and spans are given by hand."
    book = book_of(project)
    tested = [
        name
        for name in dict.fromkeys(ply.material for lam in project.laminates for ply in lam.plies)
        if (fabric := book.reinforcement(name)) is not None and fabric.coupons
    ]
    if not tested:
        yield (
            "No laminate of this project has been tested: moduli and strengths are estimates from glass "
            "content. Test your laminates."
        )
    for each in results.repairs:
        yield f"Put right in a drawing and counted so: {each}"
    for each in results.doubts:
        yield f"Asked about, and counted as it stands: {each}"
    if project.as_built is not None:
        yield "Measurements of the boat as built are in the project; the check is of the drawing."
