"""Designs as they are shown: each judged again by the plain path, which the fast one must agree with."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import inf, isnan

from stringerlab.assess.check import check
from stringerlab.errors import Problem, StringerlabError
from stringerlab.layout import Span
from stringerlab.methods import FindingKind
from stringerlab.project import Project
from stringerlab.project.wishes import Demand, Holds
from stringerlab.sizing.changing.space import Space
from stringerlab.sizing.plain import Measured, governing_words, highest, measured
from stringerlab.sizing.records import Design, Genes, Outcome, Watch

AGREES = 1e-9
"""How far, relative, the fast judging may lie from the plain path."""


@dataclass(frozen=True, slots=True, eq=False)
class Plain:
    """What designs of a space are measured by.

    The plain path has no reading of a span's deflection and of a section's height of its own; their ratios
    are the judge's.
    """

    project: Project
    space: Space
    demands: tuple[Demand, ...]

    def design(self, genes: Genes, outcome: Outcome, row: int) -> Design:
        """Return a design (v,) measured by the plain path.

        Raises
        ------
        StringerlabError
            When what the judge made of it, a row of ``outcome``, is something else.
        """
        found = measured(self.space.applied(self.project, genes))
        ratios = self._ratios(found, outcome, row)
        values = self.space.words(genes, self.project)
        if outcome.sound[row]:
            faults = list(self._differences(found, ratios, outcome, row))
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
            use=found.use if sound and not isnan(found.use) else (0.0 if sound else inf),
            mass=found.mass,
            cost=None if isnan(found.cost) else found.cost,
            hours=None if isnan(found.hours) else found.hours,
            governing=governing_words(found.worst),
        )

    def _ratios(self, found: Measured, outcome: Outcome, row: int) -> tuple[float, ...]:
        if not outcome.sound[row]:
            return tuple(inf for _ in self.demands)
        return tuple(
            _use(found, demand) / demand.limit
            if demand.holds is Holds.USE
            else float(outcome.ratios[row, place])
            for place, demand in enumerate(self.demands)
        )

    def _differences(
        self, found: Measured, ratios: Sequence[float], outcome: Outcome, row: int
    ) -> Iterator[str]:
        told = [
            ("mass", outcome.mass[row], found.mass),
            ("cost", outcome.cost[row], found.cost),
            ("hours", outcome.hours[row], found.hours),
            ("highest utilisation", outcome.use[row], 0.0 if isnan(found.use) else found.use),
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


def _use(found: Measured, demand: Demand) -> float:
    """Return the highest utilisation that a demand reads; 0 where it reads none."""
    sections = {one.id: one.section for one in found.resolved.subjects if isinstance(one, Span)}
    worst = highest(
        one
        for one in found.findings.values()
        if one.kind is FindingKind.RULE
        and demand.aspect in ("", one.aspect)
        and (not demand.of or not {one.subject, sections.get(one.subject, "")}.isdisjoint(demand.of))
    )
    return 0.0 if worst is None or worst.utilisation is None else worst.utilisation
