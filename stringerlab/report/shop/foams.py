"""How much foam goes into each cavity, and in how many lifts. mm, mm³, kg, of one of a pair.

Volumes are the cavity's own reading; a lift is no deeper than the limit.
"""

from collections.abc import Callable
from dataclasses import dataclass
from math import isfinite, nan

from stringerlab.assess.cavities import cavity_readings
from stringerlab.layout.cavities import CavityReading
from stringerlab.layout.cavity_sites import site_of
from stringerlab.layout.hollows import Array, Shell, lowest, room_under, shell_of
from stringerlab.layout.plan import Cavity, Layout
from stringerlab.layout.standing import Standing
from stringerlab.materials.records import Solid
from stringerlab.project import Project, Resolved, book_of
from stringerlab.project.finding import layout_in_use
from stringerlab.report.shop.measures import whole
from stringerlab.report.shop.members import hull_bottom
from stringerlab.report.shop.practice import Practice

_HALVINGS = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class Lift:
    """One pour: from its foot to its top, over the lowest place or square to the shell."""

    bottom: float
    top: float
    volume: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FoamedCavity:
    """A cavity that foam goes into."""

    reading: CavityReading
    name: str
    foam: Solid | None
    """None where the book has none of that name."""
    filled: float
    """Part of its room."""
    sealed: bool
    level: bool
    """Whether its top is level; else it runs along the shell."""
    lifts: tuple[Lift, ...]
    """None where its depth cannot be told."""

    @property
    def lift_mass(self) -> tuple[float, ...]:
        """Both parts together, of every lift [kg]."""
        density = nan if self.foam is None else self.foam.density.value
        return tuple(lift.volume * 1e-9 * density for lift in self.lifts)


def foamed(project: Project, resolved: Resolved, practice: Practice) -> tuple[FoamedCavity, ...]:
    """Return every cavity of the layout in use that holds foam; none without a layout.

    Parameters
    ----------
    project, resolved
        The document, and the same with ids swapped for objects.
    practice
        The highest lift.
    """
    layout, hull = layout_in_use(project), hull_bottom(project)
    if layout is None or hull is None or resolved.found is None:
        return ()
    book, standing, shell = book_of(project), Standing(layout, resolved.found), shell_of(hull)
    found: list[FoamedCavity] = []
    for reading in cavity_readings(project, resolved).readings:
        cavity = _cavity(layout, reading.id)
        if not cavity.foam:
            continue
        rings = [standing.clear(stand) for stand in site_of(cavity, standing).stands]
        rings = [ring for ring in rings if len(ring) > 2]
        found.append(
            FoamedCavity(
                reading=reading,
                name=cavity.name or str(cavity.use),
                foam=book.solid(cavity.foam),
                filled=cavity.filled,
                sealed=cavity.sealed,
                level=reading.level is not None,
                lifts=_lifts(reading, rings, shell, practice.foam_lift.value),
            )
        )
    return tuple(found)


def _cavity(layout: Layout, id_: str) -> Cavity:
    return next(cavity for cavity in layout.cavities if cavity.id == id_)


def _lifts(reading: CavityReading, rings: list[Array], shell: Shell, limit: float) -> tuple[Lift, ...]:
    if (
        not (isfinite(reading.depth) and isfinite(reading.foam_volume))
        or reading.foam_volume <= 0
        or not rings
    ):
        return ()
    if reading.level is None:
        depth = reading.depth * reading.foam_volume / reading.volume
        count = whole(depth / limit)
        each = depth / count
        return tuple(
            Lift(bottom=number * each, top=(number + 1) * each, volume=reading.foam_volume / count)
            for number in range(count)
        )
    low = min(lowest(ring, shell)[1] for ring in rings)

    def room(height: float) -> float:
        return sum(room_under(ring, low + height, shell) for ring in rings)

    full = _height_of(room, reading.foam_volume, reading.depth)
    count = whole(full / limit)
    tops = [full * (number + 1) / count for number in range(count)]
    rooms = [0.0, *(room(top) for top in tops[:-1]), reading.foam_volume]
    return tuple(
        Lift(bottom=full * number / count, top=tops[number], volume=rooms[number + 1] - rooms[number])
        for number in range(count)
    )


def _height_of(room: Callable[[float], float], volume: float, most: float) -> float:
    low, high = 0.0, most
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if room(middle) < volume else (low, middle)
    return high
