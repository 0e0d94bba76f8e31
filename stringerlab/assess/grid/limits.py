"""Deflection of a span between its nodes against what the layout allows; natural frequencies against speeds.

A frequency within a fifth of a shaft's or rotor's speed is too near: our own choice.
"""

from collections.abc import Sequence

import numpy as np

from stringerlab.assess.grid.records import GridResults
from stringerlab.layout import SpanCase
from stringerlab.methods import Aspect, Governing, Judged, Remark
from stringerlab.units import Kind, Mm, Ratio, format, unit_named
from stringerlab.workings import Known, Source, formula

APART = 0.2
"""Part of a speed by which natural frequencies are to stand off it."""
_LIMIT = Source("stringerlab", "the layout's own limit of deflection", Known.STATED)
_MARGIN = Source("stringerlab", "own margin between a natural frequency and a speed", Known.STATED)
_LEAST = 1e-4


@formula(symbol="w_max", source=_LIMIT)
def allowed_deflection(n_w: Ratio, l_nn: Mm) -> Mm:
    """Part of a span's length from node to node by which it may bend."""
    return n_w * l_nn


def deflection(results: GridResults, cases: Sequence[SpanCase]) -> tuple[Judged, ...]:
    """Return how far spans bend between their nodes, one row each."""
    of = [results.spans[case.span.id] for case in cases]
    whole = [
        f"its nodes move up to {format(one.w_max, Kind.LENGTH)} inboard and "
        f"{format(-one.w_min, Kind.LENGTH)} outboard with the grid"
        for one in of
    ]
    rows = np.arange(len(cases))
    return (
        Judged(
            aspect=Aspect.DEFLECTION,
            demand=np.abs([one.sag.value for one in of]),
            capacity=allowed_deflection(
                n_w=np.full(len(of), results.ground.layout.rules.deflection),
                l_nn=np.array([one.length for one in of]),
            ),
            unit=unit_named("mm"),
            power=1.0,
            source=_LIMIT,
            remarks=(
                Remark("from the straight line between its nodes, in the case of its greatest moment"),
                *(Remark(said, rows == row) for row, said in enumerate(whole)),
            ),
        ),
    )


def frequency(results: GridResults, cases: Sequence[SpanCase]) -> tuple[Judged, ...]:
    """Return how far natural frequencies stand off the speed of what stands on each span."""
    speeds = {one.id: (one.name, one.speed / 60) for one in results.ground.layout.equipment if one.speed > 0}
    on: list[list[tuple[str, float]]] = [[] for _ in cases]
    rows = {case.span.id: row for row, case in enumerate(cases)}
    for foot in results.feet:
        if foot.span in rows and foot.equipment in speeds:
            on[rows[foot.span]].append(speeds[foot.equipment])
    turning = np.array([bool(each) for each in on], bool)
    if not turning.any():
        return ()
    capacity, names = np.full(len(cases), np.nan), [""] * len(cases)
    found = np.array(results.frequencies, float)
    beyond_known = np.zeros(len(cases), bool)
    for row, each in enumerate(on):
        for name, speed in dict.fromkeys(each):
            off = np.abs(found / speed - 1)
            known = len(found) > 0 and found[-1] >= speed * (1 + APART)
            if not known and off.min(initial=np.inf) > APART:
                beyond_known[row] = True  # none of those known is near, but higher ones may be
                continue
            nearest = int(off.argmin())
            least = max(float(off[nearest]), _LEAST)
            if np.isnan(capacity[row]) or least < capacity[row]:
                capacity[row] = least
                names[row] = f"{name} at {speed:.3g} Hz, natural frequency {found[nearest]:.3g} Hz"
    capacity[beyond_known & ~(capacity < APART)] = np.nan
    beyond = f"{len(found)} natural frequencies are known, too far below a speed to tell"
    return (
        Judged(
            aspect=Aspect.FREQUENCY,
            demand=np.full(len(cases), APART),
            capacity=capacity,
            unit=unit_named(""),
            power=1.0,
            source=_MARGIN,
            remarks=(
                Remark("part of the speed by which the nearest natural frequency stands off it"),
                Remark("in air: the water that moves along lowers the frequencies"),
            ),
            missing=beyond if len(found) else "no natural frequencies are known",
            governing=Governing(index=np.zeros(len(cases), np.intp), names=tuple((each,) for each in names)),
            applies=turning,
        ),
    )
