"""Tested coupons of a laminate's plies beside the estimates they stand in place of."""

from collections.abc import Iterator
from typing import Any

from stringerlab.cli.table import Column, paragraph, table
from stringerlab.laminate import Laminate, PlyNumbers, Stack
from stringerlab.laminate.records import PlyCoupons
from stringerlab.materials import Book
from stringerlab.materials.coupons import RULE, coupon_value, in_words, used_coupons
from stringerlab.methods import Method
from stringerlab.methods.evaluation import STRENGTHS, Level
from stringerlab.units import Kind, System, format

_COLUMNS = (
    Column("ply", 3, right=True),
    Column("property", 15),
    Column("mean", 10, right=True),
    Column("deviation", 9, right=True),
    Column("count", 5, right=True),
    Column("k", 6, right=True),
    Column("lower bound", 11, right=True),
    Column("by method", 10, right=True),
    Column("estimate", 10, right=True),
)


def coupon_lines(
    laminate: Laminate, stack: Stack, book: Book, method: Method, system: System
) -> Iterator[str]:
    """Yield the lines about tested coupons; none where no ply has any."""

    def shown(value: float | None) -> str:
        return "—" if value is None else format(value, Kind.STRESS, system)

    rows = [
        (
            str(number),
            one.name.replace("_", " "),
            shown(one.mean),
            shown(one.deviation),
            str(one.count),
            "—" if one.k is None else f"{one.k:.3f}",
            shown(one.value) if one.k is not None else "the mean",
            shown(method_value(ply, one, method)),
            shown(one.estimate),
        )
        for number, ply in zip(stack.numbers, stack.plies, strict=True)
        for one in ply.coupons
    ]
    unused = list(_unused(laminate, book))
    if not rows and not unused:
        return
    yield "Tested coupons, in place of the estimate"
    if rows:
        yield from table(_COLUMNS, rows)
    yield from (line for words in unused for line in paragraph(words, "  "))
    yield from paragraph(f"By rule: {RULE}.")
    if words := method.evaluation.words(Level.COUPONS):
        yield from paragraph(f"By method: {method.name}: {words}.")


def coupon_json(ply: PlyNumbers, method: Method) -> list[dict[str, Any]]:
    """Return what coupons gave of a ply, MPa."""
    return [
        {
            "property": one.name,
            "mean": one.mean,
            "deviation": one.deviation,
            "count": one.count,
            "k": one.k,
            "by_rule": one.value,
            "by_method": method_value(ply, one, method),
            "method": method.id,
            "estimate": one.estimate,
        }
        for one in ply.coupons
    ]


def method_value(ply: PlyNumbers, one: PlyCoupons, method: Method) -> float | None:
    """Return what a method makes of coupons: a strength by its evaluation, a modulus as it is."""
    return method.evaluation.strength(ply, one.name) if one.name in STRENGTHS else one.value


def _unused(laminate: Laminate, book: Book) -> Iterator[str]:
    for number, ply in enumerate(laminate.plies, 1):
        material = book.reinforcement(ply.material)
        if material is None or not material.coupons:
            continue
        glass = material.glass if ply.glass is None else ply.glass
        used = [worth.coupons for worth in used_coupons(material, glass).values()]
        for coupons in material.coupons:
            if not any(coupons is each for each in used):
                why = coupon_value(coupons, glass).why_not or "another set is nearer in glass content"
                count = "1 coupon" if coupons.count == 1 else f"{coupons.count} coupons"
                yield f"ply {number}, {in_words(coupons.property)}, {count}: not used: {why}"
