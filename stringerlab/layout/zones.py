"""Plating by place: which hull laminates lie where, laid over one another, their tapered ends dropped off.

Zones count in their order: the first lies next to the mould, each later one inboard of those it overlaps, so
that a lap keeps its real plies. x from the transom, y from the centreline, mm.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from math import inf

from stringerlab.laminate.records import PlyNumbers, Role, Stack
from stringerlab.layout.records import Surface, Zone


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where plating is asked for; without ``y`` zones bounded in breadth cannot tell."""

    surface: Surface
    x: float
    y: float | None = None


def covering(zones: Sequence[Zone], place: Place) -> list[Zone]:
    """Return the zones that lie at a place, in their order; one without ``y`` is in every breadth."""
    return [
        zone
        for zone in zones
        if zone.surface is place.surface
        and zone.aft <= place.x <= zone.forward
        and (place.y is None or _low(zone) <= place.y <= _high(zone))
    ]


def bounded(zone: Zone) -> bool:
    """Return whether a zone has an end in breadth."""
    return zone.inboard is not None or zone.outboard is not None


def plies_kept(zone: Zone, count: int, x: float) -> int:
    """Return how many of a zone's plies lie at x, from the first laid on.

    Within the taper of its nearer end ply k of n begins (k − 1)/n of the taper from that end.
    """
    from_end = min(x - zone.aft, zone.forward - x)
    if from_end >= zone.taper or zone.taper == 0:
        return count
    return min(count, int(from_end / zone.taper * count) + 1)


def laid_over(zones: Sequence[Zone], stacks: Mapping[str, Stack], x: float) -> Stack:
    """Return the laminate of zones laid over one another at x, mould outboard.

    Parameters
    ----------
    zones
        Those that lie there, in their order; at least one.
    stacks
        Sound laminates by id; every zone's is there.
    x
        Where.
    """
    if len(zones) == 1 and not zones[0].taper:
        return stacks[zones[0].laminate]
    plies: list[PlyNumbers] = []
    for zone in zones:
        plies += [
            replace(ply, name=f"{ply.name}, of {zone.name}") if len(zones) > 1 else ply
            for ply in _kept(zone, stacks[zone.laminate], x)
        ]
    return Stack(name=" + ".join(zone.name for zone in zones), plies=tuple(plies))


def with_pan(hull: Stack, pan: Stack, voids: float) -> Stack:
    """Return a hull laminate with a pan fully bonded onto it, every ply of the pan less its voids.

    The pan's mould face is inboard: its plies come in reverse, its gel coat left out. The adhesive between
    them, which would part them further, counts as no distance: on the safe side.
    """
    share = 1.0 - voids
    laid = [
        replace(
            ply, thickness=ply.thickness * share, mass=ply.mass * share, dry_weight=ply.dry_weight * share
        )
        for ply in reversed(pan.plies)
        if ply.role is not Role.GEL_COAT
    ]
    return Stack(name=f"{hull.name} + {pan.name}, bonded", plies=(*hull.plies, *laid))


def _kept(zone: Zone, stack: Stack, x: float) -> list[PlyNumbers]:
    """Return the plies of a zone that lie at x, gel coats always; the layers of a fabric end together."""
    laid = list(dict.fromkeys(ply.number for ply in stack.plies if ply.role is not Role.GEL_COAT))
    here = set(laid[: plies_kept(zone, len(laid), x)])
    return [ply for ply in stack.plies if ply.role is Role.GEL_COAT or ply.number in here]


def _low(zone: Zone) -> float:
    return 0.0 if zone.inboard is None else zone.inboard


def _high(zone: Zone) -> float:
    return inf if zone.outboard is None else zone.outboard
