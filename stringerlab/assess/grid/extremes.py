"""The worst of every span over all load cases, from the envelope of its beams; and one case as a field."""

from collections.abc import Mapping, Sequence
from math import nan

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
    ground: Ground,
    beams: Beams,
    factored: Factored,
    loads: CaseLoads,
    envelope: Envelope,
    *,
    sags: bool = True,
) -> tuple[Mapping[str, SpanExtremes], Solved]:
    """Return every span's extremes, of it and its mirror image; and the cases of greatest moment."""
    order = np.argsort(beams.span, kind="stable")
    numbers, starts = np.unique(beams.span[order], return_index=True)
    groups: list[Index] = np.split(order, starts[1:])
    w_max = envelope.w_max[beams.grid.beams].max(axis=1)
    w_min = envelope.w_min[beams.grid.beams].min(axis=1)
    length = beams.length
    worst = list(
        zip(
            _most_each(envelope.M_max, envelope.case_M_max, beams, envelope.places),
            _most_each(-envelope.M_min, envelope.case_M_min, beams, envelope.places),
            _most_each(envelope.V_abs, envelope.case_V, beams, envelope.places),
            strict=True,
        )
    )
    at_ends = _at_ends(envelope, beams, len(groups))
    own = [each[0].case for each in worst]
    if sags:
        bent, solved = _sags(beams, factored, loads, groups, own)
    else:
        bent = [Most(value=nan, case=case, along=0.5) for case in own]
        solved = solve(factored, loads.of(own[:1]), places=2)
    found: dict[str, SpanExtremes] = {}
    for row, (number, group, (high, low, shear), sag) in enumerate(
        zip(_ints(numbers), groups, worst, bent, strict=True)
    ):
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
            M_ends=at_ends[row],
            w_max=float(w_max[group].max()),
            w_min=float(w_min[group].min()),
            sag=sag,
            length=float(length[group].sum() / images),
        )
    return found, solved


def _ints(values: Index) -> list[int]:
    return [int(each) for each in values]


def _most_each(values: Array, cases: Index, beams: Beams, places: Array) -> list[Most]:
    """Return the greatest of every span, in the order of their numbers; of equals the first beam's."""
    rows, place = np.arange(len(values)), values.argmax(axis=1)
    best = values[rows, place]
    order = np.lexsort((-rows, best, beams.span))
    beam = order[np.append(np.flatnonzero(np.diff(beams.span[order])), len(order) - 1)]
    place = place[beam]
    low, high = beams.part[beam].T
    along = low + places[place] * (high - low)
    return [
        Most(value=value, case=case, along=at)
        for value, case, at in zip(
            best[beam].tolist(), cases[beam, place].tolist(), along.tolist(), strict=True
        )
    ]


def _at_ends(envelope: Envelope, beams: Beams, spans: int) -> list[tuple[float, float]]:
    """Return the greatest moment either way at every span's first and last node."""
    _, of = np.unique(beams.span, return_inverse=True)
    found = np.zeros((spans, 2))
    for end, (place, there) in enumerate(((0, 0.0), (-1, 1.0))):
        at = np.flatnonzero(beams.part[:, end] == there)
        size = np.maximum(np.abs(envelope.M_max[at, place]), np.abs(envelope.M_min[at, place]))
        np.maximum.at(found[:, end], of[at], size)
    return [(first, last) for first, last in found.tolist()]


def _sags(
    beams: Beams, factored: Factored, loads: CaseLoads, groups: Sequence[Index], cases: Sequence[int]
) -> tuple[list[Most], Solved]:
    """Return each span's greatest deflection from the straight line between its nodes, in its own case."""
    wanted = sorted(set(cases))
    row = {case: number for number, case in enumerate(wanted)}
    solved = solve(factored, loads.of(wanted), places=PLACES)
    of_beam = np.empty(len(beams.span), np.intp)
    for group, case in zip(groups, cases, strict=True):
        of_beam[group] = row[case]
    every = np.arange(len(of_beam))
    ends = solved.w[beams.grid.beams, 0, of_beam[:, None]][:, :, None]
    w = _bent(factored, solved.places, solved.M[every, :, of_beam][:, :, None], ends)[:, :, 0]
    found: list[Most] = []
    for group, case in zip(groups, cases, strict=True):
        best = Most(value=0.0, case=case, along=0.5)
        for image in np.unique(beams.image[group]).tolist():
            mine = group[beams.image[group] == image]
            low, high = beams.part[mine].T
            at = (low[:, None] + solved.places * (high - low)[:, None]).ravel()
            line = w[mine].ravel()
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
    return _bent(factored, solved.places, solved.M, solved.w[factored.grid.beams][:, :, 0])


def _bent(factored: Factored, places: Array, M: Array, ends: Array) -> Array:
    """Return deflections of beams (m, s, p) under moments (m, s, p), with those of their ends (m, 2, p)."""
    grid, L = factored.grid, factored.elements.L
    h = L[:, None, None] * np.diff(places)[None, :, None]
    bent = -M / grid.EI[:, None, None]
    middle = (bent[:, 1:] + bent[:, :-1]) / 2
    slope = np.concatenate([np.zeros_like(bent[:, :1]), np.cumsum(h * middle, axis=1)], axis=1)
    step = h * (slope[:, :-1] + h * (2 * bent[:, :-1] + bent[:, 1:]) / 6)
    own = np.concatenate([np.zeros_like(bent[:, :1]), np.cumsum(step, axis=1)], axis=1)
    sheared = M / grid.GA[:, None, None]
    own = own + (sheared - sheared[:, :1])
    at = places[None, :, None]
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
