"""Edits of the rates a take-off is priced by. A value that is already there gives the same project back."""

from dataclasses import replace
from typing import Any

from stringerlab.errors import StringerlabError
from stringerlab.layout.rates import Price, Rates
from stringerlab.project.records import Project
from stringerlab.units.ranges import range_problems


def with_rates(project: Project, **values: Any) -> Project:
    """Return the project with other rates, by field name: currency, waste, an hour's cost, hours by task.

    Raises
    ------
    StringerlabError
        When a value is out of its range.
    """
    return _with(project, replace(project.rates, **values))


def with_price(project: Project, material: str, per_kg: float | None) -> Project:
    """Return the project with another price of a material; None takes it out.

    Parameters
    ----------
    project
        The project.
    material
        Id of the material.
    per_kg
        In the project's own currency, for a kilogram.

    Raises
    ------
    StringerlabError
        When the price is out of its range.
    """
    prices = project.rates.prices
    fresh = () if per_kg is None else (Price(material=material, per_kg=per_kg),)
    at = next((i for i, price in enumerate(prices) if price.material == material), len(prices))
    kept = tuple(price for price in prices[at:] if price.material != material)
    return _with(project, replace(project.rates, prices=(*prices[:at], *fresh, *kept)))


def _with(project: Project, rates: Rates) -> Project:
    if rates == project.rates:
        return project
    wrong = range_problems(rates, "rates")
    if wrong:
        raise StringerlabError(wrong)
    return replace(project, rates=rates)
