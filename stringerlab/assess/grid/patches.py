"""Slam patches: each judged panel and span under its own design area at that area's pressure, slid along it.

A panel's patch is b × l, a span's lu × s; both are slid along their subject from one end, where half of it
lies on the neighbour, to the other. A patch ends at the bottom's edge. Unfolded, mm, MPa.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from math import ceil

import numpy as np

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
    each: int = 1
    """How many there are of each subject, one after another, slid on by equal steps."""
    rows: "tuple[Subject, ...]" = ()
    of: Index = field(default_factory=lambda: np.zeros(0, np.intp))
    """(p,) which subject's."""
    notes: tuple[str, ...] = ()

    def case(self, row: int, *, starboard: bool = False) -> Case:
        """Return one patch as a load case, or its mirror image."""
        corners = self.plan[row] * ((1, -1) if starboard else (1, 1))
        x, y = (corners.mean(axis=0).round(6) + 0.0).tolist()
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
class Subject:
    """Whose patches they are."""

    id: str
    name: str
    line: Array
    """(n, 2) along which its patch is slid, unfolded: its middle at the middle of it."""
    length: float
    width: float
    pressure: float
    """MPa."""


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
        Only spans' patches that lie on the span itself.
    one_side
        Of a subject with a mirror image only the first.
    """
    given = replace(ground, panels={}) if coarse and ground.spans else ground
    subjects, notes = _subjects(given, bottom, method, craft, one_side=one_side)
    slid = np.array(offsets(step or ground.layout.rules.step, coarse=coarse))
    each = len(slid)
    of = np.repeat(np.arange(len(subjects)), each)
    return laid(bottom, subjects, of, np.tile(slid, len(subjects)), each=each, notes=notes)


def laid(
    bottom: Bottom,
    subjects: Sequence[Subject],
    of: Index,
    slid: Array,
    *,
    each: int = 1,
    notes: tuple[str, ...] = (),
) -> Patches:
    """Return patches, each of one subject, slid by a part of its length.

    Parameters
    ----------
    bottom
        The hull's.
    subjects
        Whose they are.
    of, slid
        (p,) which subject's each is, in order, and by which part of its length it is slid.
    each, notes
        As `Patches` has them.
    """
    middle, way = _along(subjects, of, slid)
    sizes = np.array([(one.length / 2, one.width / 2) for one in subjects], float).reshape(-1, 2)
    half = sizes[of]
    plan = in_plan(bottom, _corners(middle, way, half))
    return Patches(
        middle=middle,
        way=way,
        half=half,
        pressure=np.array([one.pressure for one in subjects], float)[of],
        whole=np.asarray(bottom.within(plan.reshape(-1, 2)).reshape(-1, 4).all(axis=1), bool),
        plan=plan,
        subjects=tuple((subjects[int(row)].id, subjects[int(row)].name) for row in of.tolist()),
        slid=slid,
        each=each,
        rows=tuple(subjects),
        of=of,
        notes=notes,
    )


def joined(patches: Sequence[Patches]) -> Patches:
    """Return patches of the same subjects, one after another."""
    first = patches[0]
    if len(patches) == 1:
        return first
    return Patches(
        middle=np.concatenate([one.middle for one in patches]),
        way=np.concatenate([one.way for one in patches]),
        half=np.concatenate([one.half for one in patches]),
        pressure=np.concatenate([one.pressure for one in patches]),
        whole=np.concatenate([one.whole for one in patches]),
        plan=np.concatenate([one.plan for one in patches]),
        subjects=tuple(each for one in patches for each in one.subjects),
        slid=np.concatenate([one.slid for one in patches]),
        rows=first.rows,
        of=np.concatenate([one.of for one in patches]),
        notes=first.notes,
    )


def offsets(step: float, *, coarse: bool = False) -> list[float]:
    """Return by which parts of its length a patch is slid, from half of it aft to half of it forward."""
    if coarse:
        return [0.0]
    each = max(ceil(0.5 / step - 1e-9), 1)
    return [part / each / 2 for part in range(-each, each + 1)]


def _subjects(
    ground: Ground, bottom: Bottom, method: Method, craft: CraftRow, *, one_side: bool
) -> tuple[list[Subject], tuple[str, ...]]:
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
    found: list[Subject] = []
    for (case, pressure), flat in zip(owners, unfolded_each(bottom, drawn), strict=True):
        if isinstance(case, SpanCase):
            span = case.span
            found.append(Subject(span.id, span.name, flat, span.lu, span.s, pressure))
        else:
            panel = case.panel
            middle, way = _laid(flat)
            reach = way * panel.l / 2
            line = np.stack([middle - reach, middle + reach])
            found.append(Subject(panel.id, panel.name, line, panel.l, panel.b, pressure))
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


def _along(subjects: Sequence[Subject], of: Index, slid: Array) -> tuple[Array, Array]:
    """Return middles and directions of patches; beyond its ends a subject is carried on straight."""
    straight = np.array([len(one.line) == 2 for one in subjects], bool)
    ends = np.array([(one.line[0], one.line[-1]) for one in subjects], float).reshape(-1, 2, 2)
    long = np.array([one.length for one in subjects], float)
    step = ends[:, 1] - ends[:, 0]
    size = np.where(straight, np.hypot(*step.T), 1.0)
    way = (step / size[:, None])[of]
    middle = ends.mean(axis=1)[of] + (slid * long[of])[:, None] * way
    bent = np.flatnonzero(~straight[of])
    for rows in np.split(bent, np.flatnonzero(np.diff(of[bent])) + 1) if len(bent) else ():
        middle[rows], way[rows] = _along_bent(subjects[int(of[rows[0]])], slid[rows])
    return middle, way


def _along_bent(subject: Subject, slid: Array) -> tuple[Array, Array]:
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
