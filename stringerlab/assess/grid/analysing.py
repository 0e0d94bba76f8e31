"""A layout's grid analysed: its load cases, envelopes, reactions and natural frequencies.

Load shared by the grid is first principles and never rule compliance. Nothing wrong raises: it is said, with
its place, and there is no envelope.
"""

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace

import numpy as np

from stringerlab.assess.grid.beams import beams_of, members_at
from stringerlab.assess.grid.combining import combined
from stringerlab.assess.grid.enveloped import enveloped
from stringerlab.assess.grid.equipment import Standings, equipment_loads
from stringerlab.assess.grid.extremes import span_extremes
from stringerlab.assess.grid.loose import without_loose
from stringerlab.assess.grid.patches import patches_of
from stringerlab.assess.grid.records import (
    G_EARTH,
    Array,
    Beams,
    Foot,
    GridResults,
    Ground,
    Reaction,
    names_of,
)
from stringerlab.assess.grid.refining import HALVINGS, slammed
from stringerlab.assess.grid.shares import Shares, shares_of
from stringerlab.assess.grid.supports import springs_of
from stringerlab.assess.grid.symmetry import mirror_of
from stringerlab.craft import bottom
from stringerlab.errors import Problem, StringerlabError
from stringerlab.grillage import Envelope, Factored, natural_frequencies
from stringerlab.grillage.frequencies import divided
from stringerlab.laminate import mass
from stringerlab.layout import TransomLoad
from stringerlab.layout.found import Placed
from stringerlab.methods import Method, craft_row

Watch = Callable[[float, str], None]
_PLACE = re.compile(r"at x -?\d+, y -?\d+ mm")
MOST_SPANS = 1200
"""Up to which a grid is analysed: beyond it slam, step by step on every subject, takes minutes."""
FREQUENCIES = 30
"""How many are looked for."""
_FIELDS = (
    "load shared by the grid: first principles, never rule compliance",
    "the grid lies on the bottom unfolded about the keel: lengths across are those in the skin",
    "natural frequencies are in air: the water that moves along lowers them",
    "yield lines make a longitudinal's moment at mid-span low by about (s/L)²/3, 8 % where its spacing is "
    "half its length between floors: leave room for it",
)


def analysed(
    ground: Ground,
    method: Method,
    watch: Watch | None = None,
    *,
    coarse: bool = False,
    step: float | None = None,
    uncut: bool = False,
    frequencies: bool = True,
) -> GridResults:
    """Return a layout's grid analysed.

    Parameters
    ----------
    ground
        The layout, what is found in it, and its cases.
    method
        Whose pressure, acceleration and width of plating count.
    watch
        Told of progress; what it raises stops the work.
    coarse
        Fewer pieces, only spans' patches, each on its own span, no frequencies and no deflection between
        nodes: while a member is dragged.
    step
        The patches' step in parts of their length, in place of the layout's own.
    uncut
        Every crown goes through its crossings, cut or not.
    frequencies
        Whether natural frequencies are looked for; never where coarse.
    """
    tell = watch or _unwatched
    beams: Beams | None = None
    try:
        _refuse_too_many(ground)
        hull = bottom(ground.craft)
        craft = craft_row(ground.craft)
        tell(0.0, "Laying out the grid")
        beams = beams_of(ground, hull, method, uncut=uncut)
        springs = springs_of(ground, hull, beams)
        beams = replace(beams, grid=replace(beams.grid, springs=springs.springs))
        whole = beams
        beams, apart = without_loose(beams, _names(ground, beams))
        left_out = _placed(apart, ground, whole)
        names = _names(ground, beams)
        factored = Factored.of(beams.grid, names)
    except StringerlabError as error:
        return _failed(ground, beams, error, coarse=coarse)
    try:
        tell(0.1, "Sharing the bottom")
        shares = shares_of(ground, hull, beams, coarse=coarse)
        mirror = mirror_of(beams)
        patches = patches_of(
            ground, hull, method, craft, step=step, coarse=coarse, one_side=mirror is not None
        )
        stands = equipment_loads(ground, hull, beams, shares, method, craft)
        tell(0.15, "Slam on panels and spans")
        slam = slammed(
            factored,
            beams,
            shares,
            patches,
            hull,
            lambda done, what: tell(0.2 + 0.4 * done, f"Grid: {what}"),
            halvings=0 if coarse else HALVINGS,
        )
        cases = combined(ground, beams, shares, slam.patches, slam.whole, stands.elements, mirror)
        if not len(cases):
            raise StringerlabError(
                Problem("There is no load.", _where(ground), "Choose a method that states a pressure.")
            )
        tell(0.6, "Equipment and weights with slam")
        found = enveloped(factored, cases, slam.envelope, mirror)
        tell(0.7, "Looking for the worst of every span")
        spans, worst = span_extremes(ground, beams, factored, cases, found, sags=not coarse)
        tell(0.9, "Natural frequencies")
        wanted = frequencies and not coarse
        hertz, more = _frequencies(ground, beams, shares, stands, names) if wanted else ((), ())
    except StringerlabError as error:
        return _failed(ground, beams, error, coarse=coarse)
    notes = (
        *_FIELDS,
        *beams.notes,
        *springs.notes,
        *patches.notes,
        *stands.notes,
        *cases.notes,
        *more,
    )
    return GridResults(
        ground=ground,
        beams=beams,
        factored=factored,
        loads=cases,
        cases=cases,
        envelope=found,
        spans=spans,
        feet=_feet(ground, beams, stands),
        reactions=_reactions(beams, names, found),
        frequencies=hertz,
        tally=shares.tally,
        residual=worst.residual,
        imbalance=worst.imbalance,
        coarse=coarse,
        notes=tuple(dict.fromkeys(notes)),
        problems=(*left_out, *stands.problems),
        transoms=_transoms(ground, beams, stands),
    )


def _refuse_too_many(ground: Ground) -> None:
    count = len(ground.found.spans)
    if count > MOST_SPANS:
        raise StringerlabError(
            Problem(
                f"Its {len(ground.layout.members)} members make {count} spans; up to {MOST_SPANS} are "
                "analysed as a grid. They are judged by the rule and the mechanics all the same.",
                _where(ground),
                "Draw fewer members, or put parts of them into layouts of their own.",
            )
        )


def _where(ground: Ground) -> str:
    return f"layout '{ground.layout.name}'"


def _names(ground: Ground, beams: Beams) -> tuple[str, ...]:
    members = {member.id: member.name for member in ground.layout.members}
    return names_of(beams, members, members_at(ground, beams))


def _failed(ground: Ground, beams: Beams | None, error: StringerlabError, *, coarse: bool) -> GridResults:
    """Return results without an envelope, and why, with places where a problem names one."""
    return GridResults(
        ground=ground,
        beams=beams,
        factored=None,
        loads=None,
        cases=(),
        envelope=None,
        spans={},
        feet=(),
        reactions=(),
        frequencies=(),
        tally=None,
        residual=float("nan"),
        imbalance=float("nan"),
        coarse=coarse,
        notes=_FIELDS,
        problems=_placed(error.problems, ground, beams),
    )


def _placed(problems: Iterable[Problem], ground: Ground, beams: Beams | None) -> tuple[Placed, ...]:
    """Return problems with where on the plan they are."""
    nodes: dict[str, list[tuple[int, str]]] = {}
    for node, name in enumerate(() if beams is None else _names(ground, beams)):
        x, y = (0.0, 0.0) if beams is None else beams.grid.nodes[node]
        if name:
            at = f"at x {x:.0f}, y {y:.0f} mm"
            nodes.setdefault(at, []).append((node, f"{name} {at}"))
    return tuple(Placed(problem=each, at=_place_of(each, ground, beams, nodes)) for each in problems)


def _place_of(
    problem: Problem, ground: Ground, beams: Beams | None, nodes: Mapping[str, Sequence[tuple[int, str]]]
) -> tuple[float, float]:
    """Return where on the plan a problem is: at the node or member its place names, else mid-boat.

    ``nodes`` are by where they lie in words, each with its name and place.
    """
    if beams is not None:
        named = [
            node
            for at in _PLACE.findall(problem.where)
            for node, words in nodes.get(at, ())
            if words in problem.where
        ]
        if named:
            x, y = beams.at[min(named)].tolist()
            return x, y
    for member in ground.layout.members:
        if member.points and member.name in problem.where:
            return member.points[0]
    middle = ground.found.outline.mean(axis=0) if len(ground.found.outline) else np.zeros(2)
    return float(middle[0]), float(middle[1])


def _frequencies(
    ground: Ground, beams: Beams, shares: Shares, stands: Standings, names: Sequence[str]
) -> tuple[tuple[float, ...], tuple[str, ...]]:
    """Return natural frequencies [Hz] with the hull's and the equipment's mass on the members."""
    n, m = len(beams.at), len(beams.span)
    weight = _hull_mass(ground)[shares.pieces.ring] * shares.pieces.area
    half = 2 * shares.beam + (shares.along >= 0.5)
    carried = np.asarray(shares.to @ weight).ravel()
    lumped = np.zeros(n + m)
    # every beam in halves: its first node, the one half way, its last
    chain = np.stack([beams.grid.beams[:, 0], n + np.arange(m), beams.grid.beams[:, 1]], axis=1)
    for one in stands.elements:
        if one.at_rest is None:
            continue
        down = -one.at_rest / G_EARTH
        if one.stations is not None:
            carried = carried + np.maximum(one.stations * down, 0.0)
        place = 2 * one.along
        first = np.minimum(place.astype(np.intp), 1)
        kilograms = np.maximum(one.force * down, 0.0)
        np.add.at(lumped, chain[one.beam, first], kilograms * (1 - (place - first)))
        np.add.at(lumped, chain[one.beam, first + 1], kilograms * (place - first))
    per_half = np.bincount(half, weights=carried, minlength=2 * m)
    own = np.zeros(m) if beams.grid.mass is None else beams.grid.mass
    spread = np.repeat(own, 2) + per_half / np.repeat(beams.length / 2, 2)
    heavy = replace(divided(beams.grid, 2), mass=spread, lumped=lumped)
    try:
        found = natural_frequencies(heavy, FREQUENCIES, (*names, *m * ("half way",)), parts=1)
    except StringerlabError as error:
        return (), tuple(f"no natural frequencies: {problem}" for problem in error.problems)
    return tuple(float(each) for each in found), ()


def _hull_mass(ground: Ground) -> Array:
    """Return the hull laminate's mass of every bay, and of its mirror image [kg/mm²]."""
    usual = next((mass(case.plating) for case in ground.spans.values()), 0.0)
    return 1e-9 * np.array(
        [
            mass(ground.panels[bay.id].stack) if bay.id in ground.panels else usual
            for bay in ground.found.bays
            for _ in bay.rings
        ],
        float,
    )


def _reactions(beams: Beams, names: Sequence[str], found: Envelope) -> tuple[Reaction, ...]:
    held = np.flatnonzero(beams.grid.springs[:, 0] > 0).tolist()
    return tuple(
        Reaction(
            key=names[node],
            at=(float(beams.at[node, 0]), float(beams.at[node, 1])),
            most=float(found.R_max[node]),
            least=float(found.R_min[node]),
        )
        for node in held
    )


def _feet(ground: Ground, beams: Beams, stands: Standings) -> tuple[Foot, ...]:
    """Return feet with the span they stand on, and their forces load by load."""
    found: list[Foot] = []
    for one in stands.footings:
        beam = int(one.stands.beam[one.foot])
        span = ground.found.spans[int(beams.span[beam])]
        x, y = one.stands.feet[one.foot].tolist()
        # Loads that press and loads that lift add up among themselves; a weight relieves no pull.
        push, pull = (sum(max(sign * up, 0.0) for up in one.up) for sign in (-1, 1))
        found.append(
            Foot(
                equipment=one.stands.equipment.id,
                name=f"{one.stands.name}, foot {one.foot + 1}",
                span=span.id,
                at=(x, y),
                off=float(one.stands.off[one.foot]),
                push=push,
                shear=(abs(one.along),),
                pull=(pull,),
            )
        )
    return tuple(found)


def _transoms(ground: Ground, beams: Beams, stands: Standings) -> Mapping[str, TransomLoad]:
    """Return what outboards put on spans, added up; of a span and its mirror image the more."""
    by_beam: dict[int, list[TransomLoad]] = {}
    for beam, load in stands.transoms:
        by_beam.setdefault(beam, []).append(load)
    found: dict[str, TransomLoad] = {}
    for beam, loads in by_beam.items():
        id_ = ground.found.spans[int(beams.span[beam])].id
        thrust, weight = (sum(getattr(load, name) for load in loads) for name in ("thrust", "weight"))
        one = TransomLoad(
            thrust=thrust,
            weight=weight,
            depth=max(load.depth for load in loads),
            overhang=max(load.overhang for load in loads),
            times=max(load.times for load in loads),
        )
        if id_ not in found or thrust > found[id_].thrust:
            found[id_] = one
    return found


def _unwatched(fraction: float, what: str) -> None:
    del fraction, what
