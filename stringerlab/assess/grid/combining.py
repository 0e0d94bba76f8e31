"""Load cases: slam patches and equipment put together as combinations say. N, N·mm.

A layout without combinations of its own has: every slam patch alone; every load of equipment alone, a gyro's
torque either way; all weights at rest, and with every slam patch. Slam is always there without equipment too:
inertia never relieves it.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import Enum
from itertools import product
from typing import Any, cast, overload

import numpy as np
from scipy import sparse as scipy_sparse

from stringerlab.assess.grid.equipment import Element
from stringerlab.assess.grid.patches import Patches
from stringerlab.assess.grid.records import Acts, Array, Beams, Case, Ground, Index
from stringerlab.assess.grid.shares import Shares
from stringerlab.assess.grid.symmetry import Mirror
from stringerlab.grillage import Loads
from stringerlab.layout.plan import Combination, Source

sparse = cast(Any, scipy_sparse)
AT_REST = "all weights at rest"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Combined(Sequence[Case]):
    """Load cases, with their loads.

    First those that are solved: p slam patches, then the others. Then, where the grid is its own mirror
    image, the p mirrored patches; then, where weights stand with slam, all patches again with them. These
    are made when asked for: their extremes follow from those of the first.
    """

    patches: Patches
    slam: Any
    """(k, p) sparse."""
    others: Loads
    """q cases."""
    names: tuple[Case, ...]
    """(q,)."""
    rest: int | None
    """Which of the others is that of the weights that stand with slam, in the usual combinations."""
    mirror: Index | None
    """(k,) which station or point is each one's mirror image."""
    on_bottom: Array
    """(p,) the whole force of each patch [N]."""
    notes: tuple[str, ...]

    @property
    def on_beams(self) -> Array:
        """(p,) of each patch's force, what goes to beams [N]."""
        return np.asarray(self.slam.sum(axis=0)).ravel()

    @property
    def p(self) -> int:
        """How many patches are solved."""
        return int(self.slam.shape[1])

    @property
    def solved(self) -> int:
        """How many cases are solved."""
        return self.p + len(self.names)

    @property
    def slams(self) -> int:
        """How many patches there are, mirrored ones among them."""
        return self.p * (1 if self.mirror is None else 2)

    def __len__(self) -> int:
        return self.solved + self.slams - self.p + (0 if self.rest is None else self.slams)

    @overload
    def __getitem__(self, index: int) -> Case: ...
    @overload
    def __getitem__(self, index: slice) -> tuple[Case, ...]: ...
    def __getitem__(self, index: int | slice) -> Case | tuple[Case, ...]:
        if isinstance(index, slice):
            return tuple(self[each] for each in range(*index.indices(len(self))))
        if not -len(self) <= index < len(self):
            raise IndexError(f"there is no load case {index} of {len(self)}")
        kind, row = self._kind(index % len(self))
        if kind is _Kind.OTHER:
            return self.names[row]
        case = self.patches.case(row, starboard=kind in (_Kind.MIRRORED, _Kind.MIRRORED_WITH_REST))
        if kind in (_Kind.SLAM, _Kind.MIRRORED):
            return case
        return replace(case, name=f"{case.name}; with all weights at rest", acts=Acts.COMBINED)

    def _kind(self, index: int) -> "tuple[_Kind, int]":
        if index < self.p:
            return _Kind.SLAM, index
        if index < self.solved:
            return _Kind.OTHER, index - self.p
        index -= self.solved
        if index < self.slams - self.p:
            return _Kind.MIRRORED, index
        index -= self.slams - self.p
        return (_Kind.WITH_REST, index) if index < self.p else (_Kind.MIRRORED_WITH_REST, index - self.p)

    def of(self, cases: Sequence[int]) -> Loads:
        """Return the loads of some cases."""
        kinds = [self._kind(index) for index in cases]
        amount, nodal = cast(Any, self.others.amount), self.others.nodal
        other = [
            row if kind is _Kind.OTHER else self.rest if kind in _RESTED else None for kind, row in kinds
        ]
        plain = [row if kind in (_Kind.SLAM, _Kind.WITH_REST) else None for kind, row in kinds]
        turned = [row if kind in (_Kind.MIRRORED, _Kind.MIRRORED_WITH_REST) else None for kind, row in kinds]
        held = _chosen(other, len(self.names))
        found = self.slam @ _chosen(plain, self.p) + amount @ held
        if self.mirror is not None:
            found = found + self.slam[self.mirror] @ _chosen(turned, self.p)
        return Loads(
            beam=self.others.beam,
            along=self.others.along,
            amount=sparse.csc_matrix(found),
            nodal=None
            if nodal is None
            else np.asarray(nodal.reshape(-1, len(self.names)) @ held.toarray()).reshape(
                *nodal.shape[:2], len(cases)
            ),
        )


class _Kind(Enum):
    SLAM = 0
    OTHER = 1
    MIRRORED = 2
    WITH_REST = 3
    MIRRORED_WITH_REST = 4


_RESTED = (_Kind.WITH_REST, _Kind.MIRRORED_WITH_REST)


def _chosen(rows: Sequence[int | None], count: int) -> Any:
    """Return what picks columns out of ``count`` of them, none where a row is None: (count, c) sparse."""
    there = [(row, place) for place, row in enumerate(rows) if row is not None]
    ones = np.ones(len(there))
    at = np.array(there, np.intp).reshape(-1, 2)
    return sparse.csc_matrix((ones, (at[:, 0], at[:, 1])), shape=(count, len(rows)))


@dataclass(frozen=True, slots=True, eq=False)
class _Columns:
    """Equipment's loads as columns: on stations and points together, and on nodes."""

    beam: Index
    along: Array
    force: Array
    """(k + j, e)."""
    nodal: Array
    """(n, 3, e)."""


def combined(
    ground: Ground,
    beams: Beams,
    shares: Shares,
    patches: Patches,
    whole: Any,
    elements: Sequence[Element],
    mirror: Mirror | None = None,
) -> Combined:
    """Return the load cases of a layout.

    Parameters
    ----------
    ground, beams, shares
        The layout, its grid, and which beam carries what.
    patches
        Of slam: on one side alone where the grid is its own mirror image.
    whole
        (c, p) sparse: what each presses of the bottom [N].
    elements
        What equipment does.
    mirror
        The grid's mirror images, where patches are on one side alone.
    """
    columns = _columns(beams, shares, elements)
    more = columns.force.shape[0] - len(shares.beam)
    slam = sparse.csc_matrix(shares.to @ whole)
    slam = sparse.csc_matrix(sparse.vstack([slam, sparse.csc_matrix((more, slam.shape[1]))]))
    given = ground.layout.combinations
    made = list(_given(given, elements)) if given else list(_usual(elements))
    images = None if mirror is None else _station_images(mirror, shares, more)
    p = slam.shape[1]
    amounts: list[Any] = [sparse.csc_matrix((len(columns.beam), 0))]
    weights = [np.zeros((len(elements), 0))]
    names: list[Case] = []
    rest: int | None = None
    for name, factors, slammed in made:
        if slammed is None:
            if factors.any():
                rest = len(names) if name == AT_REST and not given else rest
                amounts.append(sparse.csc_matrix((columns.force @ factors)[:, None]))
                weights.append(factors[:, None])
                names.append(_case(name, factors, elements, ground))
        elif p and not (slammed == 1 and not factors.any()):
            for starboard in (False, True) if images is not None else (False,):
                turned = slam[images] if starboard else slam
                amounts.append(slammed * turned + _every(columns.force @ factors, p))
                weights.append(np.repeat(factors[:, None], p, axis=1))
                for row in range(p):
                    case = patches.case(row, starboard=starboard)
                    names.append(replace(case, name=f"{case.name}; {name}", acts=Acts.COMBINED))
    return Combined(
        patches=patches,
        slam=slam,
        others=Loads(
            beam=columns.beam,
            along=columns.along,
            amount=sparse.csc_matrix(sparse.hstack(amounts)),
            nodal=columns.nodal @ np.concatenate(weights, axis=1) if columns.nodal.any() else None,
        ),
        names=tuple(names),
        rest=rest,
        mirror=images,
        on_bottom=np.asarray(whole.sum(axis=0)).ravel(),
        notes=tuple(_unknown(given, elements)),
    )


def _station_images(mirror: Mirror, shares: Shares, more: int) -> Index:
    """Return the mirror image of every station, of points themselves."""
    parts = len(shares.beam) // max(len(mirror.beam), 1)
    at = np.arange(parts)[None, :]
    theirs = mirror.beam[:, None] * parts + np.where(mirror.turned[:, None], parts - 1 - at, at)
    return np.concatenate([theirs.ravel(), len(shares.beam) + np.arange(more)]).astype(np.intp)


def _every(column: Array, count: int) -> Any:
    """Return one column so many times, sparse."""
    rows = np.flatnonzero(column)
    return sparse.csc_matrix(
        (np.tile(column[rows], count), (np.tile(rows, count), np.repeat(np.arange(count), len(rows)))),
        shape=(len(column), count),
    )


def _columns(beams: Beams, shares: Shares, elements: Sequence[Element]) -> _Columns:
    k, e = len(shares.beam), len(elements)
    points = [len(one.beam) for one in elements]
    force = np.zeros((k + sum(points), e))
    nodal = np.zeros((len(beams.at), 3, e))
    start = k
    for number, (one, count) in enumerate(zip(elements, points, strict=True)):
        if one.stations is not None:
            force[:k, number] = one.stations
        force[start : start + count, number] = one.force
        start += count
        np.add.at(nodal[:, :, number], one.node, one.couples)
    return _Columns(
        beam=np.concatenate([shares.beam, *(one.beam for one in elements)]).astype(np.intp),
        along=np.concatenate([shares.along, *(one.along for one in elements)]),
        force=force,
        nodal=nodal,
    )


_Made = tuple[str, Array, "float | None"]
"""A combination's name, each element's factor, and the slam's; None without slam."""


def _usual(elements: Sequence[Element]) -> Iterator[_Made]:
    each = np.eye(len(elements))
    for number, one in enumerate(elements):
        yield one.name, each[number], None
        if one.both_ways:
            yield f"{one.name}, the other way", -each[number], None
    rest = np.array([one.at_rest or 0.0 for one in elements])
    if (rest > 0).any():
        yield AT_REST, rest, None
    by_equipment: dict[str, list[int]] = {}
    for number, one in enumerate(elements):
        by_equipment.setdefault(one.equipment, []).append(number)
    for numbers in by_equipment.values():
        if len(numbers) < 2:
            continue
        turning = [number for number in numbers if elements[number].both_ways]
        for signs in product((1.0, -1.0), repeat=1 if turning else 0):
            factors = np.zeros(len(elements))
            factors[numbers] = 1.0
            factors[turning] = signs[0] if signs else 1.0
            other = ", the other way" if signs and signs[0] < 0 else ""
            yield f"{elements[numbers[0]].name.partition(':')[0]}: all its loads{other}", factors, None


def _given(given: Sequence[Combination], elements: Sequence[Element]) -> Iterator[_Made]:
    for combination in given:
        factors = np.zeros(len(elements))
        turning = np.zeros(len(elements), bool)
        slam: float | None = None
        for part in combination.parts:
            if part.of == Source.SLAM:
                slam = (slam or 0.0) + part.factor
            for number, one in enumerate(elements):
                if part.of in (one.equipment, one.source.value):
                    factors[number] += part.factor
                    turning[number] = one.both_ways
        yield combination.name, factors, slam
        if turning.any():
            yield f"{combination.name}, the other way", np.where(turning, -factors, factors), slam


def _unknown(given: Sequence[Combination], elements: Sequence[Element]) -> Iterator[str]:
    """Yield what combinations name that does nothing here."""
    there = {one.equipment for one in elements} | {source.value for source in Source}
    for combination in given:
        for part in combination.parts:
            if part.of not in there:
                yield f"combination '{combination.name}' names '{part.of}', which puts nothing on the grid"


def _case(name: str, factors: Array, elements: Sequence[Element], ground: Ground) -> Case:
    ids = {elements[number].equipment for number in np.flatnonzero(factors).tolist()}
    one = next(iter(ids)) if len(ids) == 1 else ""
    at = next((each.at for each in ground.layout.equipment if each.id == one), (0.0, 0.0))
    return Case(name=name, acts=Acts.EQUIPMENT if one else Acts.COMBINED, subject=one, at=at)
