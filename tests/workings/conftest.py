"""A reader of plain-text formulas that knows nothing of the program: text and values in, number out."""

import linecache
import math
import re
from collections.abc import Callable, Mapping
from itertools import count
from typing import Any

import pytest

import stringerlab.units as units
from stringerlab.workings import maths

_TOKEN = re.compile(
    r"\s*(?:(?P<raised>[⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+)|(?P<number>\d+(?:\.\d+)?)|(?P<name>[^\W\d]\w*(?:,\w+)*)|(?P<sign>[^\s\w]))"
)
_FUNCTIONS: dict[str, Callable[..., Any]] = {
    "exp": math.exp,
    "ln": math.log,
    "sin": math.sin,
    "cos": math.cos,
    "tan": math.tan,
    "tanh": math.tanh,
    "min": min,
    "max": max,
}
_RELATIONS: dict[str, Callable[[Any, Any], bool]] = {
    "<": lambda a, b: a < b,
    "≤": lambda a, b: a <= b,
    ">": lambda a, b: a > b,
    "≥": lambda a, b: a >= b,
    "=": lambda a, b: a == b,
    "≠": lambda a, b: a != b,
}


class _Reader:
    """Recursive descent with the usual precedence: or, and, comparison, sum, product, power."""

    def __init__(self, text: str, values: Mapping[str, Any]) -> None:
        self.tokens = list(_TOKEN.finditer(text))
        assert "".join(m.group().strip() for m in self.tokens) == re.sub(r"\s", "", text)
        self.at = 0
        self.values = values

    def whole(self) -> Any:
        value = self.either()
        assert self.at == len(self.tokens), f"left over from {self.at}: {self.tokens[self.at :]}"
        return value

    def peek(self) -> str:
        return self.tokens[self.at].group().strip() if self.at < len(self.tokens) else ""

    def take(self, *wanted: str) -> str:
        found = self.peek()
        assert not wanted or found in wanted, f"{found} where {wanted} belongs"
        self.at += 1
        return found

    def either(self) -> Any:
        value = self.both()
        while self.peek() == "or":
            self.take()
            other = self.both()
            value = value or other
        return value

    def both(self) -> Any:
        value = self.compared()
        while self.peek() == "and":
            self.take()
            other = self.compared()
            value = value and other
        return value

    def compared(self) -> Any:
        value = self.sum()
        if self.peek() in _RELATIONS:
            relation = _RELATIONS[self.take()]
            return relation(value, self.sum())
        return value

    def sum(self) -> Any:
        negative = self.peek() == "−"
        if negative:
            self.take()
        value = -self.product() if negative else self.product()
        while self.peek() in {"+", "−"}:
            value = value + self.product() if self.take() == "+" else value - self.product()
        return value

    def product(self) -> Any:
        value = self.power()
        while self.peek() in {"·", "/"}:
            value = value * self.power() if self.take() == "·" else value / self.power()
        return value

    def power(self) -> Any:
        value = self.atom()
        if self.peek() == "^":
            self.take()
            value = value ** self.atom()
            assert self.peek() != "^"
        return value

    def atom(self) -> Any:
        token = self.tokens[self.at]
        text = self.take()
        if token["number"]:
            value = float(text) if "." in text else int(text)
            if self.at < len(self.tokens) and self.tokens[self.at]["raised"]:
                assert text == "10"
                return float(f"1e{self.take().translate(str.maketrans('⁻⁰¹²³⁴⁵⁶⁷⁸⁹', '-0123456789'))}")
            return value
        if token["name"] and text in _FUNCTIONS and self.peek() == "(":
            return _FUNCTIONS[text](*self.listed())
        if token["name"]:
            return self.values[text]
        match text:
            case "(":
                value = self.either()
                self.take(")")
            case "√" | "∛":
                (value,) = self.listed()
                value = math.sqrt(value) if text == "√" else math.cbrt(value)
            case "|":
                value = abs(self.either())
                self.take("|")
            case "[":
                value = self.either()
                self.take("held")
                self.take("in")
                low = self.either()
                self.take("…")
                value = min(max(value, low), self.either())
                self.take("]")
            case "{":
                yes = self.either()
                self.take("if")
                condition = self.either()
                self.take(",")
                self.take("else")
                no = self.either()
                self.take("}")
                value = yes if condition else no
            case _:
                raise AssertionError(f"{text} begins no expression")
        return value

    def listed(self) -> list[Any]:
        self.take("(")
        values = [self.either()]
        while self.peek() == ",":
            self.take()
            values.append(self.either())
        self.take(")")
        return values


@pytest.fixture(scope="session")
def read_plain() -> Callable[[str, Mapping[str, Any]], Any]:
    """Return the value of a plain-text expression, names given as they are written (σ_d)."""
    return lambda text, values: _Reader(text, values).whole()


_numbered = count()


@pytest.fixture(scope="session")
def written() -> Callable[..., Any]:
    """Return a function made from source text, which stays readable as a module's would."""

    def write(source: str, **names: Any) -> Any:
        file = f"<written {next(_numbered)}>"
        linecache.cache[file] = (len(source), None, source.splitlines(keepends=True), file)
        scope: dict[str, Any] = {**vars(units), **vars(maths), **names}
        exec(compile(source, file, "exec"), scope)
        return scope["f"]

    return write
