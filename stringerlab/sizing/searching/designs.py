"""Designs as they are shown: each judged again by the plain path, which the fast one must agree with."""

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace
from math import inf, isnan

from stringerlab.assess.check import check
from stringerlab.errors import Problem, StringerlabError
from stringerlab.methods import FindingKind, method_named
from stringerlab.project import Project
from stringerlab.project.wishes import Demand
from stringerlab.sizing.changing.space import Space
from stringerlab.sizing.judging.standing import Key
from stringerlab.sizing.plain import Measured, governing_words, highest, measured
from stringerlab.sizing.records import Design, Genes, Outcome, Watch
from stringerlab.sizing.searching.readings import reading

AGREES = 1e-9
"""How far, relative, the fast judging may lie from the plain path."""


@dataclass(frozen=True, slots=True, eq=False)
class Plain:
    """What designs of a space are measured by.

    Deflections come from every span's own section drawn with its plating, heights from the sections as drawn:
    no batch has a hand in either.
    """

    project: Project
    space: Space
    demands: tuple[Demand, ...]
    standing: Collection[Key] = ()
    """What nothing in the space changes: it has no part in the highest utilisation."""

    def design(self, genes: Genes, outcome: Outcome, row: int) -> Design:
        """Return a design (v,) measured by the plain path.

        Raises
        ------
        StringerlabError
            When what the judge made of it, a row of ``outcome``, is something else.
        """
        project = self.space.applied(self.project, genes)
        found = measured(project)
        ratios = self._ratios(project, found, sound=bool(outcome.sound[row]))
        worst = highest(
            one
            for one in found.findings.values()
            if one.kind is FindingKind.RULE and (one.subject, one.aspect) not in self.standing
        )
        use = 0.0 if worst is None or worst.utilisation is None else worst.utilisation
        values = self.space.words(genes, self.project)
        if outcome.sound[row]:
            faults = list(self._differences(found, use, ratios, outcome, row))
            if faults:
                raise StringerlabError(
                    Problem(
                        f"The search and the check disagree: {'; '.join(faults)}.",
                        f"design {', '.join(values)}",
                        "None of the search's designs can be relied on: please report this boat.",
                    )
                )
        sound = bool(outcome.sound[row])
        return Design(
            genes=tuple(int(gene) for gene in genes),
            values=values,
            ratios=ratios,
            use=use if sound else inf,
            mass=found.mass,
            cost=None if isnan(found.cost) else found.cost,
            hours=None if isnan(found.hours) else found.hours,
            governing=governing_words(worst),
        )

    def _ratios(self, project: Project, found: Measured, *, sound: bool) -> tuple[float, ...]:
        if not sound:
            return tuple(inf for _ in self.demands)
        method = method_named(project.method)
        return tuple(reading(project, found, method, demand) / demand.limit for demand in self.demands)

    def _differences(
        self, found: Measured, use: float, ratios: Sequence[float], outcome: Outcome, row: int
    ) -> Iterator[str]:
        told = [
            ("mass", outcome.mass[row], found.mass),
            ("cost", outcome.cost[row], found.cost),
            ("hours", outcome.hours[row], found.hours),
            ("highest utilisation", outcome.use[row], use),
            *(
                (f"what demand {place + 1} comes to", outcome.ratios[row, place], ratio)
                for place, ratio in enumerate(ratios)
            ),
        ]
        for what, fast, plain in told:
            fast = float(fast)
            if isnan(fast) and isnan(plain):
                continue
            if not abs(fast - plain) <= AGREES * max(abs(plain), AGREES):
                yield f"{what} is {fast!r} by the one and {plain!r} by the other"


def with_mechanics(project: Project, space: Space, design: Design, watch: Watch) -> Design:
    """Return a design with the highest utilisation that mechanics and grid find of it.

    Raises
    ------
    Cancelled
        When the watch raises it.
    """
    applied = space.applied(project, design.genes)
    found = check(applied, watch=watch).findings
    worst = highest(one for one in found if one.kind is not FindingKind.RULE)
    use = None if worst is None else worst.utilisation
    return replace(design, mechanics=use, mechanics_governing=governing_words(worst))
