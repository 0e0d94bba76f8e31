"""In which bays each cavity lies, by its points: on one side of the boat, both, or across the centreline."""

from dataclasses import dataclass

import numpy as np

from stringerlab.errors import Problem
from stringerlab.layout.found import Placed
from stringerlab.layout.plan import Cavity, Hand, PlanPoint
from stringerlab.layout.plan_lines import images
from stringerlab.layout.standing import Stand, Standing


@dataclass(frozen=True, slots=True, kw_only=True)
class Site:
    """Where one instance of a cavity lies, and where its mirror image does."""

    cavity: Cavity
    stands: tuple[Stand, ...]
    image: tuple[Stand, ...]
    problems: tuple[Placed, ...]

    @property
    def everywhere(self) -> tuple[Stand, ...]:
        """Of the boat: it and its image."""
        return (*self.stands, *self.image)


def where(cavity: Cavity) -> str:
    """Return how a person knows a cavity."""
    return f"cavity '{cavity.name}' ({cavity.id})"


def site_of(cavity: Cavity, standing: Standing) -> Site:
    """Return the bays of a cavity: a line drawn on the bottom parts none, a point on the keel is in both."""
    problems: list[Placed] = []

    def say(what: str, remedy: str, at: PlanPoint) -> None:
        problems.append(Placed(problem=Problem(what, where(cavity), remedy), at=at))

    def bays_of(anchors: tuple[PlanPoint, ...], *, speak: bool) -> tuple[Stand, ...]:
        chosen: dict[Stand, None] = {}
        for anchor in anchors:
            stands = standing.at(anchor)
            on = [
                bound
                for stand in stands
                for bound in standing.on(standing.bounds[stand], np.array(anchor))
                if standing.is_member(bound)
            ]
            if on and speak:
                member = standing.members[on[0].of]
                say(
                    f"Its point lies on member '{member.name}' ({member.id}), in no one bay.",
                    "Move the point off the member.",
                    anchor,
                )
            elif not stands and speak:
                say("Its point lies in no bay of the bottom.", "Move the point into a bay.", anchor)
            elif not on:
                chosen.update(dict.fromkeys(stands))
        return standing.over_lines(chosen)

    drawn, image = _both(cavity)
    stands = bays_of(drawn, speak=True)
    other = bays_of(image, speak=False)
    if cavity.hand is Hand.CENTRELINE:
        stands, other = tuple(dict.fromkeys((*stands, *other))), ()
    elif both := [stand for stand in stands if stand in other]:
        say(
            f"It is one of a pair, but {standing.name(both[0])} is on both sides of the centreline.",
            "Make it one on the centreline.",
            cavity.anchors[0],
        )
        other = ()
    if not cavity.anchors:
        say("It has no point in any bay.", "Click a bay for it, or remove it.", (0.0, 0.0))
    return Site(cavity=cavity, stands=stands, image=other, problems=tuple(problems))


def _both(cavity: Cavity) -> tuple[tuple[PlanPoint, ...], tuple[PlanPoint, ...]]:
    """Return where its points lie, and where their images do, if it has any: a hand says its side."""
    if not cavity.anchors:
        return (), ()
    drawn = np.array(cavity.anchors, float)
    lines = [drawn, drawn * (1, -1)] if cavity.hand is Hand.CENTRELINE else images(drawn, cavity.hand)
    both = [tuple((float(x), float(y)) for x, y in line) for line in lines]
    return both[0], both[1] if len(both) > 1 else ()


def claimed_twice(sites: list[Site], standing: Standing) -> list[Placed]:
    """Return every two cavities that lie in one bay, once."""
    owner: dict[Stand, Cavity] = {}
    found: dict[tuple[str, str], Placed] = {}
    for site in sites:
        for stand in site.everywhere:
            first = owner.setdefault(stand, site.cavity)
            if first is not site.cavity:
                found.setdefault(
                    (first.id, site.cavity.id),
                    Placed(
                        problem=Problem(
                            f"It and {where(first)} both lie in {standing.name(stand)}.",
                            where(site.cavity),
                            "Put a member between them, or make them one: both are counted whole.",
                        ),
                        at=middle(standing, stand),
                    ),
                )
    return list(found.values())


def middle(standing: Standing, stand: Stand) -> PlanPoint:
    """Return a place to mark a stand at: the mean of its corners."""
    x, y = standing.rings[stand].mean(axis=0)
    return float(x), float(y)


__all__ = ["Site", "claimed_twice", "middle", "site_of", "where"]
