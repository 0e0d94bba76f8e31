"""Aspects that a method leaves open: not judged, in words."""

from collections.abc import Mapping

import numpy as np

from stringerlab.methods.records import Aspect, Judged, Mask, Remark, SpanRows
from stringerlab.units import unit_named
from stringerlab.workings import Known, Source

NO_CHECK = Source(title="stringerlab", clause="left open by the method", known=Known.STATED)


def left_open(
    words: Mapping[Aspect, str], rows: int, *, source: Source = NO_CHECK, applies: Mask | None = None
) -> tuple[Judged, ...]:
    """Return aspects not judged, each with why, over so many rows."""
    unknown = np.full(rows, np.nan)
    return tuple(
        Judged(
            aspect=aspect,
            demand=unknown,
            capacity=unknown,
            unit=unit_named(""),
            power=1,
            source=source,
            missing=why,
            applies=applies,
        )
        for aspect, why in words.items()
    )


def bond_and_ends(rows: SpanRows) -> tuple[Judged, ...]:
    """Return what no method here judges about spans: the bond, and ends that die on bare skin."""
    bond = {Aspect.BOND: "the method has no bond check here: shear flow and peel are the mechanics' to judge"}
    ends = {
        Aspect.HARD_SPOT: "an end that is not held dies on bare skin or chine: a hard spot; "
        "taper it or carry it to a support"
    }
    count = len(rows.lu)
    return (*left_open(bond, count), *left_open(ends, count, applies=rows.may_die))


def end_remarks(rows: SpanRows) -> tuple[Remark, ...]:
    """Return what must be said of spans whose ends are not both held."""
    return (
        Remark("an end is not held: our own factor on the rules' form", rows.moment_factor != 1),
        Remark("a free end with no held one is a mechanism", np.isnan(rows.moment_factor)),
    )
