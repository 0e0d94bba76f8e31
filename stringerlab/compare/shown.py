"""A measure's values as a person reads them, metric or US: lengths and areas of members in m and m²."""

from stringerlab.compare.records import Group, Measure, Measured
from stringerlab.methods import utilisation_text
from stringerlab.units import Kind, System, format, in_unit, money, own_unit, rounded, unit_named

DIGITS = 3
NOT_KNOWN = "not known"
_LONG = (Group.BOND, Group.WORK)


def shown(measure: Measure, value: float, system: System, *, currency: str = "") -> str:
    """Return a value with its unit, to three digits."""
    if measure.id == "carried":
        return f"{100 * value:.0f} %"
    if measure.group is Group.USE and measure.kind is Kind.RATIO:
        return utilisation_text(value)
    if measure.kind is Kind.COUNT:
        return f"{value:.0f}"
    if measure.kind is None:
        return (
            money(value, currency) if measure.unit == "money" else f"{rounded(value, DIGITS)} {measure.unit}"
        )
    if measure.group in _LONG and measure.kind in (Kind.LENGTH, Kind.AREA):
        metric, us = ("m", "ft") if measure.kind is Kind.LENGTH else ("m²", "ft²")
        return in_unit(
            value, unit_named(metric if system is System.METRIC else us, measure.kind), digits=DIGITS
        )
    return format(value, measure.kind, system, digits=DIGITS)


def cell(measure: Measure, measured: Measured | None, system: System) -> str:
    """Return what stands in a table: the value, or that it is not known."""
    if measured is None or measured.value is None:
        return NOT_KNOWN
    return shown(measure, measured.value, system, currency=measured.unit)


def unit_of(measure: Measure, currency: str = "") -> str:
    """Return the symbol of the unit numbers are in, as JSON has it: the program's own."""
    if measure.kind is None:
        return currency if measure.unit == "money" else measure.unit
    return own_unit(measure.kind).symbol


__all__ = ["DIGITS", "NOT_KNOWN", "cell", "shown", "unit_of"]
