"""The table of what is measured of everything that stands side by side."""

from collections.abc import Sequence

from stringerlab.compare.records import Compared, Group, Measure
from stringerlab.compare.uses import said
from stringerlab.methods import FindingKind
from stringerlab.units import Kind

LAMINATE = "laminate:"
"""Begins the id of what members weigh in one laminate."""

_FIXED = (
    Measure(id="fills", name="fills and blocks drawn in", group=Group.MASS, kind=Kind.MASS, adds=True),
    Measure(id="adhesive", name="adhesive", group=Group.MASS, kind=Kind.MASS, adds=True),
    Measure(id="foam", name="foam in cavities", group=Group.MASS, kind=Kind.MASS, adds=True),
    Measure(id="inserts", name="inserts", group=Group.MASS, kind=Kind.MASS, adds=True),
    Measure(id="part", name="stringer part, all of it", group=Group.MASS, kind=Kind.MASS, plotted=True),
    Measure(id="hull", name="hull plating of the bottom", group=Group.MASS, kind=Kind.MASS),
    Measure(id="x", name="x of members and bead", group=Group.CENTRE, kind=Kind.LENGTH),
    Measure(id="z", name="z of members and bead", group=Group.CENTRE, kind=Kind.LENGTH),
    Measure(
        id="deflection",
        name="greatest deflection, common load",
        group=Group.STIFFNESS,
        kind=Kind.LENGTH,
        plotted=True,
    ),
    Measure(id="energy", name="strain energy under it", group=Group.STIFFNESS, kind=Kind.MOMENT),
    Measure(id="carried", name="part of it that members carry", group=Group.STIFFNESS, kind=Kind.RATIO),
    *(
        Measure(
            id=f"{what}:{kind.name.lower()}",
            name=f"{words} {said(kind)}",
            group=Group.USE,
            kind=Kind.COUNT if what == "short" else Kind.RATIO,
            plotted=what == "worst",
        )
        for kind in FindingKind
        for what, words in (
            ("worst", "worst utilisation"),
            ("mean", "mean utilisation"),
            ("short", "panels and spans short"),
        )
    ),
    Measure(id="bonded", name="bonded area on the bottom", group=Group.BOND, kind=Kind.AREA, plotted=True),
    Measure(id="beads", name="contact on the bottom, length of beads", group=Group.BOND, kind=Kind.LENGTH),
    Measure(id="side", name="contact up the hull's side", group=Group.BOND, kind=Kind.LENGTH),
    Measure(id="perimeter", name="contact in all", group=Group.BOND, kind=Kind.LENGTH),
    Measure(id="bead", name="adhesive in beads", group=Group.BOND, kind=Kind.VOLUME),
    Measure(id="length", name="length of members", group=Group.WORK, kind=Kind.LENGTH),
    Measure(id="fabric", name="fabric", group=Group.WORK, kind=Kind.AREA),
    Measure(id="bought", name="bought, with its waste", group=Group.WORK, kind=Kind.MASS),
    Measure(id="materials", name="materials", group=Group.WORK, unit="money"),
    Measure(id="hours", name="labour", group=Group.WORK, unit="h", plotted=True),
    Measure(id="labour", name="cost of labour", group=Group.WORK, unit="money"),
    Measure(id="cost", name="cost", group=Group.WORK, unit="money", plotted=True),
    Measure(id="room", name="volume of cavities", group=Group.ROOM, kind=Kind.VOLUME, plotted=True),
    Measure(id="foam_room", name="foam in them", group=Group.ROOM, kind=Kind.VOLUME),
    Measure(id="buoyancy", name="borne by foam", group=Group.ROOM, kind=Kind.MASS),
    Measure(id="undrained", name="cavities that keep water", group=Group.ROOM, kind=Kind.COUNT),
)


def measures_of(items: Sequence[Compared]) -> tuple[Measure, ...]:
    """Return everything measured: what members weigh in every laminate of any of them, then the rest."""
    names = dict.fromkeys(key for one in items for key in one.measured if key.startswith(LAMINATE))
    laminates = tuple(
        Measure(id=key, name=f"members in {_of(key)}", group=Group.MASS, kind=Kind.MASS, adds=True)
        for key in names
    )
    return (*laminates, *_FIXED)


def _of(key: str) -> str:
    return key.removeprefix(LAMINATE)


__all__ = ["LAMINATE", "measures_of"]
