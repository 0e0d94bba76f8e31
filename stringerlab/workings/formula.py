"""``@formula``: a published formula as one small function over numbers or arrays.

The body is written in its clause's own units, stated by annotation. Called plainly it takes and
returns the program's units; ``.clause`` takes and returns the clause's. ``.math`` (Typst) and
``.text`` (one line) are generated from the syntax tree of the very function that runs.
"""

import ast
import inspect
import textwrap
from collections.abc import Callable, Mapping
from functools import cached_property, update_wrapper
from typing import Any

import numpy as np
from numpy.typing import NDArray

from stringerlab.units import Range, Unit, unit_named, unit_of
from stringerlab.workings import display
from stringerlab.workings.recording import Step, active
from stringerlab.workings.source import Source

Array = NDArray[np.float64]
Value = float | int | Array | NDArray[np.integer[Any]] | NDArray[np.bool_]


class Formula:
    """A formula that computes, records itself and shows itself."""

    def __init__(
        self,
        function: Callable[..., Any],
        *,
        symbol: str,
        unit: str | None,
        source: Source,
        valid: Mapping[str, Range],
        means: str,
    ) -> None:
        self.function = function
        self.symbol = symbol
        self.source = source
        self.valid = dict(valid)
        annotations = dict(inspect.get_annotations(function))
        returned = annotations.pop("return", None)
        self.unit: Unit = unit_named(unit) if unit is not None else _unit(returned, "return", function)
        self.units: dict[str, Unit] = {name: _unit(a, name, function) for name, a in annotations.items()}
        unknown = set(self.valid) - set(self.units)
        if unknown:
            raise TypeError(f"{function.__name__}: validity given for {unknown}, which it does not take")
        self.means = means or (inspect.getdoc(function) or "").split("\n", 1)[0]
        self.name: str = function.__name__
        self.module: str = function.__module__
        self._factors = tuple(unit.factor for unit in self.units.values())
        self._same = self.unit.factor == 1.0 and all(factor == 1.0 for factor in self._factors)
        update_wrapper(self, function)

    def __call__(self, *args: Value, **named: Value) -> Array:
        """Compute in the program's units; recorded when inside ``workings()``."""
        recording = active.get()
        if recording is None:
            if self._same:
                return self.function(*args, **named)
            return self._converted(args, named)
        inputs = dict(zip(self.units, args, strict=False)) | named
        result = self._converted((), inputs)
        recording.add(Step(self, inputs, result))
        return result

    def clause(self, *args: Value, **named: Value) -> Array:
        """Compute in the clause's own units."""
        return self.function(*args, **named)

    def outside(self, inputs: Mapping[str, Value]) -> dict[str, NDArray[np.bool_]]:
        """Return, for each input with a stated range, where it lies outside; inputs in program units."""
        found: dict[str, NDArray[np.bool_]] = {}
        for name, allowed in self.valid.items():
            value = np.asarray(inputs[name], dtype=float) / self.units[name].factor
            slack = 1e-9 * np.maximum(np.abs(value), 1.0)
            low = value <= allowed.low if allowed.above else value < allowed.low - slack
            mask = low | (value > allowed.high + slack)
            if mask.any():
                found[name] = mask
        return found

    @cached_property
    def tree(self) -> ast.FunctionDef:
        """The function's own syntax tree."""
        module = ast.parse(textwrap.dedent(inspect.getsource(self.function)))
        node = module.body[0]
        assert isinstance(node, ast.FunctionDef)
        return node

    @cached_property
    def math(self) -> str:
        """The displayed formula in Typst's mathematics."""
        return display.equation(self.tree, self.symbol, display.TYPST)

    @cached_property
    def text(self) -> str:
        """The displayed formula as one line of plain text."""
        return display.equation(self.tree, self.symbol, display.PLAIN)

    def substituted(self, numbers: Mapping[str, str], style: display.Style) -> str:
        """Return the right-hand side with numbers for symbols, in a display style."""
        return display.substitution(self.tree, numbers, style)

    def __repr__(self) -> str:
        return f"<formula {self.module}.{self.name}>"

    def _converted(self, args: tuple[Value, ...], named: Mapping[str, Value]) -> Array:
        values = [value if f == 1.0 else value / f for value, f in zip(args, self._factors, strict=False)]
        by_name = {
            name: value if self.units[name].factor == 1.0 else value / self.units[name].factor
            for name, value in named.items()
        }
        result = self.function(*values, **by_name)
        return result if self.unit.factor == 1.0 else result * self.unit.factor


def formula(
    *,
    symbol: str,
    source: Source,
    unit: str | None = None,
    valid: Mapping[str, Range] | None = None,
    means: str = "",
) -> Callable[[Callable[..., Any]], Formula]:
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
        When an argument has no unit annotation.
    """

    def make(function: Callable[..., Any]) -> Formula:
        return Formula(function, symbol=symbol, unit=unit, source=source, valid=valid or {}, means=means)

    return make


def _unit(annotation: Any, name: str, function: Callable[..., Any]) -> Unit:
    unit = unit_of(annotation)
    if unit is None:
        raise TypeError(f"{function.__name__}: '{name}' says no unit by its annotation, such as 'b: Mm'")
    return unit
