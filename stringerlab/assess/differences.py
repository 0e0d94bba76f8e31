"""Why two methods read one aspect of one subject differently: the ratio of utilisations, split into parts.

In load, as a utilisation is: a pressure twice as high asks twice as much whatever its power in the clause.
The parts multiply to the whole. They are looked up by ``Method.parts`` in the workings themselves; what is
not behind a demand there is no part of it.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from stringerlab.methods import Finding, Method, Part
from stringerlab.units import Kind
from stringerlab.workings import Step
from stringerlab.workings.recording import row_of

CAPACITY = "capacity"
REST = "form and coefficients"
_STRESSES = (Part.DESIGN_STRESS, Part.DESIGN_SHEAR)
_BEHIND = (Part.ACCELERATION, Part.AREA_FACTOR, Part.LENGTH_FACTOR)
SAME = 5e-3
"""Part of a ratio below which two readings are called the same."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Number:
    """A number of the base method and of the other, in the program's units of ``kind``."""

    name: str
    base: float
    other: float
    kind: Kind

    @property
    def ratio(self) -> float:
        """The other's over the base's."""
        return self.other / self.base


@dataclass(frozen=True, slots=True, kw_only=True)
class Share:
    """One part of a difference: its factor in load, and the numbers it comes from, None for the rest."""

    name: str
    factor: float
    number: Number | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """Two methods' findings of one subject and aspect; either may be missing or not judged."""

    base_method: Method
    other_method: Method
    base: Finding | None
    other: Finding | None
    ratio: float | None
    """Utilisation by the other over that by the base, None where either has none."""
    shares: tuple[Share, ...] = ()
    """Their factors multiply to the ratio."""
    behind: tuple[Number, ...] = ()
    """Of the pressures: what went into them."""
    base_is_loaded: bool = True
    """Whether a pressure is behind the demand."""
    other_is_loaded: bool = True

    @property
    def same(self) -> bool:
        """Whether nothing differs worth a word, in the whole and in every part."""
        factors = [self.ratio, *(share.factor for share in self.shares)]
        return all(factor is not None and abs(factor - 1) < SAME for factor in factors)


def difference(
    base_method: Method, base: Finding | None, other_method: Method, other: Finding | None
) -> Difference:
    """Return how another method's finding differs from the base method's, of one subject and aspect."""
    ratio = _ratio(base, other)
    if ratio is None or base is None or other is None:
        return Difference(
            base_method=base_method, other_method=other_method, base=base, other=other, ratio=None
        )
    ours, theirs = _Side(base_method, base), _Side(other_method, other)
    shares = list(_shares(ours, theirs))
    named = math.prod(share.factor for share in shares)
    shares.append(Share(name=REST, factor=ratio / named))
    loaded = any(share.name == Part.PRESSURE for share in shares)
    return Difference(
        base_method=base_method,
        other_method=other_method,
        base=base,
        other=other,
        ratio=ratio,
        shares=tuple(shares),
        behind=tuple(number for part in _BEHIND if loaded and (number := _number(part, ours, theirs))),
        base_is_loaded=ours.value(Part.PRESSURE, ours.demand) is not None,
        other_is_loaded=theirs.value(Part.PRESSURE, theirs.demand) is not None,
    )


def _ratio(base: Finding | None, other: Finding | None) -> float | None:
    if base is None or other is None or not base.utilisation or other.utilisation is None:
        return None
    return other.utilisation / base.utilisation


class _Side:
    """One method's finding, with the steps its demand and its capacity came from."""

    def __init__(self, method: Method, finding: Finding) -> None:
        self.method, self.finding = method, finding
        # a demand or capacity that no step gave as it stands was made of steps all the same
        made = self._steps_of(finding.demand)
        self.capacity = self._steps_of(finding.capacity) or ()
        self.demand = finding.steps if made is None else made

    def value(self, part: Part, steps: Sequence[Step]) -> tuple[float, Kind] | None:
        """Return what the method calls the part in these steps, as a result or else as an input."""
        symbol = self.method.parts.get(part)
        if symbol is None:
            return None
        row = self.finding.row
        for step in reversed(steps):
            if step.formula.symbol == symbol and np.ndim(step.result) <= 1:
                return row_of(step.result, row), step.formula.unit.kind
        for step in reversed(steps):
            if symbol in step.inputs and np.ndim(step.inputs[symbol]) <= 1:
                return row_of(step.inputs[symbol], row), step.formula.units[symbol].kind
        return None

    def _steps_of(self, value: float | None) -> tuple[Step, ...] | None:
        finding = self.finding
        if finding.recording is None or value is None:
            return None
        for step in reversed(finding.steps):
            if (
                step.formula.unit.kind is finding.unit.kind
                and np.ndim(step.result) <= 1
                and row_of(step.result, finding.row) == value
            ):
                return finding.recording.behind(step.result)
        return None


def _shares(base: _Side, other: _Side) -> Sequence[Share]:
    shares: list[Share] = []
    pressure = _number(Part.PRESSURE, base, other)
    if pressure is not None:
        shares.append(Share(name=pressure.name, factor=pressure.ratio, number=pressure))
        for part in _STRESSES:
            stress = _number(part, base, other)
            if stress is not None:
                shares.append(Share(name=stress.name, factor=1 / stress.ratio, number=stress))
    capacity = _capacity(base, other, loaded=pressure is not None)
    return shares if capacity is None else [*shares, capacity]


def _number(part: Part, base: _Side, other: _Side) -> Number | None:
    """Return a part's numbers where both have one: a load behind the demand, a stress behind either."""
    everywhere = part in _STRESSES
    ours = base.value(part, (*base.capacity, *base.demand) if everywhere else base.demand)
    theirs = other.value(part, (*other.capacity, *other.demand) if everywhere else other.demand)
    if ours is None or theirs is None or not (_positive(ours[0]) and _positive(theirs[0])):
        return None
    return Number(name=part.value, base=ours[0], other=theirs[0], kind=ours[1])


def _capacity(base: _Side, other: _Side, *, loaded: bool) -> Share | None:
    """Return what is there by either method, less a design stress in it that has been counted."""
    ours, theirs = base.finding, other.finding
    if ours.unit.kind is not theirs.unit.kind or ours.power != theirs.power:
        return None
    if not (ours.capacity and theirs.capacity):
        return None
    factor = (ours.capacity / theirs.capacity) ** ours.power
    for part in _STRESSES if loaded else ():
        if _number(part, base, other) is None:
            continue
        held = [side.value(part, side.capacity) for side in (base, other)]
        if held[0] is not None and held[1] is not None:
            factor *= held[1][0] / held[0][0]
        elif held[0] is not None or held[1] is not None:
            return None
    if abs(factor - 1) < 1e-12:
        return None
    number = Number(name=CAPACITY, base=ours.capacity, other=theirs.capacity, kind=ours.unit.kind)
    return Share(name=CAPACITY, factor=factor, number=number)


def _positive(value: float) -> bool:
    return math.isfinite(value) and value > 0
