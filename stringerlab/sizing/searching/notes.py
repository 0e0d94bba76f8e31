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
            f"Proven: none of the {_count(space)} designs can hold, as something that nothing here changes "
            f"breaks a demand in each. So {_count(found.judged)} were judged, and the other "
            f"{_count(found.ruled_out)} are ruled out without a search."
        )
    elif found.proven:
        yield (
            f"Proven: every one of the {_count(space)} designs was looked at or ruled out: "
            f"{_count(found.judged)} with all of their parts judged, {_count(found.ruled_out)} ruled out by "
            "a part that breaks a demand or by what no design with it can better; "
            f"{_count(found.parts)} parts judged. "
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
        yield from _budget_words(plan, found)
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
    if project.as_built is not None:
        yield "Designs are judged as designed: nothing that was measured of the boat as built is taken."
    yield ASKED_TOO if mechanics else RULE
    yield from found.notes


def _budget_words(plan: SizingPlan, found: Found) -> Iterator[str]:
    """Yield what a budget was spent on, and how far the walk at the end came."""
    anew, left = max(found.spent - found.parts, 0), max(plan.budget - found.spent, 0)
    if anew or left:
        made = (
            f"{_count(found.parts)} went on designs and parts of them, {_count(anew)} on what was made anew "
            "for them (laminates, sections drawn, panels and spans found again), each counted as several "
            "designs"
        )
        rest = f", {_count(left)} were left when nothing better was found" if left and found.walked else ""
        over = f", {_count(left)} paid for nothing more" if left and not found.walked else ""
        yield f"Of the budget of {_count(plan.budget)}, {made}{rest}{over}."
    if len(found.genes):
        yield (
            "At the end no design was found better one change away from those of the front."
            if found.walked
            else "The budget ended before all was looked at that lies one change away from the front."
        )


def _count(number: int) -> str:
    """Return a count in full, a very large one as a power of ten."""
    return f"{number:,}".replace(",", " ") if number < 10**12 else f"about {rounded(float(number), 3)}"


def _part(judged: int, space: int) -> str:
    """Return which part of a space that is, in words."""
    percent = 100 * judged / space
    return f", {rounded(percent, 2)} %" if percent >= 1e-4 else ", a vanishing part"
