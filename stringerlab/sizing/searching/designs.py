"""Designs as they are shown: each judged again by the plain path, which the fast one must agree with."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from math import inf, isnan

from stringerlab.assess.check import check
from stringerlab.errors import Problem, StringerlabError
from stringerlab.methods import Aspect, Finding, FindingKind, method_named
from stringerlab.project import Project
from stringerlab.project.span_problems import member_height
from stringerlab.project.wishes import Demand, Holds
from stringerlab.sizing.changing.space import Space
from stringerlab.sizing.judging.standing import Key, key_words
from stringerlab.sizing.plain import Measured, governing_words, highest, measured
from stringerlab.sizing.records import Design, Genes, Outcome, Watch
from stringerlab.sizing.searching.own_values import own_values
from stringerlab.sizing.searching.readings import deflection, reading

AGREES = 1e-9
"""How far, relative, the fast judging may lie from the plain path."""
_AGAIN = "Judging the best again, one by one"
_AS_SHE_IS = "Judging the boat as she is"


@dataclass(frozen=True, slots=True, eq=False)
class Plain:
    """What designs of a space are measured by.

    Deflections come from every span's own section drawn with its plating, heights from the sections as drawn:
    no batch has a hand in either.
    """

    project: Project
    space: Space
    demands: tuple[Demand, ...]
    standing: Mapping[Key, float] = field(default_factory=dict[Key, float])
    """What nothing in the space changes, and what it comes to: it has no part in the highest utilisation. It
    was found by trial, so that every design is held to it."""

    def design(self, genes: Genes, outcome: Outcome, row: int, watch: Watch | None = None) -> Design:
        """Return a design (v,) measured by the plain path.

        Raises
        ------
        StringerlabError
            When what the judge made of it, a row of ``outcome``, is something else; when anything that is
            held to be the same in every design is not.
        Cancelled
            When the watch raises it.
        """
        tell = watch or _unwatched
        tell(0.0, _AGAIN)
        project = self.space.applied(self.project, genes)
        found = measured(project, watch=lambda done, _: tell(0.9 * done, _AGAIN))
        ratios = self._ratios(project, found, sound=bool(outcome.sound[row]))
        worst = self._worst(found)
        use = 0.0 if worst is None or worst.utilisation is None else worst.utilisation
        values = self.space.words(genes, self.project)
        tell(0.95, _AGAIN)
        if outcome.sound[row]:
            faults = [
                *self._differences(found, use, ratios, outcome, row),
                *self._moved(project, found),
            ]
            if faults:
                raise StringerlabError(
                    Problem(
                        f"The search and the check disagree: {'; '.join(faults)}.",
                        f"design {', '.join(values)}",
                        "None of the search's designs can be relied on: please report this boat.",
                    )
                )
        sound = bool(outcome.sound[row])
        return _design(genes, values, ratios, use if sound else inf, found, worst)

    def boat(self, genes: Genes, watch: Watch | None = None) -> Design:
        """Return the boat as she truly is, with the genes (v,) of the design nearest to her.

        Raises
        ------
        Cancelled
            When the watch raises it.
        """
        tell = watch or _unwatched
        found = measured(self.project, watch=lambda done, _: tell(done, _AS_SHE_IS))
        worst = self._worst(found)
        use = 0.0 if worst is None or worst.utilisation is None else worst.utilisation
        ratios = self._ratios(self.project, found, sound=True)
        return _design(genes, own_values(self.space, self.project), ratios, use, found, worst)

    def _worst(self, found: Measured) -> Finding | None:
        return highest(
            one
            for one in found.findings.values()
            if one.kind is FindingKind.RULE and (one.subject, one.aspect) not in self.standing
        )

    def _moved(self, project: Project, found: Measured) -> Iterator[str]:
        """Yield what is held to stand and does not."""
        rules = {
            (one.subject, one.aspect): one.utilisation
            for one in found.findings.values()
            if one.kind is FindingKind.RULE
        }
        cases = {case.span.id: case for case in found.resolved.spans}
        sections = {one.id: one for one in project.sections}
        names = {one.id: one.name for one in (*project.sections, *found.resolved.subjects)}
        method = method_named(project.method)
        for key, stands in self.standing.items():
            of, what = key
            if isinstance(what, Aspect):
                now = rules.get((of, what))
            elif what is Holds.DEFLECTION:
                now = deflection(found, cases[of], method) if of in cases else None
            else:
                now = member_height(sections[of]) if of in sections else None
            if now is None or not abs(now - stands) <= AGREES * max(abs(stands), AGREES):
                yield f"{key_words(key, names)} was held to be {stands!r} in every design, and is {now!r}"

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


def with_mechanics(project: Project, design: Design, watch: Watch) -> Design:
    """Return a design with the highest utilisation that mechanics and grid find of it.

    Parameters
    ----------
    project
        The boat changed into it.
    design, watch
        The design; told of progress.

    Raises
    ------
    Cancelled
        When the watch raises it.
    """
    found = check(project, watch=watch).findings
    worst = highest(one for one in found if one.kind is not FindingKind.RULE)
    use = None if worst is None else worst.utilisation
    return replace(design, mechanics=use, mechanics_governing=governing_words(worst))


def _design(
    genes: Genes,
    values: tuple[str, ...],
    ratios: tuple[float, ...],
    use: float,
    found: Measured,
    worst: Finding | None,
) -> Design:
    return Design(
        genes=tuple(int(gene) for gene in genes),
        values=values,
        ratios=ratios,
        use=use,
        mass=found.mass,
        cost=None if isnan(found.cost) else found.cost,
        hours=None if isnan(found.hours) else found.hours,
        governing=governing_words(worst),
    )


def _unwatched(done: float, words: str) -> None:
    del done, words
