"""Every formula of the program: its symbols have a meaning, and its text has the value of its call."""

import importlib
import pkgutil
from collections.abc import Callable, Iterator
from typing import Any

import numpy as np
import pytest

import stringerlab
from stringerlab.units import Kind
from stringerlab.workings import Formula
from stringerlab.workings.display import PLAIN
from stringerlab.workings.nomenclature import NAMES, meaning

ROOMS = ("materials", "laminate", "craft", "section", "layout", "methods", "plate")


def _modules() -> Iterator[str]:
    there = {info.name for info in pkgutil.iter_modules(stringerlab.__path__)}
    for name in (f"stringerlab.{room}" for room in ROOMS if room in there):
        yield name
        inside = pkgutil.walk_packages(importlib.import_module(name).__path__, f"{name}.")
        yield from (info.name for info in inside)


def _formulas() -> list[Formula]:
    found = {
        id(value): value
        for name in _modules()
        for value in vars(importlib.import_module(name)).values()
        if isinstance(value, Formula)
    }
    return sorted(found.values(), key=lambda item: (item.module, item.name))


FORMULAS = _formulas()
every_formula = pytest.mark.parametrize("item", FORMULAS, ids=lambda item: f"{item.module}.{item.name}")


def test_formulas_are_found_in_materials_and_methods() -> None:
    rooms = {item.module.split(".")[1] for item in FORMULAS}
    assert {"materials", "methods"} <= rooms


def test_every_symbol_of_every_formula_has_a_meaning() -> None:
    missing = sorted(
        {
            f"{name} ({item.module.removeprefix('stringerlab.')}.{item.name})"
            for item in FORMULAS
            for name in (*item.units, item.symbol)
            if not meaning(name)
        }
    )
    assert missing == [], "no meaning in workings/nomenclature.py: " + ", ".join(missing)


def test_meanings_are_short_words_without_a_full_stop() -> None:
    unfit = {name for name, words in NAMES.items() if not 0 < len(words.strip()) <= 80 or words.endswith(".")}
    assert unfit == set()


def test_a_name_that_is_not_listed_means_nothing() -> None:
    assert meaning("no_such_name") == ""


@every_formula
def test_each_formula_says_what_its_result_is(item: Formula) -> None:
    assert item.means
    assert not item.means.endswith(".")


@every_formula
def test_each_formulas_text_has_the_value_of_its_call(item: Formula, read_plain: Callable[..., Any]) -> None:
    random = np.random.default_rng(len(item.name))
    compared = 0
    for _ in range(20):
        inputs = {name: _number(item, name, random) for name in item.units}
        with np.errstate(all="ignore"):
            called = float(item.clause(**inputs))
        values = {PLAIN.name(name): value for name, value in {**item.body.constants, **inputs}.items()}
        first, *rest = _equations(item)
        for equation in rest:
            symbol, text = equation.split(" = ", 1)
            values[symbol] = read_plain(text, values)
        symbol, text = first.split(" = ", 1)
        assert symbol == PLAIN.name(item.symbol)
        read = read_plain(text, values)
        if not isinstance(read, complex) and np.isfinite(called):
            assert read == pytest.approx(called, rel=1e-9, abs=1e-12)
            compared += 1
    assert compared >= 5


def _equations(item: Formula) -> list[str]:
    names = [PLAIN.name(name) for name, _ in item.body.assigned]
    text = item.text
    cuts = [text.index(f", {name} = ") for name in names]
    return [text[a:b].removeprefix(", ") for a, b in zip([0, *cuts], [*cuts, len(text)], strict=True)]


def _number(item: Formula, name: str, random: np.random.Generator) -> float:
    """Return a sensible number for an argument: in its stated range, else of its kind's usual size."""
    allowed = item.valid.get(name)
    if allowed is not None and np.isfinite(allowed.low) and np.isfinite(allowed.high):
        return float(random.uniform(allowed.low, allowed.high))
    kind = item.units[name].kind
    return float(random.uniform(0.05, 0.95) if kind is Kind.RATIO else random.uniform(1.0, 40.0))
