"""What a cubic millimetre of a ply, or a millimetre of a bead, weighs, costs and takes: kg, money, h.

The take-off's reckoning by the project's rates, taken apart so that it is linear in what is laid.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from stringerlab.assess.takeoff import METRE, SQUARE_METRE
from stringerlab.laminate.records import PlyNumbers
from stringerlab.layout import Rates
from stringerlab.materials import Book
from stringerlab.materials.records import Adhesive, Core, GelCoat, Reinforcement
from stringerlab.project import Project, book_of
from stringerlab.sizing.amounts import sound_rates
from stringerlab.units import unit_named

KG_PER_MM3 = unit_named("kg").factor / unit_named("m³").factor


class Taking(NamedTuple):
    """What so much of a thing takes: kg, money, h."""

    mass: float
    cost: float
    hours: float


@dataclass(frozen=True, slots=True)
class Pricing:
    """A project's materials and rates."""

    book: Book
    rates: Rates

    @classmethod
    def of(cls, project: Project) -> "Pricing":
        """Return a project's."""
        book = book_of(project)
        return cls(book, sound_rates(project.rates, book))

    def per_kg(self, material: str) -> float:
        """Return the price of a material, 0 where the user has set none."""
        return next((one.per_kg for one in self.rates.prices if one.material == material), 0.0)

    def of_ply(self, ply: PlyNumbers, material: str) -> Taking:
        """Return what a cubic millimetre of a resolved ply takes.

        Parameters
        ----------
        ply
            The ply.
        material
            Id of what it is of.
        """
        rates, found = self.rates, self.book.find(material)
        if not ply.thickness > 0:
            return Taking(0.0, 0.0, 0.0)
        mass = ply.mass / ply.thickness * KG_PER_MM3
        match found:
            case Reinforcement():
                dry = mass * ply.dry_weight / ply.mass
                bought = dry * (1 + rates.fabric_waste) * self.per_kg(found.id)
                bought += (mass - dry) * (1 + rates.resin_waste) * self.per_kg(found.resin)
                return self._worked(mass, bought, mass * rates.lay_up)
            case Core():
                bought = mass * (1 + rates.fabric_waste) * self.per_kg(found.id)
                return self._worked(mass, bought, mass * rates.lay_up)
            case GelCoat():
                bought = mass * (1 + rates.resin_waste) * self.per_kg(found.id)
                return self._worked(mass, bought, rates.gel_coating / SQUARE_METRE / ply.thickness)
            case _:
                return Taking(0.0, 0.0, 0.0)

    def of_adhesive(self, adhesive: Adhesive) -> Taking:
        """Return what a cubic millimetre of it takes, its work left out: that is by the bead's length."""
        mass = adhesive.density.value * KG_PER_MM3
        return Taking(mass, mass * (1 + self.rates.adhesive_waste) * self.per_kg(adhesive.id), 0.0)

    def of_beads(self) -> Taking:
        """Return what the bonding of a millimetre of bead takes."""
        return self._worked(0.0, 0.0, self.rates.bonding / METRE)

    def of_stack(self, plies: Sequence[tuple[PlyNumbers, str]]) -> Taking:
        """Return what a square millimetre of plies with their materials' ids takes."""
        each = [(ply.thickness, self.of_ply(ply, material)) for ply, material in plies]
        return Taking(
            sum(t * one.mass for t, one in each),
            sum(t * one.cost for t, one in each),
            sum(t * one.hours for t, one in each),
        )

    def _worked(self, mass: float, bought: float, hours: float) -> Taking:
        return Taking(mass, bought + hours * self.rates.hour, hours)


__all__ = ["Pricing", "Taking"]
