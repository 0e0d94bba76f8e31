"""Plate strips that a section is made of: crown, webs, free flanges, plating between webs. N, mm, rad.

Each runs along the member from support to support and is held at its edges by the parts beside it. Strips are
flat: fillets are counted to their 45° points, and foam or putty beside a strip holds nothing. A flange bonded
to the shell is no strip. Laminates that lie on one another bend as one, weighted by a half sine across.
"""

from cmath import exp
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import lru_cache
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from stringerlab.errors import StringerlabError
from stringerlab.laminate import thickness
from stringerlab.laminate.records import Role, Stack
from stringerlab.section import crowns, webs
from stringerlab.section.bodies import bodies
from stringerlab.section.plies import stack_sizes
from stringerlab.section.records import Plating, SectionShape
from stringerlab.section.sheets import Sheet, mixed, sheet
from stringerlab.section.webs import CONTACT, Run, Web

Array = NDArray[np.float64]
_KEPT = 256
_NARROW = 1.0
"""Strips narrower than this part of their thickness are edges, not plates."""


BETWEEN = "between webs"
"""Of the place of plating that webs hold at both its edges."""


class Kind(StrEnum):
    """What a strip is."""

    CROWN = "crown"
    WEB = "web"
    FLANGE = "free flange"
    PLATING = "plating"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Strip:
    """A plate strip along the member, per width."""

    kind: Kind
    place: str
    """In words."""
    width: float
    edges: tuple[tuple[float, float], tuple[float, float]]
    """Where its two long edges lie in the section's own axes; of a free one the second is free."""
    free: bool
    sheet: Sheet
    climb: float = 0.0
    """Height of a web in the section's own axes."""


@lru_cache(_KEPT)
def strips(shape: SectionShape, deadrise: float = 0.0, plating: Plating | None = None) -> tuple[Strip, ...]:
    """Return the plate strips of a section and the plating beside it.

    Parameters
    ----------
    shape
        The section.
    deadrise
        Slope of the shell it is drawn on [rad].
    plating
        The strip counted under it; None for none. Beyond the webs it is a plate twice as wide as what is
        counted there: a plate loaded along one edge only buckles no sooner, by an own Ritz solution.

    Raises
    ------
    StringerlabError
        With everything that forbids a number.
    """
    built = bodies(shape, deadrise=deadrise)
    if built.faults:
        raise StringerlabError(built.faults)
    found = webs.runs(built, deadrise)
    steep = webs.webs(found)
    standing = webs.carrying(steep, found)
    upstands = [web for web in steep if web not in standing]
    turn = exp(1j * deadrise)
    here = _Section(shape, tuple(found), tuple(standing), tuple(upstands), turn)
    return (*here.crowns(), *here.webs(), *here.shelves(), *here.plating(plating))


@dataclass(frozen=True, slots=True, eq=False)
class _Section:
    shape: SectionShape
    runs: tuple[Run, ...]
    standing: tuple[Web, ...]
    upstands: tuple[Web, ...]
    turn: complex

    def stack(self, run: Run) -> Stack:
        return self.shape.walls[run.wall].stack

    def own(self, place: complex) -> tuple[float, float]:
        """Return a place in the shell's axes in the section's own."""
        there = place * self.turn
        return there.real, there.imag

    @property
    def slack(self) -> float:
        return 1.0 + sum(stack_sizes(wall.stack).levels[-1] for wall in self.shape.walls)

    def upper(self) -> list[list[Run]]:
        """Return groups of joined flat runs above half height."""
        if not self.standing:
            return []
        top = max(web.height for web in self.standing)
        bottom = min(web.bottom for web in self.standing)
        flats = [
            run
            for run in self.runs
            if not run.steep
            and run.near.imag.mean() > (top + bottom) / 2
            and self.shape.walls[run.wall].counted
        ]
        groups: list[list[Run]] = []
        while flats:
            joined = crowns.reached(flats[0], flats)
            groups.append([flats[index] for index in joined])
            flats = [run for index, run in enumerate(flats) if index not in joined]
        return groups

    def crowns(self) -> Iterator[Strip]:
        top = max((web.height for web in self.standing), default=0.0)
        bottom = min((web.bottom for web in self.standing), default=0.0)
        heads = crowns.heads_of([web for web in self.standing if web.height > (top + bottom) / 2])
        heads = sorted(heads + [web.base for web in self.upstands])
        for group in self.upper():
            low = min(float(min(run.near.real.min(), run.far.real.min())) for run in group)
            high = max(float(max(run.near.real.max(), run.far.real.max())) for run in group)
            under = [head for head in heads if head[1] >= low - self.slack and head[0] <= high + self.slack]
            for before, after in pairwise(under):
                yield from self._over(group, Kind.CROWN, before[1], after[0])
            if under:
                yield from self._over(group, Kind.FLANGE, under[0][0], low)
                yield from self._over(group, Kind.FLANGE, under[-1][1], high)

    def _over(self, group: Sequence[Run], kind: Kind, start: float, end: float) -> Iterator[Strip]:
        """Yield the strip of joined flats between two places along the shell."""
        if kind is Kind.CROWN and end <= start:
            return
        low, high = min(start, end), max(start, end)
        pieces = list(_pieces(group, low, high))
        if not pieces:
            return
        width = high - low
        sheets = [(at / width, to / width, sheet(self._laid(runs))) for at, to, runs in pieces]
        t = max(one.t for _, _, one in sheets)
        one, other = (complex(place, _height(pieces, place, low)) for place in (start, end))
        if abs(other - one) < _NARROW * t or width < _NARROW * t:
            return
        free = kind is Kind.FLANGE
        names = dict.fromkeys(self.shape.walls[run.wall].id for _, _, runs in pieces for run in runs)
        yield Strip(
            kind=kind,
            place=f"{kind.value} {abs(other - one):.0f} mm wide, {' + '.join(names)}",
            width=abs(other - one),
            edges=(self.own(one), self.own(other)),
            free=free,
            sheet=mixed(sheets, free=free),
        )

    def _laid(self, runs: Sequence[Run]) -> Stack:
        """Return laminates lying on one another as one, from the top down."""
        if len(runs) == 1:
            return self.stack(runs[0])
        plies = [
            ply
            for run in runs
            for ply in (self.stack(run).plies if _faces_up(run) else self.stack(run).plies[::-1])
            if ply.role is not Role.GEL_COAT
        ]
        return Stack(name=" + ".join(self.stack(run).name for run in runs), plies=tuple(plies))

    def webs(self) -> Iterator[Strip]:
        for number, web in enumerate(self.standing, 1):
            low, high = web.runs[0], web.runs[-1]
            sheets = [sheet(self.stack(run)) for run in web.runs]
            foot = complex(low.near[low.foot] + low.far[low.foot]) / 2
            head = complex(high.near[high.top] + high.far[high.top]) / 2
            free = not self._held(high, web)
            ids = dict.fromkeys(self.shape.walls[run.wall].id for run in web.runs)
            yield Strip(
                kind=Kind.WEB,
                place=f"web {number}{' with a free top' if free else ''}, {' + '.join(ids)}",
                width=web.length,
                edges=(self.own(foot), self.own(head)),
                free=free,
                sheet=min(sheets, key=lambda one: float(one.D[1, 1])),
                climb=sum(run.climb for run in web.runs),
            )

    def _held(self, run: Run, web: Web) -> bool:
        """Whether something lies on a web's top."""
        head = complex(run.near[run.top])
        near = stack_sizes(self.stack(run)).levels[-1] + CONTACT
        for flat in self.runs:
            if flat.steep or flat.near.imag.mean() < (web.bottom + web.height) / 2:
                continue
            both = np.concatenate([flat.near, flat.far])
            if (
                both.real.min() - near <= head.real <= both.real.max() + near
                and both.imag.min() - near <= head.imag <= both.imag.max() + near
            ):
                return True
        return False

    def shelves(self) -> Iterator[Strip]:
        """Yield flats lower down: between two webs of one wall, or ending free above the shell."""
        above = {id(run) for group in self.upper() for run in group}
        for before, run, after in self._neighbours():
            wall = self.shape.walls[run.wall]
            if run.steep or id(run) in above or not wall.counted or self._lying(run):
                continue
            beside = [one for one in (before, after) if one is not None]
            if not beside:
                continue
            middle = (run.near + run.far) / 2
            first, last = complex(middle[0]), complex(middle[-1])
            held, other = (last, first) if before is None else (first, last)
            width = min(float(abs(face[-1] - face[0])) for face in (run.near, run.far))
            if width < _NARROW * stack_sizes(wall.stack).thickness:
                continue
            free = len(beside) == 1
            kind = Kind.FLANGE if free else Kind.CROWN
            yield Strip(
                kind=kind,
                place=f"{'free flange' if free else 'shelf'} {width:.0f} mm wide, {wall.id}",
                width=width,
                edges=(self.own(held), self.own(other)),
                free=free,
                sheet=sheet(wall.stack),
            )

    def _neighbours(self) -> Iterator[tuple[Run | None, Run, Run | None]]:
        by_wall: dict[int, list[Run]] = {}
        for run in self.runs:
            by_wall.setdefault(run.wall, []).append(run)
        for index, held in by_wall.items():
            ring = self.shape.walls[index].closed and len(held) > 1
            for at, run in enumerate(held):
                before = held[at - 1] if at or ring else None
                after = held[(at + 1) % len(held)] if at + 1 < len(held) or ring else None
                yield before, run, after

    def _bonded(self, run: Run) -> bool:
        """Whether a part of a flat lies on the shell or its bead."""
        return float(np.abs(run.shell_face.imag).min()) <= self.shape.bead + CONTACT

    def _lying(self, run: Run) -> bool:
        """Whether a flat lies on the shell, its bead, or a flat that does."""
        if self._bonded(run):
            return True
        flats = [
            run,
            *(one for one in self.runs if not one.steep and one.wall != run.wall and self._bonded(one)),
        ]
        return len(crowns.reached(run, flats)) > 1

    def plating(self, plating: Plating | None) -> Iterator[Strip]:
        if plating is None:
            return
        roots = sorted(web.root for web in self.standing if self._stands(web))
        if not roots:
            return
        plate = sheet(plating.stack)
        depth = -thickness(plating.stack) / 2
        for left, right in pairwise(roots):
            if right - left > _NARROW * plate.t:
                yield self._plate(plate, left, right, depth, BETWEEN)
        half = plating.width / 2
        for side, root, edge in (("left", roots[0], -half), ("right", roots[-1], half)):
            counted = edge - root if side == "right" else root - edge
            if counted > _NARROW * plate.t:
                beyond = self._plate(plate, root, edge, depth, f"{side} of the webs")
                yield replace(
                    beyond, width=2 * counted, place=f"plating {side} of the webs, {counted:.0f} mm"
                )

    def _stands(self, web: Web) -> bool:
        """Whether a web's foot is on the shell, by itself or by the flange at it."""
        t = stack_sizes(self.stack(web.runs[0])).levels[-1]
        near = web.bottom + t + CONTACT
        if web.bottom <= self.shape.bead + t + 1.0:
            return True
        flats = [run for run in self.runs if not run.steep and self._bonded(run)]
        return any(
            run.near.real.min() - near <= web.root <= run.near.real.max() + near
            and web.bottom <= 2 * (run.near.imag.min() + t) + self.shape.bead + self.slack
            for run in flats
        )

    def _plate(self, plate: Sheet, left: float, right: float, depth: float, words: str) -> Strip:
        ends = self.own(complex(left, depth)), self.own(complex(right, depth))
        return Strip(
            kind=Kind.PLATING,
            place=f"plating {words}, {right - left:.0f} mm",
            width=right - left,
            edges=ends,
            free=False,
            sheet=plate,
        )


def _faces_up(run: Run) -> bool:
    return bool(run.near.imag.mean() >= run.far.imag.mean())


def _at(run: Run, place: float) -> tuple[float, float]:
    """Return heights of the upper and lower face of a flat at a place."""
    both: list[float] = []
    for face in (run.near, run.far):
        order = np.argsort(face.real)
        both.append(float(np.interp(place, face.real[order], face.imag[order])))
    return max(both), min(both)


def _pieces(group: Sequence[Run], low: float, high: float) -> Iterator[tuple[float, float, tuple[Run, ...]]]:
    """Yield from … to (from the low end) of what lies on one another over a width, from the top down."""
    ends = [float(end) for run in group for end in (run.near.real.min(), run.near.real.max())]
    cuts = [low, *sorted(end for end in ends if low < end < high), high]
    for at, to in pairwise(cuts):
        if to - at < 1e-9:
            continue
        place = (at + to) / 2
        over = [run for run in group if run.near.real.min() <= place <= run.near.real.max()]
        faces = sorted(((*_at(run, place), run) for run in over), key=lambda one: -one[0])
        laid: list[Run] = []
        lowest = faces[0][0] if faces else 0.0
        for upper, lower, run in faces:
            if laid and upper < lowest - CONTACT:
                break
            laid.append(run)
            lowest = min(lowest, lower)
        if laid:
            yield at - low, to - low, tuple(laid)


def _height(pieces: Sequence[tuple[float, float, tuple[Run, ...]]], place: float, low: float) -> float:
    """Return the height of the middle of the nearest piece at a place."""
    along = place - low
    piece = min(pieces, key=lambda one: max(one[0] - along, along - one[1], 0.0))
    faces = [_at(run, place) for run in piece[2]]
    return (max(upper for upper, _ in faces) + min(lower for _, lower in faces)) / 2
