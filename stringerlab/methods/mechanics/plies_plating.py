"""How wide plating works with spans by shear lag, whatever their method counts: within and at supports. mm.

By the closed forms of first principles. What a method counts wider than that, its section has more stiffness
of than the plating gives.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stringerlab.layout import End, SpanCase
from stringerlab.methods.first_principles import plating
from stringerlab.methods.first_principles.judging_spans import SUPPORTS_APART, modulus_ratio
from stringerlab.methods.mechanics.choosing import unrecorded
from stringerlab.methods.mechanics.records import LoadedSpan
from stringerlab.methods.records import PlatingRows, Remark
from stringerlab.methods.rows import plating_rows
from stringerlab.section import Facts
from stringerlab.units import Kind, format
from stringerlab.workings import Array, Formula

HELD_WITHIN = 0.7
"""Part of a continuous span between points of no moment within it: EN 1993-1-5, 3.2.1."""
_SAME = 5e-3


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Working:
    """Widths of plating that work with n spans by shear lag: arrays (n,) [mm]."""

    within: Array
    support: Array
    """At their supports; nan where no end is held."""


def working(cases: Sequence[SpanCase], facts: Sequence[Facts]) -> Working:
    """Return how wide plating works with spans, by shear lag."""
    rows = plating_rows(cases, facts)
    held = np.array([End.HELD in case.span.ends for case in cases], bool)
    within = _width(rows, np.where(held, HELD_WITHIN, 1.0) * rows.lu, plating.part_at_middle)
    support = _width(rows, SUPPORTS_APART * rows.lu, plating.part_at_support)
    return Working(within=within, support=np.where(held, support, np.nan))


def counted_beside_working(loaded: Sequence[LoadedSpan]) -> tuple[Remark, ...]:
    """Return what each span's section counts of its plating, beside what works by shear lag."""
    with unrecorded():
        found = working([span.case for span in loaded], [span.facts for span in loaded])
    rows: NDArray[np.intp] = np.arange(len(loaded))
    return tuple(
        Remark(_said(span.plating.width, within, support), rows == row)
        for row, (span, within, support) in enumerate(
            zip(loaded, found.within.tolist(), found.support.tolist(), strict=True)
        )
        if span.case.span.attached and span.plating.width > 0
    )


def _said(counted: float, within: float, support: float) -> str:
    over = counted / within - 1
    beside = f"{abs(over):.0%} {'more' if over > 0 else 'less'} than" if abs(over) >= _SAME else "as much as"
    held = f", {format(support, Kind.LENGTH)} at its supports" if np.isfinite(support) else ""
    return (
        f"the method counts {format(counted, Kind.LENGTH)} of plating, {beside} works within the span by "
        f"shear lag: {format(within, Kind.LENGTH)}{held}"
    )


def _width(rows: PlatingRows, L_0: Array, part: Formula) -> Array:
    b_base = np.minimum(rows.base_width, rows.s)
    E_G = modulus_ratio(rows)
    outside = plating.slenderness(b_0=(rows.s - b_base) / 2, L_0=L_0, E_G=E_G)
    inside = plating.slenderness(b_0=b_base / 2, L_0=L_0, E_G=E_G)
    return plating.effective_width(
        s=rows.s, b_base=b_base, beta_out=part(kappa=outside), beta_in=part(kappa=inside)
    )
