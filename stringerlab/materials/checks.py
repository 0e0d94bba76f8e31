"""What is wrong in meaning with a set of materials: ids, references, sources, estimates that do not apply."""

from collections.abc import Iterator

from stringerlab.errors import Problem
from stringerlab.materials.book import AnyMaterial, Book, every
from stringerlab.materials.coupons import coupon_problems
from stringerlab.materials.estimating import APPLIES, other_estimate
from stringerlab.materials.records import LAYERED, GelCoat, Materials, Reinforcement
from stringerlab.units import rounded
from stringerlab.units.ranges import range_problems

SAME_WEIGHT = 0.01
"""How far the layers' weights together may be from the fabric's, as a part of it: stitching yarn."""
SAME_GLASS = 0.02
"""How far the layers' glass content together may be from the fabric's, which is stated to two digits."""


def material_problems(materials: Materials, *behind: Materials) -> list[Problem]:
    """Return everything wrong with a set of materials.

    Numbers out of range, empty names and sources, ids used twice, fibres and resins that are not there,
    estimates that do not know the kind of reinforcement,
    layers that are missing, that should not be there, or that do not add up to their fabric.

    Parameters
    ----------
    materials
        The set to check.
    behind
        Sets its references may also reach: the shipped book behind a project's own materials.
    """
    problems = range_problems(materials)
    seen: dict[str, str] = {}
    for record in every(materials):
        label = f"{_word(record)} '{record.name}' ({record.id})"
        if record.id in seen:
            what = f"its id is already that of {seen[record.id]}."
            problems.append(Problem(what, label, "Give each material an id of its own."))
        seen.setdefault(record.id, label)
        if not record.id.strip() or not record.name.strip():
            problems.append(Problem("has no id or no name.", label, "Give both."))
        problems.extend(_unsourced(record, label))
    book = Book.of(materials, *behind)
    for material in materials.reinforcements:
        problems.extend(_reinforcement_problems(material, book))
    return problems


def _word(record: AnyMaterial) -> str:
    return "gel coat" if isinstance(record, GelCoat) else type(record).__name__.lower()


def _unsourced(record: object, label: str) -> Iterator[Problem]:
    for name in getattr(type(record), "__dataclass_fields__", {}):
        value = getattr(record, name)
        words = name.replace("_", " ")
        if name == "tested":
            yield from _unsourced(value, f"{label}, tested")
        elif name == "source" and not value.strip():
            yield Problem("has no source.", label, "Say where its numbers come from.")
        elif hasattr(value, "source") and not value.source.strip():
            yield Problem("has no source.", f"{label}, {words}", "Say where the value comes from.")


def _reinforcement_problems(material: Reinforcement, book: Book) -> Iterator[Problem]:
    label = f"reinforcement '{material.name}' ({material.id})"
    if book.fibre(material.fibre) is None:
        yield Problem(f"there is no fibre '{material.fibre}'.", f"{label}, fibre", "Name one that is there.")
    if book.resin(material.resin) is None:
        yield Problem(f"there is no resin '{material.resin}'.", f"{label}, resin", "Name one that is there.")
    yield from coupon_problems(material, label)
    if material.layers or material.kind in LAYERED:
        yield from layer_problems(material, label)
    elif material.kind not in APPLIES[material.estimate]:
        what = f"'{material.estimate}' does not know a {material.kind} ply."
        yield Problem(what, f"{label}, estimate", other_estimate(material.kind))


def layer_problems(material: Reinforcement, where: str) -> Iterator[Problem]:
    """Yield what is wrong with the layers of a fabric, or with their being there or not.

    Parameters
    ----------
    material
        A fabric with layers, or of a kind that should have them.
    where
        How a person knows it.
    """
    if material.kind not in LAYERED:
        what = f"a {material.kind} ply has no layers."
        yield Problem(what, f"{where}, layers", f"Leave them out, or make it a {' or '.join(LAYERED)}.")
        return
    if not material.layers:
        what = f"a {material.kind} states its layers, and there are none."
        yield Problem(what, f"{where}, layers", "Give each layer's kind, weight, glass content and angle.")
        return
    for number, layer in enumerate(material.layers, start=1):
        place = f"{where}, layer {number}"
        if layer.kind in LAYERED:
            what = f"a {layer.kind} is several layers itself."
            yield Problem(what, f"{place}, kind", "Give those layers one by one.")
        elif layer.kind not in APPLIES[layer.estimate]:
            what = f"'{layer.estimate}' does not know a {layer.kind} ply."
            yield Problem(what, f"{place}, estimate", other_estimate(layer.kind))
    dry = sum(layer.weight for layer in material.layers)
    if not abs(dry - material.weight) <= SAME_WEIGHT * material.weight:
        what = f"its layers weigh {rounded(dry)} g/m² together, the fabric {rounded(material.weight)} g/m²."
        yield Problem(what, f"{where}, layers", "Correct the weight of the fabric or of a layer.")
    glass = dry / sum(layer.weight / layer.glass for layer in material.layers)
    if not abs(glass - material.glass) <= SAME_GLASS:
        what = (
            f"its layers have a glass content of {rounded(glass, 3)} together, the fabric {material.glass:g}."
        )
        yield Problem(what, f"{where}, layers", "Correct the glass content of the fabric or of a layer.")
