"""What a material holds, line by line, as a person reads and edits it. No Qt.

A value is in its record's unit (kg/m³, MPa, g/m², a bare ratio), which is the program's own for all of them.
"""

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, fields, replace
from enum import Enum
from functools import cache
from types import UnionType
from typing import Annotated, Any, Union, get_args, get_origin, get_type_hints

from stringerlab.desktop.models.layer_edits import ENTERED, PLAIN_KINDS, with_layer_kind, with_layer_number
from stringerlab.materials import AnyMaterial
from stringerlab.materials.records import (
    LAYERED,
    Adhesive,
    Core,
    Estimate,
    Fibre,
    GelCoat,
    PlyKind,
    Property,
    Reinforcement,
    Resin,
    Solid,
    Sourced,
    Tested,
)
from stringerlab.units import Kind, System, Unit, display_unit, in_unit, trimmed, unit_named
from stringerlab.workings import Known

KINDS: Mapping[type[AnyMaterial], str] = {
    Reinforcement: "Reinforcements",
    Core: "Cores",
    GelCoat: "Gel coats",
    Resin: "Resins",
    Fibre: "Fibres",
    Solid: "Foams, blocks and putties",
    Adhesive: "Adhesives",
}
"""Kinds of material in the order a browser shows them."""
_TESTED_SOURCE = "own test, as entered"

_WORDS = {
    "density": ("Density", "Mass of the solid material"),
    "modulus": ("Modulus", "Young's modulus"),
    "poisson": ("Poisson's ratio", "Contraction across over stretch along"),
    "transverse_tension_strain": (
        "Failing strain 2, tension",
        "Of an aligned ply laid with it, across its fibres",
    ),
    "transverse_compression_strain": (
        "Failing strain 2, compression",
        "Of an aligned ply laid with it, across its fibres",
    ),
    "shear_strain": ("Failing shear strain", "Of an aligned ply laid with it"),
    "transverse_modulus": ("Modulus across", "Young's modulus across the fibre"),
    "shear_modulus": ("Shear modulus", "Stiffness against shear"),
    "tension_strain": ("Failing strain 1, tension", "Of an aligned ply along its fibres"),
    "compression_strain": ("Failing strain 1, compression", "Of an aligned ply along its fibres"),
    "kind": ("Kind of ply", "Decides how its stiffness is estimated"),
    "fibre": ("Fibre", "What the fabric is made of"),
    "resin": ("Resin", "What it is laid with"),
    "weight": ("Dry weight", "Of the dry fabric, its nominal one"),
    "glass": ("Glass content", "By mass, as it is laid"),
    "angle": ("Angle", "Turns the roll's length to the layer's fibres"),
    "layers": ("Layers", "How many the fabric has; they count away from the mould"),
    "estimate": ("Estimate", "How the ply's properties follow from its glass content"),
    "shear_strength": ("Shear strength", "Stress at which it fails in shear"),
    "compressive_strength": ("Compressive strength", "Stress at which it is crushed"),
    "ductile": ("Yields before it breaks", "Whether it yields in shear before it breaks"),
    "strength": ("Strength", "Stress at which it fails or yields"),
    "structural": ("Counts for strength", "Foam never does; a block or a putty may"),
    "modulus_1": ("Modulus 1", "Along the ply's own fibres"),
    "modulus_2": ("Modulus 2", "Across the ply's own fibres"),
    "tension_1": ("Tensile strength 1", "Along the ply's own fibres"),
    "compression_1": ("Compressive strength 1", "Along the ply's own fibres"),
    "tension_2": ("Tensile strength 2", "Across the ply's own fibres"),
    "compression_2": ("Compressive strength 2", "Across the ply's own fibres"),
    "shear": ("Shear strength in plane", "Of the ply in its own axes"),
    "flexural": ("Flexural strength", "In bending"),
    "interlaminar": ("Interlaminar shear strength", "Between plies"),
}


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a material: a number with source and mark, a number without, or a choice."""

    path: tuple[str, ...]
    """Field, or ``tested`` and its field, or ``layers``, which from 0, and the layer's field."""
    value: Sourced | float | str | bool | None
    unit: Unit | None = None
    choices: tuple[str, ...] = ()
    optional: bool = False
    shared: tuple[str, Known] | None = None
    """Source and mark of a number that has none of its own: the record's."""

    @property
    def name(self) -> str:
        """What the line is called."""
        words = _WORDS[self.path[-1]][0]
        return f"Layer {int(self.path[1]) + 1}, {words.lower()}" if len(self.path) == 3 else words

    @property
    def tip(self) -> str:
        """What the line means."""
        return _WORDS[self.path[-1]][1]

    @property
    def number(self) -> float | None:
        """The number, None for a choice or nothing."""
        if isinstance(self.value, Sourced):
            return self.value.value
        return self.value if isinstance(self.value, float | int) and not self.choices else None

    @property
    def source(self) -> str:
        """Where the number comes from, empty for what has no source."""
        if isinstance(self.value, Sourced):
            return self.value.source
        return self.shared[0] if self.shared else ""

    @property
    def known(self) -> Known | None:
        """How well the number is known, None for what is no number."""
        if isinstance(self.value, Sourced):
            return self.value.known
        return self.shared[1] if self.shared else None

    def text(self, system: System) -> str:
        """Return the value with its unit."""
        if isinstance(self.value, bool):
            return "yes" if self.value else "no"
        if self.unit is None:
            return str(self.value)
        number = self.number
        if number is None:
            return "—"
        if self.unit.kind in (Kind.RATIO, Kind.COUNT):
            return f"{trimmed(number)} {self.unit.symbol}".rstrip()
        return in_unit(number * self.unit.factor, display_unit(self.unit.kind, system))


def lines_of(material: AnyMaterial, fibres: tuple[str, ...] = (), resins: tuple[str, ...] = ()) -> list[Line]:
    """Return a material's lines; a reinforcement's tested values come last.

    Parameters
    ----------
    material
        The material.
    fibres, resins
        Ids that a reinforcement may name.
    """
    offered = {"fibre": fibres, "resin": resins}
    shared = (material.source, material.known) if isinstance(material, Reinforcement) else None
    return list(_lines(material, (), offered, shared))


def with_number(material: AnyMaterial, line: Line, number: float | None) -> AnyMaterial:
    """Return a material with another number on a line.

    Another number is no longer the old source's: it is *as entered* until its source is said. None takes
    an optional value away.
    """
    if line.path[0] == "layers" and isinstance(material, Reinforcement):
        return with_layer_number(material, line.path, number or 0.0)
    if not isinstance(line.value, Sourced) and line.shared is not None:
        same = line.value == number
        changed = replace(material, **{line.path[0]: number})
        return changed if same else replace(changed, source=ENTERED, known=Known.STATED)
    if number is None:
        return _with(material, line.path, None)
    if isinstance(line.value, Sourced) and line.value.value == number:
        return material
    tested = line.path[0] == "tested"
    source, known = (_TESTED_SOURCE, Known.TESTED) if tested else (ENTERED, Known.STATED)
    return _with(material, line.path, Sourced(value=number, source=source, known=known))


def with_source(material: AnyMaterial, line: Line, source: str) -> AnyMaterial:
    """Return a material with another source on a line."""
    if isinstance(line.value, Sourced):
        return _with(material, line.path, replace(line.value, source=source))
    return replace(material, source=source) if isinstance(material, Reinforcement) else material


def with_known(material: AnyMaterial, line: Line, known: Known) -> AnyMaterial:
    """Return a material with another mark on a line."""
    if isinstance(line.value, Sourced):
        return _with(material, line.path, replace(line.value, known=known))
    return replace(material, known=known) if isinstance(material, Reinforcement) else material


def with_choice(material: AnyMaterial, line: Line, choice: str) -> AnyMaterial:
    """Return a material with another choice on a line."""
    if line.path[0] == "layers" and isinstance(material, Reinforcement):
        return with_layer_kind(material, int(line.path[1]), PlyKind(choice))
    made: dict[str, Callable[[str], Any]] = {
        "kind": PlyKind,
        "estimate": Estimate,
        "ductile": lambda word: word == "yes",
        "structural": lambda word: word == "yes",
    }
    return _with(material, line.path, made.get(line.path[-1], str)(choice))


def property_words(tested: Property) -> str:
    """Return what a tested property is called: ``Tensile strength 1``."""
    return _WORDS[tested.value][0]


def _lines(
    record: object,
    above: tuple[str, ...],
    offered: Mapping[str, tuple[str, ...]],
    shared: tuple[str, Known] | None,
) -> Iterator[Line]:
    tested: list[Line] = []
    for name, (unit, optional, sourced) in _shapes(type(record)).items():
        value = getattr(record, name)
        if name not in _WORDS and name != "tested":
            continue  # its name, source and mark
        if name == "estimate" and isinstance(record, Reinforcement) and record.kind in LAYERED:
            continue  # its layers name their own
        path = (*above, name)
        if name == "layers" and isinstance(record, Reinforcement):
            yield from _layer_lines(record, shared)
        elif isinstance(value, Tested):
            tested = list(_lines(value, path, offered, None))
        elif sourced:
            yield Line(path, value, unit, optional=optional)
        elif unit is not None:
            yield Line(path, value, unit, shared=shared)
        elif isinstance(value, bool):
            yield Line(path, value, choices=("yes", "no"))
        elif isinstance(value, Enum):
            yield Line(path, str(value.value), choices=tuple(str(one.value) for one in type(value)))
        elif name in offered:
            yield Line(path, str(value), choices=offered[name])
    yield from tested


def _layer_lines(material: Reinforcement, shared: tuple[str, Known] | None) -> Iterator[Line]:
    if not material.layers and material.kind not in LAYERED:
        return
    yield Line(("layers",), float(len(material.layers)), unit_named("pcs"), shared=shared)
    for number, layer in enumerate(material.layers):
        path = ("layers", str(number))
        yield Line((*path, "kind"), layer.kind.value, choices=tuple(kind.value for kind in PLAIN_KINDS))
        yield Line((*path, "weight"), layer.weight, unit_named("g/m²"), shared=shared)
        yield Line((*path, "glass"), layer.glass, unit_named(""), shared=shared)
        if layer.kind is not PlyKind.MAT:
            yield Line((*path, "angle"), math.radians(layer.angle), unit_named("rad"), shared=shared)


@cache
def _shapes(record: type) -> dict[str, tuple[Unit | None, bool, bool]]:
    """Return the unit of each field, whether it may be missing, and whether it has a source of its own."""
    hints = get_type_hints(record, include_extras=True)
    return {field.name: _shape(hints[field.name]) for field in fields(record) if field.name != "id"}


def _shape(annotation: Any) -> tuple[Unit | None, bool, bool]:
    optional = get_origin(annotation) in (Union, UnionType)
    if optional:
        annotation = next(one for one in get_args(annotation) if one is not type(None))
    if get_origin(annotation) is not Annotated:
        return None, optional, False
    base, *extras = get_args(annotation)
    unit = next((one for one in extras if isinstance(one, Unit)), None)
    return unit, optional, base is Sourced


def _with(material: AnyMaterial, path: tuple[str, ...], value: object) -> AnyMaterial:
    if path[0] == "tested" and isinstance(material, Reinforcement):
        changes: dict[str, Any] = {path[1]: value}
        return replace(material, tested=replace(material.tested, **changes))
    changes = {path[0]: value}
    return replace(material, **changes)
