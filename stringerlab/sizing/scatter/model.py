"""A project made ready for sampling: inputs, laminates over the glass content, sections, subjects.

Made once a process and kept: every task of a run asks for the same.
"""

import dataclasses
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from stringerlab.errors import Problem, StringerlabError
from stringerlab.methods import CraftRow, Judged, Method, craft_row, method_named
from stringerlab.methods.records import Aspect
from stringerlab.project import Project, Resolved, resolve
from stringerlab.project.plating import plated
from stringerlab.project.problems import book_of
from stringerlab.project.wishes import Scattered, ScatterPlan
from stringerlab.sizing.running import pulse
from stringerlab.sizing.scatter.asked import Input, Needed, inputs_of, problems_of
from stringerlab.sizing.scatter.cloth import Cloth, Factors, cloth
from stringerlab.sizing.scatter.forms import SectionForm, section_form
from stringerlab.sizing.scatter.glue import Glued, glued
from stringerlab.sizing.scatter.laid import marked, origins
from stringerlab.sizing.scatter.laws import factors, reach
from stringerlab.sizing.scatter.listed import by_reason
from stringerlab.sizing.scatter.subjects import (
    Batch,
    PanelSubject,
    SpanSubject,
    judged_panel,
    judged_span,
    panel_subject,
    span_subject,
)
from stringerlab.workings import Array

Key = tuple[str, Aspect]
"""A subject's id, and what is judged of it."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Model:
    """A project made ready."""

    project: Project
    method: Method
    craft: CraftRow
    resolved: Resolved
    inputs: tuple[Input, ...]
    """Those with a spread first are sampled; see ``moving``."""
    cloths: Mapping[str, Cloth]
    forms: Mapping[str, SectionForm]
    """Of sections by id."""
    panels: tuple[PanelSubject, ...]
    spans: tuple[SpanSubject, ...]
    glued: tuple[Glued, ...]
    left_out: tuple[str, ...]

    @property
    def moving(self) -> tuple[Input, ...]:
        """Inputs with a spread: what a place is taken for, in this order."""
        return tuple(one for one in self.inputs if one.scatter.spread > 0)

    def factors_at(self, places: Array) -> dict[tuple[Scattered, str], Array]:
        """Return the factors (n,) on every scattered value, by what and of which, at places (n, moving)."""
        found: dict[tuple[Scattered, str], Array] = {}
        columns = iter(places.T)
        for one in self.inputs:
            part = (
                factors(one.scatter, next(columns))
                if one.scatter.spread > 0
                else np.full(len(places), one.scatter.mean)
            )
            key = one.what, one.of
            found[key] = found[key] * part if key in found else part
        return found

    def batch(self, by: Mapping[tuple[Scattered, str], Array], count: int) -> Batch:
        """Return samples of the laminates at factors; what has none is as it is."""
        same = np.ones(count)

        def of(laminate: str) -> Factors:
            return Factors(
                thickness=by.get((Scattered.THICKNESS, laminate), same),
                glass=by.get((Scattered.GLASS, laminate), same),
                modulus=by.get((Scattered.MODULUS, laminate), same),
                strength=by.get((Scattered.STRENGTH, laminate), same),
            )

        return Batch(
            method=self.method,
            cloths={key: each.sampled(of(key)) for key, each in self.cloths.items()},
            count=count,
        )

    def craft_at(self, by: Mapping[tuple[Scattered, str], Array]) -> CraftRow:
        """Return the craft with its speed as sampled."""
        speed = by.get((Scattered.SPEED, ""))
        return self.craft if speed is None else dataclasses.replace(self.craft, V=self.craft.V * speed)

    def judged(
        self, by: Mapping[tuple[Scattered, str], Array], count: int, batch: Batch | None = None
    ) -> Iterator[tuple[Key, Array]]:
        """Yield the utilisation (n,) of every finding: panels, spans, bonds, in the order of a check."""
        batch, craft = batch or self.batch(by, count), self.craft_at(by)
        for panel in self.panels:
            yield from _used(panel.case.panel.id, judged_panel(batch, craft, panel), count)
        beads = {(bond.subject, Aspect.BOND) for bond in self.glued}
        for span in self.spans:
            for key, use in _used(span.case.span.id, judged_span(batch, craft, span), count):
                if key not in beads:
                    yield key, use
        for bond in self.glued:
            wide = by.get((Scattered.BEAD, bond.section), np.ones(count))
            yield (bond.subject, Aspect.BOND), bond.used(self.method, craft, wide)

    def strayed(self, by: Mapping[tuple[Scattered, str], Array], batch: Batch) -> tuple[int, int, int]:
        """Return in how many samples a section stands higher, folds, or a glass content has no estimate."""
        lifted, folded, beyond = (np.zeros(batch.count, bool) for _ in range(3))
        for span in self.spans:
            stands = batch.stands(span)
            lifted |= stands.lift > 0
            folded |= stands.folded
        for key, each in self.cloths.items():
            glass = by.get((Scattered.GLASS, key))
            if glass is not None:
                beyond |= (glass < each.low - 1e-12) | (glass > each.high + 1e-12)
        return int(lifted.sum()), int(folded.sum()), int(beyond.sum())


def _used(subject: str, judged: Sequence[Judged], count: int) -> Iterator[tuple[Key, Array]]:
    for one in judged:
        if one.advice or not np.broadcast_to(True if one.applies is None else one.applies, count)[0]:
            continue
        with np.errstate(divide="ignore", invalid="ignore"):
            yield (subject, one.aspect), np.broadcast_to(np.asarray(one.utilisation, float), count)


@lru_cache(maxsize=2)
def model_of(project: Project, plan: ScatterPlan, method: str) -> Model:
    """Return a project made ready, kept for the tasks that ask for it again."""
    return made_ready(project, plan, method_named(method))


def made_ready(project: Project, plan: ScatterPlan, method: Method) -> Model:
    """Return a project made ready.

    Raises
    ------
    StringerlabError
        With everything that is wrong with the plan, the craft or the method.
    """
    if found := problems_of(project, plan):
        raise StringerlabError(found)
    resolved = resolve(project)
    if not resolved.panels and not resolved.spans:
        raise StringerlabError(
            [
                Problem("There is no panel or span to judge.", "scatter", "Draw or enter one."),
                *resolved.problems,
            ]
        )
    said = marked(resolved.stacks)
    drawn = {section.id: section for section in project.sections}
    panels = tuple(
        panel_subject(method, case, origins(plated(project, said, case.panel).counted, resolved.stacks))
        for case in resolved.panels
    )
    forms: dict[str, SectionForm] = {}
    for case in resolved.spans:
        pulse()
        if case.span.section not in forms:
            forms[case.span.section] = section_form(case.section, case.drawn_deadrise)
    spans = tuple(
        span_subject(
            method,
            case,
            origins(plated(project, said, case.span).hull, resolved.stacks),
            forms[case.span.section],
            tuple(wall.laminate for wall in drawn[case.span.section].walls),
        )
        for case in resolved.spans
        if not forms[case.span.section].cut
    )
    used = {one.laminate for subject in (*panels, *spans) for one in subject.come}
    used |= {laminate for span in spans for laminate in span.walls}
    craft = craft_row(project.craft)
    glue, unglued = glued(method, craft, [span.case for span in spans])
    needed = Needed(
        laminates=[one.id for one in project.laminates if one.id in used],
        sections=[one.id for one in project.sections if any(bond.section == one.id for bond in glue)],
    )
    inputs = inputs_of(project, plan, needed)
    return Model(
        project=project,
        method=method,
        craft=craft,
        resolved=resolved,
        inputs=inputs,
        cloths=_cloths(project, resolved, method, inputs, needed),
        forms=forms,
        panels=panels,
        spans=spans,
        glued=glue,
        left_out=(*by_reason(_left_out(resolved, forms)), *unglued),
    )


def _cloths(
    project: Project, resolved: Resolved, method: Method, inputs: Sequence[Input], needed: Needed
) -> dict[str, Cloth]:
    book = book_of(project)
    found: dict[str, Cloth] = {}
    for laminate in project.laminates:
        if laminate.id not in needed.laminates:
            continue
        pulse()
        asked = [one for one in inputs if one.what is Scattered.GLASS and one.of == laminate.id]
        low, high = 1.0, 1.0
        for one in asked:
            ends = reach(one.scatter)
            low, high = low * ends[0], high * ends[1]
        found[laminate.id] = cloth(
            laminate,
            book,
            resolved.stacks[laminate.id],
            method.evaluation,
            (low, high) if asked else None,
        )
    return found


def _left_out(resolved: Resolved, forms: Mapping[str, SectionForm]) -> Iterator[tuple[str, str]]:
    """Yield the panels and spans that are not sampled, each with why."""
    names = {one.id: one.name for one in resolved.subjects}
    for subject, reasons in resolved.blocked.items():
        yield names.get(subject, subject), f"not judged without scatter either: {reasons[0]}"
    for case in resolved.spans:
        if forms[case.span.section].cut:
            yield (
                case.span.name,
                "walls of its section overlap as drawn and are cut, which is not followed over their "
                "thickness",
            )
