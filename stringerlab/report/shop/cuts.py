"""What is cut from the roll for each member: width, length and how many, ply by ply. mm."""

from dataclasses import dataclass

from stringerlab.laminate.records import Role
from stringerlab.report.shop.laminates import LaidPly, Lamination, Schedule
from stringerlab.report.shop.measures import whole
from stringerlab.report.shop.members import Run
from stringerlab.report.shop.practice import Practice
from stringerlab.section import Section


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """One ply of one wall for one member length; a roll's length runs along the member at 0°."""

    ply: LaidPly
    wall: str
    net: float
    """Round the section, between trim lines."""
    width: float
    """With trim on both edges."""
    along: bool
    """Whether the roll runs along the member; else across it or on the bias."""
    strips: int
    """Side by side across the width where the roll runs along the member; 0 where it does not."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CutList:
    """Every cut of a section, and the members it is cut for."""

    section: Section
    cuts: tuple[Cut, ...]
    runs: tuple[Run, ...]


def cut_lists(scheduled: Schedule, runs: tuple[Run, ...], practice: Practice) -> tuple[CutList, ...]:
    """Return the cuts of every section in use, in the order of its walls and plies.

    Parameters
    ----------
    scheduled
        What is laid where.
    runs
        The members.
    practice
        Roll width, trim and lap.
    """
    sections = {run.section.id: run.section for run in runs}
    found: list[CutList] = []
    for section in sections.values():
        cuts = [
            cut
            for wall in section.walls
            for laid in scheduled.laminations
            if laid.id == wall.laminate
            for cut in _cuts(laid, section, wall.id, practice)
        ]
        if cuts:
            mine = tuple(run for run in runs if run.section.id == section.id)
            found.append(CutList(section=section, cuts=tuple(cuts), runs=mine))
    return tuple(found)


def _cuts(laid: Lamination, section: Section, wall: str, practice: Practice) -> list[Cut]:
    place = next(
        (
            one
            for one in laid.places
            if one.section is not None and (one.section.id, one.wall) == (section.id, wall)
        ),
        None,
    )
    if place is None:
        return []
    widths = dict(place.widths)
    return [
        _cut(ply, place.says, widths[ply.number], practice)
        for ply in laid.plies
        if ply.role is not Role.GEL_COAT and ply.number in widths
    ]


def _cut(ply: LaidPly, wall: str, net: float, practice: Practice) -> Cut:
    wide = net + 2 * practice.trim.value
    along = ply.role is Role.REINFORCED and abs(ply.angle) % 180 == 0
    strips = strips_across(wide, practice) if along else 0
    return Cut(ply=ply, wall=wall, net=net, width=wide, along=along, strips=strips)


def strips_across(width: float, practice: Practice) -> int:
    """Return how many widths of the roll cover a width, each lapping the next."""
    roll, lap = practice.roll_width.value, practice.lap.value
    return 1 if width <= roll else 1 + whole((width - roll) / max(roll - lap, 1.0))
