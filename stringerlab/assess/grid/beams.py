"""The beam grid of a layout: nodes where members meet, corner or change, beams with stiffness and mass.

Bulkheads are no beams: they hold what lies on them.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from stringerlab.assess.grid.cuts import released
from stringerlab.assess.grid.records import Array, Beams, Ground, Index, unfolded, unfolded_each
from stringerlab.assess.grid.stiffness import stiffness
from stringerlab.assess.sections import section_facts
from stringerlab.craft import Bottom
from stringerlab.errors import Problem, StringerlabError
from stringerlab.grillage import Grid
from stringerlab.layout import SpanCase
from stringerlab.layout.found import FoundSpan
from stringerlab.layout.plan import MemberKind, Participation
from stringerlab.methods import Method, PlatingRows, plating_rows
from stringerlab.methods.mechanics.choosing import unrecorded
from stringerlab.methods.mechanics.plies_plating import working

CORNER = 0.01
"""A member turns by more than this at a corner [rad]."""
SHORTEST = 0.5
"""Shorter pieces are no beams [mm]."""


def beams_of(ground: Ground, bottom: Bottom, method: Method, *, uncut: bool = False) -> Beams:
    """Return the beam grid of a layout, without springs.

    Parameters
    ----------
    ground
        The layout and what is found in it.
    bottom
        The hull's.
    method
        Whose width of plating counts, where the layout's rules say so.
    uncut
        Every crown goes through its crossings, cut or not.

    Raises
    ------
    StringerlabError
        With every member that has no stiffness to reckon with, or when there is none at all.
    """
    kinds = {member.id: member.kind for member in ground.layout.members}
    bulkheads = [span for span in ground.found.spans if kinds[span.member] is MemberKind.BULKHEAD]
    numbered = [
        (number, span)
        for number, span in enumerate(ground.found.spans)
        if kinds[span.member] is not MemberKind.BULKHEAD
    ]
    if not numbered:
        raise StringerlabError(
            Problem("It has no member but bulkheads.", _where(ground), "Draw a longitudinal or a floor.")
        )
    cases = _cases(ground, [span for _, span in numbered])
    chains = _chains(ground, bottom, numbered)
    properties, notes = _stiffnesses(ground, method, cases)
    row = {number: place for place, (number, _) in enumerate(numbered)}
    of = np.array([row[number] for number in chains.span.tolist()], np.intp)
    width, EI, GA, GJ, mass = (column[of] for column in properties)
    turning = None if uncut else released(ground, chains.span, chains.image, chains.part)
    return Beams(
        grid=Grid(
            nodes=chains.flat,
            beams=chains.beams,
            EI=EI,
            GA=GA,
            GJ=GJ,
            springs=np.zeros((len(chains.flat), 3)),
            pinned=None if turning is None else turning.pinned,
            mass=mass,
        ),
        at=chains.at,
        keys=chains.keys,
        edges=chains.edges,
        span=chains.span,
        image=chains.image,
        part=chains.part,
        width=width,
        held=tuple(
            ((a[0], a[1]), (b[0], b[1]))
            for span in bulkheads
            for line in span.lines
            for a, b in zip(line[:-1].tolist(), line[1:].tolist(), strict=True)
        ),
        notes=notes if turning is None else (*notes, *turning.notes),
    )


def _where(ground: Ground) -> str:
    return f"layout '{ground.layout.name}'"


def _cases(ground: Ground, spans: Sequence[FoundSpan]) -> list[SpanCase]:
    """Return a case for every span: its own, or that of the nearest span of its member and section.

    Raises
    ------
    StringerlabError
        With every span for which there is neither.
    """
    by_member: dict[tuple[str, str], list[SpanCase]] = {}
    for span in spans:
        case = ground.spans.get(span.id)
        if case is not None:
            by_member.setdefault((span.member, span.section), []).append(case)
    names = {member.id: member.name for member in ground.layout.members}
    found: list[SpanCase] = []
    wrong: dict[str, Problem] = {}
    for span in spans:
        case = ground.spans.get(span.id)
        if case is None:
            x = float(span.lines[0][:, 0].mean())
            others = by_member.get((span.member, span.section), [])
            case = min(others, key=lambda one: abs(one.span.x - x), default=None)
        if case is not None:
            found.append(case)
            continue
        where = f"{_where(ground)}, {names.get(span.member, span.member)}"
        sound = span.section in ground.shapes
        what = "It cannot be judged" if sound else "Its section gives no numbers"
        wrong.setdefault(
            where,
            Problem(f"{what}, so that the grid has no stiffness of it.", where, "Put that right first."),
        )
    if wrong:
        raise StringerlabError(wrong.values())
    return found


def _stiffnesses(
    ground: Ground, method: Method, cases: Sequence[SpanCase]
) -> tuple[tuple[Array, Array, Array, Array, Array], tuple[str, ...]]:
    """Return of every span width counted, EI, GA, GJ and mass a length; and what must be said of them."""
    width = widths(ground.layout.rules.participation, method, cases)
    EI, GA, GJ, mass = (np.empty(len(cases)) for _ in range(4))
    groups: dict[tuple[int, int, float], list[int]] = {}
    for row, case in enumerate(cases):
        groups.setdefault(_kind(case), []).append(row)
    stiff: dict[str, None] = {}
    for rows in groups.values():
        case = cases[rows[0]]
        of = stiffness(case.section, case.plating, case.drawn_deadrise, width[rows])
        EI[rows], GA[rows], GJ[rows] = of.EI, of.GA, of.GJ
        mass[rows] = section_facts(case.section, case.drawn_deadrise).mass_per_length / 1000
        if not of.thin:
            stiff[case.section.name] = None
    notes = tuple(
        f"section '{name}' does not hang together as thin walls: in the grid its webs count in mean "
        "shear, its walls and plating as open strips in twist"
        for name in stiff
    )
    return (width, EI, GA, GJ, mass), notes


def widths(rule: Participation, method: Method, cases: Sequence[SpanCase]) -> Array:
    """Return how much plating counts with each span in the grid [mm], by the layout's rule.

    Capped at the mean of the adjacent spacings; members that are not attached count none.
    """
    if rule is Participation.NONE:
        return np.zeros(len(cases))
    with unrecorded():
        if rule is Participation.SHEAR_LAG:
            facts = [section_facts(case.section, case.drawn_deadrise) for case in cases]
            found = working(cases, facts).within
        else:
            found = method.plating(_rows(cases))
    capped = np.minimum(found, [case.span.s for case in cases])
    return np.where([case.span.attached for case in cases], capped, 0.0)


def _rows(cases: Sequence[SpanCase]) -> PlatingRows:
    """Return what decides how wide plating counts; what hangs on section and plating alone once for each."""
    kinds: dict[tuple[int, int, float], int] = {}
    row = [kinds.setdefault(_kind(case), len(kinds)) for case in cases]
    first = [cases[row.index(number)] for number in range(len(kinds))]
    known = plating_rows(first, [section_facts(case.section, case.drawn_deadrise) for case in first])
    return PlatingRows(
        s=np.array([case.span.s for case in cases], float),
        lu=np.array([case.span.lu for case in cases], float),
        base_width=known.base_width[row],
        t=known.t[row],
        sandwich=known.sandwich[row],
        E_G=None if known.E_G is None else known.E_G[row],
    )


def _kind(case: SpanCase) -> tuple[int, int, float]:
    return id(case.section), id(case.plating), case.drawn_deadrise


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Chains:
    at: Array
    flat: Array
    keys: tuple[str, ...]
    edges: tuple[str, ...]
    beams: Index
    span: Index
    image: Index
    part: Array


def _chains(ground: Ground, bottom: Bottom, spans: Sequence[tuple[int, FoundSpan]]) -> _Chains:
    """Return nodes and beams: each span a chain of beams from corner to corner."""
    nodes = ground.found.nodes
    own: dict[int, int] = {}
    at: list[tuple[float, float]] = []
    keys: list[str] = []
    edges: list[str] = []

    def node(number: int) -> int:
        if number not in own:
            own[number] = len(at)
            at.append(nodes[number].at)
            keys.append(nodes[number].key)
            edges.append(nodes[number].edge)
        return own[number]

    beams: list[tuple[int, int]] = []
    rows: list[tuple[int, int]] = []
    parts: list[tuple[float, float]] = []
    flats = iter(unfolded_each(bottom, [line for _, span in spans for line in span.lines]))
    for number, span in spans:
        for image, (ends, line) in enumerate(zip(span.nodes, span.lines, strict=True)):
            flat = next(flats)
            legs = np.diff(flat, axis=0)
            run = np.concatenate([[0.0], np.cumsum(np.hypot(*legs.T))])
            if not run[-1] > SHORTEST:
                continue
            chain, along = [node(ends[0])], [0.0]
            for corner in corners(flat):
                if SHORTEST < run[corner] < run[-1] - SHORTEST:
                    chain.append(len(at))
                    x, y = line[corner].tolist()
                    at.append((x, y))
                    keys.append(f"{span.member}, corner")
                    edges.append("")
                    along.append(float(run[corner] / run[-1]))
            chain.append(node(ends[1]))
            along.append(1.0)
            beams += pairwise(chain)
            parts += pairwise(along)
            rows += [(number, image)] * (len(chain) - 1)
    places = np.array(at, float).reshape(-1, 2)
    of = np.array(rows, np.intp).reshape(-1, 2)
    return _Chains(
        at=places,
        flat=unfolded(bottom.deadrise(places[:, 0]), places),
        keys=tuple(keys),
        edges=tuple(edges),
        beams=np.array(beams, np.intp).reshape(-1, 2),
        span=of[:, 0],
        image=of[:, 1],
        part=np.array(parts, float).reshape(-1, 2),
    )


def corners(line: Array) -> list[int]:
    """Return the inner points of a line (n, 2) at which it turns."""
    if len(line) < 3:
        return []
    legs = np.diff(line, axis=0)
    cross = legs[:-1, 0] * legs[1:, 1] - legs[:-1, 1] * legs[1:, 0]
    turn = np.abs(np.arctan2(cross, (legs[:-1] * legs[1:]).sum(axis=1)))
    return (np.nonzero(turn > CORNER)[0] + 1).tolist()


def members_at(ground: Ground, beams: Beams) -> list[tuple[str, ...]]:
    """Return the ids of the members that meet at each node."""
    here: Mapping[str, tuple[str, ...]] = {node.key: node.members for node in ground.found.nodes}
    return [here.get(key, (key.partition(",")[0],)) for key in beams.keys]
