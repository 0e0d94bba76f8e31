"""Edits of a fabric's layers: how many, and each one's kind, weight, glass content and angle. No Qt.

The fabric's own weight and glass content are of the whole, so they follow its layers.
"""

import math
from dataclasses import replace

from stringerlab.materials.estimating import APPLIES
from stringerlab.materials.records import LAYERED, Estimate, Layer, PlyKind, Reinforcement
from stringerlab.workings import Known

ENTERED = "as entered"
"""Source of a value that a person typed and said nothing of."""
PLAIN_KINDS = tuple(kind for kind in PlyKind if kind not in LAYERED)
"""Kinds a layer may be of."""
MOST = 12
"""Layers of one fabric."""


def with_layer_number(material: Reinforcement, path: tuple[str, ...], number: float) -> Reinforcement:
    """Return a fabric with another number of layers, or another number in one of them.

    Parameters
    ----------
    material
        The fabric.
    path
        ``layers`` alone for how many; else ``layers``, which from 0, and ``weight``, ``glass`` or ``angle``.
    number
        The number; an angle in rad.
    """
    if len(path) == 1:
        return _counted(material, min(max(round(number), 0), MOST))
    name = path[2]
    value = float(f"{math.degrees(number):.12g}") if name == "angle" else number
    index = int(path[1])
    if getattr(material.layers[index], name) == value:
        return material
    changed = _with_layer(material, index, replace(material.layers[index], **{name: value}))
    return replace(changed, source=ENTERED, known=Known.STATED)


def with_layer_kind(material: Reinforcement, index: int, kind: PlyKind) -> Reinforcement:
    """Return a fabric with a layer of another kind, by an estimate that knows it."""
    layer = replace(material.layers[index], kind=kind)
    if kind not in APPLIES[layer.estimate]:
        layer = replace(layer, estimate=_first_estimate(kind))
    return _with_layer(material, index, layer)


def _with_layer(material: Reinforcement, index: int, layer: Layer) -> Reinforcement:
    layers = (*material.layers[:index], layer, *material.layers[index + 1 :])
    return _added_up(material, layers)


def _counted(material: Reinforcement, count: int) -> Reinforcement:
    held = material.layers
    if count == len(held):
        return material
    if count == 0:
        return replace(material, layers=())
    if not held:
        kind = PlyKind.UNIDIRECTIONAL
        one = Layer(
            kind=kind, weight=material.weight / count, glass=material.glass, estimate=_first_estimate(kind)
        )
        return _added_up(material, (one,) * count)
    return _added_up(material, (*held[:count], *(held[-1:] * (count - len(held)))))


def _added_up(material: Reinforcement, layers: tuple[Layer, ...]) -> Reinforcement:
    weight = sum(layer.weight for layer in layers)
    laid = sum(layer.weight / layer.glass for layer in layers)
    return replace(
        material,
        layers=layers,
        weight=float(f"{weight:.12g}"),
        glass=round(weight / laid, 3) if laid else material.glass,
    )


def _first_estimate(kind: PlyKind) -> Estimate:
    return next(estimate for estimate, kinds in APPLIES.items() if kind in kinds)
