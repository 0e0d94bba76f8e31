"""A section's numbers beside those of another library on the same regions, and why the two differ."""

from collections.abc import Callable
from dataclasses import dataclass
from math import inf

from stringerlab.assess.sections import section_properties
from stringerlab.errors import Problem, StringerlabError
from stringerlab.laminate import Moduli
from stringerlab.section import Plating, SectionShape
from stringerlab.section.second_opinion import (
    FINENESS,
    LIMIT,
    Opinion,
    ShearOpinion,
    Stresses,
    second_opinions,
    shear_opinion,
)
from stringerlab.section.torsion import Warping, regions, warping
from stringerlab.units import Kind

Watch = Callable[[float, str], None]

UNEVEN = (
    "It weights shear by E with one ratio of E to G for all, here {ratio:.3g}; in this section E/G runs from "
    "{least:.3g} to {greatest:.3g}, so its shear centre and shear stiffness are not this section's."
)
NOWHERE = 1e-6
"""Part of a section's size below which a place is 0: what is left of a symmetric mesh's rounding."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """One number by both."""

    key: str
    name: str
    kind: Kind
    ours: float
    theirs: float
    difference: float
    """Theirs against ours, part; of a place in parts of the section's size."""
    why: str = ""
    """Why the two may differ; empty where they should not."""

    @property
    def words(self) -> str:
        """The difference as it is read, starred where there is a reason for it."""
        said = f"{self.difference:+.2%}"
        return f"{'0.00%' if said[1:] == '0.00%' else said}{' *' if self.why else ''}"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SecondOpinion:
    """A section by both."""

    section: str
    rows: tuple[Difference, ...]
    bending: Opinion
    shear: ShearOpinion | None
    """None where there is none of torsion and shear: ``notes`` say why."""
    stresses: Stresses | None
    notes: tuple[str, ...] = ()


def second_opinion(
    shape: SectionShape,
    plating: Plating | None,
    *,
    fineness: int = FINENESS,
    limit: float = LIMIT,
    watch: Watch | None = None,
) -> SecondOpinion:
    """Return a section's numbers beside the other library's.

    Parameters
    ----------
    shape, plating
        The section and the strip of hull counted with it.
    fineness
        Triangles wanted at least for torsion and shear, roughly.
    limit
        Seconds each of its two processes may take.
    watch
        Told of the progress; ends the work, and the process, by raising.

    Raises
    ------
    StringerlabError
        When bending gets no second opinion: nothing to compute, laps, a crash or hang of the other process.
        What forbids only torsion and shear is in ``notes``.
    """
    ours = section_properties(shape, plating, Moduli.CONTRACTED)
    (theirs,) = second_opinions([(shape, plating, Moduli.CONTRACTED)], limit=limit, watch=_part(watch, 0.0))
    size = (ours.EI_1 / ours.EA) ** 0.5
    rows = [
        _row("EA", "EA", Kind.FORCE, ours.EA, theirs.EA),
        _place("y_na", "Neutral point, y", ours.y_na, theirs.y_na, size),
        _place("z_na", "Neutral axis, z", ours.z_na, theirs.z_na, size),
        _row("EI_y", "EI about y", Kind.BENDING_STIFFNESS, ours.EI_y, theirs.EI_y),
        _row("EI_z", "EI about z", Kind.BENDING_STIFFNESS, ours.EI_z, theirs.EI_z),
    ]
    where = f"section '{shape.name}'"
    try:
        own = warping(shape, plating)
        shear = shear_opinion(
            regions(shape, plating), where, fineness=fineness, limit=limit, watch=_part(watch, 0.5)
        )
    except StringerlabError as error:
        notes = tuple(
            f"No second opinion on torsion and shear: {_said(problem)}" for problem in error.problems
        )
        return SecondOpinion(
            section=shape.name, rows=tuple(rows), bending=theirs, shear=None, stresses=None, notes=notes
        )
    return SecondOpinion(
        section=shape.name,
        rows=(*rows, *_sheared(own, shear, size)),
        bending=theirs,
        shear=shear,
        stresses=shear.stresses,
        notes=() if shear.even else (_why(shear),),
    )


def _sheared(ours: Warping, theirs: ShearOpinion, size: float) -> tuple[Difference, ...]:
    why = "" if theirs.even else _why(theirs)
    return (
        _row("GJ", "GJ", Kind.BENDING_STIFFNESS, ours.GJ, theirs.GJ),
        _place("y_s", "Shear centre, y", ours.y_s, theirs.y_s, size, why),
        _place("z_s", "Shear centre, z", ours.z_s, theirs.z_s, size, why),
        _row("GA_y", "Shear stiffness along y", Kind.FORCE, ours.GA_y, theirs.GA_y, why),
        _row("GA_z", "Shear stiffness along z", Kind.FORCE, ours.GA_z, theirs.GA_z, why),
    )


def _why(shear: ShearOpinion) -> str:
    return UNEVEN.format(ratio=shear.ratio, least=shear.least_ratio, greatest=shear.greatest_ratio)


def _row(key: str, name: str, kind: Kind, ours: float, theirs: float, why: str = "") -> Difference:
    off = theirs / ours - 1 if ours else (0.0 if theirs == ours else inf)
    return Difference(key=key, name=name, kind=kind, ours=ours, theirs=theirs, difference=off, why=why)


def _place(key: str, name: str, ours: float, theirs: float, size: float, why: str = "") -> Difference:
    ours, theirs = (0.0 if abs(place) < NOWHERE * size else place for place in (ours, theirs))
    off = (theirs - ours) / size
    return Difference(key=key, name=name, kind=Kind.LENGTH, ours=ours, theirs=theirs, difference=off, why=why)


def _said(problem: Problem) -> str:
    return " ".join(part for part in (problem.what, problem.remedy) if part)


def _part(watch: Watch | None, begins: float) -> Watch | None:
    """Return a watch for one of two halves."""
    if watch is None:
        return None
    return lambda fraction, words: watch(begins + fraction / 2, words)
