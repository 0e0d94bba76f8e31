"""Layouts and boats side by side: what is measured of each, what is not known and why, what is said of it.

Numbers are in the program's units (N, mm, kg; h and the user's own currency besides).
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from stringerlab.craft import Bottom
from stringerlab.errors import Problem
from stringerlab.layout.found import Found
from stringerlab.layout.plan import Layout
from stringerlab.project import Project, Resolved
from stringerlab.units import Kind

FEWEST, MOST = 2, 6
"""Of what stands side by side."""


class Group(StrEnum):
    """What a measure is about."""

    MASS = "mass"
    CENTRE = "centre of gravity"
    STIFFNESS = "stiffness"
    USE = "utilisation"
    BOND = "bond"
    WORK = "materials and work"
    ROOM = "cavities"


@dataclass(frozen=True, slots=True, kw_only=True)
class Measure:
    """One thing measured of everything that stands side by side."""

    id: str
    name: str
    group: Group
    kind: Kind | None = None
    """None for what is no quantity of the unit system: see ``unit``."""
    unit: str = ""
    """Symbol, where there is no kind: ``h`` or the currency."""
    plotted: bool = False
    """Whether it is among the bars of the one-page plot."""
    adds: bool = False
    """Whether it is a part of the stringer part's mass."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """A measure's value of one of them; None where it is not known, and then ``why``."""

    value: float | None
    why: str = ""
    notes: tuple[str, ...] = ()
    unit: str = ""
    """Of a sum of money: its currency."""

    @property
    def is_known(self) -> bool:
        """Whether there is a value."""
        return self.value is not None


def unknown(why: str) -> Measured:
    """Return a value that is not known, and why."""
    return Measured(value=None, why=why)


@dataclass(frozen=True, slots=True, kw_only=True)
class Chosen:
    """What is to stand beside others: a boat by itself, or one layout of it."""

    project: Project
    layout: str = ""
    """Id of a layout; empty: the one in use, or the spans given by hand where none is."""
    parent: bool = False
    """Whether it is a boat that has held up in service."""
    service: str = ""
    """What a parent boat has been through."""
    file: str = ""
    """Where it comes from, as told."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Compared:
    """One of them, measured."""

    letter: str
    """A, B, … in the order given."""
    name: str
    """Of the layout, or of the boat where it has none."""
    boat: str
    chosen: Chosen
    resolved: Resolved
    layout: Layout | None
    found: Found | None
    bottom: Bottom | None
    """None where the stations give none."""
    measured: Mapping[str, Measured]
    """By the measure's id."""
    worst: str = ""
    """The subject and aspect used most, in words."""
    notes: tuple[str, ...] = ()
    problems: tuple[Problem, ...] = ()

    def value(self, measure: str) -> float | None:
        """Return a measure's value; None where it is not known, or nobody asked for it."""
        found = self.measured.get(measure)
        return None if found is None else found.value


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Comparison:
    """Two to six side by side; the first is what the others are held against."""

    items: tuple[Compared, ...]
    measures: tuple[Measure, ...]
    sentences: tuple[str, ...] = ()
    """Every other against the first."""
    missing: tuple[str, ...] = ()
    """What is not known of each, and why."""
    notes: tuple[str, ...] = ()
    by_id: Mapping[str, Measure] = field(default_factory=dict[str, Measure])

    def groups(self) -> tuple[tuple[Group, tuple[Measure, ...]], ...]:
        """Return the measures group by group, in the order of the groups."""
        return tuple(
            (group, found)
            for group in Group
            if (found := tuple(one for one in self.measures if one.group is group))
        )
