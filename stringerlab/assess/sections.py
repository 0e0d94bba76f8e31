"""A section's numbers, cached by value: equal section, plating and moduli are computed once."""

from functools import lru_cache
from math import radians

from stringerlab.errors import Problem, StringerlabError
from stringerlab.laminate import Moduli
from stringerlab.methods.evaluation import Evaluation
from stringerlab.project import Resolved
from stringerlab.section import Facts, Plating, Properties, Section, SectionShape, facts, properties

_KEPT = 128
"""Sections remembered: those of a large project, of a long drag the last frames. Of 60 walls it is 0.1 MB."""


@lru_cache(maxsize=_KEPT)
def section_properties(
    shape: SectionShape, plating: Plating | None, moduli: Moduli, evaluation: Evaluation | None = None
) -> Properties:
    """Return a section's properties, cached by value; strengths as resolved, or as a method takes them."""
    return properties(shape, plating, moduli, None if evaluation is None else evaluation.judged)


@lru_cache(maxsize=_KEPT)
def section_facts(shape: SectionShape, deadrise: float = 0.0) -> Facts:
    """Return a section's facts on a shell of a slope [rad], cached by value."""
    return facts(shape, deadrise)


def reference_plating(resolved: Resolved, section: Section) -> Plating | None:
    """Return the plating a section is shown with when looked at alone; None without a sound reference."""
    reference = section.reference
    if reference is None or reference.laminate not in resolved.stacks:
        return None
    return Plating(
        stack=resolved.stacks[reference.laminate],
        width=reference.width,
        deadrise=radians(reference.deadrise),
    )


def sound_shape(resolved: Resolved, section: Section) -> SectionShape:
    """Return a section resolved.

    Raises
    ------
    StringerlabError
        With what is wrong with it.
    """
    shape = resolved.shapes.get(section.id)
    if shape is None:
        mark = f"({section.id})"
        wrong = [problem for problem in resolved.problems if mark in problem.where] or [*resolved.problems]
        raise StringerlabError(wrong or [Problem("cannot be computed.", f"section '{section.name}' {mark}")])
    return shape
