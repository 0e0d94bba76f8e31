"""Panels of very many designs: each laminate's rows made once, judged by the method's own formulas. mm."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, fields, replace
from math import nan, radians
from threading import RLock
from typing import Any, TypeVar

import numpy as np

from stringerlab.laminate import is_sandwich
from stringerlab.laminate.records import Stack
from stringerlab.layout import Panel, PanelCase
from stringerlab.methods import CraftRow, Method, PanelRows, Plies, SandwichRows, panel_rows, sandwich_rows
from stringerlab.sizing.judging.demands import Asked
from stringerlab.sizing.judging.lookups import Index, Lookup
from stringerlab.sizing.judging.pricing import Taking
from stringerlab.sizing.judging.tally import Tally
from stringerlab.sizing.judging.varied import Sizes
from stringerlab.sizing.records import Genes
from stringerlab.workings import Array

_Rows = TypeVar("_Rows", PanelRows, SandwichRows)
_ANY = Panel(id="", name="", b=100.0, l=100.0, x=0.0, deadrise=0.0)
"""A panel of no place: what a laminate's rows are made with."""


@dataclass(frozen=True, slots=True, eq=False)
class _Laid:
    """What lies at a panel: counted, the hull's own; and what a square millimetre of the latter takes."""

    case: PanelCase
    sandwich: bool
    taking: Taking
    back: Index | None = None
    """Of each of its plies, its place in the case's laminate; None: as they are."""


class Laid:
    """Laminates met under panels, each with a number; number 0 is none."""

    def __init__(self, method: Method) -> None:
        self._method = method
        self._lock = RLock()
        self._held: list[_Laid | None] = [None]
        self._known: dict[tuple[Stack, Stack | None, Taking], int] = {}

    def number(self, counted: Stack | None, hull: Stack | None, taking: Taking) -> int:
        """Return the number of what lies at a panel.

        Parameters
        ----------
        counted
            What counts; None where it is no laminate.
        hull
            The hull's own where a pan is counted with it.
        taking
            What a square millimetre of the hull's own takes.
        """
        if counted is None:
            return 0
        key = (counted, hull, taking)
        with self._lock:
            known = self._known.get(key)
            if known is None:
                known = self._known[key] = len(self._held)
                case = PanelCase(panel=_ANY, stack=counted, hull=hull)
                self._held.append(_Laid(case, is_sandwich(counted), taking))
            return known

    def reordered(self, number: int, back: Index | None) -> int:
        """Return the number of a laminate that is another with its plies in another order; see `Stacks`."""
        of = self._held[number]
        if of is None or back is None:
            return number
        with self._lock:
            self._held.append(replace(of, back=back))
            return len(self._held) - 1

    def __len__(self) -> int:
        """Return how many there are."""
        return len(self._held)

    def forget(self) -> None:
        """Forget every laminate: numbers given out before mean nothing any more."""
        self.__init__(self._method)

    def sorts(self, numbers: Index) -> Array:
        """Return of each (n,): 0 for none, 1 for a single skin, 2 for a sandwich."""
        distinct, of = _distinct(numbers)
        held = [self._held[number] for number in distinct]
        return np.array([0 if one is None else 1 + one.sandwich for one in held], float)[of]

    def taking(self, numbers: Index) -> tuple[Array, Array, Array]:
        """Return what a square millimetre of each takes (n,): kg, money, h."""
        distinct, of = _distinct(numbers)
        held = [self._held[number] for number in distinct]
        none = Taking(0.0, 0.0, 0.0)
        table = np.array([none if one is None else one.taking for one in held], float)[of]
        return table[:, 0], table[:, 1], table[:, 2]

    def rows(self, numbers: Index, make: Callable[..., _Rows]) -> _Rows:
        """Return the rows of laminates, all of one sort, as so many panels of no place."""
        distinct, of = _distinct(numbers)
        held = [one for number in distinct if (one := self._held[number]) is not None]
        places: dict[int, int] = {}
        at = np.array([places.setdefault(id(one.case), len(places)) for one in held], np.intp)
        cases = {id(one.case): one.case for one in held}
        rows = make([cases[one] for one in places], self._method.evaluation)
        if all(one.back is None for one in held) or isinstance(rows, SandwichRows):
            return _taken(rows, at[of])
        order: Index = np.tile(np.arange(rows.plies.t.shape[1], dtype=np.intp), (len(held), 1))
        for place, one in enumerate(held):
            if one.back is not None:
                order[place, : len(one.back)] = one.back
        return _taken(rows, at[of], order[of])


@dataclass(frozen=True, slots=True, eq=False)
class PanelPart:
    """A panel as it is judged and counted."""

    panel: Panel
    sizes: Sizes
    """Its own numbers that change: b, l."""
    laid: Lookup
    """Number of what lies there."""
    area: float | None
    """Of its plating with its mirror image [mm²]; None: b × l."""

    @property
    def columns(self) -> tuple[int, ...]:
        """Of genes it depends on."""
        return tuple(sorted({*self.sizes.columns, *self.laid.of.columns}))


class PanelCell:
    """Panels that depend on the same columns, in one setting of the boat."""

    def __init__(
        self, parts: Sequence[PanelPart], method: Method, craft: CraftRow, asked: Asked, laid: Laid
    ) -> None:
        self.parts, self.columns = tuple(parts), parts[0].columns
        self.method, self.craft, self.asked, self.laid = method, craft, asked, laid

    def tally(self, genes: Genes) -> Tally:
        """Return what the panels come to, of every design."""
        tally = Tally.of(len(genes), len(self.asked.demands))
        with np.errstate(all="ignore"):
            for part in self.parts:
                self._put(tally, genes, part)
        return tally

    def _put(self, tally: Tally, genes: Genes, part: PanelPart) -> None:
        n, panel = len(genes), part.panel
        b, l = (np.ones(n) * part.sizes.of(genes, name) for name in ("b", "l"))
        numbers = part.laid(genes)
        sorts = self.laid.sorts(numbers)
        tally.sound &= part.sizes.sound(genes) & (sorts > 0)
        area = b * l if part.area is None else part.area
        mass, cost, hours = self.laid.taking(numbers)
        tally.mass += area * mass
        tally.cost += area * cost
        tally.hours += area * hours
        for sort in (1, 2):
            some = np.flatnonzero(sorts == sort)
            if not len(some):
                continue
            if sort == 1:
                single = self.laid.rows(numbers[some], panel_rows)
                judged = self.method.judge_panels(
                    self.craft, replace(single, **_place(panel, b[some], l[some]))
                )
            else:
                cored = self.laid.rows(numbers[some], sandwich_rows)
                judged = self.method.judge_sandwiches(
                    self.craft, replace(cored, **_place(panel, b[some], l[some]))
                )
            part_tally = Tally.of(len(some), len(self.asked.demands))
            self.asked.put(part_tally, panel, judged)
            whole = tally.at(some)
            whole.add(part_tally)
            tally.put(some, whole)


def _place(panel: Panel, b: Array, l: Array) -> dict[str, Any]:
    n = len(b)
    return {
        "b": b,
        "l": l,
        "x": np.full(n, panel.x),
        "deadrise": np.full(n, radians(panel.deadrise)),
        "camber": np.full(n, panel.camber),
        "surface": panel.surface,
        "height": np.full(n, _number(panel.height)),
        "head": np.full(n, _number(panel.head)),
    }


def _taken(rows: _Rows, of: Index, order: Index | None = None) -> _Rows:
    """Return rows again and again, plies in another order; what is only said of them is left out."""
    values: dict[str, Any] = {}
    for field in fields(rows):
        value = getattr(rows, field.name)
        if isinstance(value, np.ndarray):
            values[field.name] = value[of]
        elif isinstance(value, Plies):
            values[field.name] = _plies(value, of, order)
        elif field.name.endswith("remarks"):
            values[field.name] = ()
    return replace(rows, **values)


def _plies(plies: Plies, of: Index, order: Index | None) -> Plies:
    def again(values: Array) -> Array:
        found = values[of]
        return found if order is None else np.take_along_axis(found, order, axis=1)

    return Plies(
        t=again(plies.t),
        E=again(plies.E),
        tension=again(plies.tension),
        compression=again(plies.compression),
        interlaminar=again(plies.interlaminar),
        marks=plies.marks[of],
        names=(),
        factor=None if plies.factor is None else again(plies.factor),
        interlaminar_factor=None if plies.interlaminar_factor is None else again(plies.interlaminar_factor),
    )


def _distinct(numbers: Index) -> tuple[list[int], Index]:
    distinct, of = np.unique(numbers, return_inverse=True)
    return [int(number) for number in distinct], np.asarray(of, np.intp).reshape(-1)


def _number(value: float | None) -> float:
    return nan if value is None else value


__all__ = ["Laid", "PanelCell", "PanelPart"]
