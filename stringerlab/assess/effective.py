"""How wide plating works with each span: as each method counts it, and by shear lag from the span. mm.

Shear lag is that of ``methods.mechanics.plies_plating``, which says it in the finding of each span too.
What a method counts wider than that, its section has more stiffness of than the plating gives.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import isfinite

from stringerlab.assess.sections import section_facts
from stringerlab.layout import SpanCase
from stringerlab.methods import Method, available, method_named, plating_rows
from stringerlab.methods.first_principles import plating
from stringerlab.methods.mechanics.plies_plating import working
from stringerlab.units import Kind, System, format
from stringerlab.workings import weakest

_SOURCES = (plating.part_at_middle.source, plating.part_at_support.source, plating.slenderness.source)
KNOWN = weakest(source.known for source in _SOURCES)


@dataclass(frozen=True, slots=True, kw_only=True)
class Width:
    """The plating of one span: mm."""

    subject: str
    name: str
    spacing: float
    within: float
    """By shear lag, within the span."""
    support: float | None
    """By shear lag, at its supports; None where no end is held."""
    counted: Mapping[str, float]
    """By each method's id."""

    def over(self, method: str) -> float:
        """Return what a method counts over the shear lag within the span, as a part of it."""
        return self.counted[method] / self.within - 1


def effective_widths(cases: Sequence[SpanCase], methods: Sequence[Method | str] = ()) -> tuple[Width, ...]:
    """Return the width of plating under each span, by methods and by shear lag.

    Parameters
    ----------
    cases
        The spans.
    methods
        Methods or their ids; all there are by default.
    """
    if not cases:
        return ()
    chosen = [each if isinstance(each, Method) else method_named(each) for each in methods or available()]
    facts = [section_facts(case.section, case.drawn_deadrise) for case in cases]
    rows, found = plating_rows(cases, facts), working(cases, facts)
    counted = {method.id: method.plating(rows) for method in chosen}
    return tuple(
        Width(
            subject=case.span.id,
            name=case.span.name,
            spacing=case.span.s,
            within=float(found.within[row]),
            support=float(found.support[row]) if isfinite(found.support[row]) else None,
            counted={id: float(widths[row]) for id, widths in counted.items()},  # noqa: A001
        )
        for row, case in enumerate(cases)
    )


def width_sentences(width: Width, system: System) -> tuple[str, ...]:
    """Return the widths of one span in words, the method that counts most first."""

    def said(value: float) -> str:
        return format(value, Kind.LENGTH, system)

    at = "" if width.support is None else f", {said(width.support)} at its supports"
    text = [
        f"By shear lag {said(width.within)} of plating work within the span{at}, of {said(width.spacing)} "
        f"between members ({plating.part_at_middle.source}, {KNOWN.value})."
    ]
    for id, counted in sorted(width.counted.items(), key=lambda each: -each[1]):  # noqa: A001
        over = width.over(id)
        how = f"{abs(over):.0%} {'more' if over > 0 else 'less'} than works within the span"
        how = "as much as works within the span" if abs(over) < 5e-3 else how
        text.append(f"{method_named(id).name} counts {said(counted)}: {how}.")
    return tuple(text)
