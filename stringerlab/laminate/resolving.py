"""A laminate drawn up by material ids resolved to numbers, with every problem found at once."""

import dataclasses
import difflib
import math
from collections.abc import Mapping, MutableMapping, Sequence

from stringerlab.errors import Problem, StringerlabError
from stringerlab.laminate.records import Laminate, Ply, PlyCoupons, PlyNumbers, Role, Stack
from stringerlab.laminate.unfolding import Laid, layer_place, layer_words, unfolded
from stringerlab.materials import AnyMaterial, Book, Number, estimated
from stringerlab.materials.coupons import coupon_problems, glass_is_measured, used_coupons
from stringerlab.materials.records import Core, Fibre, GelCoat, PlyKind, Reinforcement, Resin, Sourced
from stringerlab.units.ranges import range_problems
from stringerlab.workings import Known

CORE_POISSON = Sourced(value=0.30, source="usual value for structural foam", known=Known.MEMORY_M)
_STATED = Known.STATED
_STRENGTHS = (
    "tension_1", "compression_1", "tension_2", "compression_2", "shear", "flexural", "interlaminar",
)  # fmt: skip
_TESTED = {
    "modulus_1": "E1",
    "modulus_2": "E2",
    "shear_modulus": "G12",
    "poisson": "nu12",
    **{name: name for name in _STRENGTHS},
}
"""A tested value's name in the material: the property it overrides."""


KnownPlies = MutableMapping[tuple[Ply, int], tuple[PlyNumbers, ...]]
"""Plies of one book resolved before, by what they are and their number in the laminate."""


def resolve(laminate: Laminate, book: Book, known: KnownPlies | None = None) -> Stack:
    """Return a laminate's plies as numbers; a fabric of several layers gives one ply a layer.

    Parameters
    ----------
    laminate
        As drawn up.
    book
        Where its materials are looked up.
    known
        Plies of this very book resolved before: they are not again, and others are put to them.

    Raises
    ------
    StringerlabError
        With every problem: no plies, unknown materials, numbers out of range, an estimate that does not
        apply, coupons without a lower bound above 0, a core without thickness or as the outermost ply, gel
        coat that is not first.
    """
    where = f"laminate '{laminate.name}' ({laminate.id})"
    problems = range_problems(laminate, where)
    if not laminate.plies:
        problems.append(Problem("has no plies.", where, "Add at least one reinforced ply."))
    else:
        problems.extend(_order_problems([_role(ply, book) for ply in laminate.plies], where))
    resolved: list[PlyNumbers] = []
    for number, ply in enumerate(laminate.plies, start=1):
        held = None if known is None else known.get((ply, number))
        if held is not None:
            resolved.extend(held)
            continue
        place = f"{where}, ply {number}"
        if range_problems(ply):
            problems.extend(_lookup_problems(ply, book, place))
            continue
        numbers, found = _resolved_ply(ply, book, place)
        problems.extend(found)
        numbered = tuple(dataclasses.replace(each, number=number) for each in numbers)
        resolved.extend(numbered)
        if known is not None and not found:
            known[ply, number] = numbered
    if problems:
        raise StringerlabError(problems)
    return Stack(name=laminate.name, plies=tuple(resolved))


def _role(ply: Ply, book: Book) -> Role | None:
    match book.find(ply.material):
        case Reinforcement():
            return Role.REINFORCED
        case Core():
            return Role.CORE
        case GelCoat():
            return Role.GEL_COAT
        case _:
            return None


def _lookup_problems(ply: Ply, book: Book, where: str) -> list[Problem]:
    if _role(ply, book) is not None:
        return []
    material = book.find(ply.material)
    if material is None:
        near = difflib.get_close_matches(ply.material, book.ids(), n=1)
        remedy = f"Did you mean '{near[0]}'?" if near else "Choose a material of the project or the book."
        return [Problem(f"there is no material '{ply.material}'.", where, remedy)]
    what = f"'{material.name}' is a {type(material).__name__.lower()}, which makes no ply."
    return [Problem(what, where, "Choose a reinforcement, a core or a gel coat.")]


def _resolved_ply(ply: Ply, book: Book, where: str) -> tuple[list[PlyNumbers], list[Problem]]:
    material = book.find(ply.material)
    match material:
        case Reinforcement():
            fibre, resin = book.fibre(material.fibre), book.resin(material.resin)
            if fibre is None or resin is None:
                missing = f"fibre '{material.fibre}'" if fibre is None else f"resin '{material.resin}'"
                what = f"its material '{material.name}' names the {missing}, which is not there."
                return [], [Problem(what, where, "Add it to the materials, or name another.")]
            if found := _range_problems((material, fibre, resin), where):
                return [], found
            return _laid(ply, material, fibre, resin, where)
        case Core() | GelCoat():
            if found := _range_problems((material,), where):
                return [], found
            numbers, found = _unreinforced(ply, material, where)
            return [] if numbers is None else [numbers], found
        case _:
            return [], _lookup_problems(ply, book, where)


def _laid(
    ply: Ply, material: Reinforcement, fibre: Fibre, resin: Resin, where: str
) -> tuple[list[PlyNumbers], list[Problem]]:
    """Return a fabric's layers, or the one ply of a plain fabric."""
    layers, problems = unfolded(ply, material, where)
    resolved = [] if problems else _each(layers, material, fibre, resin, where, problems)
    if problems or not material.layers or ply.thickness is None:
        return resolved, problems
    scale = ply.thickness / sum(layer.thickness for layer in resolved)
    measured = [
        (dataclasses.replace(layer, thickness=scale * plain.thickness), fabric)
        for (layer, fabric), plain in zip(layers, resolved, strict=True)
    ]
    return _each(measured, material, fibre, resin, where, problems), problems


def _each(
    layers: Sequence[Laid],
    material: Reinforcement,
    fibre: Fibre,
    resin: Resin,
    where: str,
    problems: list[Problem],
) -> list[PlyNumbers]:
    """Return a fabric's layers as numbers, none where there are problems, which are added to those known."""
    resolved: list[PlyNumbers] = []
    for layer, fabric in layers:
        numbers, found = _reinforced(layer, fabric, fibre, resin, layer_place(material, fabric, where))
        problems.extend(found)
        if numbers is not None:
            resolved.append(dataclasses.replace(numbers, layer=layer_words(material, fabric)))
    return [] if problems else resolved


def _range_problems(materials: Sequence[AnyMaterial], where: str) -> list[Problem]:
    return [
        problem
        for material in materials
        for problem in range_problems(material, f"{where}, material '{material.name}' ({material.id})")
    ]


def _reinforced(
    ply: Ply, material: Reinforcement, fibre: Fibre, resin: Resin, where: str
) -> tuple[PlyNumbers | None, list[Problem]]:
    weight = material.weight if ply.weight is None else ply.weight
    glass = Number(material.glass, material.known) if ply.glass is None else Number(ply.glass, _STATED)
    numbers, problems = estimated(material, fibre, resin, weight, glass, where)
    if problems:
        return None, problems
    if ply.thickness is not None:
        least = weight / fibre.density.value
        if ply.thickness < least:
            what = (
                f"its thickness of {ply.thickness:.4g} mm is less than its dry fibre's alone, {least:.3g} mm."
            )
            return None, [Problem(what, where, "Check thickness and dry weight.")]
        numbers["thickness"] = Number(ply.thickness, _STATED)
    overridden: list[str] = []
    for field, name in _TESTED.items():
        value: Sourced | None = getattr(material.tested, field)
        if value is not None:
            numbers[name] = Number(value.value, value.known)
            overridden.append(name)
    if problems := [*coupon_problems(material, f"{where}, material '{material.name}' ({material.id})")]:
        return None, problems
    coupons = _tested_coupons(material, glass.value, numbers)
    for one in coupons:
        numbers[one.name] = Number(one.value, Known.TESTED)
        overridden.append(one.name)
    if numbers["nu12"].value ** 2 >= numbers["E1"].value / numbers["E2"].value:
        what = f"Poisson's ratio {numbers['nu12'].value:g} cannot be with E1 and E2 of '{material.name}'."
        return None, [Problem(what, where, "Check the tested values: ν12² must be below E1/E2.")]
    turned = {
        PlyKind.MAT: 0.0,  # the same all round, so its angle says nothing
        PlyKind.DOUBLE_BIAS: math.radians(ply.angle + 45.0),
    }.get(material.kind, math.radians(ply.angle))
    strengths = {name: _or_none(numbers[name].value) for name in _STRENGTHS}
    marks = tuple((name, number.known) for name, number in numbers.items() if not math.isnan(number.value))
    return PlyNumbers(
        name=material.name,
        role=Role.REINFORCED,
        kind=material.kind,
        angle=turned,
        thickness=numbers["thickness"].value,
        mass=weight / glass.value,
        dry_weight=weight,
        glass=glass.value,
        E1=numbers["E1"].value,
        E2=numbers["E2"].value,
        G12=numbers["G12"].value,
        nu12=numbers["nu12"].value,
        tension_1=strengths["tension_1"],
        compression_1=strengths["compression_1"],
        tension_2=strengths["tension_2"],
        compression_2=strengths["compression_2"],
        shear=strengths["shear"],
        flexural=strengths["flexural"],
        interlaminar=strengths["interlaminar"],
        marks=marks,
        tested=tuple(overridden),
        coupons=coupons,
        glass_measured=ply.glass is not None or glass_is_measured(material, glass.value),
    ), []


def _tested_coupons(
    material: Reinforcement, glass: float, estimates: Mapping[str, Number]
) -> tuple[PlyCoupons, ...]:
    """Return what coupons give in place of the estimates, under ``PlyNumbers``' names."""
    return tuple(
        PlyCoupons(
            name=(name := _TESTED[tested.value]),
            mean=worth.coupons.mean,
            deviation=worth.coupons.deviation,
            count=worth.coupons.count,
            k=worth.k,
            value=worth.value,
            estimate=_or_none(estimates[name].value),
        )
        for tested, worth in used_coupons(material, glass).items()
        if worth.value is not None
    )


def _unreinforced(ply: Ply, material: Core | GelCoat, where: str) -> tuple[PlyNumbers | None, list[Problem]]:
    word = "core" if isinstance(material, Core) else "gel coat"
    problems: list[Problem] = []
    if ply.thickness is None:
        problems.append(Problem(f"the {word} '{material.name}' has no thickness.", where, "Give it in mm."))
    problems.extend(
        Problem(f"a {word} has no {given}.", where, "Leave it out.")
        for given, value in (("glass content", ply.glass), ("dry weight", ply.weight))
        if value is not None
    )
    if problems or ply.thickness is None:
        return None, problems
    plain = PlyNumbers(
        name=material.name,
        role=Role.GEL_COAT,
        kind=None,
        angle=0.0,
        thickness=ply.thickness,
        mass=material.density.value * ply.thickness,
        dry_weight=0.0,
        glass=0.0,
        E1=0.0,
        E2=0.0,
        G12=0.0,
        nu12=0.0,
        tension_1=None,
        compression_1=None,
        tension_2=None,
        compression_2=None,
        shear=None,
        flexural=None,
        interlaminar=None,
        marks=(("thickness", _STATED),),
    )
    if isinstance(material, GelCoat):
        return plain, []
    modulus = material.modulus
    return dataclasses.replace(
        plain,
        role=Role.CORE,
        ductile=material.ductile,
        E1=modulus.value,
        E2=modulus.value,
        G12=material.shear_modulus.value,
        nu12=CORE_POISSON.value,
        compression_1=material.compressive_strength.value,
        compression_2=material.compressive_strength.value,
        shear=material.shear_strength.value,
        marks=(
            *plain.marks,
            ("E1", modulus.known),
            ("E2", modulus.known),
            ("G12", material.shear_modulus.known),
            ("nu12", CORE_POISSON.known),
            ("compression_1", material.compressive_strength.known),
            ("compression_2", material.compressive_strength.known),
            ("shear", material.shear_strength.known),
        ),
    ), []


def _order_problems(roles: list[Role | None], where: str) -> list[Problem]:
    problems: list[Problem] = []
    laid = [index for index, role in enumerate(roles) if role is not Role.GEL_COAT]
    if not any(role in (Role.REINFORCED, None) for role in roles):
        problems.append(Problem("has no reinforced ply.", where, "Add at least one."))
    problems.extend(
        Problem("the gel coat is not first.", f"{where}, ply {index + 1}", "It goes next to the mould.")
        for index, role in enumerate(roles)
        if role is Role.GEL_COAT and laid and index > laid[0]
    )
    problems.extend(
        Problem("the core is the outermost ply.", f"{where}, ply {index + 1}", "Lay a skin over it.")
        for index in dict.fromkeys(laid[:1] + laid[-1:])
        if roles[index] is Role.CORE
    )
    return problems


def _or_none(value: float) -> float | None:
    return None if math.isnan(value) else value
