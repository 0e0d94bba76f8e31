"""A laminate under a panel, a span or in a wall, n samples at once: its plies, moduli, strengths. mm, MPa.

Its plies may come of several laminates, zones laid over one another, each with factors of its own.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from stringerlab.laminate import Moduli, Role, Stack, failure, theory
from stringerlab.materials import estimates
from stringerlab.methods.evaluation import Evaluation
from stringerlab.sizing.scatter.cloth import Sampled
from stringerlab.workings import Array

_SQUARE = 1e-9
_MARK = "\x1f"


@dataclass(frozen=True, slots=True, kw_only=True)
class Origin:
    """Where a ply of a stack comes from: which laminate, which ply of it, what part of its thickness."""

    laminate: str
    ply: int
    share: float


def marked(stacks: Mapping[str, Stack]) -> dict[str, Stack]:
    """Return laminates whose plies say where they come from, whatever is made of them."""
    from dataclasses import replace

    return {
        key: Stack(
            name=stack.name,
            plies=tuple(
                replace(ply, name=f"{key}{_MARK}{place}{_MARK}{ply.name}")
                for place, ply in enumerate(stack.plies)
            ),
        )
        for key, stack in stacks.items()
    }


def origins(stack: Stack, stacks: Mapping[str, Stack]) -> tuple[Origin, ...]:
    """Return where every ply of a stack of marked plies comes from."""
    found: list[Origin] = []
    for ply in stack.plies:
        laminate, place, _ = ply.name.split(_MARK, 2)
        whole = stacks[laminate].plies[int(place)].thickness
        found.append(Origin(laminate=laminate, ply=int(place), share=ply.thickness / whole))
    return tuple(found)


@dataclass(frozen=True, kw_only=True, eq=False)
class Laid:
    """n samples of a stack; arrays (n, k) over all its plies."""

    stack: Stack
    """Without scatter."""
    evaluation: Evaluation
    t: Array
    mass: Array
    E1: Array
    E2: Array
    G12: Array
    nu12: Array
    strengths: Array
    flexurals: Array
    interlaminar: Array
    strength: Array
    """(n, k) the factor on strengths."""

    @classmethod
    def of(
        cls, stack: Stack, come: Sequence[Origin], cloths: Mapping[str, Sampled], evaluation: Evaluation
    ) -> "Laid":
        """Return samples of a stack from those of the laminates it comes of."""
        share = np.array([one.share for one in come])

        def column(name: str) -> Array:
            return np.stack([getattr(cloths[one.laminate], name)[:, one.ply] for one in come], axis=1)

        return cls(
            stack=stack,
            evaluation=evaluation,
            t=column("thickness") * share,
            mass=column("mass") * share,
            E1=column("E1"),
            E2=column("E2"),
            G12=column("G12"),
            nu12=column("nu12"),
            strengths=column("strengths"),
            flexurals=column("flexural"),
            interlaminar=column("interlaminar"),
            strength=np.stack([cloths[one.laminate].strength for one in come], axis=1),
        )

    def part(self, plies: slice) -> "Laid":
        """Return some of its plies as a stack of their own."""
        return Laid(
            stack=Stack(name=self.stack.name, plies=self.stack.plies[plies]),
            evaluation=self.evaluation,
            t=self.t[:, plies],
            mass=self.mass[:, plies],
            E1=self.E1[:, plies],
            E2=self.E2[:, plies],
            G12=self.G12[:, plies],
            nu12=self.nu12[:, plies],
            strengths=self.strengths[:, plies],
            flexurals=self.flexurals[:, plies],
            interlaminar=self.interlaminar[:, plies],
            strength=self.strength[:, plies],
        )

    @cached_property
    def reinforced(self) -> NDArray[np.bool_]:
        """(k,) which plies are fabric and resin."""
        return np.array([ply.role is Role.REINFORCED for ply in self.stack.plies], bool)

    @cached_property
    def angles(self) -> Array:
        """(k,)."""
        return np.array([ply.angle for ply in self.stack.plies], float)

    @cached_property
    def levels(self) -> Array:
        """(n, k + 1) from the mould."""
        return np.concatenate([np.zeros((len(self.t), 1)), np.cumsum(self.t, axis=1)], axis=1)

    @cached_property
    def moments(self) -> tuple[Array, Array, Array]:
        """(n, k) of strips a millimetre wide below the last ply's face: ∫dz, ∫z dz, ∫z² dz."""
        levels = self.levels - self.levels[:, -1:]
        middle = (levels[:, :-1] + levels[:, 1:]) / 2
        first = self.t * middle
        return self.t, first, first * middle + self.t**3 / 12

    @cached_property
    def thickness(self) -> Array:
        """(n,) without gel coat."""
        return self.t[:, [ply.role is not Role.GEL_COAT for ply in self.stack.plies]].sum(axis=1)

    @cached_property
    def fabric(self) -> Array:
        """(n,) of the reinforced plies."""
        return self.t[:, self.reinforced].sum(axis=1)

    @cached_property
    def bar(self) -> Array:
        """(n, r, 3, 3) of the reinforced plies."""
        laid = self.reinforced
        q = theory.q_matrix(self.E1[:, laid], self.E2[:, laid], self.G12[:, laid], self.nu12[:, laid])
        return theory.q_bar(q, self.angles[laid])

    @cached_property
    def extension(self) -> Array:
        """(n, 3, 3) of the reinforced plies together."""
        return np.einsum("nkij,nk->nij", self.bar, self.t[:, self.reinforced])

    @cached_property
    def plain(self) -> Array:
        """(n, k) modulus along x of every ply standing alone, gel coat and core 0."""
        laid, found = self.reinforced, np.zeros_like(self.t)
        if laid.any():
            found[:, laid] = theory.modulus_at(
                self.E1[:, laid], self.E2[:, laid], self.G12[:, laid], self.nu12[:, laid], self.angles[laid]
            )
        return found

    @cached_property
    def contracted(self) -> Array:
        """(n, k) the same in a laminate free to contract."""
        laid, found = self.reinforced, np.zeros_like(self.t)
        if laid.any():
            whole = self.extension
            contraction = -np.linalg.solve(whole[:, 1:, 1:], whole[:, 1:, :1])[:, :, 0]
            found[:, laid] = self.bar[..., 0, 0] + np.einsum("nki,ni->nk", self.bar[..., 0, 1:], contraction)
        return found

    def moduli(self, moduli: Moduli) -> Array:
        """Return the modulus along x of every ply, gel coat and core 0 (n, k)."""
        return self.plain if moduli is Moduli.PLAIN else self.contracted

    @cached_property
    def direct(self) -> tuple[Array, Array]:
        """Tension and compression along x of every ply (n, k), nan where it has none."""
        tension, compression = np.full_like(self.t, np.nan), np.full_like(self.t, np.nan)
        for place, (angle, laid) in enumerate(zip(self.angles, self.reinforced, strict=True)):
            if not laid:
                continue
            strengths = self.strengths[:, place]
            if abs(math.sin(angle)) < _SQUARE:
                tension[:, place], compression[:, place] = strengths[:, 0], strengths[:, 1]
            elif abs(math.cos(angle)) < _SQUARE:
                tension[:, place], compression[:, place] = strengths[:, 2], strengths[:, 3]
            else:
                unit = theory.stress_turn(angle) @ np.array([1.0, 0.0, 0.0])
                tension[:, place] = failure.tsai_wu(unit, strengths)
                compression[:, place] = failure.tsai_wu(-unit, strengths)
        return tension, compression

    @cached_property
    def shear(self) -> Array:
        """(n,) in-plane shear strength at the first ply to fail, as `laminate.shear_strength`."""
        laid = self.reinforced
        if not laid.any():
            return np.full(len(self.t), np.nan)
        load = np.zeros((len(self.t), 3, 1))
        load[:, 2, 0] = self.fabric
        strain = np.linalg.solve(self.extension, load)[..., 0]
        stress = np.einsum(
            "kij,nkj->nki", theory.stress_turn(self.angles[laid]), np.einsum("nkjl,nl->nkj", self.bar, strain)
        )
        strengths = self.strengths[:, laid]
        factors = [failure.tsai_wu(sign * stress, strengths) for sign in (1, -1)]
        return np.asarray(np.min(factors, axis=(0, 2)), np.float64)

    @cached_property
    def flexural(self) -> Array:
        """(n,) flexural strength of a single skin, as the evaluation takes it; nan where it has none."""
        nominal, _ = self.evaluation.flexural(self.stack)
        laid = self.reinforced
        if math.isnan(nominal):
            return np.full(len(self.t), np.nan)
        if any("flexural" in ply.tested for ply in self.stack.plies):
            return np.asarray(self.flexurals[:, laid].min(axis=1), np.float64)
        dry = sum(ply.dry_weight for ply in self.stack.plies)
        fitted = np.asarray(estimates.fit_flexural(dry / self.mass[:, laid].sum(axis=1)), np.float64)
        whole = sum(ply.mass for ply in self.stack.plies if ply.role is Role.REINFORCED)
        factor = nominal / float(estimates.fit_flexural(dry / whole))
        t = self.t[:, laid]
        return fitted * factor * (t * self.strength[:, laid]).sum(axis=1) / t.sum(axis=1)

    @cached_property
    def over_shear(self) -> Array:
        """(n,) modulus along x over shear modulus, held flat, core counted."""
        counts = np.array([ply.role is not Role.GEL_COAT for ply in self.stack.plies])
        q = theory.q_matrix(self.E1[:, counts], self.E2[:, counts], self.G12[:, counts], self.nu12[:, counts])
        whole = np.einsum("nkij,nk->nij", theory.q_bar(q, self.angles[counts]), self.t[:, counts])
        compliance = np.asarray(np.linalg.inv(whole), np.float64)
        return np.asarray(compliance[:, 2, 2] / compliance[:, 0, 0], np.float64)
