"""The extreme points of a section's plies: every corner of what is left of each, and places along its legs.

Every point lies on a station of its wall: a place along the drawn line, and a depth from the mould face.
Axial strain is linear, so that its extremes lie at corners; where the shear flow peaks a station is added
besides, and straight legs get stations at their quarters. y right, z up, from the section's origin. mm.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stringerlab.geometry.chords import as_points
from stringerlab.geometry.lines import Lines
from stringerlab.section.bodies import Bodies

Array = NDArray[np.float64]
Index = NDArray[np.intp]
Points = NDArray[np.complex128]
Mask = NDArray[np.bool_]

QUARTERS = np.array([0.25, 0.5, 0.75])
LONG = 5.0
"""A leg longer than this many laminate thicknesses gets stations at its quarters."""


@dataclass(frozen=True, slots=True, eq=False)
class Stations:
    """Places along the drawn lines, s in all; a point is y + iz."""

    stroke: Index
    """(s,) of `Bodies.drawing`."""
    vertex: Index
    """(s,) of its lines: the vertex before the place …"""
    part: Array
    """(s,) … and how much of the segment that leaves it lies before the place."""
    mould: Points
    """(s,) the place on the laminate's mould face."""
    inward: Points
    """(s,) what a depth of 1 mm from the mould face moves it by."""


@dataclass(frozen=True, slots=True, eq=False)
class PlyPoints:
    """Points of plies, p in all."""

    stations: Stations
    place: Points
    """(p,) y + iz."""
    region: Index
    """(p,) the ply or fill, of `Bodies.regions`."""
    station: Index
    """(p,) −1 for fills."""
    depth: Array
    """(p,) from the wall's mould face; 0 for fills."""
    away: Mask
    """(p,) whether it lies on the ply's face away from the mould."""


def ply_points(
    built: Bodies, carries: Mask, centres: Array, neutral: complex, gradients: Sequence[complex]
) -> PlyPoints:
    """Return the points of the plies and fills that carry.

    Parameters
    ----------
    built
        The section's regions.
    carries
        (r,) whether a region carries load.
    centres
        Of every stroke, the depth of its axial stiffness's centre.
    neutral
        Neutral point.
    gradients
        Directions in which the axial strain grows, one for each shear force's: its flow peaks where the wall
        crosses the line square to it through the neutral point.
    """
    lines, strokes = built.drawing.lines, built.drawing.strokes
    if lines is None:
        none = np.zeros(0, np.intp)
        empty = np.zeros(0, np.complex128)
        stations = Stations(none, none, np.zeros(0), empty, empty)
        return _with_rings(built, carries, stations, [])
    side = np.array([stroke.side for stroke in strokes])
    first = np.array([float(stroke.levels[0]) for stroke in strokes])
    stroke = np.repeat(np.arange(len(strokes)), lines.counts)
    mould = lines.points + first[stroke] * lines.mitres
    inward = side[stroke] * lines.mitres
    vertex, part = _along(built, lines, stroke, mould + centres[stroke] * inward - neutral, gradients)
    after = np.minimum(vertex + 1, len(mould) - 1)
    stations = Stations(
        stroke=stroke[vertex],
        vertex=vertex,
        part=part,
        mould=mould[vertex] + part * (mould[after] - mould[vertex]),
        inward=inward[vertex] + part * (inward[after] - inward[vertex]),
    )
    whole = carries & ~_cut(built) & (built.stroke >= 0)
    regions = np.flatnonzero(whole)
    levels = np.concatenate([np.abs(each.levels - each.levels[0]) for each in strokes])
    near = regions + built.stroke[regions]
    counts = np.bincount(stations.stroke, minlength=len(strokes))
    starts = np.cumsum(counts) - counts
    each = np.tile(regions, 2)
    size = counts[built.stroke[each]]
    region = np.repeat(each, size)
    runs = np.arange(len(region)) - np.repeat(np.cumsum(size) - size, size)
    station = starts[built.stroke[region]] + runs
    depth = np.repeat(levels[np.concatenate([near, near + 1])], size)
    away = np.repeat(np.arange(len(each)) >= len(regions), size)
    place = stations.mould[station] + depth * stations.inward[station]
    banded = PlyPoints(stations, place, region, station, depth, away)
    return _with_rings(built, carries & ~whole, stations, [banded], mould)


def _along(
    built: Bodies, lines: Lines, stroke: Index, centre: Points, gradients: Sequence[complex]
) -> tuple[Index, Array]:
    """Return the stations as vertices and parts of the segments that leave them, in the lines' order."""
    thick = np.array([abs(float(each.levels[-1] - each.levels[0])) for each in built.drawing.strokes])
    last = np.zeros(len(stroke), bool)
    last[lines.starts + lines.counts - 1] = True
    long = np.flatnonzero(~last & ~lines.chord & (lines.length > LONG * thick[stroke]))
    vertices = [np.arange(len(stroke)), np.repeat(long, len(QUARTERS))]
    parts = [np.zeros(len(stroke)), np.tile(QUARTERS, len(long))]
    for gradient in gradients:
        strain = (centre * np.conj(gradient)).real
        crossing = np.flatnonzero((strain[:-1] * strain[1:] < 0) & ~last[:-1])
        vertices.append(crossing)
        parts.append(strain[crossing] / (strain[crossing] - strain[crossing + 1]))
    vertex, part = np.concatenate(vertices), np.concatenate(parts)
    order = np.argsort(vertex + np.minimum(part, 0.999999), kind="stable")
    return vertex[order], part[order]


def _cut(built: Bodies) -> Mask:
    """Return (r,) whether something was taken from a ply, so that rings bound it."""
    bands = sum(2 * (len(stroke.levels) - 1) + len(stroke.levels) for stroke in built.drawing.strokes)
    cut = np.zeros(built.regions.count, bool)
    cut[built.regions.region[built.regions.path >= bands]] = True
    return cut


def _with_rings(
    built: Bodies,
    wanted: Mask,
    stations: Stations,
    found: list[PlyPoints],
    mould: Points | None = None,
) -> PlyPoints:
    """Return points with those of regions bounded by rings, each ply's point a station of its own."""
    regions = built.regions
    uses = np.flatnonzero(wanted[regions.region])
    if not len(uses):
        if found:
            return found[0]
        none = np.zeros(0, np.intp)
        return PlyPoints(stations, stations.mould, none, none, np.zeros(0), np.zeros(0, bool))
    ends = np.append(regions.starts[1:], regions.points.shape[1])
    path = regions.path[uses]
    size = ends[path] - regions.starts[path]
    owner = np.repeat(regions.region[uses], size)
    at = (
        np.arange(len(owner))
        - np.repeat(np.cumsum(size) - size, size)
        + np.repeat(regions.starts[path], size)
    )
    place = as_points(regions.points[:, at].T)
    step = np.flatnonzero((owner[1:] == owner[:-1]) & (at[1:] == at[:-1] + 1))
    between = place[step, None] + QUARTERS * (place[step + 1] - place[step])[:, None]
    place = np.concatenate([place, between.ravel()])
    owner = np.concatenate([owner, np.repeat(owner[step], len(QUARTERS))])
    station, depth = np.full(len(owner), -1), np.zeros(len(owner))
    walls = np.flatnonzero(built.stroke[owner] >= 0)
    if len(walls) and mould is not None:
        added = _projected(built, place[walls], built.stroke[owner[walls]], mould)
        station[walls] = len(stations.stroke) + np.arange(len(walls))
        depth[walls] = ((place[walls] - added.mould) * added.inward.conj()).real
        stations = Stations(
            *(
                np.concatenate([getattr(stations, name), getattr(added, name)])
                for name in ("stroke", "vertex", "part", "mould", "inward")
            )
        )
    rings = PlyPoints(stations, place, owner, station, depth, _away(built, owner, depth))
    if not found:
        return rings
    before = found[0]
    return PlyPoints(
        stations,
        *(
            np.concatenate([getattr(before, name), getattr(rings, name)])
            for name in ("place", "region", "station", "depth", "away")
        ),
    )


def _projected(built: Bodies, place: Points, stroke: Index, mould: Points) -> Stations:
    """Return the stations on the mould face nearest to points of plies."""
    lines = built.drawing.lines
    assert lines is not None
    vertex, part = np.zeros(len(place), np.intp), np.zeros(len(place))
    foot, normal = np.zeros(len(place), np.complex128), np.zeros(len(place), np.complex128)
    for index, drawn in enumerate(built.drawing.strokes):
        mine = np.flatnonzero(stroke == index)
        if not len(mine):
            continue
        face = mould[lines.part(index)]
        leg = np.diff(face)
        length = np.maximum(np.abs(leg), 1e-12)
        offset = place[mine, None] - face[:-1]
        share = np.clip((offset * leg.conj()).real / length**2, 0.0, 1.0)
        away = offset - share * leg
        nearest = np.argmin(away.real**2 + away.imag**2, axis=1)
        vertex[mine] = int(lines.starts[index]) + nearest
        part[mine] = share[np.arange(len(mine)), nearest]
        foot[mine] = face[nearest] + part[mine] * leg[nearest]
        left = 1j if drawn.side > 0 else -1j
        normal[mine] = left * (leg / length)[nearest]
    return Stations(stroke=stroke, vertex=vertex, part=part, mould=foot, inward=normal)


def _away(built: Bodies, region: Index, depth: Array) -> Mask:
    """Return (p,) whether points lie nearer to their ply's face away from the mould."""
    strokes = built.drawing.strokes
    if not strokes:
        return np.zeros(len(region), bool)
    edges = [np.abs(stroke.levels - stroke.levels[0]) for stroke in strokes]
    middle = np.concatenate([*((each[1:] + each[:-1]) / 2 for each in edges), np.zeros(len(built.fills))])
    return (depth > middle[region]) & (built.stroke[region] >= 0)
