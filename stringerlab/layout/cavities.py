"""What the cavities between members hold: depth, room, foam and what it weighs and bears, drain, insulation.

A cavity is the clear bottom of its bays, between web roots, up to its top: level for what is walked on,
stowed in or pumped; along the shell for a foam void, which is filled up to the crowns. A web's slope and
what lies over a member within it are not counted: on the small side. mm, kg, of one of a pair.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from math import nan

from stringerlab.errors import Problem
from stringerlab.layout.cavity_sites import Site, claimed_twice, middle, site_of, where
from stringerlab.layout.cavity_sizes import size_of
from stringerlab.layout.drains import Drain, Drains, contact
from stringerlab.layout.found import Found, MemberSize, Placed
from stringerlab.layout.hollows import Shell, shell_of
from stringerlab.layout.insulation import Insulation, insulation
from stringerlab.layout.plan import Cavity, Layout, Use
from stringerlab.layout.standing import Standing
from stringerlab.materials.records import Solid

FRESH_WATER = 1000.0
"""kg/m³: the lighter, in which foam bears less."""
LEVEL = "water is followed with the boat level and at rest"
ROOM = "room is counted over the clear bottom between web roots, with upright webs, and not over members"
FOAM = "foam counts for mass, buoyancy and insulation, and as no strength"


@dataclass(frozen=True, slots=True, kw_only=True)
class CavityReading:
    """One cavity read off the plan. mm³, mm², kg of one instance; ``count`` of them are in the boat.

    What cannot be told is ``nan``; ``problems`` say why.
    """

    id: str
    name: str
    use: Use
    count: int
    bays: tuple[str, ...]
    sealed: bool
    level: float | None
    """Height of its level top; None where the top runs along the shell, or is not known."""
    depth: float
    """At its deepest, upright under a level top, else square to the shell."""
    area: float
    """Clear area in plan."""
    volume: float
    foam_volume: float = 0.0
    foam_mass: float = 0.0
    """Dry."""
    wet_mass: float = 0.0
    """Allowed for water in foam that is not sealed in."""
    buoyancy: float = 0.0
    """What its foam bears in fresh water, less its own mass and the water in it."""
    air_volume: float = 0.0
    """Of a sealed one: what foam leaves."""
    contact: float = 0.0
    """Length of members round it that are bonded to the bottom, in the skin."""
    insulation: Insulation | None = None
    drains: tuple[Drain, ...] = ()
    """Of each of its bays; none for a sealed one."""
    access: str = ""
    problems: tuple[Placed, ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def drained(self) -> bool:
        """Whether all but a wet corner of it runs to the bilge."""
        return all(drain.dry for drain in self.drains)


@dataclass(frozen=True, slots=True, kw_only=True)
class Cavities:
    """Every cavity of a layout, and what is amiss with no single one of them."""

    readings: tuple[CavityReading, ...]
    problems: tuple[Placed, ...] = ()

    @property
    def foam_mass(self) -> float:
        """Dry foam in the boat [kg]."""
        return sum(each.foam_mass * each.count for each in self.readings)

    @property
    def wet_mass(self) -> float:
        """Water allowed for in the boat's foam [kg]."""
        return sum(each.wet_mass * each.count for each in self.readings)

    @property
    def buoyancy(self) -> float:
        """What the boat's foam bears, less its mass and the water in it [kg]."""
        return sum(each.buoyancy * each.count for each in self.readings)

    @property
    def notes(self) -> tuple[str, ...]:
        """What holds for all of them."""
        return (ROOM, LEVEL, *((FOAM,) if any(each.foam_volume > 0 for each in self.readings) else ()))

    @property
    def amiss(self) -> tuple[Placed, ...]:
        """Everything wrong, each with its place."""
        return (*(placed for each in self.readings for placed in each.problems), *self.problems)


def cavities(
    layout: Layout,
    found: Found,
    shell: Shell,
    sizes: Mapping[str, MemberSize],
    solids: Mapping[str, Solid],
) -> Cavities:
    """Return what every cavity of a layout holds, and how it drains.

    Parameters
    ----------
    layout
        The plan.
    found
        What is found in it.
    shell
        The hull bottom.
    sizes
        Of sections, by id.
    solids
        Materials that may fill a cavity, by id.

    Returns
    -------
    Cavities
        In the order drawn; problems are in the readings, each with its place on the plan.
    """
    standing = Standing(layout, found)
    sites = [site_of(cavity, standing) for cavity in layout.cavities]
    bilges = {stand for site in sites if site.cavity.use is Use.BILGE for stand in site.everywhere}
    sealed = {stand for site in sites if site.cavity.sealed for stand in site.everywhere}
    drains = Drains(standing, shell, bilges, sealed)
    problems = [*drains.amiss, *claimed_twice(sites, standing)]
    if layout.cavities and not drains.any_bilge:
        problems.append(
            Placed(
                problem=Problem(
                    "No cavity that can take water is a bilge: nothing drains.",
                    f"layout '{layout.name}' ({layout.id})",
                    "Give the cavity with the pump or the drain plug the use 'bilge'.",
                ),
                at=layout.cavities[0].anchors[0] if layout.cavities[0].anchors else (0.0, 0.0),
            )
        )
    return Cavities(
        readings=tuple(_reading(site, standing, shell, sizes, solids, drains) for site in sites),
        problems=tuple(problems),
    )


def _reading(
    site: Site,
    standing: Standing,
    shell: Shell,
    sizes: Mapping[str, MemberSize],
    solids: Mapping[str, Solid],
    drains: Drains,
) -> CavityReading:
    cavity, stands = site.cavity, site.stands
    problems = list(site.problems)
    size = size_of(cavity, stands, standing, shell, sizes)
    at = middle(standing, stands[0]) if stands else (cavity.anchors or ((0.0, 0.0),))[0]
    notes = list(size.notes)
    for what, remedy in size.wrong:
        problems.append(Placed(problem=Problem(what, where(cavity), remedy), at=at))
    solid = solids.get(cavity.foam) if cavity.foam else None
    if cavity.foam and solid is None:
        what = f"There is no fill material '{cavity.foam}'."
        problems.append(Placed(problem=Problem(what, where(cavity), "Choose one of the book."), at=at))
    foam = cavity.filled * size.volume if cavity.foam else 0.0
    mass = foam * 1e-9 * solid.density.value if solid else nan if cavity.foam else 0.0
    wet = 0.0 if cavity.sealed else cavity.wet * foam * 1e-9 * FRESH_WATER
    if cavity.insulation > 0:
        notes.append("its room is counted before its insulation")
    if solid:
        notes.append(FOAM)
        if solid.structural:
            notes.append(f"'{solid.name}' counts as no strength here")
    ways = () if cavity.sealed else tuple(drains.of(stand) for stand in stands)
    if drains.any_bilge:
        problems += [_stays(drain, cavity) for drain in ways if not drain.dry]
    return CavityReading(
        id=cavity.id,
        name=cavity.name,
        use=cavity.use,
        count=2 if site.image else 1,
        bays=tuple(dict.fromkeys(standing.found.bays[bay].id for bay, _ in stands)),
        sealed=cavity.sealed,
        level=size.level,
        depth=size.depth,
        area=size.area,
        volume=size.volume,
        foam_volume=foam,
        foam_mass=mass,
        wet_mass=wet,
        buoyancy=foam * 1e-9 * FRESH_WATER - mass - wet,
        air_volume=size.volume - foam if cavity.sealed else 0.0,
        contact=contact(standing.between(stands), shell),
        insulation=insulation(cavity.insulation, size.walls) if cavity.insulation > 0 else None,
        drains=ways,
        access=cavity.access,
        problems=tuple(problems),
        notes=tuple(notes),
    )


def _stays(drain: Drain, cavity: Cavity) -> Placed:
    if drain.stands is not None:
        what = f"Water stands {drain.stands:.0f} mm deep in {drain.path[0]} before it runs to the bilge."
        remedy = "Cut a limber hole at the lowest place."
    else:
        what = f"Water in {drain.path[0]} finds no way to the bilge."
        remedy = "Cut limber holes towards the bilge, or seal it; a drain overboard is not drawn here."
    return Placed(problem=Problem(what, where(cavity), remedy), at=drain.at)


__all__ = [
    "FOAM",
    "FRESH_WATER",
    "Cavities",
    "CavityReading",
    "Drain",
    "Insulation",
    "Shell",
    "cavities",
    "shell_of",
]
