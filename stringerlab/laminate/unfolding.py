"""A fabric of several layers taken apart: each layer a plain fabric of its own, laid at its own angle.

A ply's own numbers are the whole fabric's. Its dry weight is shared out as the layers' weights are; its
glass content is met by one factor on the resin of every layer; its angle turns them all.
"""

from collections.abc import Sequence
from dataclasses import replace

from stringerlab.errors import Problem
from stringerlab.laminate.records import Ply
from stringerlab.materials.checks import SAME_GLASS, SAME_WEIGHT
from stringerlab.materials.records import LAYERED, Layer, PlyKind, Reinforcement, Tested
from stringerlab.units.ranges import range_problems

Laid = tuple[Ply, Reinforcement]
"""A layer as a ply of its own, and the plain fabric it is of."""


def unfolded(ply: Ply, material: Reinforcement, where: str) -> tuple[list[Laid], list[Problem]]:
    """Return the layers of a ply's fabric away from the mould, each as a ply of a plain fabric.

    A ply of a plain fabric is its own only layer. A thickness typed for the ply is left to the caller: it is
    shared out as the layers' own thicknesses are.

    Parameters
    ----------
    ply, material
        The ply and its material.
    where
        How a person knows the ply, for the problems.

    Returns
    -------
    tuple
        Layers, none when there are problems; and the problems: a fabric that should have layers and states
        none, layers that do not add up to it, a layer of layers, tested values of the whole.
    """
    if not material.layers:
        if material.kind not in LAYERED:
            return [(ply, material)], []
        what = f"'{material.name}' is a {material.kind}, but states no layers."
        return [], [Problem(what, where, "Give each layer's kind, weight, glass content and angle.")]
    if problems := _problems(material, where):
        return [], problems
    dry = sum(layer.weight for layer in material.layers)
    scale = 1.0 if ply.weight is None else ply.weight / dry
    thinned = 1.0 if ply.glass is None else (1 / ply.glass - 1) * dry / _resin(material.layers)
    names = layer_names(material)
    found: list[Laid] = []
    for layer, name in zip(material.layers, names, strict=True):
        laid = Ply(
            material=material.id,
            angle=ply.angle + layer.angle,
            weight=None if ply.weight is None else scale * layer.weight,
            glass=None if ply.glass is None else 1 / (1 + thinned * (1 / layer.glass - 1)),
        )
        fabric = replace(
            material,
            name=name,
            kind=layer.kind,
            weight=layer.weight,
            glass=layer.glass,
            estimate=layer.estimate,
            layers=(),
        )
        problems += range_problems(replace(laid, angle=0.0), layer_place(material, fabric, where))
        found.append((laid, fabric))
    return ([], problems) if problems else (found, [])


def layer_names(material: Reinforcement) -> tuple[str, ...]:
    """Return what each layer of a fabric is called: ``1808, mat layer``; no two are called the same."""
    plain = [_name(material, layer) for layer in material.layers]
    return tuple(
        f"{name} ({number} of {len(plain)})" if plain.count(name) > 1 else name
        for number, name in enumerate(plain, start=1)
    )


def layer_words(material: Reinforcement, layer: Reinforcement) -> str:
    """Return what a layer is called within its fabric, ``mat layer``; empty for a plain fabric."""
    return "" if layer is material else layer.name.removeprefix(f"{material.name}, ")


def layer_place(material: Reinforcement, layer: Reinforcement, where: str) -> str:
    """Return how a person knows a layer of a fabric in a ply; the ply itself where it is plain."""
    return ", ".join(part for part in (where, layer_words(material, layer)) if part)


def _name(material: Reinforcement, layer: Layer) -> str:
    turned = layer.kind is PlyKind.UNIDIRECTIONAL or (layer.angle and layer.kind is not PlyKind.MAT)
    at = f" at {layer.angle:g}°".replace("-", "−") if turned else ""
    return f"{material.name}, {layer.kind} layer{at}"


def _resin(layers: Sequence[Layer]) -> float:
    """Return the resin of the layers as they state it [g/m²]."""
    return sum(layer.weight * (1 / layer.glass - 1) for layer in layers)


def _problems(material: Reinforcement, where: str) -> list[Problem]:
    problems: list[Problem] = []
    if material.tested != Tested() or material.coupons:
        what = f"'{material.name}' has tested values of the whole, but is reckoned layer by layer."
        remedy = "Test its layers as plies of their own, or enter the fabric as one of a plain kind."
        problems.append(Problem(what, where, remedy))
    problems += [
        Problem(
            f"layer {number} of '{material.name}' is a {layer.kind}, which is several layers itself.",
            where,
            "Give those layers one by one.",
        )
        for number, layer in enumerate(material.layers, start=1)
        if layer.kind in LAYERED
    ]
    dry = sum(layer.weight for layer in material.layers)
    if abs(dry - material.weight) > SAME_WEIGHT * material.weight:
        what = f"the layers of '{material.name}' weigh {dry:g} g/m² together, the fabric {material.weight:g}."
        problems.append(Problem(what, where, "Correct the weight of the fabric or of a layer."))
    glass = dry / (dry + _resin(material.layers))
    if abs(glass - material.glass) > SAME_GLASS:
        what = (
            f"the layers of '{material.name}' have a glass content of {glass:.3f} together, "
            f"the fabric {material.glass:g}."
        )
        problems.append(Problem(what, where, "Correct the glass content of the fabric or of a layer."))
    return problems
