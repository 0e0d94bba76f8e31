"""A grid ready for loads: its factor kept, and the pattern kept for the same grid with other numbers."""

from dataclasses import dataclass

import numpy as np

from stringerlab.errors import Problem, StringerlabError
from stringerlab.grillage.checking import Names, problems
from stringerlab.grillage.elements import Elements, elements
from stringerlab.grillage.factors import (
    Factor,
    Matrix,
    Pattern,
    SingularError,
    assembled,
    asymmetry,
    factor,
    pattern,
)
from stringerlab.grillage.mechanisms import LEAST, mechanisms, softest
from stringerlab.grillage.point_loads import Triplets
from stringerlab.grillage.records import Array, Grid

ALLOWED = 1e-6
"""Residual and imbalance above which nothing is returned."""
_REFINED = 1e-8
_SYMMETRIC = 1e-12


@dataclass(frozen=True, slots=True, eq=False)
class Answer:
    """What forces on freedoms give."""

    u: Array
    """(3 n, p)."""
    reactions: Array
    """(3 n, p)."""
    residual: float


@dataclass(frozen=True, slots=True, eq=False)
class Factored:
    """A grid factored once, for any number of loads.

    ``again`` takes the same grid with other stiffnesses or places and keeps the pattern, as while a member is
    dragged.
    """

    grid: Grid
    names: Names
    elements: Elements
    pattern: Pattern
    whole: Matrix
    scale: Array
    factor: Factor
    part: Matrix

    @classmethod
    def of(cls, grid: Grid, names: Names = None, *, like: "Factored | None" = None) -> "Factored":
        """Check and factor a grid.

        Parameters
        ----------
        grid
            Any grid.
        names
            A name for each node, for messages.
        like
            A factored grid of the same beams, whose pattern is kept where it fits.

        Raises
        ------
        StringerlabError
            With everything wrong with it, each loose part and each mechanism.
        """
        wrong = problems(grid, names)
        if wrong:
            raise StringerlabError(wrong)
        beams = elements(grid)
        fits = like is not None and like._fits(grid)
        pattern_of = like.pattern if like is not None and fits else pattern(grid)
        whole, part, scale = assembled(beams.stiffness, grid.springs, pattern_of)
        if asymmetry(whole) > _SYMMETRIC:
            raise StringerlabError(Problem("The stiffness of the grid is not symmetric.", "grid", _REPORT))
        free = len(pattern_of.free)
        try:
            held = factor(part) if free else _Held()
            stiff = free == 0 or softest(part, held, free) > LEAST
        except SingularError:
            held, stiff = None, False
        if held is None or not stiff:
            found = mechanisms(grid, part, pattern_of.free, names)
            raise StringerlabError(
                found
                or Problem("The grid has no solution.", "grid", "Look for beams of almost no stiffness.")
            )
        return cls(grid, names, beams, pattern_of, whole, scale, held, part)

    def again(self, grid: Grid) -> "Factored":
        """Return the factor of a grid of the same beams with other numbers, as `of` does."""
        return Factored.of(grid, self.names, like=self)

    def answer(self, force: Array) -> Answer:
        """Return displacements and reactions under forces on freedoms.

        Parameters
        ----------
        force
            (3 n, p) N and N·mm.

        Raises
        ------
        StringerlabError
            When forces are left unbalanced at a node.
        """
        free = self.pattern.free
        scale = self.scale[:, None]
        right = scale * force[free]
        u = np.zeros(force.shape)
        u[free] = scale * self.factor.solve(right)
        reactions, left = self._balance(u, force)
        residual = _residual(left, right)
        if residual > _REFINED:
            u[free] += scale * self.factor.solve(left)
            reactions, left = self._balance(u, force)
            residual = _residual(left, right)
        if not residual <= ALLOWED:
            raise StringerlabError(
                Problem(
                    f"The grid could not be solved: {residual:.1e} of the forces is left unbalanced.",
                    "grid",
                    "Look for beams of almost no length or stiffness beside stiff ones.",
                )
            )
        return Answer(u, reactions, residual)

    def _balance(self, u: Array, force: Array) -> tuple[Array, Array]:
        """Return reactions (3 n, p), and what is left at free freedoms, scaled."""
        free = self.pattern.free
        spring = self.grid.springs.ravel()[free]
        sprung = np.flatnonzero(spring)
        reactions = self.whole @ u - force
        left = -reactions[free]
        pulled = spring[sprung, None] * u[free[sprung]]
        left[sprung] -= pulled
        left *= self.scale[:, None]
        reactions[free] = 0.0
        reactions[free[sprung]] = -pulled
        return reactions, left

    def imbalance(self, reactions: Array, given: Triplets, nodal: Array | None) -> float:
        """Return the greatest of force and moments about the origin that do not balance, over the load's.

        Parameters
        ----------
        reactions
            (3 n, p).
        given
            Forces on beams, where they stand.
        nodal
            (n, 3, p) loads at nodes.

        Raises
        ------
        StringerlabError
            When loads and reactions do not balance.
        """
        nodes, p = self.grid.nodes, given.cases
        start, end = nodes[self.grid.beams[given.beam, 0]], nodes[self.grid.beams[given.beam, 1]]
        at = start + given.along[:, None] * (end - start)
        sums = np.zeros((3, p))
        for row, arm in enumerate((np.ones(len(at)), at[:, 1], -at[:, 0])):
            sums[row] = np.bincount(given.case, arm * given.amount, p)
        pushed = np.bincount(given.case, np.abs(given.amount), p)
        turned = np.zeros(p)
        three = reactions.reshape(len(nodes), 3, p)
        if nodal is not None:
            three = three + nodal
            pushed = pushed + np.abs(nodal[:, 0]).sum(axis=0)
            turned = np.abs(nodal[:, 1:]).sum(axis=(0, 1))
        sums[0] += three[:, 0].sum(axis=0)
        sums[1] += three[:, 1].sum(axis=0) + nodes[:, 1] @ three[:, 0]
        sums[2] += three[:, 2].sum(axis=0) - nodes[:, 0] @ three[:, 0]
        radius = float(np.hypot(nodes[:, 0], nodes[:, 1]).max())
        size = max(float(np.ptp(nodes, axis=0).max()), 1e-300)
        force_over, moment_over = pushed + turned / size, pushed * radius + turned * max(1.0, radius / size)
        loaded = force_over > 0
        if not loaded.any():
            return 0.0
        over = np.stack([force_over, moment_over, moment_over])[:, loaded]
        found = float((np.abs(sums[:, loaded]) / np.maximum(over, 1e-300)).max())
        if not found <= ALLOWED:
            raise StringerlabError(
                Problem(
                    f"Loads and reactions of the grid do not balance: {found:.1e} of the load is left.",
                    "grid",
                    _REPORT,
                )
            )
        return found

    def _fits(self, grid: Grid) -> bool:
        return (
            grid.springs.shape == self.grid.springs.shape
            and np.array_equal(grid.beams, self.grid.beams)
            and np.array_equal(np.isinf(grid.springs), np.isinf(self.grid.springs))
        )


_REPORT = "This should not happen: please report it with the project."


class _Held:
    """A grid whose every freedom is held."""

    def solve(self, force: Array) -> Array:
        return force


def _residual(left: Array, right: Array) -> float:
    over = np.sqrt(np.einsum("ip,ip->p", right, right))
    part = np.sqrt(np.einsum("ip,ip->p", left, left))
    loaded = over > 0
    return float((part[loaded] / over[loaded]).max()) if loaded.any() else 0.0
