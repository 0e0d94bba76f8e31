"""What is wrong in meaning with a set of materials: ids, references, sources, estimates that do not apply."""

from collections.abc import Iterator

from stringerlab.errors import Problem
from stringerlab.materials.book import AnyMaterial, Book, every
from stringerlab.materials.estimating import APPLIES
from stringerlab.materials.records import GelCoat, Materials, Reinforcement
from stringerlab.units.ranges import range_problems


def material_problems(materials: Materials, *behind: Materials) -> list[Problem]:
    """Return everything wrong with a set of materials.

    Numbers out of range, empty names and sources, ids used twice, fibres and resins that are not there,
    estimates that do not know the kind of reinforcement.

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
    if material.kind not in APPLIES[material.estimate]:
        others = [other.value for other, kinds in APPLIES.items() if material.kind in kinds]
        what = f"'{material.estimate}' does not know a {material.kind} ply."
        yield Problem(what, f"{label}, estimate", f"Choose '{' or '.join(others)}'.")
