"""Numbers of a material that look like another unit's or like a share by volume: asked about, never blocked.

Dry weights in g/m², glass contents by mass, densities in kg/m³, moduli in MPa. The limits are ours: what
the trade sells and lays, with room around it.
"""

from collections.abc import Iterator, Mapping

from stringerlab.errors import Problem
from stringerlab.materials.coupons import coupon_doubts
from stringerlab.materials.records import (
    LAYERED,
    Core,
    Fibre,
    Materials,
    PlyKind,
    Reinforcement,
    Resin,
    Sourced,
)
from stringerlab.units import Kind, Range, trimmed, unit_named

USUAL_MAT = Range(120, 1300)
"""Mats are sold from about 150 to 900 g/m² (3 oz/ft²)."""
USUAL_FABRIC = Range(80, 2000)
"""Rovings, cloths and stitched fabrics are sold from about 100 to 1600 g/m²."""
USUAL_COMBINATION = Range(200, 3500)
"""Mat-stitched combinations and fabrics of three and four directions."""
USUAL_GLASS: Mapping[PlyKind, Range] = {
    PlyKind.MAT: Range(0.20, 0.45),
    PlyKind.WOVEN_ROVING: Range(0.36, 0.65),
    PlyKind.BIAXIAL: Range(0.38, 0.75),
    PlyKind.DOUBLE_BIAS: Range(0.38, 0.75),
    PlyKind.UNIDIRECTIONAL: Range(0.38, 0.78),
    PlyKind.TRIAXIAL: Range(0.38, 0.75),
    PlyKind.QUADRIAXIAL: Range(0.38, 0.75),
    PlyKind.MAT_STITCHED: Range(0.28, 0.70),
}
"""Glass contents by mass from poor hand lay-up to infusion."""
_OZ_YD2, _OZ_FT2 = unit_named("oz/yd²"), unit_named("oz/ft²")
_YARD_IN_FEET = 9.0
"""Square feet in a square yard."""
_LIGHTEST_CORE, _SOFTEST_FIBRE, _RESIN_MODULI = 25.0, 5000.0, Range(500.0, 10_000.0)
_POUNDS = unit_named("lb/ft³").factor


def weight_doubt(kind: PlyKind, weight: float) -> str:
    """Return what to ask about a dry weight, empty when nothing.

    Parameters
    ----------
    kind
        What the reinforcement is: mats are counted in oz/ft² in US shops, everything else in oz/yd².
    weight
        Dry weight [g/m²].
    """
    mat = kind is PlyKind.MAT
    usual = USUAL_MAT if mat else USUAL_COMBINATION if kind in LAYERED else USUAL_FABRIC
    if usual.holds(weight):
        return ""
    said = f"{trimmed(weight, 4)} g/m²"
    start = f"{said} is {'light' if weight < usual.low else 'heavy'} for a {kind}"
    if mat and weight < usual.low:
        ounces = f"{trimmed(weight / _OZ_YD2.factor, 3)} oz/yd²"
        meant = f"{trimmed(weight * _YARD_IN_FEET, 4)} g/m²"
        return f"{start}: it is {ounces}; oz/ft² meant? that is {meant}."
    if not mat and weight > usual.high and usual.holds(weight / _YARD_IN_FEET):
        ounces = f"{trimmed(weight / _OZ_FT2.factor, 3)} oz/ft²"
        meant = f"{trimmed(weight / _YARD_IN_FEET, 4)} g/m²"
        return f"{start}: it is {ounces}; oz/yd² meant? that is {meant}."
    if not mat and weight < usual.low and usual.holds(weight * _OZ_YD2.factor):
        meant = f"{trimmed(weight * _OZ_YD2.factor, 4)} g/m²"
        return f"{start}: {trimmed(weight)} oz/yd² meant? that is {meant}."
    return f"{start}: is it right?"


def glass_doubt(kind: PlyKind, glass: float) -> str:
    """Return what to ask about a glass content by mass, empty when nothing."""
    usual = USUAL_GLASS[kind]
    if usual.holds(glass):
        return ""
    if glass < usual.low:
        return (
            f"a glass content of {glass:g} by mass is little for a {kind}, which has {usual}: "
            "is it the share by volume?"
        )
    return (
        f"a glass content of {glass:g} by mass is much for a {kind}, which has {usual}: "
        "is it another ply's, or measured without the resin-rich side?"
    )


def material_doubts(materials: Materials) -> list[Problem]:
    """Return everything to be asked about a set of materials; nothing of it forbids their use.

    Dry weights that look like oz/yd² where oz/ft² is meant and the other way round, glass contents that look
    like shares by volume, densities in lb/ft³ and moduli in GPa that were taken for kg/m³ and MPa; coupons
    that are too few, or that another glass content was tested of.
    """
    found: list[Problem] = []
    for material in materials.reinforcements:
        found.extend(_reinforcement_doubts(material))
    for core in materials.cores:
        found.extend(_core_doubts(core))
    for fibre in materials.fibres:
        found.extend(_fibre_doubts(fibre))
    for resin in materials.resins:
        found.extend(_resin_doubts(resin))
    return found


def _reinforcement_doubts(material: Reinforcement) -> Iterator[Problem]:
    label = f"reinforcement '{material.name}' ({material.id})"
    parts = [(label, material.kind, material.weight, material.glass)]
    parts += [
        (f"{label}, layer {number}", layer.kind, layer.weight, layer.glass)
        for number, layer in enumerate(material.layers, start=1)
    ]
    for where, kind, weight, glass in parts:
        if words := weight_doubt(kind, weight):
            yield Problem(words, f"{where}, weight", "Say the weight with its unit, or leave it as it is.")
        if words := glass_doubt(kind, glass):
            yield Problem(words, f"{where}, glass", "Glass contents are by mass. Correct it, or leave it.")
    yield from coupon_doubts(material, label)


def _core_doubts(core: Core) -> Iterator[Problem]:
    density = core.density.value
    if density < _LIGHTEST_CORE:
        what = f"{trimmed(density)} kg/m³ is light for a core: {trimmed(density)} lb/ft³ meant?"
        meant = f"That is {trimmed(density * _POUNDS, 4)} kg/m³."
        yield Problem(what, f"core '{core.name}' ({core.id}), density", meant)


def _fibre_doubts(fibre: Fibre) -> Iterator[Problem]:
    for name, value in (("modulus", fibre.modulus), ("transverse modulus", fibre.transverse_modulus)):
        if value.value < _SOFTEST_FIBRE:
            yield _in_gpa(value, f"fibre '{fibre.name}' ({fibre.id}), {name}", "fibre")


def _resin_doubts(resin: Resin) -> Iterator[Problem]:
    where = f"resin '{resin.name}' ({resin.id}), modulus"
    if resin.modulus.value < _RESIN_MODULI.low:
        yield _in_gpa(resin.modulus, where, "resin")
    elif resin.modulus.value > _RESIN_MODULI.high:
        what = f"{trimmed(resin.modulus.value)} MPa is stiff for a cast resin: the laminate's, or in psi?"
        yield Problem(what, where, "The resin's own is meant, some 2 to 5 GPa.")


def _in_gpa(value: Sourced, where: str, word: str) -> Problem:
    what = f"{trimmed(value.value)} MPa is soft for a {word}: {trimmed(value.value)} GPa meant?"
    return Problem(
        what, where, f"That is {trimmed(value.value * unit_named('GPa', Kind.STRESS).factor)} MPa."
    )
