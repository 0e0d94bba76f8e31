"""What is drawn from the store: the take-off in mass and in rolls, pails and cartridges. kg, mm², mm³.

The amounts are the take-off's own; here they only get the shop's units.
"""

from dataclasses import dataclass

from stringerlab.assess.taken import Sort
from stringerlab.assess.takeoff import Amount, TakeOff, take_off
from stringerlab.materials import Book
from stringerlab.materials.records import GelCoat, PlyKind, Reinforcement, Resin, Solid
from stringerlab.project import Project, Resolved, book_of
from stringerlab.report.shop.practice import Practice
from stringerlab.units import unit_named

_PER_M3 = unit_named("m³").factor
"""mm³ of a cubic metre: kg over kg/m³ is m³."""
_LITRE = unit_named("l").factor
_PEROXIDE = ("polyester", "vinylester", "vinyl ester", "isophthalic", "orthophthalic")
_OTHERWISE = ("epoxy", "phenolic", "polyurethane")


@dataclass(frozen=True, slots=True, kw_only=True)
class Store:
    """One material to draw: as the take-off has it, with what the shop counts it by."""

    amount: Amount
    kind: PlyKind | None = None
    weight: float = 0.0
    """Of fabric, dry [g/m²]."""
    area: float = 0.0
    """Of fabric or core, with waste [mm²]."""
    roll_run: float = 0.0
    """Of fabric, off a roll of the width stated, with waste [mm]."""
    rolls: float = 0.0
    volume: float = 0.0
    """Of what is poured or laid, with waste [mm³]."""
    pails: float = 0.0
    cartridges: float = 0.0
    catalyst: tuple[float, float] | None = None
    """Least and most peroxide [kg]; None for what is not known to take it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stores:
    """Everything to draw for the members of the take-off."""

    taken: TakeOff
    fabrics: tuple[Store, ...]
    resins: tuple[Store, ...]
    gel_coats: tuple[Store, ...]
    cores: tuple[Store, ...]
    fills: tuple[Store, ...]
    adhesives: tuple[Store, ...]


def stores(project: Project, resolved: Resolved, practice: Practice) -> Stores:
    """Return what is drawn from the store for a project's members.

    Parameters
    ----------
    project, resolved
        The document, and the same with ids swapped for objects.
    practice
        Rolls, pails, cartridges and the range of catalyst.
    """
    taken, book = take_off(project, resolved), book_of(project)

    def all_of(*sorts: Sort) -> tuple[Store, ...]:
        return tuple(_store(one, book, practice) for one in taken.total.amounts if one.sort in sorts)

    return Stores(
        taken=taken,
        fabrics=all_of(Sort.FABRIC),
        resins=all_of(Sort.RESIN),
        gel_coats=all_of(Sort.GEL_COAT),
        cores=all_of(Sort.CORE),
        fills=all_of(Sort.FILL),
        adhesives=all_of(Sort.ADHESIVE),
    )


def takes_peroxide(name: str) -> bool:
    """Return whether a resin is known by its name to cure by peroxide; of any other its data sheet says."""
    plain = name.casefold()
    return any(word in plain for word in _PEROXIDE) and not any(word in plain for word in _OTHERWISE)


def _store(amount: Amount, book: Book, practice: Practice) -> Store:
    more = amount.bought / amount.mass if amount.mass > 0 else 1.0
    material = book.find(amount.material)
    area = amount.area * more
    match amount.sort:
        case Sort.FABRIC:
            run = area / practice.roll_width.value
            kind, weight = (
                (material.kind, material.weight) if isinstance(material, Reinforcement) else (None, 0.0)
            )
            rolls = run / practice.roll_length.value
            return Store(amount=amount, kind=kind, weight=weight, area=area, roll_run=run, rolls=rolls)
        case Sort.RESIN | Sort.GEL_COAT:
            volume = 0.0
            if isinstance(material, Resin | GelCoat):
                volume = amount.bought / material.density.value * _PER_M3
            low, high = practice.catalyst_low.value, practice.catalyst_high.value
            return Store(
                amount=amount,
                volume=volume,
                area=area,
                pails=volume / (practice.pail.value * _LITRE),
                catalyst=(low * amount.bought, high * amount.bought) if takes_peroxide(amount.name) else None,
            )
        case Sort.ADHESIVE:
            volume = amount.volume * more
            return Store(
                amount=amount, volume=volume, cartridges=volume / (practice.cartridge.value * _LITRE)
            )
        case Sort.CORE | Sort.FILL:
            return Store(amount=amount, area=area, volume=amount.volume * more)


def is_foam(material: Solid) -> bool:
    """Return whether a fill is foam that is poured or cut for its room, not a block that carries load."""
    return not material.structural
