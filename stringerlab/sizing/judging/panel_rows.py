"""Panels of very many designs: each laminate's rows made once, judged by the method's own formulas. mm."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, fields, replace
from math import nan, radians
from threading import RLock
from typing import Any, TypeVar, cast

import numpy as np

from stringerlab.laminate import is_sandwich
from stringerlab.laminate.records import Stack
from stringerlab.layout import Panel, PanelCase
from stringerlab.methods import CraftRow, Method, PanelRows, Plies, SandwichRows, panel_rows, sandwich_rows
from stringerlab.methods.evaluation import Evaluation
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


class Laid:
    """Laminates met under panels, each with a number; number 0 is none."""

    def __init__(self, method: Method) -> None:
        self._method = method
        self._lock = RLock()
        self._held: list[_Laid | None] = [None]
        self._known: dict[tuple[Stack, Stack | None, Taking], int] = {}
        self._backs: dict[int, Index] = {}
        self._table: tuple[Array, ...] = tuple(np.zeros(0) for _ in range(5))
        self._rows: dict[int, int] = {}
        self._cases: dict[int, list[PanelCase]] = {1: [], 2: []}
        self._done = {1: 0, 2: 0}
        self._single: PanelRows | None = None
        self._cored: SandwichRows | None = None

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
            self._held.append(of)
            self._backs[len(self._held) - 1] = back
            return len(self._held) - 1

    def __len__(self) -> int:
        """Return how many there are."""
        return len(self._held)

    def forget(self) -> None:
        """Forget every laminate: numbers given out before mean nothing any more."""
        self.__init__(self._method)

    def sorts(self, numbers: Index) -> Array:
        """Return of each (n,): 0 for none, 1 for a single skin, 2 for a sandwich."""
        return self._told()[0].take(numbers)

    def taking(self, numbers: Index) -> tuple[Array, Array, Array]:
        """Return what a square millimetre of each takes (n,): kg, money, h."""
        _, mass, cost, hours = self._told()[:4]
        return mass.take(numbers), cost.take(numbers), hours.take(numbers)

    def single(self, numbers: Index) -> PanelRows:
        """Return the rows of single skins, as so many panels of no place."""
        with self._lock:
            told = self._told()
            rows = self._single = _more(self._single, self._fresh(1), panel_rows, self._method.evaluation)
        assert rows is not None
        of = told[4].astype(np.intp).take(numbers)
        if not self._backs:
            return _taken(rows, of)
        distinct, at = np.unique(numbers, return_inverse=True)
        order = np.tile(np.arange(rows.plies.t.shape[1], dtype=np.intp), (len(distinct), 1))
        for place, number in enumerate(distinct.tolist()):
            back = self._backs.get(number)
            if back is not None:
                order[place, : len(back)] = back
        return _taken(rows, of, order[at.reshape(-1)])

    def sandwiches(self, numbers: Index) -> SandwichRows:
        """Return the rows of sandwiches, as so many panels of no place."""
        with self._lock:
            told = self._told()
            rows = self._cored = _more(self._cored, self._fresh(2), sandwich_rows, self._method.evaluation)
        assert rows is not None
        return _taken(rows, told[4].astype(np.intp).take(numbers))

    def _told(self) -> tuple[Array, ...]:
        """Return of every laminate: its sort, what it takes (three), and its row among those of its sort."""
        with self._lock:
            if len(self._table[0]) < len(self._held):
                new = [self._telling(one) for one in self._held[len(self._table[0]) :]]
                columns = zip(self._table, np.array(new, float).T, strict=True)
                self._table = tuple(np.concatenate([held, fresh]) for held, fresh in columns)
            return self._table

    def _telling(self, one: _Laid | None) -> tuple[float, ...]:
        if one is None:
            return (0.0, 0.0, 0.0, 0.0, 0.0)
        sort = 1 + one.sandwich
        cases = self._cases[sort]
        row = self._rows.get(id(one.case))
        if row is None:
            row = self._rows[id(one.case)] = len(cases)
            cases.append(one.case)
        return (float(sort), *one.taking, float(row))

    def _fresh(self, sort: int) -> Sequence[PanelCase]:
        """Return the cases of a sort that have no row yet."""
        cases = self._cases[sort]
        done, self._done[sort] = self._done[sort], len(cases)
        return cases[done:]


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
                single = self.laid.single(numbers[some])
                judged = self.method.judge_panels(
                    self.craft, replace(single, **_place(panel, b[some], l[some]))
                )
            else:
                cored = self.laid.sandwiches(numbers[some])
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


def _more(
    rows: _Rows | None,
    cases: Sequence[PanelCase],
    make: Callable[..., _Rows],
    evaluation: Evaluation,
) -> _Rows | None:
    """Return rows with those of more cases put to them."""
    if not cases:
        return rows
    fresh = make(cases, evaluation)
    return fresh if rows is None else _joined(rows, fresh)


def _joined(rows: Any, more: Any) -> Any:
    """Return two records of rows as one; the narrower's plies padded with nan."""
    values: dict[str, Any] = {}
    for field in fields(rows):
        one, other = getattr(rows, field.name), getattr(more, field.name)
        if isinstance(one, np.ndarray):
            values[field.name] = np.concatenate(_as_wide(cast("Array", one), other))
        elif isinstance(one, Plies):
            values[field.name] = _joined(one, other)
        elif isinstance(one, tuple):
            values[field.name] = ()
    return replace(rows, **values)


def _as_wide(one: Array, other: Array) -> list[Array]:
    if one.ndim == 1:
        return [one, other]
    wide = max(one.shape[1], other.shape[1])
    pads = [((0, 0), (0, wide - held.shape[1])) for held in (one, other)]
    return [np.pad(held, pad, constant_values=np.nan) for held, pad in zip((one, other), pads, strict=True)]


def _number(value: float | None) -> float:
    return nan if value is None else value


__all__ = ["Laid", "PanelCell", "PanelPart"]
