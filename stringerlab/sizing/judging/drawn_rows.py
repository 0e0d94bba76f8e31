"""Sections of every other kind: each combination drawn and measured exactly, once. N, mm, MPa.

On a level shell the plating is put to it by the parallel axis; on a sloping one it is drawn with it.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from stringerlab.assess.taken import taken_of
from stringerlab.assess.takeoff import priced_taken
from stringerlab.errors import StringerlabError
from stringerlab.laminate import resolve as resolved_laminate
from stringerlab.laminate import shear_strength
from stringerlab.laminate.records import Stack
from stringerlab.methods import Method
from stringerlab.project import Project
from stringerlab.project.section_shapes import drawn_deadrise, section_shape
from stringerlab.project.span_problems import member_height
from stringerlab.section import (
    Facts,
    Plating,
    Properties,
    SectionShape,
    facts,
    faults,
    lying_faults,
    properties,
)
from stringerlab.sizing.judging.bare import Bare, Exact
from stringerlab.sizing.judging.lookups import Lookup
from stringerlab.sizing.judging.pricing import Pricing
from stringerlab.sizing.records import Genes
from stringerlab.workings import Array

_NUMBERS = (
    "EA", "z_na", "EI", "base_width", "height", "web_area", "web_tau", "web_depth", "web_thickness",
    "crown_width", "crown_thickness", "free_edge", "mass", "cost", "hours", "level", "sound",
)  # fmt: skip
_FIBRES = ("E", "z_top", "z_bottom", "tension", "compression")


@dataclass(frozen=True, slots=True, eq=False)
class _Drawn:
    """One section as it is drawn."""

    shape: SectionShape
    slope: float


class DrawnSource:
    """A section of any kind, of every design.

    Parameters
    ----------
    section
        Its id.
    columns, counts
        Of genes it depends on, and how many values each column of genes has.
    drawn
        Returns the project with the section as those columns' values make it.
    method, pricing
        Whose strengths and moduli, and what it is priced by.
    platings
        The stack of a plating's number.
    """

    def __init__(
        self,
        section: str,
        columns: Sequence[int],
        counts: Sequence[int],
        drawn: Callable[[tuple[int, ...]], Project],
        method: Method,
        pricing: Pricing,
        platings: Callable[[int], Stack],
    ) -> None:
        self.columns = tuple(columns)
        self._section, self._drawn, self._method, self._pricing = section, drawn, method, pricing
        self._platings = platings
        self._made: list[_Drawn | None] = []
        self._numbers = np.zeros((len(_NUMBERS), 0))
        self._fibres = {name: np.full((1, 0), np.nan) for name in _FIBRES}
        self._exact: dict[tuple[int, int, float], Exact] = {}
        self._lookup = Lookup(columns, counts, self._number)

    def __len__(self) -> int:
        """Return how many were drawn."""
        return max(len(self._made), len(self._exact))

    def forget(self) -> None:
        """Forget everything drawn."""
        self._made.clear()
        self._exact.clear()
        self._numbers = np.zeros((len(_NUMBERS), 0))
        self._fibres = {name: np.full((1, 0), np.nan) for name in _FIBRES}
        self._lookup.forget()

    def bare(self, genes: Genes) -> Bare:
        """Return the section of every design, without plating."""
        number = self._lookup(genes)
        table = self._numbers
        of = {name: table[place].take(number) for place, name in enumerate(_NUMBERS)}
        fibres = {name: held.take(number, axis=1) for name, held in self._fibres.items()}
        level, sound, free = (of.pop(name) > 0 for name in ("level", "sound", "free_edge"))
        return Bare(
            sound=sound,
            free_edge=free,
            **of,
            **fibres,
            exact=None if (level | ~sound).all() else np.where(level | ~sound, -1, number),
        )

    def exactly(self, number: int, plating: int, width: float) -> Exact:
        """Return what a section is worth with so much of a plating drawn with it."""
        key = (number, plating, width)
        known = self._exact.get(key)
        if known is None:
            known = self._exact[key] = self._measured(*key)
        return known

    def _measured(self, number: int, plating: int, width: float) -> Exact:
        drawn = self._made[number]
        assert drawn is not None
        method = self._method
        try:
            strip = Plating(stack=self._platings(plating), width=width, deadrise=drawn.slope)
            found = properties(drawn.shape, strip, method.moduli, _judging(method))
        except StringerlabError:
            none = np.full(1, np.nan)
            return Exact(EI=np.nan, E=none, z=none, tension=none, compression=none)
        fibres = found.fibres
        return Exact(
            EI=found.EI_y, E=fibres.E, z=fibres.z, tension=fibres.tension, compression=fibres.compression
        )

    def _number(self, values: tuple[int, ...]) -> int:
        try:
            drawn, measured, fibres = self._made_of(self._drawn(values))
        except StringerlabError:
            drawn, measured, fibres = None, {}, {}
        number = len(self._made)
        self._made.append(drawn)
        column = np.array([[measured.get(name, np.nan)] for name in _NUMBERS])
        column[_NUMBERS.index("sound")] = float(drawn is not None)
        self._numbers = np.hstack([self._numbers, column])
        for name, held in self._fibres.items():
            own = fibres.get(name, np.zeros(0))
            wider = np.full((max(len(held), len(own)), number + 1), np.nan)
            wider[: len(held), :number] = held
            wider[: len(own), number] = own
            self._fibres[name] = wider
        return number

    def _made_of(self, project: Project) -> tuple[_Drawn, dict[str, float], dict[str, Array]]:
        book = self._pricing.book
        section = next(one for one in project.sections if one.id == self._section)
        needed = {wall.laminate for wall in section.walls}
        stacks = {one.id: resolved_laminate(one, book) for one in project.laminates if one.id in needed}
        shape, slope = section_shape(section, book, stacks), drawn_deadrise(section)
        if wrong := [*faults(shape, slope), *lying_faults(section, shape, slope)]:
            raise StringerlabError(wrong)
        known = facts(shape, slope)
        taken = priced_taken(project, taken_of(project, book, section, shape, known).along(1.0), section.name)
        alone = _alone(shape, self._method)
        measured = {
            "base_width": known.base_width,
            "height": member_height(section) or 0.0,
            "web_area": known.web_area,
            "web_tau": _web_shear(known, self._method),
            "web_depth": known.web_depth,
            "web_thickness": known.web_thickness,
            "crown_width": known.crown_width,
            "crown_thickness": known.crown_thickness,
            "free_edge": float(known.free_edge),
            "mass": taken.mass(),
            "cost": taken.cost or 0.0,
            "hours": taken.hours or 0.0,
            "level": float(slope == 0 and alone is not None),
        }
        if alone is None:
            return _Drawn(shape, slope), measured, {}
        fibres = alone.fibres
        return (
            _Drawn(shape, slope),
            measured | {"EA": alone.EA, "z_na": alone.z_na, "EI": alone.EI_y},
            {
                "E": fibres.E,
                "z_top": fibres.z_top + alone.z_na,
                "z_bottom": fibres.z_bottom + alone.z_na,
                "tension": fibres.tension,
                "compression": fibres.compression,
            },
        )


def _alone(shape: SectionShape, method: Method) -> Properties | None:
    """Return what a section is worth without plating; None where nothing in it carries."""
    try:
        return properties(shape, None, method.moduli, _judging(method))
    except StringerlabError:
        return None


def _judging(method: Method) -> Callable[[Stack], Stack] | None:
    return None if method.evaluation.bare else method.evaluation.judged


def _web_shear(known: Facts, method: Method) -> float:
    found = [shear_strength(method.evaluation.judged(stack))[0] for stack in known.web_stacks]
    return float(np.min(found)) if found else np.nan


def alone(project: Project, sections: set[str]) -> Project:
    """Return a project with nothing but its laminates and some of its sections: quick to change."""
    kept = tuple(one for one in project.sections if one.id in sections)
    return replace(
        project, sections=kept, panels=(), spans=(), layouts=(), layout="", as_built=None, parent=None
    )


__all__ = ["DrawnSource", "alone"]
