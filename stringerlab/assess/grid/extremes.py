"""The worst of every span over all load cases, from the envelope of its beams; and one case as a field."""

from collections.abc import Mapping, Sequence

import numpy as np

from stringerlab.assess.grid.records import (
    Array,
    Beams,
    CaseLoads,
    Field,
    GridResults,
    Ground,
    Index,
    Most,
    SpanExtremes,
)
from stringerlab.grillage import Envelope, Factored, solve
from stringerlab.grillage.records import Solved

PLACES = 17
"""Along each beam, where it is drawn and its deflection integrated."""


def span_extremes(
    ground: Ground, beams: Beams, factored: Factored, loads: CaseLoads, envelope: Envelope
) -> tuple[Mapping[str, SpanExtremes], Solved]:
    """Return every span's extremes, of it and its mirror image; and the cases of greatest moment."""
    order = np.argsort(beams.span, kind="stable")
    numbers, starts = np.unique(beams.span[order], return_index=True)
    groups: list[Index] = np.split(order, starts[1:])
    w_max = envelope.w_max[beams.grid.beams].max(axis=1)
    w_min = envelope.w_min[beams.grid.beams].min(axis=1)
    length = beams.length
    worst = [
        (
            _most(envelope.M_max, envelope.case_M_max, group, beams, envelope.places),
            _most(-envelope.M_min, envelope.case_M_min, group, beams, envelope.places),
            _most(envelope.V_abs, envelope.case_V, group, beams, envelope.places),
        )
        for group in groups
    ]
    sags, solved = _sags(beams, factored, loads, groups, [each[0].case for each in worst])
    found: dict[str, SpanExtremes] = {}
    for number, group, (high, low, shear), sag in zip(_ints(numbers), groups, worst, sags, strict=True):
        span = ground.found.spans[number]
        images = max(int(beams.image[group].max()) + 1, 1)
        name = span.span.name if span.span is not None else span.id
        found[span.id] = SpanExtremes(
            id=span.id,
            name=name,
            M_max=high,
            M_min=Most(value=-max(low.value, 0.0), case=low.case, along=low.along),
            V=shear,
            T=float(envelope.T_abs[group].max()),
            M_ends=_at_ends(envelope, group, beams),
            w_max=float(w_max[group].max()),
            w_min=float(w_min[group].min()),
            sag=sag,
            length=float(length[group].sum() / images),
        )
    return found, solved


def _ints(values: Index) -> list[int]:
    return [int(each) for each in values]


def _most(values: Array, cases: Index, group: Index, beams: Beams, places: Array) -> Most:
    part = values[group]
    row, place = np.unravel_index(int(part.argmax()), part.shape)
    beam = int(group[row])
    low, high = beams.part[beam]
    return Most(
        value=float(part[row, place]),
        case=int(cases[beam, place]),
        along=float(low + places[place] * (high - low)),
    )


def _at_ends(envelope: Envelope, group: Index, beams: Beams) -> tuple[float, float]:
    """Return the greatest moment either way at a span's first and last node."""
    size = np.maximum(np.abs(envelope.M_max[group]), np.abs(envelope.M_min[group]))
    first, last = beams.part[group, 0] == 0, beams.part[group, 1] == 1
    return float(size[first, 0].max()), float(size[last, -1].max())


def _sags(
    beams: Beams, factored: Factored, loads: CaseLoads, groups: Sequence[Index], cases: Sequence[int]
) -> tuple[list[Most], Solved]:
    """Return each span's greatest deflection from the straight line between its nodes, in its own case."""
    wanted = sorted(set(cases))
    row = {case: number for number, case in enumerate(wanted)}
    solved = solve(factored, loads.of(wanted), places=PLACES)
    w = deflections(factored, solved)
    found: list[Most] = []
    for group, case in zip(groups, cases, strict=True):
        best = Most(value=0.0, case=case, along=0.5)
        for image in np.unique(beams.image[group]).tolist():
            mine = group[beams.image[group] == image]
            low, high = beams.part[mine].T
            at = (low[:, None] + solved.places * (high - low)[:, None]).ravel()
            line = w[mine, :, row[case]].ravel()
            first, last = line[0], line[-1]
            off = line - (first + at * (last - first))
            place = int(np.abs(off).argmax())
            if abs(off[place]) > abs(best.value):
                best = Most(value=float(off[place]), case=case, along=float(at[place]))
        found.append(best)
    return found, solved


def deflections(factored: Factored, solved: Solved) -> Array:
    """Return the deflection at every place along every beam, (m, s, p) [mm].

    The curvature -M/EI is integrated twice by Simpson's and Hermite's rule between places, shear added, and
    the straight line that is left set by the nodes' own deflections.
    """
    grid, L = factored.grid, factored.elements.L
    h = L[:, None, None] * np.diff(solved.places)[None, :, None]
    bent = -solved.M / grid.EI[:, None, None]
    middle = (bent[:, 1:] + bent[:, :-1]) / 2
    slope = np.concatenate([np.zeros_like(bent[:, :1]), np.cumsum(h * middle, axis=1)], axis=1)
    step = h * (slope[:, :-1] + h * (2 * bent[:, :-1] + bent[:, 1:]) / 6)
    own = np.concatenate([np.zeros_like(bent[:, :1]), np.cumsum(step, axis=1)], axis=1)
    sheared = solved.M / grid.GA[:, None, None]
    own = own + (sheared - sheared[:, :1])
    ends = solved.w[grid.beams][:, :, 0]
    at = solved.places[None, :, None]
    left = ends[:, :1] - own[:, :1]
    right = ends[:, 1:] - own[:, -1:]
    return own + left + at * (right - left)


def case_field(results: GridResults, case: int) -> Field:
    """Return deflection, moment, shear and torque of one load case, for pictures.

    Raises
    ------
    ValueError
        When the grid has not been solved, or has no such case.
    """
    if results.factored is None or results.loads is None or results.beams is None:
        raise ValueError("the grid has not been solved")
    if not 0 <= case < len(results.cases):
        raise ValueError(f"there is no load case {case}: {len(results.cases)} are there")
    solved = solve(results.factored, results.loads.of([case]), places=PLACES)
    beams = results.beams
    ends = beams.at[beams.grid.beams]
    at = ends[:, :1] + solved.places[None, :, None] * (ends[:, 1:] - ends[:, :1])
    return Field(
        case=results.cases[case],
        at=at,
        w=deflections(results.factored, solved)[:, :, 0],
        M=solved.M[:, :, 0],
        V=solved.V[:, :, 0],
        T=solved.T[:, 0],
        reactions=solved.reactions[:, 0, 0],
    )
