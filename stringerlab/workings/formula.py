"""``@formula``: a published formula as one small function over numbers or arrays.

The body is written in its clause's own units, stated by annotation. Called plainly it takes and
returns the program's units; ``.clause`` takes and returns the clause's. ``.math`` (Typst) and
``.text`` (one line) are generated from the syntax tree of the very function that runs.
"""

import inspect
from collections.abc import Callable, Mapping
from functools import cached_property, update_wrapper
from types import FunctionType
from typing import Any

import numpy as np
from numpy.typing import NDArray

from stringerlab.units import Range, Unit, unit_named, unit_of
from stringerlab.workings import display, tree
from stringerlab.workings.recording import Step, active
from stringerlab.workings.source import Source

_active = active.get

Array = NDArray[np.float64]
Value = float | int | Array | NDArray[np.integer[Any]] | NDArray[np.bool_]


class Formula:
    """A formula that computes, records itself and shows itself."""

    __slots__ = ("__dict__", "_same", "function")  # what every call looks up

    def __init__(
        self,
        function: FunctionType,
        *,
        symbol: str,
        unit: str | None,
        source: Source,
        valid: Mapping[str, Range],
        means: str,
    ) -> None:
        tree.refuse_at_once(function)
        self.function: Callable[..., Any] = function
        self.symbol = symbol
        self.source = source
        self.valid = dict(valid)
        self.unit, self.units = _units(function, unit)
        unknown = set(self.valid) - set(self.units)
        if unknown:
            raise TypeError(f"{function.__name__}: validity given for {unknown}, which it does not take")
        self.means = means or _first_line(function)
        self.name: str = function.__name__
        self.module: str = function.__module__
        self._factor = self.unit.factor
        self._factors = {name: unit.factor for name, unit in self.units.items()}
        self._in_order = tuple(self._factors.values())
        self._same = self._factor == 1.0 and all(factor == 1.0 for factor in self._in_order)
        update_wrapper(self, function)

    def __call__(self, *args: Value, **named: Value) -> Array:
        """Compute in the program's units; recorded when inside ``workings()``."""
        recording = _active()
        if recording is None:
            if not self._same:
                return self._converted(args, named)
            # an empty ** costs a third of the call
            return self.function(*args, **named) if named else self.function(*args)
        inputs = self._bound(args, named)
        return recording.add(Step(self, inputs, self._converted(args, named)))

    def clause(self, *args: Value, **named: Value) -> Array:
        """Compute in the clause's own units."""
        return self.function(*args, **named)

    def outside(self, inputs: Mapping[str, Value]) -> dict[str, NDArray[np.bool_]]:
        """Return, for each input with a stated range, where it lies outside; inputs in program units.

        The ends belong to the range, also when conversion of units puts a value a rounding beyond them.
        What is not a number is missing, not outside.
        """
        found: dict[str, NDArray[np.bool_]] = {}
        for name, allowed in self.valid.items():
            value = np.asarray(inputs[name], dtype=float) / self._factors[name]
            slack = 1e-9 * max(abs(end) for end in (allowed.low, allowed.high, 0.0) if np.isfinite(end))
            low = value <= allowed.low if allowed.above else value < allowed.low - slack
            mask = low | (value > allowed.high + slack)
            if mask.any():
                found[name] = mask
        return found

    @cached_property
    def body(self) -> tree.Body:
        """What the function's own syntax tree holds."""
        assert isinstance(self.function, FunctionType)
        return tree.read(self.function)

    @cached_property
    def math(self) -> str:
        """The displayed formula in Typst's mathematics."""
        return " \\ \n".join(display.equations(self.body, self.symbol, display.TYPST))

    @cached_property
    def text(self) -> str:
        """The displayed formula as one line of plain text."""
        return ", ".join(display.equations(self.body, self.symbol, display.PLAIN))

    def __reduce__(self) -> str:
        return self.name

    def __repr__(self) -> str:
        return f"<formula {self.module}.{self.name}>"

    def _converted(self, args: tuple[Value, ...], named: Mapping[str, Value]) -> Array:
        if len(args) > len(self._in_order):
            return self.function(*args, **named)
        values = [value if f == 1.0 else value / f for value, f in zip(args, self._in_order, strict=False)]
        if named:
            factors = self._factors
            by_name = {name: value / factors.get(name, 1.0) for name, value in named.items()}
            result = self.function(*values, **by_name)
        else:
            result = self.function(*values)
        return result if self._factor == 1.0 else result * self._factor

    @cached_property
    def _signature(self) -> inspect.Signature:
        return inspect.signature(self.function)

    def _bound(self, args: tuple[Value, ...], named: Mapping[str, Value]) -> dict[str, Value]:
        """Return every argument by name in the program's units, those left at their default too."""
        by_name = dict(zip(self.units, args, strict=False))
        by_name.update(named)
        if len(by_name) == len(args) + len(named) and by_name.keys() == self.units.keys():
            return {name: by_name[name] for name in self.units}
        given = self._signature.bind(*args, **named).arguments
        return {
            name: given[name] if name in given else parameter.default * self._factors[name]
            for name, parameter in self._signature.parameters.items()
        }


def formula(
    *,
    symbol: str,
    source: Source,
    unit: str | None = None,
    valid: Mapping[str, Range] | None = None,
    means: str = "",
) -> Callable[[FunctionType], Formula]:
    """Make a function a formula.

    Parameters
    ----------
    symbol
        The result's symbol, as a name: ``t_req``, ``sigma_d``, ``k_2``.
    source
        Where it is published and how well it is known.
    unit
        The result's unit where the return annotation does not carry it.
    valid
        Stated range of inputs, in the clause's units.
    means
        What the result is, in words; by default the docstring's first line.

    Raises
    ------
    TypeError
        When an argument or the result says no unit, or the function holds what no formula may.
    """

    def make(function: FunctionType) -> Formula:
        return Formula(function, symbol=symbol, unit=unit, source=source, valid=valid or {}, means=means)

    return make


def _first_line(function: FunctionType) -> str:
    """Return a docstring's first line as words: without full stop, names without their quotes."""
    return (function.__doc__ or "").strip().split("\n", 1)[0].rstrip(".").replace("``", "")


def _units(function: FunctionType, stated: str | None) -> tuple[Unit, dict[str, Unit]]:
    """Return the result's unit and each argument's."""
    annotations = inspect.get_annotations(function)
    if any(isinstance(annotation, str) for annotation in annotations.values()):
        annotations = inspect.get_annotations(function, eval_str=True)
    code = function.__code__
    names = code.co_varnames[: code.co_argcount + code.co_kwonlyargcount]
    units = {name: _unit(annotations.get(name), name, function) for name in names}
    if stated is None:
        return _unit(annotations.get("return"), "return", function), units
    result, returned = unit_named(stated), unit_of(annotations.get("return"))
    if returned is not None and returned != result:
        raise TypeError(f"{function.__name__}: the result is in '{result.symbol}' and in '{returned.symbol}'")
    return result, units


def _unit(annotation: Any, name: str, function: FunctionType) -> Unit:
    unit = unit_of(annotation)
    if unit is None:
        raise TypeError(f"{function.__name__}: '{name}' says no unit by its annotation, such as 'b: Mm'")
    return unit
