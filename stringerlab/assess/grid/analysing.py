"""A layout's grid analysed: its load cases, envelopes, reactions and natural frequencies.

Load shared by the grid is first principles and never rule compliance. Nothing wrong raises: it is said, with
its place, and there is no envelope.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

import numpy as np

from stringerlab.assess.grid.beams import beams_of, members_at
from stringerlab.assess.grid.combining import combined
from stringerlab.assess.grid.enveloped import enveloped
from stringerlab.assess.grid.equipment import Standings, equipment_loads
from stringerlab.assess.grid.extremes import span_extremes
from stringerlab.assess.grid.patches import patches_of
from stringerlab.assess.grid.records import (
    G_EARTH,
    Beams,
    Foot,
    GridResults,
    Ground,
    Reaction,
    names_of,
)
from stringerlab.assess.grid.shares import Shares, shares_of
from stringerlab.assess.grid.supports import springs_of
from stringerlab.assess.grid.symmetry import mirror_of
from stringerlab.craft import bottom
from stringerlab.errors import Problem, StringerlabError
from stringerlab.grillage import Envelope, Factored, natural_frequencies
from stringerlab.laminate import mass
from stringerlab.layout import TransomLoad
from stringerlab.layout.found import Placed
from stringerlab.methods import Method, craft_row

Watch = Callable[[float, str], None]
FREQUENCIES = 30
"""How many are looked for."""
_FIELDS = (
    "load shared by the grid: first principles, never rule compliance",
    "the grid lies on the bottom unfolded about the keel: lengths across are those in the skin",
    "natural frequencies are in air: the water that moves along lowers them",
)


def analysed(
    ground: Ground,
    method: Method,
    watch: Watch | None = None,
    *,
    coarse: bool = False,
    step: float | None = None,
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
        Fewer pieces, each patch only on its own subject, no frequencies: while a member is dragged.
    step
        The patches' step in parts of their length, in place of the layout's own.
    """
    tell = watch or _unwatched
    beams: Beams | None = None
    try:
        hull = bottom(ground.craft)
        craft = craft_row(ground.craft)
        tell(0.0, "Laying out the grid")
        beams = beams_of(ground, hull, method)
        springs = springs_of(ground, hull, beams)
        beams = replace(beams, grid=replace(beams.grid, springs=springs.springs))
        names = names_of(
            beams, {member.id: member.name for member in ground.layout.members}, members_at(ground, beams)
        )
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
        cases = combined(ground, beams, shares, patches, stands.elements, mirror)
        if not len(cases):
            raise StringerlabError(
                Problem("There is no load.", _where(ground), "Choose a method that states a pressure.")
            )
        found = enveloped(factored, cases, mirror, lambda done, what: tell(0.2 + 0.5 * done, f"Grid: {what}"))
        tell(0.7, "Looking for the worst of every span")
        spans, worst = span_extremes(ground, beams, factored, cases, found)
        tell(0.9, "Natural frequencies")
        frequencies, more = ((), ()) if coarse else _frequencies(ground, beams, shares, stands, names)
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
        frequencies=frequencies,
        tally=shares.tally,
        residual=worst.residual,
        imbalance=worst.imbalance,
        coarse=coarse,
        notes=tuple(dict.fromkeys(notes)),
        problems=stands.problems,
        transoms=_transoms(ground, beams, stands),
    )


def _where(ground: Ground) -> str:
    return f"layout '{ground.layout.name}'"


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
        problems=tuple(
            Placed(problem=problem, at=_place_of(problem, ground, beams)) for problem in error.problems
        ),
    )


def _place_of(problem: Problem, ground: Ground, beams: Beams | None) -> tuple[float, float]:
    """Return where on the plan a problem is: at the node or member its place names, else mid-boat."""
    if beams is not None:
        names = names_of(
            beams, {member.id: member.name for member in ground.layout.members}, members_at(ground, beams)
        )
        for node, name in enumerate(names):
            x, y = beams.grid.nodes[node]
            if name and f"{name} at x {x:.0f}, y {y:.0f} mm" in problem.where:
                return float(beams.at[node, 0]), float(beams.at[node, 1])
    for member in ground.layout.members:
        if member.points and member.name in problem.where:
            return member.points[0]
    middle = ground.found.outline.mean(axis=0) if len(ground.found.outline) else np.zeros(2)
    return float(middle[0]), float(middle[1])


def _frequencies(
    ground: Ground, beams: Beams, shares: Shares, stands: Standings, names: Sequence[str]
) -> tuple[tuple[float, ...], tuple[str, ...]]:
    """Return natural frequencies [Hz] with the hull's and the equipment's mass on the members."""
    stack = next((case.plating for case in ground.spans.values()), None)
    weight = 0.0 if stack is None else mass(stack) * 1e-9
    grid = beams.grid
    carried = np.asarray(shares.to @ shares.pieces.area).ravel() * weight
    per_beam = np.bincount(shares.beam, weights=carried, minlength=len(beams.span))
    lumped = np.zeros(len(beams.at))
    for one in stands.elements:
        if one.at_rest is None:
            continue
        down = -one.at_rest / G_EARTH
        if one.stations is not None:
            per_station = np.maximum(one.stations * down, 0.0)
            per_beam += np.bincount(shares.beam, weights=per_station, minlength=len(beams.span))
        for beam, along, force in zip(one.beam.tolist(), one.along.tolist(), one.force.tolist(), strict=True):
            first, second = grid.beams[beam].tolist()
            kilograms = max(force * down, 0.0)
            lumped[first] += kilograms * (1 - along)
            lumped[second] += kilograms * along
    own = np.zeros(len(beams.span)) if grid.mass is None else grid.mass
    heavy = replace(grid, mass=own + per_beam / beams.length, lumped=lumped)
    try:
        found = natural_frequencies(heavy, FREQUENCIES, names, parts=2)
    except StringerlabError as error:
        return (), tuple(f"no natural frequencies: {problem}" for problem in error.problems)
    return tuple(float(each) for each in found), ()


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
