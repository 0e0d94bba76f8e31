"""Materials by id, a project's own before the shipped book's."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Protocol, TypeVar

from stringerlab.materials.records import (
    Adhesive,
    Core,
    Fibre,
    GelCoat,
    Materials,
    Reinforcement,
    Resin,
    Solid,
)

AnyMaterial = Resin | Fibre | Reinforcement | Core | GelCoat | Solid | Adhesive


def every(materials: Materials) -> tuple[AnyMaterial, ...]:
    """Return all materials of a set, whatever they are."""
    return (
        *materials.resins,
        *materials.fibres,
        *materials.reinforcements,
        *materials.cores,
        *materials.gel_coats,
        *materials.solids,
        *materials.adhesives,
    )


class _HasId(Protocol):
    @property
    def id(self) -> str: ...


_Record = TypeVar("_Record", bound=_HasId)


def _by_id(records: Iterable[_Record]) -> dict[str, _Record]:
    found: dict[str, _Record] = {}
    for record in records:
        found.setdefault(record.id, record)
    return found


@dataclass(frozen=True, slots=True)
class Book:
    """Lookup by id over several sets of materials, the first set first."""

    _resins: Mapping[str, Resin]
    _fibres: Mapping[str, Fibre]
    _reinforcements: Mapping[str, Reinforcement]
    _cores: Mapping[str, Core]
    _gel_coats: Mapping[str, GelCoat]
    _solids: Mapping[str, Solid]
    _adhesives: Mapping[str, Adhesive]
    _all: Mapping[str, AnyMaterial]

    @classmethod
    def of(cls, *sets: Materials) -> "Book":
        """Return a book of these sets; an earlier set's id comes before the same id in a later one."""
        return cls(
            _by_id(each for one in sets for each in one.resins),
            _by_id(each for one in sets for each in one.fibres),
            _by_id(each for one in sets for each in one.reinforcements),
            _by_id(each for one in sets for each in one.cores),
            _by_id(each for one in sets for each in one.gel_coats),
            _by_id(each for one in sets for each in one.solids),
            _by_id(each for one in sets for each in one.adhesives),
            _by_id(each for one in sets for each in every(one)),
        )

    def resin(self, id: str) -> Resin | None:  # noqa: A002
        """Return the resin of this id, or None."""
        return self._resins.get(id)

    def fibre(self, id: str) -> Fibre | None:  # noqa: A002
        """Return the fibre of this id, or None."""
        return self._fibres.get(id)

    def reinforcement(self, id: str) -> Reinforcement | None:  # noqa: A002
        """Return the reinforcement of this id, or None."""
        return self._reinforcements.get(id)

    def core(self, id: str) -> Core | None:  # noqa: A002
        """Return the core of this id, or None."""
        return self._cores.get(id)

    def gel_coat(self, id: str) -> GelCoat | None:  # noqa: A002
        """Return the gel coat of this id, or None."""
        return self._gel_coats.get(id)

    def solid(self, id: str) -> Solid | None:  # noqa: A002
        """Return the solid of this id, or None."""
        return self._solids.get(id)

    def adhesive(self, id: str) -> Adhesive | None:  # noqa: A002
        """Return the adhesive of this id, or None."""
        return self._adhesives.get(id)

    def find(self, id: str) -> AnyMaterial | None:  # noqa: A002
        """Return the material of this id, whatever it is, or None."""
        return self._all.get(id)

    def ids(self) -> tuple[str, ...]:
        """Return every id, to offer the nearest when one is mistyped."""
        return tuple(self._all)
