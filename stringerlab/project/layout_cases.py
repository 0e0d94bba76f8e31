"""The panels and spans found in the layout in use, as cases, or why they are none."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from math import isfinite

import numpy as np

from stringerlab.craft import bottom
from stringerlab.errors import Problem, StringerlabError
from stringerlab.layout.found import Array, Found, FoundBay, FoundSpan, Placed
from stringerlab.layout.plan import EquipmentKind, Layout, PlanPoint
from stringerlab.layout.records import Panel, PanelCase, Span, SpanCase
from stringerlab.project.finding import found_in
from stringerlab.project.marking import merge_problem, merges
from stringerlab.project.places import Path, place
from stringerlab.project.plating import lookup_problems, named_laminate, zone_end_doubts, zones_under
from stringerlab.project.problems import CRAFT, Faults
from stringerlab.project.records import Project
from stringerlab.project.section_shapes import sections_of
from stringerlab.project.span_problems import span_problems

_TOUCH = 1.0
"""What reaches no farther into another only touches it [mm]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """What a layout in use adds to a resolved project."""

    found: Found | None = None
    panels: tuple[PanelCase, ...] = ()
    spans: tuple[SpanCase, ...] = ()
    blocked: Mapping[str, tuple[Problem, ...]] = field(default_factory=dict[str, tuple[Problem, ...]])
    subjects: tuple[Panel | Span, ...] = ()
    amiss: tuple[Placed, ...] = ()
    doubts: tuple[Problem, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Making:
    """How cases are made of sound subjects."""

    panel: Callable[[Panel], PanelCase]
    span: Callable[[Span], SpanCase]


def laid_in_use(project: Project, wrong: Faults, making: Making) -> Laid:
    """Return what is found in the layout in use, with a mark for everything, as cases; nothing without one.

    Parameters
    ----------
    project
        The project, its marks reconciled.
    wrong
        What is wrong with the records; what is amiss in the layout is added to it.
    making
        Makes the cases of sound subjects.
    """
    number = next((i for i, one in enumerate(project.layouts) if one.id == project.layout), None)
    if number is None:
        return Laid()
    layout = project.layouts[number]
    path: Path = ("layouts", number)
    where = place(project, path)
    found = found_in(project, layout)
    asked = _Asked(project, number, layout, wrong)
    blocked: dict[str, tuple[Problem, ...]] = {}
    panels: list[PanelCase] = []
    spans: list[SpanCase] = []
    subjects: list[Panel | Span] = []
    lines: list[Array] = []
    for bay in found.bays:
        if bay.panel is None:
            continue
        subjects.append(bay.panel)
        lines.append(bay.rings[0])
        reasons = tuple(dict.fromkeys(asked.of_panel(bay, bay.panel, where)))
        if reasons:
            blocked[bay.panel.id] = reasons
        else:
            panels.append(making.panel(bay.panel))
    for one in found.spans:
        if one.span is None:
            continue
        subjects.append(one.span)
        lines.append(one.lines[0])
        reasons = tuple(dict.fromkeys(asked.of_span(one, one.span, where)))
        if reasons:
            blocked[one.span.id] = reasons
        else:
            spans.append(making.span(one.span))
    amiss = (
        *(_worded(each, where) for each in found.amiss),
        *_off_the_bottom(project, path, layout),
        *asked.own,
    )
    wrong.add(path, (each.problem for each in amiss))
    return Laid(
        found=found,
        panels=tuple(panels),
        spans=tuple(spans),
        blocked=blocked,
        subjects=tuple(subjects),
        amiss=(*amiss, *asked.placed()),
        doubts=(
            *(
                doubt
                for subject, drawn in zip(subjects, lines, strict=True)
                for doubt in zone_end_doubts(project, subject, _words(where, subject), _reach(drawn))
            ),
            *(
                merge_problem(kept, place(project, (*path, "bays", layout.bays.index(mark))))
                for kept, mark in merges(found, layout)
            ),
        ),
    )


class _Asked:
    """Why what is found in a layout cannot be judged."""

    def __init__(self, project: Project, number: int, layout: Layout, wrong: Faults) -> None:
        self.project, self.layout, self.wrong = project, layout, wrong
        self.hull = wrong.blocking(CRAFT)
        self.own: list[Placed] = []
        """What is wrong with the found things themselves."""
        self._member = {
            member.id: wrong.own(("layouts", number, "members", place))
            for place, member in enumerate(layout.members)
        }
        self._base = {
            member.id: tuple(
                problem for section in sections_of(member) for problem in self._needed("section", section)
            )
            for member in layout.members
        }
        self._sections = {section.id: section for section in project.sections}

    def _needed(self, kind: str, identity: str) -> tuple[Problem, ...]:
        path = self.wrong.paths.get((kind, identity))
        return () if path is None else self.wrong.blocking(path)

    def of_span(self, found: FoundSpan, span: Span, where: str) -> Iterator[Problem]:
        """Yield why a span is not judged; its own sizes are found within their ranges, or not at all."""
        yield from self.hull
        yield from self._member.get(found.member, ())
        yield from self._needed("section", span.section)
        here = _words(where, span)
        yield from self._placed(
            found.lines[0],
            [
                *span_problems(span, self._sections.get(span.section), here),
                *self._plating(span, here),
            ],
        )
        yield from self._under(span)

    def of_panel(self, found: FoundBay, panel: Panel, where: str) -> Iterator[Problem]:
        """Yield why a panel is not judged; its size hangs on the sections of the members beside it."""
        yield from self.hull
        for each in sorted({side.of for side in found.sides}):
            yield from self._member.get(each, ())
            yield from self._base.get(each, ())
        here = _words(where, panel)
        yield from self._placed(found.rings[0], self._plating(panel, here))
        yield from self._under(panel)
        if panel.pan is not None:
            yield from self._laminate(panel.pan.laminate, f"{here}, pan")

    def _placed(self, drawn: Array, problems: Iterable[Problem]) -> Iterator[Problem]:
        for problem in problems:
            x, y = drawn.mean(axis=0).tolist()
            self.own.append(Placed(problem=problem, at=(x, y)))
            yield problem

    def _plating(self, subject: Panel | Span, where: str) -> list[Problem]:
        if named_laminate(subject):
            return []
        return list(lookup_problems(subject, zones_under(self.project, subject), where))

    def _under(self, subject: Panel | Span) -> Iterator[Problem]:
        named = named_laminate(subject)
        if named:
            yield from self._laminate(named, f"'{subject.name}' ({subject.id})")
            return
        for zone in zones_under(self.project, subject):
            yield from self.wrong.blocking(("zones", self.project.zones.index(zone)))

    def _laminate(self, identity: str, where: str) -> Iterator[Problem]:
        if ("laminate", identity) not in self.wrong.paths:
            yield Problem(f"There is no laminate '{identity}'.", where)
        yield from self._needed("laminate", identity)

    def placed(self) -> Iterator[Placed]:
        """Yield what is wrong with members as drawn, where they stand."""
        for member in self.layout.members:
            at = next((point for point in member.points if _is_place(point)), None)
            if at is None:
                continue
            middle = member.points[len(member.points) // 2]
            for problem in self._member[member.id]:
                yield Placed(problem=problem, at=middle if _is_place(middle) else at)


def _words(where: str, subject: Panel | Span) -> str:
    """Return how a person knows what was found in a layout."""
    kind = "panel" if isinstance(subject, Panel) else "span"
    return f"{where}, {kind} '{subject.name}' ({subject.id})"


def _reach(drawn: Array) -> tuple[float, float]:
    """Return from which x to which something lies, ends that only touch left out [mm]."""
    return float(drawn[:, 0].min()) + _TOUCH, float(drawn[:, 0].max()) - _TOUCH


def _is_place(point: PlanPoint) -> bool:
    return all(map(isfinite, point))


def _worded(placed: Placed, where: str) -> Placed:
    """Return what is amiss with its place in words."""
    problem = placed.problem
    inside = "" if problem.where.startswith("layout '") else problem.where
    x, y = placed.at
    words = ", ".join(part for part in (where, inside, f"at x {x:.0f}, y {y:.0f} mm") if part)
    return replace(placed, problem=replace(problem, where=words))


def _off_the_bottom(project: Project, path: Path, layout: Layout) -> Iterator[Placed]:
    """Yield the equipment whose feet stand beside the bottom; an outboard hangs behind the transom."""
    if not layout.equipment:
        return
    try:
        hull = bottom(project.craft)
    except StringerlabError:
        return
    for number, equipment in enumerate(layout.equipment):
        if equipment.kind is EquipmentKind.OUTBOARD or not _is_place(equipment.at):
            continue
        x, y = equipment.at
        feet = np.array([(x + dx, y + dy) for dx, dy in equipment.feet] or [(x, y)], float)
        off = feet[~hull.within(feet, 1.0)]
        if not len(off):
            continue
        at = (float(off[0, 0]), float(off[0, 1]))
        words = f"{place(project, (*path, 'equipment', number))}, at x {at[0]:.0f}, y {at[1]:.0f} mm"
        what = "It stands off the bottom." if len(off) == len(feet) else "A foot of it stands off the bottom."
        yield Placed(problem=Problem(what, words, "Move it onto the grid."), at=at)


__all__ = ["Laid", "Making", "laid_in_use"]
