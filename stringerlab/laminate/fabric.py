"""The layers of one fabric as one ply: what a person reads of the fabric, never what is computed with.

Its moduli are those of its layers together, held flat: 1 along its roll, 2 across. It has no strengths: a
layer fails, not the fabric.
"""

import math
from collections.abc import Sequence
from dataclasses import replace

from stringerlab.laminate.records import PlyNumbers, Stack
from stringerlab.laminate.stiffness import dry_mass, engineering_constants, glass_content, mass, thickness
from stringerlab.laminate.strength import mark_of
from stringerlab.materials.records import PlyKind
from stringerlab.workings import weakest

_STIFFNESS = ("thickness", "E1", "E2", "G12", "nu12")


def as_one(name: str, layers: Sequence[PlyNumbers], angle: float) -> PlyNumbers:
    """Return the layers of a fabric as one ply; a lone layer as it is.

    Parameters
    ----------
    name
        The fabric's.
    layers
        Its layers as laid, at least one.
    angle
        Of its roll in the laminate [deg], as typed.

    Raises
    ------
    StringerlabError
        When the layers have no stiffness.
    """
    first = layers[0]
    if len(layers) == 1:
        return first
    roll = math.radians(angle)
    turned = [
        layer if layer.kind is PlyKind.MAT else replace(layer, angle=layer.angle - roll) for layer in layers
    ]
    along = Stack(name=name, plies=tuple(turned))
    constants = engineering_constants(along)
    known = weakest(mark_of(layer, *_STIFFNESS) for layer in layers)
    thick = weakest(mark_of(layer, "thickness") for layer in layers)
    return replace(
        first,
        name=name,
        kind=None,
        angle=roll,
        thickness=thickness(along),
        mass=mass(along),
        dry_weight=dry_mass(along),
        glass=glass_content(along),
        E1=constants.Ex,
        E2=constants.Ey,
        G12=constants.Gxy,
        nu12=constants.nu_xy,
        tension_1=None,
        compression_1=None,
        tension_2=None,
        compression_2=None,
        shear=None,
        flexural=None,
        interlaminar=None,
        marks=(("thickness", thick), *((each, known) for each in ("E1", "E2", "G12", "nu12"))),
        tested=(),
        layer="",
    )
