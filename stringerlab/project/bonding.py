"""The adhesive of a section's bead, and edits of what is allowed of the bond."""

from dataclasses import replace

from stringerlab.errors import StringerlabError
from stringerlab.materials import Book
from stringerlab.materials.records import Adhesive, Sourced
from stringerlab.project.records import Project
from stringerlab.section.bond_forms import ADHESIVE_POISSON, shear_modulus
from stringerlab.section.records import Section
from stringerlab.units.ranges import range_problems
from stringerlab.workings import Known

BOOK_ADHESIVE = "mma"
"""The adhesive of a section with a bead that names none."""
ENTERED = "as entered"


def adhesive_of(section: Section, book: Book) -> Adhesive | None:
    """Return the adhesive of a section's bead; None where it has no bead or names one that is not there."""
    return book.adhesive(section.adhesive or BOOK_ADHESIVE) if section.bead > 0 else None


def bead_shear_modulus(section: Section, book: Book) -> float | None:
    """Return the shear modulus of the adhesive in a section's bead [MPa]; None where there is none."""
    adhesive = adhesive_of(section, book)
    if adhesive is None:
        return None
    return float(shear_modulus(E_a=adhesive.modulus.value, nu_a=ADHESIVE_POISSON))


def with_bonding(project: Project, field: str, value: float) -> Project:
    """Return the project with another of its allowances of the bond, as the user's own.

    Parameters
    ----------
    project
        The project.
    field
        A field of `Bonding`.
    value
        In the unit of the field.

    Raises
    ------
    StringerlabError
        When the value is out of its range.
    """
    held: Sourced = getattr(project.bonding, field)
    if held.value == value:
        return project
    entered = Sourced(value=value, source=ENTERED, known=Known.STATED)
    bonding = replace(project.bonding, **{field: entered})
    if wrong := range_problems(bonding, "bonding"):
        raise StringerlabError(wrong)
    return replace(project, bonding=bonding)
