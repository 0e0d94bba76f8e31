"""The hull laminate under a panel or span: the one it names, or that of the zones where it lies."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from stringerlab.errors import Problem
from stringerlab.laminate.records import Role, Stack
from stringerlab.layout.records import LyingPan, Panel, Span, Zone
from stringerlab.layout.zones import Place, bounded, covering, laid_over, with_pan
from stringerlab.project.kept import Kept
from stringerlab.project.places import place
from stringerlab.project.problems import Faults
from stringerlab.project.records import Project

ZONES = "zones"
_HULLS: Kept[Stack] = Kept(256)


@dataclass(frozen=True, slots=True, kw_only=True)
class Plated:
    """What lies under a subject: the hull's laminate, what counts in all, and what is to be said of it."""

    hull: Stack
    counted: Stack
    notes: tuple[str, ...] = ()


def named_laminate(subject: Panel | Span) -> str:
    """Return the id of the hull laminate a subject names; empty: that of its zones."""
    return subject.laminate if isinstance(subject, Panel) else subject.plating


def zones_under(project: Project, subject: Panel | Span) -> list[Zone]:
    """Return the zones a subject takes its plating from, in their order; none where it names a laminate."""
    if named_laminate(subject):
        return []
    return covering(project.zones, Place(surface=subject.surface, x=subject.x, y=subject.y))


def zone_faults(project: Project, stacks: Mapping[str, Stack], wrong: Faults) -> None:
    """Add what is wrong with zones, and with subjects that look for their laminate in them."""
    for number, zone in enumerate(project.zones):
        wrong.add((ZONES, number), _own_problems(project, number, zone, stacks))
    for listed, subjects in (("panels", project.panels), ("spans", project.spans)):
        for number, subject in enumerate(subjects):
            if named_laminate(subject):
                continue
            path = (listed, number)
            zones = zones_under(project, subject)
            wrong.add(path, lookup_problems(subject, zones, place(project, path)))
            for zone in zones:
                wrong.need(path, (ZONES, project.zones.index(zone)))


def plated(project: Project, stacks: Mapping[str, Stack], subject: Panel | Span) -> Plated:
    """Return what lies under a sound subject."""
    named = named_laminate(subject)
    notes: tuple[str, ...] = ()
    if named:
        hull = stacks[named]
    else:
        zones = zones_under(project, subject)
        hull = _hull(zones, stacks, subject.x)
        notes = (f"plating by place, at its middle: {', '.join(zone.name for zone in zones)}",)
    pan = subject.pan if isinstance(subject, Panel) else None
    if pan is None:
        return Plated(hull=hull, counted=hull, notes=notes)
    if not pan.fully_bonded:
        said = "the pan lying on the hull is not counted: it is not marked fully bonded"
        return Plated(hull=hull, counted=hull, notes=(*notes, said))
    return Plated(
        hull=hull,
        counted=with_pan(hull, stacks[pan.laminate], pan.voids),
        notes=(*notes, _counted_pan(pan)),
    )


def _hull(zones: Sequence[Zone], stacks: Mapping[str, Stack], x: float) -> Stack:
    """Return the laminate of zones at x: one and the same wherever no taper makes it another."""
    beneath = [stacks[zone.laminate] for zone in zones]
    ends = tuple(min(x - zone.aft, zone.forward - x, zone.taper) for zone in zones)
    return _HULLS.get((*zones, *beneath), lambda: laid_over(zones, stacks, x), ends)


def zone_doubts(project: Project) -> Iterator[Problem]:
    """Yield what is to be asked about plating by place: zones that may end within a subject."""
    for listed, subjects in (("panels", project.panels), ("spans", project.spans)):
        for number, subject in enumerate(subjects):
            yield from zone_end_doubts(project, subject, place(project, (listed, number)))


def zone_end_doubts(
    project: Project, subject: Panel | Span, where: str, reach: tuple[float, float] | None = None
) -> Iterator[Problem]:
    """Yield whether a zone may end within a subject that takes its plating by place.

    Parameters
    ----------
    project, subject
        The project, and the subject.
    where
        How a person knows it.
    reach
        From which x to which it lies; half its length on either side of its middle, where that is unknown.
    """
    if named_laminate(subject):
        return
    half = (subject.l if isinstance(subject, Panel) else subject.lu) / 2
    low, high = reach or (subject.x - half, subject.x + half)
    ends = sorted(
        {
            end
            for zone in project.zones
            if zone.surface is subject.surface
            for end in (zone.aft, zone.forward)
            if low < end < high and end != subject.x
        }
    )
    if ends:
        said = " and ".join(f"{end:g}" for end in ends)
        yield Problem(
            f"A zone ends at x {said} mm, {'' if reach else 'maybe '}within it; "
            "what lies at its middle is counted.",
            where,
            "Split it there, or name the weaker laminate.",
        )


def _counted_pan(pan: LyingPan) -> str:
    return (
        f"the pan lying on the hull counts, marked fully bonded, less {100 * pan.voids:g} % for voids; "
        "its fibre does not count in the least dry mass"
    )


def lookup_problems(subject: Panel | Span, zones: Sequence[Zone], where: str) -> Iterator[Problem]:
    """Yield why a subject that names no laminate gets none, or not surely one, from the zones over it."""
    if not zones:
        at = f"x {subject.x:g} mm" + ("" if subject.y is None else f", y {subject.y:g} mm")
        yield Problem(
            f"It names no laminate, and no zone of the {subject.surface.value} lies at {at}.",
            where,
            "Name a laminate, or draw the zone there.",
        )
    if subject.y is None and (strips := [zone.name for zone in zones if bounded(zone)]):
        yield Problem(
            f"It names no laminate and has no y, without which zone '{strips[0]}' cannot tell.",
            where,
            "Say how far its middle lies from the centreline.",
        )


def _own_problems(
    project: Project, number: int, zone: Zone, stacks: Mapping[str, Stack]
) -> Iterator[Problem]:
    where = place(project, (ZONES, number))
    if zone.aft >= zone.forward:
        yield Problem(
            f"It runs from x {zone.aft:g} to {zone.forward:g} mm.", where, "Forward must be the greater."
        )
    elif 2 * zone.taper > zone.forward - zone.aft:
        yield Problem(
            f"Its tapers of {zone.taper:g} mm are more than half of its length.", where, "Shorten them."
        )
    if zone.inboard is not None and zone.outboard is not None and zone.inboard >= zone.outboard:
        yield Problem(
            f"It runs from y {zone.inboard:g} to {zone.outboard:g} mm.",
            where,
            "Outboard must be the greater.",
        )
    stack = stacks.get(zone.laminate)
    if stack is not None and any(ply.role is Role.GEL_COAT for ply in stack.plies):
        under = next((other for other in project.zones[:number] if _overlap(zone, other)), None)
        if under is not None:
            yield Problem(
                f"Its laminate begins with gel coat, but it lies over zone '{under.name}'.",
                where,
                "Give it a laminate without gel coat, or let it end where the other begins.",
            )


def _overlap(one: Zone, other: Zone) -> bool:
    within = one.inboard or 0.0, other.inboard or 0.0
    return (
        one.surface is other.surface
        and max(one.aft, other.aft) < min(one.forward, other.forward)
        and max(within) < min(_outer(one), _outer(other))
    )


def _outer(zone: Zone) -> float:
    return float("inf") if zone.outboard is None else zone.outboard
