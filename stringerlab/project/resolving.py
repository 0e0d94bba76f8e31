"""Ids swapped for objects: what can be judged as cases, and for every subject that cannot, why."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from stringerlab.craft import Craft
from stringerlab.errors import Problem, StringerlabError
from stringerlab.laminate import resolve as resolved_laminate
from stringerlab.laminate.records import Stack
from stringerlab.layout import Bonding, Panel, PanelCase, Span, SpanCase
from stringerlab.layout.found import Found, Placed
from stringerlab.materials import Book
from stringerlab.materials.records import Adhesive
from stringerlab.project.bonding import adhesive_of
from stringerlab.project.doubts import doubts
from stringerlab.project.kept import Kept
from stringerlab.project.layout_cases import Making, laid_in_use
from stringerlab.project.marking import reconciled
from stringerlab.project.places import SINGULAR, Path, place
from stringerlab.project.plating import Plated, plated, zone_faults
from stringerlab.project.problems import CRAFT, Faults, book_of, record_faults
from stringerlab.project.records import Project
from stringerlab.project.section_shapes import drawn_deadrise, section_shape
from stringerlab.section import faults, lying_faults, lying_notes, repairs
from stringerlab.section.records import SectionShape
from stringerlab.units.ranges import range_problems


@dataclass(frozen=True, slots=True, kw_only=True)
class Resolved:
    """A project with ids swapped for objects, as far as it is sound.

    ``panels`` and ``spans`` are those given by hand, then those found in the layout in use. ``blocked``
    gives, for each panel and span that cannot be judged, every problem it suffers from.
    """

    craft: Craft
    stacks: Mapping[str, Stack]
    """Sound laminates by id."""
    shapes: Mapping[str, SectionShape]
    """Sound sections by id."""
    panels: tuple[PanelCase, ...]
    spans: tuple[SpanCase, ...]
    blocked: Mapping[str, tuple[Problem, ...]]
    problems: tuple[Problem, ...]
    """Everything wrong in meaning, in the order of the file."""
    repairs: tuple[Problem, ...]
    """What was put right in sound sections and counted so, as overlaps; nothing is blocked by it."""
    doubts: tuple[Problem, ...] = ()
    """What is asked about, as a weight that looks like one in another unit; nothing is blocked by it."""
    found: Found | None = None
    """What was found in the layout in use; None where none is."""
    amiss: tuple[Placed, ...] = ()
    """What is wrong with that layout and has a place on the plan; all of it is among the problems too."""
    subjects: tuple[Panel | Span, ...] = ()
    """Everything that is to be judged, blocked or not: panels and spans given by hand, then found ones."""


def problems(project: Project) -> tuple[Problem, ...]:
    """Return everything wrong in meaning with a project, in the order of the file."""
    return resolve(project).problems


def resolve(project: Project) -> Resolved:
    """Return a project with ids swapped for objects; nothing wrong in meaning raises.

    What is found in its layout without a mark, as in a file written by hand, is marked first.
    """
    project = reconciled(project)
    book = book_of(project)
    wrong = record_faults(project, book)
    stacks = _stacks(project, book, wrong)
    zone_faults(project, stacks, wrong)
    shapes, repaired = _shapes(project, book, stacks, wrong)
    making = cases_of(project, book, stacks, shapes)
    blocked: dict[str, tuple[Problem, ...]] = {}
    hull = wrong.blocking(CRAFT)

    def sound(subject: Panel | Span, path: Path) -> bool:
        found = hull + wrong.blocking(path)
        if found:
            blocked[subject.id] = tuple(dict.fromkeys(blocked.get(subject.id, ()) + found))
        return not found

    panels = tuple(
        making.panel(panel) for i, panel in enumerate(project.panels) if sound(panel, ("panels", i))
    )
    spans = tuple(making.span(span) for i, span in enumerate(project.spans) if sound(span, ("spans", i)))
    of_layout = laid_in_use(project, wrong, making)
    for subject, reasons in of_layout.blocked.items():
        blocked[subject] = tuple(dict.fromkeys(blocked.get(subject, ()) + reasons))
    return Resolved(
        craft=project.craft,
        stacks=stacks,
        shapes=shapes,
        panels=panels + of_layout.panels,
        spans=spans + of_layout.spans,
        blocked=blocked,
        problems=wrong.every(project),
        repairs=repaired,
        doubts=(*doubts(project, book), *of_layout.doubts),
        found=of_layout.found,
        amiss=of_layout.amiss,
        subjects=(*project.panels, *project.spans, *of_layout.subjects),
    )


def cases_of(
    project: Project, book: Book, stacks: Mapping[str, Stack], shapes: Mapping[str, SectionShape]
) -> Making:
    """Return how cases are made of sound subjects, with the project's sound laminates and sections by id."""
    drawn = {section.id: drawn_deadrise(section) for section in project.sections}
    lying = {section.id: lying_notes(section) for section in project.sections}
    glued = {section.id: (adhesive_of(section, book), bool(section.adhesive)) for section in project.sections}
    allowed = None if range_problems(project.bonding) else project.bonding

    def span_case(span: Span) -> SpanCase:
        of = span.section
        under = plated(project, stacks, span)
        return _span_case(span, shapes[of], under, drawn[of], lying[of], glued[of], allowed)

    return Making(
        panel=lambda panel: _panel_case(panel, plated(project, stacks, panel)),
        span=span_case,
    )


def _panel_case(panel: Panel, under: Plated) -> PanelCase:
    return PanelCase(
        panel=panel,
        stack=under.counted,
        hull=None if under.hull is under.counted else under.hull,
        notes=under.notes,
    )


def _span_case(
    span: Span,
    section: SectionShape,
    under: Plated,
    drawn_deadrise: float,
    lying: tuple[str, ...],
    glued: tuple[Adhesive | None, bool],
    allowed: Bonding | None,
) -> SpanCase:
    return SpanCase(
        span=span,
        section=section,
        plating=under.hull,
        drawn_deadrise=drawn_deadrise,
        notes=(*under.notes, *lying),
        adhesive=glued[0],
        adhesive_named=glued[1],
        bonding=allowed,
    )


_STACKS: Kept[Stack] = Kept(512)
"""Laminates resolved: most stay as they are while something else changes."""


def _stacks(project: Project, book: Book, wrong: Faults) -> dict[str, Stack]:
    stacks: dict[str, Stack] = {}
    for i, laminate in enumerate(project.laminates):
        path = ("laminates", i)
        if wrong.blocking(path):  # a material of the project that is wrong itself gives no numbers
            wrong.add(path, range_problems(laminate, place(project, path)))
            continue
        try:
            stacks[laminate.id] = _STACKS.get(
                (laminate, project.materials), lambda laminate=laminate: resolved_laminate(laminate, book)
            )
        except StringerlabError as error:
            wrong.add(path, error.problems)
    return stacks


def _shapes(
    project: Project, book: Book, stacks: Mapping[str, Stack], wrong: Faults
) -> tuple[dict[str, SectionShape], tuple[Problem, ...]]:
    """Return the sound sections, and what was put right in them; unsound ones are looked at as drawn."""
    shapes: dict[str, SectionShape] = {}
    repaired: list[Problem] = []
    for i, section in enumerate(project.sections):
        path = ("sections", i)
        slope = drawn_deadrise(section)
        if wrong.blocking(path):
            wrong.add(path, _placed(faults(section, slope), project, path))
            continue
        shape = section_shape(section, book, stacks)
        wrong.add(path, _placed(faults(shape, slope), project, path))
        wrong.add(path, _placed(lying_faults(section, shape, slope), project, path))
        if not wrong.own(path):
            shapes[section.id] = shape
            repaired.extend(_placed(repairs(shape, slope), project, path))
    return shapes, tuple(repaired)


def _placed(found: Iterable[Problem], project: Project, path: Path) -> Iterator[Problem]:
    """Name a section, its walls and its fills by name and id, as everywhere else."""
    section = project.sections[int(path[1])]
    whole = place(project, path)
    parts = {
        f"{SINGULAR[listed]} '{part.id}'": place(project, (*path, listed, j))
        for listed, held in (("walls", section.walls), ("fills", section.fills))
        for j, part in enumerate(held)
    }
    for problem in found:
        within = problem.where.removeprefix(f"section '{section.name}'").removeprefix(", ")
        part, comma, rest = within.partition(", ")
        where = parts.get(part, f"{whole}, {part}" if part else whole)
        yield Problem(problem.what, f"{where}{comma}{rest}", problem.remedy)
