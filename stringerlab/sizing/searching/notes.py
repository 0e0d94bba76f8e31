"""What a person must know of a search: how much of the space it saw, what it rests on, what is left out."""

from collections.abc import Iterator

from stringerlab.assess.takeoff import take_off
from stringerlab.project import Project
from stringerlab.project.wishes import Aim, SizingPlan
from stringerlab.sizing.searching.runs import Found
from stringerlab.units import rounded

RULE = (
    "Demands and utilisations are of the rule's own findings; mechanics and grid were not asked and may "
    "find a lighter design short: check what you choose."
)
ASKED_TOO = (
    "Mechanics and grid were asked of the designs shown, and had no part in the search; they are no rule."
)


def notes_of(
    project: Project, plan: SizingPlan, space: int, found: Found, shown: int, *, mechanics: bool
) -> Iterator[str]:
    """Yield what a person must know, in sentences.

    Parameters
    ----------
    project, plan
        The boat and what was asked for.
    space
        How many designs there are.
    found
        What was found.
    shown
        How many of the front are shown.
    mechanics
        Whether mechanics and grid were asked of them.
    """
    if found.held_fast:
        yield (
            f"Nothing was searched of {_count(space)} designs: something that nothing here changes breaks a "
            "demand, so that none can hold."
        )
    elif found.proven:
        yield (
            f"Proven: of all {_count(space)} designs {_count(found.judged)} were judged and "
            f"{_count(found.ruled_out)} ruled out, by a bound or by what they "
            f"stand on, from {_count(found.parts)} parts of designs. "
            "Groups of spans that share nothing that changes were judged on their own; amounts add and the "
            "highest utilisation is that of the worst."
        )
    else:
        most = "" if found.counted else "at most "
        yield (
            f"Found, not proven: {most}{_count(found.judged)} of {_count(space)} designs were judged"
            f"{_part(found.judged, space)}. Better ones may be there; "
            "another seed or a larger budget may find them."
        )
    if shown < len(found.genes):
        yield (
            f"No other design judged beats any of {len(found.genes)}; {shown} of them, "
            "evenly along the front, are shown."
        )
    if Aim.COST in plan.aims or (Aim.MIX in plan.aims and plan.weights.cost > 0):
        unpriced = take_off(project).total.unpriced
        if unpriced:
            yield (
                f"What has no price or rate counts nothing in the cost, of the boat as she is: "
                f"{', '.join(unpriced)}."
            )
    yield ASKED_TOO if mechanics else RULE
    yield from found.notes


def _count(number: int) -> str:
    """Return a count in full, a very large one as a power of ten."""
    return f"{number:,}".replace(",", " ") if number < 10**12 else f"about {rounded(float(number), 3)}"


def _part(judged: int, space: int) -> str:
    """Return which part of a space that is, in words."""
    percent = 100 * judged / space
    return f", {rounded(percent, 2)} %" if percent >= 1e-4 else ", a vanishing part"
