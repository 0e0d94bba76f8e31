"""Slam patches: each judged panel and span under its own design area at that area's pressure, slid along it.

A panel's patch is b × l, a span's lu × s; both are slid along their subject from one end, where half of it
lies on the neighbour, to the other. A patch ends at the bottom's edge. Unfolded, mm, MPa.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from scipy import sparse

from stringerlab.assess.grid.pieces import Pieces
from stringerlab.assess.grid.records import Acts, Array, Case, Ground, Index, Mask, unfolded_each
from stringerlab.craft import Bottom
from stringerlab.laminate import is_sandwich
from stringerlab.layout import PanelCase, SpanCase
from stringerlab.methods import CraftRow, Method, PressureRows, panel_pressure_rows, span_pressure_rows
from stringerlab.methods.mechanics.choosing import unrecorded


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Patches:
    """p rectangles."""

    middle: Array
    """(p, 2)."""
    way: Array
    """(p, 2) unit vectors along their length."""
    half: Array
    """(p, 2) half of length and width [mm]."""
    pressure: Array
    """(p,) MPa."""
    whole: Mask
    """(p,) whether all of it lies on the bottom."""
    plan: Array
    """(p, 4, 2) corners in plan."""
    subjects: tuple[tuple[str, str], ...] = ()
    """(p,) id and name of whose it is."""
    slid: Array
    """(p,) by which part of its length it is slid."""
    notes: tuple[str, ...] = ()

    def case(self, row: int, *, starboard: bool = False) -> Case:
        """Return one patch as a load case, or its mirror image."""
        corners = self.plan[row] * ((1, -1) if starboard else (1, 1))
        x, y = corners.mean(axis=0).tolist()
        of, name = self.subjects[row]
        side = ", mirrored" if starboard else ""
        return Case(
            name=f"slam on {name}{_place(float(self.slid[row]))}{side}",
            acts=Acts.SLAM,
            subject=of,
            at=(x, y),
            patch=tuple((x, y) for x, y in corners.tolist()),
            pressure=float(self.pressure[row]),
        )


@dataclass(frozen=True, slots=True, eq=False)
class _Subject:
    id: str
    name: str
    line: Array
    """(n, 2) along which its patch is slid, unfolded: its middle at the middle of it."""
    length: float
    width: float
    pressure: float


def patches_of(
    ground: Ground,
    bottom: Bottom,
    method: Method,
    craft: CraftRow,
    *,
    step: float | None = None,
    coarse: bool = False,
    one_side: bool = False,
) -> Patches:
    """Return every judged subject's patches.

    Parameters
    ----------
    ground, bottom
        The layout, and the hull's bottom.
    method, craft
        Whose pressure it is.
    step
        In parts of the patch's length, in place of the layout's own.
    coarse
        Only the patch that lies on the subject itself.
    one_side
        Of a subject with a mirror image only the first.
    """
    subjects, notes = _subjects(ground, bottom, method, craft, one_side=one_side)
    slid = np.array(offsets(step or ground.layout.rules.step, coarse=coarse))
    each = len(slid)
    middle, way = np.empty((len(subjects), each, 2)), np.empty((len(subjects), each, 2))
    for number, subject in enumerate(subjects):
        middle[number], way[number] = _along(subject, slid)
    middle, way = middle.reshape(-1, 2), way.reshape(-1, 2)
    sizes = np.array([(one.length / 2, one.width / 2) for one in subjects], float).reshape(-1, 2)
    half = np.repeat(sizes, each, axis=0)
    plan = in_plan(bottom, _corners(middle, way, half))
    return Patches(
        middle=middle,
        way=way,
        half=half,
        pressure=np.repeat(np.array([one.pressure for one in subjects], float), each),
        whole=np.asarray(bottom.within(plan.reshape(-1, 2)).reshape(-1, 4).all(axis=1), bool),
        plan=plan,
        subjects=tuple((one.id, one.name) for one in subjects for _ in range(each)),
        slid=np.tile(slid, len(subjects)),
        notes=notes,
    )


def offsets(step: float, *, coarse: bool = False) -> list[float]:
    """Return by which parts of its length a patch is slid, from half of it aft to half of it forward."""
    if coarse:
        return [0.0]
    each = max(round(0.5 / step), 1)
    return [part / each / 2 for part in range(-each, each + 1)]


def on_pieces(patches: Patches, pieces: Pieces) -> Any:
    """Return the force of every patch on every piece of the bottom, (c, p) sparse [N].

    A piece half under a patch's edge carries half; a patch that lies wholly on the bottom has its own area,
    any other no more than that.
    """
    piece, patch = _candidates(patches, pieces)
    off = pieces.at[piece] - patches.middle[patch]
    way, half = patches.way[patch], patches.half[patch]
    long, across = (off * way).sum(axis=1), off[:, 1] * way[:, 0] - off[:, 0] * way[:, 1]
    size = pieces.half[piece]
    cos, sin = np.abs(way).T
    covered = _covered(long, half[:, 0], size[:, 0] * cos + size[:, 1] * sin)
    covered *= _covered(across, half[:, 1], size[:, 0] * sin + size[:, 1] * cos)
    kept = covered > 0
    area = covered * pieces.area[piece]
    own = 4 * patches.half[:, 0] * patches.half[:, 1]
    under = np.bincount(patch, weights=area, minlength=len(own))
    scale = own / np.where(under > 0, under, np.inf)
    scale = np.where(patches.whole, scale, np.minimum(scale, 1.0))
    force = area * (scale * patches.pressure)[patch]
    return sparse.csc_matrix(
        (force[kept], (piece[kept], patch[kept])), shape=(len(pieces.area), len(patches.pressure))
    )


def _covered(off: Array, half: Array, size: Array) -> Array:
    """Return which part of pieces, ``size`` on either side of their middles, lies within a strip."""
    low, high = np.maximum(off - size, -half), np.minimum(off + size, half)
    return np.maximum(high - low, 0.0) / (2 * size)


def _candidates(patches: Patches, pieces: Pieces) -> tuple[Index, Index]:
    """Return pieces and patches that may touch: those whose bays' bounds meet the patch's."""
    reach = np.abs(patches.way) * patches.half[:, :1] + np.abs(patches.way[:, ::-1]) * patches.half[:, 1:]
    low, high = patches.middle - reach, patches.middle + reach
    bounds = pieces.bounds
    meets = (bounds[:, None, :2] < high).all(axis=2) & (bounds[:, None, 2:] > low).all(axis=2)
    ring, patch = np.nonzero(meets)
    starts = np.searchsorted(pieces.ring, np.arange(len(bounds) + 1))
    count = (starts[1:] - starts[:-1])[ring]
    within = np.arange(int(count.sum())) - np.repeat(np.cumsum(count) - count, count)
    return np.repeat(starts[ring], count) + within, np.repeat(patch, count)


def _subjects(
    ground: Ground, bottom: Bottom, method: Method, craft: CraftRow, *, one_side: bool
) -> tuple[list[_Subject], tuple[str, ...]]:
    """Return what is judged, on both sides of the boat, with its pressure; and what has none."""
    missing: list[str] = []
    pairs: list[tuple[PanelCase | SpanCase, float]] = []
    for case, pressure in pressures(ground, method, craft):
        if np.isfinite(pressure):
            pairs.append((case, pressure))
        else:
            missing.append(case.panel.name if isinstance(case, PanelCase) else case.span.name)
    spans = {span.id: span.lines for span in ground.found.spans}
    bays = {bay.id: bay for bay in ground.found.bays}
    drawn: list[Array] = []
    owners: list[tuple[PanelCase | SpanCase, float]] = []
    for case, pressure in pairs:
        if isinstance(case, SpanCase):
            lines = spans[case.span.id]
        else:
            bay = bays[case.panel.id]
            lines = tuple(
                clear if len(clear) >= 3 else ring for clear, ring in zip(bay.clear, bay.rings, strict=True)
            )
        lines = lines[:1] if one_side else lines
        drawn += lines
        owners += [(case, pressure)] * len(lines)
    found: list[_Subject] = []
    for (case, pressure), flat in zip(owners, unfolded_each(bottom, drawn), strict=True):
        if isinstance(case, SpanCase):
            span = case.span
            found.append(_Subject(span.id, span.name, flat, span.lu, span.s, pressure))
        else:
            panel = case.panel
            middle, way = _laid(flat)
            reach = way * panel.l / 2
            line = np.stack([middle - reach, middle + reach])
            found.append(_Subject(panel.id, panel.name, line, panel.l, panel.b, pressure))
    notes = (
        (f"{method.name} gives no pressure for {len(missing)} of them: no slam on {', '.join(missing[:4])}",)
        if missing
        else ()
    )
    return found, notes


def pressures(
    ground: Ground, method: Method, craft: CraftRow
) -> Iterator[tuple[PanelCase | SpanCase, float]]:
    """Yield every judged panel and span with the method's pressure on its own design area [MPa]."""
    spans = list(ground.spans.values())
    panels = list(ground.panels.values())
    batches: list[tuple[Sequence[PanelCase | SpanCase], PressureRows]] = []
    if spans:
        batches.append((spans, span_pressure_rows(spans)))
    for cored in (False, True):
        some = [case for case in panels if is_sandwich(case.stack) is cored]
        if some:
            batches.append((some, panel_pressure_rows(some, sandwich=cored)))
    for cases, rows in batches:
        with unrecorded():
            found = np.full(len(cases), np.nan) if method.pressure is None else method.pressure(craft, rows)
        yield from zip(cases, np.broadcast_to(found, len(cases)).tolist(), strict=True)


def _laid(ring: Array) -> tuple[Array, Array]:
    """Return a ring's centroid and the direction of its longest side."""
    step = np.roll(ring, -1, axis=0) - ring
    p = ring - ring[0]
    n = np.roll(p, -1, axis=0)
    cross = p[:, 0] * n[:, 1] - n[:, 0] * p[:, 1]
    total = cross.sum()
    middle = ring[0] + ((p + n) * cross[:, None]).sum(axis=0) / (3 * total) if total else ring.mean(axis=0)
    size = np.hypot(*step.T)
    longest = int(size.argmax())
    return middle, step[longest] / size[longest]


def _along(subject: _Subject, slid: Array) -> tuple[Array, Array]:
    """Return middles and directions of a subject's patches; beyond its ends it is carried on straight."""
    legs = np.diff(subject.line, axis=0)
    size = np.hypot(*legs.T)
    run = np.concatenate([[0.0], np.cumsum(size)])
    at = run[-1] / 2 + slid * subject.length
    after: Index = np.asarray(np.searchsorted(run, at, "right"), np.intp)
    leg = np.clip(after - 1, 0, len(legs) - 1)
    way = legs[leg] / size[leg][:, None]
    return subject.line[leg] + (at - run[leg])[:, None] * way, way


def _corners(middle: Array, way: Array, half: Array) -> Array:
    across = np.stack([-way[:, 1], way[:, 0]], axis=1)
    signs = np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)], float)
    return middle[:, None] + (
        signs[None, :, :1] * (half[:, :1] * way)[:, None]
        + signs[None, :, 1:] * (half[:, 1:] * across)[:, None]
    )


def in_plan(bottom: Bottom, flat: Array) -> Array:
    """Return unfolded places (…, 2) in plan."""
    plan = flat.copy()
    plan[..., 1] = flat[..., 1] * np.cos(bottom.deadrise(flat[..., 0]))
    return plan


def _place(part: float) -> str:
    if not part:
        return ""
    return f", {abs(part):.0%} of its length {'on' if part > 0 else 'back'}"
