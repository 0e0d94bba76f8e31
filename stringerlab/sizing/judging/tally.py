"""What n designs come to so far: amounts add, utilisations and ratios are the highest, all must be sound."""

from dataclasses import dataclass

import numpy as np

from stringerlab.sizing.judging.lookups import Index
from stringerlab.sizing.records import Mask, Outcome
from stringerlab.workings import Array


@dataclass(slots=True, eq=False)
class Tally:
    """A running outcome of n designs, as `Outcome`; d demands."""

    sound: Mask
    ratios: Array
    """(d, n)."""
    use: Array
    mass: Array
    cost: Array
    hours: Array

    @classmethod
    def of(cls, n: int, demands: int) -> "Tally":
        """Return nothing at all, of n designs."""
        return cls(
            np.ones(n, np.bool_),
            np.zeros((demands, n)),
            np.zeros(n),
            np.zeros(n),
            np.zeros(n),
            np.zeros(n),
        )

    def add(self, other: "Tally") -> None:
        """Put another part of the same designs to it."""
        self.sound &= other.sound
        np.maximum(self.ratios, other.ratios, out=self.ratios)
        np.maximum(self.use, other.use, out=self.use)
        self.mass += other.mass
        self.cost += other.cost
        self.hours += other.hours

    def at(self, index: Index) -> "Tally":
        """Return what some designs, or the same more than once, come to."""
        return Tally(
            self.sound[index],
            self.ratios[:, index],
            self.use[index],
            self.mass[index],
            self.cost[index],
            self.hours[index],
        )

    def put(self, index: Index, other: "Tally") -> None:
        """Write what some designs come to into their places."""
        self.sound[index] = other.sound
        self.ratios[:, index] = other.ratios
        self.use[index] = other.use
        self.mass[index] = other.mass
        self.cost[index] = other.cost
        self.hours[index] = other.hours

    def outcome(self, *, priced: bool, timed: bool) -> Outcome:
        """Return the outcome; cost and hours are nan where nothing is priced, or has a rate."""
        bad = ~self.sound
        ratios = np.ascontiguousarray(self.ratios.T)
        cost = self.cost if priced else np.full(len(bad), np.nan)
        hours = self.hours if timed else np.full(len(bad), np.nan)
        use, mass = self.use, self.mass
        if bad.any():
            ratios[bad] = np.inf
            use, mass, cost, hours = (np.where(bad, np.inf, one) for one in (use, mass, cost, hours))
        return Outcome(sound=self.sound, ratios=ratios, use=use, mass=mass, cost=cost, hours=hours)


__all__ = ["Tally"]
