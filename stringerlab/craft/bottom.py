"""The hull bottom as a surface over the plan: its outline, height, slopes. x forward, y to port, z up, mm.

Between stations everything runs straight: z = z_keel + |y| / y_chine · (z_chine − z_keel), keel and chine
taken at x. The bottom begins at the first station, where the transom stands, and ends at the last.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from stringerlab.craft.hull import section_at
from stringerlab.craft.records import Craft

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Bottom:
    """Stations as arrays (n,), in mm: x, height of the keel, half-beam and height of the chine."""

    x: Array
    keel_z: Array
    chine_y: Array
    chine_z: Array

    @property
    def outline(self) -> Array:
        """(2n, 2) plan corners counter-clockwise, the starboard chine's first from aft forward."""
        starboard = np.stack([self.x, -self.chine_y], axis=1)
        return np.concatenate([starboard, starboard[::-1] * (1, -1)])

    def half_beam(self, x: Array) -> Array:
        """Return the chine's distance from the centreline [mm]."""
        return np.interp(x, self.x, self.chine_y)

    def within(self, places: Array, margin: float = 0.0) -> NDArray[np.bool_]:
        """Return which plan places (n, 2) lie on the bottom, or less than a margin beside it [mm]."""
        x, y = places[:, 0], np.abs(places[:, 1])
        return (x >= self.x[0] - margin) & (x <= self.x[-1] + margin) & (y <= self.half_beam(x) + margin)

    def height(self, places: Array) -> Array:
        """Return z at plan places (n, 2) [mm]; beyond the chine the bottom is carried on straight."""
        x = places[:, 0]
        keel = np.interp(x, self.x, self.keel_z)
        return keel + np.abs(places[:, 1]) * self._tangent(x)

    def deadrise(self, x: Array) -> Array:
        """Return the slope from keel to chine at x [rad]."""
        return np.arctan(self._tangent(x))

    def gradient(self, places: Array) -> Array:
        """Return dz/dx and dz/dy (n, 2); at the keel those of the port side, at a station those ahead."""
        x = np.clip(places[:, 0], self.x[0], self.x[-1])
        aft = np.clip(np.searchsorted(self.x, x, "right") - 1, 0, len(self.x) - 2)
        step = self.x[aft + 1] - self.x[aft]

        def rate(of: Array) -> Array:
            return (of[aft + 1] - of[aft]) / step

        chine = self.half_beam(x)
        rise = np.interp(x, self.x, self.chine_z) - np.interp(x, self.x, self.keel_z)
        tangent = rise / chine
        change = (rate(self.chine_z - self.keel_z) - tangent * rate(self.chine_y)) / chine
        y = places[:, 1]
        return np.stack([rate(self.keel_z) + np.abs(y) * change, np.where(y < 0, -tangent, tangent)], axis=1)

    def length(self, line: Array) -> float:
        """Return the length in the skin of a plan line (n, 2), its points joined straight [mm].

        A leg across the keel is measured down to it and up again; rocker within a leg is not followed.
        """
        return float(self.leg_lengths(line[:-1], line[1:]).sum())

    def leg_lengths(self, starts: Array, ends: Array) -> Array:
        """Return the lengths in the skin of legs from ``starts`` to ``ends``, both (n, 2) [mm]."""
        across = starts[:, 1] * ends[:, 1] < 0
        y_1, y_2 = np.abs(starts[:, 1]), np.abs(ends[:, 1])
        part = np.where(across, y_1 / np.where(across, y_1 + y_2, 1.0), 1.0)[:, None]
        middle = np.where(across[:, None], starts + part * (ends - starts), ends)
        middle[across, 1] = 0.0
        return self._straight(starts, middle) + self._straight(middle, ends)

    def _straight(self, starts: Array, ends: Array) -> Array:
        way = ends - starts
        return np.sqrt((way * way).sum(axis=1) + (self.height(ends) - self.height(starts)) ** 2)

    def _tangent(self, x: Array) -> Array:
        rise = np.interp(x, self.x, self.chine_z) - np.interp(x, self.x, self.keel_z)
        return rise / self.half_beam(x)


def bottom(craft: Craft) -> Bottom:
    """Return a craft's hull bottom.

    Raises
    ------
    StringerlabError
        When the stations are fewer than two, out of order or doubled.
    """
    section_at(craft, 0.0)
    stations = craft.stations
    return Bottom(
        x=np.array([station.x for station in stations], float),
        keel_z=np.array([station.keel_z for station in stations], float),
        chine_y=np.array([station.chine_y for station in stations], float),
        chine_z=np.array([station.chine_z for station in stations], float),
    )
