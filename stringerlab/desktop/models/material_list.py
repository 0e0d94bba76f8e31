"""Shipped and own materials as one list by kind, with a head over each kind, narrowed by words."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import QAbstractListModel, QObject, Qt
from PySide6.QtGui import QFont

from stringerlab.desktop.models.material_values import KINDS
from stringerlab.desktop.models.ply_rows import PLY_HEADS
from stringerlab.desktop.models.rows import NOWHERE, SECOND_LINE, Index, show_rows
from stringerlab.desktop.session import Session
from stringerlab.materials import AnyMaterial, shipped
from stringerlab.materials.book import every
from stringerlab.materials.records import Core, Materials, PlyKind, Reinforcement
from stringerlab.project import Project
from stringerlab.units import Kind, System, display_unit, format, in_unit, trimmed, unit_named

ROLE = Qt.ItemDataRole
_GLASS = "e_glass"
"""The shipped fibre whose share is called glass."""


@dataclass(frozen=True, slots=True)
class MaterialRow:
    """A material of the project's own or of the shipped book, or the head over a kind."""

    head: str
    material: AnyMaterial | None = None
    own: bool = False
    second: str = ""

    @property
    def key(self) -> tuple[str, bool, str]:
        """What makes it the same row although its values change."""
        return ("", self.own, self.material.id) if self.material else (self.head, False, "")


class MaterialList(QAbstractListModel):
    """Materials by kind, own ones first in each."""

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._rows: list[MaterialRow] = []
        self._words: tuple[str, ...] = ()
        self._kind: str = ""

    def narrow(self, text: str, kind: str = "") -> None:
        """Show only materials of a kind (empty for all) that have every one of these words."""
        self._words, self._kind = tuple(text.casefold().split()), kind
        self.refresh()

    def refresh(self) -> None:
        """Show the materials as they are now."""
        rows = list(self._wanted(self._session.shown, self._session.units))
        show_rows(self, self._rows, rows, lambda row: row.key)

    def at(self, row: int) -> MaterialRow | None:
        """Return what a row shows, None for a head or outside."""
        if not 0 <= row < len(self._rows) or self._rows[row].material is None:
            return None
        return self._rows[row]

    def row_of(self, id: str, own: bool) -> int:  # noqa: A002
        """Return the row of a material, −1 when it is not shown."""
        return next((i for i, row in enumerate(self._rows) if row.key == ("", own, id)), -1)

    def first(self) -> int:
        """Return the first row with a material, −1 when there is none."""
        return next((i for i, row in enumerate(self._rows) if row.material), -1)

    def rowCount(self, parent: Index = NOWHERE) -> int:
        """Return the number of rows, heads among them."""
        return 0 if parent.isValid() else len(self._rows)

    def data(self, index: Index, role: int = ROLE.DisplayRole) -> Any:
        """Return a material's name, the line under it, or its id."""
        if not index.isValid() or index.row() >= len(self._rows):
            return None
        row = self._rows[index.row()]
        if row.material is None:
            return row.head if role == ROLE.DisplayRole else _bold() if role == ROLE.FontRole else None
        match role:
            case ROLE.DisplayRole:
                return row.material.name
            case ROLE.UserRole:
                return row.material.id
            case ROLE.ToolTipRole | ROLE.AccessibleDescriptionRole:
                return f"{row.material.name} ({row.material.id}): {row.second}"
            case _:
                return row.second if role == SECOND_LINE else None

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Return that heads cannot be picked."""
        if not index.isValid() or self.at(index.row()) is None:
            return Qt.ItemFlag.NoItemFlags
        return Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable | Qt.ItemFlag.ItemNeverHasChildren

    def _wanted(self, project: Project, system: System) -> Iterator[MaterialRow]:
        for cls, kind in KINDS.items():
            if self._kind not in ("", kind):
                continue
            heads: dict[str, list[MaterialRow]] = {head: [] for head in _heads(cls, kind)}
            for own, held in ((True, project.materials), (False, shipped())):
                for material in _of(held, cls):
                    if self._matches(material, kind, own):
                        row = MaterialRow(kind, material, own, _second(material, own, system))
                        heads[_head(material, kind)].append(row)
            for head, rows in heads.items():
                if rows:
                    yield MaterialRow(head)
                    yield from rows

    def _matches(self, material: AnyMaterial, kind: str, own: bool) -> bool:
        said = f"{material.name} {material.id} {kind} {'own' if own else 'shipped'}"
        if isinstance(material, Reinforcement):
            said += f" {material.kind.value} {material.fibre} {material.resin}"
        folded = said.casefold()
        return all(word in folded for word in self._words)


def _heads(cls: type[AnyMaterial], kind: str) -> Sequence[str]:
    """Return the heads over a kind: one for each kind of ply where there are such."""
    return [PLY_HEADS[ply] for ply in PlyKind] if cls is Reinforcement else [kind]


def _head(material: AnyMaterial, kind: str) -> str:
    return PLY_HEADS[material.kind] if isinstance(material, Reinforcement) else kind


def _of(held: Materials, cls: type[AnyMaterial]) -> Sequence[AnyMaterial]:
    return [material for material in every(held) if type(material) is cls]


def _second(material: AnyMaterial, own: bool, system: System) -> str:
    whose = "own, " if own else ""
    if isinstance(material, Reinforcement):
        us_mat = system is System.US and material.kind is PlyKind.MAT  # US shops weigh mat by the square foot
        unit = unit_named("oz/ft²") if us_mat else display_unit(Kind.AREAL_MASS, system)
        weight = in_unit(material.weight, unit)
        fibre = "glass" if material.fibre == _GLASS else "fibre"
        return f"{whose}{weight}, {fibre} {trimmed(material.glass)}"  # the kind is the head over it
    density = format(material.density.value, Kind.DENSITY, system)
    if isinstance(material, Core):
        return f"{whose}{density}, G {format(material.shear_modulus.value, Kind.STRESS, system)}"
    return f"{whose}{density}"


def _bold() -> QFont:
    font = QFont()
    font.setBold(True)
    return font
